"""Hold the second reading to figures worked by hand, so that it may judge the package.

All scenarios are invented. The arithmetic stands beside each figure.
"""

from __future__ import annotations

import copy
import json
import math
from typing import Any

import pytest

from tests.reference.compare_answers import compare_answers
from tests.reference.plain_cash import internal_rate, net_present_value, paybacks
from tests.reference.plain_media import candidate_of, plain_mean_is_enough, setting_of
from tests.reference.plain_model import (
    cycles_by_month,
    plain_answer,
    purchases_by_month,
    trays_by_month,
)
from tests.reference.plain_sheets import expected_replacements, follow_the_sheets, mean_cycles_of

MON, THU, SAT = 0, 3, 5
WORKING_WEEK = {0, 1, 2, 3, 4}

PAPER_OR_STEEL: dict[str, Any] = {
    "format": 1,
    "title": "Invented: paper or steel",
    "currency": "EUR",
    "room": {
        "labour_rate": 30,  # 0.50 a minute
        "water_price": 5,  # 0.005 a litre
        "energy_price": 0.3,
        "heat_price": {"low": 0.05, "likely": 0.1, "high": 0.2},
        "landfill_fee": 0.2,
        "compost_fee": 0.1,
        "discount_rate": 0,
        "horizon_months": 12,
        "weeks_per_year": 48,  # 4 weeks a month: 160 trays
        "heater_efficiency": 1.0,
    },
    "tray": {"length_mm": 500, "width_mm": 250},
    "crops": [
        {
            "id": "radish",
            "name": "Radish",
            "sowing": {"mon": 20, "thu": 20},
            "days_in_tray": 10,
            "blackout_days": 3,
            "seed_g_per_tray": 40,
            "seed_price_per_kg": 25,
            "sell_price_per_kg": 40,
            "loss_share": 0.1,
            "grow_minutes_per_tray": 6,
            "light_kwh_per_day": 0.2,
            "other_cost_per_tray": 0.05,
            "pack_cost_per_kg": 2,
            "pack_minutes_per_kg": 6,
        }
    ],
    "media": [
        {
            "id": "paper",
            "name": "Paper",
            "use": "single-use",
            "pack_price": 45,
            "delivery_per_pack": 5,
            "pieces_per_pack": 100,
            "sheet_mass_g": 20,
            "end_of_life": "compost",
            "prep_minutes_per_tray": 1,
            "crop_water_l_per_tray": 2,
            "spent_mass_g_per_tray": 580,
        },
        {
            "id": "steel",
            "name": "Steel",
            "use": "reusable",
            "pack_price": 20,
            "pieces_per_pack": 10,
            "sheet_mass_g": 200,
            "end_of_life": "scrap",
            "scrap_value_per_kg": 1,
            "prep_minutes_per_tray": 0.6,
            "crop_water_l_per_tray": 1,
            "spent_mass_g_per_tray": 300,
            "life_cycles": 10,
            "wash": "tubs",
        },
    ],
    "washes": [
        {
            "id": "tubs",
            "name": "Tubs",
            "equipment_price": 192,
            "equipment_years": 2,
            "steps": [
                {"name": "Brush", "minutes_per_sheet": 0.2, "litres_per_sheet": 1},
                {
                    "name": "Soak",
                    "sheets_per_batch": 12,
                    "minutes_per_batch": 1,
                    "litres_per_batch": 12,
                    "cost_per_batch": 0.12,
                    "temperature_c": 42,
                },
                {
                    "name": "Sanitise",
                    "minutes_per_wash_day": 4,
                    "litres_per_wash_day": 10,
                    "sanitiser": {
                        "product": "Invented",
                        "price_per_l": 5,
                        "stock_ppm": 50000,
                        "target_ppm": 100,
                    },
                },
            ],
        }
    ],
    "pairs": [
        {"medium": "paper", "crop": "radish", "mean_g": 300},
        {"medium": "steel", "crop": "radish", "mean_g": 270},
    ],
}

