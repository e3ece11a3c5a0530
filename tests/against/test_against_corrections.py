"""Correcting as the handbooks tell it.

[J] E. Johnston, *Writing and Illuminating, and Lettering* (1906), p. 174: corrections harm the flesh side more when
scraped. [L] W. M. Lindsay, *Latin Textual Emendation* (1896), IV 1 and II 6: the supplied word above the word it
precedes or in the margin; the omitted line in the top or bottom margin. [CG] R. Clemens and T. Graham, *Introduction to
Manuscript Studies* (2007), p. 35: the corrector is usually not the copyist.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.checks import ReadingRules
from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.page import Page, Surface
from copydesk.tracking.commands.page_commands import Commands
from copydesk.tracking.fit.correction_fit import correction_fit
from text_book import TextBook

if TYPE_CHECKING:
    from copydesk.tracking.fit.correction_fit import CorrectionFit


def fit(page: str, **facts: object) -> CorrectionFit:
    book = TextBook()
    for each in ("1r", "1v"):
        book.write(each)
    book.do(book.commands.fault(Page.parse(page), "slip", line=2, **facts))
    index = Page.parse(page).index
    return correction_fit(book.state, Page.parse(page), book.state.record(book.state.skin_at(index)).open_faults[0])


def test_the_flesh_side_suffers_more_from_the_knife() -> None:
    """[J] p. 174."""
    warned = {}
    for page in ("1r", "1v"):
        found = fit(page, stands="xenta", should="tenta")
        scraped = next(way for way in found.ways if way.name == "scraped")
        warned[found.room.surface] = any("flesh side" in each for each in scraped.against)
    assert warned == {Surface.HAIR: False, Surface.FLESH: True}


def test_a_word_left_out_goes_above_the_line_and_a_whole_line_to_the_margin() -> None:
    """[L] IV 1 and II 6."""
    one = fit("1r", should="tenta")
    assert [way.name for way in one.ways[:2]] == ["interlined", "in the margin"]
    line = fit("1r", should=" ".join(["tenta"] * 15))
    ways = {way.name: way for way in line.ways}
    assert not ways["interlined"].fits
    assert ways["in the margin"].fits
    assert "top or bottom margin" in ways["in the margin"].says


def test_a_corrector_who_is_not_the_copyist() -> None:
    """[CG] p. 35."""
    book = TextBook(readings=ReadingRules(("silently",), "not a writer"))
    book.write("1r")
    with pytest.raises(CopydeskError, match="wants it read by somebody who wrote nothing on it"):
        Commands(book.state, "A").check(Page.parse("1r"), how="silently")
    assert Commands(book.state, "B").check(Page.parse("1r"), how="silently").what == "checked"
