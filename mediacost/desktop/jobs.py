"""Work off the window's thread: a function in, its result or its failure back on the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal


class _Post(QObject):
    """Carries a result across threads: the connection queues it on the receiver's thread."""

    arrived = Signal(str, int, object, object)


class _Job(QRunnable):
    def __init__(self, name: str, number: int, work: Callable[[], Any], post: _Post) -> None:
        super().__init__()
        self._name, self._number, self._work, self._post = name, number, work, post

    def run(self) -> None:
        result, failure = None, None
        try:
            result = self._work()
        except Exception as error:  # handed back whole: whoever asked decides
            failure = error
        self._post.arrived.emit(self._name, self._number, result, failure)


class Jobs(QObject):
    """Runs jobs by name; of jobs with the same name only the newest answers.

    A job owns a snapshot of what it needs and touches no widget.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._post = _Post(self)
        self._post.arrived.connect(self._deliver)
        self._newest: dict[str, int] = {}
        self._answer: dict[str, tuple[Callable[[Any], None], Callable[[Exception], None]]] = {}

    def run(
        self,
        name: str,
        work: Callable[[], Any],
        done: Callable[[Any], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Start ``work``; call ``done`` with its result, or ``failed`` with the exception, unless a newer one came."""
        number = self._newest.get(name, 0) + 1
        self._newest[name] = number
        self._answer[name] = (done, failed)
        self._pool.start(_Job(name, number, work, self._post))

    def stop(self) -> None:
        """Forget every job and wait for those under way."""
        self._newest.clear()
        self._answer.clear()
        self._pool.clear()
        self._pool.waitForDone()

    def _deliver(self, name: str, number: int, result: Any, failure: Exception | None) -> None:
        if self._newest.get(name) != number:
            return
        done, failed = self._answer.pop(name)
        if failure is None:
            done(result)
        else:
            failed(failure)
