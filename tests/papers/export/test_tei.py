"""What a description says: places, hands, spaces and dates as they stand in the book."""

from xml.etree import ElementTree

import pytest

from copydesk.book.flow import ExemplarLoan
from copydesk.book.plan import Anchor, Flaw, Flyleaves, Hand, Script, Signing, SpacePlan
from copydesk.book.structure.page import Page, Side
from copydesk.book.text.exemplar import read_exemplar
from copydesk.papers.export.tei import NAMESPACE, description
from copydesk.papers.export.tei_places import PageLine, PageSpan, loci, locus, runs
from copydesk.tracking.commands.leaf_commands import cancel_leaf
from copydesk.tracking.ledger.ledger import Ledger
from copydesk.tracking.state.book_state import BookState
from small_book import SmallBook

SPACES = (
    SpacePlan("pond", "miniature", Anchor(word=40), 4, subject="a pond", materials=("azurite", "gold leaf")),
    SpacePlan("first", "decorated initial", Anchor(word=0), 2, width=9.0),
    SpacePlan("late", "line filler", Anchor(word=800)),
)


def read(book):
    return ElementTree.fromstring(description(book.state, "0.1.0"))  # noqa: S314


def found(root, name):
    return list(root.iter(f"{{{NAMESPACE}}}{name}"))


def text(part):
    return " ".join("".join(part.itertext()).split())


def texts(root, name):
    return [text(part) for part in found(root, name)]


def places(part):
    return [(each.get("from"), each.get("to")) for each in found(part, "locus")]


def test_nothing_is_said_that_nobody_knows():
    root = read(SmallBook(script=Script(), exemplar=ExemplarLoan("exemplar.txt")))
    absent = (
        "settlement",
        "repository",
        "idno",
        "country",
        "history",
        "handDesc",
        "decoDesc",
        "scriptDesc",
        "condition",
    )
    assert [name for name in absent if found(root, name)] == []
    assert texts(root, "msName") == ["A small book"]


def test_a_description_is_the_same_each_time():
    book = SmallBook(spaces=SPACES)
    book.write("1r")
    assert description(book.state, "0.1.0") == description(book.afresh(), "0.1.0")


def test_extent_and_layout_in_millimetres():
    root = read(SmallBook(flyleaves=Flyleaves(2, 1)))
    (extent,), (layout,) = found(root, "extent"), found(root, "layout")
    assert text(extent) == "ii + 12 + i leaves 140 100"
    assert found(extent, "measure")[0].get("quantity") == "15"
    assert (layout.get("columns"), layout.get("writtenLines"), layout.get("ruledLines")) == ("1", "10", "11")
    assert [each.get("quantity") for each in found(layout, "height") + found(layout, "width")] == ["100", "70"]


def test_a_gathering_that_lost_a_leaf_is_told_in_the_formula():
    book = SmallBook()
    book.do(cancel_leaf(book.state, 2))
    assert texts(read(book), "formula") == ["1⁴ (2 cancelled) 2–3⁴"]


def test_catchwords_and_signatures_stand_with_their_pages():
    root = read(SmallBook())
    (catchwords,), (signatures,) = found(root, "catchwords"), found(root, "signatures")
    assert places(catchwords) == [("4v", "4v"), ("8v", "8v")]
    assert places(signatures) == [("1r", "2r"), ("5r", "6r"), ("9r", "10r")]
    assert text(signatures).startswith("At the foot of the rectos before the fold: a j–a ij 1r–2r, b j–b ij 5r–6r")


@pytest.mark.parametrize(
    ("signing", "said"),
    [(Signing("none", 0), []), (Signing("numbers"), ["At the foot of the last verso of a gathering: I, II, III"])],
)
def test_other_habits_of_signing(signing, said):
    root = read(SmallBook(signing=signing))
    assert texts(root, "signatures") == said
    assert bool(found(root, "catchwords")) == bool(signing.catchwords)


def test_a_locus_has_no_blanks_whatever_the_pages_are_called():
    root = read(SmallBook(signing=Signing(foliation="roman")))
    assert ("4v", "4v") in places(root)
    assert "iv v" in texts(root, "locus")


def test_hands_by_their_stints():
    book = SmallBook()
    for page in ("1r", "1v", "2r"):
        book.write(page)
    book.write("2v", to_line=4)
    book.write("2v", hand="B")
    book.write("3r", hand="B")
    book.write("4r")
    root = read(book)
    (desc,) = found(root, "handDesc")
    first, second = found(desc, "handNote")
    assert (desc.get("hands"), first.get("scope"), second.get("scope")) == ("2", "major", "minor")
    assert places(first) == [("1r", "2v:4"), ("4r", "4r")]
    assert places(second) == [("2v:5", "3r")]
    assert text(first) == "first: 1r–2v line 4 4r (44 lines)"
    assert text(found(desc, "summary")[0]).startswith("So far 6 of the ")


