"""Tie points: for every input, the values at which a medium and the baseline come out level, all others held.

All costs are counted, sheet and equipment included, on each of the three ways of counting, and on the measure that
the room's limit asks for. The search goes through the model itself, within the bounds of each input's field.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from mediacost.results.confidence_answers import HarvestToLose, InputTies, MediumTies, Tie
from mediacost.results.draws import plan_draws
from mediacost.results.input_names import MEASURED, InputName, input_name
from mediacost.results.measures import LEAD_BASIS
from mediacost.results.outcomes import Floats, evaluate_on
from mediacost.results.reading import Keys
from mediacost.results.scan import (
    WAYS,
    Crossing,
    LeadOf,
    Places,
    Points,
    always_level,
    crossings,
    lead_of,
    leads,
    sign_of,
    values_between,
    whole_neighbours,
    whole_values_between,
)
from mediacost.results.whole_ties import InputLeads, whole_input_leads
from mediacost.scenario import Scenario, describe_path, likely
from mediacost.scenario.values import LARGEST

STEP = 1e-10
"""A lead that is still above this share of what is compared when nothing is left to halve has jumped over the tie."""

INSIDE = 1e-9
"""How near to a bound that is itself not allowed values are looked at, as a share of it."""


def find_ties(scenario: Scenario) -> tuple[MediumTies, ...]:
    """Every tie of every medium with the baseline, in file order, the baseline left out.

    Raises :class:`mediacost.errors.InputFaults` where the comparison itself would.
    """
    values = plan_draws(scenario).values
    inputs = tuple(values)
    names = [input_name(scenario, keys) for keys in inputs]
    points = Points(scenario, values, inputs)
    looked_at = [_values_of(scenario, keys, name, values[keys]) for keys, name in zip(inputs, names, strict=True)]
    places = np.repeat(np.arange(len(inputs)), [len(each) for each in looked_at])
    at = points.leads(places, np.concatenate(looked_at))
    usual = leads(evaluate_on(scenario, {}), scenario.room.limit, 1)
    found = crossings(at, places, np.concatenate(looked_at), usual)
    ties = _closed_in(points, found, names)
    counted = whole_input_leads(scenario)
    made = []
    for medium, document in enumerate(scenario.media):
        if document.id == scenario.baseline_id:
            continue
        told = [
            InputTies(
                name.path,
                name.label,
                name.unit,
                float(values[keys]),
                name.whole,
                {each: _in_order(ties.get((place, medium, way), ())) for way, each in enumerate(WAYS)},
                tuple(each for way, each in enumerate(WAYS) if always_level(at[medium], way, places == place)),
            )
            for place, (keys, name) in enumerate(zip(inputs, names, strict=True))
        ]
        told += [_whole_ties(each, medium) for each in counted]
        made.append(MediumTies(document.id, tuple(told), _harvest_to_lose(scenario, inputs, points, medium)))
    return tuple(made)


def _values_of(scenario: Scenario, keys: Keys, name: InputName, value: float) -> Floats:
    lowest, highest = bounds_of(scenario, keys)
    return (whole_values_between if name.whole else values_between)(lowest, highest, value)


def bounds_of(scenario: Scenario, keys: Keys) -> tuple[float, float]:
    """Lowest and highest value of an input: the bounds of its field, and what else the file's checks ask of it."""
    if keys[0] == MEASURED:
        return 0.0, LARGEST
    described = describe_path(keys)
    lowest = -LARGEST if described.minimum is None else described.minimum
    highest = LARGEST if described.maximum is None else described.maximum
    if described.exclusive_minimum is not None:
        lowest = described.exclusive_minimum + INSIDE
    if described.exclusive_maximum is not None:
        highest = described.exclusive_maximum * (1 - INSIDE)
    if keys[-1] in ("target_ppm", "stock_ppm"):
        bath = scenario.washes[_number(keys[1])].steps[_number(keys[3])].sanitiser
        assert bath is not None
        if keys[-1] == "target_ppm":
            highest = min(highest, likely(bath.stock_ppm) * (1 - INSIDE))
        else:
            lowest = max(lowest, likely(bath.target_ppm) * (1 + INSIDE))
    return float(lowest), float(highest)


def _number(key: str | int) -> int:
    assert isinstance(key, int)
    return key


# Closing in ---------------------------------------------------------------------------------------


def _closed_in(
    points: Points, found: Sequence[Crossing], names: Sequence[InputName]
) -> dict[tuple[int, int, int], list[Tie]]:
    """The tie in each crossing, by input, medium and way."""
    ties: dict[tuple[int, int, int], list[Tie]] = {}
    level = [each for each in found if each.low == each.high]
    whole = [each for each in found if each.low < each.high and names[each.place].whole]
    smooth = [each for each in found if each.low < each.high and not names[each.place].whole]
    for crossing, tie in (
        *((each, Tie(each.low, each.low, each.low)) for each in level),
        *zip(whole, _whole_roots(lead_of(points, whole), whole), strict=True),
        *zip(smooth, roots(lead_of(points, smooth), smooth), strict=True),
    ):
        ties.setdefault((crossing.place, crossing.medium, crossing.way), []).append(tie)
    return ties


