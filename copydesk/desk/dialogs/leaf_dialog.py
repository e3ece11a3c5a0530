"""Asking what happened to a leaf or a sheet, recording it, and saying what follows."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import capital
from copydesk.book.common.typed_values import optional, read_length, read_whole
from copydesk.book.structure.page import Surface
from copydesk.desk.dialogs.form import Choice, Field, record_form
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.commands.leaf_outcome import written_on
from copydesk.tracking.ledger.flaws_found import SIZES
from copydesk.tracking.log.entry_text import entry_sentence

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from copydesk.book.structure.collation import PagePlace
    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.ledger.entry import Act, Entry
    from copydesk.tracking.state.book_state import BookState

    Answers = Mapping[str, str]


_WHY = Field("note", "Why, for whoever reads the log")


class LeafChangeAsked(NamedTuple):
    """A change being asked for: the book, where the cursor's page stands in it, and its leaf."""

    state: BookState
    place: PagePlace

    @property
    def leaf(self) -> int:
        """The number of the leaf."""
        return self.place.page.leaf

    @property
    def named(self) -> str:
        """The leaf as the book counts: ``leaf 5``, ``leaf v``."""
        return self.state.book.leaf_named(self.leaf)

    @property
    def sheet(self) -> str:
        """The sheet, as in ``3.2``."""
        return self.place.sheet_name


def choices(asked: LeafChangeAsked) -> list[tuple[str, str]]:
    """What can happen to the leaf and its sheet: a name and an offer each, the harmless one first."""
    leaf, sheet, gathering = asked.named, asked.sheet, asked.place.gathering
    leaves = asked.state.collation.gathering(gathering).leaves
    first = leaves[0].id == asked.place.skin.leaf_id
    return [
        ("flaw", f"note a flaw of {leaf}: a hole, a scar, a short edge"),
        ("cancelled", f"cancel {leaf}: cut it away, its stub stays"),
        ("replaced", f"cancel {leaf} and tip a blank one in at its place"),
        ("added-after", f"add a leaf after {leaf}"),
        *([("added-before", f"add a leaf before {leaf}, in gathering {gathering}")] if first else []),
        ("wanting", f"{leaf} is wanting: it is lost"),
        ("sheet", f"change sheet {sheet} for a blank one, both its leaves"),
        ("inside", f"lay a sheet just inside sheet {sheet}"),
        ("round", f"lay a sheet round gathering {gathering}"),
        ("gathering", "add a gathering at the end of the book"),
    ]


async def change_leaf(screen: BookScreen, page: Page, what: str = "") -> None:
    """Ask for a change to the leaf of a page (which, where ``what`` does not name it), record it, say what follows."""
    state = screen.job.state
    asked = LeafChangeAsked(state, state.collation.place(page))
    while True:
        what = what or await _which_change(screen, asked)
        if what not in _FOR_A_REASON:
            break
        meant = await _meant(screen, asked, what)
        if meant == STAYS:
            what = ""  # back to the list, so that a second enter does nothing elsewhere
            continue
        if not meant:
            return
        break
    if what in ("added-after", "added-before"):
        await _add_leaf(screen, asked, before=what == "added-before")
    elif what in ("inside", "round"):
        await _add_sheet(screen, asked, asked.sheet if what == "inside" else f"{asked.place.gathering}.0")
    elif what:
        _say_what_followed(screen, await record_form(screen, *_form_for(what, asked)))


async def _which_change(screen: BookScreen, asked: LeafChangeAsked) -> str:
    title = f"{capital(asked.named)}, sheet {asked.sheet}: what happened to it?"
    return await screen.app.push_screen_wait(Choice(title, choices(asked))) or ""


STAYS = "stays"


async def _meant(screen: BookScreen, asked: LeafChangeAsked, what: str) -> str:
    """Ask once more where a leaf or a sheet goes out of the book; that it stays is first. Empty where it is left."""
    goes = f"sheet {asked.sheet}" if what == "sheet" else asked.named
    leaves = {asked.leaf}
    if what == "sheet" and asked.place.conjugate is not None:
        leaves.add(asked.place.conjugate.leaf)
    told = written_on(asked.state, leaves)
    loses = f"; {told} {'goes' if told.startswith('1 ') else 'go'} with it" if told else "; nothing is written on it"
    does = dict(choices(asked))[what]
    options = [(STAYS, f"leave {goes} as it is"), ("goes", f"{does}{loses}")]
    return await screen.app.push_screen_wait(Choice(f"Does {goes} go out of the book?", options)) or ""


