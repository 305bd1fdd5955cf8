"""How a grower can find inputs out, and about what that costs: rules of thumb, common practice, no source."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from mediacost.results.draws import Uncertain
from mediacost.results.input_names import MEASURED
from mediacost.results.reading import Keys
from mediacost.scenario import Scenario

TRIAL_TRAYS = 8
"""Trays of each medium in the trial that is costed here."""

MINUTES_A_TRAY = 10
"""To lay, mark, weigh and write down one tray of a trial, beyond growing it."""


class WayToKnow(NamedTuple):
    """Numbers of the inputs that it finds out, what they are, what to do, and the hours of work that it takes."""

    inputs: tuple[int, ...]
    label: str
    what: str
    hours: float


_CLOCK = ("a stopwatch over a whole batch, on two days", 1.0)
_PRICE = ("a written quotation, or last year's bills", 1.0)
_TALLY = ("a tally of what is lost, over three months", 3.0)
_MEASURE = ("measuring it once, with scale, jug or thermometer", 0.5)

_BY_NAME = {
    "life_cycles": ("ten marked sheets and a tally of their cycles until they are worn", 3.0),
    "loss_per_cycle": _TALLY,
    "loss_share": _TALLY,
    "failed_share": _TALLY,
    "labour_rate": _PRICE,
    "scrap_value_per_kg": _PRICE,
    "discount_rate": _PRICE,
}


def ways_one_by_one(inputs: Sequence[Uncertain]) -> list[WayToKnow]:
    """How each input can be found out by itself."""
    return [WayToKnow((at,), each.label, *_what(each)) for at, each in enumerate(inputs)]


def ways_together(scenario: Scenario, inputs: Sequence[Uncertain]) -> list[WayToKnow]:
    """What can be found out in one go: all harvest weights of a crop, all minutes of a wash routine."""
    return [*_trials(scenario, inputs), *_timings(scenario, inputs)]


def _trials(scenario: Scenario, inputs: Sequence[Uncertain]) -> Iterator[WayToKnow]:
    for crop in scenario.crops:
        places = tuple(at for at, each in enumerate(inputs) if harvest_of(scenario, each.keys) == crop.id)
        if len(places) > 1:
            yield WayToKnow(places, f"{crop.name}: harvest weight on every medium", *_trial(len(places)))


def _timings(scenario: Scenario, inputs: Sequence[Uncertain]) -> Iterator[WayToKnow]:
    for number, wash in enumerate(scenario.washes):
        places = tuple(
            at
            for at, each in enumerate(inputs)
            if each.keys[:2] == ("washes", number) and "minutes" in str(each.keys[-1])
        )
        if len(places) > 1:
            what = "a stopwatch over every step of a whole batch, on two days"
            yield WayToKnow(places, f"{wash.name}: labour of every step", what, 2.0)


def harvest_of(scenario: Scenario, keys: Keys) -> str | None:
    """The crop whose harvest weight an input is, if it is one."""
    if keys[0] == MEASURED:
        return str(keys[2])
    if keys[0] == "pairs" and keys[-1] == "mean_g":
        assert isinstance(keys[1], int)
        return scenario.pairs[keys[1]].crop
    return None


def _trial(media: int) -> tuple[str, float]:
    what = f"a side-by-side trial with {TRIAL_TRAYS} trays of each of {media} media, every tray weighed"
    return what, media * TRIAL_TRAYS * MINUTES_A_TRAY / 60


def _what(each: Uncertain) -> tuple[str, float]:
    """What to do, and the hours."""
    name = str(each.keys[-1])
    if each.keys[0] == MEASURED or name == "mean_g":
        return _trial(2)
    if name in _BY_NAME:
        return _BY_NAME[name]
    if "minutes" in name:
        return _CLOCK
    if "price" in name or "fee" in name or "cost" in name or name == "delivery_per_pack":
        return _PRICE
    return _MEASURE
