"""Figures of the house: how full folders are, circles of imports, class names used twice, size, retired words.

    python tests/house/figures.py

prints them; ``test_figures.py`` holds them to their limits. Imports count wherever they stand: at the top of a file,
inside a function, or for the type checker alone.
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
from collections import Counter, defaultdict
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "copydesk"
SHORT_FILE, LONG_FILE = 60, 400

RETIRED = (
    "whereof",
    "thereof",
    "herein",
    "nought",
    "aught",
    "betwixt",
    "hearken",
    "bespeak",
    "forthwith",
    "what it bears",
    r"befall\w*",
    "stands? in the way",
    "is told of",
    "will not serve",
    "parted by",
    "is spoken of",
    "told and reckoned as",
    "one beast's parchment",
    "that the exemplar has not",
    "cannot be so",
    "of itself",
    "as turned",
    "found in order",
    "(?-i:In way)",
    "begun today they are ready on",
    "nine such ranges in ten",
    "lets? go of",
    "it is heard",
    "befell",
    "whose beginning is settled",
    "checked and settled",
    "is it settled",
    "full stop alone",
    "four times in five",
    "where it writes",
    "whoever asks anew",
    "(?-i:settle \\.\\.\\.)",
    "settle (a|the) fault",
    "leave \\(quit\\)",
    "without room to",
)
"""Words and phrases that nobody says any more, or that a reader had to take apart, as patterns."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


class Module(NamedTuple):
    """A file of the package: its dotted name, its place, its text, and the tree of it."""

    name: str
    path: Path
    text: str
    tree: ast.Module


@cache
def modules() -> dict[str, Module]:
    """Every module of the package by its dotted name; a package goes by its own."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        text = path.read_text("utf-8")
        found[name] = Module(name, path, text, ast.parse(text))
    return found


def shown(path: Path) -> str:
    """A file's place from the root of the project."""
    return path.relative_to(ROOT).as_posix()


def modules_of_folders() -> Counter[str]:
    """How many modules stand side by side in each folder."""
    return Counter(shown(each.path.parent) for each in modules().values() if each.path.name != "__init__.py")


def imports() -> dict[str, set[str]]:
    """Which modules of the package each module imports."""
    known = modules()
    edges: dict[str, set[str]] = {name: set() for name in known}
    for name, module in known.items():
        for target in _targets(module.tree):
            if target in known and target != name:
                edges[name].add(target)
    return edges


def _targets(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                full = f"{node.module}.{alias.name}"
                yield full if full in modules() else node.module
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


def circles(edges: Mapping[str, Iterable[str]]) -> list[list[str]]:
    """Modules that import each other in a ring, after R. Tarjan (1972): strongly connected parts of the graph."""
    index: dict[str, int] = {}
    lowest: dict[str, int] = {}
    stack: list[str] = []
    rings: list[list[str]] = []

    def visit(node: str) -> None:
        index[node] = lowest[node] = len(index)
        stack.append(node)
        for other in edges.get(node, ()):
            if other not in index:
                visit(other)
                lowest[node] = min(lowest[node], lowest[other])
            elif other in stack:
                lowest[node] = min(lowest[node], index[other])
        if lowest[node] == index[node]:
            at = stack.index(node)
            ring = sorted(stack[at:])
            del stack[at:]
            if len(ring) > 1:
                rings.append(ring)

    for node in edges:
        if node not in index:
            visit(node)
    return rings


def classes_named_twice() -> dict[str, list[str]]:
    """Public class names that mean more than one thing, with the files that define them."""
    found = defaultdict(list)
    for module in modules().values():
        for node in module.tree.body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                found[node.name].append(shown(module.path))
    return {name: files for name, files in found.items() if len(files) > 1}


def code_lines(text: str) -> int:
    """Lines that hold code or imports: neither blank, nor only a comment, nor a docstring."""
    documented = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            documented.update(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    empty = (tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.ENDMARKER)
    lines = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in empty:
            lines.update(range(token.start[0], token.end[0] + 1))
    return len(lines - documented)


def code_and_imports() -> int:
    """Lines of code and imports of the whole package."""
    return sum(code_lines(module.text) for module in modules().values())


def functions() -> Iterator[tuple[Module, Function]]:
    """Every function of the package, with its module."""
    for module in modules().values():
        for node in ast.walk(module.tree):
            if isinstance(node, Function):
                yield module, node


def function_length(function: Function) -> int:
    """Lines of a function, its docstring left out."""
    first = function.body[0]
    documented = ast.get_docstring(function) is not None
    left_out = (first.end_lineno or first.lineno) - first.lineno + 1 if documented else 0
    return (function.end_lineno or function.lineno) - function.lineno + 1 - left_out


def longest_function() -> tuple[int, str]:
    """The length of the longest function, and where it stands."""
    return max(
        (function_length(each), f"{shown(module.path)}:{each.lineno} {each.name}") for module, each in functions()
    )


def file_lengths() -> dict[str, int]:
    """Lines of every file, ``__init__`` aside."""
    kept = (module for module in modules().values() if module.path.name != "__init__.py")
    return {shown(module.path): len(module.text.splitlines()) for module in kept}


def texts() -> list[Path]:
    """What people read of the project: its code, its help, its two pages for the reader."""
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((PACKAGE / "help").rglob("*.md"))]
    return [*(module.path for module in modules().values()), *pages]


def retired_words(patterns: Iterable[str] = RETIRED) -> list[str]:
    """Where a retired word or phrase is still used, as ``file:line word``."""
    either = re.compile(rf"\b({'|'.join(patterns)})\b", re.IGNORECASE)
    return [
        f"{shown(path)}:{number} {hit.group(0)}"
        for path in texts()
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        for hit in either.finditer(line)
    ]


def report() -> Iterator[str]:
    """The figures, a line each."""
    for folder, count in modules_of_folders().most_common():
        yield f"{count:4} modules in {folder}"
    for ring in circles(imports()):
        yield f"circle of {len(ring)}: {', '.join(ring)}"
    for name, files in classes_named_twice().items():
        yield f"class {name} in {', '.join(files)}"
    yield f"{code_and_imports():,} lines of code and imports"
    yield "longest function: {} lines, {}".format(*longest_function())
    lengths = file_lengths()
    short = sorted((lines, name) for name, lines in lengths.items() if lines < SHORT_FILE)
    yield f"{len(lengths)} files; {len(short)} under {SHORT_FILE} lines, the verbs of the command line among them"
    yield from (f"{lines:4} lines in {name}" for lines, name in short if "/cli/" not in name)
    yield from (f"{lines:4} lines in {name}" for name, lines in lengths.items() if lines > LONG_FILE)
    words = retired_words()
    yield f"{len(words)} retired words"
    yield from words


if __name__ == "__main__":
    print("\n".join(report()))
