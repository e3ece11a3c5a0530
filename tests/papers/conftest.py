"""The way to the small book that papers of a book are made of."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "ledger"))
