"""Strange ledgers, texts and formulas, from the file to everything that is told: an answer or a sentence, no crash.

``python tests/long_fuzz.py`` does so for as long as one likes, and guided by which lines of the program are reached.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

import fuzzing

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

few = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))


@given(fuzzing.documents())
@few
def test_any_ledger_is_told_and_written_on(entries: list[dict[str, Any]]) -> None:
    fuzzing.try_ledger(entries)


@given(st.binary(max_size=200))
@few
def test_any_bytes_of_a_ledger_are_told_of(data: bytes) -> None:
    fuzzing.try_ledger_bytes(data)


@given(fuzzing.TEXTS)
@example("{1r}{1v} # \n| \n\n#\n")
@few
def test_any_exemplar_is_told_or_refused(text: str) -> None:
    fuzzing.try_exemplar(text)


@given(fuzzing.SAMPLES)
@few
def test_any_sample_is_told_or_refused(sample: str) -> None:
    fuzzing.try_sample(sample)


@given(fuzzing.tei())
@few
def test_any_tei_is_told_or_refused(text: str) -> None:
    fuzzing.try_tei(text)


@given(fuzzing.FORMULAS)
@few
def test_any_formula_is_read_or_refused(text: str) -> None:
    fuzzing.try_formula(text)


def test_bombs_and_files_outside_are_refused(tmp_path: Path) -> None:
    outside = tmp_path / "secret"
    outside.write_text("the owner's secret")
    entities = "".join(f'<!ENTITY a{at} "{f"&a{at - 1};" * 20}">' for at in range(1, 12))
    for declared, used in (
        (f'<!ENTITY a0 "aaaaaaaaaa">{entities}', "&a11;"),
        (f'<!ENTITY s SYSTEM "file://{outside}">', "&s;"),
        (f'<!ENTITY % s SYSTEM "file://{outside}"> %s;', "x"),
    ):
        text = f"<!DOCTYPE TEI [{declared}]><TEI><text><body><p>{used}</p></body></text></TEI>"
        code, out, err = fuzzing.run("pages", str(fuzzing.make_book(tmp_path / "book", text=text, name="exemplar.xml")))
        assert code == 2
        assert "secret" not in out + err
        assert "exemplar.xml:1:" in err


def test_a_book_from_any_json_is_made_or_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for number, text in enumerate(
        ["", "{", "[]", "null", '{"schema": 99}', '{"plan": {}}', "[" * 100_000, '{"a":1e999}']
    ):
        (tmp_path / "whole.json").write_text(text)
        code, _, err = fuzzing.run("new", f"book{number}", "--from", "whole.json")
        assert code == 2
        assert err.startswith("copydesk: ")
        assert not (tmp_path / f"book{number}").exists()
