"""The records of an answer: missing figures carry the right reason, and a ranking obeys its rules."""

from __future__ import annotations

import pytest

from mediacost.results import NoAnswer
from mediacost.results.answers import Kind, walk
from tests.results.samples import comparison, odd_scenarios, scenario


def kind(answer: object) -> Kind | None:
    return answer.kind if isinstance(answer, NoAnswer) else None


def test_medium_by_id():
    answer = comparison()
    assert answer.medium("steel").name == "Steel mesh"
    with pytest.raises(KeyError):
        answer.medium("stel")


def test_walk_names_each_figure_once():
    paths = [path for path, _ in walk(comparison("two_crop_room").medium("steel"))]
    assert len(paths) == len(set(paths))
    assert "payback_months.sell_extra.first_simple" in paths
    assert "by_crop.pea.cost_per_kg" in paths
    assert not any(path.startswith(("cash", "over_cycles")) for path in paths)


def test_single_use_has_no_break_even_but_a_payback():
    mat = comparison("two_crop_room").medium("mat")
    assert kind(mat.break_even_cycles["per_tray"]) is Kind.SINGLE_USE
    assert kind(mat.break_even_life["per_tray"]) is Kind.SINGLE_USE
    assert kind(mat.payback_cycles["per_tray"]) is Kind.SINGLE_USE
    assert mat.payback_months["per_tray"].simple == 0
    assert kind(mat.sir["per_tray"]) is Kind.NO_OUTLAY


def test_nothing_saleable():
    steel = comparison("small_room", (("pairs", 1, "mean_g"), 0)).medium("steel")
    assert kind(steel.cost_per_kg) is Kind.NO_HARVEST
    assert kind(steel.npv["same_harvest"]) is Kind.NO_HARVEST
    assert kind(steel.npv["per_tray"]) is None
    assert kind(steel.by_crop[0].cost_per_kg) is Kind.NO_HARVEST
    assert steel.margin_per_tray == pytest.approx(-steel.cost_per_tray["total"])


def test_no_labour_has_no_return_to_it():
    from mediacost.results import compare

    answer = compare(odd_scenarios()["no minutes"])
    assert {kind(medium.return_to_labour_per_hour) for medium in answer.media} == {Kind.NO_LABOUR}


def test_lost_too_often():
    steel = comparison("small_room", (("media", 1, "loss_per_cycle"), 0.03)).medium("steel")
    assert kind(steel.break_even_cycles["same_harvest"]) is None
    assert kind(steel.break_even_life["same_harvest"]) is Kind.LOST_TOO_OFTEN


def test_a_condition_answered_no_keeps_the_medium_out_of_the_ranking_but_in_the_list():
    before = comparison("small_room")
    assert before.best == "steel"
    conditions = [{"what": "Allowed under our certificate", "met": "no"}]
    after = comparison("small_room", (("media", 1, "conditions"), conditions))
    assert after.best != "steel"
    assert after.best_by_crop == {"radish": after.best}
    assert after.medium("steel").excluded
    assert after.medium("steel").cost_per_kg == before.medium("steel").cost_per_kg


def test_all_ruled_out_leaves_nobody_best():
    conditions = [{"what": "Allowed", "met": "no"}]
    answer = comparison("small_room", *[(("media", at, "conditions"), conditions) for at in range(3)])
    assert answer.best is None
    assert answer.best_by_crop == {"radish": None}


@pytest.mark.parametrize("limit", ["market", "shelf", "labour"])
def test_equal_media_are_ranked_in_the_order_of_the_file(limit):
    document = scenario("small_room").model_dump(exclude_unset=True)
    twin = {**document["media"][1], "id": "twin", "name": "Twin"}
    pair = {**document["pairs"][1], "medium": "twin"}
    answer = comparison(
        "small_room",
        (("room", "limit"), limit),
        (("media",), [twin, *document["media"]]),
        (("pairs",), [*document["pairs"], pair]),
        (("media", 1, "conditions"), [{"what": "Allowed", "met": "no"}]),
    )
    steel, twin_answer = answer.medium("steel"), answer.medium("twin")
    assert twin_answer.cost_per_kg == pytest.approx(steel.cost_per_kg, rel=1e-12)
    if answer.best in ("steel", "twin"):
        assert answer.best == "twin"


def test_horizon_is_said_in_the_reason():
    steel = comparison("small_room", (("room", "horizon_months"), 9)).medium("steel")
    assert "9 months" in steel.reasons["payback_months.same_harvest.simple"]
