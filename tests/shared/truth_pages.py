"""Every place that tells of a page, held against what ``pages --json`` gives of it."""

from __future__ import annotations

import csv
import io
import re
from typing import TYPE_CHECKING, Any

from copydesk.desk.wording.cell_words import cell_words
from copydesk.desk.wording.desk_panel_words import desk_panel
from copydesk.desk.wording.page_words import page_lines
from copydesk.papers.export.csv_lists import csv_list
from copydesk.tracking.state.page_content import lines_of_page
from copydesk.tracking.views.consequences import meeting_words
from copydesk.tracking.views.gathering_progress import book_glance, gathering_reports, page_glance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.tracking.views.page_view import PageAccount
    from truth_seen import Seen


_IN_CSV = (
    "page", "next", "state", "written", "planned", "budget", "over", "gathering", "leaf", "sheet", "side", "surface",
    "from_word", "to_word", "first_words", "ruled_lines", "lines_in_spaces", "spaces_waiting", "faults_open", "label",
)  # fmt: skip
_PANEL = re.compile(
    r"(\d+) (?:ruled|to rule), (\d+) for text, (\d+) planned(?:, (\d+) written)?(?:: (\d+) lines? (over|left))?"
)
_FIGURES = re.compile(
    r"(\d+) lines? for text, (?:ruled|to rule)(?:, (\d+) written)?"
    r"(?:; the text is (\d+) lines? over|; the text leaves (\d+) lines? empty)?"
)
LOOKED_INTO = 5
"""Every so many pages one is looked into line by line, another at each step."""


def pages(seen: Seen) -> Iterator[str]:
    """All there is to say against what is told of single pages."""
    table = list(csv.DictReader(io.StringIO(csv_list(seen.state, "pages", seen.now).decode())))
    if not len(seen.pages) == len(table) == seen.state.collation.pages:
        yield f"{len(seen.pages)} rows, {len(table)} in the spreadsheet, {seen.state.collation.pages} pages"
    turn = len(seen.job.ledger) % LOOKED_INTO
    for index, (account, row, line) in enumerate(zip(seen.accounts, seen.pages, table, strict=False)):
        told = [*_figures(account, row), *_csv(row, line), *_panel(seen, account, row), *_cell(seen, account, row)]
        told += [*_sheet(seen, row)]
        if index % LOOKED_INTO == turn:
            told += _lines(seen, account, row)
        yield from (f"{row['page']} {each}" for each in told)


def _figures(account: PageAccount, row: dict[str, Any]) -> Iterator[str]:
    """The figures of a page agree among themselves."""
    if row["ruled_lines"] - row["lines_in_spaces"] - row["lines_in_flaws"] != row["budget"]:
        yield f"budget {row['budget']} of {row['ruled_lines']} lines, {row['lines_in_spaces']} in spaces"
    beyond = row["planned"] + row["lines_kept"] - row["budget"]
    over = beyond if beyond > 0 else max(row["planned"], row["written"]) - row["budget"]
    if row["over"] != over:
        yield f"over {row['over']}, by its lines {over}"
    stretch = row.get("stretch")
    ends = stretch is not None and stretch["held"] and stretch["to"] == row["page"] and row["written"] <= row["budget"]
    if stretch is not None and ends and max(stretch["lines_over"], 0) != max(row["over"], 0):
        yield f"{row['over']} over, its stretch {stretch['lines_over']}"
    lines = [(hand["from_line"], hand["to_line"]) for hand in row["hands"]]
    if lines and max(last for _, last in lines) != row["written"]:
        yield f"{row['written']} lines written, by its hands {lines}"
    if row["state"] in ("written", "checked", "corrected") and row["planned"] != row["written"]:
        yield f"{row['state']}, {row['written']} lines written of {row['planned']}"


def _csv(row: dict[str, Any], line: dict[str, str]) -> Iterator[str]:
    for key in _IN_CSV:
        if str(row[key]) != line[key].removeprefix("'"):
            yield f"{key}: JSON {row[key]}, CSV {line[key]}"


