"""The ledger as a TinyDB database."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.disk import Disk
from ledger_trials import draft, ledger_of, written


def test_the_ledger_is_a_tinydb_table(tmp_path: Path) -> None:
    from tinydb import where

    from copydesk.store.journal.journal import Journal
    from copydesk.store.journal.tinydb_storage import EntryDatabase

    written(tmp_path)
    journal = Journal(ledger_of(tmp_path), Disk())
    journal.catch_up()
    table = EntryDatabase(journal)
    assert [document["entry"] for document in table.search(where("tick") > 1)] == ["a1", "a2"]
    assert table.get(doc_id=2) == journal.by_id["a1"]
    assert table.insert(draft("b", tick=4)) == 4
    assert [document["entry"] for document in table.search(where("tick") > 2)] == ["a2", "b"]
    assert len(table) == 4


def test_the_database_takes_no_change_but_new_entries(tmp_path: Path) -> None:
    from copydesk.store.journal.journal import Journal
    from copydesk.store.journal.tinydb_storage import EntryDatabase

    written(tmp_path)
    journal = Journal(ledger_of(tmp_path), Disk())
    journal.catch_up()
    database = EntryDatabase(journal)
    before = ledger_of(tmp_path).read_bytes()
    for change in (
        database.drop_tables,
        database.truncate,
        lambda: database.update({"what": "ruled"}),
        lambda: database.remove(doc_ids=[1]),
    ):
        with pytest.raises(CopydeskError, match="never changed"):
            change()
    assert ledger_of(tmp_path).read_bytes() == before
    assert len(database) == 3


def test_opening_the_module_does_not_import_the_database() -> None:
    code = (
        "import sys, copydesk.store.journal.ledger_file; "
        "sys.exit('tinydb' in sys.modules or 'portalocker' in sys.modules)"
    )
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}
    assert subprocess.run([sys.executable, "-c", code], env=environment, check=False).returncode == 0
