"""The parts of the job and their fields, read off a document that may be half made."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from mediacost.desktop.parts import ROOM, FieldSpec, Note, Part, fields_of, parts_of
from tests.desktop.conftest import SAMPLES


def data_of(name: str) -> dict[str, Any]:
    return tomllib.loads((SAMPLES / name).read_text(encoding="utf-8"))


def labels(part: Part, data: dict[str, Any], measured: dict[tuple[str, str], str] | None = None) -> list[str]:
    return [each.label for each in fields_of(part, data, measured or {})]


def test_the_room_comes_first_and_the_media_in_their_order() -> None:
    assert [part.label for part in parts_of(data_of("small_room.toml"))] == [
        "The room and its prices",
        "Fibre pad",
        "Steel mesh",
        "Silicone",
    ]


def test_a_single_use_medium_is_not_asked_for_life_or_washing() -> None:
    data = data_of("small_room.toml")
    pad, steel = parts_of(data)[1:3]
    assert labels(pad, data) == ["Pack price", "Harvest weight, Radish", "Labour that the medium causes"]
    assert labels(steel, data)[:4] == ["Pack price", "Life", "Lost per cycle", "Harvest weight, Radish"]
    assert len([label for label in labels(steel, data) if label.startswith("Labour per")]) >= 6


def test_every_crop_has_its_price_and_its_weight() -> None:
    data = data_of("two_crop_room.toml")
    assert len(labels(ROOM, data)) == 3
    coir = parts_of(data)[1]
    measured = {("coir", "broccoli"): "220 g, mean of 6 weighed trays"}
    assert [label for label in labels(coir, data, measured) if label.startswith("Harvest weight")] == [
        "Harvest weight, Broccoli",
        "Harvest weight, Pea shoots",
    ]


def test_a_weight_that_is_measured_is_a_note() -> None:
    data = data_of("two_crop_room.toml")
    coir = parts_of(data)[1]
    found = list(fields_of(coir, data, {("coir", "pea"): "300 g, mean of 3 weighed trays"}))
    assert Note("Harvest weight, Pea shoots", "300 g, mean of 3 weighed trays") in found


def test_a_step_of_undo_says_whose_value_it_changes() -> None:
    data = data_of("small_room.toml")
    steel = parts_of(data)[2]
    steps = [each.step for each in fields_of(steel, data, {}) if isinstance(each, FieldSpec)]
    assert steps[0] == "Change pack price of Steel mesh"
    assert len(set(steps)) == len(steps)


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"media": "none"},
        {"media": [{}]},
        {"media": [{"use": "reusable", "wash": "nowhere"}], "washes": [{"id": "tubs"}]},
        {"media": [1, {"id": "a"}], "crops": [{}], "pairs": [{"medium": "a"}]},
        {"media": [{"use": "reusable", "wash": "w"}], "washes": [{"id": "w", "steps": "many"}]},
    ],
)
def test_a_half_made_document_has_pages_too(data: dict[str, Any]) -> None:
    for part in parts_of(data):
        for each in fields_of(part, data, {}):
            assert each.label
