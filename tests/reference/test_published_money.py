"""Money over time, held to figures that others printed.

Each test names its source. 'published': read in a copy of the issuer's own text. 'second hand': read in
somebody's copying-out of it. 'from memory': not seen, and only the arithmetic agrees.
"""

from __future__ import annotations

import math

import numpy_financial
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mediacost.formulas.cash import (
    cumulative,
    discount_factor,
    discounted,
    net_present_value,
    payback,
    savings_to_investment,
    tolerance,
)
from mediacost.formulas.rates import rates_of_return
from mediacost.results.answers import Kind, NoAnswer
from mediacost.results.comparison import _rate as single_rate

YEARLY = 1
"""Periods per year where a source counts in years."""


def present_value_of_ones(rate, periods):
    """Uniform present value factor, P/A, through our own sum: one unit at the end of each period."""
    return net_present_value([0.0] + [1.0] * periods, rate, YEARLY)


# ------------------------------------------------------------------ interest factors


@pytest.mark.parametrize(
    ("rate", "periods", "single", "uniform", "recovery", "sinking"),
    [
        (0.08, 10, 0.463193, 6.710081, 0.149029, 0.069029),
        (0.08, 5, 0.680583, 3.992710, 0.250456, 0.170456),
        (0.09, 10, 0.422411, 6.417658, 0.155820, 0.065820),
        (0.0025, 24, 0.941835, 23.265980, 0.042981, 0.040481),
        (0.03, 15, 0.641862, 11.937935, 0.083767, 0.053767),
        (0.03, 20, 0.553676, 14.877475, 0.067216, 0.037216),
    ],
)
def test_interest_factors(rate, periods, single, uniform, recovery, sinking):
    """Interest tables of engineering economics textbooks; discount factors of ASTM E917 to four figures.

    A/P and A/F at 8 and 9 %, and all at 0.25 % a period: second hand. P/F and P/A at 8 %, and the 3 % rows of the
    NIST Handbook 135 supplement (.642/.554, 11.94/14.88): from memory. Six figures by numpy-financial.
    """
    present = present_value_of_ones(rate, periods)
    assert discount_factor(rate, periods, YEARLY) == pytest.approx(single, abs=5.1e-7)
    assert present == pytest.approx(uniform, rel=1e-6)
    assert 1 / present == pytest.approx(recovery, abs=5.1e-7)
    assert 1 / present - rate == pytest.approx(sinking, abs=5.1e-7)


@pytest.mark.parametrize(
    ("rate", "periods", "compound", "uniform_compound"),
    [(0.08, 10, 2.158925, 14.486562), (0.0025, 24, 1.061757, 24.702818)],
)
def test_compound_amounts(rate, periods, compound, uniform_compound):
    """F/P and F/A of the same tables: 24.70282 at 0.25 % second hand, the 8 % row by numpy-financial."""
    growth = 1 / discount_factor(rate, periods, YEARLY)
    assert growth == pytest.approx(compound, rel=1e-6)
    assert present_value_of_ones(rate, periods) * growth == pytest.approx(uniform_compound, rel=1e-6)


def test_months_are_twelfths_of_a_year():
    """One rate per year, twelve months: month 24 is worth as much as year 2. By the definition of the factor."""
    assert discount_factor(0.08, 24) == pytest.approx(discount_factor(0.08, 2, YEARLY), rel=1e-14)
    assert discount_factor(0.08, 1) ** 12 == pytest.approx(1 / 1.08, rel=1e-14)


# ------------------------------------------------------------------ present value and rate of return


def test_present_value_textbook():
    """Gitman, Principles of Managerial Finance, 3rd brief ed. (2003), p. 346 (published, through numpy-financial)."""
    flows = [-40000, 5000, 8000, 12000, 30000]
    assert net_present_value(flows, 0.08, YEARLY) == pytest.approx(3065.22267, abs=1e-5)


def test_spreadsheets_discount_the_first_flow_too():
    """NPV in the spreadsheets' function reference: 1188.44 with every flow at the end of a period (from memory)."""
    flows = [-10000, 3000, 4200, 6800]
    assert net_present_value(flows, 0.10, YEARLY) / 1.10 == pytest.approx(1188.4434, abs=5e-5)


