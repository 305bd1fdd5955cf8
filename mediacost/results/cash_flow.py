"""Money by month against the baseline: outlay, running saving, dated purchases, running totals."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from mediacost.formulas import cash, numeric
from mediacost.formulas.numeric import Number
from mediacost.results.against import Against
from mediacost.results.evaluation import Evaluation
from mediacost.results.inputs import MediumNumbers


class Purchases(NamedTuple):
    """By month, month 0 first: cycles each sheet has served, and money for dated purchases."""

    cycles: tuple[Number, ...]
    spent: tuple[Number, ...]


class CashFlow(NamedTuple):
    """Money by month against the baseline; month 0 is the start."""

    flows: tuple[Number, ...]
    cycles: tuple[Number, ...]
    running: tuple[Number, ...]
    running_discounted: tuple[Number, ...]
    tolerance: Number
    net_present_value: Number


class CashBook:
    """The months of one evaluation, shared by all media and ways of counting."""

    def __init__(self, evaluation: Evaluation) -> None:
        room = evaluation.numbers.room
        self._evaluation = evaluation
        self._trays = _trays_by_month(evaluation)
        self._factors = [
            evaluation.reading.mark("discount_factor", cash.discount_factor(room.discount_rate, month), month)
            for month in range(room.horizon_months + 1)
        ]
        self._same_trays: dict[int, Purchases] = {}

    def flow(self, at: int, against: Against, basis: str) -> CashFlow:
        """Money by month of medium ``at``, from its saving on one way of counting."""
        figures, base, mark = self._evaluation.media[at], self._evaluation.baseline, self._evaluation.reading.mark
        medium = figures.medium.id
        bought = self._purchases(at, against, basis)
        would_have = self._with_same_trays(self._evaluation.numbers.baseline)
        flows = [mark("flow", -(figures.fleet.outlay - base.fleet.outlay), medium, basis, 0)]
        for month, trays in enumerate(self._trays, start=1):
            money = cash.month_flow(trays, against.saving, bought.spent[month], would_have.spent[month])
            flows.append(mark("flow", money, medium, basis, month))
        present = [flow * factor for flow, factor in zip(flows, self._factors, strict=True)]
        return CashFlow(
            flows=tuple(flows),
            cycles=bought.cycles,
            running=self._totals("running", flows, medium, basis),
            running_discounted=self._totals("running_discounted", present, medium, basis),
            tolerance=mark("tolerance", cash.tolerance(flows), medium, basis),
            net_present_value=mark("npv", numeric.total(present), medium, basis),
        )

    def _totals(self, name: str, flows: Sequence[Number], medium: str, basis: str) -> tuple[Number, ...]:
        mark = self._evaluation.reading.mark
        return tuple(mark(name, so_far, medium, basis, month) for month, so_far in enumerate(cash.cumulative(flows)))

    def _purchases(self, at: int, against: Against, basis: str) -> Purchases:
        if basis != "same_harvest":
            return self._with_same_trays(at)
        return _purchases(self._evaluation, at, against.trays_for_one, self._trays)

    def _with_same_trays(self, at: int) -> Purchases:
        if at not in self._same_trays:
            self._same_trays[at] = _purchases(self._evaluation, at, 1.0, self._trays)
        return self._same_trays[at]


def _trays_by_month(evaluation: Evaluation) -> list[Number]:
    """Baseline trays sown in each month of the horizon, month 1 first."""
    room, trays = evaluation.numbers.room, evaluation.numbers.trays_per_week
    calendar = [cash.trays_in_month(trays, room.weeks_per_year, season) for season in room.season]
    return [
        evaluation.reading.mark("trays_in_month", calendar[(room.start_month + month - 2) % 12], month)
        for month in range(1, room.horizon_months + 1)
    ]


def _purchases(evaluation: Evaluation, at: int, trays_for_one: Number, trays_by_month: list[Number]) -> Purchases:
    figures, mark = evaluation.media[at], evaluation.reading.mark
    medium, fleet, one_sheet = figures.medium, figures.fleet, figures.sheet
    if not medium.reusable:
        nothing = (0.0,) * (len(trays_by_month) + 1)
        return Purchases(nothing, nothing)
    bought_together = fleet.sheets_needed - fleet.in_use
    again = _equipment_months(medium, len(trays_by_month))
    cycles: list[Number] = [0.0]
    spent: list[Number] = [0.0]
    sown: Number = 0.0
    replaced: Number = 0.0
    for month, trays in enumerate(trays_by_month, start=1):
        sown = trays if month == 1 else sown + trays
        served = cash.cycles_per_sheet(sown, trays_for_one, medium.sheets_per_tray, fleet.sheets_needed)
        served = mark("cycles_per_sheet", served, medium.id, month)
        gone = cash.sheets_replaced(
            served, fleet.in_use, bought_together, one_sheet.mean_cycles, medium.life, medium.loss
        )
        gone = mark("sheets_replaced", gone, medium.id, month)
        cost = (gone - replaced) * one_sheet.life_cost
        if month in again:
            cost = cost + fleet.equipment
        cycles.append(served)
        spent.append(mark("dated_purchases", cost, medium.id, month))
        replaced = gone
    return Purchases(tuple(cycles), tuple(spent))


def _equipment_months(medium: MediumNumbers, horizon: int) -> frozenset[int]:
    """Months, strictly before the horizon, in which wash equipment is bought again."""
    if medium.wash is None or medium.wash.equipment_price is None:
        return frozenset()
    every = 12 * medium.wash.equipment_years
    return frozenset(range(every, horizon, every))
