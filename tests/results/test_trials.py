"""What trials show: from a document's trays to the verdict in words."""

from __future__ import annotations

import json
from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from mediacost.errors import InputFaults
from mediacost.results import compare
from mediacost.results.evaluation import evaluate
from mediacost.results.trial_answers import Outcome
from mediacost.results.trial_json import trials_json
from mediacost.results.trial_money import margin_at
from mediacost.results.trial_trays import adjusted_means
from mediacost.results.trials import trials_answer
from mediacost.results.weights import measured_words
from mediacost.scenario import Scenario
from tests.reference.plain_trials import adjusted_means_of
from tests.results.samples import scenario

Tray = dict[str, Any]
MEDIA = ("pad", "steel", "silicone")


def trial(trays: list[Tray], id: str = "t", **more: Any) -> dict[str, Any]:
    for number, tray in enumerate(trays, start=1):
        tray.setdefault("tray", str(number))
    return {"id": id, "crop": "radish", "trays": trays} | more


def of(groups: dict[str, list[float]], block: str = "") -> list[Tray]:
    return [
        {"medium": medium, "harvest_g": each, "block": block} for medium, weights in groups.items() for each in weights
    ]


def blocks(rows: dict[str, list[float | None]], media: tuple[str, ...] = MEDIA) -> list[Tray]:
    """A block a row, a medium a column; None where there is no tray."""
    return [
        {"medium": medium, "harvest_g": grams, "block": block}
        for block, row in rows.items()
        for medium, grams in zip(media, row, strict=True)
        if grams is not None
    ]


def room(*trials: dict[str, Any]) -> Scenario:
    return scenario("small_room", (("trials",), list(trials)))


def analysis(*trials: dict[str, Any]):
    """The first trial by itself."""
    return trials_answer(room(*trials)).crops[0].trials[0].analysis


FOUR_SHELVES = {"a": [270.0, 251, 240], "b": [249.0, 260, 216], "c": [250.0, 238, 219], "d": [229.0, 236, 204]}
LIKE_ROWS = [[250.0, 251, 249], [260.0, 259, 261], [240.0, 241, 240.5], [255.0, 254, 255], [245.0, 245.5, 244]]


# ---- verdicts


def test_two_trays_each():
    """common practice, no source"""
    found = analysis(trial(of({"pad": [60, 60.5], "steel": [61.2, 52.8], "silicone": [50.2, 53.2]})))
    assert [medium.mean_g for medium in found.media] == pytest.approx([60.25, 57.00, 51.70])
    assert len(found.pairs) == 3
    for pair in (*found.pairs, *found.against_baseline):
        assert pair.verdict.outcome is Outcome.CANNOT_TELL
        assert "cannot tell yet" in pair.verdict.words
        more = pair.verdict.more_trays_per_medium
        assert more is not None and more >= 1
        assert f"{more} more tray" in pair.verdict.words


def test_better_worse_and_not_yet():
    found = analysis(trial(blocks(FOUR_SHELVES)))
    steel, silicone = found.against_baseline
    assert (steel.medium, silicone.medium, silicone.other) == ("steel", "silicone", "pad")
    assert steel.verdict.outcome is Outcome.CANNOT_TELL
    assert silicone.verdict.outcome is Outcome.WORSE
    assert silicone.interval_g.high < 0
    between = next(pair for pair in found.pairs if (pair.medium, pair.other) == ("steel", "silicone"))
    assert between.verdict.outcome is Outcome.BETTER
    assert (found.blocked, found.blocks, found.pairs_method, found.baseline_method) == (True, 4, "Tukey", "Dunnett")


def test_against_the_baseline_the_narrower_intervals_are_used():
    found = analysis(trial(blocks(FOUR_SHELVES)))
    (pair,) = [each for each in found.pairs if (each.medium, each.other) == ("pad", "silicone")]
    (against,) = [each for each in found.against_baseline if each.medium == "silicone"]
    assert against.difference_g == pytest.approx(-pair.difference_g)
    widths = [each.interval_g.high - each.interval_g.low for each in (against, pair)]
    assert widths[0] < 0.97 * widths[1]


def test_the_same_for_practical_purposes():
    rows = {str(at): row for at, row in enumerate(LIKE_ROWS)}
    found = analysis(trial(blocks(rows), practical_band_pct=2))
    assert {pair.verdict.outcome for pair in found.pairs} == {Outcome.SAME}
    for pair in found.pairs:
        assert max(abs(pair.interval_g.low), abs(pair.interval_g.high)) < 0.02 * 250 * 1.05
    without = analysis(trial(blocks(rows)))
    assert {pair.verdict.outcome for pair in without.pairs} == {Outcome.CANNOT_TELL}


