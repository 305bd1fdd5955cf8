"""Faults are found all at once, in file order, with their key path and in a grower's words."""

from __future__ import annotations

import datetime
import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from mediacost.errors import Fault
from mediacost.scenario import Range, check, insert_item, set_value
from mediacost.scenario.checking import translate
from mediacost.scenario.values import Bounds
from tests.scenario.sample import fault_lines, sample_data, warning_lines, with_value, without
from tests.strategies import scenario_data

MANY_FAULTS = with_value(
    (("currency",), "eur"),
    (("rooms",), {}),
    (("room", "labour_rte"), 21),
    (("room", "weeks_per_year"), 54),
    (("crops", 0, "sowing", "mo"), 3),
    (("crops", 1, "loss_share"), 1.5),
    (("media", 0, "wash"), "quick"),
    (("media", 1, "pack_price"), "12,50"),
    (("media", 1, "life_cycles"), {"low": 9, "likely": 5, "high": 7}),
    (("washes", 0, "steps", 1, "minutes_per_sheet"), -1),
    (("pairs", 0, "medium"), "felt"),
    (("trials", 0, "trays", 1, "state"), "soggy"),
)


def test_all_faults_come_at_once_in_file_order() -> None:
    assert fault_lines(MANY_FAULTS) == [
        "F: rooms: is not a known key; expected a known one: the nearest is room",
        'F: currency: "eur" is not a currency code; expected three capital letters as in ISO 4217, such as "EUR"',
        "F: room.weeks_per_year: 54 is outside what is possible; expected a number above 0 and up to 53",
        "F: room.labour_rte: is not a known key; expected a known one: the nearest is labour_rate",
        "F: crops[radish].sowing.mo: is not a known key; expected a known one: the nearest is mon",
        "F: crops[pea].loss_share: 1.5 is outside what is possible; expected a number from 0 to 1",
        'F: media[paper].wash: belongs to reusable media; expected no such key with use = "single-use"',
        'F: media[steel].pack_price: "12,50" is not a number; expected a number of 0 or more, or a range '
        "{ low = ..., likely = ..., high = ... }, without quotes and with a decimal point",
        "F: media[steel].life_cycles: the range 9, 5, 7 is out of order; expected low <= likely <= high",
        "F: washes[quick].steps[2].minutes_per_sheet: -1 is outside what is possible; expected a number of 0 or more",
        "F: pairs[felt, radish].medium: there is no medium felt; expected the id of a medium: paper, steel",
        'F: trials[spring].trays["2"].state: "soggy" is not one of the choices; expected "dry", "misted" or "washed"',
    ]


