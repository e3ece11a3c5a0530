"""The book as a TEI P5 description of a manuscript (``msDesc``): what is planned, and what is done so far.

What nobody has recorded is not said: no shelfmark, no place, no owner. The book's title stands where a manuscript's
name does. Element and attribute names are those of TEI P5 (Guidelines, chapter 11, Manuscript Description).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.sanitize import sanitize
from copydesk.papers.export.tei_history import history
from copydesk.papers.export.tei_object import object_desc
from copydesk.papers.export.tei_places import PageSpan, locus
from copydesk.papers.export.tei_work import deco_desc, hand_desc, script_desc
from copydesk.papers.export.xml_elements import document, element
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from xml.etree.ElementTree import Element

    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


NAMESPACE = "http://www.tei-c.org/ns/1.0"
_INCIPIT = 6
"""Words of a division's beginning that are given."""


def description(state: BookState, version: str) -> str:
    """The description of the book as a whole TEI document; ``version`` is the program's."""
    pages = [page_account(state, index) for index in range(state.collation.pages)]
    title = title_of(state)
    file_desc = element(
        "fileDesc",
        element("titleStmt", element("title", f"{title}: a description of the manuscript")),
        element("publicationStmt", element("p", "Not published.")),
        element("sourceDesc", _ms_desc(state, pages)),
    )
    header = element("teiHeader", file_desc, encoding(version))
    said = element("p", "This file describes the manuscript; its text is not in it.")
    text = element("text", element("body", said))
    return document(element("TEI", {"xmlns": NAMESPACE, "xml:lang": "en"}, header, text))


def title_of(state: BookState) -> str:
    """The book's title; a description without any name is none (TEI P5, rules of ``msIdentifier``)."""
    return sanitize(state.book.title).strip() or "Untitled"


def encoding(version: str) -> Element:
    """What program wrote the file."""
    label = element("label", "copydesk")
    application = element("application", {"ident": "copydesk", "version": version}, label)
    return element("encodingDesc", element("appInfo", application))


def _ms_desc(state: BookState, pages: Sequence[PageAccount]) -> Element:
    physical = element("physDesc", object_desc(state), hand_desc(state, pages), script_desc(state), deco_desc(state))
    return element(
        "msDesc",
        {"xml:id": "book"},
        element("msIdentifier", element("msName", title_of(state))),
        _contents(state, pages),
        physical,
        history(state, pages),
        _record(),
    )


class _Division(NamedTuple):
    title: str
    start: int
    end: int
    incipit: str


def _divisions(state: BookState) -> Iterator[_Division]:
    copy, exemplar = state.copy, state.exemplar
    if exemplar is None:
        titles = [division.title for division in state.book.divisions]
    else:
        titles = [division.title for division in exemplar.divisions]
    ends = [*copy.divisions[1:], copy.words]
    for number, (title, start, end) in enumerate(zip(titles, copy.divisions, ends, strict=False), 1):
        opens = exemplar.paragraph_start(number, 1) if exemplar is not None else None
        first = start if opens is None else opens
        words = copy.text(copy.piece(first), copy.piece(min(first + _INCIPIT, end)))
        yield _Division(title, start, end, " ".join(words))


def _contents(state: BookState, pages: Sequence[PageAccount]) -> Element | None:
    items = [_item(state, number, each, pages) for number, each in enumerate(_divisions(state), 1)]
    book = state.book
    # English is what a plan says that says nothing; it is told where it had to be chosen.
    language = book.language.replace("_", "-") if book.language != "en" or book.line_breaks == "syllables" else ""
    if language:
        items.insert(0, element("textLang", {"mainLang": language}))
    return element("msContents", *items) if items else None


def _item(state: BookState, number: int, division: _Division, pages: Sequence[PageAccount]) -> Element:
    bearing = [
        page.page
        for page in pages
        if page.from_word < page.to_word and page.from_word < division.end and page.to_word > division.start
    ]
    span = PageSpan(bearing[0], bearing[-1]) if bearing else None
    return element(
        "msItem",
        {"n": number},
        locus(span, state.book.signing.foliation) if span is not None else None,
        element("title", division.title) if division.title or not division.incipit else None,
        element("incipit", division.incipit) if division.incipit else None,
    )


def _record() -> Element:
    source = element("source", element("p", "Made from the workshop's plan and the ledger of its work."))
    return element("additional", element("adminInfo", element("recordHist", source)))
