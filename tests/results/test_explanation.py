"""Any figure asked why: its value is the answer's, and its steps end in the inputs."""

from __future__ import annotations

import math

import pytest

from mediacost.errors import InputFaults
from mediacost.results import NoAnswer, compare
from mediacost.results.answers import CROP_FIGURES, answer_at, walk
from mediacost.results.asked_figures import figure_names, full_path
from mediacost.results.explanation import Explanation, explain, explanation_heading, explanation_json
from mediacost.results.figures import FIGURES, split_path
from mediacost.scenario import Scenario
from tests.results.samples import SAMPLE_PATHS, odd_scenarios, scenario

SCENARIOS = {path.stem: scenario(path.stem) for path in SAMPLE_PATHS}
SCENARIOS |= {
    name: odd_scenarios()[name]
    for name in ("nothing saleable on steel", "no minutes", "one crop fails on steel", "season with closed months")
}
CASES = [(name, medium.id) for name, document in SCENARIOS.items() for medium in document.media]


def explained(document: Scenario, medium: str) -> list[tuple[Explanation, float | NoAnswer]]:
    answer = compare(document).medium(medium)
    return [(explain(document, medium, name), answer_at(answer, name)) for name in figure_names()]


@pytest.mark.parametrize(("name", "medium"), CASES, ids=str)
def test_every_figure_has_the_value_of_the_answer_or_its_reason(name, medium):
    for explanation, answer in explained(SCENARIOS[name], medium):
        if isinstance(answer, NoAnswer):
            assert explanation.reason == answer.reason
            continue
        assert explanation.reason == ""
        assert explanation.step is not None
        assert math.isclose(explanation.step.value, answer, rel_tol=1e-12, abs_tol=1e-15), explanation.figure


def test_every_figure_of_the_mix_can_be_asked():
    answer = compare(SCENARIOS["two_crop_room"]).medium("steel")
    figures = {path for path, _ in walk(answer) if not path.startswith("by_crop.")}
    assert set(figure_names()) == figures


@pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])
def test_steps_end_in_inputs_with_their_key_paths(name):
    document = SCENARIOS[name]
    for medium in document.media:
        for figure in ("cost_per_kg", "npv.sell_extra", "break_even_cycles.same_harvest", "sheets_needed", "outlay"):
            step = explain(document, medium.id, figure).step
            for _, each in step.walk() if step is not None else ():
                if each.formula:
                    assert each.parts and not each.where and not each.seen
                else:
                    assert not each.parts
                    assert each.where or each.seen or each.lines or each.note, each.label
                    assert not each.where or "[" in each.where or "." in each.where


def test_an_input_shows_its_range_and_note_and_a_table_note_only_once():
    step = explain(SCENARIOS["small_room"], "steel", "npv").step
    assert step is not None
    notes = [each.note for _, each in step.walk()]
    rate = next(each for _, each in step.walk() if each.where == "room.labour_rate")
    assert rate.note.startswith("range 16 - 18.5 - 21; ")
    assert sum("note on room: " in note for note in notes) == 1
    assert sum("No published cycle life of steel" in note for note in notes) == 1


def test_what_is_added_and_taken_away_is_left_out_of_the_text():
    step = explain(SCENARIOS["small_room"], "steel", "break_even_cycles").step
    assert step is not None
    gain = next(each for _, each in step.walk() if each.label == FIGURES["gain"].label)
    assert "wash equipment" not in gain.formula
    labels = [each.label for each in gain.parts]
    assert len(labels) == len(set(labels))


def test_no_step_explains_itself_by_itself():
    for name, medium in (("small_room", "steel"), ("two_crop_room", "silicone")):
        step = explain(SCENARIOS[name], medium, "npv.same_harvest").step
        assert step is not None
        for _, each in step.walk():
            assert each.formula != each.label


@pytest.mark.parametrize("name", ["small_room", "two_crop_room"])
def test_the_numbers_filled_in_give_the_value(name):
    """Products, quotients and sums in the filled-in text, worked out as written, give the step's own value."""
    checked = 0
    for figure in ("cost_per_kg", "break_even_cycles", "sheets_needed", "margin_per_shelf_day", "saving_per_tray"):
        step = explain(SCENARIOS[name], "steel", figure).step
        assert step is not None
        for _, each in step.walk():
            if each.numbers and not any(
                word in each.numbers for word in ("...", "rounded", "whole", "larger", "largest", "exp")
            ):
                text = each.numbers.replace(" x ", " * ").replace("^", "**").replace("ln(", "math.log(")
                worked = eval(_without_thousands(text), {"math": math})
                assert math.isclose(worked, each.value, rel_tol=0.02, abs_tol=2e-4), each
                checked += 1
    assert checked > 30


