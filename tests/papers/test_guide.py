"""The guide, read back out of the finished PDF: where its words stand, and that all guides together are the text."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import pdfplumber
import pytest
from lxml import etree

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import Flow
from copydesk.book.plan import Anchor, Change, Columns, Flaw, Margins, PageSize, Ruling, Script, SpacePlan
from copydesk.book.structure.gathering import SheetSide
from copydesk.book.structure.page import Page
from copydesk.book.structure.sheets import find_sheet
from copydesk.papers.catalogue import usual_name
from copydesk.papers.drawing.shapes import LOOKS
from copydesk.tracking.scribes.guide_lines import guide
from papers_made import made, ordered
from small_book import SmallBook
from text_book import TextBook

if TYPE_CHECKING:
    from collections.abc import Iterator

MM = 25.4 / 72
NEAR = 0.1
HOLE = Flaw(1, 40.0, 35.0, 12.0, 16.0)
INITIAL = SpacePlan("first", "initial", Anchor(division=1, paragraph=1), 3, guide_letter="W", width=18.0)
PICTURE = SpacePlan("mill", "miniature", Anchor(page="2r", line=3), 4)
BOOKS: dict[str, dict[str, Any]] = {
    "plain": {},
    "two columns": {"columns": Columns(2, 6.0)},
    "first line above": {"ruling": Ruling(lines=10, first_line="above")},
    "an initial and a picture": {"spaces": (INITIAL, PICTURE)},
    "a hole, written on one side": {"flaws": (HOLE,), "flow": Flow(holes="one side")},
    "a hole, written on both sides": {"flaws": (HOLE,)},
    "words broken anywhere": {"line_breaks": "anywhere"},
    "a nib": {"script": Script(nib=1.2, x_height=4.0)},
}
EVERY = pytest.mark.parametrize("changes", BOOKS.values(), ids=BOOKS)


def colour(pen: str) -> tuple[float, ...]:
    look = LOOKS[pen]  # type: ignore[index]
    return tuple(round(int(look.colour[at : at + 2], 16) / 255, 3) for at in (1, 3, 5))


def edges(page: Any) -> tuple[float, float]:
    """Where the page drawn on a sheet of paper has its left and its head edge, in points."""
    lines = [line for line in page.lines if abs(line["linewidth"] * MM - 0.3) < 1e-3]
    return min(line["x0"] for line in lines), min(line["top"] for line in lines)


def ruled(page: Any) -> list[float]:
    """The heights of the ruled lines from the head edge, in mm."""
    head = edges(page)[1]
    pens = {colour("ruled"), colour("pale")}
    level = [line for line in page.lines if line["height"] < 1e-3 and line["width"] > 10]
    return sorted({
        round((line["top"] - head) * MM, 3)
        for line in level
        if tuple(round(part, 3) for part in line["stroking_color"]) in pens
    })  # fmt: skip


def text_marks(page: Any, *, least: float = 3.0) -> Iterator[dict[str, Any]]:
    """The letters of the text on a guide in the order they were set, each with its baseline and mm from the edges."""
    left, head = edges(page)
    for char in page.chars:
        size = char["size"] if char["upright"] else 0.0
        baseline = (page.height - char["matrix"][5] - head) * MM
        if size * MM >= least and baseline > 0:
            yield {"text": char["text"], "baseline": baseline, "left": (char["x0"] - left) * MM}


def letters(pdf: bytes, lines: int) -> str:
    """The letters on the lines of a guide, without blanks."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        (page,) = read.pages
        last = ruled(page)[-1]
        return "".join(mark["text"] for mark in text_marks(page) if mark["baseline"] < last + 1).replace(" ", "")


