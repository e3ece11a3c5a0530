"""Everything a person wrote for a book, read together: the plan, the exemplar, the hands' samples."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import BadPlanError, CopydeskError, Problem
from copydesk.book.common.progress import no_progress, part
from copydesk.book.text.exemplar import Exemplar, read_exemplar
from copydesk.store.files.book_folder import BOOK_FILE, LedgerPaths, files_named
from copydesk.store.files.source_texts import read_exemplar_file, read_sample_file
from copydesk.store.plan_file.book_file import read_book_with_places, read_plan
from copydesk.store.plan_file.exemplar_rules import exemplar_problems
from copydesk.store.plan_file.reading import ValuePlaces
from copydesk.store.plan_file.reference_rules import check_against_pages, check_against_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from copydesk.book.common.errors import Problem
    from copydesk.book.common.progress import OnProgress
    from copydesk.book.hands.hand_sample import SampleLine
    from copydesk.book.plan import Book
    from copydesk.book.structure.collation import Collation
    from copydesk.store.files.book_folder import BookFolder
    from copydesk.store.plan_file.reading import Reading


class BookSources(NamedTuple):
    """The plan, the exemplar (None where only counts are known), and the lines of each hand's sample by hand."""

    book: Book
    exemplar: Exemplar | None
    samples: Mapping[str, tuple[SampleLine, ...]]


def read_all(folder: BookFolder, on_progress: OnProgress = no_progress, text: str | None = None) -> BookSources:
    """Read a book folder's plan, exemplar and samples; ``on_progress`` is given the share done, from 0 to 1.

    ``text`` is what ``book.yaml`` is to say, where it is not written yet.

    Raises:
        BadPlanError: with every mistake in all of them, each with its place: the plan's first, each file's in order.
    """
    plan = read_plan(folder, text)
    elsewhere: list[Problem] = []
    exemplar = _exemplar(folder, plan.reading, elsewhere, on_progress)
    if exemplar is not None:
        check_against_text(plan.reading, exemplar)
    samples = dict(_samples(folder, plan.reading, elsewhere))
    if elsewhere:
        raise BadPlanError(*plan.problems(), *elsewhere)
    return BookSources(plan.finish(), exemplar, samples)


def _exemplar(
    folder: BookFolder, reading: Reading, elsewhere: list[Problem], on_progress: OnProgress
) -> Exemplar | None:
    """The exemplar where its file is named and sound; what is wrong with it goes ``elsewhere``."""
    named = reading.value(str, "exemplar", "text")
    if named is None or not reading.sound("exemplar", "text"):
        return None
    try:
        text, is_tei = read_exemplar_file(folder.path(named), folder.name(named)), named.lower().endswith(".xml")
        if is_tei:
            from copydesk.store.files.tei_exemplar import read_tei

            text = read_tei(text, folder.name(named), part(on_progress, 0.0, _PLAIN))
            on_progress = part(on_progress, _PLAIN, 1.0)
        exemplar = read_exemplar(text, on_progress)
        elsewhere += exemplar_problems(reading, exemplar, text, folder.name(named), by_line=not is_tei)
    except CopydeskError as error:
        elsewhere += error.problems
        return None
    return exemplar


_PLAIN = 0.8
"""The share of reading a TEI file that is done once it is plain text."""


def _samples(
    folder: BookFolder, reading: Reading, elsewhere: list[Problem]
) -> Iterator[tuple[str, tuple[SampleLine, ...]]]:
    """The samples whose files are named and sound; what is wrong with them goes ``elsewhere``."""
    for hand in reading.value(dict, "hands") or ():
        named = reading.value(str, "hands", hand, "sample")
        if named is None or not reading.sound("hands", hand, "sample"):
            continue
        try:
            yield hand, read_sample_file(folder.path(named), folder.name(named))
        except CopydeskError as error:
            elsewhere += error.problems


def pages_beyond(folder: BookFolder, book: Book, planned: Collation, *, written: bool = True) -> list[Problem]:
    """Pages, leaves and gatherings the plan speaks of that the book, its text cast off, does not have.

    They have their places where the plan is ``written``. Where a formula or a number of gatherings is given, reading
    the plan has found them already.
    """
    if book.gatherings.formula is not None or book.gatherings.count is not None:
        return []
    nowhere = ValuePlaces("", {})
    found = check_against_pages(book, nowhere, planned.leaves, len(planned.gatherings))
    if not found or not written:
        return found
    return check_against_pages(book, read_book_with_places(folder.named)[1], planned.leaves, len(planned.gatherings))


def stamp(folder: BookFolder, book: Book, *, where: bool = False) -> tuple[tuple[str, int, int], ...]:
    """What shows whether one of the files was changed: name, time of change in ns, size; missing files as zeros.

    With ``where`` it also shows whether the folder holds the ledger.
    """
    found = tuple(_stamps(folder, book))
    return (*found, ("", int(os.path.lexists(LedgerPaths(folder.root).ledger)), 0)) if where else found


def _stamps(folder: BookFolder, book: Book) -> Iterator[tuple[str, int, int]]:
    for name in dict.fromkeys((BOOK_FILE, *files_named(book))):
        try:
            found = (folder.root / name).stat()
        except OSError:
            yield name, 0, 0
        else:
            yield name, found.st_mtime_ns, found.st_size
