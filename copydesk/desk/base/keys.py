"""Every key of the desk: its id, the key, what it does, and a longer word on it.

A letter means one thing on every screen: a hand, b sheet back, c check, d down to here, e written to, f fault, g go to
a page, h j k l move, i add, m more, n next, o show, p next space, q quit, r rule, s mend a fault, t sheet to the
artist, u undo, v other screens, w write, x read or type it, y redo. An act without a key stands in a list behind one,
or a person gives it a key.

Screens take their bindings from here, the help lists them from here, and a person's own keys name these ids.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from textual.binding import Binding


class KeyBinding(NamedTuple):
    """One key: ``id`` is ``screen.act``; ``action`` the method called; ``says`` the label; ``more`` the tooltip.

    ``key`` is empty for an act that stands in a list behind another key, or is found by its name.
    """

    id: str
    key: str
    action: str
    says: str
    more: str


_Row = tuple[str, str, str, str, str]
"""A key of one screen: its name there, the key, the action, the label, the tooltip."""

_ON_A_PAGE: tuple[_Row, ...] = (
    ("rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    ("write", "w", "write", "write", "Record the whole page as written, ending where planned"),
    ("write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its real last words"),
    ("check", "c", "check", "check", "Record the page as checked; with lines unread it is kept as ticked, not read"),
    ("check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"),
    ("fault", "f", "fault", "fault ...", "Note a fault found on the page"),
    ("settle", "s", "mend", "mend a fault ...", "Record how a fault was mended: scraped, expunged, interlined ..."),
    ("hand", "a", "hand", "hand ...", "Say whose hand is at this desk now"),
    ("more", "m", "offer('more')", "more ...", "Rarer acts on the page, its leaf and its sheet, each with its letter"),
    ("begin", "", "begin", "begin", "Record that the page is begun, at the planned word"),
    ("hold", "", "hold", "begins with ...", "Give the words this page must begin with"),
    ("leaf", "", "leaf", "leaf or sheet ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
    ("rule_sheet", "", "rule_sheet", "rule this sheet", "Record all its pages as ruled, or none"),
    ("rule_gathering", "", "rule_gathering", "rule this gathering", "Record all its pages as ruled, or none"),
)
"""The acts on the page under the cursor, the same wherever a page has one."""

_ROWS: dict[str, tuple[_Row, ...]] = {
    # everywhere
    "all": (
        ("help", "question_mark,f1", "app.help", "help", "What this screen is for, and its keys"),
        ("words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
        ("find", "slash", "find", "find ...", "Find a page, words of the text, a space, a person, a page of help"),
        ("palette", "colon,ctrl+p,f4", "palette", "any act", "Find any act or screen by its name"),
        ("others", "v", "others", "screens ...", "The other screens, each with its letter"),
        ("print", "f7", "print", "print ...", "Make a paper; the one that belongs to this screen is in hand already"),
        ("undo", "u", "undo", "undo", "Take back what was recorded last at this desk"),
        ("redo", "y", "redo", "redo", "Let what was taken back stand again"),
        ("back", "escape", "back", "back", "Go back to where you were"),
        ("quit", "q", "app.quit", "quit", "Quit the desk; everything is on disk already"),
        ("look", "f2", "look", "look", "The theme: dark, light, high contrast, or the terminal's own colours"),
        ("copy", "ctrl+c", "copy", "copy", "Copy what the screen tells, a page with its text, to the clipboard"),
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
        ("go", "g", "go", "go to ...", "Go to a page by its number, as 12r"),
        ("tour", "f6", "tour", "tour", "A short walk round the desk, to be left at any time"),
        ("faults", "", "open('faults')", "faults", "Every fault of the book, and what they tell"),
        ("changes", "", "open('changes')", "changes", "Where the text departs from the exemplar on purpose"),
        ("closed", "o", "closed", "show all", "A line for every gathering; again, to open those round the cursor"),
        ("overview", "", "open('overview')", "all gatherings", "How far each gathering has come, a line each"),
        ("log", "", "open('log')", "log", "Everything that was recorded"),
        ("sheet", "", "open('sheet')", "sheet", "The loose sheet this page stands on, as it lies before you"),
        ("plan", "", "open('plan')", "plan", "Turn a figure of the plan and see the rest move; keep it if you like"),
        ("plan_file", "", "open('plan-file')", "change the plan", "Every key of the plan, changed in a form"),
        ("skins", "", "open('skins')", "skins", "The skins in the making, and which sheet was cut from which"),
        ("spaces", "", "open('spaces')", "spaces", "Every space to fill: by sheet, by stage, by material"),
        ("passes", "", "open('passes')", "passes", "Rubrics, capitals, penwork: done, may begin, or waiting"),
        ("pile", "", "open('pile')", "pile", "Where each sheet is, who has it, and what it waits for"),
        ("handover", "", "open('handover')", "hand over", "Where the pen stopped, and all the next hand needs"),
        ("stints", "", "open('stints')", "who wrote", "Who wrote what, and how close, fast and surely each writes"),
        ("assembly", "", "open('assembly')", "to sew", "The binder's walk, and what keeps the book from being sewn"),
        ("remedies", "", "remedies", "make it fit", "What would make the text around this page fit its room"),
        ("pace", "", "open('pace')", "pace", "When it will be done; pages, pace and drift plotted"),
        ("clock", "", "clock", "stint clock ...", "The stint clock: begin, rest, go on, end"),
        ("left", "left,h", "move('left')", "left", "The leaf to the left"),
        ("right", "right,l", "move('right')", "right", "The leaf to the right"),
        ("up", "up,k", "move('up')", "up", "The other side of the leaf, or the gathering above"),
        ("down", "down,j", "move('down')", "down", "The other side of the leaf, or the gathering below"),
        ("page_up", "pageup", "move('gathering_up')", "gathering up", "The gathering before"),
        ("page_down", "pagedown", "move('gathering_down')", "gathering down", "The gathering after"),
        ("first", "home", "move('first')", "first", "The first page"),
        ("last", "end", "move('last')", "last", "The last page"),
    ),
    # all gatherings
    "overview": (("go", "enter,g", "go", "go there", "Go to the first page of the gathering that is not done"),),
    # everything recorded
    "log": (
        ("take_back", "u", "take_back", "take it back", "Take the entry in hand back"),
        ("show", "enter", "show", "show it", "Show all that the entry in hand tells"),
    ),
    # the handover
    "handover": (
        ("take", "enter", "take", "take the desk", "The hand named in the title takes the desk over here"),
        ("other", "a", "other", "other hand", "Name another hand to take the desk"),
        ("note", "i", "note", "add a note ...", "Leave a note for the next hand"),
        ("write_to", "e", "write_to", "written to ...", "Record how far the page is written, to the word"),
        ("go", "g", "go", "go there", "Go to the page in the gatherings"),
    ),
    # how the work goes on
    "pace": (
        ("next", "right,l,n,space", "plot(1)", "next plot", "The next plot"),
        ("before", "left,h", "plot(-1)", "plot before", "The plot before"),
    ),
    # what would make a stretch fit
    "remedies": (("choose", "enter", "choose", "do this remedy", "Do the remedy in hand; it can be taken back"),),
    # who wrote what
    "stints": (("go", "enter,g", "go", "go there", "Go to the page where the share begins"),),
    # before sewing
    "assembly": (
        ("tick", "enter,space", "tick", "tick", "Tick the sheet or flyleaf as found, or take its tick away"),
        ("go", "g", "go", "go there", "Go to the first page of the sheet that is not ready"),
        ("next", "n", "next", "next obstacle", "The next sheet that is not ready"),
        ("bound", "", "bound", "bound ...", "Record the book as sewn and bound, by whom"),
        ("colophon", "", "open('colophon')", "colophon", "A draft of who wrote, checked and decorated the book"),
        ("more", "m", "offer('more')", "more ...", "Rarer acts on the book, each with its letter"),
    ),
    # the colophon
    "colophon": (
        ("keep", "ctrl+s", "keep", "keep it", "Keep the draft in the ledger"),
        ("words", "i", "words", "own words ...", "Keep it in words of your own"),
    ),
    # a page checked by reading
    "check": (
        ("tick", "space,enter", "tick", "tick", "Tick the line as read, or take its tick away"),
        ("tick_to", "d", "tick_to", "tick down to here", "Tick every line down to this one"),
        ("fault", "f", "fault", "fault ...", "Note a fault at the word marked"),
        ("settle", "s", "mend", "mend a fault ...", "Record how a fault of this page was mended"),
        ("finish", "c", "check", "check", "Record the page as checked, once every line is read"),
        ("typed", "x", "check_lines", "type it", "Check by a transcription instead"),
        ("hand", "a", "hand", "hand ...", "Say whose hand is at this desk now"),
        ("word_right", "right,l", "word(1)", "next word", "Mark the next word of the line"),
        ("word_left", "left,h", "word(-1)", "word back", "Mark the word before"),
        ("down", "down,j", "line('cursor_down')", "down", "The next line"),
        ("up", "up,k", "line('cursor_up')", "up", "The line before"),
        ("page_down", "pagedown", "line('page_down')", "further down", "Lines further down"),
        ("page_up", "pageup", "line('page_up')", "further up", "Lines further up"),
        ("first", "home", "line('first')", "first", "The first line"),
        ("last", "end", "line('last')", "last", "The last line"),
    ),
    # a page checked by its transcription
    "typed": (
        ("compare", "f5", "compare", "compare", "Compare what is typed so far"),
        ("note", "f8", "note", "note the faults", "Note the faults marked, and keep the transcription"),
        ("finish", "f9", "finish", "check", "Note them and record the page as checked, typed to its end"),
    ),
    # the faults of the book
    "faults": (
        ("go", "enter,g", "go", "go there", "Go to the fault's page"),
        ("settle", "s", "mend", "mend a fault ...", "Record how it was mended: scraped, expunged, interlined ..."),
        ("shown", "o", "offer('shown')", "show ...", "Choose which are shown: open or all, of a page, a hand, a kind"),
        ("state", "", "turn('state')", "open/all", "Only those open, mended, or all"),
        ("page", "", "turn('page')", "page", "Only those of one page, then of the next"),
        ("hand", "", "turn('hand')", "hand", "Only those in one hand's writing, then in the next"),
        ("kind", "", "turn('kind')", "kind", "Only those of one kind, then of the next"),
        ("tell", "", "open('fault-rates')", "what faults tell", "Faults in a hundred lines, by hand, kind and hour"),
    ),
    # what faults tell
    "slips": (
        ("plot", "right,l,n,tab,left,h", "plot", "other plot", "By hand, by kind, over the day, over a sitting"),
    ),
    # changes made on purpose
    "changes": (
        ("go", "enter,g", "go", "go there", "Go to the page the passage falls on"),
        ("new", "i", "offer('new')", "add a change ...", "Leave a passage out, put it differently, or add words"),
        ("leave_out", "", "change('left out')", "leave out ...", "Leave a passage of the exemplar out"),
        ("differ", "", "change('put differently')", "put differently ...", "Write a passage in other words"),
        ("add", "", "change('added')", "add words ...", "Add words the exemplar does not have"),
        ("take_back", "delete,backspace", "take_back", "take it back", "Take back the change in hand"),
    ),
    "planner": (
        ("more", "right,plus,l", "turn(1)", "more", "Turn the figure up by a step"),
        ("less", "left,minus,h", "turn(-1)", "less", "Turn the figure down by a step"),
        ("much_more", "shift+right,greater_than_sign", "turn(10)", "ten more", "Turn it up by ten steps"),
        ("much_less", "shift+left,less_than_sign", "turn(-10)", "ten less", "Turn it down by ten steps"),
        ("type", "enter", "type", "type it ...", "Type the figure; a length may say its unit"),
        ("as_planned", "backspace,delete", "as_planned", "as planned", "Turn this figure back"),
        ("all_as_planned", "0", "all_as_planned", "all as planned", "Turn every figure back"),
        ("ways", "o", "ways", "ways ...", "Show the ways to gather the leaves, to choose one"),
        ("keep", "ctrl+s", "keep", "keep it ...", "Write what was changed into book.yaml; shown first, undone by u"),
        ("further", "space", "further", "further", "What follows, further down; then the beginning again"),
    ),
    # the plan itself
    "plan_file": (
        ("change", "enter", "change", "change it ...", "Change what the plan says of the part in hand"),
        ("add", "i", "add", "add ...", "Add a hand, a division, a space, a flaw or a leaf"),
        ("remove", "delete,backspace", "remove", "take it out ...", "Take the part in hand out of the plan"),
    ),
    "skins": (
        ("next", "enter,space", "move_on", "move on", "Put the batch into the step that follows"),
        ("new", "i", "new", "add a batch ...", "Begin a batch of skins"),
        ("more", "m", "offer('more')", "more ...", "Rarer acts on the batch, each with its letter"),
        ("step", "", "step", "step ...", "Put the batch into another step, or change how many skins it has"),
        ("cut", "", "cut", "cut a sheet ...", "Note that a sheet was cut from a skin of this batch"),
    ),
    # the artist's spaces
    "spaces": (
        ("stage", "enter,space", "stage", "stage done", "Record the stage that comes next in the space as done"),
        ("take", "t", "sheet('artist')", "sheet to artist", "Take the space's sheet to the artist"),
        ("give", "b", "sheet('desk')", "sheet back", "Give the space's sheet back to the desk"),
        ("shown", "o", "offer('shown')", "show ...", "The order of the list, filled spaces too, what the panel tells"),
        ("add", "i", "add", "add a space ...", "Add a space where its page is unruled"),
        ("go", "g", "go", "go there", "Go to the page of the space"),
        ("more", "m", "offer('more')", "more ...", "Rarer acts on the space, each with its letter"),
        ("done", "", "fill('done')", "all done", "Record the whole space as done"),
        ("leave", "", "fill('left-empty')", "leave empty", "Record the space as left empty on purpose"),
        ("turn", "", "turn", "sheet/stage/material", "Put the list together by sheet, by stage or by material"),
        ("panel", "", "panel", "cautions, tally", "The space, the cautions for all listed, the tally of small work"),
        ("all", "", "all", "filled too", "Show filled spaces too, or only those to fill"),
        ("size", "", "size", "lines ...", "Give the space another number of lines, while its page is unruled"),
        ("move", "", "move", "move it ...", "Tie the space to another place, while its page is unruled"),
        ("drop", "", "drop", "give up", "Give the space up to the text, while its page is unruled"),
    ),
    # pages in their passes
    "passes": (
        ("go_over", "enter,space", "go_over", "pass done", "Record the page as gone over in the pass in hand"),
        ("more", "m", "offer('more')", "more ...", "Rarer ways to record the pass, each with its letter"),
        ("some", "", "some", "done but for ...", "Record it with things left open, how long it took, a note"),
        ("right", "right,l", "turn(1)", "next pass", "Take the next pass in hand"),
        ("left", "left,h", "turn(-1)", "pass before", "Take the pass before in hand"),
        ("next", "n", "next", "next page", "Go to the next page on which the pass in hand may begin"),
        ("ready", "o", "ready", "show what may begin", "Only the dry sheets that may take the pass now; again, all"),
        ("go", "g", "go", "go there", "Go to the page"),
    ),
    "pile": (
        ("artist", "t", "place('artist')", "sheet to artist", "Record the sheet as with the artist"),
        ("desk", "b", "place('desk')", "sheet back", "Record the sheet as back at the desk"),
        ("more", "m", "offer('more')", "put elsewhere ...", "Record where else the sheet is, each with its letter"),
        ("drying", "", "place('drying')", "to dry", "Record the sheet as laid to dry"),
        ("checker", "", "place('checker')", "to the checker", "Record the sheet as with the checker"),
        ("press", "", "place('press')", "to the press", "Record the sheet as in the press"),
        ("someone", "", "someone", "to someone ...", "Record who has the sheet, and where, with a note"),
        ("go", "enter,g", "go", "go there", "Go to the sheet's first page that waits for anything"),
    ),
    # the loose sheet
    "sheet": (
        ("next", "enter", "do_next", "next act", "Do what the word says; a written page is read first"),
        *_ON_A_PAGE,
        ("turn", "space", "turn", "turn over", "Turn the sheet over"),
        ("left", "left,h", "half('left')", "left", "The page on the left"),
        ("right", "right,l", "half('right')", "right", "The page on the right"),
        ("below", "down,j", "pile(1)", "below", "The next sheet down the pile; past the outermost, the next gathering"),
        ("above", "up,k", "pile(-1)", "above", "The next sheet up the pile; past the innermost, the last gathering"),
        ("page_down", "pagedown", "gathering(1)", "gathering down", "The top of the next gathering's pile"),
        ("page_up", "pageup", "gathering(-1)", "gathering up", "The top of the pile of the gathering before"),
    ),
    # a form to fill in
    "form": (
        ("record", "ctrl+s", "done", "record", "Record what the form asks; enter does so after the last line"),
        ("next", "tab,enter", "next", "next line", "Go to the next line of the form"),
        ("help", "f1", "app.help", "help", "How forms and lists are answered"),
        ("words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
        ("back", "escape", "leave", "cancel", "Close the form and record nothing"),
    ),
    # a list to choose from
    "choice": (
        ("choose", "enter", "choose", "choose", "Choose the row in hand; a letter before a row chooses that row"),
        ("help", "f1,question_mark", "app.help", "help", "How forms and lists are answered"),
        ("words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
        ("back", "escape", "leave", "cancel", "Close the list and choose nothing"),
    ),
    # the books of a folder
    "shelf": (
        ("open", "enter", "open", "open it", "Open the book in hand"),
        ("new", "i", "wish('new')", "add a book ...", "Set a new book up: a few questions, and what follows from them"),
        ("shipped", "o", "wish('shipped')", "show the shipped book", "Copy the shipped book here, to look round in"),
        ("help", "question_mark,f1", "app.help", "help", "What the shelf is for"),
        ("quit", "q,escape", "quit", "quit", "Quit"),
    ),
    # a new book
    "setup": (
        ("make", "ctrl+s", "make", "make the book", "Make the folder of the new book"),
        ("next", "enter,tab", "next", "next question", "Go to the next question"),
        ("sample", "f4", "sample", "measure a hand ...", "Type lines as the first scribe wrote them"),
        ("help", "f1", "app.help", "help", "How a book is set up"),
        ("back", "escape", "quit", "cancel", "Make no book"),
    ),
    # something told over a screen
    "told": (
        ("help", "f1,question_mark", "app.help", "help", "How forms and lists are answered"),
        ("back", "escape,enter", "leave", "back", "Close it"),
    ),
    # what can be found
    "finder": (
        ("choose", "enter", "choose", "choose", "Do or go to what the row in hand says"),
        ("down", "down", "move('cursor_down')", "down", "The next row"),
        ("up", "up", "move('cursor_up')", "up", "The row before"),
        ("page_down", "pagedown", "move('page_down')", "further down", "Rows further down"),
        ("page_up", "pageup", "move('page_up')", "further up", "Rows further up"),
        ("help", "f1", "app.help", "help", "How forms and lists are answered"),
        ("back", "escape", "leave", "back", "Close it and do nothing"),
    ),
    "help": (
        ("words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
        ("back", "escape,f1,question_mark", "back", "back", "Go back to where you were"),
        ("quit", "q", "app.quit", "quit", "Quit; everything is on disk already"),
    ),
    # the words of the trade
    "words": (
        ("down", "down", "move('cursor_down')", "next word", "The next word"),
        ("up", "up", "move('cursor_up')", "word before", "The word before"),
        ("page_down", "pagedown", "move('page_down')", "further down", "Words further down"),
        ("page_up", "pageup", "move('page_up')", "further up", "Words further up"),
        ("help", "f1", "app.help", "help", "How words are looked up"),
        ("back", "escape,f3", "back", "back", "Go back to where you were"),
    ),
}

_MORE_ON_A_PAGE = (("b", "begin"), ("t", "hold"), ("f", "leaf"), ("r", "rule_sheet"), ("g", "rule_gathering"))
_PRINT = ("p", "all.print")

OFFERED: dict[str, tuple[tuple[str, str], ...]] = {
    "grid.more": (*_MORE_ON_A_PAGE, ("s", "clock"), _PRINT),
    "sheet.more": (*_MORE_ON_A_PAGE, _PRINT),
    "skins.more": (("s", "step"), ("c", "cut")),
    "spaces.more": (("d", "done"), ("e", "leave"), ("n", "size"), ("m", "move"), ("x", "drop"), _PRINT),
    "spaces.shown": (("o", "turn"), ("a", "all"), ("c", "panel")),
    "assembly.more": (("b", "bound"), _PRINT),
    "passes.more": (("e", "some"), _PRINT),
    "pile.more": (("d", "drying"), ("c", "checker"), ("p", "press"), ("s", "someone")),
    "changes.new": (("o", "leave_out"), ("d", "differ"), ("a", "add")),
    "faults.shown": (("s", "state"), ("p", "page"), ("a", "hand"), ("c", "kind")),
}
"""The acts in the list that a key opens: the letter of each there and its name in that scope, or its whole id."""

KEYS: tuple[KeyBinding, ...] = tuple(
    KeyBinding(f"{screen}.{name}", *rest) for screen, rows in _ROWS.items() for name, *rest in rows
)

_LEAF_ROWS = (
    ("cancel", "cancelled", "leaf: cancel", "Cut the leaf away; its stub stays"),
    ("replace", "replaced", "leaf: replace", "Cut the leaf away and tip a blank one in"),
    ("add", "added-after", "leaf: add after", "Add a leaf after this one, hooked or tipped in"),
    ("flaw", "flaw", "leaf: flaw", "Note a hole, a scar, a short edge, with its place and size"),
    ("wanting", "wanting", "leaf: wanting", "The leaf is lost"),
    ("sheet", "sheet", "sheet: replace", "Change the whole sheet for a blank one"),
    ("inside", "inside", "sheet: lay one inside", "Lay a sheet just inside this one"),
    ("round", "round", "sheet: lay one round", "Lay a sheet round the whole gathering"),
    ("gathering", "gathering", "gathering: add", "Add a gathering at the end of the book"),
)
LEAF_ACTS = tuple(KeyBinding(f"leaf.{name}", "", f"leaf('{what}')", *rest) for name, what, *rest in _LEAF_ROWS)
"""Commands found by name alone on screens with a page under their cursor; the key for ``leaf ...`` offers the same."""

NO_KEY = "no_key"
"""The key Textual has for an act without one of its own, so that a person can give it one; no terminal sends it."""


def bindings(*scopes: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of these scopes (the part of the id before the dot), in order."""
    return [key_binding(key.id) for key in KEYS if key.id.split(".")[0] in scopes]


def key_binding(name: str) -> Binding:
    """The binding of the key whose id is ``name``."""
    from textual.binding import Binding

    key = key_named(name)
    return Binding(key.key or NO_KEY, key.action, key.says, id=key.id, tooltip=key.more, show=True)


def key_named(name: str) -> KeyBinding:
    """The key whose id is ``name``."""
    return next(key for key in KEYS if key.id == name)


def offered_by(opener: str) -> list[tuple[str, KeyBinding]]:
    """The acts in the list that the key with this id opens, each with its letter there."""
    scope = opener.partition(".")[0]
    return [(letter, key_named(name if "." in name else f"{scope}.{name}")) for letter, name in OFFERED[opener]]


def scope_of(key: KeyBinding) -> str:
    """The screen whose key it is, or ``all``."""
    return key.id.partition(".")[0]
