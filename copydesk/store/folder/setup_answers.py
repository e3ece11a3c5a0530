"""A few plain answers about a new book, and the plan and files they make."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.common.typed_values import unit_said
from copydesk.store.files.text_file import decode, read_bytes
from copydesk.store.folder.new_book import new_book
from copydesk.store.plan_file.plan_data import book_from_answers

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.plan import Book


_LARGEST = 1_000_000_000

STARTING = {
    "title": "",
    "text": "",
    "words": "10000",
    "page": "170 x 240",
    "canon": "ninths",
    "columns": "1",
    "gap": "10",
    "lines": "",
    "script": "",
    "nib": "0.6",
    "heights": "4.5, 3, 3",
    "hand": "the scribe",
    "letters": "",
    "sheets": "4",
    "skin": "",
}
"""What is asked, and what stands there at first. ``text`` is a file; where it is empty, ``words`` counts.

``heights`` are those of x, ascender and descender; of several hands, names and letters stand with commas between.
"""

_HEIGHTS = ("x_height", "ascender", "descender")
_LETTERS_OF_HANDS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def plan_answers(given: Mapping[str, str]) -> dict[str, str]:
    """The answers by the keys of ``book.yaml``.

    Raises:
        InvalidValueError: where the page or the skin is not two lengths.
    """
    said = {**STARTING, **given}
    width, height = _two_lengths(said["page"], "page")
    answers = {
        "title": said["title"],
        "page.width": width,
        "page.height": height,
        "page.margins.canon": said["canon"],
        "columns.count": said["columns"],
        "columns.gap": said["gap"] if said["columns"] != "1" else "0",
        "gatherings.sheets": said["sheets"],
        **_script(said),
        **_hands(said),
    }
    if (unit := unit_said(width)) != "mm":
        answers["unit"] = unit
    if said["lines"]:
        answers["ruling.lines"] = said["lines"]
    if said["skin"]:
        answers["skins.width"], answers["skins.height"] = _two_lengths(said["skin"], "skin")
    if said["text"]:
        answers["exemplar.text"] = exemplar_name(said["text"])
    else:
        answers |= {"divisions.1.title": said["title"], "divisions.1.words": said["words"]}
    return answers


def _script(said: Mapping[str, str]) -> dict[str, str]:
    heights = [height.strip() for height in said["heights"].replace(",", " ").split()]
    if len(heights) != len(_HEIGHTS):
        raise InvalidValueError(
            f"the heights of the script are {said['heights']!r}; write those of x, ascender and descender in nib "
            "widths, as in 4.5, 3, 3"
        )
    answers = {f"script.{name}": height for name, height in zip(_HEIGHTS, heights, strict=True)}
    return answers | {"script.nib": said["nib"]} | ({"script.name": said["script"]} if said["script"] else {})


def _hands(said: Mapping[str, str]) -> dict[str, str]:
    names, letters = ([each.strip() for each in said[key].split(",")] for key in ("hand", "letters"))
    if len(letters) > len(names) or len(names) > len(_LETTERS_OF_HANDS):
        raise InvalidValueError(
            f"there are {len(names)} hands and {len(letters)} figures of letters to a line; give one for each"
        )
    answers = {f"hands.{hand}.name": name for hand, name in zip(_LETTERS_OF_HANDS, names, strict=False)}
    counts = zip(_LETTERS_OF_HANDS, letters, strict=False)
    return answers | {f"hands.{hand}.letters_per_line": count for hand, count in counts if count}


def exemplar_name(text: str) -> str:
    """What the exemplar's file is called in the book's folder."""
    return "exemplar.xml" if text.lower().endswith(".xml") else "exemplar.txt"


def _two_lengths(said: str, what: str) -> tuple[str, str]:
    first, cross, second = said.replace("×", "x").partition("x")
    if not cross or not first.strip() or not second.strip():
        raise InvalidValueError(f"the {what} is {said!r}; write width and height as in 170 x 240 or 7 in x 10 in")
    return first.strip(), second.strip()


def plan_of(given: Mapping[str, str]) -> tuple[Book, str]:
    """The plan that the answers make, and the exemplar as plain text (empty where its words are counted).

    Raises:
        InvalidValueError: with every answer that cannot be, or what is wrong with the exemplar's file.
    """
    book, _, plain_text = _plan_and_file(given)
    return book, plain_text


def _plan_and_file(given: Mapping[str, str]) -> tuple[Book, str, str]:
    """The plan, what the exemplar's file holds, and that as plain text; each empty where words are counted."""
    text = given.get("text", "")
    plain_text = content = decode(read_bytes(Path(text), text, _LARGEST), text) if text else ""
    if exemplar_name(text).endswith(".xml"):
        from copydesk.store.files.tei_exemplar import read_tei

        plain_text = read_tei(content, text)
    return book_from_answers(plan_answers(given)), content, plain_text


def make_book(folder: Path, given: Mapping[str, str]) -> Path:
    """Make the folder; a book without a title is called as its folder is.

    Raises:
        InvalidValueError: where an answer cannot be, or the folder cannot be made.
    """
    book, content, _ = _plan_and_file({**given, "title": given.get("title") or folder.name})
    files = {exemplar_name(given["text"]): content} if given.get("text") else {}
    return new_book(folder, book, files)
