"""Simultaneous comparisons, power, assumptions, slips and the layout, held to scipy and to what must hold."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from scipy import stats

from mediacost.formulas.trial_blocks import additive_fit
from mediacost.formulas.trial_checks import bell_shape, like_spreads, media_and_blocks_add_up
from mediacost.formulas.trial_distributions import range_tail, share_interval, t_critical
from mediacost.formulas.trial_dunnett import dunnett, many_to_one_critical, many_to_one_tail
from mediacost.formulas.trial_layout import block_layout
from mediacost.formulas.trial_pairs import games_howell, tukey
from mediacost.formulas.trial_power import power_of_difference, smallest_difference, trays_needed
from mediacost.formulas.trial_suspects import largest_residual, swapped_pairs
from mediacost.formulas.trial_variance import media_test, welch_test

GROUPS = [list(np.random.default_rng(at).normal(250 + 15 * at, 12 + 6 * at, 6 + at)) for at in range(3)]


def flat(groups):
    medium = [at for at, group in enumerate(groups) for _ in group]
    return [each for group in groups for each in group], medium, [0] * len(medium)


# ---- against scipy, which knows no blocks


def test_one_way_as_scipy():
    ours, theirs = media_test(additive_fit(*flat(GROUPS))), stats.f_oneway(*GROUPS)
    assert (ours.f, ours.p) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-9)


def test_tukey_as_scipy():
    theirs = stats.tukey_hsd(*GROUPS)
    ends = theirs.confidence_interval()
    for each in tukey(additive_fit(*flat(GROUPS))):
        at = each.first, each.second
        assert (each.p, each.low, each.high) == pytest.approx(
            (theirs.pvalue[at], ends.low[at], ends.high[at]), rel=1e-5
        )


def test_levene_as_scipy():
    theirs = stats.levene(*GROUPS, center="median")
    assert like_spreads(GROUPS) == pytest.approx((theirs.statistic, theirs.pvalue))


def test_dunnett_as_scipy():
    theirs = stats.dunnett(*GROUPS[1:], control=GROUPS[0], random_state=1)
    ours = dunnett(additive_fit(*flat(GROUPS)), 0)
    assert [each.p for each in ours] == pytest.approx(list(theirs.pvalue), abs=1e-3)


@pytest.mark.parametrize("df", [1, 2, 5, 20, 300])
@pytest.mark.parametrize("count", [2, 3, 5])
def test_integral_agrees_with_drawn_multivariate_t(df, count):
    correlation = np.full((count, count), 0.4) + 0.6 * np.eye(count)
    bound = np.full(count, 2.2)
    drawn = stats.multivariate_t.cdf(
        bound, shape=correlation, df=df, lower_limit=-bound, maxpts=100_000, random_state=np.random.default_rng(2)
    )
    assert many_to_one_tail(2.2, correlation, df) == pytest.approx(1 - drawn, abs=2e-4)


def test_correlations_that_are_no_products_are_drawn_with_a_seed():
    correlation = np.array([[1, 0.6, 0.3, 0.5], [0.6, 1, 0.5, 0.2], [0.3, 0.5, 1, 0.4], [0.5, 0.2, 0.4, 1]])
    first, again = (many_to_one_critical(correlation, 9) for _ in range(2))
    assert first == again
    assert many_to_one_tail(first, correlation, 9) == pytest.approx(0.05, abs=1e-4)
    assert t_critical(9) < first < t_critical(9, comparisons=4)


def test_one_comparison_is_student_s():
    fit = additive_fit([10.0, 12, 13, 15, 16, 19], [0, 0, 0, 1, 1, 1], [0] * 6)
    theirs = stats.ttest_ind([15.0, 16, 19], [10.0, 12, 13])
    assert dunnett(fit, 0)[0].p == pytest.approx(theirs.pvalue)
    assert tukey(fit)[0].p == pytest.approx(theirs.pvalue)
    assert range_tail(3.0, 2, 7) == pytest.approx(stats.studentized_range.sf(3.0, 2, 7), rel=1e-6)


def test_dunnett_is_narrower_than_tukey_and_wider_than_one_alone():
    fit = additive_fit(*flat(GROUPS))
    pair, against = tukey(fit)[0], dunnett(fit, 0)[0]
    alone = 2 * float(t_critical(fit.residual_df)) * pair.standard_error
    assert alone < against.high - against.low < pair.high - pair.low


def test_two_groups_of_unlike_spread_are_welch_s():
    theirs = stats.ttest_ind(GROUPS[0], GROUPS[2], equal_var=False)
    assert games_howell([GROUPS[0], GROUPS[2]])[0].p == pytest.approx(theirs.pvalue)
    assert welch_test([GROUPS[0], GROUPS[2]]).p == pytest.approx(theirs.pvalue)


def false_alarms(medium, cell, runs=1500):
    """Share of drawn trials without any difference in which some interval leaves zero out: Tukey's, Dunnett's."""
    draw = np.random.default_rng(6)
    shelf = 40 * np.asarray(cell, dtype=float)
    first = additive_fit(draw.normal(0, 1, len(medium)), medium, cell)
    tukeys, dunnetts = tukey(first), dunnett(first, 0)
    reach = [
        [
            (
                each.first,
                each.second,
                (each.high - each.difference) / each.standard_error,
                each.standard_error / first.mean_square**0.5,
            )
            for each in found
        ]
        for found in (tukeys, dunnetts)
    ]
    alarms = [0, 0]
    for _ in range(runs):
        fit = additive_fit(shelf + draw.normal(0, 10, len(medium)), medium, cell)
        sd = fit.mean_square**0.5
        for at, bounds in enumerate(reach):
            alarms[at] += any(abs(fit.means[a] - fit.means[b]) > t * error * sd for a, b, t, error in bounds)
    return alarms[0] / runs, alarms[1] / runs


def test_one_trial_in_twenty_raises_a_false_alarm():
    """In complete blocks both are exact; standard error of the share 0.006."""
    medium, cell = np.tile(np.arange(4), 4), np.repeat(np.arange(4), 4)
    assert false_alarms(medium, cell) == pytest.approx((0.05, 0.05), abs=0.02)


def test_with_trays_missing_dunnett_stays_exact_and_tukey_errs_on_the_wide_side():
    medium, cell = np.tile(np.arange(3), 5), np.repeat(np.arange(5), 3)
    kept = np.ones(15, dtype=bool)
    kept[[2, 5, 9]] = False
    of_tukey, of_dunnett = false_alarms(medium[kept], cell[kept])
    assert of_dunnett == pytest.approx(0.05, abs=0.02)
    assert of_tukey < 0.07


# ---- power


@pytest.mark.parametrize(
    ("cv", "needed", "seen"),
    [
        (5, [18, 7, 5, 4], [23, 15, 10, 8, 6]),
        (8, [43, 13, 7, 5], [37, 24, 16, 13, 10]),
        (12, [93, 25, 13, 8], [55, 36, 24, 20, 15]),
    ],
)
def test_blocks_for_two_media(cv, needed, seen):
    """Blocks to see 5, 10, 15, 20 %, and what 3, 4, 6, 8, 12 see: noncentral t, worked out apart."""
    assert [trays_needed(share, cv, blocked=True) for share in (5, 10, 15, 20)] == needed
    found = [smallest_difference(cv * (2 / blocks) ** 0.5, blocks - 1) for blocks in (3, 4, 6, 8, 12)]
    assert [round(each) for each in found] == seen


def test_power_by_drawing():
    draw = np.random.default_rng(11)
    first, second = draw.normal(0, 20, (4000, 6)), draw.normal(30, 20, (4000, 6))
    share = (stats.ttest_ind(first, second, axis=1).pvalue < 0.05).mean()
    assert power_of_difference(30.0, 20.0, 6) == pytest.approx(share, abs=0.02)


def test_rule_of_thumb():
    """n about 16 (cv / difference) squared (Lehr 1992, from memory): what remains is small-sample excess of 1 to 4."""
    for ratio in (0.4, 0.8, 1.6):
        assert 0 < trays_needed(1.0, ratio) - 16 * ratio**2 < 4


def test_more_of_everything_is_seen_better():
    powers = [power_of_difference(20.0, 20.0, trays, 3, True, 3) for trays in (2, 3, 5, 9, 17, 40)]
    assert powers == sorted(powers)
    assert power_of_difference(20.0, 20.0, 900, 3, True, 3) == pytest.approx(1.0)


def test_what_no_number_of_trays_sees():
    assert trays_needed(0.0, 20.0) is None
    assert trays_needed(0.1, 20.0) is None
    assert trays_needed(5.0, 0.0) == 2


def test_share_from_a_count():
    low, high = share_interval(3, 20)
    theirs = stats.binomtest(3, 20).proportion_ci(method="exact")
    assert (low, high) == pytest.approx((theirs.low, theirs.high))
    assert share_interval(5, 5)[1] == 1.0


# ---- assumptions


def test_spreads_of_two_or_three_trays_are_not_compared():
    """Of two trays the median takes all away: both deviate alike, and the test would find certainty."""
    assert all(np.isnan(each) for each in like_spreads([[60.0, 60.5], [61.2, 52.8], [50.2, 53.2]]))


def test_shape_of_nothing():
    assert np.isnan(bell_shape([1.0, 1.0, 1.0])[0])
    assert np.isnan(bell_shape([1.0, 2.0])[0])


def test_multiplying_blocks_are_found_and_adding_ones_are_not():
    medium, cell = np.tile(np.arange(3), 5), np.repeat(np.arange(5), 3)
    noise = np.random.default_rng(4).normal(0, 1, 15)
    adding = 100 + 10 * medium + 20 * cell + noise
    times = (10 + 4 * medium) * (5 + 4 * cell) + noise
    for weights, bent in ((adding, False), (times, True)):
        fit = additive_fit(weights, medium, cell)
        assert (media_and_blocks_add_up(fit, weights, medium, cell) < 0.05) == bent


# ---- slips


def swap_alarms(blocks, media, runs, swap):
    """Share of drawn trials in which a swap is suspected: any at all, or the one that was made."""
    draw = np.random.default_rng(1)
    medium, cell = np.tile(np.arange(media), blocks), np.repeat(np.arange(blocks), media)
    neighbours = [(at, at + 1) for at in range(len(medium) - 1) if cell[at] == cell[at + 1]]
    alarms = 0
    for _ in range(runs):
        weights = draw.normal(250, 20, len(medium)) + (90 * medium if swap else 0)
        if swap:
            weights[[0, 1]] = weights[[1, 0]]
        found = swapped_pairs(additive_fit(weights, medium, cell), weights, medium, cell, neighbours)
        alarms += any((each.first, each.second) == (0, 1) for each in found) if swap else bool(found)
    return alarms / runs


def test_false_alarms_of_a_swap_are_rare_and_true_ones_are_raised():
    assert swap_alarms(4, 3, 600, swap=False) < 0.05
    assert swap_alarms(6, 3, 200, swap=True) > 0.7


def test_trays_of_one_medium_or_of_two_blocks_are_no_swap():
    weights, medium, cell = [10.0, 20.5, 11, 21, 12, 32, 22, 13], [0, 1, 0, 1, 0, 1, 1, 0], [0, 0, 1, 1, 2, 2, 3, 3]
    fit = additive_fit(weights, medium, cell)
    assert swapped_pairs(fit, weights, medium, cell, [(0, 2), (1, 3), (5, 6)]) == []


def test_the_tray_that_stands_out_as_by_leaving_each_out():
    """Externally studentized residuals the long way: fit again with a mark on that tray alone."""
    draw = np.random.default_rng(8)
    medium, cell = np.tile(np.arange(3), 4), np.repeat(np.arange(4), 3)
    weights = draw.normal(250, 10, 12)
    weights[7] += 45
    fit = additive_fit(weights, medium, cell)
    found = largest_residual(fit, medium, cell)
    table = np.hstack([np.eye(3)[medium], np.eye(4)[cell]])
    best = 0.0
    for at in range(12):
        marked = np.hstack([table, np.eye(12)[:, [at]]])
        left = weights - marked @ np.linalg.lstsq(marked, weights, rcond=None)[0]
        best = max(best, ((fit.residual_square - left @ left) / (left @ left / 5)) ** 0.5)
    assert found.place == 7
    assert found.t == pytest.approx(best)


# ---- layout


def test_every_medium_in_every_block_between_guards():
    places = block_layout(3, ["top", "middle", "low"], seed=3, repeats=2, guards=2)
    for block in ("top", "middle", "low"):
        row = [place for place in places if place.block == block]
        assert [place.position for place in row] == list(range(1, 11))
        assert [place.medium for place in row[:2] + row[-2:]] == [None] * 4
        assert Counter(place.medium for place in row[2:-2]) == {0: 2, 1: 2, 2: 2}


def test_the_seed_decides_the_layout():
    names = [f"shelf {at}" for at in range(6)]
    assert block_layout(4, names, seed=7) == block_layout(4, names, seed=7)
    assert len({tuple(place.medium for place in block_layout(4, names, seed=seed)) for seed in range(20)}) > 15


def test_every_order_is_as_likely():
    orders = Counter(tuple(place.medium for place in block_layout(3, ["a"], seed, guards=0)) for seed in range(1200))
    assert len(orders) == 6
    assert stats.chisquare(list(orders.values())).pvalue > 0.001


@pytest.mark.parametrize(
    "wrong", [{"media": 1}, {"blocks": []}, {"blocks": ["a", "a"]}, {"repeats": 0}, {"guards": -1}]
)
def test_layouts_that_cannot_be(wrong):
    with pytest.raises(ValueError, match="layout needs|name of its own"):
        block_layout(**({"media": 2, "blocks": ["a"], "seed": 1} | wrong))
