"""One sheet: pieces from a roll at the edges, lives near nothing and near certainty, replacements between cycles."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mediacost.formulas.sheet import (
    life_for_mean,
    mean_cycles,
    pieces_from_cut,
    replacements,
    sheet_life_cost,
    sheet_price,
)

lives = st.integers(1, 400).map(float)
losses = st.one_of(st.just(0.0), st.floats(1e-12, 0.999))


@pytest.mark.parametrize(
    ("roll", "piece", "pieces"),
    [
        ((0.51, 0.25), (0.51, 0.25), 1),  # exactly one
        ((0.25, 0.51), (0.51, 0.25), 1),  # exactly one, turned
        ((0.509, 0.25), (0.51, 0.25), 0),  # a millimetre short
        ((3 * 0.1, 0.7), (0.1, 0.7), 3),  # 0.30000000000000004
        ((0.3, 0.7), (0.1, 0.7), 3),  # 0.3 / 0.1 is 2.9999999999999996
        ((1.0, 1.0), (0.6, 0.3), 3),  # along 1 x 3, turned 3 x 1
        ((2.0, 0.6), (0.5, 0.3), 8),  # along 4 x 2; turned 6 x 1
        ((2.0, 0.5), (0.5, 0.3), 6),  # turned wins: 6 x 1 against 4 x 1
    ],
)
def test_pieces(roll, piece, pieces):
    assert pieces_from_cut(*roll, *piece) == pieces


@given(*[st.integers(100, 3000)] * 4)
def test_pieces_fit_the_area_and_turning_changes_nothing(length, width, piece_length, piece_width):
    """In whole millimetres, so that exact division can judge."""
    metres = [each / 1000 for each in (length, width, piece_length, piece_width)]
    exact = max((length // piece_length) * (width // piece_width), (length // piece_width) * (width // piece_length))
    assert pieces_from_cut(*metres) == exact
    assert pieces_from_cut(metres[1], metres[0], *metres[2:]) == exact
    assert exact * piece_length * piece_width <= length * width


def test_price_of_a_sheet_that_fills_the_pack():
    assert sheet_price(7.0, 1) == 7.0


def test_life_cost_may_be_an_income():
    """Scrap may pay more than the sheet: the cost of its life is then below zero, not cut off."""
    assert sheet_life_cost(0.05, 0.0, 0.35, 0.2, -0.8) == pytest.approx(-0.11)


@pytest.mark.parametrize("loss", [0.0, 1e-15, 0.5, 0.999999])
def test_a_life_of_one_cycle(loss):
    """Served once and retired, lost or not."""
    assert mean_cycles(1.0, loss) == pytest.approx(1.0, rel=1e-12)
    assert replacements(5.0, 1.0, loss) == pytest.approx(5.0, rel=1e-12)


def test_tiny_losses_keep_their_digits():
    """(1 - q)^N written out in floats gives 0 / q here; with expm1 and log1p the mean stays N (N - 1) q / 2 below N."""
    assert 1 - (1 - 1e-17) ** 150 == 0.0
    assert mean_cycles(150.0, 1e-17) == pytest.approx(150.0, rel=1e-15)
    assert 150.0 - mean_cycles(150.0, 1e-9) == pytest.approx(150 * 149 / 2 * 1e-9, rel=1e-4)


@given(lives, losses)
def test_mean_lies_between_one_and_the_rated_life(life, loss):
    mean = mean_cycles(life, loss)
    assert 1 - 1e-12 <= mean <= life * (1 + 1e-12)
    if loss > 0:
        assert mean <= 1 / loss * (1 + 1e-12)


def test_life_for_no_mean_and_for_never():
    assert life_for_mean(0.0, 0.01) == 0.0
    assert life_for_mean(100.0, 0.01) == math.inf  # q n = 1: only an endless life would do
    assert life_for_mean(math.inf, 0.01) == math.inf
    assert life_for_mean(math.inf, 0.0) == math.inf


def test_life_for_never_on_draws():
    """Draws whose break-even is never pass through without a warning."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = life_for_mean(np.array([math.inf, math.inf, 50.0]), np.array([0.0, 0.01, 0.0]))
    assert found.tolist() == [math.inf, math.inf, 50.0]


@given(lives, losses, st.integers(0, 1500), st.floats(0, 1))
def test_replacements_run_straight_between_cycles(life, loss, whole, part):
    before, after = (replacements(float(whole + step), life, loss) for step in (0, 1))
    assert replacements(whole + part, life, loss) == pytest.approx(
        before + part * (after - before), rel=1e-6, abs=1e-5 if part > 0.999 or part < 1e-3 else 1e-9
    )


@given(lives, losses, st.floats(0, 1500), st.floats(0, 3))
def test_replacements_never_fall_and_never_pass_one_a_cycle(life, loss, cycles, more):
    before, after = replacements(cycles, life, loss), replacements(cycles + more, life, loss)
    assert before - 1e-6 <= after <= before + more + 1e-6
    assert -1e-9 <= before <= cycles + 1e-9


def test_no_replacement_before_the_first_cycle():
    assert replacements(0.0, 10.0, 0.3) == 0.0
    assert replacements(0.5, 10.0, 0.3) == pytest.approx(0.15)


def test_replacement_of_a_fixed_life_takes_a_cycle_to_come():
    """The tenth cycle wears a sheet of ten out: between nine and ten the count rises straight."""
    assert replacements(9.0, 10.0, 0.0) == 0.0
    assert replacements(9.5, 10.0, 0.0) == pytest.approx(0.5)
    assert replacements(10.0, 10.0, 0.0) == 1.0


def test_dust_in_cycles():
    """A hair below ten cycles counts as ten; so does a hair above."""
    assert replacements(10.0 - 1e-12, 10.0, 0.0) == pytest.approx(1.0, abs=1e-9)
    assert replacements(10.0 + 1e-12, 10.0, 0.0) == pytest.approx(1.0, abs=1e-9)


def test_a_certain_loss_is_nearly_one_a_cycle():
    assert replacements(200.0, 50.0, 0.999) == pytest.approx(200 * 0.999, rel=1e-3)
