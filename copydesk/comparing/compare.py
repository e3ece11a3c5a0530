"""Comparing a copied page with its exemplar: alignment by words, then by letters within them.

Words are laid beside one another (``align``), each difference is named in the words of the handbooks
(``naming``), and a page that belongs elsewhere is told where (``locate``).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import replace
from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.comparing.alignment import align, locate
from copydesk.comparing.faults import Comparison, WrongPlace, quoted
from copydesk.comparing.naming import HYPHENS, already_written, name_faults, with_allowances
from copydesk.comparing.normalization import Allowances, keys_beside
from copydesk.comparing.page_case import Case
from copydesk.comparing.word_alignment import AlignedRun

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Difference


BACK, AHEAD = 200, 2000
"""Words of the exemplar before the page and past its length within which its words are looked for."""
FAR = 60
"""A page that begins so many words from its place was not begun there, unless a leaf was turned too far."""
KNOWN_SHARE = 0.35
"""With fewer of its words in agreement than this, a page is looked for elsewhere."""
ENOUGH = 5
"""Fewer words than this say nothing of the place."""
FLOOD = 0.1
"""With more faults than this for each word, the differences are a flood, and a sentence asks after their cause."""
FIRST_FEW = 12
"""Faults shown of a flood, and never more than these without a flood being asked after. Our own judgement."""


def compare(  # noqa: PLR0913 - all that may be known of a page, each by its name
    copied: Sequence[str],
    exemplar: Sequence[str],
    start: int,
    *,
    allow: Allowances | None = None,
    places: Sequence[tuple[int, int]] = (),
    exemplar_lines: Sequence[int] = (),
    exemplar_leaves: Sequence[int] = (),
    glosses: Sequence[str] = (),
    line_letters: float = 0.0,
    whole: bool = False,
    end: int | None = None,
) -> Comparison:
    """Compare a copied page with the exemplar.

    The copy is taken to cover the exemplar from ``start`` on. It may stop anywhere: what the page does not
    reach is no omission, unless it is ``whole`` and ``end`` says how far it went.

    Args:
        copied: the words of the transcription, as they stand; a page partly typed will do.
        exemplar: every word of the exemplar.
        start: position in the exemplar of the page's first word.
        allow: the workshop's allowances; the usual ones if not given.
        places: column and line of each copied word, both from 1; a word past them has the place of the last.
        exemplar_lines: positions at which the exemplar's own lines begin, where they are known.
        exemplar_leaves: positions at which its leaves, or the sides of its leaves, begin.
        glosses: notes known to stand beside the exemplar's text.
        line_letters: letters and word-spaces on a line of the exemplar, on the whole; 0 if not known.
        whole: the page is typed to its end; else its last word may be typed in part.
        end: position in the exemplar after the page's last word, where it is on record.
    """
    start = min(max(start, 0), len(exemplar))
    reach = max(0, start - BACK), max(start + len(copied) + AHEAD, end or 0)
    case = _words(copied, exemplar, reach, allow or Allowances())
    lines, leaves = case.beginnings(exemplar_lines), case.beginnings(exemplar_leaves)
    notes = tuple(tuple(filter(None, case.allow.keys(note.split()))) for note in glosses)
    case = replace(case, lines=lines, leaves=leaves, glosses=notes, places=places, line_letters=line_letters)
    return _compared(case, start, whole, end)


def _compared(case: Case, start: int, whole: bool, end: int | None) -> Comparison:
    """The outcome for a page of which all that is known has been laid out."""
    if not case.copy:
        return Comparison(0, (), None, "no words to compare", start, start)
    if not case.text:
        return _unknown(case, start)
    begin = bisect_left(case.text_at, start)
    steps = with_allowances(case, align(case.copy, case.text, begin), whole)
    if whole and end is not None:
        steps = _up_to(case, steps, end)
    again = already_written(case, steps, begin)
    return _elsewhere(case, steps, begin) or _outcome(case, steps, again + name_faults(case, steps))


def _words(copied: Sequence[str], exemplar: Sequence[str], reach: tuple[int, int], allow: Allowances) -> Case:
    """The words of both sides with their keys; words that have none are left out."""
    window = exemplar[slice(*reach)]
    copy_keys, text_keys = keys_beside(_without_hyphens(copied, window, allow), window, allow)
    copy_at = [at for at, key in enumerate(copy_keys) if key]
    text_at = [at for at, key in enumerate(text_keys) if key]
    return Case(
        copied,
        exemplar,
        [copy_keys[at] for at in copy_at],
        copy_at,
        [text_keys[at] for at in text_at],
        [at + reach[0] for at in text_at],
        allow,
    )


def _without_hyphens(copied: Sequence[str], window: Sequence[str], allow: Allowances) -> Sequence[str]:
    """The copied words less the hyphens of line ends, where punctuation counts and would hide the word."""
    if allow.punctuation:
        return copied
    known = set(window)
    return [word[:-1] if len(word) > 1 and word[-1] in HYPHENS and word not in known else word for word in copied]


def _up_to(case: Case, steps: list[AlignedRun], end: int) -> list[AlignedRun]:
    """The steps, and the words that a whole page should have gone on to and does not."""
    reached, due = steps[-1].text_to, bisect_left(case.text_at, end)
    at = len(case.copy)
    return [*steps, AlignedRun("missing", at, at, reached, due)] if due > reached else steps


def _elsewhere(case: Case, steps: list[AlignedRun], begin: int) -> Comparison | None:
    """The comparison of a page that was copied from another place, or from no place in the exemplar at all."""
    words, agreeing = len(case.copy), _number(steps, "same")
    if words < ENOUGH:
        return None
    if agreeing >= KNOWN_SHARE * words:
        return _begun_far_off(case, steps, begin)
    place = _in_whole(case)
    if place is not None:
        return _wrong(case, place, begin) if abs(place - case.position(begin)) > FAR else None
    if words < 2 * ENOUGH:
        return None
    return _unknown(case, case.position(begin))


def _unknown(case: Case, start: int) -> Comparison:
    """The outcome for words that the exemplar does not have."""
    words = len(case.copy)
    sentence = f"the exemplar has nothing like this copy of {count_of(words, 'word')}, here or elsewhere"
    return Comparison(words, (), None, sentence, start, start, known=False)


def _in_whole(case: Case) -> int | None:
    """Where in the whole exemplar the copied words come from, by its words' positions."""
    known = [(at, key) for at, key in enumerate(case.allow.keys(case.exemplar)) if key]
    place = locate(case.copy, [key for _, key in known])
    return None if place is None else known[place][0]


