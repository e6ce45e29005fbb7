"""What the drawing of a programme is given and what it tells: dates and short names, nothing of where they come from.

Days of a stretch are both in. `Names` say the same thing ever shorter: the first that fits is written, and a thing
without names goes without.
"""

from __future__ import annotations

import datetime
from typing import Literal

from generator.drawing.model import Drawing, Primitives
from generator.values import Struct

Names = tuple[str, ...]
Kind = Literal["work", "wait", "damp", "cover"]
Days = tuple[datetime.date, datetime.date]


class Task(Struct, frozen=True):
    """One stretch of a chain: work, a wait (drying, look, answer), kept damp, or kept from frost and rain.

    A wait runs from the day after what went before was finished to the day before the next may start. `decides`: it
    belongs to the chain that decides the end. ValueError where it ends before it begins.
    """

    kind: Kind
    names: Names
    first: datetime.date
    last: datetime.date
    decides: bool = False

    def __post_init__(self) -> None:
        in_order(self.first, self.last)


class Dated(Struct, frozen=True):
    """A day with its names: the last day for placing, or a thing and the day by which it is ordered."""

    names: Names
    day: datetime.date


class Stretch(Struct, frozen=True):
    """Days with their names: how long a scaffold stands, or the days in hand. ValueError as for a `Task`."""

    names: Names
    first: datetime.date
    last: datetime.date

    def __post_init__(self) -> None:
        in_order(self.first, self.last)


class Chain(Struct, frozen=True):
    """Tasks that follow one another on a wall, its hold points, and the last days for placing what it lays.

    Hold points of a chain without tasks stand on a line of their own below the others.
    Cover that begins while the same lime is kept damp is shown from the day after that, for as long as it outlasts it.
    """

    tasks: tuple[Task, ...]
    holds: tuple[datetime.date, ...] = ()
    placings: tuple[Dated, ...] = ()


class Ends(Struct, frozen=True):
    """The last day of a wall in the early, the likely and the late run. ValueError unless in that order.

    `goes_on`: the late run stops there for a winter and ends after it.
    """

    early: datetime.date
    likely: datetime.date
    late: datetime.date
    goes_on: bool = False

    def __post_init__(self) -> None:
        in_order(self.early, self.likely)
        in_order(self.likely, self.late)


class Wall(Struct, frozen=True):
    """A wall: its chains, the first of them on top (a panel below it where they run together); notes lie under its
    name, such as its mixes; access and days in hand.
    """

    name: str
    chains: tuple[Chain, ...]
    notes: tuple[str, ...] = ()
    access: tuple[Stretch, ...] = ()
    in_hand: Stretch | None = None
    ends: Ends | None = None


class FrostEdge(Struct, frozen=True):
    """Where a winter begins or ends: the day of the chance 1 in 10, and those of 5 and 9 in 10 where they are known.

    At its beginning the chance is of a frost before the day, at its end of one after it.
    """

    ten: datetime.date
    fifty: datetime.date | None = None
    ninety: datetime.date | None = None
    names: Names = ()


class Winter(Struct, frozen=True):
    """The frosts of one winter, from its first to its last. ValueError where it ends before it begins."""

    first: FrostEdge
    last: FrostEdge

    def __post_init__(self) -> None:
        in_order(self.first.ten, self.last.ten)


class Upright(Struct, frozen=True):
    """A day that cuts through all rows: the start and the completion heavy, others (the issue, the award) thin.

    `ends`: the line stands where the day ends, as a completion does, not where it begins.
    """

    names: Names
    day: datetime.date
    ends: bool = False
    heavy: bool = True


