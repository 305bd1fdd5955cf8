"""How sure the answer is: chances, spreads, swings and the value of knowing, against counts made another way."""

from __future__ import annotations

import copy
import json
import math
import tomllib
from dataclasses import fields

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from mediacost.errors import InputFaults
from mediacost.formulas.sampling import share_blocks
from mediacost.results import NoAnswer, compare
from mediacost.results.answers import Answer
from mediacost.results.confidence import how_sure, spread_of
from mediacost.results.confidence_answers import Spread
from mediacost.results.confidence_json import confidence_json
from mediacost.results.draws import DrawReading
from mediacost.results.evaluation import evaluate
from mediacost.results.outcomes import evaluate_on, first_best, tray_outcome
from mediacost.results.study import FEWEST_DRAWS, StudyCancelledError, run_study
from mediacost.results.sureness import CANNOT_TELL, CLEAR, PROBABLE, chance_words
from mediacost.results.value_of_knowing import find_value
from mediacost.scenario import check
from tests.results.samples import SAMPLE_PATHS, odd_scenarios, scenario
from tests.strategies import scenario_data

FIGURES = (
    "cost_per_kg",
    "cost_per_kg_same_harvest",
    "margin_per_tray",
    "margin_per_shelf_day",
    "return_to_labour_per_hour",
)


def data_of(name: str) -> dict:
    path = next(path for path in SAMPLE_PATHS if path.stem == name)
    return tomllib.loads(path.read_text(encoding="utf-8"))


def collapsed(name: str, keep_ranges: bool):
    """A sample in which nothing is in doubt: no width in any range, no spread between trays."""

    def flat(value):
        if isinstance(value, dict):
            if "likely" in value:
                likely = value["likely"]
                return {"low": likely, "likely": likely, "high": likely} if keep_ranges else likely
            return {key: flat(each) for key, each in value.items()}
        return [flat(each) for each in value] if isinstance(value, list) else value

    data = flat(copy.deepcopy(data_of(name)))
    for pair in data.get("pairs", []):
        if not isinstance(pair["mean_g"], dict):
            pair |= {"sd_g": 0, "trays": 6}
    for trial in data.get("trials", []):
        for tray in trial["trays"]:
            if "harvest_g" in tray and not tray.get("failed"):
                tray |= {"harvest_g": 250 + 3 * len(tray["medium"]), "tare_g": 62}
    checked = check(data)
    assert checked.scenario is not None, checked.faults
    return checked.scenario


# Collapsed, the single answer ---------------------------------------------------------------------


@pytest.mark.parametrize("keep_ranges", [True, False], ids=["ranges without width", "no ranges"])
@pytest.mark.parametrize("name", [path.stem for path in SAMPLE_PATHS])
def test_without_doubt_it_is_the_single_answer(name, keep_ranges):
    document = collapsed(name, keep_ranges)
    single, sure = compare(document), how_sure(document, 256)
    assert sure.inputs == ()
    for medium in single.media:
        found = sure.medium(medium.id)
        for figure in FIGURES:
            assert_all(getattr(found, figure), getattr(medium, figure))
        assert_all(found.npv, medium.npv[single.basis])
        assert_all(found.payback_months, medium.payback_months[single.basis].simple)
        assert found.chance_best == (medium.id == single.best)
        if medium.id != single.baseline:
            pays = not isinstance(medium.payback_months[single.basis].simple, NoAnswer)
            assert found.chance_pays == pays
    assert sure.value.per_year == 0
    assert sure.sureness.word == CANNOT_TELL
    assert "nothing to be unsure about" in sure.notes[0] and "doubtful" in sure.notes[0]


def assert_all(spread: Spread, answer: Answer) -> None:
    for field in fields(spread):
        value = getattr(spread, field.name)
        if isinstance(answer, NoAnswer):
            assert isinstance(value, NoAnswer) and value.kind == answer.kind
        else:
            assert value == pytest.approx(answer, rel=1e-12, abs=1e-9)


def test_no_ranges_but_weighed_trays_is_said_to_be_doubtful():
    def likely(value):
        if isinstance(value, dict):
            return value["likely"] if "likely" in value else {key: likely(each) for key, each in value.items()}
        return [likely(each) for each in value] if isinstance(value, list) else value

    sure = how_sure(check(likely(data_of("small_room"))).scenario, 256)
    assert {each.path.partition(".")[2] for each in sure.inputs} == {"mean_g"}
    assert "No input is given as a range" in sure.notes[0] and "doubtful" in sure.notes[0]


