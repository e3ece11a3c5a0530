"""Whatever stands in ``book.yaml``: a book, or a refusal in sentences that no terminal obeys; and that soon."""

import time

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Book
from copydesk.store.plan_file.book_file import parse_plan, read_book
from copydesk.store.plan_file.keys import known_keys
from plan_words import SOUND

LONGEST_SECONDS = 60.0  # of the processor: a hang is what is looked for, and a quick machine needs a thousandth of it
FULL = (
    SOUND.replace("{lines: 32}", "{unit: 5.1, first_line: above}")
    + """\
exemplar: {due: 2027-03-31, letters_per_line: 40}
gatherings: {formula: "1-3^8 4^6 (wants 6)"}
spaces: [{id: x, kind: initial, at: {page: 2v, column: 1, line: 3}, lines: 2, width: 1 in, materials: [a, b]}]
changes: [{from_word: 1, to_word: 2, write: "x"}]
workshop: {weekdays: [mon], days_off: [2027-01-01]}
allow: {u/v: no, spellings: [[a, b]]}
"""
)
KEYS = st.sampled_from(sorted({part for key in known_keys() for part in key.path.split(".")} | {"A", "1", "odd"}))
LEAVES = (
    st.none()
    | st.booleans()
    | st.integers(-(10**12), 10**12)
    | st.floats()
    | st.dates()
    | st.text(max_size=12)
    | st.sampled_from(["miniature", "1r", "7 in", "1-3^8", "mon", "page", "hair", "ninths", "added after"])
)
MARKS = st.sampled_from(["\n", "  ", "- ", "{", "[", "&a ", "*a", "!!x ", "|\n", "'", ": ", "#", "? ", "---\n"])
VALUES = st.recursive(LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4))


def test_the_plan_to_be_changed_is_sound():
    assert isinstance(parsed(FULL), Book)


def outcome(read, *arguments):
    begun = time.process_time()
    try:
        assert isinstance(read(*arguments), Book)
    except CopydeskError as refused:
        assert refused.problems
        for problem in refused.problems:
            assert problem.what.isprintable(), problem
            assert len(problem.what) < 2_000
    assert time.process_time() - begun < LONGEST_SECONDS


def parsed(text):
    return parse_plan(text, "book.yaml").finish()


@settings(max_examples=150, deadline=None)
@given(st.text())
def test_any_text(text):
    outcome(parsed, text)


@settings(max_examples=150, deadline=None)
@given(data=st.binary())
def test_any_bytes(tmp_path_factory, data):
    folder = tmp_path_factory.getbasetemp() / "any-bytes"
    folder.mkdir(exist_ok=True)
    (folder / "book.yaml").write_bytes(data)
    outcome(read_book, folder)


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(KEYS, VALUES, max_size=8))
def test_any_values_under_known_keys(values):
    outcome(parsed, yaml.safe_dump(values, allow_unicode=True))


@settings(max_examples=250, deadline=None)
@given(st.data())
def test_a_sound_plan_with_a_stretch_changed(data):
    start = data.draw(st.integers(0, len(FULL)))
    end = data.draw(st.integers(start, min(start + 12, len(FULL))))
    put = data.draw(st.text(max_size=6) | MARKS)
    outcome(parsed, FULL[:start] + put + FULL[end:])


@settings(max_examples=100, deadline=None)
@given(st.sampled_from([key for key in known_keys() if "." in key.path]), VALUES)
def test_any_value_under_any_one_key(key, value):
    above, _, name = key.path.rpartition(".")
    plan = yaml.safe_load(FULL)
    inner = {name: value}
    for part in reversed(above.split(".")):
        inner = {part: [inner] if part in ("divisions", "leaves", "spaces", "flaws", "changes") else inner}
    outcome(parsed, yaml.safe_dump(plan | inner))


MANY = 5_000


@pytest.mark.parametrize(
    "plan",
    [
        "[" * 100_000,
        "{a: " * 100_000,
        "- " * 100_000,
        "? " * 100_000,
        "a0: &a0 [x]\n" + "".join(f"a{at}: &a{at} [{f'*a{at - 1}, ' * 9}]\n" for at in range(1, 12)),
        "&a [*a]",
        "a: &a {a: *a}",
        "spaces: [" + "x, " * MANY + "]",
        "spaces: [" + "{}, " * MANY + "]",
        "".join(f"odd{at}: 1\n" for at in range(MANY)),
        "flow: {starts: {" + ", ".join(f"{at}: odd" for at in range(MANY)) + "}}",
        SOUND + "changes: [" + "{from_word: 1, to_word: 3, write: x}, " * MANY + "]",
        SOUND + "spaces: [" + "{id: x, kind: initial, at: {page: 99r, line: 99}, lines: 99}, " * MANY + "]",
        "title: " + "x" * 1_000_000,
        "x" * 1_000_000 + ": 1",
        f"gatherings: {{formula: {'1^8 ' * 4000}}}",
        f"gatherings: {{formula: {'(' * 4000}}}",
        f"hands: {{A: {{gatherings: '{'1-9999,' * 10_000}'}}}}",
        "page: {width: " + "9" * 1_000_000 + "}",
        "allow: " + "{a: " * 15 + "1" + "}" * 15,
        '"' + "\\u0007" * 1000 + '": 1',
    ],
    ids=lambda plan: plan[:20],
)
def test_what_is_made_to_hurt(plan):
    outcome(parsed, plan)
