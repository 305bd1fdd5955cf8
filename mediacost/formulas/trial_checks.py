"""Do the assumptions of the analysis hold? Like spreads, bell-shaped residuals, media and blocks that add up."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, Labels, Weights, additive_fit
from mediacost.formulas.trial_distributions import f_tail, t_tail

LEAST_FOR_SPREADS = 4
"""Trays of each medium below which spreads are not compared: of two or three trays the median takes half away."""

MOST_FOR_SHAPE = 5_000
"""Residuals above which their shape is not tested: the test's tables end there (Royston 1995)."""


def like_spreads(groups: Sequence[Weights]) -> tuple[float, float]:
    """Whether groups spread alike: Levene's F about the medians (Brown and Forsythe 1974), and its chance.

    Parameters
    ----------
    groups : sequence
        Harvest weights or residuals, one sequence for each medium [g]

    Returns
    -------
    tuple
        F ratio and chance; nan where a group is too small or nothing spreads [1]

    Examples
    --------
    >>> f, p = like_spreads([[1.0, 2.0, 3.0, 4.0, 5.0], [0.0, 10.0, 20.0, 30.0, 40.0]])
    >>> round(f, 4), round(p, 4)
    (8.2489, 0.0208)
    """
    if len(groups) < 2 or min(len(group) for group in groups) < LEAST_FOR_SPREADS:
        return math.nan, math.nan
    away = [np.abs(np.asarray(group, dtype=float) - np.median(group)) for group in groups]
    code = np.repeat(np.arange(len(groups)), [len(group) for group in groups])
    fit = additive_fit(np.concatenate(away), code, np.zeros(len(code), dtype=int))
    if fit.residual_square <= 0:
        return math.nan, math.nan
    ratio = fit.media_square / fit.media_df / fit.mean_square
    return ratio, float(f_tail(ratio, fit.media_df, fit.residual_df))


def bell_shape(residuals: Weights) -> tuple[float, float]:
    """Whether residuals look drawn from a bell curve: W of Shapiro and Wilk (1965), and its chance.

    Parameters
    ----------
    residuals : sequence
        Residuals of the fit [g]

    Returns
    -------
    tuple
        W and chance; nan for fewer than three or more than five thousand residuals, or where all are alike [1]

    Examples
    --------
    >>> w, p = bell_shape([-2.0, -1.0, -0.5, 0.0, 0.4, 1.1, 2.0])
    >>> round(w, 3), p > 0.9
    (0.998, True)
    """
    values = np.asarray(residuals, dtype=float)
    if not 3 <= len(values) <= MOST_FOR_SHAPE or np.ptp(values) == 0:
        return math.nan, math.nan
    from scipy import stats

    found = stats.shapiro(values)
    return float(found.statistic), float(found.pvalue)


def media_and_blocks_add_up(fit: AdditiveFit, weights: Weights, medium: Labels, cell: Labels) -> float:
    """Whether media differ by as much in rich blocks as in poor ones: Tukey's one degree of freedom (1949).

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]
    weights : sequence
        Harvest weight of each tray [g]
    medium : sequence
        Number of each tray's medium [1]
    cell : sequence
        Number of each tray's cell [1]

    Returns
    -------
    float
        Chance of a bend as large by luck; nan where it cannot be told [1]

    Examples
    --------
    >>> weights, medium, cell = [10.0, 20.5, 20.0, 40.0, 30.0, 61.0], [0, 1, 0, 1, 0, 1], [0, 0, 1, 1, 2, 2]
    >>> media_and_blocks_add_up(additive_fit(weights, medium, cell), weights, medium, cell) < 0.05
    True
    """
    fitted = np.asarray(weights, dtype=float) - fit.residuals
    bend = (fitted - fitted.mean()) ** 2
    bent = additive_fit(bend, medium, cell).residuals
    size, df = float(bent @ bent), fit.residual_df - 1
    if fit.cell_df < 1 or fit.media_df < 1 or df < 1 or size <= 1e-12 * float(bend @ bend) or fit.residual_square <= 0:
        return math.nan
    explained = float(bent @ fit.residuals) ** 2 / size
    left = max(fit.residual_square - explained, 0.0)
    if left <= 1e-12 * fit.residual_square:
        return 0.0
    return float(t_tail(math.sqrt(explained / (left / df)), df))
