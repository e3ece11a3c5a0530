"""Ways to make the text of a stretch fit its pages: what each is, the acts that do it, its cost, what it assumes.

Whether a way helps is for ``remedies`` to try.
"""

from __future__ import annotations

import math
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DoesNotFitError, InvalidValueError, NotAllowedError, UnknownNameError
from copydesk.book.common.phrases import count_of, decimal, grouped, listed
from copydesk.book.common.units import show_length
from copydesk.book.layout.spaces import is_initial, takes_lines
from copydesk.book.structure.page import Page
from copydesk.book.text.letter_widths import letter_count
from copydesk.tracking.commands.leaf_commands import add_gathering, add_leaf
from copydesk.tracking.commands.page_commands import Commands, agree_letters, agree_lines
from copydesk.tracking.fit.stretches import Need, Verdict, asked_words, need_at, need_to_the_end
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.views.skin_order import skin_order

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

MOST_GATHERINGS = 12

SMALLEST = 2
"""Lines of the smallest initial or picture anybody would ask for."""


class RemedyWay(NamedTuple):
    """One way: its name, what it is, the acts that do it, how hard it is where that is known, its cost, its ground."""

    name: str
    says: str
    acts: tuple[Act, ...]
    verdict: Verdict | None = None
    cost: str = ""
    assumes: str = ""


def ways_to_fit(state: BookState, need: Need) -> Iterator[RemedyWay]:
    """The ways there are for a stretch, the gentler first."""
    yield from _closeness(state, need)
    if need.over > 0:
        yield from _abbreviating(state, need)
    yield from _spaces(state, need)
    yield from _ruling(state, need)
    if need.over > 0:
        yield from _leaves(state, need)


def asked_after(state: BookState, after: BookState, need: Need) -> Need | None:
    """What a stretch asks of the same hand once the book stands otherwise; None where there is no such stretch."""
    if not need.held:
        tail = need_to_the_end(after)
        left = need._replace(over=-after.budget.lines_left_over, needed=None, verdict="easy", targets=())
        return tail.of_hand(need.hand) if tail is not None else left
    page = after.page_of(state.skin_at(need.last))
    found = need_at(after, page.index) if page is not None else None
    return found.of_hand(need.hand) if found is not None else None


def _closeness(state: BookState, need: Need) -> Iterator[RemedyWay]:
    if need.needed is None:
        return
    tight = need.over > 0
    hands = "the hand is" if len(need.targets) == 1 else "the hands are"
    lines = count_of(sum(each.lines for each in need.targets), "line")
    yield RemedyWay(
        "closer" if tight else "wider",
        _closeness_words(need, state.book),
        _agreed(state, need),
        need.verdict,
        f"{lines} written {'closer' if tight else 'wider'} than {hands} used to",
        f"{'the' if len(need.targets) == 1 else 'every'} hand keeps to that as evenly as on the pages before",
    )


def _closeness_words(need: Need, book: Book) -> str:
    if len(need.targets) > 1:
        return f"write {where(need, book)}: {asked_words(need)}"
    usual = decimal(need.letters, 1)
    needed = decimal(need.needed, 1) if need.needed is not None else usual
    return f"write {needed} letters a line {where(need, book)} where {need.hand} writes {usual}"


def _agreed(state: BookState, need: Need, words: int = 0) -> tuple[Act, ...]:
    """The letters needed agreed on for the pages of each hand; ``words`` abbreviated are shared out by their lines."""
    acts, lines = [], sum(each.lines for each in need.targets) or 1
    needed = {each.hand: each for each in need.targets if each.needed is not None}
    given = dict.fromkeys(needed, 0)
    for hand, run in groupby(range(need.first, need.last + 1), key=state.hand_on):
        pages = list(run)
        target = needed.get(hand)
        if target is not None and target.needed is not None:
            share = 0 if given[hand] or not words else max(round(words * target.lines / lines), 1)
            given[hand] += 1
            acts.append(agree_letters(state, pages[0], pages[-1], round(target.needed, 4), share))
    return tuple(acts)


