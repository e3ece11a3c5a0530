"""Keeping a changed plan: the lines of ``book.yaml`` that go and come are shown before it is written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.dialogs.form import Choice

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.store.folder.kept_plan import PlanChange


_ANSWERS = (("no", "no: go back and nothing is written"), ("yes", "yes: write it"))
_MOST_SHOWN = 24


async def keep_plan(screen: BookScreen, make: Callable[[], PlanChange], told: Iterable[str] = ()) -> bool:
    """Show what would change in ``book.yaml``, with what else is ``told``, and write it if that is wanted."""
    try:
        change = make()
        if change.after == change.before:
            screen.say("book.yaml says so already; nothing was written.")
            return False
        lines = change.difference
        more = [f"... and {len(lines) - _MOST_SHOWN} lines more"] if len(lines) > _MOST_SHOWN else []
        note = "\n".join(["- goes, + comes:", *lines[:_MOST_SHOWN], *more, *told])
        asked = Choice("Is book.yaml to change so?", _ANSWERS, note=note, letters="ny")
        if await screen.app.push_screen_wait(asked) != "yes":
            return False
        screen.keep_plan(change, "Kept in book.yaml; u takes it back.")
    except CopydeskError as refused:
        screen.refuse(refused)
        return False
    return True
