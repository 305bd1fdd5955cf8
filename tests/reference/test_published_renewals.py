"""Replacement of sheets, held to renewal theory: closed forms, the recursion itself, and simulated lives."""

from __future__ import annotations

import math

import numpy as np
import pytest

from mediacost.formulas.sheet import life_for_mean, mean_cycles, replacements

LOSSES = (0.0, 1e-12, 1e-6, 0.002, 0.05, 0.5, 0.999)
LIVES = (1, 2, 3, 7, 40, 300)


def renewal_chances(life, loss, cycles):
    """u_0 to u_n from the definition: u_n = sum over k of P(life = k) u_(n-k), for a geometric life cut off at N."""
    last_cycle = [0.0] + [loss * (1 - loss) ** (age - 1) for age in range(1, life)] + [(1 - loss) ** (life - 1)]
    chances = [1.0]
    for cycle in range(1, cycles + 1):
        chances.append(math.fsum(last_cycle[age] * chances[cycle - age] for age in range(1, min(life, cycle) + 1)))
    return chances


def lives_drawn(generator, life, loss, size):
    """Lives of many sheets: lost with a chance in each cycle, having served it, retired after the rated life."""
    return np.minimum(generator.geometric(loss, size=size), life)


@pytest.mark.parametrize("loss", [0.001, 0.01, 0.25])
@pytest.mark.parametrize("cycles", [0, 1, 17, 400])
def test_endless_geometric_life(cycles, loss):
    """Geometric life: n p failures in n cycles (closed form of renewal theory)."""
    assert replacements(float(cycles), 1e9, loss) == pytest.approx(cycles * loss, rel=1e-9)


@pytest.mark.parametrize("life", [1, 3, 10, 60])
def test_fixed_life(life):
    """Fixed life L: floor(n / L) replacements (closed form of renewal theory)."""
    for cycles in range(200):
        assert replacements(float(cycles), float(life), 0.0) == cycles // life


@pytest.mark.parametrize("loss", LOSSES)
@pytest.mark.parametrize("life", LIVES)
def test_renewal_equation(life, loss):
    """Our closed form against the discrete renewal equation, summed term by term.

    The equation: H. C. Tijms, A First Course in Stochastic Models (2003), chapter 2 (from memory); W. Feller, An
    Introduction to Probability Theory and Its Applications, vol. 1, chapter XIII (from memory).
    """
    most = 700
    expected = np.cumsum(renewal_chances(life, loss, most)) - 1.0
    for cycles in [*range(3 * min(life, 60) + 2), life - 1, life, life + 1, 2 * life, most]:
        if cycles <= most:
            assert replacements(float(cycles), float(life), loss) == pytest.approx(
                expected[cycles], rel=1e-10, abs=1e-11
            ), cycles


@pytest.mark.parametrize(
    ("life", "loss", "cycles"),
    [(1, 0.3, 9), (10, 0.2, 25), (30, 0.02, 90), (60, 0.03, 61), (100, 0.01, 63), (150, 0.006, 500)],
)
def test_simulated_lives(life, loss, cycles):
    """20,000 tray positions, sheet after sheet: the mean count within 4.5 standard errors of ours."""
    positions, generator = 20_000, np.random.default_rng(20270302)
    served, count = np.zeros(positions), np.zeros(positions)
    while (served <= cycles).any():
        served += lives_drawn(generator, life, loss, positions)
        count += served <= cycles
    error = count.std(ddof=1) / math.sqrt(positions)
    assert error < 0.02
    assert abs(count.mean() - replacements(float(cycles), float(life), loss)) <= 4.5 * error + 1e-12


def test_not_horizon_over_mean():
    """After one mean life the count is not 1.

    Tijms, A First Course in Stochastic Models, table 8.1.1 (published), for Weibull lives of mean 1: 0.609 at a
    squared coefficient of variation of 0.25, 1.357 at 2. Our lives are another family and vary less than an
    exponential, so they too stay below 1 early.
    """
    life, loss = 100.0, 0.01
    mean = mean_cycles(life, loss)
    ages = np.arange(1, 101)
    chance = np.append(loss * (1 - loss) ** (ages[:-1] - 1), (1 - loss) ** 99)
    squared_variation = (chance @ (ages - mean) ** 2) / mean**2
    assert 0.25 < squared_variation < 1
    assert 0.609 < replacements(mean, life, loss) < 0.65
    assert replacements(mean, life, loss) == pytest.approx(loss * mean, rel=1e-9)


@pytest.mark.parametrize(("life", "loss"), [(100, 0.01), (60, 0.03), (7, 0.4), (30, 0.08)])
def test_long_run(life, loss):
    """In the long run one replacement per mean life, behind by a constant.

    R(n) - n/m tends to (variance + m^2 + m) / (2 m^2) - 1: W. Feller, vol. 1, chapter XIII (from memory), worked here.
    """
    ages = np.arange(1, life + 1)
    chance = np.append(loss * (1 - loss) ** (ages[:-1] - 1), (1 - loss) ** (life - 1))
    mean = float(chance @ ages)
    variance = float(chance @ (ages - mean) ** 2)
    far = 200 * life
    assert replacements(float(far), float(life), loss) / far == pytest.approx(1 / mean, rel=0.01)
    behind = replacements(float(far), float(life), loss) - far / mean
    assert behind == pytest.approx((variance + mean**2 + mean) / (2 * mean**2) - 1, abs=1e-6)


@pytest.mark.parametrize("loss", LOSSES)
@pytest.mark.parametrize("life", LIVES)
def test_mean_is_the_sum_of_survival(life, loss):
    """Mean of a whole-number life: the sum over k of the chance to serve cycle k (any probability textbook)."""
    survival = math.fsum((1 - loss) ** (cycle - 1) for cycle in range(1, life + 1))
    assert mean_cycles(float(life), loss) == pytest.approx(survival, rel=1e-10)


def test_mean_of_a_hundred():
    """N = 100 and q = 1 %: only 63 cycles (worked by hand: (1 - 0.99^100) / 0.01)."""
    assert mean_cycles(100.0, 0.01) == pytest.approx(63.3968, abs=5e-5)


@pytest.mark.parametrize(
    ("life", "loss"), [(life, loss) for life in LIVES for loss in LOSSES if (1 - loss) ** life > 1e-6]
)
def test_life_for_mean_inverts(life, loss):
    """There and back, as far as the digits carry: below a survival of 1e-6 the mean hardly knows the life."""
    assert life_for_mean(mean_cycles(float(life), loss), loss) == pytest.approx(life, rel=1e-8)


@pytest.mark.parametrize("loss", [0.01, 0.2, 0.9])
def test_no_life_reaches_one_over_loss(loss):
    """A geometric life has mean 1/q: no rated life gets there."""
    assert life_for_mean(1 / loss * 1.000001, loss) == math.inf
    assert math.isfinite(life_for_mean(1 / loss * 0.999, loss))


@pytest.mark.parametrize("life", [1, 5, 60])
def test_more_loss_never_replaces_later(life):
    """A life that is shorter by chance is renewed at least as often: stochastic order (Feller, from memory)."""
    for cycles in (0.0, 0.5, 4.0, 4.9, 5.0, 61.0, 333.3):
        counts = [replacements(cycles, float(life), loss) for loss in LOSSES]
        assert all(after >= before - 1e-9 for before, after in zip(counts, counts[1:], strict=False))
