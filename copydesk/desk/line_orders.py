"""What can be asked of the desk a line at a time: by the key it has on the screen, or by its name. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.desk.base.keymap import shown
from copydesk.desk.base.keys import KEYS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.desk.base.keymap import Keymap
    from copydesk.desk.base.keys import KeyBinding


class LineCommand(NamedTuple):
    """One order: the id of its key, the method that does it (or the verb of the command line), its names.

    ``says`` is what it does, where that is not what the key does on the screen.
    """

    id: str
    does: str
    names: tuple[str, ...]
    verb: str = ""
    says: str = ""


ORDERS: tuple[LineCommand, ...] = (
    LineCommand("grid.next", "next_act", ("next",)),
    LineCommand("grid.rule", "rule", ("rule",)),
    LineCommand("grid.rule_sheet", "rule_sheet", ("rule sheet",)),
    LineCommand("grid.rule_gathering", "rule_gathering", ("rule gathering",)),
    LineCommand("grid.begin", "begin", ("begin",)),
    LineCommand("grid.write", "write", ("write",)),
    LineCommand("grid.write_to", "write_to", ("write to",)),
    LineCommand("grid.check", "check", ("check",)),
    LineCommand("grid.check_lines", "read", ("read",), says="The page line by line; then how far it was read"),
    LineCommand("grid.fault", "fault", ("fault",)),
    LineCommand("grid.settle", "mend", ("mend", "settle")),
    LineCommand("grid.hold", "hold", ("hold",)),
    LineCommand("grid.hand", "change_hand", ("hand",)),
    LineCommand("grid.go", "go", ("go",)),
    LineCommand("grid.next_write", "next_to_write", ("next page",)),
    LineCommand("grid.next_space", "next_space", ("next space",)),
    LineCommand("grid.right", "forward", ("forward",), says="The page after"),
    LineCommand("grid.left", "back", ("back",), says="The page before"),
    LineCommand("grid.page_down", "gathering_down", ("gathering down",)),
    LineCommand("grid.page_up", "gathering_up", ("gathering up",)),
    LineCommand("grid.first", "first", ("first",)),
    LineCommand("grid.last", "last", ("last",)),
    LineCommand("grid.sheet", "sheet", ("sheet",)),
    LineCommand("grid.overview", "overview", ("overview",)),
    LineCommand("grid.log", "log", ("log",)),
    LineCommand("all.undo", "undo", ("undo",)),
    LineCommand("all.redo", "redo", ("redo",)),
    LineCommand("grid.leaf", "leaf", ("leaf",)),
    LineCommand("grid.spaces", "", ("spaces",), "spaces"),
    LineCommand("grid.handover", "", ("handover",), "handover"),
    LineCommand("grid.pile", "", ("pile",), "sheets --where"),
    LineCommand("grid.faults", "", ("faults",), "faults"),
    LineCommand("grid.changes", "", ("changes",), "changes"),
    LineCommand(
        "grid.plan", "", ("plan",), "plan", says="Lines, pages, gatherings, sheets and skins; what does not fit"
    ),
    LineCommand("grid.skins", "", ("skins",), "skins"),
    LineCommand("grid.stints", "", ("stints",), "stints"),
    LineCommand("grid.assembly", "", ("assembly",), "assemble"),
    LineCommand("grid.remedies", "remedies", ("remedies",)),
    LineCommand("grid.pace", "", ("pace",), "forecast", "When it will be done, against the day the exemplar goes back"),
    LineCommand("all.print", "", ("print",), "print"),
    LineCommand("grid.clock", "clock", ("clock",)),
    LineCommand("all.words", "words", ("words",)),
    LineCommand("grid.tour", "", ("tour",), "help tour"),
    LineCommand("all.help", "help", ("help",), says="These orders"),
    LineCommand("all.quit", "quit", ("quit",)),
)
"""Every act of the gatherings' screen, in the order in which help tells them."""


def find_order(said: str, keys: Keymap) -> LineCommand | None:
    """The order meant by a key (capitals count) or by a name (capitals do not); None where there is none."""
    named = said.casefold()
    by_key = (order for order in ORDERS if said in _keys(order, keys))
    by_name = (order for order in ORDERS if named in order.names or named == label(key_of(order)))
    return next(by_key, None) or next(by_name, None)


def key_of(order: LineCommand) -> KeyBinding:
    """The key of the screen that does the same."""
    return next(key for key in KEYS if key.id == order.id)


def label(key: KeyBinding) -> str:
    """What the foot of the screen calls an act."""
    return key.says.removesuffix(" ...").casefold()


def _keys(order: LineCommand, keys: Keymap) -> list[str]:
    """The keys of an order that can be typed on a line."""
    key = key_of(order)
    if not keys.key_of(key):
        return list(filter(None, [keys.way_to(key)]))
    return [each for each in map(shown, keys.key_of(key).split(",")) if len(each) == 1 and each.isascii()]


def order_lines(keys: Keymap) -> Iterator[str]:
    """Every order with its key and what it does."""
    for order in ORDERS:
        key = ", ".join(_keys(order, keys))
        yield f"{order.names[0]}{f' ({key})' if key else ''}: {order.says or key_of(order).more}"
