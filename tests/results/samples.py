"""Scenarios that the tests of the results share: the samples, and the odd ones made from them."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

from mediacost.results import Comparison, compare
from mediacost.scenario import Scenario, check, remove_value, set_value

SAMPLE_PATHS = sorted((Path(__file__).parents[2] / "sample_scenarios").glob("*.toml"))
_DATA = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in SAMPLE_PATHS}

Keys = tuple[str | int, ...]


def scenario(name: str = "small_room", *changes: tuple[Keys, Any], without: tuple[Keys, ...] = ()) -> Scenario:
    """A sample with some values set and some removed, checked."""
    data = copy.deepcopy(_DATA[name])
    for keys, value in changes:
        data = set_value(data, keys, value)
    for keys in without:
        data = remove_value(data, keys)
    checked = check(data)
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    return checked.scenario


def comparison(name: str = "small_room", *changes: tuple[Keys, Any], without: tuple[Keys, ...] = ()) -> Comparison:
    """The answer for a sample with some values set and some removed."""
    return compare(scenario(name, *changes, without=without))


def odd_scenarios() -> dict[str, Scenario]:
    """Scenarios in which answers are missing, one reason or more in each."""
    return {
        "nothing saleable on steel": scenario("small_room", (("pairs", 1, "mean_g"), 0)),
        "nothing saleable at all": scenario("small_room", *[(("pairs", at, "mean_g"), 0) for at in range(3)]),
        "no price for the crop": scenario("small_room", (("crops", 0, "sell_price_per_kg"), 0)),
        "labour for nothing": scenario("small_room", (("room", "labour_rate"), 0)),
        "no minutes": scenario("small_room", *_NO_MINUTES),
        "one month": scenario("small_room", (("room", "horizon_months"), 1)),
        "season with closed months": scenario("small_room", (("room", "season"), [0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1])),
        "one crop fails on steel": scenario("two_crop_room", (("pairs", 4, "mean_g"), 0)),
        "nothing but one crop": scenario("two_crop_room", (("crops", 1, "sowing"), {"mon": 0})),
        "sheets lost at every second use": scenario("small_room", (("media", 1, "loss_per_cycle"), 0.5)),
        "reusable today": scenario("owned_silicone"),
    }


_NO_MINUTES = [
    *[(("media", at, "prep_minutes_per_tray"), 0) for at in range(3)],
    (("crops", 0, "grow_minutes_per_tray"), 0),
    (("crops", 0, "pack_minutes_per_kg"), 0),
    (("washes", 0, "steps"), [{"name": "Hold under the tap", "litres_per_sheet": 2}]),
]
