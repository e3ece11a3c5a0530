"""What is wrong with something a person gave us, as values, and the one exception that carries them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong: where it stands, what it is, what to do.

    ``file`` is the name a person knows the file by; ``line`` and ``column`` count from 1, 0 where unknown.
    """

    file: str
    line: int
    column: int
    what: str

    def __str__(self) -> str:
        """``file:line:column: sentence``, leaving out what is not known."""
        where = self.file
        if self.line:
            where += f":{self.line}"
            if self.column:
                where += f":{self.column}"
        return f"{where}: {self.what}" if where else self.what


class Refused(Exception):  # noqa: N818 - named for what happens to the person, as the house speaks
    """Something was asked that cannot be done; nothing was changed.

    Every error that reaches a person is one of these. ``problems`` holds one or more sentences, each saying
    what is wrong, where, and what to do.
    """

    def __init__(self, *problems: Problem | str) -> None:
        self.problems: tuple[Problem, ...] = tuple(
            problem if isinstance(problem, Problem) else Problem("", 0, 0, problem) for problem in problems
        )
        super().__init__("\n".join(map(str, self.problems)))