@pytest.mark.parametrize(
    ("flows", "rate", "within"),
    [
        ([-100, 39, 59, 55, 20], 0.28095, 5e-6),
        ([-100, 0, 0, 74], -0.0955, 5e-5),
        ([-70000, 12000, 15000, 18000, 21000, 26000], 0.086631, 5e-7),
        ([-70000, 12000, 15000, 18000, 21000], -0.021245, 5e-7),
    ],
)
def test_rate_of_return_textbook(flows, rate, within):
    """The first two: Gitman (2003), p. 348 (published, through numpy-financial).

    The others: IRR in the spreadsheets' function reference, 8.66 % second hand, digits by numpy-financial.
    """
    assert rates_of_return(flows, YEARLY) == [pytest.approx(rate, abs=within)]
    assert single_rate(flows) == pytest.approx((1 + rate) ** 12 - 1, rel=1e-3)


def test_several_rates_are_no_answer():
    """The third flows of Gitman (2003), p. 348: 8.86 % is printed (published), and 70.96 % fits as well."""
    flows = [-5, 10.5, 1, -8, 1]
    rates = rates_of_return(flows, YEARLY)
    assert any(abs(rate - 0.0886) < 5e-5 for rate in rates)
    assert len(rates) > 1
    for rate in rates:
        assert net_present_value(flows, rate, YEARLY) == pytest.approx(0.0, abs=1e-9)
    answer = single_rate(flows)
    assert isinstance(answer, NoAnswer)
    assert answer.kind is Kind.SEVERAL_RATES == "several rates"


def amounts(low, high):
    return st.integers(low * 100, high * 100).map(lambda cents: cents / 100)


@given(st.lists(amounts(-900, 900), min_size=2, max_size=40), st.floats(-0.2, 1.0))
@settings(max_examples=100, deadline=None)
def test_present_value_like_numpy_financial(flows, rate):
    """numpy-financial, a general-purpose library, as a live second opinion."""
    scale = sum(abs(flow) for flow in discounted(flows, rate, YEARLY))
    assert net_present_value(flows, rate, YEARLY) == pytest.approx(
        float(numpy_financial.npv(rate, flows)), rel=1e-9, abs=1e-12 * scale
    )


@given(amounts(10, 5000), st.lists(amounts(0, 900), min_size=2, max_size=30))
@settings(max_examples=100, deadline=None)
def test_rate_of_return_like_numpy_financial(outlay, savings):
    """One outlay, then savings: one rate at most. numpy-financial finds it from the companion matrix."""
    flows = [-outlay, *savings]
    expected = float(numpy_financial.irr(flows))
    assume(-0.5 < expected < 5.0)
    assert rates_of_return(flows, YEARLY) == [pytest.approx(expected, rel=1e-6, abs=1e-9)]


@given(amounts(10, 5000), st.lists(amounts(0, 900), min_size=2, max_size=240))
@settings(max_examples=60, deadline=None)
def test_rate_of_return_makes_the_flows_worth_nothing(outlay, savings):
    """The definition of the rate, on months, to the horizon's end. A rate next to -100 % a year has lost its digits."""
    flows = [-outlay, *savings]
    rates = rates_of_return(flows)
    assume(rates and rates[0] > -0.99)
    present = discounted(flows, rates[0])
    assert len(rates) == 1
    assert sum(present) == pytest.approx(0.0, abs=1e-9 * max(map(abs, present)) * len(present))


def test_growing_recurring_cost():
    """Federal life-cycle-cost guidance of NIST, financed-lighting case (published).

    5600 a year, growing 0.1 % a year from the base date, over 15 years at a nominal 3.1 %: present value 66856,
    a level 5643 a year. The guidance discounts by calendar date, so it differs in the fourth figure.
    """
    flows = [0.0] + [5600 * 1.001**year for year in range(1, 16)]
    present = net_present_value(flows, 0.031, YEARLY)
    assert present == pytest.approx(66866.93, abs=0.01)
    assert present == pytest.approx(66856, rel=2e-4)
    assert present / present_value_of_ones(0.031, 15) == pytest.approx(5643, rel=4e-4)