TWO_CROPS: dict[str, Any] = {
    "format": 1,
    "title": "Invented: each medium has its crop",
    "currency": "EUR",
    "room": {
        "labour_rate": 20,
        "water_price": 0,
        "energy_price": 0,
        "discount_rate": 0.1,
        "horizon_months": 13,
        "weeks_per_year": 48,
        "start_month": 12,
        "season": [1] * 11 + [1.5],  # mean 12.5/12
        "spare_share": 0,
    },
    "tray": {"length_mm": 500, "width_mm": 250},
    "crops": [
        {"id": crop, "name": crop, "sowing": sowing, "days_in_tray": 7}
        | {"seed_g_per_tray": 100, "seed_price_per_kg": 10, "sell_price_per_kg": 20}
        for crop, sowing in (("x", {"mon": 30}), ("y", {"mon": 10, "tue": 0}), ("idle", {"mon": 0}))
    ],
    "media": [
        {
            "id": "mat",
            "name": "Mat",
            "use": "single-use",
            "pack_price": 12,
            # 2000 x 760 by 500 x 250: 4 * 3 = 12 pieces one way, 8 * 1 = 8 the other
            "cut_from": {"length_mm": 2000, "width_mm": 760},
            "sheet_mass_g": 0,
            "end_of_life": "compost",
        },
        {
            "id": "mesh",
            "name": "Mesh",
            "use": "reusable",
            "pack_price": 21,
            "pieces_per_pack": 7,
            "sheet_mass_g": 0,
            "end_of_life": "scrap",
            "life_cycles": 2,
            "loss_per_cycle": 0.5,
            "wash": "hose",
            "dry_days": 0,
            "owned_sheets": 10,
        },
    ],
    "washes": [{"id": "hose", "name": "Hose", "equipment_price": 96, "equipment_years": 1}],
    "pairs": [
        {"medium": "mat", "crop": "x", "mean_g": 100},
        {"medium": "mat", "crop": "y", "mean_g": 200},
        {"medium": "mesh", "crop": "x", "mean_g": 200},
        {"medium": "mesh", "crop": "y", "mean_g": 100},
    ],
}

STEEL_TODAY: dict[str, Any] = copy.deepcopy(PAPER_OR_STEEL) | {"baseline": "steel"}


def medium_of(answer: dict[str, Any], identity: str) -> dict[str, Any]:
    return next(medium for medium in answer["media"] if medium["id"] == identity)


@pytest.fixture(scope="module")
def paper() -> dict[str, Any]:
    return medium_of(plain_answer(PAPER_OR_STEEL), "paper")


@pytest.fixture(scope="module")
def steel() -> dict[str, Any]:
    return medium_of(plain_answer(PAPER_OR_STEEL), "steel")


@pytest.fixture(scope="module")
def mesh() -> dict[str, Any]:
    return medium_of(plain_answer(TWO_CROPS), "mesh")


# ---- the week: common practice, no source


@pytest.mark.parametrize("dry_days", [1, 2])
def test_a_ten_day_crop_sown_twice_a_week_keeps_four_sowings_away(dry_days: int) -> None:
    # Monday's 20 are cut on Thursday of the next week; Thursday's, due on a Sunday, on the Monday after it.
    # On a Monday four sowings are away: of today, last Thursday, last Monday, and the Thursday before (cut
    # today and wet): 80.
    week = follow_the_sheets([("c", MON, 20, 10), ("c", THU, 20, 10)], WORKING_WEEK, WORKING_WEEK, dry_days)
    assert max(week.trays_away) == 80
    assert week.trays_washed == [20, 0, 0, 20, 0, 0, 0]
    assert week.days_in_tray == {"c": 10.5}  # (10 + 11) / 2


def test_washing_on_saturdays_only_keeps_a_fifth_sowing_away() -> None:
    # Thursday's sheets of two weeks ago, cut on Monday, lie until Saturday, beside two Mondays' and two
    # Thursdays'.
    week = follow_the_sheets([("c", MON, 20, 10), ("c", THU, 20, 10)], WORKING_WEEK, {SAT}, 1)
    assert max(week.trays_away) == 100
    assert week.trays_washed == [0, 0, 0, 0, 0, 40, 0]


