"""All figures of each medium on its own, on whatever numbers a reading hands out.

The single answer, the explanation and any study over many draws come through here, so they cannot disagree.
"""

from __future__ import annotations

from typing import NamedTuple

from mediacost.errors import Fault, InputFaults
from mediacost.formulas import tray_cost, week
from mediacost.formulas.numeric import Number
from mediacost.results.fleet import Fleet, fleet_figures
from mediacost.results.inputs import MediumNumbers, Numbers, read_numbers
from mediacost.results.reading import PlainReading, Reading
from mediacost.results.tray import (
    SheetFigures,
    TrayFigures,
    equipment_figure,
    medium_week,
    mix,
    sheet_figures,
    tray_figures,
    wash_figures,
)
from mediacost.scenario import Scenario


class MediumFigures(NamedTuple):
    """A medium on its own: sheet, trays crop by crop, their mix, and the fleet."""

    medium: MediumNumbers
    sheet: SheetFigures
    by_crop: tuple[TrayFigures, ...]
    mix: TrayFigures
    fleet: Fleet


class Evaluation(NamedTuple):
    """A document read through the formulas, and the reading that did it."""

    numbers: Numbers
    reading: Reading
    media: tuple[MediumFigures, ...]

    @property
    def baseline(self) -> MediumFigures:
        """The medium in use today."""
        return self.media[self.numbers.baseline]

    @property
    def shares(self) -> tuple[Number, ...]:
        """Each crop's share of the trays sown."""
        return tuple(crop.share for crop in self.numbers.crops)


def evaluate(scenario: Scenario, reading: Reading | None = None) -> Evaluation:
    """Read a document through the formulas.

    Raises :class:`mediacost.errors.InputFaults` where a crop would spend no time on a lit shelf.
    """
    reading = reading or PlainReading()
    numbers = read_numbers(scenario, reading)
    _refuse_dark_crops(numbers)
    return Evaluation(numbers, reading, tuple(_medium_figures(medium, numbers, reading) for medium in numbers.media))


def cost_per_kg(figures: MediumFigures, reading: Reading) -> Number:
    """All costs of a tray over its saleable harvest, which must not be zero."""
    return reading.mark("cost_per_kg", figures.mix.total / figures.mix.yield_kg, figures.medium.id)


def medium_cost_per_kg(figures: MediumFigures, reading: Reading) -> Number:
    """The medium's own costs over the saleable harvest, which must not be zero."""
    return reading.mark("medium_cost_per_kg", figures.mix.medium_total / figures.mix.yield_kg, figures.medium.id)


def margin_per_shelf_day(figures: MediumFigures, reading: Reading) -> Number:
    """Margin of a tray over its days on a lit shelf."""
    return reading.mark("margin_per_shelf_day", figures.mix.margin / figures.mix.shelf_days, figures.medium.id)


def return_to_labour(figures: MediumFigures, tray: TrayFigures, numbers: Numbers, reading: Reading) -> Number:
    """What an hour of work on this tray brings in; its minutes must not be zero."""
    value = tray_cost.return_to_labour(tray.margin, tray.labour_minutes, numbers.room.labour_price)
    return reading.mark("return_to_labour_per_hour", value, figures.medium.id)


def _medium_figures(medium: MediumNumbers, numbers: Numbers, reading: Reading) -> MediumFigures:
    room = numbers.room
    rounds = medium_week(medium, room)
    one_sheet = sheet_figures(medium, room, reading)
    wash = wash_figures(medium, rounds, room, reading)
    equipment = equipment_figure(medium, numbers, reading)
    by_crop = tuple(
        tray_figures(medium, lay, crop_rounds, one_sheet, wash, equipment, room, reading)
        for lay, crop_rounds in zip(medium.lays, rounds, strict=True)
    )
    shares = [crop.share for crop in numbers.crops]
    return MediumFigures(
        medium=medium,
        sheet=one_sheet,
        by_crop=by_crop,
        mix=mix(by_crop, shares, reading, medium.id),
        fleet=fleet_figures(medium, rounds, numbers, reading),
    )


def _refuse_dark_crops(numbers: Numbers) -> None:
    faults = []
    for medium in numbers.media:
        for lay, rounds in zip(medium.lays, medium_week(medium, numbers.room), strict=True):
            days = week.shelf_days(rounds, lay.crop.blackout_days)
            if days <= 0:
                faults.append(
                    Fault(
                        where="",
                        path=f"crops[{lay.crop.id}].blackout_days",
                        problem=f"{lay.crop.name} on {medium.name} would spend {days:g} days on a lit shelf",
                        expected="fewer blackout days than days from sowing to harvest",
                    )
                )
    if faults:
        raise InputFaults(tuple(faults))
