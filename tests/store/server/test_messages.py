"""What is said of a ledger on a server names the server, and says what to do."""

from __future__ import annotations

from pathlib import Path

from copydesk.store.server import messages

BOOK = Path("my-book")


def test_entries_are_counted_in_words() -> None:
    assert (messages.entries(1), messages.entries(2)) == ("1 entry", "2 entries")
    assert messages.to_be_sent("loft", 1) == "Kept here, to be sent to the server loft: 1 entry."


def test_each_sentence_names_the_server_and_says_what_to_do() -> None:
    said = {
        messages.newer("loft", 3, 2): "(its form is 3, this program knows 2), so it is only read; install the newer",
        messages.closed("loft", "moved"): "is no longer in use: moved",
        messages.gone("loft", BOOK): "copydesk ledger my-book move --to server",
        messages.another("loft", BOOK): "move my-book away to take it as it is",
        messages.never_read("loft", "no route"): "(no route), and no copy of it was read here yet; see that",
        messages.away("loft", "no route"): "(no route); what is recorded is kept here",
        messages.turned_away("loft", "no such name"): "does not let this desk in (no such name); put the name, the",
        messages.other_title("loft", "Frost"): "'Frost'; if this is another book, give it a service of its own",
        messages.damaged("loft", 7, "torn", BOOK): "entry 7 on the server loft is damaged: torn; it was left out",
        messages.clash("loft", "e1", BOOK): "the id 'e1' stands for one entry on the server loft and for another in",
        messages.refuses("Nothing was sent", "loft", "no"): "says 'no'; ask whoever keeps it",
    }
    for sentence, part in said.items():
        assert part in sentence
        assert "loft" in sentence
    assert "copydesk merge BOOK my-book --any-book" in messages.cannot_be_sent(2, BOOK)