def test_a_band_too_narrow_for_any_trial():
    found = analysis(trial(of({"pad": [250, 210, 280], "steel": [251, 230, 262]}), practical_band_pct=1))
    verdict = found.against_baseline[0].verdict
    assert verdict.outcome is Outcome.CANNOT_TELL
    assert "no trial in a small room settles this" in verdict.words


def test_more_trays_do_tell():
    """The number named is about right: as many trays of the same kind see the difference four times in five."""
    draw = np.random.default_rng(3)
    few = analysis(trial(of({"pad": [250, 262, 238], "steel": [270, 282, 258]})))
    pair = few.against_baseline[0]
    assert pair.verdict.outcome is Outcome.CANNOT_TELL
    trays = 3 + (pair.verdict.more_trays_per_medium or 0)
    told = 0
    for _ in range(60):
        groups = {"pad": list(draw.normal(250, 12, trays)), "steel": list(draw.normal(270, 12, trays))}
        told += analysis(trial(of(groups))).against_baseline[0].interval_g.low > 0
    assert 0.6 < told / 60 < 0.97


def test_spreads_that_differ_are_judged_each_by_its_own():
    groups = {"pad": [250, 251, 249, 250.5, 249.5, 250], "steel": [250, 310, 190, 290, 220, 260]}
    found = analysis(trial(of(groups)))
    assert (found.pairs_method, found.baseline_method) == ("Games-Howell", "Games-Howell")
    pair, against = found.pairs[0], found.against_baseline[0]
    assert (against.medium, against.other) == ("steel", "pad")
    assert against.difference_g == pytest.approx(-pair.difference_g)
    assert (against.interval_g.low, against.interval_g.high) == pytest.approx(
        (-pair.interval_g.high, -pair.interval_g.low)
    )


def test_without_the_baseline_the_others_are_still_compared():
    found = analysis(trial(of({"steel": [250, 240, 260], "silicone": [200, 210, 190]})))
    assert found.against_baseline == () and found.money == ()
    assert "baseline" in found.reasons["against_baseline"]
    assert found.pairs[0].verdict.outcome is Outcome.BETTER


# ---- what counts and what feeds the comparison


def test_what_is_left_out_changes_nothing_but_its_line():
    trays = blocks(FOUR_SHELVES)
    before = analysis(trial([dict(tray) for tray in trays]))
    extra = [
        {"tray": "g", "medium": "pad", "harvest_g": 999, "block": "a", "guard": True},
        {"tray": "x", "medium": "steel", "harvest_g": 3, "block": "b", "discard": True, "note": "Dropped."},
        {"tray": "n", "medium": "steel", "block": "b"},
    ]
    after = analysis(trial([*(dict(tray) for tray in trays), *extra]))
    reasons = {each.tray: each.reason for each in after.left_out}
    assert reasons == {"g": "guard tray, grown and not compared", "x": "discarded: Dropped.", "n": "not weighed"}
    for name in before.__slots__:
        if name != "left_out":
            assert getattr(before, name) == getattr(after, name), name


def test_a_failed_tray_counts_as_failed_and_not_as_weighed():
    trays = [*blocks(FOUR_SHELVES), {"tray": "f", "medium": "steel", "harvest_g": 20, "block": "b", "failed": True}]
    found = analysis(trial(trays))
    steel = next(each for each in found.failed if each.medium == "steel")
    assert (steel.failed, steel.trays, steel.failed_share) == (1, 5, 0.02)
    assert steel.fits and "1 of 5 trays failed" in steel.words
    assert found.media == analysis(trial(blocks(FOUR_SHELVES))).media


def test_a_discarded_or_guard_tray_is_no_failed_one():
    trays = blocks(FOUR_SHELVES)
    trays += [
        {
            "tray": "d",
            "medium": "steel",
            "block": "a",
            "failed": True,
            "discard": True,
            "note": "Tap left open over it.",
        },
        {"tray": "g", "medium": "steel", "block": "a", "failed": True, "guard": True},
    ]
    steel = next(each for each in analysis(trial(trays)).failed if each.medium == "steel")
    assert (steel.failed, steel.trays) == (0, 4)


