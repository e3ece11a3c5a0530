"""What a check records, and the way of a page from faults to mended, corrected, and opened again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page
from copydesk.tracking.checking.page_compare import PageComparison, compare_page
from copydesk.tracking.commands.check_commands import checker_words, note_comparison, read_to, sort_faults
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.page_record import PageRecord

FIRST = Page.parse("1r")


def written() -> TextBook:
    book = TextBook()
    book.write("1r")
    return book


def record(book: TextBook) -> PageRecord:
    return book.state.record(book.state.skin_at(0))


def typed(book: TextBook, *, without_line: int = 0) -> tuple[str, PageComparison]:
    lines = book.lines("1r")
    text = "\n".join(line for number, line in enumerate(lines, start=1) if number != without_line)
    return text, compare_page(book.state, 0, text)


def note(book: TextBook, text: str, compared: PageComparison, hand: str = "B", *, checked: bool = False) -> list[str]:
    new = sort_faults(record(book), compared, text).new
    acts = note_comparison(book.state, compared, text, new, checked=checked)
    return [book.do(act, hand).what for act in acts]


def test_from_a_transcription_to_corrected_and_opened_again() -> None:
    book = written()
    text, compared = typed(book, without_line=4)
    assert note(book, text, compared, checked=True) == ["transcribed", "fault", "checked"]
    (fault,) = record(book).open_faults
    missing = book.lines("1r")[3]
    assert (fault.should, fault.line, fault.found_by, record(book).state) == (missing, 3, "B", "checked")
    book.do(book.commands.mend(FIRST, fault.id, "in the margin"))
    assert (record(book).state, record(book).transcription) == ("corrected", text)
    book.write("1r", to_line=10)
    again = record(book)
    assert (again.state, again.checked_by, again.written_again, again.transcription) == ("written", "", True, None)
    clean, compared = typed(book)
    assert note(book, clean, compared, checked=True) == ["transcribed", "checked"]
    assert record(book).state == "corrected"


def test_a_fault_found_again_is_noted_once() -> None:
    book = written()
    text, compared = typed(book, without_line=4)
    note(book, text, compared)
    assert note(book, text, compared) == []
    assert note(book, f"{text}\n", compared) == ["transcribed"]
    assert len(record(book).faults) == 1


def test_a_mended_fault_found_in_a_new_transcription_was_not_put_right() -> None:
    book = written()
    text, compared = typed(book, without_line=4)
    note(book, text, compared)
    book.do(book.commands.mend(FIRST, "1", "interlined"))
    assert sort_faults(record(book), compared, text) == ((), compared.comparison.faults)
    assert sort_faults(record(book), compared, f"{text}\n").new == compared.comparison.faults


def test_a_wrong_place_is_not_recorded_as_faults() -> None:
    book = written()
    text = "\n".join(book.lines("4v"))
    compared = compare_page(book.state, 0, text)
    with pytest.raises(CopydeskError, match="that text belongs on 4v; nothing was recorded"):
        note_comparison(book.state, compared, text, ())


def test_a_page_not_written_keeps_no_transcription() -> None:
    book = TextBook()
    text, compared = typed(book)
    with pytest.raises(CopydeskError, match="not written yet"):
        note_comparison(book.state, compared, text, ())


def test_half_a_page_is_not_checked_by_its_transcription() -> None:
    book = written()
    text = "\n".join(book.lines("1r")[:5])
    compared = compare_page(book.state, 0, text)
    assert [act.what for act in note_comparison(book.state, compared, text, ())] == ["transcribed"]
    with pytest.raises(CopydeskError, match=r"not typed to its end, \d+ words are still to come"):
        note_comparison(book.state, compared, text, (), checked=True)


def test_a_reading_is_kept_until_the_check_is_made_or_its_lines_are_written_anew() -> None:
    book = written()
    book.do(read_to(book.state, FIRST, 6), "B")
    assert (record(book).read_to, record(book).read_by, record(book).state) == (6, "B", "written")
    book.do(book.commands.check(FIRST), "B")
    assert (record(book).read_to, record(book).checked_by) == (0, "B")
    book = written()
    book.do(read_to(book.state, FIRST, 6), "B")
    book.write("1r", to_line=10)
    assert record(book).read_to == 0


@pytest.mark.parametrize("line", [0, 11])
def test_a_page_is_read_only_as_far_as_it_is_written(line: int) -> None:
    with pytest.raises(CopydeskError, match="10 lines written, so it cannot be read to line"):
        read_to(written().state, FIRST, line)


def test_the_writer_is_told_before_checking_alone() -> None:
    book = written()
    assert checker_words(book.state, FIRST, "A") == (
        "A wrote 1r, so its check is marked as its own writer's; B would see more."
    )
    assert checker_words(book.state, FIRST, "B") == ""
    book.do(book.commands.check(FIRST), "A")
    assert record(book).self_checked
