"""Collation formulas against the leaf totals their own sources state.

SJC is R. Hanna, A Descriptive Catalogue of the Western Medieval Manuscripts of St John's College, Oxford, 2002, and
Christ Church is R. Hanna and D. Rundle, A Descriptive Catalogue of the Western Manuscripts, to c. 1600, in Christ
Church, Oxford, 2017, both by the Bodleian Libraries' records of them; Auct. and Bodl. are records of the Bodleian's
catalogue of western medieval manuscripts; Ker is N. R. Ker, Catalogue of Manuscripts containing Anglo-Saxon, 1957,
p. xxii; TEI is the TEI P5 Guidelines 4.9.0a, chapter Manuscript Description; St John's Cambridge is M. R. James, A
Descriptive Catalogue of the Manuscripts in the Library of St John's College, Cambridge, 1913, by the college's pages,
where raised figures stand on the line and are raised here again. Totals marked "derived" are sums, not
statements.
"""

from __future__ import annotations

import pytest

from copydesk.book.common.errors import InvalidValueError
from copydesk.book.formula.collation_formula import facts, parse
from copydesk.book.formula.formatter import show

AGREE = {
    "SJC 1": ("1–15^12 16^6 17–26^12 27^10(–10, probably blank) 28^6", 28, 321),
    "SJC 12": ("1–13^10 14^8 15–25^10 26^12", 26, 260),
    "SJC 20": ("1–21^8 22^10", 22, 178),
    "SJC 26": ("1–21^8 22^4(–4)", 22, 171),
    "SJC 29": ("1–38^12 39^10 40^12", 40, 478),
    "SJC 42": ("1–8^10 9–10^8", 10, 96),
    "SJC 65": ("1–16^12 17^12(–12, probably blank)", 17, 203),
    "SJC 106 A": ("1^10 (1 a fragment) 2^10(–4 to –7) 3–13^8 14^10", 14, 114),
    "SJC 108": ("1–9^12 10^10 11–25^12 26^16+1(+17) 27^10 28–29^12 30^2", 30, 351),
    "SJC 110": (
        "1^12(–1, –3) 2–5^12 6^12(–8) 7–22^12 23^8(–6) 24^12(–10, –11, –12) 25–31^12 32^12(–2, –12)",
        32,
        371,
    ),
    "SJC 114": ("1–2^8 3^8+1(+9) 4^8+1(+1) 5–9^8 10^12 11–14^8 15^4", 15, 122),
    "SJC 116": ("1^6 2–11^12 12^10 13^12 14^14(–1 to –3, –12 to –14)", 14, 156),
    "SJC 120": ("1–4^10 5^14 [54] | 6^10+1(+1) 7^10+1(+11) [76] | 8^8 9–10^10 11^10(–8, –9, –10)", 11, 111),
    "SJC 147": ("1–8^14 9^14(–13) [125] | 10–18^10 19^10(–10) [224] | 20–24^8", 24, 264),
    "SJC 176 f": ("14^8 15^8(–8) 16–19^8 20^10 21^12+1(–3, +12)", 8, 69),
    "SJC 178 c": ("14^6+6 (+2, +3, +4, +5, +10, +11, –12)", 1, 11),
    "SJC 188 c": ("4^10 5^6+1(+3, pasted to a stub)", 2, 17),
    "SJC 208": ("1^6 [6] | 2–8^8 9^6(–6) [67] | 10–12^8 [91] | 13–15^8 16^8(+9)", 16, 124),
    "SJC 35": (
        "1^8(–8; +8, modern) 2–5^8 6^8(–2; +2) 7–8^8 9^8(–7; +7) 10^8(–6; +6) 11–18^8 19^8(–2, –6, –8; +2, +6, +8)"
        " 20^8(–1; +1) 21–22^8 23^10(–10)",
        23,
        185,
    ),
    "SJC 5": ("1–5^10 6^10(–3, –4, –7, –8) 7–16^10 17^10(–1, –10) 18^10 19^10(–9, –10)", 19, 182),
    "Massachusetts Historical Society, The Doctrine of Devils": ("8°: A^4 B–O^8, 108 leaves", 14, 108),
    "Folger Shakespeare Library, Macrobius 1513: [4], CXXII leaves": ("a^4 A–O^8 P^10", 16, 4 + 122),
    "TEI, gatherings of 7 (8 less the first), 8, 7, 2, leaves 1–24": ("1^8(–1) 2^8 3^8(–8) 4^2", 4, 24),
    "TEI, sheets leaf by leaf, its own numbers to 19": (
        "I (1, 2+9, 3+8, 4+7, 5+6, 10); II (11, 12+17, 13, 14, 15, 16, 18, 19)",
        2,
        19,
    ),
    "TEI, with colons; derived": ("1-3:8, 4:6, 5-13:8", 13, 102),
    "Christ Church 98": ("1^6 2–11^12 12^6. No catchwords or signatures.", 12, 132),
    "Christ Church 167": ("Quires of eight: 1-11^8 12-13^2. No catchwords, and no leaf or quire signatures.", 13, 92),
    "Christ Church 92": (
        "1^4 2-4^8 5^8 (lacking fifth) 6-7^8 8^10 (with a bifolium added as fifth and sixth) 9^6 10^2 [fol. 71] |"
        " 11^2 (lacking first, a stub) 12^6 (lacking tenth; with two consecutive inserted bifolia, each sewn in"
        " separately, as fifth to eighth).",
        12,
        81,
    ),
    "Christ Church 100, extent 259 with the rear pastedown": (
        "1^6 2^6 3^10 (-1, removed with loss of text; -10 [after fol. 20], a mere stub remaining) | 4^8 5^8 (-4 [after"
        " fol. 31], cut out with a razor) 6^8 7^2 (-2, leaving 1 [fol. 44] loose) 8^6 9^10 (-10 [after fol. 59], only a"
        " stub remaining) 10^4 11^6 12^8 13^10 (-9, -10 [after fol. 85]) 14^8 (-8 [after fol. 92]) 15-19^8 20^6 (-1)"
        " [to fol. 137, a production unit] | 21^8 (-1, -5, a stub remaining, and -8 [after fol. 142]) 22^6 (-6 [after"
        " fol. 147]) 23^8 [to fol. 155, a production unit] | 24^10 (-10 [after fol. 164]) 25^10 (-3 [after fol. 166])"
        " 26-29^8 30^6 [to fol. 211, a production unit] | 31^8 (-2 [after fol. 212]) 32^2 33^8 [to fol. 228, a"
        " production unit] | 34^8 35^8 (-1 [before fol. 237]) 36^8? (outer two bifolia only present [fol. 244-47] with"
        " central bifolia removed) 37^8 38^6? (outer two bifolia only present [fol. 256-258 and rear pastedown]). No"
        " catchwords or signatures.",
        38,
        259,
    ),
    "Ker (a)": ("1^8", 1, 8),
    "Ker (b)": ("1^8 3 and 6 are singletons", 1, 8),
    "Ker (c), its prose, which has sheets 1+6, 2+5, 3+4": ("1^6 +1 leaf after 5", 1, 7),
    "Ker (d)": ("1^6 +1 leaf inserted after 5", 1, 7),
    "Ker (e)": ("1^8 wants 2", 1, 7),
    "Ker (f)": ("1^8 wants 8, probably blank", 1, 7),
    "Bodl. 860, derived": ("25^8+2 (4/5 add.)", 1, 10),
    "STCV manual after Bowers, derived": ("A-D^4 $4 (−A3,4) signed", 4, 16),
    "Bodleian records, derived": ("1(8) II–XI(8)", 11, 88),
    "St John's Cambridge N.3, ff. 458": (
        "1^16 2^20 3^16 – 9^16 10^14 11^16 – 26^16 27^6 28^16 29^18.",
        29,
        458,
    ),
    "St John's Cambridge D.23, ends f. 84b": ("a^8 - e^8 (wants 7) f^8 - l^8 (wants 6-8).", 11, 84),
    "St John's Cambridge K.48, ff. 8 + 186 + 6": (
        "a^8 (modern blank vellum), 1^8 – 3^8 (1, 2 mut.) 4^8 – 22^8 23^10, b^6.",
        25,
        8 + 186 + 6,
    ),
    "St John's Cambridge I.28, ff. 323 + 5": (
        "a^4 (+ 1) 1^10 2^12 – 4^12 5^10 6^10 7^12 – 13^12 14^10 15^12 – 19^12 20^14 (12 canc.) 21^14 22^12 23^14 24^10"
        " 25^10 | 26^10 | 27^18 28? (two).",
        29,
        323 + 5,
    ),
    "Huntington Library, Guide to Medieval and Renaissance Manuscripts, HM 147, f. 116 now back pastedown": (
        "1-14^8 15^4(4 now back pastedown). Catchwords in lower right margin; quire and leaf signatures in letters and"
        " arabic numerals.",
        15,
        116,
    ),
    "J. Sherwood on the list DCRM-L, 10 May 2024, as cataloguers write it": (
        "Parchment, fol. 178; 1-9⁸ 10⁴ (+5, fol. 77) 11-22⁸ 23⁶ (-6).",
        23,
        178,
    ),
    "John Rylands Library, Latin MS 500, ff. i+26+i": ("Quire 1^12 Quire 2^14", 2, 26),
}


