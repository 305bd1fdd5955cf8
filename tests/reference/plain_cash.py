"""What follows from a list of monthly cash flows, found by looking rather than by formula.

Part of the second reading in `plain_model`; shares no code with the package. Flow t falls at the end of month
t, flow 0 now.
"""

from __future__ import annotations

import math

DUST = 1e-9
"""Of the largest absolute flow: anything smaller counts as nothing."""

GRID = sorted(
    {round(sign * 2e-4 * i, 10) for i in range(1501) for sign in (1, -1)}
    | {sign * 0.3 * 1.02**i for i in range(216) for sign in (1, -1)}
)
"""Logarithms of monthly discount factors at which to look: fine near 1, out to factors of 2e9 and 5e-10."""


def discounted(flows: list[float], rate: float) -> list[float]:
    """Return each flow's worth today at a yearly rate."""
    return [flow / (1 + rate) ** (month / 12) for month, flow in enumerate(flows)]


def net_present_value(flows: list[float], rate: float) -> float:
    """Return the sum of the flows' worth today."""
    return math.fsum(discounted(flows, rate))


def savings_to_investment(flows: list[float], rate: float) -> float | None:
    """Return the worth of all later flows over the net outlay, None if nothing is laid out."""
    if -flows[0] <= 0:
        return None
    return math.fsum(discounted(flows, rate)[1:]) / -flows[0]


def running_sums(flows: list[float]) -> tuple[list[float], float]:
    """Return the cumulative flow at each month end, and how far from zero still counts as zero."""
    return [math.fsum(flows[: end + 1]) for end in range(len(flows))], DUST * max(map(abs, flows))


def crossing(before: int, sums: list[float]) -> float:
    """Return when the cumulative reaches zero between two month ends, straight between them."""
    return before + min(1.0, -sums[before] / (sums[before + 1] - sums[before]))


def payback_for_good(flows: list[float]) -> float | None:
    """Return the last month at which the cumulative comes up from below zero."""
    sums, dust = running_sums(flows)
    below = [month for month, value in enumerate(sums) if value < -dust]
    if not below:
        return 0.0
    if below[-1] == len(sums) - 1:
        return None
    return crossing(below[-1], sums)


def first_payback(flows: list[float]) -> float | None:
    """Return the first month at which the cumulative reaches zero, None if it is never above zero."""
    sums, dust = running_sums(flows)
    if max(sums) <= dust:
        return None
    if sums[0] >= -dust:
        return 0.0
    month = 0
    while sums[month + 1] < -dust:
        month += 1
    return crossing(month, sums)


def paybacks(flows: list[float], rate: float) -> dict[str, float | None]:
    """Return the four paybacks, in months."""
    worth = discounted(flows, rate)
    return {
        "simple": payback_for_good(flows),
        "discounted": payback_for_good(worth),
        "first_simple": first_payback(flows),
        "first_discounted": first_payback(worth),
    }


def reading_at(by_month: list[float], month: float) -> float:
    """Return the value of a monthly series at a moment between two month ends."""
    before = min(math.floor(month), len(by_month) - 2)
    return by_month[before] + (month - before) * (by_month[before + 1] - by_month[before])


def _sign_of_worth(flows: list[float], log_factor: float) -> int:
    """Return the sign of the flows' worth; the powers are arranged so that none overflows."""
    terms = flows if log_factor > 0 else flows[::-1]
    factor = math.exp(-abs(log_factor))
    total = 0.0
    for flow in terms:
        total = total * factor + flow
    return (total > 0) - (total < 0)


def internal_rate(flows: list[float]) -> float | None:
    """Return the one yearly rate at which the flows are worth nothing today, None if none or several.

    All roots lie within the grid: dust is left out, so no coefficient is below 1e-9 of the largest, and
    Cauchy's bound holds.
    """
    dust = DUST * max(map(abs, flows))
    flows = [flow if abs(flow) > dust else 0.0 for flow in flows]
    while flows and flows[0] == 0:
        flows = flows[1:]
    while flows and flows[-1] == 0:
        flows = flows[:-1]
    if len(flows) < 2:
        return None
    roots = []
    signs = [_sign_of_worth(flows, place) for place in GRID]
    for left, right, at_left, at_right in zip(GRID, GRID[1:], signs, signs[1:], strict=False):
        if at_left == 0:
            roots.append(left)
        elif at_left * at_right < 0:
            roots.append(_bisect(flows, left, right, at_left))
    # above 9,900 % or below -99 % a month there is nothing that a grower would call a rate
    roots = [root for root in roots if abs(root) <= math.log(100.0)]
    if len(roots) != 1:
        return None
    rate = math.expm1(-12 * roots[0])
    return rate if rate > -1 else None


def _bisect(flows: list[float], left: float, right: float, at_left: int) -> float:
    for _ in range(200):
        middle = (left + right) / 2
        if middle in (left, right):
            break
        if _sign_of_worth(flows, middle) == at_left:
            left = middle
        else:
            right = middle
    return (left + right) / 2
