"""The list of the job's parts: in words, in the order in which a grower meets them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from mediacost.desktop.parts import Part
from mediacost.desktop.sizes import scaled
from mediacost.desktop.theme import UNIT

_WIDTH = 184
_AROUND_WORD = 36


class PartsList(QScrollArea):
    """Words to choose a part by; ``chosen`` carries the part."""

    chosen = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._group = QButtonGroup(self)
        self._column = QVBoxLayout()
        self._column.setSpacing(UNIT)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(UNIT * 2, UNIT * 2, UNIT * 2, UNIT * 2)
        column.setSpacing(UNIT)
        heading = QLabel("What you type")
        heading.setProperty("tone", "faint")
        column.addWidget(heading)
        column.addLayout(self._column)
        column.addStretch(1)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(inside)
        self.setAccessibleName("Parts of the job")
        self._size()

    @property
    def words(self) -> dict[str, QAbstractButton]:
        """The words by the whole name of their part."""
        return {word.accessibleName(): word for word in self._group.buttons()}

    def list_parts(self, parts: Sequence[Part]) -> None:
        """List other parts."""
        for word in self._group.buttons():
            self._group.removeButton(word)
            self._column.removeWidget(word)
            word.hide()
            word.deleteLater()
        for part in parts:
            word = QPushButton()
            word.setProperty("role", "word")
            word.setProperty("part", part.id)
            word.setCheckable(True)
            word.setToolTip(part.label)
            word.setAccessibleName(part.label)
            word.clicked.connect(lambda _=False, part=part: self.chosen.emit(part))
            self._group.addButton(word)
            self._column.addWidget(word)
        self._size()

    def mark(self, part: Part) -> None:
        """Mark the part that is on show."""
        for word in self._group.buttons():
            word.setChecked(word.property("part") == part.id)

    def focus_marked(self) -> None:
        """Put the keyboard on the part that is on show."""
        word = self._group.checkedButton()
        if word is not None:
            word.setFocus()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._size()

    def _size(self) -> None:
        width = scaled(self, _WIDTH)
        self.setFixedWidth(width)
        for word in self._group.buttons():
            name = word.accessibleName()
            word.setText(self.fontMetrics().elidedText(name, Qt.TextElideMode.ElideRight, width - _AROUND_WORD))
