"""Which gang does what after what: activities of one gang in a row, the most pressing wall first.

A gang that is free takes, of what may start, the work of the wall with the earliest latest start (reckoned without
gangs), ties as given; when a wall waits, its gang goes to the next, but not from a wall that it has opened and may
close within days; one that it had to leave open is closed before all else, and no other is opened in the last days
before that, unless only then every limit is kept. Every such choice becomes a link, marked apart from the links of
logic. A trade has one gang on a wall at a time, and of walls one above another one is worked on at a time (`turns`):
from the top down where several may start, unless only otherwise every limit is kept (`stacks_otherwise`).

Such a rule is list scheduling and has its anomalies (Graham 1969, M): chosen anew, an order can end later with another
gang, and sooner with a longer wait. On 3,000 random networks the bare rule did the one in 2 of 100 and the other in 9
of 100 (X). Two things keep that from a programme: with more gangs every order with fewer is tried too (`ways`), so that
a further gang never ends it later; and an order once chosen is held while waits grow (`effects`, the early and late
runs). Two networks reckoned apart have no such bond.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import islice, pairwise, product
from typing import Final

from generator.lime.season import Calendar
from generator.programme.calendar import Worked, worked
from generator.programme.clocks import Clock
from generator.programme.network import Frame, Id, Work
from generator.programme.passes import OUT_OF_DAYS, Kind, Links, Passed, no_day
from generator.programme.turns import Turns
from generator.values import Struct, replace

MOST_WAYS: Final = 64
MOST_PLACED: Final = 2_000  # activities placed in all the ways that are tried: a large job tries few
LONGEST_STAY_DAYS: Final = 5
"""What comes next on a wall that is open is waited for no longer than this, there or, left open, before another is
opened; after it, it goes before other walls."""

GangLink = tuple[int, int, Kind]
Ranks = tuple[list[int], list[int]]
"""The place of each activity, the least goes first; and the activity at each place."""


class Order(Struct, frozen=True):
    """In which order the activities are reckoned, with the links that gangs and walls make: before, after, kind.

    `before` and `after` hold these links and those of logic, with the days between: a gang is free on the day after.
    """

    sequence: tuple[int, ...]
    made: tuple[GangLink, ...]
    before: Links
    after: Sequence[Sequence[tuple[int, int]]]

    @staticmethod
    def of(frame: Frame, sequence: Sequence[int], made: Sequence[GangLink] = ()) -> Order:
        """An order of a network's activities."""
        before, after = list(frame.before), list(frame.after)
        for earlier, later, _ in made:
            before[later] = (*before[later], (earlier, 1))
            after[earlier] = (*after[earlier], (later, 1))
        return Order(tuple(sequence), tuple(made), tuple(before), after)

    def putting_last(self, frame: Frame, moved: AbstractSet[int]) -> Order:
        """The same order with some activities, and whatever comes after them, put behind all others.

        Each gang goes from what it did before them to what it did after them, and does them at last in their order.
        """
        moved = with_later(frame, moved)
        held = (link for link in self.made if link[2] != "face" and (link[0] in moved) is (link[1] in moved))
        rejoined: Iterator[GangLink] = ((earlier, later, "gang") for earlier, later in self._rejoined(moved))
        sequence = sorted(self.sequence, key=moved.__contains__)
        return Order.of(frame, sequence, [*held, *rejoined, *_turns_of(frame, sequence)])

    def _rejoined(self, moved: AbstractSet[int]) -> Iterator[tuple[int, int]]:
        """The new links of each gang: over what is put last, and from the last of the others to the first of that."""
        following = {earlier: later for earlier, later, kind in self.made if kind == "gang"}
        for first in following.keys() - following.values():
            chain = [first]
            while chain[-1] in following:
                chain.append(following[chain[-1]])
            parted = sorted(chain, key=moved.__contains__)
            yield from ((one, other) for one, other in pairwise(parted) if following.get(one) != other)


