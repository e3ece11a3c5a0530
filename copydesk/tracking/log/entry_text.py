"""An entry in a sentence, for the log and for whoever just made it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, decimal, listed, say_day
from copydesk.book.common.sanitize import sanitize
from copydesk.book.materials.skin_preparation import READY
from copydesk.book.text.counted_places import last_place
from copydesk.tracking.binding.flyleaf_walk import flyleaf_named
from copydesk.tracking.ledger.entry_kinds import KINDS
from copydesk.tracking.ledger.page_record import TICKED
from copydesk.tracking.ledger.timestamps import moment
from copydesk.tracking.log.leaf_text import describe_leaf, leaf_name
from copydesk.tracking.log.space_text import describe_sheet, describe_space

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState


def describe(entry: Entry, state: BookState | None = None) -> str:
    """What the entry says, as in ``12r written by B, lines 1 to 15, ends "and the ford"``."""
    return sanitize(_described(entry, state))


def _described(entry: Entry, state: BookState | None) -> str:
    if entry.subject[0] == "leaf":
        return ", ".join(_leaf(entry, state))
    if is_about_skins(entry):
        return describe_skins(entry)
    if entry.subject[0] in ("space", "sheet"):
        return "; ".join(_space_or_sheet(entry, state))
    if entry.what == "changed" and state is not None:
        return ", ".join(_changed(entry, state))
    if entry.what == "handover":
        return ", ".join(_handed_over(entry, state))
    if entry.what in AGREEMENTS:
        return describe_agreement(entry, state)
    if entry.what == "voided":
        return _taken_back(entry, state)
    return ", ".join(_page_or_other(entry, state))


def _page_or_other(entry: Entry, state: BookState | None) -> list[str]:
    parts = [_mended(entry, state) if entry.what == "settled" else _who_did_what(entry, state)]
    if entry.what == "written":
        parts += _written(entry, state)
    if entry.what in ("begun", "held"):
        parts += _begins(entry, state)
    if entry.what == "checked" and entry.facts.get("read") is False:
        parts.append(TICKED)
    if entry.what == "gone-over":
        parts += _gone_over(entry)
    if entry.what == "checked" and (how := entry.text("how")):
        parts.append(f"read {how}{f' with {beside}' if (beside := entry.text('beside')) else ''}")
    if entry.what == "note":
        parts.append(f'"{entry.text("text")}"')
    shown = (name for name in _SHOWN if entry.facts.get(name, "") != "" and _is_shown(name, entry, state))
    return parts + [_named(name, entry.facts[name]) for name in shown]


def entry_sentence(entry: Entry, state: BookState | None = None) -> str:
    """The same with its full stop, where no quotation brings one."""
    said = describe(entry, state)
    return said if said.endswith(('."', '?"', '!"')) else f"{said}."


_MOST_TOLD = 4


def shared_sentence(entry: Entry, state: BookState) -> str:
    """The same of all entries recorded in one go, where they say one thing of several, as ``3r to 4v ruled by A``.

    Where they differ, those of the kind of ``entry`` are told one by one, or ``entry`` alone where they are many.
    """
    entries = state.ledger.together(entry)
    places = [sanitize(place_name(each, state)) for each in entries]
    said = [entry_sentence(each, state) for each in entries]
    told = {each.removeprefix(place) for each, place in zip(said, places, strict=True)}
    if len(entries) == 1 or len(told) > 1 or told <= set(said):
        alike = [sentence for each, sentence in zip(entries, said, strict=True) if each.what == entry.what]
        return " ".join(alike) if len(alike) <= _MOST_TOLD else entry_sentence(entry, state)
    return f"{_places(entries, places, state)}{told.pop()}"


def _places(entries: Sequence[Entry], places: Sequence[str], state: BookState) -> str:
    """Pages that follow one another as a range, other places as a list."""
    pages = [state.page_of(each.skin) for each in entries if each.subject[0] == "page"]
    found = [page.index for page in pages if page is not None]
    if len(found) == len(places) > 2 and found == list(range(found[0], found[-1] + 1)):
        return f"{places[0]} to {places[-1]}"
    return listed(places)


def _who_did_what(entry: Entry, state: BookState | None) -> str:
    """``12r written by B``; of the desk itself, ``B sat down at the desk``; of the binding, who did it."""
    says = KINDS[entry.what].says if entry.what in KINDS else entry.what
    if entry.what == "gone-over":
        says = f"{entry.text('pass') or 'a pass'} done"
    if entry.subject[0] == "desk" and entry.hand:
        return f"{entry.hand} {says}"
    if entry.what == "bound" and (who := entry.text("who")):
        return f"{place_name(entry, state)} {says} by {who}{f', noted by {entry.hand}' if entry.hand else ''}"
    return f"{place_name(entry, state)} {says}{f' by {entry.hand}' if entry.hand else ''}"


_QUOTED = ("stands", "should", "why", "note")
"""Facts in somebody's own words."""

