"""A ruling agreed on in mid-work is the same on every paper, screen and answer; pages ruled before keep theirs."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from copydesk.book.common.errors import DoesNotFitError
from copydesk.book.plan import Anchor, Ruling, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.book.structure.sheets import find_sheet
from copydesk.desk.widgets.sheet_drawing import draw_side, lines_of_side
from copydesk.papers.export.tei_object import object_desc
from copydesk.papers.ruled_page import templates
from copydesk.tracking.commands.page_commands import agree_lines
from copydesk.tracking.planning.plan_figures import Trial
from copydesk.tracking.planning.plan_report import PLAN, plan_as_is, ruled_otherwise
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.scribes.handover import handover
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_view import page_account
from copydesk.tracking.views.sheet_view import sheet_account
from text_book import TextBook, made_text


def a_book(lines: int = 12) -> TextBook:
    """1r is written on ten lines; the pages after it are to be ruled with others."""
    book = TextBook(made_text(500))
    book.write("1r")
    book.do(agree_lines(book.state, lines))
    return book


@pytest.mark.parametrize("lines", [8, 11, 12])
def test_every_answer_has_the_lines_agreed_on(lines: int) -> None:
    state = a_book(lines).state
    height = lines * state.layout.line_height
    page = next(column.data(plan_as_is(state)) for column in PLAN if column.key == "page")
    assert (page["lines"], page["written_height"]) == (lines, round(height, 3))
    assert len(page["prickings"]["horizontal"]) == lines + 1
    for template in (*templates(state, None), *templates(state, Page.parse("2r"))):
        assert (template.layout.lines, template.layout.written_height) == (lines, height)
        assert template.layout.margins.foot == pytest.approx(30.0 + 100.0 - height)
    assert Planner(state).outcome(Trial()).layout == state.layout_to_rule
    ruling = next(line.says for line in handover_lines(state, handover(state)) if line.head == "Ruling")
    assert ruling.startswith(f"{lines} written lines")
    assert page_account(state, 2).ruled_lines == lines
    written = ElementTree.tostring(object_desc(state), "unicode").split("writtenLines=")[1:]
    assert [each.split('"')[1] for each in written] == ["10", str(lines)]
    sheet = sheet_account(state, find_sheet(state.collation, "1.2"))
    for side in (sheet.outer, sheet.inner):
        assert lines_of_side(state, side) == lines
    assert len(draw_side(state, sheet.outer, Page.parse("2r"), 80, 30).rows) >= lines + 2


def test_a_page_ruled_before_keeps_its_lines_whatever_is_agreed_or_planned_later() -> None:
    book = a_book()
    [template] = templates(book.state, Page.parse("1r"))
    assert template.layout.lines == page_account(book.state, 0).ruled_lines == 10
    assert ruled_otherwise(book.state) == "1 page ruled with 10 lines, and kept so"
    replanned = BookState(replace(book.plan, ruling=Ruling(lines=9)), book.exemplar, book.ledger)
    assert replanned.frame_of(0).lines == 10
    assert replanned.layout_on(0).lines == 10
    assert lines_of_side(replanned, sheet_account(replanned, find_sheet(replanned.collation, "1.1")).outer) == 12


def test_fewer_lines_are_refused_where_a_picture_stands_on_the_last() -> None:
    mill = SpacePlan("mill", "miniature", Anchor(page="3r", line=7), 4)
    book = TextBook(made_text(300), spaces=(mill,))
    with pytest.raises(DoesNotFitError, match="space mill needs a column of 10 lines at least, so 9 are too few"):
        agree_lines(book.state, 9)
    assert agree_lines(book.state, 11).facts["lines"] == 11
