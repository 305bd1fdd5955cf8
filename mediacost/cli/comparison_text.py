"""The comparison as text: the verdict in words, then what it rests on."""

from __future__ import annotations

from collections.abc import Iterable

from mediacost.cli.prose import caution_lines, sentence, wrapped
from mediacost.cli.table import Row, lay_out
from mediacost.results import words
from mediacost.results.answers import Comparison, Kind, NoAnswer, walk
from mediacost.results.cautions import Caution
from mediacost.results.figures import BASIS_NAMES, FIGURES, split_path
from mediacost.results.overview import is_shown, overview
from mediacost.results.verdict import verdict

_FURTHER = "How sure, what would flip it and what to find out first: 'mediacost confidence FILE' works it out."


def comparison_lines(comparison: Comparison, cautions: Iterable[Caution], width: int) -> list[str]:
    """Everything ``compare`` prints."""
    lines = [*wrapped(comparison.title, width), ""]
    for paragraph in verdict(comparison).paragraphs:
        lines += wrapped(paragraph, width)
    lines += wrapped(_FURTHER, width)
    columns = [comparison.heading(each) for each in comparison.media]
    lines += ["", *lay_out(columns, table_rows(comparison), width)]
    return lines + _reasons(comparison, width) + _how_counted(comparison, width) + caution_lines(cautions, width)


def table_rows(comparison: Comparison) -> list[Row]:
    """The overview as rows of a plain table: headings without cells, figures indented below them."""
    rows = []
    for section in overview(comparison):
        rows.append(Row(section.heading))
        rows += [Row(f"  {row.label}", row.cells) for row in section.rows]
    return rows


def _reasons(comparison: Comparison, width: int) -> list[str]:
    """Why a cell says never or none: each reason once, with the figures of each medium that it holds for."""
    holds: dict[str, dict[str, dict[str, list[str]]]] = {}
    for medium in comparison.media:
        for path, answer in walk(medium):
            if not isinstance(answer, NoAnswer) or answer.kind in (Kind.BASELINE, Kind.SINGLE_USE):
                continue
            if is_shown(path, comparison):
                figure, where = _named(path, comparison)
                places = holds.setdefault(answer.reason, {}).setdefault(medium.name, {}).setdefault(figure, [])
                places += [where] if where else []
    if not holds:
        return []
    lines = ["", "Why there is no number"]
    for reason, media in holds.items():
        lines += wrapped(sentence(reason), width, "  ")
        for name, figures in media.items():
            said = [f"{word} ({', '.join(places)})" if places else word for word, places in figures.items()]
            lines += wrapped(f"{name}: {', '.join(said)}", width, "      ")
    return lines


def _named(path: str, comparison: Comparison) -> tuple[str, str]:
    """A figure's words, and the way of counting or the crop that it belongs to."""
    figure, basis = split_path(path)
    crop = path.removeprefix("by_crop.").removesuffix(f".{figure}") if path.startswith("by_crop.") else ""
    return FIGURES[figure].label, BASIS_NAMES[basis] if basis else comparison.crop_names.get(crop, "")


def _how_counted(comparison: Comparison, width: int) -> list[str]:
    trays = f"{words.number(comparison.trays_per_week)} trays sown a week (where the season is 1)"
    months = f"{comparison.horizon_months} months"
    said = (
        "Margin: sales less the costs listed here. Rent, tax and whatever else is the same on every medium is left "
        "out.",
        f"Net present value, payback and the rates: money by month over {months} with {trays}; money counted when the "
        "tray is sown. Sheets left at the end count as worth nothing.",
        "Payback for good: from then on the money stays ahead, replacement of worn sheets included.",
        "Rated life that breaks even: compare it with the life in cycles that you have given. 'Running' leaves out "
        "what is bought at once: reusable sheets and wash equipment.",
    )
    lines = ["", "How it is counted"]
    for each in said:
        lines += wrapped(each, width, "- ", "  ")
    return lines
