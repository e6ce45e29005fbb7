"""Walls whose lime waits for spring: nothing is begun on them in autumn that would stand open through the winter."""

from __future__ import annotations

import datetime
from typing import Final

from generator.lime.season import DAY, FrostSeason, PlacingSeason, winter_of
from generator.programme.network import Activity, Network, Work
from generator.programme.schedule import Schedule, Timetable
from generator.values import replace

LONG_WAIT_DAYS: Final = 28
"""What waits no longer than so for its season is made ready before it: scaffold, panels' places, raking."""


def frost_within(frost: FrostSeason, first: datetime.date, last: datetime.date) -> datetime.date | None:
    """The first day within two on which frost can come; None where none can."""
    for winter in range(winter_of(first, frost.half) - 1, winter_of(last, frost.half) + 1):
        begins, ends = frost.span(winter)
        if begins <= last and ends >= first:
            return max(begins, first)
    return None


def over_winter(planned: Schedule) -> dict[str, int]:
    """The days by which work on each wall can begin later, because what is laid on it first waits for spring."""
    first: dict[str, tuple[datetime.date, int]] = {}
    for activity in planned.network.activities:
        takes = activity.takes
        if isinstance(takes, Work) and takes.season is not None:
            wall, laid = str(activity.place), planned.dates.start(activity.id)
            if wall not in first or laid < first[wall][0]:
                first[wall] = laid, _slack(activity, takes.season, planned)
    return {wall: days for wall, (_, days) in first.items() if days > LONG_WAIT_DAYS}


def _slack(activity: Activity, season: PlacingSeason, planned: Schedule) -> int:
    """The days for which a laying of lime waits after its own wall is ready, where a winter lies among them."""
    own = (link.after for link in activity.after if link.after[0] == activity.id[0])
    ready = max((planned.dates.early(id)[1] for id in own), default=planned.start)
    laid = planned.dates.start(activity.id)
    return (laid - ready).days if frost_within(season.frost, ready, laid) else 0


def held_back(network: Network, dates: Timetable, days: dict[str, int]) -> Network:
    """The network with the first tasks of some walls not begun before so many days later."""
    return replace(network, activities=tuple(_held(activity, dates, days) for activity in network.activities))


def _held(activity: Activity, dates: Timetable, days: dict[str, int]) -> Activity:
    wall = str(activity.place)
    first = wall in days and not any(link.after[0] == activity.id[0] for link in activity.after)
    return replace(activity, not_before=dates.early(activity.id)[0] + days[wall] * DAY) if first else activity
