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


KEYS: tuple[KeyBinding, ...] = (
    # everywhere
    KeyBinding("all.help", "f1,question_mark", "app.help", "help", "What this screen is for, and its keys"),
    KeyBinding("all.words", "f3", "app.words", "words", "Look a word of the trade up, with its source"),
    KeyBinding("all.palette", "colon,f4", "app.command_palette", "find", "Find any act by its name"),
    KeyBinding("all.undo", "u", "undo", "undo", "Take back what was recorded last at this desk"),
    KeyBinding("all.redo", "y", "redo", "redo", "Let what was taken back stand again"),
    KeyBinding("all.back", "escape", "back", "back", "Go back to where you were"),
    KeyBinding("all.quit", "q", "app.quit", "leave", "Leave the desk; everything is on disk already"),
    KeyBinding("all.look", "f2", "look", "look", "Dark, light, high contrast, or the terminal's own colours"),
    KeyBinding("all.copy", "Y", "copy", "copy", "Copy what the screen tells, a page with its text, to the clipboard"),
    # the gatherings
    KeyBinding("grid.next", "enter,space", "do_next", "do it", "Record what the word on the page says comes next"),
    KeyBinding("grid.rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    KeyBinding("grid.begin", "b", "begin", "begin", "Record that the page is begun, at the planned word"),
    KeyBinding("grid.write", "w", "write", "written", "Record the whole page as written, ending where planned"),
    KeyBinding(
        "grid.write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its real last words"
    ),
    KeyBinding("grid.check", "c", "check", "checked", "Record the page as checked against the exemplar"),
    KeyBinding("grid.fault", "f", "fault", "fault", "Note a fault found on the page"),
    KeyBinding("grid.settle", "s", "settle", "settle", "Settle a fault: scraped, expunged, interlined ..."),
    KeyBinding("grid.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    KeyBinding("grid.hold", "t", "hold", "begins with", "Settle the words this page must begin with"),
    KeyBinding("grid.next_write", "n", "next_to_write", "next page", "Go to the next page to write"),
    KeyBinding(
        "grid.next_space", "p", "next_space", "next space", "Go to the next page whose space waits for the artist"
    ),
    KeyBinding("grid.go", "g", "go", "go to", "Go to a page by its number, as 12r"),
    KeyBinding(
        "grid.check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"
    ),
    KeyBinding("grid.faults", "F", "open('faults')", "faults", "Every fault of the book, and what they tell"),
    KeyBinding(
        "grid.changes", "C", "open('changes')", "changes", "Where the text departs from the exemplar on purpose"
    ),
    KeyBinding("grid.overview", "o", "open('overview')", "all", "All gatherings, a line each"),
    KeyBinding("grid.log", "l", "open('log')", "log", "Everything that was recorded"),
    KeyBinding(
        "grid.sheet", "v", "open('sheet')", "sheet", "The loose sheet this page stands on, as it lies before you"
    ),
    KeyBinding("grid.leaf", "L", "leaf", "leaf ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
    KeyBinding(
        "grid.plan", "m", "open('plan')", "plan", "Turn a figure of the plan and see the rest move; nothing is written"
    ),
    KeyBinding(
        "grid.skins", "K", "open('skins')", "skins", "The skins in the making, and which sheet was cut from which"
    ),
    KeyBinding("grid.spaces", "i", "open('spaces')", "spaces", "Every space to fill: by sheet, by stage, by material"),
    KeyBinding("grid.pile", "P", "open('pile')", "pile", "Where each sheet is, who has it, and what it waits for"),
    KeyBinding(
        "grid.handover", "d", "open('handover')", "hand over", "Where the pen stopped, and all the next hand needs"
    ),
    KeyBinding(
        "grid.stints",
        "H",
        "open('stints')",
        "who wrote",
        "Who wrote what, and how close, fast and surely each hand writes",
    ),
    KeyBinding(
        "grid.assembly", "A", "open('assembly')", "to sew", "The binder's walk, and what stands in the way of sewing"
    ),
    KeyBinding(
        "grid.remedies", "R", "remedies", "make it fit", "What would make the text around this page fit its room"
    ),
    KeyBinding("grid.pace", "z", "open('pace')", "pace", "When it will be done; pages, pace and drift plotted"),
    KeyBinding("grid.clock", "S", "clock", "clock", "The stint clock: begin, rest, go on, end"),
    KeyBinding("grid.tour", "f6", "tour", "tour", "A short walk round the desk, to be left at any time"),
    KeyBinding("grid.left", "left,h", "move('left')", "left", "The leaf to the left"),
    KeyBinding("grid.right", "right,k", "move('right')", "right", "The leaf to the right"),
    KeyBinding("grid.up", "up", "move('up')", "up", "The other side of the leaf, or the gathering above"),
    KeyBinding("grid.down", "down,j", "move('down')", "down", "The other side of the leaf, or the gathering below"),
    KeyBinding("grid.page_up", "pageup", "move('gathering_up')", "gathering up", "The gathering before"),
    KeyBinding("grid.page_down", "pagedown", "move('gathering_down')", "gathering down", "The gathering after"),
    KeyBinding("grid.first", "home", "move('first')", "first", "The first page"),
    KeyBinding("grid.last", "end", "move('last')", "last", "The last page"),
    # all gatherings
    KeyBinding("overview.go", "enter", "go", "go there", "Go to the first page of the gathering that is not done"),
    # everything recorded
    KeyBinding("log.take_back", "enter", "take_back", "take back", "Take the entry in hand back"),
    # the handover
    KeyBinding(
        "handover.take", "enter", "take", "take the desk", "The hand named in the title takes the desk over here"
    ),
    KeyBinding("handover.other", "a", "other", "other hand", "Name another hand to take the desk"),
    KeyBinding("handover.note", "n", "note", "note", "Leave a note for the next hand"),
    KeyBinding(
        "handover.write_to", "e", "write_to", "written to ...", "Record how far the page is written, to the word"
    ),
    KeyBinding("handover.go", "g", "go", "go there", "Go to the page in the gatherings"),
    # how the work goes on
    KeyBinding("pace.next", "right,n,space", "plot(1)", "next plot", "The next plot"),
    KeyBinding("pace.before", "left,p", "plot(-1)", "plot before", "The plot before"),
    # what would make a stretch fit
    KeyBinding("remedies.choose", "enter", "choose", "choose", "Do the remedy in hand; it can be taken back"),
    # who wrote what
    KeyBinding("stints.go", "enter", "go", "go there", "Go to the page where the share begins"),
    # before sewing
    KeyBinding(
        "assembly.tick",
        "enter,space",
        "tick",
        "in order",
        "Tick the sheet or flyleaf as found in its place, or take its tick away",
    ),
    KeyBinding("assembly.go", "g", "go", "go there", "Go to the first page of the sheet that stands in the way"),
    KeyBinding("assembly.next", "n", "next", "next in the way", "The next sheet that something stands in the way of"),
    KeyBinding(
        "assembly.colophon", "c", "open('colophon')", "colophon", "A draft of who wrote, checked and decorated the book"
    ),
    # the colophon
    KeyBinding("colophon.keep", "k", "keep", "keep", "Keep the draft in the ledger"),
    KeyBinding("colophon.words", "e", "words", "own words ...", "Keep it in words of your own"),
    # a page checked by reading
    KeyBinding("check.tick", "space,enter", "tick", "tick", "Tick the line as read, or take its tick away"),
    KeyBinding("check.tick_to", "t", "tick_to", "tick to here", "Tick every line down to this one"),
    KeyBinding("check.fault", "f", "fault", "fault", "Note a fault at the word marked"),
    KeyBinding("check.settle", "s", "settle", "settle", "Settle a fault of this page"),
    KeyBinding("check.finish", "c", "check", "checked", "Record the page as checked, once every line is read"),
    KeyBinding("check.typed", "x", "check_lines", "type it", "Check by a transcription instead"),
    KeyBinding("check.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    KeyBinding("check.word_right", "right,k", "word(1)", "word", "Mark the next word of the line"),
    KeyBinding("check.word_left", "left,h", "word(-1)", "word back", "Mark the word before"),
    KeyBinding("check.down", "down,j", "line('cursor_down')", "down", "The next line"),
    KeyBinding("check.up", "up", "line('cursor_up')", "up", "The line before"),
    KeyBinding("check.page_down", "pagedown", "line('page_down')", "further down", "Lines further down"),
    KeyBinding("check.page_up", "pageup", "line('page_up')", "further up", "Lines further up"),
    KeyBinding("check.first", "home", "line('first')", "first", "The first line"),
    KeyBinding("check.last", "end", "line('last')", "last", "The last line"),
    # a page checked by its transcription
    KeyBinding("typed.compare", "f5", "compare", "compare", "Compare what is typed so far"),
    KeyBinding("typed.note", "f8", "note", "note them", "Note the faults marked, and keep the transcription"),
    KeyBinding("typed.finish", "f9", "finish", "checked", "Note them and record the page as checked, typed to its end"),
    # the faults of the book
    KeyBinding("faults.go", "enter", "go", "go there", "Go to the fault's page"),
    KeyBinding("faults.settle", "s", "settle", "settle", "Settle the fault: scraped, expunged, interlined ..."),
    KeyBinding("faults.state", "o", "turn('state')", "open/all", "Only those open, settled, or all"),
    KeyBinding("faults.page", "p", "turn('page')", "page", "Only those of one page, then of the next"),
    KeyBinding("faults.hand", "h", "turn('hand')", "hand", "Only those in one hand's writing, then in the next"),
    KeyBinding("faults.kind", "k", "turn('kind')", "kind", "Only those of one kind, then of the next"),
    KeyBinding(
        "faults.tell",
        "t",
        "open('fault-rates')",
        "what they tell",
        "Faults in a hundred lines, by hand, kind, hour and sitting",
    ),
    # what faults tell
    KeyBinding("slips.plot", "right,left,tab", "plot", "other plot", "By hand, by kind, over the day, over a sitting"),
    # changes made on purpose
    KeyBinding("changes.go", "enter", "go", "go there", "Go to the page the passage falls on"),
    KeyBinding("changes.leave_out", "d", "change('left out')", "leave out", "Leave a passage of the exemplar out"),
    KeyBinding("changes.differ", "w", "change('put differently')", "put differently", "Write a passage in other words"),
    KeyBinding("changes.add", "i", "change('added')", "add words", "Add words the exemplar does not have"),
    KeyBinding("changes.take_back", "delete,backspace", "take_back", "take back", "Take back the change in hand"),
    # the planner
    KeyBinding("planner.more", "right,plus,k", "turn(1)", "more", "Turn the figure up by a step"),
    KeyBinding("planner.less", "left,minus,h", "turn(-1)", "less", "Turn the figure down by a step"),
    KeyBinding("planner.much_more", "shift+right,greater_than_sign", "turn(10)", "ten more", "Turn it up by ten steps"),
    KeyBinding("planner.much_less", "shift+left,less_than_sign", "turn(-10)", "ten less", "Turn it down by ten steps"),
    KeyBinding("planner.type", "enter", "type", "type it", "Type the figure; a length may say its unit"),
    KeyBinding("planner.as_planned", "backspace,delete", "as_planned", "as planned", "Turn this figure back"),
    KeyBinding("planner.all_as_planned", "0", "all_as_planned", "all as planned", "Turn every figure back"),
    KeyBinding("planner.ways", "w", "ways", "ways", "Ways to gather the leaves, to choose one"),
    KeyBinding("planner.copy", "c", "copy", "copy", "Copy the changed lines of book.yaml, and show them"),
    KeyBinding(
        "planner.further", "space", "further", "further", "What follows, further down; then the beginning again"
    ),
    # the skins
    KeyBinding("skins.next", "enter,space", "move_on", "move on", "Put the batch into the step that follows"),
    KeyBinding(
        "skins.step", "e", "step", "step ...", "Put the batch into another step, or change how many skins it has"
    ),
    KeyBinding("skins.new", "n", "new", "new batch", "Begin a batch of skins"),
    KeyBinding("skins.cut", "c", "cut", "cut ...", "Note that a sheet was cut from a skin of this batch"),
    # the artist's spaces
    KeyBinding(
        "spaces.stage", "enter,space", "stage", "stage done", "Record the stage that comes next in the space as done"
    ),
    KeyBinding("spaces.done", "d", "fill('done')", "all done", "Record the whole space as done"),
    KeyBinding("spaces.leave", "e", "fill('left-empty')", "leave empty", "Record the space as left empty on purpose"),
    KeyBinding("spaces.take", "t", "sheet('artist')", "take sheet", "Take the space's sheet to the artist"),
    KeyBinding("spaces.give", "b", "sheet('desk')", "give back", "Give the space's sheet back to the desk"),
    KeyBinding(
        "spaces.turn", "o", "turn", "sheet/stage/material", "Put the list together by sheet, by stage or by material"
    ),
    KeyBinding(
        "spaces.panel",
        "c",
        "panel",
        "cautions, tally",
        "The space, the cautions for all listed, the tally of small work",
    ),
    KeyBinding("spaces.all", "w", "all", "filled too", "Show filled spaces too, or only those to fill"),
    KeyBinding("spaces.go", "g", "go", "go there", "Go to the page of the space"),
    KeyBinding(
        "spaces.size", "r", "size", "lines ...", "Give the space another number of lines, while its page is unruled"
    ),
    KeyBinding("spaces.move", "m", "move", "move ...", "Tie the space to another place, while its page is unruled"),
    KeyBinding("spaces.add", "n", "add", "new ...", "Add a space where its page is unruled"),
    KeyBinding("spaces.drop", "x", "drop", "give up", "Give the space up to the text, while its page is unruled"),
    # the pile
    KeyBinding("pile.desk", "d", "place('desk')", "to desk", "Record the sheet as back at the desk"),
    KeyBinding("pile.drying", "r", "place('drying')", "to dry", "Record the sheet as laid to dry"),
    KeyBinding("pile.checker", "c", "place('checker')", "to checker", "Record the sheet as with the checker"),
    KeyBinding("pile.artist", "a", "place('artist')", "to artist", "Record the sheet as with the artist"),
    KeyBinding("pile.press", "p", "place('press')", "to press", "Record the sheet as in the press"),
    KeyBinding("pile.someone", "w", "someone", "to someone ...", "Record who has the sheet, and where, with a note"),
    KeyBinding("pile.go", "enter,g", "go", "go there", "Go to the sheet's first page that waits for anything"),
    # the loose sheet
    KeyBinding("sheet.next", "enter", "do_next", "do it", "Record what the word on the page says comes next"),
    KeyBinding("sheet.turn", "space,v", "turn", "turn over", "Turn the sheet over"),
    KeyBinding("sheet.left", "left,h", "half('left')", "left", "The page on the left"),
    KeyBinding("sheet.right", "right,k", "half('right')", "right", "The page on the right"),
    KeyBinding(
        "sheet.below",
        "down,j",
        "pile(1)",
        "below",
        "The next sheet down the pile; past the outermost, the next gathering",
    ),
    KeyBinding(
        "sheet.above", "up", "pile(-1)", "above", "The next sheet up the pile; past the innermost, the last gathering"
    ),
    KeyBinding("sheet.page_down", "pagedown", "gathering(1)", "gathering down", "The top of the next gathering's pile"),
    KeyBinding(
        "sheet.page_up", "pageup", "gathering(-1)", "gathering up", "The top of the pile of the gathering before"
    ),
    KeyBinding("sheet.rule", "r", "rule", "rule", "Record the page as ruled; its spaces are fixed from now on"),
    KeyBinding("sheet.begin", "b", "begin", "begin", "Record that the page is begun, at the planned word"),
    KeyBinding("sheet.write", "w", "write", "written", "Record the whole page as written, ending where planned"),
    KeyBinding(
        "sheet.write_to", "e", "write_to", "written to ...", "Record it written to a line, or give its last words"
    ),
    KeyBinding("sheet.check", "c", "check", "checked", "Record the page as checked against the exemplar"),
    KeyBinding(
        "sheet.check_lines", "x", "check_lines", "read it", "Check the page line by line with its exemplar beside it"
    ),
    KeyBinding("sheet.fault", "f", "fault", "fault", "Note a fault found on the page"),
    KeyBinding("sheet.settle", "s", "settle", "settle", "Settle a fault: scraped, expunged, interlined ..."),
    KeyBinding("sheet.hold", "t", "hold", "begins with", "Settle the words this page must begin with"),
    KeyBinding("sheet.hand", "a", "hand", "hand", "Say whose hand is at this desk now"),
    KeyBinding("sheet.leaf", "L", "leaf", "leaf ...", "Cancel, replace or add a leaf or a sheet; note a flaw"),
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
