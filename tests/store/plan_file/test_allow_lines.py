"""What a book allows, as a form asks for it and as it is written back."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.comparing.normalization import Allowances
from copydesk.store.plan_file.allow_lines import KEYS
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_parts import plan_parts
from copydesk.store.plan_file.typed_plan import key_path, typed_in

if TYPE_CHECKING:
    from copydesk.store.plan_file.reading import Path

SMALL = """\
title: A small book
exemplar: {text: exemplar.txt}
page: {width: 170, height: 240, margins: ninths}
ruling: {lines: 10}
hands: {A: {letters_per_line: 20}}
"""

WRITTEN = f"""{SMALL}
allow:   # as the owner wishes
  u/v: no   # she minds
  spellings: {{colour: color}}
  abbreviations:
    pb: presbyter
    "\ua751ochia": [parochia, parochiam]
"""


def said(text: str) -> dict[str, str]:
    part = next(part for part in plan_parts(text) if part.path == ("allow",))
    return {key.name: given for _, key, given in part.fields if given}


def allowed(text: str) -> Allowances:
    given = parse_plan(text, "book.yaml").finish().allow
    return Allowances.from_mapping({str(name): value for name, value in given.items()})


def test_a_line_for_every_difference_with_what_counts_where_nothing_is_said() -> None:
    assert [key.name.replace("/", "_").replace(" ", "_") for key in KEYS] == [each.name for each in fields(Allowances)]
    usual = Allowances()
    for key in KEYS[:8]:
        stands = getattr(usual, key.name.replace("/", "_").replace(" ", "_"))
        assert key.holds.wanted == f"yes or no; {'yes' if stands else 'no'} where nothing stands here"


def test_what_the_file_says_is_shown_as_people_type_it() -> None:
    assert said(WRITTEN) == {
        "u/v": "no",
        "spellings": "colour color",
        "abbreviations": "pb presbyter, \ua751ochia parochia parochiam",
    }
    assert said(SMALL) == {}


def test_what_is_typed_is_written_and_the_remarks_stay() -> None:
    given: dict[Path, str] = {
        ("allow", "u/v"): "yes",
        ("allow", "letters"): "\u00fe th, \u00f0 d",
        ("allow", "spellings"): "grey gray,no nay",
        ("allow", "case"): "no",
    }
    after = typed_in(WRITTEN, given)
    assert "# as the owner wishes" in after
    assert "# she minds" in after
    found = allowed(after)
    assert (found.u_v, found.case) == (True, False)
    assert found.letters == (("\u00fe", "th"), ("\u00f0", "d"))
    assert found.spellings == (("grey", "gray"), ("no", "nay"))
    assert found.abbreviations == allowed(WRITTEN).abbreviations


def test_a_book_that_allowed_nothing_and_one_that_takes_all_back() -> None:
    after = typed_in(SMALL, {key_path("allow.u/v"): "no", key_path("allow.abbreviations"): "pb presbyter"})
    assert (allowed(after).u_v, allowed(after).abbreviations) == (False, (("pb", "presbyter"),))
    back = typed_in(
        after, {path: "" for part in plan_parts(after) if part.path == ("allow",) for path, *_ in part.fields}
    )
    assert allowed(back) == Allowances()


@pytest.mark.parametrize(("name", "typed"), [("u/v", "perhaps"), ("letters", "a b c"), ("spellings", "lonely")])
def test_what_cannot_be_is_refused_as_in_the_file(name: str, typed: str) -> None:
    with pytest.raises(CopydeskError, match="allow"):
        parse_plan(typed_in(SMALL, {("allow", name): typed}), "book.yaml").finish()
