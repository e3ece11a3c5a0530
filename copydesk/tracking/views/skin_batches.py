"""The skins in the making as recorded: each batch's steps, and which sheet was cut from which skin."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.columns import Cell, Column, Report, iso, one_of, rows_of
from copydesk.book.common.phrases import count_of, say_left, say_short
from copydesk.book.materials.sheet_skins import CutFrom, cutting_doubts, fellows
from copydesk.book.materials.skin_preparation import (
    READY,
    SkinBatch,
    batch_warnings,
    due,
    next_step,
    ready_on,
    step_cautions,
)
from copydesk.tracking.views.skin_order import SKIN_TOO_SMALL, skin_order, skin_steps

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.state.book_state import BookState


class StepTaken(NamedTuple):
    """A step a batch went into: its name, the day, how many skins, who recorded it, and a note."""

    step: str
    since: date
    skins: int
    hand: str
    note: str


class BatchAccount(NamedTuple):
    """A batch today: its skins, the steps it took, the step that follows and when, the day it can be cut.

    ``due`` is None where it is ready; ``left`` are the days until then, negative where they are past. A batch in a
    step this workshop no longer names has no day either, and ``next`` is empty.
    """

    batch: SkinBatch
    taken: tuple[StepTaken, ...]
    next: str
    due: date | None
    left: int
    ready: date | None
    today: date


class SheetCut(NamedTuple):
    """A sheet and where it was cut from: the batch, and the skin's number in it where that was noted."""

    sheet: str
    batch: str
    skin: int | None

    @property
    def of(self) -> str:
        """The skin as people name it: ``A 4``, or the batch alone."""
        return f"{self.batch} {self.skin}" if self.skin is not None else self.batch


class SkinsToday(NamedTuple):
    """All there is to know of the skins today.

    ``needed`` counts skins for the whole book with its flyleaves, spoilage allowed for, ``here`` those in batches;
    ``too_small`` where the plan's skins are smaller than a sheet, so that no number of them is enough.
    """

    steps: Mapping[str, float]
    needed: int
    too_small: bool
    sheets_a_skin: int
    here: int
    batches: tuple[BatchAccount, ...]
    cut: tuple[SheetCut, ...]
    warnings: tuple[str, ...]
    doubts: tuple[str, ...]

    @property
    def wanting(self) -> int:
        """Skins still to be begun."""
        return max(self.needed - self.here, 0)


def skins_today(state: BookState, today: date) -> SkinsToday:
    """The skins of the book on this day: what is in the making, what it asks for, what was cut."""
    steps, order = skin_steps(state.book), skin_order(state)
    batches = tuple(_account(batch, taken, steps, today) for batch, taken in batches_of(state.ledger))
    cut = sheets_cut(state.ledger)
    a_skin = order.cutting.count if order else 0
    return SkinsToday(
        steps=steps,
        needed=order.with_flyleaves if order else 0,
        too_small=order is not None and not a_skin,
        sheets_a_skin=a_skin,
        here=sum(account.batch.skins for account in batches),
        batches=batches,
        cut=cut,
        warnings=_asked(batches, steps, today),
        doubts=_doubts(cut, a_skin, batches),
    )


def needed_words(skins: SkinsToday) -> str:
    """How many skins the book needs, how many there are, how many are still to be begun."""
    if skins.too_small:
        return f"{count_of(skins.here, 'skin')} here; {SKIN_TOO_SMALL}."
    if not skins.needed:
        return f"{count_of(skins.here, 'skin')} here; the book file says nothing of the skins it needs."
    said = f"The book needs {count_of(skins.needed, 'skin')}, spoilage and flyleaves counted in; {skins.here} here"
    return f"{said}, {skins.wanting} still to be begun." if skins.wanting else f"{said}."


def _asked(batches: Iterable[BatchAccount], steps: Mapping[str, float], today: date) -> tuple[str, ...]:
    """What the batches ask for today, the lime first."""
    return batch_warnings(tuple(each.batch for each in batches if _known(each.batch, steps)), steps, today)


STEPS_TAKEN: Report[StepTaken] = rows_of(
    "skins, a step taken",
    "One step a batch went into.",
    Column("step", Cell.TEXT, "the step"),
    Column("since", Cell.DAY, "the day", lambda each: each.since.isoformat()),
    Column("skins", Cell.NUMBER, "skins in the batch then"),
    Column("hand", Cell.TEXT, "who recorded it"),
    Column("note", Cell.TEXT, "a note"),
)
BATCHES: Report[BatchAccount] = rows_of(
    "skins, a batch",
    "One batch of skins.",
    Column("batch", Cell.TEXT, "its name", "batch.name", "batch"),
    Column("skins", Cell.NUMBER, "skins in it", "batch.skins", "skins"),
    Column("step", Cell.TEXT, "the step it is in", "batch.step", "step"),
    Column(
        "since",
        Cell.DAY,
        "since when",
        lambda a: a.batch.since.isoformat(),
        "since",
        lambda a, _: say_short(a.batch.since, a.today),
    ),
    Column("next", Cell.TEXT, "the step that follows; empty where the plan does not know its step", "next", "then"),
    Column(
        "due",
        Cell.DAY,
        "when that is due; null where it is ready",
        lambda a: iso(a.due),
        "due",
        lambda a, _: f"{say_short(a.due, a.today)}, {say_left(a.left)}" if a.due else "",
    ),
    Column("days_left", Cell.NUMBER, "days until then, negative where past", lambda a: a.left if a.due else None),
    Column(
        "ready",
        Cell.DAY,
        "when it can be cut",
        lambda a: iso(a.ready),
        "ready",
        lambda a, _: say_short(a.ready, a.today) if a.ready else "",
    ),
    Column("taken", Cell.ROWS, "the steps it took", of=STEPS_TAKEN),
)
SHEETS_CUT: Report[SheetCut] = rows_of(
    "skins, a sheet cut",
    "One sheet cut from a skin.",
    Column("sheet", Cell.TEXT, "the sheet, as 3.2"),
    Column("batch", Cell.TEXT, "the batch"),
    Column("skin", Cell.NUMBER, "the skin in the batch; null where not noted"),
)
SKINS: Report[SkinsToday] = one_of(
    "skins",
    "The skins in the making.",
    Column("steps", Cell.OBJECT, "days each step takes, by step", lambda skins: dict(skins.steps)),
    Column(
        "skins_needed",
        Cell.NUMBER,
        "skins for the whole book with its flyleaves, spoilage allowed for; null where that is not known",
        lambda skins: skins.needed or None,
    ),
    Column("sheets_per_skin", Cell.NUMBER, "sheets from one skin", "sheets_a_skin"),
    Column("skins_here", Cell.NUMBER, "skins in batches", "here"),
    Column("batches", Cell.ROWS, "the batches", of=BATCHES),
    Column("cut", Cell.ROWS, "sheets cut so far", of=SHEETS_CUT),
    Column("warnings", Cell.TEXTS, "what asks for somebody today", lambda skins: list(skins.warnings)),
    Column("doubts", Cell.TEXTS, "what cannot be right in the record", lambda skins: list(skins.doubts)),
    Column("cautions", Cell.TEXTS, "cautions for these steps", lambda skins: list(step_cautions(skins.steps))),
)


