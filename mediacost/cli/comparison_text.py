"""The comparison as text: the verdict in a sentence, then what it rests on."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Sequence

from mediacost.cli.table import Row, lay_out
from mediacost.results import words
from mediacost.results.answers import Answer, Comparison, CropAnswer, Kind, MediumAnswer, NoAnswer, walk
from mediacost.results.cautions import Caution
from mediacost.results.comparison import COST_TOTALS
from mediacost.results.figures import BASIS_NAMES, BASIS_WORDS, FIGURES, split_path
from mediacost.results.verdict import verdict

_SHORT = {
    Kind.BASELINE: "today",
    Kind.SINGLE_USE: "single use",
    Kind.NEVER: "never",
    Kind.LOST_TOO_OFTEN: "never",
}


def comparison_lines(comparison: Comparison, cautions: Iterable[Caution], width: int) -> list[str]:
    """Everything ``compare`` prints."""
    said = verdict(comparison)
    prose = [
        said.sentence,
        f"This measure is used {said.measure}. {said.doubt}",
        *said.conditions,
    ]
    lines = wrapped(comparison.title, width) + [""]
    for paragraph in prose:
        lines += wrapped(paragraph, width)
    lines += ["", *lay_out(_columns(comparison), _rows(comparison), width)]
    lines += _reasons(comparison, width)
    return lines + caution_lines(cautions, width)


def wrapped(text: str, width: int, indent: str = "") -> list[str]:
    """A paragraph in lines of at most ``width``, never wider than prose reads well."""
    return textwrap.wrap(text, min(width, 96), initial_indent=indent, subsequent_indent=indent)


def caution_lines(cautions: Iterable[Caution], width: int) -> list[str]:
    """The cautions that an output brings up."""
    lines = []
    for caution in cautions:
        lines += ["", f"Caution: {caution.heading.lower()}"]
        for each in caution.lines:
            lines += textwrap.wrap(each, min(width, 96), initial_indent="- ", subsequent_indent="  ")
    return lines


def _columns(comparison: Comparison) -> list[str]:
    return [
        medium.name + (" (today)" if medium.id == comparison.baseline else "") for medium in comparison.media
    ]


def _rows(comparison: Comparison) -> list[Row]:
    def row(name: str, find: Callable[[MediumAnswer], Answer], decimals: int = 2, label: str = "") -> Row:
        return _row(name, [find(medium) for medium in comparison.media], comparison, decimals, label)

    rows = [
        Row("What a kilogram costs"),
        row("cost_per_kg", lambda m: m.cost_per_kg),
        row("cost_per_kg_same_harvest", lambda m: m.cost_per_kg_same_harvest),
        row("medium_cost_per_kg", lambda m: m.medium_cost_per_kg),
        Row("What a tray costs"),
        *(row(f"cost_per_tray.{name}", lambda m, name=name: m.cost_per_tray[name], 3) for name in COST_TOTALS),
        Row("What a tray gives and takes"),
        row("yield_kg_per_tray", lambda m: m.yield_kg_per_tray, 3),
        row("margin_per_tray", lambda m: m.margin_per_tray),
        row("shelf_days", lambda m: m.shelf_days, 1),
        row("margin_per_shelf_day", lambda m: m.margin_per_shelf_day),
        row("labour_minutes_per_tray", lambda m: m.labour_minutes_per_tray, 1),
        row("return_to_labour_per_hour", lambda m: m.return_to_labour_per_hour),
        row("wash_minutes_per_tray", lambda m: m.wash_minutes_per_tray),
        row("wash_litres_per_tray", lambda m: m.wash_litres_per_tray),
        row("wash_kwh_per_tray", lambda m: m.wash_kwh_per_tray, 3),
        Row("Sheets to own"),
        row("sheet_price", lambda m: m.sheet_price),
        row("mean_cycles", lambda m: m.mean_cycles, 1),
        row("sheets_needed", lambda m: m.sheets_needed, 0),
        row("packs_to_buy", lambda m: m.packs_to_buy, 0),
        row("outlay", lambda m: m.outlay),
    ]
    bases = sorted(BASIS_NAMES, key=lambda basis: basis != comparison.basis)
    for basis in bases:
        rows.append(Row(f"Against {comparison.medium(comparison.baseline).name}, {BASIS_WORDS[basis]}"))
        rows += _against_rows(comparison, basis, row, full=basis == comparison.basis)
    if len(comparison.crop_names) > 1:
        rows += _crop_rows(comparison)
    return rows


def _against_rows(comparison: Comparison, basis: str, row: Callable[..., Row], full: bool) -> list[Row]:
    rows = [
        row("saving_per_tray", lambda m: m.saving_per_tray[basis], 3),
        row("break_even_cycles", lambda m: m.break_even_cycles[basis], 1),
        row("break_even_life", lambda m: m.break_even_life[basis], 1),
        row("payback_months.simple", lambda m: m.payback_months[basis].simple, 1),
    ]
    if full:
        rows += [
            row("payback_months.discounted", lambda m: m.payback_months[basis].discounted, 1),
            row("payback_cycles", lambda m: m.payback_cycles[basis], 1),
            row("npv", lambda m: m.npv[basis]),
            Row("  internal rate of return per year", tuple(_rate(m.irr[basis]) for m in comparison.media)),
            row("sir", lambda m: m.sir[basis]),
        ]
    return rows


def _rate(rate: Answer) -> str:
    return _short(rate) if isinstance(rate, NoAnswer) else words.percent(rate, 3)


def _crop_rows(comparison: Comparison) -> list[Row]:
    rows = []
    for at, (crop, name) in enumerate(comparison.crop_names.items()):
        best = comparison.best_by_crop[crop]
        leads = f": {comparison.medium(best).name} comes out best" if best else ""
        rows.append(Row(f"On {name} alone{leads}"))
        crops = [medium.by_crop[at] for medium in comparison.media]

        def row(name: str, find: Callable[[CropAnswer], Answer], decimals: int, crops=crops) -> Row:
            return _row(name, [find(crop) for crop in crops], comparison, decimals)

        rows += [
            row("yield_kg_per_tray", lambda c: c.yield_kg_per_tray, 3),
            row("cost_per_kg", lambda c: c.cost_per_kg, 2),
            row("margin_per_tray", lambda c: c.margin_per_tray, 2),
            row("shelf_days", lambda c: c.shelf_days, 1),
            row("margin_per_shelf_day", lambda c: c.margin_per_shelf_day, 2),
        ]
    return rows


def _row(name: str, values: Sequence[Answer], comparison: Comparison, decimals: int, label: str = "") -> Row:
    figure = FIGURES[name]
    unit = words.unit(figure.unit, comparison.currency)
    shown = label or figure.label
    if unit and unit not in shown:
        shown += f", {unit}"
    cells = tuple(_short(value) if isinstance(value, NoAnswer) else words.fixed(value, decimals) for value in values)
    return Row("  " + shown, cells)


def _short(missing: NoAnswer) -> str:
    return _SHORT.get(missing.kind, "none")


def _reasons(comparison: Comparison, width: int) -> list[str]:
    """Why a cell says never or none: each reason once, with the figures of each medium that it holds for."""
    holds: dict[str, dict[str, dict[str, list[str]]]] = {}
    for medium in comparison.media:
        for path, answer in walk(medium):
            if isinstance(answer, NoAnswer) and answer.kind not in (Kind.BASELINE, Kind.SINGLE_USE):
                figure, basis = split_path(path)
                word = FIGURES[figure].label
                bases = holds.setdefault(answer.reason, {}).setdefault(medium.name, {}).setdefault(word, [])
                if basis:
                    bases.append(BASIS_NAMES[basis])
    if not holds:
        return []
    lines = ["", "Why there is no number"]
    for reason, media in holds.items():
        lines += wrapped(sentence(reason), width, "  ")
        for name, figures in media.items():
            said = [f"{word} ({', '.join(bases)})" if bases else word for word, bases in figures.items()]
            lines += wrapped(f"{name}: {', '.join(said)}", width, "      ")
    return lines


def sentence(reason: str) -> str:
    """A reason as a sentence of its own."""
    return f"{reason[0].upper()}{reason[1:]}."