@pytest.mark.parametrize(
    ("keys", "value", "line"),
    [
        (("format",), 1.5, "F: format: 1.5 is not a format number; expected format = 1"),
        (("title",), "  ", "F: title: is empty; expected some text"),
        (("title",), 12, 'F: title: 12 is not text; expected text in quotes, such as "12"'),
        (
            ("title",),
            "a\nb",
            'F: title: "a\\nb" has control characters in it; expected one line of plain text',
        ),
        (("title",), "x" * 201, "F: title: has 201 characters; expected at most 200 characters"),
        (("note",), 3, "F: note: 3 is not text; expected text in quotes"),
        (("note",), "a\0b", 'F: note: "a\\x00b" has control characters in it; expected plain text'),
        (
            ("baseline",),
            " paper",
            'F: baseline: " paper" begins or ends with a space; expected an id without outer spaces',
        ),
        (("room",), 3, "F: room: 3 is not a table; expected a table"),
        (("room",), [], "F: room: a list is not a table; expected a table"),
        (
            ("room", "limit"),
            "money",
            'F: room.limit: "money" is not one of the choices; expected "market", "shelf" or "labour"',
        ),
        (
            ("room", "horizon_months"),
            4.5,
            "F: room.horizon_months: 4.5 is not a whole number; expected a whole number from 1 to 240",
        ),
        (
            ("room", "horizon_months"),
            True,
            "F: room.horizon_months: true is not a number; expected a whole number from 1 to 240",
        ),
        (
            ("room", "horizon_months"),
            {"low": 1},
            "F: room.horizon_months: is a range or a table; expected a whole "
            "number from 1 to 240; no range is possible here",
        ),
        (
            ("room", "labour_rate"),
            float("nan"),
            "F: room.labour_rate: nan is not an amount; expected a number of 0 or more",
        ),
        (
            ("room", "labour_rate"),
            1e13,
            "F: room.labour_rate: 10000000000000 is too large; expected a number of 0 or more",
        ),
        (
            ("room", "labour_rate"),
            10**400,
            "F: room.labour_rate: a number of very many digits is too large; expected a number of 0 or more",
        ),
        (
            ("room", "labour_rate"),
            {"low": 1, "high": 2},
            "F: room.labour_rate.likely: is missing; expected all three "
            "of a range, { low = ..., likely = ..., high = ... }",
        ),
        (
            ("room", "labour_rate"),
            {"low": 1, "likely": "x", "high": 2},
            'F: room.labour_rate.likely: "x" is not a number; expected a number of 0 or more',
        ),
        (
            ("room", "labour_rate"),
            {"low": 1, "likely": 2, "high": 3, "mode": 2},
            "F: room.labour_rate.mode: is not a known key; expected one of: low, likely, high, note, source",
        ),
        (
            ("room", "labour_rate"),
            {"low": 1, "likely": 2, "high": 3, "note": 2},
            "F: room.labour_rate.note: 2 is not text; expected text in quotes",
        ),
        (
            ("room", "season"),
            [1] * 11,
            "F: room.season: has 11 entries; expected a list of 12 numbers, January first",
        ),
        (("room", "season"), [0] * 12, "F: room.season: is zero in every month; expected a sum above 0"),
        (
            ("room", "season"),
            [1] * 11 + [-1],
            "F: room.season[12]: -1 is outside what is possible; expected a number from 0 to 1000",
        ),
        (
            ("room", "season"),
            "all",
            'F: room.season: "all" is not a list; expected a list of 12 numbers, January first',
        ),
        (
            ("room", "wash_days"),
            [],
            'F: room.wash_days: is empty; expected at least one weekday in a list, such as ["mon", "thu"]',
        ),
        (
            ("room", "wash_days"),
            "mon",
            'F: room.wash_days: "mon" is not a list of weekdays; expected at least one '
            'weekday in a list, such as ["mon", "thu"]',
        ),
        (
            ("room", "wash_days"),
            ["mon", "day"],
            'F: room.wash_days[2]: "day" is not a weekday; expected "mon", "tue", "wed", "thu", "fri", "sat" or "sun"',
        ),
        (
            ("room", "wash_days"),
            ["mon", "mon"],
            'F: room.wash_days[2]: "mon" is listed twice; expected each weekday once',
        ),
        (
            ("room", "pack_price"),
            3,
            "F: room.pack_price: does not belong here but to [[media]]; expected it there, or not at all",
        ),
        (
            ("water_price",),
            3,
            "F: water_price: does not belong here but to [room]; expected it there, or not at all",
        ),
        (
            ("crops",),
            {"id": "x"},
            "F: crops: a table is not a list of tables; expected a list of tables, each under [[crops]]",
        ),
        (
            ("crops", 0, "sowing"),
            24,
            "F: crops[radish].sowing: 24 is not a table of weekdays; expected such as { mon = 24, thu = 18 }",
        ),
        (
            ("crops", 0, "sowing", "mon"),
            2.5,
            "F: crops[radish].sowing.mon: 2.5 is not a whole number; expected a whole number from 0 to 1000000",
        ),
        (
            ("media", 1, "conditions"),
            "none",
            'F: media[steel].conditions: "none" is not a list of tables; expected a list of tables',
        ),
        (
            ("media", 1, "conditions", 0, "met"),
            True,
            'F: media[steel].conditions[1].met: true is not one of the choices; expected "yes", "no" or "unknown"',
        ),
        (
            ("media", 1, "life_cycles"),
            {"low": 1.5, "likely": 2, "high": 3},
            "F: media[steel].life_cycles.low: 1.5 is not a whole number; expected a whole number from 1 to 100000000",
        ),
        (
            ("media", 1, "loss_per_cycle"),
            1,
            "F: media[steel].loss_per_cycle: 1 is outside what is possible; expected a number from 0 to below 1",
        ),
        (
            ("washes", 0, "equipment_owned"),
            "yes",
            'F: washes[quick].equipment_owned: "yes" is neither true nor false; expected true or false, without quotes',
        ),
        (
            ("washes", 0, "steps", 1, "sanitiser", "product"),
            "",
            "F: washes[quick].steps[2].sanitiser.product: is empty; expected some text",
        ),
        (
            ("trials", 0, "sown"),
            "soon",
            'F: trials[spring].sown: "soon" is not a date; expected a date such as 2027-03-12, without quotes',
        ),
        (
            ("trials", 0, "sown"),
            datetime.datetime(2027, 3, 2, 8),
            "F: trials[spring].sown: 2027-03-02 08:00:00 is not "
            "a date; expected a date such as 2027-03-12, without quotes",
        ),
        (
            ("trials", 0, "trays", 0, "tray"),
            1,
            'F: trials[spring].trays[1].tray: 1 is not text; expected text in quotes, such as "1"',
        ),
        (("factors",), 3, "F: factors: 3 is not a table; expected such as { steel = 4.0 }"),
        (("factors", "steel"), "x", 'F: factors.steel: "x" is not a number; expected a number'),
        (
            ("factors", "steel"),
            {"valu": 1},
            "F: factors.steel.valu: is not a known key; expected a known one: the nearest is value",
        ),
        (("factors", "two words"), False, 'F: factors."two words": false is not a number; expected a number'),
        (
            ("room", "labour_rate"),
            None,
            "F: room.labour_rate: is empty; expected a value, or no such key at all",
        ),
    ],
)
def test_a_wrong_value_is_said_in_one_line(keys: tuple[str | int, ...], value: Any, line: str) -> None:
    lines = fault_lines(with_value((keys, value)))
    assert [found for found in lines if found.startswith(line)] != [], lines


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        (("title",), "F: title: is missing; expected text in quotes"),
        (("room",), "F: room: is missing; expected a table"),
        (("media",), "F: media: is missing; expected a list of tables"),
        (
            ("room", "labour_rate"),
            "F: room.labour_rate: is missing; expected a number of 0 or more (money per hour)",
        ),
        (("media", 0, "use"), 'F: media[paper].use: is missing; expected "single-use" or "reusable"'),
        (("media", 0, "id"), "F: media[1].id: is missing; expected text in quotes"),
        (
            ("crops", 0, "sowing"),
            "F: crops[radish].sowing: is missing; expected trays sown on each weekday, such as { mon = 24, thu = 18 }",
        ),
        (("format",), "F: format: is missing; expected format = 1, as the first line of a scenario file"),
    ],
)
def test_a_missing_key_is_said_with_what_belongs_there(keys: tuple[str | int, ...], line: str) -> None:
    assert line in fault_lines(without(keys))


