"""Remedies: ways to make the text of a stretch fit its pages, each tried by casting the book with it.

Trying changes nothing: a remedy holds the acts that would carry it out, and each of them can be undone.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report
from copydesk.book.common.errors import DoesNotFitError, InvalidValueError, NotAllowedError, UnknownNameError
from copydesk.book.common.phrases import count_of
from copydesk.book.layout.spaces import is_initial, takes_lines
from copydesk.book.structure.page import Page
from copydesk.book.text.letter_widths import letter_count
from copydesk.tracking.commands.leaf_commands import add_gathering, add_leaf
from copydesk.tracking.commands.page_commands import Commands, agree_letters, agree_lines
from copydesk.tracking.fit.stretches import STRETCH, Need, Verdict, need_at, need_from, need_to_the_end
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.views.page_lookup import expect_page

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from copydesk.book.plan import Book, SpacePlan
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


LETTERS_SAVED = 2
"""What one mark of abbreviation saves of a word, on the whole: common practice, from memory (a stroke for m or n saves
one letter, the marks for -er, -us, con- and pro- two, a suspended ending three)."""

LONG_ENOUGH = 5
"""A shorter word is seldom abbreviated."""

EASY_SHARE, HARD_SHARE = 0.05, 0.20
"""Up to these shares of a stretch's words abbreviated, the page reads easily, or is still read. Our own judgement."""

MOST_LINES_MORE = 3

SMALLEST = 2
"""Lines of the smallest initial or picture anybody would ask for."""


class Remedy(NamedTuple):
    """A way to make a stretch fit: its name, what it is, the acts that do it; lines over, and what it asks, after it.

    ``over`` is negative where lines are then left. ``needed`` are the letters a line that would then fill the room.
    """

    name: str
    says: str
    acts: tuple[Act, ...]
    over: int
    needed: float | None
    verdict: Verdict


class NumberedRemedy(NamedTuple):
    """A remedy with its number from 1, and the lines over without it."""

    number: int
    remedy: Remedy
    over_before: int


def numbered(remedies: Iterable[Remedy], need: Need) -> list[NumberedRemedy]:
    """These remedies of a stretch, numbered from 1."""
    return [NumberedRemedy(number, each, need.over) for number, each in enumerate(remedies, start=1)]


REMEDIES: Report[NumberedRemedy] = Report(
    "remedies",
    "One row a way to make the text fit.",
    (
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
        Column("entries", Cell.TEXTS, "the entries it would make", lambda r: [act.what for act in r.remedy.acts]),
    ),
)

REMEDIES_OF_PAGE: Report[tuple[Page, Need, Sequence[Remedy]]] = Report(
    "remedies",
    "What would make the text around a page fit.",
    (
        Column("page", Cell.PAGE, "the page asked for", lambda of: str(of[0])),
        Column("stretch", Cell.OBJECT, "the pages concerned", lambda of: of[1], of=STRETCH),
        Column("remedies", Cell.ROWS, "the ways, best first", lambda of: numbered(of[2], of[1]), of=REMEDIES),
    ),
    rows=False,
)


class _Way(NamedTuple):
    name: str
    says: str
    acts: tuple[Act, ...]
    verdict: Verdict | None = None


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
    """The ways to make a stretch fit, the gentler first; none where it fits. Ways that change nothing are left out."""
    if need.over == 0:
        return []
    found = (_tried(state, need, way) for way in _ways(state, need))
    return [remedy for remedy in found if remedy.over != need.over]


def _ways(state: BookState, need: Need) -> Iterator[_Way]:
    yield from _closeness(state, need)
    if need.over > 0:
        yield from _abbreviating(state, need)
    yield from _spaces(state, need)
    yield from _ruling(state, need)
    if need.over > 0:
        yield from _leaves(state, need)