def test_sheets_washed_and_sown_the_same_day_need_no_second_set() -> None:
    week = follow_the_sheets([("c", MON, 40, 7)], WORKING_WEEK, WORKING_WEEK, 0)
    assert week.trays_away == [40] * 7


# ---- the life of a sheet


@pytest.mark.parametrize(
    ("rated_life", "loss", "mean"),
    [(100, 0.0, 100), (2, 0.5, 1.5), (3, 0.1, 1 + 0.9 + 0.81), (1, 0.3, 1)],
)
def test_mean_cycles_is_the_sum_of_the_chances_to_serve_each(rated_life: int, loss: float, mean: float) -> None:
    assert mean_cycles_of(rated_life, loss) == pytest.approx(mean, rel=1e-14)


def test_replacements_by_hand() -> None:
    # N 2, q 0.5: u = 0.5; 0.5 + 0.25 * 1 = 0.75; 0.5 + 0.25 * 0.5 = 0.625; 0.5 + 0.25 * 0.75 = 0.6875
    sums = [0, 0.5, 1.25, 1.875, 2.5625]
    assert [expected_replacements(n, 2, 0.5) for n in range(5)] == sums
    assert expected_replacements(3.5, 2, 0.5) == 1.875 + 0.6875 / 2
    # Nothing is lost: one replacement after each whole life.
    assert [expected_replacements(n, 10, 0.0) for n in (9, 9.5, 10, 19, 20)] == [0, 0.5, 1, 1, 2]
    # A life that never ends: n * q failures in n cycles (geometric; Barlow and Proschan 1965, from memory).
    assert expected_replacements(40, 1000, 0.05) == pytest.approx(2)


# ---- first scenario: every cost line


def test_costs_of_single_use(paper: dict[str, Any]) -> None:
    assert paper["sheet_price"] == 0.5  # (45 + 5) / 100
    lines = paper["cost_per_tray"]
    assert lines["prep_labour"] == 0.5  # 1 min
    assert lines["crop_water"] == pytest.approx(0.01)  # 2 l * 0.005
    assert lines["disposal"] == pytest.approx(0.06)  # (20 g + 580 g) * 0.1 per kg
    assert lines["medium_total"] == pytest.approx(1.07)
    # seed 1.00 + growing 3.00 + light 0.2 kWh * (10.5 - 3) days * 0.3 = 0.45 + other 0.05
    assert lines["crop_total"] == pytest.approx(4.5)
    # 0.27 kg * (2 + 6 min * 0.5)
    assert lines["per_kg_total"] == pytest.approx(1.35)
    assert paper["yield_kg_per_tray"] == pytest.approx(0.27)  # 0.3 * 0.9
    assert paper["cost_per_kg"] == pytest.approx(6.92 / 0.27)
    assert paper["margin_per_tray"] == pytest.approx(10.8 - 6.92)
    assert paper["margin_per_shelf_day"] == pytest.approx(3.88 / 7.5)
    assert paper["labour_minutes_per_tray"] == pytest.approx(1 + 6 + 6 * 0.27)
    assert paper["return_to_labour_per_hour"] == pytest.approx((3.88 + 4.31) / (8.62 / 60))


def test_washing_per_tray(steel: dict[str, Any]) -> None:
    # 20 sheets on Monday, 20 on Thursday. Brush 0.2 min, 1 l. Soak 2 + 2 batches for 40 sheets: 0.1 min,
    # 1.2 l. Sanitise 2 * 4 min / 40 = 0.2 min; 2 * 10 l / 40 = 0.5 l, of it 0.001 l product.
    assert steel["wash_minutes_per_tray"] == pytest.approx(0.5)
    assert steel["wash_litres_per_tray"] == pytest.approx(2.699)
    assert steel["wash_kwh_per_tray"] == pytest.approx(1.2 * 4.186 * 30 / 3600)  # 0.04186


