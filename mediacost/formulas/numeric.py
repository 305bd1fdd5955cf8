"""Elementary functions that read floats, arrays, recorded numbers and unit-carrying quantities alike.

Plain floats take the fast road through :mod:`math`; everything else goes through NumPy, whose protocols
(``__array_ufunc__``, ``__array_function__``) hand the call on to the number's own class. Formulas use these in
place of ``if``, because a recorded number or an array has no single truth value.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import reduce
from operator import add
from typing import Any

Number = Any
"""A float, an array, a recorded number or a unit-carrying quantity."""

DUST = 1e-9
"""Relative slack within which a whole number spoilt by rounding still counts as whole."""

_PLAIN = (int, float)


class _Numpy:
    """NumPy, loaded when the first number comes that is not a plain one: an answer on floats starts without it."""

    def __getattr__(self, name: str) -> Any:
        import numpy

        return getattr(numpy, name)


np = _Numpy()


def _is_numpy_truth(condition: Any) -> bool:
    """Whether a condition is NumPy's own yes or no: as good as a plain one."""
    return isinstance(condition, np.bool_)


def where(condition: Number, if_true: Number, if_false: Number) -> Number:
    """Choose between two numbers; both have been computed already, so neither may rest on a division by zero."""
    if isinstance(condition, bool) or _is_numpy_truth(condition):
        return if_true if condition else if_false
    return np.where(condition, if_true, if_false)


def ratio(above: Number, below: Number, valid: Number, otherwise: Number) -> Number:
    """Divide where ``valid``; elsewhere give ``otherwise`` and never touch the denominator."""
    if isinstance(valid, bool) or _is_numpy_truth(valid):
        return above / below if valid else otherwise
    return np.where(valid, above / np.where(valid, below, 1.0), otherwise)


def expm1(x: Number) -> Number:
    """exp(x) - 1, exact for small x."""
    return math.expm1(x) if isinstance(x, _PLAIN) else np.expm1(x)


def log1p(x: Number) -> Number:
    """ln(1 + x), exact for small x."""
    return math.log1p(x) if isinstance(x, _PLAIN) else np.log1p(x)


def floor(x: Number) -> Number:
    """The whole number at or below x, forgiving dust: 2.9999999999 counts as 3."""
    if isinstance(x, _PLAIN):
        return float(math.floor(x + DUST * max(1.0, abs(x))))
    return np.floor(x + DUST * np.maximum(1.0, np.abs(x)))


def ceil(x: Number) -> Number:
    """The whole number at or above x, forgiving dust: 3.0000000001 counts as 3."""
    if isinstance(x, _PLAIN):
        return float(math.ceil(x - DUST * max(1.0, abs(x))))
    return np.ceil(x - DUST * np.maximum(1.0, np.abs(x)))


def round_half_up(x: Number) -> Number:
    """The nearest whole number, halves upwards."""
    return float(math.floor(x + 0.5)) if isinstance(x, _PLAIN) else np.floor(x + 0.5)


def maximum(a: Number, b: Number) -> Number:
    """The larger of two numbers."""
    if isinstance(a, _PLAIN) and isinstance(b, _PLAIN):
        return a if a >= b else b
    return np.maximum(a, b)


def minimum(a: Number, b: Number) -> Number:
    """The smaller of two numbers."""
    if isinstance(a, _PLAIN) and isinstance(b, _PLAIN):
        return a if a <= b else b
    return np.minimum(a, b)


def absolute(x: Number) -> Number:
    """The size of a number, whatever its sign."""
    return abs(x) if isinstance(x, _PLAIN) else np.abs(x)


def largest(values: Sequence[Number]) -> Number:
    """The largest of one or more numbers."""
    return reduce(maximum, values)


def total(values: Sequence[Number]) -> Number:
    """The sum of one or more numbers, begun from the first so that units survive."""
    return reduce(add, values)


def mean(values: Sequence[Number]) -> Number:
    """The plain average of one or more numbers."""
    return total(values) / len(values)


def weighted(values: Sequence[Number], weights: Sequence[Number]) -> Number:
    """The sum of values times weights."""
    return total([value * weight for value, weight in zip(values, weights, strict=True)])
