"""What a binder checks by, against the handbooks: catchwords, signatures, register, order of sheets, colophon."""

from __future__ import annotations

import pytest

from copydesk.book.flow import ExemplarLoan
from copydesk.book.formula.collation_formula import parse
from copydesk.book.plan import Book, GatheringPlan, Hand, Margins, PageSize, Ruling
from copydesk.book.structure.collation import Collation
from copydesk.book.structure.page import Side
from copydesk.book.structure.signatures import leaf_signatures, register
from copydesk.book.text.exemplar import read_exemplar
from copydesk.tracking.binding.assembly import assembly
from copydesk.tracking.binding.binding_walk import binding_walk
from copydesk.tracking.binding.colophon import colophon
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState
from copydesk.tracking.views.page_marks import catchwords


def book_of(sheets: int, words: int = 1500) -> BookState:
    text = " ".join(f"word{number}" for number in range(words))
    plan = Book(
        title="",
        page=PageSize(100.0, 140.0, Margins(10.0, 10.0, 20.0, 30.0)),
        hands=(Hand("A", letters_per_line=30.0),),
        exemplar=ExemplarLoan("exemplar.txt"),
        ruling=Ruling(lines=10),
        gatherings=GatheringPlan(sheets=sheets),
    )
    return BookState(plan, read_exemplar(text), Ledger())


@pytest.mark.parametrize("sheets", [2, 4, 5])
def test_a_catchword_stands_on_the_last_verso_and_gives_the_first_words_of_the_next_recto(sheets: int) -> None:
    # TEI P5 Guidelines 4.9.0a, Manuscript Description, 11.3.7: a word in the lower margin of the last verso of a
    # gathering that gives the first words of the next recto.
    state = book_of(sheets)
    found = catchwords(state)
    assert len(found) == len(state.collation.gatherings) - 1
    for number, catchword in found.items():
        last, first = catchword.page, catchword.begins
        assert (last.side, last.leaf) == (Side.VERSO, 2 * sheets * number)
        assert (first.side, first.leaf) == (Side.RECTO, last.leaf + 1)
        text = state.copy.text(state.budget.pages[first.index].start, state.copy.pieces)
        assert text[: len(catchword.words.split())] == catchword.words.split()
    assert all(check.agrees for check in assembly(state).catchwords)


@pytest.mark.parametrize("leaves", [4, 6, 8, 10, 12, 14, 16])
def test_so_many_marks_a_gathering_as_half_its_leaves(leaves: int) -> None:
    # R. Hanna, Catalogue of the Western Medieval Manuscripts of St John's College, Oxford, 2002, in dozens of records:
    # all leaves in the first half of each quire are signed, so N/2 marks a quire.
    signed = leaf_signatures(Collation.of_sizes((leaves, leaves)))
    assert len(signed) == 2 * (leaves // 2)
    assert [page.leaf for page in signed][: leaves // 2] == list(range(1, leaves // 2 + 1))


@pytest.mark.parametrize("sheets", [2, 3, 4, 5, 6])
def test_every_sheet_of_the_walk_shows_one_mark_and_its_two_leaves(sheets: int) -> None:
    # N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957, p. xxii: leaf i is one sheet with leaf N+1-i;
    # with the rule above, a signature on each sheet.
    state = book_of(sheets)
    leaves = 2 * sheets
    (first, *_) = binding_walk(state, assembly(state))
    assert [sheet.leaves for sheet in first.sheets] == [(i, leaves + 1 - i) for i in range(1, sheets + 1)]
    assert [sheet.signature.split()[0] for sheet in first.sheets] == ["a"] * sheets


def test_the_register_of_a_printed_book() -> None:
    # Folger Shakespeare Library, The Collation, on Macrobius 1513: a4 A-O8 P10, "[4], CXXII leaves"; a register is the
    # list of signatures for the binder. Names by number of sheets: Zs. Urbach, Bulletin du Musée Hongrois des
    # Beaux-Arts 100 (2004), p. 93.
    collation = parse("a^4 A-O^8 P^10").collation()
    lines = register(collation)
    assert [(line.signatures[0], line.signatures[-1], len(line.signatures), line.kind) for line in lines] == [
        ("a", "a", 1, "binion"),
        ("A", "O", 14, "quaternion"),
        ("P", "P", 1, "quinion"),
    ]
    assert sum(line.leaves * len(line.signatures) for line in lines) == 4 + 122


@pytest.mark.parametrize("words", [150, 400, 700])
def test_a_blank_page_is_left_before_the_colophon(words: int) -> None:
    # S. Farnsworth, Illumination, 1922: the colophon names all who worked, with a blank page before it.
    state = book_of(4, words)
    page = colophon(state).page
    assert page is not None
    texts = [budget.start < budget.end for budget in state.budget.pages]
    assert not texts[page.index]
    assert not texts[page.index - 1]
    assert texts[page.index - 2]
