"""Where the difference between a medium and the baseline changes sign as inputs change, one at a time.

Many points are evaluated at once: each point is the whole document with one input at another value.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mediacost.results.against import BASES
from mediacost.results.evaluation import Evaluation
from mediacost.results.outcomes import Floats, evaluate_on, lead_values
from mediacost.results.reading import Keys
from mediacost.scenario import Scenario

Places = NDArray[np.intp]

WAYS = (*BASES, "measure")
"""Ways of counting on which media can tie: the three bases with all costs counted, and the measure of the limit."""

LEVEL = 1e-13
"""Differences below this share of what is compared are none."""

LOST = 1e6
"""Where what is compared has grown so many times, a difference has lost its digits and is not looked at."""


class Lead(NamedTuple):
    """How much better a medium is than the baseline, and the size of what was compared; one row for each way."""

    difference: Floats
    size: Floats


def leads(evaluation: Evaluation, limit: str, points: int) -> list[Lead]:
    """How far each medium leads on every way of counting, at every point of an evaluation."""
    worth = []
    for at in range(len(evaluation.media)):
        made = np.empty((len(WAYS), points))
        for way, value in enumerate(lead_values(evaluation, at, limit)):
            made[way] = value
        worth.append(made)
    base = worth[evaluation.numbers.baseline]
    with np.errstate(invalid="ignore"):
        return [Lead(ours - base, np.abs(ours) + np.abs(base)) for ours in worth]


class Points:
    """A document of which any number can be evaluated at once, each with one input changed."""

    def __init__(self, scenario: Scenario, values: Mapping[Keys, float], inputs: Sequence[Keys]) -> None:
        self._scenario = scenario
        self.values = values
        self._inputs = tuple(inputs)

    def leads(self, places: Places, values: Floats) -> list[Lead]:
        """Leads at points where input number ``places[i]`` has the value ``values[i]``."""
        replaced: dict[Keys, Floats] = {}
        for place in np.unique(places):
            keys = self._inputs[int(place)]
            column = np.full(len(places), float(self.values[keys]))
            np.copyto(column, values, where=places == place)
            replaced[keys] = column
        return leads(evaluate_on(self._scenario, replaced), self._scenario.room.limit, len(places))


class Crossing(NamedTuple):
    """Between two neighbouring points of an input a medium's lead changes sign; equal where a point is level."""

    place: int
    medium: int
    way: int
    low: float
    high: float


def crossings(leads: Sequence[Lead], places: Places, values: Floats, usual: Sequence[Lead]) -> list[Crossing]:
    """Every change of sign between neighbouring points of the same input; points must be sorted input by input.

    ``usual`` are the leads at the likely values of all inputs. Where a medium is level on every point of an input,
    there is no crossing.
    """
    found = []
    starts = np.flatnonzero(np.diff(places, prepend=-1))
    for medium, lead in enumerate(leads):
        for way in range(len(WAYS)):
            signs = sign_of(lead.difference[way], lead.size[way])
            differs = np.maximum.reduceat(np.nan_to_num(np.abs(signs), nan=1.0), starts)[places] > 0
            signs[~differs | (lead.size[way] > LOST * usual[medium].size[way])] = np.nan
            same = places[1:] == places[:-1]
            for at in np.flatnonzero(same & (signs[1:] * signs[:-1] < 0)):
                ends = float(values[at]), float(values[at + 1])
                found.append(Crossing(int(places[at]), medium, way, *ends))
            level = signs == 0
            first = level & ~np.concatenate([[False], same & level[:-1]])  # of a stretch that is level, its start
            for at in np.flatnonzero(first):
                found.append(Crossing(int(places[at]), medium, way, float(values[at]), float(values[at])))
    return found


def sign_of(difference: Floats, size: Floats) -> Floats:
    """1, 0 or -1; nan where there is no difference to speak of because a figure is missing."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isfinite(difference), np.sign(difference) * (np.abs(difference) > LEVEL * size), np.nan)


def always_level(lead: Lead, way: int, here: NDArray[np.bool_]) -> bool:
    """Whether a medium never differs from the baseline at these points."""
    signs = sign_of(lead.difference[way][here], lead.size[way][here])
    return bool(len(signs)) and not np.any(signs != 0)


# Which values are looked at -----------------------------------------------------------------------

_HALVES = 2.0 ** (np.arange(-20, 21) / 2)
_DECADES = 10.0 ** np.arange(-6, 13)


def values_between(lowest: float, highest: float, likely: float) -> Floats:
    """Values of a continuous input to look at, both ends included: close together near its likely value."""
    size = abs(likely) or 1.0
    steps = np.concatenate([size * _HALVES, _DECADES])
    near = likely + size * np.linspace(-1, 1, 21)
    values = np.concatenate([[lowest, likely, highest], near, steps, -steps if lowest < 0 else []])
    if highest - lowest <= 1000:
        values = np.concatenate([values, np.linspace(lowest, highest, 33)])
    return np.unique(values[(values >= lowest) & (values <= highest)])


def whole_values_between(lowest: float, highest: float, likely: float) -> Floats:
    """Whole numbers to look at: the first few dozen, and then ever farther apart."""
    first = lowest + np.arange(25)
    values = np.concatenate([first, np.round(values_between(lowest, highest, likely))])
    return np.unique(values[(values >= lowest) & (values <= highest)])


# Closing in ---------------------------------------------------------------------------------------

LeadOf = Callable[[Places, Floats], tuple[Floats, Floats]]
"""For crossings by number and a value of each: the lead and the size of what is compared."""


def lead_of(points: Points, found: Sequence[Crossing]) -> LeadOf:
    """The lead of the medium and way of each crossing, at any value of its input."""
    inputs = np.array([each.place for each in found], dtype=np.intp)
    media = np.array([each.medium for each in found], dtype=np.intp)
    ways = np.array([each.way for each in found], dtype=np.intp)

    def work_out(numbers: Places, values: Floats) -> tuple[Floats, Floats]:
        all_leads = points.leads(inputs[numbers], values)
        differences = np.array([lead.difference for lead in all_leads])
        sizes = np.array([lead.size for lead in all_leads])
        spots = (media[numbers], ways[numbers], np.arange(len(numbers)))
        return differences[spots], sizes[spots]

    return work_out


def whole_neighbours(lead: LeadOf, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Halve the gap between whole numbers of opposite sign until they are neighbours; equal where one is level."""
    low, high = low.copy(), high.copy()
    numbers = np.arange(len(low))
    signs = sign_of(*lead(numbers, low))
    while (wide := np.flatnonzero(high - low > 1)).size:
        middle = np.floor((low[wide] + high[wide]) / 2)
        sign = sign_of(*lead(wide, middle))
        level = sign == 0
        below = sign == signs[wide]
        low[wide] = np.where(below | level, middle, low[wide])
        high[wide] = np.where(below & ~level, high[wide], middle)
    return low, high
