"""Which inputs are drawn, and how: shared by all media, by the rules for ranges and for weighed trays."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings

from mediacost.errors import InputFaults
from mediacost.formulas.sampling import share_blocks
from mediacost.results.draws import MEAN, RANGE, ROUGH_MEAN, plan_draws
from mediacost.results.evaluation import evaluate
from mediacost.results.outcomes import evaluate_on
from mediacost.scenario import check, describe_path
from tests.results.samples import SAMPLE_PATHS, scenario
from tests.strategies import scenario_data

STEEL = ("pairs", 1)


def planned(document, path):
    found = [each for each in plan_draws(document).inputs if each.path == path]
    return found[0] if found else None


def test_a_range_is_drawn_between_its_ends():
    steel = planned(scenario(), "media[steel].life_cycles")
    assert (steel.kind, steel.low, steel.likely, steel.high, steel.whole) == (RANGE, 60, 150, 300, True)
    drawn = steel.value(np.linspace(0.001, 0.999, 999))
    assert drawn.min() >= 60 and drawn.max() <= 300
    assert np.array_equal(drawn, np.round(drawn))


def test_a_weighed_mean_is_drawn_with_its_standard_error():
    steel = planned(scenario(), "pairs[steel, radish].mean_g")
    assert (steel.kind, steel.df, steel.trays) == (MEAN, 5, 6)
    assert steel.standard_error == pytest.approx(28 / math.sqrt(6))
    assert steel.value(0.975) - 286 == pytest.approx(2.570582 * 28 / math.sqrt(6), rel=1e-3)  # t tables, 5 df


def test_a_trial_without_blocks_gives_each_medium_its_own_spread():
    steel = planned(scenario("two_crop_room"), "trials[steel, broccoli].harvest_g")
    grams = np.array([229, 213, 244, 217, 234, 206])
    assert (steel.kind, steel.trays, steel.df) == (MEAN, 6, 5)
    assert steel.likely == pytest.approx(grams.mean())
    assert steel.standard_error == pytest.approx(grams.std(ddof=1) / math.sqrt(6))


def test_a_trial_in_blocks_gives_the_residual_spread():
    """Two media in three blocks; residual mean square by hand, 2 degrees of freedom: too few to be used alone."""
    weights = {"pad": [200.0, 220.0, 240.0], "steel": [205.0, 215.0, 255.0]}
    trays = [
        {"tray": f"{medium}{block}", "medium": medium, "block": str(block), "harvest_g": grams}
        for medium, all_grams in weights.items()
        for block, grams in enumerate(all_grams)
    ]
    trial = {"id": "t", "crop": "radish", "trays": trays}
    rough = planned(scenario("small_room", (("trials",), [trial])), "trials[steel, radish].harvest_g")
    assert (rough.kind, rough.df) == (ROUGH_MEAN, 2)
    assert rough.standard_error == pytest.approx(0.12 * 225 / math.sqrt(3))
    more = [{**tray, "tray": tray["tray"] + "b", "block": tray["block"] + "b"} for tray in trays]
    steel = planned(
        scenario("small_room", (("trials",), [trial | {"trays": trays + more}])), "trials[steel, radish].harvest_g"
    )
    differences = np.subtract(weights["steel"], weights["pad"]).repeat(2)
    square = differences.var(ddof=1) / 2  # a difference of two trays has twice the spread of one
    assert (steel.kind, steel.df) == (MEAN, 5)
    assert steel.standard_error == pytest.approx(math.sqrt(square / 6))


def blocked(without):
    """Three media in four blocks, the trays named left out."""
    trays = [
        {"tray": f"{medium}{block}", "medium": medium, "block": str(block), "harvest_g": 250 + 7 * place + 11 * block}
        for place, medium in enumerate(("pad", "steel", "silicone"))
        for block in range(4)
    ]
    for number, tray in enumerate(trays):
        tray["harvest_g"] += (-1) ** number * (number % 5)
    kept = [tray for tray in trays if tray["tray"] not in without]
    return scenario("small_room", (("trials",), [{"id": "t", "crop": "radish", "trays": kept}]))


def test_complete_blocks_link_nothing():
    assert plan_draws(blocked(without=())).links == ()


def test_media_that_miss_in_a_block_hang_together():
    """The drawn means have the covariance that least squares gives them, worked out here from the design alone."""
    document = blocked(without=("pad0", "pad1", "steel3"))
    plan = plan_draws(document)
    (link,) = plan.links
    trays = [tray for tray in document.trials[0].trays if tray.is_measured]
    media, blocks = ("pad", "steel", "silicone"), ("0", "1", "2", "3")
    design = np.array(
        [[*(t.medium == m for m in media), *(t.block == b for b in blocks[1:])] for t in trays], dtype=float
    )
    to_means = np.hstack([np.eye(3), np.full((3, 3), 0.25)])  # a medium's effect, blocks weighted equally
    covariance = to_means @ np.linalg.inv(design.T @ design) @ to_means.T
    scale = np.sqrt(np.outer(covariance.diagonal(), covariance.diagonal()))
    np.testing.assert_allclose(link.correlation, covariance / scale, atol=1e-9)
    assert abs(link.correlation - np.eye(3)).max() > 0.05
    shares = np.concatenate(list(share_blocks(2**14, len(plan.inputs), seed=3)), axis=1)
    drawn = plan.draw(shares)
    grams = np.array([drawn[plan.inputs[at].keys] for at in link.inputs])
    np.testing.assert_allclose(np.corrcoef(grams), link.correlation, atol=0.03)


@pytest.mark.parametrize(
    "changes",
    [
        [((*STEEL, "sd_g"), 28), ((*STEEL, "trays"), 1)],
        [((*STEEL, "sd_g"), 28), ((*STEEL, "trays"), 3)],
    ],
    ids=["one tray", "three trays"],
)
def test_few_trays_count_as_unknown_not_as_certain(changes):
    document = scenario("small_room", *changes)
    steel = planned(document, "pairs[steel, radish].mean_g")
    assert steel.kind == ROUGH_MEAN
    trays = changes[1][1]
    assert steel.standard_error == pytest.approx(max(28, 0.12 * 286) / math.sqrt(trays))
    assert steel.value(0.975) - 286 == pytest.approx(1.959964 * steel.standard_error, rel=1e-4)  # drawn normally
    assert any("Too few trays" in note and "Steel mesh" in note for note in plan_draws(document).notes)


def test_a_typed_weight_counts_as_one_tray():
    document = scenario("small_room", without=((*STEEL, "sd_g"), (*STEEL, "trays")))
    steel = planned(document, "pairs[steel, radish].mean_g")
    assert (steel.kind, steel.trays) == (ROUGH_MEAN, 1)
    assert steel.standard_error == pytest.approx(0.12 * 286)


def test_only_what_the_answer_rests_on_is_drawn():
    document = scenario("two_crop_room", (("pairs", 0, "mean_g"), {"low": 190, "likely": 205, "high": 220}))
    paths = {each.path for each in plan_draws(document).inputs}
    assert "trials[steel, broccoli].harvest_g" in paths
    assert "pairs[steel, broccoli].mean_g" not in paths  # the trial has measured it
    assert plan_draws(document).values["pairs", 4, "mean_g"] == 440


def test_a_range_without_width_is_known_and_said_to_be():
    flat = {"low": 18.5, "likely": 18.5, "high": 18.5}
    plan = plan_draws(scenario("small_room", (("room", "labour_rate"), flat)))
    assert "room.labour_rate" not in {each.path for each in plan.inputs}
    assert "Labour rate: the range has no width, so it counts as known for sure." in plan.notes


def test_trays_that_all_weigh_the_same_are_said_to_have_no_spread():
    plan = plan_draws(scenario("small_room", ((*STEEL, "sd_g"), 0)))
    assert any("Steel mesh on radish" in note and "no spread" in note for note in plan.notes)


def test_the_likely_values_are_those_of_the_single_answer():
    for path in SAMPLE_PATHS:
        document = scenario(path.stem)
        single = evaluate(document)
        again = evaluate_on(document, plan_draws(document).values)
        assert [figures.mix for figures in again.media] == [figures.mix for figures in single.media]


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(scenario_data())
def test_no_draw_breaks_a_rule(data):
    """Every drawn value is one that the file's own checks would accept."""
    document = check(data).scenario
    try:
        plan = plan_draws(document)
    except InputFaults:
        assume(False)
    shares = next(share_blocks(256, len(plan.inputs), seed=1))
    for each, share in zip(plan.inputs, shares, strict=True):
        drawn = each.value(share)
        assert np.isfinite(drawn).all()
        if each.kind == RANGE:
            assert each.low <= drawn.min() and drawn.max() <= each.high
            bounds = describe_path(each.keys).bounds
            assert all(bounds.holds(float(value)) for value in drawn)
            assert not each.whole or np.array_equal(drawn, np.floor(drawn))
        else:
            assert drawn.min() >= 0 and drawn.max() <= 2 * each.likely
