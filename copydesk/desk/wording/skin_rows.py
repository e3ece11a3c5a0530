"""What the screen of the skins shows: a row for each batch, and what there is to say of them. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, say_short
from copydesk.book.materials.cautions import LABEL
from copydesk.book.materials.skin_preparation import step_cautions
from copydesk.desk.wording.lines import PanelLine, under_one_head
from copydesk.tracking.views.skin_batches import needed_words
from copydesk.tracking.views.skin_order import steps_words

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from copydesk.tracking.views.skin_batches import BatchAccount, SkinsToday


def skins_lines(skins: SkinsToday, chosen: BatchAccount | None, today: date) -> Iterator[PanelLine]:
    """What is said of the skins: what they ask for today, then the batch chosen, then the rest."""
    yield from under_one_head("Today", skins.warnings, wrong=True)
    if chosen is not None:
        yield PanelLine("Batch", _taken(chosen, today))
        yield from _cut(skins, chosen)
    yield PanelLine("Needed", needed_words(skins))
    yield PanelLine("Days", steps_words(skins.steps))
    yield from (PanelLine("Look at", words, wrong=True) for words in skins.doubts)
    yield from under_one_head(LABEL, step_cautions(skins.steps))


def _taken(account: BatchAccount, today: date) -> str:
    """The steps a batch took, with days and notes."""
    told = []
    for each in account.taken:
        note = f' "{each.note}"' if each.note else ""
        told.append(f"{each.step} {say_short(each.since, today)}, {count_of(each.skins, 'skin')}{note}")
    return f"{account.batch.name}: {'; '.join(told)}"


def _cut(skins: SkinsToday, account: BatchAccount) -> Iterator[PanelLine]:
    """The sheets cut from each skin of a batch."""
    by_skin: dict[int, list[str]] = {}
    for each in {cut.sheet: cut for cut in skins.cut}.values():
        if each.batch == account.batch.name:
            by_skin.setdefault(each.skin or 0, []).append(each.sheet)
    for at, (skin, sheets) in enumerate(sorted(by_skin.items())):
        of = f"skin {skin}" if skin else "a skin not noted"
        yield PanelLine("Cut" if not at else "", f"from {of}: {', '.join(sheets)}")
    if not by_skin:
        yield PanelLine("Cut", "no sheet is noted as cut from it")
