"""A copying tracker for a workshop that makes a manuscript book on loose sheets."""

from __future__ import annotations

__version__ = "0.1.0"
