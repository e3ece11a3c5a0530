"""Small books at work whose gatherings are of any size and irregular, filled at random."""

from __future__ import annotations

import random
from contextlib import suppress
from functools import partial

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Flaw, Hand, Ruling, SpaceKind, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.check_commands import read_to
from copydesk.tracking.commands.leaf_commands import add_leaf, cancel_leaf, lose_leaf, replace_leaf
from copydesk.tracking.views.page_view import page_account
from small_book import SmallBook

HANDS = (Hand("agnes", "Agnes", 20.0), Hand("anna", "Anna", 19.0), Hand("bea", "Bea", 16.0))
LINES = {"few": 8, "usual": 24, "many": 130}


def worked_book(seed: int, sheets: int, lines: str = "usual", *, irregular: bool = True) -> SmallBook:
    """A book of three gatherings of so many sheets, worked at by a chance of its own."""
    chance = random.Random(seed)
    count = LINES[lines]
    book = SmallBook(
        words=chance.randrange(4, 11) * sheets * count * 4,
        sheets=sheets,
        hands=HANDS,
        spaces=tuple(_spaces(chance, 6 * sheets)),
        flaws=(Flaw(2, 20.0, 30.0, 10.0, 20.0),),
        ruling=Ruling(lines=count),
    )
    if irregular:
        _disturb(book, chance)
    for index in range(book.state.collation.pages):
        if chance.random() < 0.75:
            _work(book, chance, Page.at(index))
    for page in chance.sample(list(book.state.collation.all_pages()), 2 * sheets):
        _move_beginning(book, chance, page)
    for plan in book.plan.spaces:
        for _ in range(chance.randrange(4)):
            with suppress(CopydeskError):
                book.do(book.commands.space(plan.id, chance.choice(("drawn", "gilded", "coloured", "done"))))
    return book


def _move_beginning(book: SmallBook, chance: random.Random, page: Page) -> None:
    """Hold a page to a place some words from where the text brings it, or write it from there."""
    account = page_account(book.state, page.index)
    word = max(account.from_word + chance.randrange(-60, 60), 0)
    with suppress(CopydeskError):
        if chance.random() < 0.5:
            book.do(book.commands.hold(page, f"w{word} w{word + 1}"))
        else:
            book.do(book.commands.write(page, begins=f"w{word} w{word + 1}"), "anna")


def _spaces(chance: random.Random, count: int) -> list[SpacePlan]:
    kinds: tuple[SpaceKind, ...] = ("initial", "miniature", "decorated initial", "border")
    return [
        SpacePlan(f"s{at}", chance.choice(kinds), Anchor(word=at * 97), lines=chance.randrange(1, 4))
        for at in range(count)
    ]


def _disturb(book: SmallBook, chance: random.Random) -> None:
    """Leaves cut away, lost, changed, put in: what real gatherings suffer."""
    tip_in = partial(add_leaf, tipped=True)
    for change in chance.choices((cancel_leaf, lose_leaf, replace_leaf, add_leaf, tip_in), k=5):
        leaf = chance.randrange(1, book.state.collation.leaves + 1)
        with suppress(CopydeskError):
            book.do(change(book.state, leaf))


def _work(book: SmallBook, chance: random.Random, page: Page) -> None:
    """Rule a page, perhaps write it in one or two hands, check it, note faults and mend some."""
    first, second, checker = (chance.choice(HANDS).id for _ in range(3))
    steps = chance.randrange(7)
    with suppress(CopydeskError):
        book.do(book.commands.rule(page), first)
        planned = page_account(book.state, page.index).budget.planned
        if steps > 1 and planned > 2:
            book.do(book.commands.write(page, to_line=chance.randrange(1, planned)), first)
        if steps > 2:
            book.do(book.commands.write(page), second)
        if steps == 4:
            book.do(read_to(book.state, page, 1), checker)
        if steps > 4:
            book.do(book.commands.check(page), checker)
        for _ in range(chance.choice((0, 0, 1, 2, 12)) if steps > 2 else 0):
            fault = book.do(book.commands.fault(page, "omission", line=1), checker)
            if chance.random() < 0.6:
                book.do(book.commands.mend(page, fault.entry, "interlined"), checker)
