"""Which sheet came from which skin."""

from __future__ import annotations

from copydesk.book.materials.sheet_skins import CutFrom, cutting_doubts, fellows, sheets_of, skin_of

NOTED = (CutFrom("1.1", "goat 1"), CutFrom("1.2", "goat 1"), CutFrom("1.3", "goat 2"))


def test_a_sheet_leads_to_its_skin_and_back() -> None:
    assert skin_of(NOTED, "1.2") == "goat 1"
    assert skin_of(NOTED, "9.9") is None
    assert sheets_of(NOTED, "goat 1") == ("1.1", "1.2")


def test_the_fellows_of_a_bad_sheet_are_found() -> None:
    assert fellows(NOTED, "1.1") == ("1.2",)
    assert fellows(NOTED, "1.3") == fellows(NOTED, "9.9") == ()


def test_what_was_noted_last_holds() -> None:
    noted = (*NOTED, CutFrom("1.1", "goat 3"))
    assert skin_of(noted, "1.1") == "goat 3"
    assert sheets_of(noted, "goat 1") == ("1.2",)


def test_doubtful_notes_are_spoken_of() -> None:
    assert cutting_doubts(NOTED, 2) == ()
    assert cutting_doubts(NOTED, 1) == ("Skin goat 1 is noted as giving 2 sheets, but the cutting gives 1.",)
    assert cutting_doubts((*NOTED, CutFrom("1.1", "goat 3")), 2) == (
        "Sheet 1.1 is noted as cut from goat 1 and from goat 3; it can come from one only.",
    )