LOOKED_AT = {
    "St John's Cambridge N.19, ff. 153": (
        "1^6 (wants 1) 2^4 3^8 – 7^8 (wants 1) 8^8 - 20^8 21? (one left)",
        153,
        ("gathering 21 has 1 leaf",),
    ),
    "St John's Cambridge G.12, ff. 233 + 4": (
        "a^2 1^8 (wants 5 – 8 ?), a quire gone, 2^8 – 17^8 18^6 19^8 20^6 (wants 6) | 21^8 – 26^8 27? (three) 28^8 –"
        " 30^8 31^6 | 32 (one) b^2.",
        233 + 4,
        ("'a quire gone'", "gathering 27 has 3 leaves", "gathering 32 has 1 leaf"),
    ),
    "the same list, fol. 178, the fifth leaf as a gathering": (
        "1-9⁸ 10⁴ 11¹ 12-23⁸ 24⁶ (-6)",
        178,
        ("gathering 11 has 1 leaf",),
    ),
    "IRHT, Lettre volée, examen du codex, 97 leaves foliated": (
        "1² (f. 1-2) 2⁴ (f. 3-6) 3⁸-9⁸ (f. 7-62) 10⁶ (f. 63-68) 11⁴ (6 - 2) (f. 69-72) 12⁸ (6 + 2) (f. 73-80) 13⁶ (8 -"
        " 2) (f. 81-86) 14⁶ (f. 87-92) 15⁵ (8 - 3) (f. 93-97)",
        97,
        ("gathering 11 are gone", "gathering 12 were added", "gathering 13 are gone", "gathering 15 are gone"),
    ),
    "National Library of Wales, Peniarth 392, 31 quires, by Late Medieval English Scribes; raised figures": (
        "I-V^8, VI^2, VII^6, VIII-XI^8, XII^6, XIII-XX^8, XXI^8+1, XXII^8, XXIII-XXVIII^8, XXIX^10, XXX-XXXI^8.",
        241,  # derived; 250 leaves are counted, the flyleaves among them
        ("gathering XXI was added",),
    ),
}


