"""Naming words that stand for others: by their letters, by their division, by where they were taken from.

Sources: letters written once or twice (``si cogis`` for ``sic cogis``), letters turned (``te lono`` for ``te
nolo``), like words put for one another: W. M. Lindsay, *Latin Textual Emendation* (1896) II 1, III 1, V and VI.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.comparing.additions import ANTICIPATION, CARRIED_OVER, GLOSS, is_gloss, origin
from copydesk.comparing.faults import quoted
from copydesk.comparing.likeness import letters_turned, written_once

if TYPE_CHECKING:
    from copydesk.comparing.faults import Difference
    from copydesk.comparing.page_case import Case, SpanPair


LIKE_WORD = 0.5
"""Share of letters in common, in order, from which a word counts as a like one."""
POINTING = "pointing or capitals"


def by_letters(case: Case, span: SpanPair) -> Difference | None:
    """Letters that stand twice and are written once, or the other way about, across a few words; else ``None``."""
    full, short = _beside(case, span)
    stands, should = _quoted(case, span)
    if written_once(full, short):
        sentence = f"{stands} for {should}: letters that stand twice running are written once"
        return case.fault("haplography", span, sentence, "letters written once")
    if written_once(short, full):
        sentence = f"{stands} for {should}: letters that stand once are written twice"
        return case.fault("repetition", span, sentence, "letters written twice")
    return None


def _beside(case: Case, span: SpanPair) -> tuple[str, str]:
    """The letters of both sides run together, with the word before and the word after, which agree."""
    copy, text = case.copy, case.text
    before = "".join(text[max(0, span.text_from - 1) : span.text_from]) if span.copy_from else ""
    after = "".join(text[span.text_to : span.text_to + 1]) if span.copy_to < len(copy) else ""
    full = before + "".join(text[span.text_from : span.text_to]) + after
    return full, before + "".join(copy[span.copy_from : span.copy_to]) + after


def _quoted(case: Case, span: SpanPair) -> tuple[str, str]:
    stands = quoted(case.stands(span.copy_from, span.copy_to))
    return stands, quoted(case.should(span.text_from, span.text_to))


def name_change(case: Case, span: SpanPair) -> Difference:
    """Name one word put for one word."""
    stands, should = _quoted(case, span)
    right, copied = case.text[span.text_from], case.copy[span.copy_from]
    if _bare(right) == _bare(copied):
        sentence = f"{stands} stands for {should}: {POINTING}"
        return case.fault("substitution", span, sentence, POINTING)
    if letters_turned(right, copied):
        sentence = f"{stands} for {should}: letters are turned about"
        return case.fault("transposition", span, sentence, "letters turned")
    cause = _cause(case, span, right, copied)
    return case.fault("substitution", span, f"{stands} stands for {should}{_note(cause)}", cause)


def _bare(key: str) -> str:
    """A key without marks and capitals, where the workshop compares those too."""
    return "".join(filter(str.isalnum, key)).casefold()


def _cause(case: Case, span: SpanPair, right: str, copied: str) -> str:
    """What sort of change it is."""
    from rapidfuzz.distance import Levenshtein

    if is_gloss(case, [copied], span.text_from):
        return GLOSS
    if Levenshtein.distance(right, copied) == 1:
        difference = len(copied) - len(right)
        return {0: "one letter for another", 1: "letter added", -1: "letter dropped"}[difference]
    if not unlike(right, copied):
        return "like word"
    return origin(case, [copied], span.text_from)[0] or "another word"


def unlike(right: str, copied: str) -> bool:
    """Whether two words have less than half of their letters in common."""
    from rapidfuzz.distance import Levenshtein

    return Levenshtein.normalized_similarity(right, copied) < LIKE_WORD


def _note(cause: str) -> str:
    """A cause as the end of a sentence."""
    notes = {
        GLOSS: ", a note beside the exemplar's text",
        ANTICIPATION: ", taken from further on",
        CARRIED_OVER: ", carried over from before",
        "another word": "",
    }
    return notes.get(cause, f": {cause}")


def name_passage(case: Case, span: SpanPair) -> Difference:
    """Name several words put for several others."""
    stands, should = _quoted(case, span)
    return case.fault("substitution", span, f"{stands} stands for {should}", "other words")


def name_joined(case: Case, span: SpanPair) -> Difference:
    """Name words written as one."""
    stands, should = _quoted(case, span)
    return case.fault("words joined", span, f"{stands} is written as one word; it is {should}")


def name_divided(case: Case, span: SpanPair) -> Difference:
    """Name a word written as several."""
    stands, should = _quoted(case, span)
    return case.fault("word divided", span, f"{stands} is one word: {should}")


def name_turned(case: Case, span: SpanPair) -> Difference:
    """Name words, neighbours or near ones, that have changed places."""
    stands, should = _quoted(case, span)
    return case.fault("transposition", span, f"{stands} stands in the wrong order; it is {should}", "words turned")
