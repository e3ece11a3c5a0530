"""The cautions for what an entry records, each once per sitting: what it handles, and what was cautioned of before."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.book.materials.cautions import Caution, caution_words, cautions_for
from copydesk.book.materials.skin_preparation import READY
from copydesk.comparing.corrections import REMEDIES
from copydesk.tracking.ledger.entry_kinds import SpaceEnd
from copydesk.tracking.ledger.timestamps import moment

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from datetime import date

    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.state.book_state import BookState


class Handled(NamedTuple):
    """What work has to do with, in the terms of :func:`copydesk.book.materials.cautions.cautions_for`."""

    materials: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    acts: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    papers: tuple[str, ...] = ()

    def cautions(self) -> tuple[Caution, ...]:
        """The cautions for it, the gravest first."""
        return cautions_for(self.materials, steps=self.steps, acts=self.acts, stages=self.stages, papers=self.papers)


_NO_PAINTING = (SpaceEnd.LEFT_EMPTY, SpaceEnd.GIVEN_UP, "resized", "moved", "added")
_LEAF_ACTS = {"cancelled": "cancelled", "replaced": "replaced", "added-after": "singleton"}
_CORRECTIONS = {remedy.name: remedy.act for remedy in REMEDIES if remedy.act}


def handled(state: BookState, entries: Iterable[Entry]) -> Handled:
    """What these entries have to do with: a step of the skins, a knife on a leaf, the materials of a space."""
    found = [_by_entry(state, entry) for entry in entries]
    return Handled(
        *(tuple(dict.fromkeys(each for one in found for each in one[at])) for at in range(len(Handled._fields)))
    )


def _by_entry(state: BookState, entry: Entry) -> Handled:
    about = entry.subject[0]
    if about == "skins" and (step := entry.text("step")) != READY:
        return Handled(steps=(step,))
    if about == "leaf" and entry.what in _LEAF_ACTS:
        return Handled(acts=(_LEAF_ACTS[entry.what],))
    if entry.what == "settled" and entry.text("remedy") in _CORRECTIONS:
        return Handled(acts=(_CORRECTIONS[entry.text("remedy")],))
    if entry.what == "stint-started":
        script = state.book.script  # what the stint does not say is as planned
        used = (entry.text("ink") or script.ink, entry.text("pounce") or script.pounce)
        return Handled(tuple(filter(None, used)), acts=("stint",))
    if entry.what == "gone-over":
        plan = next((each for each in state.book.passes if each.name == entry.text("pass")), None)
        return Handled((plan.ink,) if plan is not None and plan.ink else (), acts=("stint",))
    if entry.what in ("ruled", "bound"):
        return Handled(acts=(entry.what,))
    if entry.what == "cut":
        return Handled(papers=("cutting",))
    if about == "space" and entry.what not in _NO_PAINTING:
        materials = (plan.materials for plan in state.plans if plan.id == entry.about)
        return Handled(next(materials, ()), stages=(entry.what,))
    return Handled()


def new_cautions(now: Handled, before: Handled) -> tuple[Caution, ...]:
    """The cautions for work at hand that were not given before in the same sitting.

    A hazard is cautioned of again where it lies in a material not named before. Each names its materials alone: that
    a blade goes with a leaf cancelled is plain.
    """
    given = before.cautions()
    hazards = {caution.hazard for caution in given if caution.hazard is not None}
    sentences = {str(caution) for caution in given}
    strange = set(now.materials) - set(before.materials)
    return tuple(
        replace(caution, materials=tuple(name for name in caution.materials if name in now.materials))
        for caution in now.cautions()
        if (caution.hazard not in hazards or strange.intersection(caution.materials)) and str(caution) not in sentences
    )


class CautionedSitting(NamedTuple):
    """Work at a desk in which each caution is given once.

    It began after the entry ``after``, the desk's newest then; where that is None, nobody sits at the desk and the
    sitting is the day.
    """

    desk: str
    after: str | None = None

    @classmethod
    def begun(cls, ledger: Ledger, desk: str) -> CautionedSitting:
        """One that begins now."""
        return cls(desk, next((entry.entry for entry in _own(ledger, desk)), ""))

    def cautions(
        self, state: BookState, ledger: Ledger, today: date, of: Sequence[Entry], act: str | None = None
    ) -> tuple[Caution, ...]:
        """The cautions not given before for the entries ``of``, just recorded; or for an act on a leaf to come."""
        now = handled(state, of) if act is None else Handled(acts=(act,))
        if not now.cautions():
            return ()
        names = {entry.entry for entry in of}
        earlier = (entry for entry in self._entries(ledger, today) if entry.entry not in names)
        return new_cautions(now, handled(state, earlier))

    def _entries(self, ledger: Ledger, today: date) -> Iterator[Entry]:
        for entry in _own(ledger, self.desk):
            at = moment(entry.at)
            if (at is None or at.date() != today) if self.after is None else entry.entry == self.after:
                return
            yield entry


def _own(ledger: Ledger, desk: str) -> Iterator[Entry]:
    """A desk's entries, the newest first."""
    return (entry for entry in reversed(list(ledger)) if entry.desk == desk)


def shown_cautions(cautions: Sequence[Caution], most: int | None = None) -> list[str]:
    """Cautions as they are shown, at the most so many of them and then how many more there are."""
    said = [sanitize(words) for words in caution_words(cautions)]
    more = len(said) - most if most is not None else 0
    return [*said[:most], f"And {more} more; copydesk help cautions has them all."] if more > 0 else said
