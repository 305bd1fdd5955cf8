"""Failures that a person can read and act on.

Everything that `mediacost` raises on purpose is a `MediacostError` whose text can be shown as it is. What is
wrong inside a file is a `Fault`; one `InputFaults` carries all of them at once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in an input, said in one line.

    `where` is the file (or another name of the input), `path` the key path in words, `keys` the same path for
    programs; `line` and `column` count from 1 and are known for faults of the text itself.

    >>> print(Fault("my.toml", "room.labour_rate", "is missing", "a number of 0 or more"))
    my.toml: room.labour_rate: is missing; expected a number of 0 or more
    """

    where: str
    path: str
    problem: str
    expected: str = ""
    line: int | None = None
    column: int | None = None
    keys: tuple[str | int, ...] = ()

    def __str__(self) -> str:
        spot = ""
        if self.line is not None:
            spot = f"line {self.line}" + (f", column {self.column}" if self.column is not None else "")
        parts = [part for part in (self.where, spot, self.path) if part]
        wanted = f"; expected {self.expected}" if self.expected else ""
        return ": ".join([*parts, self.problem]) + wanted


class MediacostError(Exception):
    """Anything that went wrong and can be explained to the person at the screen."""


class InputFaults(MediacostError):
    """The input is wrong: one line for each fault."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class ChangedOnDisk(MediacostError):
    """A file was changed by somebody else since it was read, so it is not overwritten."""


class CannotSave(MediacostError):
    """A file could not be written; whatever was there before is intact."""