def _turns_of(frame: Frame, sequence: Sequence[int]) -> Iterator[GangLink]:
    """The links between the turns of walls that share a face, taken in an order."""
    activities = frame.network.activities
    if not any(activity.face for activity in activities):
        return
    turns = Turns([activity.face for activity in activities], [activity.place for activity in activities])
    for number in sequence:
        if activities[number].gang and activities[number].face:
            yield from ((earlier, number, "face") for earlier in turns.take(number))


def with_later(frame: Frame, numbers: AbstractSet[int]) -> AbstractSet[int]:
    """Activities with all that comes after them."""
    found, waiting = set(numbers), list(numbers)
    for number in waiting:
        new = [later for later, _ in frame.after[number] if later not in found]
        found.update(new)
        waiting += new
    return found


class Crews(Struct, frozen=True):
    """Who does what where: the trade, wall and face of each activity, the gangs of each trade and the days they work.

    Of gangs as many as can be of use: never more than there are walls for them. `stacks` are the walls of each face
    from the top down.
    """

    trades: Sequence[str]
    walls: Sequence[Id]
    gangs: Mapping[str, int]
    calendars: Mapping[str, Sequence[Worked]]
    faces: Sequence[Id]
    stacks: Mapping[Id, Sequence[Id]]


def crews_of(frame: Frame) -> Crews:
    """Who does the activities of a network."""
    walls: dict[str, set[Id]] = {}
    calendars: dict[str, dict[int, Calendar]] = {}
    for activity in frame.network.activities:
        if activity.gang and isinstance(activity.takes, Work):
            walls.setdefault(activity.gang, set()).add(activity.place or activity.id)
            calendars.setdefault(activity.gang, {})[id(activity.takes.calendar)] = activity.takes.calendar
    activities = frame.network.activities
    return Crews(
        [activity.gang for activity in activities],
        [activity.place or activity.id for activity in activities],
        {trade: min(frame.network.gangs.get(trade, 1), len(places)) for trade, places in walls.items()},
        {trade: tuple(set(map(worked, found.values()))) for trade, found in calendars.items()},
        [activity.face for activity in activities],
        _stacks_of(frame),
    )


def _stacks_of(frame: Frame) -> dict[Id, list[Id]]:
    """The walls of each face from the top down, those of one height by their ids: however they are listed."""
    storeys: dict[Id, dict[Id, int]] = {}
    for activity in frame.network.activities:
        if activity.face and activity.gang:
            storeys.setdefault(activity.face, {})[activity.place or activity.id] = activity.storey
    return {face: sorted(walls, key=lambda wall: (-walls[wall], wall)) for face, walls in storeys.items()}


def stacks_otherwise(crews: Crews) -> Iterator[Crews]:
    """The same crews where the walls of a stack go otherwise: from the bottom up, or one before or after the rest."""
    seen = [crews.stacks]
    for face, walls in crews.stacks.items():
        first = ([wall, *(other for other in walls if other != wall)] for wall in walls)
        last = ([*(other for other in walls if other != wall), wall] for wall in walls)
        for order in ([*reversed(walls)], *first, *last):
            stacks = {**crews.stacks, face: order}
            if stacks not in seen:
                seen.append(stacks)
                yield replace(crews, stacks=stacks)