def test_cost_lines_of_a_reusable(steel: dict[str, Any]) -> None:
    expected = {
        "sheet": 0.2,  # 2.00 / 10 cycles
        "prep_labour": 0.3,
        "wash_labour": 0.25,
        "wash_water": 0.013495,  # 2.699 l * 0.005
        "wash_energy": 0.004186,  # 0.04186 kWh * 0.1
        "sanitiser": 0.005,  # 0.001 l * 5
        "consumables": 0.012,  # 4 * 0.12 / 40
        "equipment": 0.05,  # 192 / (2 years * 40 * 48)
        "crop_water": 0.005,
        "disposal": 0.01,  # 0.3 kg * 0.1 - 0.2 kg * 1 / 10
        "medium_total": 0.849681,
        "crop_total": 4.5,
        "per_kg_total": 1.215,  # 0.243 kg * 5
        "total": 6.564681,
    }
    assert steel["cost_per_tray"] == pytest.approx(expected)
    assert list(steel["cost_per_tray"]) == list(expected)
    assert steel["sheet_life_cost"] == pytest.approx(1.8)  # 2 - 0.2 kg * 1


def test_saving_and_break_even(steel: dict[str, Any]) -> None:
    # running 0.849681 - 1.8/10 - 0.05 = 0.619681; k = 0.27/0.243 = 10/9
    assert steel["saving_per_tray"] == pytest.approx(
        {
            "per_tray": 1.07 - 0.619681,
            "same_harvest": 6.92 - 10 / 9 * 6.334681,
            "sell_extra": (9.72 - 6.334681) - 3.88,
        }
    )
    # 1.8 / (1.07 - 0.619681 - 0.05) = 1.8 / 0.400319; the other two save nothing: never
    expected = {"per_tray": pytest.approx(4.496414), "same_harvest": None, "sell_extra": None}
    assert steel["break_even_cycles"] == expected
    assert steel["break_even_life"] == expected  # nothing is lost early
    assert plain_answer(PAPER_OR_STEEL)["best"] == "paper"


def test_sheets_to_buy(steel: dict[str, Any]) -> None:
    assert steel["sheets_needed"] == 88  # 80 * 1.1, not 89 for dust
    assert steel["packs_to_buy"] == 9
    assert steel["outlay"] == 9 * 20 + 192


def test_cash_flow_of_one_year(steel: dict[str, Any]) -> None:
    # 160 trays * 0.450319 = 72.05104 a month, 160/88 cycles each. Month 5 reaches cycle 9.0909: 0.0909 * 88
    # = 8 sheets at 1.80; month 6 the other 80; month 11 reaches cycle 20: all 88 again. From -372 the month
    # ends are -299.95 -227.90 -155.85 -83.79584 -26.1448 -98.09376 -26.04272 46.00832 118.06 190.11 103.76144
    # 175.81248.
    simple = 7 + 26.04272 / 72.05104
    payback = steel["payback_months"]["per_tray"]
    assert payback == pytest.approx(dict.fromkeys(payback, simple))
    assert steel["payback_cycles"]["per_tray"] == pytest.approx(simple * 160 / 88)
    assert steel["npv"]["per_tray"] == pytest.approx(175.81248)
    assert steel["sir"]["per_tray"] == pytest.approx((372 + 175.81248) / 372)


def test_the_baseline_and_single_use_have_nulls_with_reasons(paper: dict[str, Any], steel: dict[str, Any]) -> None:
    assert "saving_per_tray.sell_extra" in paper["reasons"]
    assert "payback_months.per_tray.first_discounted" in paper["reasons"]
    assert len(paper["reasons"]) == 3 * (7 + 4)
    assert "break_even_life.same_harvest" in steel["reasons"]
    assert "break_even_life.per_tray" not in steel["reasons"]


# ---- second scenario: a mix, early loss, owned sheets, season


