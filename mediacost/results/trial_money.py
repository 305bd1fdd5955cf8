"""What a difference in harvest is worth: margin per tray, worked out by the comparison's own formulas."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from mediacost.formulas.numeric import Number
from mediacost.formulas.trial_blocks import Floats
from mediacost.results.evaluation import Evaluation
from mediacost.results.reading import PlainReading
from mediacost.results.tray import equipment_figure, medium_week, sheet_figures, tray_figures, wash_figures
from mediacost.results.trial_answers import Interval, MoneyResult
from mediacost.units import GRAMS_PER_KILOGRAM


def margin_at(evaluation: Evaluation, medium: str, crop: str) -> Callable[[Number], Number] | None:
    """The margin of a tray of a medium on a crop for any harvest weight in grams; None where the crop is not sown.

    It is a straight line: what grows with the harvest is sold and packed at so much a kilogram.
    """
    numbers = evaluation.numbers
    found = next(each for each in numbers.media if each.id == medium)
    place = next((at for at, crop_numbers in enumerate(numbers.crops) if crop_numbers.id == crop), None)
    if place is None:
        return None
    room, reading = numbers.room, PlainReading()
    rounds = medium_week(found, room)
    one_sheet = sheet_figures(found, room, reading)
    wash = wash_figures(found, rounds, room, reading)
    equipment = equipment_figure(found, numbers, reading)

    def margin(grams: Number) -> Number:
        lay = found.lays[place]._replace(harvest=grams / GRAMS_PER_KILOGRAM)
        return tray_figures(found, lay, rounds[place], one_sheet, wash, equipment, room, reading).margin

    return margin


def money_results(
    evaluation: Evaluation,
    crop: str,
    media: Sequence[str],
    baseline: str,
    means: Sequence[float],
    covariance: Floats,
    critical: float,
) -> tuple[MoneyResult, ...]:
    """Margin of each medium less that of the baseline, at these means of the harvest and with their doubt.

    ``covariance`` is that of the means; ``critical`` how many standard errors the interval reaches, taken from the
    comparison of the weights against the baseline. Costs are taken as they stand. Empty where the crop is not sown.
    """
    today = margin_at(evaluation, baseline, crop)
    if today is None:
        return ()
    base = media.index(baseline)
    middle_today, slope_today = _line(today, means[base])
    found = []
    for at, medium in enumerate(media):
        line = margin_at(evaluation, medium, crop)
        if at == base or line is None:
            continue
        middle, slope = _line(line, means[at])
        variance = (
            slope**2 * covariance[at, at]
            + slope_today**2 * covariance[base, base]
            - 2 * slope * slope_today * covariance[at, base]
        )
        gap, half = middle - middle_today, critical * math.sqrt(max(float(variance), 0.0))
        found.append(MoneyResult(medium, gap, Interval(gap - half, gap + half)))
    return tuple(found)


def _line(margin: Callable[[Number], Number], grams: float) -> tuple[float, float]:
    """The margin at this weight, and what a further gram adds."""
    at, farther = float(margin(grams)), float(margin(grams + GRAMS_PER_KILOGRAM))
    return at, (farther - at) / GRAMS_PER_KILOGRAM
