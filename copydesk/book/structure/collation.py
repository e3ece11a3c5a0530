"""The whole book as a row of gatherings, and where each page stands.

Leaves are numbered through the book as they stand today: a leaf cut away or wanting has no number. The leaf
itself keeps its id whatever number it bears, so what was written stays on its skin.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import UnknownNameError
from copydesk.book.structure.gathering import Gathering, Habit, Half, HalfState, Lies, SheetSide, regular_gathering
from copydesk.book.structure.leaf_ids import gathering_of
from copydesk.book.structure.page import LeafId, Page, Side, SkinPage, Surface

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


class PagePlace(NamedTuple):
    """Where a page stands: gathering and leaf in it (both from 1), sheet, side, half, surface, what lies beside it.

    ``leaf`` counts the leaves that stand in the gathering today. ``conjugate`` is the page beside this one when
    the sheet lies open on the same side, None where no leaf is there. ``skin`` is the page as a surface of skin.
    """

    page: Page
    gathering: int
    leaf: int
    sheet: int
    side: SheetSide
    lies: Lies
    surface: Surface
    conjugate: Page | None
    skin: SkinPage

    @property
    def sheet_name(self) -> str:
        """The name of its sheet: gathering and sheet, as in ``3.2``."""
        return f"{self.gathering}.{self.sheet}"


class _Leaf(NamedTuple):
    half: Half
    gathering: int
    number: int
    before_fold: bool


class _Index(NamedTuple):
    """The leaves that stand, in order; each leaf's number by its id; the numbers each gathering holds."""

    leaves: list[_Leaf]
    numbers: dict[LeafId, int]
    spans: dict[int, range]


@dataclass(frozen=True)
class Collation:
    """The gatherings of a book in order. Tables are built once, when first asked for, so it has no slots."""

    gatherings: tuple[Gathering, ...]

    @classmethod
    def regular(cls, count: int, sheets: int, outside: Surface = Surface.HAIR, habit: Habit = "alternate") -> Collation:
        """``count`` gatherings of ``sheets`` sheets each."""
        return cls.of_sizes((2 * sheets,) * count, outside, habit)

    @classmethod
    def of_sizes(cls, leaves: Iterable[int], outside: Surface = Surface.HAIR, habit: Habit = "alternate") -> Collation:
        """One gathering for each number of leaves; an odd number makes its middle leaf single."""
        return cls(tuple(regular_gathering(at, size, outside, habit) for at, size in enumerate(leaves, 1)))

    @cached_property
    def _index(self) -> _Index:
        leaves: list[_Leaf] = []
        spans: dict[int, range] = {}
        state = HalfState.LEAF
        for gathering in self.gatherings:
            first, fold, number = len(leaves), gathering.fold, gathering.number
            for at, half in enumerate(gathering.halves):
                if half.state is state:
                    leaves.append(_Leaf(half, number, len(leaves) - first + 1, at < fold))
            spans[number] = range(first + 1, len(leaves) + 1)
        return _Index(leaves, {leaf.half.id: at for at, leaf in enumerate(leaves, 1)}, spans)

    @property
    def leaves(self) -> int:
        """How many leaves stand in the book."""
        return len(self._index.leaves)

    @property
    def pages(self) -> int:
        """How many pages those leaves have."""
        return 2 * len(self._index.leaves)

    @property
    def sheet_names(self) -> list[str]:
        """Every sheet by its name, as in ``3.2``, in the order of the book, single leaves with their stubs too."""
        return [f"{each.number}.{sheet}" for each in self.gatherings for sheet in each.sheet_numbers()]

    def all_pages(self) -> Iterator[Page]:
        """Every page in reading order."""
        return map(Page.at, range(self.pages))

    def has(self, page: Page) -> bool:
        """Whether the book has this page."""
        return 1 <= page.leaf <= self.leaves

    def gathering(self, number: int) -> Gathering:
        """The gathering numbered ``number``.

        Raises:
            UnknownNameError: where the book has none.
        """
        if 1 <= number <= len(self.gatherings) and self.gatherings[number - 1].number == number:
            return self.gatherings[number - 1]
        for gathering in self.gatherings:
            if gathering.number == number:
                return gathering
        raise UnknownNameError(f"there is no gathering {number} in this book; it has {len(self.gatherings)}")

    def find(self, leaf_id: LeafId) -> tuple[Gathering, int]:
        """The gathering of a half, and its index there, whether or not its leaf stands.

        Raises:
            UnknownNameError: where the book has no such half.
        """
        gathering = self.gathering(gathering_of(leaf_id))
        at = gathering.find(leaf_id)
        if at is None:
            raise UnknownNameError(
                f"there is no leaf {leaf_id} in this book; name one that gathering {gathering.number} has"
            )
        return gathering, at

    def with_halves(self, gathering: Gathering, halves: tuple[Half, ...]) -> Collation:
        """The same book with other halves in ``gathering``."""
        new = gathering._replace(halves=halves)
        return replace(self, gatherings=tuple(new if old is gathering else old for old in self.gatherings))

    def leaf_numbers(self, gathering: int) -> range:
        """The numbers in the book of the leaves of a gathering; empty where none stands."""
        return self._index.spans.get(gathering, range(0))

    def half(self, leaf: int) -> Half:
        """The leaf numbered ``leaf`` in the book.

        Raises:
            CopydeskError: where the book has none.
        """
        return self._leaf(leaf).half

    def _leaf(self, leaf: int) -> _Leaf:
        if not 1 <= leaf <= self.leaves:
            raise UnknownNameError(f"there is no leaf {leaf} in this book; its leaves go from 1 to {self.leaves}")
        return self._index.leaves[leaf - 1]

    def number_of(self, leaf_id: LeafId) -> int | None:
        """The number in the book a leaf bears today; None where it does not stand."""
        return self._index.numbers.get(leaf_id)

    def conjugate_of(self, leaf: int) -> int | None:
        """The number of the leaf that is one sheet with leaf ``leaf``; None where that one is single."""
        conjugate = self.half(leaf).conjugate
        return None if conjugate is None else self.number_of(conjugate)

    def skin_page(self, page: Page) -> SkinPage:
        """The surface of skin that bears ``page`` today."""
        return SkinPage(self.half(page.leaf).id, page.side)

    def page_of(self, skin_page: SkinPage) -> Page | None:
        """The page a surface of skin bears today; None where its leaf does not stand."""
        number = self.number_of(skin_page.leaf_id)
        return None if number is None else Page(number, skin_page.side)

    def place(self, page: Page) -> PagePlace:
        """Where ``page`` stands.

        Raises:
            CopydeskError: where the book has no such page.
        """
        half, gathering, number, before_fold = self._leaf(page.leaf)
        recto = page.side is Side.RECTO
        beside = self.conjugate_of(page.leaf)
        return PagePlace(
            page,
            gathering,
            number,
            half.sheet,
            SheetSide.OUTER if recto == before_fold else SheetSide.INNER,
            Lies.RIGHT if recto else Lies.LEFT,
            half.recto if recto else half.recto.other,
            None if beside is None else Page(beside, page.side.other),
            SkinPage(half.id, page.side),
        )
