"""The single answer: every medium costed, set against the baseline, and ranked by what stops you selling more."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from mediacost.formulas import cash, rates, sheet
from mediacost.formulas.numeric import DUST
from mediacost.results import words
from mediacost.results.against import BASES, Against, against, cost_per_kg_same_harvest
from mediacost.results.answers import (
    Answer,
    Comparison,
    ConditionAnswer,
    CropAnswer,
    Kind,
    MediumAnswer,
    NoAnswer,
    OverCycles,
    Payback,
)
from mediacost.results.cash_flow import CashBook, CashFlow
from mediacost.results.doubt import doubt_left
from mediacost.results.evaluation import (
    Evaluation,
    MediumFigures,
    cost_per_kg,
    evaluate,
    margin_per_shelf_day,
    medium_cost_per_kg,
    return_to_labour,
)
from mediacost.results.measures import LEAD_BASIS, MEASURES, Measure
from mediacost.results.tray import COST_LINES, TrayFigures
from mediacost.scenario import Scenario

_BASELINE = NoAnswer(Kind.BASELINE, "this is the baseline, the medium in use today")
_SINGLE_USE = NoAnswer(Kind.SINGLE_USE, "a single-use medium is bought anew for each tray: nothing has to pay back")
_NO_HARVEST = NoAnswer(Kind.NO_HARVEST, "nothing saleable is harvested on this medium")
_NO_SAME_HARVEST = NoAnswer(
    Kind.NO_HARVEST, "a crop gives nothing saleable, so no number of trays delivers the same harvest"
)
_NO_LABOUR = NoAnswer(Kind.NO_LABOUR, "no minutes of labour are given")
_NOTHING_TO_GAIN = NoAnswer(
    Kind.NEVER, "never: a cycle leaves no more than on the baseline, even before the sheet itself is paid"
)
_LOST_TOO_OFTEN = NoAnswer(Kind.LOST_TOO_OFTEN, "never: sheets are lost too often to serve that many cycles")
_NO_OUTLAY = NoAnswer(Kind.NO_OUTLAY, "nothing more than on the baseline is paid at the start")
_NO_RATE = NoAnswer(Kind.NO_RATE, "no rate: at no yearly rate do payments and savings balance")

COST_TOTALS = (*COST_LINES, "medium_total", "crop_total", "per_kg_total", "total")
"""The keys of ``cost_per_tray``, in order."""


def compare(scenario: Scenario) -> Comparison:
    """Work out the whole comparison of a checked document.

    Raises :class:`mediacost.errors.InputFaults` where the week's calendar shows a fault that the document alone
    does not, such as a crop that would spend no day under light.
    """
    evaluation = evaluate(scenario)
    book = CashBook(evaluation)
    media = tuple(_medium(at, scenario, evaluation, book) for at in range(len(evaluation.media)))
    limit = scenario.room.limit
    measure = MEASURES[limit]
    return Comparison(
        title=scenario.title,
        currency=scenario.currency,
        baseline=scenario.baseline_id,
        limit=limit,
        basis=LEAD_BASIS[limit],
        best=_best(media, [measure.of(medium) for medium in media], measure),
        best_by_crop={
            crop.id: _best(media, [measure.of_crop(medium.by_crop[at]) for medium in media], measure)
            for at, crop in enumerate(evaluation.numbers.crops)
        },
        trays_per_week=evaluation.numbers.trays_per_week,
        horizon_months=scenario.room.horizon_months,
        shelf_trays=scenario.room.shelf_trays,
        crop_names={crop.id: crop.name for crop in evaluation.numbers.crops},
        media=media,
        doubt=doubt_left(scenario),
    )


def _best(media: Sequence[MediumAnswer], values: Sequence[Answer], measure: Measure) -> str | None:
    """Best medium on a measure; on a tie, dust forgiven, the first in the file; None where nobody can be ranked."""
    best, best_value = None, math.inf
    for medium, value in zip(media, values, strict=True):
        if isinstance(value, NoAnswer) or medium.excluded:
            continue
        rank = -value if measure.more_is_better else value
        if best is None or rank < best_value - DUST * max(abs(rank), abs(best_value)):
            best, best_value = medium.id, rank
    return best


def _medium(at: int, scenario: Scenario, evaluation: Evaluation, book: CashBook) -> MediumAnswer:
    figures, numbers, reading = evaluation.media[at], evaluation.numbers, evaluation.reading
    tray, medium, fleet = figures.mix, figures.medium, figures.fleet
    sells = tray.yield_kg > 0
    same_harvest = _same_harvest_known(evaluation, figures)
    rivalry = {basis: against(evaluation, at, basis) for basis in BASES}
    known = {basis: basis != "same_harvest" or same_harvest for basis in BASES}
    is_baseline = at == numbers.baseline
    flows = {basis: book.flow(at, rivalry[basis], basis) for basis in BASES if known[basis] and not is_baseline}

    def money_view(work_out: Callable[[CashFlow], Answer]) -> dict[str, Answer]:
        if is_baseline:
            return dict.fromkeys(BASES, _BASELINE)
        return {basis: work_out(flows[basis]) if known[basis] else _NO_SAME_HARVEST for basis in BASES}

    break_even = {basis: _break_even(figures, rivalry[basis], is_baseline, known[basis]) for basis in BASES}
    paybacks = {basis: _payback(flows.get(basis), is_baseline) for basis in BASES}
    outlay_more = fleet.outlay - evaluation.baseline.fleet.outlay
    document = scenario.media[at]
    return MediumAnswer(
        id=medium.id,
        name=medium.name,
        use=document.use,
        sheet_price=figures.sheet.price,
        pieces=medium.pieces,
        mean_cycles=figures.sheet.mean_cycles,
        sheet_life_cost=figures.sheet.life_cost,
        cost_per_tray={name: getattr(tray, name) for name in COST_TOTALS},
        yield_kg_per_tray=tray.yield_kg,
        cost_per_kg=cost_per_kg(figures, reading) if sells else _NO_HARVEST,
        cost_per_kg_same_harvest=cost_per_kg_same_harvest(evaluation, at) if same_harvest else _NO_SAME_HARVEST,
        medium_cost_per_kg=medium_cost_per_kg(figures, reading) if sells else _NO_HARVEST,
        margin_per_tray=tray.margin,
        shelf_days=tray.shelf_days,
        margin_per_shelf_day=margin_per_shelf_day(figures, reading),
        labour_minutes_per_tray=tray.labour_minutes,
        return_to_labour_per_hour=_return_to_labour(figures, tray, evaluation),
        wash_minutes_per_tray=tray.wash_minutes,
        wash_litres_per_tray=tray.wash_litres,
        wash_kwh_per_tray=tray.wash_kwh,
        sheets_needed=fleet.sheets_needed,
        packs_to_buy=fleet.packs,
        outlay=fleet.outlay,
        saving_per_tray={
            basis: _BASELINE if is_baseline else rivalry[basis].saving if known[basis] else _NO_SAME_HARVEST
            for basis in BASES
        },
        break_even_cycles=break_even,
        break_even_life={basis: _life(break_even[basis], figures) for basis in BASES},
        payback_months=paybacks,
        payback_cycles={basis: _payback_cycles(paybacks[basis].simple, flows.get(basis), figures) for basis in BASES},
        npv=money_view(lambda flow: flow.net_present_value),
        irr=money_view(lambda flow: _rate(flow.flows)),
        sir=money_view(
            lambda flow: (
                cash.savings_to_investment(flow.net_present_value, outlay_more) if outlay_more > 0 else _NO_OUTLAY
            )
        ),
        conditions=tuple(ConditionAnswer(each.what, each.met) for each in document.conditions),
        by_crop=tuple(_crop(figures, place, evaluation) for place in range(len(numbers.crops))),
        cash=flows,
        over_cycles={basis: _over_cycles(figures, rivalry[basis], evaluation) for basis in BASES if known[basis]},
    )


def _same_harvest_known(evaluation: Evaluation, figures: MediumFigures) -> bool:
    """Whether trays of the medium can deliver the baseline's harvest of every crop, and there is one to deliver."""
    return evaluation.baseline.mix.yield_kg > 0 and all(
        tray.yield_kg > 0 or figures is evaluation.baseline for tray in figures.by_crop
    )


