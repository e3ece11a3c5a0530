"""Folding leaves into one gathering where some are single and some are sheets."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import DoesNotFitError
from copydesk.book.structure.gathering import Gathering, Habit, Half, outward, single
from copydesk.book.structure.page import LeafId, Surface

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.formula.parts import Pairs


class Layer(NamedTuple):
    """A sheet, or a single leaf with its stub on the other side: the places of its front and back leaf."""

    front: int | None
    back: int | None


def nest(
    number: int,
    leaves: int,
    pairs: Pairs,
    outside: Surface = Surface.HAIR,
    habit: Habit = "alternate",
    name: str = "",
) -> Gathering:
    """The gathering of ``leaves`` leaves in which ``pairs`` are sheets and the rest single, each on its own stub.

    Surfaces keep to the habit counted from the front, and for single leaves after the fold from the back, so that
    like faces like wherever the sheets allow it.

    Raises:
        CopydeskError: as ``layers`` does.
    """
    front: list[Half] = []
    back: list[Half] = []
    before = after = 0
    for sheet, layer in enumerate(layers(leaves, dict(pairs)), 1):
        before += layer.front is not None
        after += layer.back is not None
        left, right = _halves(number, sheet, layer, outward(after if layer.front is None else before, outside, habit))
        front.append(left)
        back.append(right)
    return Gathering(number, (*front, *reversed(back)), name)


def _halves(number: int, sheet: int, layer: Layer, surface: Surface) -> tuple[Half, Half]:
    """The left and the right half of a layer that shows ``surface`` outward."""
    one, two = LeafId(f"{number}.{layer.front}"), LeafId(f"{number}.{layer.back}")
    if layer.back is None:
        return single(one, sheet, surface)
    if layer.front is None:
        leaf, stub = single(two, sheet, surface.other)
        return stub, leaf
    return Half(one, sheet, surface, two), Half(two, sheet, surface.other, one)


def layers(leaves: int, mates: dict[int, int]) -> Iterator[Layer]:
    """The layers of a gathering from the outermost inward; ``mates`` gives for each front leaf its back leaf.

    Raises:
        CopydeskError: where two sheets cross, or lie one beside another so that they share no fold.
    """
    paired = mates.keys() | mates.values()
    first, last = 1, leaves
    from_front = True
    while first <= last:
        if mates.get(first) == last:
            yield Layer(first, last)
            first, last = first + 1, last - 1
        elif first not in paired and (from_front or last in paired):
            yield Layer(first, None)
            first, from_front = first + 1, False
        elif last not in paired:
            yield Layer(None, last)
            last, from_front = last - 1, True
        else:
            raise DoesNotFitError(
                f"leaf {first} cannot lie so; of sheets folded in one gathering each lies round the next"
            )
