"""The keyboard alone is enough: a sensible walk, visible focus, names for screen readers."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QSlider, QWidget

from mediacost.scenario import read_file
from tests.robots import CHARTS, Grower

CONTROL = Qt.KeyboardModifier.ControlModifier


def walk(grower: Grower) -> list[QWidget]:
    """Where Tab leads to from the start, all around."""
    stops: list[QWidget] = []
    for _ in range(200):
        here = grower.window.focusWidget()
        assert here is not None
        if stops and here is stops[0]:
            return stops
        if not stops or here is not stops[-1]:
            stops.append(here)
        grower.key(Qt.Key.Key_Tab)
    raise AssertionError(f"Tab goes nowhere: {stops[-5:]}")


def place_of(grower: Grower, stop: QWidget) -> str:
    window = grower.window
    blocks = {
        "top": window.top_line,
        "strip": window.strip,
        "parts": window.parts,
        "charts": window.charts,
        "fields": window.page,
        "panel": window.panel,
    }
    return next(name for name, block in blocks.items() if block.isAncestorOf(stop))


@pytest.mark.parametrize("chart", list(CHARTS))
@pytest.mark.parametrize("size", [(1366, 768), (1100, 700)])
def test_tab_walks_through_everything_from_top_to_bottom(
    grower: Grower, small_room: Path, size: tuple[int, int], chart: str
) -> None:
    grower.start(small_room, size=size)
    grower.choose_chart(chart)
    grower.window.top_line.words["open"].setFocus()
    stops = walk(grower)
    blocks = [place_of(grower, stop) for stop in stops]
    answer = ["panel"] if size[0] >= 1200 else []
    strip = [] if answer else ["strip"]
    assert list(dict.fromkeys(blocks)) == ["top", *strip, "parts", "charts", "fields", *answer]
    assert blocks == sorted(blocks, key=["top", "strip", "parts", "charts", "fields", "panel"].index)
    page = grower.window.page
    walked = [stop for stop in stops if page.isAncestorOf(stop)]
    expected = [each for field in page.fields.values() for each in (field.editor, field.bar) if each.isVisible()]
    assert walked == expected


def test_a_part_opened_later_is_walked_in_its_place(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.turn_to("Silicone")
    grower.window.parts.focus_marked()
    grower.key(Qt.Key.Key_Tab)
    grower.key(Qt.Key.Key_Tab)
    grower.choose_chart("What a kilogram costs")
    blocks = [place_of(grower, stop) for stop in walk(grower)]
    assert blocks.index("fields") > blocks.index("charts") > 0 or blocks[0] in ("charts", "fields")


def test_the_job_is_done_without_a_mouse(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.window.parts.focus_marked()
    for _ in range(30):
        if isinstance(grower.window.focusWidget(), QLineEdit):
            break
        grower.key(Qt.Key.Key_Tab)
    # A field that is walked into is marked whole, so that typing replaces what stands there.
    grower.type("131")
    assert grower.read_field("Pack price") == "131"
    grower.key(Qt.Key.Key_Z, CONTROL)
    assert grower.read_field("Pack price") == "116"
    grower.key(Qt.Key.Key_Z, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert grower.read_field("Pack price") == "131"
    grower.key(Qt.Key.Key_S, CONTROL)
    assert read_file(small_room).scenario.media[1].pack_price == 131
    assert grower.session.is_clean


def test_arrows_move_a_bar(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.field("Pack price").bar.setFocus()
    grower.key(Qt.Key.Key_Right)
    assert float(grower.read_field("Pack price")) > 116
    grower.undo()
    assert grower.read_field("Pack price") == "116"


@pytest.mark.parametrize("key", [Qt.Key.Key_Q, Qt.Key.Key_W])
def test_the_window_is_closed_by_keyboard(grower: Grower, small_room: Path, key: Qt.Key) -> None:
    grower.start(small_room)
    grower.key(key, CONTROL)
    assert not grower.window.isVisible()


def test_ctrl_o_asks_for_a_file(grower: Grower, small_room: Path, two_crop_room: Path) -> None:
    grower.start(small_room)
    grower.will_open(two_crop_room)
    grower.key(Qt.Key.Key_O, CONTROL)
    assert grower.window.windowTitle().startswith("two_crop_room.toml")


def test_arrows_choose_a_part_and_a_chart(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    grower.window.parts.focus_marked()
    grower.key(Qt.Key.Key_Down)
    grower.key(Qt.Key.Key_Space)
    assert grower.window.page.part.label == "Silicone"


@pytest.mark.parametrize("size", [(1366, 768), (1100, 700)])
def test_focus_is_seen_wherever_it_is(grower: Grower, small_room: Path, size: tuple[int, int]) -> None:
    grower.start(small_room, size=size)
    grower.choose_chart("Over the cycles")
    grower.window.top_line.words["open"].setFocus()
    unseen = []
    for stop in walk(grower):
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        with_focus = stop.grab().toImage()
        other = grower.window.top_line.words["open"]
        (other if stop is not other else grower.window.top_line.words["save"]).setFocus()
        if stop.grab().toImage() == with_focus:
            unseen.append(stop)
    assert unseen == []


def test_everything_has_a_name_for_screen_readers(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    nameless = []
    for chart in CHARTS:
        grower.choose_chart(chart)
        grower.window.top_line.words["open"].setFocus()
        for stop in walk(grower):
            interface = QAccessible.queryAccessibleInterface(stop)
            if not interface.text(QAccessible.Text.Name).strip():
                nameless.append(stop)
    assert nameless == []


def test_names_say_what_a_thing_is_for(grower: Grower, small_room: Path) -> None:
    grower.start(small_room)
    field = grower.field("Pack price")
    assert QAccessible.queryAccessibleInterface(field.editor).text(QAccessible.Text.Name) == "Pack price"
    assert field.editor.accessibleDescription() != ""
    assert isinstance(field.bar, QSlider)
    assert field.bar.accessibleName() == "Pack price: drag to try"
    grower.set("Pack price", "x")
    assert field.editor.accessibleDescription() == field.fault_text
    figures = QAccessible.queryAccessibleInterface(grower.window.panel.figure_label(0)).text(QAccessible.Text.Name)
    assert "Fibre pad" in figures
    assert "<" not in figures
    assert all(isinstance(word, QAbstractButton) for word in grower.window.parts.words.values())
    grower.choose_chart("Over the cycles")
    canvas = grower.window.charts.canvas
    assert canvas is not None
    assert canvas.accessibleName() == "Over the cycles"
    assert canvas.accessibleDescription().startswith("Steel mesh catches up")
