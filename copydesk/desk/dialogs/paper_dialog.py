"""A paper is chosen and made, as a new file in the folder the desk was opened from."""

from __future__ import annotations

from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.book.structure.sheets import find_sheet
from copydesk.desk.dialogs.form import Choice
from copydesk.papers.catalogue import CATALOGUE, PaperRequest, make, usual_name
from copydesk.store.files.book_folder import printable
from copydesk.store.files.output_file import write_file

if TYPE_CHECKING:
    from copydesk.desk.base.book_screen import BookScreen
    from copydesk.papers.catalogue import PaperKind


async def print_paper(screen: BookScreen, usual_paper: str = "") -> None:
    """Ask which paper is wanted, ``usual_paper`` in hand; make it in its usual form, say where it lies.

    No file is written over.
    """
    papers = [choice for name, kind in CATALOGUE.items() for choice in _choices(name, kind)]
    asked = Choice("Which paper?", papers, letters="123456789abcdefghi", at=usual_paper)
    chosen = await screen.app.push_screen_wait(asked)
    if not chosen:
        return
    name, _, how = chosen.partition(" ")
    kind = CATALOGUE[name]
    order = PaperRequest(screen.job, kind.forms[0], screen.page if kind.of_a_page else None, "a4")
    if how == _STRIPS:
        order = order._replace(strips=True)
    elif how == _SIDE:
        place = screen.job.state.collation.place(screen.page)
        sheet = find_sheet(screen.job.state.collation, place.sheet_name)
        order = order._replace(page=None, sheet=sheet, side=place.side)
    usual = usual_name(screen.job.folder.root.name, name, order)
    try:
        made = make(name, order)
        written = write_file(_free(Path.cwd() / usual), made)
    except CopydeskError as refused:
        screen.refuse(refused)
        return
    screen.say(f"Made {printable(written)}.")


_STRIPS, _SIDE = "strips", "side"


def _choices(name: str, kind: PaperKind) -> list[tuple[str, str]]:
    """The ways a paper can be chosen: one that can be of a sheet also in strips, and of a side of that."""
    said = [(name, kind.says)]
    if kind.of_a_sheet:
        said += [(f"{name} {_STRIPS}", f"the {name} in strips, to lay above the pen")]
        said += [(f"{name} {_SIDE}", f"the {name} of the side of its sheet, as it lies")]
    return said


def _free(path: Path) -> Path:
    """This name, or the first one numbered from 2 that no file has."""
    numbered = (path.with_stem(f"{path.stem}-{number}") for number in count(2))
    return next(each for each in chain([path], numbered) if not each.exists())
