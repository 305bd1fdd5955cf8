"""Money over months: payback at the edges, tolerance, rates that do not exist or are several."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mediacost.formulas.cash import (
    between_periods,
    cumulative,
    cycles_per_sheet,
    discounted,
    first_payback,
    month_flow,
    net_present_value,
    payback,
    savings_to_investment,
    sheets_replaced,
    tolerance,
    trays_in_month,
)
from mediacost.formulas.rates import rates_of_return

SLACK = 1e-7


@pytest.mark.parametrize(
    ("running", "for_good", "first"),
    [
        ([0.0, 0.0, 0.0], 0.0, math.inf),  # nothing out, nothing in: never below, never ahead
        ([0.0, 10.0], 0.0, 0.0),
        ([50.0, 20.0, 5.0], 0.0, 0.0),
        ([50.0, -20.0], math.inf, 0.0),  # ahead at once, and behind in the end
        ([-100.0, -100.0], math.inf, math.inf),
        ([-100.0, 0.0, 0.0], 1.0, math.inf),  # back to nothing, never ahead
        ([-100.0, 0.0, 1.0], 1.0, 1.0),
        ([-100.0, 100.0], 0.5, 0.5),
        ([-100.0, -100.0, 300.0], 1.25, 1.25),
        ([-100.0, -40.0, 20.0, -10.0, 30.0], 3.25, 5 / 3),
        ([-100.0, 50.0, -50.0], math.inf, 2 / 3),  # the textbook figure is no promise
        ([10.0, -10.0, 30.0], 1.25, 0.0),  # ahead at the start, then bought anew
        ([-100.0, 0.0, -100.0, 100.0], 2.5, 1.0),
        ([-100.0], math.inf, math.inf),
        ([0.0], 0.0, math.inf),
        ([5.0], 0.0, 0.0),
    ],
)
def test_payback(running, for_good, first):
    assert payback(running, SLACK) == pytest.approx(for_good)
    assert first_payback(running, SLACK) == pytest.approx(first)


@pytest.mark.parametrize(
    ("running", "for_good", "first"),
    [
        ([-SLACK / 2, 50.0], 0.0, 0.0),  # dust below zero is nothing owed
        ([-100.0, -SLACK / 2], 1.0, math.inf),  # dust short is back, and not later than the month's end
        ([-100.0, SLACK / 2], 1.0, math.inf),  # dust over is not ahead
        ([-100.0, 100.0, -SLACK / 2, 100.0], 0.5, 0.5),  # touching zero again costs nothing
        ([-100.0, 100.0, -2 * SLACK, 100.0], 2.0, 0.5),  # more than dust does
        ([-2 * SLACK, 0.0, 1.0], 1.0, 1.0),
    ],
)
def test_payback_tolerance(running, for_good, first):
    assert payback(running, SLACK) == pytest.approx(for_good, abs=1e-6)
    assert first_payback(running, SLACK) == pytest.approx(first, abs=1e-6)


def test_tolerance_follows_the_largest_flow():
    assert tolerance([-5.0, 2000.0, -3.0]) == pytest.approx(2e-6)
    assert tolerance([0.0, 0.0]) == 0.0


def test_rounding_in_a_long_sum_is_no_debt():
    """Ten instalments of 0.1 against 1: the total ends at -1.1e-16, which is nothing."""
    flows = [-1.0] + [0.1] * 10
    assert cumulative(flows)[-1] < 0
    assert payback(cumulative(flows), tolerance(flows)) == pytest.approx(10.0)


@given(st.lists(st.integers(-50, 50), min_size=1, max_size=30))
def test_payback_against_a_walk_through_the_months(flows):
    """Whole amounts have no dust: walk backwards to the last month that ends below zero."""
    running = np.cumsum(flows).tolist()
    below = [month for month, total in enumerate(running) if total < 0]
    if not below:
        expected = 0.0
    elif below[-1] == len(running) - 1:
        expected = math.inf
    else:
        last = below[-1]
        expected = last + running[last] / (running[last] - running[last + 1])
    assert payback(running, SLACK) == pytest.approx(expected)


@given(st.lists(st.integers(-50, 50), min_size=1, max_size=30))
def test_first_payback_is_never_after_payback(flows):
    """Wherever both have an answer."""
    running = np.cumsum(flows).tolist()
    first, for_good = first_payback(running, SLACK), payback(running, SLACK)
    if max(running) > 0:
        assert first <= for_good
        assert math.isfinite(first)
    else:
        assert first == math.inf


@pytest.mark.parametrize(("when", "value"), [(0.0, 10.0), (0.5, 15.0), (1.0, 20.0), (1.75, 5.0), (2.0, 0.0)])
def test_between_periods(when, value):
    assert between_periods([10.0, 20.0, 0.0], when) == value


def test_the_last_period_has_no_next():
    assert between_periods([7.0], 0.0) == 7.0


def test_flow_zero_is_not_discounted():
    assert discounted([-100.0, 0.0], 0.5) == [-100.0, 0.0]
    assert discounted([0.0] * 12 + [150.0], 0.5)[12] == pytest.approx(100.0)


def test_at_no_interest_the_present_is_the_sum():
    flows = [-100.0, 40.0, 75.0]
    assert net_present_value(flows, 0.0) == cumulative(flows)[-1] == 15.0


def test_trays_of_a_month_with_no_demand():
    assert trays_in_month(60.0, 50.0, 0.0) == 0.0
    assert sum(trays_in_month(60.0, 50.0, 1.0) for _ in range(12)) == pytest.approx(3000.0)


def test_cycles_fall_where_a_better_yield_needs_fewer_trays():
    assert cycles_per_sheet(100.0, 0.8, 2, 40) == 4.0


def test_replaced_evenly_or_together():
    """Mixed age: half a cycle's worth at once. Bought together, life 10 and no loss: none before the tenth cycle."""
    assert sheets_replaced(5.0, 40, 0, 10.0, 10.0, 0.0) == 20.0
    assert sheets_replaced(5.0, 0, 40, 10.0, 10.0, 0.0) == 0.0
    assert sheets_replaced(10.0, 0, 40, 10.0, 10.0, 0.0) == 40.0
    assert sheets_replaced(5.0, 20, 20, 10.0, 10.0, 0.0) == 10.0


