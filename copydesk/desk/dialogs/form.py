"""A form: a few lines to fill in, or a list to choose from. Every question of the desk is one of these."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, NamedTuple, TypeVar

from textual.await_complete import AwaitComplete
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Label, OptionList
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError, UnlikelyError
from copydesk.book.common.phrases import capital

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from textual.app import ComposeResult
    from textual.binding import BindingType
    from textual.events import DescendantFocus

    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.tracking.ledger.entry import Act, Entry


Answer = TypeVar("Answer")


class Field(NamedTuple):
    """A line of a form: its name, its label, what stands in it at first, a hint; digits only where ``whole``."""

    name: str
    label: str
    value: str = ""
    hint: str = ""
    whole: bool = False


_HELP_KEYS: list[BindingType] = [("f1", "app.help", "help"), ("f3", "app.words", "words")]


SURE = "sure"
"""The field that says ``yes`` where a person, asked again, means what hardly anybody can have done."""

YES_NO = (("no", "no: go back and nothing is recorded"), ("yes", "yes: record it all the same"))


class Asking(ModalScreen[Answer]):
    """What forms and lists share: help is at hand while they are open."""

    CSS_PATH = "form.tcss"
    TOPIC: ClassVar[str] = "forms"

    def dismiss(self, result: Answer | None = None) -> AwaitComplete:
        """Close with an answer; nothing where it is closed already."""
        return super().dismiss(result) if self.is_current else AwaitComplete()


class Form(Asking[bool]):
    """Asks for fields; hands them to ``answer``, and says in the form itself what that refuses."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        ("escape", "leave", "leave it"),
        ("ctrl+s", "done", "done"),
        *_HELP_KEYS,
    ]

    def __init__(
        self, title: str, fields: Sequence[Field], answer: Callable[[Mapping[str, str]], None], *, note: str = ""
    ) -> None:
        super().__init__()
        self._asks = title
        self._lines_asked = tuple(fields)
        self._answer = answer
        self._note = note

    def compose(self) -> ComposeResult:
        """The title, the fields, and where a refusal is said."""
        with Vertical(id="form"):
            yield Label(Content(self._asks), id="title")
            for field in self._lines_asked:
                yield Label(Content(field.label), classes="label")
                yield Input(
                    field.value, placeholder=field.hint, type="integer" if field.whole else "text", id=field.name
                )
            if self._note:
                yield Label(Content(self._note), id="note")
            yield Label("", id="refusal")
            yield Label(Content("enter goes on and records after the last line; escape leaves all as it is"), id="how")

    def on_mount(self) -> None:
        """Begin with the first line, the title in sight above it."""
        if self._lines_asked:
            self.query_one(f"#{self._lines_asked[0].name}", Input).focus(scroll_visible=False)

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Keep what is asked in sight above its line."""
        lines = list(event.widget.parent.children) if event.widget.parent is not None else []
        at = lines.index(event.widget) if event.widget in lines else 0
        if at > 1:  # above the first label stands the title, which is in sight with it
            self.call_after_refresh(lines[at - 1].scroll_visible, animate=False)

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next line; after the last, be done."""
        event.stop()
        names = [field.name for field in self._lines_asked]
        at = names.index(event.input.id or "")
        if at + 1 < len(names):
            self.query_one(f"#{names[at + 1]}", Input).focus()
        else:
            await self.run_action("done")

    def action_done(self) -> None:
        """Hand the answers over; stay if they are refused."""
        given = {field.name: self.query_one(f"#{field.name}", Input).value.strip() for field in self._lines_asked}
        self._hand_over(given)

    def _hand_over(self, given: Mapping[str, str]) -> None:
        try:
            self._answer(given)
        except UnlikelyError as doubt:
            self._ask_again(doubt, given)
        except CopydeskError as refused:
            said = self.query_one("#refusal", Label)
            said.update(Content("\n".join(map(str, refused.problems))))
            self.call_after_refresh(said.scroll_visible, animate=False)
        else:
            self.dismiss(True)

    def _ask_again(self, doubt: UnlikelyError, given: Mapping[str, str]) -> None:
        """Ask whether what hardly anybody can have done is meant; "no" is in hand, and goes back to the form."""

        def decide(answer: str | None) -> None:
            if answer == "yes":
                self._hand_over({**given, SURE: "yes"})

        why = ". ".join(map(str, doubt.problems))
        self.app.push_screen(Choice(f"{capital(why)}. Is that so?", YES_NO), decide)

    def action_leave(self) -> None:
        """Leave all as it is."""
        self.dismiss(False)


class Choice(Asking[str]):
    """Lets a person choose one of a few; gives its name, empty where none is chosen.

    ``note`` is shown below the list; ``notes`` holds what is to be minded with one option, shown while it is in hand.
    """

    BINDINGS: ClassVar[list[BindingType]] = [("escape", "leave", "leave it"), *_HELP_KEYS]

    def __init__(
        self,
        title: str,
        options: Sequence[tuple[str, str]],
        *,
        note: str = "",
        notes: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__()
        self._asks = title
        self._options = tuple(options)
        self._note = note
        self._notes = notes or {}

    def compose(self) -> ComposeResult:
        """The title and the list."""
        with Vertical(id="form"):
            yield Label(Content(self._asks), id="title")
            yield OptionList(*(Option(Content(says), id=f"o{at}") for at, (_, says) in enumerate(self._options)))
            if self._note or self._notes:
                yield Label(Content(self._notes.get(self._options[0][0], self._note)), id="note")
            yield Label(Content("enter chooses; escape leaves all as it is"), id="how")

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what is to be minded with this option."""
        event.stop()
        if self._notes:
            name = self._options[event.option_index][0]
            self.query_one("#note", Label).update(Content(self._notes.get(name, self._note)))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Give what was chosen."""
        event.stop()
        self.dismiss(self._options[event.option_index][0])

    def action_leave(self) -> None:
        """Choose nothing."""
        self.dismiss("")


async def record_form(
    screen: BookScreen, title: str, fields: Sequence[Field], make: Callable[[Mapping[str, str]], Act], *, note: str = ""
) -> Entry | None:
    """Ask for fields and record the act that ``make`` makes of them; what it refuses is said in the form.

    Gives the entry, the screen showing the book with it; None where the form was left.
    """
    recorded: list[Entry] = []

    def answer(given: Mapping[str, str]) -> None:
        recorded.append(screen.job.record(make(given)))

    await screen.app.push_screen_wait(Form(title, fields, answer, note=note))
    if not recorded:
        return None
    screen.renew()
    screen.show_cautions()
    return recorded[-1]
