"""Networks of the trade's examples: a brick front, a ceiling on laths, two fronts; built as a caller would."""

from __future__ import annotations

from datetime import date

from generator.lime.maturity import MonthlyRates
from generator.lime.season import Calendar, PlacingSeason
from generator.programme.network import Activity, Id, Link, Network, Wait, Work
from generator.values import Range

START = date(2027, 5, 10)
BARRED = (
    (date(2027, 5, 3), date(2027, 5, 3)),
    (date(2027, 5, 31), date(2027, 5, 31)),
    (date(2027, 8, 30), date(2027, 8, 30)),
    (date(2027, 12, 24), date(2028, 1, 3)),
)
K = Calendar(5, BARRED)
Days = float | Range[float]


def after(*ids: Id) -> tuple[Link, ...]:
    return tuple(Link(id) for id in ids)


def front(
    work: Days = 10,
    panel: Days = 14,
    fill: Days = 7,
    cover: Days = 21,
    calendar: Calendar = K,
    rates: MonthlyRates | None = None,
    season: PlacingSeason | None = None,
    last_placing: date | None = None,
) -> tuple[Activity, ...]:
    """60 m2 of brick in NHL 3.5: scaffold, panel, rake, deep fill, point, cover, hold point, strike."""

    def on_days(days: Days) -> Work:
        return Work(days, calendar)

    return (
        Activity("scaffold", on_days(2), tags=("access",)),
        Activity("panel", on_days(1), after("scaffold")),
        Activity("panel dries", Wait(panel), after("panel")),
        Activity("rake", on_days(work), after("panel")),
        Activity("fill", on_days(2), after("rake", "panel dries")),
        Activity("fill hardens", Wait(fill, rates), after("fill")),
        Activity("point", Work(work, calendar, season), after("fill hardens"), not_after=last_placing),
        Activity("cover", Wait(cover, rates), after("point")),
        Activity("hold", on_days(1), after("cover")),
        Activity("strike", on_days(1), after("hold"), tags=("access",)),
    )


def ceiling(coat: Days = 14) -> tuple[Activity, ...]:
    """24 m2, three coats of putty on laths, four of limewash."""

    def on_days(days: int) -> Work:
        return Work(days, K)

    washes = tuple(
        Activity(f"wash {nr}", on_days(1), after(f"wash {nr - 1}" if nr > 1 else "hold")) for nr in range(1, 5)
    )
    return (
        Activity("soak", on_days(1)),
        Activity("laths wet", Wait(7), after("soak")),
        Activity("take down", on_days(2)),
        Activity("tower", on_days(1), tags=("access",)),
        Activity("lath", on_days(2), after("laths wet", "take down", "tower")),
        Activity("pricking-up", on_days(1), after("lath")),
        Activity("pricking-up dries", Wait(coat), after("pricking-up")),
        Activity("float", on_days(1), after("pricking-up dries")),
        Activity("float dries", Wait(coat), after("float")),
        Activity("set", on_days(1), after("float dries")),
        Activity("set dries", Wait(7), after("set")),
        Activity("hold", on_days(1), after("set dries")),
        *washes,
        Activity("strike", on_days(1), after("wash 4"), tags=("access",)),
    )


def two_fronts(gangs_nr: int = 1, south_first: bool = False) -> Network:
    """N 8 + 8 days, S 6 + 6, scaffold 2 each in turn, cover 21, strike 1."""
    walls = {"N": 8, "S": 6}
    order = ("S", "N") if south_first else ("N", "S")
    activities = tuple(activity for wall in order for activity in _one_front(wall, walls[wall]))
    return Network(activities, {"masonry": gangs_nr})


def _one_front(wall: str, days: int) -> tuple[Activity, ...]:
    work = Work(days, K)
    return (
        Activity((wall, "scaffold"), Work(2, K), gang="scaffold", place=wall),
        Activity((wall, "rake"), work, after((wall, "scaffold")), "masonry", wall),
        Activity((wall, "point"), work, after((wall, "rake")), "masonry", wall),
        Activity((wall, "cover"), Wait(21), after((wall, "point"))),
        Activity((wall, "strike"), Work(1, K), after((wall, "cover"))),
    )