@EVERY
def test_words_stand_on_the_lines_of_the_ruling_paper(changes: dict[str, Any]) -> None:
    book = SmallBook(**changes)
    for page in ("1r", "1v", "2r"):
        with (
            pdfplumber.open(io.BytesIO(made(book, "ruling", page=page))) as ruling,
            pdfplumber.open(io.BytesIO(made(book, "guide", page=page))) as guided,
        ):
            lines = ruled(ruling.pages[0])
            assert ruled(guided.pages[0]) == pytest.approx(lines, abs=NEAR)
            marks = list(text_marks(guided.pages[0]))
            assert len(marks) > 20
            for mark in marks:
                if mark["baseline"] < lines[-1] + 1:  # below them stand catchword and signature
                    assert min(abs(mark["baseline"] - line) for line in lines) < NEAR


@EVERY
def test_all_guides_together_are_the_exemplar_with_its_changes(changes: dict[str, Any]) -> None:
    made_on_purpose = (Change(5, 7, "eins zwei drei"), Change(30, 31, ""), Change(200, 200, "added"))
    book = SmallBook(words=420, changes=made_on_purpose, **changes)
    words = [f"w{number}" for number in range(420)]
    words[200:200] = ["added"]
    words[30:31] = []
    words[5:7] = ["eins", "zwei", "drei"]
    found, told = "", []
    for index, budget in enumerate(book.state.budget.pages):
        if budget.start < budget.end:
            found += letters(made(book, "guide", page=str(Page.at(index))), 10)
            told += [line.text for line in guide(book.state, Page.at(index)).lines]
    assert found.replace("-", "") == "".join(words)
    assert (" ".join(told).split() == words) == ("line_breaks" not in changes)


@EVERY
def test_no_word_stands_outside_its_room(changes: dict[str, Any]) -> None:
    book = SmallBook(**changes)
    layout = book.state.layout
    for page in ("1r", "1v", "2r", "2v"):
        found = guide(book.state, Page.parse(page))
        for line in found.lines:
            for word in line.words:
                assert any(
                    left - 1e-6 <= word.left and word.left + word.width <= right + 1e-6 for left, right in line.room
                )
            assert line.spare_mm == pytest.approx(line.spare_letters * layout.measure / found.letters)
            assert line.spare_mm >= -1e-6


def test_letters_to_spare_are_those_of_the_line() -> None:
    # letters of equal width, twenty to a line of 70 mm, so 3.5 mm each: five words of three make nineteen
    (first, _, _, fourth, *_) = guide(SmallBook().state, Page.parse("1r")).lines
    assert (first.text, first.spare_mm) == ("w0 w1 w2 w3 w4 w5 w6", pytest.approx(0))
    assert fourth.text == "w18 w19 w20 w21 w22"
    assert fourth.spare_letters == pytest.approx(1)
    assert fourth.spare_mm == pytest.approx(3.5)
    assert [round(word.left, 3) for word in fourth.words] == [0.0, 14.0, 28.0, 42.0, 56.0]


def test_beside_a_hole_the_text_goes_on_as_the_workshop_does() -> None:
    def rooms(**flow: Any) -> set[int]:
        book = SmallBook(flaws=(HOLE,), flow=Flow(**flow))
        return {len(line.room) for line in guide(book.state, Page.parse("1r")).lines if line.room[0] != (0.0, 70.0)}

    assert rooms(holes="one side") == {1}
    assert rooms(holes="both sides") == {2}


def test_a_page_begun_shows_what_is_left() -> None:
    book = SmallBook()
    book.write("1r", to_line=4)
    found = guide(book.state, Page.parse("1r"))
    assert found.written == ((1, 1), (1, 2), (1, 3), (1, 4))
    assert [line.line for line in found.lines] == [5, 6, 7, 8, 9, 10]
    with pdfplumber.open(io.BytesIO(made(book, "guide", page="1r"))) as pdf:
        (page,) = pdf.pages
        assert sum(abs(box["width"] * MM - 70) < 0.1 and abs(box["height"] * MM - 8) < 0.1 for box in page.rects) == 4
        assert min(mark["baseline"] for mark in text_marks(page)) == pytest.approx(10 + 5 * 10, abs=NEAR)


