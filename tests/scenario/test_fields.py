"""Every field is described once, and the walks find all of them."""

from __future__ import annotations

from typing import Any

import pytest

from mediacost.scenario import (
    UNIT_WORDS,
    Crop,
    Medium,
    Pair,
    Range,
    Room,
    Scenario,
    TrialTray,
    check,
    describe,
    describe_path,
    likely,
    walk_fields,
    walk_values,
)
from mediacost.scenario.fields import described
from mediacost.scenario.records import FactorOverride, Record
from mediacost.scenario.values import Refused
from tests.scenario.sample import sample_data

ROWS = list(walk_fields())
NUMBERS = [row for row in ROWS if row.description.kind == "number"]
OPTIONAL_BY_OTHERS = [
    (Scenario, "baseline"),
    (Room, "heat_price"),
    (Room, "shelf_trays"),
    (Room, "electricity"),
    (Medium, "owned_sheets"),
    (Medium, "life_cycles"),
    (Pair, "mean_g"),
    (Pair, "failed_share"),
    (Pair, "days_in_tray"),
]


def _name(row: Any) -> str:
    return ".".join(row.path)


@pytest.mark.parametrize("row", ROWS, ids=_name)
def test_every_field_has_words_a_grower_can_read(row: Any) -> None:
    description = row.description
    assert description.name == row.path[-1]
    assert description.label[0].isupper()
    assert "_" not in description.label
    assert description.help.endswith(".") and "\n" not in description.help
    assert description.unit in UNIT_WORDS
    assert description.expected


def test_the_walk_finds_every_field_of_every_record() -> None:
    found = {(row.record, row.description.name) for row in ROWS}
    records = Record.__subclasses__()
    assert found == {(record, name) for record in records for name in record.model_fields}


@pytest.mark.parametrize("row", NUMBERS, ids=_name)
def test_every_number_has_limits_and_keeps_them(row: Any) -> None:
    description = row.description
    read = described(row.record, description.name).accept
    lowest = description.minimum if description.minimum is not None else description.exclusive_minimum
    highest = description.maximum if description.maximum is not None else description.exclusive_maximum
    assert lowest is not None and highest is not None and lowest < highest
    for limit, is_open in ((lowest, description.minimum is None), (highest, description.maximum is None)):
        if is_open:
            with pytest.raises(Refused):
                read(limit)
        else:
            assert read(limit) == limit
    with pytest.raises(Refused):
        read(lowest - 1)
    with pytest.raises(Refused):
        read(highest * 2)
    if description.default is not None:
        assert read(description.default) == description.default


@pytest.mark.parametrize("row", NUMBERS, ids=_name)
@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -float("inf"), True, "1", "", [1], 10**400])
def test_no_number_takes_what_is_no_amount(row: Any, bad: Any) -> None:
    read = described(row.record, row.description.name).accept
    with pytest.raises(Refused):
        read(bad)
    with pytest.raises(Refused):
        read({"low": bad, "likely": bad, "high": bad})


@pytest.mark.parametrize("row", NUMBERS, ids=_name)
def test_ranges_are_taken_by_measured_and_whole_numbers_never_else_always(row: Any) -> None:
    description = row.description
    measured = {"harvest_g", "sd_g", "tare_g", "drained_minutes", "seed_g", "height_mm", "practical_band_pct"}
    plain_only = description.name in measured or (description.whole and description.name != "life_cycles")
    assert description.ranged is not plain_only


@pytest.mark.parametrize("row", [row for row in NUMBERS if row.description.whole], ids=_name)
def test_whole_numbers_may_be_written_with_a_point_but_not_with_a_fraction(row: Any) -> None:
    read = described(row.record, row.description.name).accept
    value = read(4.0)
    assert value == 4 and type(value) is int
    with pytest.raises(Refused, match=r"4.5 is not a whole number"):
        read(4.5)


@pytest.mark.parametrize(
    ("record", "name", "default"),
    [
        (Room, "discount_rate", 0.08),
        (Room, "horizon_months", 36),
        (Room, "weeks_per_year", 52.0),
        (Room, "start_month", 1),
        (Room, "season", (1.0,) * 12),
        (Room, "harvest_days", ("mon", "tue", "wed", "thu", "fri")),
        (Room, "wash_days", ("mon", "tue", "wed", "thu", "fri")),
        (Room, "limit", "market"),
        (Room, "inlet_temperature_c", 12.0),
        (Room, "heater_efficiency", 0.95),
        (Room, "spare_share", 0.1),
        (Room, "landfill_fee", 0.0),
        (Room, "compost_fee", 0.0),
        (Crop, "blackout_days", 0),
        (Crop, "loss_share", 0.0),
        (Medium, "sheets_per_tray", 1),
        (Medium, "dry_days", 1),
        (Medium, "spent_route", "compost"),
        (Medium, "loss_per_cycle", 0.0),
        (TrialTray, "state", "dry"),
    ],
)
def test_the_defaults_are_those_of_the_file_format(record: type[Record], name: str, default: object) -> None:
    description = describe(record, name)
    assert (description.default, description.required) == (default, False)


@pytest.mark.parametrize(("record", "name"), OPTIONAL_BY_OTHERS)
def test_defaults_that_depend_on_other_fields_stay_open(record: type[Record], name: str) -> None:
    description = describe(record, name)
    assert description.default is None
    assert not description.required


