"""What may be said when the desk is opened: the folder, how it looks, whether it minds the mouse."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.desk.base.themes import LOOKS

if TYPE_CHECKING:
    from collections.abc import Sequence


class DeskOptions(NamedTuple):
    """The folder (empty: this one), the name of a look (empty: the person's own), whether the mouse is minded."""

    folder: str = ""
    look: str = ""
    mouse: bool = True


AS_USUAL = DeskOptions()


def read_options(arguments: Sequence[str]) -> DeskOptions:
    """The options given.

    Raises:
        CopydeskError: where one is unknown, or there is more than one folder.
    """
    folders, look, mouse = [], "", True
    rest = iter(arguments)
    for each in rest:
        if each == "--no-mouse":
            mouse = False
        elif each == "--look" or each.startswith("--look="):
            look = each.partition("=")[2] or next(rest, "")
            if look not in LOOKS:
                raise UnknownNameError(f"there is no look {look!r}; take one of {', '.join(LOOKS)}")
        else:
            folders.append(each)
    if len(folders) > 1 or any(each.startswith("-") for each in folders):
        raise InvalidValueError(f"{' '.join(arguments)!r} is not a verb and its arguments; see copydesk --help")
    return DeskOptions(folders[0] if folders else "", look, mouse)
