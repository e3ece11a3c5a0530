"""The desk a line at a time: the same acts as the screen's, told in the same order, news at the next prompt."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from copydesk.book.structure.page import Page
from copydesk.desk.base.keymap import Keymap
from copydesk.desk.base.keys import KEYS
from copydesk.desk.line_desk import LineDesk, spoken
from copydesk.desk.line_orders import ORDERS, find_order
from copydesk.desk.wording.lines import PanelLine
from copydesk.tracking.views.page_view import page_account

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from copydesk.job import Job


def speak(job: Job, lines: Sequence[str | Callable[[], object]], keys: Keymap | None = None) -> list[str]:
    """Give these lines to a desk, doing what is callable between them; what it said, prompts among it."""
    heard: list[str] = []
    coming = iter(lines)

    def ask(prompt: str) -> str | None:
        heard.append(prompt)
        for each in coming:
            if isinstance(each, str):
                return each
            each()
        return None

    LineDesk(
        job, keys or Keymap(), ask, lambda *said: heard.extend(said), lambda words: heard.append(f"verb {words}")
    ).run()
    return heard


def state(job: Job, page: str) -> str:
    return page_account(job.state, Page.parse(page).index).record.state


NOT_IN_LINES = {
    "all.palette": "help lists every order",
    "all.find": "every order asks for the page by its name",
    "all.others": "every screen has an order of its own",
    "grid.more": "every act has an order of its own",
    "all.back": "every order ends by itself, and a question is left with the word cancel",
    "all.look": "nothing is coloured",
    "all.copy": "the terminal's own copying reaches every line",
    "grid.up": "back goes to the page before",
    "grid.down": "forward goes to the page after",
    "grid.plan_file": "the order plan takes --set, --keep and --put-back, as the verb does",
    "grid.passes": "the pass that is due on a page is an order's question, and the verb passes lists them",
    "grid.closed": "overview tells each gathering in a sentence",
}
"""Keys of the gatherings' screen that have no order, each with the reason."""


def test_every_act_of_the_gatherings_has_an_order_or_a_reason() -> None:
    wanted = {key.id for key in KEYS if key.id.split(".")[0] in ("grid", "all")}
    offered = {order.id for order in ORDERS}
    assert offered | NOT_IN_LINES.keys() >= wanted - {"all.copy", "all.tour"}
    assert not offered & NOT_IN_LINES.keys()
    names = [name for order in ORDERS for name in order.names]
    assert len(names) == len(set(names))
    assert all(order.verb or hasattr(LineDesk, order.does) for order in ORDERS)


def test_an_order_is_found_by_key_name_and_label() -> None:
    keys = Keymap()
    found = [find_order(said, keys) for said in ("w", "Write", "next space", "next page", "faults", "f")]
    assert [each and each.id for each in found] == [
        *("grid.write", "grid.write", "grid.next_space", "grid.next_write", "grid.faults", "grid.fault"),
    ]
    assert find_order("12r", keys) is None
    own = Keymap({"grid.write": "z"})
    assert (find_order("z", own), find_order("w", own)) == (find_order("write", keys), None)


def test_a_page_is_written_taken_back_and_written_again(job: Job) -> None:
    heard = speak(job, ["write", "undo", "y", "quit", "never"])
    assert heard[0] == "The Twelve Waters. At this desk: hand A. help lists the orders, quit ends."
    assert heard[2].startswith("12v: gathering 2, sheet 4")
    assert 'Recorded: 12v written by A, lines 24 to 48, ends "sat on the".' in heard
    assert any(said.startswith("Taken back: 12v written") for said in heard)
    assert any(said.startswith("Stands again: 12v written") for said in heard)
    assert state(job, "12v") == "written"
    assert heard[-1] == "12v, check> "


def test_next_does_what_the_word_says_and_an_empty_line_does_nothing(job: Job) -> None:
    before = len(job.ledger)
    heard = speak(job, ["", "", "13r"])
    assert len(job.ledger) == before
    assert sum(said.startswith("12v: gathering") for said in heard) == 3
    speak(job, ["next"])
    assert state(job, "12v") == "written"


