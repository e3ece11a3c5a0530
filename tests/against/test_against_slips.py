"""The pairs the handbooks print, right and as copied, and what they call each."""

from __future__ import annotations

import pytest

from copydesk.comparing.compare import compare
from copydesk.comparing.corrections import REMEDIES, remedy
from copydesk.comparing.normalization import Allowances

# Right reading, as copied, what we call it, its cause, and where the handbook prints it.
# [L] W. M. Lindsay, An Introduction to Latin Textual Emendation, based on the text of Plautus (1896).
# [LR] E. A. Lowe and E. K. Rand, A Sixth-Century Fragment of the Letters of Pliny the Younger (1922).
PAIRS = [
    # [L] III 1, haplography of a word: Virgil, Georgics iv 311
    ("tenuemque magis magis aera carpunt", "tenuemque magis aera carpunt", "haplography", "words written once"),
    # [L] III 1, of a syllable: Plautus, Miles 54
    ("sivi viverent", "si viverent", "haplography", "letters written once"),
    # [L] III 1, of a letter, typical forms
    ("sic cogis", "si cogis", "haplography", "letters written once"),
    ("me experti", "mexperti", "haplography", "letters written once"),
    # [L] II 1, transposition of words: Pseudolus 322
    ("me perdas", "perdas me", "transposition", "words turned"),
    # [L] II 1, transposition of letters: Epidicus 285; Eclogues v 20
    ("te nolo", "te lono", "transposition", "letters turned"),
    ("daphnim", "dahpnim", "transposition", "letters turned"),
    # [L] II 1, anticipation left standing: Bacchides 80
    ("ut solet in istis fieri", "ut solet fieri in istis fieri", "addition", "anticipation"),
    # [L] V, substitution of a like word
    ("rara per ignaros errent", "rara per ignotos errent", "substitution", "like word"),
    # [L] VI, substitution of letters: quem for ovem (one letter, u and v being one), lenune for lenone
    ("ovem", "quem", "substitution", "one letter for another"),
    ("lenone", "lenune", "substitution", "one letter for another"),
    # [LR] Keil 82, 2: eye-skip on a repeated word
    (
        "aegrotabat Caecina Paetus, maritus eius, aegrotabat",
        "aegrotabat",
        "eye-skip",
        "same word",
    ),
    # [LR] Keil 94, 10: from like ending to like ending
    ("alia quamquam dignitate propemodum paria", "alia", "eye-skip", "like ending"),
    # [LR] Keil 69, 28: homoeoarcton and homoeoteleuton at once
    ("minorem ex liberis duobus amisit sed maiorem", "maiorem", "eye-skip", "like beginning"),
]
BEFORE, AFTER = ["quod", "scripsi", "dedi"], ["ibi", "tamen", "manet", "hodie"]


@pytest.mark.parametrize(("right", "copied", "kind", "cause"), PAIRS)
def test_pairs_of_the_handbooks(right: str, copied: str, kind: str, cause: str) -> None:
    exemplar = BEFORE + right.split() + AFTER
    outcome = compare(BEFORE + copied.split() + AFTER, exemplar, 0)
    assert [(fault.kind, fault.cause) for fault in outcome.faults] == [(kind, cause)]


@pytest.mark.parametrize(
    ("right", "copied", "letters"),
    [
        # [LR] letters lost, by their count: Keil 82, 2 and 94, 10.
        ("aegrotabat Caecina Paetus maritus eius aegrotabat", "aegrotabat", 34),
        ("alia quamquam dignitate propemodum paria", "alia", 32),
    ],
)
def test_letters_lost_as_the_handbook_counts_them(right: str, copied: str, letters: int) -> None:
    (fault,) = compare(BEFORE + copied.split() + AFTER, BEFORE + right.split() + AFTER, 0).faults
    assert f"{letters} letters" in fault.sentence
    assert len(fault.should.replace(" ", "")) == letters


