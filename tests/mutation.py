"""Small faults put into the code one at a time, to see whether the tests notice; prints those that no test notices.

    python tests/mutation.py                            # the reports and small computations, ten faults each
    python tests/mutation.py --each 30 --seed 7 tracking/planning/outlook book/casting/line_breaking
    python tests/mutation.py --minutes 5                # as far as it comes

The same seed puts in the same faults. A fault is put into a copy of the project, never into the project itself. What
notices it should are the tests of the same name and those of ``BESIDE``. A survivor is a test that is missing, or code
that makes no difference.
"""

from __future__ import annotations

import argparse
import ast
import copy
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

ROOT = Path(__file__).parents[1]
MODULES = (
    "book/casting/line_breaking",
    "book/common/numerals",
    "book/materials/guillotine_cuts",
    "store/journal/ledger_file",
    "tracking/binding/assembly",
    "tracking/checking/fault_rates",
    "tracking/checking/fault_report",
    "tracking/decoration/space_report",
    "tracking/planning/outlook",
    "tracking/planning/planner",
    "tracking/scribes/stints",
    "tracking/views/change_report",
    "tracking/views/page_report",
)
"""What is tried unless others are named: reports, their columns, and computations of a few lines."""

BESIDE = {
    "store/journal/ledger_file": ("tests/store/journal/test_ledger_trials.py",),
    "tracking/checking/fault_report": ("tests/house/test_kept_keys.py",),
    "tracking/views/change_report": ("tests/tracking/commands/test_change_commands.py",),
    "tracking/views/page_report": ("tests/cli/test_reading_verbs.py", "tests/tracking/views/test_page_view.py"),
}
"""Tests with another name that should notice a fault in a module."""

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.FloorDiv,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
}
OTHER_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "bisect_left": "bisect_right"}

TIMEOUT = 600
"""Seconds after which the tests of one fault are given up: the fault made a loop that does not end."""


class Fault(NamedTuple):
    """One small fault: the line it stands on, what it is, and how to put it into the node it was found at."""

    line: int
    what: str
    node: int
    put: Callable[[ast.AST], None]


def faults(tree: ast.Module) -> Iterator[Fault]:
    """Every fault that can be put into a module; nodes are numbered as ``ast.walk`` gives them."""
    passed_over = set(_not_run(tree))
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in passed_over:
            continue
        for what, put in (*_faults_of_value(node), *_faults_of_list(node)):
            yield Fault(getattr(node, "lineno", 0), what, number, put)


def _not_run(tree: ast.Module) -> Iterator[int]:
    """Nodes that make no difference to what is worked out: annotations, docstrings, imports for the type checker."""
    for node in ast.walk(tree):
        given = [getattr(node, "annotation", None), getattr(node, "returns", None)]
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            given.append(node.value)
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            given.append(node)
        for each in given:
            if isinstance(each, ast.AST):
                yield from (id(inner) for inner in ast.walk(each))


def _faults_of_value(node: ast.AST) -> Iterator[tuple[str, Callable[[ast.AST], None]]]:
    if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARISONS:
        yield "comparison swapped", _set("ops", [COMPARISONS[type(node.ops[0])](), *node.ops[1:]])
    elif isinstance(node, ast.BinOp) and type(node.op) in OPERATORS:
        yield f"{type(node.op).__name__} swapped", _set("op", OPERATORS[type(node.op)]())
    elif isinstance(node, ast.BoolOp):
        yield "and or or swapped", _set("op", ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.IfExp):
        yield "choice turned round", _set("test", ast.UnaryOp(ast.Not(), node.test))
    elif isinstance(node, ast.Constant) and isinstance(node.value, int) and not isinstance(node.value, bool):
        yield f"{node.value} one more", _set("value", node.value + 1)
        yield f"{node.value} one less", _set("value", node.value - 1)
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield f"{node.value} turned round", _set("value", not node.value)
    elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) and node.id in OTHER_NAMES:
        yield f"{node.id} swapped", _set("id", OTHER_NAMES[node.id])