def test_fields_are_asked_one_a_line_and_cancel_leaves(job: Job) -> None:
    heard = speak(job, ["e", "30", "", "", "", "1h20", "by lamp"])
    assert list(job.ledger)[-1].amount("minutes") == 80
    assert "Last words written (empty: she sat on the): " in heard
    assert page_account(job.state, Page.parse("12v").index).record.written == 30
    before = len(job.ledger)
    heard = speak(job, ["fault", "omission", "1", "cancel"])
    assert "Nothing was recorded." in heard
    heard = speak(job, ["e", "thirty"])
    heard += speak(job, ["e", "", "", "", "", "²"])
    assert any("'²', which is not a time" in said for said in heard)
    assert any("is 'thirty', which is not a whole number" in said for said in heard)
    assert len(job.ledger) == before


def test_a_fault_is_noted_and_mended_with_its_caution(job: Job) -> None:
    speak(job, ["f", "omission", "1", "3", "", "moss", ""])
    [fault] = page_account(job.state, Page.parse("12v").index).record.open_faults
    assert (fault.kind, fault.column, fault.line, fault.should) == ("omission", 1, 3, "moss")
    heard = speak(job, ["12v", "s", "1"])
    assert sum("Caution: Blade: " in said for said in heard) == 1
    assert not page_account(job.state, Page.parse("12v").index).record.open_faults


def test_each_opening_of_the_line_desk_is_a_sitting_of_its_own(job: Job) -> None:
    fault = ["f", "omission", "1", "3", "", "moss", ""]
    for _ in range(2):
        heard = speak(job, [*fault, "s", "scraped", *fault, "s", "scraped"])
        assert heard.count("How is it mended: ") == 2
        assert sum("Caution: Blade: " in said for said in heard) == 1


def test_going_about_and_not_beyond_the_ends(job: Job) -> None:
    heard = speak(job, ["first", "back", "last", "forward", "gathering up", "99r", "zz", "g", "3", "p", "n"])
    assert "There is no page before." in heard and "There is no page further on." in heard
    assert "Refused: there is no page 99r in this book; it has leaves 1 to 32" in heard
    assert "verb zz" in heard
    assert [said for said in heard if said.endswith("> ")][5].startswith("17r")


def test_a_sheet_and_a_gathering_are_ruled_whole_or_not_at_all(job: Job) -> None:
    before = len(job.ledger)
    heard = speak(job, ["25r", "rule this sheet"])
    assert [entry.page for entry in job.ledger][before:] == ["25r", "25v", "32r", "32v"]
    assert "Recorded: 25r, 25v, 32r and 32v ruled by A." in heard
    heard = speak(job, ["25r", "rule gathering"])
    assert any(said.startswith("Refused: 25r is ruled already") for said in heard)
    assert len(job.ledger) == before + 4
    heard = speak(job, ["undo", "25r", "rule gathering"])
    assert "And 3 entries recorded together with it." in heard
    assert "Recorded: 25r to 32v ruled by A." in heard
    assert {state(job, f"{leaf}{side}") for leaf in range(25, 33) for side in "rv"} == {"ruled"}
    speak(job, ["undo"])
    assert {state(job, f"{leaf}{side}") for leaf in range(25, 33) for side in "rv"} == {"unruled"}


def test_the_hand_changes_and_a_beginning_is_held_and_let_go(job: Job) -> None:
    speak(job, ["a", "B", "20r", "hold", "", "20r", "hold", ""])
    assert job.hand == "B"
    assert [entry.what for entry in job.ledger][-3:] == ["at-desk", "held", "released"]


def test_the_stint_clock_begins_rests_and_ends(job: Job) -> None:
    heard = speak(job, ["clock", "30", "clock", "rest", "clock", "1", "clock", "end"])
    assert [entry.what for entry in job.ledger][-4:] == [
        "stint-started",
        "stint-paused",
        "stint-started",
        "stint-stopped",
    ]
    assert "0 minutes at the desk, 0 without a rest." in heard


