"""Which figures can be asked why, and where each is found in an evaluation on recorded numbers."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from functools import partial

from mediacost.errors import Fault, InputFaults
from mediacost.formulas import cash, sheet
from mediacost.results import evaluation as evaluate_media
from mediacost.results.against import BASES, against, cost_per_kg_same_harvest
from mediacost.results.answers import CROP_FIGURES, Comparison, Kind, NoAnswer
from mediacost.results.cash_flow import CashBook, CashFlow
from mediacost.results.comparison import COST_TOTALS
from mediacost.results.evaluation import Evaluation
from mediacost.results.recorded import Recorded
from mediacost.scenario.values import safe

PAYBACKS = ("simple", "discounted", "first_simple", "first_discounted")


def figure_names() -> tuple[str, ...]:
    """Every figure that can be asked why, by its path."""
    names = [*_PLAIN]
    names += [f"cost_per_tray.{name}" for name in COST_TOTALS]
    names += [f"{name}.{basis}" for name in _BY_BASIS for basis in BASES]
    names += [f"payback_months.{basis}.{which}" for basis in BASES for which in PAYBACKS]
    return tuple(names)


def crop_figure(path: str) -> tuple[str, str]:
    """The crop and the figure in a path such as ``by_crop.radish.cost_per_kg``; two empty words in any other.

    >>> crop_figure("by_crop.pea shoots.cost_per_kg"), crop_figure("cost_per_kg")
    (('pea shoots', 'cost_per_kg'), ('', ''))
    """
    if not path.startswith("by_crop."):
        return "", ""
    crop, _, figure = path.removeprefix("by_crop.").rpartition(".")
    return crop, figure


def check_crop_figure(crop: str, figure: str, comparison: Comparison) -> None:
    if crop not in comparison.crop_names:
        raise InputFaults(
            (unknown("--figure", f"by_crop.{crop}", [f"by_crop.{each}" for each in comparison.crop_names]),)
        )
    if figure not in CROP_FIGURES:
        raise InputFaults((unknown("--figure", figure, list(CROP_FIGURES)),))


def full_path(figure: str, basis: str) -> str:
    """The whole path of a figure: hyphens read as underscores, parts left out filled with the usual ones."""
    asked = figure.strip().replace("-", "_").replace(" ", "_")
    first, dot, rest = asked.partition(".")
    first = {"break_even": "break_even_cycles", "payback": "payback_months"}.get(first, first)
    asked = first + dot + rest
    names = figure_names()
    for guess in (
        asked,
        f"{asked}.{basis}",
        f"{asked}.{basis}.simple",
        f"{asked}.simple",
        f"{first}.{basis}.{rest}",
        f"cost_per_tray.{asked}",
        f"{asked}.total",
    ):
        if guess in names:
            return guess
    short = sorted({name.partition(".")[0] for name in names})
    raise InputFaults((unknown("--figure", figure, short, also=[*names, *COST_TOTALS]),))


def unknown(option: str, typed: str, known: list[str], also: Iterable[str] = ()) -> Fault:
    near = difflib.get_close_matches(typed.replace("-", "_"), [*known, *also], n=1, cutoff=0.4)
    hint = f" (nearest: {near[0]})" if near else ""
    return Fault(
        where="", path=option, problem=f'"{safe(typed)}" is not known{hint}', expected="one of " + ", ".join(known)
    )


_Find = Callable[[Evaluation, int], Recorded]

_PLAIN: dict[str, _Find] = {
    "sheet_price": lambda all_, at: all_.media[at].sheet.price,
    "pieces": lambda all_, at: all_.media[at].medium.pieces,
    "mean_cycles": lambda all_, at: all_.media[at].sheet.mean_cycles,
    "sheet_life_cost": lambda all_, at: all_.media[at].sheet.life_cost,
    "yield_kg_per_tray": lambda all_, at: all_.media[at].mix.yield_kg,
    "cost_per_kg": lambda all_, at: evaluate_media.cost_per_kg(all_.media[at], all_.reading),
    "cost_per_kg_same_harvest": cost_per_kg_same_harvest,
    "medium_cost_per_kg": lambda all_, at: evaluate_media.medium_cost_per_kg(all_.media[at], all_.reading),
    "margin_per_tray": lambda all_, at: all_.media[at].mix.margin,
    "shelf_days": lambda all_, at: all_.media[at].mix.shelf_days,
    "margin_per_shelf_day": lambda all_, at: evaluate_media.margin_per_shelf_day(all_.media[at], all_.reading),
    "labour_minutes_per_tray": lambda all_, at: all_.media[at].mix.labour_minutes,
    "return_to_labour_per_hour": lambda all_, at: evaluate_media.return_to_labour(
        all_.media[at], all_.media[at].mix, all_.numbers, all_.reading
    ),
    "wash_minutes_per_tray": lambda all_, at: all_.media[at].mix.wash_minutes,
    "wash_litres_per_tray": lambda all_, at: all_.media[at].mix.wash_litres,
    "wash_kwh_per_tray": lambda all_, at: all_.media[at].mix.wash_kwh,
    "sheets_needed": lambda all_, at: all_.media[at].fleet.sheets_needed,
    "packs_to_buy": lambda all_, at: all_.media[at].fleet.packs,
    "outlay": lambda all_, at: all_.media[at].fleet.outlay,
}

_BY_BASIS = ("saving_per_tray", "break_even_cycles", "break_even_life", "payback_cycles", "npv", "irr", "sir")


def node_of(evaluation: Evaluation, at: int, path: str, answer: float | NoAnswer) -> Recorded | None:
    """The recorded number at a figure's path; where there is no number, the one that shows why, or None."""
    if isinstance(answer, NoAnswer) and answer.kind not in (Kind.NEVER, Kind.LOST_TOO_OFTEN):
        return None
    if path in _PLAIN:
        return _tagged(evaluation, path, _PLAIN[path](evaluation, at), at)
    crop, of_crop = crop_figure(path)
    if crop:
        return node_of(_on_one_crop(evaluation, at, crop), at, of_crop, answer)
    name, _, rest = path.partition(".")
    if name == "cost_per_tray":
        return _tagged(evaluation, path, getattr(evaluation.media[at].mix, rest), at)
    basis, _, which = rest.partition(".")
    return _against_baseline(evaluation, at, name, basis, which, answer)


