"""What must be true of a book whatever was recorded: no place says otherwise than another, no text goes unsaid."""

from __future__ import annotations

from typing import TYPE_CHECKING

import truth_pages
import truth_papers
from copydesk.book.structure.page import Page
from copydesk.desk.wording.stretch_words import need_words
from copydesk.tracking.fit.remedies import REMEDIES_OF_PAGE, need_in_short, remedies_for
from copydesk.tracking.fit.stretches import asked_words, need_at, need_from, need_to_the_end, needs
from copydesk.tracking.scribes.handover_text import handover_lines
from truth_seen import look

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.job import Job
    from copydesk.tracking.fit.stretches import Need
    from copydesk.tracking.state.book_state import BookState
    from truth_seen import Seen


REMEDIES = 2
"""Of so many steps the remedies are tried at one, as trying them takes longest."""


def contradictions(job: Job, seen: Seen | None = None) -> list[str]:
    """Everything that two places say otherwise of the book as it stands, a sentence each."""
    seen = seen or look(job)
    return [f"{check.__name__}: {each}" for check in CHECKS for each in check(seen)]


def text(seen: Seen) -> Iterator[str]:
    """No word is lost or doubled without being told."""
    state, reached = seen.state, 0
    for row in seen.pages:
        gap, overlap = row.get("gap_words", 0), row.get("overlap_words", 0)
        if row["from_word"] != reached + gap - overlap:
            yield f"{row['page']} begins at {row['from_word']}; {reached} reached, {gap} skipped, {overlap} doubled"
        reached = row["to_word"]
    end, budget = state.copy.word(state.copy.pieces), state.budget
    last = len(seen.pages) - 1
    left_out = last >= 0 and state.record(state.skin_at(last)).whole
    if reached != end and not budget.lines_without_room and not left_out:
        yield f"ends at {reached} of {end} words, and nothing is told to have no room"


def needed(seen: Seen) -> Iterator[str]:
    """Every place tells the same target for the same hand, and no remedy makes matters worse."""
    state, tail = seen.state, need_to_the_end(seen.state)
    everything = all(row["state"] in ("written", "checked", "corrected") for row in seen.pages)
    if (tail is None) != (state.budget.lines_without_room == 0) and not everything:
        yield f"text without room: {state.budget.lines_without_room} lines; the end asks {tail}"
    if tail is not None and tail.over != state.budget.lines_without_room:
        yield f"the end is {tail.over} over, the plan says {state.budget.lines_without_room}"
    for need in (*needs(state), *((tail,) if tail is not None else ())):
        yield from _one_need(seen, need)
    given, room = seen.handover, seen.given.room
    said = next(line.says for line in handover_lines(state, seen.given) if line.head == "Room")
    need = room.need
    if need is not None:
        hands = [each.hand for each in need.targets]
        if (given["lines_over"], [each["hand"] for each in given["hands"]]) != (need.over, hands):
            yield f"handover {given['lines_over']} over, the stretch {need.over}"
        if need.over > 0 and "wider" in said:
            yield f"handover: {said}"
        if need.over and len(need.targets) > 1 and need.needed is not None and asked_words(need) not in said:
            yield f"handover asks {said}; the stretch {asked_words(need)}"


def _one_need(seen: Seen, need: Need) -> Iterator[str]:
    state, page = seen.state, Page.at(need.last)
    for index in range(need.first, need.last + 1):
        yield from _told_alike(seen, need, index)
    last = seen.pages[need.last]
    if need.held and max(last["over"], 0) != max(need.over, 0) and last["written"] <= last["budget"]:
        yield f"stretch to {page}: {need.over} over, its last page {last['over']}"
    for said in (need_words(need, state.book), need_in_short(need, state.book)):
        if need.over > 0 and "wider" in said:
            yield f"stretch to {page}: {said}"
    if not len(seen.job.ledger) % REMEDIES:
        yield from _remedies(seen, need)


def _remedies(seen: Seen, need: Need) -> Iterator[str]:
    """None of the ways to make a stretch fit makes matters worse, and those that do it come first."""
    state, page = seen.state, Page.at(need.last)
    remedies = remedies_for(state, need)
    data = REMEDIES_OF_PAGE.data((page, need, remedies))
    before, homeless = _over(state), set(state.budget.homeless)
    for each, remedy in zip(data["remedies"], remedies, strict=True):
        if each["lines_over"] > max(need.over, 0) or not 0 <= each["chance_to_fit"] <= 1:
            yield f"remedy {each['remedy']} for {page}: {each['lines_over']} over after {need.over}"
        after = state.supposing(remedy.acts)
        if _over(after) > before or set(after.budget.homeless) - homeless:
            yield f"remedy {each['remedy']} for {page}: {_over(after)} over in all after {before}"
        if each["lines_gained"] != need.over - each["lines_over"] or (each["fits"] and each["lines_over"] > 0):
            yield f"remedy {each['remedy']} for {page}: {each}"
    fits = [each["fits"] for each in data["remedies"]]
    if fits != sorted(fits, reverse=True):
        yield f"remedies for {page}: those that fit do not come first"


def _told_alike(seen: Seen, need: Need, index: int) -> Iterator[str]:
    """A page of a stretch, as the pages, the panel and the remedies tell it."""
    row, known = seen.pages[index], need_from(seen.state, index)
    if need.held:
        stretch, at = row.get("stretch"), need_at(seen.state, index)
        told = stretch and (stretch["from"], stretch["to"], stretch["lines_over"], stretch["verdict"])
        if told != (str(Page.at(need.first)), str(Page.at(need.last)), need.over, need.verdict) or at is None:
            yield f"{row['page']}: {told}, the stretch {need}"
        elif stretch is not None:
            asked = {each["hand"]: each["letters_needed"] for each in stretch["hands"]}
            if at.hand in asked and asked[at.hand] != stretch["letters_needed"]:
                yield f"{row['page']}: {stretch}, of its hand {at.hand} {asked[at.hand]}"
    if known is None or (known.first, known.last, known.over) != (need.first, need.last, need.over):
        yield f"{row['page']}: remedies are asked for {known}, the stretch is {need}"


def _over(state: BookState) -> int:
    return sum(max(each.over, 0) for each in state.budget.stretches) + state.budget.lines_without_room


CHECKS = (
    text,
    truth_pages.pages,
    truth_pages.gatherings,
    needed,
    truth_papers.plan,
    truth_papers.hands,
    truth_papers.spaces,
    truth_papers.handover,
    truth_papers.binder,
    truth_papers.papers,
    truth_papers.log,
)
"""Each gives what it has to say against a book, a sentence each."""
