"""All figures of a comparison in sections, a row for each figure and a value for each medium: data for any table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from mediacost.results import words
from mediacost.results.answers import Answer, Comparison, Kind, NoAnswer, answer_at
from mediacost.results.comparison import COST_TOTALS
from mediacost.results.figures import BASIS_NAMES, BASIS_WORDS, FIGURES, split_path


class OverviewRow(NamedTuple):
    """A figure: its path in the answer, its words with the unit, and for each medium the value and its text."""

    path: str
    label: str
    values: tuple[Answer, ...]
    cells: tuple[str, ...]


class Section(NamedTuple):
    """Rows that belong together."""

    heading: str
    rows: tuple[OverviewRow, ...]


_KILOGRAM = ("cost_per_kg", "cost_per_kg_same_harvest", "medium_cost_per_kg")
_TRAY = (
    "yield_kg_per_tray",
    "margin_per_tray",
    "shelf_days",
    "margin_per_shelf_day",
    "labour_minutes_per_tray",
    "return_to_labour_per_hour",
    "wash_minutes_per_tray",
    "wash_litres_per_tray",
    "wash_kwh_per_tray",
)
_FLEET = ("sheet_price", "mean_cycles", "sheets_needed", "packs_to_buy", "outlay")
_ON_EVERY_BASIS = ("saving_per_tray", "break_even_cycles", "break_even_life", "payback_months.simple")
_ON_THE_LEAD_BASIS = (*_ON_EVERY_BASIS, "payback_months.discounted", "payback_cycles", "npv", "irr", "sir")
_OF_A_CROP = ("yield_kg_per_tray", "cost_per_kg", "margin_per_tray", "shelf_days", "margin_per_shelf_day")

_DECIMALS = {
    "yield_kg_per_tray": 3,
    "wash_minutes_per_tray": 2,
    "wash_litres_per_tray": 2,
    "wash_kwh_per_tray": 3,
    "sheets_needed": 0,
    "packs_to_buy": 0,
    "sir": 2,
}
"""Decimals of what is not money; one where nothing is said."""

_COST_LINE_DECIMALS = 3

_SHORT = {
    Kind.BASELINE: "today",
    Kind.SINGLE_USE: "single use",
    Kind.NEVER: "never",
    Kind.LOST_TOO_OFTEN: "never",
}
"""What a cell says where there is no number."""

_SAID = {"/kg": "kilogram", "/tray": "per tray", "/shelf-day": "shelf-day", "/h": "hour"}
"""Ends of units that need not be said again where the words say them."""


def overview(comparison: Comparison) -> tuple[Section, ...]:
    """Everything the comparison says: single crops first where there are several, then the mix of them."""
    crops = list(_crop_sections(comparison)) if _several_crops(comparison) else []
    mix = ", all crops together" if crops else ""
    sections = [
        *crops,
        _section(f"What a kilogram costs{mix}", _kilogram_figures(comparison), comparison),
        _cost_section(f"What a tray costs{mix}, {words.unit('money/tray', comparison.currency)}", comparison),
        _section(f"What a tray gives and takes{mix}", _TRAY, comparison),
        _section("Sheets to own", _FLEET, comparison),
    ]
    today = comparison.medium(comparison.baseline).name
    for basis in sorted(BASIS_NAMES, key=lambda basis: basis != comparison.basis):
        paths = [_on_basis(figure, basis) for figure in _against_figures(basis, comparison)]
        sections.append(_section(f"Against {today}, {BASIS_WORDS[basis]}", paths, comparison))
    return tuple(sections)


def is_shown(path: str, comparison: Comparison) -> bool:
    """Whether the figure at a path of the answer has a row of its own."""
    figure, basis = split_path(path)
    if path.startswith("by_crop."):
        return _several_crops(comparison) and figure in _OF_A_CROP
    if basis:
        return figure in _against_figures(basis, comparison)
    return figure not in _KILOGRAM or figure in _kilogram_figures(comparison)


def _several_crops(comparison: Comparison) -> bool:
    return len(comparison.crop_names) > 1


def _against_figures(basis: str, comparison: Comparison) -> tuple[str, ...]:
    return _ON_THE_LEAD_BASIS if basis == comparison.basis else _ON_EVERY_BASIS


def _on_basis(figure: str, basis: str) -> str:
    name, dot, which = figure.partition(".")
    return f"{name}.{basis}{dot}{which}"


def _kilogram_figures(comparison: Comparison) -> Sequence[str]:
    """The cost of the same harvest is left out where it says the same as the cost per kilogram."""
    alike = all(_alike(medium.cost_per_kg, medium.cost_per_kg_same_harvest) for medium in comparison.media)
    return [name for name in _KILOGRAM if not (alike and name == "cost_per_kg_same_harvest")]


def _alike(one: Answer, other: Answer) -> bool:
    if isinstance(one, NoAnswer) or isinstance(other, NoAnswer):
        return isinstance(one, NoAnswer) and isinstance(other, NoAnswer)
    return abs(one - other) <= 1e-9 * abs(one)


def _crop_sections(comparison: Comparison) -> Iterator[Section]:
    for crop, name in comparison.crop_names.items():
        best = comparison.best_by_crop[crop]
        leads = f": {comparison.medium(best).name} comes first" if best else ""
        yield _section(f"On {name} alone{leads}", [f"by_crop.{crop}.{figure}" for figure in _OF_A_CROP], comparison)


def _section(heading: str, paths: Sequence[str], comparison: Comparison) -> Section:
    return Section(heading, tuple(_row(path, comparison) for path in paths))


def _cost_section(heading: str, comparison: Comparison) -> Section:
    """The cost lines, all with the same decimals, so that a column adds up before the eyes."""
    totals = (medium.cost_per_tray["total"] for medium in comparison.media)
    decimals = words.money_decimals(totals, _COST_LINE_DECIMALS)
    rows = []
    for name in COST_TOTALS:
        values = tuple(medium.cost_per_tray[name] for medium in comparison.media)
        cells = tuple(words.fixed(value, decimals) for value in values)
        path = f"cost_per_tray.{name}"
        rows.append(OverviewRow(path, FIGURES[path].label, values, cells))
    return Section(heading, tuple(rows))


def _row(path: str, comparison: Comparison) -> OverviewRow:
    figure, _ = split_path(path)
    values = tuple(answer_at(medium, path) for medium in comparison.media)
    decimals = _decimals(figure, (value for value in values if not isinstance(value, NoAnswer)))
    cells = tuple(_cell(figure, value, decimals) for value in values)
    return OverviewRow(path, _label(figure, comparison), values, cells)


def _cell(figure: str, value: Answer, decimals: int) -> str:
    if isinstance(value, NoAnswer):
        return _SHORT.get(value.kind, "none")
    if figure == "irr":
        return words.percent(value, 3)
    if figure.startswith("payback_months") and value <= 0:
        return "at once"
    return words.fixed(value, decimals)


def _decimals(figure: str, values: Iterable[float]) -> int:
    if FIGURES[figure].unit.startswith("money"):
        return words.money_decimals(values)
    return _DECIMALS.get(figure, 1)


def _label(figure: str, comparison: Comparison) -> str:
    """A figure's words with its unit, what the words say already left out of the unit."""
    described = FIGURES[figure]
    unit = words.unit(described.unit, comparison.currency)
    for end, said in _SAID.items():
        if said in described.label:
            unit = unit.removesuffix(end)
    return f"{described.label}, {unit}" if unit and unit not in described.label else described.label
