"""What must fit together in a scenario, beyond each field by itself: every rule whose breach is a fault."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from mediacost.scenario.partial import Unreadable
from mediacost.scenario.paths_in_words import name_in_words
from mediacost.scenario.records import REUSABLE_ONLY, Crop, Medium, Pair, Scenario, Trial, TrialTray, WashStep
from mediacost.scenario.rules import Finding, Keys, Rules, is_given, known_names, refers_to, run_rules
from mediacost.scenario.values import Range, high_of, low_of, plain

DUST = 1e-9
"""Float dust that a quotient may miss a whole number by."""


def cross_check(scenario: Scenario) -> list[Finding]:
    """Return every fault between fields and tables."""
    return run_rules(scenario, _FAULT_RULES)


# The whole document -------------------------------------------------------------------------------


def _two_media(scenario: Scenario) -> Iterator[Finding]:
    if len(scenario.media) < 2:
        count = {0: "no medium", 1: "only one medium"}[len(scenario.media)]
        yield Finding(("media",), f"has {count}", "two or more, to compare them")


def _something_sown(scenario: Scenario) -> Iterator[Finding]:
    if not scenario.crops:
        yield Finding(("crops",), "has no crop", "one or more")
    elif not any(sum(crop.sowing.values()) for crop in scenario.crops):
        yield Finding(("crops",), "has not one tray sown", "at least one tray on one weekday of one crop")


def _duplicates(list_name: str, key: str = "id") -> Callable[[Scenario], Iterator[Finding]]:
    def rule(scenario: Scenario) -> Iterator[Finding]:
        yield from _twice((list_name,), getattr(scenario, list_name), key)

    return rule


def _twice(keys: Keys, items: Sequence[Any], key: str) -> Iterator[Finding]:
    first: dict[str, int] = {}
    for place, name in known_names(items, key):
        if name in first:
            listed = f"{keys[-1]}[{first[name] + 1}]"
            yield Finding((*keys, place, key), f"{name_in_words(name)} is taken by {listed}", "a name of its own")
        first.setdefault(name, place)


def _baseline_exists(scenario: Scenario) -> Iterator[Finding]:
    if scenario.baseline is not None:
        yield from refers_to(("baseline",), scenario.baseline, scenario.media, "medium")


# Crops, media, washing ----------------------------------------------------------------------------


def _blackout_fits(scenario: Scenario, place: int, crop: Crop) -> Iterator[Finding]:
    if crop.blackout_days > crop.days_in_tray:
        yield Finding(
            ("crops", place, "blackout_days"),
            f"{crop.blackout_days} is more than the days in the tray",
            f"at most days_in_tray, {crop.days_in_tray}",
        )


def _single_use_keys(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if medium.use == "single-use":
        for name in REUSABLE_ONLY:
            if name in medium.model_fields_set and is_given(medium, name):
                yield Finding(
                    ("media", place, name), "belongs to reusable media", 'no such key with use = "single-use"'
                )


def _reusable_life(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if medium.use == "reusable" and medium.life_cycles is None:
        yield Finding(
            ("media", place, "life_cycles"),
            "is missing",
            "how many cycles a reusable sheet serves, 1 or more",
        )


def _reusable_wash(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if medium.use == "reusable" and medium.wash is None:
        yield Finding(("media", place, "wash"), "is missing", "the id of the wash routine of a reusable medium")


def _wash_exists(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if medium.wash is not None and medium.use == "reusable":
        yield from refers_to(("media", place, "wash"), medium.wash, scenario.washes, "wash routine")


def _pieces_given_once(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    counted, cut = is_given(medium, "pieces_per_pack"), is_given(medium, "cut_from")
    if counted and cut:
        yield Finding(("media", place, "cut_from"), "is given beside pieces_per_pack", "only one of the two")
    if not counted and not cut:
        yield Finding(
            ("media", place, "pieces_per_pack"),
            "is missing",
            "pieces_per_pack, or cut_from for a roll or large sheet",
        )


def _a_piece_results(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if medium.cut_from is None:
        return
    roll, tray = medium.cut_from, scenario.tray
    pieces = _pieces(low_of(roll.length_mm), low_of(roll.width_mm), high_of(tray.length_mm), high_of(tray.width_mm))
    if pieces < 1:
        worst = any(isinstance(x, Range) for x in (roll.length_mm, roll.width_mm, tray.length_mm, tray.width_mm))
        size = f"{plain(high_of(tray.length_mm))} x {plain(high_of(tray.width_mm))} mm"
        yield Finding(
            ("media", place, "cut_from"),
            "gives no whole piece" + (" at the unlucky end of the ranges" if worst else ""),
            f"a roll or sheet that holds a tray of {size}",
        )


def _pieces(length: float, width: float, a: float, b: float) -> int:
    """Count pieces of a x b on the better of the two plain grids, only to see that there is one."""

    def grid(across: float, along: float) -> int:
        return math.floor(length / across + DUST) * math.floor(width / along + DUST)

    return max(grid(a, b), grid(b, a))


def _scrap_value(scenario: Scenario, place: int, medium: Medium) -> Iterator[Finding]:
    if "scrap_value_per_kg" in medium.model_fields_set and medium.end_of_life != "scrap":
        yield Finding(
            ("media", place, "scrap_value_per_kg"),
            f'does not go with end_of_life = "{medium.end_of_life}"',
            'end_of_life = "scrap", or no scrap value',
        )


_PER_BATCH = ("minutes_per_batch", "litres_per_batch", "cost_per_batch")


def _batch_size(scenario: Scenario, place: int, number: int, step: WashStep) -> Iterator[Finding]:
    if step.sheets_per_batch is None:
        used = [name for name in _PER_BATCH if name in step.model_fields_set]
        if used:
            yield Finding(
                ("washes", place, "steps", number, "sheets_per_batch"),
                f"is missing beside {', '.join(used)}",
                "how many sheets a batch serves",
            )


def _sanitiser_is_diluted(scenario: Scenario, place: int, number: int, step: WashStep) -> Iterator[Finding]:
    if step.sanitiser is None:
        return
    target, stock = step.sanitiser.target_ppm, step.sanitiser.stock_ppm
    if high_of(target) >= low_of(stock):
        yield Finding(
            ("washes", place, "steps", number, "sanitiser", "target_ppm"),
            f"{plain(high_of(target))} is not below the product's own strength, {plain(low_of(stock))}",
            "target_ppm below stock_ppm, both in milligrams per litre",
        )


# Pairs and yields ---------------------------------------------------------------------------------


def _pair_medium(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    yield from refers_to(("pairs", place, "medium"), pair.medium, scenario.media, "medium")


def _pair_crop(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    yield from refers_to(("pairs", place, "crop"), pair.crop, scenario.crops, "crop")


def _pair_once(scenario: Scenario) -> Iterator[Finding]:
    first: dict[tuple[str, str], int] = {}
    for place, pair in enumerate(scenario.pairs):
        try:
            name = (pair.medium, pair.crop)
        except Unreadable:
            continue
        if name in first:
            words = ", ".join(name_in_words(part) for part in name)
            yield Finding(("pairs", place), f"{words} stands in pairs[{first[name] + 1}] already", "each pair once")
        first.setdefault(name, place)


def _pair_blackout(scenario: Scenario, place: int, pair: Pair) -> Iterator[Finding]:
    if pair.days_in_tray is None:
        return
    for crop in scenario.crops:
        if crop.id == pair.crop and crop.blackout_days > pair.days_in_tray:
            yield Finding(
                ("pairs", place, "days_in_tray"),
                f"{pair.days_in_tray} is less than the crop's blackout",
                f"at least blackout_days, {crop.blackout_days}",
            )


def _yield_known(scenario: Scenario, medium: Medium, crop: Crop) -> Iterator[Finding]:
    """A crop that is sown needs a harvest weight on every medium."""
    if not sum(crop.sowing.values()):
        return
    place = None
    for number, pair in enumerate(scenario.pairs):
        if (pair.medium, pair.crop) == (medium.id, crop.id):
            if is_given(pair, "mean_g"):
                return
            place = number
    if not _is_tried(scenario, medium, crop):
        keys: Keys = ("pairs",) if place is None else ("pairs", place, "mean_g")
        yield Finding(
            keys,
            "is missing",
            "the harvest weight in grams, or a used trial with a weighed tray of this medium on this crop",
            f"pairs[{name_in_words(medium.id)}, {name_in_words(crop.id)}].mean_g",
        )


def _is_tried(scenario: Scenario, medium: Medium, crop: Crop) -> bool:
    return any(
        tray.medium == medium.id and tray.is_measured
        for trial in scenario.trials
        if trial.use and trial.crop == crop.id
        for tray in trial.trays
    )


# Trials -------------------------------------------------------------------------------------------


def _trial_crop(scenario: Scenario, place: int, trial: Trial) -> Iterator[Finding]:
    yield from refers_to(("trials", place, "crop"), trial.crop, scenario.crops, "crop")


def _trial_trays_once(scenario: Scenario, place: int, trial: Trial) -> Iterator[Finding]:
    yield from _twice(("trials", place, "trays"), trial.trays, "tray")


def _trial_check_trays(scenario: Scenario, place: int, trial: Trial) -> Iterator[Finding]:
    known = [name for _, name in known_names(trial.trays, "tray")]
    if len(known) < len(trial.trays):
        return
    for number, name in known_names(trial.checks, "tray"):
        if name not in known:
            yield Finding(
                ("trials", place, "checks", number, "tray"),
                f"there is no tray {name_in_words(name)} in this trial",
                "the label of one of its trays",
            )


def _trial_tray_medium(scenario: Scenario, place: int, number: int, tray: TrialTray) -> Iterator[Finding]:
    yield from refers_to(("trials", place, "trays", number, "medium"), tray.medium, scenario.media, "medium")


def _discard_reason(scenario: Scenario, place: int, number: int, tray: TrialTray) -> Iterator[Finding]:
    if tray.discard and not tray.note.strip():
        yield Finding(("trials", place, "trays", number, "note"), "is missing", "the reason for the discard")


def _tare_is_lighter(scenario: Scenario, place: int, number: int, tray: TrialTray) -> Iterator[Finding]:
    if tray.harvest_g is not None and tray.harvest_g < tray.tare_g:
        yield Finding(
            ("trials", place, "trays", number, "harvest_g"),
            f"{plain(tray.harvest_g)} is less than the tare of {plain(tray.tare_g)}",
            "the weight with its container, or no tare",
        )


_FAULT_RULES: Rules = (
    ("scenario", _two_media),
    ("scenario", _something_sown),
    ("scenario", _duplicates("crops")),
    ("scenario", _duplicates("media")),
    ("scenario", _duplicates("washes")),
    ("scenario", _duplicates("trials")),
    ("scenario", _baseline_exists),
    ("scenario", _pair_once),
    ("crop", _blackout_fits),
    ("medium", _single_use_keys),
    ("medium", _reusable_life),
    ("medium", _reusable_wash),
    ("medium", _wash_exists),
    ("medium", _pieces_given_once),
    ("medium", _a_piece_results),
    ("medium", _scrap_value),
    ("step", _batch_size),
    ("step", _sanitiser_is_diluted),
    ("pair", _pair_medium),
    ("pair", _pair_crop),
    ("pair", _pair_blackout),
    ("medium and crop", _yield_known),
    ("trial", _trial_crop),
    ("trial", _trial_trays_once),
    ("trial", _trial_check_trays),
    ("trial tray", _trial_tray_medium),
    ("trial tray", _discard_reason),
    ("trial tray", _tare_is_lighter),
)
