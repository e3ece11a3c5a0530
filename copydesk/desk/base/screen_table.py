"""Every screen that is opened by name: its class, the key that opens it, and what people call it."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, NamedTuple, cast

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.screen import Screen


class ScreenEntry(NamedTuple):
    """One screen.

    ``where`` is its module below ``copydesk.desk`` and its class, so that no screen imports another. ``key`` is the id
    of the key that opens it, ``letter`` the one it has in the list of screens (empty where it does not stand there).
    ``called`` are words people look for it by, besides the label of its key.
    """

    name: str
    letter: str
    where: str
    key: str
    called: tuple[str, ...] = ()


SCREENS: tuple[ScreenEntry, ...] = (
    ScreenEntry("help", "", "base.help_screen:HelpScreen", "all.help", ("keys", "manual")),
    ScreenEntry("words", "", "base.glossary_screen:WordsScreen", "all.words", ("glossary", "terms")),
    ScreenEntry(
        "overview", "g", "book_screens.overview:OverviewScreen", "grid.overview", ("gatherings", "quires", "list")
    ),
    ScreenEntry("sheet", "v", "page_screens.sheet:SheetScreen", "grid.sheet", ("loose sheet", "bifolium", "leaf")),
    ScreenEntry("check", "x", "page_screens.check:CheckScreen", "grid.check_lines", ("checker", "proofread")),
    ScreenEntry(
        "transcribe", "", "page_screens.transcribe:TranscribeScreen", "check.typed", ("compare", "transcription")
    ),
    ScreenEntry("faults", "f", "page_screens.faults:FaultsScreen", "grid.faults", ("errors", "mistakes")),
    ScreenEntry("fault-rates", "t", "book_screens.fault_rates:SlipsScreen", "faults.tell", ("error rates",)),
    ScreenEntry("changes", "c", "page_screens.changes:ChangesScreen", "grid.changes", ("departures", "left out")),
    ScreenEntry("plan", "p", "book_screens.planner:PlannerScreen", "grid.plan", ("what if", "figures", "layout")),
    ScreenEntry(
        "plan-file", "e", "book_screens.plan_file:PlanFileScreen", "grid.plan_file", ("book.yaml", "edit", "settings")
    ),
    ScreenEntry(
        "spaces",
        "i",
        "book_screens.spaces:SpacesScreen",
        "grid.spaces",
        ("artist", "illuminator", "initials", "rubricator", "to paint"),
    ),
    ScreenEntry(
        "passes",
        "y",
        "book_screens.passes:PassesScreen",
        "grid.passes",
        ("rubrics", "capitals", "penwork", "inks", "paragraph marks"),
    ),
    ScreenEntry("pile", "w", "book_screens.pile:PileScreen", "grid.pile", ("where sheets are", "sheets")),
    ScreenEntry("skins", "s", "book_screens.skins:SkinsScreen", "grid.skins", ("parchment", "vellum", "preparation")),
    ScreenEntry(
        "handover", "n", "page_screens.handover:HandoverScreen", "grid.handover", ("next scribe", "second scribe")
    ),
    ScreenEntry("stints", "a", "book_screens.stints:StintsScreen", "grid.stints", ("hands", "scribes", "shares")),
    ScreenEntry(
        "assembly", "b", "book_screens.assembly:AssemblyScreen", "grid.assembly", ("binder", "binding", "sewing", "sew")
    ),
    ScreenEntry(
        "colophon", "o", "book_screens.colophon:ColophonScreen", "assembly.colophon", ("signature of the scribe",)
    ),
    ScreenEntry("pace", "d", "book_screens.pace:PaceScreen", "grid.pace", ("forecast", "due date", "plots", "when")),
    ScreenEntry("remedies", "r", "page_screens.remedies:RemediesScreen", "grid.remedies", ("too long", "too short")),
    ScreenEntry("offers", "", "dialogs.offers:Offers", "all.others"),
    ScreenEntry("finder", "", "dialogs.finder:Finder", "all.find", ("search", "go to")),
    ScreenEntry("palette", "", "dialogs.finder:Palette", "all.palette", ("commands",)),
    ScreenEntry("log", "u", "book_screens.log:LogScreen", "grid.log", ("history", "ledger", "entries", "recorded")),
)


def screen_class(name: str) -> Callable[..., Screen[object]]:
    """The class of the screen called ``name``, its module imported now.

    Raises:
        StopIteration: where the table has no such screen, which is a mistake of ours.
    """
    module, _, cls = next(entry.where for entry in SCREENS if entry.name == name).partition(":")
    return cast("Callable[..., Screen[object]]", getattr(import_module(f"copydesk.desk.{module}"), cls))
