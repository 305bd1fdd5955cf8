"""Rates of return: at which yearly rate are flows worth nothing today? Found by search, so on plain floats only."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from mediacost.formulas.cash import tolerance
from mediacost.units import MONTHS_PER_YEAR

LEAST_FACTOR, MOST_FACTOR = 0.01, 100.0
"""Discount factors per period between which a rate of return is looked for."""

_GRID = tuple(math.exp(math.copysign(math.log(MOST_FACTOR) * (step / 64) ** 2, step)) for step in range(-64, 65))
"""Where to look: close together around 1, where rates of real flows are, and wider apart towards the ends."""

_GOLDEN = (3 - math.sqrt(5)) / 2


def rates_of_return(flows: Sequence[float], periods_per_year: int = MONTHS_PER_YEAR) -> list[float]:
    """Every yearly rate at which the flows are worth nothing today; none, one or several.

    The net present value is a polynomial in x = 1 / (1 + rate per period). With one change of sign there is
    exactly one root (Descartes), found between a bracket; with several, a grid finds the changes of sign, and where
    it comes close to zero between them a pair of roots is looked for. Rates above 9,900 % or below -99 % a period,
    or of -100 % a year, are no rates.

    Parameters
    ----------
    flows : sequence of float
        Flow 0 at the start, flow t at the end of period t [money]
    periods_per_year : int
        Periods in a year [periods/year]

    Returns
    -------
    list of float
        Rates per year, highest first [1/year]

    Examples
    --------
    >>> [round(rate, 5) for rate in rates_of_return([-100, 39, 59, 55, 20], 1)]
    [0.28095]

    References
    ----------
    The example: Gitman, Principles of Managerial Finance, 3rd brief ed. (2003), p. 348.
    """
    floor = tolerance(flows)
    coefficients = [flow if abs(flow) > floor else 0.0 for flow in flows]
    signs = [flow > 0 for flow in coefficients if flow]
    changes = sum(a != b for a, b in zip(signs, signs[1:], strict=False))
    if changes == 0:
        return []

    def worth(factor: float) -> float:
        value = 0.0
        for flow in reversed(coefficients):
            value = value * factor + flow
        return value

    roots = [_root(worth, low, high) for low, high in _brackets(worth, coefficients, changes)]
    yearly = [factor**-periods_per_year - 1.0 for factor in roots]
    return [rate for rate in yearly if rate > -1.0]


def _brackets(
    worth: Callable[[float], float], coefficients: Sequence[float], changes: int
) -> list[tuple[float, float]]:
    if changes == 1:
        at_one = worth(1.0)
        if at_one == 0:
            return [(1.0, 1.0)]
        step = 0.5 if (at_one > 0) == (coefficients[_last_nonzero(coefficients)] > 0) else 2.0
        start, end = 1.0, step
        while (worth(end) > 0) == (at_one > 0) and LEAST_FACTOR < end < MOST_FACTOR:
            start, end = end, min(MOST_FACTOR, max(LEAST_FACTOR, end * step))
        if (worth(end) > 0) == (at_one > 0):
            return []
        return [(min(start, end), max(start, end))]
    values = [worth(factor) for factor in _GRID]
    found = [(factor, factor) for factor, value in zip(_GRID, values, strict=True) if value == 0]
    for at in range(len(_GRID) - 1):
        if _opposite(values[at], values[at + 1]):
            found.append((_GRID[at], _GRID[at + 1]))
    for at in range(1, len(_GRID) - 1):
        found += _dip(worth, _GRID[at - 1 : at + 2], values[at - 1 : at + 2])
    return sorted(found)


def _opposite(one: float, other: float) -> bool:
    return one != 0 and other != 0 and (one > 0) != (other > 0)


def _dip(
    worth: Callable[[float], float], factors: Sequence[float], values: Sequence[float]
) -> list[tuple[float, float]]:
    """Brackets of a pair of roots that three neighbours of one sign hide between them; none as a rule.

    Where the middle value lies closest to zero, the lowest point is looked for by golden sections, until one is beyond.
    """
    left, middle, right = factors
    sign = 1.0 if values[1] > 0 else -1.0
    below, lowest, above = (sign * value for value in values)
    if not (0 < lowest < below and lowest < above):
        return []
    for _ in range(40):
        further = right - middle > middle - left
        guess = middle + _GOLDEN * (right - middle) if further else middle - _GOLDEN * (middle - left)
        value = sign * worth(guess)
        if value <= 0:
            return [(factors[0], guess), (guess, factors[2])]
        if value < lowest:
            left, right = (middle, right) if further else (left, middle)
            middle, lowest = guess, value
        else:
            left, right = (left, guess) if further else (guess, right)
    return []


def _last_nonzero(values: Sequence[float]) -> int:
    return max(at for at, value in enumerate(values) if value)


def _root(worth: Callable[[float], float], low: float, high: float) -> float:
    """Root between two ends of opposite sign: inverse quadratic guesses where they are safe, else halves.

    T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149 (from memory).
    """
    new, at_new, old, at_old = low, worth(low), high, worth(high)
    if at_new == 0 or low == high:
        return low
    share = 0.5
    for _ in range(500):
        guess = new + share * (old - new)
        at_guess = worth(guess)
        if (at_guess > 0) == (at_new > 0):
            before, at_before = new, at_new
        else:
            before, at_before, old, at_old = old, at_old, new, at_new
        new, at_new = guess, at_guess
        nearest = new if abs(at_new) < abs(at_old) else old
        closest = 2e-16 * abs(nearest) / abs(old - before) if old != before else 1.0
        if closest > 0.5 or at_new == 0 or abs(old - new) <= 4e-16 * abs(nearest):
            return new if at_new == 0 else nearest
        xi, phi = (new - old) / (before - old), (at_new - at_old) / (at_before - at_old)
        share = 0.5
        if phi * phi < xi and (1 - phi) * (1 - phi) < 1 - xi:
            share = at_new / (at_old - at_new) * at_before / (at_old - at_before) + (before - new) / (
                old - new
            ) * at_new / (at_before - at_new) * at_old / (at_before - at_old)
        share = min(1 - closest, max(closest, share))
    return new
