"""Medium and block added up: the least-squares fit behind every figure of a trial.

A tray's weight is taken as medium + cell + chance, a cell being a block of one trial (shelf level and sow date). A
trial without blocks is a single cell, and the fit is then the plain one of group means. The cells are swept out
first, so that a fit costs little however many blocks there are; the spread is always the residual mean square with
its degrees of freedom.

Sources: R. A. Bailey, Design of Comparative Experiments (2008), chapters 4 and 11, for blocks and incomplete
blocks; S. R. Searle, Linear Models (1971), chapter 7, for unbalanced two-way data without interaction (both from
memory, the figures are held to published analyses in the tests).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Codes = NDArray[np.intp]
Weights = Sequence[float] | Floats
Labels = Sequence[int] | Codes


class AdditiveFit(NamedTuple):
    """A fitted trial. Arrays by medium unless said otherwise.

    ``means`` are the adjusted means: what a medium would average with every cell weighted equally [g].
    ``shape`` times ``mean_square`` is the covariance of the adjusted means, ``contrast`` times it that of their
    differences alone (the cells cancel). ``residuals`` are by tray [g]. Sums of squares [g2]: ``media_square`` with
    cells allowed for, ``cell_square`` with media ignored, ``residual_square`` what is left.
    """

    means: Floats
    shape: Floats
    contrast: Floats
    residuals: Floats
    counts: Floats
    media_square: float
    cell_square: float
    residual_square: float
    media_df: int
    cell_df: int
    residual_df: int

    @property
    def mean_square(self) -> float:
        """Residual mean square [g2]; nan without degrees of freedom."""
        return self.residual_square / self.residual_df if self.residual_df > 0 else float("nan")


def linked_groups(medium: Labels, cell: Labels) -> list[list[int]]:
    """Media grouped by whether shared cells link them, directly or through others; only one group can be compared.

    Parameters
    ----------
    medium : sequence
        Number of each tray's medium, from 0 [1]
    cell : sequence
        Number of each tray's cell, from 0 [1]

    Returns
    -------
    list
        Groups of media numbers, smallest first [1]

    Examples
    --------
    >>> linked_groups([0, 1, 1, 2, 3], [0, 0, 1, 1, 2])
    [[0, 1, 2], [3]]
    """
    media, cells = np.asarray(medium, dtype=np.intp), np.asarray(cell, dtype=np.intp)
    grown = np.zeros((media.max() + 1, cells.max() + 1))
    grown[media, cells] = 1
    linked = grown @ grown.T > 0
    left = sorted(set(media.tolist()))
    groups = []
    while left:
        group = {left[0]}
        while True:
            wider = {int(each) for each in np.flatnonzero(linked[sorted(group)].any(axis=0))} | group
            if wider == group:
                break
            group = wider
        groups.append(sorted(group))
        left = [each for each in left if each not in group]
    return groups


def additive_fit(weights: Weights, medium: Labels, cell: Labels) -> AdditiveFit:
    """Fit weight = medium + cell + chance by least squares.

    Every medium number from 0 to the largest must occur, and all media must be linked (:func:`linked_groups`).

    Parameters
    ----------
    weights : sequence
        Harvest weight of each tray [g]
    medium : sequence
        Number of each tray's medium, from 0 [1]
    cell : sequence
        Number of each tray's cell, from 0 [1]

    Returns
    -------
    AdditiveFit
        Adjusted means, residuals, and sums of squares [g, g2]

    Raises
    ------
    ValueError
        Media are not linked, so their difference cannot be told from that of the cells.

    Examples
    --------
    >>> fit = additive_fit([10.0, 14.0, 20.0, 26.0], [0, 1, 0, 1], [0, 0, 1, 1])
    >>> fit.means.tolist(), fit.residual_square, fit.residual_df
    ([15.0, 20.0], 1.0, 1)
    """
    media, cells = np.asarray(medium, dtype=np.intp), np.asarray(cell, dtype=np.intp)
    values, middle = _centred(weights)
    table = _Counts(media, cells)
    if table.links > 1:
        raise ValueError("the media were never tried together, so their differences cannot be estimated")
    residuals, effects, cell_means, media_square = table.sweep(values)
    again, correction, _, _ = table.sweep(residuals)
    effects = effects + correction
    cell_square = float((table.cell_sizes * cell_means**2).sum())
    mixture = table.shares.mean(axis=1)
    level = cell_means.mean() - mixture @ effects
    away = np.eye(table.media) - mixture
    return AdditiveFit(
        means=middle + level + effects,
        shape=away @ table.inverse @ away.T + (1 / table.cell_sizes).sum() / table.cells**2,
        contrast=table.inverse,
        residuals=again,
        counts=table.counts.sum(axis=1),
        media_square=media_square,
        cell_square=cell_square,
        residual_square=float(again @ again),
        media_df=table.media - 1,
        cell_df=table.cells - 1,
        residual_df=len(values) - table.media - table.cells + 1,
    )


def covariate_slope(weights: Weights, covariate: Weights, medium: Labels, cell: Labels) -> tuple[float, float, int]:
    """Slope of weight on something else recorded of each tray, medium and cell allowed for.

    Parameters
    ----------
    weights : sequence
        Harvest weight of each tray [g]
    covariate : sequence
        What else was recorded of each tray, in its own unit [1]
    medium : sequence
        Number of each tray's medium, from 0 [1]
    cell : sequence
        Number of each tray's cell, from 0 [1]

    Returns
    -------
    tuple
        Slope, its standard error [g], and its degrees of freedom [1]; nan, nan and 0 where it cannot be told

    Examples
    --------
    >>> slope, error, df = covariate_slope([10.0, 13.0, 14.0, 17.5], [0.0, 1.0, 2.0, 3.0], [0] * 4, [0] * 4)
    >>> round(slope, 3), round(error, 3), df
    (2.35, 0.328, 2)
    """
    x = additive_fit(covariate, medium, cell).residuals
    fit = additive_fit(weights, medium, cell)
    size, df = float(x @ x), fit.residual_df - 1
    scale = float(np.square(np.asarray(covariate, dtype=float)).sum())
    if df < 1 or size <= 1e-12 * scale or size == 0:
        return float("nan"), float("nan"), 0
    slope = float(x @ fit.residuals) / size
    left = fit.residuals - slope * x
    return slope, float(np.sqrt(left @ left / df / size)), df


def _centred(weights: Weights) -> tuple[Floats, float]:
    """Weights less their mean, taken off twice: the first mean of large numbers is itself rounded."""
    values = np.asarray(weights, dtype=float)
    middle = float(values.mean())
    values = values - middle
    rest = float(values.mean())
    return values - rest, middle + rest


class _Counts:
    """How many trays of each medium are in each cell, and what follows from that alone."""

    def __init__(self, medium: Codes, cell: Codes) -> None:
        self.medium, self.cell = medium, cell
        self.media, self.cells = int(medium.max()) + 1, int(cell.max()) + 1
        counted = np.bincount(medium * self.cells + cell, minlength=self.media * self.cells)
        self.counts: Floats = counted.reshape(self.media, self.cells).astype(float)
        self.cell_sizes: Floats = self.counts.sum(axis=0)
        if not self.cell_sizes.all() or not self.counts.sum(axis=1).all():
            raise ValueError("every medium and cell number from 0 to the largest must occur")
        self.shares: Floats = self.counts / self.cell_sizes
        information = np.diag(self.counts.sum(axis=1)) - self.shares @ self.counts.T
        self.inverse: Floats = np.linalg.pinv(information, rcond=1e-10, hermitian=True)
        smallest = 1e-10 * max(1.0, float(np.abs(information).max()))
        rank = np.linalg.matrix_rank(information, tol=smallest, hermitian=True)
        self.links = self.media - int(rank)

    def sweep(self, values: Floats) -> tuple[Floats, Floats, Floats, float]:
        """Residuals, effects of the media, plain means of the cells, and the media's own sum of squares."""
        cell_means = np.bincount(self.cell, values, self.cells) / self.cell_sizes
        within = values - cell_means[self.cell]
        totals = np.bincount(self.medium, within, self.media)
        effects = self.inverse @ totals
        expected = effects[self.medium] - (effects @ self.shares)[self.cell]
        return within - expected, effects, cell_means, float(totals @ effects)
