"""Programmes to draw: six walls in a season, one wall, fourteen walls in two years; walls and dates are invented."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from functools import partial

from generator.drawing.programme import programme_pages
from generator.drawing.programme_model import (
    Chain,
    Chart,
    Dated,
    Ends,
    FrostEdge,
    Kind,
    ProgrammeWords,
    Stretch,
    Task,
    Upright,
    Wall,
    Winter,
)

Day = datetime.date
MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec"]
WORDS = ProgrammeWords(
    work="work",
    wait="wait: drying, look, answer",
    damp="kept damp",
    cover="frost and rain kept off",
    hold="hold point",
    placing="last day for placing",
    decides="the chain that decides the end",
    in_hand="days in hand",
    ends="end if all goes fast, as is likely, slowly",
    goes_on="slowly, it goes on after the winter",
    access="access",
    frost="frost, every year: after 1 May and before 20 October in nine years of ten",
    frost_edges="frost in five, in nine years of ten",
    barred="no work: 31 May, 19–20 June, 30 August",
    order="order by",
    orders="Order by",
)
pages_of = partial(programme_pages, words=WORDS)


def said(day: Day) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"


def winter(year: int) -> Winter:
    """The winter that begins in a year."""
    return Winter(
        FrostEdge(Day(year, 10, 20), Day(year, 11, 3), Day(year, 11, 18), (f"from 20 Oct {year}", "from 20 Oct")),
        FrostEdge(
            Day(year + 1, 5, 1), Day(year + 1, 4, 12), Day(year + 1, 3, 28), (f"frost to 1 May {year + 1}", "to 1 May")
        ),
    )


def run(start: Day, *steps: tuple[Kind, int, str], decides: bool = False) -> tuple[Task, ...]:
    """Tasks one after the other from a start: kind, days, names parted by strokes; a kind may be left out as a gap."""
    tasks, day = [], start
    for kind, days, names in steps:
        last = day + datetime.timedelta(days=days - 1)
        if names != "-":
            said_names = tuple(name for name in names.replace("{last}", said(last)).split("/") if name)
            tasks.append(Task(kind, said_names, day, last, decides))
        day = last + datetime.timedelta(days=1)
    return tuple(tasks)


def place_by(day: Day, word: str = "place") -> Dated:
    return Dated((f"{word} by {said(day)}", f"by {said(day)}", said(day)), day)


def stays(name: str, first: Day, last: Day) -> Stretch:
    weeks = round(((last - first).days + 1) / 7, 1)
    return Stretch((f"{name} {weeks} weeks", f"{weeks} weeks"), first, last)


STARTED = Upright(("Start, 17 May 2027", "Start, 17 May"), Day(2027, 5, 17))
COMPLETED = Upright(("Completion, 15 October 2027", "Completion, 15 Oct"), Day(2027, 10, 15), ends=True)
BARRED = ((Day(2027, 5, 31), Day(2027, 5, 31)), (Day(2027, 6, 19), Day(2027, 6, 20)), (Day(2027, 8, 30),) * 2)

FRONT = Wall(
    "Front wall",
    (
        Chain(
            (
                *run(Day(2027, 5, 19), ("work", 6, "gutter"), ("work", 1, "-"), ("work", 10, "rake")),
                *run(
                    Day(2027, 6, 11), ("work", 8, "point"), ("damp", 7, "damp 7 days/7"),
                    ("cover", 53, "cover to {last}/to {last}/cover"),
                ),
            ),
            (Day(2027, 6, 4),),
            (place_by(Day(2027, 8, 13)),),
        ),
        Chain(run(Day(2027, 5, 19), ("work", 1, "panel"), ("wait", 21, "dry, answer/dry"))),
    ),
    ("M1 ■",),
    (stays("scaffold", Day(2027, 5, 17), Day(2027, 8, 19)),),
    ends=Ends(Day(2027, 8, 12), Day(2027, 8, 19), Day(2027, 9, 2)),
)  # fmt: skip
GABLE = Wall(
    "Rubble gable",
    (
        Chain(
            run(
                Day(2027, 5, 18), ("work", 1, "slake"), ("wait", 8, "lie/8"), ("work", 1, "panel"),
                ("wait", 10, "dry"), ("work", 6, "rake"), ("wait", 5, "answer/5"), ("wait", 3, "-"),
                ("work", 5, "point"), ("damp", 7, "damp/7"), ("cover", 53, "cover to {last}/to {last}/cover"),
            ),
            (Day(2027, 6, 11),),
            (place_by(Day(2027, 8, 13)),),
        ),
    ),
    ("M4 ▲",),
    (stays("scaffold", Day(2027, 5, 19), Day(2027, 8, 26)),),
)  # fmt: skip
STACK = Wall(
    "Chimney stack",
    (
        Chain(
            (
                *run(Day(2027, 5, 20), ("work", 1, "panel"), ("wait", 21, "dry, answer/dry")),
                *run(
                    Day(2027, 6, 21), ("work", 2, "flues"), ("work", 5, "-"), ("work", 4, "rake"), ("work", 5, "point"),
                    ("work", 3, "flaunch"), ("damp", 10, "damp/10"), ("cover", 18, "cover to {last}/to {last}"),
                ),
            ),
            (Day(2027, 7, 1),),
            (place_by(Day(2027, 9, 15)),),
        ),
    ),
    ("M2 ●, M3",),
    (stays("scaffold", Day(2027, 6, 14), Day(2027, 8, 10)),),
)  # fmt: skip
REAR = Wall(
    "Rear wall",
    (
        Chain(
            run(
                Day(2027, 6, 30), ("work", 1, "trial"), ("wait", 13, "look again/look"), ("work", 8, "take off"),
                ("work", 6, "dub"), ("wait", 7, "wait 7/7"), ("work", 3, "base"), ("wait", 7, "wait 7/7"),
                ("work", 5, "finish"), ("damp", 7, "damp"), ("cover", 28, "cover to {last}/to {last}/cover"),
                ("work", 2, "down"), decides=True,
            ),
            (Day(2027, 7, 22),),
            (place_by(Day(2027, 9, 8), "render"),),
        ),
        Chain(
            run(Day(2027, 8, 23), ("work", 8, "limewash, five coats/limewash"), ("cover", 14, "cover/rain")),
            placings=(place_by(Day(2027, 9, 29), "wash"),),
        ),
    ),
    ("M5, M6, M7",),
    (stays("scaffold", Day(2027, 6, 28), Day(2027, 9, 23)),),
    Stretch(("16 days in hand", "16 days"), Day(2027, 9, 25), Day(2027, 10, 15)),
    Ends(Day(2027, 9, 15), Day(2027, 9, 24), Day(2027, 10, 12)),
)  # fmt: skip
CEILING = Wall(
    "Chamber ceiling",
    (
        Chain(
            (
                *run(Day(2027, 5, 19), ("work", 2, "prop")),
                *run(
                    Day(2027, 7, 12), ("work", 3, "laths"), ("work", 4, "-"), ("work", 1, "prick up"),
                    ("wait", 13, "wait 14/14"), ("work", 1, "float"), ("wait", 13, "wait 14/14"), ("work", 1, "set"),
                    ("damp", 7, ""),
                ),
            )
        ),
    ),
    ("M10, M11, M9",),
    (
        Stretch(("props, until the stack is tight", "props"), Day(2027, 5, 19), Day(2027, 7, 11)),
        stays("tower", Day(2027, 7, 12), Day(2027, 8, 24)),
    ),
)  # fmt: skip
DINING = Wall(
    "Dining room",
    (
        Chain(
            (
                *run(
                    Day(2027, 5, 25), ("work", 4, "take off"), ("wait", 49, "panel in three coats, dry, answer/panel"),
                ),
                *run(
                    Day(2027, 7, 19), ("work", 2, "dub"), ("wait", 6, "wait 7/7"), ("work", 2, "scratch"),
                    ("wait", 13, "wait 14/14"), ("work", 2, "float"), ("wait", 13, "wait 14/14"), ("work", 2, "set"),
                    ("damp", 7, "damp"),
                ),
            )
        ),
    ),
    ("M8, M9",),
    (stays("room closed", Day(2027, 5, 17), Day(2027, 9, 7)),),
)  # fmt: skip

SIX = Chart(
    (FRONT, GABLE, STACK, REAR, CEILING, DINING),
    (STARTED, COMPLETED),
    (winter(2026), winter(2027)),
    BARRED,
    (
        Dated(("hair, 3 May", "hair"), Day(2027, 5, 3)),
        Dated(("putty, 20 May", "putty"), Day(2027, 5, 20)),
        Dated(("NHL 3.5, 24 May", "NHL"), Day(2027, 5, 24)),
        Dated(("laths, 1 June", "laths"), Day(2027, 6, 1)),
    ),
)
ONE = Chart((FRONT,), (STARTED, COMPLETED), (winter(2026), winter(2027)), BARRED)
GARDEN = run(Day(2027, 7, 6), ("work", 2, "rake"), ("work", 3, "point"), ("damp", 7, "damp to {last}/damp"))
SHORT = Chart(
    (Wall("Garden wall", (Chain(GARDEN),)),),
    (Upright(("Start, 5 July",), Day(2027, 7, 5)), Upright(("Completion, 20 July",), Day(2027, 7, 20), True)),
)


def front_of(number: int, start: Day) -> Wall:
    """One of many fronts: the same chain, later."""
    tasks = run(
        start, ("work", 2, "scaffold/up"), ("work", 1, "panel"), ("wait", 14, "panel dries/dry/14"),
        ("work", 9 + number % 4, "rake"), ("work", 2, "deep fill/fill"), ("wait", 7, "7"), ("work", 10, "point"),
        ("damp", 7, "damp"), ("cover", 28, "cover to {last}/to {last}"), ("work", 1, "strike"),
        decides=number in (5, 9),
    )  # fmt: skip
    last, placing = tasks[-1].last, tasks[6].last
    return Wall(
        f"{['North', 'South', 'East', 'West'][number % 4]} front of house {number} by the long churchyard lane",
        (Chain(tasks, (tasks[3].last,), (place_by(placing + datetime.timedelta(days=9 * (number % 3))),)),),
        (f"M{number}",),
        (stays("scaffold", start, last),),
        ends=Ends(last - datetime.timedelta(days=6), last, last + datetime.timedelta(days=15)),
    )


MANY = Chart(
    tuple(front_of(number, Day(2027, 4, 12) + datetime.timedelta(days=44 * number)) for number in range(14)),
    (
        Upright(("Tenders back, 1 March 2027", "Tenders, 1 March"), Day(2027, 3, 1), heavy=False),
        Upright(("Start, 12 April 2027", "Start, 12 April"), Day(2027, 4, 12)),
        Upright(("Completion, 30 March 2029",), Day(2029, 3, 30), True),
    ),
    tuple(winter(year) for year in range(2025, 2031)),
    ((Day(2027, 12, 24), Day(2028, 1, 3)), (Day(2028, 12, 22), Day(2029, 1, 2)), *BARRED),
    tuple(
        Dated((f"thing {number}, {said(day)}", f"thing {number}"), day)
        for number, day in enumerate([Day(2027, 3, 20)] * 3 + [Day(2028, 5, 1)] * 2)
    ),
)


def crowded(works: Sequence[int] = (1,) * 24, span_days: int = 1000) -> Chart:
    """A wall of many short works at the head of a long programme."""
    names = tuple(f"work number {n}/work {n}" for n in range(len(works)))
    tasks = run(Day(2027, 3, 1), *(("work", days, name) for days, name in zip(works, names, strict=True)))
    end = Day(2027, 3, 1) + datetime.timedelta(days=span_days)
    return Chart((Wall("Wall", (Chain(tasks),)),), (Upright(("Completion",), end, True),), (winter(2027), winter(2028)))


CHARTS = {
    "six walls": SIX, "one wall": ONE, "three weeks": SHORT, "fourteen walls": MANY, "crowded": crowded(),
}  # fmt: skip
