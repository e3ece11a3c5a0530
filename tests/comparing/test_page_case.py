"""The page in hand: words by their keys, places, whole lines of the exemplar, and how a fault is put down."""

from __future__ import annotations

from copydesk.comparing.normalization import Allowances
from copydesk.comparing.page_case import Case, SpanPair

EXEMPLAR = ["the", "mill", "-", "by", "the", "pond", "stood", "still"]
COPIED = ["the", "mill", "by", ",", "the", "pond", "stood"]


def a_case(**known: object) -> Case:
    """Words without a key (``-`` and ``,``) are left out of ``copy`` and ``text``."""
    return Case(
        COPIED,
        EXEMPLAR,
        *(["the", "mill", "by", "the", "pond", "stood"], [0, 1, 2, 4, 5, 6]),
        *(["the", "mill", "by", "the", "pond", "stood", "still"], [0, 1, 3, 4, 5, 6, 7]),
        Allowances(),
        **known,  # type: ignore[arg-type]
    )


def test_words_come_back_with_the_marks_between_them() -> None:
    case = a_case()
    assert case.stands(2, 4) == ["by", ",", "the"]
    assert case.should(1, 3) == ["mill", "-", "by"]
    assert case.stands(3, 3) == case.should(3, 3) == []


def test_positions_past_the_end_are_those_after_the_last_word() -> None:
    case = a_case()
    assert (case.position(2), case.position(7), case.index(3), case.index(6)) == (3, 8, 4, 7)
    assert case.beginnings([0, 3, 8, 99]) == (0, 2, 7)


def test_whole_lines_are_counted_only_between_beginnings() -> None:
    case = a_case(lines=(0, 2, 5), leaves=(0, 5))
    assert [case.whole_lines(*span) for span in ((0, 2), (0, 5), (1, 5), (2, 6))] == [1, 2, 0, 0]
    assert (case.whole_leaves(0, 5), case.whole_leaves(0, 2)) == (1, 0)
    assert case.in_line(3) == (1, len("by"))
    assert a_case().in_line(3) == (-1, -1)


def test_a_fault_stands_at_its_words_and_a_loss_at_the_word_before() -> None:
    case = a_case(places=[(1, at + 1) for at in range(len(COPIED))])
    wrong = case.fault("substitution", SpanPair(4, 5, 4, 5), "said")
    assert (wrong.line, wrong.word, wrong.stands, wrong.should, wrong.at, wrong.run) == (6, 5, "pond", "pond", 5, 1)
    lost = case.fault("omission", SpanPair(6, 6, 6, 7), "said", "a cause")
    assert (lost.line, lost.word, lost.stands, lost.should, lost.at, lost.cause) == (7, 7, "", "still", 7, "a cause")
    assert case.fault("line displaced", SpanPair(4, 5, 1, 2), "said", empty=True).should == ""
