"""Whether a space can be where and as large as a person wants it: its name, its place, its room."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import (
    AlreadyDoneError,
    DoesNotFitError,
    InvalidValueError,
    NotAllowedError,
    UnknownNameError,
)
from copydesk.book.common.phrases import count_of
from copydesk.book.common.units import show_length
from copydesk.book.layout import spaces as spaces_of
from copydesk.book.layout.space_stages import STAGES
from copydesk.book.structure.page import Page
from copydesk.book.text.anchors import uncounted_paragraph, unnoted
from copydesk.tracking.state.page_content import page_of_word
from copydesk.tracking.views.page_lookup import expect_page
from copydesk.tracking.views.space_view import find_space

if TYPE_CHECKING:
    from copydesk.book.plan import Anchor, SpacePlan
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.space_view import SpaceAccount


_PARTS = frozenset(" :/\\,;'\"()[]{}<>|")
_LONGEST_NAME = 40


def check_name(state: BookState, space: str) -> None:
    """See that a new space's name is one, and free.

    Raises:
        CopydeskError: where it is not.
    """
    if not space:
        raise InvalidValueError("a new space needs a name; give one word, as in owl")
    if not (0 < len(space) <= _LONGEST_NAME and space.isprintable() and not _PARTS.intersection(space)):
        raise InvalidValueError(
            f"{space!r} is not a name for a space; give one word of at most {_LONGEST_NAME} letters"
        )
    if find_space(state, space) is not None:
        raise AlreadyDoneError(f"there is a space {space} already; choose another name")


def check_stages(stages: object) -> None:
    """See that the stages a new space is to go through are stages.

    Raises:
        UnknownNameError: where one is not.
    """
    for stage in stages if isinstance(stages, tuple) else ():
        if stage not in STAGES:
            raise UnknownNameError(f"{stage!r} is not a stage of a space; give some of {', '.join(STAGES)}")


def check_anchor(state: BookState, at: Anchor) -> Anchor:
    """See that what a space is to be tied to is there; gives it with its page, if it has one, as a piece of skin.

    Raises:
        InvalidValueError: where it is not there.
    """
    wrong = _not_in_text(state, at) or _not_on_page(state, at)
    if wrong:
        raise InvalidValueError(wrong)
    if at.page is None:
        return at
    page = Page.parse(at.page)
    expect_page(state, page)
    return at._replace(page=str(state.collation.skin_page(page)))


def _not_in_text(state: BookState, at: Anchor) -> str:
    exemplar, copy = state.exemplar, state.copy
    if at.division is not None and not 1 <= at.division <= len(copy.divisions):
        return f"there is no division {at.division} in the text; it has {len(copy.divisions)}"
    if at.paragraph is not None and at.division is not None and exemplar is not None:
        paragraphs = exemplar.divisions[at.division - 1].paragraphs
        if at.paragraph > paragraphs:
            return f"there is no paragraph {at.paragraph} in division {at.division}; it has {paragraphs}"
    if exemplar is None and (what := uncounted_paragraph(at)):
        return f"paragraph {at.paragraph} of division {at.division} {what}"
    if at.word is not None and at.word >= copy.words:
        return f"there is no word {at.word} in the text; its words are counted from 0 to {copy.words - 1}"
    if at.exemplar is not None and (what := unnoted(at.exemplar, exemplar)):
        return f"the place {what}"
    return ""


def _not_on_page(state: BookState, at: Anchor) -> str:
    for name, value, most in (("column", at.column, state.layout.columns), ("line", at.line, state.frame.lines)):
        if value is not None and not 1 <= value <= most:
            return f"a page has {name}s 1 to {most}, so there is no {name} {value}; correct it"
    return ""


def check_room(state: BookState, plan: SpacePlan) -> None:
    """See that a column has the lines a space is to take.

    Raises:
        CopydeskError: where it takes none of its kind, or too many.
    """
    if not spaces_of.takes_lines(plan.kind):
        if plan.lines:
            raise InvalidValueError(f"a {plan.kind} takes no lines from the text; leave its lines out")
        return
    first, most = plan.at.line or 1, state.frame.lines
    if not 1 <= plan.lines <= most - first + 1:
        from_there = f" from line {first}" if first > 1 else ""
        raise DoesNotFitError(
            f"a column has {count_of(most - first + 1, 'line')}{from_there}, so {plan.id} cannot take {plan.lines}"
        )
    if plan.width is not None:
        whole = plan.across == "all" and not spaces_of.is_initial(plan.kind)
        room = state.layout.written_width if whole else state.layout.measure
        if not 0 < plan.width <= room + 0.005:
            across, wide = (show_length(length, state.book.unit) for length in (room, plan.width))
            raise DoesNotFitError(f"there are {across} across, so {plan.id} cannot be {wide} wide")


def check_free(state: BookState, plan: SpacePlan) -> None:
    """See that the page a space is to come to is unruled, and its lines there not kept for another space.

    Raises:
        CopydeskError: where it is ruled, or they are kept.
    """
    page = state.page_of_anchor(plan)
    word = state.word_of(plan)
    there = page if word is None else page_of_word(state, word)
    if there is None or not spaces_of.takes_lines(plan.kind):
        return
    if state.record(state.skin_at(there.index)).placements is not None:
        raise NotAllowedError(
            f"{state.book.named(there)} is ruled, so no room can be made on it for {plan.id}; "
            "choose a place not yet ruled"
        )
    check_lines_free(state, plan)


def check_lines_free(state: BookState, plan: SpacePlan) -> None:
    """See that the lines of a page to which a space is tied are kept for no other one.

    Raises:
        DoesNotFitError: where they are.
    """
    page = state.page_of_anchor(plan)
    if page is None or not spaces_of.takes_lines(plan.kind):
        return
    frame = state.frames.get(page.index, state.frame)
    wanted = set(frame.lines_of(spaces_of.placed_on_page(plan, state.shape(plan))))
    for other in frame.fixed:
        if other.id != plan.id and other.lines and not wanted.isdisjoint(frame.lines_of(other)):
            last = other.from_line + other.lines - 1
            raise DoesNotFitError(
                f"lines {other.from_line} to {last} of {state.book.named(page)} are kept for space {other.id}; "
                "choose other lines"
            )


def on_this_skin(state: BookState, account: SpaceAccount) -> str:
    """The surface of skin a space is fixed on; nothing while the text can still move it."""
    if account.page is None:
        return ""
    index, name = account.page.index, account.plan.id
    fixed = any(placement.id == name for placement in state.frames.get(index, state.frame).fixed)
    skin = state.skin_at(index)
    written = name in state.loose_spaces and bool(state.record(skin).stints)
    return str(skin) if fixed or written else ""
