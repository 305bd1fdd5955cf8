"""What every medium comes to on many values of the inputs at once, through the formulas of the single answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mediacost.formulas import cash, numeric
from mediacost.formulas.numeric import Number
from mediacost.results.against import against, cost_per_kg_same_harvest
from mediacost.results.cash_flow import CashBook
from mediacost.results.draws import DrawReading
from mediacost.results.evaluation import (
    Evaluation,
    cost_per_kg,
    evaluate,
    margin_per_shelf_day,
    return_to_labour,
)
from mediacost.results.measures import LEAD_BASIS
from mediacost.results.reading import Keys
from mediacost.scenario import Scenario

Floats = NDArray[np.float64]

NO_FIGURE = float("nan")
"""Stands where a figure is not defined, such as a return to labour without labour."""


class TrayOutcome(NamedTuple):
    """One medium, one entry for each draw. Costs are infinite where nothing saleable is harvested.

    ``worth_per_year`` is what is to be made large: the year's margin, or less the year's cost of delivering the
    baseline's harvest where the market is what limits.
    """

    cost_per_kg: Number
    cost_per_kg_same_harvest: Number
    margin_per_tray: Number
    margin_per_shelf_day: Number
    return_to_labour_per_hour: Number
    worth_per_year: Number


class MoneyOutcome(NamedTuple):
    """One medium against the baseline on the lead way of counting; payback is infinite where it never comes."""

    payback_months: Number
    npv: Number


def evaluate_on(scenario: Scenario, replaced: Mapping[Keys, Number]) -> Evaluation:
    """Evaluate a document with some inputs replaced by arrays of values."""
    with _quiet():
        return evaluate(scenario, DrawReading(replaced))


def tray_outcome(evaluation: Evaluation, at: int, limit: str) -> TrayOutcome:
    """The figures of medium ``at`` that need no months."""
    figures, numbers, reading = evaluation.media[at], evaluation.numbers, evaluation.reading
    tray, room = figures.mix, numbers.room
    with _quiet():
        same_harvest = _cost_same_harvest(evaluation, at)
        trays = numbers.trays_per_week * room.weeks_per_year * room.mean_season
        a_tray = -same_harvest * evaluation.baseline.mix.yield_kg if limit == "market" else tray.margin
        return TrayOutcome(
            cost_per_kg=_where_sold(tray.yield_kg, lambda: cost_per_kg(figures, reading)),
            cost_per_kg_same_harvest=same_harvest,
            margin_per_tray=tray.margin,
            margin_per_shelf_day=margin_per_shelf_day(figures, reading),
            return_to_labour_per_hour=_paid_by_labour(evaluation, at),
            worth_per_year=a_tray * trays,
        )


def lead_values(evaluation: Evaluation, at: int, limit: str) -> tuple[Number, ...]:
    """What medium ``at`` is worth on the three ways of counting, all costs counted, and on the limit's measure.

    More is better on each of them.
    """
    tray = evaluation.media[at].mix
    with _quiet():
        same_harvest = -_cost_same_harvest(evaluation, at)
        if limit == "market":
            on_measure = same_harvest
        elif limit == "shelf":
            on_measure = margin_per_shelf_day(evaluation.media[at], evaluation.reading)
        else:
            on_measure = _paid_by_labour(evaluation, at)
    return -tray.medium_total, same_harvest, tray.margin, on_measure


def money_outcome(evaluation: Evaluation, book: CashBook, at: int, limit: str) -> MoneyOutcome:
    """Payback and present value of medium ``at``, which is not the baseline."""
    basis = LEAD_BASIS[limit]
    with _quiet():
        flow = book.flow(at, against(evaluation, at, basis), basis)
        payback = cash.payback(flow.running, flow.tolerance)
        if basis != "same_harvest":
            return MoneyOutcome(payback, flow.net_present_value)
        known = _same_harvest_known(evaluation, at)
        return MoneyOutcome(np.where(known, payback, float("inf")), np.where(known, flow.net_present_value, NO_FIGURE))


def _cost_same_harvest(evaluation: Evaluation, at: int) -> Number:
    """Infinite where a crop gives nothing saleable: no number of trays then delivers the same harvest."""
    known = _same_harvest_known(evaluation, at)
    return _where_true(known, lambda: cost_per_kg_same_harvest(evaluation, at), float("inf"))


def _same_harvest_known(evaluation: Evaluation, at: int) -> Number:
    base, figures = evaluation.baseline, evaluation.media[at]
    known = base.mix.yield_kg > 0
    if figures is not base:
        for tray in figures.by_crop:
            known = known & (tray.yield_kg > 0)
    return known


def _paid_by_labour(evaluation: Evaluation, at: int) -> Number:
    figures = evaluation.media[at]
    works = figures.mix.labour_minutes > 0
    paid = partial(return_to_labour, figures, figures.mix, evaluation.numbers, evaluation.reading)
    return _where_true(works, paid, NO_FIGURE)


def _where_sold(yield_kg: Number, figure: Callable[[], Number]) -> Number:
    return _where_true(yield_kg > 0, figure, float("inf"))


def _where_true(condition: Number, figure: Callable[[], Number], otherwise: float) -> Number:
    """A figure where a condition holds; not worked out at all where it holds nowhere, as floats would raise."""
    if not np.any(condition):
        return otherwise
    return numeric.where(condition, figure(), otherwise)


def rank_values(outcome: TrayOutcome, name: str, more_is_better: bool) -> Number:
    """A measure's values, turned so that more is better; never better than anything where there is no figure."""
    values = np.asarray(getattr(outcome, name), dtype=float)
    turned = values if more_is_better else -values
    return np.where(np.isnan(turned), float("-inf"), turned)


def first_best(values: list[Floats]) -> NDArray[np.intp]:
    """Number of the best medium in each draw, the first of equals, dust forgiven; -1 where none can be ranked."""
    best = np.full(values[0].shape, -1, dtype=np.intp)
    height = np.full(values[0].shape, float("-inf"))
    for at, value in enumerate(values):
        dust = numeric.DUST * np.maximum(np.abs(value), np.where(np.isfinite(height), np.abs(height), 0.0))
        with np.errstate(invalid="ignore"):
            better = np.isfinite(value) & (value > height + dust)
        best[better] = at
        height[better] = value[better]
    return best


def _quiet() -> Any:
    """Divisions by a harvest of zero are looked after one by one."""
    return np.errstate(divide="ignore", invalid="ignore", over="ignore")
