"""``copydesk help json`` and ``copydesk help verbs``: made from what the verbs and reports declare."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, cast

from copydesk.book.columns import Cell, Report
from copydesk.tracking.ledger.entry_kinds import KINDS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

REPORTS: dict[str, tuple[str, ...]] = {
    "new": ("copydesk.cli.verbs.new:JSON",),
    "shelf": ("copydesk.tracking.views.gathering_progress:SHELF",),
    "plan": ("copydesk.cli.verbs.plan:plan_json", "copydesk.cli.verbs.plan_keep:KEPT"),
    "forecast": ("copydesk.tracking.planning.outlook:OUTLOOK",),
    "remedies": ("copydesk.tracking.fit.remedies:REMEDIES_OF_PAGE", "copydesk.cli.verbs.remedies:CHOSEN"),
    "hands": ("copydesk.tracking.scribes.hands_now:HANDS",),
    "pages": ("copydesk.tracking.views.page_report:PAGES", "copydesk.tracking.scribes.guide_lines:GUIDE"),
    "ends": ("copydesk.tracking.fit.line_ends:LINE_ENDS",),
    "sheets": ("copydesk.tracking.views.sheet_report:SHEETS", "copydesk.tracking.views.sheet_pile:WHERE"),
    "spaces": (
        "copydesk.tracking.decoration.space_columns:SPACES",
        "copydesk.tracking.decoration.space_columns:TALLY",
    ),
    "passes": ("copydesk.tracking.passes.pass_report:PASSES",),
    "skins": ("copydesk.tracking.views.skin_batches:SKINS",),
    "record": ("copydesk.cli.verbs.record:JSON",),
    "undo": ("copydesk.cli.verbs.undo:JSON",),
    "compare": ("copydesk.tracking.checking.page_compare:COMPARED",),
    "faults": (
        "copydesk.tracking.checking.fault_report:FAULTS",
        "copydesk.tracking.checking.fault_rates_report:FAULT_RATES",
        "copydesk.tracking.fit.correction_fit:FIT",
    ),
    "changes": ("copydesk.tracking.views.change_report:CHANGES",),
    "handover": ("copydesk.tracking.scribes.handover:HANDOVER", "copydesk.tracking.scribes.handover:TAKEN"),
    "stints": ("copydesk.tracking.scribes.stints:SHARES",),
    "assemble": ("copydesk.tracking.binding.assembly:ASSEMBLY",),
    "colophon": ("copydesk.tracking.binding.colophon:COLOPHON",),
    "log": ("copydesk.cli.verbs.log:LOG",),
    "formula": ("copydesk.cli.verbs.formula:JSON",),
    "audit": ("copydesk.cli.verbs.audit:JSON",),
    "ledger": ("copydesk.cli.verbs.ledger:JSON",),
    "merge": ("copydesk.cli.verbs.merge:JSON",),
    "backup": ("copydesk.cli.verbs.backup:JSON",),
    "restore": ("copydesk.cli.verbs.restore:JSON",),
    "keys": ("copydesk.cli.verbs.keys:JSON",),
    "about": ("copydesk.cli.verbs.about:JSON",),
}
"""Where the reports that a verb gives with ``--json`` are declared; read only when the reference is shown."""


def reports_of(verb: str) -> list[Report[Any]]:
    """The reports that a verb gives with ``--json``."""
    found = []
    for place in REPORTS.get(verb, ()):
        module, _, name = place.partition(":")
        declared = getattr(import_module(module), name)
        found.append(declared if isinstance(declared, Report) else cast("Callable[[], Report[Any]]", declared)())
    return found


def json_reference() -> Iterator[str]:
    """Every key of the JSON of every verb, a line each."""
    yield "With --json a verb prints one JSON document. Keys stay; new ones may come."
    for verb in REPORTS:
        for report in reports_of(verb):
            kind = "a list of objects" if report.rows else "one object"
            yield ""
            yield f"copydesk {report.name} --json: {kind}. {report.says}"
            yield from _keys(report, 1)
    yield ""
    yield "Behind the keys of log stand what the entry is about (page, sheet, space, leaf, flyleaf) and its facts:"
    for name, kind_of in KINDS.items():
        if kind_of.facts:
            yield f"  {name}: {', '.join(kind_of.facts)}"


def _keys(report: Report[Any], depth: int) -> Iterator[str]:
    for column in report.columns:
        where = " (where it applies)" if column.optional else ""
        yield f"{'  ' * depth}{column.key}: {column.says}{where}. {_type(column.cell)}."
        if column.of is not None:
            yield from _keys(column.of, depth + 1)


def _type(cell: Cell) -> str:
    return cell.value[0].upper() + cell.value[1:]


def verb_reference() -> Iterator[str]:
    """Every verb: what it answers, and its examples."""
    from copydesk.cli.main import VERBS, load

    for name, says in VERBS.items():
        verb = load(name)
        yield f"copydesk {name}: {says}"
        yield from (f"    {example}" for example in verb.EXAMPLES)
