"""The Qt shell around a chart: it draws the chart's figure, and repaints only what moves while a value is dragged."""

from __future__ import annotations

from matplotlib.backend_bases import LocationEvent, MouseEvent
from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg
from matplotlib.figure import Figure
from PySide6.QtCore import QPoint, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QFontInfo, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QToolTip

from mediacost.charts.catalogue import CHARTS
from mediacost.charts.names import CHART_WORDS
from mediacost.charts.palette import Theme
from mediacost.results.answers import Comparison

_DPI = 100.0
_USUAL_FACE = 12.0
"""Size of the system's face in pixels at which a chart has its usual size of letters."""
_LEAST_INCHES = (5.6, 2.5)
"""Letters grow with the system's face only as long as the chart keeps this much room."""
_ASKING_KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class ChartCanvas(FigureCanvasQTAgg):
    """One chart of one comparison. A click on a medium, or Enter after choosing it with the arrow keys, asks why."""

    asked = Signal(str, str)
    """Carries the medium and the path of the figure that the chart shows of it."""

    def __init__(self, name: str, theme: Theme, accent: str, comparison: Comparison) -> None:
        super().__init__(Figure(dpi=_DPI))
        self._media = tuple(medium.id for medium in comparison.media)
        self._comparison = comparison
        self._accent = QColor(accent)
        self._place = 0
        self.chart = CHARTS[name](self.figure, theme, comparison)
        self._background = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(CHART_WORDS[name])
        self.setMinimumSize(320, 230)
        self.mpl_connect("button_release_event", self._clicked)
        self.mpl_connect("motion_notify_event", self._hovered)
        self._tell()

    # What is shown -------------------------------------------------------------------------------------------

    def fits(self, comparison: Comparison) -> bool:
        """Whether this chart can show a comparison: its parts are built for these media."""
        return tuple(medium.id for medium in comparison.media) == self._media

    def show_comparison(self, comparison: Comparison) -> None:
        """Move the chart and draw it whole, once this turn is over."""
        if comparison is self._comparison and self._background is None:
            return
        self._comparison = comparison
        self._stand_still()
        self.chart.show(comparison)
        self._tell()
        self.draw_idle()

    def follow(self, comparison: Comparison) -> None:
        """Move the chart while a value is dragged: axes stand still and the rest is repainted at once.

        Where the new values do not fit into the axes, everything is drawn anew.
        """
        self._comparison = comparison
        if self._background is None:
            self._set_moving(True)
            self._draw_background()
        if not self.chart.follow(comparison):
            self.chart.show(comparison, roomy=True)
            self._draw_background()
        self.restore_region(self._background)
        for artist in self.chart.moving:
            self.figure.draw_artist(artist)
        self.blit(self.figure.bbox)

    @property
    def is_following(self) -> bool:
        """Whether a value is being dragged, so that only what moves is repainted."""
        return self._background is not None

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._stand_still()
        self.figure.dpi = _DPI * self._letter_scale() * self.device_pixel_ratio
        super().resizeEvent(event)
        self.chart.show(self._comparison)

    def _draw_background(self) -> None:
        self.draw()
        self._background = self.copy_from_bbox(self.figure.bbox)

    def _stand_still(self) -> None:
        self._background = None
        self._set_moving(False)

    def _set_moving(self, moving: bool) -> None:
        for artist in self.chart.moving:
            artist.set_animated(moving)

    def _letter_scale(self) -> float:
        """How much larger than usual the letters are: with the system's face, as far as there is room."""
        wanted = QFontInfo(self.font()).pixelSize() / _USUAL_FACE
        room = min(
            side / (_DPI * inches) for side, inches in zip((self.width(), self.height()), _LEAST_INCHES, strict=True)
        )
        return max(1.0, min(wanted, room))

    # What can be asked ---------------------------------------------------------------------------------------

    def _clicked(self, event: MouseEvent) -> None:
        place = self.chart.place_at(event.x, event.y)
        if event.button == 1 and place is not None:
            self._choose(place)
            self._ask()

    def _hovered(self, event: LocationEvent) -> None:
        place = self.chart.place_at(event.x, event.y)
        self.setCursor(Qt.CursorShape.ArrowCursor if place is None else Qt.CursorShape.PointingHandCursor)
        if place is None:
            QToolTip.hideText()
            return
        ratio = self.device_pixel_ratio
        spot = self.mapToGlobal(QPoint(int(event.x / ratio), int(self.height() - event.y / ratio)))
        QToolTip.showText(spot, f"{self._comparison.media[place].name}: click to ask why", self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Right: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_Left: -1}
        if event.key() in steps:
            self._choose((self._place + steps[Qt.Key(event.key())]) % len(self._media))
        elif event.key() in _ASKING_KEYS:
            self._ask()
        else:
            super().keyPressEvent(event)
            event.ignore()

    def _choose(self, place: int) -> None:
        self._place = place
        self._tell()
        self.update()

    def _ask(self) -> None:
        self.asked.emit(self._media[self._place], self.chart.figure_of(self._place))

    def _tell(self) -> None:
        """The finding is also what a screen reader says, and which medium Enter would ask about."""
        finding = self.chart.frame.finding
        name = self._comparison.media[self._place].name
        self.setAccessibleDescription(f"{finding}. Arrow keys choose a medium, Enter asks why; chosen: {name}.")

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(QPen(self._accent, 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
            painter.drawRect(self._chosen_rect())
            painter.end()

    def _chosen_rect(self) -> QRectF:
        box, ratio = self.chart.box_of(self._place), self.device_pixel_ratio
        return QRectF(box.x0 / ratio, self.height() - box.y1 / ratio, box.width / ratio, box.height / ratio)
