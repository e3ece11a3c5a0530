"""How tight or loose text is that must end where a page begins already, in a scribe's words. No Textual here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import capital, count_of, decimal
from copydesk.book.common.sanitize import sanitize
from copydesk.book.structure.page import Page
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.fit.stretches import asked_words, need_at, need_from, need_to_the_end
from copydesk.tracking.views.consequences import between, meeting_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.plan import Book
    from copydesk.tracking.fit.stretches import Need
    from copydesk.tracking.ledger.entry import Entry
    from copydesk.tracking.state.book_state import BookState
    from copydesk.tracking.views.page_view import PageAccount


_SHOWN = 4
"""Words shown of a page's beginning."""


def stretch_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """What the panel says of the text around a page: a beginning given it, its stretch, what was skipped or doubled."""
    yield from fit_lines(state, account)
    yield from meeting_lines(state, account)


def fit_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """A beginning given the page, the stretch it lies in, the closeness agreed on."""
    record, index = account.record, account.page.index
    if record.held is not None and record.begins is None:
        yield PanelLine("Held", f'it must begin with "{_words_at(state, record.held)}"; t changes that or cancels it')
    need = need_from(state, index)
    if need is not None:
        yield PanelLine("Stretch" if need.held else "End", need_words(need, state.book), wrong=need.over > 0)
    letters = state.agreed.get(index)
    if letters is not None:
        yield PanelLine("Agreed", f"{decimal(letters, 1)} letters a line on this page")


def meeting_lines(state: BookState, account: PageAccount) -> Iterator[PanelLine]:
    """What was skipped between a page and the one before it, or stands on both."""
    if said := meeting_words(state, account.page.index):
        yield PanelLine("Watch", said, wrong=True)


def need_words(need: Need, book: Book) -> str:
    """A stretch in a sentence: ``3 lines over from 2r to 3v; write 33.1 letters a line where you write 31.0``."""
    where = _where(need, book)
    if need.over == 0:
        return f"the text just fills {where}"
    lines = f"{count_of(abs(need.over), 'line')} {'over' if need.over > 0 else 'left'} {where}"
    if need.needed is None:
        return f"{lines}; writing {'closer' if need.over > 0 else 'wider'} cannot make it fit"
    if len(need.targets) > 1:
        return f"{lines}; to fit, {asked_words(need)}{_VERDICT[need.verdict]}"
    needed, usual = decimal(need.needed, 1), decimal(need.letters, 1)
    if needed == usual:
        return f"{lines}; write {'slightly closer than' if need.over > 0 else 'as'} you do, {usual} letters a line"
    wider = "wider: " if need.over < 0 and need.needed < need.letters else ""
    return f"{lines}; write {wider}{needed} letters a line where you write {usual}{_VERDICT[need.verdict]}"


_VERDICT = {"easy": "", "hard": " (hard)", "impossible": ", more than a hand can do"}


_FIXES_TEXT = ("begun", "written", "held", "released")
"""What is recorded of a page that may make the text beside it tight or loose."""


def after_entry(state: BookState, entry: Entry) -> str:
    """What an entry has made of the text beside its page; empty where it fixes no text, or all is well."""
    page = state.page_of(entry.skin) if entry.what in _FIXES_TEXT and entry.subject[0] == "page" else None
    return after_words(state, page.index) if page is not None else ""


def after_sentences(state: BookState, entry: Entry) -> list[str]:
    """The same as a sentence in a list, for replies that have other sentences too."""
    return [f"{capital(said)}."] if (said := after_entry(state, entry)) else []


def after_words(state: BookState, index: int) -> str:
    """What recording something on a page has made of the text beside it; nothing where all is well."""
    said = []
    pages = [at for at in (index, index + 1) if at < state.collation.pages]
    said += [words for at in pages if (words := meeting_words(state, at))]
    found = {need.last: need for at in (index - 1, *pages) if at >= 0 and (need := need_at(state, at)) is not None}
    said += [need_words(need, state.book) for need in found.values() if need.over]
    tail = need_to_the_end(state)
    if tail is not None and index >= tail.first - 1:
        said.append(need_words(tail, state.book))
    return "; ".join(said)


def _where(need: Need, book: Book) -> str:
    if not need.held:
        return f"from {book.named(Page.at(need.first))} to the end of the book"
    return between(need.first, need.last, book)


def _words_at(state: BookState, word: int) -> str:
    return sanitize(" ".join(state.exemplar.words[word : word + _SHOWN])) if state.exemplar is not None else ""


def untold(also: Iterable[str], told: str) -> list[str]:
    """Of the sentences on what followed elsewhere those that the words told of the page itself do not have already."""
    found = [said for said in also if said.rstrip(".").casefold() not in told.casefold()]
    to_the_end = "to the end of the book" in told
    return [said for said in found if not (to_the_end and said.endswith("no room in the book now."))]


def together_sentences(count: int) -> list[str]:
    """How many entries were taken back or done again with the one named, as a sentence; none where it was alone."""
    return [f"And {count_of(count - 1, 'entry', 'entries')} recorded together with it."] if count > 1 else []