def _abbreviating(state: BookState, need: Need) -> Iterator[RemedyWay]:
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
    yield RemedyWay(
        "abbreviate",
        f"abbreviate about {grouped(count)} of the {count_of(len(words), 'word')}, {LETTERS_SAVED} letters each",
        _agreed(state, need, count),
        verdict,
        f"one word in {max(round(1 / share), 1)} abbreviated",
        f"each mark saves {LETTERS_SAVED} letters on the whole; only words of {LONG_ENOUGH} letters or more bear one",
    )


def _words_of(state: BookState, need: Need) -> Sequence[str]:
    first, last = state.budget.pages[need.first], state.budget.pages[need.last]
    cast = state.budget.casts[need.first]
    end = last.end if need.held else state.copy.pieces
    return state.copy.text(cast.start.piece if cast is not None else first.start, end)


def _spaces(state: BookState, need: Need) -> Iterator[RemedyWay]:
    """Other plans for the reserved spaces of a stretch, while their pages are unruled."""
    plans = list(_open_spaces(state, need))
    size = "smaller" if need.over > 0 else "larger"
    for plan in plans:
        kind = "initial" if is_initial(plan.kind) else "space"
        for lines in _sizes(state, plan, need.over):
            says = f"make the {plan.kind} {plan.id} {size}: {count_of(lines, 'line')} where {plan.lines} are planned"
            cost = f"the {plan.kind} is {count_of(abs(plan.lines - lines), 'line')} {size}"
            way = RemedyWay(f"a {size} {kind}", says, (), None, cost, _ARTIST_AGREES)
            yield from _space_way(state, plan, way, "resized", lines=lines)
    for plan in plans if need.over > 0 else ():
        says = f"give up the {plan.kind} {plan.id} of {count_of(plan.lines, 'line')}"
        way = RemedyWay("a space given up", says, (), None, f"the book has no {plan.kind} there", _ARTIST_AGREES)
        yield from _space_way(state, plan, way, SpaceEnd.GIVEN_UP)


_ARTIST_AGREES = "whoever paints it agrees; its page is not ruled yet"


def _open_spaces(state: BookState, need: Need) -> Iterator[SpacePlan]:
    """The spaces on the pages of a stretch that are fixed on no skin yet."""
    for index in range(need.first, need.last + 1):
        placed = state.record(state.skin_at(index)).placements is not None
        fixed = () if placed else state.frame_of(index).fixed
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


def _space_way(state: BookState, plan: SpacePlan, way: RemedyWay, what: str, **facts: int) -> Iterator[RemedyWay]:
    """The way that records ``what`` of a space; none where the space cannot be changed so."""
    try:
        yield way._replace(acts=(Commands(state).space(plan.id, what, **facts),))  # type: ignore[arg-type]
    except (DoesNotFitError, NotAllowedError):
        return


def _ruling(state: BookState, need: Need) -> Iterator[RemedyWay]:
    """Other lines on the pages not yet ruled, in this stretch and elsewhere."""
    pages = range(state.collation.pages)
    open_pages = [index for index in pages if state.record(state.skin_at(index)).placements is None]
    if not any(need.first <= index <= need.last for index in open_pages):
        return
    lines, way = state.frame.lines, 1 if need.over > 0 else -1
    found: tuple[Act, int] | None = None
    for more in range(way, way * MOST_LINES_MORE + way, way):
        try:
            act = agree_lines(state, lines + more)
        except (InvalidValueError, DoesNotFitError):
            break
        after = asked_after(state, state.supposing([act]), need)
        if after is None or (way < 0 < after.over):  # so few lines fewer as leave the text its room
            break
        found = act, more
        if after.over * way <= 0:
            break
    if found is not None:
        yield _other_ruling(state, *found, len(open_pages))


