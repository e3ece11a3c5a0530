"""What people typed is never read as markup, nothing prints but the two that may, and no comment keeps history."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "copydesk"
FILES = sorted(PACKAGE.rglob("*.py"))
SPEAKERS = ("output.py", "exit_codes.py")
MARKED_UP = ("Static", "Label", "notify", "Button", "Option")
"""What reads plain text as markup unless it is told not to."""


def calls(path: Path) -> Iterator[tuple[str, ast.Call]]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func
            yield called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", ""), node


def is_harmless(argument: ast.expr) -> bool:
    """Content or Text, such a text set in, an empty text, or the empty widget."""
    if isinstance(argument, ast.Constant):
        return argument.value == ""
    if isinstance(argument, ast.Call):
        called = argument.func
        name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
        owner = getattr(getattr(called, "value", None), "id", "")
        return name in ("Content", "Text", "HangingText") or owner in ("Content", "Text")
    return False


def test_nothing_shown_is_read_as_markup() -> None:
    bare = []
    for path in FILES:
        for name, call in calls(path):
            if name not in MARKED_UP or not call.args:
                continue
            off = any(
                keyword.arg == "markup" and isinstance(keyword.value, ast.Constant) and keyword.value.value is False
                for keyword in call.keywords
            )
            if not off and not is_harmless(call.args[0]):
                bare.append(f"{path.relative_to(PACKAGE)}:{call.lineno}")
    assert not bare


def test_nothing_is_made_from_markup() -> None:
    for path in FILES:
        assert not [call.lineno for name, call in calls(path) if name == "from_markup"], path


def test_only_two_files_speak_to_the_terminal() -> None:
    for path in FILES:
        speaks = path.parent.name == "cli" and path.name in SPEAKERS
        for name, call in calls(path):
            assert name != "print" or speaks, f"{path}:{call.lineno}"
            aimed = isinstance(call.func, ast.Attribute) and ast.unparse(call.func)
            assert not aimed or not re.match(r"sys\.std(out|err)\.(write|buffer)", aimed) or speaks, (
                f"{path}:{call.lineno}"
            )


def test_no_work_is_left_as_a_note() -> None:
    for path in [*FILES, *sorted((ROOT / "tests").rglob("*.py"))]:
        if path == Path(__file__):
            continue
        text = path.read_text("utf-8")
        assert not re.search(r"\b(TODO|FIXME|HACK)\b|# *XXX\b", text), path
        assert "raise NotImplementedError" not in text, path
