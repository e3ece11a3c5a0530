"""A book as its maker planned it: what ``book.yaml`` says, read and checked, as frozen values.

Lengths are millimetres unless a name says otherwise; lines are written lines; words are positions counted
from 0 through the whole exemplar. The parts are named tuples, which are made in a tenth of a dataclass's time:
every start of the program pays for each of them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from copydesk.book.checks import NeverScraped, ReadingRules
from copydesk.book.flow import CountedDivision, ExemplarLoan, Flow
from copydesk.book.structure.foliation import (
    leaf_label,
    leaf_number,
    leaves_label,
    page_named,
    pages_named,
    read_page_label,
    relabelled,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import date

    from copydesk.book.structure.page import Page


_NOTHING: Mapping[Any, Any] = MappingProxyType({})


class Margins(NamedTuple):
    """The four margins of a page, in mm; or the name of a canon that gives them."""

    inner: float = 0.0
    head: float = 0.0
    outer: float = 0.0
    foot: float = 0.0
    canon: str | None = None


class PageSize(NamedTuple):
    """A page's width and height in mm and its margins."""

    width: float
    height: float
    margins: Margins


@dataclass(frozen=True, slots=True)
class Columns:
    """How many columns, and the gap between two in mm."""

    count: int = 1
    gap: float = 0.0


class Ruling(NamedTuple):
    """Written lines a column, or the ruling unit in mm; whether writing starts below or above the top ruled line."""

    lines: int | None = None
    unit: float | None = None
    first_line: Literal["below", "above"] = "below"


_USUAL_HEIGHTS = (4.5, 3.0, 3.0)


class Script(NamedTuple):
    """The model the hands follow: nib width in mm; heights in nib widths, None where nobody gave one.

    ``ink``, ``pen`` and ``pounce`` are those meant for the whole book, in the workshop's own words.
    """

    name: str = ""
    nib: float | None = None
    x_height: float | None = None
    ascender: float | None = None
    descender: float | None = None
    interline: float = 0.0
    ink: str = ""
    pen: str = ""
    pounce: str = ""

    @property
    def heights(self) -> tuple[float, float, float]:
        """Of x, of ascenders and of descenders; the usual one where nobody gave it."""
        given = (self.x_height, self.ascender, self.descender)
        x, up, down = (usual if each is None else each for each, usual in zip(given, _USUAL_HEIGHTS, strict=True))
        return x, up, down


class Hand(NamedTuple):
    """One scribe's hand: its name, and what is known of its set: letters a line, or a sample it wrote.

    ``gatherings`` are those the hand is meant to write (numbers from 1); ``hours_a_week`` what the hand gives to the
    work, and ``days_off`` the days on which others may write and this hand does not.
    """

    id: str
    name: str = ""
    letters_per_line: float | None = None
    sample: str | None = None
    gatherings: tuple[int, ...] = ()
    hours_a_week: float | None = None
    lines_an_hour: float | None = None
    days_off: tuple[date, ...] = ()


class LeafException(NamedTuple):
    """A leaf planned otherwise than its gathering: by number in the regular book, and what is so about it."""

    leaf: int
    what: Literal["singleton", "cancelled", "wanting", "replaced", "added after"]
    surface: Literal["hair", "flesh"] | None = None


@dataclass(frozen=True, slots=True)
class GatheringPlan:
    """How the sheets are gathered: sheets a gathering (and how many gatherings, if fixed), or a formula.

    ``habit`` is ``alternate`` where like faces like, ``same`` where every sheet lies with the same surface out.
    """

    sheets: int | None = 4
    count: int | None = None
    formula: str | None = None
    outside: Literal["hair", "flesh"] = "hair"
    habit: Literal["alternate", "same"] = "alternate"
    exceptions: tuple[LeafException, ...] = ()


class SkinPlan(NamedTuple):
    """A skin's usable rectangle and trim in mm, the share spoiled, the grain, and days for each step."""

    width: float
    height: float
    trim: float = 0.0
    spoilage: float = 0.0
    grain: Literal["free", "fixed"] = "free"
    folds: int = 0
    days: Mapping[str, float] = _NOTHING


