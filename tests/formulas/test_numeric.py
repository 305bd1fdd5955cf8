"""Elementary functions: dust in rounding, and choices that never touch the branch not taken."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mediacost.formulas import numeric
from mediacost.results.recorded import Recorded


def every_way(function, value):
    """A function of one number on a float, an array and a recorded number."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return function(value), function(np.array([value]))[0], function(Recorded(value)).value


@pytest.mark.parametrize(
    ("value", "below", "above"),
    [
        (3.0, 3, 3),
        (2.9999999999, 3, 3),
        (3.0000000001, 3, 3),
        (0.1 + 0.2 + 2.7, 3, 3),
        (2.999, 2, 3),
        (3.001, 3, 4),
        (0.0, 0, 0),
        (-1e-12, 0, 0),
        (1e-12, 0, 0),
        (-2.5, -3, -2),
        (100 * 1.1, 110, 110),  # 110.00000000000001 in floats
        (1e6 + 1e-4, 1e6, 1e6),  # the slack grows with the number: a relative 1e-9
        (1e6 + 1e-2, 1e6, 1e6 + 1),
        (15.0 / 0.25, 60, 60),
        (1.05 / 0.35, 3, 3),  # 2.9999999999999996 or so
    ],
)
def test_dust_in_rounding(value, below, above):
    assert every_way(numeric.floor, value) == (below,) * 3
    assert every_way(numeric.ceil, value) == (above,) * 3


def test_spares_of_a_peak_are_not_rounded_up_by_dust():
    """100 x 1.1 is 110.00000000000001 in floats, which a bare ceil makes 111."""
    assert math.ceil(100 * 1.1) == 111
    assert numeric.ceil(100 * 1.1) == 110


@given(st.integers(-(10**6), 10**6), st.floats(-1e-10, 1e-10))
def test_whole_numbers_survive_dust(whole, dust):
    assert numeric.floor(whole + dust) == numeric.ceil(whole + dust) == whole


@given(st.floats(-1e6, 1e6))
def test_rounding_stays_within_one(value):
    slack = 2e-9 * max(1.0, abs(value))
    assert value - 1 - slack <= numeric.floor(value) <= value + slack
    assert value - slack <= numeric.ceil(value) <= value + 1 + slack


@pytest.mark.parametrize(("value", "whole"), [(1.5, 2), (2.5, 3), (2.4999, 2), (100.0, 100), (0.5, 1)])
def test_halves_go_up(value, whole):
    """Not to the even number, as Python's own round does."""
    assert every_way(numeric.round_half_up, value) == (whole,) * 3


def test_ratio_never_divides_by_an_invalid_number():
    assert numeric.ratio(1.0, 0.0, False, 7.0) == 7.0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        mixed = numeric.ratio(np.array([1.0, 1.0]), np.array([0.0, 4.0]), np.array([False, True]), math.inf)
    assert mixed.tolist() == [math.inf, 0.25]
    assert numeric.ratio(Recorded(1.0), Recorded(0.0), Recorded(False), 7.0).value == 7.0


def test_where_takes_single_truths_from_numpy():
    assert numeric.where(np.True_, 1.0, 2.0) == 1.0
    assert numeric.where(False, 1.0, 2.0) == 2.0
    assert numeric.where(np.array([True, False]), 1.0, 2.0).tolist() == [1.0, 2.0]


def test_small_exponents_keep_their_digits():
    assert every_way(numeric.expm1, 1e-15) == pytest.approx((1e-15,) * 3, rel=1e-14)
    assert every_way(numeric.log1p, -1e-15) == pytest.approx((-1e-15,) * 3, rel=1e-14)


def test_larger_and_smaller():
    assert numeric.maximum(1, 2.0) == 2.0 and numeric.minimum(1, 2.0) == 1
    assert numeric.maximum(np.array([1.0, 5.0]), 2.0).tolist() == [2.0, 5.0]
    assert numeric.minimum(2.0, np.array([1.0, 5.0])).tolist() == [1.0, 2.0]
    assert numeric.largest([3.0]) == 3.0
    assert numeric.largest([-3.0, -1.0, -2.0]) == -1.0
    assert numeric.absolute(-2.5) == 2.5


def test_sums():
    assert numeric.total([2.0]) == 2.0
    assert numeric.mean([1.0, 2.0, 6.0]) == 3.0
    assert numeric.weighted([10.0, 20.0], [0.25, 0.75]) == 17.5


def test_weights_must_match_the_values():
    with pytest.raises(ValueError, match="zip"):
        numeric.weighted([10.0, 20.0], [1.0])


def test_an_empty_sum_is_refused():
    """Nothing to begin from, so the unit of the sum would be unknown."""
    with pytest.raises(TypeError):
        numeric.total([])
