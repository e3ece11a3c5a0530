"""A person's own keys: which were changed, and what key an act has now."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.desk.keys import Key


@dataclass(frozen=True, slots=True)
class Keymap:
    """Keys changed from those of the house, by id."""

    changed: Mapping[str, str] = field(default_factory=dict)

    def key_of(self, key: Key) -> str:
        """The key an act has now."""
        return self.changed.get(key.id, key.key)