def test_what_the_baseline_would_have_bought_counts_as_saved():
    assert month_flow(100.0, -0.5, 0.0, 60.0) == 10.0


def test_savings_to_investment_of_a_loss():
    """Half of the outlay comes back: 0.5, not less than zero."""
    assert savings_to_investment(-50.0, 100.0) == 0.5


# ------------------------------------------------------------------ rates of return


@pytest.mark.parametrize(
    "flows",
    [[0.0, 0.0, 0.0], [100.0, 50.0], [-100.0, -50.0], [-100.0], [0.0], [-100.0, 0.0, 1e-12], [-100.0, 1e-8, 0.0]],
)
def test_no_change_of_sign_no_rate(flows):
    """Dust beside the largest flow is no flow."""
    assert rates_of_return(flows) == []


def test_a_rate_of_nothing():
    assert rates_of_return([-100.0, 60.0, 40.0]) == [0.0]


def test_a_negative_rate():
    assert rates_of_return([-100.0, 0.0, 81.0], 1) == [pytest.approx(-0.1, rel=1e-12)]


def test_a_loan_has_a_rate_too():
    """Money in first, out later: one change of sign as well."""
    assert rates_of_return([100.0, -110.0], 1) == [pytest.approx(0.1, rel=1e-12)]


def test_flows_that_begin_later():
    """Nothing at the start, so nothing to hold the bracket: the rate is that between the later flows."""
    assert rates_of_return([0.0, 0.0, -100.0, 110.0], 1) == [pytest.approx(0.1, rel=1e-12)]


def test_two_rates():
    """-100 + 230 x - 132 x^2: 10 % and 20 %, worked by hand."""
    assert rates_of_return([-100.0, 230.0, -132.0], 1) == pytest.approx([0.2, 0.1], rel=1e-9)


def test_several_changes_and_no_rate():
    """1 - x + x^2 has no real root."""
    assert rates_of_return([1.0, -1.0, 1.0], 1) == []


def test_several_changes_and_one_rate():
    """(x - 0.9)(x^2 + x + 3), worked out: three changes of sign would allow three roots."""
    flows = np.polynomial.polynomial.polymul([-0.9, 1.0], [3.0, -1.0, 1.0]).tolist()
    assert np.count_nonzero(np.diff(np.sign(flows))) == 3
    assert rates_of_return(flows, 1) == [pytest.approx(1 / 0.9 - 1, rel=1e-9)]


def test_a_rate_that_lies_on_the_grid():
    """Roots at x = 1 and x = 0.5, several changes of sign: nothing a year, and 100 %."""
    assert rates_of_return([0.5, -1.5, 1.0], 1) == pytest.approx([1.0, 0.0], abs=1e-12)


@pytest.mark.parametrize("flows", [[-1e-3, 1e3], [-1e5, 1e-2]])
def test_rates_out_of_reach(flows):
    """A thousandfold in a month, or all but a ten-millionth lost: no rate that anybody would name."""
    assert rates_of_return(flows) == []


@given(
    st.lists(st.floats(0.55, 1.6), min_size=1, max_size=4).filter(
        lambda roots: all(abs(a / b - 1) > 0.02 for at, a in enumerate(roots) for b in roots[:at])
    )
)
@settings(max_examples=60)
def test_rates_from_chosen_roots(roots):
    """Flows multiplied together from the roots of x = 1 / (1 + rate) that they shall have, 2 % apart or more."""
    flows = np.polynomial.polynomial.polyfromroots(roots).tolist()
    found = rates_of_return(flows, 1)
    assert found == pytest.approx([1 / root - 1 for root in sorted(roots)], rel=1e-5, abs=1e-7)


@given(st.floats(1.0, 1e4), st.floats(0.001, 1e3), st.integers(1, 240))
def test_rate_of_even_savings(outlay, saving, months):
    """One outlay and even savings over up to twenty years: the rate, where there is one, makes them worth nothing."""
    flows = [-outlay] + [saving] * months
    rates = rates_of_return(flows)
    assert len(rates) <= 1
    for rate in rates:
        if rate > -0.9:
            present = discounted(flows, rate)
            assert sum(present) == pytest.approx(0.0, abs=1e-10 * len(flows) * max(map(abs, present)))
        assert (rate > 0) == (saving * months > outlay) or abs(rate) < 1e-9
