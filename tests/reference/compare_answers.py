"""Lay two answers of `compare --json` beside each other, leaf by leaf."""

from __future__ import annotations

import math
import re
from collections import Counter
from typing import Any

FLOOR = 1e-9
"""Numbers that differ by no more than this are equal: what is left where two like sums are subtracted."""

LOOSER = {"irr": 1e-7}
"""Figures found by iteration, each with its own tolerance."""


def compare_answers(expected: dict[str, Any], actual: dict[str, Any], rel: float = 1e-9) -> list[str]:
    """Return one line per leaf that differs, by its path; an empty list when the answers agree.

    Every key must be there and none besides. A number must agree to `rel` (or FLOOR), null only with null. Of
    `reasons` only the paths are compared, and that each has words; both `by_crop.radish.x` and `by_crop[0].x`
    will do. Of a condition only `what` and `met` are compared.

    >>> compare_answers({"best": "paper", "media": []}, {"best": "steel", "media": []})
    ["best: expected 'paper', got 'steel'"]
    """
    return _differences(expected, actual, "", rel)


def _differences(expected: Any, actual: Any, path: str, rel: float) -> list[str]:
    last = path.rsplit(".", 1)[-1]
    if last == "reasons":
        return _reason_differences(expected, actual, path)
    if last == "conditions":
        expected, actual = _bare_conditions(expected), _bare_conditions(actual)
    if isinstance(expected, dict) and isinstance(actual, dict):
        return _table_differences(expected, actual, path, rel)
    if isinstance(expected, (list, tuple)) and isinstance(actual, (list, tuple)):
        return _list_differences(list(expected), list(actual), path, rel)
    if _is_number(expected) and _is_number(actual):
        loose = max((tolerance for name, tolerance in LOOSER.items() if name in path.split(".")), default=0.0)
        if math.isclose(expected, actual, rel_tol=max(rel, loose), abs_tol=max(FLOOR, loose)):
            return []
    elif type(expected) is type(actual) and expected == actual:
        return []
    return [f"{path}: expected {expected!r}, got {actual!r}"]


def _table_differences(expected: dict[str, Any], actual: dict[str, Any], path: str, rel: float) -> list[str]:
    found = []
    for key in [*expected, *(key for key in actual if key not in expected)]:
        here = f"{path}.{key}" if path else str(key)
        if key not in actual:
            found.append(f"{here}: missing, expected {expected[key]!r}")
        elif key not in expected:
            found.append(f"{here}: not expected, got {actual[key]!r}")
        else:
            found += _differences(expected[key], actual[key], here, rel)
    return found


def _list_differences(expected: list[Any], actual: list[Any], path: str, rel: float) -> list[str]:
    if len(expected) != len(actual):
        return [f"{path}: expected {len(expected)} entries, got {len(actual)}"]
    return [
        line
        for place, (left, right) in enumerate(zip(expected, actual, strict=True))
        for line in _differences(left, right, f"{path}[{_name_of(left, place)}]", rel)
    ]


def _name_of(entry: Any, place: int) -> str:
    """Return how an entry of a list is called in a path: by its id or crop where it has one."""
    if isinstance(entry, dict):
        return str(entry.get("id", entry.get("crop", place)))
    return str(place)


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _bare_conditions(conditions: Any) -> Any:
    if not isinstance(conditions, (list, tuple)):
        return conditions
    return [
        {key: condition.get(key) for key in ("what", "met")} if isinstance(condition, dict) else condition
        for condition in conditions
    ]


def _reason_differences(expected: Any, actual: Any, path: str) -> list[str]:
    """Compare the paths of reasons; which crop of `by_crop` is meant is not compared, only how many."""
    if not isinstance(actual, dict):
        return [f"{path}: expected a reason for each null, got {actual!r}"]
    wordless = [
        f"{path}: no words for {key}" for key, words in actual.items() if not (isinstance(words, str) and words.strip())
    ]
    due, given = sorted(map(_without_crop, expected)), sorted(map(_without_crop, actual))
    missing = [f"{path}: no reason for {name}" for name in _beyond(due, given)]
    extra = [f"{path}: a reason for {name}, which has an answer" for name in _beyond(given, due)]
    return wordless + missing + extra


def _beyond(names: list[str], others: list[str]) -> list[str]:
    """Return the names that the others lack, counting repeats."""
    return sorted((Counter(names) - Counter(others)).elements())


def _without_crop(path: str) -> str:
    """Return a figure's path with the entry of `by_crop` left open.

    >>> _without_crop("by_crop.radish.cost_per_kg") == _without_crop("by_crop[0].cost_per_kg")
    True
    """
    return re.sub(r"^by_crop(\[[^\]]*\]|\.[^.\[]+)", "by_crop[]", path)
