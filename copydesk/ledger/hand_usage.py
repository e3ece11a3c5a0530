"""What the pages each hand has written tell of its set, by words where the text is known, else by its counts.

Only what a page tells anew is looked at again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.ledger.passages import newest_passages, usage_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from copydesk.book.copytext import CopyText
    from copydesk.book.fitting import Usage
    from copydesk.book.frame import Frame
    from copydesk.book.hand import HandSet
    from copydesk.ledger.counted_usage import Reach
    from copydesk.ledger.passages import Passage
    from copydesk.ledger.standing import Standing


class HandUsage:
    """Keeps what each passage told, so that only those changed are looked at again."""

    def __init__(self) -> None:
        self._known: dict[tuple[Passage | Reach, tuple[Frame, ...]], Usage] = {}
        self._copy: CopyText | None = None

    def of(self, standing: Standing, first: Mapping[str, HandSet]) -> dict[str, list[Usage]]:
        """The usages of each hand's newest pages in the order they were written.

        Args:
            standing: the book.
            first: the set of each hand before it wrote a page, from which it is looked for.
        """
        if standing.copy is not self._copy:
            self._known, self._copy = {}, standing.copy
        known: dict[tuple[Passage | Reach, tuple[Frame, ...]], Usage] = {}
        found: dict[str, list[Usage]] = {}
        newest, told_by = _evidence(standing)
        for hand, pieces in newest.items():
            if hand not in first:
                continue
            keys = [(piece, tuple(map(standing.frame_of, piece.pages))) for piece in pieces]
            for key in keys:
                known[key] = self._known.get(key) or told_by(standing.copy, *key, first[hand].letters_per_line)
            found[hand] = [known[key] for key in keys]
        self._known = known
        return found


def _evidence(standing: Standing) -> tuple[Mapping[str, Sequence[Passage | Reach]], Callable[..., Usage]]:
    """What was written that tells something, by hand, and what reads it."""
    if standing.exemplar is not None:
        return newest_passages(standing), usage_of
    from functools import partial

    from copydesk.ledger.counted_usage import newest_reaches, usage_of_reach

    return newest_reaches(standing), partial(usage_of_reach, standing.book.divisions)