def _panel(seen: Seen, account: PageAccount, row: dict[str, Any]) -> Iterator[str]:
    """The panel of a page, line by line."""
    lines = page_lines(seen.state, account)
    said: dict[str, str] = {}
    head = ""
    for line in lines:
        head = line.head or head
        said[head] = f"{said.get(head, '')} {line.says}".strip()
    found = _PANEL.fullmatch(said["Lines"])
    over = 0 if found is None or not found[5] else int(found[5]) * (1 if found[6] == "over" else -1)
    figures = found and (int(found[1]), int(found[2]), int(found[3]), int(found[4] or 0), over)
    known = (row["ruled_lines"], row["budget"], row["planned"], row["written"])
    if figures != (*known, row["over"] if row["planned"] or row["over"] > 0 else 0):
        yield f"panel: {said['Lines']}, JSON {known}, {row['over']} over"
    if (" to rule," in said["Lines"]) != (row["state"] == "unruled"):
        yield f"panel: {said['Lines']}, JSON {row['state']}"
    for head, words in _panel_has(seen, account, row):
        if words not in f" {said.get(head, '')}":
            yield f"panel: {said.get(head)}, JSON {words}"
    if row["faults_open"] and said["Faults"].count("fault ") < row["faults_open"]:
        yield f"panel: {said['Faults']}, JSON {row['faults_open']} open"
    yield from _panel_spaces(seen, account, said.get("Spaces", ""))


