import pytest

from copydesk.book.common.errors import CopydeskError
from copydesk.book.plan import Anchor, Columns, CountedDivision, GatheringPlan, Hand, LeafException, Margins
from copydesk.store.plan_file.book_file import parse_plan, read_book, read_book_with_places
from plan_words import SOUND, book_of, changed, mistakes


def brief(text):
    return text.splitlines()[-1][:50]


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


@pytest.mark.parametrize(
    ("plan", "told"),
    [
        (changed("title: A", "titel: A"), "book.yaml:1:1: 'titel' is no key; did you mean title?"),
        (changed("letters_per_line: 34", "letter_per_line: 34"), "12:27: 'letter_per_line' is no key under hands,"),
        (SOUND + "lines: 32\n", "13:1: 'lines' is no key; it belongs under divisions or ruling or spaces"),
        (changed("lines: 32", "lines:32"), "10:10: 'lines:32' is no key under ruling; put a space after the"),
        (SOUND + "ink: black\n", "13:1: 'ink' is no key; take it out"),
        (changed("width: 170", "width: wide"), "6:10: page, width cannot be 'wide'; write a length above"),
        (changed("width: 170", "width: [170]"), "6:10: page, width cannot be a list; write a length"),
        (changed("width: 170", "width: {mm: 170}"), "6:10: page, width cannot be keys with values; write a"),
        (changed("width: 170", 'width: "170"'), "6:10: page, width is a text, being in quotation marks: '170';"),
        (changed("width: 170", "width: 0"), "6:10: page, width cannot be '0'; write a length above 0"),
        (changed("width: 170", "width: -3"), "6:10: page, width cannot be '-3'"),
        (changed("width: 170", "width: .nan"), "6:10: page, width cannot be '.nan'"),
        (changed("width: 170", "width: .inf"), "6:10: page, width cannot be '.inf'"),
        (changed("width: 170", "width: 1e9"), "6:10: page, width cannot be '1e9'"),
        (changed("width: 170", "width: 99999999999"), "6:10: page, width cannot be '99999999999'"),
        (changed("width: 170", "width:"), "6:9: page has no width: a page's width; write width: with a"),
        (changed("inner: 18", "inner: 150"), "8:12: inner and outer margins together take 186 mm"),
        (changed("foot: 48", "foot: 230"), "8:12: head and foot margins together take 254 mm"),
        (changed(", foot: 48", ""), "8:12: page, margins have no foot; give"),
        (changed("foot: 48", "foot: 48, canon: ninths"), "8:12: page, margins are given by a canon and by inner"),
        (changed("{inner: 18, head: 24, outer: 36, foot: 48}", "{canon: tenths}"), "8:20: no canon is called"),
        (changed("gap: 10", "gap: 116"), "9:10: 2 columns with 116 mm between them do not go into"),
        (changed("count: 2", "count: 0"), "9:18: columns, count cannot be '0'; write a whole number from"),
        (changed("lines: 32", "lines: 0"), "10:17: ruling, lines cannot be '0'; write a whole number from"),
        (changed("lines: 32", "lines: 3.5"), "10:17: ruling, lines cannot be '3.5'"),
        (changed("lines: 32", "lines: 32, unit: 9"), "10:9: 32 lines of 9 mm need 288 mm"),
        (changed("{lines: 32}", "{first_line: above}"), "10:9: nothing says how the page is ruled"),
        (SOUND + "script: {nib: 0}\n", "13:15: script, nib cannot be '0'; write a length above 0"),
        (SOUND + "script: {x_height: 99}\n", "13:20: script, x_height cannot be '99'; write nib widths above"),
        (changed("ruling: {lines: 32}", "script: {nib: 40}"), "10:9: no line of 420 mm goes into"),
        (changed("  A: {name: first scribe, letters_per_line: 34}", "  {}"), "12:3: hands names nobody; write"),
        (changed("letters_per_line: 34", "letters_per_line: 0"), "12:45: hands, A, letters_per_line cannot be '0'"),
        (changed("  A:", "  A b:"), "12:3: hands, the key: cannot be 'A b'; write one word"),
        (SOUND + "  A: {name: another}\n", "13:3: 'A' is given twice, first on line 12; keep one"),
        (SOUND + "title: Again\n", "13:1: 'title' is given twice, first on line 1; keep one"),
        (SOUND + "exemplar: {due: 2026-02-30}\n", "13:17: exemplar, due is 2026-02-30, and the calendar has no"),
        (
            SOUND + "exemplar: {due: 0027-03-31}\n",
            "13:17: exemplar, due is 0027-03-31, and the calendar has no such day, or no work",
        ),
        (SOUND + "exemplar: {due: soon}\n", "13:17: exemplar, due cannot be 'soon'; write a day as"),
        (SOUND + "exemplar: {text: a.txt}\n", "3:3: divisions and the exemplar's text are both given"),
        (changed("words: 200", "words: 200, letters: 900"), "3:5: divisions 1 is counted more than once"),
        (changed(", words: 200", ""), "3:5: divisions 1 has no count; give one of words, letters or lines"),
        (changed("words: 200", "lines: 200"), "3:5: divisions 1 is counted in lines of the exemplar; give"),
        (SOUND + "flow: {starts: {3: recto}}\n", "13:20: flow, starts, 3 is beyond what there is: 2"),
        (SOUND + "flow: {starts: {2: recto, 02: page}}\n", "13:27: '02' says the same as a key above it; keep"),
        (SOUND + "gatherings: {formula: 1-3^8 4(}\n", "13:29: gatherings, formula cannot be read:"),
        (SOUND + 'gatherings: {formula: "1-3^8 4("}\n', "13:30: gatherings, formula cannot be read:"),
        (SOUND + "gatherings: {formula: 1-3^8, sheets: 4}\n", "13:38: gatherings, sheets is given beside a"),
        (SOUND + "gatherings: {sheets: 1000, count: 10000}\n", "13:13: gatherings come to 20000000 leaves"),
        (SOUND + "leaves: [{leaf: 2, what: wanting}, {leaf: 2, what: cancelled}]\n", "13:36: leaves 2 speaks of"),
        (SOUND + "gatherings: {count: 1}\nleaves: [{leaf: 9, what: wanting}]\n", "14:17: leaves 1, leaf is"),
        (
            changed("letters_per_line: 34", "gatherings: 3") + "gatherings: {count: 2}\n",
            "12:39: hands, A, gatherings is beyond what there is: 2 gatherings",
        ),
        (
            SOUND + "flaws: [{leaf: 1, from_head: 235, from_fold: 6, width: 15, height: 9}]\n",
            "13:30: the flaw of leaf 1 ends 21 mm from the fold and 244 mm from the head edge, beyond a leaf of 170",
        ),
        (
            SOUND + "unit: in\nflaws: [{leaf: 1, from_head: 2 in, from_fold: 6 in, width: 1 in, height: 9}]\n",
            "14:47: the flaw of leaf 1 ends 7 in from the fold",
        ),
        (SOUND + "changes: [{from_word: 4, to_word: 2, write: x}]\n", "13:35: changes 1, to_word stands before"),
        (
            SOUND + "changes:\n  - {from_word: 4, to_word: 9, write: x}\n  - {from_word: 8, to_word: 9, write: x}\n",
            "15:5: changes 2 begins at word 8, inside another change; join the two",
        ),
        (
            SOUND + "changes:\n  - {from_word: 4, to_word: 4, write: x}\n  - {from_word: 4, to_word: 4, write: y}\n",
            "14:5: changes 1 adds words before word 4 as another does; join the two",
        ),
        (SOUND + "changes: [{from_word: 4, to_word: 5}]\n", "13:11: changes 1 has no write: what to write; write"),
        (
            SOUND + "line_breaks: syllables\n",
            "13:14: line_breaks is syllables, and no language is named; add language:",
        ),
        (
            SOUND + "line_breaks: syllables\nlanguage: zz\n",
            "14:11: no rules are known for breaking words of language 'zz'; set line_breaks to words or anywhere",
        ),
        (SOUND + "workshop: {weekdays: []}\n", "13:22: workshop, weekdays names no day"),
        (SOUND + "workshop: {weekdays: [sometimes]}\n", "13:23: workshop, weekdays 1 cannot be 'sometimes'"),
        (SOUND + "workshop: {colour_first: perhaps}\n", "13:26: workshop, colour_first cannot be 'perhaps';"),
        (SOUND + "allow: {u/v: perhaps}\n", "13:14: allow: u_v is 'perhaps'; write true or false"),
        (SOUND + "allow: yes\n", "13:8: allow cannot be 'yes'; write keys under it"),
        (SOUND + "unit: feet\n", "13:7: unit cannot be 'feet'; write mm, cm or in"),
        (SOUND + "language: the queen's\n", "13:11: language cannot be"),
        (SOUND + "server: host=elsewhere user=x\n", "13:9: server cannot be"),
        (changed("A small book", r'"\e[31mred"'), "1:8: title holds a control character (U+001B); take it"),
        (changed("A small book", "''"), "1:8: title cannot be ''; write a text"),
        (changed("A small book", "x" * 501), "1:8: title is 501 characters long; write at most 500"),
        ("- a\n- b\n", "1:1: cannot be a list; write keys under it, such as title, page, hands"),
        ("just words\n", "1:1: cannot be 'just words'; write keys under it, such as title, page, hands"),
    ],
    ids=brief,
)
def test_one_mistake_is_told_with_its_place_and_what_to_do(plan, told):
    said = only_mistake(plan)
    assert said.removeprefix("book.yaml:").startswith(told.removeprefix("book.yaml:"))
    assert ";" in said or "?" in said or ":" in said


