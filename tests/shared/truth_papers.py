"""Spaces, plan, pace, binder and papers of a book, held against each other."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from copydesk.book.structure.page import Page
from copydesk.papers.catalogue import make
from copydesk.papers.export.csv_lists import csv_list
from copydesk.papers.paper_forms import PaperRequest
from copydesk.tracking.binding.assembly import ASSEMBLY, assembly
from copydesk.tracking.decoration.space_report import place_words
from copydesk.tracking.fit.book_end import end_of_book
from copydesk.tracking.planning.outlook import OUTLOOK, outlook
from copydesk.tracking.scribes.handover_text import handover_lines
from copydesk.tracking.scribes.hands_now import HANDS, hands_now
from copydesk.tracking.views.skin_order import skin_order
from copydesk.tracking.views.space_homes import open_spaces, space_homes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from truth_seen import Seen


PAPERS = 3
"""Of so many steps the papers are made at one; at the others they would mostly be the same again."""


def plan(seen: Seen) -> Iterator[str]:
    """The plan, and the pace that rests on it."""
    data, state, budget = seen.plan, seen.state, seen.state.budget
    order = skin_order(state)
    bearing = [at for at, page in enumerate(budget.pages) if page.planned or page.placed]
    facts: dict[str, object] = {
        "pages": len(seen.pages),
        "leaves": state.collation.leaves,
        "sheets": len(seen.sheets),
        "lines": sum(row["planned"] for row in seen.pages) + budget.lines_without_room,
        "lines_without_room": budget.lines_without_room,
        "lines_left_over": budget.lines_left_over,
        "homeless": list(budget.homeless),
        "kept": [{"page": row["page"], "lines": row["lines_kept"]} for row in seen.pages if row["lines_kept"]],
        "skins": (order.skins or None) if order is not None else None,
        "skins_with_flyleaves": (order.with_flyleaves or None) if order is not None else None,
    }
    if not budget.lines_without_room:
        facts["pages_needed"] = max(bearing, default=-1) + 1
    yield from (f"{key}: plan {data[key]}, elsewhere {value}" for key, value in facts.items() if data[key] != value)
    if data["page"]["lines"] != state.frame.lines:
        yield f"the plan's page has {data['page']['lines']} lines, pages to rule {state.frame.lines}"
    end = end_of_book(state)
    seen_ahead = outlook(state, seen.now.date(), end.chance_text_fits)
    pace = OUTLOOK.data(seen_ahead)
    if pace["chance_text_fits"] != data["chance_text_fits"]:
        yield f"chance to fit: pace {pace['chance_text_fits']}, plan {data['chance_text_fits']}"
    left = sum(row["planned"] - row["written"] for row in seen.pages) + budget.lines_without_room
    lost = sum(each.lines for each in seen_ahead.lost)
    if sum(task.lines for task in seen_ahead.work.writing) != left + lost:
        yield f"lines to write: pace {[task.lines for task in seen_ahead.work.writing]}, pages {left}, lost {lost}"
    gaps = sum(row.get("gap_words", 0) for row in seen.pages)
    if pace["words_on_no_page"] < gaps:
        yield f"words on no page: pace {pace['words_on_no_page']}, skipped before pages {gaps}"
    if pace["skins"] and sum(each["skins"] for each in pace["skins"]) > (data["skins_with_flyleaves"] or 0):
        yield f"skins: pace {pace['skins']}, plan {data['skins_with_flyleaves']}"


def hands(seen: Seen) -> Iterator[str]:
    """How close each hand writes, as its own verb, the handover and the state give it."""
    said = next(line.says for line in handover_lines(seen.state, seen.given) if line.head == "Hands")
    for row in HANDS.all_data(hands_now(seen.state)):
        usual = seen.state.letters_of(row["hand"])
        if abs(row["letters_per_line"] - usual) > 0.051:
            yield f"{row['hand']}: {row['letters_per_line']} letters a line, cast at {usual}"
        if f"{row['hand']} writes {usual:.1f}" not in said:
            yield f"{row['hand']}: {usual} letters a line, the handover has {said}"


def spaces(seen: Seen) -> Iterator[str]:
    """Every space of today stands once, in one place, wherever it is told of; one without a place is told of."""
    state, rows = seen.state, seen.spaces
    yield from (f"{plan.id} is in no list" for plan in state.plans if plan.id not in rows)
    table = list(csv.DictReader(io.StringIO(csv_list(state, "spaces", seen.now).decode())))
    if Counter(row["space"] for row in table) != Counter(list(rows)):
        yield f"in the spreadsheet {[row['space'] for row in table]}, in the book {sorted(rows)}"
    for line in table:
        row = rows[line["space"]]
        for key in ("page", "column", "from_line", "lines", "width", "height", "stage", "sheet", "next"):
            if line[key].removeprefix("'") != str(row[key] if row[key] is not None else ""):
                yield f"{line['space']} {key}: JSON {row[key]}, CSV {line[key]}"
    yield from _places(seen)
    for page in seen.pages:
        here = [each for each in rows.values() if each["page"] == page["page"]]
        counted = (sum(each["waiting"] for each in here), sum(each["stage"] == "done" for each in here))
        if counted != (page["spaces_waiting"], page["spaces_filled"]):
            filled = page["spaces_filled"]
            yield f"on {page['page']} {counted} waiting and filled, the page {page['spaces_waiting']} {filled}"
    yield from _overlaps(seen)


def _places(seen: Seen) -> Iterator[str]:
    """Each stands on the page and sheet where it has its home, or is told to have none."""
    opened, homes = open_spaces(seen.state), space_homes(seen.state)
    for report in seen.space_reports:
        account, name = report.account, report.account.plan.id
        if account.page is None:
            told = name in seen.state.budget.homeless or any(f"pace {name} " in said for said in opened)
            if account.record.ended is None and not told:
                yield f"{name} stands nowhere, and nothing says so"
            continue
        home, page = homes.get(name), seen.pages[account.page.index]
        row, said = seen.spaces[name], place_words(account, seen.state.book)
        if page["label"] not in said or (row["lines"] and str(row["from_line"]) not in said):
            yield f"{name}: {said}, JSON {page['label']} line {row['from_line']}"
        if home is not None and home.page != account.page.index:
            yield f"{name}: on {account.page}, its home {Page.at(home.page)}"
        if seen.spaces[name]["sheet"] != f"{page['gathering']}.{page['sheet']}":
            yield f"{name} on {page['page']}: sheet {seen.spaces[name]['sheet']}, the page's {page['sheet']}"


def _overlaps(seen: Seen) -> Iterator[str]:
    """No two spaces stand over the same lines, none beyond its column."""
    for index in range(seen.state.collation.pages):
        frame = seen.state.frame_of(index)
        taken = {each for each in (*frame.fixed, *seen.state.budget.pages[index].placed) if each.lines}
        for one, two in pairwise(sorted(taken, key=lambda each: (each.column, each.from_line))):
            meet = 0 in (one.column, two.column) or one.column == two.column
            if meet and one.id != two.id and one.from_line <= two.from_line < one.from_line + one.lines:
                yield f"{one.id} and {two.id} overlap on {Page.at(index)}"
        beyond = [each for each in taken if not 1 <= each.from_line <= frame.lines + 1 - each.lines]
        yield from (f"{each.id} on {Page.at(index)}: {each}, of {frame.lines} lines" for each in beyond)


def handover(seen: Seen) -> Iterator[str]:
    """The handover leads to the line where the text goes on, and asks what the pages ask."""
    data, goes_on = seen.handover, seen.handover["goes_on"]
    if goes_on is None:
        return
    row = seen.pages[Page.parse(goes_on["page"]).index]
    if not row["from_word"] <= data["next_word"] <= max(row["to_word"], row["from_word"]):
        yield f"goes on with word {data['next_word']} on {row['page']}, of {row['from_word']} to {row['to_word']}"
    if goes_on["column"] == goes_on["line"] == 1 and not row["written"] and data["next_word"] != row["from_word"]:
        yield f"begins {row['page']} with word {data['next_word']}, the page with {row['from_word']}"
    begins = seen.state.exemplar is not None and data["next_word"] == row["from_word"] and row["first_words"]
    if begins and not data["next_words"].startswith(row["first_words"].split()[0]):
        yield f"next words {data['next_words']!r}, {row['page']} begins {row['first_words']!r}"
    if data["sheet"] != f"{row['gathering']}.{row['sheet']}":
        yield f"sheet {data['sheet']}, {row['page']} is on {row['gathering']}.{row['sheet']}"
    stretch = row.get("stretch")
    if stretch is not None:
        asked = (data["lines_over"], data["letters_needed"], data["until"], data["hands"])
        if asked != (stretch["lines_over"], stretch["letters_needed"], stretch["to"], stretch["hands"]):
            yield f"asks {asked}, the page {stretch}"


def binder(seen: Seen) -> Iterator[str]:
    """What stands in the way of sewing is what the pages and spaces wait for."""
    found = ASSEMBLY.data(assembly(seen.state))
    obstacles = Counter(point["where"] for point in found["obstacles"])
    for row in seen.pages:
        waits = row["next"].split()[0] in ("rule", "write", "check", "mend") or "gap_words" in row
        waits = waits or row["spaces_waiting"] or "overlap_words" in row
        if bool(obstacles[row["page"]]) != bool(waits):
            yield f"{row['page']} {obstacles[row['page']]} obstacles, it waits for {row['next']}"
    if found["sheets"] != len(seen.sheets) or found["ready"] != (not found["obstacles"]):
        yield f"{found['sheets']} sheets, the sheets' list {len(seen.sheets)}; ready {found['ready']}"
    if sum(len(line["signatures"]) for line in found["register"]) != len(seen.state.collation.gatherings):
        yield f"register {found['register']}, {len(seen.state.collation.gatherings)} gatherings"
    for point in found["obstacles"]:
        name = re.fullmatch(r"space (\S+) waits", point["what"])
        if name is not None and seen.spaces[name[1]]["page"] != point["where"]:
            yield f"{point['what']} on {point['where']}, the artist's list {seen.spaces[name[1]]['page']}"
    text = _squeezed(seen, "binder")
    if f"{seen.state.collation.leaves}lea" not in text or f"{len(seen.sheets)}sheet" not in text:
        yield f"the order has not {seen.state.collation.leaves} leaves and {len(seen.sheets)} sheets"


def papers(seen: Seen) -> Iterator[str]:
    """Papers name what the screens name."""
    if len(seen.job.ledger) % PAPERS:
        return
    state = seen.state
    on_paper = _squeezed(seen, "handover")
    for line in handover_lines(state, seen.given):
        if line.head in ("Room", "Ruling", "Hands") and _tight(line.says)[1:] not in on_paper:
            yield f"handover has not: {line.says}"
    index = seen.given.goes_on.page.index
    row, lines = seen.pages[index], state.frame_of(index).lines
    if row["ruled_lines"] != lines * state.frame_of(index).columns or state.layout_on(index).lines != lines:
        yield f"{row['page']} has {row['ruled_lines']} lines, its frame {lines}"
    ruling = _squeezed(seen, "ruling", Page.at(index))
    if f",{lines}line" not in ruling:
        yield f"ruling of {row['page']} has not {lines} lines"
    listed = _squeezed(seen, "spaces")
    for name, space in seen.spaces.items():
        if space["page"] == row["page"] and space["lines"] and f"Reservedfor{_tight(name)}," not in ruling:
            yield f"ruling of {row['page']} has not the space {name}"
        if space["waiting"] and _tight(name) not in listed:
            yield f"the artist's list has not {name}"
    yield from _map(seen)


def _map(seen: Seen) -> Iterator[str]:
    """The sheet map has every page under its sheet and side, with its lines and how many are over."""
    lines = make("sheets", PaperRequest(seen.job, "text")).decode().splitlines()
    found: dict[str, str] = {}
    heads = {f"{row['label'].removeprefix('p. ')} {row['next']}": row["page"] for row in seen.pages}
    side, here = "", ["", ""]
    for line in lines:
        if " side up, " in line:
            side, here = line, ["", ""]
        elif "┊" in line:
            for half, part in enumerate(line.split("┊")):
                said = " ".join(part.split())
                here[half] = heads.get(said, here[half])
                if here[half]:
                    found[here[half]] = f"{found.get(here[half], side)} {said}"
    for row in seen.pages:
        said = found.get(row["page"], "")
        sheet = f"Sheet {row['gathering']}.{row['sheet']}"
        place = said.startswith((f"{sheet},", f"{sheet} (")) and f"{row['side']} side up, {row['surface']}" in said
        figures = f"{row['ruled_lines']} lines {'to rule' if row['state'] == 'unruled' else 'ruled'}, "
        figures += f"{row['written']} of {row['planned']} written"
        figures += f", {row['over']} over" if row["over"] > 0 else ""
        if not place or (row["next"] not in ("blank", "rule") and _tight(figures) not in _tight(said)):
            yield f"sheet map: {row['page']} {said!r}, JSON {sheet} {row['side']} {figures}"


def _squeezed(seen: Seen, name: str, page: Page | None = None) -> str:
    """A paper as text, without blanks, as its lines may break anywhere."""
    return _tight(make(name, PaperRequest(seen.job, "text", page)).decode())


def _tight(text: str) -> str:
    return re.sub(r"\s", "", text)


def log(seen: Seen) -> Iterator[str]:
    """The log has every entry, in order, and tells which were taken back."""
    from copydesk.tracking.log.entry_text import describe

    ledger = seen.job.ledger
    ticks = [entry.tick for entry in ledger]
    if ticks != sorted(ticks):
        yield "its entries are out of order"
    newest: Any = list(ledger)[-1:]
    for entry in newest:
        if not describe(entry, seen.state).strip():
            yield f"entry {entry.entry} is told in no words"
