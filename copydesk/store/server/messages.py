"""What is said of a ledger on a server: why it is only read, that it is away, what waits, what is damaged."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path


def entries(count: int) -> str:
    """A number of entries."""
    return "1 entry" if count == 1 else f"{count} entries"


def newer(service: str, form: int, known: int) -> str:
    """A newer program wrote it."""
    return (
        f"the ledger on the server {service} was written by a newer copydesk (its form is {form}, this program knows "
        f"{known}), so it is only read; install the newer program to record"
    )


def closed(service: str, why: str) -> str:
    """It was moved away."""
    return f"the ledger on the server {service} is no longer in use: {why}"


def gone(service: str, folder: Path) -> str:
    """It was there, and is not."""
    return (
        f"the server {service} has no ledger of this book any more, so the copy read from it before is only read; have "
        f"it restored there, or send the copy with copydesk ledger {folder} move --to server"
    )


def another(service: str, copy: Path) -> str:
    """It is not the one that was there."""
    return (
        f"the ledger on the server {service} bears another mark than the one read here before: it is another book's, "
        f"or was begun anew; ask whoever keeps the server, or move {copy} away to take it as it is"
    )


def never_read(service: str, why: str) -> str:
    """It cannot be reached, and nothing is known of it."""
    return (
        f"the ledger of this book is on the server {service}, which does not answer ({why}), and no copy of it was "
        "read here yet; see that the server runs and that libpq's service file names it"
    )


def away(service: str, why: str) -> str:
    """It cannot be reached."""
    return f"The server {service} does not answer ({why}); what is recorded is kept here, and sent once it answers."


def turned_away(service: str, why: str) -> str:
    """It will not let this account in."""
    return (
        f"the server {service} does not let this desk in ({why}); put the name, the password or the rights right, in "
        "libpq's service file and password file or with whoever keeps the server, and open the book again"
    )


def to_be_sent(service: str, count: int) -> str:
    """What is kept here for it."""
    return f"Kept here, to be sent to the server {service}: {entries(count)}."


def cannot_be_sent(count: int, file: Path) -> str:
    """What is kept here for a ledger that takes nothing more."""
    return (
        f"{entries(count)} kept here cannot be sent any more; where the ledger is now, copydesk merge BOOK {file} "
        "--any-book takes them over"
    )


def other_title(service: str, title: str) -> str:
    """It was begun under another title."""
    return (
        f"the ledger on the server {service} was begun for a book called {title!r}; if this is another book, give it a "
        "service of its own"
    )


def damaged(service: str, number: int, why: str, folder: Path) -> str:
    """One of its rows cannot be read."""
    return (
        f"entry {number} on the server {service} is damaged: {why}; it was left out, and copydesk "
        f" audit --mend {folder} brings it back where a copy here has it"
    )


def clash(service: str, name: str, file: Path) -> str:
    """What waits under an id is not what the server has under it."""
    return (
        f"the id {name!r} stands for one entry on the server {service} and for another in {file}, which was not sent; "
        "record it again"
    )


def refuses(outcome: str, service: str, why: str) -> str:
    """It says no, and will say no again."""
    return f"{outcome}: the server {service} says {why!r}; ask whoever keeps it to put that right"
