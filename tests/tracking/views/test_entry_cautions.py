"""What an entry handles, and which of its cautions are new in a sitting."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from copydesk.book.materials.hazards import Hazard
from copydesk.book.plan import Anchor, Script, SpacePlan
from copydesk.book.structure.page import Page
from copydesk.tracking.commands.leaf_commands import add_leaf, cancel_leaf, lose_leaf
from copydesk.tracking.commands.skin_commands import move_skins
from copydesk.tracking.ledger.entry import Act, Entry
from copydesk.tracking.views.entry_cautions import Handled, handled, new_cautions, shown_cautions
from small_book import SmallBook

if TYPE_CHECKING:
    from collections.abc import Callable

SPACES = (
    SpacePlan("gilt", "miniature", Anchor(word=0), 3, materials=("gold leaf", "gesso", "vermilion")),
    SpacePlan("plain", "initial", Anchor(word=90), 2),
)


def entry(what: str, about: str, **facts: object) -> Entry:
    return Entry("e", 1, "2026-03-02T10:00:00+00:00", "A", "desk", what, about, "", facts)


@pytest.mark.parametrize(
    ("made", "expected"),
    [
        (lambda one: move_skins(one.state, "A", "lime", 6), Handled(steps=("lime",))),
        (lambda one: move_skins(one.state, "A", "ready", 6), Handled()),
        (lambda one: cancel_leaf(one.state, 5), Handled(acts=("cancelled",))),
        (lambda one: lose_leaf(one.state, 5), Handled()),
        (lambda one: add_leaf(one.state, 5), Handled(acts=("singleton",))),
        (lambda _: Act("cut", "1.1", "", {"batch": "A"}), Handled(papers=("cutting",))),
        (lambda _: Act("settled", "1.1:r", "1r", {"fault": "x", "remedy": "scraped"}), Handled(acts=("scraped",))),
        (lambda _: Act("settled", "1.1:r", "1r", {"fault": "x", "remedy": "struck"}), Handled()),
        (lambda _: Act("coloured", "gilt", "", {}), Handled(SPACES[0].materials, stages=("coloured",))),
        (lambda _: Act("done", "gilt", "", {}), Handled(SPACES[0].materials, stages=("done",))),
        (lambda _: Act("left-empty", "gilt", "", {}), Handled()),
        (lambda _: Act("resized", "gilt", "", {"lines": 4}), Handled()),
        (lambda _: Act("drawn", "plain", "", {}), Handled(stages=("drawn",))),
        (lambda _: Act("drawn", "no such space", "", {}), Handled(stages=("drawn",))),
        (lambda one: one.commands.rule(Page.at(0)), Handled(acts=("ruled",))),
        (lambda one: one.commands.write(Page.at(0)), Handled()),
        (lambda _: Act("bound", "book", "", {"who": "C"}), Handled(acts=("bound",))),
        (
            lambda _: Act("stint-started", "desk", "", {"ink": "oak-gall ink"}),
            Handled(("oak-gall ink",), acts=("stint",)),
        ),
    ],
)
def test_what_an_entry_handles(made: Callable[[SmallBook], Act], expected: Handled) -> None:
    one = SmallBook(spaces=SPACES)
    act = made(one)
    assert handled(one.state, [entry(act.what, act.about, **act.facts)]) == expected


def test_a_hazard_is_new_once_and_again_in_a_material_not_named_before() -> None:
    first = Handled(("vermilion",), stages=("coloured",))
    assert {caution.hazard for caution in new_cautions(first, Handled())} >= {Hazard.MERCURY, Hazard.CLOSE_WORK}
    assert new_cautions(first, first) == ()
    again = new_cautions(Handled(("cinnabar", "vermilion")), first)
    assert [caution.hazard for caution in again] == [Hazard.MERCURY, Hazard.DUST]
    assert new_cautions(Handled(acts=("replaced",)), Handled(acts=("cancelled",))) == ()
    scraped = new_cautions(Handled(acts=("scraped",)), Handled(acts=("cancelled",)))
    assert [caution.hazard for caution in scraped] == [Hazard.PARCHMENT_DUST]
    assert str(new_cautions(Handled(("mummy",)), Handled())[0]).startswith("mummy: not in our table")
    assert new_cautions(Handled(("mummy",)), Handled(("mummy",))) == ()


@given(st.lists(st.sampled_from(["lead white", "vermilion", "chalk", "mummy", "gum arabic", "lead-free gesso"])))
def test_nothing_is_said_twice_and_no_material_goes_without_its_caution(names: list[str]) -> None:
    before, heard = Handled(), []
    for name in names:
        heard += new_cautions(Handled((name,)), before)
        before = Handled((*before.materials, name))
    assert len(set(map(str, heard))) == len(heard)
    for caution in Handled(tuple(dict.fromkeys(names))).cautions():
        said = [name for each in heard if each.hazard == caution.hazard for name in each.materials]
        assert set(caution.materials) <= set(said)


def test_a_short_notice_says_how_many_more_there_are() -> None:
    cautions = new_cautions(Handled(("vermilion", "lead white", "azurite"), stages=("coloured",)), Handled())
    said = shown_cautions(cautions, 2)
    assert [words.split(":")[0] for words in said[:2]] == ["Caution", "Caution"]
    assert said[2] == f"And {len(cautions) - 2} more; copydesk help cautions has them all."
    assert len(shown_cautions(cautions)) == len(cautions)


def test_a_stint_cautions_of_the_ink_planned_where_it_names_none() -> None:
    one = SmallBook(script=Script(ink="oak-gall ink", pounce="sandarac"))
    begun = entry("stint-started", "desk", ink="carbon ink")
    assert handled(one.state, [begun]) == Handled(("carbon ink", "sandarac"), acts=("stint",))