def test_a_failed_share_that_does_not_fit_is_said():
    trays = of({"pad": [250, 260, 240], "steel": [250, 240]})
    trays += [{"medium": "steel", "failed": True} for _ in range(6)]
    steel = analysis(trial(trays)).failed[1]
    assert not steel.fits and steel.words.endswith("the answer uses 2 %, which does not fit.")


def test_from_blocks_the_comparison_takes_the_adjusted_mean():
    rows = {"rich": [300.0, 310, None], "poor": [200.0, 210, 220], "mean": [250.0, 262, 270]}
    used = room(trial(blocks(rows)))
    adjusted = adjusted_means(used, "radish")
    assert adjusted["silicone"] == pytest.approx(full_table(used)["silicone"])
    assert abs(adjusted["silicone"] - 245) > 15
    for medium in compare(used).media:
        kept = (1 - 0.02) * (1 - 0.10)
        assert medium.yield_kg_per_tray == pytest.approx(adjusted[medium.id] / 1000 * kept)
    assert measured_words(used)["silicone", "radish"].startswith("269.8 g, adjusted mean over 3 blocks")


def test_from_one_trial_without_blocks_it_takes_the_plain_mean():
    used = room(trial(of({"pad": [250, 260], "steel": [240, 250, 270], "silicone": [200]})))
    assert measured_words(used)["steel", "radish"] == "253.3 g, mean of 3 weighed trays: 240 g, 250 g, 270 g"


def full_table(used: Scenario) -> dict[str, float]:
    return adjusted_means_of(used.model_dump(exclude_none=True), "radish")


tray_rows = st.lists(
    st.tuples(st.sampled_from(MEDIA), st.sampled_from(["", "top", "low"]), st.integers(100, 400)),
    min_size=2,
    max_size=14,
)


@settings(max_examples=60, deadline=None)
@given(st.lists(tray_rows, min_size=1, max_size=2))
def test_weights_of_any_trials_as_by_brute_force(drawn):
    trials = [
        trial([{"medium": m, "block": b, "harvest_g": g} for m, b, g in rows], id=f"t{at}")
        for at, rows in enumerate(drawn)
    ]
    used = room(*trials)
    try:
        found = adjusted_means(used, "radish")
    except InputFaults as wrong:
        assert "were never tried together" in str(wrong)
        assume(False)
    assert found == pytest.approx(full_table(used), rel=1e-9)


def test_several_trials_are_pooled_with_the_trial_as_a_block():
    spring = trial(of({"pad": [250, 260, 240], "steel": [262, 270, 250]}), id="spring", practical_band_pct=4)
    autumn = trial(of({"pad": [200, 210, 190], "silicone": [182, 190, 171]}), id="autumn", practical_band_pct=6)
    unused = trial(of({"pad": [1.0, 2], "steel": [900.0, 910]}), id="slip", use=False)
    crop = trials_answer(room(spring, autumn, unused)).crops[0]
    assert crop.pooled is not None
    assert (crop.pooled.trials, crop.pooled.blocks) == (("spring", "autumn"), 2)
    assert crop.pooled.practical_band_pct == 4
    gap = next(each for each in crop.pooled.pairs if (each.medium, each.other) == ("steel", "silicone"))
    assert gap.difference_g == pytest.approx(260.6667 - 250 + 200 - 181, abs=1e-3)
    assert [each.used for each in crop.trials] == [True, True, False]
    assert crop.harvest_g["pad"] == pytest.approx(225)


def test_trials_that_contradict_each_other_are_pointed_out():
    one = trial(of({"pad": [250, 252, 248], "steel": [280, 282, 278]}), id="one")
    other = trial(of({"pad": [250, 252, 248], "steel": [220, 222, 218]}), id="other")
    pooled = trials_answer(room(one, other)).crops[0].pooled
    assert pooled is not None
    assert any("differ otherwise from trial to trial" in each for each in pooled.assumptions)


def test_one_crop_is_never_carried_to_another():
    crops = trials_answer(scenario("two_crop_room")).crops
    assert [crop.crop for crop in crops] == ["broccoli"]


# ---- properties of the whole way


