"""Tie points: put into the file, each makes medium and baseline level on its way of counting."""

from __future__ import annotations

import copy
import math
import tomllib

import numpy as np
import pytest

from mediacost.formulas import sheet
from mediacost.results import NoAnswer, compare
from mediacost.results.confidence_answers import InputTies, MediumTies, Tie
from mediacost.results.draws import DrawReading, plan_draws
from mediacost.results.evaluation import evaluate
from mediacost.results.flip_map import flip_map
from mediacost.results.outcomes import lead_values
from mediacost.results.scan import WAYS, values_between
from mediacost.results.ties import bounds_of, find_ties
from mediacost.results.whole_ties import whole_inputs
from mediacost.scenario import check, set_value
from tests.results.samples import SAMPLE_PATHS, scenario

NAMES = [path.stem for path in SAMPLE_PATHS]


def data_of(name):
    path = next(path for path in SAMPLE_PATHS if path.stem == name)
    return tomllib.loads(path.read_text(encoding="utf-8"))


def keys_by_path(document):
    """Key paths of everything that may tie, by their words, made by the one that names faults as well."""
    from mediacost.results.input_names import input_name

    keys = [*plan_draws(document).values, *(each for each, _ in whole_inputs(document))]
    return {input_name(document, each).path: each for each in keys}


def sides(data, medium, limit):
    """What medium and baseline are worth on each way of counting, from the single answer of a whole file."""
    checked = check(data)
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    answer = compare(checked.scenario)
    names = {"market": "cost_per_kg_same_harvest", "shelf": "margin_per_shelf_day"}
    measure = names.get(limit, "return_to_labour_per_hour")
    found = {}
    for way, figure in (
        ("per_tray", lambda each: each.cost_per_tray["medium_total"]),
        ("same_harvest", lambda each: each.cost_per_kg_same_harvest),
        ("sell_extra", lambda each: each.margin_per_tray),
        ("measure", lambda each: getattr(each, measure)),
    ):
        found[way] = figure(answer.medium(medium)), figure(answer.medium(answer.baseline))
    return found


def typed(data, keys, value):
    return set_value(copy.deepcopy(data), keys, value)


def ties_of(found: tuple[MediumTies, ...], medium: str, path: str) -> InputTies:
    return next(each for ties in found if ties.medium == medium for each in ties.inputs if each.path == path)


# Substitution -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_continuous_ties_by_substitution(name):
    """Typed into the file, every tie makes the two level to 1e-9 of what is compared."""
    document, data = scenario(name), data_of(name)
    keys = keys_by_path(document)
    tried = 0
    for ties in find_ties(document):
        for each in ties.inputs[:: 1 if name == "small_room" else 5]:
            if each.whole or keys[each.path][0] == "measured_g":
                continue
            for way, found in each.ways.items():
                for tie in found[:1]:
                    if tie.step or way == "measure":
                        continue
                    ours, base = sides(typed(data, keys[each.path], tie.value), ties.medium, "market")[way]
                    assert abs(ours - base) <= 1e-9 * (abs(ours) + abs(base)), (each.path, way)
                    tried += 1
    assert tried > 10


@pytest.mark.parametrize("name", NAMES)
def test_measured_and_other_ties_through_the_model(name):
    """The same through the model: every tie of the first medium, measured harvest weights and the measure as well."""
    document = scenario(name)
    keys = keys_by_path(document)
    limit = document.room.limit
    order = [medium.id for medium in document.media]
    for ties in find_ties(document)[:1]:
        for each in ties.inputs:
            if keys[each.path] not in plan_draws(document).values:
                continue
            for way, found in each.ways.items():
                for tie in found:
                    leads = []
                    for value in (tie.below, tie.above):
                        made = evaluate(document, DrawReading({keys[each.path]: value}))
                        at = WAYS.index(way)
                        ours, base = (
                            float(lead_values(made, order.index(medium), limit)[at])
                            for medium in (ties.medium, document.baseline_id)
                        )
                        leads.append((ours - base) / (abs(ours) + abs(base)))
                    if tie.step:
                        assert leads[0] * leads[1] < 0, (each.path, way)
                    else:
                        assert max(map(abs, leads)) <= 1e-9, (each.path, way)