def _tried(state: BookState, need: Need, way: _Way) -> Remedy:
    """A way with its effect, the book being cast as it would then stand."""
    after = state.supposing(way.acts)
    over, needed, verdict = _after(state, after, need)
    return Remedy(way.name, way.says, way.acts, over, needed, way.verdict or verdict)


def _after(state: BookState, after: BookState, need: Need) -> tuple[int, float | None, Verdict]:
    if not need.held:
        tail = need_to_the_end(after)
        if tail is None:
            return -after.budget.lines_left_over, None, "easy"
        return tail.over, tail.needed, tail.verdict
    page = after.page_of(state.skin_at(need.last))
    found = need_at(after, page.index) if page is not None else None
    return (found.over, found.needed, found.verdict) if found is not None else (0, None, "easy")


def _closeness(state: BookState, need: Need) -> Iterator[_Way]:
    if need.needed is None:
        return
    tight = need.over > 0
    letters = math.ceil(need.needed * 100) / 100 if tight else math.floor(need.needed * 100) / 100
    says = f"write {letters:.1f} letters a line {where(need, state.book)} where {need.hand} writes {need.letters:.1f}"
    act = agree_letters(state, need.first, need.last, letters)
    yield _Way("closer" if tight else "wider", says, (act,), need.verdict)


def _abbreviating(state: BookState, need: Need) -> Iterator[_Way]:
    if need.needed is None:
        return
    words = _words_of(state, need)
    saved = letter_count(words) * (1 - need.letters / need.needed)
    count = max(math.ceil(saved / LETTERS_SAVED), 1)
    fit = sum(len(word) >= LONG_ENOUGH for word in words)
    if count > fit:
        return
    share = count / len(words)
    verdict: Verdict = "easy" if share <= EASY_SHARE else "hard" if share <= HARD_SHARE else "impossible"
    says = f"abbreviate about {count} of the {len(words)} words, {LETTERS_SAVED} letters each"
    letters = math.ceil(need.needed * 100) / 100
    yield _Way("abbreviate", says, (agree_letters(state, need.first, need.last, letters, count),), verdict)


def _words_of(state: BookState, need: Need) -> Sequence[str]:
    first, last = state.budget.pages[need.first], state.budget.pages[need.last]
    cast = state.budget.casts[need.first]
    end = last.end if need.held else state.copy.pieces
    return state.copy.text(cast.start.piece if cast is not None else first.start, end)


def _spaces(state: BookState, need: Need) -> Iterator[_Way]:
    """Other plans for the reserved spaces of a stretch, while their pages are unruled."""
    plans = list(_open_spaces(state, need))
    size = "smaller" if need.over > 0 else "larger"
    for plan in plans:
        kind = "initial" if is_initial(plan.kind) else "space"
        for lines in _sizes(state, plan, need.over):
            says = f"make the {plan.kind} {plan.id} {size}: {count_of(lines, 'line')} where {plan.lines} are planned"
            yield from _space_way(state, plan, f"a {size} {kind}", says, "resized", lines=lines)
    for plan in plans if need.over > 0 else ():
        says = f"give up the {plan.kind} {plan.id} of {count_of(plan.lines, 'line')}"
        yield from _space_way(state, plan, "a space given up", says, SpaceEnd.GIVEN_UP)


def _open_spaces(state: BookState, need: Need) -> Iterator[SpacePlan]:
    """The spaces on the pages of a stretch that are fixed on no skin yet."""
    for index in range(need.first, need.last + 1):
        settled = state.record(state.skin_at(index)).placements is not None
        fixed = () if settled else state.frame_of(index).fixed
        for placement in (*fixed, *state.budget.pages[index].placed):
            plan = state.plan_of(placement.id)
            if plan is not None and takes_lines(plan.kind):
                yield plan