# One draw at a time ---------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [path.stem for path in SAMPLE_PATHS])
def test_every_draw_is_the_single_answer_for_its_values(name):
    """The arrays give what the plain model gives for one draw: figures, months and all."""
    document = scenario(name)
    study = run_study(document, 256, 3)
    for draw in (0, 17, 100, 255):
        typed = {each.keys: float(study.inputs[at, draw]) for at, each in enumerate(study.plan.inputs)}
        single = evaluate(document, DrawReading(typed))
        limit = document.room.limit
        for at in range(len(document.media)):
            expected = tray_outcome(single, at, limit)
            for figure in expected._fields:
                assert study.figures[figure][at, draw] == pytest.approx(float(getattr(expected, figure)), rel=1e-12)


def test_a_draw_typed_into_the_file_gives_the_same_answer():
    document = scenario("small_room")
    study = run_study(document, 256, 4)
    data = data_of("small_room")
    for at, each in enumerate(study.plan.inputs):
        here = data
        for key in each.keys[:-1]:
            here = here[key]
        value = float(study.inputs[at, 31])
        here[each.keys[-1]] = int(value) if each.whole else value
    single = compare(check(data).scenario)
    for at, medium in enumerate(single.media):
        for figure in FIGURES:
            assert study.figures[figure][at, 31] == pytest.approx(getattr(medium, figure), rel=1e-12)
        if medium.id != single.baseline:
            assert study.figures["npv"][at, 31] == pytest.approx(medium.npv["same_harvest"], rel=1e-9)
            months = medium.payback_months["same_harvest"].simple
            found = study.figures["payback_months"][at, 31]
            assert math.isinf(found) if isinstance(months, NoAnswer) else found == pytest.approx(months, rel=1e-9)


def test_chances_are_counts_of_draws():
    document = scenario("small_room")
    study, sure = run_study(document, 2048, 5), how_sure(document, 2048, 5)
    costs = study.figures["cost_per_kg_same_harvest"]
    for at, medium in enumerate(sure.media):
        assert medium.chance_best == np.mean(costs.argmin(axis=0) == at)
        assert medium.cost_per_kg_same_harvest.p50 == np.sort(costs[at])[1023]
        assert medium.cost_per_kg_same_harvest.p5 == np.sort(costs[at])[102]
    assert sum(medium.chance_best for medium in sure.media) == 1
    steel = sure.medium("steel")
    assert steel.chance_pays == np.mean(np.isfinite(study.figures["payback_months"][1]))
    assert steel.chance_beats_baseline == np.mean(costs[1] < costs[0])
    assert steel.difference.p95 == np.sort(costs[1] - costs[0])[1945]


def test_a_year_of_the_baselines_harvest_is_what_is_saved_on():
    """small_room: 48 trays a week, 50 weeks; the market limits, so costs of the same kilograms are compared."""
    document = scenario("small_room")
    study = run_study(document, 256)
    evaluation = evaluate_on(document, {each.keys: study.inputs[at] for at, each in enumerate(study.plan.inputs)})
    kilograms = 48 * 50 * evaluation.baseline.mix.yield_kg
    costs = study.figures["cost_per_kg_same_harvest"]
    saved = study.figures["worth_per_year"][1] - study.figures["worth_per_year"][0]
    np.testing.assert_allclose(saved, (costs[0] - costs[1]) * kilograms, rtol=1e-9)


def test_media_with_an_unmet_condition_are_shown_but_never_best():
    document = scenario("small_room", (("media", 1, "conditions", 0, "met"), "no"))
    steel = how_sure(document, 512).medium("steel")
    assert not steel.ranked
    assert set(steel.chance_best_on.values()) == {0}
    assert not isinstance(steel.cost_per_kg.p50, NoAnswer)


def test_the_first_of_equals_is_best_dust_forgiven():
    values = [np.array([1.0, 1.0, np.nan]), np.array([1.0 + 1e-12, 2.0, np.nan]), np.array([-np.inf, np.inf, np.nan])]
    assert first_best(values).tolist() == [0, 1, -1]


# The same again -------------------------------------------------------------------------------------


def test_the_same_seed_gives_the_same_bytes():
    first, again, other = (
        json.dumps(confidence_json(how_sure(scenario("small_room"), 1024, seed))).encode() for seed in (2, 2, 3)
    )
    assert first == again
    assert first != other


def test_blocks_make_no_difference(monkeypatch):
    whole = run_study(scenario("small_room"), 1024, 2)
    monkeypatch.setattr("mediacost.results.study.BLOCK", 128)
    parts = run_study(scenario("small_room"), 1024, 2)
    for name, values in whole.figures.items():
        np.testing.assert_allclose(parts.figures[name], values, rtol=1e-12)
    np.testing.assert_array_equal(parts.inputs, whole.inputs)


