"""Charts in the window: one at a time, chosen by words, there after the verdict, following every change."""

from __future__ import annotations

from pathlib import Path

import pytest

from mediacost.charts.palette import NIGHT
from tests.robots import Grower, wait_until


def test_the_verdict_is_there_before_fields_and_chart(grower: Grower, small_room: Path) -> None:
    window = grower.make(small_room)
    assert window.panel.verdict_text.startswith("Steel mesh comes out best")
    assert not window.is_finished
    assert window.charts.canvas is None
    window.show()
    wait_until(lambda: window.charts.canvas is not None, "the chart comes by itself")
    assert grower.read_chart().startswith("Steel mesh itself costs least in a kilogram: 4.04 EUR/kg")


def test_a_window_closed_before_its_chart_is_there_leaves_nothing(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert grower.close()


def test_the_charts_are_chosen_by_words_one_at_a_time(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    findings = {}
    for words in ("What a kilogram costs", "Over the cycles", "Month by month"):
        grower.choose_chart(words)
        findings[words] = grower.read_chart()
        shown = [button.text() for button in grower.window.charts.words if button.isChecked()]
        assert shown == [words]
    assert findings["Over the cycles"].startswith("Steel mesh catches up after 42.3 cycles")
    assert findings["Month by month"].startswith("Steel mesh pays after 25.5 months")


@pytest.mark.parametrize("words", ["What a kilogram costs", "Over the cycles", "Month by month"])
def test_a_chart_follows_typing_without_being_built_anew(grower: Grower, small_room: Path, words: str) -> None:
    grower.start(small_room)
    grower.choose_chart(words)
    canvas, finding = grower.window.charts.canvas, grower.read_chart()
    grower.set("Pack price", "400")
    wait_until(lambda: grower.read_chart() != finding, "the chart follows")
    assert grower.window.charts.canvas is canvas
    grower.undo()
    wait_until(lambda: grower.read_chart() == finding, "the chart follows back")


@pytest.mark.parametrize("words", ["What a kilogram costs", "Over the cycles", "Month by month"])
def test_a_chart_follows_a_drag_with_its_finding(grower: Grower, small_room: Path, words: str) -> None:
    grower.start(small_room)
    grower.choose_chart(words)
    canvas, finding = grower.window.charts.canvas, grower.read_chart()
    assert canvas is not None
    canvas.grab()
    pictures = []
    bar = grower.field("Pack price").bar
    bar.setSliderDown(True)
    for notch in (650, 800, 990):
        bar.setValue(notch)
        assert grower.read_chart() != finding
        pictures.append(bytes(canvas.buffer_rgba()))
    assert len(set(pictures)) == 3
    bar.setSliderDown(False)
    wait_until(lambda: not canvas.is_following, "the whole chart is drawn again")


def test_the_table_follows_typing(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.choose_chart("All figures")
    table = grower.window.charts.table
    assert table is not None
    before = [table.figures.index(row, 2).data() for row in range(table.figures.rowCount())]
    grower.set("Pack price", "400")

    def now() -> list[str]:
        return [table.figures.index(row, 2).data() for row in range(table.figures.rowCount())]

    wait_until(lambda: now() != before, "the table follows")
    grower.undo()
    wait_until(lambda: now() == before, "the table follows back")


def test_another_document_is_drawn_anew(grower: Grower, small_room: Path, two_crop_room: Path) -> None:
    grower.start(small_room)
    grower.choose_chart("Over the cycles")
    grower.open(two_crop_room)
    wait_until(lambda: grower.window.charts.canvas is not None and "30.6 cycles" in grower.read_chart(), "it is drawn")


def test_a_failure_to_load_is_said(grower: Grower, small_room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from mediacost.desktop import chart_view

    def fail() -> None:
        raise ImportError("no drawing here")

    monkeypatch.setattr(chart_view, "load_libraries", fail)
    grower.start(small_room)
    wait_until(lambda: "no drawing here" in grower.window.charts.waiting_text, "the failure is said")
    assert grower.read_answer().startswith("Steel mesh")
    grower.choose_chart("All figures")
    assert grower.window.charts.table is not None


def test_night_has_the_nights_paper(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, night=True)
    grower.choose_chart("What a kilogram costs")
    canvas = grower.window.charts.canvas
    assert canvas is not None
    picture = grower.window.grab().toImage()
    assert picture.pixelColor(picture.width() // 2, 3).name() == NIGHT.paper
    assert canvas.grab().toImage().pixelColor(3, 3).name() == NIGHT.paper


def test_day_to_night_keeps_chart_and_answer(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.choose_chart("Over the cycles")
    answer, finding = grower.read_answer(), grower.read_chart()
    grower.window.dress(night=True)
    wait_until(lambda: grower.window.charts.canvas is not None, "the chart is drawn anew")
    assert (grower.read_answer(), grower.read_chart()) == (answer, finding)
    picture = grower.window.grab().toImage()
    assert picture.pixelColor(picture.width() // 2, 3).name() == NIGHT.paper


def test_a_table_that_changes_its_shape_keeps_the_current_figure(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.choose_chart("All figures")
    table = grower.window.charts.table
    assert table is not None
    row = table.figures.row_of("outlay")
    assert row is not None
    table.setCurrentIndex(table.figures.index(row, 2))
    shapes = {table.figures.rowCount()}
    for price in ("0", "400"):
        grower.set("Pack price", price)
        grower.set("Life", price if price != "0" else "150")
        wait_until(lambda: not grower.window.charts.is_behind, "the table follows")
        shapes.add(table.figures.rowCount())
        assert table.figures.figure_at(table.currentIndex()) == ("steel", "outlay")