def test_a_line_stopped_within_shows_the_rest_of_it() -> None:
    book = SmallBook()
    words = guide(book.state, Page.parse("1r")).lines[3].words
    book.do(book.commands.write(Page.parse("1r"), to_line=4, ends=words[2].text, within=True))
    line = guide(book.state, Page.parse("1r")).lines[0]
    assert (line.line, line.text) == (4, " ".join(word.text for word in words[3:]))
    assert line.words[0].left == pytest.approx(words[3].left)
    assert line.written == pytest.approx(words[3].left)


def test_text_without_room_is_told() -> None:
    book = SmallBook(words=900)
    book.do(book.commands.rule(Page.parse("1r")))
    second = book.state.copy.word(book.state.budget.pages[1].start)
    book.do(book.commands.write(Page.parse("1v"), begins=f"w{second + 12}"))
    found = guide(book.state, Page.parse("1r"))
    assert found.without_room.split() == [f"w{word}" for word in range(second, second + 12)]
    assert "No line has room for:" in made(book, "guide", "text", "1r").decode()


def test_a_side_of_a_sheet_shows_both_its_pages_as_they_lie() -> None:
    book = SmallBook()
    sheet = find_sheet(book.state.collation, "1.1")
    text = made(book, "guide", "text", sheet=sheet, side=SheetSide.OUTER).decode()
    assert text.index("A small book: guide, 4v") < text.index("A small book: guide, 1r")
    with pdfplumber.open(io.BytesIO(made(book, "guide", sheet=sheet, side=SheetSide.INNER, paper="letter"))) as pdf:
        (page,) = pdf.pages
        begins = [mark["left"] for mark in text_marks(page) if mark["baseline"] < 21]
    # a verso has its outer margin of 20 mm at the left, the recto beside it its inner one of 10
    assert begins[0] == pytest.approx(20, abs=0.5)
    assert any(left == pytest.approx(100 + 10, abs=0.5) for left in begins)


def test_both_sides_of_a_sheet_are_two_drawings() -> None:
    book = SmallBook()
    sheet = find_sheet(book.state.collation, "1.1")
    with pdfplumber.open(io.BytesIO(made(book, "guide", sheet=sheet, paper="letter"))) as pdf:
        assert ["outer side" in page.extract_text() for page in pdf.pages] == [True, False]


def test_strips_hold_every_line_once_with_a_cut_between() -> None:
    book = SmallBook(columns=Columns(2, 6.0))
    with pdfplumber.open(io.BytesIO(made(book, "guide", page="1r", strips=True))) as pdf:
        (page,) = pdf.pages
        cuts = [line for line in page.lines if abs(line["linewidth"] * MM - LOOKS["cut"].width) < 1e-3]
        text = page.extract_text()
    lines = guide(book.state, Page.parse("1r")).lines
    wide = max(line["width"] for line in cuts)
    assert sum(line["width"] > wide - 1 for line in cuts) == len(lines) + 1
    assert all(line.text in text for line in lines)
    assert "1r 2.10" in text


def test_catchword_and_signature_stand_in_the_foot_margin() -> None:
    book = SmallBook()
    for page, words in (("1r", "a j"), ("4v", "w")):
        with pdfplumber.open(io.BytesIO(made(book, "guide", page=page))) as pdf:
            below = "".join(mark["text"] for mark in text_marks(pdf.pages[0]) if mark["baseline"] > 111)
        assert below.startswith(words)


def test_what_is_to_be_watched_is_marked_and_told() -> None:
    book = TextBook("river a river a mill a sail " * 12)
    found = guide(book.state, Page.parse("1r"))
    marked = [word for line in found.lines for word in line.words if word.watched]
    assert found.watch
    assert {number for word in marked for number in word.watched} == set(range(1, len(found.watch) + 1))
    assert {word.text for word in marked} == {"river"}
    assert f"1: {found.watch[0]}." in made(book, "guide", "text", "1r").decode()


