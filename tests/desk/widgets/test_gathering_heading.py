"""The words over a gathering, and the brace under it."""

from __future__ import annotations

from pathlib import Path

import pytest

from copydesk.desk.widgets.gathering_heading import brace, gathering_heading
from copydesk.job import Job

SHIPPED = Path(__file__).parents[3] / "projects" / "twelve-waters"


@pytest.mark.parametrize(
    ("first", "last", "drawn"),
    [
        (2, 14, "  └── sheet ──┘"),
        (4, 4, "    ┴ sheet "),
        (4, 8, "  └ sheet ┘"),
        (0, 2, "└ sheet ┘"),
    ],
)
def test_a_brace_joins_two_leaves(first: int, last: int, drawn: str) -> None:
    assert brace(first, last, " sheet ") == drawn


def test_a_heading_says_less_where_there_is_less_room() -> None:
    job = Job.open(SHIPPED)
    wide, narrow = (gathering_heading(job.state, 0, width) for width in (200, 64))
    job.close()
    assert wide.startswith(" Gathering 1   leaves 1 to 8   4 sheets, hair out   ")
    assert len(narrow) < 64
    assert "sheets" not in narrow
