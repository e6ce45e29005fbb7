"""The tasks of a wall on lanes, and one lane laid out: bars, what is written in, beside and above them."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from generator.drawing.model import Primitives
from generator.drawing.programme_labels import (
    APART_MM,
    CLEAR_MM,
    FALL_MM,
    LINE_MM,
    RISE_MM,
    Named,
    Shelves,
    Span,
    Written,
    draw_nearer,
    inside,
    name_all,
    named,
    rooms,
)
from generator.drawing.programme_model import Dated, Kind, Scale, Stretch, Task, Wall
from generator.drawing.programme_signs import (
    BAR_MM,
    FRAME_MM,
    HOLD_MM,
    HOLD_ROW_MM,
    MARK_MM,
    OUTLINE_MM,
    bar,
    frame,
    hold,
    hold_rows,
    in_hand,
    joint,
    placing,
)
from generator.values import Struct, replace

_GAP_MM: Final = 0.8
_BESIDE_MM: Final = 0.8
_KEPT_OFF_MM: Final = 0.5
_FAR_MM: Final = APART_MM - _BESIDE_MM
_LINE_LEFT_MM: Final = 1.2
_HATCH_LEFT_MM: Final = 1.8
_LEAST_JOINT_MM: Final = 0.9
_JOINED_MM: Final = 0.05
_BREAKS_UPRIGHT: Final = 6.0
_BREAKS_STEM: Final = 1.5
_FRAME_EDGE_MM: Final = OUTLINE_MM / 2
_HOLD_REACH_MM: Final = HOLD_MM + 0.4  # with its line
_MARK_TEXT_MM: Final = MARK_MM + 0.5


class Lane(Struct, frozen=True):
    """Tasks that do not run together, in order of time, with their hold points, last placings and days in hand."""

    tasks: tuple[Task, ...] = ()
    holds: tuple[datetime.date, ...] = ()
    placings: tuple[Dated, ...] = ()
    spare: Stretch | None = None

    @property
    def days(self) -> list[tuple[datetime.date, datetime.date]]:
        """The stretches that are taken."""
        taken = [(task.first, task.last) for task in self.tasks]
        return taken + ([(self.spare.first, self.spare.last)] if self.spare else [])

    def takes(self, first: datetime.date, last: datetime.date) -> bool:
        """Whether a stretch is free."""
        return all(last < start or first > end for start, end in self.days)


class Laid(Struct, frozen=True):
    """A lane laid out on paper: places across are fixed, it is drawn at any height."""

    lane: Lane
    bars: tuple[Span, ...]
    spare: Span | None
    frames: tuple[Span, ...]
    holds: tuple[tuple[float, int], ...]
    beside: tuple[Written, ...]
    above: tuple[Written, ...]
    marks: tuple[tuple[float, int], ...]
    levels: int
    unnamed: tuple[Task, ...]

    @property
    def height(self) -> float:
        """Its height with the gap below it."""
        return self._bar_top + self._thick + self._rim + _GAP_MM

    def under(self, top: float) -> Primitives:
        """The frames, bars and hold points."""
        y = top + self._bar_top
        parts = [part for span in self.frames for part in frame(span, y)]
        for task, span in zip(self.lane.tasks, self.bars, strict=True):
            parts += bar(task.kind, span, y)
        for (first, left), (second, right) in pairwise(zip(self.lane.tasks, self.bars, strict=True)):
            narrow = min(left[1] - left[0], right[1] - right[0])
            if first.kind == second.kind == "work" and right[0] - left[1] < _JOINED_MM and narrow > _LEAST_JOINT_MM:
                parts += joint(right[0], y)
        if self.spare is not None:
            parts += in_hand(self.spare, y)
        middle = y + BAR_MM / 2 if self._has_bars else y + _HOLD_REACH_MM
        return (*parts, *(part for x, row in self.holds for part in hold(x, middle + row * HOLD_ROW_MM)))

    def over(self, top: float) -> Primitives:
        """The last placings and all that is written."""
        y = top + self._bar_top
        base = y - self._rim - FALL_MM - 0.35
        parts = [
            part
            for x, level in self.marks
            for part in placing(x, base - level * LINE_MM - 2 * MARK_MM + 0.5, y + BAR_MM + 0.4)
        ]
        for written in self.above:
            parts += written.drawn(base, y)
        middle = y + (BAR_MM + RISE_MM - FALL_MM) / 2
        return (*parts, *(part for written in self.beside for part in written.drawn(middle, middle)))

    @property
    def _has_bars(self) -> bool:
        return bool(self.bars or self.spare)

    @property
    def _thick(self) -> float:
        """The height of the bars, or of the rows of hold points that stand alone."""
        rows = max((row for _, row in self.holds), default=0)
        return BAR_MM if self._has_bars else 2 * _HOLD_REACH_MM + rows * HOLD_ROW_MM

    @property
    def _rim(self) -> float:
        return FRAME_MM + _FRAME_EDGE_MM if self.frames else 0.0

    @property
    def _bar_top(self) -> float:
        return self.levels * LINE_MM + self._rim + (0.4 if self.levels else 0.0)


def lanes_of(wall: Wall) -> list[Lane]:
    """The chains of a wall on as few lanes as they need, each on the first that has its days free.

    Hold points without tasks have a lane to themselves, so that they hide none.
    """
    lanes: list[Lane] = []
    for chain in wall.chains:
        if chain.holds and not chain.tasks:
            continue
        for number, tasks in enumerate(_apart(_in_turn(chain.tasks)) or [()]):
            holds, placings = (chain.holds, chain.placings) if number == 0 else ((), ())
            place = _first_free(lanes, tasks)
            lane = lanes[place]
            together = tuple(sorted((*lane.tasks, *tasks), key=lambda task: task.first))
            lanes[place] = Lane(together, (*lane.holds, *holds), (*lane.placings, *placings))
    if wall.in_hand is not None:
        place = _first_free(lanes, (wall.in_hand,))
        lanes[place] = replace(lanes[place], spare=wall.in_hand)
    return lanes + [Lane((), chain.holds, chain.placings) for chain in wall.chains if chain.holds and not chain.tasks]


def _in_turn(tasks: Sequence[Task]) -> Iterator[Task]:
    """The tasks of a chain, cover cut to the days after the damp ones that it begins among."""
    damp = [task for task in tasks if task.kind == "damp"]
    for task in tasks:
        under = [kept.last for kept in damp if kept.first <= task.first <= kept.last < task.last]
        if task.kind == "cover" and under:
            yield replace(task, first=max(under) + datetime.timedelta(days=1))
        else:
            yield task


def _apart(tasks: Iterable[Task]) -> list[tuple[Task, ...]]:
    """The tasks of a chain, and apart those that run together with others of it."""
    lines: list[list[Task]] = []
    for task in sorted(tasks, key=lambda task: task.first):
        line = next((line for line in lines if line[-1].last < task.first), None)
        if line is None:
            lines.append([task])
        else:
            line.append(task)
    return [tuple(line) for line in lines]


def _first_free(lanes: list[Lane], stretches: Sequence[Task | Stretch]) -> int:
    """The first lane that has these days free, a new one if need be."""
    for number, lane in enumerate(lanes):
        if all(lane.takes(stretch.first, stretch.last) for stretch in stretches):
            return number
    lanes.append(Lane())
    return len(lanes) - 1


def laid(lane: Lane, scale: Scale, uprights: Sequence[float], first: bool) -> Laid:
    """A lane laid out. Names of the first lane stand above it, those of the others beside where there is room."""
    return _Layout(lane, scale, uprights).laid(first)


class _Layout:
    """A lane while it is laid out."""

    def __init__(self, lane: Lane, scale: Scale, uprights: Sequence[float]) -> None:
        self.lane, self.scale, self.uprights = lane, scale, tuple(uprights)
        self.bars = [(scale.at(task.first), scale.after(task.last)) for task in lane.tasks]
        self.spare = (scale.at(lane.spare.first), scale.after(lane.spare.last)) if lane.spare else None
        self.frames = [*self._frames()]
        places = sorted({scale.at(day) + scale.day_mm / 2 for day in lane.holds})
        # those on bars hide less of them on one row
        rows = [0] * len(places) if self.bars or self.spare else hold_rows(places)
        self.holds = [*zip(places, rows, strict=True)]
        self.stems = [scale.after(dated.day) for dated in lane.placings]
        self.kept = [(x - _KEPT_OFF_MM, x + _KEPT_OFF_MM) for x in (*uprights, *self.stems)]
        self.kept += [(x - HOLD_MM - _KEPT_OFF_MM, x + HOLD_MM + _KEPT_OFF_MM) for x, _ in self.holds]
        costs = [_BREAKS_UPRIGHT] * len(uprights) + [_BREAKS_STEM] * len(self.stems)
        self.shelves = Shelves(scale.left, scale.right, [*zip(self.kept, costs, strict=False)])
        self.beside: list[Written] = []
        self.done: set[int] = set()

    def laid(self, first: bool) -> Laid:
        """The lane: what fits in bars and beside them is written there, the rest above."""
        if not first:
            self._works_beside()
        self._in_bars()
        self._after_bars()
        self._above()
        self._name_spare()
        marks = [self._mark(dated, x) for dated, x in zip(self.lane.placings, self.stems, strict=True)]
        tasks = self.lane.tasks
        return Laid(
            self.lane, tuple(self.bars), self._spare_line(), tuple(self.frames), tuple(self.holds),
            tuple(self.beside), tuple(self.shelves.written), tuple(marks),
            max([self.shelves.height, *(level + 1 for _, level in marks)]),
            tuple(task for number, task in enumerate(tasks) if number not in self.done and named(task.names)),
        )  # fmt: skip

    def _frames(self) -> Iterator[Span]:
        """The runs of bars that decide, a rim round each where its neighbours leave room for one."""
        start: int | None = None
        ends = [*(task.decides for task in self.lane.tasks), False]
        for number, decides in enumerate(ends):
            if decides and start is None:
                start = number
            if not decides and start is not None:
                before = self.bars[start - 1][1] if start else self.scale.left - 2 * FRAME_MM
                after = self.bars[number][0] if number < len(self.bars) else self.scale.right + 2 * FRAME_MM
                left, right = self.bars[start][0], self.bars[number - 1][1]
                yield (
                    left - FRAME_MM
                    if left - before > 1.6 * FRAME_MM and not self._cut(left - FRAME_MM, left)
                    else left,
                    right + FRAME_MM
                    if after - right > 1.6 * FRAME_MM and not self._cut(right, right + FRAME_MM)
                    else right,
                )
                start = None

    def _cut(self, left: float, right: float) -> bool:
        """Whether a day cuts through a rim: the frame would begin before the start, or end after the completion."""
        return any(left - _FRAME_EDGE_MM < x < right + _FRAME_EDGE_MM for x in self.uprights)

    def _spare_line(self) -> Span | None:
        """The line of the days in hand, from outside the frame before it."""
        if self.spare is None:
            return None
        start = max([self.spare[0], *(right for left, right in self.frames if left < self.spare[0])])
        return min(start, self.spare[1]), self.spare[1]

    def _taken(self) -> list[Span]:
        """What is taken at the height of the bars."""
        written = [(span[0] - CLEAR_MM, span[1] + CLEAR_MM) for span in (w.span for w in self.beside)]
        return [*self.kept, *self.bars, *self.frames, *written, *([self.spare] if self.spare else [])]

    def _works_beside(self) -> None:
        """Names of works left of their bars or with the wait after them; all of them or none."""
        found: list[Written] = []
        done: set[int] = set()
        for number, task in enumerate(self.lane.tasks):
            if task.kind != "work" or not named(task.names):
                continue
            way, also = self._left_of(number, found), {number}
            if way is None:
                way, also = self._with_next(number), {number, number + 1}
            if way is None:
                return
            found.append(way)
            done |= also
        self.beside, self.done = found, done

    def _left_of(self, number: int, found: Sequence[Written]) -> Written | None:
        left = self.bars[number][0]
        taken = [*self._taken(), *(w.span for w in found)]
        free = [room for room in rooms((self.scale.left, left), taken) if room[1] > left - _BESIDE_MM]
        # the bar before must be farther off than its own
        free = [(room[0] + _FAR_MM if room[0] > self.scale.left else room[0], room[1]) for room in free]
        way = inside(self.lane.tasks[number].names, free, _BESIDE_MM)
        return way and replace(way, left=left - _BESIDE_MM - way.width)

    def _with_next(self, number: int) -> Written | None:
        """A short work named in the wait that it passes into: `panel, dry`."""
        if not self._passes_into(number, "wait") or not named(self.lane.tasks[number + 1].names):
            return None
        task, after = self.lane.tasks[number : number + 2]
        names = tuple(f"{task.names[min(n, len(task.names) - 1)]}, {name}" for n, name in enumerate(after.names))
        return inside(names, rooms(self.bars[number + 1], self.kept))

    def _passes_into(self, number: int, kind: Kind) -> bool:
        """Whether a task of this kind follows without a gap."""
        if number + 1 == len(self.bars) or self.lane.tasks[number + 1].kind != kind:
            return False
        return self.bars[number + 1][0] - self.bars[number][1] < _JOINED_MM

    def _in_bars(self) -> None:
        """Waits, damp and cover named in their bars."""
        for number, (task, span) in enumerate(zip(self.lane.tasks, self.bars, strict=True)):
            if task.kind != "work" and number not in self.done:
                # enough of a hatch must stay to be known by
                room_mm = _BESIDE_MM if task.kind == "wait" else _HATCH_LEFT_MM
                self._write(number, inside(task.names, rooms(span, self.kept), room_mm))

    def _after_bars(self) -> None:
        """What has no room in its bar named after it, where nothing stands there and the next bar is farther off."""
        for number, task in enumerate(self.lane.tasks):
            right = max([self.bars[number][1], *(end for start, end in self.frames if self._ends(number, start, end))])
            follows = number + 1 < len(self.bars) and self.bars[number + 1][0] < right + _FAR_MM
            if task.kind != "work" and number not in self.done and not follows:
                free = [r for r in rooms((right, self.scale.right), self._taken()) if r[0] < right + _KEPT_OFF_MM]
                free = [(r[0], r[1] - _FAR_MM if r[1] < self.scale.right else r[1]) for r in free]
                way = inside(task.names, free, _BESIDE_MM)
                self._write(number, way and replace(way, left=right + _BESIDE_MM))

    def _ends(self, number: int, start: float, end: float) -> bool:
        """Whether a frame ends with a bar."""
        return start < self.bars[number][1] <= end <= self.bars[number][1] + FRAME_MM + _JOINED_MM

    def _write(self, number: int, way: Written | None) -> None:
        if way is not None:
            self.beside.append(way)
            self.done.add(number)

    def _above(self) -> None:
        """Works named above their bars, then the waits for which a line in use has room."""
        works: list[Named] = []
        for number, task in enumerate(self.lane.tasks):
            if task.kind == "work" and number not in self.done and (names := named(task.names)):
                works.append(Named(names, self.bars[number], self._passes_into(number, "work")))
                self.done.add(number)
        apart = name_all(self.shelves, works)
        levels = range(max(1, self.shelves.height))
        for number, task in enumerate(self.lane.tasks):
            left, right = self.bars[number]
            if number not in self.done and not any(start <= left and right <= end for start, end in apart):
                after = min((start for start, _ in self.bars if start >= right), default=math.inf)
                way = self.shelves.way(task.names, (left, right), levels, slides=False, after=after)
                if way is not None:
                    self.shelves.written.append(way)
                    self.done.add(number)
        draw_nearer(self.shelves)

    def _name_spare(self) -> None:
        """The days in hand named on their line, after it, or above it."""
        if self.lane.spare is None or self.spare is None or not named(self.lane.spare.names):
            return
        names, (left, right) = self.lane.spare.names, self.spare
        start = max([left, *(end for begin, end in self.frames if begin < left)])
        way = inside(names, rooms((start, right), self.kept), _LINE_LEFT_MM)
        if way is None:
            free = [r for r in rooms((right, self.scale.right), self._taken()) if r[0] < right + 3 * _KEPT_OFF_MM]
            way = inside(names, free, _BESIDE_MM)
            way = way and replace(way, left=free[0][0] + _BESIDE_MM)
        if way is not None:
            self.beside.append(way)
            return
        way = self.shelves.way(names, (start, right), range(self.shelves.height + 2))
        way = way or self.shelves.above_all(names, self.spare)
        self.shelves.written.append(replace(way, deeper=BAR_MM / 2))

    def _mark(self, dated: Dated, x: float) -> tuple[float, int]:
        """The triangle of a last placing, on the lowest line on which it and its name have room."""
        new = self.shelves.height
        names = named(dated.names) or ("",)
        ways = [(name, level, False) for name in names for level in range(new)]
        ways += [(name, new, crosses) for crosses in (False, True) for name in names]
        for name, level, crosses in ways:
            way = self._marked(name, x, level, crosses)
            if way is not None:
                self.shelves.written.append(way)
                return x, level
        self.shelves.kept.append((new, (x - MARK_MM, x + MARK_MM)))
        way = self.shelves.above_all(names, (x, x), bold=True)
        self.shelves.written.append(replace(way, level=new + 1))
        return x, new

    def _marked(self, name: str, x: float, level: int, crosses: bool) -> Written | None:
        """The name of a last placing right or left of its triangle, clear of lines that cut through if it must be."""
        way = Written((name,), x + _MARK_TEXT_MM, level, bold=True, before=MARK_MM + _MARK_TEXT_MM)
        other = replace(way, left=x - _MARK_TEXT_MM - way.width, before=0.0, after=MARK_MM + _MARK_TEXT_MM)
        for tried in (way, other):
            text = tried.left, tried.left + tried.width
            if self.shelves.fits(tried) and (crosses or not self.shelves.crossed(text)):
                return tried
        return None
