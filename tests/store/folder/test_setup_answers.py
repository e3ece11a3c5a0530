"""Plain answers about a new book: the keys they become, the plan, the folder."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.folder.setup_answers import exemplar_name, make_book, plan_answers, plan_of, raw_findings

if TYPE_CHECKING:
    from pathlib import Path


def test_few_answers_become_the_keys_of_a_plan() -> None:
    answers = plan_answers({"title": "Frost"})
    assert (answers["page.width"], answers["page.height"], answers["columns.gap"]) == ("170", "240", "0")
    assert (answers["divisions.1.title"], answers["divisions.1.words"]) == ("Frost", "10000")
    assert [answers[f"script.{name}"] for name in ("x_height", "ascender", "descender", "nib")] == [
        "4.5",
        "3",
        "3",
        "0.6",
    ]
    assert answers["hands.A.name"] == "the scribe"
    assert not {"unit", "ruling.lines", "skins.width", "script.name", "exemplar.text"} & answers.keys()


def test_more_answers_give_more_keys() -> None:
    given = {"page": "7 in × 10 in", "columns": "2", "lines": "32", "skin": "900 x 600", "script": "bookhand"}
    answers = plan_answers({**given, "hand": "Ann, Bo", "letters": "34, 30", "text": "tale.XML"})
    assert (answers["unit"], answers["columns.gap"], answers["ruling.lines"]) == ("in", "10", "32")
    assert (answers["skins.width"], answers["skins.height"], answers["script.name"]) == ("900", "600", "bookhand")
    assert [answers[f"hands.{hand}.{key}"] for hand in "AB" for key in ("name", "letters_per_line")] == [
        *("Ann", "34"),
        *("Bo", "30"),
    ]
    assert answers["exemplar.text"] == exemplar_name("tale.XML") == "exemplar.xml"
    assert "divisions.1.words" not in answers


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"page": "170"}, "the page is '170'; write width and height"),
        ({"page": "x 240"}, "the page is 'x 240'"),
        ({"skin": "900 x"}, "the skin is '900 x'"),
        ({"heights": "4.5, 3"}, "write those of x, ascender and descender"),
        ({"hand": "Ann", "letters": "3, 4"}, "there are 1 hands and 2 figures of letters"),
        ({"hand": ",".join("ab" * 14)}, "there are 28 hands"),
    ],
)
def test_answers_that_cannot_be_are_refused(given: dict[str, str], told: str) -> None:
    with pytest.raises(CopydeskError, match=told):
        plan_answers(given)


def test_a_plan_comes_with_its_text(tmp_path: Path) -> None:
    (tmp_path / "tale.txt").write_text("# One\n\nsome words\n")
    book, text = plan_of({"title": "Tale", "text": str(tmp_path / "tale.txt")})
    assert (book.title, text) == ("Tale", "# One\n\nsome words\n")
    assert plan_of({"title": "Counted"})[1] == ""


def test_a_book_without_a_title_is_called_as_its_folder(tmp_path: Path) -> None:
    (tmp_path / "tale.txt").write_text("some words\n")
    made = make_book(tmp_path / "winter", {"text": str(tmp_path / "tale.txt")})
    assert (made / "exemplar.txt").read_text() == "some words\n"
    assert "title: winter" in (made / "book.yaml").read_text()


@pytest.mark.parametrize(("code", "name"), [("latin-1", "Latin-1"), ("cp1252", "Windows-1252"), ("utf-16", "UTF-16")])
def test_a_text_in_another_code_is_refused_with_a_proposal_and_read_so_where_that_is_asked(
    code: str, name: str, tmp_path: Path
) -> None:
    told = "Le thé d'hiver était là" + ("…" if code == "cp1252" else "")
    source = tmp_path / "old.txt"
    source.write_bytes(f"{told}\n".encode(code))
    given = {"title": "Tea", "text": str(source)}
    found = f'c: {name}, not UTF-8, as "thé, était, là": save it in the book as UTF-8'
    with pytest.raises(CopydeskError, match="UTF-8") as refused:
        make_book(tmp_path / "tea", given)
    assert str(refused.value).endswith(found)
    assert not (tmp_path / "tea").exists()
    made = make_book(tmp_path / "tea", {**given, "mend": "c"})
    assert (made / "exemplar.txt").read_text("utf-8") == f"{told}\n"
    assert [str(each) for each in raw_findings(given)] == [found]
    assert source.read_bytes() == f"{told}\n".encode(code)


def test_a_text_that_is_utf_8_has_nothing_to_mend_of_its_code(tmp_path: Path) -> None:
    source = tmp_path / "new.txt"
    source.write_text("thé\n", "utf-8")
    assert raw_findings({"text": str(source)}) == ()
    assert plan_of({"title": "Tea", "text": str(source), "mend": "c"})[1] == "thé\n"
    source.write_bytes(b"th\xe9 \x81")  # no letter in Windows-1252
    with pytest.raises(CopydeskError, match=r"save the file again as UTF-8$"):
        plan_of({"title": "Tea", "text": str(source), "mend": "c"})