def test_ratios_are_ratios_of_averages(mesh: dict[str, Any]) -> None:
    # yield 0.75 * 0.2 + 0.25 * 0.1; total = seed 1 + sheet 3/1.5 + equipment 96/(40 * 48 * 12.5/12) = 0.048
    assert mesh["yield_kg_per_tray"] == pytest.approx(0.175)
    assert mesh["cost_per_tray"]["equipment"] == pytest.approx(0.048)
    assert mesh["cost_per_kg"] == pytest.approx(3.048 / 0.175)
    # k 0.5 and 2: K = 0.75 * 0.5 + 0.25 * 2 = 0.875, over the mat's 0.125 kg
    assert mesh["cost_per_kg_same_harvest"] == pytest.approx(0.875 * 3.048 / 0.125)
    assert [entry["crop"] for entry in mesh["by_crop"]] == ["x", "y"]
    assert [entry["cost_per_kg"] for entry in mesh["by_crop"]] == pytest.approx([15.24, 30.48])
    assert mesh["return_to_labour_per_hour"] is None


def test_saving_of_a_mix(mesh: dict[str, Any]) -> None:
    # per tray 1 - 0; same harvest 2 - 0.875 * 1; selling (3.5 - 1) - (2.5 - 2)
    assert mesh["saving_per_tray"] == pytest.approx({"per_tray": 1, "same_harvest": 1.125, "sell_extra": 2})
    assert mesh["break_even_cycles"] == pytest.approx(
        {"per_tray": 3 / 0.952, "same_harvest": 0.875 * 3 / (2 - 0.875 * 1.048), "sell_extra": 3 / 1.952}
    )
    # half is lost each cycle: no rated life gives a mean of 2 or more
    life = math.log(1 - 1.5 / 1.952) / math.log(0.5)
    expected = {"per_tray": None, "same_harvest": None, "sell_extra": pytest.approx(life)}
    assert mesh["break_even_life"] == expected


def test_best_on_the_mix_and_on_each_crop() -> None:
    answer = plain_answer(TWO_CROPS)
    assert (answer["best"], answer["best_by_crop"]) == ("mat", {"x": "mesh", "y": "mat"})
    barred = copy.deepcopy(TWO_CROPS)
    barred["media"][0]["conditions"] = [{"what": "Allowed", "met": "no"}]
    assert plain_answer(barred)["best"] == "mesh"
    barred["media"][1]["conditions"] = [{"what": "Allowed", "met": "no"}]
    assert plain_answer(barred)["best"] is None
    shelf = copy.deepcopy(TWO_CROPS)
    shelf["room"]["limit"] = "shelf"  # margins per tray 0.5 and 3.5 - 3.048
    assert (plain_answer(shelf)["best"], plain_answer(shelf)["basis"]) == ("mat", "sell_extra")


def test_replacements_of_owned_and_new_sheets_and_of_equipment() -> None:
    setting = setting_of(TWO_CROPS)
    mesh = candidate_of(setting, setting.scenario["media"][1])
    assert (mesh.sheets_needed, mesh.owned_in_use, mesh.packs) == (60, 10, 8)  # 40 * 1.5; 50 / 7
    trays = trays_by_month(setting)
    assert trays == pytest.approx([0, 240] + [160] * 11 + [240])
    cycles = cycles_by_month(mesh, trays, 0.875)
    assert cycles[1] == pytest.approx(3.5)  # 240 * 0.875 / 60
    # 10 owned at 3.5/1.5, 50 new at R(3.5) = 2.21875, at 3.00
    spent = purchases_by_month(mesh, cycles)
    assert spent[1] == pytest.approx(3 * (10 * 3.5 / 1.5 + 50 * 2.21875))
    # In the long run each position takes 1/1.5 sheets a cycle; month 12 buys the equipment again, too.
    a_month = 3 * 60 * (160 * 0.875 / 60) / 1.5
    assert spent[11] == pytest.approx(a_month, rel=2e-3)
    assert spent[12] == pytest.approx(a_month + 96, rel=2e-3)


def test_equipment_is_not_bought_again_at_the_horizon() -> None:
    shorter = copy.deepcopy(TWO_CROPS)
    shorter["room"]["horizon_months"] = 12
    setting = setting_of(shorter)
    mesh = candidate_of(setting, setting.scenario["media"][1])
    cycles = cycles_by_month(mesh, trays_by_month(setting), 1.0)
    assert max(purchases_by_month(mesh, cycles)[2:]) < 3 * 60 * (160 / 60) / 1.5 * 1.05


