"""What is said of a plan: the questions about a new book, what follows from the answers, news of a changed file."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.phrases import count_of, grouped
from copydesk.book.common.units import show_length
from copydesk.desk.wording.lines import PanelLine, under_one_head

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.plan import Book
    from copydesk.book.text.raw_text import RawFinding
    from copydesk.tracking.state.text_state import Samples


class Question(NamedTuple):
    """A question: its name, what it asks, a hint where nothing is answered."""

    name: str
    asks: str
    hint: str = ""


QUESTIONS = (
    Question("folder", "Name of the folder to be made", "my-book"),
    Question("title", "Title", "as the folder is called"),
    Question("text", "File of the text, if it is typed", "none: its words are counted"),
    Question("mend", "Mend in the text: letters as beside", "nothing: it stays as it is"),
    Question("words", "Words of the text, if it is not"),
    Question("page", "Page: width by height (or 7 in x 10 in)"),
    Question("canon", "Margins by the canon of", "ninths, johnston, saint-remi"),
    Question("columns", "Columns"),
    Question("gap", "Gap between columns, mm"),
    Question("lines", "Written lines a column", "worked out from the script"),
    Question("script", "Name of the script", "as in a round hand"),
    Question("nib", "Nib, mm"),
    Question("heights", "x, ascender, descender, in nib widths"),
    Question("hand", "Scribes, with commas between"),
    Question("letters", "Letters to a line of each", "guessed from the script"),
    Question("sheets", "Sheets to a gathering"),
    Question("skin", "A skin's usable part: width by height", "none: skins are not counted"),
    Question("spoilage", "Of the skins, what share spoils", "as in 10 %"),
    Question("due", "The exemplar goes back on", "as in 2027-03-31"),
    Question("lent_by", "It is lent by"),
    Question("artist", "Who decorates the book"),
)
"""What is asked; each question fits the narrowest screen."""


def what_follows(
    book: Book, text: str, samples: Samples | None = None, findings: Sequence[RawFinding] = (), mend: str = ""
) -> list[PanelLine]:
    """What a plan comes to: page, lines, gatherings, sheets and skins; what was found in the text; advice.

    Args:
        book: the plan.
        text: the exemplar as plain text; empty where its words are counted.
        samples: lines that hands wrote, by hand.
        findings: what the text was found to hold.
        mend: the letters of the findings that will be mended.
    """
    # loaded here, since the desk wants the news of the plan below long before anybody sets up a book
    from copydesk.book.layout.page_advice import page_advice
    from copydesk.book.text.exemplar import read_exemplar
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.planning.plan_report import plan_report
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.narrow_lines import narrow_words

    state = BookState(book, read_exemplar(text) if text else None, Ledger(), samples)
    report, layout = plan_report(state), state.layout
    letters = state.measures[book.hands[0].id]
    others = [f"{hand.id} {state.measures[hand.id]:.0f}" for hand in book.hands[1:]]
    of_each = f" ({', '.join(others)})" if others else ""
    needed, gatherings = -(-report.pages_needed // 2), count_of(report.gatherings, "gathering")
    lines = [
        PanelLine(
            "Text",
            f"{count_of(report.words, 'word')} in {count_of(report.lines, 'line')} of {letters:.0f} letters{of_each}",
        ),
        PanelLine(
            "Page",
            f"{count_of(layout.lines, 'line')} of {show_length(layout.measure, book.unit)} in each of its columns",
        ),
        PanelLine("Lines", f"{show_length(layout.line_height, book.unit)} high"),
        PanelLine("Leaves", f"{grouped(report.leaves)}, of which the text needs {grouped(needed)}"),
        PanelLine("Sheets", f"{grouped(report.sheets)} in {gatherings}: {report.formula}"),
    ]
    if report.skins and book.skins is not None:
        from_each = f"{count_of(report.sheets_per_skin, 'sheet')} from each"
        lines.append(PanelLine("Skins", f"{grouped(report.skins_with_flyleaves)}, {from_each}"))
        if not book.skins.spoilage:
            lines.append(PanelLine("Spoilage", "nobody said how many skins spoil, so none is counted", wrong=True))
    if findings:
        told = (f"{each}{' (will be done)' if each.letter in mend else ''}" for each in findings)
        lines += under_one_head("In it", told)
    lines += under_one_head("Narrow", (narrow_words(state, place) for place in report.narrow), wrong=True)
    advice = page_advice(layout, book.script, letters, book.unit)
    return [*lines, *under_one_head("Advice", advice)]


class PlanSeen(NamedTuple):
    """The plan as last reported to the desk, and what was wrong then with a changed one."""

    book: Book
    problems: tuple[str, ...] = ()


def plan_news(before: PlanSeen, now: PlanSeen) -> list[str]:
    """What to say of the plan since ``before``; nothing where it is as it was."""
    if now.problems and now.problems != before.problems:
        return [f"The changed plan was not taken: {problem}" for problem in now.problems]
    if now.book != before.book or (before.problems and not now.problems):
        return ["book.yaml was changed; the plan was read again."]
    return []