class Chart(Struct, frozen=True):
    """A programme to draw. Every winter that may touch its days is given; those that do not are left out.

    Barred spans are days on which nobody works. ValueError where nothing has a date, and for a barred span that ends
    before it begins.
    """

    walls: tuple[Wall, ...]
    uprights: tuple[Upright, ...] = ()
    winters: tuple[Winter, ...] = ()
    barred: tuple[Days, ...] = ()
    orders: tuple[Dated, ...] = ()

    def __post_init__(self) -> None:
        for first, last in self.barred:
            in_order(first, last)
        self.days()

    def days(self) -> Days:
        """The first and the last day of what must be shown."""
        found = [upright.day for upright in self.uprights] + [order.day for order in self.orders]
        for wall in self.walls:
            found += wall_days(wall)
            found += [placing.day for chain in wall.chains for placing in chain.placings]
            if wall.in_hand is not None:
                found += [wall.in_hand.first, wall.in_hand.last]
        if not found:
            raise ValueError("a programme without a date cannot be drawn")
        return min(found), max(found)


class ProgrammeWords(Struct, frozen=True):
    """What the key says of each sign, and the head of the row of things to order.

    `frost` and `barred` are best told with their dates; `frost_edges` says what dashed and dotted edges are.
    """

    work: str
    wait: str
    damp: str
    cover: str
    hold: str
    placing: str
    decides: str
    in_hand: str
    ends: str
    goes_on: str
    access: str
    frost: str
    frost_edges: str
    barred: str
    order: str
    orders: str


class WallTold(Struct, frozen=True):
    """What a picture tells of a wall: its first and last day, what decides, and tasks that it has no room to name."""

    name: str
    first: datetime.date | None
    last: datetime.date | None
    placings: tuple[Dated, ...]
    holds: tuple[datetime.date, ...]
    decides: bool
    unnamed: tuple[Task, ...]


class Told(Struct, frozen=True):
    """What a picture tells, for its alternative text: the days shown and what lies in them."""

    first: datetime.date
    last: datetime.date
    walls: tuple[WallTold, ...]
    uprights: tuple[Upright, ...]
    winters: tuple[Winter, ...]
    barred: tuple[Days, ...]
    orders: tuple[Dated, ...]


class Scale(Struct, frozen=True):
    """The days on paper: the first of them, and from where to where they run in mm."""

    first: datetime.date
    days: int
    left: float
    right: float

    @property
    def day_mm(self) -> float:
        """The width of a day."""
        return (self.right - self.left) / self.days

    @property
    def last(self) -> datetime.date:
        """The last day shown."""
        return self.first + datetime.timedelta(days=self.days - 1)

    def at(self, day: datetime.date) -> float:
        """Where a day begins."""
        return self.left + (day - self.first).days * self.day_mm

    def after(self, day: datetime.date) -> float:
        """Where a day ends."""
        return self.at(day) + self.day_mm

    def shown(self, first: datetime.date, last: datetime.date) -> tuple[float, float] | None:
        """The part of a stretch that is shown, None where none is."""
        left, right = max(self.at(first), self.left), min(self.after(last), self.right)
        return (left, right) if left < right else None


class Page(Struct, frozen=True):
    """One picture of a programme, to be given its alternative text in words."""

    width_mm: float
    height_mm: float
    scale: Scale
    told: Told
    primitives: Primitives

    def drawing(self, alt: str) -> Drawing:
        """The picture with its alternative text. ValueError where that is blank."""
        return Drawing(self.width_mm, self.height_mm, alt, self.primitives)


def wall_days(wall: Wall) -> list[datetime.date]:
    """Every day on which something of a wall begins or ends; last placings and days in hand are none of its own."""
    found = [day for chain in wall.chains for task in chain.tasks for day in (task.first, task.last)]
    found += [day for chain in wall.chains for day in chain.holds]
    found += [day for stretch in wall.access for day in (stretch.first, stretch.last)]
    return found + ([wall.ends.early, wall.ends.late] if wall.ends else [])


def in_order(first: datetime.date, last: datetime.date) -> None:
    """ValueError where a stretch ends before it begins."""
    if last < first:
        raise ValueError(f"a stretch ends on {last}, before it begins on {first}")
