"""The repeating week, against sheets followed day by day."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mediacost.formulas.week import next_allowed_day, shelf_days, trays_away, wash_loads, way_round

weekdays = st.sets(st.integers(0, 6), min_size=1)
sowings = st.lists(st.integers(0, 30), min_size=7, max_size=7).filter(any)


@given(st.integers(0, 60), weekdays)
def test_next_allowed_day(day, allowed):
    found = next_allowed_day(day, allowed)
    assert found % 7 in allowed
    assert all(skipped % 7 not in allowed for skipped in range(day, found))


def test_no_allowed_day_is_refused():
    with pytest.raises(ValueError, match="weekday"):
        next_allowed_day(3, set())


@given(sowings, st.integers(1, 30), weekdays, weekdays, st.integers(0, 5))
def test_trays_away_counted_day_by_day(sowing, days_in_tray, harvest_days, wash_days, dry_days):
    """Twelve weeks of sowing before the week that is looked at, each tray followed by its dates."""
    rounds = way_round(sowing, days_in_tray, harvest_days, wash_days, dry_days)
    looked_at = 12 * 7
    counted = [0] * 7
    for week in range(13):
        for each in rounds:
            first, ready = each.sown + 7 * week, each.ready + 7 * week
            for weekday in range(7):
                counted[weekday] += each.trays * (first <= looked_at + weekday < ready)
    assert trays_away(rounds) == tuple(counted)


@given(sowings, st.integers(1, 30), weekdays, weekdays, st.integers(0, 5))
def test_on_average_as_many_are_away_as_stay_long(sowing, days_in_tray, harvest_days, wash_days, dry_days):
    """Little's law (second hand): what is away is what is sown a day times the days away."""
    rounds = way_round(sowing, days_in_tray, harvest_days, wash_days, dry_days)
    assert sum(trays_away(rounds)) == sum(each.trays * each.days_away for each in rounds)


@given(sowings, st.integers(1, 30), weekdays, weekdays, st.integers(0, 5))
def test_every_sheet_sown_is_washed_once(sowing, days_in_tray, harvest_days, wash_days, dry_days):
    loads = wash_loads(way_round(sowing, days_in_tray, harvest_days, wash_days, dry_days))
    assert sum(loads.values()) == sum(sowing)
    assert set(loads) <= wash_days
    assert all(loads.values())


def test_washed_early_and_sown_the_same_day():
    """Seven days in the tray, washed on the harvest day and ready that morning: one set of sheets is enough."""
    rounds = way_round([20, 0, 0, 0, 0, 0, 0], 7, range(7), range(7), 0)
    assert trays_away(rounds) == (20,) * 7
    assert trays_away(way_round([20, 0, 0, 0, 0, 0, 0], 7, range(7), range(7), 1)) == (40, *(20,) * 6)


def test_a_harvest_that_waits_stays_on_the_shelf():
    """Due on Saturday, cut on Monday: two days more on the shelf."""
    due_saturday = way_round([0, 0, 0, 0, 0, 10, 0], 7, range(5), range(5), 1)
    assert shelf_days(due_saturday, 3) == 6.0


def test_shelf_days_may_come_out_at_nothing():
    """Left to the caller to refuse."""
    assert shelf_days(way_round([10, 0, 0, 0, 0, 0, 0], 3, range(7), range(7), 1), 3) == 0.0


def test_nothing_sown_goes_no_way():
    assert way_round([0] * 7, 10, range(5), range(5), 1) == ()
    assert wash_loads([]) == {}
    assert trays_away([]) == (0,) * 7
