"""What an input is called on a page where those of all tables stand side by side."""

from __future__ import annotations

from typing import NamedTuple

from mediacost.results.reading import Keys
from mediacost.scenario import Scenario, describe_path
from mediacost.scenario.paths_in_words import name_in_words, path_in_words

MEASURED = "measured_g"
"""First key of a harvest weight that trials measured: the medium's and the crop's id follow."""


class InputName(NamedTuple):
    """An input's key path in words, a label that says whose it is, its unit, and whether it is a whole number."""

    path: str
    label: str
    unit: str
    whole: bool


def input_name(scenario: Scenario, keys: Keys) -> InputName:
    """The words for an input at a key path, or for a measured harvest weight."""
    if keys[0] == MEASURED:
        _, medium, crop = keys
        path = f"trials[{name_in_words(str(medium))}, {name_in_words(str(crop))}].harvest_g"
        return InputName(path, f"{_pair_names(scenario, str(medium), str(crop))}: harvest weight, measured", "g", False)
    described = describe_path(keys)
    label = described.label[0].lower() + described.label[1:]
    owner = _owner(scenario, keys)
    words = f"{owner}: {label}" if owner else described.label
    return InputName(path_in_words(keys, _ids(scenario)), words, described.unit, described.whole)


def _owner(scenario: Scenario, keys: Keys) -> str:
    """Whose input it is; nothing where the label says enough."""
    table, *rest = keys
    if table == "tray":
        return "Tray"
    if table not in ("crops", "media", "washes", "pairs"):
        return ""
    place = rest[0]
    assert isinstance(place, int)
    if table == "pairs":
        pair = scenario.pairs[place]
        return _pair_names(scenario, pair.medium, pair.crop)
    if table == "washes":
        wash = scenario.washes[place]
        if rest[1] == "steps":
            assert isinstance(rest[2], int)
            return f"{wash.name}, {wash.steps[rest[2]].name.lower()}"
        return wash.name
    return (scenario.crops if table == "crops" else scenario.media)[place].name


def _pair_names(scenario: Scenario, medium: str, crop: str) -> str:
    names = {each.id: each.name for each in scenario.media}, {each.id: each.name for each in scenario.crops}
    return f"{names[0][medium]} on {names[1][crop].lower()}"


def _ids(scenario: Scenario) -> dict[str, list[dict[str, str]]]:
    """As much of the document as naming its items takes."""
    data = {name: [{"id": each.id} for each in getattr(scenario, name)] for name in ("crops", "media", "washes")}
    return data | {"pairs": [{"medium": pair.medium, "crop": pair.crop} for pair in scenario.pairs]}
