"""A person's own keys: what is taken, what is refused and how it is said."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.app import Desk
from copydesk.desk.base.keymap import Keymap, keymap_from
from copydesk.desk.base.keys import KEYS, key_named
from copydesk.store.files.environment import read_own_keys

if TYPE_CHECKING:
    from pathlib import Path

    from copydesk.job import Job


def problems(given: dict[str, object]) -> list[str]:
    with pytest.raises(CopydeskError) as refused:
        keymap_from(given, "keys.toml")
    return [str(problem) for problem in refused.value.problems]


def test_the_house_keys_do_not_clash() -> None:
    assert keymap_from({key.id: key.key for key in KEYS if key.key}, "keys.toml").changed


def test_all_that_is_wrong_is_told_together() -> None:
    told = problems(
        {
            "grid.wriet": "w",
            "grid.rule": "z",
            "grid.write": "z",
            "grid.check": "",
            "grid.begin": "ctrl+m",
            "grid.go": "hyper+q",
        }
    )
    assert len(told) == 5
    assert "did you mean 'grid.write'?" in told[0]
    assert any("'z' is given to 'grid.rule' and to 'grid.write'" in each for each in told)
    assert any("terminals send enter for ctrl+m" in each for each in told)


def test_an_own_key_takes_the_place_of_one_of_the_house_and_that_is_told() -> None:
    own = keymap_from({"grid.rule": "w"}, "keys.toml")
    assert (own.key_of(key_named("grid.rule")), own.key_of(key_named("grid.write"))) == ("w", "")
    assert own.told == ("w is your own key for grid.rule, so grid.write (write) no longer has it",)
    kept = keymap_from({"grid.rule": "space"}, "keys.toml")
    assert kept.key_of(key_named("grid.next")) == "enter"
    assert "'q' is given to 'all.quit' and to 'grid.rule'" in problems({"grid.rule": "q"})[0]


@pytest.mark.parametrize(("name", "way"), [("grid.begin", "m b"), ("grid.faults", "v f"), ("all.help", "?, F1")])
def test_the_way_to_an_act_is_told_as_people_know_the_keys(name: str, way: str) -> None:
    assert Keymap().way_to(key_named(name)) == way
    assert Keymap({name: "f7"}).way_to(key_named(name)) == "F7"


async def test_an_act_without_a_key_takes_the_one_a_person_gives_it(job: Job) -> None:
    desk = Desk(job, Keymap({"grid.faults": "F"}))
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.press("F")
        assert type(desk.screen).__name__ == "FaultsScreen"


def test_two_keys_may_change_places() -> None:
    own = keymap_from({"grid.rule": "w", "grid.write": "r"}, "keys.toml")
    assert own.key_of(key_named("grid.rule")) == "w"


async def test_a_changed_key_does_its_act_and_stands_in_the_foot(job: Job) -> None:
    desk = Desk(job, Keymap({"grid.write": "f6"}))
    async with desk.run_test(size=(120, 40)) as pilot:
        await pilot.pause()
        entries = len(job.ledger)
        await pilot.press("w")
        assert len(job.ledger) == entries
        await pilot.press("f6")
        assert len(job.ledger) == entries + 1


def test_the_file_is_read_or_refused_with_its_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "keys.toml"
    monkeypatch.setenv("COPYDESK_KEYS", str(path))
    assert read_own_keys() == {}
    path.write_text('[keys]\n"grid.write" = "f6"\n', "utf-8")
    assert read_own_keys() == {"grid.write": "f6"}
    for text in ("[keys\n", "[other]\na = 1\n", "\x00"):
        path.write_text(text, "utf-8")
        with pytest.raises(CopydeskError, match=r"keys\.toml"):
            read_own_keys()
