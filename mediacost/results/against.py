"""A medium against the baseline, on each of the three ways of counting a saving."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from mediacost.formulas import numeric, saving
from mediacost.formulas.numeric import Number
from mediacost.results.evaluation import Evaluation, MediumFigures
from mediacost.results.tray import TrayFigures

BASES = ("per_tray", "same_harvest", "sell_extra")
"""The three ways of counting a saving against the baseline."""


class Against(NamedTuple):
    """A medium against the baseline, per tray of the baseline.

    Trays of the medium for one of the baseline; running saving; whole-life cost of the sheets that stand in for one
    tray; gain of a cycle before they are paid; break-even cycles.
    """

    trays_for_one: Number
    saving: Number
    life_cost: Number
    gain: Number
    break_even: Number


def trays_for_one(evaluation: Evaluation, at: int) -> tuple[Number, ...]:
    """Trays of the medium for one of the baseline, crop by crop, the harvest kept."""
    figures, base = evaluation.media[at], evaluation.baseline
    if figures is base:
        return (1.0,) * len(figures.by_crop)
    return tuple(
        evaluation.reading.mark(
            "trays_for_one",
            saving.trays_for_same_harvest(theirs.yield_kg, ours.yield_kg),
            figures.medium.id,
            lay.crop.id,
        )
        for theirs, ours, lay in zip(base.by_crop, figures.by_crop, figures.medium.lays, strict=True)
    )


def cost_per_kg_same_harvest(evaluation: Evaluation, at: int) -> Number:
    """Cost of delivering the baseline's harvest on this medium, per kilogram of it."""
    figures, shares = evaluation.media[at], evaluation.shares
    trays = trays_for_one(evaluation, at)
    costs = [count * tray.total for count, tray in zip(trays, figures.by_crop, strict=True)]
    harvest = [tray.yield_kg for tray in evaluation.baseline.by_crop]
    value = numeric.weighted(costs, shares) / numeric.weighted(harvest, shares)
    return evaluation.reading.mark("cost_per_kg_same_harvest", value, figures.medium.id)


def against(evaluation: Evaluation, at: int, basis: str) -> Against:
    """Running saving and break-even of medium ``at`` on one way of counting."""
    figures, mark = evaluation.media[at], evaluation.reading.mark
    medium = figures.medium
    per_baseline_tray: Number = 1.0
    if basis == "per_tray":
        saved, gain = _medium_costs_only(evaluation.baseline, figures)
    elif basis == "same_harvest":
        trays = trays_for_one(evaluation, at)
        per_baseline_tray = mark("trays_for_one", _all_crops(trays, evaluation.shares), medium.id)
        saved, gain = _harvest_kept(evaluation.baseline, figures, trays, evaluation.shares)
    else:
        saved, gain = _extra_sold(evaluation.baseline, figures)
    gain = mark("gain", gain, medium.id, basis)
    life_cost = per_baseline_tray * medium.sheets_per_tray * figures.sheet.life_cost
    return Against(
        trays_for_one=per_baseline_tray,
        saving=mark("saving_per_tray", saved, medium.id, basis),
        life_cost=life_cost,
        gain=gain,
        break_even=mark("break_even_cycles", saving.break_even_cycles(life_cost, gain), medium.id, basis),
    )


def _all_crops(trays: Sequence[Number], shares: Sequence[Number]) -> Number:
    """Trays for one over all crops, weighted by shares; exactly one where each is one."""
    if len(trays) == 1:
        return trays[0]
    return 1.0 + numeric.weighted([each - 1.0 for each in trays], shares)


def _medium_costs_only(base: MediumFigures, ours: MediumFigures) -> tuple[Number, Number]:
    run = _run(ours, ours.mix.medium_total, ours.mix)
    saved = saving.difference(_run(base, base.mix.medium_total, base.mix), run)
    return saved, saving.difference(base.mix.medium_total, run + _equipment(ours, ours.mix))


def _harvest_kept(
    base: MediumFigures, ours: MediumFigures, trays: Sequence[Number], shares: Sequence[Number]
) -> tuple[Number, Number]:
    saved, gain = [], []
    for theirs, tray, count in zip(base.by_crop, ours.by_crop, trays, strict=True):
        run = _run(ours, tray.total, tray)
        saved.append(saving.difference(_run(base, theirs.total, theirs), count * run))
        gain.append(saving.difference(theirs.total, count * (run + _equipment(ours, tray))))
    return numeric.weighted(saved, shares), numeric.weighted(gain, shares)


def _extra_sold(base: MediumFigures, ours: MediumFigures) -> tuple[Number, Number]:
    earns = saving.difference(ours.mix.revenue, _run(ours, ours.mix.total, ours.mix))
    saved = saving.difference(earns, saving.difference(base.mix.revenue, _run(base, base.mix.total, base.mix)))
    return saved, saving.difference(saving.difference(earns, _equipment(ours, ours.mix)), base.mix.margin)


def _run(figures: MediumFigures, cost: Number, tray: TrayFigures) -> Number:
    """Running cost: a reusable's sheets and equipment are bought as dated items, so they are left out."""
    return saving.running_cost(cost, tray.sheet_wear, tray.equipment) if figures.medium.reusable else cost


def _equipment(figures: MediumFigures, tray: TrayFigures) -> Number:
    """Equipment, which break-even counts per tray although the cash flow dates it."""
    return tray.equipment if figures.medium.reusable else 0 * tray.equipment
