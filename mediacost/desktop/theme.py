"""The window's colours, day and night, from the same ink and paper as the charts."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from mediacost.charts.palette import DAY, NIGHT, Theme

UNIT = 4
"""All spacing is a multiple of this many pixels."""

CONTROL_HEIGHT = 32

ACCENT = {"day": "#004f66", "night": "#8fc7dd"}
FAULT = {"day": "#84290c", "night": "#f2b294"}
FIELD = {"day": "#ffffff", "night": "#161b1f"}
BLOCK = {"day": "#f1ebdf", "night": "#2a3238"}


def is_night(application: QGuiApplication) -> bool:
    """Whether the system asks for dark colours."""
    return application.styleHints().colorScheme() == Qt.ColorScheme.Dark


def page_theme(night: bool) -> Theme:
    """Ink, paper and media colours by day or by night."""
    return NIGHT if night else DAY


def accent(theme: Theme) -> str:
    """The colour of what can be acted on, on a page in that theme."""
    return ACCENT["night" if theme is NIGHT else "day"]


def dress(application: QApplication, night: bool) -> None:
    """Give the application its style, palette and sheet; add a font where the system has none."""
    application.setStyle("Fusion")
    application.setPalette(_palette(night))
    application.setStyleSheet(_sheet(night))


def ensure_font(application: QApplication) -> None:
    """Without any font installed Qt draws boxes: fall back on the one that comes with the charts."""
    if QFontDatabase.families():
        return
    from importlib.util import find_spec
    from pathlib import Path

    found = find_spec("matplotlib")
    if found is None or found.origin is None:
        return
    for file in (Path(found.origin).parent / "mpl-data" / "fonts" / "ttf").glob("DejaVuSans*.ttf"):
        QFontDatabase.addApplicationFont(str(file))
    application.setFont("DejaVu Sans")


def _palette(night: bool) -> QPalette:
    theme, when = page_theme(night), "night" if night else "day"
    palette = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.paper,
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Base: FIELD[when],
        QPalette.ColorRole.AlternateBase: BLOCK[when],
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.PlaceholderText: theme.faint,
        QPalette.ColorRole.Button: BLOCK[when],
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.ToolTipBase: BLOCK[when],
        QPalette.ColorRole.ToolTipText: theme.ink,
        QPalette.ColorRole.Highlight: ACCENT[when],
        QPalette.ColorRole.HighlightedText: theme.paper,
        QPalette.ColorRole.Link: ACCENT[when],
        QPalette.ColorRole.LinkVisited: ACCENT[when],
        QPalette.ColorRole.Accent: ACCENT[when],
        QPalette.ColorRole.BrightText: FAULT[when],
        QPalette.ColorRole.Mid: theme.grid,
    }
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    for role in (QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText, QPalette.ColorRole.WindowText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.faint))
    return palette


def _sheet(night: bool) -> str:
    theme, when = page_theme(night), "night" if night else "day"
    return f"""
    QLabel[tone="faint"], QLabel[tone="unit"] {{ color: {theme.faint}; }}
    QLabel[tone="fault"] {{ color: {FAULT[when]}; }}
    QFrame[role="block"] {{ background: {BLOCK[when]}; border: 0; }}
    QFrame[role="notice"] {{ background: {BLOCK[when]}; border: 0; border-left: 4px solid {FAULT[when]}; }}
    QLineEdit {{ min-height: {CONTROL_HEIGHT - 4}px; border: 2px solid {FIELD[when]};
                 border-bottom: 2px solid {theme.faint}; padding: 0 4px; background: {FIELD[when]}; }}
    QLineEdit:focus {{ border: 2px solid {ACCENT[when]}; }}
    QLineEdit[faulty="true"] {{ border-bottom: 2px solid {FAULT[when]}; }}
    QPushButton[role="word"] {{ border: 2px solid transparent; padding: 2px 6px; text-align: left;
                 min-height: {CONTROL_HEIGHT - 8}px; color: {ACCENT[when]}; background: transparent; }}
    QPushButton[role="word"]:checked {{ border-bottom: 2px solid {theme.ink}; color: {theme.ink}; }}
    QPushButton[role="word"]:hover {{ background: {BLOCK[when]}; }}
    QPushButton[role="word"]:focus {{ border: 2px solid {ACCENT[when]}; }}
    QPushButton[role="word"]:disabled {{ color: {theme.faint}; }}
    QSlider {{ min-height: {CONTROL_HEIGHT - 4}px; border: 2px solid transparent; }}
    QSlider:focus {{ border: 2px solid {ACCENT[when]}; }}
    QTreeView::item {{ padding: 5px 0; }}
    QTableView {{ selection-background-color: {BLOCK[when]}; selection-color: {theme.ink}; }}
    QScrollArea {{ border: 0; background: transparent; }}
    QScrollArea > QWidget > QWidget {{ background: transparent; }}
    QHeaderView::section {{ background: {theme.paper}; color: {theme.faint}; border: 0; padding: 4px; }}
    QTableView, QTreeView {{ border: 2px solid transparent; background: {theme.paper}; gridline-color: {theme.grid}; }}
    QTableView:focus, QTreeView:focus {{ border: 2px solid {ACCENT[when]}; }}
    QToolTip {{ background: {BLOCK[when]}; color: {theme.ink}; border: 1px solid {theme.faint}; padding: 4px; }}
    """