def test_progress_is_told_and_cancelling_stops(monkeypatch):
    monkeypatch.setattr("mediacost.results.study.BLOCK", 128)
    told: list[float] = []
    run_study(scenario("small_room"), 512, progress=told.append)
    assert told == [0.25, 0.5, 0.75, 1.0]
    told.clear()
    with pytest.raises(StudyCancelledError):
        run_study(scenario("small_room"), 512, progress=told.append, cancelled=lambda: len(told) >= 2)
    assert told == [0.25, 0.5]


# How many draws -------------------------------------------------------------------------------------


@pytest.mark.parametrize("draws", [0, -5, FEWEST_DRAWS - 1])
def test_too_few_draws_are_refused(draws):
    with pytest.raises(InputFaults) as wrong:
        run_study(scenario(), draws)
    assert "draws tell nothing" in str(wrong.value)


def test_far_too_many_draws_are_refused_with_what_they_would_need():
    with pytest.raises(InputFaults) as wrong:
        run_study(scenario(), 10**9)
    (fault,) = wrong.value.faults
    assert "1 000 000 000 draws would need about" in fault.problem
    assert "GB of memory and" in fault.problem and fault.problem.endswith(("hours", "minutes"))


# Verdict --------------------------------------------------------------------------------------------


def test_chances_in_words():
    assert [chance_words(each) for each in (1, 0.995, 0.5, 0.005, 0)] == [
        "all",
        "over 99 of 100",
        "50 of 100",
        "under 1 of 100",
        "none",
    ]


COSTLY_OTHERS = ((("media", 0, "pack_price"), 500), (("media", 2, "pack_price"), 900))


def test_a_great_advantage_is_clear():
    sure = how_sure(scenario("small_room", *COSTLY_OTHERS), 1024).sureness
    assert (sure.word, sure.medium, sure.settle) == (CLEAR, "steel", None)


def test_a_great_advantage_on_too_few_trays_is_not_called_clear():
    sure = how_sure(scenario("small_room", *COSTLY_OTHERS, (("pairs", 1, "trays"), 3)), 1024)
    assert sure.sureness.chance >= 0.9
    assert sure.sureness.word == PROBABLE
    assert "too few trays" in sure.sureness.why


def test_alone_among_the_ranked_is_said_not_counted():
    closed = [(("media", at, "conditions", 0, "met"), "no") for at in (1, 2)]
    sure = how_sure(scenario("small_room", *closed), 256).sureness
    assert (sure.medium, sure.settle) == ("pad", None)
    assert sure.words == ("Fibre pad is the only medium that may be ranked, so nothing has to be settled.",)


def test_with_nobody_to_rank_there_is_no_verdict():
    closed = [(("media", at, "conditions", 0, "met"), "no") for at in range(3)]
    sure = how_sure(scenario("small_room", *closed), 256).sureness
    assert (sure.word, sure.medium, sure.chance) == (CANNOT_TELL, None, 0)


def test_a_lopsided_range_that_turns_the_answer_is_said_to_do_so():
    often_failed = {"low": 0.0, "likely": 0.0, "high": 0.3}
    sure = how_sure(scenario("small_room", (("media", 1, "failed_share"), often_failed), (("pairs", 1, "mean_g"), 290)))
    assert (sure.best, sure.sureness.medium) == ("steel", "pad")
    assert "the ranges are lopsided" in sure.sureness.words[0]


def test_even_chances_cannot_tell_and_name_what_would_settle_it():
    sure = how_sure(scenario("small_room"))
    assert sure.sureness.word == CANNOT_TELL
    known = (*sure.value.inputs, *sure.value.together)
    assert sure.sureness.settle in known
    assert sure.sureness.settle.gain == max(each.gain for each in known) > 0


# Swings ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [path.stem for path in SAMPLE_PATHS])
def test_swings_are_differences_of_single_answers(name):
    document = scenario(name)
    sure = how_sure(document, 256)
    limit = document.room.limit
    inputs = {each.path: each for each in sure.inputs}
    order = [medium.id for medium in document.media]
    for medium, swings in sure.swings.items():
        assert [each.length for each in swings] == sorted((each.length for each in swings), reverse=True)
        for swing in swings[:5]:
            for value, expected in ((swing.low, swing.at_low), (swing.high, swing.at_high)):
                made = evaluate(document, DrawReading({inputs[swing.path].keys: value}))
                ours, base = (
                    float(getattr(tray_outcome(made, order.index(each), limit), sure.measure))
                    for each in (medium, sure.baseline)
                )
                assert ours - base == pytest.approx(expected, rel=1e-9, abs=1e-12)


# Value of knowing -----------------------------------------------------------------------------------


