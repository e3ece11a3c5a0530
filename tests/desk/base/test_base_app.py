"""An app that goes wrong itself leaves the screen as it was and raises, for the command line to tell in a sentence."""

from __future__ import annotations

import pytest
from textual.app import App

from copydesk.desk.base.base_app import OwnApp


class Stumbling(OwnApp[str]):
    def on_mount(self) -> None:
        raise KeyError("frame")


class Sound(OwnApp[str]):
    def on_mount(self) -> None:
        self.exit("left")


@pytest.fixture(autouse=True)
def _without_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    run = App.run
    monkeypatch.setattr(App, "run", lambda self, mouse: run(self, headless=True, mouse=mouse))


def test_a_mistake_is_raised_and_not_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(KeyError, match="frame"):
        Stumbling().stay()
    assert capsys.readouterr() == ("", "")


def test_what_it_was_left_with() -> None:
    assert Sound().stay() == "left"
