"""A whole book as one value: its plan, its texts and its ledger, gathered from a folder or made into one."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import BadFileError, CopydeskError, Problem
from copydesk.book.common.sanitize import sanitize
from copydesk.store.files.book_folder import BOOK_FILE, BookFolder, LedgerPaths, files_named, path_error, printable
from copydesk.store.files.disk import Disk
from copydesk.store.files.text_file import bad_file, decode, read_bytes, shown
from copydesk.store.folder.new_book import encoded, make_folder
from copydesk.store.journal.ledger_copies import read_both, whole_file
from copydesk.store.journal.line_format import SCHEMA, Header, is_entry, new_mark
from copydesk.store.plan_file.book_file import LARGEST as LARGEST_PLAN
from copydesk.store.plan_file.book_file import read_book
from copydesk.tracking.ledger.entry import wrong_in

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from copydesk.book.plan import Book
    from copydesk.store.journal.ledger_store import EntryDict, LedgerStore


LARGEST = 1_000_000_000
"""Bytes of one text of a book."""
SET_ASIDE = "entries-set-aside.json"
"""Where entries are put that came with a book and cannot be in its ledger."""


class Snapshot(NamedTuple):
    """A book and all that is kept of it.

    ``plan`` is ``book.yaml`` as people wrote it, remarks and all, and ``book`` what it says. ``texts`` are the
    exemplar and the samples by the names the plan gives them. ``mark`` is the one the ledger bears (empty where
    there is none), ``schema`` the form of its entries.
    """

    plan: str
    book: Book
    texts: Mapping[str, str]
    mark: str
    schema: int
    entries: Sequence[EntryDict]


class MadeAgain(NamedTuple):
    """A book's folder that was made, and the entries that were set aside, with what is wrong with each."""

    folder: Path
    left_out: tuple[Problem, ...]


def take_snapshot(folder: Path, store: LedgerStore) -> Snapshot:
    """Everything a book's folder and its ledger hold.

    Raises:
        CopydeskError: where a file is missing, cannot be read or is not UTF-8.
    """
    home = BookFolder.at(folder)
    book = read_book(folder)
    texts = {name: _text(home, name, LARGEST) for name in files_named(book)}
    ledger, mirror = read_both(LedgerPaths(home.root), Disk())
    return Snapshot(
        plan=_text(home, BOOK_FILE, LARGEST_PLAN),
        book=book,
        texts=texts,
        mark=ledger.found.book or mirror.found.book,
        schema=max(ledger.found.schema, mirror.found.schema),
        entries=store.entries(),
    )


def _text(home: BookFolder, inside: str, largest: int) -> str:
    name = home.name(inside)
    return decode(read_bytes(home.path(inside), name, largest), name)


def expect_no_own_file(home: BookFolder, book: Book, path: Path) -> None:
    """See that what is written to ``path`` takes the place of no file that the book is made of.

    Raises:
        CopydeskError: where it would.
    """
    places = LedgerPaths(home.root)
    own = {places.ledger, home.root / BOOK_FILE, *map(home.path, files_named(book))}
    try:
        target = path.resolve()
    except (OSError, RuntimeError, ValueError):
        return  # no file can be written there; whoever writes it says so
    if target in own or target.is_relative_to(places.hidden):
        raise path_error(path, "is a file that the book is made of; choose another name")