# ---- third scenario: the reusable is what lies in the trays today


def test_a_reusable_baseline_owns_its_sheets_and_its_equipment() -> None:
    answer = plain_answer(STEEL_TODAY)
    steel, paper = medium_of(answer, "steel"), medium_of(answer, "paper")
    assert (steel["packs_to_buy"], steel["outlay"], steel["cost_per_tray"]["equipment"]) == (0, 0, 0)
    # Steel's sheets, of mixed age, wear out evenly: 160/88 cycles * 88 / 10 = 16 sheets a month at 1.80 =
    # 28.80, which paper spares; its running cost is 0.450319 more.
    assert paper["saving_per_tray"]["per_tray"] == pytest.approx(-0.450319)
    assert paper["npv"]["per_tray"] == pytest.approx(12 * (28.8 - 160 * 0.450319))
    assert paper["payback_months"]["per_tray"]["simple"] is None
    assert paper["payback_cycles"]["per_tray"] is None
    assert paper["break_even_cycles"]["sell_extra"] is None
    assert paper["sir"]["per_tray"] is None  # nothing is laid out
    # Selling more: 160 * 0.494681 + 28.80 from the first month on, no outlay.
    assert paper["payback_months"]["sell_extra"] == {
        "simple": 0, "discounted": 0, "first_simple": 0, "first_discounted": 0
    }  # fmt: skip


# ---- cash


def test_rates_of_return_published() -> None:
    # Gitman, Principles of Managerial Finance, 3rd brief ed. (2003), p. 348 (second hand); here by the month
    for flows, rate in (([-100, 39, 59, 55, 20], 0.28095), ([-100, 0, 0, 74], -0.0955)):
        found = internal_rate([float(flow) for flow in flows])
        assert found is not None
        assert (1 + found) ** (1 / 12) - 1 == pytest.approx(rate, abs=5e-5)


def test_net_present_value_published() -> None:
    # Gitman, p. 346 (second hand): 8 % a period, here a year
    flows = [0.0] * 49
    flows[::12] = [-40000, 5000, 8000, 12000, 30000]
    assert net_present_value(flows, 0.08) == pytest.approx(3065.22267, abs=1e-5)


@pytest.mark.parametrize(
    ("flows", "rate"),
    [
        ([-1.0, -2.0], None),
        ([0.0, 0.0], None),
        ([0.0, 3.0], None),
        ([-100.0, 230.0, -132.0], None),  # 10 % and 20 % a month: no single rate
        ([-100.0, 100.0], 0.0),
        ([-100.0, 0.0, 121.0], 1.1**12 - 1),
    ],
)
def test_rate_of_return_by_hand(flows: list[float], rate: float | None) -> None:
    assert internal_rate(flows) == (rate if rate is None else pytest.approx(rate, abs=1e-9))


@pytest.mark.parametrize(
    ("flows", "for_good", "first"),
    [
        ([-100.0, 60.0, 80.0], 1.5, 1.5),
        ([-100.0, 150.0, -100.0, 100.0], 2.5, 100 / 150),  # back under water once: sums -100, 50, -50, 50
        ([-100.0, 150.0, -100.0], None, 100 / 150),
        ([0.0, 5.0], 0.0, 0.0),
        ([0.0, 0.0], 0.0, None),
        ([-1.0, 1.0], 1.0, None),
        ([10.0, -4.0, 1.0], 0.0, 0.0),
        ([-1.0, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1 - 1e-12], 10.0, None),  # dust is not debt
    ],
)
def test_payback_by_hand(flows: list[float], for_good: float | None, first: float | None) -> None:
    found = paybacks(flows, 0.0)
    expected_good = for_good if for_good is None else pytest.approx(for_good)
    expected_first = first if first is None else pytest.approx(first)
    assert (found["simple"], found["discounted"]) == (expected_good, expected_good)
    assert (found["first_simple"], found["first_discounted"]) == (expected_first, expected_first)


# ---- harvest and nulls


