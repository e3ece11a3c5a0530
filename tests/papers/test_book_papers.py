"""The papers of a book, read back out of what was made."""

from __future__ import annotations

import io

import pytest
from lxml import etree
from pdfplumber import open as open_pdf
from pypdf import PdfReader

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Columns, Flaw, GatheringPlan, Signing, SkinPlan, SpacePlan
from copydesk.papers.catalogue import CATALOGUE
from copydesk.tracking.commands import leaf_commands as leaf_acts
from papers_made import made, pages
from small_book import SmallBook

POINTS = 72 / 25.4
MILL = SpacePlan("mill", "miniature", Anchor(page="1r", column=2, line=3), 4)


def troubled() -> SmallBook:
    book = SmallBook(words=700, spaces=(MILL,), columns=Columns(2, 6.0), flaws=(Flaw(6, 20.0, 20.0, 11.0, 7.0),))
    book.write("1r")
    book.do(leaf_acts.cancel_leaf(book.state, 3))
    book.do(leaf_acts.replace_leaf(book.state, 4))
    return book


def test_the_map_tells_every_page_on_its_sheet_and_side() -> None:
    book = troubled()
    text = made(book, "sheets", "text").decode()
    assert text.startswith("A small book: sheet map, 2 March 2026\n")
    sides = text.split("\n\n")
    outer = next(part for part in sides if part.startswith("Sheet 1.1, outer side up, hair"))
    assert outer.splitlines()[1].split() == ["3v", "rule", "┊", "1r", "check"]
    found = [word for line in text.splitlines() for half in line.split("┊") for word in half.split()[:1]]
    assert {str(page) for page in book.state.collation.all_pages()} <= set(found)
    assert "a stub: the leaf was cancelled" in text
    assert "nothing: this leaf is tipped in" in text
    assert "hair faces flesh: a leaf is cancelled here." in text
    assert "mill: miniature, reserved, column 2," in " ".join(text.split())
    assert "flaw of 11 × 7 mm" in text
    assert max(map(len, text.splitlines())) <= 80


def test_left_and_right_halves_keep_their_sides_in_the_text() -> None:
    text = made(SmallBook(), "sheets", "text").decode()
    lines = text.splitlines()
    at = lines.index("Sheet 1.1, inner side up, flesh")
    left, right = lines[at + 1].split("┊")
    assert (left.split(), right.split()) == (["1v", "rule"], ["4r", "rule"])


def test_the_drawn_map_holds_the_same_words_on_every_kind_of_paper() -> None:
    book = troubled()
    for paper, size in (("A4", (595, 842)), ("letter", (612, 792))):
        data = made(book, "sheets", "pdf", paper=paper)
        found = PdfReader(io.BytesIO(data))
        assert {(round(page.mediabox.width), round(page.mediabox.height)) for page in found.pages} == {size}
        text = " ".join(pages(data))
        for page in book.state.collation.all_pages():
            assert f"{page}" in text
        for words in ("Sheet 1.1", "outer side, hair", "inner side, flesh", "a stub: the leaf was cancelled"):
            assert words in text


def test_a_page_lies_on_the_map_as_on_the_sheet() -> None:
    data = made(SmallBook(), "sheets", "pdf")
    with open_pdf(io.BytesIO(data)) as pdf:
        words = pdf.pages[0].extract_words(extra_attrs=["size"])
        labels = {word["text"]: word for word in words if word["size"] > 8 and word["text"] in ("4v", "1r", "1v", "4r")}
        order = sorted(labels, key=lambda label: labels[label]["x0"])
        assert order == ["4v", "1r", "1v", "4r"]
        assert len({round(labels[label]["top"]) for label in order}) == 1
        tinted = [box for box in pdf.pages[0].rects if box["fill"]]
        assert len(tinted) >= 2


def test_nothing_runs_off_the_paper_and_a_long_book_goes_on() -> None:
    book = SmallBook(words=3000, gatherings=GatheringPlan(5, 3), spaces=(MILL,))
    data = made(book, "sheets", "pdf")
    with open_pdf(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) > 1
        assert any("continued" in (page.extract_text() or "") for page in pdf.pages[1:])
        for page in pdf.pages:
            for mark in (*page.chars, *page.rects):
                assert mark["x0"] > -1
                assert mark["x1"] < page.width + 1
                assert mark["top"] > 20
                assert mark["bottom"] < page.height - 20


