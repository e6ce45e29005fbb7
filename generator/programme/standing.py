"""Which tasks of the library there are at which scopes of a job, and which of them each comes after."""

from __future__ import annotations

import operator
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.library.model import Library
from generator.library.tasks import OR, TaskEntry
from generator.measure.both_sides import other_side_of
from generator.measure.items import alike
from generator.measure.shared_access import host_of
from generator.measure.stacked import below_of
from generator.programme.network import Id
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.names import LEVELS
from generator.questionnaire.scopes import ScopePath

LATER: Final = "works-after"
BESIDE: Final = ("coat-before", "works-before")
"""Other works and coats of a wall: who comes after a task that is not there does not wait for these in its place."""
_NAMED_WALLS: Final = {"access-host": host_of, "wall-below": below_of, "other-side": other_side_of}
"""What a link looks at that is one other wall, named in the answers."""
Seen = frozenset[tuple[str, ScopePath, bool]]


class Standing:
    """The tasks of a job by id, wall by wall, each with its entry and what its scope sees.

    A task that is made once for all works of a kind in the same mixes and finish on the same masonry stands at the
    first of them, and is the same task for the others.
    """

    def __init__(self, facts: Facts, library: Library) -> None:
        self.facts, self.library = facts, library
        self.found: dict[Id, tuple[TaskEntry, View]] = {}
        self._at: dict[tuple[str, ScopePath], Id] = {}
        self._once: dict[tuple[str, ...], Id] = {}
        self._named: dict[tuple[str, ScopePath, bool], tuple[Id, ...]] = {}
        self._links = {
            entry.id: tuple((place, tuple(tasks.split(OR))) for place, tasks in entry.links())
            for entry in library.tasks.values()
        }
        self._places = {path.path: self._place(path) for path in facts.views("work")}
        self._curing = {wall.path: tuple(_curing_walls(wall)) for wall in facts.views("element")}
        self._cured: dict[ScopePath, list[ScopePath]] = defaultdict(list)
        for path, curing in self._curing.items():
            for other in curing:
                self._cured[other].append(path)
        self._elsewhere = {
            place: {wall.path: (named,) for wall in facts.views("element") if (named := of(wall)) is not None}
            for place, of in _NAMED_WALLS.items()
        }
        self._guests: dict[ScopePath, list[ScopePath]] = defaultdict(list)
        for guest, (host,) in self._elsewhere["access-host"].items():
            self._guests[host].append(guest)
        tasks = [(entry, self._where(entry)) for entry in library.tasks.values() if entry.kind != "mark"]
        marks = (entry for entry in library.tasks.values() if entry.kind == "mark" and entry.when)
        self._marked = {entry.id: self._where(entry) for entry in marks}
        for wall in facts.views("element"):
            scopes = self._scopes(wall)
            for entry, where in tasks:
                for here in scopes[entry.per]:
                    if here.path in where:
                        self._stand(entry, here)

    def _where(self, entry: TaskEntry) -> frozenset[ScopePath]:
        unsure = entry.if_unknown == "include"
        return frozenset(self.library.condition("task", entry.id).where(self.facts, entry.per, unknown=unsure))

    def _place(self, work: View) -> int:
        return int(self.library.row("work-order", work=work.text("work")).number("place"))

    def _scopes(self, wall: View) -> dict[str, list[View]]:
        """Where on a wall tasks may be, by level, works in the order in which they are done."""
        works = sorted(wall.inside("work"), key=lambda work: self._places[work.path])
        return {"element": [wall], "work": works, "coat": [coat for work in works for coat in work.inside("coat")]}

    def _stand(self, entry: TaskEntry, here: View) -> None:
        id: Id = (*here.path, entry.id)
        if entry.one_for_each_mix and alike(here)[2:]:  # a wall's own earth is no mix
            id = self._once.setdefault(self._sort(entry, here), id)
        self._at[entry.id, here.path] = id
        self.found.setdefault(id, (entry, here))

    def _sort(self, entry: TaskEntry, here: View) -> tuple[str, ...]:
        """What works have in common that share a task: what makes them alike, and the coat of a task of a coat."""
        return entry.id, *here.path[2:], *alike(here)

    # --- what comes after what --------------------------------------------------------------------------

    def order(self, kept: Kept = AFRESH) -> Mapping[Id, tuple[Id, ...]]:
        """What each task comes after, of those that are not counted in others."""
        places = (self._places, self._curing, self._elsewhere)
        rests_on = (self._at, self._marked, places, tuple(self.facts.scopes), self.library)
        return kept.of("order of tasks", rests_on, self._ordered)

    def _ordered(self) -> dict[Id, tuple[Id, ...]]:
        return {id: self.after(entry, here) for id, (entry, here) in self.found.items() if not entry.joins}

    def after(self, entry: TaskEntry, here: View) -> tuple[Id, ...]:
        """The tasks that a task of a scope comes after, each once."""
        own = self._at.get((entry.id, here.path))
        return tuple(id for id in self._after(entry, here.path, frozenset(), False) if id != own)

    def named(self, tasks: str, here: View) -> tuple[Id, ...]:
        """The tasks so called at, in or around a scope; of alternatives, the first that is there.

        What is not there stands for what it comes after itself, but not where it is looked for elsewhere (`strict`) or
        further in, and not for works after its own; a mark alone stands for the works and coats before its own.
        """
        return self._first(tuple(tasks.split(OR)), here.path, frozenset(), False)

    def _first(self, options: tuple[str, ...], path: ScopePath, seen: Seen, strict: bool) -> tuple[Id, ...]:
        for task in options[:-1]:
            found = self._standing(task, path)
            if found:
                return found
        known = self._named.get((options[-1], path, strict))
        return self._one(options[-1], path, seen, strict) if known is None else known

    def _standing(self, task: str, path: ScopePath) -> tuple[Id, ...]:
        """The tasks so called that are there themselves."""
        meeting = self._meeting(self.library.tasks[task], path)
        return tuple(self._at[task, at] for at in meeting if (task, at) in self._at)

    def _one(self, task: str, path: ScopePath, seen: Seen, strict: bool) -> tuple[Id, ...]:
        key = (task, path, strict)
        if key in seen:  # walls that are said to cure one another: told as a circle by those that are there
            return ()
        entry = self.library.tasks[task]
        apart = strict or LEVELS.index(entry.per) > len(path)
        found: dict[Id, None] = {}
        for at in self._meeting(entry, path) or [path]:
            standing = self._at.get((task, at))
            if standing:
                found[standing] = None
            elif (at in self._marked.get(task, (at,))) if entry.kind == "mark" else not apart:
                found |= self._after(entry, at, seen | {key}, strict)
        self._named[key] = tuple(found)
        return self._named[key]

    def _after(self, entry: TaskEntry, path: ScopePath, seen: Seen, strict: bool) -> dict[Id, None]:
        found: dict[Id, None] = {}
        for place, options in self._links[entry.id]:
            if seen and (place == LATER or (place in BESIDE and entry.kind != "mark")):
                continue
            for at in self._of(place, path) if place else (path,):
                found |= dict.fromkeys(self._first(options, at, seen, strict or bool(place)))
        return found

    def _meeting(self, entry: TaskEntry, path: ScopePath) -> list[ScopePath]:
        """The scopes of a task's level that lie around a scope, or in it."""
        depth = LEVELS.index(entry.per)
        return [path[:depth]] if len(path) >= depth else self._inside(path, entry.per)

    def _inside(self, path: ScopePath, level: str) -> list[ScopePath]:
        return [scope.path for scope in self.facts.inside(path, level)]

    def _of(self, place: str, path: ScopePath) -> Iterable[ScopePath]:
        """The scopes elsewhere that a link looks at from a scope."""
        if place == "coat-before":
            coats = self._inside(path[:2], "coat")
            at = coats.index(path) if path in coats else 0
            return coats[max(at - 1, 0) : at]
        if place in ("works-before", LATER):
            own = self._places[path[:2]]
            passes = operator.gt if place == LATER else operator.lt
            return [work for work in self._inside(path[:1], "work") if passes(self._places[work], own)]
        return self._walls(place, path[:1])

    def _walls(self, place: str, wall: ScopePath) -> Iterable[ScopePath]:
        """The other walls that a link looks at from a wall."""
        match place:
            case "cured-walls":
                return self._cured.get(wall, ())
            case "access-guests":
                return self._guests.get(wall, ())
            case "curing-walls":
                return self._curing[wall]
        return self._elsewhere[place].get(wall, ())


def _curing_walls(here: View) -> Iterator[ScopePath]:
    """The walls on which the causes of a wall are put right, those that there are."""
    for id in here.texts("cured_on"):
        path = (id,)
        if path in here.facts.scopes and path != here.path[:1]:
            yield path
