"""What each kind of fault is, in a few words, for whoever has to name one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from copydesk.comparing.faults import Kind

KIND_WORDS: dict[Kind, str] = {
    "omission": "words left out",
    "eye-skip": "words left out, the eye having leapt from a word to the same or a like one",
    "repetition": "letters, words or lines written twice",
    "haplography": "what stands twice is written once",
    "substitution": "a word put for another",
    "transposition": "letters or words turned about",
    "addition": "words that are not in the exemplar; a note from its margin taken in",
    "word divided": "one word written as two",
    "words joined": "two words written as one",
    "line skipped": "a whole line of the exemplar left out",
    "line displaced": "a line out of its place",
    "leaf skipped": "a page or a leaf of the exemplar passed over",
}
"""Every kind, in the order in which they are offered."""
