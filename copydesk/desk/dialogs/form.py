"""A form: a few lines to fill in, or a list to choose from. Every question of the desk is one of these."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, NamedTuple, TypeVar, cast

from textual.await_complete import AwaitComplete
from textual.containers import Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Input, Label, OptionList
from textual.widgets.option_list import Option

from copydesk.book.common.errors import CopydeskError, UnlikelyError
from copydesk.book.common.phrases import capital
from copydesk.book.common.sanitize import sanitize
from copydesk.desk.base.hanging_text import HangingText
from copydesk.desk.base.keys import key_binding, key_named
from copydesk.desk.base.screen_foot import FootLine, SayLine
from copydesk.desk.dialogs.yes_no import YesNo
from copydesk.desk.widgets.lines_panel import LinesPanel
from copydesk.desk.widgets.pick_list import PickList

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from textual.app import ComposeResult
    from textual.binding import BindingType
    from textual.events import DescendantFocus, Key
    from textual.timer import Timer
    from textual.types import CSSPathType

    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.desk.wording.lines import PanelLine
    from copydesk.tracking.ledger.entry import Act, Entry


Answer = TypeVar("Answer")


class Field(NamedTuple):
    """A line of a form: its name, its label with the unit, what stands in it at first, and what it takes if left empty.

    ``hint``, in grey, is what an empty line is taken for, nothing else; ``follows`` works it out anew from the answers
    whenever one changes. Only digits go in where ``whole``; ``yes_no`` is answered by one key, ``yes`` or nothing.
    """

    name: str
    label: str
    value: str = ""
    hint: str = ""
    whole: bool = False
    yes_no: bool = False
    follows: Callable[[Mapping[str, str]], str] | None = None


SURE = "sure"
"""The field that says ``yes`` where a person, asked again, means what hardly anybody can have done."""

WAIT_SECONDS = 0.4
"""How long the typing rests before what takes longer is worked out."""

YES_NO = (("no", "no: go back and nothing is recorded"), ("yes", "yes: record it all the same"))


class Asking(ModalScreen[Answer]):
    """What forms and lists share: help and the way out are at hand while they are open."""

    CSS_PATH: ClassVar[CSSPathType | None] = "form.tcss"
    TOPIC: ClassVar[str] = "forms"

    def dismiss(self, result: Answer | None = None) -> AwaitComplete:
        """Close with an answer; nothing where it is closed already."""
        return super().dismiss(result) if self.is_current else AwaitComplete()

    def foot(self, *names: str) -> FootLine:
        """The foot with the keys of these names."""
        return FootLine(map(key_named, names))


class Form(Asking[bool]):
    """Asks for fields; hands them to ``answer``, and says in the form itself what that refuses.

    ``check`` gives what is to be said of the answers while they are typed, or refuses them as ``answer`` will;
    ``ponder`` refuses, once the typing rests, what takes longer to find.
    """

    SCOPE: ClassVar[str] = "form"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        key_binding(f"form.{name}") for name in ("record", "help", "words", "back")
    ]

    def __init__(
        self,
        title: str,
        fields: Sequence[Field],
        answer: Callable[[Mapping[str, str]], None],
        *,
        note: str = "",
        check: Callable[[Mapping[str, str]], str] = lambda given: "",  # noqa: ARG005 - nothing is to be said
        ponder: Callable[[Mapping[str, str]], None] | None = None,
    ) -> None:
        super().__init__()
        self._check = check
        self._ponder = ponder
        self._due: Timer | None = None
        self._asks = title
        self._lines_asked = tuple(fields)
        self._answer = answer
        self._note = note

    def compose(self) -> ComposeResult:
        """The title, the fields, where a refusal is said, and the keys."""
        with Vertical(id="form"):
            yield Label(Content(self._asks), id="title")
            for field in self._lines_asked:
                yield Label(Content(field.label), classes="label")
                yield _line_for(field)
            if self._note:
                yield Label(Content(self._note), id="note")
            yield SayLine(id="refusal")
            yield self.foot("form.record", "form.next", "form.help", "form.back")

    def on_mount(self) -> None:
        """Begin with the first line, the title in sight above it."""
        if self._lines_asked:
            self._line(self._lines_asked[0].name).focus(scroll_visible=False)
        self._show_hints()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Keep what is asked in sight above its line."""
        lines = list(event.widget.parent.children) if event.widget.parent is not None else []
        at = lines.index(event.widget) if event.widget in lines else 0
        if at > 1:  # above the first label stands the title, which is in sight with it
            self.call_after_refresh(lines[at - 1].scroll_visible, animate=False)

    def _line(self, name: str) -> Input | YesNo:
        return cast("Input | YesNo", self.query_one(f"#{name}"))

    @property
    def given(self) -> dict[str, str]:
        """What is answered now, by the names of the fields."""
        return {field.name: self._line(field.name).value.strip() for field in self._lines_asked}

    def on_input_changed(self) -> None:
        """What empty lines are taken for, and what is said of the answers, follow what is typed."""
        self._show_hints()
        if self._due is not None:
            self._due.stop()
        try:
            self._said(said := self._check(self.given))
        except CopydeskError as refused:
            self._said("\n".join(map(str, refused.problems)), wrong=True)
            return
        if self._ponder is not None and said:
            self._due = self.set_timer(WAIT_SECONDS, partial(self._pondered, self._ponder))

    def _pondered(self, ponder: Callable[[Mapping[str, str]], None]) -> None:
        try:
            ponder(self.given)
        except CopydeskError as refused:
            self._said("\n".join(map(str, refused.problems)), wrong=True)

    def on_yes_no_changed(self) -> None:
        """The same where a line answered yes or no changes."""
        self._show_hints()

    def _show_hints(self) -> None:
        for field in self._lines_asked:
            line = self._line(field.name)
            if field.follows is not None and isinstance(line, Input):
                line.placeholder = sanitize(field.follows(self.given))

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next line; after the last, be done."""
        event.stop()
        await self._after(event.input.id or "")

    async def on_yes_no_submitted(self, event: YesNo.Submitted) -> None:
        """The same after a line answered yes or no."""
        event.stop()
        await self._after(event.line.id or "")

    async def _after(self, name: str) -> None:
        names = [field.name for field in self._lines_asked]
        at = names.index(name)
        if at + 1 < len(names):
            self._line(names[at + 1]).focus()
        else:
            await self.run_action("done")

    def action_next(self) -> None:
        """Go to the next line."""
        self.focus_next()

    def action_done(self) -> None:
        """Hand the answers over; stay if they are refused."""
        self._hand_over(self.given)

    def _hand_over(self, given: Mapping[str, str]) -> None:
        try:
            self._answer(given)
        except UnlikelyError as doubt:
            self._ask_again(doubt, given)
        except CopydeskError as refused:
            self._said("\n".join(map(str, refused.problems)), wrong=True)
            self.call_after_refresh(self.query_one(SayLine).scroll_visible, animate=False)
        else:
            self.dismiss(True)

    def _said(self, text: str, *, wrong: bool = False) -> None:
        self.query_one(SayLine).say(text, wrong=wrong)

    def _ask_again(self, doubt: UnlikelyError, given: Mapping[str, str]) -> None:
        """Ask whether what hardly anybody can have done is meant; "no" is in hand, and goes back to the form."""

        def decide(answer: str | None) -> None:
            if answer == "yes":
                self._hand_over({**given, SURE: "yes"})

        why = ". ".join(map(str, doubt.problems))
        self.app.push_screen(Choice(f"{capital(why)}. Is that so?", YES_NO, letters="ny"), decide)

    def action_leave(self) -> None:
        """Leave all as it is."""
        self.dismiss(False)


def _line_for(field: Field) -> Input | YesNo:
    if field.yes_no:
        return YesNo(yes=field.value == "yes", id=field.name)
    return Input(field.value, placeholder=field.hint, type="integer" if field.whole else "text", id=field.name)


class Choice(Asking[str]):
    """Lets a person choose one of a few; gives its name, empty where none is chosen.

    The harmless choice stands first. ``letters`` choose the options one by one; without them the digits from 1 do.
    ``at`` names the option in hand first.
    ``note`` is shown below the list; ``notes`` holds what is to be minded with one option, shown while it is in hand.
    """

    SCOPE: ClassVar[str] = "choice"
    BINDINGS: ClassVar[list[BindingType]] = [
        key_binding(f"choice.{name}") for name in ("choose", "help", "words", "back")
    ]

    def __init__(
        self,
        title: str,
        options: Sequence[tuple[str, str]],
        *,
        note: str = "",
        notes: Mapping[str, str] | None = None,
        letters: Sequence[str] = "123456789",
        at: str = "",
    ) -> None:
        super().__init__()
        self._at = at
        self._asks = title
        self._options = tuple(options)
        self._note = note
        self._notes = notes or {}
        self._letters = dict(zip(letters, (name for name, _ in self._options), strict=False))

    def compose(self) -> ComposeResult:
        """The title, the list and the keys."""
        letters = [*self._letters, *[" "] * len(self._options)]
        with Vertical(id="form"):
            yield Label(Content(self._asks), id="title")
            yield PickList(
                *(
                    Option(HangingText(Content(f"{letters[at]}  {says}")), id=f"o{at}")
                    for at, (_, says) in enumerate(self._options)
                )
            )
            if self._note or self._notes:
                yield Label(Content(self._notes.get(self._options[0][0], self._note)), id="note")
            yield self.foot("choice.choose", "choice.help", "choice.back")

    def on_mount(self) -> None:
        """Begin at the option that is to be in hand."""
        names = [name for name, _ in self._options]
        self.query_one(OptionList).highlighted = names.index(self._at) if self._at in names else 0

    def on_key(self, event: Key) -> None:
        """A letter before a row chooses that row."""
        name = self._letters.get(event.character or "")
        if name is not None:
            event.stop()
            self.give(name)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Show what is to be minded with this option."""
        event.stop()
        if self._notes:
            name = self._options[event.option_index][0]
            self.query_one("#note", Label).update(Content(self._notes.get(name, self._note)))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Give what was chosen."""
        event.stop()
        self.give(self._options[event.option_index][0])

    def give(self, name: str) -> None:
        """Close the list with what was chosen."""
        self.dismiss(name)

    def action_choose(self) -> None:
        """Choose the row in hand."""
        self.query_one(OptionList).action_select()

    def action_leave(self) -> None:
        """Choose nothing."""
        self.give("")


class Told(Asking[None]):
    """Shows lines of text over the screen until it is closed."""

    SCOPE: ClassVar[str] = "told"
    BINDINGS: ClassVar[list[BindingType]] = [key_binding(f"told.{name}") for name in ("help", "back")]

    def __init__(self, title: str, lines: Sequence[PanelLine]) -> None:
        super().__init__()
        self._title = title
        self._told = list(lines)

    def compose(self) -> ComposeResult:
        """The title, the lines and the keys."""
        with Vertical(id="form"):
            yield Label(Content(self._title), id="title")
            yield LinesPanel(id="lines")
            yield self.foot("told.help", "told.back")

    def on_mount(self) -> None:
        """Show the lines."""
        self.query_one(LinesPanel).show_lines(self._told)

    def action_leave(self) -> None:
        """Close it."""
        self.dismiss(None)


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
