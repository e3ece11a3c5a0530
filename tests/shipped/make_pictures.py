"""Makes the pictures of the screens that the README shows, from the shipped book.

Run: python tests/shipped/make_pictures.py
"""

from __future__ import annotations

import asyncio
import re
import shutil
import sys
import tempfile
from datetime import datetime, timedelta, timezone
from pathlib import Path

from copydesk.desk.app import Desk
from copydesk.job import Job

HOME = Path(__file__).parents[2]
SHIPPED = HOME / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))

PICTURES: dict[str, tuple[tuple[int, int], tuple[str, ...]]] = {
    "desk": ((120, 40), ()),
    "desk-small": ((80, 24), ()),
    "desk-large": ((200, 60), ()),
    "sheet": ((120, 40), ("v", "v")),
    "check": ((120, 40), ("left", "x")),
    "spaces": ((120, 40), ("v", "i")),
    "plan": ((120, 40), ("v", "p")),
    "pace": ((120, 40), ("v", "d")),
    "handover": ((120, 40), ("v", "n")),
    "assembly": ((120, 40), ("v", "b")),
    "faults": ((120, 40), ("v", "f")),
    "overview": ((120, 40), ("v", "g")),
}
"""Each picture: the terminal's size, and the keys pressed from the grid."""


async def picture(name: str, folder: Path, into: Path) -> None:
    """Draw one screen."""
    size, keys = PICTURES[name]
    desk = Desk(Job.open(folder, desk="window", clock=lambda: NOON))
    async with desk.run_test(size=size) as pilot:
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await desk.workers.wait_for_complete()
        await pilot.pause(0.2)
        drawn = desk.export_screenshot(title="copydesk", simplify=True)
    # The fonts named in the drawing lie on another machine; any fixed-width one will do.
    drawn = re.sub(r"@font-face \{.*?\}\s*", "", drawn, flags=re.DOTALL)
    drawn = drawn.replace("Fira Code", "DejaVu Sans Mono, Menlo, Consolas")
    (into / f"{name}.svg").write_text(drawn, "utf-8")


def main(names: list[str]) -> None:
    """Draw the pictures named, or all."""
    into = HOME / ".pictures"
    into.mkdir(exist_ok=True)
    for name in names or PICTURES:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(shutil.copytree(SHIPPED, Path(place) / "book", ignore=shutil.ignore_patterns(".*")))
            asyncio.run(picture(name, folder, into))


if __name__ == "__main__":
    main(sys.argv[1:])
