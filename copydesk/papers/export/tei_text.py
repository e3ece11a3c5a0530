"""The text of the book as TEI P5: as it is to be written, changes made on purpose and all, with its pages and lines.

Divisions, headings, paragraphs, verse with its indents, ``pb`` where a page of this book begins and ``lb`` where a line
does, whether written or planned. An exemplar read from this file is this text, with this book's places noted in it.
Lines are counted through the columns of a page, blank ones left out.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from copydesk.book.common.errors import NotAllowedError
from copydesk.book.structure.page import Page
from copydesk.papers.export.tei import NAMESPACE, encoding, title_of
from copydesk.papers.export.xml_elements import document, element
from copydesk.tracking.state.page_content import lines_of_page

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from xml.etree.ElementTree import Element

    from copydesk.book.text.exemplar import Block
    from copydesk.papers.export.xml_elements import Content
    from copydesk.tracking.state.book_state import BookState

    Breaks = dict[int, list[tuple[int, str, str]]]


def text_document(state: BookState, version: str) -> str:
    """The text as a whole TEI document; ``version`` is the program's.

    Raises:
        NotAllowedError: where the book knows its text by counts alone.
    """
    written = state.copy.written
    if written is None:
        raise NotAllowedError("the text of this book is known by its counts only, so there is none to give")
    title = title_of(state)
    breaks = _breaks(state)
    divisions = (
        element("div", *_division(written.words, list(blocks), breaks))
        for _, blocks in groupby(written.blocks, key=lambda block: block.division)
    )
    file_desc = element(
        "fileDesc",
        element("titleStmt", element("title", title)),
        element("publicationStmt", element("p", "Not published.")),
        element("sourceDesc", element("p", "The workshop's exemplar, with the changes made on purpose.")),
    )
    header = element("teiHeader", file_desc, encoding(version))
    text = element("text", element("body", *divisions))
    return document(element("TEI", {"xmlns": NAMESPACE}, header, text))


def _breaks(state: BookState) -> Breaks:
    """Where pages and lines begin: by written word, the letters of it that stand before, the element and its number."""
    found: Breaks = {}
    for index, page in enumerate(state.budget.pages):
        lines = [line for line in lines_of_page(state, index) if line.start < line.end]
        if not lines:
            continue
        for number, line in enumerate(lines, 1):
            word, letters = state.copy.within(line.start)
            marks = found.setdefault(word, [])
            begins = number == 1 and line.start == page.start
            if begins:
                marks.append((letters, "pb", str(Page.at(index))))
            if not (begins and letters):  # two marks within a word would have white space between them, which parts it
                marks.append((letters, "lb", str(number)))
    return found


def _division(words: Sequence[str], blocks: Sequence[Block], breaks: Breaks) -> Iterator[Element]:
    for (kind, _), group in groupby(blocks, key=lambda block: (block.kind, block.paragraph)):
        if kind != "verse":
            name = "head" if kind == "rubric" else "p"
            yield from (element(name, *_mixed(words, block, breaks)) for block in group)
            continue
        verses: list[Content] = []
        for block in group:
            if block.blank and verses:
                verses.append(element("space", {"dim": "vertical", "unit": "lines", "quantity": block.blank}))
            verses.append(element("l", _verse_style(block), *_mixed(words, block, breaks)))
        yield element("lg", *verses)


def _verse_style(block: Block) -> dict[str, object]:
    """How a verse is indented, in words and in CSS, which gives the letters."""
    if not (block.indent or block.hang):
        return {}
    rend = " ".join(word for word, letters in (("indent", block.indent), ("hanging", block.hang)) if letters)
    style = f"text-indent:{block.indent}ch"
    if block.hang:
        style = f"padding-left:{block.indent + block.hang}ch; text-indent:-{block.hang}ch"
    return {"rend": rend, "style": style}


def _mixed(words: Sequence[str], block: Block, breaks: Breaks) -> Iterator[Content]:
    """The words of a block, with what begins before or within each."""
    for at in range(block.start, block.end):
        word, told = words[at], 0
        if at > block.start:
            yield " "
        for letters, name, number in breaks.get(at, ()):
            if letters > told:
                yield word[told:letters]
                told = letters
            yield element(name, {"n": number} | ({"break": "no"} if letters else {}))
        yield word[told:]