def roots(lead: LeadOf, found: Sequence[Crossing]) -> list[Tie]:
    """The tie of each crossing of a continuous input, or the step that jumps over it."""
    if not found:
        return []
    from scipy.optimize import elementwise

    low, high = np.array([each.low for each in found]), np.array([each.high for each in found])
    numbers = np.arange(len(found))
    closest = {"xatol": 0.0, "xrtol": 4e-16, "fatol": 0.0, "frtol": 0.0}
    result = elementwise.find_root(
        lambda values, which: lead(which, values)[0], (low, high), args=(numbers,), tolerances=closest, maxiter=2000
    )
    _, sizes = lead(numbers, result.x)
    jumped = ~(np.abs(result.f_x) <= STEP * sizes)
    ends = np.sort(np.array(result.bracket), axis=0)
    return [
        Tie(None if jump else float(value), *(map(float, pair) if jump else (float(value), float(value))))
        for jump, value, pair in zip(jumped, result.x, ends.T, strict=True)
    ]


def _whole_roots(lead: LeadOf, found: Sequence[Crossing]) -> list[Tie]:
    if not found:
        return []
    low, high = np.array([each.low for each in found]), np.array([each.high for each in found])
    return [_neighbours(*map(float, ends)) for ends in zip(*whole_neighbours(lead, low, high), strict=True)]


def _neighbours(low: float, high: float) -> Tie:
    return Tie(low if low == high else None, low, high)


def _in_order(ties: Iterable[Tie]) -> tuple[Tie, ...]:
    return tuple(sorted(ties, key=lambda tie: tie.middle))


def _whole_ties(counted: InputLeads, medium: int) -> InputTies:
    """Ties of an input that only the document itself can change, such as trays sown on a Monday."""
    ways, always = {}, []
    for way, name in enumerate(WAYS):
        ties = [_neighbours(*ends) for ends in counted.sign_changes(medium, way)]
        if counted.always_level(medium, way):
            ties = []
            always.append(name)
        ways[name] = _in_order(ties)
    word = counted.name
    return InputTies(word.path, word.label, word.unit, counted.likely, True, ways, tuple(always))


# Harvest that may be lost -------------------------------------------------------------------------


def _harvest_to_lose(scenario: Scenario, inputs: Sequence[Keys], points: Points, medium: int) -> HarvestToLose:
    """The share of its harvest, the same on every crop, that a medium may lose and still tie on the lead basis."""
    harvests = harvests_of(scenario, inputs, medium)
    way = WAYS.index(LEAD_BASIS[scenario.room.limit])
    values = points.values

    def lead(numbers: Places, shares: Floats) -> tuple[Floats, Floats]:
        replaced = {keys: float(values[keys]) * shares for keys in harvests}
        found = leads(evaluate_on(scenario, replaced), scenario.room.limit, len(shares))[medium]
        return found.difference[way], found.size[way]

    shares = values_between(0.0, 1000.0, 1.0)
    signs = sign_of(*lead(np.arange(len(shares)), shares))
    level = [Tie(float(each), float(each), float(each)) for each in shares[signs == 0]]
    found = [
        Crossing(0, medium, way, float(shares[at]), float(shares[at + 1]))
        for at in np.flatnonzero(signs[1:] * signs[:-1] < 0)
    ]
    ties = [*level, *roots(lead, found)]
    if not ties or len(level) == len(shares):
        return HarvestToLose(None, None)
    nearest = min(ties, key=lambda tie: abs(tie.middle - 1))
    lost = 1 - nearest.middle
    trays = {crop.id: sum(crop.sowing.values()) for crop in scenario.crops}
    grams = sum(float(values[keys]) * trays[crop] for keys, crop in harvests.items()) / sum(trays.values())
    return HarvestToLose(lost * grams, 100 * lost)


def harvests_of(scenario: Scenario, inputs: Iterable[Keys], medium: int) -> dict[Keys, str]:
    """The inputs that hold a medium's harvest weights, with the crop of each."""
    found: dict[Keys, str] = {}
    for keys in inputs:
        if keys[0] == MEASURED and keys[1] == scenario.media[medium].id:
            found[keys] = str(keys[2])
        elif keys[0] == "pairs" and keys[-1] == "mean_g":
            pair = scenario.pairs[_number(keys[1])]
            if pair.medium == scenario.media[medium].id:
                found[keys] = pair.crop
    return found
