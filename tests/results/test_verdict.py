"""The verdict in words: medium, measure, amount, doubt, in that order; nothing stated as settled that is not."""

from __future__ import annotations

import pytest

from mediacost.results import compare
from mediacost.results.answers import Comparison, Doubt
from mediacost.results.verdict import doubt_words, pays_words, verdict
from tests.results.samples import comparison, odd_scenarios, scenario

NO = [{"what": "Allowed under our certificate", "met": "no"}]


def with_twin_of_the_pad() -> Comparison:
    """The small room with a second pad, the same in all but its name, ahead of the first."""
    document = scenario("small_room").model_dump(exclude_unset=True)
    twin = {**document["media"][0], "id": "twin", "name": "Twin pad"}
    return comparison(
        "small_room",
        (("media",), [twin, document["media"][0], document["media"][2]]),
        (("pairs",), [document["pairs"][0], {**document["pairs"][0], "medium": "twin"}, document["pairs"][2]]),
    )


def in_order(text: str, *parts: str) -> bool:
    at = -1
    for part in parts:
        at = text.find(part, at + 1)
        if at < 0:
            return False
    return True


@pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])
def test_medium_measure_amount_doubt(name):
    answer = comparison(name)
    best = answer.medium(answer.best or "")
    text = verdict(answer).paragraphs[0]
    assert text.startswith(best.name)
    assert in_order(text, best.name, " comes out best on ", answer.currency, "How sure this is has not been worked out")


@pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])
def test_the_amount_is_the_answers(name):
    from mediacost.results.measures import MEASURES

    answer = comparison(name)
    measure = MEASURES[answer.limit]
    value, base = measure.of(answer.medium(answer.best or "")), measure.of(answer.medium(answer.baseline))
    decimals = 3 if abs(value) < 1 else 2
    assert f"{value:.{decimals}f}" in verdict(answer).sentence
    assert f"{abs(value - base):.{decimals}f}" in verdict(answer).sentence


def test_a_small_difference_is_called_small_and_settles_nothing():
    doubt = verdict(comparison("small_room")).doubt
    assert "small difference" in doubt and "settles nothing" in doubt
    assert "what a tray sells for" in doubt


def test_a_large_difference_is_not_called_small():
    dear = comparison("small_room", (("media", 0, "pack_price"), 900), (("media", 2, "pack_price"), 3000))
    assert "small difference" not in verdict(dear).doubt
    assert "has not been worked out" in verdict(dear).doubt


def test_level_media_are_named_together():
    said = verdict(with_twin_of_the_pad())
    assert said.sentence.startswith("Twin pad and Fibre pad, your medium today, come out level on cost per kilogram: ")
    assert "comes out best" not in said.sentence
    assert "Nothing that was given tells them apart." in said.doubt


def test_a_difference_below_the_last_decimal_is_not_shown_as_nothing():
    close = scenario("small_room", (("media", 0, "conditions"), NO))
    grams = close.pairs[2].mean_g
    assert isinstance(grams, float)
    document = close.model_dump(exclude_unset=True)
    twin = {**document["media"][2], "id": "twin", "name": "Twin"}
    answer = comparison(
        "small_room",
        (("baseline",), "twin"),
        (("media",), [document["media"][2], twin]),
        (("pairs",), [document["pairs"][2], {**document["pairs"][2], "medium": "twin", "mean_g": grams * (1 - 1e-6)}]),
    )
    assert "under 0.01 EUR/kg" in verdict(answer).sentence


def test_the_medium_in_use_today_may_be_best():
    answer = comparison("small_room", (("room", "limit"), "labour"))
    said = verdict(answer)
    assert said.sentence.startswith("Fibre pad, your medium today, comes out best on the return to an hour of labour")
    assert "Steel mesh, the next, gives " in said.sentence and said.sentence.endswith(" less.")
    assert said.money == ""


def test_costs_are_said_to_cost():
    answer = comparison("small_room", (("pairs", 1, "mean_g"), 200))
    assert "the next, costs " in verdict(answer).sentence


def test_nobody_ranked():
    answer = comparison("small_room", *[(("media", at, "conditions"), NO) for at in range(3)])
    said = verdict(answer)
    assert said.sentence.startswith("No medium can be ranked on cost per kilogram")
    assert said.money == ""
    assert len(said.conditions) == 3