@pytest.mark.parametrize(
    ("keys", "label", "unit"),
    [
        (("title",), "Title", ""),
        (("room",), "Room", ""),
        (("room", "labour_rate"), "Labour rate", "money/h"),
        (("room", "labour_rate", "low"), "Labour rate, low", "money/h"),
        (("room", "labour_rate", "source"), "Source", ""),
        (("room", "season", 3), "Season in April", ""),
        (("room", "wash_days", 0), "Wash days", ""),
        (("media",), "Media", ""),
        (("media", 1), "Media", ""),
        (("media", 1, "pack_price"), "Pack price", "money/pack"),
        (("media", 0, "cut_from", "width_mm"), "Width", "mm"),
        (("crops", 0, "sowing", "mon"), "Trays sown on Monday", "trays"),
        (("washes", 0, "steps", 2, "sanitiser", "price_per_l"), "Price", "money/l"),
        (("trials", 0, "trays", 3, "harvest_g"), "Harvest weight", "g"),
        (("factors", "steel"), "Factor steel", ""),
        (("factors", "steel", "value", "high"), "Factor steel, high", ""),
        (("factors", "steel", "note"), "Note", ""),
    ],
)
def test_a_key_path_leads_to_its_description(keys: tuple[str | int, ...], label: str, unit: str) -> None:
    description = describe_path(keys)
    assert (description.label, description.unit) == (label, unit)


@pytest.mark.parametrize(
    "keys",
    [
        (),
        ("rooms",),
        ("media", "x", "pack_price"),
        ("media", 1, "price"),
        ("crops", 0, "sowing", "monday"),
        ("room", "labour_rate", "mode"),
        ("room", "horizon_months", "low"),
        ("room", "season", 12),
        (0,),
    ],
)
def test_a_key_path_to_nothing_is_a_key_error(keys: tuple[str | int, ...]) -> None:
    with pytest.raises(KeyError):
        describe_path(keys)


def test_the_walk_over_values_meets_every_value_with_its_own_description() -> None:
    scenario = check(sample_data()).scenario
    assert scenario is not None
    values = {row.keys: row for row in walk_values(scenario)}
    assert values[("room", "energy_price")].value == Range(0.22, 0.27, 0.4, source="last bill")
    assert values[("crops", 0, "sowing", "thu")].value == 18
    assert values[("room", "season", 11)].value == 1.4
    assert values[("factors", "steel")].value == 4.2
    assert values[("media", 1, "sheets_per_tray")].value == 1
    assert ("media", 0, "life_cycles") not in values
    for keys, row in values.items():
        assert describe_path(keys).label == row.description.label


def test_one_field_of_a_range_counts_as_likely() -> None:
    assert likely(Range(1.0, 2.0, 4.0)) == 2.0
    assert likely(3) == 3


def test_records_are_frozen_and_can_be_made_by_hand() -> None:
    medium = Medium(id="m", name="M", use="single-use", pack_price=Range(1, 2, 3), sheet_mass_g=4, end_of_life="scrap")
    assert medium.pack_price == Range(1.0, 2.0, 3.0)
    assert medium.owned_sheets is None
    with pytest.raises(ValueError, match="frozen"):
        medium.name = "N"  # type: ignore[misc]


def test_factors_are_read_in_every_form() -> None:
    data = sample_data()
    data["factors"] = {
        "note": "ours",
        "a": 3,
        "b": {"low": 1, "likely": 2, "high": 3, "source": "maker"},
        "c": {"value": -1.5, "note": "stored"},
        "d": {"value": {"low": 1, "likely": 2, "high": 3}},
    }
    scenario = check(data).scenario
    assert scenario is not None
    assert scenario.factors == {
        "a": FactorOverride(value=3),
        "b": FactorOverride(value=Range(1, 2, 3, source="maker"), source="maker"),
        "c": FactorOverride(value=-1.5, note="stored"),
        "d": FactorOverride(value=Range(1, 2, 3)),
    }


@pytest.mark.parametrize(
    ("baseline", "uses", "expected"),
    [
        ("steel", ("single-use", "reusable"), "steel"),
        (None, ("single-use", "reusable"), "paper"),
        (None, ("reusable", "single-use"), "steel"),
        (None, ("reusable", "reusable"), "paper"),
    ],
)
def test_the_baseline_is_the_typed_one_else_the_first_single_use_else_the_first(
    baseline: str | None, uses: tuple[str, str], expected: str
) -> None:
    scenario = check(sample_data()).scenario
    assert scenario is not None
    media = tuple(medium.model_copy(update={"use": use}) for medium, use in zip(scenario.media, uses, strict=True))
    assert scenario.model_copy(update={"baseline": baseline, "media": media}).baseline_id == expected


def test_pairs_and_washes_are_found_by_id() -> None:
    scenario = check(sample_data()).scenario
    assert scenario is not None
    pair = scenario.pair("steel", "pea")
    assert pair is not None and pair.days_in_tray == 13
    assert scenario.pair("steel", "radish") is None
    wash = scenario.wash("quick")
    assert wash is not None and len(wash.steps) == 2
    assert scenario.wash(None) is None
