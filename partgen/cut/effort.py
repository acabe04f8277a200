"""Cutting time and cost of a plan, from the shop's own feeds, pierce times and rates.

time = torch-on length / speed + pierces x (pierce + lift) + travel / rapid. A thickness outside the
profile's rows is not covered, never extrapolated.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.cut.plan import Plan
from partgen.entries.cutting import Cutting
from partgen.entries.prices import Prices


@dataclass(frozen=True)
class Effort:
    """What cutting a plan takes.

    Attributes:
        length: torch-on [mm].
        pierces: how many.
        travel: torch-off [mm].
        cutting: time with the torch on, pierces aside; None where no feed is given [s].
        seconds: all of it; None where no feed is given [s].
        cost: machine and consumables in the shop's own money; None where no rate is given.
        least_travel: what no order of the same cuts could travel less than [mm].
    """

    length: float
    pierces: int
    travel: float
    cutting: float | None
    seconds: float | None
    cost: float | None
    least_travel: float = 0.0


def effort(plan: Plan, process: Cutting, thickness: float, prices: Prices) -> Effort:
    """Return time and cost of a plan at a thickness [mm]: machine time, cut metres and pierces."""
    feed = process.feed_at(thickness)
    if feed is None:
        least = plan.least_travel
        return Effort(plan.length, plan.pierces, plan.travel, None, None, None, least)
    burning = plan.length / feed.speed * 60
    still = plan.pierces * (feed.pierce + process.lift)
    seconds = burning + still + plan.travel / process.rapid * 60
    cost = None
    if process.cost_per_hour or prices.pierce or prices.cut_per_metre:
        cost = seconds / 3600 * process.cost_per_hour + plan.pierces * (prices.pierce or 0.0)
        cost += plan.length / 1000 * (prices.cut_per_metre or 0.0)
    return Effort(plan.length, plan.pierces, plan.travel, burning, seconds, cost, plan.least_travel)
