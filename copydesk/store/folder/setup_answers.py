"""A few plain answers about a new book, and the plan and files they make."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import BadFileError, InvalidValueError
from copydesk.book.common.typed_values import number_of, read_day, unit_said
from copydesk.book.hands.hand_sample import read_sample
from copydesk.book.text.raw_text import CODE, coded_otherwise, look_over, mended
from copydesk.store.files.text_file import decode, in_another_code, read_bytes
from copydesk.store.folder.new_book import new_book
from copydesk.store.plan_file.plan_data import book_from_answers

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.hands.hand_sample import SampleLine
    from copydesk.book.plan import Book
    from copydesk.book.text.raw_text import RawFinding


_LARGEST = 1_000_000_000

STARTING = {
    "title": "",
    "text": "",
    "mend": "",
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
    "sample": "",
    "sheets": "4",
    "skin": "",
    "spoilage": "",
    "due": "",
    "lent_by": "",
    "artist": "",
}
"""What is asked, and what stands there at first. ``text`` is a file; where it is empty, ``words`` counts.

``mend`` are the letters of what is to be mended in the text. ``heights`` are those of x, ascender and descender; of
several hands, names and letters stand with commas between. ``sample`` are lines the first hand wrote, as a sample file
has them.
"""
_SAMPLE = "samples/a.txt"
_OFFER = "or mend it here (--mend, or the line for that in the form) with "
_DIRECT = {"due": "exemplar.due", "lent_by": "exemplar.lent_by", "artist": "workshop.artist", "lines": "ruling.lines"}

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
    answers |= {key: said[name] for name, key in _DIRECT.items() if said[name]}
    if said["due"]:
        answers[_DIRECT["due"]] = read_day(said["due"], "the day the exemplar goes back").isoformat()
    if said["sample"]:
        answers["hands.A.sample"] = _SAMPLE
    if said["skin"]:
        answers["skins.width"], answers["skins.height"] = _two_lengths(said["skin"], "skin")
        answers["skins.spoilage"] = _share(said["spoilage"])
    if said["text"]:
        answers["exemplar.text"] = exemplar_name(said["text"])
    else:
        answers |= {"divisions.1.title": said["title"], "divisions.1.words": said["words"]}
    return answers


def _script(said: Mapping[str, str]) -> dict[str, str]:
    heights = listed(said["heights"])
    if len(heights) != len(_HEIGHTS):
        raise InvalidValueError(
            f"the heights of the script are {said['heights']!r}; write those of x, ascender and descender in nib "
            "widths, as in 4.5, 3, 3"
        )
    answers = {f"script.{name}": height for name, height in zip(_HEIGHTS, heights, strict=True)}
    return answers | {"script.nib": said["nib"]} | ({"script.name": said["script"]} if said["script"] else {})


def _hands(said: Mapping[str, str]) -> dict[str, str]:
    names = [each.strip() for each in said["hand"].split(",")]
    letters = listed(said["letters"]) if len(names) > 1 or " " in said["letters"] else [said["letters"]]
    if len(letters) > len(names) or len(names) > len(_LETTERS_OF_HANDS):
        raise InvalidValueError(
            f"there are {len(names)} hands and {len(letters)} figures of letters to a line; give one for each"
        )
    answers = {f"hands.{hand}.name": name for hand, name in zip(_LETTERS_OF_HANDS, names, strict=False)}
    counts = zip(_LETTERS_OF_HANDS, letters, strict=False)
    return answers | {f"hands.{hand}.letters_per_line": count for hand, count in counts if count}


def listed(text: str) -> list[str]:
    """Figures with commas, semicolons or spaces between, decimal commas among them.

    ``4,5; 3; 3``, ``4,5 3 3``, ``4.5, 3, 3`` and ``4.5,3,3`` are read alike.
    """
    parts = re.split(r"\s*;\s*|,\s+|(?<![,;])\s+(?![,;])", text.strip())
    return [part.strip() for part in (parts if len(parts) > 1 else text.split(","))]


def _share(said: str) -> str:
    """A share as ``book.yaml`` has it, from ``10 %``, ``0.1`` or ``0,1``."""
    number = number_of(said.removesuffix("%"))
    return f"{number / 100:g}" if said.endswith("%") and number is not None else said or "0"


def exemplar_name(text: str) -> str:
    """What the exemplar's file is called in the book's folder."""
    return "exemplar.xml" if text.lower().endswith(".xml") else "exemplar.txt"


def _two_lengths(said: str, what: str) -> tuple[str, str]:
    first, cross, second = said.replace("×", "x").partition("x")
    if not cross or not first.strip() or not second.strip():
        raise InvalidValueError(f"the {what} is {said!r}; write width and height as in 170 x 240 or 7 in x 10 in")
    return first.strip(), second.strip()


def raw_findings(given: Mapping[str, str]) -> tuple[RawFinding, ...]:
    """What the text's file holds that a copyist would not write as it stands; nothing of a marked-up text."""
    text = given.get("text", "")
    if not text or exemplar_name(text).endswith(".xml"):
        return ()
    other = in_another_code(read_bytes(Path(text), text, _LARGEST))
    return (*((coded_otherwise(*other),) if other else ()), *look_over(text_at(text, CODE)))


def text_at(name: str, mend: str, most: int = _LARGEST) -> str:
    """A text file that is to go into a book; one in another code than UTF-8 is read so where ``mend`` holds ``CODE``.

    Raises:
        CopydeskError: where it cannot be read; with what it may be instead of UTF-8, where it is not.
    """
    data = read_bytes(Path(name), name, most)
    other = in_another_code(data) if exemplar_name(name).endswith(".txt") else None
    if other is None:
        return decode(data, name)
    found = coded_otherwise(*other)
    if CODE in mend:
        return other[1]
    try:
        return decode(data, name)
    except BadFileError as wrong:
        raise BadFileError(*(replace(each, what=f"{each.what}, {_OFFER}{found}") for each in wrong.problems)) from None


def sample_of(given: Mapping[str, str]) -> dict[str, tuple[SampleLine, ...]]:
    """The sample of the first hand, by that hand; empty where none was given.

    Raises:
        CopydeskError: where it is no sample.
    """
    return {"A": read_sample(given["sample"], _SAMPLE)} if given.get("sample") else {}


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
    plain_text = content = text_at(text, given.get("mend", "")) if text else ""
    if exemplar_name(text).endswith(".xml"):
        from copydesk.store.files.tei_exemplar import read_tei

        plain_text = read_tei(content, text)
    elif given.get("mend"):
        plain_text = content = mended(content, given["mend"])
    return book_from_answers(plan_answers(given)), content, plain_text


def make_book(folder: Path, given: Mapping[str, str]) -> Path:
    """Make the folder; a book without a title is called as its folder is.

    Raises:
        InvalidValueError: where an answer cannot be, or the folder cannot be made.
    """
    book, content, _ = _plan_and_file({**given, "title": given.get("title") or folder.name})
    files = {exemplar_name(given["text"]): content} if given.get("text") else {}
    if sample_of(given):
        files[_SAMPLE] = given["sample"]
    return new_book(folder, book, files)
