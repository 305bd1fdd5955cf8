"""What must hold for every scenario: laws that need no second reading of the method to judge the first."""

from __future__ import annotations

import copy
import dataclasses
import math

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from mediacost.errors import InputFaults
from mediacost.formulas import numeric
from mediacost.results import NoAnswer, compare
from mediacost.results.against import BASES, against, trays_for_one
from mediacost.results.answers import Kind, walk
from mediacost.results.as_json import comparison_json
from mediacost.results.evaluation import evaluate
from mediacost.results.figures import FIGURES, split_path
from mediacost.results.groups import COST_GROUPS
from mediacost.results.tray import COST_LINES, equipment_figure, medium_week, mix, tray_figures, wash_figures
from mediacost.scenario import check
from tests.reference.compare_answers import compare_answers
from tests.strategies import media as media_strategy
from tests.strategies import scenario_data

some = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
"""Whole scenarios are slow to draw."""

MONEY_FIELDS = {
    "labour_rate",
    "water_price",
    "energy_price",
    "heat_price",
    "landfill_fee",
    "compost_fee",
    "seed_price_per_kg",
    "sell_price_per_kg",
    "other_cost_per_tray",
    "pack_cost_per_kg",
    "pack_price",
    "delivery_per_pack",
    "scrap_value_per_kg",
    "equipment_price",
    "cost_per_batch",
    "price_per_l",
}
"""Every input that is an amount or a price of money."""


def scenario_of(data):
    checked = check(data)
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    return checked.scenario


def compared(data):
    """The comparison; scenarios whose calendar leaves a crop in the dark are not meant here."""
    try:
        return compare(scenario_of(data))
    except InputFaults:
        assume(False)


def evaluated(data):
    try:
        return evaluate(scenario_of(data))
    except InputFaults:
        assume(False)


def close(value, expected, *parts, rel=1e-9):
    """Equal, measured by the parts that the two were put together from, since these may cancel."""
    return value == pytest.approx(expected, rel=rel, abs=rel * max(map(abs, parts), default=0.0) + 1e-300)


# ------------------------------------------------------------------ money is only a scale


def scaled(value, factor):
    if isinstance(value, dict):
        return {
            name: times(each, factor) if name in MONEY_FIELDS else scaled(each, factor) for name, each in value.items()
        }
    return [scaled(each, factor) for each in value] if isinstance(value, list) else value


def times(value, factor):
    if isinstance(value, dict):
        return {name: times(each, factor) if name in ("low", "likely", "high") else each for name, each in value.items()}
    return value * factor


@some
@given(scenario_data(), st.sampled_from([0.5, 0.25, 0.0625]))
def test_another_currency_scales_money_and_nothing_else(data, factor):
    """Halving is exact in floats, so that every figure has to agree to the last digit."""
    before, after = compared(data), compared(scaled(data, factor))
    assert (after.best, after.best_by_crop, after.trays_per_week) == (
        before.best,
        before.best_by_crop,
        before.trays_per_week,
    )
    for old, new in zip(before.media, after.media, strict=True):
        figures = dict(walk(new))
        assert new.reasons.keys() == old.reasons.keys()
        for path, value in walk(old):
            if not isinstance(value, NoAnswer):
                money = FIGURES[split_path(path)[0]].unit.startswith("money")
                assert figures[path] == (value * factor if money else value), path
        for basis, flow in old.cash.items():
            assert new.cash[basis].flows == tuple(each * factor for each in flow.flows)
            assert new.cash[basis].cycles == flow.cycles


def test_money_fields_are_those_of_the_schema():
    """The list above leaves no amount of money out."""
    from mediacost.scenario import walk_fields

    assert {row.path[-1] for row in walk_fields() if row.description.unit.startswith("money")} == MONEY_FIELDS


# ------------------------------------------------------------------ break-even


@some
@given(scenario_data())
def test_at_break_even_both_cost_the_same(data):
    """Each tray is costed anew, sheets lasting exactly the break-even cycles; the baseline's cost must come out."""
    evaluation = evaluated(data)
    tried = 0
    for at, figures in enumerate(evaluation.media):
        if figures is evaluation.baseline or not figures.medium.reusable:
            continue
        yields = [tray.yield_kg for tray in figures.by_crop]
        for basis in BASES:
            if basis == "same_harvest" and min(yields) <= 0:
                continue
            cycles = against(evaluation, at, basis).break_even
            if 0 < cycles < math.inf:
                assert_same_cost(evaluation, at, basis, cycles)
                tried += 1
    assume(tried)


