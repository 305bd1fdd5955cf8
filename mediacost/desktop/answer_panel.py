"""The answer beside the page: the verdict, its doubt, and for each medium what a kilogram costs and when it pays."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QLabel, QScrollArea, QVBoxLayout, QWidget

from mediacost.charts.palette import Theme
from mediacost.charts.unbroken import unbroken
from mediacost.desktop.answer_block import AnswerBlock
from mediacost.desktop.answer_words import (
    CAUTIONS_LINK,
    HOW_SURE_ELSEWHERE,
    asked_by,
    cautions_words,
    first_fault,
    medium_lines,
    stale_words,
)
from mediacost.desktop.link_label import LinkLabel
from mediacost.desktop.session import Answered, Session
from mediacost.desktop.sizes import scaled
from mediacost.desktop.theme import UNIT
from mediacost.results.answers import Comparison, MediumAnswer
from mediacost.results.verdict import Verdict, verdict

PANEL_WIDTH = 336
_VERDICT_STEP = 1.18


class AnswerPanel(AnswerBlock):
    """The answer in full, each figure a link that asks why."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__(session)
        self._theme = theme
        self._whole = False
        self._stale, self._verdict, self._was_best, self._doubt = _prose("fault"), _prose(), _prose("faint"), _prose()
        self._best_conditions, self._measure, self._conditions = _prose(), _prose("faint"), _prose()
        self._cautions = LinkLabel()
        self._cautions.linkActivated.connect(lambda _: self.cautions_asked.emit())
        self._media: list[QLabel] = []
        self._rows = QVBoxLayout()
        self._lay_out()
        self._size()
        self.show_answer()

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(UNIT * 4, UNIT * 4, UNIT * 4, UNIT * 4)
        column.setSpacing(UNIT * 3)
        for each in (self._stale, self._verdict, self._was_best, self._doubt, self._best_conditions):
            column.addWidget(each)
        self._rows.setSpacing(UNIT * 3)
        column.addLayout(self._rows)
        for each in (self._cautions, self._measure, self._conditions):
            column.addWidget(each)
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inside)
        around = QVBoxLayout(self)
        around.setContentsMargins(0, 0, 0, 0)
        around.addWidget(scroll)

    def _size(self) -> None:
        self.setFixedWidth(scaled(self, PANEL_WIDTH))
        # In a sheet of its own: the application's sheet would undo a font that is set on the label.
        size = _VERDICT_STEP * QFontInfo(self.font()).pixelSize()
        self._verdict.setStyleSheet(f"font-size: {size:.0f}px; font-weight: 600;")

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._size()

    # What is shown -------------------------------------------------------------------------------------------

    @property
    def verdict_text(self) -> str:
        """The sentence that says which medium comes out best."""
        return self._verdict.text()

    @property
    def doubt_text(self) -> str:
        """How much doubt is left."""
        return self._doubt.text()

    @property
    def stale_text(self) -> str:
        """That the answer is an earlier one, and why; '' while it is current."""
        return self._stale.text()

    @property
    def cautions_text(self) -> str:
        """The cautions' line."""
        return self._cautions.text()

    @property
    def was_best_text(self) -> str:
        """Which medium came out best a moment ago; '' where it is the same."""
        return self._was_best.text()

    def figure_label(self, place: int) -> QLabel:
        """What is said of one medium; its figures can be walked to by keyboard."""
        return self._media[place]

    def lines_of(self, place: int) -> str:
        """What is said of one medium, as HTML."""
        return self._media[place].text()

    def complete(self) -> None:
        """Show what the first paint does without: all but the verdict and its doubt."""
        self._whole = True
        self.show_answer()

    def dress(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = theme
        self.show_answer()

    def show_answer(self) -> None:
        """Show the session's answer."""
        answered = self._session.answered
        if answered is None:
            self._show_nothing()
            return
        comparison, said = answered.comparison, verdict(answered.comparison)
        _say(self._stale, stale_words(self._session, answered))
        _say(self._verdict, said.sentence)
        _set_tone(self._verdict, "" if answered.current else "faint")
        self._show_was_best(comparison)
        _say(self._doubt, f"{said.doubt} {HOW_SURE_ELSEWHERE}")
        if self._whole:
            self._show_the_rest(answered, said)

    def _show_the_rest(self, answered: Answered, said: Verdict) -> None:
        comparison = answered.comparison
        _say(self._measure, said.measure)
        self._show_conditions(comparison, said)
        self._show_media(comparison)
        caution = cautions_words(answered)
        _say(self._cautions, f'{caution} <a href="{CAUTIONS_LINK}">Read before you wash</a>' if caution else "")

    def _show_nothing(self) -> None:
        _say(self._stale, "There is no answer yet: " + first_fault(self._session) if self._session.faults else "")
        for each in (
            self._verdict,
            self._was_best,
            self._doubt,
            self._best_conditions,
            self._measure,
            self._conditions,
            self._cautions,
            *self._media,
        ):
            _say(each, "")

    def _show_was_best(self, comparison: Comparison) -> None:
        name = comparison.medium(comparison.best).name if comparison.best is not None else "no medium"
        before = self._was.note("best", name)
        _say(self._was_best, f"Before this change it was {before}." if before else "")

    def _show_conditions(self, comparison: Comparison, said: Verdict) -> None:
        """What must be found out of the best medium stands above all figures, of the others below."""
        ours = 0
        if comparison.best is not None:
            ours = sum(condition.met != "yes" for condition in comparison.medium(comparison.best).conditions)
        _say(self._best_conditions, "\n".join(said.conditions[:ours]))
        _say(self._conditions, "\n".join(said.conditions[ours:]))

    def _show_media(self, comparison: Comparison) -> None:
        while len(self._media) < len(comparison.media):
            lines = LinkLabel()
            lines.linkActivated.connect(lambda link: self.asked.emit(*asked_by(link)))
            self._media.append(lines)
            self._rows.addWidget(lines)
        for place, label in enumerate(self._media):
            here = place < len(comparison.media)
            _say(label, self._medium_html(comparison.media[place], comparison, place) if here else "")

    def _medium_html(self, medium: MediumAnswer, comparison: Comparison, place: int) -> str:
        colour = self._theme.medium(place)
        marks = comparison.heading(medium).removeprefix(medium.name)
        head = f'<span style="color:{colour}">&#9632;</span> <b>{escape(medium.name)}</b>{marks}'
        return "<br>".join([head, *medium_lines(medium, comparison, self._was)])


def _prose(tone: str = "") -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    if tone:
        label.setProperty("tone", tone)
    label.hide()
    return label


def _set_tone(label: QLabel, tone: str) -> None:
    if (label.property("tone") or "") != tone:
        label.setProperty("tone", tone)
        label.style().polish(label)


def _say(label: QLabel, text: str) -> None:
    if not isinstance(label, LinkLabel):
        text = unbroken(text)
    if label.text() != text:
        label.setText(text)
    if label.isHidden() == bool(text):
        label.setVisible(bool(text))
