"""Progress is reported in order, and costs nothing of what is gone through."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.casting.line_breaking import Lines
from copydesk.book.common.progress import no_progress, part, with_progress
from copydesk.book.flow import Flow
from copydesk.book.text.copy_text import lay_text
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.letter_widths import WordWidths, width_table


class Enough(Exception):  # noqa: N818 - nothing is wrong
    """Whoever receives the reports wants no more."""


@given(st.lists(st.integers(), max_size=40), st.integers(1, 9))
def test_all_items_come_in_order_and_shares_grow(items: list[int], turn: int) -> None:
    shares: list[float] = []
    assert list(with_progress(items, shares.append, turn)) == items
    assert shares == sorted(set(shares))
    assert len(shares) == -(-len(items) // turn)
    assert all(0 <= share < 1 for share in shares)


def test_a_part_of_a_work_is_heard_as_that_part() -> None:
    shares: list[float] = []
    on_progress = part(shares.append, 0.25, 0.75)
    for share in (0.0, 0.5, 1.0):
        on_progress(share)
    assert shares == [0.25, 0.5, 0.75]


def test_whoever_hears_may_stop_the_work() -> None:
    def stop(share: float) -> None:
        if share > 0:
            raise Enough

    items = with_progress(range(9), stop, 3)
    assert [next(items) for _ in range(3)] == [0, 1, 2]
    with pytest.raises(Enough):
        next(items)


@pytest.mark.parametrize("divide", [None, lambda word: (2,) if len(word) > 3 else ()])
def test_text_of_many_turns_is_read_laid_and_broken_as_if_nobody_heard(divide: object) -> None:
    text = "# A title\n\n" + "plain words go on and on over the page\n" * 26_000
    shares: list[float] = []
    exemplar = read_exemplar(text, shares.append)
    assert len(shares) > 20
    assert exemplar == read_exemplar(text)
    widths = WordWidths(width_table("relative"))
    shares.clear()
    laid = lay_text(exemplar, widths, Flow(), divide=divide, on_progress=shares.append)  # type: ignore[arg-type]
    assert len(shares) > 2
    quiet = lay_text(exemplar, widths, Flow(), divide=divide, on_progress=no_progress)  # type: ignore[arg-type]
    assert laid.sums == quiet.sums
    shares.clear()
    lines = Lines(laid, 30 * laid.mean, on_progress=shares.append)
    assert len(shares) > 2
    assert shares == sorted(shares)
    assert lines.starts == Lines(quiet, 30 * quiet.mean).starts
