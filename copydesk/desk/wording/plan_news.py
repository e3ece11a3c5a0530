"""What is said at the desk when ``book.yaml`` was changed: that the plan was read anew, or why it was not taken."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from copydesk.book.plan import Book


class PlanSeen(NamedTuple):
    """The plan as it stood when it was last told of, and what was wrong then with a changed one."""

    book: Book
    problems: tuple[str, ...] = ()


def plan_news(before: PlanSeen, now: PlanSeen) -> list[str]:
    """What to say of the plan since ``before``; nothing where it is as it was."""
    if now.problems and now.problems != before.problems:
        return [f"The changed plan was not taken: {problem}" for problem in now.problems]
    if now.book != before.book or (before.problems and not now.problems):
        return ["book.yaml was changed; the plan was read anew."]
    return []
