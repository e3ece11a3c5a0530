"""Simulated workshops that know nothing of our models: hands who sit, tire, fall ill, write and check, day by day.

A hand has a pattern of weekdays, hours that differ from day to day, a pace that differs from day to day and from
sitting to sitting (skewed, now and then far off), and a closeness that stays, wanders or drifts. It is ill now and then
for some days, and on holiday once. Pages dry before they are checked; who has no more to write checks, and so does who
sees many pages waiting. An artist fills spaces in the order of their pages. At shares of the book the record is handed
to the forecast as the desk would hand it, and the day it names is held against the day that comes.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from copydesk.book.hands.hand_fit import Usage, from_pages
from copydesk.book.hands.hand_set import HandSet
from copydesk.tracking.fit.book_end import LinesToWrite, ending, lines_off
from copydesk.tracking.planning.forecast import Forecast, forecast
from copydesk.tracking.planning.work_runs import HandWork, WorkLeft
from copydesk.tracking.planning.working_days import WorkingDays
from copydesk.tracking.scribes.hours import Sat, hours_a_week
from copydesk.tracking.scribes.pace import Pace, Sitting, pace_of

RUNS = 400
PAGE_LINES = 30
CHECK_PACE = 150.0
DRYING = 2
FIRST = date(2026, 3, 2)
PATTERNS = (
    (0.95, 0.95, 0.95, 0.95, 0.95, 0.0, 0.0),
    (0.75, 0.75, 0.75, 0.75, 0.75, 0.05, 0.0),
    (0.9, 0.1, 0.9, 0.1, 0.9, 0.0, 0.0),
    (0.5, 0.5, 0.5, 0.5, 0.5, 0.1, 0.1),
)


class World(NamedTuple):
    """What workshops of a row have in common.

    A hand's letters ``wander`` and ``drift`` so much a page; what it wandered off ``returns`` by a share each page; at
    one page somewhere they ``step`` up or down. It falls ill on one day in ``well``. Through its text its pace grows by
    ``quickens``, and its hours shrink by ``slackens``.
    """

    hands: int = 1
    artist: bool = False
    stated: bool = False
    wander: float = 0.0
    drift: float = 0.0
    pages: int = 60
    returns: float = 0.0
    step: float = 0.0
    well: int = 150
    quickens: float = 0.0
    slackens: float = 0.0


ROWS = {
    "one hand, hours learnt": World(),
    "one hand, hours stated": World(stated=True),
    "two hands and an artist, hours learnt": World(2, artist=True),
    "three hands and an artist, hours stated": World(3, artist=True, stated=True),
    "one hand that wanders, hours learnt": World(wander=0.008),
    "two hands that wander, an artist, stated": World(2, artist=True, stated=True, wander=0.008),
    "one hand that drifts, hours learnt": World(drift=0.003),
    "two hands that drift, hours stated": World(2, stated=True, drift=0.003),
    "one hand that strays and comes back, learnt": World(wander=0.01, returns=0.15),
    "one hand that changes once by 5 %, stated": World(stated=True, step=0.05),
    "two hands often ill, hours learnt": World(2, well=60),
    "one hand hardly ever ill, hours stated": World(stated=True, well=1000),
    "two hands that grow quicker, hours learnt": World(2, quickens=0.2),
    "one hand that slackens, an artist, learnt": World(artist=True, slackens=0.3),
}


@dataclass
class Scribe:
    """One hand: what it is, and what it has done."""

    name: str
    rng: random.Random
    world: World
    weekdays: tuple[float, ...] = ()
    a_day: float = 2.0
    pace: float = 20.0
    day_effect: float = 0.1
    letters: float = 34.0
    text: float = 0.0
    text_left: float = 0.0
    ill_until: int = -1
    sittings: list[Sitting] = field(default_factory=list)
    usages: list[Usage] = field(default_factory=list)
    on_page: float = 0.0
    strays: float = 0.0
    settled: float = 34.0
    step_at: float = 0.0
    now: float = 34.0
    page_letters: float = 34.0
    written: int = -1
    checked: dict[int, float] = field(default_factory=dict)
    first_letters: float = 34.0
    sign: int = 1
    holiday: int = 0

    def begin(self) -> None:
        """Draw what this hand is."""
        rng, world = self.rng, self.world
        self.weekdays = rng.choice(PATTERNS)
        self.a_day = rng.uniform(1.2, 3.5)
        self.pace = rng.uniform(16, 30)
        self.day_effect = rng.choice((0.0, 0.1, 0.2))
        self.settled = self.now = self.first_letters = rng.uniform(28, 40)
        self.text = self.text_left = world.pages / world.hands * PAGE_LINES * self.now * rng.uniform(0.85, 1.15)
        self.sign = rng.choice((-1, 1))
        self.holiday = rng.randrange(20, 200)
        self.step_at = rng.random() if world.step else 0.0
        self._turn()

    @property
    def done(self) -> float:
        """The share of its text that is written."""
        return 1 - self.text_left / self.text

    def _turn(self) -> None:
        world = self.world
        if self.step_at and self.done >= self.step_at:
            self.settled, self.step_at = self.settled * math.exp(self.sign * world.step), 0.0
        self.settled *= math.exp(self.sign * world.drift)
        self.strays = self.strays * (1 - world.returns) + self.rng.gauss(0, world.wander)
        self.now = self.settled * math.exp(self.strays)
        self.page_letters = self.now * math.exp(self.rng.gauss(0, 0.02))
        self.on_page = 0.0

    def hours_on(self, day: int) -> float:
        """Hours it sits on a day, 0 where it does not."""
        rng = self.rng
        if day <= self.ill_until or self.holiday <= day < self.holiday + 7:
            return 0.0
        if rng.random() < 1 / self.world.well:
            self.ill_until = day + 1 + int(rng.expovariate(1 / 5))
            return 0.0
        weekday = (FIRST + timedelta(days=day)).weekday()
        if rng.random() >= self.weekdays[weekday]:
            return 0.0
        a_day = self.a_day * (1 - self.world.slackens * self.done)
        return max(0.25, a_day * rng.lognormvariate(-0.04, 0.28))

    def write(self, day: int, hours: float) -> tuple[float, list[float]]:
        """Write for so long; the hours not used, and the lines of pages finished."""
        rng, at = self.rng, datetime.combine(FIRST + timedelta(days=day), time(9))
        of_day = (
            self.pace * rng.lognormvariate(-(self.day_effect**2) / 2, self.day_effect) if self.day_effect else self.pace
        )
        of_day *= 1 + self.world.quickens * self.done
        pages = []
        while hours > 0.05 and self.text_left > 0:
            spent = min(hours, rng.uniform(0.4, 1.2))
            lines = of_day * spent * rng.lognormvariate(-0.007, 0.12) * (0.6 if rng.random() < 0.04 else 1.0)
            done = 0.0
            while done < lines - 1e-9 and self.text_left > 0:
                step = min(lines - done, PAGE_LINES - self.on_page, self.text_left / self.page_letters)
                done += step
                self.on_page += step
                self.text_left -= step * self.page_letters
                if self.text_left < 1e-6:
                    self.text_left = 0.0
                if self.on_page >= PAGE_LINES - 1e-6 or not self.text_left:
                    pages.append(self.on_page)
                    if self.on_page > 20:
                        near = self.page_letters * 0.002
                        self.usages.append(
                            Usage(round(self.on_page), self.page_letters - near, self.page_letters + near)
                        )
                    self._turn()
            share = done / lines
            self.sittings.append(Sitting(self.name, done, spent * share * 60, at))
            hours -= spent * share
            at += timedelta(minutes=spent * 60)
        return hours, pages


class Told(NamedTuple):
    """What a forecast said, and what came: days from when it was made (the range and the chance by a due day)."""

    made: date
    said: Forecast
    due: date
    written: date
    checked: date
    whole: date
    chance_fits: float
    fits: bool
    hands: int


def book(world: World, seed: str, shares: tuple[float, ...] = (0.15, 0.4, 0.7)) -> list[Told]:
    """One book lived to its end, with forecasts made at shares of its text; those past their time are left out."""
    rng = random.Random(seed)
    hands = [Scribe("ABC"[at], random.Random(f"{seed} {at}"), world) for at in range(world.hands)]
    for hand in hands:
        hand.begin()
    wrong = {hand.name: (rng.lognormvariate(0, 0.1), rng.lognormvariate(0, 0.04)) for hand in hands}
    life = _Life(world, rng, hands, wrong)
    made: list[_Made] = []
    wanted = list(shares)
    while not life.over:
        life.step()
        done = 1 - sum(hand.text_left for hand in hands) / sum(hand.text for hand in hands)
        while wanted and done >= wanted[0]:
            wanted.pop(0)
            if done < 1:
                made.append(life.forecast())
    end = life.end()
    return [each.told(end, life) for each in made]


class _Made(NamedTuple):
    made: date
    said: Forecast
    due: date
    chance_fits: float
    room: float

    def told(self, end: tuple[date, date, date], life: _Life) -> Told:
        return Told(
            self.made,
            self.said,
            self.due,
            *end,
            self.chance_fits,
            life.lines_written <= self.room + 0.5,
            life.world.hands,
        )


class _Life:
    """A workshop's days."""

    def __init__(
        self, world: World, rng: random.Random, hands: list[Scribe], wrong: dict[str, tuple[float, float]]
    ) -> None:
        self.world, self.rng, self.hands, self.wrong = world, rng, hands, wrong
        self.day = -1
        self.drying: list[tuple[int, float]] = []
        self.lines_written = 0.0
        self.checked = self.written = -1
        pages = sum(hand.text / hand.now for hand in hands) / PAGE_LINES
        hours = [rng.uniform(1, 6) for _ in range(int(pages / 6))] if world.artist else []
        self.spaces = [
            [(at + rng.random()) * 6 * PAGE_LINES, each * rng.lognormvariate(0, 0.3), each]
            for at, each in enumerate(hours)
        ]
        self.dry_lines: list[tuple[int, float]] = []
        self.painted = -1
        self.artist_p, self.artist_day = rng.uniform(0.4, 0.9), rng.uniform(1.5, 3.5)

    @property
    def over(self) -> bool:
        return not (any(hand.text_left for hand in self.hands) or self.drying or self.spaces)

    def step(self) -> None:
        """One day of everybody."""
        self.day += 1
        day = self.day
        for hand in self.hands:
            hours = hand.hours_on(day)
            waiting = [each for each in self.drying if each[0] + DRYING <= day]
            if hours and (len(waiting) > 6 or not hand.text_left):
                left = self._check(hours)
                hand.checked[day], hours = hours - left, left
            if hours and hand.text_left:
                _, pages = hand.write(day, hours)
                for lines in pages:
                    self.drying.append((day, lines))
                    self.dry_lines.append((day, lines))
                self.lines_written += sum(pages)
                if not hand.text_left:
                    hand.written = day
                    self.written = day
        weekday = (FIRST + timedelta(days=day)).weekday()
        if self.spaces and weekday < 5 and self.rng.random() < self.artist_p:
            self._paint(self.artist_day * self.rng.lognormvariate(-0.04, 0.28))

    def _check(self, hours: float) -> float:
        while hours > 0 and self.drying and self.drying[0][0] + DRYING <= self.day:
            at, lines = self.drying.pop(0)
            need = lines / CHECK_PACE
            if need > hours:
                self.drying.insert(0, (at, lines - hours * CHECK_PACE))
                return 0.0
            hours -= need
            self.checked = self.day
        return hours

    def _paint(self, hours: float) -> None:
        dry = sum(lines for at, lines in self.dry_lines if at + DRYING <= self.day)
        written = not any(hand.text_left for hand in self.hands)
        while hours > 0 and self.spaces and (self.spaces[0][0] <= dry or written):
            spent = min(hours, self.spaces[0][1])
            self.spaces[0][1] -= spent
            hours -= spent
            if self.spaces[0][1] <= 1e-9:
                self.spaces.pop(0)
                self.painted = self.day

    def end(self) -> tuple[date, date, date]:
        last = max(self.checked, self.painted + DRYING) if self.world.artist else self.checked
        written, checked, whole = (FIRST + timedelta(days=each) for each in (self.written, self.checked, last))
        return written, checked, whole

    def forecast(self) -> _Made:
        """What the desk would say this evening."""
        today, days = FIRST + timedelta(days=self.day), WorkingDays()
        writing, stretches, lines = [], [], 0.0
        for hand in self.hands:
            off_hours, off_letters = self.wrong[hand.name]
            before = HandSet.from_letters(hand.first_letters * off_letters)
            known = from_pages(before, hand.usages)
            left = hand.text_left / known.letters_per_line
            stretches.append(LinesToWrite(known, left, left / PAGE_LINES))
            pace = pace_of(hand.sittings, hand.pace * self.wrong[hand.name][0] if self.world.stated else None)
            sat = [Sat(each.at.date(), each.minutes / 60) for each in hand.sittings]
            sat += [Sat(FIRST + timedelta(days=day), spent) for day, spent in hand.checked.items()]
            stated = hand.a_day * sum(hand.weekdays) * off_hours if self.world.stated else None
            hours = hours_a_week(sat, today, stated)
            writing.append(HandWork(hand.name, left, lines_off(stretches[-1:]).sd, pace, hours))
            lines += left
        unchecked = lines + sum(each for _, each in self.drying)
        checker = Pace(CHECK_PACE, 0.05 * CHECK_PACE, math.inf, 0.0, "stated")
        week = sum(task.hours.a_week for task in writing)
        checking = []
        for task in writing:
            as_long = unchecked * task.hours.a_week / week * task.pace.lines_an_hour / checker.lines_an_hour
            checking.append(
                HandWork(
                    task.hand, task.lines + as_long, math.hypot(task.lines_sd, 0.05 * as_long), task.pace, task.hours
                )
            )
        behind = sum(each for _, each in self.drying)
        kept_up = 1 - behind / max(self.lines_written, 1.0)
        alongside = kept_up * lines / max(unchecked, 1.0)
        painting: tuple[HandWork, ...] = ()
        to_spaces, last = 0.0, 0.0
        if self.spaces:
            artist = self.artist_p * 5 * self.artist_day
            stated = artist * self.rng.lognormvariate(0, 0.1)
            left = sum(each[2] for each in self.spaces)
            painting = (
                HandWork(
                    "Z",
                    left,
                    0.3 * left / math.sqrt(len(self.spaces)),
                    Pace(1.0, 0.0, math.inf, 0.0),
                    hours_a_week((), today, stated),
                ),
            )
            to_spaces, last = max(self.spaces[-1][0] - self.lines_written, 0.0), self.spaces[-1][2]
        work = WorkLeft(
            days.first_from(today + timedelta(days=1)) or today,
            days,
            tuple(writing),
            tuple(checking),
            painting,
            DRYING,
            alongside,
            to_spaces,
            last,
        )
        found = forecast(work, today, runs=RUNS)
        span = ((found.checked.expected or today) - today).days
        due = today + timedelta(days=round(span * self.rng.uniform(0.75, 1.3)))
        found = forecast(work, due, runs=RUNS)
        room = lines * (1 + self.rng.gauss(0, self.rng.choice((0.01, 0.02, 0.06))))
        fits = ending(room, lines, lines_off(stretches)).chance_text_fits
        return _Made(today, found, due, fits, self.lines_written + sum(hand.on_page for hand in self.hands) + room)


def held(tales: list[Told], what: str) -> float:
    """The share of 80 % ranges of ``what`` (written, checked, whole) that hold the day that came."""
    hits = 0
    for told in tales:
        said, came = getattr(told.said, what), getattr(told, what)
        hits += said.low is not None and said.low <= came <= (said.high or date.max)
    return hits / max(len(tales), 1)


def bins(pairs: list[tuple[float, bool]], least: int = 1) -> list[tuple[float, float, int]]:
    """Said and true in ten bins of the chance said, with how many fell in each."""
    found = []
    for low in range(10):
        own = [(said, came) for said, came in pairs if low <= said * 10 < low + 1 or (low == 9 and said == 1)]
        if len(own) >= least:
            found.append((sum(each for each, _ in own) / len(own), sum(came for _, came in own) / len(own), len(own)))
    return found
