"""What is legal in a scenario but looks wrong: every rule whose breach is a warning."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from mediacost.scenario.paths_in_words import name_in_words
from mediacost.scenario.records import Pair, Scenario, Trial, TrialTray, Wash, WashStep
from mediacost.scenario.rules import Finding, Keys, Rules, run_rules
from mediacost.scenario.values import Range, high_of, likely, low_of, plain

HEAVIEST_G = 4000.0
"""A tray's harvest above this looks like a slip of the pen (common practice, no source)."""

FEWEST_TIMES_SEED = 3.0
"""A harvest below the seed's weight divided by this looks like kilograms (common practice, no source)."""

SLIP = 50.0
"""A weight so many times below every other medium's on the crop looks like another unit."""


def cross_warnings(scenario: Scenario) -> list[Finding]:
    """Return what is legal but looks wrong."""
    return run_rules(scenario, _WARNING_RULES)


def _no_steps(scenario: Scenario, place: int, wash: Wash) -> Iterator[Finding]:
    if not wash.steps:
        yield Finding(("washes", place, "steps"), "is empty, so washing costs nothing", "the steps and their minutes")


def _dry_sanitiser(scenario: Scenario, place: int, number: int, step: WashStep) -> Iterator[Finding]:
    litres = (step.litres_per_sheet, step.litres_per_batch, step.litres_per_wash_day)
    if step.sanitiser is not None and not any(high_of(amount) for amount in litres):
        yield Finding(
            ("washes", place, "steps", number, "sanitiser"),
            "costs nothing, because this step uses no water",
            "litres per sheet, batch or wash day",
        )


def _range_and_spread(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    if isinstance(pair.mean_g, Range) and pair.sd_g is not None:
        yield Finding(("pairs", place, "sd_g"), "stands beside a mean that is a range", "one of the two")


def _heavy_pair(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    if pair.mean_g is not None and high_of(pair.mean_g) > HEAVIEST_G:
        yield _too_heavy(("pairs", place, "mean_g"), high_of(pair.mean_g))


def _light_pair(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    """Kilograms typed for grams: a harvest far below the seed that was sown, or far below the other media's."""
    if pair.mean_g is None or likely(pair.mean_g) <= 0:
        return
    grams = likely(pair.mean_g)
    seed = next((crop.seed_g_per_tray for crop in scenario.crops if crop.id == pair.crop), 0.0)
    seed = likely(seed if pair.seed_g_per_tray is None else pair.seed_g_per_tray)
    others = [
        likely(other.mean_g)
        for other in scenario.pairs
        if other.crop == pair.crop
        and other.medium != pair.medium
        and other.mean_g is not None
        and high_of(other.mean_g) <= HEAVIEST_G
    ]
    if grams < seed / FEWEST_TIMES_SEED or (others and grams * SLIP < min(others)):
        yield Finding(
            ("pairs", place, "mean_g"),
            f"{plain(grams)} g from one tray looks too little",
            f"grams: {plain(round(1000 * grams, 6))} if kilograms were typed",
        )


def _heavy_tray(scenario: Scenario, place: int, number: int, tray: TrialTray) -> Iterator[Finding]:
    if tray.harvest_g is not None and tray.harvest_g - tray.tare_g > HEAVIEST_G:
        yield _too_heavy(("trials", place, "trays", number, "harvest_g"), tray.harvest_g - tray.tare_g)


def _too_heavy(keys: Keys, grams: float) -> Finding:
    return Finding(keys, f"{plain(grams)} g from one tray looks too much", "grams of greens, without the container")


def _trial_dates(scenario: Scenario, place: int, trial: Trial) -> Iterator[Finding]:
    if trial.sown is None or trial.harvested is None:
        return
    days = (trial.harvested - trial.sown).days
    if days < 1:
        yield Finding(("trials", place, "harvested"), "is not after the sow date", "a later date than sown")
        return
    possible = _as_for_crop_or_pairs(scenario, trial, "days_in_tray")
    if possible and days not in possible:
        listed = " or ".join(str(day) for day in sorted(possible))
        yield Finding(
            ("trials", place, "harvested"),
            f"makes {days} days in the tray",
            f"{listed}, as typed at the crop or the pair",
        )


def _trial_seed(scenario: Scenario, place: int, trial: Trial) -> Iterator[Finding]:
    if trial.seed_g is None:
        return
    possible = _as_for_crop_or_pairs(scenario, trial, "seed_g_per_tray")
    if possible and not any(0.95 * low_of(g) <= trial.seed_g <= 1.05 * high_of(g) for g in possible):
        listed = " or ".join(plain(likely(g)) for g in possible)
        yield Finding(
            ("trials", place, "seed_g"),
            f"{plain(trial.seed_g)} g of seed is not what the crop gets",
            f"about {listed} g, as typed at the crop or the pair",
        )


def _as_for_crop_or_pairs(scenario: Scenario, trial: Trial, name: str) -> list[Any]:
    """Return a field's values for the media of a trial: the crop's, and the pair's where it differs."""
    tried = {tray.medium for tray in trial.trays}
    found = [getattr(crop, name) for crop in scenario.crops if crop.id == trial.crop]
    for pair in scenario.pairs:
        if pair.crop == trial.crop and pair.medium in tried and getattr(pair, name) is not None:
            found.append(getattr(pair, name))
    return list(dict.fromkeys(found))


def _tried_together(scenario: Scenario) -> Iterator[Finding]:
    """Media that were weighed on the same crop but never side by side, not even through others."""
    for crop in scenario.crops:
        groups = _side_by_side(scenario, crop.id)
        if len(groups) > 1:
            names = " and ".join(", ".join(name_in_words(name) for name in group) for group in groups)
            yield Finding(
                ("trials",),
                f"{names} were never tried together on {name_in_words(crop.id)}",
                "a trial, or a block of one, that holds both",
            )


def _side_by_side(scenario: Scenario, crop_id: str) -> list[list[str]]:
    """Group the media weighed on a crop by whether blocks of trials link them."""
    groups: list[set[str]] = []
    for cell in _cells(scenario, crop_id):
        linked = [group for group in groups if group & cell]
        groups = [group for group in groups if not group & cell] + [cell.union(*linked)]
    order = [medium.id for medium in scenario.media]
    named = [sorted(group, key=lambda name: order.index(name) if name in order else -1) for group in groups]
    return sorted(named, key=lambda group: order.index(group[0]) if group[0] in order else -1)


def _cells(scenario: Scenario, crop_id: str) -> Iterator[set[str]]:
    for trial in scenario.trials:
        if trial.use and trial.crop == crop_id:
            kept = [tray for tray in trial.trays if tray.is_measured]
            for block in Counter(tray.block for tray in kept):
                yield {tray.medium for tray in kept if tray.block == block}


_WARNING_RULES: Rules = (
    ("wash", _no_steps),
    ("step", _dry_sanitiser),
    ("pair", _range_and_spread),
    ("pair", _heavy_pair),
    ("pair", _light_pair),
    ("trial tray", _heavy_tray),
    ("trial", _trial_dates),
    ("trial", _trial_seed),
    ("scenario", _tried_together),
)
