"""Makes the typeface of our papers: the letters a workshop meets, taken out of three free families.

Run, where fonttools is installed: python tests/shipped/make_typeface.py FOLDER
FOLDER holds, at any depth, DejaVuSans.ttf and DejaVuSans-Bold.ttf (2.37), NotoSans-Regular.ttf and NotoSans-Bold.ttf
(2.004) and JunicodeTwoBeta-Regular.otf (1.053); Debian packages all three families. Each later family gives only the
letters those before it lack. Hebrew and Arabic are left out: our papers write from the left alone.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter, load_font
from fontTools.ttLib import TTFont, newTable

INTO = Path(__file__).parents[2] / "copydesk" / "papers" / "drawing" / "typeface"

BLOCKS = (
    (0x0020, 0x058F, "Latin, phonetic letters, marks, Greek, Cyrillic, Armenian"),
    (0x10A0, 0x10FF, "Georgian"),
    (0x1680, 0x16FF, "Ogham, runes"),
    (0x1AB0, 0x1AFF, "more marks"),
    (0x1C80, 0x1C8F, "more Cyrillic"),
    (0x1D00, 0x1FFF, "phonetic letters, small letters over others, Latin and Greek with accents"),
    (0x2000, 0x23FF, "punctuation, raised and lowered figures, letters as signs, arrows, metre"),
    (0x2500, 0x27FF, "rules, boxes, ticks, leaves and hands"),
    (0x2C60, 0x2C7F, "more Latin"),
    (0x2D00, 0x2D2F, "more Georgian"),
    (0x2DE0, 0x2E7F, "Cyrillic letters over others, old punctuation"),
    (0xA640, 0xA69F, "old Cyrillic"),
    (0xA700, 0xA7FF, "medieval Latin"),
    (0xAB30, 0xAB6F, "more Latin"),
    (0xFB00, 0xFB17, "joined letters"),
    (0xFE20, 0xFE2F, "half marks"),
    (0xFFFD, 0xFFFD, "the sign for a character that could not be read"),
)
"""First and last code point, and what stands there."""

FAMILIES = (
    {"DejaVuSans.ttf": "DejaVuSans.ttf", "DejaVuSans-Bold.ttf": "DejaVuSans-Bold.ttf"},
    {"NotoSans-Regular.ttf": "NotoSans-Regular.ttf", "NotoSans-Bold.ttf": "NotoSans-Bold.ttf"},
    {"JunicodeTwoBeta-Regular.otf": "Junicode-Regular.ttf"},
)
"""Each file of a family, and what we call it."""

STRAY = 1.0  # how far a curve of two handles may stray from one of three, in the thousandths a letter is drawn in


def made(source: Path, letters: set[int], into: Path) -> None:
    """Write the ``letters`` of one font, without hints and rules of shaping, which our papers do not use."""
    options = Options(hinting=False, layout_features=[], notdef_outline=True, recalc_timestamp=False)
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.drop_tables += ["GPOS", "GSUB", "GDEF", "MATH", "kern", "gasp", "FFTM", "DSIG"]
    font = load_font(str(source), options)
    cutter = Subsetter(options)
    cutter.populate(unicodes=letters)
    cutter.subset(font)
    if "CFF " in font:
        with_two_handles(font)
    font.save(into)


def with_two_handles(font: TTFont) -> None:
    """Turn outlines of three handles to those of two, which the PDF library wants."""
    glyphs, outlines = font.getGlyphSet(), {}
    for name in font.getGlyphOrder():
        pen = TTGlyphPen(glyphs)
        glyphs[name].draw(Cu2QuPen(pen, STRAY, reverse_direction=True))
        outlines[name] = pen.glyph()
    del font["CFF "]
    font["loca"], font["glyf"] = newTable("loca"), newTable("glyf")
    font["glyf"].glyphOrder, font["glyf"].glyphs = font.getGlyphOrder(), outlines
    most = font["maxp"]
    most.tableVersion, most.maxZones = 0x00010000, 1
    for name in ("TwilightPoints", "Storage", "FunctionDefs", "InstructionDefs", "StackElements", "SizeOfInstructions"):
        setattr(most, f"max{name}", 0)
    most.maxComponentElements = 0
    font["post"].formatType = 3.0
    font.sfntVersion, font.recalcBBoxes = "\x00\x01\x00\x00", True


def main(folder: Path) -> None:
    """Make every file of the typeface."""
    wanted = {code for first, last, _ in BLOCKS for code in range(first, last + 1)}
    INTO.mkdir(exist_ok=True)
    for family in FAMILIES:
        sources = {next(folder.rglob(name)): INTO / ours for name, ours in family.items()}
        here = set.intersection(*(set(TTFont(source).getBestCmap()) for source in sources)) & wanted
        for source, into in sources.items():
            made(source, here, into)
        wanted -= here


if __name__ == "__main__":
    main(Path(sys.argv[1]))
