"""Whole numbers that change the week itself, such as trays sown or days in the tray: tried one by one.

They shape the calendar, so no array can stand in for them: each value is a document of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from mediacost.errors import InputFaults
from mediacost.results.evaluation import evaluate
from mediacost.results.input_names import InputName, input_name
from mediacost.results.outcomes import Floats
from mediacost.results.reading import Keys
from mediacost.results.scan import WAYS, leads, sign_of
from mediacost.scenario import Scenario, describe_path

NEAR = 3
"""So many values on either side of the one that is typed are tried one by one, then ever farther apart."""

FARTHEST = 10
"""Values up to so many times the one that is typed are tried: beyond, it would be another room."""


class InputLeads:
    """How every medium leads at the values of one whole number that were tried, worked out as they are asked for."""

    def __init__(self, scenario: Scenario, keys: Keys, likely: float) -> None:
        self.name: InputName = input_name(scenario, keys)
        self.likely = float(likely)
        self._scenario = scenario
        self._keys = keys
        self._known: dict[int, Floats] = {}
        described = describe_path(keys)
        lowest, highest = int(described.minimum or 0), int(described.maximum or 0)
        self._tried = sorted(_values(lowest, highest, int(likely)))

    def sign_changes(self, medium: int, way: int) -> Iterator[tuple[float, float]]:
        """Neighbouring values between which the lead of a medium changes sign; twice the same where it is level."""
        for low, high in zip(self._tried, self._tried[1:], strict=False):
            if self._sign(low, medium, way) == 0:
                yield float(low), float(low)
            elif self._sign(low, medium, way) * self._sign(high, medium, way) < 0:
                yield self._closer(low, high, medium, way)
        if self._sign(self._tried[-1], medium, way) == 0:
            yield (float(self._tried[-1]),) * 2

    def always_level(self, medium: int, way: int) -> bool:
        """Whether a medium never differs from the baseline at the values tried."""
        signs = [self._sign(each, medium, way) for each in self._tried]
        return not any(each != 0 for each in signs if not np.isnan(each))

    def _closer(self, low: int, high: int, medium: int, way: int) -> tuple[float, float]:
        start = self._sign(low, medium, way)
        while high - low > 1:
            middle = (low + high) // 2
            sign = self._sign(middle, medium, way)
            if sign == 0:
                return float(middle), float(middle)
            low, high = (middle, high) if sign == start else (low, middle)
        return float(low), float(high)

    def _sign(self, value: int, medium: int, way: int) -> float:
        if value not in self._known:
            self._known[value] = self._signs(value)
        return float(self._known[value][medium, way])

    def _signs(self, value: int) -> Floats:
        """Which of all media lead on which ways of counting; nan where no such document is possible."""
        changed = with_value(self._scenario, self._keys, value)
        impossible = np.full((len(changed.media), len(WAYS)), np.nan)
        if not any(sum(crop.sowing.values()) for crop in changed.crops):
            return impossible
        try:
            found = leads(evaluate(changed), changed.room.limit, 1)
        except InputFaults:
            return impossible
        return np.array([sign_of(lead.difference[:, 0], lead.size[:, 0]) for lead in found])


def whole_input_leads(scenario: Scenario) -> list[InputLeads]:
    """Every whole number that shapes the week of this document."""
    return [InputLeads(scenario, keys, value) for keys, value in whole_inputs(scenario)]


def whole_inputs(scenario: Scenario) -> Iterator[tuple[Keys, int]]:
    """Key path and value of every whole number that the costs depend on and that no reading hands out."""
    own_days = {(pair.medium, pair.crop) for pair in scenario.pairs if pair.days_in_tray is not None}
    for at, crop in enumerate(scenario.crops):
        if not sum(crop.sowing.values()):
            continue
        yield from ((("crops", at, "sowing", day), trays) for day, trays in crop.sowing.items())
        if any((medium.id, crop.id) not in own_days for medium in scenario.media):
            yield ("crops", at, "days_in_tray"), crop.days_in_tray
        yield ("crops", at, "blackout_days"), crop.blackout_days
    for at, medium in enumerate(scenario.media):
        yield ("media", at, "sheets_per_tray"), medium.sheets_per_tray
        if medium.use == "reusable":
            yield ("media", at, "dry_days"), medium.dry_days
    used = {medium.wash for medium in scenario.media}
    for at, wash in enumerate(scenario.washes):
        if wash.id in used:
            for place, step in enumerate(wash.steps):
                if step.sheets_per_batch is not None:
                    yield ("washes", at, "steps", place, "sheets_per_batch"), step.sheets_per_batch
    sown = {crop.id for crop in scenario.crops if sum(crop.sowing.values())}
    for at, pair in enumerate(scenario.pairs):
        if pair.days_in_tray is not None and pair.crop in sown:
            yield ("pairs", at, "days_in_tray"), pair.days_in_tray


def with_value(record: Any, keys: Keys, value: Any) -> Any:
    """The document with one value changed, which the caller knows to be a legal one."""
    key, *rest = keys
    if isinstance(record, tuple):
        assert isinstance(key, int)
        changed = with_value(record[key], tuple(rest), value) if rest else value
        return (*record[:key], changed, *record[key + 1 :])
    if isinstance(record, dict):
        return {**record, key: value}
    inner = with_value(getattr(record, str(key)), tuple(rest), value) if rest else value
    return record.model_copy(update={key: inner})


def _values(lowest: int, highest: int, likely: int) -> set[int]:
    """The lowest few, the neighbours of the likely value, and shares and multiples of it."""
    near = {likely + step for step in range(-NEAR, NEAR + 1)}
    wide = {round(likely * share) for share in (0.25, 0.5, 0.7, 1.5, 2, 4, FARTHEST)}
    return {each for each in near | wide | {lowest, lowest + 1, lowest + 2} if lowest <= each <= highest}
