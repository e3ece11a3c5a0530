"""The way to what several rooms' tests share."""

from __future__ import annotations

import sys
from pathlib import Path

from hypothesis import settings

settings.register_profile("same", derandomize=True)
settings.register_profile("search", print_blob=True)
settings.load_profile("same")  # a run says the same twice; --hypothesis-profile=search looks for new examples
sys.path.insert(0, str(Path(__file__).parent))
