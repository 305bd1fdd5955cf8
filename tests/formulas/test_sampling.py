"""Draws lie where they must, come out the same from the same seed, and follow their distribution exactly."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from mediacost.formulas.sampling import linked_shares, share_blocks, standard_error, student_mean, triangular

sizes = st.floats(-1e9, 1e9, allow_nan=False)
any_share = st.floats(0, 1)


@given(st.lists(sizes, min_size=3, max_size=3).map(sorted), any_share)
def test_a_triangle_never_leaves_its_range(ends, share):
    low, likely, high = ends
    assert low <= float(triangular(share, low, likely, high)) <= high


@given(st.floats(0, 1e6), st.floats(0, 1e6), st.sampled_from([1.0, 3.0, 17.0, math.inf]), any_share)
def test_a_mean_is_cut_to_between_nothing_and_twice_itself(mean, error, df, share):
    assert 0 <= float(student_mean(share, mean, error, df)) <= 2 * mean


def test_a_life_of_one_cycle_or_more_is_never_rounded_below_it():
    drawn = np.floor(triangular(np.linspace(1e-12, 1 - 1e-12, 10_001), 1.0, 1.0, 4.0) + 0.5)
    assert drawn.min() == 1
    assert drawn.max() == 4


@pytest.mark.parametrize("ends", [(1.0, 2.0, 6.0), (0.0, 0.0, 3.0), (0.1, 0.3, 0.3)])
def test_triangle_against_the_library(ends):
    low, likely, high = ends
    share = np.linspace(0.001, 0.999, 201)
    expected = stats.triang((likely - low) / (high - low), low, high - low).ppf(share)
    np.testing.assert_allclose(triangular(share, *ends), expected, rtol=1e-12)


@pytest.mark.parametrize("df", [3.0, 11.0, math.inf])
@pytest.mark.parametrize("error", [5.0, 120.0])
def test_a_mean_follows_the_cut_distribution(df, error):
    """The share below a value is that of the whole distribution, less what lies below zero, over what is left."""
    share = np.linspace(0.0005, 0.9995, 401)
    drawn = student_mean(share, 200.0, error, df)
    whole = stats.norm(200, error) if math.isinf(df) else stats.t(df, 200, error)
    left = whole.cdf(400) - whole.cdf(0)
    np.testing.assert_allclose((whole.cdf(drawn) - whole.cdf(0)) / left, share, rtol=1e-9, atol=1e-12)
    mean = integrate.quad(lambda p: float(student_mean(p, 200.0, error, df)), 0, 1, limit=200)[0]
    assert mean == pytest.approx(200, rel=1e-6)


def test_no_doubt_draws_the_mean():
    assert student_mean(np.array([0.01, 0.5, 0.99]), 250.0, 0.0, 5).tolist() == [250.0] * 3


@pytest.mark.parametrize(
    ("mean", "sd", "trays", "expected"),
    [
        (250.0, 20.0, 16, 5.0),
        (250.0, 20.0, 4, 10.0),  # three degrees of freedom are enough
        (250.0, 20.0, 3, 30.0 / math.sqrt(3)),  # two are not: 12 % of the mean is more
        (250.0, 45.0, 3, 45.0 / math.sqrt(3)),  # unless what was measured is more still
        (250.0, None, 1, 30.0),
        (250.0, math.nan, 1, 30.0),
    ],
)
def test_too_few_trays_get_a_usual_spread(mean, sd, trays, expected):
    assert standard_error(mean, sd, 1 / trays, trays - 1) == pytest.approx(expected)


@pytest.mark.parametrize("count", [1, 7, 256, 1000, 40_000])
def test_blocks_add_up_to_what_was_asked_for(count):
    blocks = list(share_blocks(count, 3, seed=5, block=1024))
    assert sum(block.shape[1] for block in blocks) == count
    assert max(block.shape[1] for block in blocks) <= 1024
    drawn = np.concatenate(blocks, axis=1)
    assert drawn.min() > 0 and drawn.max() < 1


def test_nothing_uncertain_draws_nothing():
    assert [block.shape for block in share_blocks(5, 0, seed=1, block=4)] == [(0, 4), (0, 1)]


def test_the_seed_decides():
    one, again, other = (next(share_blocks(512, 4, seed)) for seed in (7, 7, 8))
    assert one.tobytes() == again.tobytes()
    assert one.tobytes() != other.tobytes()


def test_draws_cover_evenly():
    """Every sixteenth of the way from 0 to 1 holds a sixteenth of the draws of each input, all but exactly."""
    drawn = np.concatenate(list(share_blocks(4096, 40, seed=3)), axis=1)
    for row in drawn:
        counts = np.histogram(row, 16, (0, 1))[0]
        assert counts.tolist() == [256] * 16


def test_linked_shares_hang_together_and_stay_even():
    """Rank correlation of a Gaussian copula: 6 / pi * arcsin(r / 2) (K. Pearson, from memory)."""
    drawn = np.concatenate(list(share_blocks(2**15, 3, seed=2)), axis=1)
    correlation = np.array([[1.0, 0.6, -0.3], [0.6, 1.0, 0.0], [-0.3, 0.0, 1.0]])
    linked = linked_shares(drawn, correlation)
    np.testing.assert_allclose(np.corrcoef(linked), 6 / np.pi * np.arcsin(correlation / 2), atol=0.005)
    for row in linked:
        np.testing.assert_allclose(np.histogram(row, 10, (0, 1))[0], 2**15 / 10, rtol=0.03)


def test_shares_without_a_link_stay_as_they_are():
    drawn = next(share_blocks(512, 2, seed=2))
    np.testing.assert_allclose(linked_shares(drawn, np.eye(2)), drawn, rtol=1e-12)