@pytest.mark.parametrize("source", LOOKED_AT)
def test_leaves_come_out_and_what_is_not_said_is_told(source: str) -> None:
    text, leaves, told = LOOKED_AT[source]
    formula = parse(text)
    assert formula.leaves == formula.collation().leaves == leaves
    for words in told:
        assert any(words in warning for warning in formula.warnings), formula.warnings
    assert parse(show(formula)).leaves == leaves


REFUSED = {
    "National Library of Australia, psalter, by K. V. Sinclair 1969, p. 9, after medievalwriting.50megs.com": (
        "(6)1 (8)2-4 (2)5 (7)6 (8)7-15. Quire 6 lacks its third sheet.",
        "the leaves stand before the gathering here",
    ),
    "Peniarth 392, figures on the line": (
        "I-V8, VI2, VII6, VIII-XI8, XII6, XIII-XX8, XXI8+1, XXII8, XXIII-XXVIII8, XXIX10, XXX-XXXI8.",
        "the leaves do not stand apart from the name",
    ),
    "Mount Angel Abbey, MS 28, as bound": ("A6, B-D12, E6, F-H12, I-K8, L8(-1)", "the leaves do not stand apart"),
    "Mount Angel Abbey, MS 28, disbound": (
        "A8, B6, C-F8, G2, H4, I8, J-K6, L-M8, N8(-1), O6, P6(-1)",
        "the leaves do not stand apart",
    ),
    "Jonas, IRHT, record 77355, 124 leaves": (
        "2*(IV)16 + 2*(V)36 + (IV)44 + (VII)69 + (VIII)85 + 3*(V)115 + (IV)124",
        "gatherings are counted in sheets here",
    ),
    "manuscripta.at, record 120, 274 leaves": (
        "2I, 1 + 21.VI253 + IV261 + (VIII-3)274",
        "gatherings are counted in sheets here",
    ),
    "Herzog August Bibliothek, Cod. Guelf. 360 Helmst., 106 leaves": (
        "IX (18). 6 VI (90). VIII (106).",
        "gatherings are counted in sheets here",
    ),
}


@pytest.mark.parametrize("source", REFUSED)
def test_another_way_of_writing_is_refused_with_what_to_write(source: str) -> None:
    text, why = REFUSED[source]
    with pytest.raises(InvalidValueError) as refused:
        parse(text)
    [problem] = refused.value.problems
    assert why in problem.what
    assert "as in" in problem.what


