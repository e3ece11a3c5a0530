"""Remedies: ways to make the text of a stretch fit its pages, each tried by casting the book with it.

Trying changes nothing: a remedy holds the acts that would carry it out, and each of them can be undone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.errors import NotAllowedError
from copydesk.book.common.phrases import count_of, decimal
from copydesk.book.structure.page import Page
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.fit.landing import Landing, landing_of, landing_words
from copydesk.tracking.fit.remedy_ways import asked_after, ways_to_fit
from copydesk.tracking.fit.stretches import STRETCH, Need, Verdict, asked_words, need_from
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.fit.remedy_ways import RemedyWay
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


class Remedy(NamedTuple):
    """A way to make a stretch fit: its name, what it is, the acts that do it; lines over, and what it asks, after it.

    ``over`` is negative where lines are then left. ``needed`` are the letters a line that would then fill the room.
    ``landing`` says how likely it is to come out so, ``cost`` what is paid for it, ``assumes`` what it rests on.
    """

    name: str
    says: str
    acts: tuple[Act, ...]
    over: int
    needed: float | None
    verdict: Verdict
    landing: Landing = Landing(1.0, None, None)
    cost: str = ""
    assumes: str = ""

    @property
    def fits(self) -> bool:
        """Whether the text has room after it, and a hand can do it."""
        return self.over <= 0 and self.verdict != "impossible"


class NumberedRemedy(NamedTuple):
    """A remedy with its number from 1, and the lines over without it."""

    number: int
    remedy: Remedy
    over_before: int


def numbered(remedies: Iterable[Remedy], need: Need) -> list[NumberedRemedy]:
    """These remedies of a stretch, numbered from 1."""
    return [NumberedRemedy(number, each, need.over) for number, each in enumerate(remedies, start=1)]


REMEDIES: Report[NumberedRemedy] = rows_of(
    "remedies",
    "One row a way to make the text fit.",
    Column("number", Cell.NUMBER, "its number, for --choose", "number", " "),
    Column("remedy", Cell.TEXT, "its name", "remedy.name"),
    Column("says", Cell.TEXT, "what it is", "remedy.says", "remedy"),
    Column(
        "lines_over",
        Cell.NUMBER,
        "lines too many after it; negative where lines are left",
        "remedy.over",
        "then",
        lambda r, _: fit_words(r.remedy),
    ),
    Column("lines_gained", Cell.NUMBER, "lines it gains", lambda r: r.over_before - r.remedy.over),
    Column(
        "letters_needed",
        Cell.NUMBER,
        "letters a line that would then land right; null where none would",
        lambda r: None if r.remedy.needed is None else round(r.remedy.needed, 1),
    ),
    Column("verdict", Cell.TEXT, "easy, hard or impossible", "remedy.verdict"),
    Column("fits", Cell.YES_NO, "whether the text has room after it, and a hand can do it", "remedy.fits"),
    Column(
        "chance_to_fit",
        Cell.NUMBER,
        "the chance, 0 to 1, that it has, one keeping to it without looking again; 0 where no hand can",
        lambda r: round(r.remedy.landing.fits, 4),
    ),
    Column(
        "chance_within_a_line",
        Cell.NUMBER,
        "the chance that it lands within a line; null at the book's end, where blank lines do no harm",
        lambda r: None if (found := r.remedy.landing.within_a_line) is None else round(found, 4),
    ),
    Column(
        "letters_for_margin",
        Cell.NUMBER,
        "letters a line of this page's hand that fit 9 times in 10; null where it fits so surely already",
        lambda r: None if (found := r.remedy.landing.with_margin) is None else round(found, 1),
    ),
    Column("cost", Cell.TEXT, "what is paid for it", "remedy.cost"),
    Column("assumes", Cell.TEXT, "what it rests on", "remedy.assumes"),
    Column("entries", Cell.TEXTS, "the entries it would make", lambda r: [act.what for act in r.remedy.acts]),
)

REMEDIES_OF_PAGE: Report[tuple[Page, Need, Sequence[Remedy]]] = one_of(
    "remedies",
    "What would make the text around a page fit.",
    Column("page", Cell.PAGE, "the page asked for", lambda of: str(of[0])),
    Column("stretch", Cell.OBJECT, "the pages concerned", lambda of: of[1], of=STRETCH),
    Column("remedies", Cell.ROWS, "the ways, best first", lambda of: numbered(of[2], of[1]), of=REMEDIES),
)


def need_for(state: BookState, page: Page) -> Need:
    """What the stretch asks in which a page lies, or the text up to the book's end where that has no room.

    Raises:
        CopydeskError: where there is no such page, or nothing has to be made to fit there.
    """
    expect_page(state, page)
    need = need_from(state, page.index)
    if need is None:
        raise NotAllowedError(
            f"the text of {state.book.named(page)} need not end at a given place, so it needs no remedy"
        )
    return need


def remedies_for(state: BookState, need: Need) -> list[Remedy]:
    """The ways to make a stretch fit: those after which it does, then those that only help; the gentler first.

    Each was worked out in full. None that makes matters no better is among them: it leaves fewer lines over or blank
    than there are, and no more lines over and no more spaces without a place anywhere else in the book.
    """
    if need.over == 0:
        return []
    found = [each for way in ways_to_fit(state, need) if (each := _tried(state, need, way)) is not None]
    return sorted(found, key=lambda remedy: not remedy.fits)


def _tried(state: BookState, need: Need, way: RemedyWay) -> Remedy | None:
    """A way with its effect, the book being cast as it would then stand; None where it makes matters no better."""
    after = state.supposing(way.acts)
    found = asked_after(state, after, need)
    if found is None or not _better(found.over, need.over) or _lines_over(after) > _lines_over(state):
        return None
    if set(after.budget.homeless) - set(state.budget.homeless):
        return None
    landing = landing_of(after, found) if found.held else Landing(end_of_book(after).chance_text_fits, None, None)
    verdict = way.verdict or ("easy" if need.over > 0 >= found.over else found.verdict)
    if verdict == "impossible" and found.over <= 0:
        landing = Landing(0.0, 0.0 if landing.within_a_line is not None else None, None)
    return Remedy(way.name, way.says, way.acts, found.over, found.needed, verdict, landing, way.cost, way.assumes)


def _better(after: int, before: int) -> bool:
    """Whether fewer lines are over than before, or fewer are left blank and none over."""
    return after < before if before > 0 else before < after <= 0


def _lines_over(state: BookState) -> int:
    """Lines in the whole book that have no room before a page held or after the last."""
    return sum(max(each.over, 0) for each in state.budget.stretches) + state.budget.lines_without_room


def need_in_short(need: Need, book: Book) -> str:
    """How the text of a stretch stands to its room: ``2r to 3v: 4 lines over; 36.2 letters a line needed (hard)``."""
    last = "the end of the book" if not need.held else book.named(Page.at(need.last))
    pages = f"{book.named(Page.at(need.first))} to {last}" if need.first != need.last or not need.held else last
    if need.over == 0:
        return f"{pages}: the text just fits"
    said = f"{pages}: {over_words(need.over)}; "
    if need.needed is None:
        return said + "no number of letters a line makes it fit"
    if len(need.targets) > 1:
        return f"{said}to fit, {asked_words(need)} ({need.verdict})"
    needed, usual = decimal(need.needed, 1), decimal(need.letters, 1)
    if needed == usual:
        way = "slightly closer than" if need.over > 0 else "as"
        return f"{said}write {way} {need.hand} does, {usual} letters a line ({need.verdict})"
    return f"{said}{needed} letters a line needed, {need.hand} writes {usual} ({need.verdict})"


def over_words(over: int) -> str:
    """``3 lines over``, ``2 lines left``, ``it fits``."""
    if over == 0:
        return "it fits"
    lines = count_of(abs(over), "line")
    return f"{lines} over" if over > 0 else f"{lines} left"


def fit_words(remedy: Remedy) -> str:
    """What a remedy comes to: ``it fits (hard)``, ``2 lines over``."""
    said = over_words(remedy.over)
    if remedy.over > 0:
        return f"{said} still" if remedy.verdict != "impossible" else f"{said} still (impossible)"
    return (
        f"{said} ({remedy.verdict})" if remedy.over == 0 or remedy.name in ("closer", "wider", "abbreviate") else said
    )


def remedy_lines(remedy: Remedy) -> list[str]:
    """What is to be known before choosing a remedy: its chances, its cost, what it assumes."""
    told = [("cost", remedy.cost), ("assumes", remedy.assumes)]
    landing = (
        landing_words(remedy.landing)
        if remedy.over > 0 or remedy.verdict != "impossible"
        else "more than a hand can do"
    )
    return [landing, *(f"{head}: {words}" for head, words in told if words)]


def shown_at_first(remedies: Sequence[Remedy]) -> int:
    """How many of the remedies, best first, are shown before more are asked for: those that fit, else all."""
    return sum(remedy.fits for remedy in remedies) or len(remedies)


def only_help_words(count: int) -> str:
    """How many remedies are not shown yet."""
    return "One more way helps, but does not do it alone" if count == 1 else f"{count} more ways help, but not enough"


LOOK_AGAIN = "These chances are for writing on without looking here again; looking again after each page does better."
"""Stands under the remedies."""