def test_the_map_as_svg_is_one_drawing_of_all() -> None:
    book = SmallBook(words=3000, gatherings=GatheringPlan(5, 3))
    root = etree.fromstring(made(book, "sheets", "svg"))
    texts = [element.text for element in root.iter("{*}text")]
    assert sum(text is not None and text.startswith("Gathering") for text in texts) == 3
    assert {str(page) for page in book.state.collation.all_pages()} <= set(texts)


@pytest.mark.parametrize(("foliation", "label"), [("arabic", "2v  "), ("roman", "ii v  "), ("pages", "4  ")])
def test_pages_are_called_as_the_book_counts(foliation: str, label: str) -> None:
    book = SmallBook(signing=Signing(foliation=foliation))  # type: ignore[arg-type]
    assert label in made(book, "sheets", "text").decode()


def test_marks_for_the_binder_are_on_the_map() -> None:
    text = made(SmallBook(), "sheets", "text").decode()
    assert "a ij" in text
    assert 'catchword "w' in text


def test_the_ruling_of_a_page_shows_what_is_reserved_there_and_its_flaws() -> None:
    book = SmallBook(spaces=(MILL,), columns=Columns(2, 6.0), flaws=(Flaw(1, 40.0, 20.0, 11.0, 7.0),))
    data = made(book, "ruling", "pdf", "1r")
    with open_pdf(io.BytesIO(data)) as pdf:
        boxes = [(box["width"] / POINTS, box["height"] / POINTS) for box in pdf.pages[0].rects]
    assert len(pdf.pages) == 1
    # the second column is (70 - 6) / 2 = 32 mm wide; four lines of 10 mm are kept
    assert any(box == pytest.approx((32, 40), abs=0.1) for box in boxes)
    assert any(box == pytest.approx((11, 7), abs=0.1) for box in boxes)
    text = made(book, "ruling", "text", "1r").decode()
    assert "Reserved for mill, miniature: 32 × 40 mm, 30 mm from the head edge, 48 mm from the left edge" in text
    assert "Flaw: 11 × 7 mm, 40 mm from the head edge, 20 mm from the fold" in text


def test_the_blank_ruling_has_a_recto_and_a_verso() -> None:
    assert ["recto" in page for page in pages(made(SmallBook(), "ruling", "pdf"))] == [True, False]
    root = etree.fromstring(made(SmallBook(), "ruling", "svg"))
    assert sum(element.get("class") == "ruled" for element in root.iter("{*}line")) == 11


def test_the_cutting_says_what_to_order_and_cautions() -> None:
    book = SmallBook(skins=SkinPlan(500.0, 400.0, spoilage=0.1, grain="fixed"))
    text = made(book, "cutting", "text").decode()
    # sheets of 200 × 140 mm: two across and two down; six sheets need two skins, three where a tenth spoils
    assert "4 sheets of 200 × 140 mm from a skin of 500 × 400 mm" in text
    assert "To order: 3 skins for 6 sheets, 10% of them allowed for spoiling." in text
    assert "The grain is fixed: every fold runs along the skin's height." in text
    assert "Caution: Blade: keep it short and sharp" in text
    assert "4 sheets of 200 × 140 mm" in pages(made(book, "cutting", "pdf"))[0]
    assert made(book, "cutting", "svg").startswith(b"<?xml")


def test_what_cannot_be_printed_is_refused() -> None:
    book = SmallBook()
    for name, form, page, says in (
        ("shopping", "pdf", "", "no paper is called 'shopping'; there are sheets, ruling"),
        ("cutting", "pdf", "", "says nothing of skins"),
        ("sheets", "pdf", "1r", "is of the whole book"),
        ("ruling", "pdf", "99r", "there is no page 99r"),
    ):
        with pytest.raises(CopydeskError, match=says):
            made(book, name, form, page)  # type: ignore[arg-type]
    with pytest.raises(CopydeskError, match="no paper is called 'A9'"):
        made(book, "sheets", "pdf", paper="A9")


@pytest.mark.parametrize("name", ["sheets", "ruling", "cutting"])
def test_the_same_book_prints_the_same_bytes(name: str) -> None:
    book = SmallBook(skins=SkinPlan(500.0, 400.0))
    for form in CATALOGUE[name].forms:
        assert made(book, name, form) == made(book, name, form)
