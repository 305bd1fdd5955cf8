"""Work off the window's thread: the newest answer wins, failures come back, stopping waits."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QThread

from mediacost.desktop.jobs import Jobs
from tests.robots import LONGEST_WAIT_S, wait_until


@pytest.fixture
def jobs(qapp: QCoreApplication) -> Iterator[Jobs]:
    made = Jobs()
    yield made
    made.stop()
    made.deleteLater()


def unexpected(error: Exception) -> None:
    raise AssertionError("a failure was not expected") from error


def test_a_result_comes_back_on_the_asking_thread(jobs: Jobs) -> None:
    here, where = QThread.currentThread(), []
    workers = []

    def work() -> int:
        workers.append(threading.get_ident())
        return 42

    jobs.run("sum", work, lambda result: where.append((result, QThread.currentThread() is here)), unexpected)
    wait_until(lambda: where, "the result")
    assert where == [(42, True)]
    assert workers != [threading.get_ident()]


def test_a_failure_comes_back_whole(jobs: Jobs) -> None:
    failures: list[Exception] = []

    def work() -> None:
        raise ValueError("no such thing")

    jobs.run("fail", work, lambda _: pytest.fail("no result was expected"), failures.append)
    wait_until(lambda: failures, "the failure")
    assert isinstance(failures[0], ValueError)
    assert str(failures[0]) == "no such thing"


def test_of_jobs_with_one_name_only_the_newest_answers(jobs: Jobs) -> None:
    gate = threading.Event()
    got: list[int] = []

    def slow(number: int) -> int:
        assert gate.wait(LONGEST_WAIT_S)
        return number

    for number in range(5):
        jobs.run("same", lambda number=number: slow(number), got.append, unexpected)
    gate.set()
    wait_until(lambda: got, "an answer")
    settle()
    assert got == [4]


def test_a_late_failure_of_an_old_job_is_not_told(jobs: Jobs) -> None:
    gate, got = threading.Event(), []

    def fail_late() -> None:
        assert gate.wait(LONGEST_WAIT_S)
        raise ValueError("old")

    jobs.run("same", fail_late, lambda _: pytest.fail("no result"), unexpected)
    jobs.run("same", lambda: "new", got.append, unexpected)
    gate.set()
    wait_until(lambda: got, "the answer of the new job")
    settle()
    assert got == ["new"]


def test_jobs_with_different_names_all_answer(jobs: Jobs) -> None:
    got: list[str] = []
    for name in ("a", "b", "c"):
        jobs.run(name, lambda name=name: name, got.append, unexpected)
    wait_until(lambda: len(got) == 3, "three answers")
    assert sorted(got) == ["a", "b", "c"]


def test_stopping_waits_and_then_nothing_is_told(jobs: Jobs) -> None:
    began, ended = threading.Event(), threading.Event()

    def work() -> None:
        began.set()
        threading.Event().wait(0.05)
        ended.set()

    jobs.run("slow", work, lambda _: pytest.fail("nothing is to be told"), unexpected)
    assert began.wait(LONGEST_WAIT_S)
    jobs.stop()
    assert ended.is_set()
    settle()


def settle() -> None:
    """Let everything that is queued arrive."""
    for _ in range(20):
        QCoreApplication.processEvents()
