"""Where the plan or the text says otherwise today than what is on the skin: each page keeps what the plan had for it.

A page once ruled stays as it was ruled, and a page written as it was written, whatever is changed in ``book.yaml`` or
in the text afterwards. So that no such change passes in silence, entries keep what the plan had then, and it is held
here against the plan of today. A ledger of an older version keeps less, and less can be told of it.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary
from zlib import crc32

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.common.phrases import count_of, listed
from copydesk.book.common.sanitize import sanitize
from copydesk.book.common.units import show_length
from copydesk.book.layout.spaces import takes_lines
from copydesk.book.structure.leaf_ids import gathering_of
from copydesk.book.structure.page import Page, SkinPage
from copydesk.book.text.anchors import show_anchor
from copydesk.tracking.ledger.leaf_history import new_leaves
from copydesk.tracking.ledger.page_record import SPACES, PageRecord
from copydesk.tracking.ledger.space_plans import plan_facts, plan_from

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.common.units import Unit
    from copydesk.book.layout.page_frame import Placement
    from copydesk.book.plan import SpacePlan
    from copydesk.tracking.state.book_state import BookState


class _Figure(NamedTuple):
    """A figure of the plan that a page is ruled by: what was done by it, and what it counts, or mm where nothing."""

    key: str
    done: str
    counts: str = ""

    def said(self, value: float, unit: Unit) -> str:
        """The figure in words: ``2 columns``, ``150 mm``."""
        return (
            count_of(value, self.counts, "leaves" if self.counts == "leaf" else "")
            if self.counts
            else show_length(value, unit)
        )


_LINES = "ruling"
_FIGURES = (
    _Figure("columns", "ruled in", "column"),
    _Figure(_LINES, "ruled with", "line"),
    _Figure("measure", "ruled to a line's length of"),
    _Figure("width", "cut to a width of"),
    _Figure("height", "cut to a height of"),
    _Figure("leaves", "made for a gathering of", "leaf"),
)


def plan_of_page(state: BookState, index: int, spaces: Iterable[str]) -> dict[str, object]:
    """What the plan has for a page, to be kept when it is fixed on the skin: its figures, and each of these spaces."""
    plans = {name: plan_facts(plan) for name in spaces if (plan := state.plan_of(name)) is not None}
    return {**_figures(state, index), SPACES: plans}


def _figures(state: BookState, index: int) -> dict[str, float]:
    layout, leaf = state.layout, state.skin_at(index).leaf_id
    figures = {
        "columns": layout.columns,
        _LINES: layout.lines,
        "width": round(layout.width, 1),
        "height": round(layout.height, 1),
        "measure": round(layout.measure, 1),
    }
    try:
        gathering, _ = state.planned.find(leaf)
    except UnknownNameError:  # a leaf added since
        return figures
    return {**figures, "leaves": len(gathering.ids)}


def words_mark(state: BookState, start: int, end: int) -> str | None:
    """What tells the exemplar's words from ``start`` up to ``end`` from others; None where only counts are known."""
    if state.exemplar is None:
        return None
    return f"{crc32(' '.join(state.exemplar.words[start:end]).encode()):08x}"


_KNOWN: WeakKeyDictionary[BookState, tuple[int, tuple[str, ...]]] = WeakKeyDictionary()
"""What was found for each book, with how many entries it had."""


def plan_conflicts(state: BookState) -> tuple[str, ...]:
    """What the plan or the text says otherwise than the skin, a sentence each without its capital and full stop."""
    known = _KNOWN.get(state)
    if known is None or known[0] != len(state.ledger):
        known = len(state.ledger), tuple(map(sanitize, _conflicts(state)))
        _KNOWN[state] = known
    return known[1]


def _conflicts(state: BookState) -> Iterator[str]:
    pages = [(index, record) for index, record in sorted(state.recorded()) if record.placements is not None]
    yield from _other_text(state, pages)
    yield from _other_figures(state, pages)
    for index, record in pages:
        for placement in record.placements or ():
            yield from _other_space(state, index, record, placement)
    yield from _other_work(state)
    yield from _hands_gone(state, pages)
    yield from _leaves_gone(state)


def _named(state: BookState, indices: list[int]) -> str:
    """``1r``, ``1r and 1v``, ``5 pages from 1r to 4v``."""
    names = [state.book.named(Page.at(index)) for index in indices]
    return listed(names) if len(names) < 3 else f"{count_of(len(names), 'page')} from {names[0]} to {names[-1]}"


def _is(indices: list[int]) -> str:
    return "was" if len(indices) == 1 else "were"


def _other_text(state: BookState, pages: list[tuple[int, PageRecord]]) -> Iterator[str]:
    other = [index for index, record in pages if not _same_words(state, record)]
    if other:
        yield (
            f"the text has other words now than {_named(state, other)} {_is(other)} written from: put it back, "
            "record them anew, or check them again"
        )


def _same_words(state: BookState, record: PageRecord) -> bool:
    if record.checked_text:
        return words_mark(state, record.begins or 0, record.ends or 0) in (None, record.checked_text)
    return all(
        words_mark(state, stint.from_word, stint.to_word) in (None, stint.text) for stint in record.stints if stint.text
    )


