"""What makes the eye take one word for another: the same word, a like ending, a like beginning.

Source: homoeoteleuton and homoeoarcton as triggers of the leap from like to like, after L. Havet, *Manuel de
critique verbale* (1911), M. L. West, *Textual Criticism and Editorial Technique* (1973) pp. 24-25, and
E. A. Lowe and E. K. Rand, *A Sixth-Century Fragment of the Letters of Pliny the Younger* (1922), whose pairs
(``alia``/``paria``, ``minorem``/``maiorem``) set how much alike is enough here.
"""

from __future__ import annotations

LIKE_LETTERS = 3
"""Words sharing so many letters at the end (or the beginning) are alike there."""

LIKE_SHARE = 0.7
"""Words that begin with one letter and share so much of the longer one are alike, whatever their middle."""

SAME = "same word"
ENDING = "like ending"
BEGINNING = "like beginning"


def shared_beginning(one: str, other: str) -> int:
    """How many letters two words share from their beginning."""
    shared = 0
    for mine, yours in zip(one, other, strict=False):
        if mine != yours:
            break
        shared += 1
    return shared


def shared_ending(one: str, other: str) -> int:
    """How many letters two words share up to their end."""
    return shared_beginning(one[::-1], other[::-1])


def like_ending(one: str, other: str) -> bool:
    """Whether two different words end alike: in three letters, or in two where the shorter has no more than four."""
    shared = shared_ending(one, other)
    return one != other and (shared >= LIKE_LETTERS or (shared == 2 and min(len(one), len(other)) in (3, 4)))


def like_beginning(one: str, other: str) -> bool:
    """Whether two different words begin alike, or differ only in their middle as minorem and maiorem do."""
    start = shared_beginning(one, other)
    both = start + min(shared_ending(one, other), min(len(one), len(other)) - start)
    in_all = start > 0 and both >= max(LIKE_LETTERS, LIKE_SHARE * max(len(one), len(other)))
    return one != other and (start >= LIKE_LETTERS or in_all)


def written_once(full: str, short: str) -> bool:
    """Whether ``short`` is ``full`` with letters left out that stand twice running in it.

    Haplography in the strict sense: ``sivi viverent`` written ``si viverent``, ``sic cogis`` written
    ``si cogis`` (W. M. Lindsay, *Latin Textual Emendation*, III 1).
    """
    lost = len(full) - len(short)
    if lost <= 0:
        return False
    for at in range(shared_beginning(full, short), -1, -1):
        if full[:at] + full[at + lost :] != short:
            return False
        piece = full[at : at + lost]
        if piece in (full[at + lost : at + 2 * lost], full[max(0, at - lost) : at]):
            return True
    return False


def letters_turned(right: str, copied: str) -> bool:
    """Whether the copied word has the right word's letters in another order (``te lono`` for ``te nolo``)."""
    return right != copied and len(right) == len(copied) and sorted(right) == sorted(copied)
