"""Money over months: dated purchases, present value, payback.

Convention: a flow is money in (positive) or out (negative). Flow 0 falls at the start, flow t at the end of
period t; it is discounted by t whole periods. Some spreadsheets' NPV function discounts the first flow as well:
divide by (1 + rate) to compare. Periods are months unless a function says otherwise; rates are per year.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from mediacost.formulas.numeric import DUST, Number, absolute, largest, minimum, ratio, total, where
from mediacost.formulas.sheet import replacements
from mediacost.units import MONTHS_PER_YEAR


def trays_in_month(
    trays_per_week: Number, weeks_per_year: Number, season: Number, months_per_year: Number = MONTHS_PER_YEAR
) -> Number:
    """Trays sown in a month: trays_per_week * weeks_per_year / 12 * season.

    Parameters
    ----------
    trays_per_week : number
        Trays sown in a week with season 1 [trays/week]
    weeks_per_year : number
        Weeks in production [weeks/year]
    season : number
        Demand factor of the calendar month [1]
    months_per_year : number
        Twelve [months/year]

    Returns
    -------
    number
        Trays in the month [trays/month]

    Examples
    --------
    >>> trays_in_month(60, 52, 1.0)
    260.0
    """
    return trays_per_week * weeks_per_year / months_per_year * season


def cycles_per_sheet(trays_so_far: Number, trays_for_one: Number, sheets_per_tray: Number, sheets: Number) -> Number:
    """Cycles that each sheet has served: trays_so_far * trays_for_one * sheets_per_tray / sheets.

    Parameters
    ----------
    trays_so_far : number
        Baseline trays sown since the start [1]
    trays_for_one : number
        Trays of this medium that stand in for one of the baseline [1]
    sheets_per_tray : number
        Sheets laid in a tray [1]
    sheets : number
        Sheets that share the work [1]

    Returns
    -------
    number
        Cycles per sheet [1]

    Examples
    --------
    >>> cycles_per_sheet(260.0, 1.0, 1, 104)
    2.5
    """
    return trays_so_far * trays_for_one * sheets_per_tray / sheets


def sheets_replaced(
    cycles: Number, mixed_age: Number, bought_together: Number, mean_cycles: Number, life: Number, loss: Number
) -> Number:
    """Sheets replaced so far: mixed_age * cycles / mean_cycles + bought_together * R(cycles).

    Sheets already in use are of mixed age and wear out evenly; those bought together wear out together.

    Parameters
    ----------
    cycles : number
        Cycles served per sheet so far [1]
    mixed_age : number
        Sheets that were in use at the start [1]
    bought_together : number
        Sheets bought at the start [1]
    mean_cycles : number
        Cycles a sheet serves on average [1]
    life : number
        Rated life, whole [1]
    loss : number
        Share lost per cycle [1]

    Returns
    -------
    number
        Sheets replaced [1]

    Examples
    --------
    >>> sheets_replaced(10.0, 20, 80, 10.0, 10.0, 0.0)
    100.0
    """
    return mixed_age * cycles / mean_cycles + bought_together * replacements(cycles, life, loss)


def month_flow(trays: Number, saving: Number, purchases: Number, purchases_baseline: Number) -> Number:
    """Money of one month against the baseline: trays * saving - purchases + purchases_baseline.

    Parameters
    ----------
    trays : number
        Baseline trays of the month [1]
    saving : number
        Running saving per baseline tray [money]
    purchases : number
        Dated purchases of the medium in the month [money]
    purchases_baseline : number
        Dated purchases that the baseline would have needed [money]

    Returns
    -------
    number
        Flow of the month [money]

    Examples
    --------
    >>> month_flow(260.0, 0.5, 30.0, 0.0)
    100.0
    """
    return trays * saving - purchases + purchases_baseline


def discount_factor(rate: Number, period: Number, periods_per_year: Number = MONTHS_PER_YEAR) -> Number:
    """Today's value of one unit of money at the end of a period: (1 + rate)^-(period / periods_per_year).

    Parameters
    ----------
    rate : number
        Discount rate per year, above -1 [1/year]
    period : number
        Whole periods from the start [periods]
    periods_per_year : number
        Periods in a year: 12 for months, 1 for years [periods/year]

    Returns
    -------
    number
        Present value factor [1]

    Examples
    --------
    >>> round(discount_factor(0.08, 10, 1), 6)
    0.463193

    References
    ----------
    Single present value factor, ASTM E917 and its discount-factor tables.
    """
    return (1 + rate) ** -(period / periods_per_year)


def discounted(flows: Sequence[Number], rate: Number, periods_per_year: Number = MONTHS_PER_YEAR) -> list[Number]:
    """Each flow at today's value; flow 0 as it is.

    Parameters
    ----------
    flows : sequence of number
        Flow 0 at the start, flow t at the end of period t [money]
    rate : number
        Discount rate per year [1/year]
    periods_per_year : number
        Periods in a year [periods/year]

    Returns
    -------
    list of number
        Present values, in the same order [money]

    Examples
    --------
    >>> discounted([-100.0, 110.0], 0.10, 1)
    [-100.0, 100.0]
    """
    return [flow * discount_factor(rate, period, periods_per_year) for period, flow in enumerate(flows)]


def net_present_value(flows: Sequence[Number], rate: Number, periods_per_year: Number = MONTHS_PER_YEAR) -> Number:
    """Sum of all flows at today's value.

    Parameters
    ----------
    flows : sequence of number
        Flow 0 at the start, flow t at the end of period t [money]
    rate : number
        Discount rate per year [1/year]
    periods_per_year : number
        Periods in a year [periods/year]

    Returns
    -------
    number
        Net present value [money]

    Examples
    --------
    >>> round(net_present_value([-40000, 5000, 8000, 12000, 30000], 0.08, 1), 5)
    3065.22267

    References
    ----------
    The example: Gitman, Principles of Managerial Finance, 3rd brief ed. (2003), p. 346.
    """
    return total(discounted(flows, rate, periods_per_year))


def cumulative(flows: Sequence[Number]) -> list[Number]:
    """Running total of the flows.

    Parameters
    ----------
    flows : sequence of number
        Flows in order [money]

    Returns
    -------
    list of number
        Total up to and including each flow [money]

    Examples
    --------
    >>> cumulative([-100.0, 60.0, 60.0])
    [-100.0, -40.0, 20.0]
    """
    return list(accumulate(flows))


def tolerance(flows: Sequence[Number]) -> Number:
    """Amount below which money counts as nothing: 1e-9 of the largest absolute flow.

    Parameters
    ----------
    flows : sequence of number
        Flows in order [money]

    Returns
    -------
    number
        Tolerance [money]

    Examples
    --------
    >>> round(tolerance([-1000.0, 10.0]), 12)
    1e-06
    """
    return DUST * largest([absolute(flow) for flow in flows])


def payback(running: Sequence[Number], tolerance: Number) -> Number:
    """When money is back for good: the last time the running total comes up from below zero.

    Straight between period ends. 0 where the total is never below zero; infinity where it ends below.

    Parameters
    ----------
    running : sequence of number
        Running total at the end of each period, period 0 first [money]
    tolerance : number
        Amount below which money counts as nothing [money]

    Returns
    -------
    number
        Periods from the start [periods]

    Examples
    --------
    >>> payback([-100.0, -40.0, 20.0, -10.0, 30.0], 1e-9)
    3.25
    >>> payback([-100.0, -40.0], 1e-9)
    inf

    References
    ----------
    Payback with straight interpolation; ASTM E1121 treats simple and discounted payback.
    """
    when: Number = 0.0
    for period, (before, after) in enumerate(zip(running, running[1:], strict=False)):
        rises = (before < -tolerance) & (after >= -tolerance)
        if rises is not False:
            when = where(rises, period + _share_of_period(before, after, rises), when)
    return where(running[-1] < -tolerance, float("inf"), when)


def first_payback(running: Sequence[Number], tolerance: Number) -> Number:
    """The first time the running total reaches zero, though it may fall below again: the textbook figure.

    Parameters
    ----------
    running : sequence of number
        Running total at the end of each period, period 0 first [money]
    tolerance : number
        Amount below which money counts as nothing [money]

    Returns
    -------
    number
        Periods from the start; infinity where the total is never above zero [periods]

    Examples
    --------
    >>> round(first_payback([-100.0, -40.0, 20.0, -10.0, 30.0], 1e-9), 4)
    1.6667
    """
    when: Number = float("inf")
    for period in range(len(running) - 1, 0, -1):
        before, after = running[period - 1], running[period]
        rises = (before < -tolerance) & (after >= -tolerance)
        if rises is not False:
            when = where(rises, period - 1 + _share_of_period(before, after, rises), when)
    when = where(running[0] >= -tolerance, 0.0, when)
    return where(largest(running) > tolerance, when, float("inf"))


def _share_of_period(before: Number, after: Number, rises: Number) -> Number:
    """Part of a period until a total that rises through zero gets there; dust may push it past the end."""
    return minimum(ratio(-before, after - before, rises, 0.0), 1.0)


def between_periods(values: Sequence[Number], when: float) -> Number:
    """Value at a moment between period ends, straight between them.

    Parameters
    ----------
    values : sequence of number
        Value at the end of each period, period 0 first [any unit]
    when : float
        Moment, from 0 to the last period [periods]

    Returns
    -------
    number
        Value at that moment [the same unit]

    Examples
    --------
    >>> between_periods([0.0, 2.0, 4.0], 1.5)
    3.0
    """
    before = min(int(when), len(values) - 1)
    after = min(before + 1, len(values) - 1)
    return values[before] + (when - before) * (values[after] - values[before])


def savings_to_investment(net_present: Number, net_outlay: Number) -> Number:
    """Present value of what comes in after the start over what is paid at the start: (npv + outlay) / outlay.

    Parameters
    ----------
    net_present : number
        Net present value of all flows [money]
    net_outlay : number
        Money paid at the start, above zero [money]

    Returns
    -------
    number
        Savings-to-investment ratio [1]

    Examples
    --------
    >>> savings_to_investment(50.0, 100.0)
    1.5

    References
    ----------
    ASTM E964.
    """
    return (net_present + net_outlay) / net_outlay