@pytest.mark.parametrize("source", AGREE)
def test_leaves_a_source_states(source: str) -> None:
    text, gatherings, leaves = AGREE[source]
    formula = parse(text)
    assert (len(formula.gatherings), formula.leaves) == (gatherings, leaves)
    assert formula.warnings == ()


@pytest.mark.parametrize("source", AGREE)
def test_book_made_by_it_has_as_many_and_prints_the_same(source: str) -> None:
    formula = parse(AGREE[source][0])
    assert formula.collation().leaves == AGREE[source][2]
    assert parse(show(formula)) == formula


def test_stated_boundaries_are_met() -> None:
    # SJC 120: 54 and 76 leaves at the boundaries; SJC 147: 125 and 224; SJC 208: 6, 67 and 91.
    running = {
        source: [stop.running for stop in parse(AGREE[source][0]).breaks if stop.running]
        for source in ("SJC 120", "SJC 147", "SJC 208")
    }
    assert running == {"SJC 120": [54, 76], "SJC 147": [125, 224], "SJC 208": [6, 67, 91]}


def test_a_gathering_dropped_out() -> None:
    # TEI: leaf 46 agrees after gathering 6; no gathering 10 is given, and leaf 82 is 8 more than there are.
    formula = parse("1-5.8 6.6 (catchword, f. 46 ...) 7-8.8 9.10, 11.2 (through f. 82) 12-14.8 15.8(-7)")
    assert formula.warnings == (
        "one gathering is left out between 9 and 11",
        "82 leaves are stated after gathering 11, but those before it come to 74",
        "(-7): read as the place of one leaf; read as so many leaves, the formula comes to 99 leaves, not 105; write"
        " what is meant, as in wants 2 or two leaves gone",
    )
    mended = parse("1-5.8 6.6 (catchword, f. 46 ...) 7-8.8 9.10, 10.8 11.2 (through f. 82) 12-14.8 15.8(-7)")
    assert (mended.leaves, mended.warnings[:-1]) == (113, ())


def test_stated_units_of_a_book_with_many_leaves_cut_out() -> None:
    # Christ Church 100: units end with leaves 137, 155, 211 and 228.
    formula = parse(AGREE["Christ Church 100, extent 259 with the rear pastedown"][0])
    assert [stop.running for stop in formula.breaks if stop.running] == [137, 155, 211, 228]
    assert sum(stop.boundary for stop in formula.breaks) == 5


def test_a_name_given_twice_in_print() -> None:
    # Christ Church 113, extent 158: the last gathering is called 15 again.
    formula = parse("1–15^10 15^8. In this system, quires 1–11 = a-L.")
    assert formula.leaves == 158
    assert formula.warnings == ("the numbering goes back: gathering 15 follows 15",)
    assert formula.remarks == ("In this system, quires 1–11 = a-L",)


def test_numbering_that_goes_back() -> None:
    # SJC 172 as printed, extent 324; with 19 for 9 it gives 140, 260 and 324.
    formula = parse("1–17^8 18^4 [140] | 9–33^8 [260] | 34–41^8, 324 leaves")
    assert formula.warnings[0] == "the numbering goes back: gathering 9 follows 18"
    assert len(formula.warnings) == 3
    assert parse("1–17^8 18^4 [140] | 19–33^8 [260] | 34–41^8, 324 leaves").warnings == ()


def test_numbering_that_goes_back_by_a_figure_too_many() -> None:
    # SJC 56, extent 85: 3–15 for 3–5.
    assert parse("1^12 2^12 3–15^12 6^14 7^12(–12), 85 leaves").warnings == (
        "the numbering goes back: gathering 6 follows 15",
        "85 leaves are stated in all, but the gatherings come to 205",
    )
    assert parse("1^12 2^12 3–5^12 6^14 7^12(–12), 85 leaves").warnings == ()


def test_short_at_the_boundary_and_in_all() -> None:
    # SJC 209: ten short in both places, so the slip is before gathering 12.
    assert parse("1^6 2–4^8 5^6 6–10^8 11^6 [92] | 12–16^8 17^2, 134 leaves").warnings == (
        "92 leaves are stated after gathering 11, but those before it come to 82",
        "134 leaves are stated in all, but the gatherings come to 124",
    )


def test_one_figure_wrong_at_the_end() -> None:
    # SJC 15, its end: gatherings 17–23, extent 257, but the sum is 8 more; 23^4(–4) would give it.
    said = [parse(f"17–22^12 {last}, 75 leaves").warnings for last in ("23^12(–4)", "23^4(–4)")]
    assert said == [("75 leaves are stated in all, but the gatherings come to 83",), ()]


