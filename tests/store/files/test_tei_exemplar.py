import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from copydesk.book.common.errors import CopydeskError
from copydesk.book.text.exemplar import Place, read_exemplar
from copydesk.store.files.tei_exemplar import read_tei

HEAD = '<?xml version="1.0" encoding="ISO-8859-1"?><TEI xmlns="http://www.tei-c.org/ns/1.0"><teiHeader>no</teiHeader>'


def exemplar_of(body):
    return read_exemplar(read_tei(f"{HEAD}<text><body>{body}</body></text></TEI>", "x.xml"))


def refused(text):
    with pytest.raises(CopydeskError) as caught:
        read_tei(text, "x.xml")
    return str(caught.value)


def test_divisions_paragraphs_verse_and_rubrics():
    found = exemplar_of("<div><head>On <hi>frost</hi></head><p>a b</p><lg><l>c</l><l>d</l></lg><lg><l>é</l></lg></div>")
    assert found.words == ["On", "frost", "a", "b", "c", "d", "é"]
    assert [(block.kind, block.paragraph) for block in found.blocks] == [
        ("rubric", 0),
        ("prose", 1),
        ("verse", 2),
        ("verse", 2),
        ("verse", 3),
    ]
    assert [(part.title, part.paragraphs) for part in found.divisions] == [("On frost", 3)]


def test_a_division_without_a_head_and_divisions_within_divisions():
    found = exemplar_of("<div><p>a</p></div><div><head>B</head><div><head>C</head><p>c</p></div><p>d</p></div>")
    assert [part.title for part in found.divisions] == ["", "B", "C"]
    assert found.words == ["a", "B", "C", "c", "d"]


def test_leaves_and_lines_of_the_exemplar():
    found = exemplar_of(
        '<pb n="1r"/><div><head>A</head><p><lb/>one two\n<lb/>three fo<lb break="no"/>ur <pb n="1v"/><lb n="5"/>five'
        '</p><p>six<pb n="2"/><lb/> seven</p></div>'
    )
    assert found.words == ["A", "one", "two", "three", "four", "five", "six", "seven"]
    assert found.places == (
        Place(0, "1r", None),
        Place(1, "1r", 1),
        Place(3, "1r", 2),
        Place(4, "1r", 3),
        Place(5, "1v", None),
        Place(5, "1v", 5),
    )


def test_what_stands_in_the_exemplar_is_copied_and_what_is_said_of_it_is_not():
    found = exemplar_of(
        "<p>a<note>n</note> <choice><sic>teh</sic><corr>the</corr></choice> <del>x</del> <fw>catch</fw>"
        "<choice><abbr>Mr</abbr><expan>Mister</expan></choice> b<!-- c --></p>"
    )
    assert found.words == ["a", "teh", "Mr", "b"]


def test_marks_of_the_plain_form_are_words_here():
    found = exemplar_of("<p># not a rubric</p><p>| not verse</p><p>\n\nstill\n\none</p>")
    assert [block.kind for block in found.blocks] == ["prose"] * 3
    assert found.words == ["#", "not", "a", "rubric", "|", "not", "verse", "still", "one"]


def test_text_outside_paragraphs_is_kept_in_its_place():
    assert exemplar_of("loose<p>a</p>more").words == ["loose", "a", "more"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            '<!DOCTYPE a [<!ENTITY l "ha">]><TEI><text>&l;</text></TEI>',
            "x.xml:1:25: declares an entity",
        ),
        ('<!DOCTYPE a [<!ENTITY l SYSTEM "file:///etc/passwd">]><TEI><text>&l;</text></TEI>', "x.xml:1:52: declares"),
        ('<!DOCTYPE a [<!ENTITY % l "x">%l;]><TEI><text/></TEI>', "x.xml:1:27: declares"),
        (
            '<!DOCTYPE a SYSTEM "http://nowhere.invalid/x.dtd"><TEI><text>&l;</text></TEI>',
            "x.xml:1:62: uses the",
        ),
        ("<TEI><text>&l;</text></TEI>", "x.xml:1:12: this is not well-formed XML (undefined entity)"),
        ("<TEI>\n<text></p>", "x.xml:2:9: this is not well-formed XML (mismatched tag)"),
        ("", "x.xml:1:1: this is not well-formed XML (no element found)"),
        ("<html/>", "x.xml: holds no text element, so it is no TEI"),
        ("<text>" + "<p>" * 300, "x.xml:1:604: elements are nested more than 200 deep"),
    ],
    ids=lambda text: text[:30],
)
def test_what_is_no_tei_is_refused_with_its_place(text, told):
    assert refused(text).startswith(told)


TAGS = ("div", "p", "lg", "l", "head", "note")
MARKS = [f"<{tag}>" for tag in TAGS] + [f"</{tag}>" for tag in TAGS]
PIECES = st.sampled_from([*MARKS, '<pb n="1r"/>', "<lb/>", "a b", "&amp;", "&x;", "<", "{", "#", "|"])


@settings(max_examples=200, deadline=None)
@given(st.lists(PIECES, max_size=12))
def test_any_pieces_are_read_or_refused(pieces):
    text = "<TEI><text>" + " ".join(pieces) + "</text></TEI>"
    try:
        found = read_exemplar(read_tei(text, "x.xml"))
    except CopydeskError as caught:
        assert caught.problems[0].line == 1
    else:
        assert not any("<" in word or "\x00" in word for word in found.words)


def test_notes_in_the_margin_are_glosses_and_other_notes_are_left_out():
    found = exemplar_of(
        '<p>one <note place="margin">now {the} <hi>smithy</hi></note>two<note>n</note> '
        '<note place="margin-left"><p>a <del>x</del>b</p></note>three <note place="margin"> </note>'
        '<note resp="#ed"><note place="margin">the editor</note></note></p>'
        '<note place="margin">beside a paragraph</note><p>four <note place="foot">no</note></p>'
    )
    assert found.words == ["one", "two", "three", "four"]
    assert found.glosses == ((1, "now the smithy"), (2, "a b"), (3, "beside a paragraph"))
