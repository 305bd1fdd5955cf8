"""Typing into the fields: the answer follows each key, faults stand beside their field, nothing is guessed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from mediacost.results import compare
from mediacost.scenario import check, read_file, set_value
from tests.robots import ROOM, Grower, wait_until


def expected_cost(path: Path, keys: tuple[str | int, ...], value: float, place: int) -> float:
    """The cost of a kilogram with a value set, worked out without any window, as a panel rounds it."""
    checked = check(set_value(read_file(path).data, keys, value))
    assert checked.scenario is not None
    cost = compare(checked.scenario).media[place].cost_per_kg
    assert isinstance(cost, float)
    return round(cost, 2)


def test_the_answer_follows_each_key(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "")
    seen = []
    for key in "416":
        grower.type(key)
        seen.append((grower.read_field("Pack price"), grower.read_cost(1)))
    prices = [4, 41, 416]
    assert seen == [(str(price), expected_cost(small_room, ("media", 1, "pack_price"), price, 1)) for price in prices]
    assert len({cost for _, cost in seen}) == 3


def test_the_verdict_turns_when_the_price_does(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert grower.read_answer().startswith("Steel mesh comes out best on cost per kilogram: 28.74 EUR/kg")
    grower.set("Pack price", "1160")
    assert not grower.read_answer().startswith("Steel mesh")
    assert grower.window.panel.was_best_text == "Before this change it was Steel mesh."


def test_the_doubt_that_is_left_stands_beside_the_verdict(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    said = grower.read_doubt()
    assert "Between the first two that is a small difference" in said
    assert "How sure this is has not been worked out: 16 inputs are ranges" in said
    assert "24 weighed trays in all, as few as 6" in said
    assert said.endswith("'mediacost confidence' works it out.")
    grower.set("Harvest weight, Radish", "350")
    assert "small difference" not in grower.read_doubt()


@pytest.mark.parametrize("typed", ["12,5", "12.5", " 12,5 "])
def test_comma_and_point_are_both_decimal(grower: Grower, small_room: Path, typed: str) -> None:
    grower.start(small_room)
    grower.set("Pack price", typed)
    assert grower.session.value(("media", 1, "pack_price")) == 12.5
    assert grower.read_field("Pack price") == typed
    assert grower.read_fault("Pack price") == ""


def test_a_number_that_could_be_two_is_read_back(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "1,234")
    assert grower.session.value(("media", 1, "pack_price")) == 1.234
    assert "read as 1.234; for a thousand and more type 1234" in grower.read_note("Pack price")
    grower.type("5")
    assert "read as" not in grower.read_note("Pack price")


def test_blank_is_not_zero(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    before = grower.read_answer()
    grower.set("Pack price", "")
    assert "missing" in grower.read_fault("Pack price")
    assert grower.session.value(("media", 1, "pack_price")) is None
    assert grower.read_answer() == before
    grower.type("0")
    assert grower.read_fault("Pack price") == ""
    assert grower.read_cost(1) == expected_cost(small_room, ("media", 1, "pack_price"), 0, 1)


def test_a_blank_that_has_a_usual_value_says_so(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Lost per cycle", "")
    described = grower.field("Lost per cycle").note_text + grower.read_fault("Lost per cycle")
    assert described != ""


@pytest.mark.parametrize(
    ("typed", "said"),
    [("a few", "number"), ("-3", "0"), ("nan", "number")],
)
def test_a_fault_stands_beside_its_field_and_the_last_answer_is_kept_and_marked(
    grower: Grower, small_room: Path, typed: str, said: str
) -> None:
    grower.start(small_room)
    answer, costs = grower.read_answer(), [grower.read_cost(place) for place in range(3)]
    assert grower.read_stale() == ""
    grower.set("Pack price", typed)
    assert said in grower.read_fault("Pack price")
    assert grower.field("Pack price").editor.property("faulty") == "true"
    assert grower.read_stale().startswith("The last good answer, from before this fault:")
    assert grower.read_answer() == answer
    assert [grower.read_cost(place) for place in range(3)] == costs
    wait_until(lambda: grower.window.charts.stale_text, "what is drawn is marked as well")
    grower.set("Pack price", "116")
    assert (grower.read_fault("Pack price"), grower.read_stale()) == ("", "")
    wait_until(lambda: not grower.window.charts.stale_text, "what is drawn is current again")
    assert grower.read_answer() == answer


@pytest.mark.parametrize("typed", ["12..5", "12e400", "12,5,5", "12 5"])
def test_what_begins_as_a_number_and_is_none_keeps_the_last_good_answer(
    grower: Grower, small_room: Path, typed: str
) -> None:
    grower.start(small_room)
    grower.set("Pack price", typed)
    assert "number" in grower.read_fault("Pack price")
    assert grower.read_stale() != ""
    assert grower.read_cost(1) == expected_cost(small_room, ("media", 1, "pack_price"), 12, 1) or "12,5" in typed


def test_the_likely_value_of_a_range_is_typed_and_its_ends_stay(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Life", "200")
    held = grower.session.value(("media", 1, "life_cycles"))
    assert (held["low"], held["likely"], held["high"]) == (60, 200, 300)
    assert "note" in held


def test_a_range_gives_way_to_what_is_typed_and_says_so(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Life", "400")
    held = grower.session.value(("media", 1, "life_cycles"))
    # The keys 4 and 40 were below the range on the way; its lower end is back where it was.
    assert (held["low"], held["likely"], held["high"]) == (60, 400, 400)
    assert grower.read_note("Life").startswith("range 60 - 400 - 400 (widened to hold what you typed)")
    assert grower.read_fault("Life") == ""
    grower.undo()
    assert grower.read_note("Life").startswith("range 60 - 150 - 300;")


def test_every_input_that_matters_can_be_typed(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    words = grower.field_words()
    assert {"Pack price", "Life", "Lost per cycle", "Harvest weight, Radish"} <= set(words)
    assert sum("per sheet" in word for word in words) >= 3
    grower.turn_to(ROOM)
    assert [word for word in grower.field_words() if "abour" in word or "Radish" in word] == grower.field_words()
    for word in grower.field_words():
        before = [grower.read_medium(place) for place in range(3)] + [grower.read_answer()]
        grower.set(word, "77")
        assert [grower.read_medium(place) for place in range(3)] + [grower.read_answer()] != before or word.startswith(
            "Selling price"
        )


def test_what_was_before_is_shown_for_two_seconds(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert " was " not in grower.read_medium(1)
    grower.set("Pack price", "999")
    assert "was 28.74 EUR/kg" in grower.read_medium(1)
    assert " was " not in grower.read_medium(0)
    wait_until(lambda: " was " not in grower.read_medium(1), "what was before is forgotten")


def test_another_document_has_no_before(grower: Grower, small_room: Path, two_crop_room: Path) -> None:
    grower.start(small_room)
    grower.open(two_crop_room)
    assert [place for place in range(4) if " was " in grower.read_medium(place)] == []


def test_a_turn_of_the_wheel_changes_nothing(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    bar = grower.field("Pack price").bar
    middle = QPointF(bar.rect().center())
    turn = QWheelEvent(
        middle,
        bar.mapToGlobal(middle),
        QPoint(),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(bar, turn)
    assert grower.read_field("Pack price") == "116"
    assert grower.session.is_clean


def test_a_share_is_also_read_as_per_cent(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    field = grower.field("Lost per cycle")
    assert field.unit_text == "= 0.6 %"
    grower.set("Lost per cycle", "0.02")
    assert field.unit_text == "= 2 %"


def test_a_weight_measured_by_a_trial_is_shown_and_not_typed(grower: Grower, two_crop_room: Path) -> None:
    grower.start(two_crop_room)
    grower.turn_to("Fibre mat")
    assert "Harvest weight, Broccoli" not in grower.field_words()
    assert any("mean of 6 weighed trays" in text for text in grower.window.page.notes)
    assert "Harvest weight, Pea shoots" in grower.field_words()


def test_cautions_stand_with_the_reusable_media_only(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert grower.window.panel.cautions_text.startswith("Caution: sanitisers and reusing sheets.")
    assert "Never mix chlorine with acid" in grower.window.page.cautions_text
    grower.turn_to("Fibre pad")
    assert grower.window.page.cautions_text == ""
    grower.window.show_cautions()
    assert "Never mix chlorine with acid" in grower.window.page.cautions_text
