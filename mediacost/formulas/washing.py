"""Washing a reusable sheet: minutes, litres, heat and sanitiser, spread over the sheets that share them."""

from __future__ import annotations

from collections.abc import Iterable

from mediacost.formulas.numeric import Number, ceil, where
from mediacost.units import WATER_HEAT


def batches_per_week(daily_sheets: Iterable[Number], sheets_per_batch: Number) -> Number:
    """Batches (or baths) that a week's washing fills: the sum over wash days of ceil(sheets / batch size).

    Parameters
    ----------
    daily_sheets : iterable of number
        Sheets washed on each wash day that has a load [1]
    sheets_per_batch : number
        Sheets that one batch serves [1]

    Returns
    -------
    number
        Batches in a week [1]

    Examples
    --------
    >>> batches_per_week([40, 25], 20)
    4.0
    """
    return sum(ceil(sheets / sheets_per_batch) for sheets in daily_sheets)


def spread_over_sheets(
    batches: Number,
    per_batch: Number,
    wash_days: Number,
    per_wash_day: Number,
    sheets: Number,
    per_sheet: Number,
) -> Number:
    """What one sheet takes of a wash step, in minutes or in litres.

    (batches * per_batch + wash_days * per_wash_day) / sheets + per_sheet: set-up gets cheaper as batches fill.

    Parameters
    ----------
    batches : number
        Batches in a week [1]
    per_batch : number
        Taken by each batch [min or l]
    wash_days : number
        Wash days in a week that have a load [1]
    per_wash_day : number
        Taken by each wash day, to set up and clear away [min or l]
    sheets : number
        Sheets washed in a week [1]
    per_sheet : number
        Taken by each sheet [min or l]

    Returns
    -------
    number
        Taken by one sheet, its share of set-up included [min or l]

    Examples
    --------
    >>> spread_over_sheets(1, 18.0, 1, 0.0, 20, 2.2)
    3.1

    References
    ----------
    Set-up time spread over a batch: common practice, no source.
    """
    return (batches * per_batch + wash_days * per_wash_day) / sheets + per_sheet


def heat(
    litres: Number, temperature: Number, inlet: Number, efficiency: Number, water_heat: Number = WATER_HEAT
) -> Number:
    """Energy to heat a step's water: litres * water_heat * max(0, temperature - inlet) / efficiency.

    Parameters
    ----------
    litres : number
        Water heated [l]
    temperature : number
        Temperature wanted [degC]
    inlet : number
        Temperature of the supply [degC]
    efficiency : number
        Heat delivered over energy bought; above 1 for a heat pump [1]
    water_heat : number
        Heat that a litre of water takes up per kelvin [kWh/(l K)]

    Returns
    -------
    number
        Energy bought [kWh]

    Examples
    --------
    >>> round(heat(100.0, 60.0, 15.0, 1.0), 3)
    5.232

    References
    ----------
    Sensible heat with the specific heat of water taken as constant, within 0.3 % of the IAPWS formulation between
    10 and 80 C.
    """
    rise = temperature - inlet
    return litres * water_heat * where(rise > 0 * rise, rise, 0 * rise) / efficiency


def sanitiser_litres(litres: Number, target: Number, stock: Number) -> Number:
    """Product that makes up a bath of a given strength: litres * target / stock; the rest is water.

    This prices what the label says. It is not a dosing instruction: the product's label decides the strength.

    Parameters
    ----------
    litres : number
        The step's litres, product included [l]
    target : number
        Strength wanted in the bath [mg/l]
    stock : number
        Strength of the product as bought, above the target [mg/l]

    Returns
    -------
    number
        Product [l]

    Examples
    --------
    >>> round(1000 * sanitiser_litres(10.0, 200.0, 60000.0), 3)   # millilitres of a 6 % product
    33.333

    References
    ----------
    C1 V1 = C2 V2; US CDC, chlorine solution preparation: parts of water per part of product = stock/target - 1.
    """
    return litres * target / stock