@pytest.mark.parametrize("path", ["media[steel].life_cycles", "pairs[steel, radish].mean_g", "room.labour_rate"])
def test_knowing_one_input_against_a_nested_count(path):
    """For each of many values of the input, the means over draws of all the others, worked out anew."""
    document = scenario("small_room", (("media", 0, "pack_price"), 70))
    study = run_study(document, 16_384, 9, money=False)
    found = {each.paths: each.per_year for each in find_value(document, study).inputs}[(path,)]
    inputs = study.plan.inputs
    at = next(at for at, each in enumerate(inputs) if each.path == path)
    others = next(share_blocks(2048, len(inputs), seed=123))
    drawn = study.plan.draw(others)
    means = []
    for share in (np.arange(200) + 0.5) / 200:
        drawn[inputs[at].keys] = np.full(2048, float(inputs[at].value(share)))
        evaluation = evaluate_on(document, drawn)
        worth = [tray_outcome(evaluation, medium, "market").worth_per_year for medium in range(3)]
        means.append([each.mean() for each in worth])
    nested = np.max(means, axis=1).mean() - np.mean(means, axis=0).max()
    everything = find_value(document, study).per_year
    assert found == pytest.approx(nested, abs=0.012 * everything)


def test_no_part_is_worth_more_than_the_whole():
    value = how_sure(scenario("two_crop_room"), 4096).value
    parts = (*value.inputs, *value.together)
    assert parts
    assert all(0 <= each.per_year <= value.per_year for each in parts)
    of_paths = {each.paths[0]: each.per_year for each in value.inputs}
    for each in value.together:
        assert each.per_year >= max(of_paths[path] for path in each.paths) - 0.02 * value.per_year


def test_what_is_found_out_together_belongs_together():
    """A trial finds the harvest weights of its own crop, measured or typed; a timing the minutes of one routine."""
    together = {each.label: each for each in how_sure(scenario("two_crop_room"), 1024).value.together}
    assert set(together) == {
        "Broccoli: harvest weight on every medium",
        "Pea shoots: harvest weight on every medium",
        "Tubs, by hand: labour of every step",
        "Hot-wash machine: labour of every step",
    }
    for label, crop in (("Broccoli", "broccoli"), ("Pea shoots", "pea")):
        trial = together[f"{label}: harvest weight on every medium"]
        assert len(trial.paths) == 4
        assert all(f", {crop}]." in path and path.endswith(("harvest_g", "mean_g")) for path in trial.paths)
        assert trial.cost == pytest.approx(4 * 8 * 10 / 60 * 20.5)  # trays, ten minutes each, at the labour rate
    timing = together["Hot-wash machine: labour of every step"]
    assert all(path.startswith("washes[hot].steps") and "minutes" in path for path in timing.paths)


def test_too_few_draws_for_each_input_are_not_guessed_at():
    assert how_sure(scenario("two_crop_room"), 256).value.inputs == ()


# Odd ones ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", odd_scenarios())
def test_odd_scenarios_have_an_answer(name):
    data = confidence_json(how_sure(odd_scenarios()[name], 256))
    text = json.dumps(data, allow_nan=False)
    assert len(json.loads(text)["media"]) >= 2
    for medium in data["media"]:
        missing = {path for path, value in _leaves(medium) if value is None}
        assert missing == set(medium["reasons"])


def _leaves(medium):
    for name, value in medium.items():
        if name == "reasons":
            continue
        if isinstance(value, dict):
            yield from ((f"{name}.{inner}", each) for inner, each in value.items())
        else:
            yield name, value


@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(scenario_data(most_trays=60))
def test_any_scenario_has_an_answer(data):
    document = check(data).scenario
    try:
        compare(document)
    except InputFaults:
        assume(False)
    sure = how_sure(document, 256)
    json.dumps(confidence_json(sure), allow_nan=False)
    ranked = [medium for medium in sure.media if medium.ranked]
    assert sum(medium.chance_best for medium in ranked) <= 1 + 1e-9


def test_where_nothing_is_sold_nothing_pays():
    steel = how_sure(odd_scenarios()["nothing saleable on steel"], 256).medium("steel")
    assert (steel.chance_pays, steel.chance_best, steel.chance_beats_baseline) == (0, 0, 0)
    assert isinstance(steel.payback_months.p5, NoAnswer)


def test_a_spread_is_made_of_draws():
    values = np.array([4.0, 1.0, math.inf, 3.0])
    never = next(iter(compare(scenario()).media)).irr["per_tray"]
    assert spread_of(values, never) == Spread(1.0, 3.0, never)
    assert spread_of(np.array([1.0, math.nan]), never) == Spread(never, never, never)
