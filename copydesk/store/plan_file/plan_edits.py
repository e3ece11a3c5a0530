"""Values put into a ``book.yaml`` at their places: the comments, the order and the layout of all the rest stay."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from copydesk.book.common.errors import CopydeskError, NotAllowedError
from copydesk.store.files.book_folder import BOOK_FILE
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.keys import BOOK
from copydesk.store.plan_file.plan_text import AsWritten, flow, item_lines, key_lines, plan_values
from copydesk.store.plan_file.reading import named
from copydesk.store.plan_file.sections import Section
from copydesk.store.plan_file.yaml_places import compose

if TYPE_CHECKING:
    from collections.abc import Iterator

    from copydesk.book.plan import Book
    from copydesk.store.plan_file.reading import Path


_COMMENT = re.compile(r"(?:^|(?<=\s))#[^\r\n]*", re.MULTILINE)


def edited(text: str, before: Book, after: Book) -> str:
    """The text of a ``book.yaml`` that reads as ``before``, changed so that it reads as ``after``.

    Raises:
        NotAllowedError: where it is written so that it cannot be edited by its places.
    """
    whole, short = plan_values(after, usual=True), plan_values(after)
    changes = list(_changes(plan_values(before, usual=True), whole, ()))
    try:
        for path, value in changes:
            said = None if value is None else _at(short, path, value)
            try:
                text = put(text, path, said)
            except LookupError:  # a list of which one value stands there alone
                text = put(text, path[:-1], _at(whole, path[:-1], None))
        reads = parse_plan(text, BOOK_FILE).finish()
    except CopydeskError as refused:
        raise _by_hand(changes) from refused
    if plan_values(reads, usual=True) != whole or list(reads.hands) != list(after.hands):
        raise _by_hand(changes)
    return text


def holds_at(path: Path) -> Any:
    """What may stand at a path of ``book.yaml``; None where the table knows no such place."""
    holds: Any = BOOK
    for part in path:
        if isinstance(holds, Section):
            holds = next((key.holds for key in holds.keys if key.name == part), None)
        else:
            holds = getattr(holds, "sort", None)
    return holds


def put(text: str, path: Path, value: object) -> str:
    """The text with ``value`` (plain data, as ``plan_values`` gives them) at ``path``; taken out where it is None.

    Raises:
        LookupError: where an item of a list is meant, and no list stands there.
        BadPlanError: where the text is not YAML.
    """
    node: Any = compose(text, BOOK_FILE)
    parents: list[tuple[Any, str | int]] = []
    rest = list(path)
    while rest and node is not None and (found := _child(node, rest[0])) is not None:
        parents.append((node, rest.pop(0)))
        node = found
    if node is None:
        return text if value is None else f"{text}{_lines(key_lines(path[0], _nested(path[1:], value)), text)}"
    if value is None:
        return text if rest else _taken_out(text, *parents[-1])
    if not rest:
        return _replaced(text, node, flow(value))
    if node.id == "scalar":
        return _replaced(text, node, flow(_spread(node.value, path[: len(parents)], rest, value)))
    return _inserted(text, node, rest[0], _nested(rest[1:], value), blank=not parents)


def _spread(stands: str, above: Path, rest: list[str | int], value: object) -> object:
    """A section with a key more, where a value stands alone for it, or nothing yet."""
    if isinstance(rest[0], int):
        if stands:
            raise LookupError(rest[0])
        return [_nested(rest[1:], value)]
    short = getattr(holds_at(above), "short", "")
    return {**({short: AsWritten(stands)} if stands and short else {}), rest[0]: _nested(rest[1:], value)}


def _by_hand(changes: list[tuple[Path, object]]) -> NotAllowedError:
    wanted = "; ".join(f"{named(path)}: {'nothing' if value is None else flow(value)}" for path, value in changes)
    return NotAllowedError(f"{BOOK_FILE} is written so that only people can change it there; write {wanted}")


def _at(values: Any, path: Path, otherwise: object) -> object:
    try:
        for part in path:
            values = values[part]
    except LookupError:
        return otherwise
    return values


def _changes(old: Any, new: Any, path: Path) -> Iterator[tuple[Path, object]]:
    """The places at which plain data differ, and what stands there now; what goes comes last, from the end."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key, value in new.items():
            name = AsWritten(key) if isinstance(key, int) else key
            if key not in old:
                yield (*path, name), value
            else:
                yield from _changes(old[key], value, (*path, name))
        yield from (((*path, str(key)), None) for key in reversed(old) if key not in new)
    elif isinstance(old, list) and isinstance(new, list):
        shared = min(len(old), len(new))
        after = next((at for at in range(shared) if old[~at] != new[~at]), shared) if len(old) > len(new) else 0
        for at in range(shared - after):
            yield from _changes(old[at], new[at], (*path, at))
        yield from (((*path, at), new[at]) for at in range(shared, len(new)))
        yield from (((*path, at), None) for at in range(len(old) - after - 1, shared - after - 1, -1))
    elif old != new:
        yield path, new