def _begun_far_off(case: Case, steps: list[AlignedRun], begin: int) -> Comparison | None:
    """A page that agrees well, but begins far before or after its place and not by a leaf turned too far."""
    first = next((step for step in steps if step.what == "same" and step.copy_to - step.copy_from > 1), steps[0])
    from_word = max(0, first.text_from - first.copy_from)
    if abs(from_word - begin) <= FAR or case.whole_leaves(begin, first.text_from):
        return None
    place = _in_whole(case)
    return _wrong(case, case.position(from_word) if place is None else place, begin)


def _wrong(case: Case, place: int, begin: int) -> Comparison:
    """The outcome for a page from another place: where it is from, and no flood of faults."""
    words, planned = len(case.copy), case.position(begin)
    there = quoted(case.exemplar[place : place + 6])
    sentence = (
        f"nearly every word differs from word {planned} of the exemplar on; "
        f"the page reads like the exemplar from word {place}, {there}"
    )
    return Comparison(words, (), WrongPlace(place, sentence), sentence, place, min(place + words, len(case.exemplar)))


def _number(steps: list[AlignedRun], *whats: str) -> int:
    """How many copied words stand in steps of these sorts."""
    return sum(step.copy_to - step.copy_from for step in steps if step.what in whats)


def _outcome(case: Case, steps: list[AlignedRun], faults: list[Difference]) -> Comparison:
    """The comparison of a page that belongs where it was looked for."""
    words = len(case.copy)
    began = next(step.text_from for step in steps if step.what != "missing")
    changed, missing, added = (sum(numbers) for numbers in zip(*map(_edits, steps), strict=True))
    return Comparison(
        words,
        tuple(faults),
        None,
        summary(words, len(faults)),
        case.position(began),
        case.position(steps[-1].text_to),
        changed,
        missing,
        added,
    )


def _edits(step: AlignedRun) -> tuple[int, int, int]:
    """A step as words changed, missing and added; words that changed places are missing once and added once."""
    copied, right = step.copy_to - step.copy_from, step.text_to - step.text_from
    if step.what == "same":
        return 0, 0, 0
    if step.what == "turned":
        return 0, 1, 1
    common = min(copied, right)
    return common, right - common, copied - common


def is_flood(words: int, faults: int) -> bool:
    """Whether so many faults in so many words are not a scribe's slips, but come of something else."""
    return faults > max(FIRST_FEW, FLOOD * words)


def summary(words: int, faults: int) -> str:
    """The outcome in a sentence."""
    if not faults:
        return f"no fault in {count_of(words, 'word')}"
    found = f"{count_of(faults, 'fault')} in {count_of(words, 'word')}"
    if not is_flood(words, faults):
        return found
    return (
        f"a flood of differences, {found}: is this the right place, is the exemplar typed as it stands, and are the "
        "allowed spellings set as it needs them?"
    )
