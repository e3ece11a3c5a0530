"""What is said of a key that there is not."""

import pytest

from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.reading import suggest_key
from copydesk.store.plan_file.yaml_places import Scalar


@pytest.mark.parametrize(
    ("written", "names", "nearest", "advice"),
    [
        ("widht", ["width", "height"], "width", "did you mean width?"),
        ("Letters per line", ["letters_per_line", "name"], "letters_per_line", "did you mean letters_per_line?"),
        ("nib", ["name", "unit"], "", "it belongs under script"),
        ("zzz", ["name", "unit"], "", "take it out, or write one of name, unit"),
        ("zzz", [f"key{at}" for at in range(20)], "", "take it out, or write one of key0,"),
        ("x" * 100_000, ["name"], "", "take it out, or write one of name"),
    ],
    ids=lambda value: str(value)[:20],
)
def test_the_nearest_key_is_suggested(written, names, nearest, advice):
    found = suggest_key(written, Scalar("x", False, 1, 1), names, BOOK)
    assert found[0] == nearest
    assert found[1].startswith(advice)
