"""How many trays can tell: power, trays needed, and the smallest difference that a trial can see.

The power of Student's test follows the noncentral t, that of the overall F test the noncentral F. For several
comparisons at once Sidak's bound stands in for the studentized range, which asks for slightly more trays.
Sources: J. Cohen, Statistical Power Analysis for the Behavioral Sciences (1988), for the two tests (from memory;
held to published figures in the tests).
"""

from __future__ import annotations

import math

from mediacost.formulas.trial_distributions import DEFAULT_CONFIDENCE, t_critical

USUAL_POWER = 0.80
"""Chance of seeing a difference that is there, asked for where nothing else is (common practice, no source)."""

MOST_TRAYS = 1_000
"""More trays per medium than this are not counted out: no small room can lay them."""

_FARTHEST = 37.0
"""The noncentral t is not asked for farther off centre: seen for sure there, and scipy's series ends in nan."""

_NEAR = 5.0
"""Farther off centre than this a difference is not seen with the wrong sign, to six figures and more."""


def residual_df(trays: float, media: int, blocked: bool) -> float:
    """Degrees of freedom that judge a balanced trial: media * (trays - 1), or (media - 1) * (trays - 1) in blocks.

    Parameters
    ----------
    trays : float
        Trays of each medium; in blocks, the number of blocks [trays]
    media : int
        Media in the trial, 2 or more [1]
    blocked : bool
        Whether every block holds every medium once [1]

    Returns
    -------
    float
        Degrees of freedom [1]

    Examples
    --------
    >>> residual_df(4, 3, True), residual_df(4, 3, False)
    (6, 9)
    """
    return (media - 1 if blocked else media) * (trays - 1)


def power_of_difference(
    difference: float,
    sd: float,
    trays: float,
    media: int = 2,
    blocked: bool = False,
    comparisons: int = 1,
    confidence: float = DEFAULT_CONFIDENCE,
) -> float:
    """Chance that the interval of a difference excludes zero when the true difference is this large.

    Parameters
    ----------
    difference : float
        True difference of two media [g]
    sd : float
        Spread between like trays, within a block where there are blocks; above 0 [g]
    trays : float
        Trays of each medium, above 1 [trays]
    media : int
        Media in the trial [1]
    blocked : bool
        Whether every block holds every medium once [1]
    comparisons : int
        How many intervals must hold at once [1]
    confidence : float
        Confidence of all intervals together [1]

    Returns
    -------
    float
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(power_of_difference(20.0, 20.0, 20), 4)
    0.8690
    """
    from scipy import special

    df = residual_df(trays, media, blocked)
    critical = float(t_critical(df, confidence, comparisons))
    off_centre = min(abs(difference) / (sd * math.sqrt(2 / trays)), _FARTHEST)
    wrong_side = special.nctdtr(df, off_centre, -critical) if off_centre < _NEAR else 0.0
    return float(1 - special.nctdtr(df, off_centre, critical) + wrong_side)


def trays_needed(
    difference: float,
    sd: float,
    media: int = 2,
    blocked: bool = False,
    comparisons: int = 1,
    power: float = USUAL_POWER,
    confidence: float = DEFAULT_CONFIDENCE,
) -> int | None:
    """Fewest trays of each medium that see a difference with the power asked for.

    Parameters
    ----------
    difference : float
        Difference worth seeing, not 0 [g]
    sd : float
        Spread between like trays, within a block where there are blocks [g]
    media : int
        Media in the trial [1]
    blocked : bool
        Whether every block holds every medium once [1]
    comparisons : int
        How many intervals must hold at once [1]
    power : float
        Chance asked for [1]
    confidence : float
        Confidence of all intervals together [1]

    Returns
    -------
    int or None
        Trays of each medium, 2 or more; None where a thousand are not enough [trays]

    Examples
    --------
    >>> trays_needed(25.0, 20.0, blocked=True), trays_needed(25.0, 20.0, media=3, blocked=True, comparisons=3)
    (13, 15)
    """

    def enough(trays: int) -> bool:
        return power_of_difference(difference, sd, trays, media, blocked, comparisons, confidence) >= power

    if sd <= 0:
        return 2
    if difference == 0 or not enough(MOST_TRAYS):
        return None
    low, high = 1, MOST_TRAYS
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high


def smallest_difference(
    standard_error: float,
    df: float,
    comparisons: int = 1,
    power: float = USUAL_POWER,
    confidence: float = DEFAULT_CONFIDENCE,
) -> float:
    """Smallest true difference that a trial with this standard error sees with the power asked for.

    Parameters
    ----------
    standard_error : float
        Standard error of a difference [g]
    df : float
        Its degrees of freedom, 1 or more [1]
    comparisons : int
        How many intervals must hold at once [1]
    power : float
        Chance asked for [1]
    confidence : float
        Confidence of all intervals together [1]

    Returns
    -------
    float
        Difference [g]

    Examples
    --------
    >>> round(smallest_difference(20.0 * (2 / 20) ** 0.5, 38), 2)
    18.17
    """
    from scipy import special

    critical = float(t_critical(df, confidence, comparisons))
    return float(special.nctdtrinc(df, 1 - power, critical)) * standard_error


def power_of_overall_test(
    effect: float, trays: float, media: int, blocked: bool = False, confidence: float = DEFAULT_CONFIDENCE
) -> float:
    """Chance that the overall F test sees anything, for an effect in Cohen's f.

    Parameters
    ----------
    effect : float
        Spread of the true means over the spread between like trays, the means' spread with k below the line [1]
    trays : float
        Trays of each medium, above 1 [trays]
    media : int
        Media in the trial [1]
    blocked : bool
        Whether every block holds every medium once [1]
    confidence : float
        One less the chance of a false alarm [1]

    Returns
    -------
    float
        Chance, 0 to 1 [1]

    Examples
    --------
    >>> round(power_of_overall_test(0.25, 52.397, 3), 4)
    0.8000
    """
    from scipy import special

    above, below = media - 1, residual_df(trays, media, blocked)
    critical = special.fdtri(above, below, confidence)
    return float(1 - special.ncfdtr(above, below, effect**2 * trays * media, critical))


def comparisons_among(media: int) -> int:
    """Pairs among so many media: media * (media - 1) / 2.

    Parameters
    ----------
    media : int
        Media in the trial [1]

    Returns
    -------
    int
        Pairs [1]

    Examples
    --------
    >>> comparisons_among(4)
    6
    """
    return media * (media - 1) // 2