def _panel_has(seen: Seen, account: PageAccount, row: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """What the panel must have of a page under which heading, by the JSON."""
    yield row["label"], f" gathering {row['gathering']}, sheet {row['sheet']}, {row['side']} side, {row['surface']}"
    if seen.state.exemplar is not None and row["first_words"]:
        yield "Text", f'"{row["first_words"]}" to'
    if row["lines_kept"]:
        yield "Blank", f" {row['lines_kept']} line"
    if (stretch := row.get("stretch")) is not None and stretch["lines_over"]:
        yield "Stretch" if stretch["held"] else "End", f" {abs(stretch['lines_over'])} line"
    if skipped := row.get("gap_words") or row.get("overlap_words"):
        yield "Watch", f" {skipped} word"
        yield "Watch", meeting_words(seen.state, account.page.index)
    for hand in row["hands"]:
        yield "Hand", f"{hand['hand']}, lines {hand['from_line']} to {hand['to_line']},"
    if row["checked_by"]:
        yield "Checked", f"by {row['checked_by']}"


def _panel_spaces(seen: Seen, account: PageAccount, said: str) -> Iterator[str]:
    """The spaces of the panel are those of ``spaces --json``, at the same lines and as far."""
    for space in account.spaces:
        row = seen.spaces.get(space.plan.id)
        if row is None:
            continue
        lines = f"lines {row['from_line']} to {row['from_line'] + row['lines'] - 1}" if space.plan.lines else ""
        if f"{row['space']}, {row['kind']}" not in said or lines not in said or row["stage"] not in said:
            yield f"panel: {said}, the artist's list {row['space']} {row['page']} {lines} {row['stage']}"
        if row["page"] != str(account.page):
            yield f"has space {row['space']}, the artist's list has it on {row['page']}"


def _cell(seen: Seen, account: PageAccount, row: dict[str, Any]) -> Iterator[str]:
    """The cell among the gatherings, the panel beside it, the page at a glance."""
    words, glance = cell_words(account), page_glance(seen.state, account.page.index)
    act = row["next"].split()[0]
    blank = act == "blank"
    shown = (
        str(words.act), words.figures, words.over, words.faults.startswith("!") and int(words.faults[1:]),
        words.unmet, words.check or None,
    )  # fmt: skip
    over = "" if blank or not row["over"] else f"{'+' if row['over'] > 0 else '−'}{abs(row['over'])}"
    known = (
        act, "" if blank else f"{row['written']}/{row['budget']}", over, row["faults_open"] or False,
        bool(row.get("gap_words") or row.get("overlap_words")), row["check"],
    )  # fmt: skip
    if shown != known:
        yield f"cell: {shown}, JSON {known}"
    glanced = (str(glance.act), glance.written, glance.faults, glance.spaces)
    whole = row["state"] in ("written", "checked", "corrected")
    if glanced != (act, whole, row["faults_open"], row["spaces_waiting"]):
        yield f"glance: {glanced}, JSON {act} {row['state']} {row['faults_open']} {row['spaces_waiting']}"
    lines = [line for group in desk_panel(seen.state, account) for line in group.lines]
    head = f"{words.figures} {words.over}".strip()
    figures = next(line.says for line in lines if line.head in (head, "Lines"))
    found = _FIGURES.fullmatch(figures)
    told = found and (int(found[1]), int(found[2] or 0), int(found[3] or 0) - int(found[4] or 0))
    if not blank and told != (row["budget"], row["written"], row["over"]):
        yield f"panel beside the gatherings: {figures}, JSON {known}"
    doing = next(line.says for line in lines if line.head == "Next")
    if act in ("rule", "write", "check") and not doing.startswith((act, "go on" if act == "write" else act)):
        yield f"panel beside the gatherings: {doing}, JSON {act}"


def _sheet(seen: Seen, row: dict[str, Any]) -> Iterator[str]:
    """The page stands where its sheet has it."""
    name = f"{row['gathering']}.{row['sheet']}"
    sheet = next((each for each in seen.sheets if each["name"] == name), None)
    side = sheet[row["side"]] if sheet is not None else {}
    beside = {side.get("left"), side.get("right")}
    if row["page"] not in beside or side.get("surface") != row["surface"] or row["conjugate"] not in beside:
        yield f"beside {row['conjugate']} on the {row['side']} {row['surface']} side of {name}, the sheet has {side}"


def _lines(seen: Seen, account: PageAccount, row: dict[str, Any]) -> Iterator[str]:
    """The lines of a page one by one hold its words, in as many lines as are told."""
    copy, lines = seen.state.copy, lines_of_page(seen.state, account.page.index)
    reached = account.budget.start
    for line in lines:
        if line.start != reached and not row["written"]:
            yield f"line {line.line} begins at piece {line.start}, the one before ends at {reached}"
        reached = line.end
    placed = row["planned"] - max(row["over"], 0)
    if not row["written"] and not placed - row["lines_empty"] <= len(lines) <= placed:
        yield f"{len(lines)} lines one by one, {placed} planned with a place"
    if lines and not row["over"] > 0 and copy.word(reached) != row["to_word"]:
        yield f"its lines end at word {copy.word(reached)}, it at {row['to_word']}"


def gatherings(seen: Seen) -> Iterator[str]:
    """The overview and the title of the desk count what the pages tell."""
    reports, glance = gathering_reports(seen.state), book_glance(seen.state).totals
    bearing = [row for row in seen.pages if row["next"] != "blank"]
    checked = [row for row in bearing if row["state"] in ("checked", "corrected")]
    counted = {
        "pages": len(bearing),
        "written": sum(row["state"] in ("written", "checked", "corrected") for row in bearing),
        "checked": len(checked),
        "corrected": sum(row["state"] == "corrected" for row in checked),
        "faults": sum(row["faults_open"] for row in seen.pages),
        "spaces": sum(row["spaces_waiting"] for row in seen.pages),
    }
    for name, count in counted.items():
        if (added := sum(getattr(report, name) for report in reports)) != count:
            yield f"{name}: {added} in the overview, {count} by the pages"
        if name in glance._fields and getattr(glance, name) != count:
            yield f"{name}: {getattr(glance, name)} in the title, {count} by the pages"
    if sum(report.sheets for report in reports) != len(seen.sheets):
        yield f"{sum(report.sheets for report in reports)} sheets in the overview, {len(seen.sheets)} in the sheets"