SPACES = SOUND + "spaces:\n  - {id: frost, kind: miniature, at: {division: 2}, lines: 12}\n"


@pytest.mark.parametrize(
    ("space", "told"),
    [
        ("{id: frost, kind: initial, at: {word: 3}, lines: 2}", "15:10: spaces 2, id is frost, as that of the"),
        ("{id: a b, kind: initial, at: {word: 3}, lines: 2}", "15:10: spaces 2, id cannot be 'a b'"),
        ("{kind: initial, at: {word: 3}, lines: 2}", "15:5: spaces 2 has no id"),
        ("{id: x, kind: minature, at: {word: 3}, lines: 2}", "15:19: spaces 2, kind cannot be 'minature'; write"),
        ("{id: x, kind: initial, lines: 2}", "15:5: spaces 2 has no at: what it is tied to"),
        ("{id: x, kind: initial, at: {}, lines: 2}", "15:32: spaces 2, at ties it to nothing; give one of"),
        ("{id: x, kind: initial, at: {word: 1, page: 1r}, lines: 2}", "15:32: spaces 2, at ties it to a word and"),
        ("{id: x, kind: initial, at: {word: 1, line: 2}, lines: 2}", "15:48: spaces 2, at, line means something"),
        ("{id: x, kind: initial, at: {page: 1r, paragraph: 2}, lines: 2}", "15:54: spaces 2, at, paragraph means"),
        ("{id: x, kind: initial, at: {page: 1r, column: 3}, lines: 2}", "15:51: spaces 2, at, column is beyond"),
        ("{id: x, kind: initial, at: {page: 12}, lines: 2}", "15:39: spaces 2, at, page cannot be '12'; write a"),
        ("{id: x, kind: initial, at: {page: 0r}, lines: 2}", "15:39: spaces 2, at, page cannot be '0r'"),
        ("{id: x, kind: initial, at: {division: 3}, lines: 2}", "15:43: spaces 2, at, division is beyond what"),
        ("{id: x, kind: initial, at: {page: 1r, line: 33}, lines: 2}", "15:49: spaces 2, at, line is beyond what"),
        ("{id: x, kind: initial, at: {page: 1r, line: 32}, lines: 2}", "15:61: spaces 2, lines reaches line 33"),
        ("{id: x, kind: miniature, at: {page: 1r}, lines: 33}", "15:53: spaces 2, lines reaches line 33 of a"),
        ("{id: x, kind: historiated initial, at: {page: 1r}}", "15:5: spaces 2 is a historiated initial and says"),
        ("{id: x, kind: initial, at: {page: 1r}}", "15:5: spaces 2 is an initial and says not how many"),
        ("{id: x, kind: initial, at: {page: 1r}, lines: 2, width: 60}", "15:61: spaces 2, width is 60 mm where"),
        ("{id: x, kind: initial, at: {page: 1r}, lines: 2, stages: [dawn]}", "15:63: spaces 2, stages 1 cannot"),
        ("a mill", "15:5: spaces 2 cannot be 'a mill'; write keys under it, such as id, kind, at"),
    ],
    ids=brief,
)
def test_one_mistake_in_a_space(space, told):
    assert only_mistake(f"{SPACES}  - {space}\n").removeprefix("book.yaml:").startswith(told)