def test_the_share_of_each_hand():
    book = SmallBook(hands=(Hand("A", "", 20.0), Hand("B", "", 16.0)))
    book.write("1r")
    assert [note.get("scope") for note in found(read(book), "handNote")] == ["sole"]
    assert texts(read(book), "handNote") == ["Hand A: 1r (10 lines)"]
    book.write("1v", hand="B")
    assert [note.get("scope") for note in found(read(book), "handNote")] == [None, None]


def test_spaces_by_kind_place_size_and_state():
    book = SmallBook(spaces=SPACES)
    book.do(book.commands.rule(Page.parse("1r")))
    book.do(book.commands.space("first", "drawn"), "Ines")
    book.do(book.commands.space("pond", "left-empty"), "Ines")
    notes = {note.get("type"): note for note in found(read(book), "decoNote")}
    assert set(notes) == {"miniature", "initial", "line-filler"}
    assert notes["initial"].get("subtype") == "decorated"
    assert text(notes["initial"]) == "1r; 2 lines; 20 9 ; drawn by Ines"
    assert text(notes["miniature"]).endswith("a pond; 4 lines; 40 70 ; azurite, gold leaf; left empty on purpose")
    assert places(notes["miniature"]) == [("1v", "1v")]
    assert text(notes["line-filler"]).endswith("not begun")


def test_flaws_are_its_condition():
    root = read(SmallBook(flaws=(Flaw(2, 120.0, 60.25, 15.0, 9.0),)))
    (condition,) = found(root, "condition")
    assert text(condition) == (
        "2r–2v: a flaw 120 mm from the head edge and 60.25 mm from the fold, as seen on the recto, 9 15"
    )


def test_dates_come_from_the_ledger_and_end_when_all_is_done():
    book = SmallBook(words=100, count=None, exemplar=ExemplarLoan("exemplar.txt", lent_by="the mill"))
    book.write("1r")
    taken_back = book.write("1v")
    book.undo(taken_back)
    (date,) = found(read(book), "origDate")
    assert (date.get("from"), date.get("to")) == ("2026-03-02", None)
    assert texts(read(book), "origin") == [
        "In the making from 2026-03-02 to 2026-03-02, and not finished. Copied from an exemplar lent by the mill."
    ]
    for index in range(book.state.collation.pages):
        if book.state.budget.pages[index].planned:
            if index:
                book.write(str(Page.at(index)))
            book.do(book.commands.check(Page.at(index)), "B")
    (date,) = found(read(book), "origDate")
    assert (date.get("from"), date.get("to")) == ("2026-03-02", "2026-03-02")


def test_divisions_with_their_pages_and_first_words():
    text_of = "# One\n\n" + "word " * 90 + "\n\n# Two\n\nother words begin here and go on\n\n#\n\nlast of all\n"
    book = SmallBook()
    book.state = BookState(book.plan, read_exemplar(text_of), Ledger())
    items = found(read(book), "msItem")
    assert texts(read(book), "title")[1:] == ["One", "Two"]
    assert texts(read(book), "incipit")[1:] == ["other words begin here and go", "last of all"]
    assert places(items[0])[0][0] == "1r"
    assert places(items[1]) == places(items[2])


def test_pages_that_follow_each_other_are_one_place():
    pages = [Page(1, Side.RECTO), Page(1, Side.VERSO), Page(2, Side.RECTO), Page(3, Side.VERSO)]
    assert runs(pages) == [PageSpan(pages[0], pages[2]), PageSpan(pages[3], pages[3])]
    assert loci([]) is None


@pytest.mark.parametrize(
    ("begins", "ends", "attributes", "label"),
    [
        (None, None, ("1r", "1r"), "1r"),
        (None, PageLine(0, 4), ("1r", "1r:4"), "1r to line 4"),
        (PageLine(2, 5), None, ("1rb:5", "1r"), "1r from column 2 line 5"),
        (PageLine(1, 5), PageLine(2, 9), ("1ra:5", "1rb:9"), "1r column 1 line 5 to column 2 line 9"),
    ],
)
def test_a_place_within_a_page(begins, ends, attributes, label):
    made = locus(PageSpan(Page.parse("1r"), Page.parse("1r"), begins, ends))
    assert ((made.get("from"), made.get("to")), made.text) == (attributes, label)


def test_a_place_through_several_pages():
    made = locus(PageSpan(Page.parse("1r"), Page.parse("3v"), PageLine(2, 7), PageLine(1, 4)))
    assert (made.get("from"), made.get("to")) == ("1rb:7", "3va:4")
    assert made.text == "1r column 2 line 7–3v column 1 line 4"
