"""The plan itself: every part of ``book.yaml`` with its keys, changed in a form that is checked while one types."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.widgets import OptionList, Static

from copydesk.book.common.errors import InvalidValueError
from copydesk.desk.base.list_screen import ToldListScreen
from copydesk.desk.wording.lines import ListRow, PanelLine, next_row
from copydesk.store.folder.kept_plan import PlanChange, plan_change, plan_written
from copydesk.store.plan_file.book_file import parse_plan
from copydesk.store.plan_file.plan_edits import put
from copydesk.store.plan_file.plan_parts import ADDED, PlanPart, new_part, plan_parts
from copydesk.store.plan_file.typed_plan import typed_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from textual.app import ComposeResult

    from copydesk.store.plan_file.reading import Path


MOST_WORDS = 200_000
"""In a longer text, what stands against a change is worked out only when it is to be kept: it takes longer."""

NAME = 14
"""Terminal cells for a part's name."""


class PlanFileScreen(ToldListScreen[PlanPart]):
    """The parts of the plan, and the keys of the one under the cursor."""

    SCOPE = "plan_file"
    TOPIC = "plan-keys"
    PAPER = "dummy"
    FOOT = ("change", "add", "remove")
    CHOOSES = "change"
    CSS_PATH = "plan_file.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (118, "-wide")]  # noqa: RUF012 - as Textual declares it

    def compose(self) -> ComposeResult:
        """The heading, the list, the panel, what was done, the keys."""
        yield Static(" The plan, as book.yaml says it", id="title", markup=False)
        yield from self.list_and_panel(Horizontal(id="plan"), "list")

    def on_mount(self) -> None:
        """Begin with the first part."""
        self.renew()
        self.query_one(OptionList).focus()

    def show_book(self) -> None:
        """Show the parts as the file says them; the cursor stays on its part."""
        before = self.in_hand
        self._text = plan_written(self.job.folder)
        listed = [ListRow(f" {part.says:<{NAME}} {part.said}", part) for part in plan_parts(self._text)]
        found = next_row(listed, lambda part: before is not None and part.path == before.path)
        self.fill(listed, found or 0)

    def lines_in_hand(self) -> Iterable[PanelLine]:
        """The keys of the part under the cursor, each with its line of help."""
        part = self.in_hand
        if part is None:
            return
        yield PanelLine("", part.help)
        yield from (PanelLine(key.name, f"{said or '-'}   {key.help}") for _, key, said in part.fields)

    def action_change(self) -> None:
        """Ask for the keys of the part in hand."""
        if self.in_hand is not None:
            self._ask(self.in_hand)

    def _ask(self, part: PlanPart) -> None:
        from copydesk.desk.dialogs.form import Field, Form

        fields = [
            Field(f"key{at}", f"{key.name}: {key.help}", said, hint=key.holds.wanted)
            for at, (_, key, said) in enumerate(part.fields)
        ]

        def changed(given: Mapping[str, str]) -> dict[Path, str]:
            pairs = ((each, given[f"key{at}"]) for at, each in enumerate(part.fields))
            return {each.path: said for each, said in pairs if said != each.said}

        def check(given: Mapping[str, str]) -> str:
            after = typed_in(self._text, changed(given))
            parse_plan(after, "book.yaml").finish()
            lines = PlanChange(self._text, after, self.job.state).difference
            return "\n".join(line for line in lines if line[1:].strip() and line[1:].lstrip()[0] != "#")

        def answer(given: Mapping[str, str]) -> None:
            self._keep(changed(given))

        def weigh(given: Mapping[str, str]) -> None:
            if self.job.state.copy.words <= MOST_WORDS:
                self._changed(changed(given))

        self.app.push_screen(Form(f"{part.says}: {part.help}", fields, answer, check=check, ponder=weigh))

    def _changed(self, given: Mapping[Path, str]) -> PlanChange:
        return plan_change(self.job.folder, self.job.state, lambda text: typed_in(text, given))

    def _keep(self, given: Mapping[Path, str]) -> None:
        change = self._changed(given)
        if change.after != change.before:
            self.keep_plan(change, "Kept in book.yaml; u takes it back.")

    def action_add(self) -> None:
        """Ask what is to be added, as a hand, a division or a space; then for its keys."""
        self.run_worker(self._add(), exclusive=True, group="ask")

    async def _add(self) -> None:
        from copydesk.desk.dialogs.form import Choice, Field, Form

        told = [(key, new_part(self._text, key, "A").help) for key in ADDED]
        key = await self.app.push_screen_wait(Choice("What is to be added?", told))
        if key == "hands":
            names: list[str] = []

            def named(given: Mapping[str, str]) -> None:
                if not given["name"]:
                    raise InvalidValueError("a hand needs a letter; write one, as in B")
                names.append(given["name"])

            await self.app.push_screen_wait(Form("A hand", [Field("name", "The letter it goes under")], named))
            if names:
                self._ask(new_part(self._text, key, names[0]))
        elif key:
            self._ask(new_part(self._text, key))

    def action_remove(self) -> None:
        """Take the part in hand out of the file, once that was shown."""
        part = self.in_hand
        if part is not None and part.path:
            self.run_worker(self._remove(part.path), exclusive=True, group="ask")

    async def _remove(self, path: Path) -> None:
        from copydesk.desk.dialogs.plan_keeping import keep_plan

        await keep_plan(self, lambda: plan_change(self.job.folder, self.job.state, lambda text: put(text, path, None)))
