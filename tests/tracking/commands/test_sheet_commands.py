"""Recording where a sheet is: what is refused, and what is remarked on."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, SpacePlan, Workshop
from copydesk.book.structure.page import Page
from copydesk.tracking.log.entry_text import describe
from copydesk.tracking.views.sheet_pile import SheetStatus, pile_now, whereabouts
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


def test_a_sheet_taken_early_is_recorded_with_what_it_waited_for() -> None:
    book = SmallBook(workshop=INES)
    finish(book, "1r", "1v")
    entry = book.do(book.commands.sheet("1.1", "artist"))
    assert describe(entry) == (
        "sheet 1.1 with the artist (Ines), noted by A; it leaves early and still waits for 4r 4v written"
    )
    assert whereabouts(sheet(book, "1.1").record) == "with the artist (Ines) since 2 March 10:00"


def test_a_sheet_in_the_press_with_a_space_to_fill_is_remarked_on() -> None:
    book = SmallBook(spaces=(SpacePlan("vine", "border", Anchor(page="1r")),))
    finish(book, "1r", "1v", "4r", "4v")
    assert book.commands.sheet("1.1", "press").facts["remark"] == "space vine on it is still to be filled"
    book = SmallBook(spaces=tuple(SpacePlan(name, "border", Anchor(page="1r")) for name in ("vine", "weir")))
    finish(book, "1r", "1v", "4r", "4v")
    assert book.commands.sheet("1.1", "press").facts["remark"] == "spaces vine, weir on it are still to be filled"


def test_a_sheet_without_a_word_is_not_for_the_checker() -> None:
    book = SmallBook()
    assert book.commands.sheet("1.1", "checker").facts["remark"] == "nothing on it is written yet"
    book.write("1r")
    assert "remark" not in book.commands.sheet("1.1", "checker").facts


def test_the_second_to_take_a_sheet_is_told_who_has_it() -> None:
    book = SmallBook(workshop=INES)
    book.do(book.commands.sheet("1.1", "artist"))
    with pytest.raises(CopydeskError, match=r"sheet 1.1 has been with the artist \(Ines\) since 2 March 10:00 already"):
        book.commands.sheet("1.1", "artist", "Zoe")
    act = book.commands.sheet("1.1", "checker", "Bea")
    assert str(act.facts["remark"]).startswith("it was with the artist (Ines) since 2 March 10:00")


@pytest.mark.parametrize(
    ("name", "place", "says"),
    [
        ("1.1", "desk", "sheet 1.1 is at the desk already"),
        ("1.1", "cellar", "'cellar' is not where a sheet can be; give one of desk, drying, checker, artist, press"),
        ("9.1", "artist", "there is no gathering 9"),
        ("1.3", "artist", "there is no sheet 3 in gathering 1"),
        ("one", "artist", "'one' does not name a sheet"),
    ],
)
def test_what_cannot_be_is_refused(name: str, place: str, says: str) -> None:
    with pytest.raises(CopydeskError, match=says):
        SmallBook().commands.sheet(name, place)


def test_a_sheet_may_be_put_down_at_the_desk_once_it_was_away() -> None:
    book = SmallBook()
    book.do(book.commands.sheet("1.1", "press"))
    book.do(book.commands.sheet("1.1", "desk"))
    with pytest.raises(CopydeskError, match="at the desk since 2 March 10:00 already"):
        book.commands.sheet("1.1", "desk")
