"""Files and functions are short, and every public name says what it is."""

from __future__ import annotations

import ast
from statistics import median
from typing import TYPE_CHECKING

import figures

if TYPE_CHECKING:
    from collections.abc import Iterator

MOST_LINES_OF_A_FUNCTION = 45


def test_no_file_is_long() -> None:
    assert not {name: lines for name, lines in figures.file_lengths().items() if lines > figures.LONG_FILE}


def test_no_function_is_long() -> None:
    assert not {
        f"{module.name}:{function.name}": figures.function_length(function)
        for module, function in figures.functions()
        if figures.function_length(function) > MOST_LINES_OF_A_FUNCTION
    }


def test_most_functions_are_a_few_lines() -> None:
    assert median(figures.function_length(function) for _, function in figures.functions()) <= 8


def public(node: ast.Module | ast.ClassDef, where: str) -> Iterator[tuple[str, ast.AST]]:
    yield where, node
    for child in node.body:
        if isinstance(child, ast.ClassDef) and not child.name.startswith("_"):
            yield from public(child, f"{where}.{child.name}")
        elif isinstance(child, figures.Function) and not child.name.startswith("_"):
            yield f"{where}.{child.name}", child


def test_every_public_name_says_what_it_is() -> None:
    silent = [
        name
        for module in figures.modules().values()
        for name, node in public(module.tree, module.name)
        if not ast.get_docstring(node)  # type: ignore[arg-type]
    ]
    assert not silent


def test_every_function_is_typed() -> None:
    for module, function in figures.functions():
        where = f"{module.path}:{function.lineno}"
        assert function.returns is not None, where
        for argument in (*function.args.args, *function.args.kwonlyargs):
            assert argument.annotation is not None or argument.arg in ("self", "cls"), where
