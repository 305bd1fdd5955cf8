"""The harvest weight of a medium on a crop: measured by trials where one covers it, else as typed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from mediacost.errors import InputFaults
from mediacost.formulas.numeric import Number
from mediacost.results import words
from mediacost.results.reading import Reading
from mediacost.scenario import Pair, Scenario, Trial, TrialTray

Kept = Sequence[tuple[Trial, TrialTray]]


def kept_trays(scenario: Scenario, medium: str, crop: str) -> Iterator[tuple[Trial, TrialTray]]:
    """Trays of used trials that say something of the medium's harvest on the crop.

    Guard trays, discards and failed trays are left out: a guard is not measured, a discard says nothing of the
    medium, and a failed tray belongs in the failed share.
    """
    for trial in scenario.trials:
        if trial.use and trial.crop == crop:
            for tray in trial.trays:
                if tray.medium == medium and tray.is_measured:
                    yield trial, tray


def harvest_weight(
    scenario: Scenario, medium: str, crop: str, reading: Reading, typed: tuple[int, Pair | None]
) -> Number:
    """Harvest weight of a tray that did not fail, in grams: what the used trials say, else the pair's.

    From one trial without blocks that is the mean of the trays kept; with blocks or several trials it is the
    adjusted mean. The document's checks have made sure that there is a trial or a typed weight. Raises
    :class:`mediacost.errors.InputFaults` where media were never tried together, even through others.
    """
    kept = list(kept_trays(scenario, medium, crop))
    if kept:
        grams, how = _measured(scenario, medium, crop, kept)
        return reading.counted("measured_g", grams, lambda: [how()], medium, crop)
    place, pair = typed
    assert pair is not None and pair.mean_g is not None
    return reading.number(("pairs", place, "mean_g"), pair.mean_g)


def measured_words(scenario: Scenario) -> dict[tuple[str, str], str]:
    """For each medium and crop that trials have measured: the weight and the trays behind it, in words.

    A crop whose media were never tried together has no such weights; where it matters, :func:`harvest_weight` says so.
    """
    found = {}
    for crop in scenario.crops:
        for medium in scenario.media:
            kept = list(kept_trays(scenario, medium.id, crop.id))
            if not kept:
                continue
            try:
                grams, how = _measured(scenario, medium.id, crop.id, kept)
            except InputFaults:
                break
            found[medium.id, crop.id] = f"{words.number(grams)} g, {how()}"
    return found


def _measured(scenario: Scenario, medium: str, crop: str, kept: Kept) -> tuple[float, Callable[[], str]]:
    """The weight in grams, and a way to say what it rests on."""
    grams = [(tray.harvest_g or 0.0) - tray.tare_g for _, tray in kept]
    blocks = _cells(scenario, crop)
    if blocks == 1:
        return sum(grams) / len(grams), lambda: f"mean of {_listed(grams)}"
    from mediacost.results.trial_trays import adjusted_means

    adjusted = adjusted_means(scenario, crop)[medium]
    return adjusted, lambda: f"adjusted mean over {blocks} blocks, each weighted equally, of {_listed(grams)}"


def _listed(grams: Sequence[float]) -> str:
    weights = ", ".join(f"{words.number(each)} g" for each in grams)
    return f"{words.counted(len(grams), 'weighed tray')}: {weights}"


def _cells(scenario: Scenario, crop: str) -> int:
    """How many blocks of used trials hold a tray that counts; a trial without blocks is one."""
    return len(
        {
            (trial.id, tray.block)
            for trial in scenario.trials
            if trial.use and trial.crop == crop
            for tray in trial.trays
            if tray.is_measured
        }
    )
