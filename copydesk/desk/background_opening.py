"""Opening a large book beside the screen: a thread reads it, the screen tells how far it is, and it can be left."""

from __future__ import annotations

from contextlib import suppress
from threading import Event, Thread
from time import monotonic
from typing import TYPE_CHECKING, Protocol

from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.phrases import count_of
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.keys import key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.opening import LeavingScreen
from copydesk.store.folder.opening import STAGES, stage_progress

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.app import ComposeResult

    from copydesk.job import Job
    from copydesk.store.folder.opening import OnStage


_BAR = 30


class DeskClosed(Exception):  # noqa: N818 - nothing is wrong: the desk was left
    """The desk was left while the book was still being read."""


class OpeningDesk(Protocol):
    """What the reading of a book asks of the desk it is read for."""

    def call_from_thread(self, callback: Callable[..., object], *args: object) -> object:
        """Call in the desk's own thread.

        Raises:
            RuntimeError: where the desk was left.
        """

    def tell_opening(self, said: str, found: str) -> None:
        """Show how far the reading is."""

    def take_opened(self, job: Job) -> None:
        """Take the book that is read."""

    def refuse_to_open(self, refused: CopydeskError) -> None:
        """Leave, since the book cannot be opened."""


class SlowOpening:
    """Reads a book in a thread of its own; the desk is called with the progress, and at the end.

    ``open_book`` is given what to call with each stage and the share of it that is done.
    """

    def __init__(self, desk: OpeningDesk, open_book: Callable[[OnStage], Job]) -> None:
        self._desk, self._open_book = desk, open_book
        self._left = Event()
        self._found: list[str] = []
        self._said = ""
        self._furthest = 0.0
        self._began = monotonic()

    @property
    def seconds(self) -> float:
        """How long the reading has taken by now."""
        return monotonic() - self._began

    def start(self) -> None:
        """Begin. A process that ends does not wait for the thread."""
        Thread(target=self._read, name="opening", daemon=True).start()

    def leave(self) -> None:
        """Stop reading as soon as it tells how far it is."""
        self._left.set()

    def _read(self) -> None:
        try:
            job = self._open_book(self._tell)
            last = len(STAGES) - 1
            self._tell(last, count_of(job.state.collation.pages, "page"))
            with job.state.progress.reporting_to(stage_progress(self._tell, last)):
                job.state.budget  # noqa: B018 - what takes long is to be done here
        except DeskClosed:
            return
        except CopydeskError as refused:
            self._hand_over(self._desk.refuse_to_open, refused)
        else:
            self._hand_over(self._desk.take_opened, job)

    def _tell(self, stage: float, found: str) -> None:
        """Pass news to the desk where it can be seen: what reads reports far more often than the bar grows."""
        if self._left.is_set():
            raise DeskClosed
        if found:
            self._found.append(found)
        self._furthest = max(self._furthest, stage)
        said = stage_words(self._furthest, self.seconds)
        if found or said != self._said:
            self._said = said
            self._hand_over(self._desk.tell_opening, said, "; ".join(self._found))

    def _hand_over(self, to: Callable[..., object], *what: object) -> None:
        with suppress(RuntimeError):  # the desk was left meanwhile
            self._desk.call_from_thread(to, *what)


def bar(stage: float) -> str:
    """How far a stage (from 0), or what is done of it, is on the way."""
    done = int(_BAR * stage / len(STAGES))
    return "█" * done + "·" * (_BAR - done)


def stage_words(stage: float, seconds: float) -> str:
    """A stage in a line, with the seconds since the beginning once there is one."""
    took = f", {seconds:.0f} s" if seconds >= 1 else ""
    return f"{bar(stage)}  reading {STAGES[int(stage)]}{took}"


class SlowOpeningScreen(LeavingScreen):
    """Stands while a large book is read that has no picture."""

    CSS_PATH = "background_opening.tcss"

    def __init__(self, called: str) -> None:
        super().__init__()
        self._called = called

    def compose(self) -> ComposeResult:
        """Which book, how far, what was found; how to leave."""
        with Vertical():
            yield Static(Content(f"Opening {sanitize(self._called)}"), id="called")
            yield Static(Content(stage_words(0, 0.0)), id="stage")
            yield Static("", id="found")
        yield SayLine()
        yield FootLine([key_named("all.quit")])

    def tell(self, said: str, found: str) -> None:
        """Show how far the reading is, and what was found."""
        self.query_one("#stage", Static).update(Content(said))
        self.query_one("#found", Static).update(Content(sanitize(found)))
