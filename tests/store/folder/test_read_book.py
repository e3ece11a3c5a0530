import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.store.files.book_folder import BookFolder
from copydesk.store.folder.read_book import read_all, stamp
from plan_words import SOUND

PLAN = SOUND.replace(SOUND[SOUND.index("divisions") : SOUND.index("page")], "exemplar: {text: words.txt}\n")


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "words.txt").write_text("# One\nfirst words\n\nsecond words\n\n# Two\n| a verse\n| and more\n")
    (tmp_path / "b.txt").write_text("lines of hers\t52\nand more\n")
    (tmp_path / "book.yaml").write_text(PLAN + "  B: {sample: b.txt}\n")
    return tmp_path


def told(folder):
    with pytest.raises(CopydeskError) as caught:
        read_all(BookFolder.at(folder))
    return [str(problem).removeprefix(f"{folder}/") for problem in caught.value.problems]


def test_plan_exemplar_and_samples_are_read_together(folder):
    written = read_all(BookFolder.at(folder))
    assert written.book.title == "A small book"
    assert [part.paragraphs for part in written.exemplar.divisions] == [2, 1]
    assert [line.length for line in written.samples["B"]] == [52.0, None]


def test_a_book_of_counts_has_no_exemplar(folder):
    (folder / "book.yaml").write_text(SOUND)
    written = read_all(BookFolder.at(folder))
    assert written.exemplar is None
    assert written.samples == {}


def test_mistakes_in_all_the_files_are_told_together(folder):
    (folder / "words.txt").write_bytes(b"# One\ncaf\xe9\n")
    (folder / "b.txt").write_text("lines\tlong\n")
    (folder / "book.yaml").write_text(PLAN.replace("count: 2", "count: two") + "  B: {sample: b.txt}\n")
    said = told(folder)
    assert [each.split(": ")[0] for each in said] == ["book.yaml:7:18", "words.txt:2:4", "b.txt:1:7"]


def test_what_points_beyond_the_text_is_told_with_its_place(folder):
    plan = PLAN + (
        "flow: {starts: {2: page, 3: recto}}\n"
        "spaces:\n"
        "  - {id: a, kind: border, at: {division: 3}}\n"
        "  - {id: b, kind: border, at: {division: 2, paragraph: 2}}\n"
        "  - {id: c, kind: border, at: {word: 10}}\n"
        "  - {id: d, kind: border, at: {word: 9}}\n"
        "changes:\n"
        "  - {from_word: 10, to_word: 10, write: the end}\n"
        "  - {from_word: 3, to_word: 11, write: x}\n"
    )
    (folder / "book.yaml").write_text(plan)
    assert told(folder) == [
        "book.yaml:11:29: flow, starts, 3 is beyond what there is: 2 divisions in the text; write a smaller number",
        "book.yaml:13:42: spaces 1, at, division is beyond what there is: 2 divisions in the text;"
        " write a smaller number",
        "book.yaml:14:56: spaces 2, at, paragraph is beyond what there is: 1 paragraph in division 2;"
        " write a smaller number",
        "book.yaml:15:38: spaces 3, at, word is beyond what there is: 10 words in the text, counted from 0;"
        " write a smaller number",
        "book.yaml:18:5: changes 1 begins at word 10, inside another change; join the two",
        "book.yaml:19:29: changes 2, to_word is beyond what there is: 10 words in the text; write a smaller number",
    ]


def test_an_empty_exemplar_is_read(folder):
    (folder / "words.txt").write_text("")
    assert read_all(BookFolder.at(folder)).exemplar.words == []


def test_an_exemplar_in_tei_is_read_the_same_way(folder):
    (folder / "words.xml").write_text(
        '<TEI xmlns="http://www.tei-c.org/ns/1.0"><text><body><div><head>One</head><p>first words</p>'
        "<p>second words</p></div><div><head>Two</head><lg><l>a verse</l><l>and more</l></lg></div></body></text></TEI>"
    )
    by_text = read_all(BookFolder.at(folder)).exemplar
    (folder / "book.yaml").write_text(PLAN.replace("words.txt", "words.xml"))
    assert read_all(BookFolder.at(folder)).exemplar == by_text


def test_a_change_in_any_of_the_files_shows(folder):
    home = BookFolder.at(folder)
    book = read_all(home).book
    seen = {stamp(home, book)}
    for name in ("book.yaml", "words.txt", "b.txt"):
        (folder / name).write_text((folder / name).read_text() + "\n\n")
        seen.add(stamp(home, book))
    (folder / "b.txt").unlink()
    seen.add(stamp(home, book))
    assert len(seen) == 5
