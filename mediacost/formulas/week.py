"""The repeating week: when each sowing is harvested, washed and ready again, and how many sheets are away.

Days are whole numbers counted from the Monday of the sowing week (Monday is 0, the next Monday 7). All of it is
counting, so it works on whole numbers only.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

DAYS_A_WEEK = 7


class Round(NamedTuple):
    """One sowing's way round: trays, and the days on which they are sown, harvested, washed and ready."""

    trays: int
    sown: int
    harvested: int
    washed: int
    ready: int

    @property
    def days_in_room(self) -> int:
        """Days from sowing to harvest, waiting for the harvest day included [days]."""
        return self.harvested - self.sown

    @property
    def days_away(self) -> int:
        """Days for which the sheet is not in the drawer: sow day up to the day before it is ready [days]."""
        return self.ready - self.sown


def next_allowed_day(day: int, weekdays: Collection[int]) -> int:
    """First day at or after ``day`` that falls on one of the weekdays.

    Parameters
    ----------
    day : int
        Day, counted from a Monday [days]
    weekdays : collection of int
        Allowed weekdays, Monday is 0; at least one [1]

    Returns
    -------
    int
        The day [days]

    Examples
    --------
    >>> next_allowed_day(10, {0, 1, 2, 3, 4})   # day 10 is a Thursday
    10
    >>> next_allowed_day(12, {1, 4})            # a Saturday waits for Tuesday
    15
    """
    if not weekdays:
        raise ValueError("at least one weekday is needed")
    while day % DAYS_A_WEEK not in weekdays:
        day += 1
    return day


def way_round(
    sowing: Sequence[int],
    days_in_tray: int,
    harvest_days: Collection[int],
    wash_days: Collection[int],
    dry_days: int,
) -> tuple[Round, ...]:
    """Follow a week's sowings of one crop through harvest, wash and drying.

    Parameters
    ----------
    sowing : sequence of int
        Trays sown on each weekday, Monday first [1]
    days_in_tray : int
        Days from sowing until the crop is due [days]
    harvest_days : collection of int
        Weekdays on which harvest happens; a crop due on another day waits [1]
    wash_days : collection of int
        Weekdays on which sheets are washed; a harvested sheet waits for the next [1]
    dry_days : int
        Days from the wash day until the morning on which the sheet is ready [days]

    Returns
    -------
    tuple of Round
        One for each weekday on which something is sown: trays [1], days counted from its Monday [days]

    Examples
    --------
    >>> monday, = way_round([20, 0, 0, 0, 0, 0, 0], 10, range(5), range(5), 1)
    >>> monday.harvested, monday.washed, monday.ready
    (10, 10, 11)
    """
    rounds = []
    for day, trays in enumerate(sowing):
        if trays:
            harvested = next_allowed_day(day + days_in_tray, harvest_days)
            washed = next_allowed_day(harvested, wash_days)
            rounds.append(Round(trays, day, harvested, washed, washed + dry_days))
    return tuple(rounds)


def shelf_days(rounds: Sequence[Round], blackout_days: int) -> float:
    """Days on a lit shelf, averaged over the trays sown: days in the room less blackout.

    Parameters
    ----------
    rounds : sequence of Round
        A crop's way round; at least one [1]
    blackout_days : int
        Days stacked or covered, not on a lit shelf [days]

    Returns
    -------
    float
        Days on the lit shelf per tray [days]

    Examples
    --------
    >>> shelf_days(way_round([20, 0, 0, 20, 0, 0, 0], 10, range(5), range(5), 1), 3)
    7.5
    """
    trays = sum(each.trays for each in rounds)
    return sum(each.trays * each.days_in_room for each in rounds) / trays - blackout_days


def places_in_use(trays_per_week: float, shelf_days: float) -> float:
    """Places under lights that are in use on average: trays a week times days on the shelf over seven.

    Parameters
    ----------
    trays_per_week : float
        Trays sown in a week [trays/week]
    shelf_days : float
        Days on a lit shelf, averaged over the trays [days]

    Returns
    -------
    float
        Places in use, averaged over the week [1]

    Examples
    --------
    >>> places_in_use(48, 7.0)
    48.0

    References
    ----------
    Little's law, J. D. C. Little (1961) (second hand).
    """
    return trays_per_week * shelf_days / DAYS_A_WEEK


def wash_loads(rounds: Iterable[Round]) -> dict[int, int]:
    """Trays whose sheets are washed on each weekday of the repeating week.

    Parameters
    ----------
    rounds : iterable of Round
        The way round of every crop [1]

    Returns
    -------
    dict of int to int
        Trays by weekday, Monday is 0; only weekdays that have a load [1]

    Examples
    --------
    >>> wash_loads(way_round([20, 0, 0, 20, 0, 0, 0], 10, range(5), {1, 4}, 1))
    {4: 20, 1: 20}
    """
    loads: dict[int, int] = {}
    for each in rounds:
        weekday = each.washed % DAYS_A_WEEK
        loads[weekday] = loads.get(weekday, 0) + each.trays
    return loads


def trays_away(rounds: Iterable[Round]) -> tuple[int, ...]:
    """Trays whose sheets are away on each weekday, the same sowing repeated for ever.

    Parameters
    ----------
    rounds : iterable of Round
        The way round of every crop [1]

    Returns
    -------
    tuple of int
        Trays away, Monday first [1]

    Examples
    --------
    >>> trays_away(way_round([20, 0, 0, 20, 0, 0, 0], 10, range(5), range(5), 1))
    (80, 60, 60, 80, 60, 60, 60)
    """
    away = [0] * DAYS_A_WEEK
    for each in rounds:
        whole_weeks, days = divmod(each.days_away, DAYS_A_WEEK)
        for weekday in range(DAYS_A_WEEK):
            started_since = (weekday - each.sown) % DAYS_A_WEEK
            away[weekday] += each.trays * (whole_weeks + (started_since < days))
    return tuple(away)
