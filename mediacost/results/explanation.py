"""Any figure, asked why: the formula, its numbers, and the same for each part down to the inputs and their notes."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from mediacost.errors import InputFaults
from mediacost.results import words
from mediacost.results.answers import NoAnswer, answer_at
from mediacost.results.asked_figures import check_crop_figure, crop_figure, full_path, node_of, unknown
from mediacost.results.comparison import compare
from mediacost.results.evaluation import evaluate
from mediacost.results.explanation_steps import Step, Teller
from mediacost.results.figures import BASIS_NAMES, BASIS_WORDS, FIGURES, split_path
from mediacost.results.measures import LEAD_BASIS
from mediacost.results.recorded import RecordedReading
from mediacost.scenario import Scenario


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why a figure is what it is. ``reason`` is filled where there is no number."""

    medium: str
    figure: str
    reason: str
    step: Step | None


def explain(scenario: Scenario, medium: str, figure: str) -> Explanation:
    """Open a figure of a medium down to the inputs.

    ``figure`` is a path of the comparison's answer, such as ``cost_per_kg``, ``cost_per_tray.sheet``,
    ``by_crop.radish.margin_per_tray`` or ``payback_months.sell_extra.simple``. The way of counting may be left out:
    the one that fits the room's limit is taken. Raises :class:`mediacost.errors.InputFaults` for an id or a figure
    that does not exist.
    """
    ids = [each.id for each in scenario.media]
    if medium not in ids:
        raise InputFaults((unknown("--medium", medium, ids),))
    comparison = compare(scenario)
    answer = comparison.medium(medium)
    crop, of_crop = crop_figure(figure)
    if crop:
        check_crop_figure(crop, of_crop, comparison)
        path = f"by_crop.{crop}.{of_crop}"
    else:
        path = full_path(figure, LEAD_BASIS[scenario.room.limit])
    missing = answer_at(answer, path)
    reason = missing.reason if isinstance(missing, NoAnswer) else ""
    at = ids.index(medium)
    evaluation = evaluate(scenario, RecordedReading(scenario))
    node = node_of(evaluation, at, path, missing)
    if node is None:
        return Explanation(medium, path, reason, None)
    teller = Teller(scenario, evaluation)
    one_crop = (crop,) if crop else tuple(each.id for each in evaluation.numbers.crops)
    around = (medium, *BASIS_NAMES, *(one_crop if len(one_crop) == 1 else ()))
    return Explanation(medium, path, reason, teller.step(node, around))


def explanation_heading(explanation: Explanation, scenario: Scenario) -> str:
    """What is being explained and its value, in words."""
    medium = next(each.name for each in scenario.media if each.id == explanation.medium)
    path, basis = split_path(explanation.figure)
    figure = FIGURES[path]
    value = ""
    if explanation.step is not None and not explanation.reason:
        value = f": {_value_words(explanation.step.value, figure.unit, scenario.currency)}"
    counted = f" Counted {BASIS_WORDS[basis]}." if basis else ""
    crop, _ = crop_figure(explanation.figure)
    alone = "".join(f" on {each.name} alone" for each in scenario.crops if each.id == crop)
    return f"{medium}, {figure.label}{alone}{value}.{counted}"


def _value_words(value: float, unit: str, currency: str) -> str:
    return f"{words.percent(value, 3)} {unit}" if unit == "per year" else words.amount(value, unit, currency)


def explanation_json(explanation: Explanation) -> dict[str, Any]:
    """The answer of ``explain --json``."""
    return {
        "medium": explanation.medium,
        "figure": explanation.figure,
        "reason": explanation.reason or None,
        "step": None if explanation.step is None else asdict(explanation.step),
    }
