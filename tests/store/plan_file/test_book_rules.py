"""Every mistake in a plan is named with its place and what to do."""

import pytest

from plan_words import SOUND, book_of, changed, mistakes


def brief(text):
    return text.splitlines()[-1][:50]


def only_mistake(text):
    found = mistakes(text)
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(
    ("plan", "told"),
    [
        (changed("title: A", "titel: A"), "book.yaml:1:1: 'titel' is no key; did you mean title?"),
        (changed("letters_per_line: 34", "letter_per_line: 34"), "12:27: 'letter_per_line' is no key under hands,"),
        (SOUND + "lines: 32\n", "13:1: 'lines' is no key; it belongs under divisions or ruling or spaces"),
        (changed("lines: 32", "lines:32"), "10:10: 'lines:32' is no key under ruling; put a space after the"),
        (SOUND + "wax: black\n", "13:1: 'wax' is no key; take it out"),
        (changed("width: 170", "width: wide"), "6:10: page, width cannot be 'wide'; write a length above"),
        (changed("width: 170", "width: [170]"), "6:10: page, width cannot be a list; write a length"),
        (changed("width: 170", "width: {mm: 170}"), "6:10: page, width cannot be keys with values; write a"),
        (changed("width: 170", 'width: "170"'), "6:10: page, width is a text, being in quotation marks: '170';"),
        (
            SOUND + "skins: {width: 700, height: 500, days: {lime bath: 9}}\n",
            "13:41: skins, days: the name of a step cannot be 'lime bath'; write one word of at most 40 letters",
        ),
        (SOUND + "  B/C: {name: x}\n", "13:3: hands: the name of a hand cannot be 'B/C'; write one word of at most"),
        (
            SOUND + "flow: {starts: {two: page}}\n",
            "13:17: flow, starts: the number of a division cannot be 'two'; write a division's number from 1",
        ),
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
        (SOUND + "passes: [text, wax]\n", "13:16: passes 2, name cannot be 'wax'; write text, marks, rubrics"),
        (SOUND + "passes: [rubrics, text]\n", "13:10: passes 1, name is rubrics, and no pass comes before the text;"),
        (SOUND + "passes: [text, rubrics, rubrics]\n", "13:25: passes 3, name is rubrics a second time; take one"),
        (SOUND + "passes: [{name: text, artist: after}]\n", "13:31: passes 1, artist is after, and the artist paints"),
        (
            SOUND + "passes:\n  - text\n  - {name: penwork, artist: after}\n  - {name: rubrics, artist: before}\n",
            "16:29: passes 3, artist is before, and penwork above it comes after the artist; put rubrics above penwork",
        ),
        (SOUND + "passes: [text, contents]\n", "13:16: passes 2, name is contents, and no space keeps its room; add"),
        (
            SOUND + "titles: {across: opening}\n",
            "13:9: titles needs a pass that writes it; add titles to the list under",
        ),
        (
            SOUND + "passes: [text, titles]\ntitles: {from_head: 30}\n",
            "14:21: titles, from_head is 30, and the text begins 24 mm from the head; write less",
        ),
        (SOUND + "passes: [text, {name: rubrics, hand: Z}]\n", "13:38: passes 2, hand is Z; name one of the hands, A"),
        (SOUND + "passes: [text, {name: rubrics, drying_days: -1}]\n", "13:45: passes 2, drying_days cannot be '-1'"),
        (SOUND + "script: {nib: 0}\n", "13:15: script, nib cannot be '0'; write a length above 0"),
        (SOUND + "script: {x_height: 99}\n", "13:20: script, x_height cannot be '99'; write nib widths above"),
        (changed("ruling: {lines: 32}", "script: {nib: 40}"), "10:9: no line of 420 mm goes into"),
        (changed("  A: {name: first scribe, letters_per_line: 34}", "  {}"), "12:3: hands names nobody; write"),
        (changed("letters_per_line: 34", "letters_per_line: 0"), "12:45: hands, A, letters_per_line cannot be '0'"),
        (changed("  A:", "  A b:"), "12:3: hands: the name of a hand cannot be 'A b'; write one word"),
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


def test_a_page_that_does_not_exist_where_the_gatherings_are_fixed():
    plan = SPACES + "  - {id: x, kind: border, at: {page: 17r}}\ngatherings: {sheets: 4, count: 2}\n"
    assert only_mistake(plan) == (
        "book.yaml:15:38: spaces 2, at, page is 17r, and the book has 16 leaves; name a page that it has"
    )
    book_of(plan.replace("17r", "16v"))
    book_of(plan + "leaves: [{leaf: 3, what: added after}]\n")