class Anchor(NamedTuple):
    """What a space is tied to: a division (and paragraph), a word, a place of the exemplar, or a page.

    ``exemplar`` is a place noted in the text, as in ``12r 14``. A ``page`` may have a column and a line; it is
    named as planned (``12r``), or, by what the ledger says, as a surface of skin (``3.5:r``).
    """

    division: int | None = None
    paragraph: int | None = None
    word: int | None = None
    exemplar: str | None = None
    page: str | None = None
    column: int | None = None
    line: int | None = None


SpaceKind = Literal[
    "miniature",
    "initial",
    "historiated initial",
    "decorated initial",
    "flourished initial",
    "border",
    "line filler",
    "rubric",
    "contents",
]


class SpacePlan(NamedTuple):
    """A reserved space: what kind, tied to what, how many lines, across one column or all, and what goes in it.

    ``width`` (of an initial) is in mm, or None for a square; ``stages`` overrides what its kind needs.
    """

    id: str
    kind: SpaceKind
    at: Anchor
    lines: int = 0
    across: Literal["column", "all"] = "column"
    width: float | None = None
    subject: str = ""
    instruction: str = ""
    guide_letter: str = ""
    materials: tuple[str, ...] = ()
    artist: str = ""
    hours: float | None = None
    stages: tuple[str, ...] | None = None


PassName = Literal["text", "marks", "rubrics", "capitals", "penwork", "titles", "contents"]
"""The passes there are; ``book/layout/passes.py`` says what each takes."""


class PassPlan(NamedTuple):
    """A going over of the pages with one ink: who does it, the days it dries, before or after the artist.

    Where nobody says, the hand of the page does it, and it dries as long as the workshop's pages do.
    """

    name: PassName
    ink: str = ""
    hand: str = ""
    drying_days: float | None = None
    artist: Literal["before", "after"] = "before"


class RunningTitles(NamedTuple):
    """What stands above the text of each page: words by division (its own title where none), whole or halved.

    ``across`` an opening, the verso has the first half of the words and the recto the rest. ``numbers`` of divisions
    stand in the margin where each begins. ``from_head`` is from the head edge to the foot of the words, in mm; the
    middle of the margin where None.
    """

    words: Mapping[int, str] = _NOTHING
    across: Literal["page", "opening"] = "page"
    numbers: Literal["none", "roman", "arabic"] = "none"
    from_head: float | None = None


class Contents(NamedTuple):
    """The divisions that the list of contents names, by number; all of them where none is given."""

    divisions: tuple[int, ...] = ()


class Flaw(NamedTuple):
    """A hole or short edge of a leaf, as seen on the recto: mm from the head edge and the fold, and its size."""

    leaf: int
    from_head: float
    from_fold: float
    width: float
    height: float


class Change(NamedTuple):
    """A departure from the exemplar made on purpose: words ``from_word`` up to ``to_word`` are written as ``write``."""

    from_word: int
    to_word: int
    write: str
    why: str = ""
    who: str = ""


class Flyleaves(NamedTuple):
    """Leaves before and after the text, counted apart; and whether the outermost are pasted to the boards."""

    front: int = 0
    back: int = 0
    pastedowns: bool = False

    @property
    def free_front(self) -> int:
        """Flyleaves before the text; the outermost endleaf is none where it is pasted to the board."""
        return self.front - (self.pastedowns and self.front > 0)

    @property
    def free_back(self) -> int:
        """Flyleaves after the text, without the pastedown."""
        return self.back - (self.pastedowns and self.back > 0)


class Signing(NamedTuple):
    """How gatherings are marked for the binder: leaf signatures, or a number on the last verso; catchword's words."""

    habit: Literal["leaves", "numbers", "none"] = "leaves"
    catchwords: int = 2
    foliation: Literal["arabic", "roman", "pages"] = "arabic"