def test_words_transposed_and_spelt_otherwise() -> None:
    """[L] II 1, Stichus 293: ``aequom censeo`` copied ``censeo aequum``; the spelling is no part of the slip."""
    allow = Allowances(spellings=(("aequom", "aequum"),))
    exemplar = [*BEFORE, "aequom", "censeo", *AFTER]
    outcome = compare([*BEFORE, "censeo", "aequum", *AFTER], exemplar, 0, allow=allow)
    assert [fault.kind for fault in outcome.faults] == ["transposition"]


def test_an_intruded_gloss() -> None:
    """[L] IV 1, Casina 517: ``curam eme castigare``, with the gloss ``exime`` copied in."""
    exemplar = [*BEFORE, *["curam", "eme", "castigare"], *AFTER]
    copied = [*BEFORE, *["curam", "eme", "curam", "exime", "castigare"], *AFTER]
    (fault,) = compare(copied, exemplar, 0, glosses=["exime"]).faults
    assert (fault.kind, fault.cause, fault.stands) == ("addition", "gloss taken in", "curam exime")


def test_two_lines_of_the_exemplar() -> None:
    """[LR] Keil 123, 10: two lines of about 26 letters in the supposed exemplar."""
    right = [
        "sentiebant",
        "interrogati",
        "a",
        "Nepote",
        "praetore",
        "quem",
        "docuissent",
        "responderunt",
        "quem",
        "prius",
    ]
    lines = [len(BEFORE) + 1, len(BEFORE) + 5, len(BEFORE) + 8]
    copied = [*BEFORE, "sentiebant", "quem", "prius", *AFTER]
    (fault,) = compare(copied, BEFORE + right + AFTER, 0, exemplar_lines=lines).faults
    assert fault.kind == "line skipped"
    assert "2 whole lines" in fault.sentence


def test_a_line_copied_in_out_of_its_place() -> None:
    """[L] II 6, Menaechmi 465, which stands after 474 in the later manuscripts: omitted, then copied in further on.

    The lines are stand-ins; only their order is the handbook's.
    """
    verses = [[f"v{number}{letter}" for letter in "abcdef"] for number in range(460, 480)]
    order = [*range(460, 465), *range(466, 475), 465, *range(475, 480)]
    exemplar = [word for verse in verses for word in verse]
    copied = [word for number in order for word in verses[number - 460]]
    (fault,) = compare(copied, exemplar, 0, exemplar_lines=range(0, len(exemplar), 6)).faults
    assert (fault.kind, fault.cause) == ("line displaced", "whole line")
    assert fault.word == 5 * 6


def test_a_leaf_skipped_brings_the_next_words_early() -> None:
    """[L] II 6, Pseudolus 1162-1204: a scribe skipped a leaf, so that 1205 follows 1161. Stand-in words again."""
    exemplar = [f"v{number}{letter}" for number in range(1120, 1250) for letter in "abcd"]
    leaf, next_leaf = (1162 - 1120) * 4, (1205 - 1120) * 4
    copied = exemplar[:leaf] + exemplar[next_leaf : next_leaf + 40]
    (fault,) = compare(copied, exemplar, 0, exemplar_leaves=(leaf, next_leaf)).faults
    assert (fault.kind, fault.word) == ("leaf skipped", leaf)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        # K. Rudy, Piety in Pieces (2016), on correction: scraping, and the velvety surface after it.
        ("scraped", "velvet"),
        # [L] IV 1: dots under the wrong word, syllable or letter.
        ("expunged", "Dots are set under"),
        # [L] IV 1: above the word it precedes.
        ("interlined", "above the word it comes before"),
        # [L] IV 1, II 6: in the margin with a mark at the place; a line in the top or bottom margin.
        ("in the margin", "top or bottom margin"),
        # E. A. Lowe and E. K. Rand, A Sixth-Century Fragment (1922): words written over an erasure; that it goes
        # on over the lines that follow, where the right words are longer, is common practice.
        ("written again from here", "scraped, burnished and written again"),
        # R. Hanna, St John's College (2002), MS 98: a cancel and its stub.
        ("leaf cancelled", "stub"),
    ],
)
def test_remedies_as_the_sources_tell_them(name: str, says: str) -> None:
    assert says in remedy(name).how


def test_no_other_remedies() -> None:
    assert len(REMEDIES) == 7
