"""Files and functions are short, and every public name says what it is."""

from __future__ import annotations

import ast
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

PACKAGE = Path(__file__).parents[2] / "copydesk"
FILES = sorted(PACKAGE.rglob("*.py"))
MOST_LINES_OF_A_FILE = 400
MOST_LINES_OF_A_FUNCTION = 45

Function = ast.FunctionDef | ast.AsyncFunctionDef


def functions(path: Path) -> Iterator[Function]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, Function):
            yield node


def length(function: Function) -> int:
    """Lines of a function, its docstring left out."""
    first = function.body[0]
    told = ast.get_docstring(function) is not None
    documented = (first.end_lineno or first.lineno) - first.lineno + 1 if told else 0
    return (function.end_lineno or function.lineno) - function.lineno + 1 - documented


def test_no_file_is_long() -> None:
    long = {
        str(path.relative_to(PACKAGE)): lines
        for path in FILES
        if (lines := len(path.read_text("utf-8").splitlines())) > MOST_LINES_OF_A_FILE
    }
    assert not long


def test_no_function_is_long() -> None:
    long = {
        f"{path.relative_to(PACKAGE)}:{function.name}": length(function)
        for path in FILES
        for function in functions(path)
        if length(function) > MOST_LINES_OF_A_FUNCTION
    }
    assert not long


def test_most_functions_are_a_few_lines() -> None:
    assert median(length(function) for path in FILES for function in functions(path)) <= 8


def public(node: ast.Module | ast.ClassDef, where: str) -> Iterator[tuple[str, ast.AST]]:
    yield where, node
    for child in node.body:
        if isinstance(child, ast.ClassDef) and not child.name.startswith("_"):
            yield from public(child, f"{where}.{child.name}")
        elif isinstance(child, Function) and not child.name.startswith("_"):
            yield f"{where}.{child.name}", child


def test_every_public_name_says_what_it_is() -> None:
    silent = [
        name
        for path in FILES
        for name, node in public(ast.parse(path.read_text("utf-8")), str(path.relative_to(PACKAGE)))
        if not ast.get_docstring(node)  # type: ignore[arg-type]
    ]
    assert not silent


def test_every_function_is_typed() -> None:
    for path in FILES:
        for function in functions(path):
            assert function.returns is not None, f"{path}:{function.lineno}"
            for argument in (*function.args.args, *function.args.kwonlyargs):
                assert argument.annotation is not None or argument.arg in ("self", "cls"), f"{path}:{function.lineno}"
