"""A page's comparison as plain data for other programs, with the keys the README names."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from copydesk.comparing.faults import Fault
    from copydesk.ledger.page_compare import PageComparison
    from copydesk.ledger.standing import Standing


def comparison_as_data(
    standing: Standing, compared: PageComparison, noted: Sequence[str] | None = None
) -> dict[str, object]:
    """The comparison; ``noted`` are the entries of the faults recorded, None where nothing was to be recorded."""
    found = compared.comparison
    data: dict[str, object] = {
        "page": str(compared.page),
        "clean": found.clean,
        "words": found.words,
        "wrong_place": _wrong_place(standing, compared),
        "faults": [_fault(fault) for fault in found.faults],
        "sentence": found.sentence,
        "whole": compared.whole,
        "from_word": found.began,
        "to_word": found.reached,
        "goes_on": compared.goes_on,
    }
    if noted is not None:
        data["recorded"] = list(noted)
    return data


def _fault(fault: Fault) -> dict[str, object]:
    return {
        "kind": fault.kind,
        "column": fault.column,
        "line": fault.line,
        "word": fault.word,
        "stands": fault.stands,
        "should": fault.should,
        "cause": fault.cause,
        "sentence": fault.sentence,
    }


def _wrong_place(standing: Standing, compared: PageComparison) -> dict[str, object] | None:
    wrong = compared.comparison.wrong_place
    if wrong is None:
        return None
    place = standing.exemplar.place_of(wrong.word) if standing.exemplar else None
    noted = {"leaf": place.leaf, "line": place.line} if place else None
    return {"word": wrong.word, "exemplar": noted, "sentence": wrong.sentence}
