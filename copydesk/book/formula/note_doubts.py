"""What a remark that changes no leaf says: something harmless, or something that may lose or add a leaf unseen.

A remark on a gathering is taken as harmless only where every word of it is known to tell of something else: blank
leaves, the order, marks, damage, material, what is written there. All others are warned of.
"""

from __future__ import annotations

import re

from copydesk.book.formula.places import COUNT, DASH, ORDINAL

_OF_TEXT = re.compile(
    r"with(?:out)?\s+(?:any\s+|some\s+)?(?:textual\s+)?loss(?:\s+of\s+(?:some\s+|any\s+)?text)?"
    r"|no\s+(?:loss\s+of\s+text|text(?:ual)?\s+loss|text\s+lost)|text\s+(?:is\s+)?(?:lost|missing|wanting)"
    r"|(?:no|leaf|leaves|quire|or|and|both|\s){1,9}\s+signatures?",
    re.IGNORECASE,
)
_LEAF_WORDS = re.compile(
    r"\b(?:want|lack|miss|lost|loss|lose|gone|absent|excis|cancel|canc\b|cut\b|torn|remov|extract|stub|only|remain"
    r"|surviv|less\b|minus|reduced|add(?:ed|ition|itional|s)?\b|insert(?:ed|s)?\b|tipped|supplied|replac|interleav|extra"
    r"|detached|conjugate|short\b|stol|destroy|burn|perish|disappear|sold|present|no\s+longer|now\s+(?:in|at)\b)",
    re.IGNORECASE,
)
_COUNTED_LEAVES = re.compile(
    rf"(?:\d|\b(?:{COUNT}|{ORDINAL}|last|outer|inner|half)\b).{{0,60}}"
    r"\b(?:lea(?:f|ves)|folios?|folia|bifoli|sheets?|singletons?|quires?|gatherings?)"
    r"|\b[ivxlcdm]+\s+(?:fly)?(?:lea(?:f|ves)|foli)"
    r"|\b(?:quatern|tern|quin|sen|bin|sext|sept|oct)i(?:on|o)",
    re.IGNORECASE,
)
_PLACED = re.compile(rf"\d|\b(?:{COUNT}|{ORDINAL}|last|lea(?:f|ves)|bifoli\w*|sheets?)\b", re.IGNORECASE)
_BARE_PLACES = re.compile(
    r"(?:(?:and|or|now|also|then|once|formerly|originally|perhaps|possibly|probably|in\s+all|lea(?:f|ves))\s+)*"
    rf"(?:\d+|{ORDINAL})(?:[\s,.–-]|\d|and\b|{ORDINAL})*",
    re.I,
)
_NOT_AS_BUILT = re.compile(
    rf"\bno\s+(?:lea(?:f|ves)|fol\w*|ff?\b|bifoli\w*|sheets?|\d|{ORDINAL}|{COUNT})|\bnot\s+(?:bound|in)\b"
    rf"|\bout\b(?!\s+of)|\b(?:now|once|formerly|originally)\s+(?:of\s+)?{COUNT}\b",
    re.IGNORECASE,
)
_SIGN = re.compile(rf"(?<![\w.])(?:\+|{DASH})\s*\d")
_ABOUT_MARKS = re.compile(r"catchword|signature|signed|foliat|paginat", re.IGNORECASE)


def speaks_of_leaves(words: str, *, explains: bool = False) -> bool:
    """Whether words that were not understood may say that leaves are gone or added.

    ``explains``: they follow leaves said to be gone, and are harmless unless they name leaves of their own.
    """
    rest = _OF_TEXT.sub(" ", words)
    if _ABOUT_MARKS.search(rest) and not _LEAF_WORDS.search(rest):
        return False
    if _BARE_PLACES.fullmatch(rest.strip()):
        return True
    if _SIGN.search(re.sub(r"\[[^\]]*\]", " ", rest)):
        return True
    if explains and not _PLACED.search(re.sub(r"\[[^\]]*\]|\ba\b", " ", rest)):
        return False
    return bool(_LEAF_WORDS.search(rest) or _COUNTED_LEAVES.search(rest))


def is_harmless(words: str) -> bool:
    """Whether every word is known to tell of something that neither adds nor takes away a leaf."""
    rest = _OF_TEXT.sub(" ", words)
    if _NOT_AS_BUILT.search(rest) or _BARE_PLACES.fullmatch(rest.strip()):
        return False
    return all(len(word) == 1 or word in _HARMLESS or _NUMERAL.fullmatch(word) for word in _WORDS.findall(rest.lower()))


_WORDS = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_NUMERAL = re.compile(rf"[ivxlcdm]+|[rv]|st|nd|rd|th|{COUNT}|{ORDINAL}")
_HARMLESS_WORDS = """
a an the of on in at to from by with and or but also as so than not no is are was were be been being has have had it
its their this these that which where when now still later once formerly originally early late recent probably
perhaps possibly presumably apparently doubtless certainly clearly both all each every others other same see cf note
notes above below leaf leaves folio folios folia fol fols f ff p pp page pages recto rectos verso versos sheet
sheets bifolium bifolia quire quires gathering gatherings half halves side sides edge edges margin margins corner
corners upper lower outer inner top bottom foot head fore fore-edge middle centre center central final last end
beginning front back next blank blanks blanked unwritten unused empty unfoliated unnumbered numbered misnumbered
number numbers numbering foliated misfoliated foliation paginated pasted pastedown paste-down pastedowns down paste
cover board boards misbound misplaced transposed displaced reversed inverted upside bound wrong wrongly order
disordered out place folded unfolded refolded sewn sewing stitched thread glued mounted guarded guards signed
unsigned signature signatures catchword catchwords damaged damage mut mutilated defective imperfect fragment fragments
fragmentary worn rubbed faded stained soiled darkened creased wrinkled holed hole holes slit slits trimmed cropped
repaired repair repairs mended patched strengthened reinforced stiff burnt-edged ruled unruled ruling pricked
prickings parchment paper vellum membrane skin hair flesh watermark watermarks palimpsest thick thicker thin thinner
small smaller large larger short-lined narrow narrower wide wider irregular regular irregularly uncertain unclear
construction structure makeup make-up text texts begins begin ending ends written rewritten unfinished finished hand
hands scribe scribes different contents table calendar index prologue preface list rubric rubrics decorated
undecorated illuminated miniature miniatures picture pictures initial initials drawing drawings diagram diagrams
border borders music chart map maps century contemporary medieval modern
"""
_HARMLESS = frozenset(_HARMLESS_WORDS.split())