def make_from_snapshot(folder: Path, whole: Snapshot, name: str, *, disk: Disk | None = None) -> MadeAgain:
    """Make a book folder of a whole book; entries keep their ids and ticks. It is there whole or not at all.

    Every entry is checked in full. One that no ledger can hold is set aside, in a file beside the ledger, and named.

    Args:
        folder: where; nothing may be there yet but an empty folder.
        whole: the book.
        name: what a person knows the file by that it came from.
        disk: another disk than the usual one.

    Raises:
        CopydeskError: where the book could not be opened afterwards, something is there already, or the disk refuses.
    """
    contents = {BOOK_FILE: encoded(BOOK_FILE, whole.plan)}
    for inside in files_named(whole.book):
        _expect_own_name(folder, inside, name)
        if inside not in whole.texts:
            raise bad_file(name, f"the plan names the file {shown(inside)}, whose text is not here")
        contents[inside] = encoded(inside, whole.texts[inside])
    entries, aside, problems = _sorted_out(whole.entries, name)
    if entries:
        header = Header(SCHEMA, whole.mark or new_mark())
        contents[LedgerPaths(folder).ledger.name] = whole_file(header, ([entry] for entry in entries))
    if aside:
        contents[SET_ASIDE] = json.dumps(aside, indent=1).encode()
    return MadeAgain(
        make_folder(folder, contents, disk or Disk(), lambda made: _try(made, entries, name)), tuple(problems)
    )


def _expect_own_name(folder: Path, inside: str, name: str) -> None:
    """See that a text would lie in the open and in no other file's place.

    A hidden file is refused since other programs (version control, say) may act on what it says.
    """
    home = BookFolder(folder, folder.resolve())
    parts = home.path(inside).relative_to(home.root).parts
    taken = (BOOK_FILE, SET_ASIDE, LedgerPaths(folder).ledger.name)
    if any(part.startswith(".") for part in parts) or parts[0].casefold() in taken:
        what = f"the plan gives a text the name {shown(inside)}, which no text may bear; choose another"
        raise bad_file(name, what)


def _sorted_out(entries: Sequence[object], name: str) -> tuple[list[EntryDict], list[object], list[Problem]]:
    """The entries that a ledger can hold; those it cannot, as they are, and why."""
    taken: dict[str, EntryDict] = {}
    aside: list[object] = []
    problems: list[Problem] = []
    for number, entry in enumerate(entries, 1):
        what = ""
        if not is_entry(entry) or not entry["entry"]:
            what = "has no id, or no tick that is a whole number and can be one"
        elif entry["entry"] in taken:
            what = f"has the id {shown(str(entry['entry']))} of one before it"
        elif wrong := wrong_in(entry):
            what = f"cannot be: {wrong}"
        else:
            taken[str(entry["entry"])] = entry
        if what:
            aside.append(entry)
            problems.append(Problem(name, 0, 0, f"entry {number} {sanitize(what)}; it was set aside"))
    return [*taken.values()], aside, problems


def _try(made: Path, entries: Sequence[EntryDict], name: str) -> None:
    """Open the book that was made as every opening will, and work everything out.

    Raises:
        CopydeskError: with what a later opening would be refused for.
    """
    try:
        _work_out(made, entries)
    except CopydeskError as refused:
        raise BadFileError(*(_as_in(problem, made, name) for problem in refused.problems)) from None
    except Exception as error:
        # Whatever a file from elsewhere makes of the book must not come to light only once it is in use.
        what = f"the entries make no book ({type(error).__name__}); have them written again by what wrote them"
        raise bad_file(name, what) from error


def _as_in(problem: Problem, made: Path, name: str) -> Problem:
    """A problem of a file in the new folder, which has no name yet, as one of the file it came from."""
    inside = problem.file.removeprefix(printable(made)).lstrip("/\\")
    return Problem(f"{name}, {inside}" if inside else name, problem.line, problem.column, problem.what)


def _work_out(made: Path, entries: Sequence[EntryDict]) -> None:
    from copydesk.store.folder.read_book import pages_beyond, read_all
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.ledger.ledger import Ledger
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import page_account
    from copydesk.tracking.views.space_view import space_accounts

    home = BookFolder.at(made)
    written = read_all(home)
    state = BookState(written.book, written.exemplar, Ledger(map(Entry.from_document, entries)), written.samples)
    problems = pages_beyond(home, written.book, state.planned)
    if problems:
        raise BadFileError(*problems)
    for index in range(state.collation.pages):
        page_account(state, index)
    space_accounts(state)
