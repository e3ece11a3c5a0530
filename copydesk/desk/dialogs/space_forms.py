"""What is asked of a space that is added, moved or given another size, and the answers as facts. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import read_hours, read_length, read_whole
from copydesk.book.layout.space_stages import NEEDS
from copydesk.book.text.anchors import show_anchor
from copydesk.desk.dialogs.form import Field

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.structure.foliation import Numbering
    from copydesk.tracking.decoration.space_report import SpaceReport


_AT = "division 3 paragraph 2, word 812, exemplar 12r 14, page 12r column 2 line 5, or words of the text"


def added_fields(at: str) -> list[Field]:
    """The lines of the form for a new space, ``at`` a page where that is likely."""
    return [
        Field("space", "A name for it, one word, as in owl"),
        Field("kind", f"Kind: {', '.join(NEEDS)}", "miniature"),
        Field("at", f"Where, as {_AT}", at),
        Field("lines", "Lines it takes; none for a border", hint="0", whole=True),
        Field("across", "One column, or all", "column"),
        Field("width", "An initial's width in mm or with its unit, if it is no square"),
        Field("subject", "What it shows"),
        Field("instruction", "What the artist should know"),
        Field("guide_letter", "Guide letter"),
        Field("materials", "Gold and colours, with commas between"),
        Field("stages", "Stages, with commas between; left empty, those of its kind"),
        Field("artist", "Who makes it; left empty, the book's artist"),
        Field("hours", "Time it takes, in hours"),
    ]


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
            facts[name] = [part.strip() for part in given[name].split(",") if part.strip()]
    if "hours" in facts:
        facts["hours"] = read_hours(given["hours"], "the number of hours")
    if given.get("across", "column") not in ("column", "all"):
        raise InvalidValueError(f"{given['across']!r} cannot be; write column or all")
    return facts