def _sizes(state: BookState, plan: SpacePlan, over: int) -> list[int]:
    """Other sizes for a space: an initial a line smaller, or larger, or as small as can be; a picture as is asked."""
    if is_initial(plan.kind):
        sizes = {plan.lines - 1, SMALLEST} if over > 0 else {plan.lines + 1}
    else:
        columns = state.layout.columns if plan.across == "all" else 1
        sizes = {max(plan.lines + -over // columns, SMALLEST)}
    return sorted((lines for lines in sizes if lines >= SMALLEST and (plan.lines - lines) * over > 0), reverse=True)


def _space_way(state: BookState, plan: SpacePlan, name: str, says: str, what: str, **facts: int) -> Iterator[_Way]:
    """The way that records ``what`` of a space; none where the space cannot be changed so."""
    try:
        yield _Way(name, says, (Commands(state).space(plan.id, what, **facts),))  # type: ignore[arg-type]
    except (DoesNotFitError, NotAllowedError):
        return


def _ruling(state: BookState, need: Need) -> Iterator[_Way]:
    """Other lines on the pages not yet ruled, in this stretch and elsewhere."""
    pages = range(state.collation.pages)
    open_pages = [index for index in pages if state.record(state.skin_at(index)).placements is None]
    if not any(need.first <= index <= need.last for index in open_pages):
        return
    lines, way = state.frame.lines, 1 if need.over > 0 else -1
    for more in range(1, MOST_LINES_MORE + 1):
        if lines + way * more < 1:
            return
        try:
            act = agree_lines(state, lines + way * more)
        except (InvalidValueError, DoesNotFitError):
            return
        over = _after(state, state.supposing([act]), need)[0]
        if over * way <= 0 or more == MOST_LINES_MORE:
            count = "a line" if more == 1 else f"{more} lines"
            kind = "more" if way > 0 else "fewer"
            says = f"rule {count} {kind} a column ({lines + way * more}) on the {len(open_pages)} pages not yet ruled"
            yield _Way(f"{count} {kind}", says, (act,))
            return


def _leaves(state: BookState, need: Need) -> Iterator[_Way]:
    """A single leaf among the pages of the stretch; at the book's end a gathering too."""
    book, after = state.book, (need.last + 1) // 2
    try:
        act = add_leaf(state, after) if after else add_leaf(state, 1, before=True)
        place = f"after {book.leaf_named(after)}" if after else f"before {book.leaf_named(1)}"
        yield _Way("a leaf more", f"add a single leaf {place}", (act,))
        if not need.held:
            leaves = 2 * (book.gatherings.sheets or 4)
            says = f"add a gathering of {leaves} leaves at the end"
            yield _Way("a gathering more", says, (add_gathering(state, leaves),))
    except (InvalidValueError, UnknownNameError, NotAllowedError):
        return


def where(need: Need, book: Book) -> str:
    """The pages of a stretch: ``from 2r to 3v``."""
    first, last = book.named(Page.at(need.first)), book.named(Page.at(need.last))
    return f"on {first}" if first == last else f"from {first} to {last}"


def need_in_short(need: Need, book: Book) -> str:
    """How the text of a stretch stands to its room: ``2r to 3v: 4 lines over; 36.2 letters a line needed (hard)``."""
    last = "the end of the book" if not need.held else book.named(Page.at(need.last))
    pages = f"{book.named(Page.at(need.first))} to {last}" if need.first != need.last or not need.held else last
    if need.over == 0:
        return f"{pages}: the text just fits"
    said = f"{pages}: {over_words(need.over)}; "
    if need.needed is None:
        return said + "no number of letters a line makes it fit"
    if f"{need.needed:.1f}" == f"{need.letters:.1f}":
        way = "slightly closer than" if need.over > 0 else "as"
        return f"{said}write {way} {need.hand} does, {need.letters:.1f} letters a line ({need.verdict})"
    return f"{said}{need.needed:.1f} letters a line needed, {need.hand} writes {need.letters:.1f} ({need.verdict})"


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
    return f"{said} ({remedy.verdict})" if remedy.over == 0 or remedy.name in ("closer", "abbreviate") else said
