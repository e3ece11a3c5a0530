"""What one value may be: each kind reads the text that stands there by its own rule, and says what it wants."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.phrases import decimal
from copydesk.book.common.typed_values import (
    DAY,
    FIRST_YEAR,
    LAST_YEAR,
    number_of,
    plain_day,
    read_hours,
    read_length,
    whole_of,
)
from copydesk.book.structure.page import Page
from copydesk.book.text.exemplar import read_place
from copydesk.store.files.text_file import shown

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from copydesk.store.plan_file.yaml_places import Scalar


_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff]")
_LONGEST_FIGURE = 40
_RANGE = re.compile(r"\s*([0-9]{1,6})(?:\s*[-\u2013]\s*([0-9]{1,6}))?\s*")
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:[-_][A-Za-z0-9]{1,8})*")
_PARTS = frozenset(" :/\\,;'\"()[]{}<>|")
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_YES_NO = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


class Wrong(Exception):  # noqa: N818 - says what the value is, as its sentence does
    """A value is not what its key wants; the text completes the sentence ``page, width ...``.

    ``at`` is where in the value the fault lies, in characters from its beginning.
    """

    def __init__(self, what: str, at: int = 0) -> None:
        super().__init__(what)
        self.at = at


class ValueKind(NamedTuple):
    """One kind of value: what is wanted, in words that follow ``write``, and how the text that stands there is read.

    ``parse`` gives None, or raises ``Wrong`` with a sentence of its own, where the text is no such value.
    ``write`` turns a value back into what people write.
    """

    wanted: str
    parse: Callable[[Scalar], object | None]
    write: Callable[[Any], object] = lambda value: value

    def read(self, scalar: Scalar) -> object:
        """The value that stands there.

        Raises:
            Wrong: where it is not of this kind.
        """
        value = self.parse(scalar)
        if value is None:
            raise Wrong(f"cannot be {shown(scalar.text)}; write {self.wanted}")
        return value


def text(wanted: str = "a text", *, longest: int = 500, lines: bool = False, needed: bool = False) -> ValueKind:
    """Any text, its white space made single spaces unless it may have ``lines``; not empty where ``needed``."""

    def parse(scalar: Scalar) -> str | None:
        if found := _FORBIDDEN.search(scalar.text):
            raise Wrong(f"holds a control character (U+{ord(found[0]):04X}); take it out")
        read = scalar.text.strip() if lines else " ".join(scalar.text.split())
        if len(read) > longest:
            raise Wrong(f"is {len(read)} characters long; write at most {longest}")
        return None if needed and not read else read

    return ValueKind(wanted, parse)


def name() -> ValueKind:
    """A short name that a command line can take, with nothing in it that parts a place from another."""

    def parse(scalar: Scalar) -> str | None:
        fits = 0 < len(scalar.text) <= 40 and scalar.text.isprintable() and not _PARTS.intersection(scalar.text)
        return scalar.text if fits else None

    return ValueKind("one word of at most 40 letters and figures, with - or _ between them", parse)


def count(low: int = 1, high: int = 1_000_000, what: str = "a whole number") -> ValueKind:
    """A whole number within bounds."""

    def parse(scalar: Scalar) -> int | None:
        _bare(scalar)
        number = whole_of(scalar.text)
        return number if number is not None and low <= number <= high else None

    return ValueKind(f"{what} from {low} to {high}", parse)


def figure(low: float = 0.0, high: float = 1_000_000.0, what: str = "a figure", *, above: bool = False) -> ValueKind:
    """A figure within bounds, of which ``low`` itself is one unless ``above``."""

    def parse(scalar: Scalar) -> float | None:
        _bare(scalar)
        number = number_of(scalar.text)
        return None if number is None else _within(number, low, high, above)

    return ValueKind(f"{what} {_bounds(low, high, above)}", parse)


def hours(high: float) -> ValueKind:
    """A time above 0 in hours, or in the unit it names."""

    def parse(scalar: Scalar) -> float | None:
        if number_of(scalar.text) is not None:
            _bare(scalar)
        try:
            return _within(read_hours(scalar.text), 0.0, high, above=True)
        except InvalidValueError:
            return None

    return ValueKind(f"hours {_bounds(0.0, high, above=True)}, as in 2.5 or 1h30", parse)


def length(low: float = 0.0, high: float = 5_000.0, *, above: bool = False) -> ValueKind:
    """A length in mm, or in the unit it names; bounds in mm."""

    def parse(scalar: Scalar) -> float | None:
        if number_of(scalar.text) is not None:
            _bare(scalar)
        elif len(scalar.text) > _LONGEST_FIGURE:
            return None
        try:
            return _within(read_length(scalar.text), low, high, above)
        except InvalidValueError:
            return None

    return ValueKind(f"a length {_bounds(low, high, above)} mm, or with its unit, as in 18 cm or 7 in", parse)


def choice(*words: str) -> ValueKind:
    """One of a few words."""

    def parse(scalar: Scalar) -> str | None:
        read = " ".join(scalar.text.split()).lower()
        return read if read in words else None

    return ValueKind(f"{', '.join(words[:-1])} or {words[-1]}", parse)


def day() -> ValueKind:
    """A day of the calendar."""

    def parse(scalar: Scalar) -> date | None:
        read = plain_day(scalar.text)
        if read is None and DAY.fullmatch(scalar.text.strip()) is not None:
            what = "and the calendar has no such day, or no work falls in that year"
            raise Wrong(f"is {scalar.text}, {what}; write a day from {FIRST_YEAR} to {LAST_YEAR}")
        return read

    return ValueKind("a day as year-month-day, as in 2027-03-31", parse)


def yes_no() -> ValueKind:
    """Yes or no."""
    return ValueKind("yes or no", lambda scalar: None if scalar.quoted else _YES_NO.get(scalar.text.lower()))


def page_name() -> ValueKind:
    """A page of the book, as text."""

    def parse(scalar: Scalar) -> str | None:
        try:
            return str(Page.parse(scalar.text))
        except InvalidValueError:
            return None

    return ValueKind("a leaf number and r or v, as in 12r", parse)


def exemplar_place() -> ValueKind:
    """A leaf of the exemplar, and a line of it, as text."""

    def parse(scalar: Scalar) -> str | None:
        place = read_place(scalar.text)
        return None if place is None else str(place)

    return ValueKind("a leaf of the exemplar and its line, as in 12r 14", parse)


def numbers() -> ValueKind:
    """Numbers and ranges of them, as a tuple in order."""

    def parse(scalar: Scalar) -> tuple[int, ...] | None:
        read: set[int] = set()
        for part in scalar.text.split(",")[:1_000]:
            found = _RANGE.fullmatch(part)
            first, last = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
            if not 1 <= first <= last <= 10_000:
                return None
            read.update(range(first, last + 1))
        return tuple(sorted(read))

    return ValueKind("numbers and ranges, as in 1-3, 5", parse)


def formula() -> ValueKind:
    """A collation formula, as text."""

    def parse(scalar: Scalar) -> str:
        from copydesk.book.formula import collation_formula as formula

        try:
            formula.parse(scalar.text)
        except InvalidValueError as error:
            problem = error.problems[0]
            at = problem.column - 1 if problem.line == 1 else 0
            raise Wrong(f"cannot be read: {problem.what}", at + scalar.quoted) from None
        return scalar.text

    return ValueKind("a collation formula, as in 1-6^8 7^6 (wants 6)", parse)


def weekday() -> ValueKind:
    """A day of the week, Monday being 0."""

    def parse(scalar: Scalar) -> int | None:
        read = scalar.text.strip().lower()[:3]
        return _WEEKDAYS.index(read) if read in _WEEKDAYS else None

    return ValueKind("mon, tue, wed, thu, fri, sat or sun", parse, _WEEKDAYS.__getitem__)


def language() -> ValueKind:
    """A language by its code."""
    wanted = "a language's code, as in en, la or pt-BR"
    return ValueKind(wanted, lambda scalar: scalar.text if _LANGUAGE.fullmatch(scalar.text) else None)


def allowance() -> ValueKind:
    """Yes, no, or a text."""

    def parse(scalar: Scalar) -> object:
        known = None if scalar.quoted else _YES_NO.get(scalar.text.lower())
        return text().read(scalar) if known is None else known

    return ValueKind("yes, no, or texts", parse)


def _within(read: float, low: float, high: float, above: bool) -> float | None:
    return read if low <= read <= high and not (above and read == low) else None


def _bounds(low: float, high: float, above: bool) -> str:
    return f"above {decimal(low)} and at most {decimal(high)}" if above else f"from {decimal(low)} to {decimal(high)}"


def _bare(scalar: Scalar) -> None:
    if scalar.quoted:
        raise Wrong(f"is a text, being in quotation marks: {shown(scalar.text)}; write a figure without them")
