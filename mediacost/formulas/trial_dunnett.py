"""Several media against one, with intervals that hold all at once: Dunnett's comparison (1955).

The differences share the one medium, so they move together: their t ratios follow a multivariate t. Where the
correlations are products b_i * b_j (trays without blocks, complete blocks, and always for two comparisons) the chance
is an integral over two plain variables and is worked out to ten figures. Elsewhere scipy's multivariate t is drawn
with a fixed seed.

Source: C. W. Dunnett, A multiple comparison procedure for comparing several treatments with a control, Journal of
the American Statistical Association 50 (1955) 1096-1121 (from memory; his example is held in the tests).
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, Floats
from mediacost.formulas.trial_distributions import DEFAULT_CONFIDENCE, t_critical, t_tail
from mediacost.formulas.trial_pairs import Difference, standard_error

SEED = 20_517
"""Seed of the draws where the chance has to be drawn."""

_DRAWN_POINTS = 20_000


def dunnett(
    fit: AdditiveFit, baseline: int, confidence: float = DEFAULT_CONFIDENCE, seed: int = SEED
) -> list[Difference]:
    """Every other medium less the baseline, on the residual mean square and its degrees of freedom.

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial, with residual degrees of freedom and spread [g]
    baseline : int
        Number of the medium that all others are set against [1]
    confidence : float
        Confidence of all intervals together [1]
    seed : int
        Seed of the draws, where draws are needed [1]

    Returns
    -------
    list
        A difference for each other medium, in the order of the media [g]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> fit = additive_fit([10.0, 12.0, 14.0, 20.0, 22.0, 24.0], [0, 0, 0, 1, 1, 1], [0] * 6)
    >>> [(each.difference, round(each.low, 3), round(each.high, 3)) for each in dunnett(fit, 0)]
    [(10.0, 5.466, 14.534)]
    """
    others = [each for each in range(len(fit.means)) if each != baseline]
    if not others:
        return []
    correlation, df = difference_correlation(fit, baseline), fit.residual_df
    critical = many_to_one_critical(correlation, df, confidence, seed)
    found = []
    for other in others:
        gap = float(fit.means[other] - fit.means[baseline])
        error = standard_error(fit, other, baseline)
        chance = many_to_one_tail(abs(gap) / error, correlation, df, seed)
        half = critical * error
        found.append(Difference(other, baseline, gap, error, df, gap - half, gap + half, chance))
    return found


def difference_correlation(fit: AdditiveFit, baseline: int) -> Floats:
    """How the differences of all other media from the baseline move together.

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]
    baseline : int
        Number of the medium that all others are set against [1]

    Returns
    -------
    array
        Correlations of the differences, in the order of the other media [1]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> fit = additive_fit([1.0, 2.0, 3.0, 5.0, 5.0, 6.0], [0, 1, 2] * 2, [0] * 6)
    >>> difference_correlation(fit, 0).round(6).tolist()
    [[1.0, 0.5], [0.5, 1.0]]
    """
    others = [each for each in range(len(fit.means)) if each != baseline]
    against = np.eye(len(fit.means))[others]
    against[:, baseline] -= 1
    covariance = against @ fit.contrast @ against.T
    scale = np.sqrt(np.diag(covariance))
    return covariance / np.outer(scale, scale)


def many_to_one_tail(t: float, correlation: Floats, df: float, seed: int = SEED) -> float:
    """Chance that the largest of several related t ratios lies at least this far from zero.

    Parameters
    ----------
    t : float
        Largest ratio, 0 or above [1]
    correlation : array
        Correlations of the ratios [1]
    df : float
        Degrees of freedom they share [1]
    seed : int
        Seed of the draws, where draws are needed [1]

    Returns
    -------
    float
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(many_to_one_tail(2.5, np.array([[1.0, 0.5], [0.5, 1.0]]), 20), 6)
    0.038936
    """
    if len(correlation) == 1:
        return float(t_tail(t, df))
    loadings = _loadings(correlation)
    if loadings is None:
        return 1 - _drawn(t, correlation, df, seed)
    return 1 - _integrated(t, loadings, df)


def many_to_one_critical(
    correlation: Floats, df: float, confidence: float = DEFAULT_CONFIDENCE, seed: int = SEED
) -> float:
    """The t ratio that holds all differences from the baseline at once.

    Parameters
    ----------
    correlation : array
        Correlations of the differences [1]
    df : float
        Degrees of freedom they share [1]
    confidence : float
        Confidence of all intervals together [1]
    seed : int
        Seed of the draws, where draws are needed [1]

    Returns
    -------
    float
        Half-width of the intervals in standard errors [1]

    Examples
    --------
    >>> round(many_to_one_critical(np.array([[1.0, 0.5], [0.5, 1.0]]), 20), 3)
    2.378
    """
    low = float(t_critical(df, confidence))
    if len(correlation) == 1:
        return low
    high = float(t_critical(df, confidence, len(correlation)))
    wanted = 1 - confidence
    return _crossing(lambda t: many_to_one_tail(t, correlation, df, seed) - wanted, low, high * 1.001)


def _crossing(miss: Callable[[float], float], low: float, high: float) -> float:
    """Where a falling function is zero between two bounds that hold it, by straight lines (Illinois rule)."""
    at_low, at_high = miss(low), miss(high)
    if at_high >= 0:
        return high
    if at_low <= 0:
        return low
    middle, side = low, 0
    for _ in range(60):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at = miss(middle)
        if abs(at) < 1e-10 or high - low < 1e-9 * high:
            break
        if at > 0:
            low, at_low = middle, at
            at_high, side = (at_high / 2, 1) if side == 1 else (at_high, 1)
        else:
            high, at_high = middle, at
            at_low, side = (at_low / 2, -1) if side == -1 else (at_low, -1)
    return middle


def _loadings(correlation: Floats) -> Floats | None:
    """b with correlation_ij = b_i * b_j for i != j, each below 1 in size; None where there is no such b.

    The chance is the same for t ratios of either sign, so for two or three comparisons signs can be moved freely.
    """
    count = len(correlation)
    if count == 2:
        shared = abs(float(correlation[0, 1]))
        return np.full(2, math.sqrt(shared)) if shared < 1 - 1e-9 else None
    if (np.abs(correlation) < 1e-12).any():
        return None
    squares = [
        np.median([correlation[i, j] * correlation[i, k] / correlation[j, k] for j, k in _others(i, count)])
        for i in range(count)
    ]
    if min(squares) <= 0 or max(squares) >= 1 - 1e-9:
        return None
    sizes = np.sqrt(squares) * np.sign(correlation[0])
    off = ~np.eye(count, dtype=bool)
    return sizes if np.abs(np.outer(sizes, sizes) - correlation)[off].max() < 1e-9 else None


def _others(i: int, count: int) -> list[tuple[int, int]]:
    rest = [each for each in range(count) if each != i]
    return [(rest[at], rest[(at + 1) % len(rest)]) for at in range(len(rest))]


def _integrated(t: float, loadings: Floats, df: float) -> float:
    """P(all abs(T_i) < t) by the trapezoid rule, which converges fast on such bell-shaped integrands."""
    from scipy import special

    rest = np.sqrt(1 - loadings**2)
    step = min(0.25, 0.5 * float(rest.min()))
    shared = np.arange(-8.5, 8.5 + step, step)
    weight = np.exp(-(shared**2) / 2) * step / math.sqrt(2 * math.pi)
    scales, mass = _spread_nodes(df)
    inside = np.ones((len(scales), len(shared)))
    for loading, own in zip(loadings, rest, strict=True):
        moved = loading * shared[None, :]
        reach = t * scales[:, None]
        inside *= special.ndtr((moved + reach) / own) - special.ndtr((moved - reach) / own)
    return min(1.0, float(mass @ inside @ weight))


def _spread_nodes(df: float) -> tuple[Floats, Floats]:
    """Values of a sample's spread over the true one, on an even grid of its logarithm, and their chances."""
    from scipy import special

    low = 0.5 * math.log(max(special.gammaincinv(df / 2, 1e-13) / (df / 2), 1e-300))
    high = 0.5 * math.log(special.gammainccinv(df / 2, 1e-16) / (df / 2))
    nodes = np.linspace(low, high, 90)
    square = df * np.exp(2 * nodes) / 2
    density = np.exp(df / 2 * np.log(square) - square - special.gammaln(df / 2)) * 2
    mass = density * (nodes[1] - nodes[0])
    return np.exp(nodes), mass / mass.sum()


def _drawn(t: float, correlation: Floats, df: float, seed: int) -> float:
    from scipy import stats

    bound = np.full(len(correlation), t)
    return float(
        stats.multivariate_t.cdf(
            bound, shape=correlation, df=df, lower_limit=-bound, maxpts=_DRAWN_POINTS, random_state=seed
        )
    )
