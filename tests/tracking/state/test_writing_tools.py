"""Ink, pen and pounce, as planned and as noted at stints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.plan import Hand, Script
from copydesk.tracking.binding.colophon import COLOPHON, colophon
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.scribes.desk_clock import start_stint
from copydesk.tracking.scribes.handover import HANDOVER, handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.writing_tools import HandTools, Tools, all_tools, tools_of
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.tracking.ledger.entry import Entry

PLANNED = Tools("oak-gall", "goose quill", "sandarac")


def begin(book: SmallBook, hand: str, **said: str) -> Entry:
    return book.do(start_stint("window", 50, Tools(**said)), hand)


def ink_line(book: SmallBook) -> list[str]:
    return [each.says for each in handover_lines(book.state, handover(book.state)) if each.head == "Tools"]


def test_where_nobody_said_nothing_is_told() -> None:
    book = SmallBook()
    begin(book, "A")
    assert (tools_of(book.state, "A"), all_tools(book.state)) == (Tools(), ())
    assert ink_line(book) == []
    assert "Written with" not in colophon(book.state).text


def test_what_is_planned_holds_until_a_stint_notes_another() -> None:
    book = SmallBook(script=Script(ink="oak-gall", pen="goose quill", pounce="sandarac"))
    assert ink_line(book) == ["ink oak-gall, pen goose quill, pounce sandarac"]
    assert colophon(book.state).text.count("Written with oak-gall; pen: goose quill; the skin pounced with sandarac.")
    noted = begin(book, "A", ink="  carbon ")
    assert tools_of(book.state, "A") == PLANNED._replace(ink="carbon")
    assert tools_of(book.state, "B") == PLANNED
    begin(book, "A", pen="swan quill")
    assert str(Tools("oak-gall Ink", "reed pen", "sandarac")) == "oak-gall Ink, reed pen, pounce sandarac"
    assert tools_of(book.state, "A") == Tools("carbon", "swan quill", "sandarac")
    assert ink_line(book)[0].startswith("A: ink carbon, pen swan quill, pounce sandarac; B: ink oak-gall")
    book.undo(noted)
    assert tools_of(book.state, "A") == Tools("oak-gall", "swan quill", "sandarac")


def test_the_colophon_names_all_that_was_used_and_the_handover_what_is_used_now() -> None:
    book = SmallBook(hands=(Hand("A", "first", 20.0), Hand("B", "second", 16.0)))
    for ink in ("oak-gall", "carbon", "oak-gall"):
        begin(book, "B", ink=ink)
    assert "Written with oak-gall and carbon." in colophon(book.state).text
    assert [each.tools.ink for each in all_tools(book.state)] == ["oak-gall", "carbon"]
    told = HANDOVER.data(handover(book.state))["tools"]
    assert isinstance(told, list)
    assert {"hand": "B", "ink": "oak-gall", "pen": "", "pounce": ""} in told
    data = COLOPHON.data((colophon(book.state), ""))["tools"]
    assert isinstance(data, list)
    assert [row["ink"] for row in data] == ["oak-gall", "carbon"]


def test_the_log_tells_them_and_control_characters_stay_away() -> None:
    book = SmallBook()
    entry = begin(book, "A", ink="oak\x1b[31m gall", pen="goose")
    assert "pen goose" in describe(entry, book.state)
    assert describe(entry, book.state).isprintable()
    assert str(tools_of(book.state, "A")).isprintable()
    assert tools_of(book.state, "A") in [each.tools for each in map(HandTools._make, all_tools(book.state))]
