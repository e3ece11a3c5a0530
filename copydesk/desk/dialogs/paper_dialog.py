"""A paper is chosen and made, as a new file in the folder the desk was opened from."""

from __future__ import annotations

from itertools import chain, count
from pathlib import Path
from typing import TYPE_CHECKING

from copydesk.book.common.errors import CopydeskError
from copydesk.desk.dialogs.form import Choice
from copydesk.papers.catalogue import CATALOGUE, PaperRequest, make, usual_name
from copydesk.store.files.book_folder import printable
from copydesk.store.files.output_file import write_file

if TYPE_CHECKING:
    from copydesk.desk.base.book_screen import BookScreen


async def print_paper(screen: BookScreen) -> None:
    """Ask which paper is wanted, make it in its usual form, and say where it lies; no file is written over."""
    papers = [(name, kind.says) for name, kind in CATALOGUE.items()]
    name = await screen.app.push_screen_wait(Choice("Which paper?", papers))
    if not name:
        return
    kind = CATALOGUE[name]
    page = screen.page if kind.of_a_page else None
    usual = usual_name(screen.job.folder.root.name, name, page, kind.forms[0])
    try:
        made = make(name, PaperRequest(screen.job, kind.forms[0], page, "a4"))
        written = write_file(_free(Path.cwd() / usual), made)
    except CopydeskError as refused:
        screen.refuse(refused)
        return
    screen.say(f"Made {printable(written)}.")


def _free(path: Path) -> Path:
    """This name, or the first one numbered from 2 that no file has."""
    numbered = (path.with_stem(f"{path.stem}-{number}") for number in count(2))
    return next(each for each in chain([path], numbered) if not each.exists())
