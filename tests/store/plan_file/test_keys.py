"""The table of keys and the values of a book speak of the same things."""

from inspect import signature

import pytest

from copydesk.book import plan as book
from copydesk.comparing.normalization import Allowances
from copydesk.store.plan_file.keys import BOOK, known_keys
from copydesk.store.plan_file.sections import ByName, ListOf, Section


def sections(section):
    yield section
    for key in section.keys:
        holds = key.holds
        while isinstance(holds, ListOf | ByName):
            holds = holds.sort
        if isinstance(holds, Section):
            yield from sections(holds)


def names_of(made):
    return list(signature(made).parameters)


MADE = [each for each in sections(BOOK) if each.make is not dict]


@pytest.mark.parametrize("section", MADE, ids=lambda each: each.make.__name__)
def test_the_keys_of_a_part_are_the_names_of_its_values(section):
    assert [key.name for key in section.keys] == names_of(section.make)


@pytest.mark.parametrize("section", MADE, ids=lambda each: each.make.__name__)
def test_what_a_part_cannot_be_made_without_is_needed(section):
    given = signature(section.make).parameters.values()
    needed = [each.name for each in given if each.default is each.empty]
    assert [key.name for key in section.keys if key.needed] == needed


def test_the_top_keys_are_the_names_of_a_books_values_and_its_leaves():
    assert {key.name for key in BOOK.keys} == set(names_of(book.Book)) | {"leaves"}


def test_hands_and_gatherings_have_the_keys_of_their_values():
    by_name = {key.name: key.holds for key in BOOK.keys}
    assert {key.name for key in by_name["hands"].sort.keys} == set(names_of(book.Hand)) - {"id"}
    assert {key.name for key in by_name["gatherings"].keys} == set(names_of(book.GatheringPlan)) - {"exceptions"}


def test_every_key_says_what_it_is_and_what_it_wants():
    keys = known_keys()
    assert len({key.path for key in keys}) == len(keys)
    assert all(key.help and key.wanted and key.wanted.isprintable() for key in keys)
    assert {"title", "page.margins.canon", "spaces.at.page", "hands.letters_per_line", "skins.days"} <= {
        key.path for key in keys
    }


def test_allowances_are_read_where_they_are_used():
    assert Allowances.from_mapping({"u/v": False}) == Allowances(u_v=False)