def _over_cycles(figures: MediumFigures, rivalry: Against, evaluation: Evaluation) -> OverCycles:
    base_cost = evaluation.baseline.mix.medium_total
    if figures is evaluation.baseline:
        return OverCycles(0.0, base_cost)
    if not figures.medium.reusable:
        return OverCycles(0.0, base_cost - rivalry.saving)
    return OverCycles(rivalry.life_cost, base_cost - rivalry.gain)


def _return_to_labour(figures: MediumFigures, tray: TrayFigures, evaluation: Evaluation) -> Answer:
    if tray.labour_minutes <= 0:
        return _NO_LABOUR
    return return_to_labour(figures, tray, evaluation.numbers, evaluation.reading)


def _crop(figures: MediumFigures, place: int, evaluation: Evaluation) -> CropAnswer:
    tray = figures.by_crop[place]
    return CropAnswer(
        crop=figures.medium.lays[place].crop.id,
        yield_kg_per_tray=tray.yield_kg,
        cost_per_kg=tray.total / tray.yield_kg if tray.yield_kg > 0 else _NO_HARVEST,
        margin_per_tray=tray.margin,
        shelf_days=tray.shelf_days,
        margin_per_shelf_day=tray.margin / tray.shelf_days,
        return_to_labour_per_hour=_return_to_labour(figures, tray, evaluation),
    )


