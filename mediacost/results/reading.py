"""How numbers leave the document: as plain floats, or with some of them replaced.

A reading hands out each input as a number and may put a name on a result. The plain reading does neither more nor
less than that; the recorded one (:mod:`mediacost.results.recorded`) remembers where every figure came from.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Protocol

from mediacost.formulas.numeric import Number
from mediacost.scenario import Range

Keys = tuple[str | int, ...]
Lines = Callable[[], Sequence[str]]


class Reading(Protocol):
    """What the evaluation asks of a reading."""

    def number(self, keys: Keys, value: float | Range) -> Number:
        """Hand out the input at ``keys``, whose value in the document is ``value``."""

    def mark(self, name: str, value: Number, *context: str | int) -> Number:
        """Put the name of a figure on a result and hand it back."""

    def counted(self, name: str, value: Number, lines: Lines, *context: str | int) -> Number:
        """Hand out a number that was counted, not calculated; ``lines`` tells how."""


class PlainReading:
    """Floats: a range reads as its likely value; chosen inputs may be replaced by other numbers."""

    def __init__(self, replaced: Mapping[Keys, Number] | None = None) -> None:
        self._replaced = replaced or {}

    def number(self, keys: Keys, value: float | Range) -> Number:
        if self._replaced and keys in self._replaced:
            return self._replaced[keys]
        return value.likely if isinstance(value, Range) else value

    def mark(self, name: str, value: Number, *context: str | int) -> Number:
        return value

    def counted(self, name: str, value: Number, lines: Lines, *context: str | int) -> Number:
        return value
