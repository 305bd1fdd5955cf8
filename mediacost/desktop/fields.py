"""A number on a page: its words, its editor, its unit, a bar to drag for trying, its note, and its fault."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import QEvent, QSignalBlocker, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence, QWheelEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QSlider,
    QStyle,
    QStyleOptionSlider,
    QVBoxLayout,
    QWidget,
)

from mediacost.desktop.answer_words import fault_words
from mediacost.desktop.number_text import number_text, read_number
from mediacost.desktop.parts import FieldSpec
from mediacost.desktop.session import Change, Keys, Session
from mediacost.desktop.theme import UNIT
from mediacost.results import words
from mediacost.scenario.values import shown

_NOTCHES = 1000
_NOTE_LETTERS = 96


class NumberField(QWidget):
    """Bound to one key path of the session: pulls its value from there, and asks the session for every edit."""

    def __init__(self, session: Session, spec: FieldSpec, currency: str) -> None:
        super().__init__()
        self._session = session
        self._spec = spec
        self._visit = 0
        self._span = (0.0, 1.0)
        self._ends: dict[str, Any] = {}
        self._label = QLabel(spec.label)
        self._label.setWordWrap(True)
        self._edit = _Edit(self._enter)
        self._edit.setAccessibleName(spec.label)
        self._edit.setAccessibleDescription(spec.description.help)
        self._edit.setToolTip(spec.description.help)
        self._label.setToolTip(spec.description.help)
        self._label.setBuddy(self._edit)
        self._currency = currency
        self._unit = QLabel(self._unit_text(None))
        self._unit.setProperty("tone", "unit")
        self._bar = Bar(Qt.Orientation.Horizontal)
        self._bar.setRange(0, _NOTCHES)
        self._bar.setSingleStep(_NOTCHES // 100)
        self._bar.setPageStep(_NOTCHES // 10)
        self._bar.setAccessibleName(f"{spec.label}: drag to try")
        self._bar.setToolTip("Drag to try other values; undo takes it back in one step.")
        self._note = QLabel()
        self._note.setProperty("tone", "faint")
        self._fault = QLabel()
        self._fault.setProperty("tone", "fault")
        for line in (self._note, self._fault):
            line.setWordWrap(True)
            line.setTextFormat(Qt.TextFormat.PlainText)
            line.hide()
        self._lay_out()
        self._edit.textEdited.connect(self._typed)
        self._bar.sliderPressed.connect(self._enter)
        self._bar.valueChanged.connect(self._dragged)
        self._bar.sliderReleased.connect(self._released)
        session.changed.connect(self._follow)
        self._pull()
        self._remember_ends()
        self._set_span()

    @property
    def keys(self) -> Keys:
        """Where the value is in the document."""
        return self._spec.keys

    @property
    def editor(self) -> QLineEdit:
        """The line to type into."""
        return self._edit

    @property
    def bar(self) -> Bar:
        """The bar to drag."""
        return self._bar

    @property
    def label(self) -> str:
        """The words beside the field."""
        return self._spec.label

    @property
    def unit_text(self) -> str:
        """The unit beside the number."""
        return self._unit.text()

    @property
    def note_text(self) -> str:
        """The whole note below the field; '' if none."""
        return self._note.toolTip()

    @property
    def fault_text(self) -> str:
        """The fault that is shown; '' if none."""
        return self._fault.text()

    def _lay_out(self) -> None:
        line = QHBoxLayout()
        line.setSpacing(UNIT * 2)
        line.addWidget(self._edit, 1)
        line.addWidget(self._unit)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, UNIT * 2)
        rows.setSpacing(UNIT)
        rows.addWidget(self._label)
        rows.addLayout(line)
        rows.addWidget(self._bar)
        rows.addWidget(self._note)
        rows.addWidget(self._fault)
        rows.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    # From the session ----------------------------------------------------------------------------------------

    def _follow(self, change: Change) -> None:
        if change.keys is not None:
            self._pull(keep_text=change.source is self)

    def _pull(self, keep_text: bool = False) -> None:
        """Show what the document holds, without answering our own signals."""
        held = self._session.value(self.keys)
        value = held.get("likely") if isinstance(held, Mapping) else held
        if not keep_text:
            text = number_text(value)
            if self._edit.text() != text:
                self._edit.setText(text)
            with QSignalBlocker(self._bar):
                self._bar.setValue(self._notch(value))
            self._say(self._note_text(held))
        self._unit.setText(self._unit_text(value))
        faults = self._session.faults_at(self.keys)
        said = ""
        if faults:
            said = fault_words(faults[0])
            said = f"{said[0].upper()}{said[1:]}"
        if self._fault.text() != said:
            self._fault.setText(said)
            self._fault.setVisible(bool(said))
            self._edit.setProperty("faulty", "true" if said else "false")
            self._edit.style().polish(self._edit)
            self._edit.setAccessibleDescription(said or self._spec.description.help)

    def _unit_text(self, value: Any) -> str:
        """The unit; a share reads as per cent, so that nobody takes one for the other."""
        if self._spec.description.unit == "share":
            return f"= {words.percent(value, 3)}" if _is_number(value) else "of 1"
        return words.unit(self._spec.description.unit, self._currency)

    def _note_text(self, held: Any) -> str:
        if isinstance(held, Mapping):
            ends = " - ".join(number_text(held.get(end)) for end in ("low", "likely", "high"))
            stretched = any(end in self._ends and held.get(end) != self._ends[end] for end in ("low", "high"))
            wider = " (widened to hold what you typed)" if stretched else ""
            return "; ".join(str(each) for each in (f"range {ends}{wider}", held.get("note")) if each)
        if held is None and self._spec.description.default is not None:
            return f"blank: {shown(self._spec.description.default)} is taken"
        return ""

    def _say(self, note: str) -> None:
        """Show a note, shortened where it is long: all of it is in the tip."""
        if self._note.toolTip() != note:
            self._note.setText(textwrap.shorten(note, _NOTE_LETTERS, placeholder=" ..."))
            self._note.setToolTip(note)
            self._note.setVisible(bool(note))

    # To the session ------------------------------------------------------------------------------------------

    def _enter(self) -> None:
        """A new visit to the field: what follows is one step of undo."""
        self._visit += 1
        self._remember_ends()
        self._set_span()

    def _remember_ends(self) -> None:
        held = self._session.value(self.keys)
        self._ends = dict(held) if isinstance(held, Mapping) else {}

    def _typed(self, text: str) -> None:
        typed = read_number(text)
        self._put(typed.value, live=False)
        held = self._session.value(self.keys)
        self._say("; ".join(each for each in (typed.echo, self._note_text(held)) if each))
        with QSignalBlocker(self._bar):
            self._bar.setValue(self._notch(typed.value))

    def _put(self, value: Any, live: bool) -> None:
        held = self._session.value(self.keys)
        merge_key = (self.keys, self._visit)
        if not isinstance(held, Mapping):
            self._session.set_value(self.keys, value, self._spec.step, merge_key, self, live)
        elif _is_number(value):
            self._session.set_value(self.keys, self._stretched(held, value), self._spec.step, merge_key, self, live)
        else:
            self._session.set_value((*self.keys, "likely"), value, self._spec.step, merge_key, self, live)

    def _stretched(self, held: Mapping[str, Any], value: float) -> dict[str, Any]:
        """A range with another likely value; its ends, as they were when the field was entered, give way to it."""
        range_ = {**held, "likely": value}
        for end, outer in (("low", min), ("high", max)):
            if _is_number(self._ends.get(end)):
                range_[end] = outer(self._ends[end], value)
        return range_

    def _dragged(self, notch: int) -> None:
        low, high = self._span
        value = low + (high - low) * notch / _NOTCHES
        value = round(value) if self._spec.description.whole else _rounded(value, high - low)
        self._edit.setText(number_text(value))
        self._put(value, live=self._bar.isSliderDown())

    def _released(self) -> None:
        self._session.changed.emit(Change(self.keys, self))

    def _set_span(self) -> None:
        """From where to where the bar goes: the range if there is one, else from half to one and a half."""
        held = self._session.value(self.keys)
        low: Any
        high: Any
        if isinstance(held, Mapping):
            low, high = held.get("low"), held.get("high")
        else:
            low, high = (held * 0.5, held * 1.5) if _is_number(held) else (math.nan, math.nan)
        usable = bool(_is_number(low) and _is_number(high) and low < high)
        if usable:
            self._span = self._within_bounds(float(low), float(high))
        self._bar.setVisible(usable)
        value = held.get("likely") if isinstance(held, Mapping) else held
        with QSignalBlocker(self._bar):
            self._bar.setValue(self._notch(value))

    def _within_bounds(self, low: float, high: float) -> tuple[float, float]:
        description = self._spec.description
        lowest = description.minimum if description.minimum is not None else description.exclusive_minimum
        highest = description.maximum if description.maximum is not None else description.exclusive_maximum
        return (low if lowest is None else max(low, lowest)), (high if highest is None else min(high, highest))

    def _notch(self, value: Any) -> int:
        low, high = self._span
        if not _is_number(value) or high <= low:
            return 0
        return round(_NOTCHES * min(1.0, max(0.0, (value - low) / (high - low))))


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def _rounded(value: float, span: float) -> float:
    """A dragged value with no more decimals than the bar can tell apart."""
    decimals = max(0, 2 - math.floor(math.log10(span))) if span > 0 else 3
    return round(value, decimals)


class _Edit(QLineEdit):
    """A line that tells when it is entered, and leaves undo and redo to the document."""

    def __init__(self, entered: Callable[[], None]) -> None:
        super().__init__()
        self._entered = entered

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent) and _is_undo_or_redo(event):
            event.ignore()
            return True
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._entered()
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()


def _is_undo_or_redo(event: QKeyEvent) -> bool:
    return event.matches(QKeySequence.StandardKey.Undo) or event.matches(QKeySequence.StandardKey.Redo)


class Bar(QSlider):
    """A bar that a turn of the wheel over the page does not move."""

    @property
    def handle_middle(self) -> int:
        """Where the handle is, in pixels from the left."""
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        handle = QStyle.SubControl.SC_SliderHandle
        return self.style().subControlRect(QStyle.ComplexControl.CC_Slider, option, handle, self).center().x()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
