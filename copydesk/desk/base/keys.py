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
    Key("all.words", "f3", "words", "words", "Look a word of the trade up, with its source"),
    Key("all.palette", "colon,f4", "app.command_palette", "find", "Find any act by its name"),
    Key("all.undo", "u", "undo", "undo", "Take back what was recorded last at this desk"),
    Key("all.redo", "y", "redo", "redo", "Let what was taken back stand again"),
    Key("all.back", "escape", "back", "back", "Go back to where you were"),
    Key("all.quit", "q", "app.quit", "leave", "Leave the desk; everything is on disk already"),
    Key("all.look", "f2", "look", "look", "Dark, light, high contrast, or the terminal's own colours"),
    Key("all.copy", "Y", "copy", "copy", "Copy what the screen tells, a page with its text, to the clipboard"),
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
    Key("grid.check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"),
    Key("grid.faults", "F", "faults", "faults", "Every fault of the book, and what they tell"),
    Key("grid.changes", "C", "changes", "changes", "Where the text departs from the exemplar on purpose"),
    Key("grid.overview", "o", "overview", "all", "All gatherings, a line each"),
    Key("grid.log", "l", "log", "log", "Everything that was recorded"),
    Key("grid.sheet", "v", "sheet", "sheet", "The loose sheet this page stands on, as it lies before you"),
    Key("grid.leaf", "L", "leaf", "leaf ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
    Key("grid.plan", "m", "plan", "plan", "Turn a figure of the plan and see the rest move; nothing is written"),
    Key("grid.skins", "K", "skins", "skins", "The skins in the making, and which sheet was cut from which"),
    Key("grid.spaces", "i", "spaces", "spaces", "Every space to fill: by sheet, by stage, by material"),
    Key("grid.pile", "P", "pile", "pile", "Where each sheet is, who has it, and what it waits for"),
    Key("grid.handover", "d", "handover", "hand over", "Where the pen stopped, and all the next hand needs"),
    Key("grid.stints", "H", "stints", "who wrote", "Who wrote what, and how close, fast and surely each hand writes"),
    Key("grid.assembly", "A", "assembly", "to sew", "The binder's walk, and what stands in the way of sewing"),
    Key("grid.remedies", "R", "remedies", "make it fit", "What would make the text around this page fit its room"),
    Key("grid.pace", "z", "pace", "pace", "When it will be done; pages, pace and drift plotted"),
    Key("grid.clock", "S", "clock", "clock", "The stint clock: begin, rest, go on, end"),
    Key("grid.tour", "f6", "tour", "tour", "A short walk round the desk, to be left at any time"),
    Key("grid.left", "left,h", "move('left')", "left", "The leaf to the left"),
    Key("grid.right", "right,k", "move('right')", "right", "The leaf to the right"),
    Key("grid.up", "up", "move('up')", "up", "The other side of the leaf, or the gathering above"),
    Key("grid.down", "down,j", "move('down')", "down", "The other side of the leaf, or the gathering below"),
    Key("grid.page_up", "pageup", "move('gathering_up')", "gathering up", "The gathering before"),
    Key("grid.page_down", "pagedown", "move('gathering_down')", "gathering down", "The gathering after"),
    Key("grid.first", "home", "move('first')", "first", "The first page"),
    Key("grid.last", "end", "move('last')", "last", "The last page"),
    # all gatherings
    Key("overview.go", "enter", "go", "go there", "Go to the first page of the gathering that is not done"),
    # everything recorded
    Key("log.take_back", "enter", "take_back", "take back", "Take the entry in hand back"),
    # the handover
    Key("handover.take", "enter", "take", "take the desk", "The hand named in the title takes the desk over here"),
    Key("handover.other", "a", "other", "other hand", "Name another hand to take the desk"),
    Key("handover.note", "n", "note", "note", "Leave a note for the next hand"),
    Key("handover.write_to", "e", "write_to", "written to ...", "Record how far the page is written, to the word"),
    Key("handover.go", "g", "go", "go there", "Go to the page in the gatherings"),
    # how the work goes on
    Key("pace.next", "right,n,space", "plot(1)", "next plot", "The next plot"),
    Key("pace.before", "left,p", "plot(-1)", "plot before", "The plot before"),
    # what would make a stretch fit
    Key("remedies.choose", "enter", "choose", "choose", "Do the remedy in hand; it can be taken back"),
    # who wrote what
    Key("stints.go", "enter", "go", "go there", "Go to the page where the share begins"),
    # before sewing
    Key(
        "assembly.tick",
        "enter,space",
        "tick",
        "in order",
        "Tick the sheet or flyleaf as found in its place, or take its tick away",
    ),
    Key("assembly.go", "g", "go", "go there", "Go to the first page of the sheet that stands in the way"),
    Key("assembly.next", "n", "next", "next in the way", "The next sheet that something stands in the way of"),
    Key("assembly.colophon", "c", "colophon", "colophon", "A draft of who wrote, checked and decorated the book"),
    # the colophon
    Key("colophon.keep", "k", "keep", "keep", "Keep the draft in the ledger"),
    Key("colophon.words", "e", "words", "own words ...", "Keep it in words of your own"),
    # a page checked by reading
    Key("check.tick", "space,enter", "tick", "tick", "Tick the line as read, or take its tick away"),
    Key("check.tick_to", "t", "tick_to", "tick to here", "Tick every line down to this one"),
    Key("check.fault", "f", "fault", "fault", "Note a fault at the word marked"),
    Key("check.settle", "s", "settle", "settle", "Settle a fault of this page"),
    Key("check.finish", "c", "check", "checked", "Record the page as checked, once every line is read"),
    Key("check.typed", "x", "check_lines", "type it", "Check by a transcription instead"),
    Key("check.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    Key("check.word_right", "right,k", "word(1)", "word", "Mark the next word of the line"),
    Key("check.word_left", "left,h", "word(-1)", "word back", "Mark the word before"),
    Key("check.down", "down,j", "line('cursor_down')", "down", "The next line"),
    Key("check.up", "up", "line('cursor_up')", "up", "The line before"),
    Key("check.page_down", "pagedown", "line('page_down')", "further down", "Lines further down"),
    Key("check.page_up", "pageup", "line('page_up')", "further up", "Lines further up"),
    Key("check.first", "home", "line('first')", "first", "The first line"),
    Key("check.last", "end", "line('last')", "last", "The last line"),
    # a page checked by its transcription
    Key("typed.compare", "f5", "compare", "compare", "Compare what is typed so far"),
    Key("typed.note", "f8", "note", "note them", "Note the faults marked, and keep the transcription"),
    Key("typed.finish", "f9", "finish", "checked", "Note them and record the page as checked, typed to its end"),
    # the faults of the book
    Key("faults.go", "enter", "go", "go there", "Go to the fault's page"),
    Key("faults.settle", "s", "settle", "settle", "Settle the fault: scraped, expunged, interlined ..."),
    Key("faults.state", "o", "turn('state')", "open/all", "Only those open, settled, or all"),
    Key("faults.page", "p", "turn('page')", "page", "Only those of one page, then of the next"),
    Key("faults.hand", "h", "turn('hand')", "hand", "Only those in one hand's writing, then in the next"),
    Key("faults.kind", "k", "turn('kind')", "kind", "Only those of one kind, then of the next"),
    Key("faults.tell", "t", "tell", "what they tell", "Faults in a hundred lines, by hand, kind, hour and sitting"),
    # what faults tell
    Key("slips.plot", "right,left,tab", "plot", "other plot", "By hand, by kind, over the day, over a sitting"),
    # changes made on purpose
    Key("changes.go", "enter", "go", "go there", "Go to the page the passage falls on"),
    Key("changes.leave_out", "d", "change('left out')", "leave out", "Leave a passage of the exemplar out"),
    Key("changes.differ", "w", "change('put differently')", "put differently", "Write a passage in other words"),
    Key("changes.add", "i", "change('added')", "add words", "Add words the exemplar does not have"),
    Key("changes.take_back", "delete,backspace", "take_back", "take back", "Take back the change in hand"),
    # the planner
    Key("planner.more", "right,plus,k", "turn(1)", "more", "Turn the figure up by a step"),
    Key("planner.less", "left,minus,h", "turn(-1)", "less", "Turn the figure down by a step"),
    Key("planner.much_more", "shift+right,greater_than_sign", "turn(10)", "ten more", "Turn it up by ten steps"),
    Key("planner.much_less", "shift+left,less_than_sign", "turn(-10)", "ten less", "Turn it down by ten steps"),
    Key("planner.type", "enter", "type", "type it", "Type the figure; a length may say its unit"),
    Key("planner.as_planned", "backspace,delete", "as_planned", "as planned", "Turn this figure back"),
    Key("planner.all_as_planned", "0", "all_as_planned", "all as planned", "Turn every figure back"),
    Key("planner.ways", "w", "ways", "ways", "Ways to gather the leaves, to choose one"),
    Key("planner.copy", "c", "copy", "copy", "Copy the changed lines of book.yaml, and show them"),
    Key("planner.further", "space", "further", "further", "What follows, further down; then the beginning again"),
    # the skins
    Key("skins.next", "enter,space", "move_on", "move on", "Put the batch into the step that follows"),
    Key("skins.step", "e", "step", "step ...", "Put the batch into another step, or change how many skins it has"),
    Key("skins.new", "n", "new", "new batch", "Begin a batch of skins"),
    Key("skins.cut", "c", "cut", "cut ...", "Note that a sheet was cut from a skin of this batch"),
    # the artist's spaces
    Key("spaces.stage", "enter,space", "stage", "stage done", "Record the stage that comes next in the space as done"),
    Key("spaces.done", "d", "fill('done')", "all done", "Record the whole space as done"),
    Key("spaces.leave", "e", "fill('left-empty')", "leave empty", "Record the space as left empty on purpose"),
    Key("spaces.take", "t", "sheet('artist')", "take sheet", "Take the space's sheet to the artist"),
    Key("spaces.give", "b", "sheet('desk')", "give back", "Give the space's sheet back to the desk"),
    Key("spaces.turn", "o", "turn", "sheet/stage/material", "Put the list together by sheet, by stage or by material"),
    Key(
        "spaces.panel",
        "c",
        "panel",
        "cautions, tally",
        "The space, the cautions for all listed, the tally of small work",
    ),
    Key("spaces.all", "w", "all", "filled too", "Show filled spaces too, or only those to fill"),
    Key("spaces.go", "g", "go", "go there", "Go to the page of the space"),
    Key("spaces.size", "r", "size", "lines ...", "Give the space another number of lines, while its page is unruled"),
    Key("spaces.move", "m", "move", "move ...", "Tie the space to another place, while its page is unruled"),
    Key("spaces.add", "n", "add", "new ...", "Add a space where its page is unruled"),
    Key("spaces.drop", "x", "drop", "give up", "Give the space up to the text, while its page is unruled"),
    # the pile
    Key("pile.desk", "d", "place('desk')", "to desk", "Record the sheet as back at the desk"),
    Key("pile.drying", "r", "place('drying')", "to dry", "Record the sheet as laid to dry"),
    Key("pile.checker", "c", "place('checker')", "to checker", "Record the sheet as with the checker"),
    Key("pile.artist", "a", "place('artist')", "to artist", "Record the sheet as with the artist"),
    Key("pile.press", "p", "place('press')", "to press", "Record the sheet as in the press"),
    Key("pile.someone", "w", "someone", "to someone ...", "Record who has the sheet, and where, with a note"),
    Key("pile.go", "enter,g", "go", "go there", "Go to the sheet's first page that waits for anything"),
    # the loose sheet
    Key("sheet.next", "enter", "do_next", "do it", "Record what the word on the page says comes next"),
    Key("sheet.turn", "space,v", "turn", "turn over", "Turn the sheet over"),
    Key("sheet.left", "left,h", "half('left')", "left", "The page on the left"),
    Key("sheet.right", "right,k", "half('right')", "right", "The page on the right"),
    Key(
        "sheet.below",
        "down,j",
        "pile(1)",
        "below",
        "The next sheet down the pile; past the outermost, the next gathering",
    ),
    Key("sheet.above", "up", "pile(-1)", "above", "The next sheet up the pile; past the innermost, the last gathering"),
    Key("sheet.page_down", "pagedown", "gathering(1)", "gathering down", "The top of the next gathering's pile"),
    Key("sheet.page_up", "pageup", "gathering(-1)", "gathering up", "The top of the pile of the gathering before"),
    Key("sheet.rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    Key("sheet.begin", "b", "begin", "begin", "Record that the page is begun, at the planned word"),
    Key("sheet.write", "w", "write", "written", "Record the whole page as written, ending where planned"),
    Key("sheet.write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its last words"),
    Key("sheet.check", "c", "check", "checked", "Record the page as checked against the exemplar"),
    Key("sheet.check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"),
    Key("sheet.fault", "f", "fault", "fault", "Note a fault found on the page"),
    Key("sheet.settle", "s", "settle", "settle", "Settle a fault: scraped, expunged, interlined ..."),
    Key("sheet.hold", "t", "hold", "begins with", "Settle the words this page must begin with"),
    Key("sheet.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    Key("sheet.leaf", "L", "leaf", "leaf ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
)

LEAF_ACTS: tuple[Key, ...] = (
    Key("leaf.cancel", "", "leaf('cancelled')", "leaf: cancel", "Cut the leaf away; its stub stays"),
    Key("leaf.replace", "", "leaf('replaced')", "leaf: replace", "Cut the leaf away and tip a blank one in"),
    Key("leaf.add", "", "leaf('added-after')", "leaf: add after", "Add a leaf after this one, hooked or tipped in"),
    Key("leaf.flaw", "", "leaf('flaw')", "leaf: flaw", "Note a hole, a scar, a short edge, with its place and size"),
    Key("leaf.wanting", "", "leaf('wanting')", "leaf: wanting", "The leaf is lost"),
    Key("leaf.sheet", "", "leaf('sheet')", "sheet: replace", "Change the whole sheet for a blank one"),
    Key("leaf.inside", "", "leaf('inside')", "sheet: lay one inside", "Lay a sheet just inside this one"),
    Key("leaf.round", "", "leaf('round')", "sheet: lay one round", "Lay a sheet round the whole gathering"),
    Key("leaf.gathering", "", "leaf('gathering')", "gathering: add", "Add a gathering at the end of the book"),
)
"""Acts found by name alone on screens with a page under their cursor; the key for ``leaf ...`` offers the same."""


def bindings(*scopes: str) -> list[Binding | tuple[str, str] | tuple[str, str, str]]:
    """The bindings of these scopes (the part of the id before the dot), in order."""
    return [key_binding(key.id) for key in KEYS if key.id.split(".")[0] in scopes]


def key_binding(name: str) -> Binding:
    """The binding of the key whose id is ``name``."""
    from textual.binding import Binding

    key = key_named(name)
    return Binding(key.key, key.action, key.says, id=key.id, tooltip=key.more, show=True)


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
    "f3": "F3",
    "f6": "F6",
    "f4": "F4",
}
