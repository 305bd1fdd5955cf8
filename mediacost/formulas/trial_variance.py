"""Analysis of variance: is there any difference at all between the media of a trial?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, Weights
from mediacost.formulas.trial_distributions import f_tail


class FTest(NamedTuple):
    """An F ratio, its degrees of freedom above and below the line, and the chance of one as large by luck."""

    f: float
    above_df: float
    below_df: float
    p: float


def f_test(square: float, df: int, residual_square: float, residual_df: int) -> FTest:
    """F ratio of a sum of squares against the residual one: (square / df) / (residual_square / residual_df).

    Parameters
    ----------
    square : float
        Sum of squares that is tested [g2]
    df : int
        Its degrees of freedom [1]
    residual_square : float
        Residual sum of squares [g2]
    residual_df : int
        Its degrees of freedom [1]

    Returns
    -------
    FTest
        Ratio, degrees of freedom and chance; nan where there is no residual spread to compare with [1]

    Examples
    --------
    >>> test = f_test(60.0, 2, 45.0, 9)
    >>> test.f, round(test.p, 4)
    (6.0, 0.0221)
    """
    if df < 1 or residual_df < 1 or residual_square <= 0:
        return FTest(math.nan, df, residual_df, math.nan)
    ratio = (square / df) / (residual_square / residual_df)
    return FTest(ratio, df, residual_df, float(f_tail(ratio, df, residual_df)))


def media_test(fit: AdditiveFit) -> FTest:
    """Differences between the media against the residual mean square, cells allowed for.

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]

    Returns
    -------
    FTest
        F ratio of the media and its chance [1]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> round(media_test(additive_fit([10.0, 14.0, 20.0, 26.0], [0, 1, 0, 1], [0, 0, 1, 1])).f, 6)
    25.0
    """
    return f_test(fit.media_square, fit.media_df, fit.residual_square, fit.residual_df)


def cell_test(fit: AdditiveFit) -> FTest:
    """Differences between the cells, media ignored, against the residual mean square: did blocking pay?

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]

    Returns
    -------
    FTest
        F ratio of the cells and its chance [1]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> round(cell_test(additive_fit([10.0, 14.0, 20.0, 26.0], [0, 1, 0, 1], [0, 0, 1, 1])).f, 6)
    121.0
    """
    return f_test(fit.cell_square, fit.cell_df, fit.residual_square, fit.residual_df)


def relative_efficiency(fit: AdditiveFit) -> float:
    """How many trays without blocks do the work of one tray in blocks.

    ((blocks - 1) * cell mean square + blocks * (media - 1) * residual mean square) / ((trays - 1) * residual mean
    square), for a complete balanced trial. Source: Gomez and Gomez, Statistical Procedures for Agricultural
    Research (1984), section 2.2 (from memory), without their correction for few degrees of freedom.

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial, complete and balanced [g]

    Returns
    -------
    float
        Trays for a tray; nan where there is one cell only or no residual spread [1]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> round(relative_efficiency(additive_fit([10.0, 14.0, 20.0, 26.0], [0, 1, 0, 1], [0, 0, 1, 1])), 6)
    41.0
    """
    if fit.cell_df < 1 or not fit.mean_square > 0:
        return math.nan
    blocks = fit.cell_df + 1
    trays = float(fit.counts.sum())
    unblocked = fit.cell_square + blocks * fit.media_df * fit.mean_square
    return unblocked / ((trays - 1) * fit.mean_square)


def welch_test(groups: Sequence[Weights]) -> FTest:
    """Differences between groups whose spreads may differ, after Welch (1951); each needs two trays and a spread.

    Parameters
    ----------
    groups : sequence
        Harvest weights, one sequence for each medium [g]

    Returns
    -------
    FTest
        F ratio, its degrees of freedom and its chance; nan where a group has no spread [1]

    Examples
    --------
    >>> test = welch_test([[8.0, 10.0, 12.0], [11.0, 14.0, 17.0], [9.0, 9.5, 10.0]])
    >>> round(test.f, 3), round(test.below_df, 3), round(test.p, 3)
    (2.709, 2.89, 0.217)
    """
    sizes = np.array([len(group) for group in groups], dtype=float)
    if len(groups) < 2 or sizes.min() < 2:
        return FTest(math.nan, len(groups) - 1, math.nan, math.nan)
    first = float(groups[0][0])
    centred = [np.asarray(group, dtype=float) - first for group in groups]
    means = np.array([group.mean() for group in centred])
    variances = np.array([group.var(ddof=1) for group in centred])
    if not variances.all():
        return FTest(math.nan, len(groups) - 1, math.nan, math.nan)
    weights = sizes / variances
    middle = (weights * means).sum() / weights.sum()
    count = len(groups)
    unevenness = ((1 - weights / weights.sum()) ** 2 / (sizes - 1)).sum()
    between = (weights * (means - middle) ** 2).sum() / (count - 1)
    ratio = float(between / (1 + 2 * (count - 2) / (count**2 - 1) * unevenness))
    below = float((count**2 - 1) / (3 * unevenness))
    return FTest(ratio, count - 1, below, float(f_tail(ratio, count - 1, below)))
