"""The part of ``copydesk plan`` that looks round for other plans: ways to gather the book, figures turned."""

from __future__ import annotations

from typing import TYPE_CHECKING

from copydesk.book.common.phrases import count_of, decimal
from copydesk.cli.output import say, table
from copydesk.tracking.planning.gathering_choices import say_sizes
from copydesk.tracking.planning.plan_figures import Trial, figure_named, show_figure
from copydesk.tracking.planning.planner import Planner
from copydesk.tracking.planning.ways_report import formula_of_way, outcome_advice, read_trial, turns

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from copydesk.book.common.units import Unit
    from copydesk.tracking.planning.planner import Outcome
    from copydesk.tracking.planning.ways_report import Turned
    from copydesk.tracking.state.book_state import BookState


MOST_WAYS = 10
_HEADS = ("", "leaves needed", "sheets", "skins", "blank leaves", "blank lines", "line height", "letters a line")


def told_ways(state: BookState) -> None:
    """Print the ways to gather the book, and what turning one figure would do."""
    planner = Planner(state)
    ways, begun = planner.ways(Trial()), len(planner.ground.sizes)
    what = f"what comes behind the {count_of(begun, 'gathering')} begun" if begun else "the book"
    say(f"Ways to gather {what}")
    rows = (
        (at, formula_of_way(planner, way), way.said, way.leaves, way.blank_leaves, way.sheets, way.skins)
        for at, way in enumerate(ways[:MOST_WAYS], 1)
    )
    table(("", "formula", "gatherings", "leaves", "blank", "sheets", "skins"), rows)
    say("", "If one figure were turned")
    base, unit, told = planner.outcome(Trial()), state.book.unit, list(turns(planner))
    rows_turned = [("as planned", *_figures(base, unit))]
    rows_turned += [(_turn(each, unit), *_figures(each.outcome, unit)) for each in told if each.outcome is not None]
    table(_HEADS, rows_turned)
    say(*_said_of(told, base, unit))


def told_trial(state: BookState, given: Sequence[str]) -> None:
    """Print what the figures given would come to, beside the plan as it is."""
    planner, unit = Planner(state), state.book.unit
    trial = read_trial(planner, given)
    base, outcome = planner.outcome(Trial()), planner.outcome(trial)
    table(_HEADS, [("as planned", *_figures(base, unit)), ("tried", *_figures(outcome, unit))])
    say(f"Gatherings {say_sizes(outcome.sizes)}; today {say_sizes(base.sizes)}")
    say(*(f"Advice     {words}" for words in outcome_advice(outcome)))
    if outcome.estimate:
        say(f"Estimate   {outcome.estimate}")
    if planner.ground.sizes:
        say(f"Counted   for what comes behind the {count_of(len(planner.ground.sizes), 'gathering')} begun")


def _turn(turned: Turned, unit: Unit) -> str:
    figure = figure_named(turned.figure)
    return f"{figure.says} {show_figure(figure.sort, turned.would_be, unit)}"


def _figures(outcome: Outcome, unit: Unit) -> tuple[object, ...]:
    letters = " and ".join(decimal(letters, 1) for letters in dict.fromkeys(outcome.letters.values()))
    height = show_figure("fine", outcome.layout.line_height, unit)
    blank = (outcome.blank_leaves, outcome.blank_lines)
    return (outcome.leaves_needed, outcome.sheets, outcome.skins_with_flyleaves, *blank, height, letters)


def _said_of(told: Sequence[Turned], base: Outcome, unit: Unit) -> Iterator[str]:
    """What cannot be, and advice that the plan as it is does not call for."""
    known = {_bare(words) for words in outcome_advice(base)}
    for each in told:
        if each.outcome is None:
            yield f"{_turn(each, unit)}: {each.refused}."
        else:
            new = (words for words in outcome_advice(each.outcome) if _bare(words) not in known)
            yield from (f"{_turn(each, unit)}: {words}" for words in new)
    if base.estimate:
        yield f"These are estimates: {base.estimate}."


def _bare(words: str) -> str:
    """A sentence without its figures, so that the same advice is known again."""
    return "".join(letter for letter in words if not letter.isdigit() and letter != ".")
