"""The built-in letter widths against the published metrics they come from, and against others."""

from __future__ import annotations

import pytest

from copydesk.book.text.letter_widths import RELATIVE

# Letter, then its advance width in thousandths of an em in P052 Roman and in Z003 Medium Italic.
# Source: P052-Roman.afm and Z003-MediumItalic.afm, URW++ core 35 fonts, release 20200910 (read in Debian's
# fonts-urw-base35 20200910-7). The figures are those of Adobe's metrics for Palatino and ITC Zapf Chancery.
FACES = r"""
    a 500 420  b 553 420  c 444 340  d 611 440  e 479 340  f 333 320  g 556 400  h 582 440
    i 291 240  j 234 220  k 556 440  l 291 240  m 883 620  n 582 460  o 546 400  p 601 440
    q 560 400  r 395 300  s 424 320  t 326 320  u 603 460  v 565 440  w 834 680  x 516 420
    y 556 400  z 500 440  A 778 620  B 611 600  C 709 520  D 774 700  E 611 620  F 556 580
    G 763 620  H 832 680  I 337 380  J 333 400  K 726 660  L 611 580  M 946 840  N 831 700
    O 786 600  P 604 540  Q 786 600  R 668 600  S 525 460  T 613 500  U 778 740  V 722 640
    W 1000 880  X 667 560  Y 667 560  Z 667 620  0 500 440  1 500 440  2 500 440  3 500 440
    4 500 440  5 500 440  6 500 440  7 500 440  8 500 440  9 500 440  . 250 220  , 250 220
    : 250 260  ; 250 240  ! 278 280  ? 444 380  ' 208 160  " 500 360  ` 278 240  - 333 280
    ( 333 260  ) 333 220  * 389 420  _ 500 500  $ 500 440  ‘ 278 240  ’ 278 240  “ 500 340
    ” 500 360  – 500 500  — 1000 1000  [ 333 240  ] 333 320  / 606 340  & 778 780  æ 758 540
    œ 827 560  Æ 944 740  Œ 998 820  ø 556 440  Ø 833 660  ß 556 420  ð 546 400  Ð 774 700
    þ 601 440  Þ 604 540  ł 291 300  Ł 611 580  ı 287 240  ſ 333 320  ¶ 628 500  § 500 420
    † 500 460  « 500 340  » 500 380  · 250 220  đ 611 440  Đ 774 700  … 1000 1000  ‡ 500 480
    + 606 520  = 606 520  ‚ 278 180  „ 500 280  ‹ 331 240  › 331 260  { 333 240  } 333 240
    ¿ 444 400  ¡ 278 280  < 606 520  > 606 520  % 840 680  # 500 440  @ 747 700  | 606 520
    • 606 600  ~ 606 520  ^ 606 520  \ 606 480  ° 400 400  − 606 520  × 606 520
"""
# The o of P052 Roman is 32 to 514 wide in an advance of 546 (its bounding box in the same file).
O_ADVANCE, O_LEFT, O_RIGHT = 546, 32, 514

# Per cent of letters in English. R. E. Lewand, Cryptological Mathematics (2000), 36; from memory.
ENGLISH = {
    "a": 8.167, "b": 1.492, "c": 2.782, "d": 4.253, "e": 12.702, "f": 2.228, "g": 2.015, "h": 6.094, "i": 6.966,
    "j": 0.153, "k": 0.772, "l": 4.025, "m": 2.406, "n": 6.749, "o": 7.507, "p": 1.929, "q": 0.095, "r": 5.987,
    "s": 6.327, "t": 9.056, "u": 2.758, "v": 0.978, "w": 2.360, "x": 0.150, "y": 1.974, "z": 0.074,
}  # fmt: skip
LETTERS_IN_A_WORD = 4.7  # common figure for English

