"""What the tests of charts share."""

from __future__ import annotations

import pytest

from mediacost.results import compare
from mediacost.results.answers import Comparison
from mediacost.scenario import check
from tests.charts.big_room import big_room as big_room_data


@pytest.fixture(scope="session")
def big_room() -> Comparison:
    """Eight media and six crops."""
    checked = check(big_room_data())
    assert checked.scenario is not None, [str(fault) for fault in checked.faults]
    return compare(checked.scenario)
