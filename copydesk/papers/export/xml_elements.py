"""Making XML: elements with mixed content, and the text of a whole document; nothing of the content is ever markup."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast
from xml.etree import ElementTree

from copydesk.book.common.sanitize import sanitize

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from xml.etree.ElementTree import Element

    Content = Element | str | None


def element(name: str, *parts: Content | Mapping[str, object]) -> Element:
    """An element: its attributes as mappings, its texts and elements in their order; None is left out.

    Texts and the values of attributes are on one line, without control characters and others that XML cannot hold.
    """
    made = ElementTree.Element(name)
    last: Element | None = None
    for part in parts:
        if isinstance(part, dict):
            made.attrib.update({key: sanitize(str(value)) for key, value in part.items()})
        elif isinstance(part, str):
            # text before the first child belongs to the element, text after a child to that child (ElementTree)
            if last is None:
                made.text = (made.text or "") + sanitize(part)
            else:
                last.tail = (last.tail or "") + sanitize(part)
        elif isinstance(part, ElementTree.Element):
            made.append(part)
            last = part
    return made


def listed(parts: Iterable[Content | Sequence[Content]], between: str = ", ") -> list[Content]:
    """Parts with a text between each two; what is None or empty is left out, and a part may be several in a row."""
    found: list[Content] = []
    for part in parts:
        if part is None or part in ("", []):
            continue
        found += [between] if found else []
        found += part if isinstance(part, list | tuple) else [cast("Content", part)]
    return found


def document(root: Element) -> str:
    """The text of a document, indented; white space is put in only where there is some or no text stands."""
    ElementTree.indent(root, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"