@settings(max_examples=20, deadline=None)
@given(st.integers(-90, 300), st.sampled_from("abcd"))
def test_a_constant_added_to_a_block_changes_no_difference(constant, which):
    rows = {name: [each + constant * (name == which) for each in row] for name, row in FOUR_SHELVES.items()}
    before, after = analysis(trial(blocks(FOUR_SHELVES))), analysis(trial(blocks(rows)))
    for old, new in zip(before.pairs, after.pairs, strict=True):
        assert (new.difference_g, new.p) == pytest.approx((old.difference_g, old.p), abs=1e-8)
        assert (new.interval_g.low, new.interval_g.high) == pytest.approx((old.interval_g.low, old.interval_g.high))


@settings(max_examples=10, deadline=None)
@given(st.sampled_from([0.1, 1 / 28.349523125, 2.5]))
def test_units_change_no_chance_and_no_verdict(factor):
    rows = {name: [each * factor for each in row] for name, row in FOUR_SHELVES.items()}
    before, after = analysis(trial(blocks(FOUR_SHELVES))), analysis(trial(blocks(rows)))
    assert after.overall.p == pytest.approx(before.overall.p)
    for old, new in zip(before.pairs, after.pairs, strict=True):
        assert new.p == pytest.approx(old.p, rel=1e-6)
        assert new.verdict.outcome is old.verdict.outcome
        assert new.verdict.more_trays_per_medium == old.verdict.more_trays_per_medium


def test_in_a_balanced_trial_adjusted_and_plain_means_agree():
    for medium in analysis(trial(blocks(FOUR_SHELVES))).media:
        assert medium.adjusted_mean_g == pytest.approx(medium.mean_g, rel=1e-12)


def test_the_order_of_the_record_changes_no_figure():
    trays = blocks(FOUR_SHELVES)
    before, after = (
        analysis(trial([dict(each) for each in trays])),
        analysis(trial([dict(each) for each in trays[::-1]])),
    )
    for old, new in zip(before.pairs, after.pairs, strict=True):
        assert new.difference_g == pytest.approx(old.difference_g)
        assert new.p == pytest.approx(old.p)


# ---- per seed, per area, money


def test_harvest_per_seed_and_area():
    pad = analysis(trial(blocks(FOUR_SHELVES), seed_g=40)).media[0]
    assert pad.harvest_per_seed == pytest.approx(249.5 / 40)
    assert pad.harvest_kg_per_m2 == pytest.approx(0.2495 / (0.51 * 0.25))
    assert analysis(trial(blocks(FOUR_SHELVES))).media[0].harvest_per_seed == pytest.approx(249.5 / 38)


def test_money_is_the_comparison_s_own():
    used = room(trial(blocks(FOUR_SHELVES)))
    answer = {medium.id: medium.margin_per_tray for medium in compare(used).media}
    money = {each.medium: each for each in trials_answer(used).crops[0].trials[0].analysis.money}
    assert set(money) == {"steel", "silicone"}
    for medium, each in money.items():
        assert each.margin_difference_per_tray == pytest.approx(answer[medium] - answer["pad"])
        assert each.interval.low < each.margin_difference_per_tray < each.interval.high


def test_money_s_interval_is_the_harvest_s_at_what_a_gram_earns():
    """With like margins per gram the interval is the weights' own, times that margin; costs only shift it."""
    used = room(trial(blocks(FOUR_SHELVES)))
    found = trials_answer(used).crops[0].trials[0].analysis
    margin = margin_at(evaluate(used), "steel", "radish")
    a_gram = margin(251.0) - margin(250.0)
    width = found.against_baseline[0].interval_g.high - found.against_baseline[0].interval_g.low
    assert found.money[0].interval.high - found.money[0].interval.low == pytest.approx(width * a_gram)


def test_margin_is_a_straight_line():
    margin = margin_at(evaluate(scenario("small_room")), "steel", "radish")
    assert margin(300.0) - margin(200.0) == pytest.approx(margin(200.0) - margin(100.0))
    assert margin_at(evaluate(scenario("small_room")), "steel", "elsewhere") is None


# ---- slips, cycles, warnings


def test_swapped_neighbours_are_named():
    rows = {str(at): [200.0 + at, 260 + 2 * at % 3, 230 - at % 2] for at in range(6)}
    rows["3"][0], rows["3"][1] = rows["3"][1], rows["3"][0]
    found = analysis(trial(blocks(rows)))
    assert [each.kind for each in found.suspects] == ["swapped"]
    assert found.suspects[0].trays == (("t", "10"), ("t", "11"))
    assert "nothing was changed" in found.suspects[0].words