def _break_even(figures: MediumFigures, rivalry: Against, is_baseline: bool, known: bool) -> Answer:
    if is_baseline:
        return _BASELINE
    if not figures.medium.reusable:
        return _SINGLE_USE
    if not known:
        return _NO_SAME_HARVEST
    return rivalry.break_even if math.isfinite(rivalry.break_even) else _NOTHING_TO_GAIN


def _life(break_even: Answer, figures: MediumFigures) -> Answer:
    """Rated life that reaches the break-even mean cycles."""
    if isinstance(break_even, NoAnswer):
        return break_even
    life = sheet.life_for_mean(break_even, figures.medium.loss)
    return life if math.isfinite(life) else _LOST_TOO_OFTEN


def _payback(flow: CashFlow | None, is_baseline: bool) -> Payback:
    if flow is None:
        nothing = _BASELINE if is_baseline else _NO_SAME_HARVEST
        return Payback(nothing, nothing, nothing, nothing)
    months = len(flow.flows) - 1

    def months_or_never(value: float, for_good: bool) -> Answer:
        if math.isfinite(value):
            return value
        words = "the money is not back at the end of" if for_good else "the money is at no time ahead within"
        return NoAnswer(Kind.NEVER, f"never: {words} the {months} months looked at")

    return Payback(
        simple=months_or_never(cash.payback(flow.running, flow.tolerance), True),
        discounted=months_or_never(cash.payback(flow.running_discounted, flow.tolerance), True),
        first_simple=months_or_never(cash.first_payback(flow.running, flow.tolerance), False),
        first_discounted=months_or_never(cash.first_payback(flow.running_discounted, flow.tolerance), False),
    )


def _payback_cycles(simple: Answer, flow: CashFlow | None, figures: MediumFigures) -> Answer:
    if isinstance(simple, NoAnswer) and simple.kind is Kind.BASELINE:
        return simple
    if not figures.medium.reusable:
        return _SINGLE_USE
    if isinstance(simple, NoAnswer) or flow is None:
        return simple
    return cash.between_periods(flow.cycles, simple)


def _rate(flows: Sequence[float]) -> Answer:
    found = rates.rates_of_return(flows)
    if not found:
        return _NO_RATE
    if len(found) > 1:
        said = words.listed([words.percent(rate, 3) for rate in found])
        fit = "both fit" if len(found) == 2 else "all fit"
        return NoAnswer(Kind.SEVERAL_RATES, f"no single rate: the flows change sign more than once ({said} {fit})")
    return found[0]
