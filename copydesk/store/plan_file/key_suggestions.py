"""What somebody most likely meant who wrote a key that there is not."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from copydesk.store.plan_file.yaml_places import Scalar

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.store.plan_file.yaml_places import Tree


def meant_instead(written: str, value: Tree, names: Sequence[str]) -> tuple[str, str]:
    """The key most likely meant (empty where none is near), and the advice for it.

    Args:
        written: the unknown key.
        value: what stands under it.
        names: the keys that may stand in its place.
    """
    from copydesk.store.plan_file.keys import known_keys

    before, colon, _ = written.partition(":")
    if colon and before in names and isinstance(value, Scalar) and not value.text:
        return before, f"put a space after the colon of {before}:"
    plain = written.strip().lower().replace("-", "_").replace(" ", "_")
    if near := get_close_matches(plain, names, 1, 0.8):
        return near[0], f"did you mean {near[0]}?"
    paths = [key.path.rpartition(".") for key in known_keys()]
    if elsewhere := [above for above, dot, key in paths if dot and key == plain]:
        return "", f"it belongs under {' or '.join(elsewhere)}"
    if near := get_close_matches(plain, names, 1, 0.6):
        return near[0], f"did you mean {near[0]}?"
    shown_names = ", ".join(names) if len(names) <= 12 else f"{', '.join(names[:11])} and so on"
    return "", f"take it out, or write one of {shown_names}"
