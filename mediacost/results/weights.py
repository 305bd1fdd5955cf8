"""The harvest weight of a medium on a crop: measured by trials where one covers it, else as typed."""

from __future__ import annotations

from collections.abc import Iterator

from mediacost.formulas.numeric import Number
from mediacost.results import words
from mediacost.results.reading import Reading
from mediacost.scenario import Pair, Scenario, Trial, TrialTray


def kept_trays(scenario: Scenario, medium: str, crop: str) -> Iterator[tuple[Trial, TrialTray]]:
    """Trays of used trials that say something of the medium's harvest on the crop.

    Guard trays, discards and failed trays are left out: a guard is not measured, a discard says nothing of the
    medium, and a failed tray belongs in the failed share.
    """
    for trial in scenario.trials:
        if trial.use and trial.crop == crop:
            for tray in trial.trays:
                kept = not (tray.guard or tray.discard or tray.failed)
                if tray.medium == medium and kept and tray.harvest_g is not None:
                    yield trial, tray


def harvest_weight(
    scenario: Scenario, medium: str, crop: str, reading: Reading, typed: tuple[int, Pair | None]
) -> Number:
    """Harvest weight of a tray that did not fail, in grams: the mean of the trays kept, else the pair's.

    The document's checks have made sure that one of the two is there.
    """
    measured = _measured(scenario, medium, crop)
    if measured:
        return reading.counted("measured_g", _mean(measured), lambda: [_weighed_words(measured)], medium, crop)
    place, pair = typed
    assert pair is not None and pair.mean_g is not None
    return reading.number(("pairs", place, "mean_g"), pair.mean_g)


def measured_words(scenario: Scenario) -> dict[tuple[str, str], str]:
    """For each medium and crop that trials have measured: the weight and the trays behind it, in words."""
    found = {}
    for medium in scenario.media:
        for crop in scenario.crops:
            measured = _measured(scenario, medium.id, crop.id)
            if measured:
                found[medium.id, crop.id] = f"{words.number(_mean(measured))} g, {_weighed_words(measured)}"
    return found


def _measured(scenario: Scenario, medium: str, crop: str) -> list[float]:
    return [tray.harvest_g - tray.tare_g for _, tray in kept_trays(scenario, medium, crop)]


def _mean(measured: list[float]) -> float:
    return sum(measured) / len(measured)


def _weighed_words(measured: list[float]) -> str:
    trays = "tray" if len(measured) == 1 else "trays"
    return f"mean of {len(measured)} weighed {trays}: " + ", ".join(f"{words.number(grams)} g" for grams in measured)