_SHOWN = (
    "number",
    "kind",
    "column",
    "line",
    "stands",
    "should",
    "remedy",
    "who",
    "lines",
    "minutes",
    "ink",
    "pen",
    "pounce",
    "why",
    "to",
    "note",
)


def _is_shown(name: str, entry: Entry, state: BookState | None) -> bool:
    """Whether a fact says something a reader does not know: not the lines of a page where they are the book's."""
    if entry.what == "settled" and name == "remedy":
        return entry.facts[name] != "settled"  # how is not known
    if (name, entry.what) == ("who", "bound"):
        return False
    usual = state is not None and name == "lines" and entry.facts[name] == state.layout.lines
    return not usual and (name, entry.what) != ("lines", "written")


def _mended(entry: Entry, state: BookState | None) -> str:
    """``1r line 5, letter: mended by A, fault 3``; without the book nobody knows which fault it was."""
    by = f" by {entry.hand}" if entry.hand else ""
    found = _fault_of(entry, state) if state is not None else None
    if found is None:
        return f"{place_name(entry, state)} fault mended{by}"
    column, number = found.number("column"), state.ledger.fault_numbers.get(found.entry) if state is not None else None
    one = state is not None and state.layout.columns == 1
    place = [
        f"{name} {value}"
        for name, value in (("column", None if one else column), ("line", found.number("line")))
        if value
    ]
    said = ", ".join([" ".join([place_name(entry, state), *place[:1]]), *place[1:], found.text("kind")])
    return f"{said}: mended{by}, fault {number}"


def _fault_of(entry: Entry, state: BookState) -> Entry | None:
    found = state.ledger.find(entry.text("fault"))
    return found if found is not None and found.what == "fault" else None


def _taken_back(entry: Entry, state: BookState | None) -> str:
    """``taken back by A: 12r ruled by B``; of a taking back that is itself taken back, what stands again."""
    by = f" by {entry.hand}" if entry.hand else ""
    target = state.ledger.find(entry.about) if state is not None else None
    says, tick = "taken back", entry.tick
    while target is not None and target.what == "voided" and target.tick < tick and state is not None:
        says = "standing again" if says == "taken back" else "taken back"
        tick, target = target.tick, state.ledger.find(target.about)
    if target is not None and target.what == "voided":
        target = None  # no sound chain: an entry can take back only an older one
    return f"{says}{by}: {describe(target, state)}" if target is not None else f"an entry {says}{by}"


def _named(name: str, value: object) -> str:
    """A fact with its name, where it needs one: ``column 1``, ``12 minutes``, ``omission``."""
    if name == "minutes" and isinstance(value, (int, float)):
        return count_of(value, "minute")
    said = _shown(name, value)
    return said if name in ("kind", "remedy") else f"{'should be' if name == 'should' else name} {said}"


def _shown(name: str, value: object) -> str:
    if isinstance(value, float):
        return decimal(value)
    shown = sanitize(str(value))
    return f'"{shown}"' if name in _QUOTED or (isinstance(value, str) and " " in shown) else shown


def _space_or_sheet(entry: Entry, state: BookState | None) -> list[str]:
    if entry.subject[0] == "space":
        return describe_space(entry, state.book if state is not None else None)
    return describe_sheet(entry, state.sheet_record(entry.about) if state is not None else None)


def _leaf(entry: Entry, state: BookState | None) -> list[str]:
    said = describe_leaf(entry, state.book if state is not None else None)
    return [part for part in (said, f"by {entry.hand}" if entry.hand else "", entry.text("note")) if part]


def _written(entry: Entry, state: BookState | None) -> list[str]:
    first, last = entry.number("from_line"), entry.number("to_line")
    parts = [f"line {last}" if first == last else f"lines {first} to {last}"]
    ends = entry.number("to_word")
    if state is not None and ends is not None:
        parts += _ends(state, ends)
    if entry.number("line_from_word") is not None:
        parts.append("within the line")
    return parts


def _gone_over(entry: Entry) -> list[str]:
    """``1 of 4 left open``, and what was amiss."""
    left, items = entry.facts.get("left"), entry.number("items") or 0
    said = [f"{len(left)} of {items} left open"] if isinstance(left, list) and left else []
    return [*said, *filter(None, [entry.text("remark")])]