def test_a_newer_format_is_refused_before_anything_else() -> None:
    assert fault_lines(with_value((("format",), 2), (("room",), 3))) == [
        "F: format: 2 is newer than this program knows; expected 1 or less: a newer version of mediacost opens it"
    ]


def test_an_empty_scenario_names_every_required_table() -> None:
    paths = [line.split(": ")[1] for line in fault_lines({"format": 1})]
    assert paths == ["title", "currency", "room", "tray", "crops", "media"]


@pytest.mark.parametrize("data", [None, [], "text", 3])
def test_what_is_no_table_is_no_scenario(data: Any) -> None:
    lines = fault_lines(data)
    assert len(lines) == 1
    assert lines[0].endswith("is not a scenario; expected a table")


def test_keys_that_are_not_text_and_bottomless_data_are_faults() -> None:
    bottomless: dict[str, Any] = {}
    bottomless["room"] = bottomless
    assert fault_lines({**sample_data(), 5: 1}) == ["F: has the key 5; expected keys that are text"]
    assert len(fault_lines({**sample_data(), "room": bottomless})) == 1
    assert "is nested too deeply" in fault_lines({**sample_data(), "room": bottomless})[0]


def test_other_checks_run_on_a_table_with_a_fault_in_it() -> None:
    lines = fault_lines(with_value((("media", 1, "pack_price"), -1), (("media", 1, "wash"), "slow")))
    assert [line.split(": ")[1] for line in lines] == ["media[steel].pack_price", "media[steel].wash"]


