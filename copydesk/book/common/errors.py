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


class CopydeskError(Exception):
    """Something was asked that cannot be done; nothing was changed.

    Every error that reaches a person is one of these, and the desk and the command line catch this class. What is
    raised is always one of the classes below, so that a caller can tell situations apart without reading sentences.

    Args:
        problems: one or more sentences, each saying what is wrong, where, and what to do.
    """

    def __init__(self, *problems: Problem | str) -> None:
        self.problems: tuple[Problem, ...] = tuple(
            problem if isinstance(problem, Problem) else Problem("", 0, 0, problem) for problem in problems
        )
        super().__init__("\n".join(map(str, self.problems)))


# What a person typed or asked.


class InvalidValueError(CopydeskError):
    """A value that cannot be read, is out of range, is missing, or does not belong to the command it is given with."""


class UnknownNameError(CopydeskError):
    """Nothing has the name or number given: a page, leaf, sheet, hand, space, stage, fault, entry, paper or key."""


class WordsNotFoundError(CopydeskError):
    """The words given do not stand in the exemplar."""


class AmbiguousError(CopydeskError):
    """Words or a name that fit several places about equally well."""


class DoesNotFitError(CopydeskError):
    """Each value can be, but together they have no room: lines on a page, sheets in a skin, a space in a column."""


class UnlikelyError(CopydeskError):
    """What hardly anybody can have done; it is recorded only where the person says that it is so all the same."""


# What the state of the book allows.


class NotAllowedError(CopydeskError):
    """The book is not in a state in which this can be done; something else has to be done first."""


class AlreadyDoneError(NotAllowedError):
    """What was asked is recorded, or taken back, already."""


# Files and folders.


class BadFileError(CopydeskError):
    """What a file holds cannot be used. The problems name the file, and line and column where they are known."""


class BadPlanError(BadFileError):
    """``book.yaml``, or a file that it names, has faults: all of them, each with its place."""


class PathError(CopydeskError):
    """A file or folder is missing, is of the wrong kind, exists already, or lies where it may not."""


class DiskError(CopydeskError):
    """The operating system would not read or write: no rights, a full disk, a drive that is gone."""


# The ledger and its server.


class LockedError(CopydeskError):
    """Another desk is writing, or the file cannot be locked."""


class DamagedLedgerError(CopydeskError):
    """The ledger, or one entry of it, cannot be read or is gone; ``copydesk audit`` says what can be mended."""


class LedgerMismatchError(CopydeskError):
    """The ledger is of another book, of a newer copydesk, or is kept elsewhere than the plan says."""


class ServerUnreachableError(CopydeskError):
    """The server of the ledger does not answer."""


class ServerRefusedError(CopydeskError):
    """The server of the ledger answers, and will not do what was asked: a wrong password, no rights, no room."""


# The installation.


class UnavailableError(CopydeskError):
    """This computer lacks what is needed: an optional package, a terminal, a free port, the shipped book."""
