"""``python -m copydesk``."""

from __future__ import annotations

from copydesk.cli.main import entry

entry()