def test_a_broken_list_in_one_wash_does_not_hide_faults_in_another() -> None:
    data = insert_item(sample_data(), ("washes",), 0, {"id": "slow", "name": "Slow", "steps": 5})
    data = set_value(data, ("washes", 1, "steps", 1, "sanitiser", "target_ppm"), 60000)
    assert [line.split(": ")[1] for line in fault_lines(data)] == [
        "washes[slow].steps",
        "washes[quick].steps[2].sanitiser.target_ppm",
    ]


def test_a_broken_pair_does_not_hide_a_double() -> None:
    data = insert_item(sample_data(), ("pairs",), 0, {"medium": 5, "crop": "pea"})
    data = insert_item(data, ("pairs",), None, data["pairs"][2])
    assert [line.split(": ")[1] for line in fault_lines(data)] == ["pairs[1].medium", "pairs[5]"]


def test_a_broken_medium_does_not_bring_faults_elsewhere() -> None:
    assert len(fault_lines(with_value((("media", 1, "id"), 7)))) == 1
    assert len(fault_lines(insert_item(sample_data(), ("media",), None, 5))) == 1
    assert len(fault_lines(with_value((("trials",), 5)))) == 1


def test_warnings_are_given_beside_faults() -> None:
    data = with_value((("trials", 0, "seed_g"), 24), (("room", "labour_rate"), -1))
    assert len(warning_lines(data)) == 1
    assert len(fault_lines(data)) == 1


def test_echoed_text_is_escaped_and_shortened() -> None:
    nasty = "line\nbreak\x1b[31m" + "x" * 300
    for data in (
        with_value((("room", "limit"), nasty)),
        with_value(((nasty,), 1)),
        with_value((("baseline",), nasty)),
    ):
        for line in fault_lines(data):
            assert line.isprintable()
            assert len(line) < 250


def test_the_name_of_the_input_stays_on_the_line_too() -> None:
    checked = check({}, "a\nb.toml")
    assert str(checked.faults[0]).startswith("a\\nb.toml: format: ")


def test_ids_that_could_be_places_are_quoted_and_doubles_are_counted() -> None:
    data = set_value(with_value((("media", 0, "id"), "2"), (("baseline",), "2")), ("media", 0, "pack_price"), -1)
    assert 'F: media["2"].pack_price: -1 is outside what is possible; expected a number of 0 or more' in fault_lines(
        data
    )
    data = set_value(with_value((("media", 0, "id"), "steel")), ("media", 0, "pack_price"), -1)
    assert any(line.startswith("F: media[1].pack_price") for line in fault_lines(data))


def test_key_paths_for_programs_lead_to_the_value() -> None:
    faults = check(with_value((("washes", 0, "steps", 1, "minutes_per_sheet"), -1))).faults
    assert [fault.keys for fault in faults] == [("washes", 0, "steps", 1, "minutes_per_sheet")]


def test_notes_and_sources_reach_the_records() -> None:
    long_note = "first line\nsecond\tline" + "x" * 10_000
    scenario = check(with_value((("room", "note"), long_note), (("source",), "ours"))).scenario
    assert scenario is not None
    assert (scenario.room.note, scenario.source, scenario.note) == (long_note, "ours", "")


def test_a_note_without_end_is_refused() -> None:
    lines = fault_lines(with_value((("room", "note"), "x" * 20_001)))
    assert lines == ["F: room.note: has 20001 characters; expected at most 20000 characters"]


def test_a_range_may_have_equal_ends() -> None:
    flat = {"low": 5, "likely": 5, "high": 5}
    scenario = check(with_value((("room", "labour_rate"), flat))).scenario
    assert scenario is not None
    assert scenario.room.labour_rate == Range(5.0, 5.0, 5.0)


