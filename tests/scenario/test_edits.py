"""Edits return new data, share what they leave alone, and never touch the old."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from mediacost.scenario import (
    check,
    get_value,
    insert_item,
    move_item,
    remove_value,
    rename_id,
    set_value,
)
from tests.scenario.sample import sample_data

EDITS: dict[str, Callable[[Any], Any]] = {
    "set": lambda data: set_value(data, ("media", 1, "pack_price"), 5),
    "set deep": lambda data: set_value(data, ("washes", 0, "steps", 1, "sanitiser", "stock_ppm"), 5),
    "remove key": lambda data: remove_value(data, ("room", "season")),
    "remove item": lambda data: remove_value(data, ("media", 0)),
    "insert": lambda data: insert_item(data, ("pairs",), 0, {}),
    "move": lambda data: move_item(data, ("pairs",), 0, 2),
    "rename": lambda data: rename_id(data, "crops", 0, "daikon"),
}


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_leaves_the_old_data_alone_and_shares_the_rest(name: str) -> None:
    data = sample_data()
    before = copy.deepcopy(data)
    new = EDITS[name](data)
    assert data == before
    assert new != before
    assert new["tray"] is data["tray"]


def test_values_are_read_and_set_at_key_paths() -> None:
    data = sample_data()
    assert get_value(data, ()) is data
    assert get_value(data, ("crops", 1, "sowing", "tue")) == 12
    new = set_value(data, ("crops", 1, "sowing", "wed"), 3)
    assert get_value(new, ("crops", 1, "sowing")) == {"tue": 12, "wed": 3}


def test_tables_on_the_way_are_made() -> None:
    assert set_value({}, ("room", "labour_rate"), 21) == {"room": {"labour_rate": 21}}
    assert insert_item({}, ("trials",), None, {"id": "a"}) == {"trials": [{"id": "a"}]}


def test_items_are_inserted_at_a_place_or_at_the_end() -> None:
    data = {"a": [1, 2]}
    assert insert_item(data, ("a",), 0, 9) == {"a": [9, 1, 2]}
    assert insert_item(data, ("a",), 2, 9) == insert_item(data, ("a",), None, 9) == {"a": [1, 2, 9]}


@pytest.mark.parametrize(("start", "end", "result"), [(0, 2, "bca"), (2, 0, "cab"), (1, 1, "abc"), (0, 1, "bac")])
def test_items_are_moved(start: int, end: int, result: str) -> None:
    assert move_item({"a": list("abc")}, ("a",), start, end) == {"a": list(result)}


@pytest.mark.parametrize(
    "edit",
    [
        lambda data: get_value(data, ("media", 9)),
        lambda data: get_value(data, ("media", -1)),
        lambda data: get_value(data, ("media", "id")),
        lambda data: get_value(data, ("room", 0)),
        lambda data: set_value(data, (), 1),
        lambda data: set_value(data, ("media", 2, "id"), "x"),
        lambda data: set_value(data, ("title", "x"), 1),
        lambda data: set_value(data, ("trials", 0, "notes", 0), 1),
        lambda data: remove_value(data, ("room", "none")),
        lambda data: insert_item(data, ("media",), 3, {}),
        lambda data: insert_item(data, ("media",), -1, {}),
        lambda data: insert_item(data, ("title",), 0, {}),
        lambda data: move_item(data, ("media",), 0, 2),
        lambda data: move_item(data, ("none",), 0, 0),
    ],
)
def test_a_path_that_leads_nowhere_is_a_key_error(edit: Callable[[Any], Any]) -> None:
    with pytest.raises(KeyError):
        edit(sample_data())


def test_an_id_is_renamed_in_data_with_faults_too() -> None:
    data = set_value(set_value(sample_data(), ("pairs",), 5), ("trials", 0, "trays"), "none")
    new = rename_id(data, "media", 0, "renamed")
    assert new["baseline"] == new["media"][0]["id"] == "renamed"
    assert (new["pairs"], new["trials"][0]["trays"]) == (5, "none")


@pytest.mark.parametrize(
    ("list_name", "place"), [("crops", 0), ("crops", 1), ("media", 0), ("media", 1), ("washes", 0)]
)
def test_a_renamed_id_is_renamed_wherever_it_is_used(list_name: str, place: int) -> None:
    data = sample_data()
    old = data[list_name][place]["id"]
    new = rename_id(data, list_name, place, "renamed")
    assert check(new).faults == ()
    assert old in str(data) and f"'{old}'" not in str({**new, "factors": {}})