def test_weighed_trays_beat_the_typed_mean() -> None:
    scenario = copy.deepcopy(PAPER_OR_STEEL)
    trays: list[dict[str, Any]] = [
        {"tray": "1", "medium": "paper", "harvest_g": 210, "tare_g": 10},
        {"tray": "2", "medium": "paper", "harvest_g": 220},
        {"tray": "3", "medium": "paper", "harvest_g": 0, "failed": True},
        {"tray": "4", "medium": "paper", "harvest_g": 900, "guard": True},
        {"tray": "5", "medium": "paper", "harvest_g": 5, "discard": True, "note": "dropped"},
        {"tray": "6", "medium": "paper"},
    ]
    unused = {
        "id": "old",
        "crop": "radish",
        "use": False,
        "trays": [{"tray": "1", "medium": "paper", "harvest_g": 1}],
    }
    scenario["trials"] = [{"id": "t", "crop": "radish", "trays": trays}, unused]
    answer = plain_answer(scenario)
    assert medium_of(answer, "paper")["yield_kg_per_tray"] == pytest.approx(0.21 * 0.9)  # (200 + 220) / 2
    assert medium_of(answer, "steel")["yield_kg_per_tray"] == pytest.approx(0.27 * 0.9)
    assert plain_mean_is_enough(scenario)
    trays[0]["block"] = "top"
    assert plain_mean_is_enough(scenario)  # one tray in each of two blocks
    trays.append({"tray": "7", "medium": "paper", "block": "top", "harvest_g": 200})
    assert not plain_mean_is_enough(scenario)


def test_no_saleable_yield() -> None:
    scenario = copy.deepcopy(PAPER_OR_STEEL)
    scenario["pairs"][1] |= {"failed_share": 1}
    steel = medium_of(plain_answer(scenario), "steel")
    nulls = {"cost_per_kg", "cost_per_kg_same_harvest", "medium_cost_per_kg", "by_crop.radish.cost_per_kg"}
    assert nulls <= steel["reasons"]
    nulls = {f"{figure}.same_harvest" for figure in ("saving_per_tray", "npv", "irr", "sir")}
    assert nulls <= steel["reasons"]
    assert steel["margin_per_tray"] == pytest.approx(-(0.849681 + 4.5))
    assert steel["saving_per_tray"]["per_tray"] is not None


# ---- comparing two answers


def as_printed(scenario: dict[str, Any]) -> dict[str, Any]:
    """Return the answer as a command line would print it, with words for reasons."""
    answer = plain_answer(scenario)
    for medium in answer["media"]:
        medium["reasons"] = {path.replace(".radish.", "[0]."): "for a reason" for path in medium["reasons"]}
    return json.loads(json.dumps(answer))


@pytest.mark.parametrize("scenario", [PAPER_OR_STEEL, TWO_CROPS, STEEL_TODAY])
def test_an_answer_agrees_with_itself(scenario: dict[str, Any]) -> None:
    assert compare_answers(plain_answer(scenario), as_printed(scenario)) == []


def test_every_kind_of_difference_is_named() -> None:
    actual = as_printed(PAPER_OR_STEEL)
    paper, steel = actual["media"]
    actual["best"] = None
    actual["trays_per_week"] *= 1 + 1e-8
    paper["npv"]["per_tray"] = 0.0
    del paper["reasons"]["sir.per_tray"]
    paper["reasons"]["irr.per_tray"] = " "
    steel["reasons"]["outlay"] = "an answer needs none"
    steel["cost_per_tray"]["sheet"] *= 1 + 1e-12
    steel["use"] = "single-use"
    steel["by_crop"] = []
    steel["extra"] = 1
    del steel["pieces"]
    lines = compare_answers(plain_answer(PAPER_OR_STEEL), actual)
    assert [line.split(": ", 1)[0] for line in lines] == [
        "best",
        "trays_per_week",
        "media[paper].npv.per_tray",
        "media[paper].reasons",
        "media[paper].reasons",
        "media[steel].use",
        "media[steel].pieces",
        "media[steel].by_crop",
        "media[steel].reasons",
        "media[steel].extra",
    ]
