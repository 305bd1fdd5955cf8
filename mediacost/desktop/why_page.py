"""A figure opened: formula, numbers, parts, down to the inputs; it follows what is typed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget

from mediacost.desktop.session import Change, Session
from mediacost.desktop.sizes import scaled
from mediacost.desktop.theme import UNIT
from mediacost.results import words

if TYPE_CHECKING:
    from mediacost.results.explanation import Explanation
    from mediacost.results.explanation_steps import Step

_OPEN_LEVELS = 2
_FOLLOW_MS = 120
_VALUE_WIDTH = 170


class WhyPage(QWidget):
    """Shows why a figure is what it is; ``left`` is emitted when the person goes back."""

    left = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._asked: tuple[str, str] | None = None
        self._heading = QLabel()
        self._heading.setWordWrap(True)
        self._heading.setStyleSheet("font-weight: 600;")
        self._reason = QLabel()
        self._reason.setWordWrap(True)
        back = QPushButton("Back to the page")
        back.setProperty("role", "word")
        back.setToolTip("Esc")
        back.clicked.connect(self.left)
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self.left.emit, Qt.ShortcutContext.WindowShortcut)
        self._tree = StepTree()
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        top.addWidget(back, 0, Qt.AlignmentFlag.AlignTop)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(UNIT * 4, UNIT * 2, UNIT * 4, UNIT * 2)
        rows.addLayout(top)
        rows.addWidget(self._reason)
        rows.addWidget(self._tree, 1)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_FOLLOW_MS)
        self._later.timeout.connect(self._show)
        session.changed.connect(self._follow)

    @property
    def lines(self) -> list[str]:
        """Everything that is shown, top to bottom."""
        return [line for line in (self._heading.text(), self._reason.text(), *self._tree.lines) if line]

    @property
    def tree(self) -> StepTree:
        """The steps."""
        return self._tree

    def ask(self, medium: str, figure: str) -> None:
        """Explain a figure of a medium."""
        self._asked = (medium, figure)
        self._show()
        self._tree.setFocus()

    def _follow(self, change: Change) -> None:
        if change.keys is None:
            self._asked = None
            self._later.stop()
            self.left.emit()
        elif self.isVisible():
            self._later.start()

    def _show(self) -> None:
        # Fetched when it is first asked for: a window that has only just opened needs no explanations.
        from mediacost.results.explanation import explain, explanation_heading

        answered = self._session.answered
        if self._asked is None or answered is None:
            return
        explanation = explain(answered.scenario, *self._asked)
        heading = explanation_heading(explanation, answered.scenario)
        self._heading.setText(f"Why? {heading[0].upper()}{heading[1:]}")
        self._reason.setText(_reason_words(explanation, answered.current))
        self._reason.setVisible(bool(self._reason.text()))
        self._tree.show_steps(explanation.step)


def _reason_words(explanation: Explanation, current: bool) -> str:
    said = [] if current else ["This opens the last good answer, from before the fault that stands now."]
    if explanation.reason:
        said.append(f"{explanation.reason[0].upper()}{explanation.reason[1:]}.")
    return "\n".join(said)


class StepTree(QTreeWidget):
    """Steps with their parts below them. A step that stands there already is filled again when it is opened."""

    def __init__(self) -> None:
        super().__init__()
        self.setColumnCount(2)
        self.setHeaderHidden(True)
        self.setAccessibleName("How this figure is worked out")
        self.setIndentation(UNIT * 5)
        self.setWordWrap(True)
        self.header().setStretchLastSection(True)
        self._first: dict[tuple[str, float, str], Step] = {}
        self.itemExpanded.connect(self._fill_again)
        self.itemClicked.connect(self._turn)

    @property
    def lines(self) -> list[str]:
        """Everything in the tree, top to bottom."""
        return [f"{item.text(0)} {item.text(1)}".strip() for item in self.items()]

    def items(self) -> Iterator[QTreeWidgetItem]:
        """Everything in the tree, top to bottom."""
        for at in range(self.topLevelItemCount()):
            yield from _below(self.topLevelItem(at))

    def opens_again(self, item: QTreeWidgetItem) -> bool:
        """Whether an item is a step that stands above already, and is filled when it is opened."""
        return item.data(0, Qt.ItemDataRole.UserRole) is not None

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.setColumnWidth(0, max(200, self.viewport().width() - scaled(self, _VALUE_WIDTH)))

    def show_steps(self, step: Step | None) -> None:
        """Show a step and all below it; what was open and where one was looking stays, as far as it still fits."""
        opened = {path for path, item in self._paths() if item.isExpanded()} if self.topLevelItemCount() else None
        same = step is not None and self.topLevelItemCount() and self.topLevelItem(0).text(0) == step.label
        looking = self.verticalScrollBar().value()
        self.clear()
        self._first.clear()
        if step is None:
            return
        for _, each in step.walk():
            if not each.seen:
                self._first.setdefault(_key_of(each), each)
        top = self._item(step)
        self.addTopLevelItem(top)
        _span_lines(top)
        if not same or opened is None:
            self.expandToDepth(_OPEN_LEVELS - 1)
            self.setCurrentItem(top)
            return
        for path, item in self._paths():
            item.setExpanded(path in opened)
        self.verticalScrollBar().setValue(looking)

    def _paths(self) -> list[tuple[tuple[str, ...], QTreeWidgetItem]]:
        """Every item with the labels that lead to it."""
        return [(_path_of(item), item) for item in self.items()]

    def _item(self, step: Step) -> QTreeWidgetItem:
        value = f"{words.number(step.value, 5)} {step.unit}".rstrip()
        place = f"   [{step.where}]" if step.where else ""
        item = QTreeWidgetItem([f"{step.label}{place}", value])
        item.setTextAlignment(1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        if step.seen:
            first = self._first.get(_key_of(step))
            if first is not None:
                item.setData(0, Qt.ItemDataRole.UserRole, first)
                item.setChildIndicatorPolicy(QTreeWidgetItem.ChildIndicatorPolicy.ShowIndicator)
        else:
            self._add_parts(item, step)
        return item

    def _add_parts(self, item: QTreeWidgetItem, step: Step) -> None:
        item.addChildren([_line(line) for line in (*step.note.split("\n"), *step.lines) if line])
        item.addChildren([_line(f"= {line}") for line in (step.formula, step.numbers) if line])
        item.addChildren([self._item(part) for part in step.parts])

    def _fill_again(self, item: QTreeWidgetItem) -> None:
        step = item.data(0, Qt.ItemDataRole.UserRole)
        if step is not None and not item.childCount():
            self._add_parts(item, step)
            _span_lines(item)

    def _turn(self, item: QTreeWidgetItem) -> None:
        if item.childCount() or self.opens_again(item):
            item.setExpanded(not item.isExpanded())


def _below(item: QTreeWidgetItem) -> Iterator[QTreeWidgetItem]:
    yield item
    for at in range(item.childCount()):
        yield from _below(item.child(at))


def _path_of(item: QTreeWidgetItem) -> tuple[str, ...]:
    above = item.parent()
    return (*(_path_of(above) if above is not None else ()), item.text(0))


def _key_of(step: Step) -> tuple[str, float, str]:
    return step.label, step.value, step.unit


def _span_lines(item: QTreeWidgetItem) -> None:
    """Let lines without a value run across both columns."""
    for at in range(item.childCount()):
        child = item.child(at)
        child.setFirstColumnSpanned(not child.text(1))
        _span_lines(child)


def _line(text: str) -> QTreeWidgetItem:
    item = QTreeWidgetItem([text, ""])
    item.setToolTip(0, text)
    return item
