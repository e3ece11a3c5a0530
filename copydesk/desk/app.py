"""The desk as a Textual app. It only wires: screens, looks, keys, and the watch for other desks."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, ClassVar

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.base.base_app import Harmless, OwnApp
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.themes import LOOKS, OWN_COLOURS, look_after
from copydesk.store.files.gc_tuning import collect_as_usual

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, Sequence

    from textual.filter import LineFilter
    from textual.screen import Screen

    from copydesk.desk.background_opening import SlowOpening
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.desk.base.grid_snapshot import Picture
    from copydesk.desk.base.stint_watch import StintWatch
    from copydesk.desk.wording.plan_words import PlanSeen
    from copydesk.job import Job


LOOK_EVERY_SECONDS = 0.25
"""How often the folder is looked at for what other desks recorded: a quarter second costs a look at two files."""

KEEP_PICTURE_AFTER_LOOKS = 8
"""Looks without news after which the screen's picture is kept for the next opening."""


class Desk(OwnApp[None]):
    """The copying desk on one book.

    ``book`` is the open job, or what opens it; then ``picture``, or an empty desk, is shown while that is done, and
    ``refused`` tells afterwards why it could not be. A book ``called`` by a name is large: it is opened beside the
    screen, which tells how far that is and lets it be left. ``look`` is one of ``LOOKS``; ``keep_look`` is called with
    the one that was chosen.
    """

    TITLE = "copydesk"
    # The first screen's sheet stands here, since Textual reads a screen's own sheet only when it is pushed.
    CSS_PATH: ClassVar = ["base/desk.tcss", "page_screens/grid.tcss"]
    ENABLE_COMMAND_PALETTE = False  # ours takes its place
    BINDINGS: ClassVar = []

    def __init__(
        self,
        book: Job | Callable[..., Job],
        keys: Keymap | None = None,
        picture: Picture | None = None,
        called: str = "",
        look: str = "",
        keep_look: Callable[[str], None] = lambda look: None,  # noqa: ARG005 - nobody keeps it
    ) -> None:
        plain = bool(os.environ.get("NO_COLOR"))
        own = plain or look == "terminal"
        super().__init__(ansi_color=True if own else None)
        self.set_reactive(OwnApp.ansi_color, True if plain else None)  # from now on the theme says
        self._book = book
        self._picture = picture
        self._called = called
        self.refused: CopydeskError | None = None
        self._slow: SlowOpening | None = None
        self._looks_without_news = 0
        self._trouble = ""
        self._plan_told: PlanSeen | None = None
        self._stint_watch: StintWatch | None = None
        self._harmless = Harmless()
        self.own_keys = keys or Keymap()
        self._plain = plain
        self.look = look if look in LOOKS else next(iter(LOOKS))
        self._keep_look = keep_look
        self.offers_tour = self.is_new = False
        self.plan_step = (-1, False)
        self.wear(OWN_COLOURS if plain else LOOKS[self.look])

    @property
    def job(self) -> Job:
        """The book being copied; opened now where it is not yet."""
        if callable(self._book):
            self._book = self._book()
        return self._book

    def get_default_screen(self) -> Screen[None]:
        """The gatherings; while the book is still to be read their last picture, where it fits, or an empty desk."""
        if not callable(self._book):
            return _grid()
        picture = self._picture
        if picture is not None and (picture.width, picture.height) == tuple(self.size):
            from copydesk.desk.opening import OpeningScreen

            return OpeningScreen(picture)
        if self._called:
            from copydesk.desk.background_opening import SlowOpeningScreen

            return SlowOpeningScreen(self._called)
        from copydesk.desk.opening import ReadingScreen

        return ReadingScreen()

    def on_mount(self) -> None:
        """Take a person's own keys; read the book once its picture stands; begin to watch."""
        if self.own_keys.changed:
            self.set_keymap(self.own_keys.changed)
        if callable(self._book):
            # What the screen is asked to do later it does as soon as it is drawn; after a refresh it would idle first.
            self.screen.call_later(self._read_slowly if self._called else self._read_book)
        else:
            self._begin()

    def _begin(self) -> None:
        """The grid stands: watch the folder."""
        from copydesk.tracking.views.entry_cautions import CautionedSitting  # with the table of materials

        self.job.sitting = CautionedSitting.begun(self.job.ledger, self.job.store.desk)
        self.set_interval(LOOK_EVERY_SECONDS, self.look_round)
        self.call_after_refresh(collect_as_usual)

    def _read_book(self) -> None:
        """Open the book, and put the grid in the place of its picture."""
        try:
            self.job.state  # noqa: B018 - opening is what is wanted
        except CopydeskError as refused:
            self.refuse_to_open(refused)
            return
        self.push_screen(_grid())
        self._begin()

    def _read_slowly(self) -> None:
        """Open a large book beside the screen."""
        from copydesk.desk.background_opening import SlowOpening

        if callable(self._book):
            self._slow = SlowOpening(self, self._book)
            self._slow.start()

    def tell_opening(self, said: str, found: str) -> None:
        """Show how far the reading of a large book is, and what was found in it."""
        from copydesk.desk.background_opening import SlowOpeningScreen

        if isinstance(self.screen, SlowOpeningScreen):
            self.screen.tell(said, found)
        else:
            from copydesk.desk.base.screen_foot import SayLine

            self.screen.query_one(SayLine).say(said)

    def take_opened(self, job: Job) -> None:
        """The large book is read: put the grid in the place of what stood for it."""
        self._book = job
        self.push_screen(_grid())
        self._begin()

    def refuse_to_open(self, refused: CopydeskError) -> None:
        """Leave, since the book cannot be opened."""
        self.refused = refused
        self.exit(return_code=2)

    @property
    def _front(self) -> BookScreen | None:
        """The screen in front, where it is one on the book."""
        from copydesk.desk.base.book_screen import BookScreen

        return self.screen if isinstance(self.screen, BookScreen) else None

    def look_round(self) -> None:
        """Take in what other desks recorded, and a changed plan; keep the picture when all is quiet."""
        from copydesk.desk.base.book_screen import BookScreen

        if not self.is_running:
            return  # the desk is being left, and a last look came late
        try:
            changed = self.job.refresh()
            changed = self._refit() or changed
        except CopydeskError as refused:
            self._tell_trouble(str(refused.problems[0]))
            return
        front = self._front
        if self._trouble and front is not None:
            front.say("The book's folder can be read again.")
        self._trouble = ""
        if changed:
            for each in self.screen_stack:
                if isinstance(each, BookScreen) and each.is_mounted and each.is_attached:
                    each.renew()
        if front is not None:
            self._tell_plan(front)
            front.say_news()
            self._show_clock(front)
        self._looks_without_news = 0 if changed else self._looks_without_news + 1
        if self._looks_without_news == KEEP_PICTURE_AFTER_LOOKS:
            self.keep_picture()

    def _tell_plan(self, front: BookScreen) -> None:
        """Say once that a changed plan was taken, or why it was not."""
        from copydesk.desk.wording.plan_words import PlanSeen, plan_news

        now = PlanSeen(self.job.book, self.job.plan_problems)
        news = plan_news(self._plan_told or PlanSeen(self.job.book), now)
        self._plan_told = now
        if news:
            front.say(news[0], wrong=bool(now.problems))

    def plan_taken(self, *, back: bool) -> None:
        """Take in the plan just kept here, or taken ``back``."""
        from copydesk.desk.wording.plan_words import PlanSeen

        self.job.refresh()
        self._plan_told = PlanSeen(self.job.book, self.job.plan_problems)
        self.plan_step = (len(self.job.ledger), back)

    def print_paper(self, usual: str) -> None:
        """Ask at the screen in front which paper is wanted, and make it."""
        from copydesk.desk.dialogs.paper_dialog import print_paper

        if (front := self._front) is not None:
            front.run_worker(print_paper(front, usual), exclusive=True, group="ask")

    def _tell_trouble(self, trouble: str) -> None:
        """Say once that the folder cannot be looked at, so that what is said of an act is not covered up."""
        if trouble != self._trouble and self._front is not None:
            self._front.say(trouble, wrong=True)
        self._trouble = trouble

    def _show_clock(self, front: BookScreen) -> None:
        """Show the minutes of the stint that runs at this desk, and say so once when a rest is due."""
        from copydesk.desk.base.stint_watch import StintWatch, clock_now

        self._stint_watch = self._stint_watch or StintWatch()
        now = clock_now(self.job)
        front.show_clock(now)
        if said := self._stint_watch.rest_due(now):
            front.say(said)

    def _refit(self) -> bool:
        """Let the pages written since teach the plan, once a look passed without news; True where it changed."""
        return self._looks_without_news > 0 and self.job.refit()

    def keep_picture(self) -> None:
        """Keep the grid as it stands for the next opening, if it is the screen in front."""
        from copydesk.desk.page_screens.grid import GridScreen

        front = self.screen
        if isinstance(front, GridScreen) and front.is_whole:
            self.job.keep_picture(front.picture()._asdict())

    def action_quit(self) -> Awaitable[None]:  # type: ignore[override]
        """Leave the desk; everything is on disk already."""
        if self._slow is not None:
            self._slow.leave()
        self.keep_picture()
        return super().action_quit()

    def next_look(self) -> str:
        """Change to the next look, and keep it; gives its name, empty where colours are not wanted at all."""
        if self._plain:
            return ""
        self.look = look_after(self.look)
        self.theme = LOOKS[self.look]
        self._keep_look(self.look)
        return self.look

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What every line goes through on its way to the terminal."""
        return [*super().get_line_filters(), self._harmless]


def _grid() -> Screen[None]:
    from copydesk.desk.page_screens.grid import GridScreen

    return GridScreen()
