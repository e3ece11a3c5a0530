"""The remedies of the trade, found by name, with a caution wherever a knife is used."""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.comparing.corrections import REMEDIES, remedy


def test_the_remedies_are_those_of_the_trade() -> None:
    names = [each.name for each in REMEDIES]
    assert names == [
        "scraped",
        "expunged",
        "struck",
        "interlined",
        "in the margin",
        "written again from here",
        "leaf cancelled",
    ]
    assert all(each.how.endswith(".") for each in REMEDIES)


@pytest.mark.parametrize("name", ["scraped", "leaf cancelled"])
def test_a_knife_comes_with_its_caution(name: str) -> None:
    caution = remedy(name).caution
    assert caution.startswith("Caution: Blade: ")
    assert "away from the hand" in caution
    assert ("Parchment dust" in caution) == (name == "scraped")
    assert "data sheet" in caution


def test_other_remedies_need_no_caution() -> None:
    assert not any(remedy(name).caution for name in ("expunged", "struck", "interlined", "in the margin"))


@pytest.mark.parametrize("written", ["Scraped", "in-the-margin", " leaf  cancelled "])
def test_names_as_people_write_them(written: str) -> None:
    assert remedy(written).name.split()[0] in written.casefold()


def test_an_unknown_remedy_is_refused_with_the_list() -> None:
    with pytest.raises(CopydeskError, match="scraped, expunged, struck"):
        remedy("whitewashed")
