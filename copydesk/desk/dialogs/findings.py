"""What can be found by typing: acts and screens with their keys, pages, words of the text, spaces, people, help."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.sanitize import sanitize
from copydesk.book.text.word_search import find_words
from copydesk.desk.base.keys import KEYS, key_named, scope_of
from copydesk.desk.base.screen_table import SCREENS
from copydesk.help.glossary import glossary
from copydesk.help.topics import topics
from copydesk.tracking.state.page_content import page_of_word
from copydesk.tracking.views.page_lookup import page_called
from copydesk.tracking.views.space_view import space_accounts

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from copydesk.book.structure.page import Page
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.state.book_state import BookState


MOST = 40
"""Findings shown; who types another letter sees fewer."""


class Finding(NamedTuple):
    """One thing found: what it is called, what choosing it does, its key, and words it is also known by.

    ``action`` is done on the screen in front, ``page`` gone to, the page of help on ``topic`` opened.
    """

    says: str
    more: str
    key: str = ""
    called: str = ""
    action: str = ""
    page: Page | None = None
    topic: str = ""


def fitting(findings: Iterable[Finding], wanted: str) -> list[Finding]:
    """Those in which every word typed occurs: first where a name begins so, then in names, then in what is said."""
    words = wanted.casefold().split()
    ranked = [
        (rank, at, each)
        for at, each in enumerate(findings)
        if (rank := _rank(each, words, " ".join(words))) is not None
    ]
    return [each for _, _, each in sorted(ranked, key=lambda row: row[:2])][:MOST]


def _rank(found: Finding, words: list[str], whole: str) -> int | None:
    names = [found.says.casefold(), *(name.strip() for name in found.called.casefold().split(","))]
    everything = " ".join([*names, found.more.casefold()])
    if not all(word in everything for word in words):
        return None
    if any(name == whole for name in names):
        return 0
    if any(name.startswith(whole) for name in names):
        return 1
    return 2 if any(all(word in name for word in words) for name in names) else 3


def acts_of(front: BookScreen, wanted: str) -> list[Finding]:
    """The acts of the screen in front and the other screens that fit what is typed; a page that is called so first."""
    return [*_pages(front.job.state, wanted), *fitting(_acts(front), wanted)][:MOST]


_FOUND_OTHERWISE = ("move", "word(", "line(", "half(", "pile(", "gathering(", "palette")
"""Beginnings of actions that nobody looks for by name: moving about, and the palette itself."""

_CALLED = {
    "all.look": "theme, dark, light, contrast, colours",
    "all.quit": "exit, leave, close, save",
    "all.copy": "clipboard",
    "all.find": "search, go to",
    "grid.settle": "settle, correct",
    "all.undo": "take back",
    "all.print": "paper, PDF, print out, guide, strips, mock-up, dummy, ruling, artist's list",
}
"""What people call acts besides their labels."""


def _acts(front: BookScreen) -> Iterator[Finding]:
    own = front.desk.own_keys
    called = {entry.key: ", ".join(entry.called) for entry in SCREENS} | _CALLED
    seen: set[str] = set()
    for key in sorted(KEYS, key=lambda key: scope_of(key) == "all"):
        if scope_of(key) not in (front.SCOPE, "all") or not front.lets(key):
            continue
        if not key.action.startswith(_FOUND_OTHERWISE):
            seen.add(key.action)
            now = front.named_now(key)
            yield Finding(now.says, now.more, own.way_to(key), called.get(key.id, ""), action=key.action)
    for key in filter(front.lets, getattr(front, "MORE", ())):
        yield Finding(key.says, key.more, action=key.action)
    for entry in SCREENS:
        key = key_named(entry.key)
        action = front.opening(entry)
        if entry.letter and action and action not in seen:
            yield Finding(key.says, key.more, own.way_to(key), ", ".join(entry.called), action=action)


def things_like(state: BookState, wanted: str) -> list[Finding]:
    """Pages, words of the text, spaces, people and pages of help that fit what is typed."""
    pages = [*_pages(state, wanted), *_places_of(state, wanted)]
    return [*pages, *fitting((*_spaces(state), *_people(state), *_help()), wanted)][:MOST]


def _pages(state: BookState, wanted: str) -> Iterator[Finding]:
    if not any(each.isdigit() for each in wanted) and state.book.signing.foliation == "arabic":
        return
    try:
        page = page_called(state, wanted.strip(), leaf_alone=True)
    except CopydeskError:
        return
    named = state.book.named(page)
    yield Finding(f"page {named}", f"Go to {named}", page=page)


def _places_of(state: BookState, wanted: str) -> Iterator[Finding]:
    """The page on which words of the exemplar stand that are typed in full, the first place from the beginning."""
    if state.exemplar is None or len(wanted.strip()) < 3:
        return
    try:
        word = find_words(state.exemplar.words, wanted, 0)
    except CopydeskError:
        return
    page = page_of_word(state, word)
    if page is not None:
        words = sanitize(" ".join(state.exemplar.words[word : word + 8]))
        named = state.book.named(page)
        yield Finding(f'"{words}" on {named}', f"Go to {named}, where these words stand", page=page)


def _spaces(state: BookState) -> Iterator[Finding]:
    for account in space_accounts(state):
        plan, page = account.plan, account.page
        named = state.book.named(page) if page is not None else "no page"
        subject = f": {plan.subject}" if plan.subject else ""
        says = sanitize(f"space {plan.id}, {plan.kind} on {named}{subject}")
        if page is not None:
            yield Finding(says, f"Go to {named}", called=f"{plan.id}, {plan.subject}", page=page)


def _people(state: BookState) -> Iterator[Finding]:
    for hand in state.book.hands:
        yield Finding(
            sanitize(f"{hand.id} ({hand.name})" if hand.name else hand.id),
            "See what this hand wrote, and how",
            called=f"{hand.id}, {hand.name}, person, hand",
            action="open('stints')",
        )


def _help() -> Iterator[Finding]:
    for topic in topics():
        yield Finding(f"help: {topic}", f"Read the page of help on {topic}", called=topic, topic=topic)
    for word, meaning in glossary().items():
        yield Finding(f"word: {word}", meaning.partition(". ")[0], called=word, action="app.words")