# Characters of J. Milton, Paradise Lost, words joined by one space: the most frequent 62, as counted in the copy
# plrabn12.txt of the Canterbury corpus (R. Arnold and T. Bell, 1997; public domain text, 80,163 words).
MILTON = {
    " ": 80162, "e": 45114, "t": 29794, "o": 26309, "a": 24823, "n": 24692, "h": 23690, "s": 23018, "r": 22813,
    "i": 22350, "d": 16854, "l": 15082, "u": 10776, ",": 10253, "m": 8306, "f": 8070, "w": 7742, "c": 7349,
    "g": 7269, "p": 5818, "y": 5117, "b": 4721, "v": 3775, ";": 2327, "T": 2178, "k": 1997, "A": 1732, ".": 1303,
    "H": 1295, "I": 1248, "O": 1148, "S": 1140, "W": 996, ":": 773, "B": 687, "F": 668, "'": 610, "M": 602,
    "-": 596, "E": 493, "G": 482, "x": 463, "C": 410, "N": 407, "j": 405, "D": 403, "P": 376, "?": 322, "L": 274,
    "!": 267, "q": 246, "R": 211, "z": 178, "U": 160, "Y": 100, "V": 73, ")": 67, "(": 66, "J": 64, '"': 59,
    "K": 57,
}  # fmt: skip


def faces() -> dict[str, tuple[int, int]]:
    fields = FACES.split()
    return {
        letter: (int(upright), int(italic))
        for letter, upright, italic in zip(fields[::3], fields[1::3], fields[2::3], strict=True)
    }


def mean_letter(face: int, space: float) -> float:
    widths = faces()
    spaces = sum(ENGLISH.values()) / LETTERS_IN_A_WORD
    letters = sum(share * widths[letter][face] for letter, share in ENGLISH.items())
    return (letters + spaces * space) / (sum(ENGLISH.values()) + spaces)


def word_space(face: int) -> float:
    """The ink of the o, less the white that stands beside the letters at both ends of the gap."""
    ink = O_RIGHT - O_LEFT
    return faces()["o"][face] * (ink - (O_ADVANCE - ink)) / O_ADVANCE


def relative_to_its_mean(face: int, width: float) -> float:
    return width / mean_letter(face, word_space(face))


@pytest.mark.parametrize("letter", faces())
def test_a_letter_is_the_mean_of_the_two_faces(letter: str) -> None:
    expected = sum(relative_to_its_mean(face, faces()[letter][face]) for face in (0, 1)) / 2
    assert RELATIVE.width_of(letter) == pytest.approx(expected, abs=0.006)


def test_the_word_space_is_the_width_of_an_o() -> None:
    """E. Johnston, Writing & Illuminating, & Lettering (1906), 78."""
    expected = sum(relative_to_its_mean(face, word_space(face)) for face in (0, 1)) / 2
    assert RELATIVE.space == pytest.approx(expected, abs=0.006)


def test_english_has_a_mean_letter_of_one() -> None:
    spaces = sum(ENGLISH.values()) / LETTERS_IN_A_WORD
    total = sum(share * RELATIVE.width_of(letter) for letter, share in ENGLISH.items()) + spaces * RELATIVE.space
    assert total / (sum(ENGLISH.values()) + spaces) == pytest.approx(1, abs=0.002)


def test_a_real_text_with_capitals_and_points_has_a_mean_letter_near_one() -> None:
    total = sum(count * RELATIVE.width_of(letter) for letter, count in MILTON.items())
    assert total / sum(MILTON.values()) == pytest.approx(1, abs=0.01)


def test_the_widths_rank_letters_as_another_face_does() -> None:
    """Times-Roman, Adobe core 14 metrics, as shipped in a printing library."""
    from reportlab.pdfbase._fontdata import widthsByFontGlyph  # type: ignore[import-not-found]
    from scipy.stats import pearsonr

    times = widthsByFontGlyph["Times-Roman"]
    letters = [letter for letter in times if len(letter) == 1]
    ours = [RELATIVE.width_of(letter) for letter in letters]
    assert len(letters) == 52
    assert pearsonr(ours, [times[letter] for letter in letters]).statistic > 0.93
