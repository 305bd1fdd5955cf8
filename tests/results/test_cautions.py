"""The cautions come up wherever a sanitiser, hot water or reuse does, and clear nothing as safe."""

from __future__ import annotations

import pytest

from mediacost.results.cautions import (
    HOT_WATER,
    REUSE,
    SANITISER,
    cautions_for,
    cautions_for_medium,
    cautions_for_wash,
)
from tests.results.samples import scenario


def ids(cautions):
    return [caution.id for caution in cautions]


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("small_room", ["sanitiser", "reuse"]),
        ("two_crop_room", ["sanitiser", "hot water", "reuse"]),
        ("owned_silicone", ["sanitiser", "reuse"]),
    ],
)
def test_samples(name, expected):
    assert ids(cautions_for(scenario(name))) == expected


def test_single_use_only_needs_none():
    document = scenario("small_room").model_dump(exclude_unset=True)
    pads = [document["media"][0], {**document["media"][0], "id": "other"}]
    pairs = [document["pairs"][0], {**document["pairs"][0], "medium": "other"}]
    found = scenario("small_room", (("media",), pads), (("pairs",), pairs), (("washes",), []))
    assert cautions_for(found) == ()


def test_a_medium_brings_up_those_of_its_own_routine():
    document = scenario("two_crop_room")
    by_id = {medium.id: ids(cautions_for_medium(document, medium)) for medium in document.media}
    assert by_id == {
        "coir": [],
        "mat": [],
        "steel": ["hot water", "reuse"],
        "silicone": ["sanitiser", "reuse"],
    }


@pytest.mark.parametrize(
    ("temperature", "hot"), [(42.9, False), (43, True), ({"low": 30, "likely": 40, "high": 50}, True)]
)
def test_hot_water_counts_from_its_hottest(temperature, hot):
    document = scenario("small_room", (("washes", 0, "steps", 3, "temperature_c"), temperature))
    assert ("hot water" in ids(cautions_for_wash(document.washes[0]))) is hot


def test_the_usual_cautions_are_there():
    """Never mix chlorine with acids or ammonia; label first; scalding; gloves (public health advice, second hand)."""
    sanitiser = " ".join(SANITISER.lines)
    for word in ("label", "Never mix chlorine", "acid", "ammonia", "gas", "Gloves".lower(), "eye protection", "drain"):
        assert word in sanitiser
    assert "scalds" in " ".join(HOT_WATER.lines)
    reuse = " ".join(REUSE.lines)
    assert "gloves" in reuse and "food-safety plan" in reuse and "clears nothing as safe" in reuse


def test_no_caution_sets_a_dose_or_promises_safety():
    text = " ".join(line for caution in (SANITISER, HOT_WATER, REUSE) for line in caution.lines).lower()
    assert not any(char.isdigit() for char in text)
    for promise in ("is safe", "are safe", "sterile", "guarantee", "will kill"):
        assert promise not in text