def test_positions_say_who_stood_side_by_side():
    rows = {str(at): [200.0 + at, 260 + 2 * at % 3, 230 - at % 2] for at in range(6)}
    rows["3"][0], rows["3"][1] = rows["3"][1], rows["3"][0]
    trays = blocks(rows)
    for at, tray in enumerate(trays):
        tray["position"] = (1, 3, 2)[at % 3]
    assert [each.kind for each in analysis(trial(trays)).suspects] != ["swapped"]


def test_a_guard_between_them_keeps_two_trays_apart():
    rows = {str(at): [200.0 + at, 260 + 2 * at % 3, 230 - at % 2] for at in range(6)}
    rows["3"][0], rows["3"][1] = rows["3"][1], rows["3"][0]
    trays = blocks(rows)
    for at, tray in enumerate(trays):
        tray["position"] = (1, 3, 5)[at % 3]
    assert [each.kind for each in analysis(trial(trays)).suspects] != ["swapped"]


def test_the_tray_that_stands_out_is_named():
    trays = of({"pad": [250, 252, 248, 251, 249, 330], "steel": [240, 242, 238, 241, 239, 240]})
    found = analysis(trial(trays))
    assert [(each.kind, each.trays) for each in found.suspects] == [("stands out", (("t", "6"),))]


