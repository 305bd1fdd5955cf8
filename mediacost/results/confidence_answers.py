"""How sure the answer is, as frozen records: what the command line prints and the page shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from mediacost.results.answers import Answer
from mediacost.results.draws import Uncertain


@dataclass(frozen=True, slots=True)
class Spread:
    """Values that 5, 50 and 95 % of the draws do not exceed."""

    p5: Answer
    p50: Answer
    p95: Answer


@dataclass(frozen=True, slots=True)
class MediumConfidence:
    """One medium over all draws.

    ``chance_best_on`` is by measure, the ranked media sharing 1; ``chance_pays`` within the horizon, for good, on the
    lead way of counting. ``difference`` is the measure less that of the baseline, ``saving_per_year`` the money that
    it makes in a year, ``chance_beats_baseline`` how often it is better on the measure. ``ranked`` is False where a
    condition is not met.
    """

    id: str
    name: str
    ranked: bool
    cost_per_kg: Spread
    cost_per_kg_same_harvest: Spread
    margin_per_tray: Spread
    margin_per_shelf_day: Spread
    return_to_labour_per_hour: Spread
    payback_months: Spread
    npv: Spread
    chance_best: float
    chance_best_on: Mapping[str, float]
    chance_pays: Answer
    chance_beats_baseline: Answer
    difference: Spread
    saving_per_year: Spread


@dataclass(frozen=True, slots=True)
class Tie:
    """Where medium and baseline tie: at ``value``, or at a step between two neighbouring values."""

    value: float | None
    below: float
    above: float

    @property
    def step(self) -> bool:
        """Whether the answer jumps over the tie."""
        return self.value is None

    @property
    def middle(self) -> float:
        """The tie, or the middle of the step."""
        return (self.below + self.above) / 2 if self.value is None else self.value


@dataclass(frozen=True, slots=True)
class InputTies:
    """All ties of one input for one medium, by way of counting; ``always`` names the ways on which it never differs."""

    path: str
    label: str
    unit: str
    likely: float
    whole: bool
    ways: Mapping[str, tuple[Tie, ...]]
    always: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HarvestToLose:
    """Harvest weight that a medium may lose and still tie with the baseline, averaged over the crops; None: never.

    Negative where it would have to gain as much. With several crops all lose the same share.
    """

    grams: float | None
    percent: float | None


@dataclass(frozen=True, slots=True)
class MediumTies:
    """Everything that ties one medium with the baseline."""

    medium: str
    inputs: tuple[InputTies, ...]
    harvest_to_lose: HarvestToLose


@dataclass(frozen=True, slots=True)
class Swing:
    """What one input does to a medium's difference to the baseline, all others at their likely values.

    ``at_low`` and ``at_high`` are the measure less that of the baseline; ``flips`` are the ties of that measure.
    """

    path: str
    label: str
    unit: str
    low: float
    likely: float
    high: float
    at_low: float
    at_high: float
    flips: tuple[Tie, ...]

    @property
    def length(self) -> float:
        """How far the difference swings."""
        return abs(self.at_high - self.at_low)

    @property
    def flips_inside(self) -> tuple[Tie, ...]:
        """Those of the ties that lie between low and high."""
        return tuple(tie for tie in self.flips if self.low <= tie.middle <= self.high)


@dataclass(frozen=True, slots=True)
class Knowing:
    """What it would be worth to know one input for sure, or several that are found out in one go, in money a year.

    ``how`` is a way to find out; ``cost`` a rule of thumb: hours of the work at the labour rate.
    """

    paths: tuple[str, ...]
    label: str
    per_year: float
    how: str
    cost: float

    @property
    def gain(self) -> float:
        """What finding out leaves in its first year."""
        return self.per_year - self.cost


@dataclass(frozen=True, slots=True)
class ValueOfKnowing:
    """What it would be worth to know everything for sure, each input by itself, and those found out in one go.

    Dearest first.
    """

    per_year: float
    inputs: tuple[Knowing, ...]
    together: tuple[Knowing, ...]


@dataclass(frozen=True, slots=True)
class Sureness:
    """The verdict: 'clear', 'probable' or 'cannot tell yet', for the medium that most draws find best.

    ``why`` says what keeps a higher chance from a better word; ``settle`` is the input that is worth finding out
    first, None where finding out costs more than it is worth. ``words`` are the paragraphs to be read.
    """

    word: str
    medium: str | None
    chance: float
    why: str
    settle: Knowing | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Confidence:
    """How sure the answer is. Money in the scenario's currency; ``best`` is that of the single answer."""

    title: str
    currency: str
    baseline: str
    limit: str
    basis: str
    measure: str
    best: str | None
    draws: int
    seed: int
    horizon_months: int
    inputs: tuple[Uncertain, ...]
    notes: tuple[str, ...]
    media: tuple[MediumConfidence, ...]
    swings: Mapping[str, tuple[Swing, ...]]
    value: ValueOfKnowing
    ties: tuple[MediumTies, ...]
    sureness: Sureness

    def medium(self, id: str) -> MediumConfidence:
        """How sure one medium's figures are; raises KeyError for an id that is not there."""
        for each in self.media:
            if each.id == id:
                return each
        raise KeyError(id)

    @property
    def rival(self) -> MediumConfidence | None:
        """The medium to set against today's: the one that leads, or the next where today's leads."""
        open_to = [each for each in self.media if each.ranked and each.id != self.baseline]
        return max(open_to, key=lambda each: each.chance_best, default=None)
