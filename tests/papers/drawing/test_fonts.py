"""The faces of our papers: every letter a workshop meets is there, as wide as it was, and light to carry."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
import reportlab
from reportlab.pdfbase.ttfonts import TTFont

from copydesk.papers.drawing import fonts as faces

HERE = Path(faces.__file__).with_name("typeface")

MEDIEVAL = {
    "strokes for letters left out": "ꝑꝓꝕꝗꝙꝝꝟꝥꝧꝉꝁꝃđħłꞧ",
    "marks for syllables": "⁊ꝛꝯꝰꝫꝭ℞℟℣÷∻",
    "Old English and Norse": "ƿȝþðæǣœęǫꝺꝼꝿꞃꞅꞇᵹꜳꜵꜷꜹꜽꝏꟑꟓꟕꟗ",
    "long and tall": "ſẜẝꟾꝡꞁꝇꝋ",
    "letters over others": "".join(map(chr, (*range(0x0363, 0x0370), 0x1DD1, 0x1DD3, 0x1DDA))),
    "marks over and under": "".join(map(chr, (*range(0x0300, 0x0315), 0x0323, 0x0328, 0x0331, 0x0332, 0x0335, 0x0361))),
    "raised": "ªºᵃᵇᶜᵈᵉʰⁱˡᵐⁿᵒᵖʳˢᵗᵘˣ⁰¹²³⁴",
    "points": "·⸱⸳⸵⹎⁊¶⁋⸿☙❧☞⁂†‡§‖‸⁒∴∵⁖⁘⁙⁚⁝⁞⸗⸌⸍",
    "Greek and Cyrillic": "αβγδεζηθικλμνξοπρστυφχψωᾳἀῶϛϝЖжѣѫҁ",
    "runes and numerals": "ᚠᚢᚦᚩᚱᚳᛗᛟᛞↀↁↂↃ",
}


@pytest.mark.parametrize("wanted", [faces.ROMAN, faces.BOLD])
@pytest.mark.parametrize("letters", MEDIEVAL.values(), ids=MEDIEVAL)
def test_a_face_or_its_helpers_have_the_letters_of_the_trade(letters: str, wanted: str) -> None:
    assert [hex(ord(letter)) for letter in letters if faces.face_with(letter, wanted) is None] == []


def test_letters_keep_the_widths_of_the_face_they_were_drawn_from() -> None:
    older = TTFont("older", str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf"))
    for letter in map(chr, (*range(0x20, 0x7F), *range(0xA1, 0x100))):
        assert faces.width_in(letter, faces.ROMAN) == pytest.approx(older.stringWidth(letter, 1), abs=0.001), letter


def test_ink_lies_where_the_outline_does() -> None:
    assert faces.ink(" ", faces.ROMAN) == (0, 0, 0, 0)
    low, tall, long = (faces.ink(letter, faces.ROMAN) for letter in "xlp")
    assert tall.high > low.high > 0.5
    assert long.low < -0.15 < low.low == 0
    assert 0 <= low.left < low.right <= faces.width_in("x", faces.ROMAN)


def test_a_mark_takes_no_room() -> None:
    assert faces.width_in("\u0304", faces.ROMAN) == 0


def test_the_faces_are_light_and_their_licence_lies_beside_them() -> None:
    assert sum(path.stat().st_size for path in HERE.iterdir()) < 1_000_000
    licence = (HERE / "LICENCE").read_text(encoding="utf-8")
    told = {word for word in licence.replace(",", " ").split() if word.endswith(".ttf")}
    assert {path.name for path in HERE.glob("*.ttf")} == told
    assert "Bitstream Vera" in licence
    assert "Open Font License" in licence


def test_a_face_is_read_only_where_a_letter_of_it_is_wanted() -> None:
    asked = (
        "from copydesk.papers.drawing import fonts, typesetting; "
        "typesetting.setting({!r}); print(fonts.face.cache_info().currsize)"
    )
    for text, read in (("plain words", "1"), ("waꝛp", "2")):
        done = subprocess.run([sys.executable, "-c", asked.format(text)], capture_output=True, text=True, check=True)
        assert done.stdout.strip() == read
