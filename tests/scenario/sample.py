"""The invented scenario that the tests of the document change in one place at a time."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

from mediacost.scenario import check, remove_value, set_value

SAMPLE_PATH = Path(__file__).parents[1] / "old_files" / "format-1.toml"
SAMPLE_TEXT = SAMPLE_PATH.read_text(encoding="utf-8")

Keys = tuple[str | int, ...]


def sample_data() -> dict[str, Any]:
    """Return the data of the sample, to be changed at will."""
    return copy.deepcopy(tomllib.loads(SAMPLE_TEXT))


def with_value(*changes: tuple[Keys, Any]) -> dict[str, Any]:
    """Return the sample with some values set."""
    data = sample_data()
    for keys, value in changes:
        data = set_value(data, keys, value)
    return data


def without(*paths: Keys) -> dict[str, Any]:
    """Return the sample with some values removed."""
    data = sample_data()
    for keys in paths:
        data = remove_value(data, keys)
    return data


def fault_lines(data: Any) -> list[str]:
    """Return the lines of all faults."""
    return [str(fault) for fault in check(data, "F").faults]


def warning_lines(data: Any) -> list[str]:
    """Return the lines of all warnings."""
    return [str(warning) for warning in check(data, "F").warnings]