class Workshop(NamedTuple):
    """The days of the work: weekdays worked (0 is Monday), days off, days a page dries, rest; who decorates, who binds.

    ``artist_hours_a_week`` is what each artist gives to the work, None where nobody said.
    ``colour_first`` tells whether gold comes after colour; authorities differ, so it is a setting.
    """

    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)
    days_off: tuple[date, ...] = ()
    drying_days: float = 1.0
    rest_after_minutes: int = 50
    check_lines_an_hour: float = 120.0
    artist: str = ""
    artist_hours_a_week: float | None = None
    colour_first: bool = False
    binder: str = ""

    @property
    def others(self) -> dict[str, str]:
        """Who works on the book beside its hands, by name: artist or binder; whoever is both, artist."""
        trades = {self.artist: "artist"}
        trades.setdefault(self.binder, "binder")
        return {name: trade for name, trade in trades.items() if name}


@dataclass(frozen=True, slots=True)
class Book:
    """Everything ``book.yaml`` says, checked: every value is possible, though the text may not fit."""

    title: str
    page: PageSize
    hands: tuple[Hand, ...]
    exemplar: ExemplarLoan = ExemplarLoan()
    divisions: tuple[CountedDivision, ...] = ()
    flow: Flow = Flow()
    columns: Columns = Columns()
    ruling: Ruling = Ruling()
    script: Script = Script()
    letter_widths: Literal["relative", "equal"] = "relative"
    line_breaks: Literal["words", "syllables", "anywhere"] = "words"
    language: str = "en"
    gatherings: GatheringPlan = GatheringPlan()
    skins: SkinPlan | None = None
    spaces: tuple[SpacePlan, ...] = ()
    passes: tuple[PassPlan, ...] = ()
    titles: RunningTitles = RunningTitles()
    contents: Contents = Contents()
    flyleaves: Flyleaves = Flyleaves()
    flaws: tuple[Flaw, ...] = ()
    changes: tuple[Change, ...] = ()
    signing: Signing = Signing()
    workshop: Workshop = Workshop()
    allow: Mapping[str, object] = field(default_factory=dict)
    unit: Literal["mm", "cm", "in"] = "mm"
    server: str = ""
    readings: ReadingRules = ReadingRules()
    never_scraped: tuple[NeverScraped, ...] = ()

    @property
    def others(self) -> dict[str, str]:
        """Who works on the book beside its hands, by name: artist, binder or reader; the first of these for several."""
        return {**dict.fromkeys(self.readings.readers, "reader"), **self.workshop.others}

    @property
    def later_passes(self) -> tuple[PassPlan, ...]:
        """The passes after that of the text, in their order; none where all is written with the text."""
        return self.passes[1:]

    def hand(self, hand_id: str) -> Hand | None:
        """The hand called ``hand_id``, or None."""
        return next((hand for hand in self.hands if hand.id == hand_id), None)

    def named(self, page: Page) -> str:
        """What a page is called where people read it, as the book counts: ``12r``, ``xii r`` or ``p. 23``."""
        return page_named(page, self.signing.foliation)

    def listed(self, pages: Iterable[Page]) -> str:
        """Pages one after another: ``1r 1v 8r``, ``i r, i v, viii r`` or ``pp. 1 2 15``."""
        return pages_named(pages, self.signing.foliation)

    def renamed(self, page: str) -> str:
        """The same of a page kept as text, ``12r``; any other text stays as it is."""
        return relabelled(page, self.signing.foliation)

    def leaf_named(self, leaf: int) -> str:
        """What a leaf is called: ``leaf 12``, ``leaf xii`` or ``leaf 12 (pages 23-24)``."""
        return leaf_label(leaf, self.signing.foliation)

    def number_of_leaf(self, leaf: int) -> str:
        """A leaf by its number alone, for a narrow column: ``12``, ``xii`` or ``23-24``."""
        return leaf_number(leaf, self.signing.foliation)

    def leaves_named(self, leaves: range) -> str:
        """What leaves that follow one another are called: ``leaves 1 to 8``, or ``pages 1 to 16``."""
        return leaves_label(leaves[0], leaves[-1], self.signing.foliation)

    def page_called(self, text: str, *, leaf_alone: bool = False) -> Page:
        """The page a person calls ``text``; with ``leaf_alone`` a leaf without a side is its recto.

        Raises:
            UnknownNameError: where no page is called so.
        """
        return read_page_label(text, self.signing.foliation, leaf_alone=leaf_alone)
