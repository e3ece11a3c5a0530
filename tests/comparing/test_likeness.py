"""Like endings, like beginnings, letters written once for twice."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.comparing.likeness import letters_turned, like_beginning, like_ending, written_once

WORD = st.text("abc", min_size=1, max_size=8)


@pytest.mark.parametrize(("one", "other"), [("nation", "relation"), ("frost", "lost"), ("alia", "paria")])
def test_like_endings(one: str, other: str) -> None:
    assert like_ending(one, other)
    assert like_ending(other, one)


@pytest.mark.parametrize(("one", "other"), [("mill", "mill"), ("frost", "thaw"), ("mended", "asked"), ("a", "ba")])
def test_no_like_endings(one: str, other: str) -> None:
    assert not like_ending(one, other)


def test_like_beginnings() -> None:
    assert like_beginning("lantern", "lantana")
    assert like_beginning("minorem", "maiorem")
    assert not like_beginning("the", "this")
    assert not like_beginning("mill", "mill")


@settings(max_examples=100, deadline=None)
@given(WORD, WORD, WORD)
def test_what_is_doubled_and_written_once_is_seen(before: str, piece: str, after: str) -> None:
    assert written_once(before + piece + piece + after, before + piece + after)


@settings(max_examples=100, deadline=None)
@given(WORD, WORD)
def test_nothing_is_written_once_unless_letters_are_lost(one: str, other: str) -> None:
    if len(one) <= len(other):
        assert not written_once(one, other)


def test_a_letter_lost_that_stands_once_is_not_written_once() -> None:
    assert not written_once("frost", "frst")


def test_letters_turned() -> None:
    assert letters_turned("nolo", "lono")
    assert not letters_turned("nolo", "nolo")
    assert not letters_turned("nolo", "nola")
