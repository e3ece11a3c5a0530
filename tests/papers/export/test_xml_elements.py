from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from copydesk.papers.export.xml_elements import document, element, listed


def test_texts_and_elements_stand_in_their_order():
    made = element("p", {"n": 3}, "a ", element("b", "c"), " d", None, element("e"), "f", "g")
    assert ElementTree.tostring(made, encoding="unicode") == '<p n="3">a <b>c</b> d<e />fg</p>'


def test_a_list_leaves_out_what_is_not_there():
    made = element("p", *listed(["a", None, "", element("b"), [], ("c", " ", element("d"))]))
    assert ElementTree.tostring(made, encoding="unicode") == "<p>a, <b />, c <d /></p>"


def test_indenting_leaves_words_together():
    inner = element("p", "a", element("b", "c"), "d")
    assert document(element("t", inner)) == ('<?xml version="1.0" encoding="UTF-8"?>\n<t>\n <p>a<b>c</b>d</p>\n</t>\n')


@given(st.text(st.characters(exclude_categories=())), st.text(st.characters(exclude_categories=())))
def test_no_content_is_ever_markup_or_no_xml(text, value):
    read = ElementTree.fromstring(document(element("p", {"n": value}, text, element("b"), text)))  # noqa: S314
    assert [part.tag for part in read] == ["b"]
    assert (read.text or "").isprintable() or not (read.text or "").strip()
    assert read.get("n", "").isprintable()
