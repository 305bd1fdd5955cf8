"""The answer in two lines above the page, for a narrow window."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QResizeEvent, QTextDocument
from PySide6.QtWidgets import QLabel, QVBoxLayout

from mediacost.charts.unbroken import unbroken
from mediacost.desktop.answer_block import AnswerBlock
from mediacost.desktop.answer_words import (
    ALL_FIGURES_LINK,
    CAUTIONS_LINK,
    asked_by,
    cautions_words,
    first_fault,
    medium_in_short,
    stale_words,
)
from mediacost.desktop.link_label import LinkLabel
from mediacost.desktop.session import Session
from mediacost.desktop.theme import UNIT
from mediacost.results.answers import Comparison
from mediacost.results.verdict import verdict

NOT_SURE = "How sure is not worked out."


class AnswerStrip(AnswerBlock):
    """Verdict and doubt on one line, each medium's cost and payback on the other; longer only if a line is too short.

    The best medium and the one in use today come first; media for which there is no room are counted.
    """

    all_asked = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._verdict, self._media = QLabel(), LinkLabel()
        self._verdict.setWordWrap(True)
        self._verdict.setStyleSheet("font-weight: 600;")
        self._verdict.setTextFormat(Qt.TextFormat.PlainText)
        self._media.linkActivated.connect(self.follow_link)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(UNIT * 4, UNIT * 2, UNIT * 4, UNIT * 2)
        rows.setSpacing(UNIT)
        rows.addWidget(self._verdict)
        rows.addWidget(self._media)
        self.hide()
        self.show_answer()

    @property
    def text(self) -> str:
        """What the strip says, without marks."""
        return f"{self._verdict.text()}\n{_plain(self._media.text())}"

    @property
    def media_html(self) -> str:
        """The line of media with its links."""
        return self._media.text()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.show_answer()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.show_answer()

    def show_answer(self) -> None:
        """Show the session's answer."""
        answered = self._session.answered
        if answered is None:
            fault = f" {first_fault(self._session)}" if self._session.faults else ""
            self._verdict.setText(f"There is no answer yet:{fault}" if fault else "There is no answer yet.")
            self._media.setText("")
            return
        said = verdict(answered.comparison)
        stale = stale_words(self._session, answered)
        self._verdict.setText(" ".join(each for each in (stale, unbroken(said.sentence), NOT_SURE) if each))
        self._verdict.setToolTip("\n".join(each for each in (stale, *said.paragraphs) if each))
        caution = cautions_words(answered)
        begun = f'<a href="{CAUTIONS_LINK}">{caution}</a> ' if caution else ""
        self._media.setText(self._media_html(begun, answered.comparison))

    def _media_html(self, begun: str, comparison: Comparison) -> str:
        """As many media as one line holds, the two that matter in any case."""
        first = {comparison.best: 0, comparison.baseline: 1}
        media = sorted(comparison.media, key=lambda medium: first.get(medium.id, 2))
        said = [medium_in_short(medium, comparison, self._was) for medium in media]
        if self._fits(begun + "; ".join(said)):
            return begun + "; ".join(said)
        for count in range(len(said) - 1, 1, -1):
            more = f'; <a href="{ALL_FIGURES_LINK}">{len(said) - count} more</a>'
            if self._fits(begun + "; ".join(said[:count]) + more):
                break
        else:
            count = min(2, len(said))
            more = f'; <a href="{ALL_FIGURES_LINK}">{len(said) - count} more</a>' if len(said) > count else ""
        return begun + "; ".join(said[:count]) + more

    def _fits(self, html: str) -> bool:
        return self.fontMetrics().horizontalAdvance(_plain(html)) <= self.width() - UNIT * 9

    def follow_link(self, link: str) -> None:
        """Do what a link in the strip stands for."""
        if link == CAUTIONS_LINK:
            self.cautions_asked.emit()
        elif link == ALL_FIGURES_LINK:
            self.all_asked.emit()
        else:
            self.asked.emit(*asked_by(link))


def _plain(html: str) -> str:
    document = QTextDocument()
    document.setHtml(html)
    return document.toPlainText()