def test_sheet_log_overview_and_lines_are_told_in_words(job: Job) -> None:
    heard = speak(
        job, ["sheet", "v g", "log", "12r", "x", "10", "help", "v i", "remedies", "leaf", "flaw", "10", "10", "5", "5"]
    )
    text = "\n".join(heard)
    assert "Gathering 2, sheet 4, outer side up, flesh" in text
    assert "On the left: 13v" in text and "On the right: 13r" in text
    assert "Gathering 1, leaves 1 to 8, 4 sheets: 16 of 16 pages written" in text
    assert "16 October 15:40: B sat down at the desk" in text
    assert "Recorded: 12r read to line" in text or "12r read" in text
    assert "verb spaces" in heard and "verb remedies 12r" in heard
    assert "verb record leaf:12 flaw --from-head 10 --from-fold 10 --width 5 --height 5" in heard
    assert not any("\x1b" in said for said in heard)


def test_what_two_recorded_apart_waits_at_the_top_of_the_log(job: Job, open_job: Callable[..., Job]) -> None:
    door = open_job("door")
    meant = door.commands.write(Page.parse("12v"))
    heard = speak(job, ["12v", "write", lambda: door.record(meant, hand="B"), "13r", "log"])
    at = next(at for at, said in enumerate(heard) if said.startswith("Contradiction: 12v was recorded as written at"))
    assert heard[at + 1].endswith('12v written by B, lines 24 to 48, ends "sat on the"')


def test_news_of_another_desk_is_told_at_the_next_prompt(job: Job, open_job: Callable[..., Job]) -> None:
    door = open_job("door")
    heard = speak(job, [lambda: door.record(door.commands.write(Page.parse("12v"))), "13r", "overview"])
    at = next(at for at, said in enumerate(heard) if said.startswith("News from desk door: 12v written by"))
    assert heard[at + 1] == "13r, write> "
    door.close()


def test_a_changed_plan_is_told_once(job: Job) -> None:
    plan = job.folder.root / "book.yaml"
    sound = plan.read_text("utf-8")
    broken, again = sound.replace("title:", "titel:"), sound.replace("The Twelve Waters", "Another Title", 2)
    heard = speak(
        job, [lambda: plan.write_text(broken, "utf-8"), "v g", "v g", lambda: plan.write_text(again, "utf-8"), "v g"]
    )
    assert sum(said.startswith("The changed plan was not taken: ") for said in heard) == 1
    assert heard.count("book.yaml was changed; the plan was read again.") == 1


def test_a_heading_goes_on_over_its_lines() -> None:
    assert list(spoken([PanelLine("", "a"), PanelLine("Hand", "b"), PanelLine("", "c")])) == ["a", "Hand: b", "Hand: c"]


@pytest.mark.parametrize("said", ["\x00", "f" * 5000, "'", "-1", "²"])
def test_no_line_brings_it_down(job: Job, said: str) -> None:
    assert speak(job, [said, "quit"])[-1].endswith("> ")


def test_an_end_nobody_can_have_reached_is_asked_about_and_no_is_the_default(job: Job) -> None:
    assert job.exemplar is not None
    far = " ".join(job.exemplar.words[-6:])
    before = len(job.ledger)
    heard = speak(job, ["12v", "e", "", far, "", "", "", "", ""])
    assert any("letters a line; A writes" in said for said in heard)
    assert "Is that so, yes or no (empty: no): " in heard
    assert "Nothing was recorded." in heard
    assert len(job.ledger) == before
    speak(job, ["12v", "e", "", far, "", "", "", "", "yes"])
    assert len(job.ledger) == before + 1


def test_a_beginning_nobody_can_have_reached_is_asked_about_and_no_is_the_default(job: Job) -> None:
    assert job.exemplar is not None
    far = " ".join(job.exemplar.words[-6:])
    before = len(job.ledger)
    for order in (["20r", "hold", far, ""], ["20r", "e", "", "", "", far, "", "", ""]):
        heard = speak(job, order)
        assert any("lines before it, some" in said for said in heard)
        assert "Is that so, yes or no (empty: no): " in heard
        assert "Nothing was recorded." in heard
        assert len(job.ledger) == before
    speak(job, ["20r", "hold", far, "yes"])
    assert [entry.what for entry in job.ledger][before:] == ["held"]
