"""The remarks of a collation formula on one gathering: what is wanting, cut away, put in, single.

Two ways of placing an added leaf are in use, and both are read: after a leaf of the gathering as planned
("+1 leaf after 5": N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957, p. xxii), and as a leaf of
the gathering that results ("8+1(+9)": R. Hanna, A Descriptive Catalogue of the Western Medieval Manuscripts of
St John's College, Oxford, 2002). A leaf both taken out and put in, "(-8; +8)", is one replaced.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.formula.parts import MIRRORED, Added, Misread

if TYPE_CHECKING:
    from collections.abc import Iterator


DASH = r"[-–—−]"
RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹"
# A place is a number that does not begin the next gathering, as the 3 in "wants 2, 3^8" does.
_COUNTED = rf"(?:\s*[\^:{RAISED}]|\.\d|\s*\(\s*\d+\s*\))"
_PLACE = rf"\d{{1,3}}(?!\d|{_COUNTED}|\s*{DASH}\s*\d+{_COUNTED})"
_PLACES = rf"{_PLACE}(?:\s*(?:{DASH}|/|,|&|and|to|through)\s*{_PLACE})*"
_GONE = r"wants|wanting|lacks|lacking|missing|lost|less"
_BEFORE = re.compile(rf"({_GONE})\s+(?:(?:leaf|leaves|fols?\.?)\s+)?({_PLACES})", re.IGNORECASE)
_BEHIND = re.compile(
    rf"({_PLACES})\s+(?:(?:is|are)\s+)?(?:a\s+)?({_GONE}|cancell?ed|cancels?|canc\.?|replaced|replacements?"
    r"|singletons?|singles?(?:\s+lea(?:f|ves))?|half-sheets?|additions?|added|add\.?)(?!\w)",
    re.IGNORECASE,
)
_PUT_IN = r"inserted|tipped\s+in|added"
_AFTER = re.compile(
    rf"(?:\+\s*|(?=[^,;()]*\s(?:{_PUT_IN})\s))(\d{{1,3}}|an?|one)?\s*"
    r"(?:(?:single\s+)?(lea(?:f|ves)|sheets?|bifoli(?:um|a))\s+|(?<=\d)\s*)"
    rf"(?:({_PUT_IN})\s+)?(after|before)\s+(?:leaf\s+)?(\d{{1,3}})(?:\s+and\s+(\d{{1,3}}))?(?!\d)",
    re.IGNORECASE,
)
_SIGNED = re.compile(
    rf"(\+|{DASH})\s*(\d{{1,3}})(?:\s*(?:to|through|{DASH})\s*(?:{DASH}|\+)?\s*(\d{{1,3}}))?"
    r"(?![\w/]|\s*(?:single|lea|sheet|bifol))",
    re.IGNORECASE,
)
_RUNNING = re.compile(
    r"(?:through|to|ends?(?:\s+(?:on|at|with))?|catchword,?)\s+(?:ff?|fols?)\.?\s*(\d{1,5})[rv]?(?!\w)[^,;)]*",
    re.IGNORECASE,
)
_NOTE = re.compile(r"[^,;()]+")
_STATES = (("canc", "cancelled"), ("repl", "replaced"), ("sing", "single"), ("half", "single"), ("add", "put_in"))


@dataclass
class Remarks:
    """Remarks on one gathering as they were read: each place, and the index in the formula where it is said."""

    wanting: dict[int, int] = field(default_factory=dict)
    cancelled: dict[int, int] = field(default_factory=dict)
    replaced: dict[int, int] = field(default_factory=dict)
    single: dict[int, int] = field(default_factory=dict)
    taken_out: dict[int, int] = field(default_factory=dict)  # with a minus sign
    put_in: dict[int, int] = field(default_factory=dict)  # with a plus sign: leaves of the gathering that results
    after: list[tuple[Added, int]] = field(default_factory=list)
    running: list[int] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def on_leaves(self) -> bool:
        """Whether anything is said of the leaves themselves."""
        states = (self.wanting, self.cancelled, self.replaced, self.single, self.taken_out, self.put_in, self.after)
        return any(states)

    def put_down(self, state: str, places: Iterator[int], at: int) -> None:
        """Note that these places are in a state: the name of one of the fields above."""
        getattr(self, state).update(dict.fromkeys(places, at))


def read_clause(text: str, at: int, end: int, remarks: Remarks) -> int:
    """Read one remark in words at ``at``, before ``end``; gives where it ends, ``at`` where there is none."""
    if found := _AFTER.match(text, at, end):
        count = int(found[1]) if found[1] and found[1].isdecimal() else 1
        remarks.after.append((_added(found, count), at))
    elif found := _BEFORE.match(text, at, end):
        remarks.put_down("wanting", places_in(found[2], at), at)
    elif found := _BEHIND.match(text, at, end):
        state = next((state for begins, state in _STATES if found[2].lower().startswith(begins)), "wanting")
        remarks.put_down(state, places_in(found[1], at), at)
    return found.end() if found else at


def _added(found: re.Match[str], count: int) -> Added:
    after = int(found[5]) - (found[4].lower() == "before")
    if (found[2] or "leaf").lower().startswith("lea"):
        return Added(after, count, inserted=(found[3] or "added").lower() != "added")
    return Added(after, count, back=int(found[6]) if found[6] else MIRRORED)


def places_in(text: str, at: int) -> Iterator[int]:
    """The places a list that stands at ``at`` names: ``2, 4–6 and 8``.

    Raises:
        Misread: where a range goes back.
    """
    before, end = 0, 0
    for found in re.finditer(r"\d+", text):
        joined = end and re.search(rf"{DASH}|to|through", text[end : found.start()])
        place = int(found[0])
        if joined and place < before:
            raise Misread(at, f"{text!r} goes back; write the lower place first")
        yield from range(before + 1 if joined else place, place + 1)
        before, end = place, found.end()


def read_group(text: str, at: int, remarks: Remarks) -> int:
    """Read the remarks in the parenthesis that opens at ``at``; gives where it ends.

    Raises:
        Misread: where it is never closed, or says something of leaves that cannot be told from it.
    """
    end = text.find(")", at)
    if end < 0:
        raise Misread(at, "the parenthesis is never closed; close it with )")
    at += 1
    while at < end:
        if text[at].isspace() or text[at] in ",;.":
            at += 1
        else:
            at = _read_in_group(text, at, end, remarks)
    return end + 1


def _read_in_group(text: str, at: int, end: int, remarks: Remarks) -> int:
    if (after := read_clause(text, at, end, remarks)) > at:
        return after
    if found := _SIGNED.match(text, at, end):
        places = places_in(f"{found[2]}-{found[3] or found[2]}", at)
        remarks.put_down("put_in" if found[1] == "+" else "taken_out", places, at)
    elif found := _RUNNING.match(text, at, end):
        remarks.running.append(int(found[1]))
    elif found := _NOTE.match(text, at, end):
        if re.match(rf"\+|{DASH}|(?:{_GONE})\b|[\d\s+]*$", found[0], re.IGNORECASE):
            raise Misread(
                at, "it is not said what of which leaf; write for instance wants 6, -6, +9 or +1 leaf after 5"
            )
        remarks.notes.append(" ".join(found[0].split()))
    else:
        raise Misread(at, f"{text[at]!r} is out of place among remarks; take it out")
    return found.end()
