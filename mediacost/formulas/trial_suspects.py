"""Slips in the record: a tray that stands out, and neighbours that look as if their weights were swapped."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit, Floats, Labels, Weights
from mediacost.formulas.trial_distributions import t_tail

ALARM = 0.05
"""A slip is suspected where luck alone would show one as large in less than this share of trials."""

MOSTLY = 0.8
"""A swap must explain at least this share of what any shift between the two trays could."""


class StandingOut(NamedTuple):
    """The tray farthest from its expected weight: its place, residual [g], t ratio, and chance among so many trays."""

    place: int
    residual: float
    t: float
    p: float


class Swap(NamedTuple):
    """Two trays, chance of such a pair by luck, and the residual sum of squares before and after swapping [g2]."""

    first: int
    second: int
    p: float
    before: float
    after: float


def largest_residual(fit: AdditiveFit, medium: Labels, cell: Labels) -> StandingOut | None:
    """The tray that stands out most, judged by the spread of all the others (externally studentized residual).

    The chance is Bonferroni's: that of the largest of so many. Source: R. D. Cook and S. Weisberg, Residuals and
    Influence in Regression (1982), section 2.2 (from memory).

    Parameters
    ----------
    fit : AdditiveFit
        The fitted trial [g]
    medium : sequence
        Number of each tray's medium [1]
    cell : sequence
        Number of each tray's cell [1]

    Returns
    -------
    StandingOut or None
        The tray [g]; None where there are too few degrees of freedom or no spread

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> weights = [10.0, 11.0, 9.0, 10.5, 9.5, 16.0]
    >>> found = largest_residual(additive_fit(weights, [0] * 6, [0] * 6), [0] * 6, [0] * 6)
    >>> found.place, found.residual, round(found.p, 4)
    (5, 5.0, 0.0137)
    """
    df = fit.residual_df - 1
    if df < 1 or fit.residual_square <= 0:
        return None
    free = _free(fit, medium, cell)
    usable = free > 1e-9
    explained = np.where(usable, fit.residuals**2 / np.where(usable, free, 1), 0)
    place = int(explained.argmax())
    ratio = _ratio(float(explained[place]), fit.residual_square, df)
    chance = min(1.0, int(usable.sum()) * float(t_tail(ratio, df)))
    return StandingOut(place, float(fit.residuals[place]), ratio, chance)


def swapped_pairs(
    fit: AdditiveFit,
    weights: Weights,
    medium: Labels,
    cell: Labels,
    neighbours: Sequence[tuple[int, int]],
) -> list[Swap]:
    """Neighbours whose weights look swapped: swapping them takes away most of a shift that luck hardly makes.

    For two trays of one cell with different media, the largest opposite shift of the two that the fit would like is
    tested by Student's t, the chance multiplied by the number of pairs looked at (Bonferroni). It is called a swap
    if trading the two weights takes away nearly as much of the residual sum of squares as the best shift would.

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
    neighbours : sequence
        Places of trays that stood side by side or were weighed one after the other [1]

    Returns
    -------
    list
        Suspected swaps, the likeliest first [g2]

    Examples
    --------
    >>> from mediacost.formulas.trial_blocks import additive_fit
    >>> weights = [10.0, 20.5, 30.0, 11.0, 21.0, 31.5, 12.0, 32.0, 22.0, 13.0, 23.5, 33.0]
    >>> medium, cell = [0, 1, 2] * 4, [0] * 3 + [1] * 3 + [2] * 3 + [3] * 3
    >>> fit = additive_fit(weights, medium, cell)
    >>> found = swapped_pairs(fit, weights, medium, cell, [(0, 1), (1, 2), (6, 7), (7, 8)])
    >>> [(each.first, each.second) for each in found]
    [(7, 8)]
    """
    df = fit.residual_df - 1
    pairs = [(a, b) for a, b in neighbours if cell[a] == cell[b] and medium[a] != medium[b]]
    if df < 1 or fit.residual_square <= 0 or not pairs:
        return []
    values = np.asarray(weights, dtype=float)
    first, second = np.array(pairs, dtype=int).T
    codes = np.asarray(medium, dtype=int)
    inverse = fit.contrast
    one, other = codes[first], codes[second]
    free = 2 - (inverse[one, one] + inverse[other, other] - 2 * inverse[one, other])
    free = np.maximum(free, 1e-12)
    wanted = fit.residuals[first] - fit.residuals[second]
    gap = values[first] - values[second]
    best = wanted**2 / free
    gained = gap * (2 * wanted - gap * free)
    found = []
    for at in np.flatnonzero((gained >= MOSTLY * best) & (best > 0)):
        chance = len(pairs) * float(t_tail(_ratio(float(best[at]), fit.residual_square, df), df))
        if chance < ALARM:
            after = fit.residual_square - float(gained[at])
            found.append(Swap(int(first[at]), int(second[at]), chance, fit.residual_square, max(after, 0.0)))
    return sorted(found, key=lambda swap: swap.after)


def _ratio(explained: float, square: float, df: int) -> float:
    left = (square - explained) / df
    return math.sqrt(explained / left) if left > 1e-12 * square else math.inf


def _free(fit: AdditiveFit, medium: Labels, cell: Labels) -> Floats:
    """How far each residual is free: 1 less the tray's own pull on its fitted weight."""
    media, cells = np.asarray(medium, dtype=int), np.asarray(cell, dtype=int)
    counts = np.zeros((len(fit.counts), int(cells.max()) + 1))
    np.add.at(counts, (media, cells), 1)
    sizes = counts.sum(axis=0)
    away = np.eye(len(fit.counts))[media] - (counts / sizes).T[cells]
    pull = np.einsum("ij,jk,ik->i", away, fit.contrast, away)
    return 1 - 1 / sizes[cells] - pull