def _other_figures(state: BookState, pages: list[tuple[int, PageRecord]]) -> Iterator[str]:
    found: dict[tuple[_Figure, float, float], list[int]] = {}
    for index, record in pages:
        today = _figures(state, index) if record.plan else {}
        for figure in _FIGURES:
            was, now = record.plan.get(figure.key), today.get(figure.key)
            if figure.key == _LINES and was != now:
                was = record.lines or was  # other lines may have been agreed on before it was ruled
            if isinstance(was, int | float) and now is not None and was != now:
                found.setdefault((figure, was, now), []).append(index)
    unit = state.book.unit
    for (figure, was, now), indices in found.items():
        one = f"{_named(state, indices)} {_is(indices)} {figure.done} {figure.said(was, unit)}"
        yield f"{one}; the plan has {figure.said(now, unit)} now"


def _other_space(state: BookState, index: int, record: PageRecord, placement: Placement) -> Iterator[str]:
    """A space whose lines are kept on the skin, and that the plan wants otherwise."""
    if not placement.lines:
        return
    name, there = placement.id, state.book.named(Page.at(index))
    now, kept = state.plan_of(name), record.plan.get(SPACES, {}).get(name)
    if now is None:
        yield f"space {name} stands on {there} as it was ruled, and the plan has it no more"
        return
    before = plan_from(name, kept) if isinstance(kept, dict) else None
    lines = before.lines if before is not None else placement.lines
    other = [f"the plan gives it {count_of(now.lines, 'line')} now"] if now.lines != lines else []
    other += list(_otherwise(state, before, now)) if before is not None else []
    tied = state.page_of_anchor(now)
    if before is None and now.at.page is not None and tied != Page.at(index):
        other.append(f"the plan ties it to {show_anchor(now.at, state.book.signing.foliation)} now")
    if other:
        room = count_of(placement.lines, "line")
        yield f"space {name} stands on {there} with {room} as it was ruled; {listed(other)}"


def _otherwise(state: BookState, before: SpacePlan, now: SpacePlan) -> Iterator[str]:
    numbering = state.book.signing.foliation
    if now.kind != before.kind:
        yield f"it was {before.kind}, and is {now.kind} now"
    if now.across != before.across:
        yield f"the plan has it across {'all columns' if now.across == 'all' else 'one column'} now"
    if now.width != before.width and takes_lines(now.kind):
        yield "the plan gives it another width now"
    if now.at != before.at:
        yield f"it was tied to {show_anchor(before.at, numbering)}, and is tied to {show_anchor(now.at, numbering)} now"


def _skin_named(name: str) -> SkinPage | None:
    """The page of skin called so; ``None`` where an entry made elsewhere names none."""
    with suppress(InvalidValueError):
        return SkinPage.parse(name)
    return None


def _in_the_book(state: BookState, name: str) -> bool:
    """Whether the book has the page of skin called so."""
    skin = _skin_named(name)
    return skin is not None and state.page_of(skin) is not None


def _other_work(state: BookState) -> Iterator[str]:
    """Work done in spaces that the plan wants to be something else."""
    for name in state.ledger.about("space"):
        record = state.space_record(name)
        step = record.end or (record.stages[-1] if record.stages else None)
        if step is None or step.plan is None or (step.on and not _in_the_book(state, step.on)):
            continue
        now, before = state.plan_of(name), plan_from(name, step.plan)
        if now is None:
            if not takes_lines(before.kind):  # the room of others is told with their page
                yield f"space {name} is {step.what} already, and the plan has it no more"
        elif now.subject != before.subject:
            yield f'space {name} is {step.what} as "{before.subject}"; the plan says "{now.subject}" now'
        elif now.kind != before.kind and not takes_lines(before.kind):
            yield f"space {name} is {step.what} as {before.kind}; the plan says {now.kind} now"


def _hands_gone(state: BookState, pages: list[tuple[int, PageRecord]]) -> Iterator[str]:
    known = {hand.id for hand in state.book.hands}
    gone: dict[str, list[int]] = {}
    for index, record in pages:
        for hand in record.hands:
            if hand not in known:
                gone.setdefault(hand, []).append(index)
    for hand, indices in gone.items():
        yield f"hand {hand} wrote {_named(state, indices)}, and the plan has no such hand now"


def _leaves_gone(state: BookState) -> Iterator[str]:
    """Pages recorded on leaves that neither the plan nor any act on leaves tells of."""
    known: set[str] = {half for gathering in state.planned.gatherings for half in gathering.ids}
    known.update(half for entry in state.ledger if "new" in entry.facts for half in new_leaves(entry))
    added = any(entry.what == "added-gathering" for entry in state.ledger)
    last = max((gathering.number for gathering in state.planned.gatherings), default=0)
    lost: list[str] = []
    for name in state.ledger.about("page"):
        skin = _skin_named(name)
        if skin is None or skin.leaf_id in known or state.page_of(skin) is not None:
            continue
        record = state.record(skin)
        # A page of a gathering that was added, and taken out again, had no gathering in the plan when it was recorded.
        if added and gathering_of(skin.leaf_id) > last and "leaves" not in record.plan:
            continue
        if record.placements is not None:
            lost.append(state.book.renamed(state.ledger.live("page", name)[-1].page))
    if lost:
        pages = listed(lost) if len(lost) < 3 else f"{count_of(len(lost), 'page')} from {lost[0]} to {lost[-1]}"
        yield f"the plan has no leaf now for what is recorded of {pages}"