@pytest.mark.parametrize("name", NAMES)
def test_steps_of_whole_numbers_by_their_neighbours(name):
    document, data = scenario(name), data_of(name)
    keys = keys_by_path(document)
    limit = document.room.limit
    tried = 0
    for ties in find_ties(document):
        for each in ties.inputs:
            if not each.whole:
                continue
            for way, found in each.ways.items():
                for tie in found:
                    if not tie.step:
                        continue
                    assert tie.above - tie.below == 1
                    leads = []
                    for value in (tie.below, tie.above):
                        ours, base = sides(typed(data, keys[each.path], int(value)), ties.medium, limit)[way]
                        leads.append(ours - base)
                    assert leads[0] * leads[1] < 0, (each.path, way)
                    tried += 1
    assert tried > 5


# Against what is known otherwise --------------------------------------------------------------------------


def test_the_life_that_ties_is_the_break_even_life():
    """Break-even life is worked out in closed form; the search through the model steps over the same life."""
    document = scenario("small_room")
    answer = compare(document)
    for ties in find_ties(document):
        life = ties_of(find_ties(document), ties.medium, f"media[{ties.medium}].life_cycles")
        for way in ("per_tray", "same_harvest", "sell_extra"):
            expected = answer.medium(ties.medium).break_even_life[way]
            if isinstance(expected, NoAnswer):
                assert life.ways[way] == ()
            else:
                (tie,) = life.ways[way]
                assert tie.step
                assert tie.below == math.floor(expected)
                assert tie.above == math.ceil(expected)


def test_the_loss_that_ties_gives_the_break_even_cycles():
    document = scenario("small_room")
    expected = compare(document).medium("steel").break_even_cycles["same_harvest"]
    (tie,) = ties_of(find_ties(document), "steel", "media[steel].loss_per_cycle").ways["same_harvest"]
    assert sheet.mean_cycles(150.0, tie.value) == pytest.approx(expected, rel=1e-9)


def test_no_way_that_ignores_the_harvest_ties_on_it():
    found = find_ties(scenario("small_room"))
    harvest = ties_of(found, "steel", "pairs[steel, radish].mean_g")
    assert harvest.ways["per_tray"] == ()
    assert len(harvest.ways["same_harvest"]) == 1


def test_harvest_to_lose_by_substitution():
    document, data = scenario("small_room"), data_of("small_room")
    for ties, place in zip(find_ties(document), (1, 2), strict=True):
        grams = data["pairs"][place]["mean_g"]
        lost = ties.harvest_to_lose
        assert lost.grams == pytest.approx(grams * lost.percent / 100)
        ours, base = sides(typed(data, ("pairs", place, "mean_g"), grams - lost.grams), ties.medium, "market")[
            "same_harvest"
        ]
        assert ours == pytest.approx(base, rel=1e-9)


def test_harvest_to_lose_with_two_crops_takes_the_same_share_of_each():
    document = scenario("two_crop_room")
    keys = plan_draws(document).values
    for ties in find_ties(document):
        left = 1 - ties.harvest_to_lose.percent / 100
        harvests = {
            each: value * left
            for each, value in keys.items()
            if (each[0] == "measured_g" and each[1] == ties.medium)
            or (each[0] == "pairs" and each[-1] == "mean_g" and document.pairs[each[1]].medium == ties.medium)
        }
        assert len(harvests) == 2
        made = evaluate(document, DrawReading(harvests))
        at = [medium.id for medium in document.media].index(ties.medium)
        assert made.media[at].mix.margin == pytest.approx(made.baseline.mix.margin, rel=1e-9)


def test_several_ties_are_all_found():
    """Trays on a Monday: alone they fill baths badly, so steel loses, wins and may lose again."""
    ties = ties_of(find_ties(scenario("small_room")), "steel", "crops[radish].sowing.mon")
    assert len(ties.ways["same_harvest"]) == 2


