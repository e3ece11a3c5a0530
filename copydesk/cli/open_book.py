"""What most verbs take: the book folder and ``--json``; and opening the book."""

from __future__ import annotations

from argparse import Action
from pathlib import Path
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import InvalidValueError
from copydesk.cli.exit_codes import remark

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace, _ActionsContainer
    from collections.abc import Callable

    from copydesk.job import Job


def add_book(parser: ArgumentParser, *, json: bool = True) -> None:
    """Add the book folder, and ``--json``."""
    parser.add_argument("book", metavar="BOOK", help="the book folder")
    if json:
        parser.add_argument("--json", action="store_true", help="one JSON document instead of words")


def add_typed(parser: _ActionsContainer, name: str, read: Callable[[str, str], object], **settings: Any) -> None:
    """Add an option whose value is read by one of the readers of ``typed_values``; a refusal names the option.

    Args:
        parser: where it is added.
        name: the option, as ``--minutes``.
        read: the reader.
        settings: what ``add_argument`` takes besides.
    """
    parser.add_argument(name, type=lambda text: read(text, name), **settings)


def add_words(parser: _ActionsContainer, name: str, **settings: Any) -> None:
    """Add an option of words, "" where it is left out; given with none it is refused, since nobody means that.

    Args:
        parser: where it is added.
        name: the option, as ``--ends``.
        settings: what ``add_argument`` takes besides.
    """
    parser.add_argument(name, default="", action=_Words, **settings)


class _Words(Action):
    """Keeps the words given with an option."""

    def __call__(self, _: ArgumentParser, namespace: Namespace, values: Any, option_string: str | None = None) -> None:
        """Keep them.

        Raises:
            InvalidValueError: where there are none.
        """
        if not values.strip():
            raise InvalidValueError(f"{option_string} is given without words; write them after it, or leave it out")
        setattr(namespace, self.dest, values)


def leave_book(job: Job) -> None:
    """Tell what other desks did to the same thing meanwhile, and what happened to the ledger; close the book."""
    remark(*job.news())
    job.close()


def open_book(arguments: Namespace) -> Job:
    """Open the book named; warnings about its ledger go to standard error.

    Raises:
        CopydeskError: where it cannot be opened.
    """
    from copydesk.job import Job  # not loaded by what opens no book, nor by the desk before its first picture

    job = remember(Job.open(Path(arguments.book)))
    remark(*job.store.notes, *job.news())
    return job


_opened: list[Job] = []


def remember(job: Job) -> Job:
    """Have a book closed at the end; gives it back."""
    _opened.append(job)
    return job


def close_all() -> None:
    """Close every book that is open; closing one twice does no harm."""
    while _opened:
        _opened.pop().close()
