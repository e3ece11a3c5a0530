"""Every screen in every look: the same whatever was open before, and every letter clear of its ground."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from textual.color import Color

from copydesk.desk.app import Desk
from copydesk.desk.base.themes import GROUNDS, INKS, LOOKS, OWN_COLOURS, colours_of
from tour_of_screens import STOPS, cells, come_back, go_to, shown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.segment import Segment

    from copydesk.job import Job

DESK = Path(__file__).parents[2] / "copydesk" / "desk"
ALSO = {
    "page_screens/grid.tcss": {
        "GridScreen",
        "OpeningScreen",
        "ReadingScreen",
        "GatheringGrid",
        "PictureGrid",
        "TonedLines",
    }
}
"""The desk's first screens share the sheet that is read before any of them stands."""

NO_COLOUR = "no colour"
LEAST_CONTRAST = 4.5
"""Letters to their ground: WCAG 2.2, 1.4.3 (1.4.6, for high contrast, asks 7)."""

OURS = [look for look, theme in LOOKS.items() if theme != OWN_COLOURS]


def contrast(one: Color, other: Color) -> float:
    """Ratio of contrast after WCAG 2.2, "relative luminance"."""

    def luminance(colour: Color) -> float:
        parts = [each / 255 for each in colour.rgb]
        red, green, blue = (each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    light, dark = sorted(map(luminance, (one, other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def letters_too_close(rows: list[list[Segment]]) -> Iterator[tuple[str, str, str]]:
    """The texts that stand out too little, each with its ink and its ground."""
    for segment in (each for row in rows for each in row if each.text.strip() and each.style is not None):
        ink, ground = (Color.from_rich_color(each) for each in (segment.style.color, segment.style.bgcolor))
        if contrast(ink, ground) < LEAST_CONTRAST:
            yield segment.text.strip(), ink.hex, ground.hex


def desk_in(job: Job, look: str, monkeypatch: pytest.MonkeyPatch) -> Desk:
    if look == NO_COLOUR:
        monkeypatch.setenv("NO_COLOR", "1")
    return Desk(job, look=look)


@pytest.mark.parametrize("look", [*LOOKS, NO_COLOUR])
async def test_a_screen_is_the_same_after_all_others_and_every_letter_is_clear(
    job: Job, look: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """First each screen as if no other had been opened, by a style sheet of its own; then with the sheets of all."""
    fresh, after, close = {}, {}, set()
    desk = desk_in(job, look, monkeypatch)
    async with desk.run_test(size=(120, 40)) as pilot:
        unopened, opened = desk.stylesheet, desk.stylesheet.copy()
        for stop in STOPS:
            desk.stylesheet = unopened.copy()
            desk.stylesheet.reparse()
            await go_to(pilot, stop)
            fresh[stop.name] = shown(desk)
            opened.source.update(desk.stylesheet.source)
            if look in OURS and not stop.is_modal:  # a form dims the screen below it
                close |= {(stop.name, *each) for each in letters_too_close(cells(desk))}
            await come_back(pilot)
        opened.reparse()
        desk.stylesheet = opened
        for stop in STOPS:
            await go_to(pilot, stop)
            after[stop.name] = shown(desk)
            await come_back(pilot)
    assert [name for name in fresh if fresh[name] != after[name]] == []
    assert not close


def test_every_rule_of_a_screens_own_sheet_names_the_screen() -> None:
    """So that no rule reaches a screen that was opened before; what all share stands in the desk's sheet."""
    stray = []
    for module in sorted(DESK.rglob("*.py")):
        text = module.read_text("utf-8")
        for sheet in re.findall(r"CSS_PATH[^=]*= .*?\"([a-z_/]+\.tcss)\"(?!,)", text):
            names = set(re.findall(r"^class (\w+)", text, re.MULTILINE)) | ALSO.get(sheet, set())
            rules = re.sub(r"\{[^}]*\}|/\*.*?\*/", ";", (module.parent / sheet).read_text("utf-8"), flags=re.DOTALL)
            selectors = [each.strip() for each in re.split("[;,]", rules) if each.strip()]
            stray += [(sheet, each) for each in selectors if re.split(r"[ .:>#]", each)[0] not in names]
    assert not stray


@pytest.mark.parametrize("look", OURS)
def test_every_ink_is_clear_of_every_ground(look: str) -> None:
    colours = {role: Color.parse(colour) for role, colour in colours_of(LOOKS[look]).items()}
    pairs = [(ink, ground) for ink in INKS for ground in GROUNDS] + [("now", "now-ground")]
    least = 7.0 if look == "contrast" else LEAST_CONTRAST
    close = [(ink, ground) for ink, ground in pairs if contrast(colours[ink], colours[ground]) < least]
    assert close == []
