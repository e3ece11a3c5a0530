"""Pictures made of box-drawing characters: rectangles whose edges join where they meet."""

from __future__ import annotations

_UP, _DOWN, _LEFT, _RIGHT = 1, 2, 4, 8
_JOINTS = " ╵╷│╴┘┐┤╶└┌├─┴┬┼"
"""The character for each sum of arms, from none to all four (Unicode, Box Drawing, light)."""


PLAIN = str.maketrans("╴╶─╵╷│┘┐┤└┌├┴┬┼·×", "---|||+++++++++.x")
"""What stands for each character of a picture on a terminal that has no such characters."""


class BoxPicture:
    """A grid of characters on which rectangles are drawn; places are characters from the upper left, from 0."""

    def __init__(self, width: int, height: int, ground: str) -> None:
        """A picture of so many characters, filled with ``ground``."""
        self._arms = [[0] * width for _ in range(height)]
        self._signs = [[ground] * width for _ in range(height)]

    def box(self, left: int, top: int, right: int, bottom: int) -> None:
        """Draw the edges of a rectangle whose corners are these characters."""
        for x in range(left, right):
            for y in (top, bottom):
                self._arms[y][x] |= _RIGHT
                self._arms[y][x + 1] |= _LEFT
        for y in range(top, bottom):
            for x in (left, right):
                self._arms[y][x] |= _DOWN
                self._arms[y + 1][x] |= _UP

    def clear(self, left: int, top: int, right: int, bottom: int) -> None:
        """Leave the inside of a rectangle blank."""
        for y in range(top + 1, bottom):
            self._signs[y][left + 1 : right] = " " * max(right - left - 1, 0)

    def label(self, left: int, top: int, right: int, bottom: int, said: tuple[str, ...]) -> None:
        """Write the first of ``said`` that fits into the middle of a rectangle, or nothing."""
        room = right - left - 1
        words = next((each for each in said if len(each) <= room), "")
        if words and bottom - top > 1:
            start = left + 1 + (room - len(words)) // 2
            self._signs[(top + bottom) // 2][start : start + len(words)] = words

    def rows(self) -> list[str]:
        """The picture, one string a row."""
        pairs = (zip(arms, signs, strict=True) for arms, signs in zip(self._arms, self._signs, strict=True))
        return ["".join(_JOINTS[arm] if arm else sign for arm, sign in row) for row in pairs]
