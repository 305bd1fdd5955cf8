"""Answers as plain JSON data: unrounded numbers, null where there is none, the reason beside it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from mediacost.results.answers import Comparison, MediumAnswer, NoAnswer

_BY_CROP = ("crop", "yield_kg_per_tray", "cost_per_kg", "margin_per_tray", "shelf_days", "margin_per_shelf_day")


def comparison_json(comparison: Comparison) -> dict[str, Any]:
    """The answer of ``compare --json``."""
    return {
        "baseline": comparison.baseline,
        "limit": comparison.limit,
        "basis": comparison.basis,
        "best": comparison.best,
        "best_by_crop": dict(comparison.best_by_crop),
        "trays_per_week": comparison.trays_per_week,
        "media": [_medium(medium) for medium in comparison.media],
    }


def _medium(medium: MediumAnswer) -> dict[str, Any]:
    data = {
        name: _plain(value)
        for name, value in medium._asdict().items()
        if name not in ("cash", "over_cycles", "conditions", "by_crop")
    }
    return data | {
        "reasons": {path: why for path, why in medium.reasons.items() if _is_shown(path)},
        "conditions": _plain(medium.conditions),
        "by_crop": [{name: _plain(getattr(crop, name)) for name in _BY_CROP} for crop in medium.by_crop],
    }


def _is_shown(path: str) -> bool:
    return not path.startswith("by_crop.") or path.rpartition(".")[2] in _BY_CROP


def _plain(value: Any) -> Any:
    if isinstance(value, NoAnswer):
        return None
    if isinstance(value, Mapping):
        return {key: _plain(each) for key, each in value.items()}
    if hasattr(value, "_asdict"):
        return {name: _plain(each) for name, each in value._asdict().items()}
    if isinstance(value, (list, tuple)):
        return [_plain(each) for each in value]
    return value