def test_lost_digits_far_out_are_no_tie():
    """Electricity lights both alike: at a price beyond all sense the two differ by less than the digits kept."""
    power = ties_of(find_ties(scenario("small_room")), "steel", "room.energy_price")
    assert not any(power.ways.values())
    assert power.always == ()


def test_a_jump_of_a_continuous_input_is_a_step():
    """A roll of 0.9 m gives three mats across a tray's 0.25 m; the fourth comes at once at 1 m."""
    changes = [
        (("media", 0, "cut_from"), {"length_mm": 15000, "width_mm": 900}),
        (("media", 0, "pack_price"), 90),
    ]
    document = scenario("small_room", *changes, without=(("media", 0, "pieces_per_pack"),))
    width = ties_of(find_ties(document), "steel", "media[pad].cut_from.width_mm")
    found = [tie for ties in width.ways.values() for tie in ties]
    assert found
    assert all(tie.step and tie.above - tie.below < 1e-5 for tie in found)


def test_media_that_never_differ_are_said_to_be_always_level():
    twin = {**data_of("small_room")["media"][0], "id": "twin", "name": "Twin pad"}
    pair = {**data_of("small_room")["pairs"][0], "medium": "twin"}
    data = data_of("small_room")
    data["media"].append(twin)
    data["pairs"].append(pair)
    found = find_ties(check(data).scenario)
    labour = ties_of(found, "twin", "room.labour_rate")
    assert set(labour.always) == set(WAYS)
    assert not any(labour.ways.values())
    own = ties_of(found, "twin", "media[twin].pack_price")
    assert own.always == ()
    (tie,) = own.ways["same_harvest"]
    assert tie.value == pytest.approx(84, rel=1e-12)


def test_a_tie_and_a_step():
    assert (Tie(2.5, 2.5, 2.5).step, Tie(2.5, 2.5, 2.5).middle) == (False, 2.5)
    assert (Tie(None, 3.0, 4.0).step, Tie(None, 3.0, 4.0).middle) == (True, 3.5)


# Bounds -------------------------------------------------------------------------------------------------


def test_values_looked_at_stay_within_the_bounds_of_the_field():
    document = scenario("two_crop_room")
    data = data_of("two_crop_room")
    for keys, value in plan_draws(document).values.items():
        if keys[0] == "measured_g":
            continue
        lowest, highest = bounds_of(document, keys)
        looked_at = values_between(lowest, highest, float(value))
        assert lowest <= looked_at.min() and looked_at.max() <= highest
        assert value in looked_at
    for keys in [("media", 2, "loss_per_cycle"), ("washes", 0, "steps", 3, "sanitiser", "target_ppm")]:
        for end in bounds_of(document, keys):
            checked = check(typed(data, keys, max(end, 1e-6)))
            assert checked.scenario is not None, checked.faults


# Two inputs at once ---------------------------------------------------------------------------------------


def test_the_map_of_two_inputs_agrees_with_the_single_answer():
    document, data = scenario("small_room"), data_of("small_room")
    minutes, grams = ("washes", 0, "steps", 0, "minutes_per_sheet"), ("pairs", 1, "mean_g")
    made = flip_map(document, "steel", (minutes, [0.2, 0.9, 1.5]), (grams, [270.0, 300.0]))
    assert made.best.shape == made.lead.shape == (2, 3)
    for row, weight in enumerate(made.along_y):
        for column, minute in enumerate(made.along_x):
            answer = compare(check(typed(typed(data, minutes, float(minute)), grams, float(weight))).scenario)
            costs = [medium.cost_per_kg_same_harvest for medium in answer.media]
            assert made.lead[row, column] == pytest.approx(costs[0] - costs[1], rel=1e-9)
            assert made.best[row, column] == int(np.argmin(costs))
    assert len(set(np.sign(made.lead).ravel())) == 2
