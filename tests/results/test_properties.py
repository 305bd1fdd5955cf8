"""What must hold for every scenario: laws that need no second reading of the method to judge the first."""

from __future__ import annotations

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
from mediacost.scenario import check, walk_fields
from tests.reference.compare_answers import compare_answers
from tests.strategies import amounts, scenario_data

some = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
"""Whole scenarios are slow to draw."""

WASH = "the wash of ours"
REUSABLE = "the reusable of ours"

reusables = st.fixed_dictionaries(
    {
        "id": st.just(REUSABLE),
        "name": st.just("A reusable"),
        "use": st.just("reusable"),
        "wash": st.just(WASH),
        "pack_price": amounts(10, 200),
        "pieces_per_pack": st.integers(1, 40),
        "sheet_mass_g": amounts(0, 300),
        "end_of_life": st.just("landfill"),
        "sheets_per_tray": st.integers(1, 2),
        "life_cycles": st.integers(1, 300),
        "loss_per_cycle": amounts(0, 0.1),
        "dry_days": st.integers(0, 3),
    }
)
"""A reusable medium that every scenario can take."""


def with_reusable(data, reusable):
    """The scenario with a reusable medium at the end, and the routine that washes it."""
    steps = [{"name": "Wash", "minutes_per_sheet": 0.5}]
    wash = {"id": WASH, "name": "Tub", "equipment_price": 300, "steps": steps}
    pairs = [{"medium": REUSABLE, "crop": crop["id"], "mean_g": 200} for crop in data["crops"]]
    return {
        **data,
        "media": [*data["media"], reusable],
        "washes": [*data.get("washes", []), wash],
        "pairs": [*data["pairs"], *pairs],
    }


def against_costly_paper(data, reusable):
    """The same, with a dear and poor single-use medium in use today: most scenarios then have a break-even."""
    paper = {
        "id": "paper of ours",
        "name": "Paper",
        "use": "single-use",
        "pack_price": 20,
        "pieces_per_pack": 1,
        "sheet_mass_g": 5,
        "end_of_life": "compost",
    }
    pairs = [{"medium": paper["id"], "crop": crop["id"], "mean_g": 150} for crop in data["crops"]]
    data = with_reusable(data, reusable)
    return {**data, "baseline": paper["id"], "media": [*data["media"], paper], "pairs": [*data["pairs"], *pairs]}


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
        ends = ("low", "likely", "high")
        return {name: times(each, factor) if name in ends else each for name, each in value.items()}
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
    assert {row.path[-1] for row in walk_fields() if row.description.unit.startswith("money")} == MONEY_FIELDS


# ------------------------------------------------------------------ break-even


@some
@given(scenario_data(), reusables)
def test_at_break_even_both_cost_the_same(data, reusable):
    """Each tray is costed anew, sheets lasting exactly the break-even cycles; the baseline's cost must come out."""
    evaluation = evaluated(against_costly_paper(data, reusable))
    tried = 0
    for at, figures in enumerate(evaluation.media):
        if not figures.medium.reusable:
            continue
        for basis in BASES:
            if basis == "same_harvest" and min(tray.yield_kg for tray in figures.by_crop) <= 0:
                continue
            cycles = against(evaluation, at, basis).break_even
            if 0 < cycles < math.inf:
                assert_same_cost(evaluation, at, basis, cycles)
                tried += 1
            if basis == "per_tray" and 1e-3 < cycles < 1e4:
                assert_cheaper_after(evaluation, at, cycles)
    assume(tried)


