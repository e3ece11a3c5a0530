"""A sample of a hand: read, and fitted."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.hands.hand_fit import ragged_loss
from copydesk.book.hands.hand_sample import SampleLine, fit_scale, from_sample, read_sample
from copydesk.book.text.letter_widths import EQUAL, RELATIVE, WordWidths


def test_a_sample_file_is_read_line_by_line() -> None:
    lines = read_sample("the mill by the\t52.5\nford had stood\n\nidle since\t31 mm\n", "b.txt")
    assert [line.words for line in lines] == [
        ("the", "mill", "by", "the"),
        ("ford", "had", "stood"),
        ("idle", "since"),
    ]
    assert [line.length for line in lines] == [52.5, None, 31.0]
    assert [line.goes_on for line in lines] == [True, False, False]


def test_windows_line_ends_and_a_byte_order_mark_are_no_letters() -> None:
    lines = read_sample("\ufeffthe mill\t50\r\nford\r\n", "b.txt")
    assert lines[0] == SampleLine(("the", "mill"), 50.0)
    assert lines[1].words == ("ford",)


@pytest.mark.parametrize("given", ["wide", "0", "-3", "nan", "inf", "99999", ""])
def test_a_length_that_is_none_is_named_by_its_place(given: str) -> None:
    with pytest.raises(CopydeskError) as refused:
        read_sample(f"the mill\t50\nford had\t{given}\n", "samples/b.txt")
    (problem,) = refused.value.problems
    assert (problem.file, problem.line, problem.column) == ("samples/b.txt", 2, 10)
    assert "length in mm" in problem.what


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(CopydeskError) as refused:
        read_sample("one\tx\ntwo\ty\n", "b.txt")
    assert len(refused.value.problems) == 2


@pytest.mark.parametrize("text", ["", "\n \n", "\t12\n"])
def test_an_empty_sample_is_refused(text: str) -> None:
    with pytest.raises(CopydeskError, match="no lines in this sample"):
        read_sample(text, "b.txt")


def test_a_measured_line_gives_the_scale() -> None:
    widths = WordWidths(EQUAL)
    lines = [SampleLine(("abcd", "efgh"), 18.0), SampleLine(("abcde", "fghij", "klmno"), 34.0)]
    hand = from_sample(lines, measure=60, widths=widths)
    assert hand.letters_per_line == pytest.approx(30)
    assert hand.source == "sample"
    assert hand.low < 30 < hand.high


def test_an_unmeasured_line_is_half_a_word_short_of_full() -> None:
    lines = [SampleLine(("abcd", "efgh")), SampleLine(("ijklm", "nop")), SampleLine(("qrstu",), goes_on=False)]
    hand = from_sample(lines, measure=60, widths=WordWidths(EQUAL))
    assert hand.letters_per_line == pytest.approx(9 + 6 / 2)


def test_the_last_line_of_a_paragraph_is_not_taken_for_a_full_one() -> None:
    full = [SampleLine(("abcd", "efgh")), SampleLine(("ijklm", "nop"))]
    short = [*full, SampleLine(("a",), goes_on=False), SampleLine(("abcd", "efgh"), goes_on=False)]
    widths = WordWidths(EQUAL)
    assert from_sample(short, 60, widths).letters_per_line > 10


def test_a_lone_line_is_believed_less() -> None:
    widths = WordWidths(RELATIVE)
    lone = [SampleLine(("the", "mill", "by", "the", "ford"), goes_on=False)]
    hand = from_sample(lone, measure=60, widths=widths)
    written = RELATIVE.width_of("the mill by the ford")
    assert hand.letters_per_line == pytest.approx(written + ragged_loss(lone[0].words, widths))
    assert hand.high - hand.low > hand.letters_per_line / 4


def test_a_hand_that_breaks_anywhere_fills_its_lines() -> None:
    lines = [SampleLine(("abcd", "efgh")), SampleLine(("ijklm", "nop")), SampleLine(("qrstu",), goes_on=False)]
    assert from_sample(lines, 60, WordWidths(EQUAL), piece=1.0).letters_per_line == pytest.approx(9.5)


def test_letters_are_those_of_the_text_to_be_written() -> None:
    lines = [SampleLine(("abcd", "efgh"), 18.0)]
    widths = WordWidths(EQUAL)
    plain, wide = from_sample(lines, 60, widths), from_sample(lines, 60, widths, mean=1.25)
    assert wide.letters_per_line == pytest.approx(plain.letters_per_line / 1.25)
    assert wide.error / wide.letters_per_line == pytest.approx(plain.error / plain.letters_per_line)


def test_lines_of_both_kinds_are_weighed_together() -> None:
    widths = WordWidths(EQUAL)
    measured = [SampleLine(("abcd", "efgh"), 18.0)]
    full = [SampleLine(("abcde", "fghij", "klmno", "pqrst", "uvwxy")), SampleLine(("ab", "cd"), goes_on=False)]
    apart = [from_sample(each, 60, widths).letters_per_line for each in (measured, full)]
    together = from_sample([*measured, *full], 60, widths).letters_per_line
    assert min(apart) - 0.01 <= together <= max(apart) + 0.5


def test_lines_without_letters_are_refused() -> None:
    with pytest.raises(CopydeskError, match="hold no letters"):
        from_sample([SampleLine(("\u200b",), 20.0)], 60, WordWidths(RELATIVE))


def test_scatter_shows_in_the_error_of_the_scale() -> None:
    even = fit_scale([10, 20, 30, 40], [20, 40, 60, 80])
    uneven = fit_scale([10, 20, 30, 40], [26, 34, 66, 74])
    assert even.value == pytest.approx(2)
    assert uneven.error > 2 * even.error
