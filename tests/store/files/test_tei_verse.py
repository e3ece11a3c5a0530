"""How far the verses of a TEI file are indented."""

from __future__ import annotations

import pytest

from copydesk.book.text.exemplar import Block, read_exemplar
from copydesk.store.files.tei_exemplar import read_tei
from copydesk.store.files.tei_verse import VerseRoom, verse_room


def blocks_of(body: str) -> tuple[Block, ...]:
    return read_exemplar(read_tei(f"<TEI><text><body>{body}</body></text></TEI>", "x.xml")).blocks


@pytest.mark.parametrize(
    ("attributes", "room"),
    [
        ({}, VerseRoom()),
        ({"rend": "indent"}, VerseRoom(2)),
        ({"rend": "italic indent2"}, VerseRoom(4)),
        ({"rend": "indent(3) hanging"}, VerseRoom(6, 2)),
        ({"rend": "indented-ish"}, VerseRoom()),
        ({"style": "text-indent: 3ch"}, VerseRoom(3)),
        ({"rend": "indent", "style": "text-indent:3ch"}, VerseRoom(3)),
        ({"style": "margin-left: 1.5em; color: red"}, VerseRoom(3)),
        ({"style": "padding-left: 4ch; text-indent: -4ch"}, VerseRoom(0, 4)),
        ({"style": "text-indent: -99em"}, VerseRoom(0, 198)),
    ],
)
def test_what_attributes_say(attributes: dict[str, str], room: VerseRoom) -> None:
    assert verse_room(attributes) == room


def test_verses_have_what_they_and_their_stanza_ask_for() -> None:
    found = blocks_of('<lg rend="indent"><l>a</l><l rend="indent hanging">b</l></lg><lg><l>c</l></lg><p>d</p>')
    assert [(block.indent, block.hang, block.paragraph) for block in found] == [
        (2, 0, 1),
        (4, 2, 1),
        (0, 0, 2),
        (0, 0, 3),
    ]


def test_space_of_lines_leaves_lines_blank() -> None:
    found = blocks_of('<lg><l>a</l><space unit="lines" quantity="2" dim="vertical"/><l>b</l></lg>')
    assert [(block.blank, block.paragraph) for block in found] == [(0, 1), (2, 1)]


def test_places_stand_beside_marks() -> None:
    text = read_tei('<TEI><text><pb n="2r"/><lg><l rend="indent hanging"><lb n="3"/>a b</l></lg></text></TEI>', "x.xml")
    found = read_exemplar(text)
    assert found.words == ["a", "b"]
    assert [(str(place), place.word) for place in found.places] == [("2r", 0), ("2r 3", 0)]
    assert (found.blocks[0].indent, found.blocks[0].hang) == (2, 2)