def _other_ruling(state: BookState, act: Act, more: int, pages: int) -> RemedyWay:
    """The way that rules so many lines a column more (fewer where negative) on the pages not yet ruled."""
    count = "a line" if abs(more) == 1 else f"{abs(more)} lines"
    kind, foot = ("more", "less") if more > 0 else ("fewer", "more")
    says = f"rule {count} {kind} a column ({state.frame.lines + more}) on the {count_of(pages, 'page')} not yet ruled"
    room = show_length(abs(more) * state.layout.line_height, state.book.unit)
    return RemedyWay(
        f"{count} {kind}",
        says,
        (act,),
        None,
        f"the foot margin is {room} {foot} than on the pages ruled before",
        "every page not yet ruled is ruled so, in this stretch and elsewhere",
    )


def _leaves(state: BookState, need: Need) -> Iterator[RemedyWay]:
    """A single leaf among the pages of the stretch; at the book's end gatherings too, as many as it takes."""
    book, after = state.book, (need.last + 1) // 2
    try:
        act = add_leaf(state, after) if after else add_leaf(state, 1, before=True)
        place = f"after {book.leaf_named(after)}" if after else f"before {book.leaf_named(1)}"
        cost = f"a single leaf with its stub, half a sheet of skin{_skins_more(state, [act])}"
        assumes = f"skin is at hand for it{_who_writes(state, [act], after)}"
        yield RemedyWay("a leaf more", f"add a single leaf {place}", (act,), None, cost, assumes)
    except (InvalidValueError, UnknownNameError, NotAllowedError):
        return
    if not need.held:
        yield from _gatherings(state, 2 * (book.gatherings.sheets or 4))


def _gatherings(state: BookState, leaves: int) -> Iterator[RemedyWay]:
    """So many gatherings more at the end that the text fits, no more than ``MOST_GATHERINGS``."""
    acts: list[Act] = []
    while len(acts) < MOST_GATHERINGS:
        after = state.supposing(acts)
        if acts and not after.budget.lines_without_room:
            break
        acts.append(add_gathering(after, leaves))
    count = len(acts)
    name = "a gathering more" if count == 1 else f"{count} gatherings more"
    says = f"add {'a gathering' if count == 1 else f'{count} gatherings'} of {count_of(leaves, 'leaf', 'leaves')}"
    cost = f"{count_of(count * leaves // 2, 'sheet')} more{_skins_more(state, acts)}"
    assumes = f"skin is at hand for them, and the binding allows it{_who_writes(state, acts, state.collation.leaves)}"
    yield RemedyWay(name, f"{says} at the end", tuple(acts), None, cost, assumes)


def _who_writes(state: BookState, acts: Sequence[Act], after: int) -> str:
    """Who is expected to write the leaves that acts add after leaf ``after``, where the book has several hands."""
    if len(state.book.hands) == 1:
        return ""
    book = state.supposing(acts)
    added = range(2 * after, 2 * after + 2 * (book.collation.leaves - state.collation.leaves))
    hands = dict.fromkeys(book.hand_of(index) for index in added)
    return f"; {listed([f'hand {hand}' for hand in hands])} {'writes' if len(hands) == 1 else 'write'} there"


def _skins_more(state: BookState, acts: Iterable[Act]) -> str:
    """The skins that acts on the leaves add to the order: ``, 2 skins more to order``; nothing where they add none."""
    before, after = skin_order(state), skin_order(state.supposing(acts))
    more = after.with_flyleaves - before.with_flyleaves if before is not None and after is not None else 0
    return f", {count_of(more, 'skin')} more to order" if more > 0 else ""


def where(need: Need, book: Book) -> str:
    """The pages of a stretch: ``from 2r to 3v``."""
    first, last = book.named(Page.at(need.first)), book.named(Page.at(need.last))
    return f"on {first}" if first == last else f"from {first} to {last}"
