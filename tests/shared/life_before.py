"""A book before something is done to it, and what is to be said of it after."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.structure.page import Page
from copydesk.desk.wording.stretch_words import after_sentences
from copydesk.tracking.views.page_report import page_reports
from copydesk.tracking.views.space_homes import space_homes
from truth_seen import look, told

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from copydesk.job import Job
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.views.space_homes import Home


class Before:
    """A book before something is done to it, for what is to be said of it after."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.told = told(look(job))
        self.homes: Mapping[str, Home] = space_homes(job.state)
        self.amiss = _text_amiss(job)
        self.measures = dict(job.state.measures)
        copy = job.state.copy
        self.in_words = {
            str(Page.at(at)): all(copy.piece(copy.word(piece)) == piece for piece in (page.start, page.end))
            for at, page in enumerate(job.state.budget.pages)
        }
        self.hands = {str(Page.at(at)): job.state.hand_on(at) for at in range(job.state.collation.pages)}

    def unsaid(self, said: list[str], own: set[str]) -> Iterator[str]:
        """Spaces that lost their place or moved, of which the reply says nothing; those in ``own`` were meant to.

        And text that is now skipped, doubled, over or without room.
        """
        state, words = self.job.state, " ".join(said)
        yield from self._text_unsaid(words)
        after = space_homes(state)
        for name, home in self.homes.items():
            new = after.get(name)
            if state.plan_of(name) is None or name in own or f"pace {name} " in words:
                continue
            if new is None or (new.page != home.page and new.skin != home.skin):
                there = "nowhere" if new is None else f"on {Page.at(new.page)}"
                yield f"space {name} was on {Page.at(home.page)}, is {there}, and nothing said so"

    def moved_as_planned(self, entries: Sequence[Entry]) -> Iterator[str]:
        """Text and spaces that moved though a page was recorded just as planned.

        A page planned to begin or end within a word (of a text that is counted, or broken anywhere) is recorded by
        whole words, so what follows moves by a part of one; it is left out.
        """
        entry, planned = entries[0], self.told.get(f"page {entries[0].page}")
        if entry.what != "written" or len(entries) > 1 or self.measures != self.job.state.measures:
            return
        if entry.hand != self.hands.get(entry.page) or not self.in_words.get(entry.page):
            return  # another hand than was expected goes on
        span = (entry.number("from_word"), entry.number("to_word"))
        if not isinstance(planned, dict) or span != (planned["from_word"], planned["to_word"]):
            return
        keys = {"page": ("from_word", "to_word"), "space": ("page",)}
        for name, now in told(look(self.job)).items():
            was = self.told.get(name)
            for key in keys.get(name.split()[0], ()):
                if isinstance(was, dict) and isinstance(now, dict) and was.get(key) != now.get(key):
                    yield f"{entry.page} written as planned, and {name}, {key} {was.get(key)} is {now.get(key)}"

    def _text_unsaid(self, words: str) -> Iterator[str]:
        after, words = _text_amiss(self.job), words.casefold()
        for where, (amount, said) in after.items():
            if amount > self.amiss.get(where, (0, ""))[0] and said.casefold() not in words:
                yield f"{said}, where it was {self.amiss.get(where, (0, ''))[0]}, and nothing said so"


def _text_amiss(job: Job) -> dict[str, tuple[int, str]]:
    """What is amiss with the text, by the skin: how much, and words that any reply on it has."""
    state, found = job.state, dict[str, tuple[int, str]]()
    for account in page_reports(state):
        skin = state.skin_at(account.page.index)
        found[f"gap {skin}"] = (account.gap_words, f"{count_of(account.gap_words, 'word')} skipped")
        found[f"overlap {skin}"] = (account.overlap_words, f"{count_of(account.overlap_words, 'word')} stand")
    for each in state.budget.stretches:
        found[f"over {state.skin_at(each.last)}"] = (max(each.over, 0), f"{count_of(each.over, 'line')} over")
    lines = state.budget.lines_without_room
    return {**found, "end": (lines, count_of(lines, "line"))}


def reply(job: Job, entries: list[Entry]) -> list[str]:
    """What the desk, the line desk and the command line say followed."""
    return [*(said for entry in entries for said in after_sentences(job.state, entry)), *job.also]
