"""The JSON of a comparison: which keys, in which order, a reason for every null and for nothing else."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest

from mediacost.results import compare
from mediacost.results.as_json import comparison_json
from tests.results.samples import SAMPLE_PATHS, comparison, odd_scenarios, scenario

BASES = ["per_tray", "same_harvest", "sell_extra"]
TOP = ["baseline", "limit", "basis", "best", "best_by_crop", "trays_per_week", "media"]
COST_LINES = [
    "sheet",
    "prep_labour",
    "wash_labour",
    "wash_water",
    "wash_energy",
    "sanitiser",
    "consumables",
    "equipment",
    "crop_water",
    "disposal",
    "medium_total",
    "crop_total",
    "per_kg_total",
    "total",
]
MEDIUM = [
    "id",
    "name",
    "use",
    "sheet_price",
    "pieces",
    "mean_cycles",
    "sheet_life_cost",
    "cost_per_tray",
    "yield_kg_per_tray",
    "cost_per_kg",
    "cost_per_kg_same_harvest",
    "medium_cost_per_kg",
    "margin_per_tray",
    "shelf_days",
    "margin_per_shelf_day",
    "labour_minutes_per_tray",
    "return_to_labour_per_hour",
    "wash_minutes_per_tray",
    "wash_litres_per_tray",
    "wash_kwh_per_tray",
    "sheets_needed",
    "packs_to_buy",
    "outlay",
    "saving_per_tray",
    "break_even_cycles",
    "break_even_life",
    "payback_months",
    "payback_cycles",
    "npv",
    "irr",
    "sir",
    "reasons",
    "conditions",
    "by_crop",
]
BY_BASIS = [
    "saving_per_tray",
    "break_even_cycles",
    "break_even_life",
    "payback_months",
    "payback_cycles",
    "npv",
    "irr",
    "sir",
]
PAYBACKS = ["simple", "discounted", "first_simple", "first_discounted"]
BY_CROP = ["crop", "yield_kg_per_tray", "cost_per_kg", "margin_per_tray", "shelf_days", "margin_per_shelf_day"]

SCENARIOS = {path.stem: scenario(path.stem) for path in SAMPLE_PATHS} | odd_scenarios()


@pytest.fixture(scope="module", params=SCENARIOS, name="data")
def _data(request: pytest.FixtureRequest) -> dict[str, Any]:
    made = comparison_json(compare(SCENARIOS[request.param]))
    return json.loads(json.dumps(made, allow_nan=False))


def test_keys_and_their_order(data):
    assert list(data) == TOP
    for medium in data["media"]:
        assert list(medium) == MEDIUM
        assert list(medium["cost_per_tray"]) == COST_LINES
        for name in BY_BASIS:
            assert list(medium[name]) == BASES
        for basis in BASES:
            assert list(medium["payback_months"][basis]) == PAYBACKS
        for crop in medium["by_crop"]:
            assert list(crop) == BY_CROP
        for condition in medium["conditions"]:
            assert list(condition) == ["what", "met"]


def test_reasons_for_every_null_and_for_nothing_else(data):
    for medium in data["media"]:
        assert set(medium["reasons"]) == set(_nulls(medium))
        assert all(text.strip() == text and text for text in medium["reasons"].values())


def test_only_leaves_are_null_and_all_numbers_are_finite(data):
    for medium in data["media"]:
        for path, value in _leaves(medium):
            assert value is None or isinstance(value, str) or math.isfinite(value), path


def test_cost_lines_add_up(data):
    for medium in data["media"]:
        costs = medium["cost_per_tray"]
        assert math.isclose(sum(costs[name] for name in COST_LINES[:10]), costs["medium_total"], rel_tol=1e-12)
        parts = costs["medium_total"] + costs["crop_total"] + costs["per_kg_total"]
        assert math.isclose(parts, costs["total"], rel_tol=1e-12)


def test_baseline_has_no_figures_against_itself(data):
    for medium in data["media"]:
        if medium["id"] == data["baseline"]:
            assert {path.split(".")[0] for path in _nulls(medium)} >= set(BY_BASIS)
            assert "baseline" in medium["reasons"]["npv.per_tray"]


@pytest.mark.parametrize("path", SAMPLE_PATHS, ids=lambda path: path.stem)
def test_media_and_crops_keep_the_order_of_the_file(path):
    document = scenario(path.stem)
    data = comparison_json(compare(document))
    assert [medium["id"] for medium in data["media"]] == [medium.id for medium in document.media]
    for medium in data["media"]:
        assert [crop["crop"] for crop in medium["by_crop"]] == [crop.id for crop in document.crops]
        assert list(data["best_by_crop"]) == [crop.id for crop in document.crops]


def test_numbers_are_not_rounded():
    data = comparison_json(comparison("small_room"))
    assert any(len(repr(value)) > 12 for _, value in _leaves(data["media"][1]) if isinstance(value, float))


def test_a_crop_of_which_nothing_is_sown_is_left_out():
    data = comparison_json(comparison("two_crop_room", (("crops", 1, "sowing"), {"mon": 0})))
    assert list(data["best_by_crop"]) == ["broccoli"]
    assert all(len(medium["by_crop"]) == 1 for medium in data["media"])


@pytest.mark.parametrize(
    ("limit", "basis"), [("market", "same_harvest"), ("shelf", "sell_extra"), ("labour", "sell_extra")]
)
def test_limit_decides_the_leading_way_of_counting(limit, basis):
    data = comparison_json(comparison("small_room", (("room", "limit"), limit)))
    assert (data["limit"], data["basis"]) == (limit, basis)


def _leaves(record: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every leaf of a medium's JSON with its path; a crop's figures under the crop's id."""
    if isinstance(record, dict):
        for name, value in record.items():
            if name not in ("reasons", "conditions"):
                yield from _leaves(value, f"{path}.{name}" if path else name)
    elif isinstance(record, list):
        for each in record:
            inner = {name: value for name, value in each.items() if name != "crop"}
            yield from _leaves(inner, f"{path}.{each['crop']}")
    else:
        yield path, record


def _nulls(medium: dict[str, Any]) -> list[str]:
    return [path for path, value in _leaves(medium) if value is None]
