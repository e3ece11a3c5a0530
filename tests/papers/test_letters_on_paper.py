"""Papers whose text has letters of old books: every letter comes back out of the PDF, and one we lack is told."""

from __future__ import annotations

import io
import unicodedata
from datetime import UTC, datetime
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest
from pypdf import PdfReader

from copydesk.book.text.exemplar import read_exemplar
from copydesk.papers.catalogue import PaperRequest, make
from copydesk.papers.drawing.flowing_text import FlowingPaper
from copydesk.papers.drawing.paper_sheets import PAPERS, SheetOfPaper
from copydesk.papers.drawing.shapes import Words
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.job import Job

OLD = (
    "ꝑ ꝓ ꝗ ꝛ ꝝ ⁊ ſ ƿ ȝ đ ꝥ ꝺ ꝼ ꝩ ꝫ ꝭ ꝯ ꝰ ꝟ ꝡ þ ð æ ǣ ę ǫ ꜳ ꜹ ꟑ n̄ m̃ p̃ q̃ ḡ b̄ h̄ ē ū j̄ y̱ ę̄ ĝ̄ l̸ uͣ qͦ tͭ eᷓ nͥ eᵒ aᵉ iᵗ "
    "λόγος ἀρχή ᾠδή Слово ѣ ᚠᚢᚦ ᛗ ☙ ⁘ ¶ ℞ ÷ ↀ œ ﬁn Ƿ Ȝ Ꝥ Ꝑ̄"
)
NAMELESS = "a 漢 b \ue5d1 c 漢"


def words_of(pdf: bytes) -> list[str]:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return unicodedata.normalize("NFC", "\n".join(page.extract_text() for page in pages)).split()


def flowing(text: str, size: float = 3.4, *, strong: bool = False) -> bytes:
    paper = FlowingPaper("A paper")
    paper.paragraph(text, strong=strong, size=size)
    return paper.finish()


@pytest.mark.parametrize("strong", [False, True])
@pytest.mark.parametrize("size", [2.6, 3.4, 9.0])
def test_every_letter_comes_back_out_of_a_paper(size: float, *, strong: bool) -> None:
    wanted = unicodedata.normalize("NFC", OLD).split()
    assert words_of(flowing(OLD, size, strong=strong))[8 : 8 + len(wanted)] == wanted


def test_letters_come_back_out_of_a_table_and_of_upright_words() -> None:
    paper = FlowingPaper("ꝑꝛiꝼ")
    paper.table(["n̄", "þæꞇ"], [["ꝥ", "uͣ"]], [1, 1])
    assert words_of(paper.finish())[:10] == ["ꝑꝛiꝼ", "page", "1", "of", "1", "ꝑꝛiꝼ", "n̄", "þæꞇ", "ꝥ", "uͣ"]
    sheet = SheetOfPaper(PAPERS["a4"], "upright")
    sheet.draw(Words(50, 100, "ꝥ n̄ ꝓ", 4, "middle", upward=True))
    assert sorted(words_of(sheet.finish())) == sorted(["ꝥ", "n̄", "ꝓ"])


def test_a_letter_without_a_glyph_stands_by_its_code_point_and_is_told_once() -> None:
    told = " ".join(words_of(flowing(NAMELESS)))
    assert "a [U+6F22] b [U+E5D1] c [U+6F22]" in told
    assert told.count("Letters the typeface of this paper lacks stand in it as their code points") == 1
    assert told.endswith("U+6F22, U+E5D1.")


def test_nothing_is_told_where_no_letter_is_lacking() -> None:
    assert "lacks" not in words_of(flowing(OLD))


def test_a_drawing_tells_it_at_the_foot_of_its_last_sheet() -> None:
    sheet = SheetOfPaper(PAPERS["a4"], "a drawing")
    sheet.write(50, 100, NAMELESS)
    sheet.next_sheet()
    first, last = (page.extract_text() for page in PdfReader(io.BytesIO(sheet.finish())).pages)
    assert "[U+6F22]" in first
    assert last.strip().endswith("code points: U+6F22, U+E5D1.")


def test_what_must_not_be_shown_is_told_of_once() -> None:
    told = " ".join(words_of(flowing("a\x07 b 漢")))
    assert "a▫ b [U+6F22]" in told
    assert told.count("▫ stands for a sign that is no letter") == 1
    assert told.endswith("U+6F22.")


def test_many_such_letters_are_told_in_part() -> None:
    told = " ".join(words_of(flowing("".join(map(chr, range(0x4E00, 0x4E0C))))))
    assert told.endswith("U+4E07 and 4 more.")


def test_the_sheet_map_prints_the_letters_of_the_text() -> None:
    book = SmallBook()
    book.exemplar = read_exemplar("⁊ n̄ ꝑꝛiꝼ ꝓuͣ 漢 \ue5d1 " * 60)
    job = SimpleNamespace(state=book.afresh(), clock=lambda: datetime(2026, 3, 2, tzinfo=UTC))
    found = words_of(make("sheets", PaperRequest(cast("Job", job), "pdf", None, "A4")))
    assert '"⁊' in found
    assert {"n̄", "ꝑꝛiꝼ", "ꝓuͣ", "[U+6F22]"} <= set(found)
    assert "U+6F22" in " ".join(found).rsplit("code points:", 1)[1]
    assert " ".join(found).count("▫ stands for a sign that is no letter: one of control, or of private use.") == 1