def test_a_flyleaf_counted_by_the_formula_alone() -> None:
    # Auct. D. 2. 9, extent i + 193: the formula's first gathering is that flyleaf.
    formula = parse("a^4–3 (2–4 cancelled) 1–18^10 19^10–1 20^4–1 b^4–3, i + 193 leaves")
    assert formula.leaves == 194
    assert formula.warnings[-1] == "193 leaves are stated in all, but the gatherings come to 194"


_LJS_24 = "1¹⁴(-1) 2² 3¹⁰ 4-7¹² 8¹²(-1) 9¹²(-2) 10-13¹² 14¹⁰(-3)"
"""University of Pennsylvania, LJS 24, the formula of its record in OPenn, as quoted beside another
(scalar.usc.edu/works/ljs-24/production-oddities), where gathering 9 lacks 7 and 8, and gathering 14 lacks 8, 9 and 10:
149 leaves."""


@pytest.mark.parametrize(("formula", "leaves"), [(_LJS_24, 149), (f"{_LJS_24}, 149 leaves", 149)])
def test_numbers_with_a_sign_that_count_leaves_are_questioned(formula: str, leaves: int) -> None:
    read = parse(formula)
    assert (
        f"(-1), (-2), (-3): read as the place of one leaf; read as so many leaves, the formula comes to {leaves}"
        in (read.warnings[-1])
    )
    words = formula.replace("(-2)", "(two leaves gone)").replace("(-3)", "(three leaves gone)")
    assert parse(words).leaves == leaves


def test_numbers_with_a_sign_are_places_where_the_total_or_another_number_shows_it() -> None:
    assert parse("1–21^8 22^8(–4), 175 leaves").warnings == ()
    assert parse("1^8(–2) 2^8(–8)").warnings == ()  # nobody tells of a gathering that is gone whole


def test_last_leaves_in_brackets_are_not_taken_for_leaves_of_a_gathering() -> None:
    # Herzog August Bibliothek, Cod. Guelf. 360 Helmst., has IX (18). 6 VI (90). VIII (106): its way of writing.
    with pytest.raises(InvalidValueError, match="last leaves of gatherings counted in sheets"):
        parse("IV (8). V (18)")
    [said] = parse("1 (8), 2 (18)").warnings
    assert "if each is the last leaf so far, the formula comes to 18 leaves, not 26" in said
    assert parse("i (12), 1 (8), 2 (12)").warnings == ()


def test_what_the_house_writes() -> None:
    assert facts("1-6^8 7^6 (wants 6)") == {
        "gatherings": 7,
        "leaves": 53,
        "formula": "1–6⁸ 7⁶ (wants 6)",
        "flyleaves": {"front": 0, "behind": 0},
        "warnings": [],
        "remarks": [],
    }


def test_both_places_of_an_added_leaf() -> None:
    # Ker (c) counts leaves of the gathering as planned, SJC 114 leaves of the one that results.
    assert parse("1^8 +1 leaf after 8") == parse("1^8+1(+9)")
    assert parse("1^8 +1 leaf before 1") == parse("1^8+1(+1)")
    assert parse("1^6 +1 leaf after 5") == parse("1^6+1(+6)") != parse("1^6+1(+5)")


def test_stub_of_a_leaf_more_stands_across_the_fold() -> None:
    # SJC 108, 130: the ninth leaf of an 8 is held by a stub before the first.
    halves = parse("1^8+1(+9)").collation().gatherings[0].halves
    assert [half.state.value for half in halves] == ["stub", *["leaf"] * 9]


def test_sheets_told_leaf_by_leaf() -> None:
    # TEI: 12 and 17 are one sheet, 13 to 16 single within it.
    collation = parse(AGREE["TEI, sheets leaf by leaf, its own numbers to 19"][0]).collation()
    joined = {(leaf, collation.conjugate_of(leaf)) for leaf in range(1, 20) if collation.conjugate_of(leaf)}
    fronts = {(leaf, mate) for leaf, mate in joined if mate and leaf < mate}
    assert fronts == {(2, 9), (3, 8), (4, 7), (5, 6), (12, 17)}


@pytest.mark.parametrize(
    ("name", "leaves"),
    # Zs. Urbach, Bulletin du Musée Hongrois 100, 2004, p. 93: binio, ternio, quaternio, quinio, senio or sexternio.
    [("binio", 4), ("ternio", 6), ("quaternio", 8), ("quinio", 10), ("senio", 12), ("sexternio", 12)],
)
def test_gatherings_by_name(name: str, leaves: int) -> None:
    assert parse(f"1–3 {name} 4 {name}").leaves == 4 * leaves
