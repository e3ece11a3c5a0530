"""The papers there are, by name. To add one: a module with ``printed(order)``, and a line in the table here."""

from __future__ import annotations

from importlib import import_module
from typing import NamedTuple, Protocol, cast

from copydesk.book.common.errors import InvalidValueError, UnknownNameError
from copydesk.book.common.sanitize import sanitize
from copydesk.papers.paper_forms import Form, PaperRequest
from copydesk.tracking.views.page_lookup import expect_page

__all__ = ["CATALOGUE", "ENDINGS", "Form", "PaperKind", "PaperRequest", "kind_named", "make", "usual_name"]


class PaperKind(NamedTuple):
    """A paper: what it is, the module that makes it, what it can be made as (its usual form first).

    It may be of one page, or of a loose sheet and in strips as well.
    """

    says: str
    module: str
    forms: tuple[Form, ...]
    of_a_page: bool = False
    of_a_sheet: bool = False


class Maker(Protocol):
    """What the module of a paper holds."""

    def printed(self, order: PaperRequest) -> bytes:
        """Make the paper in the form ordered; text is UTF-8."""


CATALOGUE: dict[str, PaperKind] = {
    "sheets": PaperKind("what stands on each side of each sheet", "sheet_map", ("pdf", "svg", "text")),
    "ruling": PaperKind("the ruling at full size, to prick through", "ruling", ("pdf", "svg", "text"), True),
    "guide": PaperKind("a page's words at full size, to write by", "guide", ("pdf", "svg", "text"), True, True),
    "dummy": PaperKind("the mock-up: the book small, to fold and nest", "mock_up", ("pdf", "text")),
    "reading": PaperKind(
        "the reading copy: a page's words, for reading aloud",
        "reading_copy",
        ("pdf", "text"),
        True,
    ),
    "changes": PaperKind("where the text departs from the exemplar on purpose", "changes", ("pdf", "text")),
    "handover": PaperKind("the stopping point and all the next hand needs", "handover", ("pdf", "text"), True),
    "spaces": PaperKind("the artist's list: spaces to fill, with cautions", "artists_list", ("pdf", "text")),
    "rubrics": PaperKind(
        "the rubricator's list: each sheet's later passes",
        "rubricators_list",
        ("pdf", "text"),
    ),
    "binder": PaperKind("the binder's order: the sewing and the covers", "binders_order", ("pdf", "text")),
    "pace": PaperKind("the forecast, with pages, pace and drift as charts", "pace", ("svg", "text")),
    "cutting": PaperKind("how a skin is cut into sheets", "cutting", ("pdf", "svg", "text")),
}
"""Every paper, in the order of the help."""

ENDINGS: dict[Form, str] = {"pdf": "pdf", "svg": "svg", "text": "txt"}
"""What the name of a file of each form ends in."""


def kind_named(name: str) -> PaperKind:
    """The paper called ``name``.

    Raises:
        UnknownNameError: where there is none.
    """
    if name not in CATALOGUE:
        raise UnknownNameError(f"no paper is called {name!r}; there are {', '.join(CATALOGUE)}")
    return CATALOGUE[name]


def usual_name(book: str, what: str, order: PaperRequest) -> str:
    """What the file of a paper is called where nobody names it: for the book, the paper and what it is of."""
    parts = [book, what, *([str(order.page)] if order.page is not None else [])]
    parts += [order.sheet.name] if order.sheet is not None else []
    parts += [order.side.value] if order.side is not None else []
    parts += ["strips"] if order.strips else []
    form = order.form
    return f"{'-'.join(parts)}.{ENDINGS[form]}"


def make(name: str, order: PaperRequest) -> bytes:
    """Make a paper.

    Raises:
        CopydeskError: where there is no such paper, it is not made so, or the book has nothing for it.
    """
    kind = kind_named(name)
    if order.form not in kind.forms:
        raise InvalidValueError(
            f"the paper {name} is not made as {order.form}; it is made as {' or '.join(kind.forms)}"
        )
    if (order.sheet is not None or order.strips) and not kind.of_a_sheet:
        made_so = ", ".join(each for each, one in CATALOGUE.items() if one.of_a_sheet)
        raise InvalidValueError(f"the paper {name} is not made of a sheet or in strips; {made_so} is")
    if order.side is not None and order.sheet is None:
        raise InvalidValueError("a side is of a sheet; name that too, as in 3.2")
    if order.sheet is not None and order.page is not None:
        raise InvalidValueError("name a page or a sheet, not both")
    if order.page is not None:
        if not kind.of_a_page:
            raise InvalidValueError(f"the paper {name} is of the whole book; leave out the page")
        expect_page(order.job.state, order.page)
    made = cast("Maker", import_module(f"copydesk.papers.{kind.module}")).printed(order)
    return "\n".join(map(sanitize, made.decode().split("\n"))).encode() if order.form == "text" else made
