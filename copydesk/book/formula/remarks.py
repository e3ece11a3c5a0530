"""The remarks of a collation formula on one gathering: what is wanting, cut away, put in, single.

Two ways of placing an added leaf are in use, and both are read: after a leaf of the gathering as planned
("+1 leaf after 5": N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957, p. xxii), and as a leaf of
the gathering that results ("8+1(+9)": R. Hanna, A Descriptive Catalogue of the Western Medieval Manuscripts of
St John's College, Oxford, 2002). A leaf both taken out and put in, "(-8; +8)", is one replaced.

What is not understood is kept as a note; ``note_doubts`` says which of the notes are warned of, so that no leaf is lost
quietly.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from copydesk.book.formula.note_doubts import is_harmless, speaks_of_leaves
from copydesk.book.formula.parts import MIRRORED, Added, Misread
from copydesk.book.formula.places import (
    COUNT,
    DASH,
    GONE,
    LOST,
    ORDINAL,
    PLACE,
    WHITHER,
    Context,
    count_said,
    placed,
    read_places,
)

if TYPE_CHECKING:
    from collections.abc import Iterable


_CANCELLED = r"cancell?ed|cancel(?:s|ling)?|cancelland[au]m?|canc(?:\.|(?=\W|$))"
_LEAD = re.compile(r"(?:(?:with|and|but|now|also|probably|perhaps|apparently)\s+)+", re.IGNORECASE)
_UNSURE = re.compile("probably|perhaps|apparently", re.IGNORECASE)
_EACH = re.compile(r"(both|each|all)(?:\s+of\s+them)?\s+", re.IGNORECASE)
_BEFORE = re.compile(rf"({GONE}|{_CANCELLED})\s*:?\s+(?:of\s+)?", re.IGNORECASE)
_BLANK = (
    r"(?:\s*,)?(?:\s+(?:is|are|was|were|probably|perhaps|possibly|presumably|apparently|both|all|a))*"
    r"\s+blanks?(?:\s*,?\s*(?:and|but|so)(?=\s)|\s*,)?"
)
_BEHIND = re.compile(
    rf"\s+(?:(?:is|are|was|were|has|have|had|been|now|all|both|later|since|leaf|leaves)\s+)*(?:an?\s+)?"
    rf"(wanting|lacking|missing|{LOST}|stubs?(?!\w)|{_CANCELLED}|replaced(?!\s+by)|replacements?"
    r"|singletons?|singles?(?:\s+lea(?:f|ves))?|half-sheets?|additions?|(?:added|inserted)(?:\s+lea(?:f|ves))?|add\.?)"
    r"(?!\w)",
    re.IGNORECASE,
)
_BLANK_GONE = re.compile(
    rf"{_BLANK}\s+(?:(?:is|are|was|were|has|have|been|now|later|since|both|all)\s+)*"
    rf"(wanting|lacking|missing|{LOST}|{_CANCELLED})(?=\s*(?:[,;.()?]|$))",
    re.IGNORECASE,
)
_LEFT = r"(?:present|remain(?:s|ing)?|surviv(?:es?|ing)|extant|left)"
_ONLY_BEFORE = re.compile(r"only\s+", re.IGNORECASE)
_ONLY_BEHIND = re.compile(rf"\s+(?:(?:is|are)\s+)?only(?:\s+{_LEFT})?(?!\w)|\s+(?:alone|only)\s+{_LEFT}(?!\w)", re.I)
_REMAINS = re.compile(rf"(?:\s+(?:is|are|now|alone|still))*\s+{_LEFT}(?!\w)", re.IGNORECASE)
_PUT_IN = r"inserted|tipped\s+in|added"
_AFTER = re.compile(
    rf"(?:\+\s*|(?=[^,;()]{{0,60}}\s(?:{_PUT_IN})\s))(\d{{1,3}}|an?|one)?\s*"
    r"(?:(?:single\s+)?(lea(?:f|ves)|sheets?|bifoli(?:um|a))\s+|(?<=\d)\s*)"
    rf"(?:({_PUT_IN})\s+)?(after|before)\s+(?:leaf\s+)?(\d{{1,3}})(?:\s+and\s+(\d{{1,3}}))?(?!\d)",
    re.IGNORECASE,
)
_ADDED_AS = re.compile(
    rf"({COUNT})\s+(?:consecutive\s+)?(?:(?:{_PUT_IN}|extra)\s+)?(lea(?:f|ves)|bifoli(?:um|a)|sheets?)(?!\w)"
    rf"(?=[^;()]{{0,80}}(?:{_PUT_IN}|extra))[^;()]{{0,120}}?\bas\s+(?=(?:the\s+)?(?:{PLACE}|{ORDINAL}))"
    rf"|({COUNT})\s+(?:consecutive\s+)?(?:{_PUT_IN}|extra)\s+(lea(?:f|ves)|bifoli(?:um|a)|sheets?)(?!\w)"
    rf"[^;()]{{0,120}}?\bas\s+(?=(?:the\s+)?(?:{PLACE}|{ORDINAL}))",
    re.IGNORECASE,
)
_MORE = re.compile(rf"\+\s*({COUNT})\s+(lea(?:f|ves)|sheets?|bifoli(?:um|a))(?!\w)", re.IGNORECASE)
_NAMED_PLUS = re.compile(r"([A-Za-z]{1,3})(\d{1,3})\s*\+\s*(\d{1,2})(?!\d|\s*[A-Za-z])")
_SIGNED = re.compile(
    rf"(\+|{DASH})\s*([A-Za-z]{{1,3}})?(\d{{1,3}})(?:\s*(?:to|through|{DASH})\s*(?:{DASH}|\+)?\s*(\d{{1,3}}))?"
    r"(?![\w/]|\s*(?:single|lea|sheet|bifol))",
    re.IGNORECASE,
)
_NEXT_SIGNED = re.compile(rf"\s*(?:,|&|and)\s*(?=(?:[A-Za-z]{{1,3}})?{PLACE}\s*(?:[,;)&]|and\b|$|{DASH}|to\b))", re.I)
_RUNNING = re.compile(
    r"(?:through|to|ends?(?:\s+(?:on|at|with))?|catchword,?)\s+(?:ff?|fols?)\.?\s*(\d{1,5})[rv]?(?!\w)[^,;)]*",
    re.IGNORECASE,
)
_LEAVES_HARMED = re.compile(
    r"\d+(?:(?:\s*,\s*|\s+and\s+)\d+)+\s+(?:mut(?:ilated)?|damaged|defective|imperfect|stained|blank)\b\.?(?=\s*(?:[,;)]|$))",
    re.IGNORECASE,
)
_NOTE = re.compile(r"(?:\[[^\]]*\]|[^,;()\[])+")
_STATES = (
    ("canc", "cancelled"),
    ("repl", "replaced"),
    ("sing", "single"),
    ("half", "single"),
    ("add", "put_in"),
    ("inser", "put_in"),
)


@dataclass
class Remarks:
    """Remarks on one gathering as they were read: each place, and the index in the formula where it is said."""

    wanting: dict[int, int] = field(default_factory=dict)
    cancelled: dict[int, int] = field(default_factory=dict)
    replaced: dict[int, int] = field(default_factory=dict)
    single: dict[int, int] = field(default_factory=dict)
    taken_out: dict[int, int] = field(default_factory=dict)  # with a minus sign
    put_in: dict[int, int] = field(default_factory=dict)  # with a plus sign: leaves of the gathering that results
    signed: list[str] = field(default_factory=list)  # the places with a sign, as in -3
    after: list[tuple[Added, int]] = field(default_factory=list)
    plus: int = 0  # leaves added of which only the number is said
    minus: int = 0  # leaves gone of which only the number is said
    running: list[int] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    asides: list[str] = field(default_factory=list)  # explains a remark that was understood
    doubtful: list[str] = field(default_factory=list)  # notes that may speak of leaves
    each: str = ""  # the word, as in "both", by which it says itself that several gatherings are meant

    @property
    def on_leaves(self) -> bool:
        """Whether anything is said of the leaves themselves."""
        states = (self.wanting, self.cancelled, self.replaced, self.single, self.taken_out, self.put_in, self.after)
        return any(states) or self.plus > 0 or self.minus > 0

    def put_down(self, state: str, places: Iterable[int], at: int) -> None:
        """Note that these places are in a state: the name of one of the fields above."""
        getattr(self, state).update(dict.fromkeys(places, at))

    def note(self, words: str, *, prose: bool = False) -> None:
        """Keep words that change no leaf, and doubt them unless they are known as harmless.

        ``prose``: they stand outside of parentheses, and are doubted only if they may speak of leaves.
        """
        words = " ".join(words.split())
        self.notes.append(words)
        gone = bool(self.wanting or self.cancelled or self.taken_out or self.minus)
        held = words.replace("stub", "") if self.put_in or self.after or self.single else words
        if speaks_of_leaves(words if gone else held, explains=gone) or not (prose or gone or is_harmless(held)):
            self.doubtful.append(words)


def read_clause(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    """Read one remark in words at ``at``, before ``end``; gives where it ends, ``at`` where there is none."""
    start = found.end() if (found := _LEAD.match(text, at, end)) else at
    if found := _EACH.match(text, start, end):
        after = _read_gone(text, found.end(), end, remarks, context)
        if after > found.end():
            remarks.each = found[1].lower()
            return after
    for reader in (_read_added, _read_gone, _read_only, _read_behind):
        if (after := reader(text, start, end, remarks, context)) > start:
            if _UNSURE.search(text, at, start):
                remarks.asides.append(" ".join(text[at:after].split()))
            return after
    return at


def _read_added(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    if found := _AFTER.match(text, at, end):
        count = int(found[1]) if found[1] and found[1].isdecimal() else 1
        remarks.after.append((_added(found, count), at))
        return found.end()
    if (found := _NAMED_PLUS.match(text, at, end)) and found[1] in context.names:
        remarks.after.append((Added(int(found[2]), int(found[3]), inserted=True), at))
        return found.end()
    if (found := _ADDED_AS.match(text, at, end)) and (read := read_places(text, found.end(), end, context)):
        remarks.put_down("put_in", read.places, at)
        return read.end
    if found := _MORE.match(text, at, end):
        remarks.plus += count_said(found[1]) * (1 if found[2].lower().startswith("lea") else 2)
        return found.end()
    return at


def _added(found: re.Match[str], count: int) -> Added:
    after = int(found[5]) - (found[4].lower() == "before")
    if (found[2] or "leaf").lower().startswith("lea"):
        return Added(after, count, inserted=(found[3] or "added").lower() != "added")
    return Added(after, count, back=int(found[6]) if found[6] else MIRRORED)


def _read_gone(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    """``wants 2, 4``, ``lacking fifth``, ``cancelled 3``."""
    found = _BEFORE.match(text, at, end)
    if found is None:
        return at
    read = read_places(text, found.end(), end, context, lambda stop: _BEHIND.match(text, stop, end) is not None)
    if read is None:
        return at
    if found[1].lower() in ("less", "minus") and text[found.end()].isdecimal() and not read.unplaced:
        return at  # "8 less 2" may be two leaves or the second
    state = "cancelled" if found[1].lower().startswith("canc") else "wanting"
    remarks.put_down(state, read.places, at)
    remarks.minus += read.unplaced
    return read.end


def _read_only(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    """``outer two bifolia only present``, ``only 1 and 8 remain``: every other leaf is gone."""
    before = _ONLY_BEFORE.match(text, at, end)
    read = read_places(text, before.end() if before else at, end, context)
    if read is None or read.unplaced:
        return at
    left = _REMAINS.match(text, read.end, end) if before else _ONLY_BEHIND.match(text, read.end, end)
    if left is None:
        return at
    remarks.put_down("wanting", (place for place in range(1, context.leaves + 1) if place not in read.places), at)
    rest = re.compile(r"[^,;()]*").match(text, left.end(), end)
    if rest and rest[0].strip() and text[at - 1 : at] in "(;, ":
        remarks.asides.append(" ".join(rest[0].split()))
        return rest.end()
    return left.end()


def _read_behind(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    """``3 and 6 are singletons``, ``last two excised``, ``a leaf cut out``."""
    read = read_places(text, at, end, context)
    if read is None:
        return at
    found = _BEHIND.match(text, read.end, end) or _BLANK_GONE.match(text, read.end, end)
    if found is None:
        return at
    state = next((state for begins, state in _STATES if found[1].lower().startswith(begins)), "wanting")
    if read.unplaced and state == "put_in":
        remarks.plus += read.unplaced
    elif read.unplaced and state in ("wanting", "cancelled"):
        whither = WHITHER.match(text, found.end(), end)
        if whither and not read.places:
            remarks.put_down(state, placed(read.unplaced, whither, context), at)
            return whither.end()
        remarks.minus += read.unplaced
    elif read.unplaced:
        return at
    remarks.put_down(state, read.places, at)
    return found.end()


def read_group(text: str, at: int, remarks: Remarks, context: Context) -> int:
    """Read the remarks in the parenthesis that opens at ``at``; gives where it ends.

    Raises:
        Misread: where it is never closed, or says something of leaves that cannot be told from it.
    """
    end = _closing(text, at)
    at += 1
    while at < end:
        if text[at].isspace() or text[at] in ",;.()":  # what stands in a parenthesis within is one more remark
            at += 1
        else:
            at = _read_in_group(text, at, end, remarks, context)
    return end + 1


def _closing(text: str, at: int) -> int:
    depth = 0
    for end in range(at, len(text)):
        depth += (text[end] == "(") - (text[end] == ")")
        if depth == 0:
            return end
    raise Misread(at, "the parenthesis is never closed; close it with )")


def _read_in_group(text: str, at: int, end: int, remarks: Remarks, context: Context) -> int:
    if (after := read_clause(text, at, end, remarks, context)) > at:
        return after
    start = lead.end() if (lead := _LEAD.match(text, at, end)) else at
    if (found := _SIGNED.match(text, start, end)) and (found[2] is None or found[2] in context.names):
        return _signed(text, found, end, remarks, context)
    if found := _LEAVES_HARMED.match(text, at, end):
        remarks.note(found[0])
        return found.end()
    if found := _RUNNING.match(text, at, end):
        remarks.running.append(int(found[1]))
    elif found := _NOTE.match(text, at, end):
        if re.match(rf"\+|{DASH}|[\d\s+]*$", found[0], re.IGNORECASE):
            raise Misread(
                at, "it is not said what of which leaf; write for instance wants 6, -6, +9 or +1 leaf after 5"
            )
        remarks.note(found[0])
    else:
        raise Misread(at, f"{text[at]!r} is out of place among remarks; take it out")
    return found.end()


def _signed(text: str, found: re.Match[str], end: int, remarks: Remarks, context: Context) -> int:
    """``-1``, ``-4 to -7``, ``-1, 3``: the sign holds for the bare places after it."""
    state = "put_in" if found[1] == "+" else "taken_out"
    first, last = int(found[3]), int(found[4] or found[3])
    if last < first:
        raise Misread(found.start(), f"{found[0]!r} goes back; write the lower place first")
    remarks.put_down(state, range(first, last + 1), found.start())
    remarks.signed += (f"{'+' if state == 'put_in' else '-'}{place}" for place in range(first, last + 1))
    stop = found.end()
    while following := _NEXT_SIGNED.match(text, stop, end):
        read = read_places(text, following.end(), end, context, lambda at: _BEHIND.match(text, at, end) is not None)
        if read is None or _BEHIND.match(text, read.end, end):
            break
        remarks.put_down(state, read.places, found.start())
        stop = read.end
    return stop