def _nested(path: list[str | int] | Path, value: object) -> object:
    for part in reversed(path):
        value = [value] if isinstance(part, int) else {part: value}
    return value


def _child(node: Any, part: str | int) -> Any:
    if node.id == "mapping":
        return next((value for key, value in node.value if key.value == str(part)), None)
    if node.id == "sequence" and isinstance(part, int) and part < len(node.value):
        return node.value[part]
    return None


def _end(text: str, node: Any) -> int:
    """Where a value ends; one without brackets reaches, to the parser, up to what comes next."""
    start: int = node.start_mark.index
    end: int = node.end_mark.index
    if node.id == "scalar" or node.flow_style or not node.value:
        return start + len(text[start:end].rstrip())
    last = node.value[-1]
    key, value = last if node.id == "mapping" else (last, last)
    return max(_end(text, key), _end(text, value))


def _replaced(text: str, node: Any, said: str) -> str:
    start, end = node.start_mark.index, _end(text, node)
    kept = "".join(f"  {each}" for each in _comments(text, node, start, end))
    space = " " if start and not text[start - 1].isspace() else ""
    line_goes_on = kept and text[end:].partition("\n")[0].strip()
    return f"{text[:start]}{space}{said}{kept}{_lines([''], text) if line_goes_on else ''}{text[end:]}"


def _comments(text: str, node: Any, start: int, end: int) -> Iterator[str]:
    """The comments between two places, none of them within a value."""
    gap = start
    for low, high in (*_scalars(text, node), (end, end)):
        if start <= low <= end:
            yield from (found[0] for found in _COMMENT.finditer(text, gap, low))
            gap = max(gap, high)


def _scalars(text: str, node: Any) -> Iterator[tuple[int, int]]:
    if node.id == "scalar":
        yield node.start_mark.index, _end(text, node)
        return
    for each in node.value:
        for part in each if node.id == "mapping" else (each,):
            yield from _scalars(text, part)


def _inserted(text: str, node: Any, name: str | int, value: object, *, blank: bool) -> str:
    """The text with a key, or an item, behind the last of a mapping or a list."""
    if not node.value or node.flow_style:
        said = flow(value) if isinstance(name, int) else flow({name: value})[1:-1]
        at = _behind(text, node) if node.value else node.start_mark.index + 1
        return f"{text[:at]}{', ' if node.value else ''}{said}{text[at:]}"
    column = (node if isinstance(name, int) else node.value[0][0]).start_mark.column
    lines = item_lines(value, column) if isinstance(name, int) else key_lines(name, value, column)
    if blank and isinstance(name, str):
        lines = ["", *(f"# {key.help}" for key in BOOK.keys if key.name == name), *lines]
    at = text.find("\n", _end(text, node)) + 1 or len(text)
    return f"{text[:at]}{_lines(lines, text[:at])}{text[at:]}"


def _behind(text: str, node: Any) -> int:
    last = node.value[-1]
    return max(_end(text, part) for part in (last if node.id == "mapping" else (last,)))


def _lines(lines: list[str], behind: str) -> str:
    """Lines as they go behind a text, ended as its own are."""
    end = "\r\n" if "\r\n" in behind else "\n"
    return (end if behind and not behind.endswith("\n") else "") + "".join(f"{line}{end}" for line in lines)


def _taken_out(text: str, node: Any, part: str | int) -> str:
    """The text without a key or an item; comments within it and behind it stay."""
    parts = [each if node.id == "mapping" else (each, each) for each in node.value]
    at = part if isinstance(part, int) else next(at for at, (key, _) in enumerate(parts) if key.value == str(part))
    key, value = parts[at]
    start, end = key.start_mark.index, max(_end(text, key), _end(text, value))
    if node.flow_style:
        return _out_of_brackets(text, start, end, max(_end(text, each) for each in parts[at - 1]) if at else None)
    if node.id == "sequence":
        start = next(index for index in range(start, -1, -1) if _is_dash(text, index, node.start_mark.column))
    line, after = text.rfind("\n", 0, start) + 1, text.find("\n", end) + 1 or len(text)
    kept = [*_comments(text, node, start, end), *filter(None, [text[end:after].strip()])]
    head = text[line:start]
    if head.strip():  # the first key of an item stays behind its hyphen
        return f"{text[:start]}{_lines(kept, text[:after]) or _lines([''], text[:after])}{text[after:]}"
    return f"{text[:line]}{_lines([f'{head}{each}' for each in kept], text[:after])}{text[after:]}"


def _is_dash(text: str, index: int, column: int) -> bool:
    return text[index] == "-" and index - text.rfind("\n", 0, index) - 1 == column


def _out_of_brackets(text: str, start: int, end: int, before: int | None) -> str:
    """The text without what stands from ``start`` to ``end`` in brackets, and without the comma that goes with it."""
    if behind := re.compile(r"\s*,[ \t]*").match(text, end):
        return text[:start] + text[behind.end() :]
    if before is None:
        return text[:start] + text[end:]
    comma = text.index(",", before)
    gap = text[comma + 1 : start]
    return text[:comma] + ("" if not gap.strip() else gap) + text[end:]
