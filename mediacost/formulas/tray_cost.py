"""One tray and crop cycle: cost lines, saleable yield, margin and labour."""

from __future__ import annotations

from mediacost.formulas.numeric import Number
from mediacost.units import MINUTES_PER_HOUR


def per_tray(per_sheet: Number, sheets_per_tray: Number) -> Number:
    """What a tray takes, from what one sheet takes: per_sheet * sheets_per_tray.

    Parameters
    ----------
    per_sheet : number
        Taken by one sheet [any unit]
    sheets_per_tray : number
        Sheets laid in a tray [1]

    Returns
    -------
    number
        Taken by one tray [the same unit]

    Examples
    --------
    >>> per_tray(2.5, 2)
    5.0
    """
    return per_sheet * sheets_per_tray


def worn(per_sheet_life: Number, sheets_per_tray: Number, mean_cycles: Number) -> Number:
    """One cycle's share of what a sheet takes over its life: per_sheet_life * sheets_per_tray / mean_cycles.

    Parameters
    ----------
    per_sheet_life : number
        Taken once in a sheet's life: its price, its cutting minutes, its mass [any unit]
    sheets_per_tray : number
        Sheets laid in a tray [1]
    mean_cycles : number
        Cycles a sheet serves on average; 1 for single use [1]

    Returns
    -------
    number
        Share of one tray and cycle [the same unit]

    Examples
    --------
    >>> worn(12.0, 1, 60.0)
    0.2
    """
    return per_sheet_life * sheets_per_tray / mean_cycles


def priced(amount: Number, price: Number) -> Number:
    """What an amount costs: amount * price.

    Parameters
    ----------
    amount : number
        Amount bought or used [any unit]
    price : number
        Price of one unit of it [money/unit]

    Returns
    -------
    number
        Cost [money]

    Examples
    --------
    >>> priced(2.5, 0.4)
    1.0
    """
    return amount * price


def equipment_per_tray(
    price: Number, years: Number, trays_per_week: Number, weeks_per_year: Number, mean_season: Number
) -> Number:
    """Wash equipment spread over the trays of its life: price / (years * trays a week * weeks a year * season).

    Parameters
    ----------
    price : number
        Price of the equipment [money]
    years : number
        Years until it is bought again [years]
    trays_per_week : number
        Trays sown in a week with season 1 [trays/week]
    weeks_per_year : number
        Weeks in production [weeks/year]
    mean_season : number
        Average of the twelve demand factors [1]

    Returns
    -------
    number
        Equipment per tray [money/tray]

    Examples
    --------
    >>> equipment_per_tray(1200.0, 5, 48, 50, 1.0)
    0.1
    """
    return price / (years * trays_per_week * weeks_per_year * mean_season)


def disposal(sheet_mass: Number, sheet_price: Number, spent_mass: Number, spent_price: Number) -> Number:
    """Getting rid of a tray's leavings: worn sheet and spent root mat, each at its route's price.

    Parameters
    ----------
    sheet_mass : number
        Dry mass of sheet used up per tray [kg]
    sheet_price : number
        Fee of the sheet's route less its scrap value [money/kg]
    spent_mass : number
        What leaves wet after the cut, without the dry sheet [kg]
    spent_price : number
        Fee of its route [money/kg]

    Returns
    -------
    number
        Disposal per tray; negative where it earns [money]

    Examples
    --------
    >>> round(disposal(0.02, 0.1, 0.5, 0.1), 6)
    0.052
    """
    return sheet_mass * sheet_price + spent_mass * spent_price


def crop_total(
    seed_mass: Number,
    seed_price: Number,
    grow_minutes: Number,
    labour_price: Number,
    light_per_day: Number,
    shelf_days: Number,
    energy_price: Number,
    other: Number,
) -> Number:
    """What the crop itself costs per tray: seed, growing labour, light and the rest.

    Parameters
    ----------
    seed_mass : number
        Seed sown [kg]
    seed_price : number
        Price of seed [money/kg]
    grow_minutes : number
        Minutes to sow, stack, water and cut [min]
    labour_price : number
        Price of a minute of labour [money/min]
    light_per_day : number
        Energy for light per day on a lit shelf [kWh/day]
    shelf_days : number
        Days on a lit shelf [days]
    energy_price : number
        Price of electricity [money/kWh]
    other : number
        Any other cost of the tray [money]

    Returns
    -------
    number
        Crop cost per tray [money]

    Examples
    --------
    >>> round(crop_total(0.024, 30.0, 6.0, 0.35, 0.2, 7.0, 0.27, 0.1), 3)
    3.298
    """
    return seed_mass * seed_price + grow_minutes * labour_price + light_per_day * shelf_days * energy_price + other


def per_kg_total(pack_cost: Number, pack_minutes: Number, labour_price: Number, yield_mass: Number) -> Number:
    """What packing a tray's harvest costs: (pack_cost + pack_minutes * labour_price) * yield_mass.

    Parameters
    ----------
    pack_cost : number
        Packaging for a kilogram [money/kg]
    pack_minutes : number
        Minutes to pack a kilogram [min/kg]
    labour_price : number
        Price of a minute of labour [money/min]
    yield_mass : number
        Saleable harvest of a tray [kg]

    Returns
    -------
    number
        Packing per tray [money]

    Examples
    --------
    >>> round(per_kg_total(4.0, 10.0, 0.35, 0.25), 3)
    1.875
    """
    return (pack_cost + pack_minutes * labour_price) * yield_mass


def saleable_yield(harvest: Number, failed_share: Number, loss_share: Number) -> Number:
    """Saleable harvest per tray sown: harvest * (1 - failed_share) * (1 - loss_share).

    Parameters
    ----------
    harvest : number
        Harvest weight of a tray that did not fail [kg]
    failed_share : number
        Share of trays that fail on this medium [1]
    loss_share : number
        Trim, hulls and unsold, share of the harvest [1]

    Returns
    -------
    number
        Saleable harvest per tray sown [kg]

    Examples
    --------
    >>> round(saleable_yield(0.25, 0.02, 0.06), 4)
    0.2303
    """
    return harvest * (1 - failed_share) * (1 - loss_share)


def margin(revenue: Number, total: Number) -> Number:
    """What a tray leaves after all its costs: revenue - total.

    Parameters
    ----------
    revenue : number
        Sales of a tray [money]
    total : number
        All costs of a tray [money]

    Returns
    -------
    number
        Margin per tray [money]

    Examples
    --------
    >>> margin(11.5, 5.2)
    6.3
    """
    return revenue - total


def return_to_labour(
    margin: Number, labour_minutes: Number, labour_price: Number, minutes_per_hour: Number = MINUTES_PER_HOUR
) -> Number:
    """What an hour of work brings in, before it is paid: (margin + labour cost) / labour hours.

    Parameters
    ----------
    margin : number
        Margin per tray, labour already paid [money]
    labour_minutes : number
        All attended minutes per tray, above zero [min]
    labour_price : number
        Price of a minute of labour [money/min]
    minutes_per_hour : number
        Sixty [min/h]

    Returns
    -------
    number
        Return to labour [money/h]

    Examples
    --------
    >>> round(return_to_labour(6.0, 12.0, 0.35), 2)
    51.0
    """
    return (margin + labour_minutes * labour_price) / (labour_minutes / minutes_per_hour)