def assert_same_cost(evaluation, at, basis, cycles):
    trays, shares = trays_lasting(evaluation, at, cycles), evaluation.shares
    base, tray = evaluation.baseline, mix(trays, evaluation.shares, evaluation.reading, "")
    if basis == "per_tray":
        ours, theirs, parts = tray.medium_total, base.mix.medium_total, [tray.sheet_wear]
    elif basis == "same_harvest":
        counts = trays_for_one(evaluation, at)
        ours = numeric.weighted([count * each.total for count, each in zip(counts, trays, strict=True)], shares)
        theirs, parts = base.mix.total, [count * each.sheet_wear for count, each in zip(counts, trays, strict=True)]
    else:
        ours, theirs, parts = tray.margin, base.mix.margin, [tray.revenue, tray.total, base.mix.revenue]
    assert close(ours, theirs, *parts, base.mix.total, rel=1e-8), basis


def trays_lasting(evaluation, at, cycles):
    """The trays of a medium, crop by crop, if its sheets served just so many cycles on average."""
    figures, numbers, reading = evaluation.media[at], evaluation.numbers, evaluation.reading
    rounds = medium_week(figures.medium, numbers.room)
    wash = wash_figures(figures.medium, rounds, numbers.room, reading)
    equipment = equipment_figure(figures.medium, numbers, reading)
    lasting = figures.sheet._replace(mean_cycles=cycles)
    return tuple(
        tray_figures(figures.medium, lay, crop_rounds, lasting, wash, equipment, numbers.room, reading)
        for lay, crop_rounds in zip(figures.medium.lays, rounds, strict=True)
    )


@some
@given(scenario_data())
def test_more_cycles_than_break_even_is_cheaper(data):
    """On the way of counting per tray: with twice the cycles a tray costs less than the baseline's, with half more."""
    evaluation = evaluated(data)
    tried = 0
    for at, figures in enumerate(evaluation.media):
        if figures is evaluation.baseline or not figures.medium.reusable:
            continue
        cycles = against(evaluation, at, "per_tray").break_even
        base = evaluation.baseline.mix.medium_total
        if 1e-3 < cycles < 1e4:
            twice, half = (
                mix(trays_lasting(evaluation, at, cycles * factor), evaluation.shares, evaluation.reading, "")
                for factor in (2.0, 0.5)
            )
            assert twice.medium_total < base < half.medium_total
            tried += 1
    assume(tried)


# ------------------------------------------------------------------ losses


@some
@given(scenario_data(ranged=False), st.floats(0.001, 0.3))
def test_losing_more_never_makes_a_cycle_cheaper(data, more):
    reusables = [medium for medium in data["media"] if medium["use"] == "reusable"]
    assume(reusables)
    worse = copy.deepcopy(data)
    for medium in worse["media"]:
        if medium["use"] == "reusable":
            medium["loss_per_cycle"] = min(0.99, medium.get("loss_per_cycle", 0.0) + more)
    for old, new in zip(compared(data).media, compared(worse).media, strict=True):
        if old.use == "reusable":
            assert new.mean_cycles < old.mean_cycles or old.mean_cycles == 1.0
            if old.sheet_life_cost >= 0:
                before, after = old.cost_per_tray, new.cost_per_tray
                assert after["medium_total"] >= before["medium_total"] - 1e-9 * abs(before["medium_total"])
        assert new.sheets_needed == old.sheets_needed
        assert new.outlay == old.outlay


# ------------------------------------------------------------------ names and order


@some
@given(scenario_data())
def test_other_ids_and_names_change_nothing_else(data):
    renamed = copy.deepcopy(data)
    new_ids = {medium["id"]: f"medium {at} anew" for at, medium in enumerate(data["media"])}
    for medium in renamed["media"]:
        medium["id"], medium["name"] = new_ids[medium["id"]], f"{medium['name']}, renamed"
    for pair in renamed["pairs"]:
        pair["medium"] = new_ids[pair["medium"]]
    for trial in renamed.get("trials", []):
        for tray in trial["trays"]:
            tray["medium"] = new_ids[tray["medium"]]
    if "baseline" in renamed:
        renamed["baseline"] = new_ids[renamed["baseline"]]
    before, after = compared(data), compared(renamed)
    expected = dataclasses.replace(
        before,
        baseline=new_ids[before.baseline],
        best=before.best and new_ids[before.best],
        best_by_crop={crop: best and new_ids[best] for crop, best in before.best_by_crop.items()},
        media=tuple(
            dataclasses.replace(medium, id=new_ids[medium.id], name=f"{medium.name}, renamed") for medium in before.media
        ),
    )
    assert after == expected