def _ends(state: BookState, ends: int) -> list[str]:
    copy = state.copy
    if state.exemplar is None:
        return [f"ends at {last_place(copy, state.book.divisions, ends)}"]
    last = copy.text(copy.piece(max(ends - 3, 0)), copy.piece(ends))
    return [f'ends "{" ".join(last)}"'] if last else []


def _begins(entry: Entry, state: BookState | None) -> list[str]:
    begins = entry.number("from_word")
    if state is None or state.exemplar is None or begins is None:
        return []
    copy = state.copy
    words = copy.text(copy.piece(begins), copy.piece(begins) + 3)
    return [f'begins "{" ".join(words)}"'] if words else []


def _handed_over(entry: Entry, state: BookState | None) -> list[str]:
    """``12v: B takes the desk over from A at column 1, line 23``; or what a hand left there for the next."""
    column, line, to = entry.number("column"), entry.number("line"), entry.text("to")
    at = f" at column {column}, line {line}" if line else ""
    giver = entry.text("from") or entry.hand
    since = f" from {giver}" if giver != to else ""
    said = f"{to} takes the desk over{since}{at}" if to else f"{giver} leaves a note for the next hand{at}"
    return [f"{place_name(entry, state)}: {said}", *([f'"{entry.text("note")}"'] if entry.text("note") else [])]


def _changed(entry: Entry, state: BookState) -> list[str]:
    from copydesk.tracking.views.change_report import change_account

    said = f"{change_account(state, entry).sentence()} on purpose by {entry.hand}"
    who = entry.text("who")
    decided = f"decided by {who}" if who and who != entry.hand else ""
    return [part for part in (said, entry.text("why"), decided) if part]


def place_name(entry: Entry, state: BookState | None = None) -> str:
    """What the entry is about, as a person names it."""
    kind = entry.subject[0]
    if kind == "page":
        page = entry.page or entry.about
        return state.book.renamed(page) if state is not None else page
    if kind == "leaf":
        return leaf_name(entry, state.book if state is not None else None)
    if kind in ("sheet", "space"):
        return f"{kind} {entry.about}"
    if kind == "flyleaf":
        return flyleaf_named(state.book, entry.about) if state is not None else f"flyleaf {entry.about}"
    if entry.what == "note":
        return f"the {entry.about}"
    return {"desk": "the hand", "text": "the text", "entry": "an entry"}.get(kind, "the book")


AGREEMENTS = ("abbreviated", "ruling")


def describe_agreement(entry: Entry, state: BookState | None) -> str:
    """As in ``33.1 letters a line from 2r to 3v, 24 words abbreviated, agreed on by A``."""
    by = f" by {entry.hand}" if entry.hand else ""
    if entry.what == "ruling":
        return f"{entry.number('lines') or '?'} lines a column on pages not yet ruled, agreed on{by}"
    first, last = entry.text("from_page"), entry.text("to_page")
    if state is not None:
        first, last = state.book.renamed(first), state.book.renamed(last)
    where = f"on {first}" if first == last else f"from {first} to {last}"
    words = entry.number("words")
    abbreviated = f", {count_of(words, 'word')} abbreviated" if words else ""
    return f"{decimal(entry.amount('letters') or 0, 1)} letters a line {where}{abbreviated}, agreed on{by}"


def is_about_skins(entry: Entry) -> bool:
    """Whether an entry is about a batch of skins, or the cutting of a sheet from one."""
    return entry.subject[0] == "skins" or entry.what == "cut"


def describe_skins(entry: Entry) -> str:
    """``batch A, 6 skins, into the lime by B``; ``sheet 3.2 cut from skin A 4 by B``."""
    by = f" by {entry.hand}" if entry.hand else ""
    if entry.what == "cut":
        skin = entry.number("skin")
        of = f"skin {entry.text('batch')} {skin}" if skin is not None else f"batch {entry.text('batch')}"
        return f"sheet {entry.about} cut from {of}{by}"
    step, skins, note = entry.text("step"), entry.number("skins"), entry.text("note")
    said = f"batch {entry.about}" + (f", {count_of(skins, 'skin')}" if skins else "")
    said += f", {step}" if step == READY else f", into the step {step}"
    begun = moment(entry.text("since"))
    since = f", since {say_day(begun.date()) if begun else entry.text('since')}" if entry.text("since") else ""
    return f"{said}{by}{since}" + (f', note "{note}"' if note else "")
