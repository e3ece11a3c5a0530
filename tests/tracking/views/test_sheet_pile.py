"""Where each sheet is: who has it, what it waits for, when its ink is dry, and two who take it at once."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from copydesk.book.plan import Anchor, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.commands import leaf_commands as leaf_acts
from copydesk.tracking.ledger.entry import Act
from copydesk.tracking.ledger.page_record import PageState
from copydesk.tracking.ledger.timestamps import moment, say_at, say_moment
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.sheet_pile import WHERE, SheetStatus, SheetWait, pile_now, waits_words
from small_book import SmallBook

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
INES = Workshop(artist="Ines", drying_days=1.5)


def sheet(book: SmallBook, name: str, now: datetime = NOON) -> SheetStatus:
    return next(each for each in pile_now(book.state, now) if each.sheet.name == name)


def waits(found: SheetStatus) -> tuple[str, ...]:
    return tuple(map(str, found.waits_for))


def finish(book: SmallBook, *pages: str) -> None:
    for page in pages:
        book.write(page)
        book.do(book.commands.check(Page.parse(page)), "B")


def test_a_sheet_waits_until_each_of_its_pages_is_done() -> None:
    book = SmallBook()
    assert waits(sheet(book, "1.1")) == ("1r written", "1v written", "4r written", "4v written")
    book.write("1r")
    book.do(book.commands.begin(Page.parse("1v")))
    assert waits(sheet(book, "1.1")) == ("1r checked", "1v written", "4r written", "4v written")
    fault = book.do(book.commands.fault(Page.parse("1r"), "omission", should="w3"))
    book.do(book.commands.check(Page.parse("1r")), "B")
    assert waits(sheet(book, "1.1"))[0] == "1r corrected"
    book.do(book.commands.mend(Page.parse("1r"), fault.entry, "interlined"))
    assert waits(sheet(book, "1.1")) == ("1v written", "4r written", "4v written")
    finish(book, "1v", "4r", "4v")
    found = sheet(book, "1.1")
    assert (found.waits_for, found.waiting_pages, found.may_leave) == ((), (), True)


def test_pages_no_text_comes_to_are_done_but_room_on_them_must_be_ruled() -> None:
    picture = SpacePlan("end", "miniature", Anchor(page="12v"), 5)
    book = SmallBook(words=60, spaces=(picture,))
    assert sheet(book, "3.2").may_leave
    assert waits(sheet(book, "3.1")) == ("12v ruled",)
    assert sheet(book, "3.1").spaces == ("end",)
    book.do(book.commands.rule(Page.parse("12v")))
    assert sheet(book, "3.1").may_leave


def test_a_single_leaf_is_a_sheet_of_two_pages() -> None:
    book = SmallBook()
    book.do(leaf_acts.cancel_leaf(book.state, 4))
    assert [str(page) for page in sheet(book, "1.1").sheet.pages()] == ["1r", "1v"]
    finish(book, "1r", "1v")
    assert sheet(book, "1.1").may_leave


def test_ink_dries_so_many_days_from_when_it_was_laid_down() -> None:
    book = SmallBook(workshop=INES)
    finish(book, "1r", "1v", "4r", "4v")
    book.do(book.commands.sheet("1.1", "drying"))
    laid = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)
    assert sheet(book, "1.1").dry == laid + timedelta(hours=36)
    assert waits(sheet(book, "1.1")) == ("dry on 2026-03-03",)
    assert sheet(book, "1.1", laid + timedelta(hours=36)).may_leave
    early = book.commands.sheet("1.1", "artist", at=NOON.isoformat())
    assert early.facts["remark"] == "it was to dry until 3 March 22:00"
    assert "remark" not in book.commands.sheet("1.1", "artist", at=(laid + timedelta(days=2)).isoformat()).facts
    assert "remark" not in book.commands.sheet("1.1", "desk", at=NOON.isoformat()).facts


def test_two_who_take_it_at_the_same_moment_are_both_told() -> None:
    book = SmallBook()
    first, second = book.commands.sheet("1.1", "artist", "Ines"), book.commands.sheet("1.1", "checker", "Bea")
    book.do(first)
    assert book.state.sheet_record("1.1").also is None
    entry = book.do(second)
    record = book.state.sheet_record("1.1")
    assert (record.place, record.who, record.also) == ("checker", "Bea", ("artist", "Ines"))
    assert describe(entry, book.state).endswith(
        "Ines had it put down as with the artist at the same time: see who has it"
    )
    book.do(book.commands.sheet("1.1", "desk"))
    assert book.state.sheet_record("1.1").also is None


def test_taking_a_move_back_leaves_no_quarrel() -> None:
    book = SmallBook()
    taken = book.do(book.commands.sheet("1.1", "artist", "Ines"))
    book.undo(taken)
    assert book.state.sheet_record("1.1").place == "desk"
    book.do(book.commands.sheet("1.1", "artist", "Bea"))
    assert book.state.sheet_record("1.1").also is None


def test_other_programs_get_the_same_keys_always() -> None:
    book = SmallBook(workshop=INES)
    book.do(book.commands.sheet("1.1", "drying"))
    data = WHERE.data(sheet(book, "1.1"))
    assert data == {
        "sheet": "1.1",
        "place": "drying",
        "who": "A",
        "since": "2026-03-02T10:00:00+00:00",
        "pages": ["1r", "1v", "4r", "4v"],
        "may_leave": False,
        "waits_for": ["1r written", "1v written", "4r written", "4v written", "dry on 2026-03-03"],
        "spaces_waiting": [],
        "dry": "2026-03-03T22:00:00+00:00",
        "also": None,
    }
    assert list(WHERE.data(sheet(book, "1.2"))) == list(data)


def test_what_is_waited_for_is_put_together() -> None:
    waiting = [("1r", PageState.WRITTEN), ("1v", PageState.CHECKED), ("4r", PageState.WRITTEN)]
    found = [*(SheetWait(Page.parse(page), state) for page, state in waiting), SheetWait(None, dry=date(2026, 3, 3))]
    assert waits_words(found, SmallBook().plan) == "1r 4r written, 1v checked, its ink to be dry on 2026-03-03"
    assert waits_words([], SmallBook().plan) == ""


def test_times_are_read_with_a_zone_or_not_at_all() -> None:
    assert moment("2026-03-02T10:00:00") == datetime(2026, 3, 2, 10, 0, tzinfo=UTC)
    assert moment("yesterday") is None
    assert say_at("yesterday") == "yesterday"
    assert say_moment(NOON) == "2 March 12:00"
    assert say_at("2026-10-12T09:09:00+01:00", short=True) == "12 Oct 09:09"


def test_a_sheet_whose_time_nobody_can_read_is_not_thought_wet() -> None:
    book = SmallBook()
    entry = book.do(Act("drying", "1.1", "", {}))
    book.ledger.add(entry._replace(entry="another", tick=entry.tick + 1, at="?"))
    book.state.touch(("sheet", "1.1"))
    assert sheet(book, "1.1").dry is None
