"""The stint clock's dialog: beginning, resting, going on, ending."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import read_minutes
from copydesk.desk.base.stint_watch import clock_now
from copydesk.desk.dialogs.form import Choice, Field, record_form
from copydesk.tracking.scribes.desk_clock import pause_stint, start_stint, stop_stint
from copydesk.tracking.state.writing_tools import Tools, tools_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.ledger.entry import Act
    from copydesk.tracking.scribes.desk_clock import DeskClock


CARE = "Hours bent over a desk strain back, neck, hand and eyes: rest before they ask for it."


async def turn_clock(screen: BookScreen) -> None:
    """Ask what the clock is to do, and record it."""
    now, desk = clock_now(screen.job), screen.job.store.desk
    if not now.open:
        await _begin(screen, now)
        return
    if now.shows.forgotten:
        await _end_forgotten(screen)
        return
    minutes = f"{int(now.shows.minutes)} minutes at the desk"
    go_on = ("started", "go on") if now.paused else ("paused", "rest: the clock stands still")
    title = (
        f"{minutes}, the clock stands still" if now.paused else f"{minutes}, {int(now.shows.since_rest)} without rest"
    )
    chosen = await screen.app.push_screen_wait(Choice(title, [go_on, ("stopped", "end the stint")], note=CARE))
    if chosen:
        acts = {"started": lambda: start_stint(desk, int(now.rest_after)), "paused": lambda: pause_stint(desk)}
        screen.do(acts.get(chosen, lambda: stop_stint(desk)))


async def _begin(screen: BookScreen, now: DeskClock) -> None:
    def make(given: Mapping[str, str]) -> Act:
        noted = {name: given[name] for name in Tools._fields if given[name] != getattr(before, name)}
        rest_after = round(read_minutes(given["rest"] or "0", "the time to a rest"))
        return start_stint(screen.job.store.desk, rest_after, Tools(**noted))

    before = tools_of(screen.job.state, screen.job.hand)
    fields = [
        Field("rest", "Minutes after which a rest is due; 0 for no reminder", str(int(now.rest_after))),
        Field("ink", "Ink", before.ink),
        Field("pen", "Pen, and how it is cut", before.pen),
        Field("pounce", "Pounce: the powder rubbed on the skin before writing", before.pounce),
    ]
    if await record_form(screen, f"A stint of {screen.job.hand} begins", fields, make, note=CARE):
        screen.say(f"The clock runs for {screen.job.hand}.")


async def _end_forgotten(screen: BookScreen) -> None:
    """A clock left running tells nothing: ask for the minutes."""

    def make(given: Mapping[str, str]) -> Act:
        if not given["minutes"]:
            raise InvalidValueError("give the minutes of the stint, 0 where nobody knows them")
        return stop_stint(screen.job.store.desk, read_minutes(given["minutes"], "the time"))

    field = Field("minutes", "Minutes it really was; 0 where nobody knows")
    if await record_form(screen, "The clock was left running", [field], make):
        screen.say("The stint is ended.")
