"""YAML as the text that stands there: no value is turned into anything, and each one keeps its line and column.

YAML 1.1 reads ``NO`` as false, ``010`` as eight and ``12:30`` as seven hundred and fifty; what a value means is
decided by its key alone, so here every scalar stays text. Tags, bombs of aliases and deep nesting are refused.
"""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, Any, NamedTuple

from copydesk.book.common.errors import BadPlanError, Problem
from copydesk.store.files.text_file import controls_in, place_of, shown

if TYPE_CHECKING:
    from collections.abc import Callable

    from yaml.nodes import Node


DEEPEST = 16
"""Levels; a book needs five."""
MOST_REPEATED = 5_000
"""Values that may stand there by way of aliases, all together."""
_PLAIN = "plain"
_USUAL_TAGS = ("str", "int", "float", "bool", "null", "timestamp", "map", "seq")
_ALLOWED_TAGS = frozenset({_PLAIN, *(f"tag:yaml.org,2002:{name}" for name in _USUAL_TAGS)})
_BREAKS = {0x85: " ", 0x2028: " ", 0x2029: " "}
"""Line ends to YAML 1.1 but to no editor: as spaces they leave the line numbers as people see them."""


class Scalar(NamedTuple):
    """A text, whether it stands in quotation marks (or as a block), and where (line and column from 1)."""

    text: str
    quoted: bool
    line: int
    column: int


class Items(NamedTuple):
    """A list and where it begins."""

    items: tuple[Tree, ...]
    line: int
    column: int


class Entries(NamedTuple):
    """Keys with their values, in their order, and where they begin."""

    entries: tuple[tuple[Scalar, Tree], ...]
    line: int
    column: int


Tree = Scalar | Items | Entries


def read_tree(text: str, file: str) -> tuple[Tree | None, list[Problem]]:
    """The values of a YAML text, None where it holds none; and the keys given twice and tags in it, left out.

    Args:
        text: the whole file.
        file: what a person knows it by.

    Raises:
        BadPlanError: where the YAML is broken, with the place where that shows; where it is no safe YAML to read.
    """
    if controls := list(islice(controls_in(text), 20)):
        what = "a control character (U+{:04X}) stands here; take it out"
        raise BadPlanError(
            *(Problem(file, *place_of(text, found), what.format(ord(text[found]))) for found in controls)
        )
    node = compose(text, file)
    if node is None:
        return None, []
    planter = _Planter(file)
    return planter.plant(node, DEEPEST), planter.problems


def compose(text: str, file: str) -> Node | None:
    """The nodes of a YAML text as its parser gives them, with the marks where they stand; None where it has none.

    Raises:
        BadPlanError: where the YAML is broken, with the place where that shows.
    """
    import yaml

    loader = loader_class()(text if text.isascii() else text.translate(_BREAKS))
    try:
        return loader.get_single_node()  # type: ignore[no-any-return]
    except yaml.YAMLError as error:
        raise BadPlanError(_broken(error, text, file)) from None
    except RecursionError:
        raise BadPlanError(Problem(file, 0, 0, "values are nested too deeply; take the brackets out")) from None
    except UnicodeEncodeError:
        raise BadPlanError(Problem(file, 0, 0, "holds half of a character; save it again as UTF-8")) from None
    finally:
        loader.dispose()


def loader_class(base: type[Any] | None = None) -> Callable[[str], Any]:
    """A YAML loader that resolves nothing: upon ``base``, or the quickest safe one there is."""
    import yaml

    quickest: type[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

    class PlainLoader(base or quickest):  # type: ignore[misc]
        """Gives every untagged value one tag, whatever it looks like."""

        def resolve(self, _kind: object, _value: object, _implicit: object) -> str:
            return _PLAIN

    return PlainLoader


_ADVICE = (
    ("nesting", "values are nested too deeply; take the brackets out"),
    ("mapping values are not allowed", "a colon stands where none can; put the text in quotation marks"),
    ("character that cannot start", "no value can begin with this sign; put the text in quotation marks"),
    ("',' or ']'", "a list in square brackets is not closed, or a comma is missing; add it"),
    ("',' or '}'", "keys in curly brackets are not closed, or a comma is missing; add it"),
    ("end of stream", "the quotation mark that opened before this place is never closed; close it"),
    ("could not find expected ':'", "a key without a colon stands here; write `key: value`"),
    ("expected key", "this line does not fit those above it; indent it as they are, and look for an open bracket"),
    ("block end", "this line does not fit those above it; indent it as they are, and look for an open bracket"),
    ("'-' indicator", "this line is not part of the list above it; indent it as the list is"),
    ("undefined alias", "a value that begins with * stands here; put the text in quotation marks"),
    ("duplicate anchor", "the same & name is given twice; take one out"),
    ("another document", "a second document begins here; take the line --- out"),
    ("alphabetic or numeric", "a lone & or * stands here; put the text in quotation marks"),
    ("escape", "this \\ sequence is unknown; write \\\\, or use single quotation marks"),
    ("hexadecimal", "this \\ sequence is unknown; write \\\\, or use single quotation marks"),
    ("tag", "a value that begins with ! stands here; put the text in quotation marks"),
)


def _broken(error: Any, text: str, file: str) -> Problem:
    """The place of a YAML error and what to do about it."""
    problem = str(getattr(error, "problem", None) or "")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    if mark and text[mark.index : mark.index + 1] == "\t":
        return Problem(file, line, column, "a tab stands here; indent with spaces")
    message = f"{getattr(error, 'context', None) or ''} {problem}"
    for sign, advice in _ADVICE:
        if sign in message:
            return Problem(file, line, column, advice)
    what = f"this is not YAML ({shown(problem, 80)}); look at the line and the one above it"
    return Problem(file, line, column, what)


class _Planter:
    """Turns YAML's nodes into ours, and notes what a book has no use for."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.seen: set[int] = set()
        self.repeated = 0

    def plant(self, node: Any, levels: int) -> Tree:
        line, column = node.start_mark.line + 1, node.start_mark.column + 1
        if id(node) in self.seen:
            self.repeated += 1
            if self.repeated > MOST_REPEATED:
                what = "is repeated too often by way of *; write values out"
                raise BadPlanError(Problem(self.file, line, column, what))
        self.seen.add(id(node))
        if node.tag not in _ALLOWED_TAGS:
            self._say(
                line, column, f"the tag {shown(node.tag)} means nothing here; take it out, or use quotation marks"
            )
        if node.id == "scalar":
            return Scalar(node.value, bool(node.style), line, column)
        if not levels:
            raise BadPlanError(Problem(self.file, line, column, "values are nested too deeply; take the brackets out"))
        if node.id == "sequence":
            return Items(tuple([self.plant(item, levels - 1) for item in node.value]), line, column)
        return Entries(tuple(self._entries(node.value, levels - 1)), line, column)

    def _entries(self, pairs: list[tuple[Any, Any]], levels: int) -> list[tuple[Scalar, Tree]]:
        first: dict[str, int] = {}
        planted = []
        for key_node, value_node in pairs:
            key = self.plant(key_node, levels)
            if not isinstance(key, Scalar):
                self._say(key.line, key.column, "brackets stand where a key should; put the text in quotation marks")
                continue
            if key.text in first:
                what = f"{shown(key.text)} is given twice, first on line {first[key.text]}; keep one"
                self._say(key.line, key.column, what)
                continue
            first[key.text] = key.line
            planted.append((key, self.plant(value_node, levels)))
        return planted

    def _say(self, line: int, column: int, what: str) -> None:
        self.problems.append(Problem(self.file, line, column, what))