def _without_thousands(text: str) -> str:
    import re

    return re.sub(r"(?<=\d) (?=\d{3}\b)", "", text)


@pytest.mark.parametrize(
    ("asked", "path"),
    [
        ("cost_per_kg", "cost_per_kg"),
        ("cost-per-kg", "cost_per_kg"),
        ("break-even", "break_even_cycles.sell_extra"),
        ("break_even.per_tray", "break_even_cycles.per_tray"),
        ("payback", "payback_months.sell_extra.simple"),
        ("payback.per_tray", "payback_months.per_tray.simple"),
        ("payback_months.first_simple", "payback_months.sell_extra.first_simple"),
        ("npv", "npv.sell_extra"),
        ("npv.same-harvest", "npv.same_harvest"),
        ("sheet", "cost_per_tray.sheet"),
        ("cost_per_tray", "cost_per_tray.total"),
        (" wash labour ", "cost_per_tray.wash_labour"),
    ],
)
def test_short_names(asked, path):
    assert full_path(asked, "sell_extra") == path


@pytest.mark.parametrize("name", figure_names())
def test_full_names_stand_for_themselves(name):
    assert full_path(name, "per_tray") == name


def test_unknown_names():
    document = SCENARIOS["small_room"]
    with pytest.raises(InputFaults, match=r'--medium: "stel" is not known \(nearest: steel\)'):
        explain(document, "stel", "npv")
    with pytest.raises(InputFaults, match=r'--figure: "nvp" is not known \(nearest: npv\)'):
        explain(document, "steel", "nvp")


def test_heading_says_medium_figure_value_and_way_of_counting():
    document = SCENARIOS["small_room"]
    heading = explanation_heading(explain(document, "steel", "irr.per_tray"), document)
    assert heading.startswith("Steel mesh, internal rate of return: ")
    assert " % per year. Counted per tray: " in heading
    plain = explanation_heading(explain(document, "pad", "irr"), document)
    assert plain.startswith("Fibre pad, internal rate of return. Counted ")


def test_a_single_use_medium_says_why_it_owns_nothing():
    step = explain(SCENARIOS["small_room"], "pad", "sheets_needed").step
    assert step is not None and step.value == 0 and "single use" in step.note


def test_json_holds_the_whole_tree():
    data = explanation_json(explain(SCENARIOS["small_room"], "steel", "sheet_price"))
    assert list(data) == ["medium", "figure", "reason", "step"]
    assert data["reason"] is None
    assert data["step"]["parts"][0]["parts"][0]["where"] == "media[steel].pack_price"
    missing = explanation_json(explain(SCENARIOS["small_room"], "pad", "npv"))
    assert missing["step"] is None and "baseline" in missing["reason"]


@pytest.mark.parametrize("medium", ["coir", "steel"])
@pytest.mark.parametrize("figure", CROP_FIGURES)
def test_a_crop_alone_can_be_asked_why(medium, figure):
    document = SCENARIOS["two_crop_room"]
    for crop in compare(document).medium(medium).by_crop:
        found = explain(document, medium, f"by_crop.{crop.crop}.{figure}")
        assert found.step.value == pytest.approx(getattr(crop, figure), rel=1e-12)
        assert " alone: " in explanation_heading(found, document)
        assert any(step.where or step.lines for _, step in found.step.walk())


@pytest.mark.parametrize("figure", ["by_crop.peas.cost_per_kg", "by_crop.pea.cost_per_kgg", "by_crop.pea"])
def test_an_unknown_crop_or_figure_of_a_crop_is_a_fault(figure):
    with pytest.raises(InputFaults, match="is not known"):
        explain(SCENARIOS["two_crop_room"], "steel", figure)


@pytest.mark.parametrize("name", sorted(FIGURES))
def test_every_figure_has_words(name):
    figure = FIGURES[name]
    assert figure.label.strip() == figure.label and figure.label
    assert "_" not in figure.label
    allowed = {"", "money", "share", "pieces", "cycles", "kg", "trays", "sheets", "days", "packs", "months", "per year"}
    assert figure.unit in allowed or "/" in figure.unit


def test_all_paths_have_words():
    for name in figure_names():
        assert split_path(name)[0] in FIGURES
