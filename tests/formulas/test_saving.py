"""One medium against another: where nothing is gained, and how many sheets to own."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mediacost.formulas.saving import (
    break_even_cycles,
    cost_after_cycles,
    packs_to_buy,
    running_cost,
    sheets_needed,
    trays_for_same_harvest,
)


@pytest.mark.parametrize(
    ("life_cost", "gain", "cycles"),
    [
        (12.0, 0.25, 48.0),
        (12.0, 0.0, math.inf),
        (12.0, -0.25, math.inf),
        (0.0, 0.25, 0.0),
        (-1.0, 0.25, 0.0),  # the scrap pays for the sheet: ahead from the start
        (0.0, 0.0, math.inf),
        (-1.0, -0.25, math.inf),  # ahead only for a few cycles: no number of cycles to wait for
    ],
)
def test_break_even(life_cost, gain, cycles):
    assert break_even_cycles(life_cost, gain) == cycles


@given(st.floats(0.01, 1e4), st.floats(1e-4, 1e3), st.floats(-10, 10))
def test_lines_cross_at_break_even(life_cost, gain, baseline):
    """What the sheet and its cycles have cost equals the baseline's cycles there."""
    cycles = break_even_cycles(life_cost, gain)
    medium = cost_after_cycles(life_cost, baseline - gain, cycles)
    assert medium == pytest.approx(cost_after_cycles(0.0, baseline, cycles), rel=1e-9, abs=1e-9 * life_cost)


def test_running_cost_may_fall_below_zero():
    """Roots that a farmer pays for can make a cycle earn."""
    assert running_cost(0.25, 0.5, 0.25) == -0.5


def test_same_harvest():
    assert trays_for_same_harvest(0.2, 0.0) == math.inf
    assert trays_for_same_harvest(0.0, 0.25) == 0.0
    assert trays_for_same_harvest(0.3, 0.3) == 1.0


@pytest.mark.parametrize(
    ("peak", "season", "each", "spare", "needed"),
    [
        (80, 1.0, 1, 0.10, 88),
        (80, 1.0, 1, 0.0, 80),
        (80, 1.3, 2, 0.10, 229),  # 228.8
        (100, 1.1, 1, 0.0, 110),  # 110.00000000000001
        (70, 1.1, 1, 0.0, 77),
        (81, 1.0, 1, 0.10, 90),  # 89.1
        (1, 0.01, 1, 0.0, 1),
    ],
)
def test_sheets_needed(peak, season, each, spare, needed):
    assert sheets_needed(peak, season, each, spare) == needed


@pytest.mark.parametrize(
    ("needed", "owned", "pieces", "packs"),
    [(88, 0, 10, 9), (88, 12, 10, 8), (88, 8, 10, 8), (88, 88, 10, 0), (88, 500, 10, 0), (88, 87, 10, 1), (0, 0, 1, 0)],
)
def test_packs_to_buy(needed, owned, pieces, packs):
    assert packs_to_buy(needed, owned, pieces) == packs
