"""Differences between media with intervals that hold all at once: Tukey's, and Games and Howell's.

Sources: J. W. Tukey (1953) and C. Y. Kramer (1956) for the studentized range on unequal standard errors; P. A.
Games and J. F. Howell (1976) for unequal spreads (from memory; held to published analyses in the tests).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, Weights
from mediacost.formulas.trial_distributions import DEFAULT_CONFIDENCE, range_critical, range_tail
from mediacost.formulas.trial_means import mean_and_sd


class Difference(NamedTuple):
    """First medium less the second: difference, standard error, interval [g]; degrees of freedom and chance [1]."""

    first: int
    second: int
    difference: float
    standard_error: float
    df: float
    low: float
    high: float
    p: float


def standard_error(fit: AdditiveFit, first: int, second: int) -> float:
    """Standard error of the difference of two adjusted means, from the residual mean square.

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]
    first : int
        Number of the one medium [1]
    second : int
        Number of the other [1]

    Returns
    -------
    float
        Standard error [g]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> round(standard_error(additive_fit([10.0, 14.0, 20.0, 26.0], [0, 1, 0, 1], [0, 0, 1, 1]), 0, 1), 6)
    1.0
    """
    inverse = fit.contrast
    factor = inverse[first, first] + inverse[second, second] - 2 * inverse[first, second]
    return math.sqrt(fit.mean_square * float(factor))


def tukey(fit: AdditiveFit, confidence: float = DEFAULT_CONFIDENCE) -> list[Difference]:
    """All pairs of media by the studentized range, on the residual mean square and its degrees of freedom.

    With blocks these are the blocked trial's own. Exact where every pair has the same standard error; on the wide
    side elsewhere (Kramer's form).

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial, with residual degrees of freedom and spread [g]
    confidence : float
        Confidence of all intervals together [1]

    Returns
    -------
    list
        A difference for each pair, in the order of the media [g]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> fit = additive_fit([10.0, 12.0, 14.0, 20.0, 22.0, 24.0], [0, 0, 0, 1, 1, 1], [0] * 6)
    >>> [(round(each.difference, 3), round(each.low, 3), round(each.high, 3)) for each in tukey(fit)]
    [(-10.0, -14.534, -5.466)]
    """
    groups, df = len(fit.means), fit.residual_df
    pairs = list(combinations(range(groups), 2))
    gaps = np.array([fit.means[a] - fit.means[b] for a, b in pairs])
    errors = np.array([standard_error(fit, a, b) for a, b in pairs])
    chances = np.atleast_1d(range_tail(np.abs(gaps) / (errors / math.sqrt(2)), groups, df))
    halves = range_critical(groups, df, confidence) * errors / math.sqrt(2)
    return [
        Difference(a, b, float(gap), float(error), df, float(gap - half), float(gap + half), float(chance))
        for (a, b), gap, error, half, chance in zip(pairs, gaps, errors, halves, chances, strict=True)
    ]


def games_howell(groups: Sequence[Weights], confidence: float = DEFAULT_CONFIDENCE) -> list[Difference]:
    """All pairs of groups whose spreads differ, each pair on its own standard error and degrees of freedom.

    Parameters
    ----------
    groups : sequence
        Harvest weights, one sequence for each medium, each of two trays or more with a spread [g]
    confidence : float
        Confidence of all intervals together [1]

    Returns
    -------
    list
        A difference for each pair, in the order of the groups [g]

    Examples
    --------
    >>> [(round(each.difference, 3), round(each.df, 3), round(each.p, 4))
    ...  for each in games_howell([[10.0, 12.0, 14.0], [20.0, 22.5, 25.0]])]
    [(-10.5, 3.816, 0.0055)]
    """
    found = [mean_and_sd(group) for group in groups]
    spread = [sd**2 / len(group) for (_, sd), group in zip(found, groups, strict=True)]
    return [_unequal(a, b, groups, found, spread, confidence) for a, b in combinations(range(len(groups)), 2)]


def _unequal(
    a: int,
    b: int,
    groups: Sequence[Weights],
    found: Sequence[tuple[float, float]],
    spread: Sequence[float],
    confidence: float,
) -> Difference:
    gap, both = found[a][0] - found[b][0], spread[a] + spread[b]
    error = math.sqrt(both)
    df = both**2 / (spread[a] ** 2 / (len(groups[a]) - 1) + spread[b] ** 2 / (len(groups[b]) - 1))
    of_one = error / math.sqrt(2)
    half = range_critical(len(groups), df, confidence) * of_one
    chance = float(range_tail(abs(gap) / of_one, len(groups), df))
    return Difference(a, b, gap, error, df, gap - half, gap + half, chance)
