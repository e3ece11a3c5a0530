"""Text broken into lines, and lines into pages, against a line breaker of others and against handbooks."""

from __future__ import annotations

import textwrap
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.casting.closeness import count_lines
from copydesk.book.casting.line_breaking import Lines
from copydesk.book.casting.page_casting import Caster
from copydesk.book.flow import CountedDivision, Flow
from copydesk.book.layout.page_frame import Cursor, Frame
from copydesk.book.text.copy_text import CopyText, lay_text
from copydesk.book.text.counted_text import lay_counts
from copydesk.book.text.exemplar import Exemplar, read_exemplar
from copydesk.book.text.letter_widths import EQUAL, WordWidths

SHIPPED = Path(__file__).parents[2] / "projects" / "twelve-waters" / "exemplar.txt"


@cache
def shipped() -> Exemplar:
    return read_exemplar(SHIPPED.read_text("utf-8"))


@cache
def equal_widths() -> CopyText:
    return lay_text(shipped(), WordWidths(EQUAL), Flow())


def shown(copy: CopyText, measure: float) -> list[str]:
    lines = Lines(copy, measure)
    return [copy.line_text(start, end) for start, end in pairwise([*lines.starts, copy.pieces])]


def wrapped(paragraphs: list[str], width: int, *, break_long: bool) -> list[str]:
    """The standard library's textwrap, words parted at white space alone; a space it leaves at a line's end dropped."""
    wrapper = textwrap.TextWrapper(width, break_long_words=break_long, break_on_hyphens=False)
    return [line.rstrip() for paragraph in paragraphs for line in wrapper.wrap(paragraph)]


@pytest.mark.parametrize("width", [20, 28, 33, 40, 50, 66, 80])
def test_equal_widths_break_as_the_standard_librarys_textwrap(width: int) -> None:
    """Every line of a real text, at seven widths: Python's textwrap, which fills lines as far as they go."""
    read = shipped()
    blocks = [" ".join(read.words[block.start : block.end]) for block in read.blocks]
    expected = wrapped(blocks, width, break_long=False)
    assert shown(equal_widths(), width) == expected
    assert len(Lines(equal_widths(), width)) == len(expected)


WORD = st.text("abcdefgh-.,", min_size=1, max_size=12)
PARAGRAPHS = st.lists(st.lists(WORD, min_size=1, max_size=60).map(" ".join), min_size=1, max_size=4)


def laid(paragraphs: list[str], *, widest: float | None = None) -> CopyText:
    return lay_text(read_exemplar("\n\n".join(paragraphs)), WordWidths(EQUAL), Flow(), widest=widest)


@given(PARAGRAPHS, st.integers(12, 60))
@settings(max_examples=120, deadline=None)
def test_any_text_breaks_as_textwrap_breaks_it(paragraphs: list[str], width: int) -> None:
    assert shown(laid(paragraphs), width) == wrapped(paragraphs, width, break_long=False)


@given(PARAGRAPHS, st.integers(2, 11))
@settings(max_examples=120, deadline=None)
def test_words_longer_than_a_line_stand_alone_as_in_textwrap(paragraphs: list[str], width: int) -> None:
    assert shown(laid(paragraphs), width) == wrapped(paragraphs, width, break_long=False)


@given(PARAGRAPHS, st.integers(3, 11))
@settings(max_examples=120, deadline=None)
def test_words_longer_than_a_line_are_broken_as_textwrap_breaks_them(paragraphs: list[str], width: int) -> None:
    """textwrap with long words broken, which begins such a word in what room the line before leaves, as we do."""
    assert shown(laid(paragraphs, widest=width), width) == wrapped(paragraphs, width, break_long=True)


class FontWidths(dict[str, float]):
    """Widths of words in a typeface, in thousandths of its size, as the font file gives them."""

    def __init__(self, name: str) -> None:
        super().__init__()
        from reportlab.pdfbase.pdfmetrics import getFont

        self._face = getFont(name).face  # type: ignore[attr-defined]
        self.space = float(self._width(" "))

    def _width(self, letter: str) -> float:
        return float(self._face.charWidths.get(ord(letter), self._face.defaultWidth))

    def __missing__(self, word: str) -> float:
        width = self[word] = sum(map(self._width, word))
        return width


@cache
def in_type() -> CopyText:
    import reportlab
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    registerFont(TTFont("Vera", str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    return lay_text(shipped(), FontWidths("Vera"), Flow())


@pytest.mark.parametrize("millimetres", [40, 60, 75, 90, 110, 130, 150])
def test_letters_of_different_width_break_as_a_printing_library_breaks_them(millimetres: int) -> None:
    """Every line of a real text in Bitstream Vera 12 pt: ReportLab's simpleSplit (BSD), which measures by the font."""
    from reportlab.lib.units import mm
    from reportlab.lib.utils import simpleSplit

    copy, read = in_type(), shipped()
    expected = [
        line
        for block in read.blocks
        for line in simpleSplit(" ".join(read.words[block.start : block.end]), "Vera", 12, millimetres * mm)
    ]
    assert shown(copy, millimetres * mm * 1000 / 12) == expected


def test_fifty_words_at_four_a_line_take_thirteen_lines() -> None:
    """E. Johnston, Writing & Illuminating, & Lettering (1906), 94, Problem I: 50 words, 4 a line, 12 1/2, say 13."""
    words = lay_text(read_exemplar(" ".join(["word"] * 50)), WordWidths(EQUAL), Flow())
    assert len(Lines(words, 4 * len("word ") - 1)) == 13
    counted = lay_counts([CountedDivision("Problem I", words=50)], Flow())
    assert count_lines(counted, 0, counted.pieces, 4 * counted.letters / 50) == 13


def test_three_verses_of_four_lines_and_two_blank_make_fourteen() -> None:
    """E. Johnston, the same, 97, Problem II: 3 verses of 4 lines and 2 blank lines are 14 lines of 3/4 inch, 10 1/2."""
    text = "\n\n".join("\n".join(["| a line of verse"] * 4) for _ in range(3))
    copy = lay_text(read_exemplar(text), WordWidths(EQUAL), Flow())
    stanzas = len({block.paragraph for block in copy.written.blocks}) if copy.written else 0
    lines = len(Lines(copy, 40)) + stanzas - 1
    assert (lines, lines * 0.75, 17 - lines * 0.75) == (14, 10.5, 6.5)


def test_the_lines_of_an_edition_in_pages_of_a_manuscript() -> None:
    """E. A. Lowe and E. K. Rand, A Sixth-Century Fragment (1922): 1,691 lines of an edition, 29 to a page, 58.3 pages.

    The pages found were 58. The same count, cast through pages that hold 29 lines of the edition each.
    """
    letters = 45
    copy = lay_counts([CountedDivision("the missing leaves", lines=1691)], Flow(), exemplar_letters=letters)
    caster, cursor, filled = Caster(Lines(copy, letters * copy.grain), ()), Cursor(0), list[float]()
    while cursor.piece < copy.pieces:
        page = caster.page(cursor, Frame(1, 29), recto=len(filled) % 2 == 0, limit=copy.pieces)
        cursor = page.end
        filled.append(page.lines / page.room)
    assert sum(filled) == pytest.approx(58.3, abs=0.05)
    assert filled.count(1.0) == 58
