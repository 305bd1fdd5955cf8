"""The answers as frozen records: what the command line prints and the screens show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Any, NamedTuple

from mediacost.results.cash_flow import CashFlow


class Kind(StrEnum):
    """Why there is no number."""

    BASELINE = "baseline"
    SINGLE_USE = "single use"
    NEVER = "never"
    LOST_TOO_OFTEN = "lost too often"
    NO_HARVEST = "no harvest"
    NO_LABOUR = "no labour"
    NO_OUTLAY = "no outlay"
    NO_RATE = "no rate"
    SEVERAL_RATES = "several rates"


class NoAnswer(NamedTuple):
    """An outcome that is not a number, with its reason in words."""

    kind: Kind
    reason: str

    def __str__(self) -> str:
        return self.reason


Answer = float | NoAnswer
"""A number, or the reason why there is none."""


class Payback(NamedTuple):
    """Months until the money is back: for good, and for the first time; plain and discounted."""

    simple: Answer
    discounted: Answer
    first_simple: Answer
    first_discounted: Answer


class OverCycles(NamedTuple):
    """What a medium costs as cycles go by, in place of one tray of the baseline: at the start, and with each cycle.

    A difference in harvest is counted into the cycle, so the line crosses the baseline's at the break-even cycles.
    """

    start: float
    per_cycle: float


class CropAnswer(NamedTuple):
    """A medium on one crop."""

    crop: str
    yield_kg_per_tray: float
    cost_per_kg: Answer
    margin_per_tray: float
    shelf_days: float
    margin_per_shelf_day: float
    return_to_labour_per_hour: Answer


CROP_FIGURES = CropAnswer._fields[1:]
"""The figures that are given for each crop alone."""


class ConditionAnswer(NamedTuple):
    """Something that must hold before a medium may be used, and whether it does: yes, no or unknown."""

    what: str
    met: str


class MediumAnswer(NamedTuple):
    """Everything the comparison says of one medium. Money in the scenario's currency, unrounded."""

    id: str
    name: str
    use: str
    sheet_price: float
    pieces: float
    mean_cycles: float
    sheet_life_cost: float
    cost_per_tray: Mapping[str, float]
    yield_kg_per_tray: float
    cost_per_kg: Answer
    cost_per_kg_same_harvest: Answer
    medium_cost_per_kg: Answer
    margin_per_tray: float
    shelf_days: float
    margin_per_shelf_day: float
    labour_minutes_per_tray: float
    return_to_labour_per_hour: Answer
    wash_minutes_per_tray: float
    wash_litres_per_tray: float
    wash_kwh_per_tray: float
    sheets_needed: float
    packs_to_buy: float
    outlay: float
    saving_per_tray: Mapping[str, Answer]
    break_even_cycles: Mapping[str, Answer]
    break_even_life: Mapping[str, Answer]
    payback_months: Mapping[str, Payback]
    payback_cycles: Mapping[str, Answer]
    npv: Mapping[str, Answer]
    irr: Mapping[str, Answer]
    sir: Mapping[str, Answer]
    conditions: tuple[ConditionAnswer, ...]
    by_crop: tuple[CropAnswer, ...]
    cash: Mapping[str, CashFlow]
    over_cycles: Mapping[str, OverCycles]

    @property
    def reasons(self) -> dict[str, str]:
        """The reason for every figure that has no number, by the figure's path."""
        return {path: answer.reason for path, answer in walk(self) if isinstance(answer, NoAnswer)}

    @property
    def excluded(self) -> bool:
        """Whether a condition that is not met keeps this medium out of the ranking."""
        return any(condition.met == "no" for condition in self.conditions)


class Doubt(NamedTuple):
    """What the single answer leaves unworked: inputs given as ranges, and what the harvest weights rest on.

    Trays weighed in all; weights typed without a number of trays; the fewest trays behind any of the others.
    """

    ranges: int
    trays_weighed: int
    weights_typed_bare: int
    fewest_trays: int


class Comparison(NamedTuple):
    """All media against the one in use today."""

    title: str
    currency: str
    baseline: str
    limit: str
    basis: str
    best: str | None
    best_by_crop: Mapping[str, str | None]
    trays_per_week: float
    horizon_months: int
    shelf_trays: int | None
    crop_names: Mapping[str, str]
    media: tuple[MediumAnswer, ...]
    doubt: Doubt

    def heading(self, medium: MediumAnswer) -> str:
        """A medium's name with what sets it apart: that it is in use today, or kept out of the ranking."""
        marks = ["today"] if medium.id == self.baseline else []
        marks += ["not ranked"] if medium.excluded else []
        return f"{medium.name} ({', '.join(marks)})" if marks else medium.name

    def medium(self, id: str) -> MediumAnswer:
        """The answer for one medium; raises KeyError for an id that is not there."""
        for answer in self.media:
            if answer.id == id:
                return answer
        raise KeyError(id)


def answer_at(medium: MediumAnswer, path: str) -> Answer:
    """The answer at a figure's path, such as ``payback_months.per_tray.simple`` or ``by_crop.radish.cost_per_kg``."""
    crop, dot, figure = path.removeprefix("by_crop.").rpartition(".") if path.startswith("by_crop.") else ("", "", "")
    found: Any = next(each for each in medium.by_crop if each.crop == crop) if dot else medium
    for name in [figure] if dot else path.split("."):
        found = found[name] if isinstance(found, Mapping) else getattr(found, name)
    assert isinstance(found, (int, float, NoAnswer)), path
    return found


_NOT_FIGURES = {"id", "name", "use", "crop", "conditions", "cash", "over_cycles"}


def walk(record: Any, path: str = "") -> Iterator[tuple[str, Answer]]:
    """Every figure of a medium's answer with its path, such as ``payback_months.per_tray.simple``."""
    if isinstance(record, (int, float, NoAnswer)):
        yield path, record
    elif isinstance(record, Mapping):
        for name, value in record.items():
            yield from walk(value, f"{path}.{name}")
    elif hasattr(record, "_fields"):
        for name in record._fields:
            if name not in _NOT_FIGURES:
                yield from walk(getattr(record, name), f"{path}.{name}" if path else name)
    else:
        for each in record:
            yield from walk(each, f"{path}.{each.crop}")