def _on_one_crop(evaluation: Evaluation, at: int, crop: str) -> Evaluation:
    """The evaluation as if a medium had no other crop to average with."""
    figures = evaluation.media[at]
    place = next(place for place, each in enumerate(evaluation.numbers.crops) if each.id == crop)
    alone = figures._replace(mix=figures.by_crop[place])
    return evaluation._replace(media=(*evaluation.media[:at], alone, *evaluation.media[at + 1 :]))


def _tagged(evaluation: Evaluation, path: str, node: Recorded, at: int) -> Recorded:
    return evaluation.reading.mark(path, node, evaluation.media[at].medium.id) if _bare(node) else node


def _bare(node: Recorded | float) -> bool:
    return not isinstance(node, Recorded) or node.tag is None


def _against_baseline(
    evaluation: Evaluation, at: int, name: str, basis: str, which: str, answer: float | NoAnswer
) -> Recorded:
    rivalry = against(evaluation, at, basis)
    mark = partial(_mark_for, evaluation, evaluation.media[at].medium.id, basis)
    if name == "saving_per_tray":
        return rivalry.saving
    if name in ("break_even_cycles", "break_even_life"):
        if isinstance(answer, NoAnswer) and answer.kind is Kind.NEVER:
            return rivalry.gain
        if name == "break_even_cycles" or isinstance(answer, NoAnswer):
            return rivalry.break_even
        return mark(name, sheet.life_for_mean(rivalry.break_even, evaluation.media[at].medium.loss))
    flow = CashBook(evaluation).flow(at, rivalry, basis)
    if name == "payback_months":
        return _payback(flow, which, answer, mark)
    if name == "npv":
        return flow.net_present_value
    if name == "sir":
        outlay = evaluation.media[at].fleet.outlay - evaluation.baseline.fleet.outlay
        return mark(name, cash.savings_to_investment(flow.net_present_value, outlay))
    return _found(name, answer, flow, mark)


def _mark_for(evaluation: Evaluation, medium: str, basis: str, name: str, value: Recorded) -> Recorded:
    return evaluation.reading.mark(name, value, medium, basis)


def _payback(flow: CashFlow, which: str, answer: float | NoAnswer, mark: Callable[..., Recorded]) -> Recorded:
    running = flow.running_discounted if which.endswith("discounted") else flow.running
    if isinstance(answer, NoAnswer):
        return running[-1]
    rule = cash.first_payback if which.startswith("first") else cash.payback
    return mark(f"payback_months.{which}", rule(running, flow.tolerance))


def _found(name: str, answer: float | NoAnswer, flow: CashFlow, mark: Callable[..., Recorded]) -> Recorded:
    """A figure found by search or read off a table: its value, with the numbers it was found from."""
    if isinstance(answer, NoAnswer):
        return flow.running[-1]
    source = flow.flows if name == "irr" else flow.cycles
    made = Recorded(answer, "found", tuple(each for each in source if isinstance(each, Recorded)))
    return mark(name, made)
