"""Every key of the desk: its id, the key, what it does, and a longer word on it.

Screens take their bindings from here, the help lists them from here, and a person's own keys name these ids.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from textual.binding import Binding


class Key(NamedTuple):
    """One key: ``id`` is ``screen.act``; ``action`` the method called; ``says`` the label; ``more`` the tooltip."""

    id: str
    key: str
    action: str
    says: str
    more: str


KEYS: tuple[Key, ...] = (
    # everywhere
    Key("all.help", "f1,question_mark", "help", "help", "What this screen is for, and its keys"),
    Key("all.palette", "colon,f4", "app.command_palette", "find", "Find any act by its name"),
    Key("all.undo", "u", "undo", "undo", "Take back what was recorded last at this desk"),
    Key("all.redo", "y", "redo", "redo", "Let what was taken back stand again"),
    Key("all.back", "escape", "back", "back", "Go back to where you were"),
    Key("all.quit", "q", "app.quit", "leave", "Leave the desk; everything is on disk already"),
    Key("all.light", "f2", "light", "light/dark", "Change between dark and light"),
    # the gatherings
    Key("grid.next", "enter,space", "do_next", "do it", "Record what the word on the page says comes next"),
    Key("grid.rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    Key("grid.begin", "b", "begin", "begin", "Record that the page is begun, at the planned word"),
    Key("grid.write", "w", "write", "written", "Record the whole page as written, ending where planned"),
    Key("grid.write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its real last words"),
    Key("grid.check", "c", "check", "checked", "Record the page as checked against the exemplar"),
    Key("grid.fault", "f", "fault", "fault", "Note a fault found on the page"),
    Key("grid.settle", "s", "settle", "settle", "Settle a fault: scraped, expunged, interlined ..."),
    Key("grid.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    Key("grid.hold", "t", "hold", "begins with", "Settle the words this page must begin with"),
    Key("grid.next_write", "n", "next_to_write", "next page", "Go to the next page to write"),
    Key("grid.next_space", "p", "next_space", "next space", "Go to the next page whose space waits for the artist"),
    Key("grid.go", "g", "go", "go to", "Go to a page by its number, as 12r"),
    Key("grid.overview", "o", "overview", "all", "All gatherings, a line each"),
    Key("grid.log", "l", "log", "log", "Everything that was recorded"),
    Key("grid.left", "left,h", "move('left')", "left", "The leaf to the left"),
    Key("grid.right", "right,k", "move('right')", "right", "The leaf to the right"),
    Key("grid.up", "up", "move('up')", "up", "The other side of the leaf, or the gathering above"),
    Key("grid.down", "down,j", "move('down')", "down", "The other side of the leaf, or the gathering below"),
    Key("grid.page_up", "pageup", "move('gathering_up')", "gathering up", "The gathering before"),
    Key("grid.page_down", "pagedown", "move('gathering_down')", "gathering down", "The gathering after"),
    Key("grid.first", "home", "move('first')", "first", "The first page"),
    Key("grid.last", "end", "move('last')", "last", "The last page"),
)


def bindings(*scopes: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of these scopes (the part of the id before the dot), in order."""
    from textual.binding import Binding

    return [
        Binding(key.key, key.action, key.says, id=key.id, tooltip=key.more, show=True)
        for key in KEYS
        if key.id.split(".")[0] in scopes
    ]


def key_named(name: str) -> Key:
    """The key whose id is ``name``."""
    return next(key for key in KEYS if key.id == name)


def shown(key: str) -> str:
    """A key as people read it: the first of several, arrows as arrows."""
    first = key.split(",", maxsplit=1)[0]
    return _SHOWN.get(first, first)


_SHOWN = {
    "left": "←",
    "right": "→",
    "up": "↑",
    "down": "↓",
    "question_mark": "?",
    "colon": ":",
    "escape": "esc",
    "pageup": "pgup",
    "pagedown": "pgdn",
    "f1": "F1",
    "f2": "F2",
    "f4": "F4",
}
