"""Where each reserved space stands, which ones moved or lost their place, and for which room is still to be kept."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, listed
from copydesk.book.common.sanitize import sanitize
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.structure.page import Page
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.book.layout.page_frame import CastLine, Placement
    from copydesk.book.plan import SpacePlan
    from copydesk.tracking.state.book_state import BookState


class Parted(NamedTuple):
    """A space ruled where it cannot serve its text: its page and that of the text (indices).

    Where that is one page, ``lines`` are the text lines from where its text begins to the space, negative where the
    space stands before its text.
    """

    page: int
    text: int
    lines: int = 0


class Home(NamedTuple):
    """Where a space stands: its page (an index), the surface of skin, and whether its lines are ruled round it.

    ``parted`` tells that its text no longer comes where it is ruled, see :func:`parted_spaces`.
    """

    page: int
    skin: str
    ruled: bool
    parted: Parted | None = None


def space_homes(state: BookState) -> dict[str, Home]:
    """The home of every space that has one; those that only mark words of the text, as a line filler, are left out."""
    homes: dict[str, Home] = {}
    parted = parted_spaces(state)
    pieces = {each.shape.id: each.piece for each in state.budgeter.anchors}
    for index, page in enumerate(state.budget.pages):
        for placement in page.placed:
            text = _page_with(state, pieces[placement.id]) if placement.id in pieces else None
            early = Parted(index, text) if text is not None and text > index else None  # its heading is kept back
            homes[placement.id] = Home(index, str(state.skin_at(index)), False, early)
    for index, frame in state.frames.items():
        if index < state.collation.pages:
            for placement in frame.fixed:
                ruled = frame.ruled and placement.lines > 0
                homes[placement.id] = Home(index, str(state.skin_at(index)), ruled, parted.get(placement.id))
    for plan in state.plans:
        piece = state.loose_spaces.get(plan.id)
        at = _page_with(state, piece) if piece is not None and plan.kind == "border" else None
        if at is not None:
            homes[plan.id] = Home(at, str(state.skin_at(at)), False)
    return homes


def _page_with(state: BookState, piece: int) -> int | None:
    """The index of the page a piece of the text stands on; None where it stands on none."""
    pages = state.budget.pages
    at = bisect_right(pages, piece, key=lambda page: page.start) - 1
    # Pages begin one after another in the text but where one was written out of its turn; only then all are looked at.
    if at >= 0 and pages[at].start <= piece < pages[at].end:
        return at
    return next((index for index, page in enumerate(pages) if page.start <= piece < page.end), None)


def text_page(state: BookState, plan: SpacePlan) -> int | None:
    """The index of the page with the words a space is tied to; None where it is tied to a page, or no page has them."""
    word = state.word_of(plan)
    return _page_with(state, state.copy.piece(word)) if word is not None else None


def parted_spaces(state: BookState) -> dict[str, Parted]:
    """The spaces that are ruled where their text no longer comes, by name.

    An initial serves the line that its text begins with; a picture serves text of pages before it too.
    """
    pieces = {each.shape.id: each.piece for each in state.budgeter.anchors}
    found = {}
    for index, frame in sorted(state.frames.items()):
        for placement in frame.fixed if frame.ruled and index < state.collation.pages else ():
            piece = pieces.get(placement.id)
            text = _page_with(state, piece) if piece is not None and placement.lines else None
            if text is None or piece is None or (text <= index and not placement.share):
                continue
            lines = initial_off(state, index, placement, piece) if text == index else 0
            if text != index or lines:
                found[placement.id] = Parted(index, text, lines)
    return found


def initial_off(state: BookState, index: int, placement: Placement, piece: int) -> int:
    """Text lines from where an initial's text begins to the initial ruled on that page, negative where it is before.

    None are told of lines that are written: where they broke is guessed.
    """
    record = state.record(state.skin_at(index))
    written = record.whole or (record.ends is not None and piece < state.copy.piece(record.ends))
    if written or not state.frame_of(index).ruled:
        return 0
    lines = lines_of_page(state, index)
    # Lines beside the initial that are too narrow for its first word are empty; its text begins with the first of them.
    return lines_above(lines, placement) - sum(line.start < piece and line.end <= piece for line in lines)


def lines_above(lines: list[CastLine], placement: Placement) -> int:
    """The text lines of a page that come before a space."""
    column = max(placement.column, 1)
    return sum((line.column, line.line) < (column, placement.from_line) for line in lines)


def space_changes(before: Mapping[str, Home], state: BookState) -> Iterator[str]:
    """What has become of the spaces since their homes were ``before``: a sentence each, those without a place first."""
    after = space_homes(state)
    lost = set(state.budget.homeless)
    still = [plan for plan in state.plans if plan.id in before or plan.id in after]
    for plan in still:
        if plan.id in before and plan.id in lost:
            yield f"Space {plan.id} has no place now: {_why_homeless(state, plan)}."
    for plan in still:
        old, new = before.get(plan.id), after.get(plan.id)
        if old is not None and new is not None and _moved(old, new):
            yield _move(state, plan, old, new)
        elif old is not None and new is not None and old.parted != new.parted:
            yield _parted(state, plan, new)
        elif old is None and new is not None and state.space_record(plan.id).plan is None:
            yield f"Space {plan.id} has a place again: {state.book.named(Page.at(new.page))}."


def _moved(old: Home, new: Home) -> bool:
    """Whether a space stands elsewhere: on another page, or, once ruled, on other skin than its room was kept on."""
    return old.skin != new.skin and (old.ruled or old.page != new.page)


def _move(state: BookState, plan: SpacePlan, old: Home, new: Home) -> str:
    named = state.book.named
    was, now = named(Page.at(old.page)), named(Page.at(new.page))
    if old.ruled:
        return f"Space {plan.id} is to be made anew on {now}: the room kept for it is gone."
    text = text_page(state, plan)
    if text is None:
        return f"Space {plan.id} moves from {was} to {now}."
    if text == new.page:
        return f"Space {plan.id} moves with its text from {was} to {now}."
    return f"Space {plan.id} moves from {was} to {now}; its text stands on {named(Page.at(text))}."


def _parted(state: BookState, plan: SpacePlan, home: Home) -> str:
    parted, here = home.parted, state.book.named(Page.at(home.page))
    if parted is None:
        return f"Space {plan.id} on {here} has its text there again."
    return f"Space {plan.id} is ruled on {here}, and its text {_where_text(state, parted)} now."


def _where_text(state: BookState, parted: Parted) -> str:
    if parted.text != parted.page:
        return f"stands on {state.book.named(Page.at(parted.text))}"
    return f"begins {count_of(abs(parted.lines), 'line')} {'above' if parted.lines > 0 else 'below'} it"


def _why_homeless(state: BookState, plan: SpacePlan) -> str:
    if plan.at.page is not None:
        return "the page it was tied to is gone or ruled without it"
    text = text_page(state, plan)
    if text is None:
        return "no page has room for its text"
    there = state.book.named(Page.at(text))
    if spaces_of.is_initial(plan.kind):
        return f"its text stands on {there}, ruled without it"
    return f"its text stands on {there}, and no page after it has room that is not ruled"


def open_spaces(state: BookState) -> list[str]:
    """What is still to be decided, a sentence each: spaces without a place, and room to keep after their text is ruled.

    A space whose text stands on a ruled page is to be ruled in on a later one, where the plan carries it; until it
    is, nothing on the skin shows that it is wanted.
    """
    homeless, fixed = set(state.budget.homeless), state.budget.fixed
    said = list(_parted_words(state))
    for plan in state.plans:
        if plan.id in fixed or spaces_of.goes_with_text(plan) or state.space_record(plan.id).ended is not None:
            continue
        if plan.id in homeless:
            said.append(
                f"space {plan.id} has no place: {_why_homeless(state, plan)}; move it, give it up or leave it empty"
            )
        elif (kept := _room_to_keep(state, plan)) is not None:
            said.append(kept)
    return list(map(sanitize, said))


def _parted_words(state: BookState) -> Iterator[str]:
    """A sentence for all spaces whose text has gone to the same place, so that several stay readable."""
    together: dict[str, list[str]] = {}
    for space, parted in parted_spaces(state).items():
        if state.space_record(space).ended is None:
            here = state.book.named(Page.at(parted.page))
            together.setdefault(_where_text(state, parted), []).append(f"{space} is ruled on {here}")
    for where, spaces in together.items():
        if len(spaces) > 1:
            ruled = listed([said.replace(" is ruled", "") for said in spaces])
            yield f"spaces {ruled} are ruled, and the text of each {where}; leave them empty, or bring the text there"
        else:
            yield f"space {spaces[0]}, and its text {where}; leave it empty, or bring the text there"


def _room_to_keep(state: BookState, plan: SpacePlan) -> str | None:
    text = text_page(state, plan)
    if text is None or not state.frame_of(text).ruled:
        return None
    placed = (
        (index, each) for index, page in enumerate(state.budget.pages) for each in page.placed if each.id == plan.id
    )
    home, placement = next(placed, (text, None))
    if placement is None or home == text:
        return None
    lines, there = count_of(placement.lines, "line"), state.book.named(Page.at(home))
    return f"keep {lines} on {there} for space {plan.id}; its text stands on {state.book.named(Page.at(text))}"
