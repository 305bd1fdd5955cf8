"""One chart at a time, chosen by words; drawn once the window is up, and following what is typed or dragged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLabel, QPushButton, QStackedLayout, QVBoxLayout, QWidget

from mediacost.charts.names import CHART_WORDS
from mediacost.charts.palette import Theme
from mediacost.desktop.jobs import Jobs
from mediacost.desktop.session import Change, Session
from mediacost.desktop.theme import UNIT, accent

if TYPE_CHECKING:
    from mediacost.desktop.canvas import ChartCanvas
    from mediacost.desktop.figures_table import FiguresTable

AFTER_LAST_KEY_MS = 40
ALL_FIGURES = "all_figures"
_STALE = "from before the fault"


class ChartView(QWidget):
    """The words to choose by, and below them the chosen chart or the table of all figures."""

    asked = Signal(str, str)
    """Carries a medium and the path of a figure."""
    drawn = Signal()
    """Emitted when a chart is on show."""
    grown = Signal()
    """Emitted when there is a new chart or table to walk to by keyboard."""

    def __init__(self, session: Session, jobs: Jobs, theme: Theme) -> None:
        super().__init__()
        self._session, self._jobs, self._theme = session, jobs, theme
        self._canvases: dict[str, ChartCanvas] = {}
        self._table: FiguresTable | None = None
        self._libraries_here = False
        self._words = QButtonGroup(self)
        self._chosen = next(iter(CHART_WORDS))
        self._waiting = QLabel("The chart is on its way.")
        self._waiting.setProperty("tone", "faint")
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._stale = QLabel(_STALE)
        self._stale.setProperty("tone", "fault")
        self._stale.hide()
        self._stack = QStackedLayout()
        self._stack.addWidget(self._waiting)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(UNIT)
        rows.addLayout(self._choosing())
        rows.addLayout(self._stack, 1)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(AFTER_LAST_KEY_MS)
        self._later.timeout.connect(self._show)
        session.changed.connect(self._follow)

    def sizeHint(self) -> QSize:
        return QSize(760, 380)

    @property
    def words(self) -> list[QPushButton]:
        """The words to choose by."""
        return [word for word in self._words.buttons() if isinstance(word, QPushButton)]

    @property
    def chosen(self) -> str:
        """The name of the chart that is shown, or ``all_figures``."""
        return self._chosen

    @property
    def canvas(self) -> ChartCanvas | None:
        """The canvas on show; None before it is there and while the table is shown."""
        return self._canvases.get(self._chosen)

    @property
    def stale_text(self) -> str:
        """That what is drawn is an earlier answer; '' while it is current."""
        return self._stale.text() if not self._stale.isHidden() else ""

    @property
    def is_behind(self) -> bool:
        """Whether what is drawn is yet to follow the last change."""
        return self._later.isActive()

    @property
    def waiting_text(self) -> str:
        """What stands in the place of a chart that is not there."""
        return self._waiting.text()

    @property
    def table(self) -> FiguresTable | None:
        """The table of all figures, once it was shown."""
        return self._table

    def _choosing(self) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setContentsMargins(UNIT * 3, 0, UNIT * 3, 0)
        for name, label in {**CHART_WORDS, ALL_FIGURES: "All figures"}.items():
            word = QPushButton(label)
            word.setProperty("role", "word")
            word.setProperty("chart", name)
            word.setCheckable(True)
            word.setChecked(name == self._chosen)
            self._words.addButton(word)
            line.addWidget(word)
        line.addStretch(1)
        line.addWidget(self._stale)
        self._words.buttonClicked.connect(lambda word: self.choose(word.property("chart")))
        return line

    def choose(self, name: str) -> None:
        """Show another chart, or the table."""
        self._chosen = name
        for word in self._words.buttons():
            word.setChecked(word.property("chart") == name)
        self._show()

    def load(self) -> None:
        """Fetch the drawing libraries off the window's thread, then draw."""
        self._jobs.run("charts", load_libraries, self._loaded, self._failed)

    def dress(self, theme: Theme) -> None:
        """Take other colours: charts are built anew."""
        self._theme = theme
        self._forget()
        self._show()

    def _loaded(self, _: object) -> None:
        self._libraries_here = True
        self._show()

    def _failed(self, error: Exception) -> None:
        self._waiting.setText(f"Charts cannot be drawn here: {error}")

    def _follow(self, change: Change) -> None:
        if change.keys is None:
            self._forget()
        if self._chosen == ALL_FIGURES:
            self._show()
            return
        canvas = self.canvas
        if change.live and canvas is not None and self._session.answered is not None:
            canvas.follow(self._session.answered.comparison)
        elif not change.live:
            # Counted from the last key, so that a redraw does not come between two.
            self._later.start()
        elif not self._later.isActive():
            self._later.start()

    def _forget(self) -> None:
        """Other media or other colours: nothing drawn so far fits."""
        for canvas in self._canvases.values():
            self._stack.removeWidget(canvas)
            canvas.deleteLater()
        self._canvases = {}

    def _show(self) -> None:
        answered = self._session.answered
        self._stale.setVisible(answered is not None and not answered.current)
        if answered is None:
            self._waiting.setText("No chart yet: there is no answer to draw.")
            self._stack.setCurrentWidget(self._waiting)
        elif self._chosen == ALL_FIGURES:
            self._show_table()
        elif self._libraries_here:
            self._show_chart()

    def _show_table(self) -> None:
        assert self._session.answered is not None
        comparison = self._session.answered.comparison
        if self._table is None:
            from mediacost.desktop.figures_table import FiguresTable

            self._table = FiguresTable(comparison)
            self._table.asked.connect(self.asked)
            self._stack.addWidget(self._table)
            self.grown.emit()
        else:
            self._table.show_comparison(comparison)
        self._stack.setCurrentWidget(self._table)

    def _show_chart(self) -> None:
        from mediacost.desktop.canvas import ChartCanvas

        assert self._session.answered is not None
        comparison = self._session.answered.comparison
        canvas = self._canvases.get(self._chosen)
        if canvas is not None and not canvas.fits(comparison):
            self._forget()
            canvas = None
        if canvas is None:
            canvas = ChartCanvas(self._chosen, self._theme, accent(self._theme), comparison)
            canvas.asked.connect(self.asked)
            self._canvases[self._chosen] = canvas
            self._stack.addWidget(canvas)
            self.grown.emit()
        else:
            canvas.show_comparison(comparison)
        self._stack.setCurrentWidget(canvas)
        self.drawn.emit()


def load_libraries() -> None:
    """Import what draws; the window runs it where it holds up nothing."""
    import matplotlib.backends.backend_qtagg

    import mediacost.charts.catalogue  # noqa: F401

    assert matplotlib.backends.backend_qtagg