def assert_cheaper_after(evaluation, at, cycles):
    """With twice the cycles a tray costs less than the baseline's, with half of them more."""
    twice, half = (
        mix(trays_lasting(evaluation, at, cycles * factor), evaluation.shares, evaluation.reading, "")
        for factor in (2.0, 0.5)
    )
    assert twice.medium_total < evaluation.baseline.mix.medium_total < half.medium_total


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
@given(scenario_data(), reusables)
def test_running_saving_less_what_is_dated_is_the_whole_difference(data, reusable):
    """The running saving leaves out sheets and equipment. Put back, it is the difference of the published figures:

    medium costs per tray, the cost of a kilogram of today's harvest, the margin.
    """
    data = with_reusable(data, reusable)
    comparison, evaluation = compared(data), evaluated(data)
    base = comparison.medium(comparison.baseline)
    for at, medium in enumerate(comparison.media):
        if medium is base:
            continue
        for basis, saving in medium.saving_per_tray.items():
            if isinstance(saving, NoAnswer):
                continue
            if basis == "per_tray":
                parts = [base.cost_per_tray["medium_total"], -medium.cost_per_tray["medium_total"]]
            elif basis == "same_harvest":
                harvest = base.yield_kg_per_tray
                parts = [base.cost_per_kg_same_harvest * harvest, -medium.cost_per_kg_same_harvest * harvest]
            else:
                parts = [medium.margin_per_tray, -base.margin_per_tray]
            counts = trays_for_one(evaluation, at) if basis == "same_harvest" else [1.0] * len(medium.by_crop)
            ours, theirs = dated(evaluation, evaluation.media[at], counts), dated(evaluation, evaluation.baseline)
            parts += [ours, -theirs]
            assert close(saving, sum(parts), *parts, base.cost_per_tray["total"], medium.cost_per_tray["total"]), basis


def dated(evaluation, figures, counts=None):
    """What a reusable buys as dated items, per tray of the baseline: sheets over their life, and equipment."""
    if not figures.medium.reusable:
        return 0.0
    spread = [tray.sheet_wear + tray.equipment for tray in figures.by_crop]
    counts = counts or [1.0] * len(spread)
    return sum(share * count * each for share, count, each in zip(evaluation.shares, counts, spread, strict=True))


# ------------------------------------------------------------------ losses


@some
@given(scenario_data(ranged=False), reusables, st.floats(0.001, 0.3))
def test_losing_more_never_makes_a_cycle_cheaper(data, reusable, more):
    data = with_reusable(data, reusable)
    worse = [
        {**medium, "loss_per_cycle": min(0.99, medium.get("loss_per_cycle", 0.0) + more)}
        if medium["use"] == "reusable"
        else medium
        for medium in data["media"]
    ]
    for old, new in zip(compared(data).media, compared({**data, "media": worse}).media, strict=True):
        if old.use == "reusable":
            assert new.mean_cycles < old.mean_cycles or old.mean_cycles == 1.0
            if old.sheet_life_cost >= 0:
                before, after = old.cost_per_tray, new.cost_per_tray
                assert after["medium_total"] >= before["medium_total"] - 1e-9 * abs(before["medium_total"])
        assert new.sheets_needed == old.sheets_needed
        assert new.outlay == old.outlay


# ------------------------------------------------------------------ names and order


def renamed(data, new_ids):
    """The scenario with other ids and names for its media, built anew from top to bottom."""

    def with_new_medium(rows):
        return [{**row, "medium": new_ids[row["medium"]]} for row in rows]

    media = [{**each, "id": new_ids[each["id"]], "name": f"{each['name']}, renamed"} for each in data["media"]]
    trials = [{**trial, "trays": with_new_medium(trial["trays"])} for trial in data.get("trials", [])]
    anew = {**data, "media": media, "pairs": with_new_medium(data["pairs"]), "trials": trials}
    return anew | ({"baseline": new_ids[data["baseline"]]} if "baseline" in data else {})


@some
@given(scenario_data())
def test_other_ids_and_names_change_nothing_else(data):
    new_ids = {medium["id"]: f"medium {at} anew" for at, medium in enumerate(data["media"])}
    before, after = compared(data), compared(renamed(data, new_ids))
    media = [medium._replace(id=new_ids[medium.id], name=f"{medium.name}, renamed") for medium in before.media]
    assert after == before._replace(
        baseline=new_ids[before.baseline],
        best=before.best and new_ids[before.best],
        best_by_crop={crop: best and new_ids[best] for crop, best in before.best_by_crop.items()},
        media=tuple(media),
    )


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
@given(scenario_data(with_trials=False), reusables, st.booleans())
def test_a_copy_that_owns_as_much_saves_nothing(data, reusable, reused):
    """Same costs, same sheets in the drawer: no flow at all, and no figure that hints at one."""
    data = with_reusable(data, {**reusable, "owned_sheets": 40})
    for medium in data["media"]:
        if medium["use"] == "reusable":
            medium.setdefault("owned_sheets", 30)
    if reused:
        data["baseline"] = REUSABLE
    comparison = compared(with_copy(data))
    twin, baseline = comparison.media[-1], comparison.medium(comparison.baseline)
    assert twin.cost_per_tray == baseline.cost_per_tray
    for basis in BASES:
        if isinstance(twin.saving_per_tray[basis], NoAnswer):
            assert twin.saving_per_tray[basis].kind is Kind.NO_HARVEST
            continue
        assert twin.saving_per_tray[basis] == 0
        flows = twin.cash[basis].flows
        assert set(flows) == {0.0}
        assert twin.npv[basis] == 0
        assert twin.irr[basis].kind is Kind.NO_RATE
        assert twin.payback_months[basis].simple == twin.payback_months[basis].discounted == 0
        assert twin.payback_months[basis].first_simple.kind is Kind.NEVER
        assert twin.sir[basis].kind is Kind.NO_OUTLAY


