"""How gatherings and leaves are signed, against printed descriptions of books.

SJC is R. Hanna, A Descriptive Catalogue of the Western Medieval Manuscripts of St John's College, Oxford, 2002.
"""

from __future__ import annotations

import pytest

from copydesk.book.structure.collation import Collation
from copydesk.book.structure.signatures import ALPHABET, leaf_signatures, letter, letter_number


@pytest.mark.parametrize(
    ("last", "signed"),
    # SJC 40: quires 1-11 are a-l; 77, 109, 79: 1-16 a-q; 6: 1-17 A-R; 139: 22 are a-y; 64: 23 are a-z.
    # SJC 18 and 171: after z come & and con.
    [(11, "l"), (16, "q"), (17, "r"), (22, "y"), (23, "z"), (24, "&"), (25, "con")],
)
def test_letter_of_a_gathering(last: int, signed: str) -> None:
    assert letter(last) == signed
    assert letter_number(signed) == last


def test_letters_from_the_fifth_gathering() -> None:
    # SJC 35: quires 5-22 are signed e-y.
    assert (letter(5), letter(22)) == ("e", "y")


def test_sixteen_gatherings_are_not_signed_a_to_r() -> None:
    # SJC 87 claims 16 quires a-r: in 23 letters r is the seventeenth, so the claim does not hold.
    assert letter_number("r") == 17


def test_alphabet_of_23() -> None:
    # M. Roberts and D. Etherington, Bookbinding and the Conservation of Books: A-I, K-T, V, X-Z.
    assert ALPHABET.upper() == "ABCDEFGHI" + "KLMNOPQRST" + "V" + "XYZ"
    assert len(ALPHABET) == 23


def test_letters_are_doubled_next() -> None:
    # Common practice of printing houses: aa, bb follow; a third round is aaa.
    assert [letter(number) for number in (26, 27, 48, 49)] == ["aa", "bb", "zz", "aaa"]


@pytest.mark.parametrize(("first", "last", "count"), [("B", "O", 13), ("A", "O", 14)])
def test_letters_counted_from_one_to_another(first: str, last: str, count: int) -> None:
    # Massachusetts Historical Society on The Doctrine of Devils, 108 leaves: B-O is 13 letters.
    # Folger Shakespeare Library on Macrobius 1513, [4], CXXII leaves: A-O is 14.
    numbers = [letter_number(text) for text in (first, last)]
    assert numbers[1] == (numbers[0] or 0) + count - 1


def test_first_half_of_each_gathering_is_signed() -> None:
    # M. P. Brown, Understanding Illuminated Manuscripts, 1994, s.v. Quire: ai-aiv, then bi-biv.
    signed = leaf_signatures(Collation.regular(2, 4))
    assert [str(page) for page in signed] == ["1r", "2r", "3r", "4r", "9r", "10r", "11r", "12r"]
    assert list(signed.values()) == ["a j", "a ij", "a iij", "a iiij", "b j", "b ij", "b iij", "b iiij"]
