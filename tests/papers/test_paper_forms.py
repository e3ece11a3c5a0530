"""Papers as plain text: headings, paragraphs, tables."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from copydesk.papers.paper_forms import WIDTH, PlainPaper

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=200)


def test_it_reads_from_the_top_down() -> None:
    paper = PlainPaper("Spaces to fill", "2 March 2027")
    paper.heading("Waiting")
    paper.paragraph("The gold is laid first.")
    paper.paragraph("an owl", strong=True)
    paper.table(("space", "subject"), [("frost", "a frozen mill")], (1, 3))
    assert paper.finish().splitlines() == [
        "Spaces to fill",
        "==============",
        "2 March 2027",
        "",
        "Waiting",
        "-------",
        "The gold is laid first.",
        "    an owl",
        "space               subject",
        "frost               a frozen mill",
    ]


def test_a_cell_is_wrapped_in_its_column() -> None:
    paper = PlainPaper("x")
    paper.table(("", ""), [("a b", "one " * 40)], (1, 1))
    rows = paper.finish().splitlines()[2:]
    assert len(rows) > 3
    assert all(row[:38].strip() == ("a b" if not at else "") for at, row in enumerate(rows))


def test_a_table_of_too_many_columns_is_a_list_of_entries() -> None:
    paper = PlainPaper("x")
    stages = ("drawing", "gilding", "colouring", "outlining", "polishing", "varnishing")
    paper.table(
        ("", "space", "shows", *stages), [("[ ]", "key", "a bronze key", "[x]", *[""] * 5)], (1, 2, 2, *[1] * 6)
    )
    assert paper.finish().splitlines()[2:] == ["", "[ ] key", "    shows a bronze key", "    drawing [x]", ""]


@given(WORDS, st.lists(st.tuples(WORDS, WORDS), max_size=4))
def test_no_line_is_too_long_and_nothing_controls_the_terminal(words: str, rows: list[tuple[str, str]]) -> None:
    """Property: whatever people wrote, every line fits and holds no control characters."""
    paper = PlainPaper(words, words)
    paper.heading(words)
    paper.paragraph(words, strong=True)
    paper.table(("one", "other"), rows, (1, 2))
    text = paper.finish()
    assert all(line.isprintable() for line in text.split("\n"))
    assert all(len(line) <= max(WIDTH, len(words)) for line in text.split("\n"))
