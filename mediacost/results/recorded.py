"""Numbers that remember how they came about.

A :class:`Recorded` number carries its value and the operation that made it. Read through a
:class:`RecordedReading`, the same formulas that give the answer give the whole chain from a figure to the inputs.
A recorded number has no truth value: a formula that branches on one would lose the branch it did not take.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from mediacost.results.reading import Keys, Lines
from mediacost.scenario import Range, Scenario


@dataclass(frozen=True, slots=True)
class Tag:
    """What a recorded number stands for.

    ``kind`` is "input" (``keys`` say where in the document), "figure" (``name`` is in the table of figures) or
    "counted" (``lines`` tell how it was counted). ``context`` holds ids: medium, crop, way of counting, month.
    An input's ``note`` is its own; ``table_note`` belongs to the whole table it stands in. ``unset`` inputs were
    left out of the document.
    """

    kind: str
    name: str
    context: tuple[str | int, ...] = ()
    keys: Keys = ()
    note: str = ""
    table_note: str = ""
    unset: bool = False
    lines: Lines | None = None


class Recorded(NDArrayOperatorsMixin):
    """A number, the operation that made it, and its operands."""

    __slots__ = ("operands", "operation", "tag", "value")

    def __init__(
        self, value: Any, operation: str = "constant", operands: tuple[Recorded, ...] = (), tag: Tag | None = None
    ) -> None:
        self.value = value
        self.operation = operation
        self.operands = operands
        self.tag = tag

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **options: Any) -> Any:
        if method != "__call__" or options:
            return NotImplemented
        operands = tuple(_recorded(each) for each in inputs)
        with np.errstate(all="ignore"):
            value = ufunc(*(each.value for each in operands))
        return Recorded(value.item() if isinstance(value, np.generic) else value, ufunc.__name__, operands)

    def __array_function__(self, function: Callable, types: Any, args: Any, options: Any) -> Any:
        if function is not np.where or options:
            return NotImplemented
        condition, if_true, if_false = (_recorded(each) for each in args)
        value = if_true.value if condition.value else if_false.value
        return Recorded(value, "where", (condition, if_true, if_false))

    def __bool__(self) -> bool:
        raise TypeError("a recorded number has no truth value: use numeric.where, so that the choice is recorded")

    def __repr__(self) -> str:
        return f"Recorded({self.value!r}, {self.tag.name if self.tag else self.operation!r})"


def _recorded(value: Any) -> Recorded:
    return value if isinstance(value, Recorded) else Recorded(value)


def value_of(number: Any) -> Any:
    """The plain number inside, recorded or not."""
    return number.value if isinstance(number, Recorded) else number


class RecordedReading:
    """Hands out recorded numbers, each input tagged with its place in the document and its note or source."""

    def __init__(self, scenario: Scenario) -> None:
        self._scenario = scenario
        self._inputs: dict[Keys, Recorded] = {}

    def number(self, keys: Keys, value: float | Range) -> Recorded:
        if keys not in self._inputs:
            likely = value.likely if isinstance(value, Range) else value
            tag = self._input_tag(keys, value)
            self._inputs[keys] = Recorded(float(likely), "input", (), tag)
        return self._inputs[keys]

    def mark(self, name: str, value: Any, *context: str | int) -> Recorded:
        made = _recorded(value)
        return Recorded(made.value, "figure", (made,), Tag("figure", name, context))

    def counted(self, name: str, value: Any, lines: Lines, *context: str | int) -> Recorded:
        return Recorded(value_of(value), "counted", (), Tag("counted", name, context, lines=lines))

    def _input_tag(self, keys: Keys, value: float | Range) -> Tag:
        owner, name = self._owner(keys)
        note = ""
        if isinstance(value, Range):
            note = _joined(f"range {value.low:g} - {value.likely:g} - {value.high:g}", value.note, value.source)
        return Tag(
            "input",
            name,
            keys=keys,
            note=note,
            table_note=_joined(owner.note, owner.source),
            unset=name not in owner.model_fields_set,
        )

    def _owner(self, keys: Keys) -> tuple[Any, str]:
        """The record that holds the field of a key path, and the field's name."""
        owner: Any = self._scenario
        name = ""
        record = owner
        for key in keys:
            if isinstance(key, str) and hasattr(record, "model_fields_set"):
                owner, name = record, key
                record = getattr(record, key)
            else:
                record = record[key]
        return owner, name


def _joined(*words: str) -> str:
    *first, last = [word for word in words if word] or [""]
    return "; ".join([*(word.rstrip().rstrip(".") for word in first), last])