def test_nothing_saleable_today():
    answer = comparison("small_room", (("room", "limit"), "labour"), (("pairs", 0, "mean_g"), 0))
    assert "comes out best" in verdict(answer).sentence
    nothing = comparison("small_room", (("pairs", 0, "mean_g"), 0))
    assert nothing.best is None
    assert "No medium can be ranked" in verdict(nothing).sentence


def test_a_loss_is_said():
    answer = comparison("small_room", (("crops", 0, "sell_price_per_kg"), 15))
    assert "loses money: a tray costs " in verdict(answer).money


def test_outlay_and_payback_are_said():
    money = verdict(comparison("small_room")).money
    assert money.startswith("Steel mesh takes 1 190 EUR at the start; counted same harvest, the money is back after ")
    short = verdict(comparison("small_room", (("room", "horizon_months"), 9))).money
    assert short.endswith("the money is not back at the end of the 9 months looked at.")


def test_falling_behind_in_money_is_said():
    money = verdict(comparison("owned_silicone")).money
    assert money.startswith("In money Paper sheet falls behind: ")


def test_single_crops_that_differ_are_named():
    assert verdict(comparison("two_crop_room")).crops.startswith("Crop by crop it is not the same. First comes: ")
    assert verdict(comparison("small_room")).crops == ""


def test_another_limit_that_turns_the_answer_is_named():
    measure = verdict(comparison("small_room")).measure
    assert measure.startswith("This measure is used because the market is what stops you selling more.")
    assert "If it were labour, Fibre pad would come out best." in measure


def test_conditions_stand_beside_the_verdict_those_of_the_best_first():
    answer = comparison("small_room", (("media", 0, "conditions"), [{"what": "Asked", "met": "unknown"}]))
    assert verdict(answer).conditions == (
        "Steel mesh: 'Allowed under our certificate' is not known yet. Find out before you buy.",
        "Fibre pad: 'Asked' is not known yet. Find out: it is what you use today.",
    )


def test_ruled_out_is_said():
    answer = comparison("small_room", (("media", 1, "conditions"), NO))
    assert "Steel mesh is not ranked: 'Allowed under our certificate' is answered no." in verdict(answer).conditions


@pytest.mark.parametrize(
    ("doubt", "says"),
    [
        (Doubt(0, 0, 2, 0), "no input is a range, and no harvest weight says how many trays it rests on."),
        (Doubt(1, 1, 0, 1), "1 input is a range, and the harvest weights rest on 1 weighed tray in all."),
        (Doubt(5, 24, 1, 24), "rest on 24 weighed trays in all (1 weight on no count at all)."),
        (Doubt(5, 24, 0, 6), "rest on 24 weighed trays in all, as few as 6 for one medium on one crop."),
        (Doubt(5, 24, 2, 24), "(2 weights on no count at all)."),
    ],
)
def test_doubt_counts_what_it_rests_on(doubt, says):
    assert doubt_words(doubt).endswith(says)


def test_payback_in_a_few_words():
    small = comparison("small_room")
    assert pays_words(small.medium("steel"), "same_harvest").startswith("after ")
    assert pays_words(small.medium("silicone"), "same_harvest").startswith("never: ")
    assert pays_words(comparison("two_crop_room").medium("mat"), "per_tray") == "from the start"


@pytest.mark.parametrize("name", sorted(odd_scenarios()))
def test_every_sentence_is_whole(name):
    for text in verdict(compare(odd_scenarios()[name])).paragraphs:
        assert text[0].isupper() and text.endswith(".")
        assert "  " not in text and "nan" not in text.lower().split() and ".." not in text


def test_a_longer_stay_is_said_where_shelf_space_is_short():
    said = " ".join(verdict(comparison("two_crop_room")).conditions)
    assert "Trays on Steel mesh stand 0.44 days longer than on Loose coir: a full shelf holds fewer of them." in said
    assert "Trays on Silicone stand" not in said
    assert "stand" not in " ".join(verdict(comparison("small_room")).conditions)


def test_too_few_places_under_lights_are_said():
    crowded = " ".join(verdict(comparison("small_room", (("room", "shelf_trays"), 20))).conditions)
    assert "Steel mesh keeps about 34 places under lights in use in a usual week, and there are 20." in crowded
    assert "places under lights" not in " ".join(
        verdict(comparison("small_room", (("room", "shelf_trays"), 40))).conditions
    )
