"""``copydesk lines`` fed from a pipe."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

SHIPPED = Path(__file__).parents[3] / "projects" / "twelve-waters"


def test_orders_from_a_pipe_record_and_verbs_run_on_the_book(tmp_path: Path) -> None:
    book = Path(shutil.copytree(SHIPPED, tmp_path / "book", ignore=shutil.ignore_patterns(".*")))
    orders = b"write\nfaults --open\n\xff\nformula 4^8\nlines\nrecord 'leaf\nnew\nquit\n"
    ran = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "copydesk", "lines", str(book)],
        input=orders,
        capture_output=True,
        check=True,
        env={**os.environ, "COPYDESK_DESK": "window", "COPYDESK_KEYS": str(tmp_path / "none")},
    )
    said = ran.stdout.decode()
    assert "Recorded: 12v written by A" in said
    assert "10r" in said and "transposition" in said
    assert "leaves" in said
    assert said.count("is no order of the desk; help lists them, and what one needs is asked after it") == 3
    assert "has a quotation mark without its fellow" in said
    assert b'"what":"written"' in (book / "ledger.jsonl").read_bytes().splitlines()[-1].replace(b": ", b":")
    assert "\x1b" not in said
    assert b"textual" not in ran.stderr.replace(b"copydesk", b"")
