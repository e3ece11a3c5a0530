"""Asking for a fault found on a page, and for how one is mended; what is answered is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import capital
from copydesk.book.common.typed_values import optional, read_whole
from copydesk.book.materials.cautions import caution_paragraph
from copydesk.comparing.corrections import LEAF_CANCELLED, remedy
from copydesk.comparing.faults import KIND_WORDS
from copydesk.desk.dialogs.form import Choice, Field, record_form
from copydesk.tracking.checking.open_faults import fault_words
from copydesk.tracking.fit.correction_fit import correction_fit, room_lines, ways_told
from copydesk.tracking.log.entry_text import entry_sentence

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.ledger.entry import Act


OWN_WORDS = "other"


class FaultPlace(NamedTuple):
    """Where on a page a fault is, as far as it is known before it is asked: column, line, the exemplar's word there."""

    column: int | None = None
    line: int | None = None
    word: int | None = None
    should: str = ""


_ANYWHERE = FaultPlace()
_OTHER = (OWN_WORDS, "another, in your own words")


async def note_fault(screen: BookScreen, page: Page, spot: FaultPlace = _ANYWHERE) -> None:
    """Ask for a fault on a page, and record it."""
    named = screen.job.book.named(page)
    if not screen.job.state.record(screen.job.state.skin_at(page.index)).stints:
        screen.say(f"Nothing is written on {named}, so it can have no fault.", wrong=True)
        return
    options = [*((str(kind), f"{kind}: {says}") for kind, says in KIND_WORDS.items()), _OTHER]
    kind = await screen.app.push_screen_wait(Choice(f"A fault on {named}: of what kind?", options))
    if not kind:
        return
    title = f"A fault on {named}" if kind == OWN_WORDS else f"{capital(kind)} on {named}"
    entry = await record_form(screen, title, _fields(kind, spot), lambda given: _act(screen, page, kind, spot, given))
    if entry is not None:
        screen.say(entry_sentence(entry, screen.job.state))


def _fields(kind: str, spot: FaultPlace) -> list[Field]:
    own = [Field("kind", "What kind of fault it is, in a word or two")] if kind == OWN_WORDS else []
    return [
        *own,
        Field("column", "Column", _shown(spot.column), hint="1", whole=True),
        Field("line", "Line in the column", _shown(spot.line), whole=True),
        Field("stands", "What stands there; nothing where words are wanting"),
        Field("should", "What should stand there; nothing where words are too many", spot.should),
        Field("note", "Note"),
    ]


def _shown(number: int | None) -> str:
    return "" if number is None else str(number)


def _act(screen: BookScreen, page: Page, kind: str, spot: FaultPlace, given: Mapping[str, str]) -> Act:
    places = {name: optional(read_whole, given[name], f"the {name}") for name in ("column", "line")}
    same_place = (places["column"], places["line"]) == (spot.column, spot.line)
    facts = {name: given[name] or None for name in ("stands", "should", "note")}
    return screen.job.commands.fault(
        page, given.get("kind", kind), word=spot.word if same_place else None, **places, **facts
    )


async def mend_fault(screen: BookScreen, page: Page, fault: str = "") -> None:
    """Ask how a fault of a page is mended (which one, where none is named and there are several), and record it."""
    named = screen.job.book.named(page)
    open_faults = screen.job.state.record(screen.job.state.skin_at(page.index)).open_faults
    if not open_faults:
        screen.say(f"{named} has no open fault.", wrong=True)
        return
    if not fault and len(open_faults) > 1:
        options = [(each.id, fault_words(each)) for each in open_faults]
        fault = await screen.app.push_screen_wait(Choice(f"Which fault on {named} is mended?", options))
        if not fault:
            return
    how = await screen.app.push_screen_wait(_ways(screen, page, fault or open_faults[0].id))
    if not how:
        return
    leaf = (
        await screen.app.push_screen_wait(_leaf_too(screen.job.book.leaf_named(page.leaf)))
        if how == LEAF_CANCELLED
        else "stays"
    )
    if leaf:
        chosen = fault or open_faults[0].id
        screen.do_all(lambda: _mended(screen, page, chosen, how, cancels=leaf == "cancelled"), cautioned=True)


def _ways(screen: BookScreen, page: Page, fault: str) -> Choice:
    """Asks how a fault is mended: the ways that fit first, with the room and the skin there, what each costs."""
    state, cautions = screen.job.state, screen.job.cautions
    known = next(each for each in state.record(state.skin_at(page.index)).open_faults if each.id == fault)
    found = correction_fit(state, page, known)
    told = ways_told(found)
    cautioned = ((way, caution_paragraph(cautions(remedy(way.name).act))) for way in told)
    notes = {way.name: "\n".join(filter(None, [way.note[0], caution, *way.note[1:]])) for way, caution in cautioned}
    title = "\n".join(["How is it mended?", *room_lines(found)])
    return Choice(title, [(way.name, way.head) for way in told], notes=notes)


def _leaf_too(leaf: str) -> Choice:
    """Asks whether the leaf is cancelled here and now as well."""
    options = [
        ("stays", f"only mark the fault as mended; {leaf} is cut away later"),
        ("cancelled", f"record {leaf} as cancelled now; its text moves to the leaves that follow"),
    ]
    return Choice(f"Is {leaf} cancelled with it?", options)


def _mended(screen: BookScreen, page: Page, fault: str, how: str, *, cancels: bool) -> list[Act]:
    acts = [screen.job.commands.mend(page, fault, how)]
    if cancels:
        from copydesk.tracking.commands.leaf_commands import cancel_leaf

        acts.append(cancel_leaf(screen.job.state, page.leaf))
    return acts
