"""The rooms of the house know only the rooms below them, and costly guests come only when asked."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "copydesk"
ROOMS = ("cli", "desk", "papers", "job", "store", "tracking", "comparing", "book", "help")
SCREEN = {"textual", "rich"}
DISK = {"tinydb", "yaml", "portalocker", "psycopg"}


def modules(room: str) -> list[str]:
    if (PACKAGE / f"{room}.py").exists():
        return [f"copydesk.{room}"]
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts)
        for path in (PACKAGE / room).rglob("*.py")
        if path.stem != "__init__"
    )


def sources(*rooms: str) -> list[Path]:
    return sorted(path for room in rooms for path in [*PACKAGE.glob(f"{room}.py"), *(PACKAGE / room).rglob("*.py")])


def read_by(names: list[str]) -> set[str]:
    """What a fresh Python has read once these modules are imported."""
    code = (
        f"import importlib, sys\nfor name in {names!r}: importlib.import_module(name)\nprint(*sys.modules, sep='\\n')"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    return set(done.stdout.split())


def imported(path: Path) -> set[str]:
    """Everything a file imports anywhere in it, as dotted names."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found.update(name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def ours(names: set[str]) -> set[str]:
    return {name.split(".")[1] for name in names if name.startswith("copydesk.")}


def test_the_contracts_of_the_house_hold() -> None:
    from importlinter.cli import lint_imports

    assert lint_imports(config_filename=str(ROOT / "pyproject.toml"), no_cache=True, no_logo=True) == 0


def test_every_folder_is_a_room_that_is_known() -> None:
    found = {path.stem for path in PACKAGE.iterdir() if path.suffix == ".py" or (path / "__init__.py").exists()}
    assert found - {"__init__", "__main__"} == set(ROOMS)


def test_the_book_needs_the_standard_library_alone() -> None:
    read = read_by(modules("book"))
    assert ours(read) == {"book"}
    strange = {name.split(".")[0] for name in read} - set(sys.stdlib_module_names) - {"copydesk", "__main__"}
    assert not {name for name in strange if not name.startswith(("_", "sitecustomize", "usercustomize"))}


@pytest.mark.parametrize(
    ("rooms", "known", "never"),
    [
        (("tracking", "comparing"), {"tracking", "comparing", "book"}, SCREEN | DISK | {"reportlab"}),
        (("store",), {"store", "tracking", "comparing", "book", "help"}, SCREEN | {"reportlab"}),
        (("job",), {"job", "store", "tracking", "comparing", "book", "help"}, SCREEN | {"reportlab"}),
        (("papers",), {"papers", "job", "store", "tracking", "comparing", "book", "help"}, SCREEN),
    ],
)
def test_what_a_room_reads_when_it_is_read(rooms: tuple[str, ...], known: set[str], never: set[str]) -> None:
    read = read_by([name for room in rooms for name in modules(room)])
    assert ours(read) <= known
    assert not {name.split(".")[0] for name in read} & never


def test_only_the_store_knows_the_disk() -> None:
    for path in sources(*(room for room in ROOMS if room != "store")):
        assert not {name.split(".")[0] for name in imported(path)} & DISK, path


def test_only_the_desk_knows_the_screen() -> None:
    for path in sources(*(room for room in ROOMS if room != "desk")):
        assert not {name.split(".")[0] for name in imported(path)} & SCREEN, path


IMPURE = {
    "os",
    "pathlib",
    "io",
    "time",
    "socket",
    "subprocess",
    "shutil",
    "tempfile",
    "secrets",
    "threading",
    "asyncio",
}
CLOCKS = {"now", "today", "utcnow"}


@pytest.mark.parametrize("room", ["book", "tracking", "comparing"])
def test_a_pure_room_has_no_files_and_no_clock(room: str) -> None:
    for path in sources(room):
        assert not {name.split(".")[0] for name in imported(path)} & IMPURE, path
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func
                assert not (isinstance(called, ast.Name) and called.id in ("open", "print", "input")), path
                assert not (isinstance(called, ast.Attribute) and called.attr in CLOCKS), path


@pytest.mark.parametrize("verb", [["--version"], ["--help"], ["pages", "BOOK", "--json"], ["sheets", "BOOK"]])
def test_the_command_line_does_not_read_the_screen(verb: list[str]) -> None:
    book = str(ROOT / "projects" / "twelve-waters")
    arguments = [book if word == "BOOK" else word for word in verb]
    code = (
        "import sys\nfrom copydesk.cli.main import main\n"
        f"assert main({arguments!r}) == 0\n"
        f"assert not {SCREEN | {'psycopg'}!r} & {{name.split('.')[0] for name in sys.modules}}\n"
        "assert not [name for name in sys.modules if name.startswith('copydesk.desk')]\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 0, done.stderr
