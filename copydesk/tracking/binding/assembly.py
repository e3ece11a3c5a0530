"""The book before sewing: obstacles, remarks, and what the binder checks the order by."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, one_of, rows_of
from copydesk.book.common.phrases import count_of
from copydesk.book.formula.formatter import formula_of
from copydesk.book.structure.foliation import extent, facing_label
from copydesk.book.structure.gathering import HalfState
from copydesk.book.structure.leaf_ids import gathering_of, names_leaf
from copydesk.book.structure.openings import unlike_openings, why_unlike
from copydesk.book.structure.page import Page
from copydesk.book.structure.signatures import RegisterLine, leaf_signatures, register
from copydesk.tracking.binding.flyleaf_walk import ENDS, FLYLEAVES, WalkedFlyleaf, flyleaf_walk, not_found_words
from copydesk.tracking.ledger.entry_kinds import SheetPlace, SpaceEnd
from copydesk.tracking.ledger.page_record import TICKED
from copydesk.tracking.views.page_marks import CatchwordCheck, catchword_checks
from copydesk.tracking.views.page_view import ActKind, page_account
from copydesk.tracking.views.space_view import SpaceAccount, space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import Book
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


class Point(NamedTuple):
    """An obstacle or a remark: where, what, and the page where it is about one; ``many`` of them taken together."""

    where: str
    what: str
    page: Page | None = None
    sheet: str = ""
    many: int = 1


def where_named(point: Point, book: Book) -> str:
    """Where a point is, its page or opening called as the book counts; ``where`` keeps ``12r`` for other programs."""
    page = point.page
    if page is None:
        return point.where
    if point.where == str(page):
        return book.named(page)
    return facing_label(page, Page.at(page.index + 1), book.signing.foliation)


class Assembly(NamedTuple):
    """The book before sewing. ``remarks`` are no obstacles; ``sheets`` and ``walked`` count the binder's walk.

    ``flyleaves`` are the leaves before and after the text, with their ticks.
    """

    obstacles: tuple[Point, ...]
    remarks: tuple[Point, ...]
    catchwords: tuple[CatchwordCheck, ...]
    register: tuple[RegisterLine, ...]
    formula: str
    extent: str
    sheets: int
    walked: int
    flyleaves: tuple[WalkedFlyleaf, ...] = ()

    @property
    def ready(self) -> bool:
        """Whether there is no obstacle to sewing."""
        return not self.obstacles


def assembly(state: BookState) -> Assembly:
    """Everything that is to be seen to before the book is sewn."""
    accounts = [page_account(state, index) for index in range(state.collation.pages)]
    spaces = space_accounts(state)
    checks = catchword_checks(state)
    records = [state.sheet_record(name) for name in state.collation.sheet_names]
    plan, bound = state.book.flyleaves, tuple(flyleaf_walk(state))
    return Assembly(
        obstacles=(
            *_pages(accounts),
            *_passes(state.book, accounts),
            *_spaces(state, spaces),
            *_text(state),
            *_catchwords(checks),
            *_away(state),
            *_flyleaves(bound),
        ),
        remarks=(
            *_openings(state),
            *_leaves(state),
            *_signed_anew(state),
            *_weakly_checked(accounts),
            *_left_empty(spaces),
            *_blank(accounts),
            *_unmarked(state),
        ),
        catchwords=tuple(checks),
        register=register(state.collation, state.book.signing.habit),
        formula=formula_of(state.collation),
        extent=extent(plan.free_front, state.collation.leaves, plan.free_back),
        sheets=len(records),
        walked=sum(record.walked for record in records),
        flyleaves=bound,
    )


def _pages(accounts: Iterable[PageAccount]) -> Iterator[Point]:
    """Pages that are not ready, and those whose beginning does not meet the end of the one before."""
    for account in accounts:
        said = [_not_ready(account)]
        if account.gap_words:
            said.append(f"{count_of(account.gap_words, 'word')} of the text skipped before it")
        if account.overlap_words:
            said.append(f"{count_of(account.overlap_words, 'word')} of the page before are written here again")
        yield from (Point(str(account.page), each, account.page, account.place.sheet_name) for each in said if each)


def _passes(book: Book, accounts: Sequence[PageAccount]) -> Iterator[Point]:
    """Pages still to be gone over, pass by pass."""
    for plan in book.later_passes:
        for account in accounts:
            if plan in account.passes:
                yield Point(str(account.page), f"{plan.name} to be done", account.page, account.place.sheet_name)


def _not_ready(account: PageAccount) -> str:
    """What is still to be done on a page before it is ready; nothing where it is, or bears no text."""
    act, faults = account.next_act.kind, len(account.record.open_faults)
    open_faults = f"{count_of(faults, 'fault')} open" if faults else ""
    if act is ActKind.WRITE and account.record.stints:
        return f"to be written from line {account.record.written + 1}"
    said = {ActKind.RULE: "to be ruled", ActKind.WRITE: "to be written", ActKind.CHECK: "to be checked"}.get(act, "")
    if act is ActKind.RULE and account.budget.planned:
        said = "to be ruled and written"
    return f"{said}, {open_faults}" if said and open_faults else said or open_faults


def _spaces(state: BookState, spaces: Iterable[SpaceAccount]) -> Iterator[Point]:
    for space in spaces:
        if not space.waiting:
            continue
        if space.page is None:
            yield Point("no page", f"space {space.plan.id} was never reached: give it up, or leave it out on purpose")
        else:
            place = state.collation.place(space.page)
            yield Point(str(space.page), f"space {space.plan.id} waits", space.page, place.sheet_name)


def _text(state: BookState) -> Iterator[Point]:
    lines = state.budget.lines_without_room
    if lines:
        yield Point("the end", f"{count_of(lines, 'line')} of text {'has' if lines == 1 else 'have'} no page")


def _catchwords(checks: Iterable[CatchwordCheck]) -> Iterator[Point]:
    for check in checks:
        if not check.agrees:
            yield Point(
                f"gathering {check.gathering}",
                f'catchword "{check.catchword}", but gathering {check.gathering + 1} begins "{check.next_begins}"',
            )


def _away(state: BookState) -> Iterator[Point]:
    """Sheets that are with the checker or the artist, or not dry."""
    for name in state.collation.sheet_names:
        record = state.sheet_record(name)
        if record.place not in (SheetPlace.DESK, SheetPlace.PRESS):
            who = f" ({record.who})" if record.who and record.place is not SheetPlace.DRYING else ""
            yield Point(f"sheet {name}", f"{record.place.words}{who}", None, name)
        if record.also is not None:
            place, who = record.also
            yield Point(f"sheet {name}", f"taken by two: {place.words} ({who}) as well", None, name)


def _flyleaves(bound: Sequence[WalkedFlyleaf]) -> Iterator[Point]:
    """Flyleaves not yet ticked in the walk; the ledger records nothing else about them."""
    for at in ENDS:
        if said := not_found_words(bound, at):
            yield Point(f"the {at}", said)


def _openings(state: BookState) -> Iterator[Point]:
    for opening in unlike_openings(state.collation):
        yield Point(
            str(opening),
            f"hair faces flesh: {why_unlike(state.collation, opening, state.book.signing.foliation)}",
            opening.left,
        )


def _leaves(state: BookState) -> Iterator[Point]:
    """Leaves that are single, gone, or came since the gathering was planned."""
    for gathering in state.collation.gatherings:
        for half in gathering.halves:
            number = state.collation.number_of(half.id)
            mate = gathering.mate(half)
            if number is not None and not half.folded:
                yield Point(state.book.leaf_named(number), "tipped in")
            elif number is not None and (mate is None or not mate.stands):
                yield Point(state.book.leaf_named(number), "single, held by its stub")
            elif half.state is HalfState.WANTING:
                yield Point(f"gathering {gathering.number}", "a leaf is wanting")


def _signed_anew(state: BookState) -> Iterator[Point]:
    """Gatherings whose leaves were changed in mid-work, so that marks put on before may be wrong."""
    marks = leaf_signatures(state.collation) if state.book.signing.habit == "leaves" else {}
    entries = (entry for entry in state.ledger.live_of("leaf") if entry.what not in ("flaw", "added-gathering"))
    for number in sorted({gathering_of(entry.about) for entry in entries if names_leaf(entry.about)}):
        leaves = state.collation.leaf_numbers(number)
        here = ((page.leaf, mark) for page, mark in marks.items() if page.leaf in leaves)
        signed = [f"{state.book.number_of_leaf(leaf)} {mark}" for leaf, mark in here]
        if signed:
            yield Point(f"gathering {number}", f"its leaves were changed; they are now signed {', '.join(signed)}")


def _weakly_checked(accounts: Iterable[PageAccount]) -> Iterator[Point]:
    for account in accounts:
        if account.record.self_checked:
            yield Point(str(account.page), f"checked by {account.record.checked_by}, who wrote it", account.page)
        if account.record.checked_by and account.record.unread:
            yield Point(str(account.page), f"checked by {account.record.checked_by}, {TICKED}", account.page)


def _left_empty(spaces: Iterable[SpaceAccount]) -> Iterator[Point]:
    for space in spaces:
        if space.stage is SpaceEnd.LEFT_EMPTY:
            yield Point(str(space.page or "no page"), f"space {space.plan.id} left empty on purpose", space.page)


def _blank(accounts: Iterable[PageAccount]) -> Iterator[Point]:
    for account in accounts:
        if account.next_act.kind is ActKind.BLANK:
            yield Point(str(account.page), "without text", account.page)


def _unmarked(state: BookState) -> Iterator[Point]:
    """Marks the binder would look for and does not find, and flyleaves nobody planned."""
    if state.book.signing.habit == "none":
        yield Point("the gatherings", "have no signatures: number them lightly in pencil before they leave the desk")
    if not state.book.signing.catchwords:
        yield Point("the gatherings", "have no catchwords: check each against the next by its text")
    if not any((state.book.flyleaves.front, state.book.flyleaves.back)):
        yield Point("the covers", "no flyleaves are planned: a book of any size has some at the front and at the end")


def gathered(points: Iterable[Point], book: Book) -> list[Point]:
    """The points with pages that follow one another and have the same said of them taken together, for people."""
    found: list[Point] = []
    for _, run in groupby(enumerate(points), key=_run):
        group = [point for _, point in run]
        first, last = group[0], group[-1]
        where = where_named(first, book)
        if first is not last:
            where = f"{where} to {where_named(last, book)}"
        found.append(first._replace(where=where, many=len(group)))
    return found


def _run(numbered: tuple[int, Point]) -> tuple[str, int | str]:
    """What points that belong together share: what is said, and how far their page is from their number."""
    number, point = numbered
    single = point.page is None or point.where != str(point.page)
    return point.what, f"{number}" if single or point.page is None else point.page.index - number


POINTS: Report[Point] = rows_of(
    "assemble, a point",
    "Something to see to, and where.",
    Column("where", Cell.TEXT, "the page, sheet or gathering"),
    Column("what", Cell.TEXT, "what is to be done"),
)
CATCHWORDS: Report[CatchwordCheck] = rows_of(
    "assemble, a catchword",
    "The catchword of one gathering against the words that begin the next.",
    Column("gathering", Cell.NUMBER, "the gathering"),
    Column("catchword", Cell.TEXT, "its catchword"),
    Column("next_begins", Cell.TEXT, "the words the next gathering begins with"),
    Column("agrees", Cell.YES_NO, "whether they agree"),
)
REGISTER: Report[RegisterLine] = rows_of(
    "assemble, a line of the register",
    "Gatherings of one kind.",
    Column(
        "signatures",
        Cell.TEXTS,
        "the marks they bear; their numbers where they bear none",
        lambda line: list(line.signatures),
    ),
    Column("leaves", Cell.NUMBER, "leaves in each"),
    Column("kind", Cell.TEXT, "what they are called, as quaternion"),
)
ASSEMBLY: Report[Assembly] = one_of(
    "assemble",
    "Whether the book is ready to sew, and what is left to do.",
    Column("ready", Cell.YES_NO, "whether it is ready to sew"),
    Column("obstacles", Cell.ROWS, "what must be done before", of=POINTS),
    Column("catchwords", Cell.ROWS, "the catchwords", of=CATCHWORDS),
    Column("remarks", Cell.ROWS, "what is worth knowing", of=POINTS),
    Column("register", Cell.ROWS, "the register", of=REGISTER),
    Column("formula", Cell.TEXT, "the collation formula"),
    Column("extent", Cell.TEXT, "leaves and flyleaves, as ii + 56 + i"),
    Column("sheets", Cell.NUMBER, "sheets of the book"),
    Column("walked", Cell.NUMBER, "sheets found in place"),
    Column("flyleaves", Cell.ROWS, "the flyleaves", of=FLYLEAVES),
)
