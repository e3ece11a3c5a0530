"""A canvas of terminal cells, each with a tone, for what is drawn in place. No Textual here."""

from __future__ import annotations

import unicodedata
from itertools import groupby
from typing import NamedTuple


class TonedText(NamedTuple):
    """Text of one tone."""

    text: str
    tone: str


class Canvas:
    """Cells in rows; places are cells from the upper left, from 0. What falls outside is left out."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._cells = [[" "] * width for _ in range(height)]
        self._tones = [[""] * width for _ in range(height)]

    def put(self, x: int, y: int, text: str, tone: str, room: int | None = None) -> int:
        """Write one line of harmless text, cut to ``room`` cells; gives the cells it took."""
        room = self.width - x if room is None else min(room, self.width - x)
        taken = 0
        for character in text:
            wide = cells_of(character)
            if taken + wide > room:
                break
            self._set(x + taken, y, character, tone, wide)
            taken += wide
        return taken

    def _set(self, x: int, y: int, character: str, tone: str, wide: int) -> None:
        if not (0 <= y < self.height and 0 <= x < self.width):
            return
        if not wide:
            before = x - 2 if x > 1 and self._cells[y][x - 1] == "" else x - 1
            if before >= 0:
                self._cells[y][before] += character
            return
        self._part(x, y)
        self._part(x + wide - 1, y)
        self._cells[y][x], self._tones[y][x] = character, tone
        if wide == 2:
            self._cells[y][x + 1], self._tones[y][x + 1] = "", tone

    def _part(self, x: int, y: int) -> None:
        """Blank the other half of a wide letter that is about to be written over."""
        row = self._cells[y]
        if row[x] == "":
            row[x - 1] = " "
        elif x + 1 < self.width and row[x + 1] == "":
            row[x + 1] = " "

    def across(self, x: int, y: int, length: int, sign: str, tone: str) -> None:
        """Repeat a sign to the right."""
        self.put(x, y, sign * length, tone)

    def down(self, x: int, y: int, length: int, sign: str, tone: str) -> None:
        """Repeat a sign downward."""
        for row in range(y, y + length):
            self.put(x, row, sign, tone)

    def box(self, x: int, y: int, width: int, height: int, label: str, tone: str) -> None:
        """A box with its label in it; of one row, the label in brackets."""
        if width < 2 or height < 1:
            self.put(x, y, "□", tone)
            return
        if height == 1:
            self.across(x + 1, y, width - 2, " ", tone)
            self.put(x, y, "[", tone)
            self.put(x + width - 1, y, "]", tone)
        else:
            self.put(x, y, f"┌{'─' * (width - 2)}┐", tone)
            for row in range(y + 1, y + height - 1):
                self.put(x, row, f"│{' ' * (width - 2)}│", tone)
            self.put(x, y + height - 1, f"└{'─' * (width - 2)}┘", tone)
        self.put(x + 1, y + (height > 2) * ((height - 1) // 2), label, tone, width - 2)

    def rows(self) -> list[list[TonedText]]:
        """Every row as pieces of one tone each."""
        rows = (zip(cells, tones, strict=True) for cells, tones in zip(self._cells, self._tones, strict=True))
        return [
            [TonedText("".join(cell for cell, _ in run), tone) for tone, run in groupby(row, key=lambda pair: pair[1])]
            for row in rows
        ]


def cells_of(character: str) -> int:
    """Terminal cells a character takes: wide letters two, combining marks none."""
    if character.isascii():
        return 1
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1
