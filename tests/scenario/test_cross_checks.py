"""What must fit together in a scenario: every rule on a file that breaks it, and nothing else."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from mediacost.scenario import check, insert_item, set_value
from tests.scenario.sample import fault_lines, sample_data, warning_lines, with_value, without

RANGE = {"low": 100, "likely": 300, "high": 520}

BROKEN: dict[str, tuple[dict[str, Any], str]] = {
    "baseline": (
        with_value((("baseline",), "felt")),
        "F: baseline: there is no medium felt; expected the id of a medium: paper, steel",
    ),
    "wash": (
        with_value((("media", 1, "wash"), "slow")),
        "F: media[steel].wash: there is no wash routine slow; expected the id of a wash routine: quick",
    ),
    "pair medium": (
        with_value((("pairs", 0, "medium"), "felt"), (("pairs", 0, "trays"), 6)),
        "F: pairs[felt, radish].medium: there is no medium felt; expected the id of a medium: paper, steel",
    ),
    "trial crop": (
        insert_item(sample_data(), ("trials",), None, {"id": "two", "crop": "cress"}),
        "F: trials[two].crop: there is no crop cress; expected the id of a crop: radish, pea",
    ),
    "trial tray medium": (
        with_value((("trials", 0, "trays", 4, "medium"), "felt")),
        'F: trials[spring].trays["5"].medium: there is no medium felt; expected the id of a medium: paper, steel',
    ),
    "check tray": (
        with_value((("trials", 0, "checks", 0, "tray"), "9")),
        'F: trials[spring].checks[1].tray: there is no tray "9" in this trial; expected the label of one of its trays',
    ),
    "duplicate tray": (
        with_value((("trials", 0, "trays", 4, "tray"), "4")),
        'F: trials[spring].trays[5].tray: "4" is taken by trays[4]; expected a name of its own',
    ),
    "duplicate crop": (
        insert_item(sample_data(), ("crops",), None, {**sample_data()["crops"][1], "sowing": {}}),
        "F: crops[3].id: pea is taken by crops[2]; expected a name of its own",
    ),
    "duplicate medium": (
        insert_item(sample_data(), ("media",), None, sample_data()["media"][1]),
        "F: media[3].id: steel is taken by media[2]; expected a name of its own",
    ),
    "duplicate wash": (
        insert_item(sample_data(), ("washes",), None, sample_data()["washes"][0]),
        "F: washes[2].id: quick is taken by washes[1]; expected a name of its own",
    ),
    "duplicate trial": (
        insert_item(sample_data(), ("trials",), None, {"id": "spring", "crop": "pea"}),
        "F: trials[2].id: spring is taken by trials[1]; expected a name of its own",
    ),
    "duplicate pair": (
        insert_item(sample_data(), ("pairs",), None, sample_data()["pairs"][1]),
        "F: pairs[4]: paper, pea stands in pairs[2] already; expected each pair once",
    ),
    "yield without a pair": (
        without(("pairs", 1)),
        "F: pairs[paper, pea].mean_g: is missing; expected the harvest weight in grams, or a used trial "
        "with a "
        "weighed tray of this medium on this crop",
    ),
    "yield in a pair without mean": (
        without(("pairs", 2, "mean_g")),
        "F: pairs[steel, pea].mean_g: is missing; expected the harvest weight in grams, or a used trial "
        "with a "
        "weighed tray of this medium on this crop",
    ),
    "yield of a trial that is set aside": (
        with_value((("trials", 0, "use"), False)),
        "F: pairs[steel, radish].mean_g: is missing; expected the harvest weight in grams, or a used "
        "trial with a "
        "weighed tray of this medium on this crop",
    ),
    "single use with a life": (
        with_value((("media", 0, "life_cycles"), 20)),
        'F: media[paper].life_cycles: belongs to reusable media; expected no such key with use = "single-use"',
    ),
    "single use with a loss": (
        with_value((("media", 0, "loss_per_cycle"), 0)),
        'F: media[paper].loss_per_cycle: belongs to reusable media; expected no such key with use = "single-use"',
    ),
    "single use with a wash": (
        with_value((("media", 0, "wash"), "quick")),
        'F: media[paper].wash: belongs to reusable media; expected no such key with use = "single-use"',
    ),
    "single use with drying": (
        with_value((("media", 0, "dry_days"), 1)),
        'F: media[paper].dry_days: belongs to reusable media; expected no such key with use = "single-use"',
    ),
    "single use with sheets": (
        with_value((("media", 0, "owned_sheets"), 0)),
        'F: media[paper].owned_sheets: belongs to reusable media; expected no such key with use = "single-use"',
    ),
    "reusable without life": (
        without(("media", 1, "life_cycles")),
        "F: media[steel].life_cycles: is missing; expected how many cycles a reusable sheet serves, 1 or more",
    ),
    "reusable without wash": (
        without(("media", 1, "wash")),
        "F: media[steel].wash: is missing; expected the id of the wash routine of a reusable medium",
    ),
    "batch without size": (
        without(("washes", 0, "steps", 1, "sheets_per_batch")),
        "F: washes[quick].steps[2].sheets_per_batch: is missing beside minutes_per_batch, litres_per_batch; "
        "expected how many sheets a batch serves",
    ),
    "pieces twice": (
        with_value((("media", 0, "pieces_per_pack"), 4)),
        "F: media[paper].cut_from: is given beside pieces_per_pack; expected only one of the two",
    ),
    "pieces never": (
        without(("media", 0, "cut_from")),
        "F: media[paper].pieces_per_pack: is missing; expected pieces_per_pack, or cut_from for a roll or large sheet",
    ),
    "no piece": (
        with_value((("media", 0, "cut_from", "width_mm"), 254)),
        "F: media[paper].cut_from: gives no whole piece; expected a roll or sheet that holds a tray of 510 x 255 mm",
    ),
    "no piece at the worst corner": (
        with_value((("media", 0, "cut_from", "width_mm"), {"low": 250, "likely": 270, "high": 280})),
        "F: media[paper].cut_from: gives no whole piece at the unlucky end of the ranges; expected a "
        "roll or sheet "
        "that holds a tray of 510 x 255 mm",
    ),
    "scrap value of compost": (
        with_value((("media", 0, "scrap_value_per_kg"), 0.5)),
        'F: media[paper].scrap_value_per_kg: does not go with end_of_life = "compost"; expected '
        'end_of_life = "scrap", or no scrap value',
    ),
    "sanitiser too strong": (
        with_value((("washes", 0, "steps", 1, "sanitiser", "target_ppm"), 50000)),
        "F: washes[quick].steps[2].sanitiser.target_ppm: 50000 is not below the product's own strength, "
        "50000; "
        "expected target_ppm below stock_ppm, both in milligrams per litre",
    ),
    "sanitiser too strong at a corner": (
        with_value(
            (("washes", 0, "steps", 1, "sanitiser", "stock_ppm"), RANGE),
            (("washes", 0, "steps", 1, "sanitiser", "target_ppm"), {"low": 50, "likely": 60, "high": 101}),
        ),
        "F: washes[quick].steps[2].sanitiser.target_ppm: 101 is not below the product's own strength, 100; "
        "expected target_ppm below stock_ppm, both in milligrams per litre",
    ),
    "nothing sown": (
        with_value((("crops", 0, "sowing"), {"mon": 0}), (("crops", 1, "sowing"), {})),
        "F: crops: has not one tray sown; expected at least one tray on one weekday of one crop",
    ),
    "long blackout": (
        with_value((("crops", 0, "blackout_days"), 11)),
        "F: crops[radish].blackout_days: 11 is more than the days in the tray; expected at most days_in_tray, 10",
    ),
    "long blackout in a pair": (
        with_value((("pairs", 2, "days_in_tray"), 3)),
        "F: pairs[steel, pea].days_in_tray: 3 is less than the crop's blackout; expected at least blackout_days, 4",
    ),
    "discard without reason": (
        without(("trials", 0, "trays", 5, "note")),
        'F: trials[spring].trays["6"].note: is missing; expected the reason for the discard',
    ),
    "tare above weight": (
        with_value((("trials", 0, "trays", 0, "tare_g"), 300)),
        'F: trials[spring].trays["1"].harvest_g: 271.5 is less than the tare of 300; expected the weight '
        "with its "
        "container, or no tare",
    ),
}


def test_the_sample_has_no_fault_and_no_warning() -> None:
    checked = check(sample_data(), "F")
    assert checked.faults == ()
    assert checked.warnings == ()
    assert checked.scenario is not None


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_rule_is_said_in_one_line(name: str) -> None:
    data, line = BROKEN[name]
    assert fault_lines(data) == [line]


def test_limits_that_are_just_reached_are_legal() -> None:
    data = with_value((("crops", 0, "blackout_days"), 10), (("pairs", 2, "days_in_tray"), 4))
    data = set_value(data, ("trials", 0, "trays", 0), {"tray": "1", "medium": "paper", "block": "top"})
    data = set_value(data, ("trials", 0, "trays", 0, "harvest_g"), 5)
    data = set_value(data, ("trials", 0, "trays", 0, "tare_g"), 5)
    data = set_value(data, ("trials", 0, "trays", 1, "harvest_g"), 4012)
    data = set_value(data, ("pairs", 1, "mean_g"), 4000)
    data = set_value(data, ("trials", 0, "seed_g"), 42)
    assert fault_lines(data) == []
    assert warning_lines(data) == []


def test_a_missing_pair_is_looked_for_in_the_list_of_pairs() -> None:
    assert [fault.keys for fault in check(without(("pairs", 1))).faults] == [("pairs",)]
    assert [fault.keys for fault in check(without(("pairs", 2, "mean_g"))).faults] == [("pairs", 2, "mean_g")]


def test_a_check_is_not_blamed_for_a_tray_whose_label_cannot_be_read() -> None:
    lines = fault_lines(with_value((("trials", 0, "trays", 0, "tray"), 1)))
    assert [line.split(": ")[1] for line in lines] == ["trials[spring].trays[1].tray"]


def test_a_pair_with_an_unknown_crop_is_a_fault() -> None:
    lines = fault_lines(insert_item(sample_data(), ("pairs",), None, {"medium": "steel", "crop": "cress"}))
    assert lines == ["F: pairs[steel, cress].crop: there is no crop cress; expected the id of a crop: radish, pea"]


@pytest.mark.parametrize("count", [0, 1])
def test_two_media_are_needed(count: int) -> None:
    data = with_value((("media",), sample_data()["media"][:count]))
    assert any(line.startswith("F: media: has ") and "two or more" in line for line in fault_lines(data))


def test_one_crop_is_needed() -> None:
    assert "F: crops: has no crop; expected one or more" in fault_lines(with_value((("crops",), [])))


@pytest.mark.parametrize("mark", ["guard", "discard", "failed"])
def test_a_tray_that_does_not_count_measures_nothing(mark: str) -> None:
    data = sample_data()
    for place in (1, 2):
        data = set_value(data, ("trials", 0, "trays", place, mark), True)
        data = set_value(data, ("trials", 0, "trays", place, "note"), "why")
    assert [line.split(":")[1].strip() for line in fault_lines(data)] == ["pairs[steel, radish].mean_g"]


def test_a_tray_that_was_not_weighed_measures_nothing() -> None:
    data = without(("trials", 0, "trays", 1, "harvest_g"), ("trials", 0, "trays", 2, "harvest_g"))
    assert len(fault_lines(data)) == 1
    assert len(fault_lines(without(("trials", 0, "trays", 1, "harvest_g")))) == 0


def test_a_crop_that_is_not_sown_needs_no_harvest_weight() -> None:
    data = with_value((("crops", 1, "sowing"), {"tue": 0}), (("pairs",), []))
    assert [line.split(": ")[1] for line in fault_lines(data)] == []
    assert len(fault_lines(with_value((("pairs",), [])))) == 2


def test_a_turned_grid_counts_as_pieces() -> None:
    roll = {"length_mm": 255, "width_mm": 510}
    assert fault_lines(with_value((("media", 0, "cut_from"), roll))) == []


def test_float_dust_does_not_lose_a_piece() -> None:
    data = with_value((("tray", "width_mm"), 0.1 * 3 * 1000), (("media", 0, "cut_from", "width_mm"), 300))
    assert fault_lines(data) == []


WARNED: dict[str, tuple[dict[str, Any], str]] = {
    "days of a trial": (
        with_value((("trials", 0, "harvested"), datetime.date(2027, 3, 14))),
        "F: trials[spring].harvested: makes 12 days in the tray; expected 10, as typed at the crop or the pair",
    ),
    "dates of a trial": (
        with_value((("trials", 0, "harvested"), datetime.date(2027, 3, 2))),
        "F: trials[spring].harvested: is not after the sow date; expected a later date than sown",
    ),
    "seed of a trial": (
        with_value((("trials", 0, "seed_g"), 24)),
        "F: trials[spring].seed_g: 24 g of seed is not what the crop gets; expected about 40 g, as typed "
        "at the "
        "crop or the pair",
    ),
    "a heavy tray": (
        with_value((("trials", 0, "trays", 0, "harvest_g"), 4020)),
        'F: trials[spring].trays["1"].harvest_g: 4008 g from one tray looks too much; expected grams of '
        "greens, "
        "without the container",
    ),
    "kilograms for grams": (
        with_value((("pairs", 1, "mean_g"), 0.41)),
        "F: pairs[paper, pea].mean_g: 0.41 g from one tray looks too little; "
        "expected grams: 410 if kilograms were typed",
    ),
    "a heavy mean": (
        with_value((("pairs", 1, "mean_g"), 41000)),
        "F: pairs[paper, pea].mean_g: 41000 g from one tray looks too much; expected grams of greens, "
        "without the "
        "container",
    ),
    "a range and a spread": (
        with_value((("pairs", 2, "sd_g"), 20)),
        "F: pairs[steel, pea].sd_g: stands beside a mean that is a range; expected one of the two",
    ),
    "never side by side": (
        with_value((("trials", 0, "trays", 0, "block"), "x"), (("trials", 0, "trays", 3, "block"), "x")),
        "F: trials: paper and steel were never tried together on radish; expected a trial, or a block of "
        "one, that "
        "holds both",
    ),
    "no wash steps": (
        with_value((("washes", 0, "steps"), [])),
        "F: washes[quick].steps: is empty, so washing costs nothing; expected the steps and their minutes",
    ),
    "a dry sanitiser": (
        without(("washes", 0, "steps", 1, "litres_per_batch")),
        "F: washes[quick].steps[2].sanitiser: costs nothing, because this step uses no water; expected "
        "litres per "
        "sheet, batch or wash day",
    ),
}


@pytest.mark.parametrize("name", WARNED)
def test_what_looks_wrong_is_warned_of_and_stays_legal(name: str) -> None:
    data, line = WARNED[name]
    assert warning_lines(data) == [line]
    assert check(data).scenario is not None


def test_dates_and_seed_may_be_those_of_a_pair() -> None:
    pair = {"medium": "steel", "crop": "radish", "days_in_tray": 12, "seed_g_per_tray": 30}
    data = insert_item(sample_data(), ("pairs",), None, pair)
    data = set_value(data, ("trials", 0, "harvested"), datetime.date(2027, 3, 14))
    data = set_value(data, ("trials", 0, "seed_g"), 30)
    assert warning_lines(data) == []


def test_media_linked_through_a_third_count_as_tried_together() -> None:
    data = insert_item(sample_data(), ("media",), None, {**sample_data()["media"][0], "id": "felt"})
    data = insert_item(data, ("pairs",), None, {"medium": "felt", "crop": "pea", "mean_g": 300})
    blocks = [("paper", "a"), ("felt", "a"), ("felt", "b"), ("steel", "b")]
    trays = [
        {"tray": f"{place}", "medium": medium, "block": block, "harvest_g": 200 + place}
        for place, (medium, block) in enumerate(blocks)
    ]
    data = set_value(set_value(data, ("trials", 0, "trays"), trays), ("trials", 0, "checks"), [])
    assert warning_lines(data) == []
    apart = set_value(data, ("trials", 0, "trays", 2, "block"), "c")
    assert [line for line in warning_lines(apart) if "never tried together" in line] != []


def test_media_of_two_trials_without_a_common_one_were_never_tried_together() -> None:
    data = with_value((("trials", 0, "trays"), sample_data()["trials"][0]["trays"][:1]), (("trials", 0, "checks"), []))
    other = {"id": "b", "crop": "radish", "trays": [{"tray": "1", "medium": "steel", "harvest_g": 240}]}
    data = insert_item(data, ("trials",), None, other)
    assert [line for line in warning_lines(data) if "never tried together" in line] != []
    set_aside = set_value(data, ("trials", 1, "use"), False)
    assert [line for line in warning_lines(set_aside) if "never tried together" in line] == []
