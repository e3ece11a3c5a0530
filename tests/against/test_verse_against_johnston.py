"""How many lines a poem takes, against a reckoning worked in a handbook.

Source: Edward Johnston, *Writing & Illuminating, & Lettering* (1906), p. 95-97, problem II: a poem of three stanzas of
four lines, with two blank lines between them, makes fourteen lines, here one page in one column. The words are ours.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.flow import Flow
from copydesk.book.plan import Ruling
from copydesk.book.text.exemplar import read_exemplar
from copydesk.store.files.tei_exemplar import read_tei
from copydesk.tracking.checking.line_texts import line_texts
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

if TYPE_CHECKING:
    from copydesk.book.text.exemplar import Exemplar

STANZAS, LINES, BLANK, IN_ALL = 3, 4, 2, 14
"""What the handbook gives."""

VERSE = "grey is the ford"


def as_marks() -> Exemplar:
    return read_exemplar("\n\n".join(["\n".join([f"| {VERSE}"] * LINES)] * STANZAS))


def as_tei() -> Exemplar:
    stanza = f"<lg>{f'<l>{VERSE}</l>' * LINES}</lg>"
    return read_exemplar(read_tei(f"<TEI><text><body><lg>{stanza * STANZAS}</lg></body></text></TEI>", "poem.xml"))


@pytest.mark.parametrize("exemplar", [as_marks(), as_tei()], ids=["marks", "tei"])
def test_three_stanzas_of_four_lines_make_fourteen(exemplar: Exemplar) -> None:
    book = SmallBook(1, ruling=Ruling(lines=20), flow=Flow(between_stanzas=1))
    state = BookState(book.plan, exemplar, book.ledger)
    assert state.budget.pages[0].planned == IN_ALL
    assert [str(line) for line in line_texts(state, 0)].count("") == BLANK
    assert state.budget.pages[1].planned == 0
