"""The distributions that a trial is judged by: Student's t, F, the studentized range, the binomial.

The only door to scipy among the formulas, and it opens inside the functions: whoever only compares costs does not
wait for it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from mediacost.formulas.numeric import Number

DEFAULT_CONFIDENCE = 0.95
"""Confidence of intervals and tests where nothing else is asked for."""


def t_tail(t: Number, df: Number) -> Number:
    """Chance that Student's t lies at least this far from zero, on either side: P(abs(T) >= abs(t)).

    Parameters
    ----------
    t : number
        A difference over its standard error [1]
    df : number
        Degrees of freedom, above 0 [1]

    Returns
    -------
    number
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(float(t_tail(2.228139, 10)), 6)
    0.05
    """
    from scipy import special

    return 2 * special.stdtr(df, -np.abs(t))


def t_critical(df: Number, confidence: float = DEFAULT_CONFIDENCE, comparisons: int = 1) -> Number:
    """Student's t that bounds an interval on both sides, for so many comparisons at once (Sidak's bound).

    Parameters
    ----------
    df : number
        Degrees of freedom, above 0 [1]
    confidence : float
        Confidence of all comparisons together [1]
    comparisons : int
        How many intervals must hold at once [1]

    Returns
    -------
    number
        Half-width of the interval in standard errors [1]

    Examples
    --------
    >>> round(float(t_critical(10)), 4), round(float(t_critical(10, comparisons=3)), 4)
    (2.2281, 2.8602)
    """
    from scipy import special

    each = confidence ** (1 / comparisons)
    return special.stdtrit(df, (1 + each) / 2)


def f_tail(f: Number, above_df: Number, below_df: Number) -> Number:
    """Chance that an F ratio is at least this large: P(F >= f).

    Parameters
    ----------
    f : number
        Ratio of two mean squares [1]
    above_df : number
        Degrees of freedom above the line [1]
    below_df : number
        Degrees of freedom below the line [1]

    Returns
    -------
    number
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(float(f_tail(3.885294, 2, 12)), 6)
    0.05
    """
    from scipy import special

    return special.fdtrc(above_df, below_df, f)


def range_tail(q: Number, groups: int, df: Number) -> Number:
    """Chance that a studentized range is at least this large: P(Q >= q); for two groups by Student's t.

    Parameters
    ----------
    q : number
        Largest difference of the groups' means over the standard error of one mean [1]
    groups : int
        Groups, 2 or more [1]
    df : number
        Degrees of freedom of the standard error [1]

    Returns
    -------
    number
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(float(range_tail(3.772929, 3, 12)), 5)
    0.05
    """
    if groups == 2:
        return t_tail(np.asarray(q) / np.sqrt(2), df)
    from scipy import stats

    return stats.studentized_range.sf(q, groups, df)


@lru_cache(maxsize=256)
def range_critical(groups: int, df: float, confidence: float = DEFAULT_CONFIDENCE) -> float:
    """Studentized range that holds all differences of so many groups at once.

    Parameters
    ----------
    groups : int
        Groups, 2 or more [1]
    df : float
        Degrees of freedom of the standard error [1]
    confidence : float
        Confidence of all differences together [1]

    Returns
    -------
    float
        Largest difference over the standard error of one mean [1]

    Examples
    --------
    >>> round(range_critical(3, 12), 6)
    3.772929
    """
    if groups == 2:
        return float(np.sqrt(2) * t_critical(df, confidence))
    from scipy import stats

    return float(stats.studentized_range.ppf(confidence, groups, df))


def share_interval(hits: int, tries: int, confidence: float = DEFAULT_CONFIDENCE) -> tuple[float, float]:
    """Interval of a share from a count, after Clopper and Pearson (1934): exact, and on the wide side.

    Parameters
    ----------
    hits : int
        How many of them [trays]
    tries : int
        How many in all, 1 or more [trays]
    confidence : float
        Confidence of the interval [1]

    Returns
    -------
    tuple
        Lowest and highest share that fit [1]

    Examples
    --------
    >>> [round(end, 4) for end in share_interval(0, 10)], [round(end, 4) for end in share_interval(2, 10)]
    ([0.0, 0.3085], [0.0252, 0.5561])
    """
    from scipy import special

    tail = (1 - confidence) / 2
    low = 0.0 if hits == 0 else float(special.betaincinv(hits, tries - hits + 1, tail))
    high = 1.0 if hits == tries else float(special.betaincinv(hits + 1, tries - hits, 1 - tail))
    return low, high
