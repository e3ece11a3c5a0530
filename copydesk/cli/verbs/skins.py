"""``copydesk skins BOOK``: the skins in the making, what they ask for today, and which sheets were cut from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of
from copydesk.book.materials.cautions import LABEL
from copydesk.book.materials.skin_preparation import step_cautions
from copydesk.cli.exit_codes import ExitCode
from copydesk.cli.open_book import add_book, open_book
from copydesk.cli.output import give_json, say, table_of
from copydesk.tracking.views.skin_batches import BATCHES, SKINS, needed_words, skins_today
from copydesk.tracking.views.skin_order import steps_words

if TYPE_CHECKING:
    from argparse import ArgumentParser, Namespace
    from collections.abc import Iterator

    from copydesk.tracking.views.skin_batches import SkinsToday


SAYS = (
    "Each batch of skins: the step it is in, since when, what follows and when it is due; the lime is warned of\n"
    "before it runs past its days. Record a step with: copydesk record BOOK skins:NAME STEP [--skins N]."
)
EXAMPLES = (
    "copydesk skins my-book",
    "copydesk record my-book skins:A soak --skins 6",
    "copydesk record my-book skins:A next",
    "copydesk record my-book sheet:3.2 cut --batch A --skin 4",
    "copydesk skins my-book --json",
)


def add_arguments(parser: ArgumentParser) -> None:
    """The book and ``--json``."""
    add_book(parser)


def run(arguments: Namespace) -> ExitCode:
    """Give the batches."""
    job = open_book(arguments)
    skins = skins_today(job.state, job.clock().date())
    if arguments.json:
        give_json(SKINS.data(skins))
        return ExitCode.DONE
    say(needed_words(skins), f"Steps: {steps_words(skins.steps)}.")
    if skins.batches:
        table_of(BATCHES, skins.batches, job.book)
    say(*skins.warnings, *_cut(skins), *skins.doubts)
    say(*(f"{LABEL}: {words}" for words in step_cautions(skins.steps)))
    return ExitCode.DONE


def _cut(skins: SkinsToday) -> Iterator[str]:
    """The sheets cut from each skin."""
    by_skin: dict[str, list[str]] = {}
    for cut in {each.sheet: each for each in skins.cut}.values():
        by_skin.setdefault(cut.of, []).append(cut.sheet)
    for skin, sheets in by_skin.items():
        yield f"From {skin}: {count_of(len(sheets), 'sheet')}, {', '.join(sheets)}."