def test_weight_against_cycle():
    trays = blocks({str(at): [250.0 + 5 * at, 260.0 + 5 * at - 0.5 * at * at] for at in range(6)}, ("pad", "steel"))
    for at, tray in enumerate(trays):
        if tray["medium"] == "steel":
            tray["cycle"] = 3 * (at // 2) ** 2
    (slope,) = analysis(trial(trays)).cycles
    assert (slope.medium, slope.trays, slope.lowest_cycle, slope.highest_cycle) == ("steel", 6, 0, 75)
    assert slope.grams_per_cycle == pytest.approx(-0.5 / 3)
    assert slope.interval.high < 0


@pytest.mark.parametrize(
    ("cycles", "said"),
    [((0, 0, 0), "was tried only new"), ((None, None, None), "not recorded"), ((0, 12, 5), None)],
)
def test_a_reusable_tried_only_new(cycles, said):
    trays = of({"pad": [250, 260, 240], "steel": [262, 270, 250]})
    for tray, cycle in zip(trays[3:], cycles, strict=True):
        if cycle is not None:
            tray["cycle"] = cycle
    lines = [each for each in analysis(trial(trays)).warnings if each.startswith("Steel")]
    assert [said in each for each in lines] == ([True] if said else [])


def test_states_that_are_not_alike():
    trays = of({"pad": [250, 260, 240], "steel": [262, 270, 250]})
    trays[0]["state"] = "misted"
    assert any("weighed misted and dry" in each for each in analysis(trial(trays)).warnings)


# ---- bad input: one clear line each


def why_not(*trials: dict[str, Any]) -> str:
    found = analysis(*trials)
    assert not found.usable
    assert (found.pairs, found.against_baseline, found.overall, found.residual_sd_g) == ((), (), None, None)
    assert "\n" not in found.why_not_usable
    return found.why_not_usable


def test_one_tray_only():
    assert why_not(trial(of({"pad": [250]}))) == "only one tray was weighed: nothing to set it against, and no spread"


def test_no_tray():
    assert why_not(trial([])) == "no tray was weighed that counts"


def test_one_medium_only():
    assert why_not(trial(of({"pad": [250, 260]}))).startswith("only pad was weighed")


def test_all_equal_weights():
    assert why_not(trial(blocks({"a": [250.0] * 3, "b": [250.0] * 3}))).startswith("all 6 trays weigh the same")


def test_like_trays_exactly_alike():
    assert why_not(trial(of({"pad": [250.0] * 3, "steel": [240.0] * 3}))).startswith(
        "like trays weigh exactly the same"
    )


def test_a_spread_of_rounding_is_no_spread():
    rows = {name: [base + 0.1, base + 0.3, base + 0.7] for name, base in (("a", 0.1), ("b", 0.2), ("c", 0.4))}
    assert why_not(trial(blocks(rows))).startswith("like trays weigh exactly the same")


def test_nothing_harvested():
    found = analysis(trial(of({"pad": [0, 0, 0], "steel": [240, 250, 262]})))
    pad = found.media[0]
    assert (pad.mean_g, pad.cv_pct) == (0, None)
    assert found.reasons["media.pad.cv_pct"].startswith("the mean is nothing")
    assert found.against_baseline[0].difference_pct is None
    json.dumps(
        trials_json(trials_answer(room(trial(of({"pad": [0, 0, 0], "steel": [240, 250, 262]}))))), allow_nan=False
    )


def test_one_tray_of_each():
    assert why_not(trial(of({"pad": [250], "steel": [240]}))).startswith("2 trays for 2 media in 1 block leave nothing")


def test_a_medium_in_no_block_with_others_is_refused_by_name():
    trays = [*blocks({"a": [250.0, 240], "b": [260.0, 249]}, ("pad", "steel")), *of({"silicone": [200, 210]})]
    with pytest.raises(InputFaults) as refused:
        compare(room(trial(trays)))
    assert str(refused.value) == (
        "trials: (pad, steel) and (silicone) were never tried together on radish, not even through others; expected a "
        "trial, or a block of one, that holds both; or use = false on one of the trials"
    )
    with pytest.raises(InputFaults, match="never tried together"):
        trials_answer(room(trial(trays)))
    kept = analysis(trial([dict(each) for each in trays], use=False))
    assert kept.why_not_usable == "(pad, steel) and (silicone) share no block, not even through other media"


def test_words_of_measured_weights_survive_media_apart():
    trays = [*blocks({"a": [250.0, 240]}, ("pad", "steel")), *of({"silicone": [200, 210]})]
    assert measured_words(room(trial(trays))) == {}


def test_a_missing_block_is_said():
    trays = blocks(FOUR_SHELVES)
    trays[4]["block"] = ""
    lines = analysis(trial(trays)).warnings
    assert "t: the block is missing on tray 5; trays without one are taken as a block of their own." in lines


def test_a_block_that_lacks_a_medium_is_said():
    lines = analysis(trial(blocks({**FOUR_SHELVES, "e": [240.0, None, 210]}))).warnings
    assert "t: Steel mesh has no tray that counts in e; the adjusted means allow for it." in lines


def test_ten_thousand_trays():
    draw = np.random.default_rng(1)
    rows = {str(at): list(draw.normal(250, 20, 4).round(1)) for at in range(2500)}
    media = ("pad", "steel", "silicone", "steel")
    found = analysis(trial(blocks(rows, media)))
    assert (found.trays, found.blocks, found.usable) == (10_000, 2_500, True)
    assert found.residual_df == 10_000 - 3 - 2_500 + 1
    assert found.residual_sd_g == pytest.approx(20, abs=1)


# ---- JSON


def test_json_holds_every_key_and_no_number_that_json_has_not():
    answers = [room(trial(blocks(FOUR_SHELVES))), room(trial(of({"pad": [250]}))), scenario("two_crop_room")]
    shapes = []
    for used in answers:
        data = json.loads(json.dumps(trials_json(trials_answer(used)), allow_nan=False))
        assert set(data) == {"baseline", "crops"}
        first = data["crops"][0]["trials"][0]
        shapes.append((set(first), set(first["media"][0]), set(first["overall"]), set(first["residual"])))
        for media in first["media"]:
            for name, value in media.items():
                assert value is not None or f"media.{media['id']}.{name}" in first["reasons"]
    assert shapes[0] == shapes[1] == shapes[2]


def test_json_of_a_document_without_trials():
    assert trials_json(trials_answer(scenario("small_room"))) == {"baseline": "pad", "crops": []}


# ---- the sample


def test_the_blocked_sample_says_what_its_head_claims():
    found = trials_answer(scenario("blocked_trial")).crops[0].trials[0].analysis
    steel, silicone = found.against_baseline
    assert steel.verdict.outcome is Outcome.CANNOT_TELL
    assert steel.verdict.more_trays_per_medium == 11
    assert silicone.verdict.outcome is Outcome.WORSE
    assert found.trays == 11 and found.blocks == 4 and found.usable
    assert len([each for each in found.left_out if "guard" in each.reason]) == 8
    plain = next(each for each in found.media if each.id == "silicone")
    assert plain.adjusted_mean_g < plain.mean_g - 4
    seen = max(each.smallest_seen_g for each in found.against_baseline)
    assert 1 / 8 < seen / 240 < 1 / 6
    assert -0.2 > silicone.interval_g.low / 250 > -0.25
    assert not found.suspects


def test_pairs_come_in_the_order_of_the_file():
    found = analysis(trial(blocks(FOUR_SHELVES)))
    assert [(each.medium, each.other) for each in found.pairs] == list(combinations(MEDIA, 2))