def test_yearly_energy_costs():
    """The same case's printed energy costs of 15 years, present value 585002 (published; by calendar date)."""
    printed = "47844 46200 46768 47633 47905 49077 50032 50321 50302 50477 50863 51249 51680 51788 51798"
    present = net_present_value([0.0, *map(float, printed.split())], 0.031, YEARLY)
    assert present == pytest.approx(585002, rel=2e-4)


# ------------------------------------------------------------------ a whole published comparison


class HeatPump:
    """NIST, comparative economic analysis heat-pump report of the federal life-cycle-cost guidance, 2020 (published).

    Constant money, 3 % real, 15 years, flows at the end of each year. The report prints only the present value of
    energy, 13784 against 9419; here it is spread evenly over the years.
    """

    rate, years = 0.03, 15
    base_energy, alternative_energy = 13784.0, 9419.0

    def yearly(self, recurring=0.0, **once):
        """Cost by year from the base date; ``y10=600`` is 600 in year 10."""
        flows = [0.0] + [recurring] * self.years
        for year, cost in once.items():
            flows[int(year[1:])] += cost
        return flows

    def present(self, flows):
        return net_present_value(flows, self.rate, YEARLY)

    def base(self):
        return {
            "first cost": self.yearly(y0=1500),
            "upkeep": self.yearly(50, y10=200),
            "replacement": self.yearly(y10=600),
            "residual": self.yearly(y15=-(0.10 * 1500 + 600 / 2)),
            "energy": self.energy(self.base_energy),
        }

    def alternative(self):
        return {
            "first cost": self.yearly(y0=3000),
            "upkeep": self.yearly(100, y8=600),
            "replacement": self.yearly(),
            "residual": self.yearly(y15=-0.25 * 3000),
            "energy": self.energy(self.alternative_energy),
        }

    def energy(self, present):
        return self.yearly(present / present_value_of_ones(self.rate, self.years))

    def saved(self):
        """Flows of the alternative against the base, year by year."""
        base = [sum(year) for year in zip(*self.base().values(), strict=True)]
        alternative = [sum(year) for year in zip(*self.alternative().values(), strict=True)]
        return [a - b for a, b in zip(base, alternative, strict=True)]


@pytest.mark.parametrize(
    ("which", "line", "printed"),
    [
        ("base", "upkeep", 746),
        ("base", "replacement", 446),
        ("base", "residual", -289),
        ("base", "energy", 13784),
        ("alternative", "upkeep", 1668),
        ("alternative", "replacement", 0),
        ("alternative", "residual", -481),
        ("alternative", "energy", 9419),
    ],
)
def test_heat_pump_lines(which, line, printed):
    case = HeatPump()
    assert case.present(getattr(case, which)()[line]) == pytest.approx(printed, abs=1.0)


def test_heat_pump_totals():
    case = HeatPump()
    base = sum(case.present(flows) for flows in case.base().values())
    alternative = sum(case.present(flows) for flows in case.alternative().values())
    assert base == pytest.approx(16187, abs=1.0)
    assert alternative == pytest.approx(13605, abs=1.0)
    assert case.present(case.saved()) == pytest.approx(2582, abs=1.0)


def test_heat_pump_ratio():
    """SIR 4.00 and adjusted rate of return 12.97 %, where the base's replacement and both residuals are investment."""
    case = HeatPump()
    base, alternative = case.base(), case.alternative()
    lines = ("first cost", "replacement", "residual")
    investment = sum(case.present(alternative[line]) - case.present(base[line]) for line in lines)
    net_savings = case.present(case.saved())
    ratio = savings_to_investment(net_savings, investment)
    assert investment == pytest.approx(861, abs=1.0)
    assert net_savings + investment == pytest.approx(3443, abs=1.0)
    assert ratio == pytest.approx(4.00, abs=0.005)
    assert 1.03 * ratio ** (1 / 15) - 1 == pytest.approx(0.1297, abs=5e-5)


