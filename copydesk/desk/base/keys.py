"""Every key of the desk: its id, the key, what it does, and a longer word on it.

Screens take their bindings from here, the help lists them from here, and a person's own keys name these ids.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from textual.binding import Binding


class KeyBinding(NamedTuple):
    """One key: ``id`` is ``screen.act``; ``action`` the method called; ``says`` the label; ``more`` the tooltip."""

    id: str
    key: str
    action: str
    says: str
    more: str


_Row = tuple[str, str, str, str, str]
"""A key of one screen: its name there, the key, the action, the label, the tooltip."""


_ON_A_PAGE: tuple[_Row, ...] = (
    ("rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    ("begin", "b", "begin", "begin", "Record that the page is begun, at the planned word"),
    ("write", "w", "write", "written", "Record the whole page as written, ending where planned"),
    ("write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its real last words"),
    ("check", "c", "check", "checked", "Record the page as checked; with lines unread it is kept as ticked, not read"),
    ("check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"),
    ("fault", "f", "fault", "fault", "Note a fault found on the page"),
    ("settle", "s", "settle", "settle", "Settle a fault: scraped, expunged, interlined ..."),
    ("hold", "t", "hold", "begins with", "Settle the words this page must begin with"),
    ("hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    ("leaf", "L", "leaf", "leaf ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
)
"""The acts on the page under the cursor, the same wherever a page has one."""

_ROWS: dict[str, tuple[_Row, ...]] = {
    # everywhere
    "all": (
        ("help", "f1,question_mark", "app.help", "help", "What this screen is for, and its keys"),
        ("words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
        ("palette", "colon,f4", "app.command_palette", "find", "Find any act by its name"),
        ("undo", "u", "undo", "undo", "Take back what was recorded last at this desk"),
        ("redo", "y", "redo", "redo", "Let what was taken back stand again"),
        ("back", "escape", "back", "back", "Go back to where you were"),
        ("quit", "q", "app.quit", "quit", "Quit the desk; everything is on disk already"),
        ("look", "f2", "look", "look", "Dark, light, high contrast, or the terminal's own colours"),
        ("copy", "Y", "copy", "copy", "Copy what the screen tells, a page with its text, to the clipboard"),
    ),
    # the gatherings
    "grid": (
        (
            "next",
            "enter,space",
            "do_next",
            "next act",
            "Do what the word on the page says; a written page is read first",
        ),
        *_ON_A_PAGE,
        ("next_write", "n", "next_to_write", "next page", "Go to the next page to write"),
        ("next_space", "p", "next_space", "next space", "Go to the next page whose space waits for the artist"),
        ("go", "g", "go", "go to", "Go to a page by its number, as 12r"),
        ("faults", "F", "open('faults')", "faults", "Every fault of the book, and what they tell"),
        ("changes", "C", "open('changes')", "changes", "Where the text departs from the exemplar on purpose"),
        ("closed", "o", "closed", "all", "A line for every gathering; again, to open those round the cursor"),
        ("overview", "O", "open('overview')", "overview", "How far each gathering has come, with its hands"),
        ("log", "l", "open('log')", "log", "Everything that was recorded"),
        ("sheet", "v", "open('sheet')", "sheet", "The loose sheet this page stands on, as it lies before you"),
        ("plan", "m", "open('plan')", "plan", "Turn a figure of the plan and see the rest move; nothing is written"),
        ("skins", "K", "open('skins')", "skins", "The skins in the making, and which sheet was cut from which"),
        ("spaces", "i", "open('spaces')", "spaces", "Every space to fill: by sheet, by stage, by material"),
        ("pile", "P", "open('pile')", "pile", "Where each sheet is, who has it, and what it waits for"),
        ("handover", "d", "open('handover')", "hand over", "Where the pen stopped, and all the next hand needs"),
        (
            "stints",
            "H",
            "open('stints')",
            "who wrote",
            "Who wrote what, and how close, fast and surely each hand writes",
        ),
        ("assembly", "A", "open('assembly')", "to sew", "The binder's walk, and what keeps the book from being sewn"),
        ("remedies", "R", "remedies", "make it fit", "What would make the text around this page fit its room"),
        ("pace", "z", "open('pace')", "pace", "When it will be done; pages, pace and drift plotted"),
        ("clock", "S", "clock", "clock", "The stint clock: begin, rest, go on, end"),
        ("tour", "f6", "tour", "tour", "A short walk round the desk, to be left at any time"),
        ("left", "left,h", "move('left')", "left", "The leaf to the left"),
        ("right", "right,k", "move('right')", "right", "The leaf to the right"),
        ("up", "up", "move('up')", "up", "The other side of the leaf, or the gathering above"),
        ("down", "down,j", "move('down')", "down", "The other side of the leaf, or the gathering below"),
        ("page_up", "pageup", "move('gathering_up')", "gathering up", "The gathering before"),
        ("page_down", "pagedown", "move('gathering_down')", "gathering down", "The gathering after"),
        ("first", "home", "move('first')", "first", "The first page"),
        ("last", "end", "move('last')", "last", "The last page"),
    ),
    # all gatherings
    "overview": (("go", "enter", "go", "go there", "Go to the first page of the gathering that is not done"),),
    # everything recorded
    "log": (("take_back", "enter", "take_back", "take back", "Take the entry in hand back"),),
    # the handover
    "handover": (
        ("take", "enter", "take", "take the desk", "The hand named in the title takes the desk over here"),
        ("other", "a", "other", "other hand", "Name another hand to take the desk"),
        ("note", "n", "note", "note", "Leave a note for the next hand"),
        ("write_to", "e", "write_to", "written to ...", "Record how far the page is written, to the word"),
        ("go", "g", "go", "go there", "Go to the page in the gatherings"),
    ),
    # how the work goes on
    "pace": (
        ("next", "right,n,space", "plot(1)", "next plot", "The next plot"),
        ("before", "left,p", "plot(-1)", "plot before", "The plot before"),
    ),
    # what would make a stretch fit
    "remedies": (("choose", "enter", "choose", "choose", "Do the remedy in hand; it can be taken back"),),
    # who wrote what
    "stints": (("go", "enter", "go", "go there", "Go to the page where the share begins"),),
    # before sewing
    "assembly": (
        (
            "tick",
            "enter,space",
            "tick",
            "tick",
            "Tick the sheet or flyleaf as found in its place, or take its tick away",
        ),
        ("go", "g", "go", "go there", "Go to the first page of the sheet that is not ready"),
        ("next", "n", "next", "next obstacle", "The next sheet that is not ready"),
        ("bound", "b", "bound", "bound ...", "Record the book as sewn and bound, by whom"),
        ("colophon", "c", "open('colophon')", "colophon", "A draft of who wrote, checked and decorated the book"),
    ),
    # the colophon
    "colophon": (
        ("keep", "k", "keep", "keep", "Keep the draft in the ledger"),
        ("words", "e", "words", "own words ...", "Keep it in words of your own"),
    ),
    # a page checked by reading
    "check": (
        ("tick", "space,enter", "tick", "tick", "Tick the line as read, or take its tick away"),
        ("tick_to", "t", "tick_to", "tick to here", "Tick every line down to this one"),
        ("fault", "f", "fault", "fault", "Note a fault at the word marked"),
        ("settle", "s", "settle", "settle", "Settle a fault of this page"),
        ("finish", "c", "check", "checked", "Record the page as checked, once every line is read"),
        ("typed", "x", "check_lines", "type it", "Check by a transcription instead"),
        ("hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
        ("word_right", "right,k", "word(1)", "word", "Mark the next word of the line"),
        ("word_left", "left,h", "word(-1)", "word back", "Mark the word before"),
        ("down", "down,j", "line('cursor_down')", "down", "The next line"),
        ("up", "up", "line('cursor_up')", "up", "The line before"),
        ("page_down", "pagedown", "line('page_down')", "further down", "Lines further down"),
        ("page_up", "pageup", "line('page_up')", "further up", "Lines further up"),
        ("first", "home", "line('first')", "first", "The first line"),
        ("last", "end", "line('last')", "last", "The last line"),
    ),
    # a page checked by its transcription
    "typed": (
        ("compare", "f5", "compare", "compare", "Compare what is typed so far"),
        ("note", "f8", "note", "note them", "Note the faults marked, and keep the transcription"),
        ("finish", "f9", "finish", "checked", "Note them and record the page as checked, typed to its end"),
    ),
    # the faults of the book
    "faults": (
        ("go", "enter", "go", "go there", "Go to the fault's page"),
        ("settle", "s", "settle", "settle", "Settle the fault: scraped, expunged, interlined ..."),
        ("state", "o", "turn('state')", "open/all", "Only those open, settled, or all"),
        ("page", "p", "turn('page')", "page", "Only those of one page, then of the next"),
        ("hand", "h", "turn('hand')", "hand", "Only those in one hand's writing, then in the next"),
        ("kind", "k", "turn('kind')", "kind", "Only those of one kind, then of the next"),
        (
            "tell",
            "t",
            "open('fault-rates')",
            "what they tell",
            "Faults in a hundred lines, by hand, kind, hour and sitting",
        ),
    ),
    # what faults tell
    "slips": (("plot", "right,left,tab", "plot", "other plot", "By hand, by kind, over the day, over a sitting"),),
    # changes made on purpose
    "changes": (
        ("go", "enter", "go", "go there", "Go to the page the passage falls on"),
        ("leave_out", "d", "change('left out')", "leave out", "Leave a passage of the exemplar out"),
        ("differ", "w", "change('put differently')", "put differently", "Write a passage in other words"),
        ("add", "i", "change('added')", "add words", "Add words the exemplar does not have"),
        ("take_back", "delete,backspace", "take_back", "take back", "Take back the change in hand"),
    ),
    # the planner
    "planner": (
        ("more", "right,plus,k", "turn(1)", "more", "Turn the figure up by a step"),
        ("less", "left,minus,h", "turn(-1)", "less", "Turn the figure down by a step"),
        ("much_more", "shift+right,greater_than_sign", "turn(10)", "ten more", "Turn it up by ten steps"),
        ("much_less", "shift+left,less_than_sign", "turn(-10)", "ten less", "Turn it down by ten steps"),
        ("type", "enter", "type", "type it", "Type the figure; a length may say its unit"),
        ("as_planned", "backspace,delete", "as_planned", "as planned", "Turn this figure back"),
        ("all_as_planned", "0", "all_as_planned", "all as planned", "Turn every figure back"),
        ("ways", "w", "ways", "ways", "Ways to gather the leaves, to choose one"),
        ("copy", "c", "copy", "copy", "Copy the changed lines of book.yaml, and show them"),
        ("further", "space", "further", "further", "What follows, further down; then the beginning again"),
    ),
    # the skins
    "skins": (
        ("next", "enter,space", "move_on", "move on", "Put the batch into the step that follows"),
        ("step", "e", "step", "step ...", "Put the batch into another step, or change how many skins it has"),
        ("new", "n", "new", "new batch", "Begin a batch of skins"),
        ("cut", "c", "cut", "cut ...", "Note that a sheet was cut from a skin of this batch"),
    ),
    # the artist's spaces
    "spaces": (
        ("stage", "enter,space", "stage", "stage done", "Record the stage that comes next in the space as done"),
        ("done", "d", "fill('done')", "all done", "Record the whole space as done"),
        ("leave", "e", "fill('left-empty')", "leave empty", "Record the space as left empty on purpose"),
        ("take", "t", "sheet('artist')", "take sheet", "Take the space's sheet to the artist"),
        ("give", "b", "sheet('desk')", "give back", "Give the space's sheet back to the desk"),
        ("turn", "o", "turn", "sheet/stage/material", "Put the list together by sheet, by stage or by material"),
        ("panel", "c", "panel", "cautions, tally", "The space, the cautions for all listed, the tally of small work"),
        ("all", "w", "all", "filled too", "Show filled spaces too, or only those to fill"),
        ("go", "g", "go", "go there", "Go to the page of the space"),
        ("size", "r", "size", "lines ...", "Give the space another number of lines, while its page is unruled"),
        ("move", "m", "move", "move ...", "Tie the space to another place, while its page is unruled"),
        ("add", "n", "add", "new ...", "Add a space where its page is unruled"),
        ("drop", "x", "drop", "give up", "Give the space up to the text, while its page is unruled"),
    ),
    # the pile
    "pile": (
        ("desk", "d", "place('desk')", "to desk", "Record the sheet as back at the desk"),
        ("drying", "r", "place('drying')", "to dry", "Record the sheet as laid to dry"),
        ("checker", "c", "place('checker')", "to checker", "Record the sheet as with the checker"),
        ("artist", "a", "place('artist')", "to artist", "Record the sheet as with the artist"),
        ("press", "p", "place('press')", "to press", "Record the sheet as in the press"),
        ("someone", "w", "someone", "to someone ...", "Record who has the sheet, and where, with a note"),
        ("go", "enter,g", "go", "go there", "Go to the sheet's first page that waits for anything"),
    ),
    # the loose sheet
    "sheet": (
        (
            "next",
            "enter",
            "do_next",
            "next act",
            "Do what the word on the page says; a written page is read first",
        ),
        *_ON_A_PAGE,
        ("turn", "space,v", "turn", "turn over", "Turn the sheet over"),
        ("left", "left,h", "half('left')", "left", "The page on the left"),
        ("right", "right,k", "half('right')", "right", "The page on the right"),
        ("below", "down,j", "pile(1)", "below", "The next sheet down the pile; past the outermost, the next gathering"),
        ("above", "up", "pile(-1)", "above", "The next sheet up the pile; past the innermost, the last gathering"),
        ("page_down", "pagedown", "gathering(1)", "gathering down", "The top of the next gathering's pile"),
        ("page_up", "pageup", "gathering(-1)", "gathering up", "The top of the pile of the gathering before"),
    ),
}

KEYS: tuple[KeyBinding, ...] = tuple(
    KeyBinding(f"{screen}.{name}", *rest) for screen, rows in _ROWS.items() for name, *rest in rows
)

LEAF_ACTS: tuple[KeyBinding, ...] = (
    KeyBinding("leaf.cancel", "", "leaf('cancelled')", "leaf: cancel", "Cut the leaf away; its stub stays"),
    KeyBinding("leaf.replace", "", "leaf('replaced')", "leaf: replace", "Cut the leaf away and tip a blank one in"),
    KeyBinding(
        "leaf.add", "", "leaf('added-after')", "leaf: add after", "Add a leaf after this one, hooked or tipped in"
    ),
    KeyBinding(
        "leaf.flaw", "", "leaf('flaw')", "leaf: flaw", "Note a hole, a scar, a short edge, with its place and size"
    ),
    KeyBinding("leaf.wanting", "", "leaf('wanting')", "leaf: wanting", "The leaf is lost"),
    KeyBinding("leaf.sheet", "", "leaf('sheet')", "sheet: replace", "Change the whole sheet for a blank one"),
    KeyBinding("leaf.inside", "", "leaf('inside')", "sheet: lay one inside", "Lay a sheet just inside this one"),
    KeyBinding("leaf.round", "", "leaf('round')", "sheet: lay one round", "Lay a sheet round the whole gathering"),
    KeyBinding("leaf.gathering", "", "leaf('gathering')", "gathering: add", "Add a gathering at the end of the book"),
)
"""Commands found by name alone on screens with a page under their cursor; the key for ``leaf ...`` offers the same."""


def bindings(*scopes: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of these scopes (the part of the id before the dot), in order."""
    return [key_binding(key.id) for key in KEYS if key.id.split(".")[0] in scopes]


def key_binding(name: str) -> Binding:
    """The binding of the key whose id is ``name``."""
    from textual.binding import Binding

    key = key_named(name)
    return Binding(key.key, key.action, key.says, id=key.id, tooltip=key.more, show=True)


def key_named(name: str) -> KeyBinding:
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
    "f3": "F3",
    "f6": "F6",
    "f4": "F4",
}
