"""What a reserved space is tied to, as people write and read it: ``division 3 paragraph 2``, ``page 12r line 5``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.plan import Anchor
from copydesk.book.structure.foliation import Numbering, page_label, read_page_label, relabelled
from copydesk.book.text.exemplar import read_place
from copydesk.book.text.word_search import find_begun

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.book.text.exemplar import Exemplar


_FORMS = (
    r"division (?P<division>\d{1,7})(?: paragraph (?P<paragraph>\d{1,7}))?",
    r"word (?P<word>\d{1,9})",
    r"exemplar (?P<exemplar>\S.*)",
    r"(?:page )?(?P<page>[1-9]\d{0,5} ?[rv])(?: column (?P<column>\d{1,2}))?(?: line (?P<line>\d{1,4}))?",
)
_AS_COUNTED = (
    r"page (?P<page>\S+(?: (?:[rv]|recto|verso))?)(?: column (?P<column>\d{1,2}))?(?: line (?P<line>\d{1,4}))?"
)
HOW = '"division 3 paragraph 2", "word 812", "exemplar 12r 14" or "page 12r column 2 line 5"'
"""The forms, for a person who is to give one."""


def read_anchor(text: str, numbering: Numbering = "arabic", words: Sequence[str] = ()) -> Anchor:
    """Read what people write for the place of a space; a page may be called as the book counts too: ``page xii r``.

    Anything else is looked for among the ``words`` of the exemplar; its last word may be only begun.

    Raises:
        CopydeskError: where the text has none of the forms; where such words stand nowhere, or in several places.
    """
    plain = " ".join(text.replace(",", " ").lower().split())
    for form in _FORMS if numbering == "arabic" else (*_FORMS, _AS_COUNTED):
        found = re.fullmatch(form, plain, re.ASCII)
        if found is not None:
            return _anchor(
                text, numbering, {name: value for name, value in found.groupdict().items() if value is not None}
            )
    if words and plain:
        return Anchor(word=find_begun(words, text))
    said = f"{text!r} is not a place for a space" if plain else "a space needs a place"
    raise InvalidValueError(f"{said}; write {HOW}")


def _anchor(text: str, numbering: Numbering, parts: dict[str, str]) -> Anchor:
    numbers = {name: int(value) for name, value in parts.items() if name not in ("exemplar", "page")}
    wrong = next((name for name, value in numbers.items() if value < 1 and name != "word"), None)
    if wrong is not None:
        raise InvalidValueError(f"{text!r} names a {wrong} 0; {wrong}s count from 1")
    anchor = Anchor(
        division=numbers.get("division"),
        paragraph=numbers.get("paragraph"),
        word=numbers.get("word"),
        column=numbers.get("column"),
        line=numbers.get("line"),
    )
    if "exemplar" in parts:
        place = read_place(parts["exemplar"])
        if place is None:
            raise InvalidValueError(
                f"{parts['exemplar']!r} is not a place of the exemplar; write its leaf and line, as in 12r 14"
            )
        return anchor._replace(exemplar=str(place))
    return anchor._replace(page=str(read_page_label(parts["page"], numbering))) if "page" in parts else anchor


def show_anchor(anchor: Anchor, numbering: Numbering = "arabic") -> str:
    """What a space is tied to, in the form ``read_anchor`` reads."""
    if anchor.page is not None:
        anchor = anchor._replace(page=relabelled(anchor.page, numbering, page_label))
    parts = (
        f"{name} {value}"
        for name in ("division", "paragraph", "word", "exemplar", "page", "column", "line")
        if (value := getattr(anchor, name)) is not None
    )
    return " ".join(parts)


def unnoted(text: str, exemplar: Exemplar | None) -> str:
    """Why a place of the exemplar cannot be found, in words that follow what names it; empty where it is noted."""
    place = read_place(text)
    if exemplar is None or place is None:
        return f"is {text}, and the exemplar's places are known only from a typed text; name a division or a page"
    if exemplar.word_at(place) is not None:
        return ""
    lines = ", ".join(map(str, exemplar.lines_noted(place.leaf)))
    told = f"notes only these lines of {place.leaf}: {lines}" if lines else f"does not note {place.leaf}"
    return f"is {place}, and the text {told}; write {{{place}}} in the text before the word that stands there"


def uncounted_paragraph(at: Anchor) -> str:
    """Why a paragraph cannot be found in a text known by its counts; nothing for the first, where its division begins.

    The sentence follows the name of what it is about.
    """
    if at.paragraph is None or at.paragraph == 1:
        return ""
    return "cannot be found in a text that is counted, not typed; give a word of the count or a page in its place"
