"""The cell of a page on the gatherings: rows of text, each piece in its tone, in three forms. No Textual here."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len, set_cell_size

from copydesk.desk.wording.cell_words import ACT_TONES, CHECK_SIGNS, UNMET, check_words, short_hands
from copydesk.tracking.views.page_view import ActKind, CheckState

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from copydesk.desk.widgets.toned_lines import Piece
    from copydesk.desk.wording.cell_words import CellWords


class CellForm(IntEnum):
    """How a page is drawn, from the least room to the most; ``STRIP`` is a column of single letters."""

    STRIP = 0
    NARROW = 1
    NORMAL = 2
    WIDE = 3

    @property
    def rows(self) -> int:
        """Rows of such a cell."""
        return 4 if self is CellForm.NORMAL else 5


class CellNeeds(NamedTuple):
    """The cells a page needs in each form, by what stands on the pages beside it too."""

    narrow: int
    normal: int
    wide: int

    def form(self, width: int) -> CellForm:
        """The roomiest form that ``width`` cells allow."""
        if width >= self.wide:
            return CellForm.WIDE
        if width >= self.normal:
            return CellForm.NORMAL
        return CellForm.NARROW if width >= self.narrow else CellForm.STRIP

    def most(self, form: CellForm) -> int:
        """The cells past which a form gains nothing."""
        return {CellForm.WIDE: self.wide + 6, CellForm.NORMAL: self.normal + 4}.get(form, self.normal)


_LEAST_BAR = 3


def cell_needs(pages: Iterable[CellWords]) -> CellNeeds:
    """The room that these pages need so that each of their facts can be read."""
    narrow, normal, wide = 6, 8, 17
    for words in pages:
        figures, over, faults = len(words.figures), len(words.over), len(words.faults)
        mark = _LEAST_BAR + len(words.spaces)
        narrow = max(narrow, figures + 1, over + faults + 1, mark)
        normal = max(normal, figures + over, len(words.act) + faults, mark)
        wide = max(
            wide,
            figures + over + len(words.day) + 2,
            len(words.act) + len(words.faults_long) + 1,
            _LEAST_BAR + len(words.spaces_long) + 1,
        )
    return CellNeeds(narrow, normal, wide)


_CHECK_TONES = {CheckState.DUE: "work", CheckState.BEGUN: "ink", CheckState.BY_WRITER: "ink"}


def cell_rows(
    words: CellWords, form: CellForm, width: int, known: Sequence[str], *, ahead: bool = False
) -> list[list[Piece]]:
    """The rows of a cell ``width`` cells wide; ``known`` are all hands of the book.

    ``ahead`` marks the page to write next of all.
    """
    if form is CellForm.STRIP:
        return [[_fit(sign, tone, width)] for sign, tone in strip_signs(words)]
    act = (f"{words.act}".upper(), "now") if ahead else (f"{words.act}", act_tone(words))
    faults = words.faults_long if form is CellForm.WIDE else words.faults
    faulty = (faults, "mend" if faults.startswith("!") else "quiet")
    marks = (words.spaces_long if form is CellForm.WIDE else words.spaces, _space_tone(words))
    figures, over = (words.figures, figure_tone(words)), (words.over, over_tone(words.over))
    unmet = (UNMET if words.unmet else "", "mend")
    if form is CellForm.NARROW:
        return [
            _row([act], [], width),
            _row(bar(words, _LEAST_BAR), [marks], width),
            _row([figures], [unmet], width),
            _row([over], [faulty], width),
            _hand_row(words, width, known, []),
        ]
    if form is CellForm.NORMAL:
        return [
            _row([act], [faulty], width),
            _row(bar(words, max(width - max(len(words.spaces), 4), _LEAST_BAR)), [marks], width),
            _row([figures], [over], width),
            _hand_row(words, width, known, [unmet] if words.unmet else []),
        ]
    after = (f"{UNMET} " if words.unmet else "", "mend")
    first = (_first_words(words.first_words, width - len(after[0])), "quiet" if _is_done(words) else "soft")
    return [
        _row([act], [faulty], width),
        _row(bar(words, min(max(width - max(len(words.spaces_long) + 1, 11), _LEAST_BAR), 10)), [marks], width),
        _row([figures, (f" {words.over}" if words.over else "", over[1])], [(words.day, "quiet")], width),
        _long_hand_row(words, width, known),
        _row([after, first], [], width),
    ]


def _first_words(text: str, width: int) -> str:
    """As many of the first words as fit whole; a longer first word is cut."""
    while " " in text and cell_len(text) > width:
        text = text.rpartition(" ")[0]
    return text


def strip_signs(words: CellWords) -> list[tuple[str, str]]:
    """A page in four single characters: the act (a capital where a space waits), how full, an alarm, the check."""
    letter, tone = act_letter(words.act, waits=words.spaces.startswith("◇")), act_tone(words)
    fill, fill_tone = bar(words, 1)[0] if words.figures else ("", "")
    alarm = "!" if words.faults.startswith("!") else UNMET if words.unmet else "+" if words.over[:1] == "+" else ""
    return [
        (letter, tone),
        (fill[:1], fill_tone),
        (alarm, "mend"),
        (CHECK_SIGNS[words.check], _CHECK_TONES.get(words.check, "quiet")),
        ("", ""),
    ]


def act_letter(act: ActKind, *, waits: bool) -> str:
    """The next act in a letter: a capital where a space waits; a dot where all is done, a dash on a blank page."""
    letter = {ActKind.DONE: "·", ActKind.BLANK: "-"}.get(act, act[0])
    return letter.upper() if waits else letter


def act_tone(words: CellWords) -> str:
    """The tone of what comes next."""
    return ACT_TONES.get(words.act, "quiet")


def _is_done(words: CellWords) -> bool:
    return words.check in (CheckState.BY_ANOTHER, CheckState.BY_WRITER) or words.act is ActKind.BLANK


def figure_tone(words: CellWords) -> str:
    """The tone of the figures: strong where the page is in work."""
    return "quiet" if _is_done(words) else "ink" if words.written else "soft"


def over_tone(over: str) -> str:
    """The tone of lines over, or left empty."""
    return "wrong" if over.startswith("+") else "ink"


def _space_tone(words: CellWords) -> str:
    return "waits" if words.spaces.startswith("◇") else "quiet"


def bar(words: CellWords, width: int) -> list[Piece]:
    """Lines written of the budget in half cells; what is ruled as a thin rule, else dots; a cross at another hand."""
    if not words.figures:
        return []
    halves = _halves(words, width)
    done = "quiet" if _is_done(words) else "ink"
    solid, half = divmod(halves, 2)
    text = "━" * solid
    if width > 2 * _LEAST_BAR - 2 and words.room:
        for line in words.changes:
            at = round(line * width / words.room)
            if 0 < at < solid:
                text = f"{text[:at]}┿{text[at + 1 :]}"
    rest = width - solid - half
    empty = ("─" if words.ruled else "·") * rest
    return [(text + "╾" * half, done), (empty, "soft" if words.ruled else "quiet")]


def _halves(words: CellWords, width: int) -> int:
    """Half cells of the bar that are full: none only where nothing is written, all only where all is."""
    if not words.written:
        return 0
    share = round(2 * width * words.written / words.room) if words.room else 2 * width
    return 2 * width if words.written >= words.room else min(max(share, 1), 2 * width - 1)


def _hand_row(words: CellWords, width: int, known: Sequence[str], before: list[Piece]) -> list[Piece]:
    sign = CHECK_SIGNS[words.check]
    taken = len(sign) + sum(len(text) for text, _ in before)
    spare = 1 if taken and width > 6 else 0
    hands = short_hands(words.hands, known, width - taken - spare)
    return _row([(hands, figure_tone(words))], [*before, (sign, _CHECK_TONES.get(words.check, "quiet"))], width)


def _long_hand_row(words: CellWords, width: int, known: Sequence[str]) -> list[Piece]:
    check = check_words(words, width // 2)
    hands = short_hands(words.hands, known, width - len(check) - 1)
    return _row([(hands, figure_tone(words))], [(check, _CHECK_TONES.get(words.check, "quiet"))], width)


def _row(left: list[Piece], right: list[Piece], width: int) -> list[Piece]:
    """Pieces at the left, others at the right, in ``width`` cells; those at the left are cut where room is short."""
    room = width - sum(cell_len(text) for text, _ in right)
    pieces: list[Piece] = []
    for text, tone in left:
        took = min(cell_len(text), max(room, 0))
        pieces.append((text if took == cell_len(text) else set_cell_size(text, took), tone))
        room -= took
    return [*pieces, (" " * max(room, 0), ""), *right]


def _fit(text: str, tone: str, width: int) -> Piece:
    return (set_cell_size(text, width), tone)
