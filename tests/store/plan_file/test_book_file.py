import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.flow import CountedDivision
from copydesk.book.plan import Anchor, Columns, GatheringPlan, Hand, LeafException, Margins
from copydesk.store.plan_file.book_file import parse_plan, read_book, read_book_with_places
from plan_words import SOUND, book_of, changed, mistakes


def only_mistake(text):
    found = mistakes(text)
    assert len(found) == 1, found
    return found[0]


def test_every_part_is_read():
    book = book_of(
        SOUND
        + """\
exemplar: {lent_by: The library, due: 2027-03-31, lines_per_page: 30, letters_per_line: 52}
flow: {divisions: page, starts: {2: recto}, paragraphs: run on, rubrics: share}
script: {name: a round hand, nib: 1.2, x_height: 4.5, ascender: 3, descender: 2.5, interline: 1}
letter_widths: equal
line_breaks: syllables
language: it
gatherings: {sheets: 3, count: 4, outside: flesh, habit: same}
leaves: [{leaf: 5, what: singleton, surface: hair}, {leaf: 5, what: added after}]
skins: {width: 700, height: 500, trim: 5, spoilage: 0.1, grain: fixed, folds: 2, days: {soak: 1, lime: 9.5}}
spaces:
  - {id: frost, kind: miniature, at: {division: 2}, lines: 12, across: all, subject: a mill, artist: Ines, hours: 3}
  - {id: f-init, kind: initial, at: {division: 2, paragraph: 1}, lines: 4, width: 7 in, guide_letter: F,
     instruction: "two\\nlines", materials: [gold, red], stages: [drawn]}
  - {id: open, kind: border, at: {page: 01R}, materials: gold}
  - {id: word, kind: line filler, at: {word: 0}}
flyleaves: {front: 2, back: 1, pastedowns: yes}
flaws: [{leaf: 11, from_head: 120, from_fold: 60, width: 15, height: 9}]
changes: [{from_word: 12, to_word: 40, write: "", why: not wanted, who: A}]
signing: {habit: numbers, catchwords: 3, foliation: roman}
workshop: {weekdays: [Mon, tuesday], days_off: [2026-12-25], drying_days: 2, rest_after_minutes: 40,
           check_lines_an_hour: 100, artist: Ines, artist_hours_a_week: 12h30, colour_first: true, binder: Odo}
allow: {u/v: no, spellings: [[colour, color]]}
unit: in
server: copydesk
""".replace("width: 7 in", "width: 0.5 in")
    )
    assert book.exemplar.due is not None
    assert book.exemplar.due.isoformat() == "2027-03-31"
    assert book.flow.starts == {2: "recto"}
    assert (book.workshop.artist, book.workshop.artist_hours_a_week) == ("Ines", 12.5)
    assert book.gatherings == GatheringPlan(
        3, 4, None, "flesh", "same", (LeafException(5, "singleton", "hair"), LeafException(5, "added after"))
    )
    assert book.skins is not None
    assert book.skins.days == {"soak": 1.0, "lime": 9.5}
    assert [space.at for space in book.spaces] == [
        Anchor(division=2),
        Anchor(division=2, paragraph=1),
        Anchor(page="1r"),
        Anchor(word=0),
    ]
    assert book.spaces[1].width == pytest.approx(12.7)
    assert book.spaces[1].instruction == "two\nlines"
    assert book.spaces[1].stages == ("drawn",)
    assert book.spaces[2].materials == ("gold",)
    assert book.flyleaves.pastedowns
    assert book.workshop.weekdays == (0, 1)
    assert [day.isoformat() for day in book.workshop.days_off] == ["2026-12-25"]
    assert book.workshop.colour_first
    assert book.workshop.others == {"Ines": "artist", "Odo": "binder"}
    assert book.workshop._replace(binder="Ines").others == {"Ines": "artist"}
    assert book.allow == {"u/v": False, "spellings": [["colour", "color"]]}
    assert (book.unit, book.server, book.language) == ("in", "copydesk", "it")


def test_what_is_left_out_is_as_usual():
    book = book_of(SOUND)
    assert book.divisions == (CountedDivision("One", 200), CountedDivision("Two", 100))
    assert book.gatherings == GatheringPlan()
    assert book.hands == (Hand("A", "first scribe", 34.0),)
    assert book.skins is None


def test_of_the_script_it_is_known_what_was_given():
    script = book_of(SOUND + "script: {nib: 0.7, ascender: 3}\n").script
    assert (script.x_height, script.ascender, script.descender) == (None, 3, None)
    assert script.heights == (4.5, 3, 3)


def test_short_forms():
    assert book_of(changed("{count: 2, gap: 10}", "2")).columns == Columns(2)
    plan = changed("{inner: 18, head: 24, outer: 36, foot: 48}", "ninths")
    assert book_of(plan).page.margins == Margins(canon="ninths")


@pytest.mark.parametrize(
    ("written", "numbers"),
    [("1-2", (1, 2)), ("3", (3,)), ("[2, 1]", (1, 2)), ("1-2, 5", (1, 2, 5)), ("[4-5, 1]", (1, 4, 5))],
)
def test_gatherings_of_a_hand(written, numbers):
    written = written if written.startswith("[") else f'"{written}"'
    plan = changed("name: first scribe", f"name: first scribe, gatherings: {written}")
    assert book_of(plan).hands[0].gatherings == numbers


