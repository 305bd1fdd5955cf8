"""The one door through which chance comes in, held to published figures of how doubt carries through a model."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mediacost.formulas.knowing import value_of_knowing_all, value_of_knowing_some
from mediacost.formulas.sampling import linked_shares, share_blocks, student_mean, triangular, triangular_mean


def shares(count: int, inputs: int, seed: int = 1) -> np.ndarray:
    return np.concatenate(list(share_blocks(count, inputs, seed)), axis=1)


def normal(share: np.ndarray, mean: float, sd: float) -> np.ndarray:
    """A normal doubt through the door, which wants a mean that is not negative."""
    far = 1000 * sd
    return student_mean(share, far, sd, math.inf) - far + mean


def rectangular(share: np.ndarray, half: float) -> np.ndarray:
    return half * (2 * share - 1)


def reach(values: np.ndarray, share: float = 0.95) -> float:
    """Half the width of the interval between equal tails."""
    low, high = np.quantile(values, [(1 - share) / 2, (1 + share) / 2])
    return (high - low) / 2


# Ishigami -----------------------------------------------------------------------------------------


def ishigami(share: np.ndarray) -> np.ndarray:
    x, y, z = rectangular(share, math.pi)
    return np.sin(x) + 7 * np.sin(y) ** 2 + 0.1 * z**4 * np.sin(x)


def test_ishigami_function() -> None:
    """T. Ishigami and T. Homma (1990) with a = 7, b = 0.1: mean a / 2, variance a2/8 + b pi4/5 + b2 pi8/18 + 1/2."""
    values = ishigami(shares(2**17, 3))
    assert values.mean() == pytest.approx(3.5, abs=0.003)
    assert values.var() == pytest.approx(13.844588, abs=0.02)


def test_ishigami_would_miss_with_one_input_used_twice() -> None:
    share = shares(2**17, 3)
    share[2] = share[0]
    assert abs(ishigami(share).var() - 13.844588) > 0.1


# GUM, JCGM 101 ------------------------------------------------------------------------------------

STANDARD_NM = 50_000_623.0


def gauge_block(first_order: bool) -> np.ndarray:
    """JCGM 100:2008 (GUM) H.1, end gauge against a standard, in nanometres; inputs second hand.

    All doubts are drawn with the standard uncertainties of the example: normal where it gives degrees of freedom.
    """
    share = shares(2**17, 9)
    standard = normal(share[0], STANDARD_NM, 25.0)
    difference = 215.0 + sum(normal(share[1 + at], 0.0, sd) for at, sd in enumerate((5.8, 3.9, 6.7)))
    expansion_difference = rectangular(share[4], 1e-6)
    temperature_difference = rectangular(share[5], 0.05)
    expansion = 11.5e-6 + rectangular(share[6], 2e-6)
    temperature = -0.1 + normal(share[7], 0.0, 0.2) + 0.5 * np.sin(math.pi * (share[8] - 0.5))
    if first_order:
        thermal = -0.1 * expansion_difference + 11.5e-6 * temperature_difference
        return standard + difference - STANDARD_NM * thermal
    return standard + difference - standard * (expansion_difference * temperature + expansion * temperature_difference)


def test_gauge_block_to_first_order() -> None:
    """GUM H.1: 50 000 838 nm; u 31.664 worked out from its inputs with a metrology library (32 nm printed)."""
    length = gauge_block(first_order=True)
    assert length.mean() == pytest.approx(50_000_838, abs=0.1)
    assert length.std() == pytest.approx(31.664, abs=0.1)


def test_gauge_block_with_products_of_doubts() -> None:
    """GUM H.1.7: the terms of second order raise the 32 nm to 34 nm (from memory)."""
    length = gauge_block(first_order=False)
    assert length.mean() == pytest.approx(50_000_838, abs=0.5)
    assert length.std() == pytest.approx(34, abs=0.5)


def test_sum_of_four_normal_doubts() -> None:
    """JCGM 101:2008, 9.2.2 (from memory): u 2.0, 95 % interval -+ 3.92."""
    total = sum(normal(share, 0.0, 1.0) for share in shares(2**18, 4))
    assert total.std() == pytest.approx(2.0, abs=0.005)
    assert reach(total) == pytest.approx(3.92, abs=0.02)


def test_sum_of_four_rectangular_doubts() -> None:
    """JCGM 101:2008, 9.2.3 (from memory): u 2.0, 95 % interval -+ 3.88, where a normal sum would give 3.92."""
    total = sum(rectangular(share, math.sqrt(3)) for share in shares(2**18, 4))
    assert total.std() == pytest.approx(2.0, abs=0.005)
    assert reach(total) == pytest.approx(3.88, abs=0.015)


def test_sum_in_which_one_rectangular_doubt_prevails() -> None:
    """JCGM 101:2008, 9.2.4 (from memory): u 10.15 (10.1), 95 % interval -+ 17.0, where a normal sum would give 19.9."""
    drawn = shares(2**18, 4)
    total = sum(rectangular(share, math.sqrt(3)) for share in drawn[:3]) + rectangular(drawn[3], 10 * math.sqrt(3))
    assert total.std() == pytest.approx(math.sqrt(103), abs=0.02)
    assert reach(total) == pytest.approx(17.0, abs=0.05)


# Triangles ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("low", "likely", "high", "mean", "variance"),
    [(1, 2, 6, 3, 7 / 6), (0, 0, 3, 1, 0.5), (10, 60, 60, 43.333333, 138.888889), (-1, 0, 1, 0, 1 / 6)],
)
def test_moments_of_a_triangle(low: float, likely: float, high: float, mean: float, variance: float) -> None:
    """(a + m + b) / 3 and (a2 + m2 + b2 - am - ab - mb) / 18: any textbook on simulation."""
    drawn = triangular(shares(2**16, 1)[0], low, likely, high)
    assert triangular_mean(low, likely, high) == pytest.approx(mean, abs=1e-6)
    assert drawn.mean() == pytest.approx(mean, abs=2e-4 * (high - low))
    assert drawn.var() == pytest.approx(variance, rel=2e-3)


# Value of knowing ---------------------------------------------------------------------------------


def unit_normal_loss(distance: float) -> float:
    """Density less distance times the tail: the unit normal loss integral."""
    density = math.exp(-0.5 * distance**2) / math.sqrt(2 * math.pi)
    return density - distance * 0.5 * math.erfc(distance / math.sqrt(2))


@pytest.mark.parametrize(("distance", "tabled"), [(0.0, 0.3989), (0.5, 0.1978), (1.0, 0.0833), (2.0, 0.0085)])
def test_the_closed_form_is_the_tabled_one(distance: float, tabled: float) -> None:
    """Unit normal loss integral: H. Raiffa and R. Schlaifer, Applied Statistical Decision Theory (1961), table of
    the linear-loss integral (from memory)."""
    assert unit_normal_loss(distance) == pytest.approx(tabled, abs=5e-5)


@pytest.mark.parametrize("mean", [-400.0, -50.0, 0.0, 120.0, 600.0])
def test_two_actions_with_a_normal_loss(mean: float) -> None:
    """sd * unit normal loss at abs(mean) / sd: the same book, chapter 5 (from memory)."""
    sd = 300.0
    difference = normal(shares(2**17, 1)[0], mean, sd)
    worth = np.array([np.zeros_like(difference), difference])
    assert value_of_knowing_all(worth) == pytest.approx(sd * unit_normal_loss(abs(mean) / sd), abs=0.003 * sd)


@pytest.mark.parametrize("mean", [-50.0, 120.0])
def test_knowing_one_of_two_normal_doubts(mean: float) -> None:
    """Knowing a part of a normal loss leaves a normal loss of that part: the closed form again with its sd."""
    drawn = shares(2**14, 2)
    first, second = normal(drawn[0], 0.0, 240.0), normal(drawn[1], 0.0, 180.0)
    worth = np.array([np.zeros_like(first), mean + first + second])
    found = value_of_knowing_some(worth, np.array([first, second]), [[0], [1], [0, 1]])
    for value, sd in zip(found, (240.0, 180.0, 300.0), strict=True):
        assert value == pytest.approx(sd * unit_normal_loss(abs(mean) / sd), abs=2.5)


@pytest.mark.parametrize("together", [-0.5, 0.6])
def test_knowing_one_of_two_linked_normal_doubts(together: float) -> None:
    """The first tells of the second: with correlation r its mean moves by r * sd2 / sd1 of the first's move."""
    drawn = linked_shares(shares(2**14, 2), np.array([[1.0, together], [together, 1.0]]))
    first, second = normal(drawn[0], 0.0, 240.0), normal(drawn[1], 0.0, 180.0)
    worth = np.array([np.zeros_like(first), 60.0 + first + second])
    found = value_of_knowing_some(worth, np.array([first, second]), [[0], [1], [0, 1]], linked=[[0, 1]])
    both = math.sqrt(240**2 + 180**2 + 2 * together * 240 * 180)
    for value, sd in zip(found, (abs(240 + together * 180), abs(180 + together * 240), both), strict=True):
        assert value == pytest.approx(sd * unit_normal_loss(60 / sd), abs=3)
