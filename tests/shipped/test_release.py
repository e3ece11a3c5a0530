"""The wheel and the source archive: built, installed apart from the checkout, and run there."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

from copydesk import __version__

ROOT = Path(__file__).parents[2]
TYPEFACE = ROOT / "copydesk" / "papers" / "drawing" / "typeface"
SOURCES = ("pyproject.toml", "README.md", "copydesk", "projects", "MANIFEST.in")
NO_NETWORK = ("ConnectionError", "No matching distribution found", "NewConnectionError", "Could not fetch URL")


def _run(*command: object, at: Path, **more: str) -> str:
    """Run a command apart from the checkout; gives what it said."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "COPYDESK", "PYTEST"))}
    told = {**kept, **more}
    ran = subprocess.run([*map(str, command)], check=False, cwd=at, capture_output=True, text=True, env=told)
    if ran.returncode and any(sign in ran.stderr for sign in NO_NETWORK):
        pytest.skip("the package index cannot be reached, so nothing can be installed")
    assert not ran.returncode, ran.stdout + ran.stderr
    return ran.stdout


def _python(home: Path) -> Path:
    return home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


@pytest.mark.slow
def test_what_is_released_installs_and_runs_outside_the_checkout(tmp_path: Path) -> None:
    source, out, home = tmp_path / "source", tmp_path / "out", tmp_path / "home"
    source.mkdir()
    for name in SOURCES:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__", ".*"))
        elif (ROOT / name).exists():
            shutil.copy(ROOT / name, source)
    venv.create(home, with_pip=True)
    python = _python(home)
    quiet = ("-m", "pip", "-q", "--disable-pip-version-check")
    _run(python, *quiet, "install", "setuptools>=77", "wheel", at=tmp_path)
    backend = f"import setuptools.build_meta as backend; print(backend.build_sdist({str(out)!r}))"
    _run(python, "-c", backend, at=source)
    [sdist] = out.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    assert {"pyproject.toml", "copydesk/help/LICENCE", "projects/twelve-waters/ledger.jsonl"} <= names
    _run(python, *quiet, "wheel", "--no-deps", "--no-build-isolation", "-w", out, sdist, at=tmp_path)
    [wheel] = out.glob("*.whl")
    assert wheel.name.startswith(f"copydesk-{__version__}-py3-none-any")
    with zipfile.ZipFile(wheel) as archive:
        held = set(archive.namelist())
    assert {
        "copydesk/help/LICENCE",
        "copydesk/help/glossary.md",
        "copydesk/desk/page_screens/grid.tcss",
        *(f"copydesk/papers/drawing/typeface/{path.name}" for path in TYPEFACE.iterdir()),
        "copydesk/py.typed",
    } <= held
    assert f"copydesk-{__version__}.dist-info/licenses/copydesk/help/LICENCE" in held
    assert not any(name.startswith("tests/") for name in held)
    _run(python, *quiet, "install", wheel, at=tmp_path)
    _try_it(python, tmp_path)


def _try_it(python: Path, at: Path) -> None:
    """Do what a person does first."""
    tool = (python, "-m", "copydesk")
    assert _run(*tool, "--version", at=at).split() == ["copydesk", __version__]
    _run(*tool, "new", "--demo", "my-book", at=at)
    assert "gatherings" in _run(*tool, "plan", "my-book", at=at)
    assert len(json.loads(_run(*tool, "pages", "my-book", "--json", at=at))) == 64
    _run(*tool, "print", "my-book", "binder", "-o", "binder.pdf", at=at)
    assert (at / "binder.pdf").read_bytes().startswith(b"%PDF")
    where = _run(python, "-c", "import copydesk.desk.page_screens.grid, copydesk; print(copydesk.__file__)", at=at)
    assert not Path(where.strip()).is_relative_to(ROOT)
    assert _run(*tool, "help", "tour", at=at).lstrip("# ").startswith("A walk round the desk")


def test_the_version_stands_in_one_place() -> None:
    assert __version__.count(".") == 2
    assert f'"{__version__}"' not in (ROOT / "pyproject.toml").read_text("utf-8").replace("python_version", "")
    told = subprocess.run([sys.executable, "-m", "copydesk", "--version"], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == f"copydesk {__version__}"
    news = (ROOT / "copydesk" / "help" / "news.md").read_text("utf-8")
    assert f"## {__version__}" in news
