"""Which inputs are not known exactly, and how each is drawn. One set of draws is shared by all media.

A range is drawn from the triangular distribution on it. A harvest weight that was typed or measured as a mean is
drawn with the doubt of that mean: Student's t with the spread between trays, or a usual spread where too few were
weighed to know it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from mediacost.formulas import numeric, sampling
from mediacost.formulas.numeric import Number
from mediacost.formulas.trial_blocks import Floats
from mediacost.results.evaluation import evaluate
from mediacost.results.input_names import MEASURED, input_name
from mediacost.results.reading import Keys, Lines, PlainReading
from mediacost.results.trial_trays import used_trials, weighed
from mediacost.scenario import Pair, Range, Scenario, likely

RANGE, MEAN, ROUGH_MEAN = "range", "mean of weighed trays", "weight with a spread that is not known"
"""How an input comes to be uncertain. The last kind keeps every verdict from being 'clear'."""

TAIL = 0.05
"""Low and high of a mean are where this share of its draws lies outside on either side."""


class DrawReading(PlainReading):
    """A plain reading that can also replace measured harvest weights, and remembers what it was asked for."""

    def __init__(self, replaced: Mapping[Keys, Number] | None = None) -> None:
        super().__init__(replaced)
        self.asked: dict[Keys, float] = {}

    def number(self, keys: Keys, value: float | Range) -> Number:
        if keys not in self.asked:
            self.asked[keys] = likely(value)
        return super().number(keys, value)

    def counted(self, name: str, value: Number, lines: Lines, *context: str | int) -> Number:
        if name == MEASURED:
            return self.number((MEASURED, *context), value)
        return value


@dataclass(frozen=True, slots=True)
class Uncertain:
    """An input that is not known exactly, in the unit in which it is typed.

    ``low`` and ``high`` are the ends of a range; of a mean, the values that 5 % of its draws lie below and above.
    ``standard_error``, ``df`` and ``trays`` are None for a range.
    """

    keys: Keys
    path: str
    label: str
    unit: str
    kind: str
    low: float
    likely: float
    high: float
    whole: bool = False
    standard_error: float | None = None
    df: float | None = None
    trays: int | None = None

    def value(self, share: Number) -> Number:
        """The value below which a share of the draws lies."""
        if self.standard_error is None:
            drawn = sampling.triangular(share, self.low, self.likely, self.high)
            return numeric.round_half_up(drawn) if self.whole else drawn
        return sampling.student_mean(share, self.likely, self.standard_error, _drawn_df(self.df))


class Link(NamedTuple):
    """Numbers of inputs that are not drawn independently, and their correlation."""

    inputs: tuple[int, ...]
    correlation: Floats


@dataclass(frozen=True, slots=True)
class DrawPlan:
    """Every uncertain input in the order in which it is read, what every input is worth, and what has to be said."""

    inputs: tuple[Uncertain, ...]
    links: tuple[Link, ...]
    values: Mapping[Keys, float]
    notes: tuple[str, ...]

    def draw(self, shares: Floats) -> dict[Keys, Floats]:
        """The values of every uncertain input at shares drawn independently, one row for each input."""
        for link in self.links:
            shares = shares.copy()
            shares[list(link.inputs)] = sampling.linked_shares(shares[list(link.inputs)], link.correlation)
        return {each.keys: each.value(share) for each, share in zip(self.inputs, shares, strict=True)}

    @property
    def rough(self) -> tuple[Uncertain, ...]:
        """Harvest weights of which the spread is not known."""
        return tuple(each for each in self.inputs if each.kind == ROUGH_MEAN)


def plan_draws(scenario: Scenario) -> DrawPlan:
    """Find every input that the answer rests on and that is not known exactly.

    Raises :class:`mediacost.errors.InputFaults` where the comparison itself would.
    """
    ranges = _RangesAsked()
    evaluate(scenario, ranges)
    found: list[Uncertain] = []
    for keys in ranges.asked:
        if keys in ranges.ranges:
            found.append(_of_range(scenario, keys, ranges.ranges[keys]))
        elif keys[0] == "pairs" and keys[-1] == "mean_g":
            found.append(_of_typed_mean(scenario, keys))
        elif keys[0] == MEASURED:
            found.append(_of_trials(scenario, keys))
    inputs = tuple(each for each in found if each.low < each.high)
    flat = [each for each in found if each.low >= each.high]
    return DrawPlan(
        inputs, tuple(_links(scenario, inputs)), dict(ranges.asked), tuple(_notes(inputs, flat, bool(ranges.ranges)))
    )


class _RangesAsked(DrawReading):
    """Remembers which of the inputs asked for are ranges."""

    def __init__(self) -> None:
        super().__init__()
        self.ranges: dict[Keys, Range] = {}

    def number(self, keys: Keys, value: float | Range) -> Number:
        if isinstance(value, Range):
            self.ranges[keys] = value
        return super().number(keys, value)


def _of_range(scenario: Scenario, keys: Keys, value: Range) -> Uncertain:
    name = input_name(scenario, keys)
    ends = (float(value.low), float(value.likely), float(value.high))
    return Uncertain(keys, name.path, name.label, name.unit, RANGE, *ends, name.whole)


def _of_typed_mean(scenario: Scenario, keys: Keys) -> Uncertain:
    place = keys[1]
    assert isinstance(place, int)
    pair: Pair = scenario.pairs[place]
    trays = pair.trays or 1
    df = 0 if pair.sd_g is None else trays - 1
    return _of_mean(scenario, keys, likely(pair.mean_g or 0.0), pair.sd_g, 1 / trays, df, trays)


def _of_trials(scenario: Scenario, keys: Keys) -> Uncertain:
    """The mean that used trials give: with blocks, the fit's own spread and degrees of freedom."""
    _, medium, crop = keys
    found = weighed(scenario, used_trials(scenario, str(crop)))
    at = found.media.index(str(medium))
    grams = found.of_medium(at)
    if len(found.cells) == 1:
        sd = float(grams.std(ddof=1)) if len(grams) > 1 else None
        mean, weight, df = float(grams.mean()), 1 / len(grams), len(grams) - 1
    else:
        fit = found.fit()
        sd = math.sqrt(fit.mean_square) if fit.residual_df > 0 else None
        mean, weight, df = float(fit.means[at]), float(fit.shape[at, at]), fit.residual_df
    return _of_mean(scenario, keys, mean, sd, weight, df, len(grams))