def _faults_of_list(node: ast.AST) -> Iterator[tuple[str, Callable[[ast.AST], None]]]:
    if isinstance(node, ast.Call):
        yield from _faults_of_order("args", node.args)
    elif isinstance(node, ast.Tuple | ast.List) and isinstance(node.ctx, ast.Load):
        yield from _faults_of_order("elts", node.elts)
        if len(node.elts) > 1:
            yield "last element dropped", _set("elts", node.elts[:-1])


def _faults_of_order(field: str, given: Sequence[ast.expr]) -> Iterator[tuple[str, Callable[[ast.AST], None]]]:
    for at in range(len(given) - 1):
        swapped = [*given[:at], given[at + 1], given[at], *given[at + 2 :]]
        yield f"elements {at + 1} and {at + 2} swapped", _set(field, swapped)


def _set(field: str, value: object) -> Callable[[ast.AST], None]:
    return lambda node: setattr(node, field, value)


def with_fault(tree: ast.Module, fault: Fault) -> str:
    """The source of the module with this fault in it."""
    changed = copy.deepcopy(tree)
    for number, node in enumerate(ast.walk(changed)):
        if number == fault.node:
            fault.put(node)
            break
    return ast.unparse(ast.fix_missing_locations(changed))


def tests_of(module: str) -> list[str]:
    """The tests that should notice a fault: those of the same name, else the whole room's, and those beside."""
    own = sorted((ROOT / "tests").rglob(f"test_{Path(module).name}.py"))
    found = [*(path.relative_to(ROOT).as_posix() for path in own), *BESIDE.get(module, ())]
    if missing := [path for path in found if not (ROOT / path).is_file()]:
        sys.exit(f"BESIDE names {missing[0]}, which is not there; mend that first")
    return found or [f"tests/{Path(module).parent.as_posix()}"]


def is_noticed(project: Path, tests: Sequence[str]) -> bool:
    """Whether the tests fail."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", *tests]
    try:
        return subprocess.run(command, cwd=project, capture_output=True, check=False, timeout=TIMEOUT).returncode != 0
    except subprocess.TimeoutExpired:
        return True


def survivors(project: Path, module: str, each: int, chance: Random, until: float) -> Iterator[str]:
    """Faults of one module that its tests do not notice, as ``file:line what``."""
    path = project / "copydesk" / f"{module}.py"
    source = path.read_text("utf-8")
    tree, tests = ast.parse(source), tests_of(module)
    if is_noticed(project, tests):
        sys.exit(f"{' '.join(tests)} fail as the code is; mend that first")
    known = list(faults(tree))
    tried = 0
    for fault in chance.sample(known, min(each, len(known))):
        if time.monotonic() > until:
            break
        path.write_text(with_fault(tree, fault), "utf-8")
        tried += 1
        if not is_noticed(project, tests):
            yield f"copydesk/{module}.py:{fault.line} {fault.what}"
    path.write_text(source, "utf-8")
    yield f"{module}: {tried} of {len(known)} faults tried with {' '.join(tests)}"


def main() -> None:
    """Try the modules that are named, or those of ``MODULES``."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("modules", nargs="*", metavar="MODULE", help="as book/casting/line_breaking")
    parser.add_argument("--each", type=int, default=10, help="faults put into each module (10)")
    parser.add_argument("--seed", type=int, default=1, help="which faults (1)")
    parser.add_argument("--minutes", type=float, default=30.0, help="when to stop (30)")
    given = parser.parse_args()
    until = time.monotonic() + 60 * given.minutes
    with tempfile.TemporaryDirectory(prefix="copydesk-mutation-") as folder:
        project = Path(folder) / "project"
        shutil.copytree(ROOT, project, ignore=shutil.ignore_patterns(".venv*", ".git", "__pycache__", ".*cache*"))
        modules = given.modules or MODULES
        if unknown := [module for module in modules if not (project / "copydesk" / f"{module}.py").is_file()]:
            parser.error(f"there is no copydesk/{unknown[0]}.py")
        for module in modules:
            if time.monotonic() > until:
                break
            for line in survivors(project, module, given.each, Random(f"{given.seed} {module}"), until):
                print(line, flush=True)


if __name__ == "__main__":
    main()
