"""What a screen shares that has a page under its cursor: the acts on that page, one key each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.book.common.typed_values import optional, read_minutes, read_whole
from copydesk.desk.base.book_screen import FIRST, BookScreen, stay
from copydesk.desk.base.keys import LEAF_ACTS
from copydesk.tracking.commands.several import pages_of_gathering, pages_of_sheet
from copydesk.tracking.views.page_view import ActKind, page_account

if TYPE_CHECKING:
    from collections.abc import Mapping

    from copydesk.book.structure.page import Page, SkinPage
    from copydesk.desk.base.book_screen import GoTo
    from copydesk.desk.base.keys import KeyBinding
    from copydesk.tracking.views.page_view import PageAccount


class PageScreen(BookScreen):
    """A screen on one page of the book at a time; a subclass says which in ``page``."""

    MORE = LEAF_ACTS

    def named_now(self, key: KeyBinding) -> KeyBinding:
        """The acts on the page are called by what they will do to it."""
        name = key.id.partition(".")[2]
        if name == "next":
            return key._replace(says=self._next_says())
        if name in ("rule", "write", "check"):
            return key._replace(says=f"{name} {self.account.label}")
        return key

    def _next_says(self) -> str:
        """What the act that comes next will do, as ``write 12v``."""
        account = self.account
        says = {
            ActKind.RULE: f"rule {account.label}",
            ActKind.WRITE: f"write {account.label}",
            ActKind.CHECK: f"read {account.label}",
            ActKind.MEND: "mend a fault ...",
            ActKind.INK: f"{account.next_act} {account.label}",
        }
        return says.get(account.next_act.kind, "why nothing is due")

    def acts_now(self) -> list[str]:
        """The keys of the acts that make sense on the page now, most likely first."""
        account = self.account
        record, kind = account.record, account.next_act.kind
        due = kind in (ActKind.RULE, ActKind.WRITE, ActKind.CHECK, ActKind.MEND, ActKind.INK)
        names = [*(["next"] if due else []), *([] if record.whole else ["write_to"])]
        names += ["write"] if not record.whole and kind is ActKind.RULE else []
        if record.written:
            can_check = record.whole and not record.checked_by
            names += [*([] if kind is ActKind.CHECK else ["check_lines"]), *(["check"] if can_check else []), "fault"]
        return [*names, *(["settle"] if record.open_faults and kind is not ActKind.MEND else [])]

    @property
    def account(self) -> PageAccount:
        """The account of the page under the cursor."""
        return page_account(self.job.state, self.page.index)

    def text_to_copy(self) -> str:
        """The page's panel, and its text line by line."""
        from copydesk.desk.base.clipboard import page_told

        return page_told(self.job.state, self.account)

    def action_do_next(self) -> None:
        """Do what the word on the page says comes next."""
        act = self.account.next_act
        steps = {
            ActKind.RULE: self.action_rule,
            ActKind.WRITE: self.action_write,
            ActKind.CHECK: self.action_check_lines,
            ActKind.MEND: self.action_mend,
            ActKind.INK: self.action_go_over,
        }
        step = steps.get(act.kind)
        if step is not None:
            step()
        else:
            self.say(f"{self.account.label}: {act.why_nothing}.")

    def action_rule(self) -> None:
        """Record the page as ruled."""
        self.do(lambda: self.job.commands.rule(self.page))

    def action_go_over(self) -> None:
        """Record the page as gone over in the pass that comes next."""
        name = self.account.next_act.name
        self.do(lambda: self.job.commands.go_over(self.page, name, now=self.job.clock()))

    def action_begin(self) -> None:
        """Record the page as begun."""
        self.do(lambda: self.job.commands.begin(self.page))

    def action_rule_sheet(self) -> None:
        """Record all pages of the sheet as ruled, or none."""
        state, name = self.job.state, self.account.place.sheet_name
        self.do_all(lambda: map(self.job.commands.rule, pages_of_sheet(state, name)))

    def action_rule_gathering(self) -> None:
        """Record all pages of the gathering as ruled, or none."""
        state, number = self.job.state, self.account.place.gathering
        self.do_all(lambda: map(self.job.commands.rule, pages_of_gathering(state, number)))

    def action_write(self) -> None:
        """Record the whole page as written, ending where planned."""
        if self.account.record.whole:
            self.say(f"{self.account.label} is written whole already; e records another end.", wrong=True)
            return
        self.do(lambda: self.job.commands.write(self.page))

    def action_check(self) -> None:
        """Record the page as checked by the hand at the desk."""
        from copydesk.tracking.commands.check_commands import remarks_on
        from copydesk.tracking.log.entry_text import entry_sentence

        entry = self.do(lambda: self.job.commands.check(self.page))
        if entry is not None:
            state = self.job.state
            self.say(" ".join([entry_sentence(entry, state), *remarks_on(state, entry)]))

    def action_write_to(self) -> None:
        """Ask how far the page is written, and its real last words."""
        from copydesk.desk.dialogs.form import SURE, Field, Form
        from copydesk.desk.wording.page_words import beginning_asked, end_asked

        page, account = self.page, self.account
        ends, begins = end_asked(self.job.state, account), beginning_asked(self.job.state, account)

        def record(given: Mapping[str, str]) -> None:
            line = optional(read_whole, given["line"], "the line")
            minutes = optional(read_minutes, given["minutes"], "the time")
            act = self.job.commands.write(
                page,
                to_line=line,
                begins=given["begins"],
                ends=given["ends"],
                within=given["within"] == "yes",
                minutes=minutes,
                note=given["note"],
                sure=given.get(SURE) == "yes",
            )
            self.job.record(act)

        fields = [
            Field("line", "Written to line, counted through the columns", hint="the whole page", whole=True),
            Field("ends", ends.label, hint=ends.hint, follows=self._end_taken),
            Field("within", "Did the pen stop within that line? If so, give the last words", yes_no=True),
            Field("begins", begins.label, hint=begins.hint),
            Field("minutes", "Time it took, in minutes", self._minutes_by_the_clock()),
            Field("note", "Note"),
        ]
        self.app.push_screen(Form(f"{account.label} written", fields, record), self._after_form)

    def _end_taken(self, given: Mapping[str, str]) -> str:
        """Where the text ends if nothing else is said: at the end of the line typed, or of the page.

        Nothing is taken where the pen stopped within a line, or where what is typed is refused.
        """
        from copydesk.desk.wording.page_words import end_after

        if given["within"] == "yes":
            return ""
        try:
            line = optional(read_whole, given["line"], "the line")
            written = self.job.commands.write(self.page, to_line=line, begins=given["begins"])
            return end_after(self.job.state, written)
        except CopydeskError:
            return ""

    def _minutes_by_the_clock(self) -> str:
        """Minutes of the running stint since something was written in it, to be offered; empty where none runs."""
        from copydesk.tracking.scribes.desk_clock import minutes_since_written

        minutes = round(minutes_since_written(self.job.ledger, self.job.store.desk, self.job.clock()))
        return str(minutes) if minutes else ""

    def action_fault(self) -> None:
        """Ask for a fault found on the page."""
        from copydesk.desk.dialogs.fault_dialog import note_fault

        self.run_worker(note_fault(self, self.page), exclusive=True, group="ask")

    def action_mend(self) -> None:
        """Ask which fault is mended, and how."""
        from copydesk.desk.dialogs.fault_dialog import mend_fault

        self.run_worker(mend_fault(self, self.page), exclusive=True, group="ask")

    def action_check_lines(self) -> None:
        """Check the page with its exemplar beside it."""
        if not self.account.record.written:
            self.say(f"{self.account.label}: nothing is written on it that could be checked.", wrong=True)
            return
        self.desk.open_screen("check", self.page)

    def action_hand(self) -> None:
        """Ask whose hand is at this desk."""
        self.run_worker(self._change_hand(), exclusive=True, group="ask")

    async def _change_hand(self) -> None:
        from copydesk.desk.dialogs.form import Choice
        from copydesk.tracking.ledger.entry import Act

        options = [(hand.id, f"{hand.id}  {hand.name}") for hand in self.job.book.hands]
        options += [(name, f"{name}  ({trade})") for name, trade in self.job.book.others.items()]
        hand = await self.app.push_screen_wait(Choice("Whose hand is at this desk now?", options))
        if hand:
            self._end_stint_of_another(hand)
            self.do(lambda: Act("at-desk", self.job.store.desk, "", {}), hand=hand)

    def _end_stint_of_another(self, hand: str) -> None:
        """Whoever leaves the desk ends the stint."""
        from copydesk.desk.base.stint_watch import clock_now
        from copydesk.tracking.scribes.desk_clock import stop_stint

        now = clock_now(self.job)
        if now.open and now.hand != hand:
            self.do(lambda: stop_stint(self.job.store.desk), hand=now.hand)

    def action_leaf(self, what: str = "") -> None:
        """Ask what happened to the leaf or its sheet: cancelled, replaced, added to, flawed."""
        from copydesk.desk.dialogs.leaf_dialog import change_leaf

        self.run_worker(change_leaf(self, self.page, what), exclusive=True, group="ask")

    def action_hold(self) -> None:
        """Ask for the words the page must begin with."""
        from copydesk.desk.dialogs.form import SURE, Field, Form
        from copydesk.desk.wording.page_words import beginning_held

        page, account = self.page, self.account
        held = account.record.held is not None

        def record(given: Mapping[str, str]) -> None:
            commands, begins = self.job.commands, given["begins"]
            if held and not begins:
                self.job.record(commands.release(page))
            else:
                self.job.record(commands.hold(page, begins, sure=given.get(SURE) == "yes"))

        asked = beginning_held(self.job.state, account)
        fields = [Field("begins", asked.label, hint=asked.hint)]
        note = f"Left empty, {account.label} begins again where the text brings it." if held else ""
        self.app.push_screen(Form(f"The beginning of {account.label}", fields, record, note=note), self._after_form)


class SkinScreen(PageScreen):
    """A screen on one page of skin: the one that is numbered ``page`` when the screen is opened."""

    def __init__(self, page: Page = FIRST, go_to: GoTo = stay) -> None:
        super().__init__(page, go_to)
        self._page = page
        self._skin: SkinPage | None = None

    @property
    def page(self) -> Page:
        """The page as it is numbered today."""
        return self._page

    def show_page(self) -> None:
        """Show the page as it stands now."""

    def show_book(self) -> None:
        """Follow the skin; close where its leaf is no longer in the book."""
        if self.still_stands():
            self.show_page()
        elif self.is_current:
            self.close()
        else:
            self._book_seen = (-1, -1)  # so that it closes when it is come back to

    def still_stands(self) -> bool:
        """Whether the skin is in the book; its page is then the number it has today."""
        state = self.job.state
        if self._skin is None:
            self._skin = state.skin_at(self._page.index)
        found = state.page_of(self._skin)
        if found is not None:
            self._page = found
        return found is not None