def test_a_value_left_empty_is_as_not_given():
    assert book_of(SOUND + "exemplar:\n  lent_by:\nskins:\nflyleaves: {front: }\n") == book_of(SOUND)


SPACES = SOUND + "spaces:\n  - {id: frost, kind: miniature, at: {division: 2}, lines: 12}\n"


def test_mistakes_are_told_together_in_the_order_of_their_places():
    plan = (
        changed("width: 170", "width: 0")
        .replace("title: A", "titel: A")
        .replace("inner: 18", "inner: x")
        .replace("head: 24", "head: 200")
        .replace("A: {name", "A: {nom")
    )
    found = mistakes(plan + "spaces: [7, {id: x, kind: border, at: {division: 9}}]\nunit: ells\n")
    places = [tuple(map(int, said.split(":")[1:3])) for said in found]
    assert places == sorted(places)
    assert [line for line, _ in places] == [1, 6, 8, 12, 13, 13, 14]


def test_a_missing_part_is_not_told_twice_over_a_slip_in_its_key():
    assert only_mistake(changed("hands:", "hnads:")).endswith("did you mean hands?")


def test_an_empty_file_lacks_what_a_book_needs():
    found = mistakes("# nothing yet\n")
    assert [said.split(": ")[1] for said in found] == [
        "exemplar gives no text; name its file as text",
        "there is no hands",
        "there is no page",
        "there is no title",
    ]


def test_the_folder_of_a_book(tmp_path):
    folder = tmp_path / "book"
    for said in ("there is no such folder", "is a file", "holds no book.yaml"):
        with pytest.raises(CopydeskError, match=said):
            read_book(folder)
        if said.startswith("there"):
            folder.write_text("")
        else:
            folder.unlink(missing_ok=True) if folder.is_file() else None
            folder.mkdir(exist_ok=True)
    (folder / "book.yaml").write_text(SOUND)
    assert read_book(folder).title == "A small book"
    assert read_book(folder).exemplar.text is None


def test_places_are_those_of_the_values(tmp_path):
    (tmp_path / "book.yaml").write_text(SPACES)
    _, places = read_book_with_places(tmp_path)
    assert places.at(("page", "width")) == (6, 10)
    assert places.at(("spaces", 0, "lines")) == (14, 60)
    assert places.at(("spaces", 0, "hours")) == (14, 5)
    assert str(places.problem(("spaces", 0), "is odd; look")) == f"{tmp_path}/book.yaml:14:5: spaces 1 is odd; look"


def test_files_that_a_plan_names(tmp_path):
    plan = changed(SOUND[SOUND.index("divisions") : SOUND.index("page")], "exemplar: {text: words.txt}\n")
    plan += "  B: {sample: ../b.txt}\n  C: {sample: samples}\n"
    (tmp_path / "book.yaml").write_text(plan)
    (tmp_path / "samples").mkdir()
    with pytest.raises(CopydeskError) as caught:
        read_book(tmp_path)
    said = [str(problem).removeprefix(f"{tmp_path}/book.yaml:") for problem in caught.value.problems]
    assert said == [
        "2:18: exemplar, text names 'words.txt', and there is no such file in the folder; put it there",
        "11:15: hands, B, sample '../b.txt' leads out of the book's folder; put the file inside it",
        "12:15: hands, C, sample names 'samples', and there is no such file in the folder; put it there",
    ]
    (tmp_path / "book.yaml").write_text(plan.replace("../b.txt", "x" * 400))
    with pytest.raises(CopydeskError, match=r"hands, B, sample 'x+…' can be no file's name"):
        read_book(tmp_path)
    (tmp_path / "words.txt").write_text("wörter", encoding="utf-8")
    (tmp_path / "book.yaml").write_text(plan.replace("../b.txt", "words.txt").replace("sample: samples", "name: C"))
    assert read_book(tmp_path).hands[1].sample == "words.txt"


def test_a_plan_that_is_not_utf_8_names_the_place(tmp_path):
    (tmp_path / "book.yaml").write_bytes(b"title: caf\xe9\n")
    with pytest.raises(CopydeskError, match=r"book\.yaml:1:11: the byte e9 here is not UTF-8"):
        read_book(tmp_path)


def test_a_plan_too_large_is_refused(tmp_path):
    (tmp_path / "book.yaml").write_bytes(b"#" * 2_000_001)
    with pytest.raises(CopydeskError, match="larger than 2 MB"):
        read_book(tmp_path)


def test_nothing_in_a_plan_reaches_a_terminal_unharmed():
    said = "\n".join(mistakes(SOUND + '"\\e[2J": 1\nallow: {"\\u202E": {"\\a": {}}}\nunit: "\\e]0;x\\a"\n'))
    assert said.replace("\n", "").isprintable()


def test_parsing_a_plan_twice_gives_equal_books():
    assert parse_plan(SPACES, "a").finish() == parse_plan(SPACES, "b").finish()


def test_very_many_mistakes_are_told_in_part():
    found = mistakes(SOUND + "".join(f"odd{at}: 1\n" for at in range(250)))
    assert len(found) == 201
    assert found[-1] == "book.yaml: there are 50 mistakes more; mend these first"
