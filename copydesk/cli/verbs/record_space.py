"""What ``copydesk record`` takes of reserved spaces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.typed_values import read_hours, read_whole
from copydesk.book.layout.space_stages import STAGES
from copydesk.book.text.anchors import HOW
from copydesk.cli.open_book import add_typed, add_words
from copydesk.tracking.commands.space_commands import space_act

if TYPE_CHECKING:
    from argparse import Namespace, _ArgumentGroup

    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.state.book_state import BookState


_TEXTS = {
    "subject": "what an added space is to show",
    "instruction": "what the artist should know of it",
    "guide_letter": "the small letter written for the artist",
    "artist": "who is to make it",
}


def add_space_facts(parser: _ArgumentGroup) -> None:
    """The facts of spaces that are added, moved or given another size."""
    add_words(parser, "--at", metavar="PLACE", help=f"what a space is tied to: {HOW}".replace('"', "'"))
    add_typed(parser, "--lines", read_whole, metavar="N", help="lines a space is to take")
    parser.add_argument("--across", choices=["column", "all"], help="whether an added space takes one column or all")
    parser.add_argument("--materials", metavar="LIST", help="gold and colours of an added space, with commas between")
    add_typed(parser, "--hours", read_hours, help="hours an added space is thought to take")
    parser.add_argument("--stages", metavar="LIST", help=f"its stages, if not those of its kind: {', '.join(STAGES)}")
    for name, said in _TEXTS.items():
        parser.add_argument(f"--{name.replace('_', '-')}", metavar="TEXT", help=said)


def space_act_given(state: BookState, name: str, given: Namespace) -> Act:
    """The act on the space called ``name``.

    Raises:
        CopydeskError: where it cannot be recorded.
    """
    if given.what == "resized":
        return space_act(state, name, "resized", lines=given.lines, note=given.note)
    if given.what == "moved":
        return space_act(state, name, "moved", at=given.at, note=given.note)
    if given.what == "added":
        return space_act(state, name, "added", note=given.note, **_added(given))
    return space_act(state, name, given.what, note=given.note)


def _added(given: Namespace) -> dict[str, object]:
    facts: dict[str, object] = {key: getattr(given, key) for key in ("kind", "at", "lines", "across", "hours", *_TEXTS)}
    facts |= {key: _listed(getattr(given, key)) for key in ("materials", "stages")}
    facts["width"] = given.width
    return facts


def _listed(text: str | None) -> list[str]:
    return [part.strip() for part in (text or "").split(",") if part.strip()]
