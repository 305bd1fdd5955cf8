"""The window: the list of parts, the page, and the answer beside it, put together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QAction, QCloseEvent, QKeySequence, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from mediacost.desktop.answer_panel import AnswerPanel
from mediacost.desktop.chart_view import ALL_FIGURES, ChartView
from mediacost.desktop.file_desk import FileDesk
from mediacost.desktop.jobs import Jobs
from mediacost.desktop.notice import Notice
from mediacost.desktop.parts import ROOM, Part, parts_of
from mediacost.desktop.parts_list import PartsList
from mediacost.desktop.preferences import Preferences
from mediacost.desktop.session import Change, Session
from mediacost.desktop.sizes import scaled
from mediacost.desktop.strip import AnswerStrip
from mediacost.desktop.theme import dress, is_night, page_theme
from mediacost.desktop.top_line import TopLine
from mediacost.desktop.walking import set_walk

if TYPE_CHECKING:
    from mediacost.desktop.input_page import InputPage
    from mediacost.desktop.why_page import WhyPage

NARROW = 1200
"""Below this width the answer becomes a strip above the page; with larger letters, below more."""


class Window(QWidget):
    """One document on screen. The verdict is painted first; fields and charts are made after the first paint."""

    def __init__(self, session: Session, preferences: Preferences, night: bool | None = None) -> None:
        super().__init__()
        self.session = session
        self.jobs = Jobs(self)
        self._preferences = preferences
        self._night = is_night(_application()) if night is None else night
        theme = page_theme(self._night)
        self._part = ROOM
        self._finished = False
        self._closed = False
        self.notice = Notice()
        self.files = FileDesk(session, self.notice, preferences, self)
        self.panel = AnswerPanel(session, theme)
        self.strip = AnswerStrip(session)
        self.charts = ChartView(session, self.jobs, theme)
        self._why: WhyPage | None = None
        self.parts = PartsList()
        self._inputs = QStackedWidget()
        self._pages: dict[str, InputPage] = {}
        self._actions = self._make_actions()
        self.top_line = TopLine(session, self._actions)
        self._middle = QStackedWidget()
        self._left_focus: QWidget | None = None
        self._lay_out()
        self._connect(night is None)
        # Shown again where there is room for it: a hidden panel does not keep the window from being narrow.
        self.panel.hide()
        self.resize(preferences.size)
        self._list_parts()
        self._name_window()

    # Putting together ----------------------------------------------------------------------------------------

    def _make_actions(self) -> dict[str, QAction]:
        made: dict[str, QAction] = {}
        for name, words, keys, act in (
            ("open", "Open...", QKeySequence(QKeySequence.StandardKey.Open), self.files.ask_open),
            ("save", "Save", QKeySequence(QKeySequence.StandardKey.Save), self.files.save),
            ("save_as", "Save as...", QKeySequence("Ctrl+Shift+S"), self.files.ask_save_as),
            ("undo", "Undo", QKeySequence(QKeySequence.StandardKey.Undo), self.session.undo),
            ("redo", "Redo", QKeySequence("Ctrl+Shift+Z"), self.session.redo),
        ):
            action = QAction(words, self)
            action.setShortcut(keys)
            action.triggered.connect(lambda _=False, act=act: act())
            self.addAction(action)
            made[name] = action
        leave = QAction("Close", self)
        leave.setShortcuts([QKeySequence("Ctrl+Q"), QKeySequence("Ctrl+W")])
        leave.triggered.connect(self.close)
        self.addAction(leave)
        return made

    def _lay_out(self) -> None:
        page = QSplitter(Qt.Orientation.Vertical)
        page.setChildrenCollapsible(False)
        page.addWidget(self.charts)
        page.addWidget(self._inputs)
        page.setSizes([380, 300])
        page.setStretchFactor(0, 3)
        page.setStretchFactor(1, 2)
        self._middle.addWidget(page)
        columns = QHBoxLayout()
        columns.setSpacing(0)
        columns.addWidget(self.parts)
        columns.addWidget(self._middle, 1)
        columns.addWidget(self.panel)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        for row in (self.top_line, self.notice, self.strip):
            rows.addWidget(row)
        rows.addLayout(columns, 1)

    def _connect(self, follow_system: bool) -> None:
        for asking in (self.panel, self.strip, self.charts):
            asking.asked.connect(self.ask_why)
        for cautioning in (self.panel, self.strip):
            cautioning.cautions_asked.connect(self.show_cautions)
        self.strip.all_asked.connect(lambda: self.charts.choose(ALL_FIGURES))
        self.parts.chosen.connect(self.show_part)
        self.charts.grown.connect(self._set_walk)
        self.session.changed.connect(self._follow)
        if follow_system:
            _application().styleHints().colorSchemeChanged.connect(self._follow_system)

    def _set_walk(self) -> None:
        why = [self._why] if self._why is not None else []
        set_walk([self.top_line, self.notice, self.strip, self.parts, self.charts, self._inputs, *why, self.panel])

    @property
    def is_finished(self) -> bool:
        """Whether what comes after the first paint is there: the fields; the chart may still be on its way."""
        return self._part.id in self._pages

    # Parts of the job ----------------------------------------------------------------------------------------

    @property
    def page(self) -> InputPage:
        """The fields on show."""
        return self._pages[self._part.id]

    def show_part(self, part: Part) -> None:
        """Show the fields of a part of the job."""
        self._part = part
        self.parts.mark(part)
        if not self._finished:
            return
        # Fetched now and not before: the first paint does without fields.
        from mediacost.desktop.input_page import InputPage

        if part.id not in self._pages:
            self._pages[part.id] = InputPage(self.session, part)
            self._inputs.addWidget(self._pages[part.id])
            self._set_walk()
        self._inputs.setCurrentWidget(self._pages[part.id])
        self._middle.setCurrentIndex(0)

    def _list_parts(self) -> None:
        """Other media: the parts are listed anew, and their pages made anew."""
        for page in self._pages.values():
            self._inputs.removeWidget(page)
            page.deleteLater()
        self._pages = {}
        parts = parts_of(self.session.data)
        self.parts.list_parts(parts)
        wanted = next((part for part in parts if part.id == self._part.id), ROOM)
        first_rival = parts[min(2, len(parts) - 1)]
        self.show_part(wanted if wanted.id != ROOM.id else first_rival)

    def show_cautions(self) -> None:
        """Show the page on which the cautions stand in full: that of the first reusable medium."""
        for part in parts_of(self.session.data):
            if part.medium is not None and self.session.value(("media", part.medium, "use")) == "reusable":
                self.show_part(part)
                QTimer.singleShot(0, self.page, self.page.show_cautions)
                return

    # Why -----------------------------------------------------------------------------------------------------

    @property
    def why(self) -> WhyPage:
        """The page that opens a figure; made when it is first asked for."""
        if self._why is None:
            from mediacost.desktop.why_page import WhyPage

            self._why = WhyPage(self.session)
            self._why.left.connect(self.leave_why)
            self._middle.addWidget(self._why)
            self._set_walk()
        return self._why

    def ask_why(self, medium: str, figure: str) -> None:
        """Open a figure on the page."""
        if not self._is_why_open:
            self._left_focus = self.focusWidget()
        self._middle.setCurrentWidget(self.why)
        self.why.ask(medium, figure)

    @property
    def _is_why_open(self) -> bool:
        return self._why is not None and self._middle.currentWidget() is self._why

    def leave_why(self) -> None:
        """Back to the page, and to where the keyboard was."""
        if self._is_why_open:
            self._middle.setCurrentIndex(0)
            if self._left_focus is not None and self._left_focus.isVisible():
                self._left_focus.setFocus()
        self._left_focus = None

    # Following -----------------------------------------------------------------------------------------------

    def _follow(self, change: Change) -> None:
        if change.keys is None:
            self._left_focus = None
            self._list_parts()
        self._name_window()

    def _name_window(self) -> None:
        name = self.session.path.name if self.session.path else "not saved yet"
        self.setWindowTitle(f"{name}{'' if self.session.is_clean else ' (changed)'} - mediacost")

    def _follow_system(self) -> None:
        night = is_night(_application())
        if night != self._night:
            self.dress(night)

    def dress(self, night: bool) -> None:
        """Take the colours of the night, or of the day."""
        self._night = night
        dress(_application(), night)
        self.panel.dress(page_theme(night))
        self.charts.dress(page_theme(night))

    # Events --------------------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._finished:
            self._finished = True
            QTimer.singleShot(0, self, self._finish)

    def _finish(self) -> None:
        """What the first paint did not need: the rest of the answer, the fields, then the charts."""
        if self._closed:
            return
        self.panel.complete()
        self.show_part(self._part)
        self._set_walk()
        if self.focusWidget() is None or self.focusWidget() in self.top_line.words.values():
            self.parts.focus_marked()
        self.charts.load()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._choose_layout()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._choose_layout()

    def _choose_layout(self) -> None:
        narrow = self.width() < scaled(self, NARROW)
        self.panel.setVisible(not narrow)
        self.strip.setVisible(narrow)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self.files.may_leave():
            event.ignore()
            return
        self._closed = True
        self.jobs.stop()
        self._preferences.size = self.size()
        event.accept()


def _application() -> QApplication:
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    return application
