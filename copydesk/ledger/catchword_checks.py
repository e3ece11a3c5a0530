"""Each gathering's catchword against the words with which the next one really begins.

A catchword stands at the foot of a gathering's last verso and gives the first words of the next recto (TEI P5
Guidelines, Manuscript Description, 11.3.7). Whoever copies on writes it from the exemplar: the words that follow
the gathering's last. Where the next gathering then begins elsewhere, something was skipped or written twice.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.plain import plain
from copydesk.ledger.catchwords import Catchword, catchwords

if TYPE_CHECKING:
    from copydesk.ledger.standing import Standing


_PIECES_A_WORD = 60
"""No word has more pieces, were it broken letter by letter; looking on so far finds the words asked for."""


class CatchwordCheck(NamedTuple):
    """A gathering, its catchword, what the next one begins with."""

    gathering: int
    catchword: str
    next_begins: str

    @property
    def agrees(self) -> bool:
        """Whether the two are the same."""
        return self.catchword == self.next_begins


def catchword_checks(standing: Standing) -> list[CatchwordCheck]:
    """Every gathering that has a catchword, in order; none where the book has none, or its words are not known."""
    return [_check(standing, each) for each in catchwords(standing).values()]


def _check(standing: Standing, found: Catchword) -> CatchwordCheck:
    return CatchwordCheck(found.gathering, _words_after(standing, found), found.words)


def _words_after(standing: Standing, found: Catchword) -> str:
    """The words of the text that follow the last words of a gathering; where it bears none, those it should bear."""
    copy, count = standing.copy, standing.book.signing.catchwords
    numbers = standing.collation.leaf_numbers(found.gathering)
    pages = standing.budget.pages[2 * numbers.start - 2 : 2 * numbers.stop - 2]
    end = next((page.end for page in reversed(pages) if page.start < page.end), None)
    if end is None:
        return found.words
    beyond = min(end + _PIECES_A_WORD * count, copy.pieces)
    return plain(" ".join(copy.line_text(end, beyond).split()[:count]))
