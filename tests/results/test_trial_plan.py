"""A trial before it is sown."""

from __future__ import annotations

import pytest

from mediacost.errors import InputFaults
from mediacost.results.trial_plan import USUAL_CV_PCT, plan_trial
from mediacost.results.trials import trials_answer
from mediacost.scenario import check, set_value
from tests.results.samples import scenario

SHELVES = ["top", "second", "third", "low"]


def plan(*, name="small_room", crop="radish", media=("pad", "steel", "silicone"), blocks=SHELVES, seed=5, **more):
    return plan_trial(scenario(name), crop, media, blocks, seed, **more)


def test_every_tray_has_a_place_and_guards_lie_on_today_s_medium():
    made = plan()
    assert len(made.trays) == 4 * 5
    assert [each.tray for each in made.trays] == [str(number) for number in range(1, 21)]
    for block in SHELVES:
        row = [each for each in made.trays if each.block == block]
        assert [each.guard for each in row] == [True, False, False, False, True]
        assert {each.medium for each in row if not each.guard} == {"pad", "steel", "silicone"}
        assert {each.medium for each in row if each.guard} == {"pad"}


def test_the_seed_decides():
    assert plan().trays == plan().trays
    assert plan().trays != plan(seed=6).trays


def test_a_plan_filled_in_is_a_trial():
    made = plan()
    records = made.records
    for at, record in enumerate(records):
        if not record.get("guard"):
            record["harvest_g"] = 240 + 7 * at % 13 + 10 * (record["medium"] == "steel")
    base = scenario("small_room").model_dump(mode="json", exclude_unset=True)
    checked = check(set_value(base, ("trials",), [{"id": "t", "crop": "radish", "trays": records}]))
    assert checked.scenario is not None, checked.faults
    found = trials_answer(checked.scenario).crops[0].trials[0].analysis
    assert (found.trays, found.blocks, found.usable) == (12, 4, True)


def test_what_it_takes_and_what_it_sees():
    made = plan(media=("pad", "steel"), cv_pct=8, difference_pct=10)
    assert made.trays_needed == 13
    assert made.smallest_seen_pct == pytest.approx(24, abs=0.5)
    assert made.said[-1] == "To see 10 % takes 13 trays of each medium, 9 more than planned."
    enough = plan(media=("pad", "steel"), cv_pct=8, difference_pct=30)
    assert enough.said[-1].endswith("this plan has enough.")


def test_it_says_at_once_when_no_trial_can_settle_it():
    made = plan(media=("pad", "steel"), cv_pct=8, difference_pct=2)
    assert made.trays_needed is not None and made.trays_needed > 200
    assert "no trial in a small room settles this" in made.said[-1]
    assert plan(cv_pct=50, difference_pct=0.5).trays_needed is None


def test_the_spread_is_measured_where_there_is_a_trial():
    measured = plan(name="blocked_trial", crop="red_cabbage", media=("mat", "steel"))
    assert measured.cv_pct == pytest.approx(4.3, abs=0.1)
    assert measured.cv_from == "as measured in the trials of this crop"
    assert plan().cv_pct == USUAL_CV_PCT


def test_one_block_sees_nothing():
    made = plan(blocks=["top"])
    assert made.smallest_seen_pct is None
    assert any("tells nothing of chance" in each for each in made.said)
    assert plan(blocks=["top"], repeats=3).smallest_seen_pct is not None


@pytest.mark.parametrize(
    ("wrong", "line"),
    [
        ({"crop": "kale"}, "crop: there is no crop kale; expected one of radish"),
        ({"media": ("pad", "straw")}, "media: there is no medium straw; expected some of pad, steel, silicone"),
        ({"media": ("pad",)}, "media: are too few or named twice; expected two different media or more"),
        (
            {"blocks": ["a", "a"]},
            "blocks: are none, named twice or without a name; expected a name of its own for each block",
        ),
        ({"seed": -1}, "seed: -1 is too small; expected a whole number of 0 or more"),
        (
            {"difference_pct": 0},
            "difference_pct: 0 is no difference to look for; expected per cent, above 0 and at most 100",
        ),
    ],
)
def test_plans_that_cannot_be(wrong, line):
    with pytest.raises(InputFaults) as refused:
        plan(**wrong)
    assert str(refused.value) == line
