"""The way to what several rooms' tests share, and what makes a run say the same twice."""

from __future__ import annotations

import sys
from pathlib import Path

import textual.app
import textual.pilot
from hypothesis import settings

sys.path.insert(0, str(Path(__file__).parent / "shared"))

from idling import until_nothing_is_ready

settings.register_profile("same", derandomize=True)
settings.register_profile("search", print_blob=True)
settings.load_profile("same")  # --hypothesis-profile=search looks for new examples

for module in (textual.app, textual.pilot):
    vars(module)["wait_for_idle"] = until_nothing_is_ready
