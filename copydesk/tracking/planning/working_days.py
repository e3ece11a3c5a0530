"""Days that are worked and days that are not: counting them, and finding the date some of them on."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from copydesk.book.common.errors import InvalidValueError


@dataclass(frozen=True, slots=True)
class WorkingDays:
    """A workshop's week and its days off.

    ``weekdays`` are those worked, 0 for Monday; ``off`` are dates not worked whatever their weekday.
    """

    weekdays: frozenset[int] = frozenset({0, 1, 2, 3, 4})
    off: frozenset[date] = field(default_factory=frozenset)

    def __post_init__(self) -> None:
        if not self.weekdays or not self.weekdays <= set(range(7)):
            raise InvalidValueError(
                "the workshop works on no day of the week; name at least one under weekdays, as in mon"
            )

    @property
    def a_week(self) -> int:
        """How many days of an ordinary week are worked."""
        return len(self.weekdays)

    def is_worked(self, day: date) -> bool:
        """Whether ``day`` is worked."""
        return day.weekday() in self.weekdays and day not in self.off

    def first_from(self, day: date) -> date | None:
        """The first day worked from ``day`` on, itself included; None where none is left in the calendar."""
        return self._first_worked(range(day.toordinal(), date.max.toordinal() + 1))

    def last_to(self, day: date) -> date | None:
        """The last day worked up to ``day``, itself included; None where none was."""
        return self._first_worked(range(day.toordinal(), 0, -1))

    def _first_worked(self, ordinals: range) -> date | None:
        return next((day for day in map(date.fromordinal, ordinals) if self.is_worked(day)), None)

    def between(self, first: date, last: date) -> int:
        """How many days are worked from ``first`` to ``last``, both included; 0 where ``last`` comes first."""
        days = (last - first).days + 1
        if days <= 0:
            return 0
        weeks, rest = divmod(days, 7)
        ordinary = weeks * self.a_week + sum((first.weekday() + step) % 7 in self.weekdays for step in range(rest))
        return ordinary - sum(first <= day <= last and day.weekday() in self.weekdays for day in self.off)
