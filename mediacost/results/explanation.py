"""Any figure, asked why: the formula, its numbers, and the same for each part down to the inputs and their notes."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace
from functools import partial
from typing import Any

from mediacost.errors import Fault, InputFaults
from mediacost.formulas import cash, sheet
from mediacost.results import evaluation as evaluate_media
from mediacost.results import words
from mediacost.results.against import BASES, against, cost_per_kg_same_harvest
from mediacost.results.answers import CROP_FIGURES, Comparison, Kind, NoAnswer, answer_at
from mediacost.results.cash_flow import CashBook, CashFlow
from mediacost.results.comparison import COST_TOTALS, compare
from mediacost.results.evaluation import Evaluation, evaluate
from mediacost.results.figures import BASIS_NAMES, BASIS_WORDS, FIGURES, split_path
from mediacost.results.formula_text import parts_of, text_of
from mediacost.results.measures import LEAD_BASIS
from mediacost.results.recorded import Recorded, RecordedReading, value_of
from mediacost.scenario import Scenario, describe_path
from mediacost.scenario.paths_in_words import path_in_words
from mediacost.scenario.values import safe

PAYBACKS = ("simple", "discounted", "first_simple", "first_discounted")


@dataclass(frozen=True, slots=True)
class Step:
    """One figure opened: what it is, how it is worked out, and the steps of its parts.

    ``formula`` names the parts and ``numbers`` fills them in; both are empty for an input. ``where`` is an input's
    key path, ``note`` what the document says of it, ``lines`` how a counted number was counted.
    """

    label: str
    value: float
    unit: str
    formula: str = ""
    numbers: str = ""
    where: str = ""
    note: str = ""
    lines: tuple[str, ...] = ()
    parts: tuple[Step, ...] = field(default=())
    seen: bool = False

    def walk(self, depth: int = 0) -> Iterator[tuple[int, Step]]:
        """This step and all below it, each with its depth."""
        yield depth, self
        for part in self.parts:
            yield from part.walk(depth + 1)


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why a figure is what it is. ``reason`` is filled where there is no number."""

    medium: str
    figure: str
    reason: str
    step: Step | None


def figure_names() -> tuple[str, ...]:
    """Every figure that can be asked why, by its path."""
    names = [*_PLAIN]
    names += [f"cost_per_tray.{name}" for name in COST_TOTALS]
    names += [f"{name}.{basis}" for name in _BY_BASIS for basis in BASES]
    names += [f"payback_months.{basis}.{which}" for basis in BASES for which in PAYBACKS]
    return tuple(names)


def explain(scenario: Scenario, medium: str, figure: str) -> Explanation:
    """Open a figure of a medium down to the inputs.

    ``figure`` is a path of the comparison's answer, such as ``cost_per_kg``, ``cost_per_tray.sheet``,
    ``by_crop.radish.margin_per_tray`` or ``payback_months.sell_extra.simple``. The way of counting may be left out:
    the one that fits the room's limit is taken. Raises :class:`mediacost.errors.InputFaults` for an id or a figure
    that does not exist.
    """
    ids = [each.id for each in scenario.media]
    if medium not in ids:
        raise InputFaults((_unknown("--medium", medium, ids),))
    comparison = compare(scenario)
    answer = comparison.medium(medium)
    crop, of_crop = crop_figure(figure)
    if crop:
        _check_crop_figure(crop, of_crop, comparison)
        path = f"by_crop.{crop}.{of_crop}"
    else:
        path = full_path(figure, LEAD_BASIS[scenario.room.limit])
    missing = answer_at(answer, path)
    reason = missing.reason if isinstance(missing, NoAnswer) else ""
    at = ids.index(medium)
    evaluation = evaluate(scenario, RecordedReading(scenario))
    node = _node(evaluation, at, path, missing)
    if node is None:
        return Explanation(medium, path, reason, None)
    teller = _Teller(scenario, evaluation)
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


def crop_figure(path: str) -> tuple[str, str]:
    """The crop and the figure in a path such as ``by_crop.radish.cost_per_kg``; two empty words in any other.

    >>> crop_figure("by_crop.pea shoots.cost_per_kg"), crop_figure("cost_per_kg")
    (('pea shoots', 'cost_per_kg'), ('', ''))
    """
    if not path.startswith("by_crop."):
        return "", ""
    crop, _, figure = path.removeprefix("by_crop.").rpartition(".")
    return crop, figure


def _check_crop_figure(crop: str, figure: str, comparison: Comparison) -> None:
    if crop not in comparison.crop_names:
        raise InputFaults(
            (_unknown("--figure", f"by_crop.{crop}", [f"by_crop.{each}" for each in comparison.crop_names]),)
        )
    if figure not in CROP_FIGURES:
        raise InputFaults((_unknown("--figure", figure, list(CROP_FIGURES)),))


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
    raise InputFaults((_unknown("--figure", figure, short, also=[*names, *COST_TOTALS]),))


def _unknown(option: str, typed: str, known: list[str], also: Iterable[str] = ()) -> Fault:
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


