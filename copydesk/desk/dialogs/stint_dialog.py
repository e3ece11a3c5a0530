"""The stint clock's dialog: beginning, resting, going on, ending."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import read_minutes
from copydesk.desk.base.stint_watch import clock_now
from copydesk.desk.dialogs.form import Choice, Field, record_form
from copydesk.tracking.log.entry_text import entry_sentence
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
    ways = [go_on, ("tools", "note another ink, pen or pounce"), ("stopped", "end the stint")]
    chosen = await screen.app.push_screen_wait(Choice(title, ways, note=CARE))
    if chosen == "tools":
        await _note_tools(screen, now)
    elif chosen:
        acts = {"started": lambda: start_stint(desk, int(now.rest_after)), "paused": lambda: pause_stint(desk)}
        screen.do(acts.get(chosen, lambda: stop_stint(desk)))


async def _begin(screen: BookScreen, now: DeskClock) -> None:
    def make(given: Mapping[str, str]) -> Act:
        return start_stint(screen.job.store.desk, round(read_minutes(given["rest"] or "0", "the time to a rest")))

    rest = Field("rest", "Minutes after which a rest is due; 0 for no reminder", str(int(now.rest_after)))
    if await record_form(screen, f"A stint of {screen.job.hand} begins", [rest], make, note=CARE):
        screen.say(f"The clock runs for {screen.job.hand}.")


async def _note_tools(screen: BookScreen, now: DeskClock) -> None:
    """Ask what the hand at the desk writes with; only what is another than before is noted."""
    hand = screen.job.hand
    before = tools_of(screen.job.state, hand)

    def make(given: Mapping[str, str]) -> Act:
        noted = {name: given[name] for name in Tools._fields if given[name].strip() != getattr(before, name)}
        if not any(noted.values()):
            raise InvalidValueError("nothing is another than before, so there is nothing to note")
        return start_stint(screen.job.store.desk, int(now.rest_after), Tools(**noted))

    fields = [
        Field("ink", "Ink", before.ink),
        Field("pen", "Pen, and how it is cut", before.pen),
        Field("pounce", "Pounce: the powder rubbed on the skin before writing", before.pounce),
    ]
    entry = await record_form(screen, f"What {hand} writes with from now on", fields, make)
    if entry is not None:
        screen.say(entry_sentence(entry, screen.job.state))


async def _end_forgotten(screen: BookScreen) -> None:
    """A clock left running tells nothing: ask for the minutes."""

    def make(given: Mapping[str, str]) -> Act:
        if not given["minutes"]:
            raise InvalidValueError("give the minutes of the stint, 0 where nobody knows them")
        return stop_stint(screen.job.store.desk, read_minutes(given["minutes"], "the time"))

    field = Field("minutes", "Minutes it really was; 0 where nobody knows")
    if await record_form(screen, "The clock was left running", [field], make):
        screen.say("The stint is ended.")
