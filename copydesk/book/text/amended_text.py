"""The text as it is to be written: the exemplar with the departures made on purpose, and the way back."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.plan import Change
    from copydesk.book.text.exemplar import Block


class _Step(NamedTuple):
    """One change: exemplar words ``from_word`` to ``to_word`` stand at ``at``, as ``words`` written words."""

    from_word: int
    to_word: int
    at: int
    words: int


class Amended:
    """Words and blocks as written, with positions turned from the exemplar's to the written ones and back.

    A written word of a changed passage has the position of the passage's first words, so that every position
    that leaves this class is one of the exemplar's.
    """

    def __init__(self, words: Sequence[str], blocks: Sequence[Block], changes: Sequence[Change]) -> None:
        self._steps: list[_Step] = []
        self._length = len(words)
        self.words: Sequence[str] = words
        self.blocks: Sequence[Block] = blocks
        if changes:
            self._apply(words, blocks, changes)

    def _apply(self, words: Sequence[str], blocks: Sequence[Block], changes: Sequence[Change]) -> None:
        written: list[str] = []
        taken = 0
        for change in sorted(changes, key=lambda change: (change.from_word, change.to_word)):
            start = min(max(change.from_word, taken), len(words))
            end = min(max(change.to_word, start), len(words))
            new_words = change.write.split()
            written += words[taken:start]
            self._steps.append(_Step(start, end, len(written), len(new_words)))
            written += new_words
            taken = end
        written += words[taken:]
        self.words = written
        self.blocks = self._moved(blocks)

    def _moved(self, blocks: Sequence[Block]) -> list[Block]:
        """The blocks where they now stand, those left out whole gone; together they hold every word."""
        kept: list[Block] = []
        for block in blocks:
            start = self.written(block.start)
            if kept:
                kept[-1] = kept[-1]._replace(end=start)
                if kept[-1].start == start:
                    kept.pop()
            kept.append(block._replace(start=start if kept else 0))
        if kept:
            kept[-1] = kept[-1]._replace(end=len(self.words))
        return [block for block in kept if block.end > block.start] or _one_block(len(self.words))

    def written(self, word: int) -> int:
        """The written position of the exemplar's ``word``, or of what was added just before it.

        At the exemplar's end it is the end of what is written, words added there included.
        """
        if word >= self._length:
            return len(self.words)
        found = bisect_left(self._steps, word, key=lambda step: step.from_word)
        if not found:
            return word
        step = self._steps[found - 1]
        if word < step.to_word:
            return step.at + min(word - step.from_word, step.words)
        return step.at + step.words + word - step.to_word

    def exemplar(self, written: int) -> int:
        """The exemplar's position of a written word."""
        if not self._steps:
            return written
        found = bisect_right(self._steps, written, key=lambda step: step.at)
        if not found:
            return written
        step = self._steps[found - 1]
        inside = written - step.at
        if inside < step.words:
            return min(step.from_word + inside, max(step.to_word - 1, step.from_word))
        return step.to_word + inside - step.words


def _one_block(words: int) -> list[Block]:
    """All that is written, where nothing of the exemplar is."""
    from copydesk.book.text.exemplar import Block

    return [Block(0, words, "prose", 1, 1)] if words else []