async def _add_leaf(screen: BookScreen, asked: LeafChangeAsked, *, before: bool) -> None:
    where = f"{'before' if before else 'after'} {asked.named}"
    held = await screen.app.push_screen_wait(
        Choice(
            f"How is the leaf {where} held?",
            [("hooked", "hooked round the fold by a stub of its own"), ("tipped", "tipped in: pasted along its edge")],
        )
    )
    if not held:
        return

    def make(recto: Surface | None) -> Act:
        return leaf_acts.add_leaf(asked.state, asked.leaf, before=before, tipped=held == "tipped", recto=recto)

    recto = await _which_surface(screen, f"Which surface is the recto of the leaf {where}?", make, "recto")
    if recto is not None:
        _record(screen, lambda: make(recto))


async def _add_sheet(screen: BookScreen, asked: LeafChangeAsked, sheet: str) -> None:
    def make(outward: Surface | None) -> Act:
        return leaf_acts.add_sheet(asked.state, sheet, outward)

    outward = await _which_surface(screen, "Which surface of the sheet lies outward?", make, "outward")
    if outward is not None:
        _record(screen, lambda: make(outward))


async def _which_surface(
    screen: BookScreen, title: str, make: Callable[[Surface | None], Act], fact: str
) -> Surface | None:
    """The surface chosen; first stands that which keeps like to like. None where none is chosen or it cannot be."""
    try:
        likely = Surface(str(make(None).facts[fact]))
    except CopydeskError as refused:
        screen.refuse(refused)
        return None
    options = [
        (likely.value, f"{likely.value}: so like faces like where it begins"),
        (likely.other.value, f"{likely.other.value}: so hair faces flesh there"),
    ]
    chosen = await screen.app.push_screen_wait(Choice(title, options))
    return Surface(chosen) if chosen else None


def _record(screen: BookScreen, make: Callable[[], Act]) -> None:
    """Record an act and say what follows from it."""
    _say_what_followed(screen, screen.do(make))


def _say_what_followed(screen: BookScreen, entry: Entry | None) -> None:
    if entry is not None:
        screen.say(" ".join([entry_sentence(entry, screen.job.state), *screen.job.also]))


_Asking = tuple[str, list[Field], "Callable[[Answers], Act]"]
"""The title of a form, its lines, and what makes an act of the answers."""

_FOR_A_REASON: dict[str, tuple[str, Callable[[LeafChangeAsked, str], Act]]] = {
    "cancelled": (
        "{leaf} is cancelled; its stub stays",
        lambda asked, why: leaf_acts.cancel_leaf(asked.state, asked.leaf, why),
    ),
    "replaced": (
        "{leaf} is cancelled, a blank one tipped in at its place",
        lambda asked, why: leaf_acts.replace_leaf(asked.state, asked.leaf, why),
    ),
    "wanting": ("{leaf} is wanting", lambda asked, why: leaf_acts.lose_leaf(asked.state, asked.leaf, why)),
    "sheet": (
        "Sheet {sheet} is changed for a blank one",
        lambda asked, why: leaf_acts.replace_sheet(asked.state, asked.sheet, why),
    ),
}
"""The changes of which a form asks nothing but why: its title, and the act."""


def _form_for(what: str, asked: LeafChangeAsked) -> _Asking:
    if what in _FOR_A_REASON:
        title, make = _FOR_A_REASON[what]
        return (
            title.format(leaf=capital(asked.named), sheet=asked.sheet),
            [_WHY],
            lambda given: make(asked, given["note"]),
        )
    return _flaw(asked) if what == "flaw" else _gathering(asked)


def _gathering(asked: LeafChangeAsked) -> _Asking:
    usual = len(asked.state.planned.gatherings[0].leaves)

    def make(given: Answers) -> Act:
        leaves = optional(read_whole, given["leaves"], "the number of leaves")
        return leaf_acts.add_gathering(asked.state, usual if leaves is None else leaves)

    return (
        "A gathering is added at the end of the book",
        [Field("leaves", "Its leaves", str(usual), whole=True)],
        lambda given: leaf_acts.add_gathering(
            asked.state, read_whole(given["leaves"] or str(usual), "the number of leaves")
        ),
    )


def _flaw(asked: LeafChangeAsked) -> _Asking:
    unit = asked.state.book.unit
    labels = dict(zip(SIZES, ("From the head edge", "From the fold", "Its width", "Its height"), strict=True))
    fields = [
        Field(name, f"{label}, in mm or with its unit, as 15, 1.5 cm or 1/2 in") for name, label in labels.items()
    ]

    def make(given: Answers) -> Act:
        sizes = {name: optional(read_length, given[name], label.lower()) for name, label in labels.items()}
        return leaf_acts.note_flaw(asked.state, asked.leaf, sizes, given["note"])

    return f"A flaw of {asked.named}, as seen on its recto; shown in {unit}", [*fields, Field("note", "Note")], make
