"""What is asked of a space that is added, moved or given another size, and the answers as facts. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import read_hours, read_length, read_whole
from copydesk.book.common.units import show_length
from copydesk.book.layout.space_stages import NEEDS
from copydesk.book.layout.spaces import is_initial, size_mm, stages_of, takes_lines
from copydesk.book.plan import Anchor, SpacePlan
from copydesk.book.text.anchors import show_anchor
from copydesk.desk.dialogs.form import Field

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.plan import SpaceKind
    from copydesk.book.structure.foliation import Numbering
    from copydesk.tracking.decoration.space_report import SpaceReport
    from copydesk.tracking.state.book_state import BookState


_AT = "division 3 paragraph 2, word 812, exemplar 12r 14, page 12r column 2 line 5, or words of the text"


def added_fields(state: BookState, at: str) -> list[Field]:
    """The lines of the form for a new space; in grey stands what is typed makes of the others."""
    workshop, layout = state.book.workshop, state.layout

    def stages(given: Mapping[str, str]) -> str:
        return ", ".join(stages_of(_as_typed(given), colour_first=workshop.colour_first))

    def lines(given: Mapping[str, str]) -> str:
        return "" if takes_lines(given["kind"]) else "0"

    def width(given: Mapping[str, str]) -> str:
        plan = _as_typed(given)
        known = is_initial(plan.kind) and plan.lines
        return show_length(size_mm(plan, plan.lines, layout)[0], state.book.unit) if known else ""

    return [
        Field("space", "A name for it, one word, as in owl"),
        Field("kind", f"Kind: {', '.join(NEEDS)}", "miniature"),
        Field("at", f"Where, as {_AT}", at),
        Field("lines", "Lines it takes; none for a border", whole=True, follows=lines),
        Field("across", "One column, or all", "column"),
        Field("width", "An initial's width in mm or with its unit", follows=width),
        Field("subject", "What it shows"),
        Field("instruction", "What the artist should know"),
        Field("guide_letter", "Guide letter"),
        Field("materials", "Gold and colours, with commas between"),
        Field("stages", "Stages, with commas between", follows=stages),
        Field("artist", "Who makes it", hint=workshop.artist),
        Field("hours", "Time it takes, in hours"),
    ]


def _as_typed(given: Mapping[str, str]) -> SpacePlan:
    """The space as far as what was typed tells of its kind, its lines and its materials."""
    typed, materials = given["lines"], _parts(given["materials"])
    return SpacePlan(
        "", cast("SpaceKind", given["kind"]), Anchor(), int(typed) if typed.isdecimal() else 0, materials=materials
    )


def _parts(typed: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in typed.split(",") if part.strip())


def resized_fields(report: SpaceReport) -> list[Field]:
    """The lines of the form for another size."""
    return [Field("lines", "Lines it is to take", str(report.account.plan.lines), whole=True), Field("note", "Note")]


def moved_fields(report: SpaceReport, numbering: Numbering) -> list[Field]:
    """The lines of the form for another place, its page called as the book counts."""
    tied = report.account.plan.at
    value = "" if tied.page is not None and ":" in tied.page else show_anchor(tied, numbering)
    return [Field("at", f"Where it is to stand, as {_AT}", value), Field("note", "Note")]


def facts_from(given: Mapping[str, str]) -> dict[str, object]:
    """The facts of an act on a space, from what was typed.

    Raises:
        InvalidValueError: where something typed is not what it should be.
    """
    facts: dict[str, object] = {name: text for name, text in given.items() if text and name != "space"}
    if "lines" in facts:
        facts["lines"] = read_whole(given["lines"], "the number of lines")
    if "width" in facts:
        facts["width"] = read_length(given["width"], "the width")
    for name in ("materials", "stages"):
        if name in facts:
            facts[name] = list(_parts(given[name]))
    if "hours" in facts:
        facts["hours"] = read_hours(given["hours"], "the number of hours")
    if given.get("across", "column") not in ("column", "all"):
        raise InvalidValueError(f"{given['across']!r} is neither: write column, or all for all columns")
    return facts
