"""The table of all figures keeps to the rules of Qt's models, and says what the comparison says."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtTest import QAbstractItemModelTester

from mediacost.desktop.figures_table import FiguresModel
from mediacost.results import compare
from mediacost.results.answers import NoAnswer
from mediacost.results.overview import overview
from tests.results.samples import comparison, odd_scenarios


@pytest.fixture
def watched(qapp: object) -> Iterator[list[QAbstractItemModel]]:
    """Models under the eye of Qt's own checker, which fails the test by a message of Qt."""
    models: list[QAbstractItemModel] = []
    yield models
    for model in models:
        model.deleteLater()


def checked(model: FiguresModel, watched: list[QAbstractItemModel]) -> FiguresModel:
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    tester.setParent(model)
    watched.append(model)
    return model


def test_it_keeps_to_the_rules_also_after_changes(watched: list[QAbstractItemModel]) -> None:
    model = checked(FiguresModel(comparison("small_room")), watched)
    model.show(comparison("small_room", (("media", 1, "pack_price"), 400)))
    model.show(comparison("two_crop_room"))
    for scenario in odd_scenarios().values():
        model.show(compare(scenario))
    model.show(comparison("small_room"))


@pytest.mark.parametrize("name", ["small_room", "two_crop_room", "owned_silicone"])
def test_it_holds_every_figure_of_the_overview(name: str, watched: list[QAbstractItemModel]) -> None:
    shown = comparison(name)
    model = checked(FiguresModel(shown), watched)
    expected = [row for section in overview(shown) for row in [[section.heading], *([each] for each in section.rows)]]
    assert model.rowCount() == len(expected)
    assert model.columnCount() == 1 + len(shown.media)
    for at, (row,) in enumerate(expected):
        if isinstance(row, str):
            assert model.index(at, 0).data() == row
            assert at in model.headings()
            continue
        assert model.index(at, 0).data() == row.label
        for place, value in enumerate(row.values):
            index = model.index(at, 1 + place)
            assert index.data() == row.cells[place]
            tip = index.data(Qt.ItemDataRole.ToolTipRole)
            assert tip == value.reason if isinstance(value, NoAnswer) else tip.startswith(repr(value))


def test_the_medium_of_today_is_marked(watched: list[QAbstractItemModel]) -> None:
    model = checked(FiguresModel(comparison("small_room")), watched)
    heads = [model.headerData(column, Qt.Orientation.Horizontal) for column in range(model.columnCount())]
    assert heads == ["figure", "Fibre pad (today)", "Steel mesh", "Silicone"]


def test_a_change_of_numbers_is_no_new_table(watched: list[QAbstractItemModel]) -> None:
    model = checked(FiguresModel(comparison("small_room")), watched)
    resets, changes = [], []
    model.modelReset.connect(lambda: resets.append(1))
    model.dataChanged.connect(lambda *_: changes.append(1))
    model.show(comparison("small_room", (("media", 1, "pack_price"), 400)))
    assert (len(resets), len(changes)) == (0, 1)
    model.show(comparison("two_crop_room"))
    assert len(resets) == 1
