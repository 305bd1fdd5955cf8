"""Undo and redo of whole documents, without a screen."""

from __future__ import annotations

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from mediacost.scenario import History


def state(number: int) -> dict[str, int]:
    return {"n": number}


def filled(*numbers: int, limit: int = 500) -> History:
    history = History(state(0), limit)
    for number in numbers:
        history.push(state(number), f"Step {number}")
    return history


def test_a_new_history_has_nothing_to_undo_and_is_clean() -> None:
    history = History(state(0))
    assert (history.can_undo, history.can_redo, history.undo_words, history.redo_words) == (
        False,
        False,
        "",
        "",
    )
    assert history.is_clean
    with pytest.raises(IndexError):
        history.undo()
    with pytest.raises(IndexError):
        history.redo()


def test_steps_are_undone_and_done_again_with_their_words() -> None:
    history = filled(1, 2)
    assert history.undo_words == "Step 2"
    assert history.undo() == state(1)
    assert (history.undo_words, history.redo_words) == ("Step 1", "Step 2")
    assert history.undo() == state(0)
    assert not history.can_undo
    assert history.redo() == state(1)
    assert history.redo() == state(2)
    assert not history.can_redo
    assert history.data == state(2)


def test_a_push_after_an_undo_drops_what_was_undone() -> None:
    history = filled(1, 2)
    history.undo()
    history.push(state(3), "Step 3")
    assert not history.can_redo
    assert [history.undo(), history.undo()] == [state(1), state(0)]


def test_the_document_is_the_very_object_that_was_pushed() -> None:
    first, second = state(0), state(1)
    history = History(first)
    history.push(second, "x")
    assert history.data is second
    assert history.undo() is first


def test_consecutive_pushes_with_one_key_are_one_step() -> None:
    history = filled(1)
    for number in (2, 3, 4):
        history.push(state(number), f"Type {number}", merge_key=("room", "labour_rate"))
    assert history.undo_words == "Type 2"
    assert history.undo() == state(1)
    assert history.redo() == state(4)


def test_pushes_without_a_key_or_with_another_do_not_fold() -> None:
    history = filled(1, 2)
    history.push(state(3), "a", merge_key="a")
    history.push(state(4), "b", merge_key="b")
    history.push(state(5), "b", merge_key=None)
    assert [history.undo()["n"] for _ in range(5)] == [4, 3, 2, 1, 0]


@pytest.mark.parametrize("between", ["undo and redo", "save", "end_merging"])
def test_nothing_folds_across(between: str) -> None:
    history = History(state(0))
    history.push(state(1), "a", merge_key="a")
    if between == "save":
        history.mark_clean()
    elif between == "end_merging":
        history.end_merging()
    else:
        history.undo()
        history.redo()
    history.push(state(2), "a", merge_key="a")
    assert history.undo() == state(1)


def test_the_first_push_never_folds_into_the_opened_document() -> None:
    history = History(state(0))
    history.push(state(1), "a", merge_key="a")
    assert history.undo() == state(0)


def test_the_clean_mark_follows_undo_and_redo() -> None:
    history = filled(1)
    assert not history.is_clean
    history.mark_clean()
    assert history.is_clean
    history.push(state(2), "x")
    assert not history.is_clean
    history.undo()
    assert history.is_clean
    history.undo()
    assert not history.is_clean
    history.redo()
    assert history.is_clean


def test_a_saved_state_that_was_dropped_is_never_clean_again() -> None:
    history = filled(1)
    history.mark_clean()
    history.undo()
    history.push(state(1), "the same data, another step")
    assert not history.is_clean
    history.undo()
    assert not history.is_clean


def test_a_recovered_document_can_be_marked_as_changed() -> None:
    history = History(state(0))
    history.mark_changed()
    assert not history.is_clean


def test_only_the_newest_steps_are_kept() -> None:
    history = filled(*range(1, 8), limit=3)
    assert [history.undo()["n"] for _ in range(3)] == [6, 5, 4]
    assert not history.can_undo
    assert not history.is_clean


def test_a_limit_of_one_step_is_enough() -> None:
    history = filled(1, 2, limit=1)
    assert history.undo() == state(1)
    assert not history.can_undo


def test_a_limit_below_one_is_refused() -> None:
    with pytest.raises(ValueError, match="one step"):
        History(state(0), 0)


def test_the_usual_limit_is_500_steps() -> None:
    history = filled(*range(1, 601))
    steps = 0
    while history.can_undo:
        history.undo()
        steps += 1
    assert (steps, history.data) == (500, state(100))


class HistoryMachine(RuleBasedStateMachine):
    """The history against two plain lists: what can be undone, and what can be done again."""

    def __init__(self) -> None:
        super().__init__()
        self.history = History(state(0), limit=5)
        self.past: list[int] = [0]
        self.future: list[int] = []
        self.count = 0

    @rule()
    def push(self) -> None:
        self.count += 1
        self.history.push(state(self.count), f"{self.count}")
        self.past = [*self.past, self.count][-6:]
        self.future = []

    @precondition(lambda self: len(self.past) > 1)
    @rule()
    def undo(self) -> None:
        self.future.append(self.past.pop())
        assert self.history.undo() == state(self.past[-1])

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        self.past.append(self.future.pop())
        assert self.history.redo() == state(self.past[-1])

    @rule(key=st.sampled_from(["a", "b"]))
    def push_two_of_one_key(self, key: str) -> None:
        for _ in range(2):
            self.count += 1
            self.history.push(state(self.count), key, merge_key=key)
        self.history.end_merging()
        self.past = [*self.past, self.count][-6:]
        self.future = []

    @invariant()
    def agrees(self) -> None:
        assert self.history.data == state(self.past[-1])
        assert self.history.can_undo == (len(self.past) > 1)
        assert self.history.can_redo == bool(self.future)


TestHistoryMachine = HistoryMachine.TestCase
TestHistoryMachine.settings = settings(max_examples=40, stateful_step_count=30, deadline=None)