def test_heat_pump_payback():
    """Simple payback in year 5, discounted in year 6: the report names the whole year, ours falls inside it."""
    case = HeatPump()
    flows = case.saved()
    simple = payback(cumulative(flows), tolerance(flows))
    later = payback(cumulative(discounted(flows, case.rate, YEARLY)), tolerance(flows))
    assert (math.ceil(simple), math.ceil(later)) == (5, 6)
    assert 4 < simple < 5 < later < 6


def test_energy_conservation_case():
    """NIST, energy-conservation report of the same guidance (published): a planning year comes before service.

    Its 6th, 12th, 18th, 5th, 10th and 15th service years are periods 7, 13, 19, 6, 11 and 16.
    """
    once = {7: 9000.0, 13: -9000.0, 19: 12000.0, 6: -1500.0, 11: -1500.0, 16: -1500.0}
    printed = {7: 0.813, 13: 0.681, 19: 0.570, 6: 0.837, 11: 0.722, 16: 0.623}
    for year, factor in printed.items():
        assert discount_factor(0.03, year, YEARLY) == pytest.approx(factor, abs=5e-4)
    replaced = net_present_value([once.get(year, 0.0) for year in range(20)], 0.03, YEARLY)
    assert replaced == pytest.approx(4758, abs=0.5)
    savings = 262564 + 40844 + replaced
    ratio = savings_to_investment(savings - 170000, 170000)
    assert ratio == pytest.approx(1.81, abs=0.005)
    assert 1.03 * ratio ** (1 / 21) - 1 == pytest.approx(0.0596, abs=5e-5)


def test_energy_conservation_simple_payback():
    """The same report's simple payback, 7.95 years of the first year's savings (published)."""
    flows = [-170000.0] + [18755 + 2270 + 7500 / 21] * 21
    assert payback(cumulative(flows), tolerance(flows)) == pytest.approx(7.95, abs=0.005)


# ------------------------------------------------------------------ discounted payback in closed form


def closed_form_payback(outlay, saving, rate):
    """-ln(1 - C i / A) / ln(1 + i), the textbook's discounted payback; infinite where C i >= A."""
    if outlay * rate >= saving:
        return math.inf
    return -math.log1p(-outlay * rate / saving) / math.log1p(rate)


def our_payback(outlay, saving, rate, years):
    flows = [-outlay] + [saving] * years
    return payback(cumulative(discounted(flows, rate, YEARLY)), tolerance(flows))


def test_discounted_payback_closed_form():
    """C 10000, A 3000 a year, 8 %: 4.0300 years, simple 3.3333 (closed form of engineering economics, worked here)."""
    assert closed_form_payback(10000, 3000, 0.08) == pytest.approx(4.0300, abs=5e-5)
    assert math.ceil(our_payback(10000, 3000, 0.08, 20)) == 5
    assert our_payback(10000, 3000, 0.08, 20) == pytest.approx(4.0300, abs=0.02)
    assert our_payback(10000, 3000, 0.0, 20) == pytest.approx(10 / 3, rel=1e-12)


def test_discounted_payback_never():
    """At C i >= A the interest eats the savings, however long one waits."""
    assert closed_form_payback(10000, 799, 0.08) == math.inf
    assert our_payback(10000, 799, 0.08, 240) == math.inf
    assert our_payback(10000, 800, 0.08, 240) == math.inf


@given(st.integers(100, 20000), st.integers(50, 5000), st.integers(1, 30))
@settings(max_examples=150, deadline=None)
def test_discounted_payback_year(outlay, saving, per_cent):
    """The closed form and our line between year ends fall in the same year, and never together."""
    rate, years = per_cent / 100, 120
    expected = closed_form_payback(outlay, saving, rate)
    assume(math.isinf(expected) or abs(expected - round(expected)) > 1e-6)
    ours = our_payback(outlay, saving, rate, years)
    if expected > years:
        assert ours == math.inf
    else:
        assert math.ceil(ours) == math.ceil(expected)
