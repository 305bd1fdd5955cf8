"""Older files are upgraded one number at a time, and none is forgotten."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest

from mediacost.scenario import CURRENT_FORMAT, read_file
from mediacost.scenario import upgrades as upgrades_module
from mediacost.scenario.upgrades import UPGRADES, upgrade
from mediacost.scenario.values import Refused

OLD_FILES = Path(__file__).parents[1] / "old_files"


def test_every_older_number_has_an_upgrade() -> None:
    assert sorted(UPGRADES) == list(range(1, CURRENT_FORMAT))


def test_every_number_has_its_history_and_a_sample_that_still_opens() -> None:
    history = upgrades_module.__doc__ or ""
    for number in range(1, CURRENT_FORMAT + 1):
        assert f"\n{number}. " in history
        sample = OLD_FILES / f"format-{number}.toml"
        assert f"\nformat = {number}\n" in sample.read_text(encoding="utf-8")
        file = read_file(sample)
        assert file.data["format"] == CURRENT_FORMAT
        assert file.scenario.media[0].name == "Paper sheet"
    assert len(list(OLD_FILES.glob("format-*.toml"))) == CURRENT_FORMAT


def rename_wage(data: dict[str, Any]) -> dict[str, Any]:
    return {**{key: value for key, value in data.items() if key != "wage"}, "labour": data["wage"]}


def double_labour(data: dict[str, Any]) -> dict[str, Any]:
    return {**data, "labour": data["labour"] * 2}


PLANTED = {1: rename_wage, 2: double_labour}


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ({"format": 1, "wage": 5}, {"format": 3, "labour": 10}),
        ({"format": 2, "labour": 5}, {"format": 3, "labour": 10}),
        ({"format": 3, "labour": 5}, {"format": 3, "labour": 5}),
    ],
)
def test_planted_upgrades_run_in_a_chain_from_the_number_of_the_file(old: dict[str, Any], new: dict[str, Any]) -> None:
    before = copy.deepcopy(old)
    assert upgrade(old, 3, PLANTED) == new
    assert old == before


def test_a_planted_newer_number_is_refused() -> None:
    with pytest.raises(Refused, match="4 is newer than this program knows"):
        upgrade({"format": 4}, 3, PLANTED)


def test_the_planted_chain_is_used_when_a_file_is_read(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from mediacost.scenario import checking, reading

    def retitled(data: dict[str, Any]) -> dict[str, Any]:
        return {**data, "title": "Upgraded"}

    def upgrade_to_two(data: Any) -> dict[str, Any]:
        return upgrade(data, 2, {1: retitled})

    monkeypatch.setattr(checking, "upgrade", upgrade_to_two)
    monkeypatch.setattr(reading, "upgrade", upgrade_to_two)
    file = read_file(OLD_FILES / "format-1.toml")
    assert file.scenario.title == file.data["title"] == "Upgraded"
    assert file.scenario.format == file.data["format"] == 2
    assert "format = 1" in file.text
