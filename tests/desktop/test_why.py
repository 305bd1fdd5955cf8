"""Any figure answers 'why?': in the panel, the strip, the table and the charts, by mouse and by keyboard."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from mediacost.results.explanation import explain, explanation_heading
from tests.robots import CHARTS, Grower, wait_until


def links(html: str) -> list[str]:
    return re.findall(r'href="([^"]+)"', html)


def expected_heading(grower: Grower, medium: str, figure: str) -> str:
    answered = grower.session.answered
    assert answered is not None
    heading = explanation_heading(explain(answered.scenario, medium, figure), answered.scenario)
    return f"Why? {heading[0].upper()}{heading[1:]}"


@pytest.mark.parametrize("sample", ["small_room", "two_crop_room"])
def test_every_figure_of_the_panel_answers(grower: Grower, sample: str, request: pytest.FixtureRequest) -> None:
    grower.start(request.getfixturevalue(sample))
    asked = [link for place in range(3) for link in links(grower.window.panel.lines_of(place))]
    assert len(asked) > 6
    for link in asked:
        medium, _, figure = link.rpartition("/")
        said = grower.ask_why(link)
        assert said[0] == expected_heading(grower, medium, figure)
        assert len(said) > 1


def test_a_figure_opens_down_to_the_inputs(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    said = grower.ask_why("steel/cost_per_kg")
    assert said[0] == "Why? Steel mesh, cost per kilogram: 28.74 EUR/kg."
    assert "= all costs of a tray / saleable harvest" in said
    assert any("[room.labour_rate]" in line for line in said)
    assert any("[media[steel].pack_price] 116 EUR" in line for line in said)
    assert any("Per hour with on-costs" in line for line in said)


def test_a_figure_that_is_not_there_says_why_not(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    said = grower.ask_why("silicone/payback_months.same_harvest.simple")
    assert said[1].startswith("Never: the money is not back")


def test_a_link_in_the_panel_is_followed_by_keyboard(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    assert grower.read_why() == []
    grower.window.panel.figure_label(0).setFocus(Qt.FocusReason.TabFocusReason)
    grower.key(Qt.Key.Key_Return)
    assert grower.read_why()[0] == "Why? Fibre pad, cost per kilogram: 29.41 EUR/kg."
    grower.key(Qt.Key.Key_Escape)
    assert grower.read_why() == []
    assert grower.window.focusWidget() is grower.window.panel.figure_label(0)


def test_every_figure_of_the_strip_answers(grower: Grower, small_room: Path) -> None:
    grower.start(small_room, size=(1100, 700))
    found = [link for link in links(grower.window.strip.media_html) if "/" in link]
    assert len(found) == 5
    for link in found:
        medium, _, figure = link.rpartition("/")
        grower.window.strip.follow_link(link)
        assert grower.read_why()[0] == expected_heading(grower, medium, figure)


def test_every_figure_of_the_table_answers_to_enter_and_to_a_click(grower: Grower, two_crop_room: Path) -> None:
    grower.start(two_crop_room)
    grower.choose_chart("All figures")
    table = grower.window.charts.table
    assert table is not None
    model = table.figures
    rows = [row for row in range(model.rowCount()) if model.figure_at(model.index(row, 2)) is not None]
    assert len(rows) > 40
    for row in rows:
        index = model.index(row, 2)
        grower.window.leave_why()
        table.setFocus()
        table.setCurrentIndex(index)
        QTest.keyClick(table, Qt.Key.Key_Return)
        asked = model.figure_at(index)
        assert asked is not None
        assert grower.read_why()[0] == expected_heading(grower, *asked)
    grower.window.leave_why()
    cost = next(row for row in rows if model.figure_at(model.index(row, 1)) == ("coir", "cost_per_kg"))
    table.scrollTo(model.index(cost, 1))
    QApplication.processEvents()
    spot = table.visualRect(model.index(cost, 1)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert grower.read_why()[0].startswith("Why? Loose coir, cost per kilogram")


def test_a_heading_and_a_name_ask_nothing(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.choose_chart("All figures")
    table = grower.window.charts.table
    assert table is not None
    for index in (table.figures.index(0, 0), table.figures.index(1, 0), table.figures.index(0, 2)):
        assert table.figures.figure_at(index) is None


@pytest.mark.parametrize(
    ("chart", "figures"),
    [
        ("What a kilogram costs", ["medium_cost_per_kg"] * 3),
        (
            "Over the cycles",
            ["cost_per_tray.medium_total", "break_even_cycles.same_harvest", "break_even_cycles.same_harvest"],
        ),
        (
            "Month by month",
            [
                "cost_per_tray.medium_total",
                "payback_months.same_harvest.simple",
                "payback_months.same_harvest.simple",
            ],
        ),
    ],
)
def test_every_medium_of_a_chart_answers_to_a_click_and_to_keys(
    grower: Grower, small_room: Path, chart: str, figures: list[str]
) -> None:
    grower.start(small_room)
    grower.choose_chart(chart)
    canvas = grower.window.charts.canvas
    assert canvas is not None
    for place, (medium, figure) in enumerate(zip(("pad", "steel", "silicone"), figures, strict=True)):
        canvas.grab()
        box = canvas.chart.box_of(place)
        spot = QPoint(round((box.x0 + box.x1) / 2), round(canvas.height() - (box.y0 + box.y1) / 2))
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=spot)
        assert grower.read_why()[0] == expected_heading(grower, medium, figure)
        grower.key(Qt.Key.Key_Escape)
    canvas.setFocus()
    for medium, figure in zip(("pad", "steel", "silicone"), figures, strict=True):
        # The last click chose silicone: the first step down begins again at the top.
        QTest.keyClick(canvas, Qt.Key.Key_Down)
        assert medium_name(medium) in canvas.accessibleDescription().rpartition("chosen: ")[2]
        QTest.keyClick(canvas, Qt.Key.Key_Return)
        assert grower.read_why()[0] == expected_heading(grower, medium, figure)
        grower.key(Qt.Key.Key_Escape)
        assert grower.window.focusWidget() is canvas


def medium_name(medium: str) -> str:
    return {"pad": "Fibre pad", "steel": "Steel mesh", "silicone": "Silicone"}[medium]


@pytest.mark.parametrize("chart", [words for words in CHARTS if words != "All figures"])
def test_a_click_beside_everything_asks_nothing(grower: Grower, small_room: Path, chart: str) -> None:
    grower.start(small_room)
    grower.choose_chart(chart)
    canvas = grower.window.charts.canvas
    assert canvas is not None
    QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=QPoint(4, 4))
    assert grower.read_why() == []


def test_the_page_follows_what_is_undone(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "999")
    grower.ask_why("steel/cost_per_kg")
    first = grower.read_why()
    grower.undo()
    wait_until(lambda: grower.read_why() != first, "the page follows")
    assert grower.read_why()[0] == "Why? Steel mesh, cost per kilogram: 28.74 EUR/kg."


def test_the_last_good_answer_is_opened_as_such(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.set("Pack price", "a few")
    said = grower.ask_why("steel/cost_per_kg")
    assert said[1] == "This opens the last good answer, from before the fault that stands now."


def test_a_step_that_stands_above_already_opens_here_too(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.ask_why("steel/payback_months.same_harvest.simple")
    tree = grower.window.why.tree
    again = [item for item in tree.items() if tree.opens_again(item)]
    assert again
    assert again[0].childCount() == 0
    again[0].setExpanded(True)
    assert again[0].childCount() > 0


def test_another_document_closes_the_page(grower: Grower, small_room: Path, two_crop_room: Path) -> None:
    grower.start(small_room)
    grower.ask_why("steel/cost_per_kg")
    grower.open(two_crop_room)
    assert grower.read_why() == []


def test_choosing_a_part_closes_the_page(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.ask_why("steel/cost_per_kg")
    grower.turn_to("Silicone")
    assert grower.read_why() == []


def test_an_id_of_any_letters_can_be_asked(grower: Grower, small_room: Path) -> None:
    text = small_room.read_text(encoding="utf-8")
    odd = "a/b <i>'&' 100 %"
    small_room.write_text(text.replace('"steel"', f'"{odd}"'), encoding="utf-8")
    grower.start(small_room)
    assert "Steel mesh" in grower.read_medium(1)
    grower.window.panel.figure_label(1).setFocus(Qt.FocusReason.TabFocusReason)
    grower.key(Qt.Key.Key_Return)
    assert grower.read_why()[0] == "Why? Steel mesh, cost per kilogram: 28.74 EUR/kg."