@some
@given(scenario_data(), st.randoms(use_true_random=False))
def test_the_order_of_crops_is_only_an_order(data, random):
    assume(len(data["crops"]) > 1)
    shuffled = {**data, "crops": random.sample(data["crops"], len(data["crops"]))}
    before, after = comparison_json(compared(data)), comparison_json(compared(shuffled))
    for answer in (before, after):
        for medium in answer["media"]:
            medium["by_crop"].sort(key=lambda crop: crop["crop"])
    assert compare_answers(before, after, rel=1e-8) == []


# ------------------------------------------------------------------ a copy of the baseline


def with_copy(data, **changes):
    """The scenario with a copy of its baseline added at the end, on the same crops."""
    baseline = scenario_of(data).baseline_id
    twin = {**next(medium for medium in data["media"] if medium["id"] == baseline), "id": "the twin", **changes}
    pairs = [{**pair, "medium": "the twin"} for pair in data["pairs"] if pair["medium"] == baseline]
    return {**data, "baseline": baseline, "media": [*data["media"], twin], "pairs": [*data["pairs"], *pairs]}


@some
@given(scenario_data(with_trials=False))
def test_a_copy_that_owns_as_much_saves_nothing(data):
    """Same costs, same sheets in the drawer: no flow at all, and no figure that hints at one."""
    for medium in data["media"]:
        if medium["use"] == "reusable":
            medium.setdefault("owned_sheets", 40)
    comparison = compared(with_copy(data))
    twin, baseline = comparison.media[-1], comparison.medium(comparison.baseline)
    assert twin.cost_per_tray == baseline.cost_per_tray
    for basis in BASES:
        if isinstance(twin.saving_per_tray[basis], NoAnswer):
            assert twin.saving_per_tray[basis].kind is Kind.NO_HARVEST
            continue
        assert twin.saving_per_tray[basis] == 0
        assert set(twin.cash[basis].flows) == {0.0}
        assert twin.npv[basis] == 0
        assert twin.irr[basis].kind is Kind.NO_RATE
        assert twin.sir[basis].kind is Kind.NO_OUTLAY
        assert twin.payback_months[basis].simple == twin.payback_months[basis].discounted == 0
        assert twin.payback_months[basis].first_simple.kind is Kind.NEVER


@some
@given(
    scenario_data(with_trials=False),
    media_strategy("reusable of ours", ["the wash"], {"length_mm": 510, "width_mm": 255}),
)
def test_a_new_copy_of_a_baseline_in_use_costs_its_outlay(data, reusable):
    """The baseline's sheets are there and of mixed age; the copy's have to be bought, and are new.

    Nothing is saved by running it. New sheets wear out later than sheets of mixed age (never more than one
    replacement per mean life, renewal theory), so their owner is not worse off than by the outlay. They break even
    at just the cycles that they serve: what the sheet costs per cycle is what the baseline's costs.
    """
    assume(reusable["use"] == "reusable")
    reusable.pop("owned_sheets", None)
    data = {
        **data,
        "baseline": "reusable of ours",
        "tray": {"length_mm": 510, "width_mm": 255},
        "media": [*data["media"], reusable],
        "washes": [*data.get("washes", []), {"id": "the wash", "name": "Tub", "steps": [{"name": "Wash"}]}],
        "pairs": [
            *data["pairs"],
            *({"medium": "reusable of ours", "crop": crop["id"], "mean_g": 200} for crop in data["crops"]),
        ],
    }
    for medium in data["media"]:
        if "cut_from" in medium:
            medium["cut_from"] = {"length_mm": 60000, "width_mm": 2000}
    comparison = compared(with_copy(data))
    twin, baseline = comparison.media[-1], comparison.medium(comparison.baseline)
    assert (baseline.outlay, baseline.packs_to_buy) == (0, 0)
    assert twin.packs_to_buy >= twin.sheets_needed / twin.pieces
    for basis in BASES:
        if isinstance(twin.saving_per_tray[basis], NoAnswer):
            continue
        assert twin.saving_per_tray[basis] == 0
        flows = twin.cash[basis].flows
        assert flows[0] == -twin.outlay
        if twin.sheet_life_cost >= 0:
            assert twin.npv[basis] >= -twin.outlay - 1e-9 * sum(map(abs, flows))
        if twin.sheet_life_cost > 1e-6 * baseline.cost_per_tray["total"]:
            assert twin.break_even_cycles[basis] == pytest.approx(twin.mean_cycles, rel=1e-6)


