"""What trials show, as frozen records. Grams of harvest per tray unless said otherwise; None where there is no figure,
with the reason in words beside it."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from mediacost.formulas.trial_variance import FTest
from mediacost.results.trial_trays import LeftOut


class Outcome(StrEnum):
    """What can be said of two media."""

    BETTER = "better"
    WORSE = "worse"
    SAME = "same for practical purposes"
    CANNOT_TELL = "cannot tell yet"


@dataclass(frozen=True, slots=True)
class Interval:
    """Where a true value may lie, at 95 % confidence."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome, in words, and about how many more trays of each medium would tell: that many complete blocks."""

    outcome: Outcome
    words: str
    more_trays_per_medium: int | None


@dataclass(frozen=True, slots=True)
class PairResult:
    """A medium less another: difference, interval that holds together with all others of its kind, chance, verdict.

    ``smallest_seen_g`` is the smallest true difference that this trial sees four times in five.
    """

    medium: str
    other: str
    difference_g: float
    difference_pct: float | None
    interval_g: Interval
    p: float
    smallest_seen_g: float
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class MoneyResult:
    """A medium less the baseline in margin per tray: the harvest's doubt carried into money, costs as they stand."""

    medium: str
    margin_difference_per_tray: float
    interval: Interval


@dataclass(frozen=True, slots=True)
class CycleSlope:
    """How the weight changes with each cycle that a sheet has served, in grams per cycle."""

    medium: str
    trays: int
    lowest_cycle: int
    highest_cycle: int
    grams_per_cycle: float
    interval: Interval
    words: str


@dataclass(frozen=True, slots=True)
class FailedTrays:
    """Failed trays of a medium beside the share that the document uses; the interval is that of the share."""

    medium: str
    failed: int
    trays: int
    interval: Interval
    failed_share: float
    fits: bool
    words: str


@dataclass(frozen=True, slots=True)
class MediumResult:
    """One medium in a trial. ``adjusted_mean_g`` allows for the blocks; without blocks it is the mean.

    ``interval_g`` is that of the adjusted mean by itself; ``harvest_per_seed`` is grams of greens for a gram of seed.
    """

    id: str
    name: str
    trays: int
    mean_g: float
    sd_g: float | None
    cv_pct: float | None
    adjusted_mean_g: float | None
    interval_g: Interval | None
    harvest_per_seed: float | None
    harvest_kg_per_m2: float | None


@dataclass(frozen=True, slots=True)
class Suspect:
    """A slip that the record may hold: trays by trial and label, and what to look for."""

    kind: str
    trays: tuple[tuple[str, str], ...]
    words: str


@dataclass(frozen=True, slots=True)
class Analysis:
    """What one trial shows, or several of one crop pooled.

    ``why_not_usable`` is empty where the trial can be judged; else everything that needs a spread is empty.
    ``method`` names the overall test, ``pairs_method`` and ``baseline_method`` the intervals. ``blocks`` counts the
    cells: blocks of each trial.
    """

    crop: str
    trials: tuple[str, ...]
    media: tuple[MediumResult, ...]
    left_out: tuple[LeftOut, ...]
    trays: int
    blocks: int
    why_not_usable: str
    practical_band_pct: float | None
    method: str
    overall: FTest | None
    blocks_test: FTest | None
    residual_sd_g: float | None
    residual_cv_pct: float | None
    residual_df: int
    pairs_method: str
    pairs: tuple[PairResult, ...]
    baseline_method: str
    against_baseline: tuple[PairResult, ...]
    money: tuple[MoneyResult, ...]
    cycles: tuple[CycleSlope, ...]
    failed: tuple[FailedTrays, ...]
    suspects: tuple[Suspect, ...]
    assumptions: tuple[str, ...]
    warnings: tuple[str, ...]
    reasons: Mapping[str, str]

    @property
    def usable(self) -> bool:
        """Whether anything can be judged."""
        return not self.why_not_usable

    @property
    def blocked(self) -> bool:
        """Whether blocks, or several trials, are allowed for."""
        return self.blocks > 1


@dataclass(frozen=True, slots=True)
class TrialReport:
    """One trial by itself."""

    id: str
    used: bool
    sown: datetime.date | None
    harvested: datetime.date | None
    note: str
    analysis: Analysis


@dataclass(frozen=True, slots=True)
class CropTrials:
    """All trials of a crop; ``pooled`` is there where several are used. ``harvest_g`` is what the comparison uses."""

    crop: str
    name: str
    harvest_g: Mapping[str, float]
    trials: tuple[TrialReport, ...]
    pooled: Analysis | None


@dataclass(frozen=True, slots=True)
class TrialsAnswer:
    """What the trials of a document show, crop by crop; one crop's result is never carried to another."""

    title: str
    currency: str
    baseline: str
    crops: tuple[CropTrials, ...]
