"""What every chart shares: margins, title, subtitle, axes in the page's colours."""

from __future__ import annotations

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.axis import Axis
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, MaxNLocator

from mediacost.charts.measuring import text_height, text_width, wrapped
from mediacost.charts.palette import Theme
from mediacost.results import words

TITLE_SIZE = 11.5
TEXT_SIZE = 9.5
SMALL_SIZE = 8.5
EDGE = 0.15
"""Room between the words and the edge of the figure, in inches."""

_ABOVE = 0.1
_BETWEEN = 0.05
_BELOW = 0.14
_BETWEEN_TICKS = 0.35
_STEPS = [1, 2, 5, 10]
_MOST_TITLE_LINES = 3
_SHARE_ABOVE = 0.42
"""Most of the figure's height that title and subtitle may take."""
_LOW = 2.8
"""Below this height in inches the subtitle has one line."""


class Frame:
    """A figure with one axes below a finding and a subtitle; margins are in inches and stay when the figure grows."""

    def __init__(self, figure: Figure, theme: Theme, left: float, right: float = 0.25, bottom: float = 0.62) -> None:
        self.figure = figure
        self.theme = theme
        self.finding = ""
        self.left, self.right, self.bottom = left, right, bottom
        figure.set_facecolor(theme.paper)
        self.axes: Axes = figure.add_axes((0.1, 0.1, 0.8, 0.8))
        self._dress(self.axes)
        self.title = figure.text(0, 0, "", color=theme.ink, fontsize=TITLE_SIZE, fontweight="bold", va="top")
        self.subtitle = figure.text(0, 0, "", color=theme.faint, fontsize=TEXT_SIZE, va="top")

    def _dress(self, axes: Axes) -> None:
        theme = self.theme
        axes.set_facecolor(theme.paper)
        axes.tick_params(colors=theme.faint, labelsize=SMALL_SIZE, length=3)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        for side in ("left", "bottom"):
            axes.spines[side].set_color(theme.faint)
        axes.xaxis.label.set_color(theme.faint)
        axes.yaxis.label.set_color(theme.faint)
        axes.xaxis.label.set_fontsize(TEXT_SIZE)
        axes.yaxis.label.set_fontsize(TEXT_SIZE)
        axes.set_axisbelow(True)
        for axis in (axes.xaxis, axes.yaxis):
            axis.set_major_formatter(FuncFormatter(_tick_words))

    @property
    def moving(self) -> list[Artist]:
        """The words that change while a value is dragged."""
        return [self.title]

    @property
    def inside(self) -> tuple[float, float]:
        """Width and height of the axes in inches."""
        width, height = self.figure.get_size_inches()
        box = self.axes.get_position()
        return width * box.width, height * box.height

    def widest_tick(self, axis: Axis) -> float:
        """Width of the widest number on an axis, in inches."""
        low, high = sorted(axis.get_view_interval())
        shown = [tick for tick in axis.get_majorticklocs() if low <= tick <= high]
        return max((text_width(_tick_words(tick), SMALL_SIZE) for tick in shown), default=0.0)

    def set_ticks_across(self) -> None:
        """As many numbers on the horizontal axis as stand beside one another."""
        axis = self.axes.xaxis
        axis.set_major_locator(MaxNLocator(9, steps=_STEPS))
        room = self.inside[0] / (self.widest_tick(axis) + _BETWEEN_TICKS)
        axis.set_major_locator(MaxNLocator(max(1, min(9, int(room))), steps=_STEPS))

    def say(self, title: str, subtitle: str) -> None:
        """Set the finding and the subtitle, and fit the axes below them."""
        self.finding = title
        width, height = self.figure.get_size_inches()
        above = self._title_lines(title)
        self.title.set_text("\n".join(above))
        self.title.set_position((EDGE / width, 1 - _ABOVE / height))
        down = _ABOVE + text_height(len(above), TITLE_SIZE) + _BETWEEN
        below = wrapped(subtitle, width - 2 * EDGE, TEXT_SIZE, most=1 if height < _LOW else 2)
        self.subtitle.set_text("\n".join(below))
        self.subtitle.set_position((EDGE / width, 1 - down / height))
        top = down + text_height(len(below), TEXT_SIZE) + _BELOW
        self.axes.set_position(
            (
                self.left / width,
                self.bottom / height,
                max(0.1, 1 - (self.left + self.right) / width),
                max(0.1, 1 - (self.bottom + top) / height),
            )
        )

    def say_in_place(self, title: str) -> bool:
        """Set the finding without moving anything; False where it needs more lines than there are."""
        self.finding = title
        lines = self._title_lines(title)
        if len(lines) > self.title.get_text().count("\n") + 1:
            return False
        self.title.set_text("\n".join(lines))
        return True

    def _title_lines(self, title: str) -> list[str]:
        width, height = self.figure.get_size_inches()
        most = int(_SHARE_ABOVE * height / text_height(1, TITLE_SIZE)) - 1
        most = min(max(1, most), _MOST_TITLE_LINES)
        return wrapped(title, width - 2 * EDGE, TITLE_SIZE, bold=True, most=most)


def _tick_words(value: float, _: object = None) -> str:
    """A number on an axis: as everywhere, with thousands set apart and never with an exponent."""
    return words.number(value, 6)
