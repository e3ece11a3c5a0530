"""``python -m copydesk``."""

from copydesk.cli.main import entry

entry()
