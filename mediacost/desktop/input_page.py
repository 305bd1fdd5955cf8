"""What can be typed of one part of the job: its fields, and the cautions that it brings up."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from mediacost.desktop.fields import NumberField
from mediacost.desktop.parts import FieldSpec, Note, Part, fields_of
from mediacost.desktop.session import Keys, Session
from mediacost.desktop.sizes import scaled
from mediacost.desktop.theme import UNIT
from mediacost.results.cautions import Caution, cautions_for_medium
from mediacost.results.weights import measured_words

_FIELD_WIDTH = 210


class InputPage(QScrollArea):
    """The fields of one part in as many columns as fit; it scrolls one way only."""

    def __init__(self, session: Session, part: Part) -> None:
        super().__init__()
        self._session = session
        self.part = part
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inside = QWidget()
        rows = QVBoxLayout(self._inside)
        rows.setContentsMargins(UNIT * 4, UNIT * 2, UNIT * 4, UNIT * 4)
        rows.setSpacing(UNIT * 3)
        heading = QLabel(part.label)
        heading.setWordWrap(True)
        heading.setStyleSheet("font-weight: 600;")
        rows.addWidget(heading)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(UNIT * 6)
        self._grid.setVerticalSpacing(UNIT * 2)
        rows.addLayout(self._grid)
        self._caution_labels = [_caution_label(caution) for caution in self._cautions()]
        for label in self._caution_labels:
            rows.addWidget(label)
        rows.addStretch(1)
        self._cells = [self._cell(each) for each in self._described()]
        self._columns = 0
        self.setWidget(self._inside)
        self._arrange(3)

    @property
    def fields(self) -> dict[Keys, NumberField]:
        """The fields on this page by their key path."""
        return {cell.keys: cell for cell in self._cells if isinstance(cell, NumberField)}

    @property
    def notes(self) -> list[str]:
        """What is shown and cannot be typed."""
        return [cell.text() for cell in self._cells if isinstance(cell, QLabel)]

    @property
    def cautions_text(self) -> str:
        """The cautions in full; '' where the part brings none up."""
        return "\n".join(label.text() for label in self._caution_labels)

    def show_cautions(self) -> None:
        """Scroll to the cautions."""
        if self._caution_labels:
            self.ensureWidgetVisible(self._caution_labels[-1])
            self.ensureWidgetVisible(self._caution_labels[0])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange(max(1, (self.viewport().width() - UNIT * 8) // (scaled(self, _FIELD_WIDTH) + UNIT * 6)))

    def _described(self) -> list[FieldSpec | Note]:
        answered = self._session.answered
        measured = measured_words(answered.scenario) if answered is not None else {}
        return list(fields_of(self.part, self._session.data, measured))

    def _cell(self, described: FieldSpec | Note) -> QWidget:
        if isinstance(described, FieldSpec):
            return NumberField(self._session, described, str(self._session.value(("currency",)) or ""))
        cell = QLabel(f"{described.label}\n{described.text}")
        cell.setWordWrap(True)
        cell.setAlignment(Qt.AlignmentFlag.AlignTop)
        cell.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        return cell

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for cell in self._cells:
            self._grid.removeWidget(cell)
        for at, cell in enumerate(self._cells):
            self._grid.addWidget(cell, at // columns, at % columns, Qt.AlignmentFlag.AlignTop)
        for column in range(self._grid.columnCount()):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def _cautions(self) -> tuple[Caution, ...]:
        answered = self._session.answered
        if answered is None or self.part.medium is None or self.part.medium >= len(answered.scenario.media):
            return ()
        return cautions_for_medium(answered.scenario, answered.scenario.media[self.part.medium])


def _caution_label(caution: Caution) -> QLabel:
    label = QLabel(f"Caution: {caution.heading.lower()}\n" + "\n".join(f"- {line}" for line in caution.lines))
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