# ------------------------------------------------------------------ sums and finite numbers


@some
@given(scenario_data())
def test_every_figure_is_a_finite_number_or_a_reason(data):
    for medium in compared(data).media:
        numbers = [value for _, value in walk(medium) if not isinstance(value, NoAnswer)]
        for flow in medium.cash.values():
            numbers += [*flow.flows, *flow.cycles, *flow.running, *flow.running_discounted, flow.tolerance]
        for line in medium.over_cycles.values():
            numbers += [line.start, line.per_cycle]
        assert all(math.isfinite(number) for number in numbers)
        assert all(why.strip() for why in medium.reasons.values())


@some
@given(scenario_data())
def test_lines_add_up(data):
    for medium in compared(data).media:
        cost = medium.cost_per_tray
        lines = [cost[line] for line in COST_LINES]
        assert close(sum(lines), cost["medium_total"], *lines)
        assert close(sum(group.of(cost) for group in COST_GROUPS), cost["medium_total"], *lines)
        totals = [cost[name] for name in ("medium_total", "crop_total", "per_kg_total")]
        assert close(sum(totals), cost["total"], *totals)
        assert close(medium.margin_per_shelf_day * medium.shelf_days, medium.margin_per_tray)
        if not isinstance(medium.cost_per_kg, NoAnswer):
            assert close(medium.cost_per_kg * medium.yield_kg_per_tray, cost["total"])
            assert close(medium.medium_cost_per_kg * medium.yield_kg_per_tray, cost["medium_total"])


@some
@given(scenario_data())
def test_flows_add_up(data):
    """Undiscounted flows end at the running total; the present value ends the discounted one."""
    for medium in compared(data).media:
        for basis, flow in medium.cash.items():
            assert close(sum(flow.flows), flow.running[-1], *flow.flows)
            assert close(flow.running_discounted[-1], medium.npv[basis], *flow.flows)
            assert all(after >= before for before, after in zip(flow.cycles, flow.cycles[1:], strict=False))


@some
@given(scenario_data())
def test_one_crop_is_the_mix(data):
    data = {**data, "crops": [crop for crop in data["crops"] if sum(crop["sowing"].values())][:1]}
    crop_id = data["crops"][0]["id"]
    data["pairs"] = [pair for pair in data["pairs"] if pair["crop"] == crop_id]
    data["trials"] = [trial for trial in data.get("trials", []) if trial["crop"] == crop_id]
    for medium in compared(data).media:
        (crop,) = medium.by_crop
        assert crop.crop == crop_id
        for name in (
            "yield_kg_per_tray",
            "cost_per_kg",
            "margin_per_tray",
            "shelf_days",
            "margin_per_shelf_day",
            "return_to_labour_per_hour",
        ):
            assert getattr(crop, name) == getattr(medium, name), name
        if not isinstance(medium.cost_per_kg_same_harvest, NoAnswer):
            assert close(medium.cost_per_kg_same_harvest, medium.cost_per_kg)


@some
@given(scenario_data())
def test_the_mix_lies_between_the_crops(data):
    """Averages of crops with the same weights throughout: trays sown."""
    comparison = compared(data)
    sown = {crop["id"]: sum(crop["sowing"].values()) for crop in data["crops"]}
    for medium in comparison.media:
        for name in ("yield_kg_per_tray", "margin_per_tray", "shelf_days"):
            parts = [sown[crop.crop] / comparison.trays_per_week * getattr(crop, name) for crop in medium.by_crop]
            assert close(sum(parts), getattr(medium, name), *parts)
