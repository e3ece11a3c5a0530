"""The stores that must all keep the same promises, and the way to the trials beside these tests."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from copydesk.store.ledger_file import LedgerFile

sys.path.insert(0, str(Path(__file__).parent))

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from copydesk.store.ledger_store import LedgerStore


@pytest.fixture(params=["file"])
def open_store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[[str], LedgerStore]]:
    """Opens the same ledger for the desk named; once for each kind of store there is."""
    opened: list[LedgerStore] = []

    def at_desk(desk: str) -> LedgerStore:
        opened.append(LedgerFile(tmp_path, desk=desk))
        return opened[-1]

    yield at_desk
    for store in opened:
        store.close()
