"""Makes a picture of every screen, at three sizes, in every look and without colour, to be looked at one by one.

Run: python tests/shipped/look_at_screens.py [--fresh] [NAME ...]
The pictures lie in .report/looks/SIZE-LOOK-NAME.png. A NAME is a screen, a size as 80x24, or a look; without any, all
are made. All screens of one size and look are shown by one desk, one after another, so that what one leaves behind in
the next is seen; with --fresh each has a desk of its own. Needs Pillow and the typeface DejaVu Sans Mono.
"""

from __future__ import annotations

import asyncio
import os
import shutil
import sys
import tempfile
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image, ImageDraw, ImageFont

HOME = Path(__file__).parents[2]
sys.path.insert(0, str(HOME))
sys.path.insert(0, str(HOME / "tests" / "shared"))

from copydesk.desk.app import Desk  # noqa: E402
from copydesk.desk.base.themes import LOOKS  # noqa: E402
from copydesk.job import Job  # noqa: E402
from tour_of_screens import STOPS, cells, come_back, go_to  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rich.color import Color
    from rich.segment import Segment

    from tour_of_screens import Stop

SHIPPED = HOME / "projects" / "twelve-waters"
NOON = datetime(2026, 11, 20, 12, 0, tzinfo=timezone(timedelta(hours=1)))
SIZES = {"80x24": (80, 24), "120x40": (120, 40), "200x60": (200, 60)}
NO_COLOUR = "nocolour"
TYPEFACE = "/usr/share/fonts/truetype/dejavu/DejaVuSansMono{}.ttf"
POINTS, WIDTH, HEIGHT = 13, 8, 16
BRAILLE = 0x2800
TERMINAL = ((0, 0, 0), (205, 205, 205))
"""Ground and ink of the terminal that is drawn, where a cell asks for its own."""


def _colour(colour: Color | None, own: tuple[int, int, int]) -> tuple[int, int, int]:
    if colour is None or colour.is_default:
        return own
    found = colour.get_truecolor()
    return (found.red, found.green, found.blue)


def _dots(pen: ImageDraw.ImageDraw, left: int, top: int, bits: int, ink: tuple[int, int, int]) -> None:
    """A braille sign, which the typeface lacks."""
    for bit, (across, down) in enumerate(((0, 0), (0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (0, 3), (1, 3))):
        if bits >> bit & 1:
            x, y = left + 1 + across * WIDTH // 2, top + 1 + down * HEIGHT // 4
            pen.rectangle((x, y, x + 1, y + 1), fill=ink)


def draw(rows: list[list[Segment]]) -> Image.Image:
    """The cells of a screen as a picture."""
    plain, bold = (ImageFont.truetype(TYPEFACE.format(name), POINTS) for name in ("", "-Bold"))
    width = max(sum(segment.cell_length for segment in row) for row in rows)
    picture = Image.new("RGB", (width * WIDTH, len(rows) * HEIGHT), TERMINAL[0])
    pen = ImageDraw.Draw(picture)
    for y, row in enumerate(rows):
        x = 0
        for segment in row:
            style, cells_wide = segment.style, segment.cell_length
            if not cells_wide:
                continue
            ground, ink = (
                (_colour(style.bgcolor, TERMINAL[0]), _colour(style.color, TERMINAL[1])) if style else TERMINAL
            )
            if style is not None and style.reverse:
                ground, ink = ink, ground
            pen.rectangle((x * WIDTH, y * HEIGHT, (x + cells_wide) * WIDTH - 1, (y + 1) * HEIGHT - 1), fill=ground)
            for at, letter in enumerate(segment.text):
                font = bold if style is not None and style.bold else plain
                if BRAILLE <= ord(letter) < BRAILLE + 256:
                    _dots(pen, (x + at) * WIDTH, y * HEIGHT, ord(letter) - BRAILLE, ink)
                    continue
                pen.text(((x + at) * WIDTH, y * HEIGHT), letter, fill=ink, font=font)
            if style is not None and style.underline:
                pen.line(
                    (x * WIDTH, (y + 1) * HEIGHT - 2, (x + cells_wide) * WIDTH - 1, (y + 1) * HEIGHT - 2), fill=ink
                )
            x += cells_wide
    return picture


async def pictures(size: str, look: str, stops: Iterable[Stop], into: Path) -> None:
    """Draw these screens, one after another on one desk."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(shutil.copytree(SHIPPED, Path(place) / "book", ignore=shutil.ignore_patterns(".*")))
        os.environ.pop("NO_COLOR", None)
        if look == NO_COLOUR:
            os.environ["NO_COLOR"] = "1"
        desk = Desk(Job.open(folder, desk="window", clock=lambda: NOON), look=look)
        async with desk.run_test(size=SIZES[size]) as pilot:
            await pilot.pause()
            for stop in stops:
                await go_to(pilot, stop)
                draw(cells(desk)).save(into / f"{size}-{look}-{stop.name}.png")
                await come_back(pilot)


def main(names: list[str]) -> None:
    """Draw the pictures named, or all."""
    into = HOME / ".report" / "looks"
    into.mkdir(parents=True, exist_ok=True)
    fresh = "--fresh" in names
    stops = [stop for stop in STOPS if stop.name in names] or list(STOPS)
    looks = [look for look in (*LOOKS, NO_COLOUR) if look in names] or [*LOOKS, NO_COLOUR]
    for size in [size for size in SIZES if size in names] or SIZES:
        for look in looks:
            for some in [[stop] for stop in stops] if fresh else [stops]:
                asyncio.run(pictures(size, look, some, into))


if __name__ == "__main__":
    main(sys.argv[1:])