@pytest.mark.parametrize("other", ["kind: minature, at: {word: 3}", "kind: initial, at: {}", "kind: initial"])
def test_an_id_given_twice_is_told_beside_another_mistake_in_the_same_space(other):
    found = mistakes(f"{SPACES}  - {{id: frost, {other}, lines: 2}}\n")
    assert len(found) == 2
    assert any("spaces 2, id is frost, as that of the space on line 14; choose another" in each for each in found)


def test_a_border_needs_no_lines_and_a_wide_miniature_may_cross_all_columns():
    book_of(f"{SPACES}  - {{id: x, kind: border, at: {{page: 1r}}}}\n")
    book_of(f"{SPACES}  - {{id: x, kind: miniature, at: {{page: 1r}}, lines: 9, across: all, width: 110}}\n")


def test_a_page_that_does_not_exist_where_the_gatherings_are_settled():
    plan = SPACES + "  - {id: x, kind: border, at: {page: 17r}}\ngatherings: {sheets: 4, count: 2}\n"
    assert only_mistake(plan) == (
        "book.yaml:15:38: spaces 2, at, page is 17r, and the book has 16 leaves; name a page that it has"
    )
    book_of(plan.replace("17r", "16v"))
    book_of(plan + "leaves: [{leaf: 3, what: added after}]\n")


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


def test_margins_are_looked_at_the_one_way_that_the_page_is_sound():
    found = mistakes(changed("width: 170", "width: 0").replace("head: 24", "head: 200"))
    assert len(found) == 2
    assert "head and foot margins together" in found[1]


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
