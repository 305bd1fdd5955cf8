"""How sure the answer is, as plain JSON data: unrounded numbers, null where there is none, the reason beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from mediacost.results.answers import NoAnswer
from mediacost.results.confidence_answers import (
    Confidence,
    InputTies,
    Knowing,
    MediumConfidence,
    MediumTies,
    Spread,
    Swing,
    Tie,
)
from mediacost.results.draws import Uncertain


def confidence_json(confidence: Confidence) -> dict[str, Any]:
    """The answer of ``confidence --json``."""
    sure, value = confidence.sureness, confidence.value
    return {
        "draws": confidence.draws,
        "seed": confidence.seed,
        "baseline": confidence.baseline,
        "limit": confidence.limit,
        "basis": confidence.basis,
        "measure": confidence.measure,
        "best": confidence.best,
        "horizon_months": confidence.horizon_months,
        "verdict": {
            "word": sure.word,
            "medium": sure.medium,
            "chance": sure.chance,
            "why": sure.why,
            "settle": None if sure.settle is None else _knowing(sure.settle),
            "words": list(sure.words),
        },
        "notes": list(confidence.notes),
        "inputs": [_input(each) for each in confidence.inputs],
        "media": [_medium(each) for each in confidence.media],
        "swings": {medium: [_swing(each) for each in swings] for medium, swings in confidence.swings.items()},
        "value_of_knowing": {
            "per_year": value.per_year,
            "inputs": [_knowing(each) for each in value.inputs],
            "together": [_knowing(each) for each in value.together],
        },
        "ties": [_medium_ties(each) for each in confidence.ties],
    }


def _medium(medium: MediumConfidence) -> dict[str, Any]:
    data: dict[str, Any] = {}
    reasons: dict[str, str] = {}
    for field in fields(medium):
        value = getattr(medium, field.name)
        if isinstance(value, Spread):
            ends = {each.name: getattr(value, each.name) for each in fields(value)}
            reasons |= {f"{field.name}.{end}": str(each) for end, each in ends.items() if isinstance(each, NoAnswer)}
            data[field.name] = {end: _plain(each) for end, each in ends.items()}
        elif isinstance(value, NoAnswer):
            data[field.name] = None
            reasons[field.name] = str(value)
        else:
            data[field.name] = dict(value) if field.name == "chance_best_on" else value
    return data | {"reasons": reasons}


def _plain(value: Any) -> Any:
    return None if isinstance(value, NoAnswer) else value


def _input(each: Uncertain) -> dict[str, Any]:
    return {
        "path": each.path,
        "label": each.label,
        "unit": each.unit,
        "kind": each.kind,
        "low": each.low,
        "likely": each.likely,
        "high": each.high,
        "standard_error": each.standard_error,
        "degrees_of_freedom": each.df,
        "trays": each.trays,
    }


def _knowing(each: Knowing) -> dict[str, Any]:
    return {
        "paths": list(each.paths),
        "label": each.label,
        "per_year": each.per_year,
        "how": each.how,
        "cost": each.cost,
    }


def _swing(swing: Swing) -> dict[str, Any]:
    return {
        "path": swing.path,
        "label": swing.label,
        "unit": swing.unit,
        "low": swing.low,
        "likely": swing.likely,
        "high": swing.high,
        "difference_at_low": swing.at_low,
        "difference_at_high": swing.at_high,
        "flips": [_tie(each) for each in swing.flips],
    }


def _tie(tie: Tie) -> dict[str, Any]:
    return {"value": tie.value, "below": tie.below, "above": tie.above, "step": tie.step}


def _medium_ties(ties: MediumTies) -> dict[str, Any]:
    return {
        "medium": ties.medium,
        "harvest_to_lose": {"grams": ties.harvest_to_lose.grams, "percent": ties.harvest_to_lose.percent},
        "inputs": [_input_ties(each) for each in ties.inputs if any(each.ways.values()) or each.always],
        "never": list(_never(ties.inputs)),
    }


def _input_ties(each: InputTies) -> dict[str, Any]:
    return {
        "path": each.path,
        "label": each.label,
        "unit": each.unit,
        "likely": each.likely,
        "whole": each.whole,
        "always": list(each.always),
        **{way: [_tie(tie) for tie in found] for way, found in each.ways.items()},
    }


def _never(inputs: tuple[InputTies, ...]) -> Iterator[str]:
    """Inputs that tie the two at no value on any way of counting."""
    yield from (each.path for each in inputs if not any(each.ways.values()) and not each.always)
