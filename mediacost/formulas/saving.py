"""One medium against another: trays for the same harvest, running cost, saving, break-even, sheets to own."""

from __future__ import annotations

from mediacost.formulas.numeric import Number, absolute, ceil, maximum, ratio, where

ROUNDING = 1e-12
"""Share of two amounts below which their difference is rounding, not money."""


def difference(one: Number, other: Number) -> Number:
    """One amount less another: one - other; nothing where that is only rounding.

    Two media that cost the same differ by the last digits of a float; no break-even or rate may be made of those.

    Parameters
    ----------
    one, other : number
        Amounts of the same kind [money]

    Returns
    -------
    number
        Their difference [money]

    Examples
    --------
    >>> difference(0.1 + 0.2, 0.3), difference(3.0, 2.5)
    (0.0, 0.5)
    """
    apart = one - other
    return where(absolute(apart) <= ROUNDING * (absolute(one) + absolute(other)), 0.0 * apart, apart)


def running_cost(cost: Number, sheet_wear: Number, equipment: Number) -> Number:
    """Cost of a reusable's cycle without what is bought as dated items: cost - sheet_wear - equipment.

    Parameters
    ----------
    cost : number
        Cost of a tray, sheet and equipment spread over it [money]
    sheet_wear : number
        The sheet's whole-life cost spread over its cycles [money]
    equipment : number
        Wash equipment spread over its trays [money]

    Returns
    -------
    number
        Running cost of a tray [money]

    Examples
    --------
    >>> running_cost(1.5, 0.25, 0.25)
    1.0
    """
    return cost - sheet_wear - equipment


def trays_for_same_harvest(yield_baseline: Number, yield_medium: Number) -> Number:
    """Trays of the medium that replace one of the baseline, the harvest kept: yield_baseline / yield_medium.

    Parameters
    ----------
    yield_baseline : number
        Saleable harvest of a baseline tray [kg]
    yield_medium : number
        Saleable harvest of a tray on the medium [kg]

    Returns
    -------
    number
        Trays for one tray; infinity where the medium sells nothing [1]

    Examples
    --------
    >>> trays_for_same_harvest(0.20, 0.25)
    0.8
    """
    return ratio(yield_baseline, yield_medium, yield_medium > 0 * yield_medium, float("inf"))


def break_even_cycles(life_cost: Number, gain: Number) -> Number:
    """Mean cycles at which a reusable costs the same as the baseline: life_cost / gain.

    At these mean cycles the sheet's spread cost equals what each cycle gains before the sheet is paid.

    Parameters
    ----------
    life_cost : number
        Whole-life cost of the sheets that stand in for one baseline tray [money]
    gain : number
        What a cycle gains on the baseline, the medium's own sheet cost left out [money]

    Returns
    -------
    number
        Cycles; infinity (never) where nothing is gained; 0 where the sheet earns more than it costs [1]

    Examples
    --------
    >>> break_even_cycles(12.0, 0.25)
    48.0
    >>> break_even_cycles(12.0, -0.1)
    inf
    """
    return ratio(maximum(life_cost, 0 * life_cost), gain, gain > 0 * gain, float("inf"))


def cost_after_cycles(start: Number, per_cycle: Number, cycles: Number) -> Number:
    """What a medium has cost after some cycles: start + per_cycle * cycles.

    Parameters
    ----------
    start : number
        Paid before the first cycle [money]
    per_cycle : number
        Paid with each cycle [money]
    cycles : number
        Cycles served [1]

    Returns
    -------
    number
        Cost so far [money]

    Examples
    --------
    >>> cost_after_cycles(12.0, 0.5, 10)
    17.0
    """
    return start + per_cycle * cycles


def sheets_needed(peak_trays: Number, peak_season: Number, sheets_per_tray: Number, spare_share: Number) -> Number:
    """Sheets to own so that none is missing: ceil(peak trays * peak season * sheets a tray * (1 + spare)).

    Parameters
    ----------
    peak_trays : number
        Most trays whose sheets are away on any day, season 1 [1]
    peak_season : number
        Largest of the twelve demand factors [1]
    sheets_per_tray : number
        Sheets laid in a tray [1]
    spare_share : number
        Spares on top of the peak [1]

    Returns
    -------
    number
        Whole sheets [1]

    Examples
    --------
    >>> sheets_needed(80, 1.0, 1, 0.10)
    88.0
    """
    return ceil(peak_trays * peak_season * sheets_per_tray * (1 + spare_share))


def packs_to_buy(needed: Number, owned: Number, pieces: Number) -> Number:
    """Whole packs that bring the sheets owned up to those needed: ceil(max(0, needed - owned) / pieces).

    Parameters
    ----------
    needed : number
        Sheets needed [1]
    owned : number
        Sheets owned already [1]
    pieces : number
        Sheets in a pack [1]

    Returns
    -------
    number
        Whole packs [1]

    Examples
    --------
    >>> packs_to_buy(88, 12, 10)
    8.0
    """
    return ceil(maximum(0.0, needed - owned) / pieces)
