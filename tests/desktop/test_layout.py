"""Wide and narrow windows, large letters, long names: nothing is cut, the answer is always there."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from mediacost.desktop.sizes import letter_scale
from tests.robots import Grower


def test_three_columns_and_below_a_width_a_strip(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1200, 700))
    panel, strip = grower.window.panel, grower.window.strip
    assert (panel.isVisible(), strip.isVisible()) == (True, False)
    grower.window.resize(1199, 700)
    assert (panel.isVisible(), strip.isVisible()) == (False, True)
    grower.window.resize(1200, 700)
    assert (panel.isVisible(), strip.isVisible()) == (True, False)


def test_the_strip_has_two_lines_and_says_what_the_panel_says(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1100, 700))
    said = grower.read_strip().split("\n")
    assert len(said) == 2
    assert said[0].startswith("Steel mesh comes out best on cost per kilogram: 28.74 EUR/kg, 0.67 EUR/kg (2.3 %) less")
    assert said[0].endswith("How sure is not worked out.")
    assert said[1].startswith("Caution: sanitisers and reusing sheets. Steel mesh 28.74 EUR/kg, pays: 25.5 months;")
    assert "Silicone 29.57 EUR/kg, pays: never" in said[1]
    assert grower.window.strip.height() <= 2 * grower.window.fontMetrics().height() + 24


def test_the_strip_follows_each_key_marks_what_is_old_and_says_what_was(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1100, 700))
    before = grower.read_strip()
    grower.set("Pack price", "130")
    assert "was 28.74 EUR/kg" in grower.read_strip()
    assert grower.read_strip() != before
    grower.set("Pack price", "x")
    assert grower.read_strip().startswith("The last good answer, from before this fault: Pack price of Steel mesh")


def test_a_panel_that_was_hidden_shows_what_is_typed_meanwhile(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1100, 700))
    grower.set("Pack price", "1160")
    grower.window.resize(1366, 768)
    assert not grower.read_answer().startswith("Steel mesh")
    sentence = grower.read_answer()
    grower.window.resize(1100, 700)
    assert grower.read_strip().startswith(sentence)


def test_a_strip_too_short_for_all_media_counts_the_rest(grower: Grower, two_crop_room: Path) -> None:
    grower.start(two_crop_room, size=(700, 700))
    assert "; 2 more" in grower.read_strip()
    assert grower.read_strip().split("\n")[1].count("USD/kg") == 2
    grower.window.strip.follow_link("all-figures")
    assert grower.window.charts.chosen == "all_figures"


@pytest.fixture
def large_letters(qapp: QApplication):  # noqa: ANN201
    """Letters twice as large as usual, for one test."""
    usual = qapp.font()
    large = qapp.font()
    large.setPointSizeF(2 * usual.pointSizeF())
    qapp.setFont(large)
    yield
    qapp.setFont(usual)


@pytest.mark.usefixtures("large_letters")
@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080), (2600, 1200)])
def test_large_letters_cut_nothing(grower: Grower, two_crop_room: Path, size: tuple[int, int]) -> None:
    grower.start(two_crop_room, size=size)
    assert letter_scale(grower.window) == pytest.approx(2.0, abs=0.1)
    assert grower.window.panel.isVisible() is (size[0] >= 2400)
    grower.window.grab()
    assert cut_words(grower) == []


@pytest.mark.parametrize("size", [(1366, 768), (1100, 700), (800, 600)])
def test_long_names_cut_nothing(grower: Grower, two_crop_room: Path, size: tuple[int, int]) -> None:
    text = two_crop_room.read_text(encoding="utf-8")
    long = "Woven stainless mesh with a folded rim, the finer of the two kinds, second delivery"
    two_crop_room.write_text(text.replace('name = "Steel mesh"', f'name = "{long}"'), encoding="utf-8")
    grower.start(two_crop_room, size=size)
    grower.turn_to(long)
    grower.window.grab()
    assert cut_words(grower) == []
    assert (grower.window.width(), grower.window.height()) == size


def cut_words(grower: Grower) -> list[str]:
    """Words on show that have less room than they need; names shortened with dots tell the whole in their tip."""
    QApplication.processEvents()
    found = []
    for label in grower.window.findChildren(QLabel):
        if label.isVisible() and label.text() and label.width() > 1:
            needed = label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
            narrow = not label.wordWrap() and label.sizeHint().width() > label.width() + 1 and not label.toolTip()
            if needed > label.height() + 1 or narrow:
                found.append(label.text())
    for word in grower.window.findChildren(QPushButton):
        if word.isVisible() and word.sizeHint().width() > word.width() + 1:
            found.append(word.text())
    return found


def test_controls_are_large_enough_for_wet_fingers(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    controls = [*grower.window.findChildren(QPushButton)]
    controls += [field.editor for field in grower.window.page.fields.values()]
    controls += [field.bar for field in grower.window.page.fields.values()]
    assert [each.accessibleName() for each in controls if each.isVisible() and each.height() < 32] == []
