"""Two inputs at once: which medium comes out best, and where the answer flips."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mediacost.results.measures import MEASURES
from mediacost.results.outcomes import Floats, evaluate_on, first_best, rank_values, tray_outcome
from mediacost.results.reading import Keys
from mediacost.results.scan import WAYS, leads
from mediacost.scenario import Scenario


@dataclass(frozen=True, slots=True)
class FlipMap:
    """One row for each value of ``along_y``, one column for each of ``along_x``.

    ``best`` holds the number of the medium that is best on the measure, -1 for none; ``lead`` how much better the
    chosen medium is than the baseline on it: the answer flips between the two where it is zero.
    """

    medium: str
    along_x: Floats
    along_y: Floats
    lead: Floats
    best: NDArray[np.intp]


def flip_map(
    scenario: Scenario, medium: str, x: tuple[Keys, Sequence[float]], y: tuple[Keys, Sequence[float]]
) -> FlipMap:
    """Work the answer out on a grid of two inputs, all others at their likely values.

    ``x`` and ``y`` are key paths with the values to look at, which must be legal ones; whole numbers must be whole.
    """
    along_x, along_y = np.asarray(x[1], dtype=float), np.asarray(y[1], dtype=float)
    shape = (len(along_y), len(along_x))
    columns, rows = (grid.ravel() for grid in np.meshgrid(along_x, along_y))
    evaluation = evaluate_on(scenario, {x[0]: columns, y[0]: rows})
    limit, size = scenario.room.limit, len(columns)
    measure = MEASURES[limit]
    ranked = []
    for at, document in enumerate(scenario.media):
        values = rank_values(tray_outcome(evaluation, at, limit), measure.name, measure.more_is_better)
        closed = any(condition.met == "no" for condition in document.conditions)
        ranked.append(np.broadcast_to(float("-inf") if closed else values, size))
    at = next(at for at, document in enumerate(scenario.media) if document.id == medium)
    lead = leads(evaluation, limit, size)[at].difference[WAYS.index("measure")]
    return FlipMap(medium, along_x, along_y, lead.reshape(shape), first_best(ranked).reshape(shape))
