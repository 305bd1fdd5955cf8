"""The JSON Schema says about single fields and keys what the check says."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings

from mediacost.scenario import check, get_value, remove_value, set_value
from mediacost.scenario.json_schema import json_schema
from mediacost.scenario.walk import walk_fields
from tests.scenario.sample import sample_data
from tests.strategies import scenario_data

SCHEMA = json_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA, format_checker=jsonschema.FormatChecker())


def as_json(data: Any) -> Any:
    return json.loads(json.dumps(data, default=str))


def accepts(data: Any) -> bool:
    return VALIDATOR.is_valid(as_json(data))


def test_it_is_a_schema_of_the_named_draft_and_plain_json() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert as_json(SCHEMA) == SCHEMA


def test_it_accepts_the_sample() -> None:
    assert accepts(sample_data())


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(scenario_data())
def test_it_accepts_whatever_the_check_accepts(data: dict[str, Any]) -> None:
    assert accepts(data)


TABLES = [
    (),
    ("room",),
    ("tray",),
    ("crops", 0),
    ("crops", 0, "sowing"),
    ("media", 0),
    ("media", 0, "cut_from"),
    ("media", 1, "conditions", 0),
    ("washes", 0),
    ("washes", 0, "steps", 1),
    ("washes", 0, "steps", 1, "sanitiser"),
    ("pairs", 0),
    ("trials", 0),
    ("trials", 0, "trays", 0),
    ("trials", 0, "checks", 0),
    ("room", "energy_price"),
    ("media", 1, "life_cycles"),
]


@pytest.mark.parametrize("keys", TABLES)
def test_both_refuse_an_unknown_key_in_every_table(keys: tuple[str | int, ...]) -> None:
    data = set_value(sample_data(), (*keys, "unheard_of"), 1)
    assert get_value(data, keys)
    assert check(data).scenario is None
    assert not accepts(data)


@pytest.mark.parametrize("keys", TABLES[1:])
def test_both_accept_a_note_and_a_source_in_every_table(keys: tuple[str | int, ...]) -> None:
    data = set_value(set_value(sample_data(), (*keys, "note"), "a"), (*keys, "source"), "b")
    assert check(data).faults == ()
    assert accepts(data)


REQUIRED = [row.path for row in walk_fields() if row.description.required and row.path[0] != "factors"]


def _first(path: tuple[str, ...]) -> tuple[str | int, ...]:
    keys = tuple(0 if key == "*" else key for key in path)
    return ("washes", 0, "steps", 1, *keys[4:]) if keys[:3] == ("washes", 0, "steps") else keys


@pytest.mark.parametrize("path", REQUIRED, ids=".".join)
def test_both_need_every_required_key(path: tuple[str, ...]) -> None:
    keys = _first(path)
    if keys[:3] == ("media", 0, "conditions"):
        keys = ("media", 1, *keys[2:])
    data = remove_value(sample_data(), keys)
    assert check(data).scenario is None
    assert not accepts(data)


@pytest.mark.parametrize(
    ("keys", "value"),
    [
        (("format",), 2),
        (("title",), ""),
        (("media", 0, "id"), ""),
        (("currency",), "euro"),
        (("room", "limit"), "money"),
        (("room", "labour_rate"), "21"),
        (("room", "labour_rate"), {"low": 1, "high": 2}),
        (("room", "labour_rate"), {"low": 1, "likely": -1, "high": 2}),
        (("room", "horizon_months"), 4.5),
        (("room", "horizon_months"), {"low": 1, "likely": 2, "high": 3}),
        (("room", "horizon_months"), 241),
        (("room", "weeks_per_year"), 0),
        (("room", "season"), [1] * 11),
        (("room", "wash_days"), []),
        (("room", "wash_days"), ["mon", "mon"]),
        (("crops",), []),
        (("crops", 0, "sowing", "mon"), -1),
        (("media", 0, "loss_share"), 0.1),
        (("media", 0, "life_cycles"), 10),
        (("media", 0, "pieces_per_pack"), 10),
        (("media", 0, "scrap_value_per_kg"), 1),
        (("media", 1, "loss_per_cycle"), 1),
        (("media", 1, "conditions", 0, "met"), True),
        (("washes", 0, "steps", 0, "minutes_per_batch"), 3),
        (("trials", 0, "sown"), "soon"),
        (("trials", 0, "trays", 0, "guard"), "no"),
        (("trials", 0, "checks", 0, "mould"), 6),
        (("factors", "steel"), "much"),
        (("factors", "steel"), {"valu": 1}),
    ],
)
def test_both_refuse_a_wrong_value(keys: tuple[str | int, ...], value: Any) -> None:
    data = set_value(sample_data(), keys, value)
    assert check(data).scenario is None
    assert not accepts(data)


@pytest.mark.parametrize("keys", [("media", 1, "life_cycles"), ("media", 1, "wash"), ("media", 1, "pieces_per_pack")])
def test_both_miss_what_a_reusable_needs(keys: tuple[str | int, ...]) -> None:
    data = remove_value(sample_data(), keys)
    assert check(data).scenario is None
    assert not accepts(data)


def test_a_whole_number_may_be_written_with_a_point() -> None:
    data = set_value(sample_data(), ("room", "horizon_months"), 24.0)
    assert check(data).faults == ()
    assert accepts(data)


def test_every_field_carries_its_words_and_unit() -> None:
    price = SCHEMA["$defs"]["Medium"]["properties"]["pack_price"]
    assert price["title"] == "Pack price"
    assert price["description"] == "Price of one pack or roll."
    assert price["x-unit"] == "money per pack"
    assert price["anyOf"][0] == {"type": "number", "minimum": 0, "maximum": 1e12}
    assert price["anyOf"][1]["required"] == ["low", "likely", "high"]
    assert SCHEMA["$defs"]["Room"]["properties"]["horizon_months"]["default"] == 36