def batches_of(ledger: Ledger) -> list[tuple[SkinBatch, tuple[StepTaken, ...]]]:
    """Every batch with the steps it took, in the order they were begun."""
    found = ((name, _steps(ledger.live("skins", name))) for name in ledger.about("skins"))
    batches = [
        (SkinBatch(name, taken[-1].skins, taken[-1].step, taken[-1].since), taken) for name, taken in found if taken
    ]
    return sorted(batches, key=lambda each: (each[1][0].since, each[0].name))


def batch_named(ledger: Ledger, name: str) -> SkinBatch | None:
    """The batch called ``name`` as it is today, or None."""
    taken = _steps(ledger.live("skins", name))
    return SkinBatch(name, taken[-1].skins, taken[-1].step, taken[-1].since) if taken else None


def sheets_cut(ledger: Ledger) -> tuple[SheetCut, ...]:
    """Every note of a sheet cut, oldest first; a later note of the same sheet corrects the one before."""
    return tuple(
        SheetCut(entry.about, entry.text("batch"), entry.number("skin"))
        for entry in ledger.live_of("sheet")
        if entry.what == "cut"
    )


def skin_of_sheet(ledger: Ledger, sheet: str) -> str | None:
    """The skin a sheet (``3.2``) was cut from, as people name it; None where nobody noted it."""
    noted = [entry for entry in ledger.live("sheet", sheet) if entry.what == "cut"]
    return SheetCut(sheet, noted[-1].text("batch"), noted[-1].number("skin")).of if noted else None


def sheets_of_its_skin(ledger: Ledger, sheet: str) -> tuple[str, ...]:
    """The other sheets cut from the very skin that a sheet was cut from; none where nobody noted which skin."""
    last = {each.sheet: each for each in sheets_cut(ledger)}.values()
    return fellows((CutFrom(each.sheet, each.of) for each in last if each.skin is not None), sheet)


def _steps(entries: Iterable[Entry]) -> tuple[StepTaken, ...]:
    """The steps a batch took, oldest first; a number of skins holds until another is given.

    The step said again, with another number of skins, goes on from the day it began, unless a day is given.
    """
    taken: list[StepTaken] = []
    skins = 0
    for entry in entries:
        step, skins = entry.text("step"), entry.number("skins") or skins
        day = _day(entry.text("since")) or _day(entry.at)
        if not step or day is None:
            continue
        if taken and taken[-1].step == step and not entry.text("since"):
            day = taken[-1].since
        taken.append(StepTaken(step, day, skins, entry.hand, entry.text("note")))
    return tuple(taken)


def _day(at: str) -> date | None:
    try:
        return date.fromisoformat(at[:10])
    except ValueError:  # an entry whose time is no time, from another program
        return None


def _known(batch: SkinBatch, steps: Mapping[str, float]) -> bool:
    return batch.step == READY or batch.step in steps


def _account(batch: SkinBatch, taken: tuple[StepTaken, ...], steps: Mapping[str, float], today: date) -> BatchAccount:
    if not _known(batch, steps):
        return BatchAccount(batch, taken, "", None, 0, None, today)
    leaves = due(batch, steps)
    then = "" if leaves is None else next_step(batch.step, steps)
    left = (leaves - today).days if leaves is not None else 0
    return BatchAccount(batch, taken, then, leaves, left, ready_on(batch, steps, today), today)


def _doubts(cut: tuple[SheetCut, ...], a_skin: int, batches: tuple[BatchAccount, ...]) -> tuple[str, ...]:
    """What cannot be right: sheets of two skins, skins of too many sheets, skins a batch does not have."""
    last = {each.sheet: each for each in cut}.values()
    skins = {account.batch.name: account.batch.skins for account in batches}
    single = [CutFrom(each.sheet, each.of) for each in last if each.skin is not None]
    many = cutting_doubts(single, a_skin) if a_skin else ()
    lacking = tuple(
        f"Sheet {each.sheet} is noted as cut from skin {each.of}, but batch {each.batch} has {skins[each.batch]}."
        for each in last
        if each.skin is not None and each.skin > skins.get(each.batch, each.skin)
    )
    return (*many, *lacking)
