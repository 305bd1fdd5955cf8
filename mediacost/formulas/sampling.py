"""Drawing what is not known exactly: the one door through which chance comes in, always with a seed.

Shares between 0 and 1 come from a scrambled Sobol sequence, which covers its space more evenly than plain random
numbers; each is turned into a value by the exact inverse of its distribution. Every draw therefore lies inside the
limits of its distribution: nothing is drawn outside and cut off afterwards.

Sources: A. B. Owen, Scrambling Sobol' and Niederreiter-Xing points, Journal of Complexity 14 (1998), for the
sequence; JCGM 101:2008 for carrying distributions through a model by draws (both from memory; the tests hold the
door to published figures). scipy is imported inside the functions: whoever only compares does not wait for it.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from mediacost.formulas.numeric import Number, absolute, maximum, minimum

Shares = NDArray[np.float64]

USUAL_SPREAD = 0.12
"""Spread between like trays over their mean, taken where too few were weighed (common practice, no source)."""

FEWEST_DF = 3
"""With fewer degrees of freedom than this, a measured spread says too little to be used alone."""

_SOBOL_BITS = 30
_HALF_A_CELL = 0.5 / 2**_SOBOL_BITS


def share_blocks(count: int, inputs: int, seed: int, block: int = 16_384) -> Iterator[Shares]:
    """Draw shares between 0 and 1, both left out, in blocks, so that memory stays bounded however many are asked for.

    The same count, inputs, seed and block give the same shares.

    Parameters
    ----------
    count : int
        Draws in all, 1 or more [1]
    inputs : int
        How many things are drawn at once [1]
    seed : int
        Seed, 0 or more [1]
    block : int
        Most draws in a block, a power of two [1]

    Returns
    -------
    iterator of array
        Shares, one row for each input, one column for each draw [1]

    Examples
    --------
    >>> [shares.shape for shares in share_blocks(5, 2, seed=1, block=4)]
    [(2, 4), (2, 1)]
    """
    if inputs == 0:
        for start in range(0, count, block):
            yield np.empty((0, min(block, count - start)))
        return
    from scipy.stats import qmc

    # the sequence is balanced in powers of two, so whole ones are taken from it and the surplus is left
    size = min(block, 1 << max(0, (count - 1).bit_length()))
    sequence = qmc.Sobol(inputs, scramble=True, bits=_SOBOL_BITS, rng=np.random.default_rng(seed))
    for start in range(0, count, size):
        drawn = sequence.random(size)[: count - start]
        yield np.ascontiguousarray(drawn.T) + _HALF_A_CELL


def linked_shares(shares: Shares, correlation: Shares) -> Shares:
    """Make shares that were drawn independently hang together, each still even between 0 and 1.

    Their normal scores get the correlation (a Gaussian copula): R. B. Nelsen, An Introduction to Copulas (from memory).

    Parameters
    ----------
    shares : array
        Shares between 0 and 1, one row for each input, one column for each draw [1]
    correlation : array
        Correlation of the inputs, a row and a column for each [1]

    Returns
    -------
    array
        Linked shares, rows and columns as before [1]

    Examples
    --------
    >>> import numpy as np
    >>> together = np.array([[1.0, 0.6], [0.6, 1.0]])
    >>> linked_shares(np.array([[0.9], [0.5]]), together).round(4).ravel().tolist()
    [0.9, 0.779]
    """
    from scipy import special

    scores = np.linalg.cholesky(correlation) @ special.ndtri(shares)
    linked: Shares = special.ndtr(scores)
    return linked


def triangular(share: Number, low: Number, likely: Number, high: Number) -> Number:
    """Value below which a share of a triangular distribution lies: its exact inverse.

    low + sqrt(share (high - low) (likely - low)) up to the peak, high - sqrt((1 - share) (high - low) (high - likely))
    above it.

    Parameters
    ----------
    share : number
        Share, 0 to 1 [1]
    low, likely, high : number
        Lowest, most likely and highest value [any unit]

    Returns
    -------
    number
        Value, from low to high [the same unit]

    Examples
    --------
    >>> [round(float(triangular(share, 1.0, 2.0, 6.0)), 6) for share in (0.0, 0.2, 0.5, 1.0)]
    [1.0, 2.0, 2.837722, 6.0]

    References
    ----------
    Mean (low + likely + high) / 3; any textbook on simulation.
    """
    width = high - low
    below = low + np.sqrt(share * width * (likely - low))
    above = high - np.sqrt((1 - share) * width * (high - likely))
    value = np.where(share * width < likely - low, below, above)
    # both branches stay inside but for the last digit of a sum
    return minimum(maximum(value, low), high)


def triangular_mean(low: Number, likely: Number, high: Number) -> Number:
    """Mean of a triangular distribution: (low + likely + high) / 3; not the likely value where the range is skewed.

    Parameters
    ----------
    low, likely, high : number
        Lowest, most likely and highest value [any unit]

    Returns
    -------
    number
        Mean [the same unit]

    Examples
    --------
    >>> triangular_mean(1.0, 2.0, 6.0)
    3.0
    """
    return (low + likely + high) / 3


def standard_error(mean: float, sd: float | None, weight: float, df: float) -> float:
    """Standard error of a mean of tray weights: sd * sqrt(weight), and a usual spread where too few were weighed.

    With fewer than 3 degrees of freedom the larger of the measured spread and 12 % of the mean is taken
    (common practice for like trays, no source).

    Parameters
    ----------
    mean : float
        Mean [g]
    sd : float or None
        Standard deviation between trays, None where it is not known [g]
    weight : float
        1 / trays for a plain mean; the mean's place in the fit for one adjusted for blocks [1]
    df : float
        Degrees of freedom of the standard deviation [1]

    Returns
    -------
    float
        Standard error [g]

    Examples
    --------
    >>> standard_error(250.0, 20.0, 1 / 16, 15), standard_error(250.0, 20.0, 1 / 1, 0)
    (5.0, 30.0)
    """
    known = 0.0 if sd is None or np.isnan(sd) else sd
    spread = known if df >= FEWEST_DF else max(known, USUAL_SPREAD * abs(mean))
    return float(spread * np.sqrt(weight))


def student_mean(share: Number, mean: Number, error: Number, df: float) -> Number:
    """Value of a measured mean below which a share of its doubt lies: mean + error * Student's t.

    Cut to between 0 and twice the mean through the inverse distribution, so that no draw has to be thrown away and
    the average of the draws stays the mean.

    Parameters
    ----------
    share : number
        Share, 0 to 1 [1]
    mean, error : number
        Mean, 0 or more, and its standard error [any unit]
    df : float
        Degrees of freedom of the standard error; infinity draws normally [1]

    Returns
    -------
    number
        Value, from 0 to twice the mean [the same unit]

    Examples
    --------
    >>> [round(float(student_mean(share, 250.0, 10.0, 5)), 3) for share in (0.025, 0.5, 0.975)]
    [224.294, 250.0, 275.706]
    """
    from scipy import special

    if error == 0:
        return mean + 0 * share
    normal = np.isinf(df)
    reach = mean / error
    lowest = special.ndtr(-reach) if normal else special.stdtr(df, -reach)
    # worked out in the lower half and mirrored: the upper tail would lose its digits
    nearer = lowest + (0.5 - absolute(share - 0.5)) * (1 - 2 * lowest)
    below = special.ndtri(nearer) if normal else special.stdtrit(df, nearer)
    value = mean + error * np.where(share < 0.5, below, -below)
    return minimum(maximum(value, 0.0), 2 * mean)
