"""What knowing is worth: the expected value of perfect information, from draws.

Sources: H. Raiffa and R. Schlaifer, Applied Statistical Decision Theory (1961), chapters 4 and 5, for the value of
perfect information and its closed form with two actions and a normal loss; M. Strong, J. E. Oakley and A. Brennan,
Medical Decision Making 34 (2014), for one input at a time by regression on the draws (all from memory; the tests
hold both to the closed form and to a nested count).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

MOST_BENDS = 4
"""Highest power of an input in the regression: what a medium is worth bends gently in each of its inputs."""

DRAWS_A_TERM = 10
"""So many draws for each term of the regression, or it would fit luck."""


def value_of_knowing_all(worth: Floats) -> float:
    """What it is worth to know everything: the mean of the best in each draw, less the best of the means.

    Parameters
    ----------
    worth : array
        What each action is worth, one row for each action, one column for each draw [money]

    Returns
    -------
    float
        Expected value of perfect information, 0 or more [money]

    Examples
    --------
    >>> import numpy as np
    >>> value_of_knowing_all(np.array([[0.0, 0.0, 0.0, 0.0], [4.0, -2.0, 2.0, -1.0]]))
    0.75
    """
    return max(0.0, float(worth.max(axis=0).mean() - worth.mean(axis=1).max()))


def value_of_knowing_some(
    worth: Floats, inputs: Floats, groups: Sequence[Sequence[int]], linked: Sequence[Sequence[int]] = ()
) -> Floats:
    """What it is worth to know some inputs and not the others, by a regression that adds up a curve in every input.

    The curves of a group together are what an action is worth on average once that group is known; how inputs act on
    each other is left out. Fitting all curves at once takes the luck of the other inputs out. An input that others are
    linked with tells of them as well.

    Parameters
    ----------
    worth : array
        What each action is worth, one row for each action, one column for each draw [money]
    inputs : array
        Values drawn, one row for each input, one column for each draw [any unit]
    groups : sequence of sequence of int
        Numbers of the inputs that are known together, for each answer [1]
    linked : sequence of sequence of int
        Numbers of inputs that are not drawn independently of each other [1]

    Returns
    -------
    array
        Expected value of perfect information on each group; nan where there are too few draws to tell [money]

    Examples
    --------
    >>> import numpy as np
    >>> known = np.linspace(-1.0, 1.0, 2001)
    >>> worth = np.array([0 * known, known])
    >>> [round(float(value), 3) for value in value_of_knowing_some(worth, np.array([known]), [[0], []])]
    [0.25, 0.0]
    """
    count, draws = inputs.shape
    bends = min(MOST_BENDS, (draws // DRAWS_A_TERM - 1) // max(1, count))
    if bends < 1:
        return np.full(len(groups), np.nan)
    curves = np.concatenate([_curves(values, bends) for values in inputs])
    middle = worth.mean(axis=1, keepdims=True)
    fitted = np.linalg.lstsq(curves @ curves.T, curves @ (worth - middle).T, rcond=1e-13)[0]
    found = np.empty(len(groups))

    def terms(group: Iterable[int]) -> list[int]:
        return [place * bends + power for place in group for power in range(bends)]

    for at, group in enumerate(groups):
        own = terms(group)
        others = {place for link in linked if set(link) & set(group) for place in link} - set(group)
        known = fitted[own].T @ curves[own]
        if others:
            told = curves[terms(others)].T @ fitted[terms(others)]
            known += np.linalg.lstsq(curves[own].T, told, rcond=1e-13)[0].T @ curves[own]
        found[at] = value_of_knowing_all(middle + known)
    return found


def _curves(values: Floats, bends: int) -> Floats:
    """Legendre polynomials of an input, from its lowest to its highest draw; centred."""
    low, high = values.min(), values.max()
    if high <= low:
        return np.zeros((bends, len(values)))
    scaled = (2 * values - low - high) / (high - low)
    curves = np.polynomial.legendre.legvander(scaled, bends).T[1:]
    return curves - curves.mean(axis=1, keepdims=True)
