"""One group of trays: mean, spread, coefficient of variation, and the interval in which the true mean may lie."""

from __future__ import annotations

import math

import numpy as np

from mediacost.formulas.trial_blocks import Weights
from mediacost.formulas.trial_distributions import DEFAULT_CONFIDENCE, t_critical


def mean_and_sd(weights: Weights) -> tuple[float, float]:
    """Mean and standard deviation of a sample, n - 1 below the line; centred first, so that no figures are lost.

    Parameters
    ----------
    weights : sequence
        Harvest weights, one or more [g]

    Returns
    -------
    tuple
        Mean, and standard deviation, which is nan for a single tray [g]

    Examples
    --------
    >>> mean_and_sd([4.0, 6.0, 8.0])
    (6.0, 2.0)
    """
    values = np.asarray(weights, dtype=float)
    middle = float(values.mean())
    middle += float((values - middle).mean())
    if len(values) < 2:
        return middle, math.nan
    return middle, math.sqrt(float(((values - middle) ** 2).sum()) / (len(values) - 1))


def coefficient_of_variation(mean: float, sd: float) -> float:
    """Spread over the mean: 100 * sd / mean.

    Parameters
    ----------
    mean : float
        Mean, above 0 [g]
    sd : float
        Standard deviation [g]

    Returns
    -------
    float
        Coefficient of variation; nan where the mean is not above 0 [%]

    Examples
    --------
    >>> coefficient_of_variation(250.0, 20.0)
    8.0
    """
    return 100 * sd / mean if mean > 0 else math.nan


def interval(
    middle: float, standard_error: float, df: float, confidence: float = DEFAULT_CONFIDENCE
) -> tuple[float, float]:
    """Interval of a mean or a difference by Student's t: middle -+ t * standard_error.

    Parameters
    ----------
    middle : float
        Mean or difference [g]
    standard_error : float
        Its standard error [g]
    df : float
        Degrees of freedom of the standard error, above 0 [1]
    confidence : float
        Confidence [1]

    Returns
    -------
    tuple
        Lower and upper end [g]

    Examples
    --------
    >>> [round(end, 3) for end in interval(6.0, 2.0 / 3**0.5, 2)]
    [1.032, 10.968]
    """
    half = float(t_critical(df, confidence)) * standard_error
    return middle - half, middle + half