def _links(scenario: Scenario, inputs: tuple[Uncertain, ...]) -> Iterator[Link]:
    """Means from the same trials hang together where a block lacks a medium; in complete blocks they do not."""
    for crop in scenario.crops:
        measured = {
            str(each.keys[1]): at
            for at, each in enumerate(inputs)
            if each.keys[0] == MEASURED and each.keys[2] == crop.id
        }
        if len(measured) < 2:
            continue
        found = weighed(scenario, used_trials(scenario, crop.id))
        if len(found.cells) == 1:
            continue
        rows = [found.media.index(medium) for medium in measured]
        shape = found.fit().shape[np.ix_(rows, rows)]
        correlation = shape / np.sqrt(np.outer(shape.diagonal(), shape.diagonal()))
        if np.abs(correlation - np.eye(len(rows))).max() > numeric.DUST:
            yield Link(tuple(measured.values()), correlation)


def _of_mean(
    scenario: Scenario, keys: Keys, mean: float, sd: float | None, weight: float, df: float, trays: int
) -> Uncertain:
    name = input_name(scenario, keys)
    error = sampling.standard_error(mean, sd, weight, df)
    if error < numeric.DUST * mean:
        error = 0.0  # trays that all weigh the same, but for the dust of a fit
    kind = ROUGH_MEAN if df < sampling.FEWEST_DF else MEAN
    ends = [float(sampling.student_mean(share, mean, error, _drawn_df(df))) for share in (TAIL, 1 - TAIL)]
    return Uncertain(
        keys, name.path, name.label, name.unit, kind, ends[0], mean, ends[1], False, error, float(df), trays
    )


def _drawn_df(df: float | None) -> float:
    """Degrees of freedom to draw with; too few draw normally."""
    return math.inf if df is None or df < sampling.FEWEST_DF else df


def _notes(inputs: tuple[Uncertain, ...], flat: list[Uncertain], any_range: bool) -> Iterator[str]:
    if not inputs:
        yield (
            "Nothing was drawn: no input is given as a range and no harvest weight has a spread, so there is nothing "
            "to be unsure about. That itself is doubtful: nobody knows minutes, lives and harvests to the last digit."
        )
    elif not any_range:
        yield (
            "No input is given as a range: prices, minutes and lives are taken as if known for sure, which is "
            "doubtful. Only the harvest weights were drawn."
        )
    for each in flat:
        what = "the range has no width" if each.kind == RANGE else "there is no spread between the trays"
        yield f"{each.label}: {what}, so it counts as known for sure."
    rough = [each for each in inputs if each.kind == ROUGH_MEAN]
    if rough:
        percent = f"{100 * sampling.USUAL_SPREAD:g} %"
        yield (
            f"Too few trays to know their spread: {'; '.join(each.label for each in rough)}. Drawn with at least "
            f"{percent} between trays (common practice, no source), not as if certain; no verdict is called clear."
        )
