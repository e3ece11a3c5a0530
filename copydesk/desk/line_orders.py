"""What can be asked of the desk a line at a time: by the key it has on the screen, or by its name. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.desk.base.keys import KEYS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.desk.base.keymap import Keymap
    from copydesk.desk.base.keys import Key


class Order(NamedTuple):
    """One order: the id of its key, the method that does it (or the verb of the command line), its names.

    ``says`` is what it does, where that is not what the key does on the screen.
    """

    id: str
    does: str
    names: tuple[str, ...]
    verb: str = ""
    says: str = ""


ORDERS: tuple[Order, ...] = (
    Order("grid.next", "next_act", ("next",)),
    Order("grid.rule", "rule", ("rule",)),
    Order("grid.begin", "begin", ("begin",)),
    Order("grid.write", "write", ("write",)),
    Order("grid.write_to", "write_to", ("write to",)),
    Order("grid.check", "check", ("check",)),
    Order("grid.check_lines", "read", ("read",), says="The page line by line; then how far it was read"),
    Order("grid.fault", "fault", ("fault",)),
    Order("grid.settle", "settle", ("settle",)),
    Order("grid.hold", "hold", ("hold",)),
    Order("grid.hand", "change_hand", ("hand",)),
    Order("grid.go", "go", ("go",)),
    Order("grid.next_write", "next_to_write", ("next page",)),
    Order("grid.next_space", "next_space", ("next space",)),
    Order("grid.right", "forward", ("forward",), says="The page after"),
    Order("grid.left", "back", ("back",), says="The page before"),
    Order("grid.page_down", "gathering_down", ("gathering down",)),
    Order("grid.page_up", "gathering_up", ("gathering up",)),
    Order("grid.first", "first", ("first",)),
    Order("grid.last", "last", ("last",)),
    Order("grid.sheet", "sheet", ("sheet",)),
    Order("grid.overview", "overview", ("overview",)),
    Order("grid.log", "log", ("log",)),
    Order("all.undo", "undo", ("undo",)),
    Order("all.redo", "redo", ("redo",)),
    Order("grid.leaf", "leaf", ("leaf",)),
    Order("grid.spaces", "", ("spaces",), "spaces"),
    Order("grid.handover", "", ("handover",), "handover"),
    Order("grid.pile", "", ("pile",), "sheets --where"),
    Order("grid.faults", "", ("faults",), "faults"),
    Order("grid.changes", "", ("changes",), "changes"),
    Order("grid.plan", "", ("plan",), "plan", says="Lines, pages, gatherings, sheets and skins; what does not fit"),
    Order("grid.skins", "", ("skins",), "skins"),
    Order("grid.stints", "", ("stints",), "stints"),
    Order("grid.assembly", "", ("assembly",), "assemble"),
    Order("grid.remedies", "remedies", ("remedies",)),
    Order("grid.pace", "", ("pace",), "forecast", "When it will be done, against the day the exemplar goes back"),
    Order("grid.clock", "clock", ("clock",)),
    Order("all.words", "words", ("words",)),
    Order("grid.tour", "", ("tour",), "help tour"),
    Order("all.help", "help", ("help",), says="These orders"),
    Order("all.quit", "quit", ("quit",)),
)
"""Every act of the gatherings' screen, in the order in which help tells them."""


def find_order(said: str, keys: Keymap) -> Order | None:
    """The order meant by a key (capitals count) or by a name (capitals do not); None where there is none."""
    named = said.casefold()
    by_key = (order for order in ORDERS if said in _keys(order, keys))
    by_name = (order for order in ORDERS if named in order.names or named == label(key_of(order)))
    return next(by_key, None) or next(by_name, None)


def key_of(order: Order) -> Key:
    """The key of the screen that does the same."""
    return next(key for key in KEYS if key.id == order.id)


def label(key: Key) -> str:
    """What the foot of the screen calls an act."""
    return key.says.removesuffix(" ...")


def _keys(order: Order, keys: Keymap) -> list[str]:
    """The keys of an order that can be typed on a line."""
    named = {"question_mark": "?", "colon": ":"}
    found = (named.get(each, each) for each in keys.key_of(key_of(order)).split(","))
    return [each for each in found if len(each) == 1]


def order_lines(keys: Keymap) -> Iterator[str]:
    """Every order with its key and what it does."""
    for order in ORDERS:
        key = ", ".join(_keys(order, keys))
        yield f"{order.names[0]}{f' ({key})' if key else ''}: {order.says or key_of(order).more}"