@pytest.mark.parametrize(
    ("bounds", "words"),
    [
        (Bounds(), ""),
        (Bounds(minimum=0), "of 0 or more"),
        (Bounds(above=0), "above 0"),
        (Bounds(maximum=5), "up to 5"),
        (Bounds(below=5), "below 5"),
        (Bounds(minimum=0, maximum=1), "from 0 to 1"),
        (Bounds(minimum=0, below=1), "from 0 to below 1"),
        (Bounds(above=0, maximum=53), "above 0 and up to 53"),
        (Bounds(minimum=-1e12, maximum=1e12), ""),
        (Bounds(minimum=0.5, maximum=1e12), "of 0.5 or more"),
    ],
)
def test_limits_are_said_in_words(bounds: Bounds, words: str) -> None:
    assert bounds.words() == words


def test_extreme_but_legal_scenarios_stay_legal() -> None:
    data = with_value(
        (("crops", 0, "sowing"), {"mon": 100_000}),
        (("media", 1, "life_cycles"), 1_000_000),
        (("media", 1, "loss_per_cycle"), 0.999),
        (("media", 0, "failed_share"), 1.0),
        (("room", "discount_rate"), 1.0),
        (("room", "labour_rate"), 0),
        (("crops", 1, "loss_share"), 1),
        (("pairs", 1, "mean_g"), 0),
        (("room", "horizon_months"), 240.0),
        (("room", "heater_efficiency"), 4),
    )
    assert fault_lines(data) == []


def test_dates_may_be_text_as_in_json() -> None:
    data = json.loads(json.dumps(sample_data(), default=str))
    scenario = check(data).scenario
    assert scenario is not None
    assert scenario.trials[0].sown == datetime.date(2027, 3, 2)


def test_weekdays_come_in_week_order() -> None:
    scenario = check(
        with_value((("room", "wash_days"), ["fri", "mon"]), (("crops", 0, "sowing"), {"sun": 1, "tue": 2}))
    )
    assert scenario.scenario is not None
    assert scenario.scenario.room.wash_days == ("mon", "fri")
    assert list(scenario.scenario.crops[0].sowing.items()) == [("tue", 2), ("sun", 1)]


# pydantic's own words never reach the grower ------------------------------------------------------


def test_an_error_type_that_is_not_foreseen_is_still_put_in_our_words() -> None:
    class Foreign(BaseModel):
        title: int
        room: dict[str, int]
        crops: list[int]

    with pytest.raises(ValidationError) as caught:
        Foreign.model_validate({"title": "x", "room": 3, "crops": 4})
    lines = [str(Fault("F", "p", f.problem, f.expected)) for d in caught.value.errors() for f in translate(d)]
    assert lines == [
        'F: p: "x" cannot be used here; expected text in quotes',
        "F: p: 3 is not a table; expected a table",
        "F: p: 4 is not a list of tables; expected a list of tables, each under [[crops]]",
    ]


JUNK = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=5)
    | st.dates()
    | st.times()
    | st.binary(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3) | st.integers(), inner, max_size=3),
    max_leaves=5,
)


def _paths(value: Any, keys: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [keys, *(path for key, inner in inside for path in _paths(inner, (*keys, key)))]


PATHS = _paths(sample_data())[1:]


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(PATHS), JUNK), min_size=1, max_size=4))
def test_no_junk_brings_a_traceback_or_pydantics_words(
    changes: list[tuple[tuple[str | int, ...], Any]],
) -> None:
    data: Any = sample_data()
    for keys, junk in changes:
        try:
            data = set_value(data, keys, junk)
        except KeyError:
            continue
    checked = check(data, "F")
    assert (checked.scenario is None) == bool(checked.faults)
    for fault in (*checked.faults, *checked.warnings):
        line = str(fault)
        assert line.startswith("F: ")
        assert line.isprintable()
        for foreign in (
            "Input should",
            "nput_value",
            "Field required",
            "Extra inputs",
            "validation error",
            "pydantic",
        ):
            assert foreign not in line


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(scenario_data())
def test_what_the_shared_strategy_draws_is_legal(data: dict[str, Any]) -> None:
    assert fault_lines(data) == []