def test_without_a_page_it_is_of_the_one_to_write_next() -> None:
    book = SmallBook()
    book.write("1r")
    assert made(book, "guide", "text").decode().startswith("A small book: guide, 1v: hand A")
    svg = etree.fromstring(made(book, "guide", "svg"))
    assert {element.get("lengthAdjust") for element in svg.iter("{*}text")} == {None, "spacingAndGlyphs"}


def test_what_has_no_guide_is_refused() -> None:
    book = SmallBook(words=300)
    book.write("1r")
    sheet = find_sheet(book.state.collation, "1.1")
    refused: list[tuple[dict[str, Any], str]] = [
        ({"page": "1r"}, "1r is written; a guide shows what is still to be written"),
        ({"page": "12v"}, "no text comes on 12v"),
        ({"page": "1v", "sheet": sheet}, "name a page or a sheet, not both"),
        ({"side": SheetSide.OUTER}, "a side is of a sheet"),
    ]
    for asked, says in refused:
        with pytest.raises(CopydeskError, match=says):
            made(book, "guide", **asked)
    for more in ({"sheet": sheet}, {"strips": True}):
        with pytest.raises(CopydeskError, match="the paper ruling is not made of a sheet or in strips; guide is"):
            made(book, "ruling", **more)


def test_files_are_named_for_what_they_show() -> None:
    book = SmallBook()
    sheet = find_sheet(book.state.collation, "1.2")
    assert usual_name("b", "guide", ordered(book, "pdf", "1v", strips=True)) == "b-guide-1v-strips.pdf"
    assert usual_name("b", "guide", ordered(book, "svg", sheet=sheet, side=SheetSide.INNER)) == "b-guide-1.2-inner.svg"


def test_a_large_page_is_spread_over_sheets_of_paper() -> None:
    book = SmallBook(page=PageSize(310, 430, Margins(30, 40, 60, 80)))
    with pdfplumber.open(io.BytesIO(made(book, "guide", page="1r"))) as pdf:
        assert len(pdf.pages) == 4


VERSES = "| one two\n|   four five six seven up\n| ten\n\n"
"""Three verses, the second indented by two letters and longer than a line of twenty."""


@pytest.mark.parametrize(("where", "line"), [("line above", 1), ("line below", 3)])
def test_the_end_of_a_long_verse_stands_in_the_line_above_or_below(where: str, line: int) -> None:
    book = TextBook(VERSES + "w " * 60, flow=Flow(long_verses=where))  # type: ignore[arg-type]
    verses = guide(book.state, Page.parse("1r")).lines[:3]
    assert [each.text for each in verses] == ["one two", "four five six seven up", "ten"]
    assert verses[1].words[0].left == pytest.approx(2 * 3.5)
    assert [word.off for word in verses[1].words] == [0, 0, 0, line - 2, line - 2]
    last = verses[1].words[-1]
    assert last.left + last.width == pytest.approx(70)
    with pdfplumber.open(io.BytesIO(made(book, "guide", page="1r"))) as pdf:
        on_line = [mark["text"] for mark in text_marks(pdf.pages[0]) if abs(mark["baseline"] - 10 - 10 * line) < NEAR]
    assert "sevenup" in "".join(on_line)


def test_verses_indented_and_parted_stand_where_they_will() -> None:
    book = TextBook("| one two\n|    four five\n\n| six\n\n" + "w " * 60, flow=Flow(between_stanzas=1))
    lines = guide(book.state, Page.parse("1r")).lines[:3]
    assert [(line.line, line.text) for line in lines] == [(1, "one two"), (2, "four five"), (4, "six")]
    assert [line.words[0].left for line in lines] == pytest.approx([0.0, lines[1].room[0][0], 0.0])
    assert lines[1].words[0].left > 3