@some
@given(scenario_data(with_trials=False), reusables)
def test_a_new_copy_of_a_baseline_in_use_costs_its_outlay(data, reusable):
    """The baseline's sheets are there and of mixed age; the copy's have to be bought, and are new.

    Nothing is saved by running it. New sheets wear out later than sheets of mixed age (never more than one
    replacement per mean life, renewal theory), so their owner is not worse off than by the outlay. They break even
    at just the cycles that they serve: what the sheet costs per cycle is what the baseline's costs.
    """
    data = {**with_reusable(data, reusable), "baseline": REUSABLE}
    comparison = compared(with_copy(data))
    twin, baseline = comparison.media[-1], comparison.medium(REUSABLE)
    assert (baseline.outlay, baseline.packs_to_buy) == (0, 0)
    assert twin.packs_to_buy >= twin.sheets_needed / twin.pieces
    for basis in BASES:
        if isinstance(twin.saving_per_tray[basis], NoAnswer):
            assert twin.saving_per_tray[basis].kind is Kind.NO_HARVEST
            continue
        assert twin.saving_per_tray[basis] == 0
        flows = twin.cash[basis].flows
        assert flows[0] == -twin.outlay < 0
        assert twin.npv[basis] >= -twin.outlay - 1e-9 * sum(map(abs, flows))
        wear = twin.sheet_life_cost / twin.mean_cycles
        slack = 1e-14 * (abs(twin.margin_per_tray) + twin.cost_per_tray["total"]) / wear
        assert twin.break_even_cycles[basis] == pytest.approx(twin.mean_cycles, rel=1e-9 + 10 * slack)


# ------------------------------------------------------------------ sums and finite numbers


@some
@given(scenario_data())
def test_every_figure_is_finite_and_every_sum_adds_up(data):
    comparison = compared(data)
    sown = {crop["id"]: sum(crop["sowing"].values()) for crop in data["crops"]}
    for medium in comparison.media:
        assert_finite(medium)
        assert_lines_add_up(medium)
        assert_flows_add_up(medium)
        for name in ("yield_kg_per_tray", "margin_per_tray", "shelf_days"):
            parts = [sown[crop.crop] / comparison.trays_per_week * getattr(crop, name) for crop in medium.by_crop]
            assert close(sum(parts), getattr(medium, name), *parts)


def assert_finite(medium):
    """Every figure is a finite number, or a reason in words."""
    numbers = [value for _, value in walk(medium) if not isinstance(value, NoAnswer)]
    for flow in medium.cash.values():
        numbers += [*flow.flows, *flow.cycles, *flow.running, *flow.running_discounted, flow.tolerance]
    for line in medium.over_cycles.values():
        numbers += [line.start, line.per_cycle]
    assert all(math.isfinite(number) for number in numbers)
    assert all(why.strip() for why in medium.reasons.values())


def assert_lines_add_up(medium):
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


def assert_flows_add_up(medium):
    """Undiscounted flows end at the running total; the present value ends the discounted one."""
    for basis, flow in medium.cash.items():
        assert close(sum(flow.flows), flow.running[-1], *flow.flows)
        assert close(flow.running_discounted[-1], medium.npv[basis], *flow.flows)
        assert all(after >= before for before, after in zip(flow.cycles, flow.cycles[1:], strict=False))


@some
@given(scenario_data())
def test_one_crop_is_the_mix(data):
    (first, *_) = [crop for crop in data["crops"] if sum(crop["sowing"].values())]
    data = {**data, "crops": [first]}
    for rows in ("pairs", "trials"):
        data[rows] = [row for row in data.get(rows, []) if row["crop"] == first["id"]]
    for medium in compared(data).media:
        (crop,) = medium.by_crop
        assert crop.crop == first["id"]
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
