"""A book folder under version control: two clones record apart, and git puts the ledgers together."""

from __future__ import annotations

import os
import shutil
import subprocess
from typing import TYPE_CHECKING

import pytest

from copydesk.store.folder.new_book import VERSION_CONTROL, copy_demo
from copydesk.store.journal.audit import audit, mend
from copydesk.store.journal.ledger_file import LedgerFile
from ledger_trials import draft, ledger_of, mirror_of, names

if TYPE_CHECKING:
    from pathlib import Path


def git(folder: Path, *words: str, may_fail: bool = False) -> int:
    """Run git in a folder, without the settings of whoever runs the tests."""
    program = shutil.which("git")
    assert program is not None
    settings = ("user.name=Desk", "user.email=desk@example", "commit.gpgsign=false", "init.defaultBranch=main")
    given = [part for each in settings for part in ("-c", each)]
    surroundings = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    for name in [name for name in surroundings if name in ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE")]:
        del surroundings[name]
    done = subprocess.run(
        [program, *given, *words], cwd=folder, env=surroundings, check=False, capture_output=True, text=True
    )
    assert may_fail or done.returncode == 0, done.stdout + done.stderr
    return done.returncode


@pytest.fixture
def apart(tmp_path: Path) -> tuple[Path, Path]:
    """Two clones of one book, with entries made apart and committed in both."""
    here, there = tmp_path / "here", tmp_path / "there"
    copy_demo(here)
    LedgerFile(here, desk="a").append(draft("both"))
    git(here, "init")
    git(here, "add", ".")
    git(here, "commit", "-m", "The book")
    git(tmp_path, "clone", str(here), str(there))
    for folder, desk in ((here, "a"), (there, "b")):
        ledger = LedgerFile(folder, desk=desk)
        for number in range(3):
            ledger.append(draft(f"{desk}{number}"))
        git(folder, "commit", "-am", "A day's work")
    return here, there


def test_two_versions_are_joined_by_git_and_one_step_is_left(apart: tuple[Path, Path]) -> None:
    here, there = apart
    before = names(LedgerFile(here, desk="r").entries())
    git(here, "pull", "--no-rebase", "--no-edit", str(there), "main")
    assert audit(here) != ()
    done = mend(here)
    assert done.lost == ()
    found = names(LedgerFile(here, desk="r").entries())
    assert sorted(found) == sorted([*before, "b0", "b1", "b2"])
    assert audit(here) == ()
    assert ledger_of(here).read_bytes() == mirror_of(here).read_bytes()


def test_a_ledger_with_marks_of_a_conflict_is_read_and_mended_without_loss(apart: tuple[Path, Path]) -> None:
    here, there = apart
    for folder in apart:
        (folder / VERSION_CONTROL).unlink()
        git(folder, "commit", "-am", "Without")
    before = names(LedgerFile(here, desk="r").entries())
    assert git(here, "pull", "--no-rebase", "--no-edit", str(there), "main", may_fail=True) != 0
    assert b"<<<<<<<" in ledger_of(here).read_bytes()
    read = names(LedgerFile(here, desk="r").entries())
    assert sorted(read) == sorted([*before, "b0", "b1", "b2"])
    LedgerFile(here, desk="a").append(draft("on"))
    assert mend(here).lost == ()
    assert sorted(names(LedgerFile(here, desk="r").entries())) == sorted([*before, "b0", "b1", "b2", "on"])
    assert audit(here) == ()


def test_a_plain_pull_leaves_the_mirror_to_the_next_entry(apart: tuple[Path, Path]) -> None:
    here, there = apart
    git(here, "reset", "--hard", "HEAD~1")
    git(here, "pull", "--no-rebase", "--no-edit", str(there), "main")
    LedgerFile(here, desk="a").append(draft("on"))
    assert mirror_of(here).read_bytes().startswith(ledger_of(here).read_bytes()[:100])
    kept = names(LedgerFile(here, desk="r").entries())
    assert kept[-4:] == ["b0", "b1", "b2", "on"]
    mend(here)
    assert {"a0", "a1", "a2", "b0", "on"} <= set(names(LedgerFile(here, desk="r").entries()))
