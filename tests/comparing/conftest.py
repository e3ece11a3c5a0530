"""The way to the slips and scores beside these tests, and the open text they are made in."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from slips import Text


@pytest.fixture(scope="session")
def open_text() -> Text:
    """The prose of Python's own help topics: some 50,000 words that come with every Python."""
    from slips import help_topics

    return help_topics()
