"""The table of all figures: a row for each, a column for each medium, headings between."""

from __future__ import annotations

from typing import Any, NamedTuple

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView

from mediacost.results.answers import Comparison, NoAnswer
from mediacost.results.overview import OverviewRow, overview

Index = QModelIndex | QPersistentModelIndex


_ROW_HEIGHT = 28
_CELL_ROOM = 28
_ASKING_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class _Line(NamedTuple):
    heading: str
    row: OverviewRow | None


class FiguresModel(QAbstractTableModel):
    """A comparison as table rows; the first column names the figure."""

    def __init__(self, comparison: Comparison) -> None:
        super().__init__()
        self._bold = QFont()
        self._bold.setBold(True)
        self._comparison = comparison
        self._lines = _lines(comparison)

    def show(self, comparison: Comparison) -> None:
        """Take a new answer; only where its shape changed is the table built anew."""
        lines = _lines(comparison)
        same_shape = _shape(lines) == _shape(self._lines) and _ids(comparison) == _ids(self._comparison)
        if not same_shape:
            self.beginResetModel()
        self._comparison, self._lines = comparison, lines
        if same_shape:
            self.dataChanged.emit(self.index(0, 0), self.index(self.rowCount() - 1, self.columnCount() - 1))
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, self.columnCount() - 1)
        else:
            self.endResetModel()

    def figure_at(self, index: Index) -> tuple[str, str] | None:
        """The medium and the figure's path in a cell; None where nothing can be asked."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if line.row is None or index.column() == 0:
            return None
        return self._comparison.media[index.column() - 1].id, line.row.path

    def row_of(self, path: str) -> int | None:
        """The row of a figure; None where it is not shown."""
        return next((at for at, line in enumerate(self._lines) if line.row is not None and line.row.path == path), None)

    def headings(self) -> list[int]:
        """The rows that are headings."""
        return [at for at, line in enumerate(self._lines) if line.row is None]

    def rowCount(self, parent: Index = QModelIndex()) -> int:
        return 0 if parent.isValid() else len(self._lines)

    def columnCount(self, parent: Index = QModelIndex()) -> int:
        return 0 if parent.isValid() else 1 + len(self._comparison.media)

    def flags(self, index: Index) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        if self._lines[index.row()].row is None:
            return Qt.ItemFlag.ItemIsEnabled
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.TextAlignmentRole and section == 0:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        if section == 0:
            return "figure"
        medium = self._comparison.media[section - 1]
        return self._comparison.heading(medium)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(line, index.column())
        if role == Qt.ItemDataRole.ToolTipRole and line.row is not None and index.column():
            value = line.row.values[index.column() - 1]
            return value.reason if isinstance(value, NoAnswer) else f"{value!r} (click or Enter: why?)"
        if role == Qt.ItemDataRole.FontRole and line.row is None:
            return self._bold
        if role == Qt.ItemDataRole.TextAlignmentRole and index.column():
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return None

    def _text(self, line: _Line, column: int) -> str:
        if line.row is None:
            return line.heading if column == 0 else ""
        if column == 0:
            return line.row.label
        return line.row.cells[column - 1]


def _lines(comparison: Comparison) -> list[_Line]:
    lines = []
    for section in overview(comparison):
        lines.append(_Line(section.heading, None))
        lines += [_Line("", row) for row in section.rows]
    return lines


def _shape(lines: list[_Line]) -> list[str]:
    return [line.heading if line.row is None else line.row.path for line in lines]


def _ids(comparison: Comparison) -> list[str]:
    return [medium.id for medium in comparison.media]


class FiguresTable(QTableView):
    """The view; a click or Enter on a figure asks why."""

    asked = Signal(str, str)

    def __init__(self, comparison: Comparison) -> None:
        super().__init__()
        self._model = FiguresModel(comparison)
        self.setModel(self._model)
        self.setAccessibleName("All figures")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(max(_ROW_HEIGHT, 2 * self.fontMetrics().height()))
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._model.modelReset.connect(self._fit)
        self.clicked.connect(self._ask)
        self._fit()

    @property
    def figures(self) -> FiguresModel:
        """The model."""
        return self._model

    def show_comparison(self, comparison: Comparison) -> None:
        """Show a new answer; the same figure stays the current one, where it is still shown."""
        asked, column = self._model.figure_at(self.currentIndex()), self.currentIndex().column()
        looking = self.verticalScrollBar().value()
        self._model.show(comparison)
        row = self._model.row_of(asked[1]) if asked is not None else None
        if row is not None and column < self._model.columnCount():
            self.setCurrentIndex(self._model.index(row, column))
            self.verticalScrollBar().setValue(looking)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _ASKING_KEYS and self.currentIndex().isValid():
            self._ask(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def _fit(self) -> None:
        """Widths from the texts, once for a shape; headings go across; the first figure is the current one."""
        self.clearSpans()
        headings = set(self._model.headings())
        for row in headings:
            self.setSpan(row, 0, 1, self._model.columnCount())
        metrics = self.fontMetrics()
        figures = [row for row in range(self._model.rowCount()) if row not in headings]
        for column in range(self._model.columnCount()):
            texts = [str(self._model.index(row, column).data()) for row in figures]
            texts.append(str(self._model.headerData(column, Qt.Orientation.Horizontal)))
            self.setColumnWidth(column, _CELL_ROOM + max(metrics.horizontalAdvance(text) for text in texts))
        self.setCurrentIndex(self._model.index(figures[0], 1))

    def _ask(self, index: QModelIndex) -> None:
        found = self._model.figure_at(index)
        if found is not None:
            self.asked.emit(*found)
