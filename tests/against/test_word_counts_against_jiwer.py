"""Words changed, missing and added, against the counts of a word-error-rate library and published small cases."""

from __future__ import annotations

import jiwer
import pytest

from copydesk.comparing.compare import compare
from copydesk.comparing.normalization import Allowances
from slips import Spoiler, help_topics

TEXT = help_topics()
VERSE = (
    "arma virumque cano troiae qui primus ab oris italiam fato profugus laviniaque venit litora multum ille et "
    "terris iactatus et alto vi superum saevae memorem iunonis ob iram multa quoque et bello passus dum conderet "
    "urbem"
)


# What is written for what, and changed, missing, added as jiwer 4.0.0 and rapidfuzz 3.14.6 both count them.
@pytest.mark.parametrize(
    ("right", "copied", "counts"),
    [
        ("qui primus ab", "qui ab", (0, 1, 0)),
        ("oris italiam fato profugus laviniaque venit", "oris venit", (0, 4, 0)),
        ("ille et terris iactatus et alto", "ille et alto", (0, 3, 0)),
        ("cano troiae", "cano cano troiae", (0, 0, 1)),
        ("venit litora multum ille", "venit litora multum venit litora multum ille", (0, 0, 3)),
        ("superum saevae", "deorum saevae", (1, 0, 0)),
        ("venit litora multum ille", "multum litora venit ille", (2, 0, 0)),
        ("bello passus", "bello heu passus", (0, 0, 1)),
        ("qui primus ab", "prius ab", (1, 1, 0)),
        ("arma virumque", "arma virum que", (1, 0, 1)),
        ("ab oris", "aboris", (1, 1, 0)),
    ],
)
def test_small_cases(right: str, copied: str, counts: tuple[int, int, int]) -> None:
    assert right in VERSE
    outcome = compare(VERSE.replace(right, copied).split(), VERSE.split(), 0)
    assert (outcome.changed, outcome.missing, outcome.added) == counts


@pytest.mark.parametrize("kind", ["omission", "eye-skip", "haplography", "substitution", "addition", "repetition"])
def test_single_slips_are_counted_alike(kind: str) -> None:
    for seed in range(12):
        slip = Spoiler(TEXT, seed).slip(kind)
        ours = compare(slip.copied, slip.exemplar, slip.start)
        right, copied = slip.exemplar[ours.began : ours.reached], slip.copied
        assert (ours.changed, ours.missing, ours.added) == _by_jiwer(right, copied), slip


@pytest.mark.parametrize("every", [97, 41, 23, 11])
def test_pages_with_many_wrong_words_are_counted_alike(every: int) -> None:
    for start in range(1000, 13000, 3000):
        right = TEXT.words[start : start + 300]
        copied = [f"{word}zz{at}" if at % every == 7 else word for at, word in enumerate(right)]
        ours = compare(copied, TEXT.words, start)
        assert (ours.changed, ours.missing, ours.added) == _by_jiwer(right, copied)


def _by_jiwer(right: tuple[str, ...] | list[str], copied: tuple[str, ...] | list[str]) -> tuple[int, int, int]:
    """Substitutions, deletions and insertions by jiwer over the same keys."""
    allow = Allowances()
    reference, hypothesis = (" ".join(filter(None, allow.keys(words))) for words in (right, copied))
    counts = jiwer.process_words(reference, hypothesis)
    return counts.substitutions, counts.deletions, counts.insertions