def ways(gangs: Mapping[str, int], activities_nr: int = 0) -> Iterator[dict[str, int]]:
    """The gangs as they are, then every way of using fewer; the first 64 where there are more, or fewer of many."""
    counts = product(*(range(count, 0, -1) for count in gangs.values()))
    most = min(MOST_WAYS, max(1, MOST_PLACED // max(1, activities_nr)))
    return (dict(zip(gangs, way, strict=True)) for way in islice(counts, most))


def ranks(crews: Crews, *lates: Passed) -> Ranks:
    """What goes first: by the latest start of the wall, or of all that share its face, in each of these passes, the
    wall as given, its place in its stack, then the latest start of the activity and the activity as given.
    """
    pressing: dict[Id, list[int]] = {}
    shared = [face or wall for face, wall in zip(crews.faces, crews.walls, strict=True)]
    for number, trade in enumerate(crews.trades):
        if trade:
            starts = [late.starts[number] for late in lates]
            most = pressing.setdefault(shared[number], [*starts, number])
            most[:-1] = map(min, most, starts)
    in_stack = {wall: place for stack in crews.stacks.values() for place, wall in enumerate(stack)}
    own = [
        (*pressing.get(shared[number], ()), in_stack.get(wall, 0), lates[-1].starts[number], number)
        for number, wall in enumerate(crews.walls)
    ]
    numbers = [keys[-1] for keys in sorted(own)]
    places = [0] * len(numbers)
    for place, number in enumerate(numbers):
        places[number] = place
    return places, numbers


class Dispatch:
    """Activities given to gangs, day by day."""

    def __init__(
        self, frame: Frame, clocks: Sequence[Clock], floors: Sequence[int], crews: Crews, gangs: Mapping[str, int],
        waits: bool = True,
    ) -> None:  # fmt: skip
        self.frame, self.clocks, self.crews = frame, clocks, crews
        self.early = Passed([0] * len(clocks), [0] * len(clocks))
        self.sequence: list[int] = []
        self.links: list[GangLink] = []
        self.waits_for = [len(links) for links in frame.before]
        self.allowed = list(floors)  # the first day that each may begin on, by what is placed before it
        self.at = -1  # the activity for which a day is looked for
        self.coming: list[tuple[int, int]] = []
        self.ready: dict[str, list[int]] = {trade: [] for trade in gangs}
        self.idle: dict[str, list[tuple[int, int, int | None]]] = {
            trade: [(0, unit, None) for unit in range(count)] for trade, count in gangs.items()
        }
        self.on_wall: dict[tuple[str, Id], tuple[int, int]] = {}
        self.kept_for: dict[int, tuple[int, int, int | None]] = {}  # the gang that stays, by what it stays for
        self.closing: dict[int, int] = {}  # what follows on a wall that its gang has opened and left, with its day
        self.turns = Turns(crews.faces, crews.walls)
        self.waits, self.waited = waits, False  # whether a gang waits for that before it opens another, and has

    def run(self, ranks: Ranks) -> Order:
        """Every activity placed; the order that came of it. Raises `NoDayFor`."""
        self.places, self.numbers = ranks
        try:
            self._settle([number for number, count in enumerate(self.waits_for) if count == 0])
            self._dispatch()
        except OUT_OF_DAYS as error:
            raise no_day(self.frame, self.at, error) from error
        return Order.of(self.frame, self.sequence, self.links)

    def _dispatch(self) -> None:
        while self.coming or any(self.ready.values()):
            day = min(self._days())
            while self.coming and self.coming[0][0] <= day:
                _, place = heapq.heappop(self.coming)
                number = self.numbers[place]
                trade = self.crews.trades[number]
                if number in self.kept_for:
                    self._give(trade, number, day)
                else:
                    # from the end of the numbers, so before all others and in the same order among themselves
                    heapq.heappush(self.ready[trade], place - len(self.numbers) if number in self.closing else place)
            for trade, waiting in self.ready.items():
                while waiting and self.idle[trade] and self.idle[trade][0][0] <= day:
                    if self._rests(trade, self.numbers[waiting[0]], day):
                        continue
                    number = self.numbers[heapq.heappop(waiting)]
                    closes = self._closes_first(trade, number, day) if self.closing else None
                    if closes is None:
                        self._give(trade, number, day)
                    else:
                        self.waited = True
                        heapq.heappush(self.coming, (closes, self.places[number]))

    def _days(self) -> Iterator[int]:
        if self.coming:
            yield self.coming[0][0]
        for trade, waiting in self.ready.items():
            if waiting and self.idle[trade]:
                yield self.idle[trade][0][0]

    def _rests(self, trade: str, number: int, day: int) -> bool:
        """Whether nobody of a trade works on a day; then its next gang is free on the next day worked."""
        if len(self.crews.calendars[trade]) > 1:
            return False
        (days,) = self.crews.calendars[trade]
        self.at = number
        opens = days.ahead(1)(day)
        if opens > day:
            _, unit, last = self.idle[trade][0]
            heapq.heapreplace(self.idle[trade], (opens, unit, last))
        return opens > day

    def _closes_first(self, trade: str, number: int, day: int) -> int | None:
        """The day for which a gang waits that would open a wall: that of one left open, where no other gang closes it.

        None where it opens it at once.
        """
        if not (self.waits and self.frame.network.activities[number].stays) or number in self.closing:
            return None
        trades, last = self.crews.trades, day - 1 + LONGEST_STAY_DAYS
        due = [at for closing, at in self.closing.items() if trades[closing] == trade and day < at <= last]
        free = sum(at <= max(due, default=day) for at, *_ in self.idle[trade])
        return min(due) if due and len(due) >= free else None

    def _settle(self, free: list[int]) -> list[tuple[int, int]]:
        """Activities that wait for no other now: those without a gang are placed, the others come on their day.

        Each of the others with its day.
        """
        come: list[tuple[int, int]] = []
        trades, allowed = self.crews.trades, self.allowed
        for number in free:
            begins = self._begin(number, allowed[number])
            if trades[number]:
                heapq.heappush(self.coming, (begins, self.places[number]))
                come.append((begins, number))
            else:
                self._place(number, begins, free)
        return come

    def _begin(self, number: int, day: int) -> int:
        self.at = number
        return self.clocks[number].begin(day)

    def _place(self, number: int, begins: int, free: list[int]) -> None:
        """An activity on its days; what then waits for no other is added to the free."""
        self.early.starts[number] = begins
        self.at = number
        self.early.finishes[number] = finish = self.clocks[number].finish(begins)
        self.sequence.append(number)
        allowed, waits_for = self.allowed, self.waits_for
        for later, between in self.frame.after[number]:
            if finish + between > allowed[later]:
                allowed[later] = finish + between
            waits_for[later] -= 1
            if not waits_for[later]:
                free.append(later)

    def _give(self, trade: str, number: int, day: int) -> None:
        """A gang begins an activity, or the activity comes again on the first day that its wall and calendar allow."""
        wall = (trade, self.frame.network.activities[number].place)
        on_wall, by_unit = self.on_wall.get(wall, (None, None)) if wall[1] else (None, None)
        least = day if on_wall is None else max(day, self.early.finishes[on_wall] + 1)
        face = self.crews.faces[number]
        if face:
            least = self.turns.free_from(number, least, self.early.finishes, self.kept_for)
        begins = self._begin(number, least)
        if begins > day:
            heapq.heappush(self.coming, (begins, self.places[number]))
            return
        _, unit, last = self.kept_for.pop(number) if number in self.kept_for else heapq.heappop(self.idle[trade])
        if last is not None:
            self.links.append((last, number, "gang"))
        if on_wall is not None and by_unit != unit:
            self.links.append((on_wall, number, "place"))
        if face:
            self.links += [(earlier, number, "face") for earlier in self.turns.take(number)]
        self.on_wall[wall] = number, unit
        self.closing.pop(number, None)
        freed: list[int] = []
        self._place(number, begins, freed)
        gang, come = (self.early.finishes[number] + 1, unit, number), self._settle(freed)
        here = self._next_here(number, come) if self.frame.network.activities[number].stays else None
        if here is not None and here[0] <= gang[0] - 1 + LONGEST_STAY_DAYS:
            self.kept_for[here[1]] = gang
            return
        heapq.heappush(self.idle[trade], gang)
        if here is not None:
            self.closing[here[1]] = here[0]

    def _next_here(self, number: int, come: list[tuple[int, int]]) -> tuple[int, int] | None:
        """What the gang of an activity does next on its wall, of what comes after it, with its day."""
        trades, walls = self.crews.trades, self.crews.walls
        here = (each for each in come if trades[each[1]] == trades[number] and walls[each[1]] == walls[number])
        return min(here, default=None)
