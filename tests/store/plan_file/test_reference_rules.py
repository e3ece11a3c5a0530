from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.reading import ValuePlaces
from copydesk.store.plan_file.reference_rules import check_against_pages
from plan_words import SOUND, book_of, mistakes

PLAN = (
    SOUND.replace("letters_per_line: 34", "gatherings: 2")
    + """\
spaces:
  - {id: a, kind: border, at: {page: 8v}}
  - {id: b, kind: border, at: {page: 9r}}
flaws: [{leaf: 9, from_head: 12, from_fold: 6, width: 1, height: 1}]
leaves: [{leaf: 9, what: wanting}]
"""
)


def beyond(leaves, gatherings):
    plan = parse_plan(PLAN, "book.yaml")
    places = ValuePlaces("book.yaml", plan.reading.places)
    return [str(problem) for problem in check_against_pages(plan.finish(), places, leaves, gatherings)]


def test_what_points_beyond_the_leaves_is_told_with_its_place():
    assert beyond(8, 1) == [
        "book.yaml:12:39: hands, A, gatherings is beyond what there is: 1 gathering in the book;"
        " write a smaller number",
        "book.yaml:15:38: spaces 2, at, page is 9r, and the book has 8 leaves; name a page that it has",
        "book.yaml:16:16: flaws 1, leaf is beyond what there is: 8 leaves in the book; write a smaller number",
        "book.yaml:17:17: leaves 1, leaf is beyond what there is: 8 leaves in the book; write a smaller number",
    ]


def test_where_there_are_leaves_enough_nothing_is_told():
    assert beyond(9, 2) == []


def test_a_title_or_a_line_of_contents_for_a_division_that_is_not_there_is_told():
    plan = (
        "passes: [text, titles, contents]\ntitles: {words: {3: Of mud}}\ncontents: {divisions: [1, 3]}\n"
        "spaces: [{id: list, kind: contents, at: {page: 1r}, lines: 3}]\n"
    )
    assert [told.partition("; ")[0] for told in mistakes(SOUND + plan)] == [
        "book.yaml:14:21: titles, words, 3 is beyond what there is: 2 divisions in the text",
        "book.yaml:15:27: contents, divisions 2 is beyond what there is: 2 divisions in the text",
    ]


def test_one_leaf_is_one():
    assert any("the book has 1 leaf; name" in told for told in beyond(1, 2))


def test_a_paragraph_of_a_counted_text_is_refused_but_the_first():
    space = "spaces: [{id: x, kind: miniature, at: {division: 1, paragraph: PARAGRAPH}, lines: 2}]\n"
    plan = SOUND + space
    book_of(plan.replace("PARAGRAPH", "1"))
    said = mistakes(plan.replace("PARAGRAPH", "4"))
    assert len(said) == 1
    assert "spaces 1, at, paragraph cannot be found in a text that is counted, not typed; give a word" in said[0]