def _node(evaluation: Evaluation, at: int, path: str, answer: float | NoAnswer) -> Recorded | None:
    """The recorded number at a figure's path; where there is no number, the one that shows why, or None."""
    if isinstance(answer, NoAnswer) and answer.kind not in (Kind.NEVER, Kind.LOST_TOO_OFTEN):
        return None
    if path in _PLAIN:
        return _tagged(evaluation, path, _PLAIN[path](evaluation, at), at)
    crop, of_crop = crop_figure(path)
    if crop:
        return _node(_on_one_crop(evaluation, at, crop), at, of_crop, answer)
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


def _filled_in(part: Recorded) -> str:
    text = words.number(value_of(part))
    return f"({text})" if text.startswith("-") else text


_NOT_GIVEN = "not given: the usual value is taken"
_NOT_FOR_SINGLE_USE = "single use: a sheet serves one cycle, nothing is washed, none is owned"
_NOTHING_GIVEN = "nothing is given that this would be worked out from"


class _Teller:
    """Turns recorded numbers into steps, each shown once."""

    def __init__(self, scenario: Scenario, evaluation: Evaluation) -> None:
        self._data = scenario.model_dump()
        self._currency = scenario.currency
        self._names = {medium.id: medium.name for medium in scenario.media}
        self._names |= {crop.id: crop.name for crop in scenario.crops} | BASIS_NAMES
        self._single_use = {each.id for each in scenario.media if each.use == "single-use"}
        self._told: set[tuple] = set()

    def step(self, node: Recorded, around: tuple[str | int, ...]) -> Step:
        tag = node.tag
        assert tag is not None
        if tag.kind == "input":
            return self._input_step(node)
        figure, value = FIGURES[tag.name], float(value_of(node))
        bare = Step(self._label(node, around), value, words.unit(figure.unit, self._currency))
        key = (tag.name, tag.context, value)
        if key in self._told:
            return replace(bare, seen=True)
        self._told.add(key)
        if tag.kind == "counted":
            return replace(bare, lines=_counted_lines(tag.lines() if tag.lines else ()))
        made, here = node.operands[0], (*around, *tag.context)
        shown = self._shown_parts(made, bool(figure.method))
        alias = len(shown) == 1 and text_of(made, lambda _: "@") == "@"
        if alias and shown[0].tag is not None and shown[0].tag.name == tag.name:
            return self.step(shown[0], around)
        if shown and all(part.tag is not None and part.tag.unset for part in shown):
            return replace(bare, note=_NOT_GIVEN)
        parts = tuple(self.step(part, here) for part in shown)
        if not parts:
            single = any(each in self._single_use for each in tag.context)
            return replace(bare, note=_NOT_FOR_SINGLE_USE if single else _NOTHING_GIVEN)
        if figure.method:
            return replace(bare, formula=figure.method, parts=parts)
        return replace(
            bare,
            formula=text_of(made, lambda part: self._label(part, here)),
            numbers="" if alias else text_of(made, _filled_in),
            parts=parts,
        )

    def _input_step(self, node: Recorded) -> Step:
        tag = node.tag
        assert tag is not None
        described = describe_path(tag.keys)
        notes = [tag.note] if tag.note else []
        if tag.unset:
            notes.append(_NOT_GIVEN)
        table = _table_of(tag.keys)
        if tag.table_note and table not in self._told:
            notes.append(self._table_note(table, tag.table_note))
            self._told.add(table)
        return Step(
            label=described.label,
            value=float(value_of(node)),
            unit=words.unit(described.unit, self._currency),
            where=path_in_words(tag.keys, self._data),
            note="\n".join(notes),
        )

    def _table_note(self, table: tuple[str | int, ...], note: str) -> str:
        """A note that a whole table bears; where the table is a large one, said to be of it."""
        large = table[0] in ("room", "crops", "media", "washes") and len(table) <= 2
        return f"note on {path_in_words(table, self._data)}: {note}" if large else note

    @staticmethod
    def _shown_parts(made: Recorded, by_method: bool) -> list[Recorded]:
        parts = list(parts_of(made))
        return [*parts[:2], parts[-1]] if by_method and len(parts) > 12 else parts

    def _label(self, node: Recorded, around: tuple[str | int, ...]) -> str:
        """A part's words, with what sets it apart from the step it stands in."""
        tag = node.tag
        assert tag is not None
        if tag.kind == "input":
            return self._input_label(node)
        label = FIGURES[tag.name].label
        month = next((each for each in tag.context if isinstance(each, int)), None)
        extra = [self._names.get(each, each) for each in tag.context if isinstance(each, str) and each not in around]
        if month is not None and "the month" in label:
            label = label.replace("the month", f"month {month}")
        elif month is not None:
            extra.append(f"month {month}")
        return f"{label} ({', '.join(extra)})" if extra else label

    def _input_label(self, node: Recorded) -> str:
        assert node.tag is not None
        label = describe_path(node.tag.keys).label
        return label[0].lower() + label[1:] if label[1:2].islower() else label


def _table_of(keys: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """The key path of the table that an input stands in; a list of numbers belongs to the table around it."""
    last = max(at for at, key in enumerate(keys) if isinstance(key, str))
    return keys[:last]


def _counted_lines(lines: Sequence[str]) -> tuple[str, ...]:
    """How a number was counted, equal lines once."""
    times: dict[str, int] = {}
    for line in lines:
        times[line] = times.get(line, 0) + 1
    return tuple(f"{line} ({n} times)" if n > 1 else line for line, n in times.items())
