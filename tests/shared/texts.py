"""Texts laid out for casting off, and strategies that make them: what several tests here share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import strategies as st

from copydesk.book.flow import Flow
from copydesk.book.layout.page_frame import Anchored, Frame, Placement, Shape, SplitLine
from copydesk.book.text.copy_text import CopyText, lay_text
from copydesk.book.text.exemplar import read_exemplar
from copydesk.book.text.hyphenation import anywhere
from copydesk.book.text.letter_widths import WordWidths, width_table

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from copydesk.book.flow import Starts
    from copydesk.book.plan import Change
    from copydesk.book.text.letter_widths import TableName

START_RULES: tuple[Starts, ...] = ("run on", "line", "column", "page", "recto")


def copy_of(
    text: str,
    *,
    flow: Flow | None = None,
    table: TableName = "equal",
    broken: bool = False,
    widest: float | None = None,
    changes: Sequence[Change] = (),
    new_line_at: Collection[int] = (),
) -> CopyText:
    """``text`` read as an exemplar and laid out; ``broken`` lets its words be broken anywhere."""
    return lay_text(
        read_exemplar(text),
        WordWidths(width_table(table)),
        flow or Flow(),
        changes=changes,
        new_line_at=new_line_at,
        divide=anywhere if broken else None,
        widest=widest,
    )


words = st.text("abcdefghij", min_size=1, max_size=9)
paragraphs = st.lists(words, min_size=1, max_size=40).map(" ".join)
verse_lines = st.lists(words, min_size=1, max_size=14).map(lambda line: "| " + " ".join(line))
verses = st.lists(verse_lines, min_size=1, max_size=5)
rubrics = st.lists(words, min_size=1, max_size=5).map(lambda title: "# " + " ".join(title))
texts = st.lists(st.one_of(paragraphs, verses.map("\n".join), rubrics), max_size=14).map("\n\n".join)

flows = st.builds(
    Flow,
    divisions=st.sampled_from(START_RULES),
    starts=st.dictionaries(st.integers(1, 5), st.sampled_from(START_RULES), max_size=3),
    paragraphs=st.sampled_from(("line", "run on")),
    rubrics=st.sampled_from(("line", "share")),
)

poem_lines = st.tuples(st.integers(0, 4), st.lists(words, min_size=0, max_size=9)).map(
    lambda line: "| " + " " * line[0] + " ".join(line[1])
)
poems = st.lists(
    st.one_of(paragraphs, st.lists(poem_lines, min_size=1, max_size=6).map("\n".join), rubrics), max_size=10
).map("\n\n".join)
"""Texts with verse, some of it indented, and blank lines marked within it."""

poem_flows = st.builds(
    Flow,
    divisions=st.sampled_from(START_RULES),
    between_stanzas=st.integers(0, 2),
    hanging=st.sampled_from((0.0, 2.0)),
    long_verses=st.sampled_from(("next line", "line above", "line below")),
)

shapes = st.one_of(
    st.builds(Shape, id=st.just(""), lines=st.integers(1, 6), across=st.booleans(), share=st.just(0.0)),
    st.builds(Shape, id=st.just(""), lines=st.integers(1, 4), across=st.just(False), share=st.sampled_from((0.2, 0.5))),
    st.just(Shape("", 0, False, 0.0)),
)


@st.composite
def anchored(draw: st.DrawFn, copy: CopyText, most: int = 4) -> list[Anchored]:
    """Spaces tied to beginnings of lines of ``copy``, as reserved ones are; a border anywhere."""
    starts = [run.start for run in copy.runs]
    if not starts:
        return []
    found = []
    for number in range(draw(st.integers(0, most))):
        shape = draw(shapes)._replace(id=f"s{number}")
        piece = draw(st.sampled_from(starts) if shape.lines else st.integers(0, copy.pieces - 1))
        found.append(Anchored(piece, shape))
    return sorted(found, key=lambda each: (each.piece, each.shape.share > 0))


@st.composite
def frames(draw: st.DrawFn, columns: int, lines: int) -> Frame:
    """A page of this size: mostly bare, now and then with spaces fixed on it and with flaws."""
    ruled = draw(st.booleans())
    if draw(st.integers(0, 2)):
        return Frame(columns, lines, ruled=ruled)
    fixed = []
    for number in range(draw(st.integers(0, 2))):
        height = draw(st.integers(0, lines))
        share = draw(st.sampled_from((0.0, 0.0, 0.4)))
        column = draw(st.integers(0 if share == 0.0 else 1, columns))
        fixed.append(Placement(f"f{number}", column, draw(st.integers(1, lines)), height, share))
    spots = st.tuples(
        st.integers(1, columns), st.integers(1, lines), st.sampled_from((0.0, 0.3, 0.7, SplitLine((0.3, 0.5))))
    )
    return Frame(columns, lines, tuple(fixed), tuple(draw(st.lists(spots, max_size=4))), ruled)
