"""Which tasks of the library there are at which scopes of a job, and which of them each comes after."""

from __future__ import annotations

import operator
from collections.abc import Iterator
from typing import Final

from generator.library.model import Conditioned, Library
from generator.library.tasks import OR, TaskEntry
from generator.programme.network import Id
from generator.questionnaire.facts import Facts, ScopePath, View
from generator.questionnaire.names import LEVELS

LATER: Final = "works-after"
Seen = frozenset[tuple[str, ScopePath, bool]]


class Standing:
    """The tasks of a job by id, wall by wall, each with its entry and what its scope sees.

    A task that is made once for all works of a kind in the same mixes on the same masonry stands at the first of them,
    and is the same task for the others.
    """

    def __init__(self, facts: Facts, library: Library) -> None:
        self.facts, self.library = facts, library
        self.found: dict[Id, tuple[TaskEntry, View]] = {}
        self._at: dict[tuple[str, ScopePath], Id] = {}
        self._once: dict[tuple[str, ...], Id] = {}
        self._named: dict[tuple[str, ScopePath, bool], tuple[Id, ...]] = {}
        self._places = {path.path: self._place(path) for path in facts.views("work")}
        tasks = [(entry, library.condition("task", entry.id)) for entry in library.tasks.values()]
        for wall in facts.views("element"):
            scopes = self._scopes(wall)
            for entry, when in tasks:
                for here in scopes[entry.per]:
                    if entry.kind != "mark" and _stands(entry, when, here):
                        self._stand(entry, here)

    def _place(self, work: View) -> int:
        return int(self.library.row("work-order", work=work.text("work")).number("place"))

    def _scopes(self, wall: View) -> dict[str, list[View]]:
        """Where on a wall tasks may be, by level, works in the order in which they are done."""
        works = sorted(wall.inside("work"), key=lambda work: self._places[work.path])
        return {"element": [wall], "work": works, "coat": [coat for work in works for coat in work.inside("coat")]}

    def _stand(self, entry: TaskEntry, here: View) -> None:
        id: Id = (*here.path, entry.id)
        if entry.one_for_each_mix:
            id = self._once.setdefault(self._sort(entry, here), id)
        self._at[entry.id, here.path] = id
        self.found.setdefault(id, (entry, here))

    def _sort(self, entry: TaskEntry, here: View) -> tuple[str, ...]:
        """What works have in common that share a task: kind, masonry, mixes, and the coat of a task of a coat."""
        mixes = [coat.text("mix_used") for coat in here.around("work").inside("coat")]
        return entry.id, here.text("work"), here.text("masonry"), *here.path[2:], *mixes

    # --- what comes after what --------------------------------------------------------------------------

    def after(self, entry: TaskEntry, here: View) -> tuple[Id, ...]:
        """The tasks that a task of a scope comes after, each once."""
        own = self._at.get((entry.id, here.path))
        return tuple(id for id in self._after(entry, here, frozenset(), False) if id != own)

    def named(self, tasks: str, here: View, seen: Seen = frozenset(), strict: bool = False) -> tuple[Id, ...]:
        """The tasks so called at, in or around a scope; of alternatives, the first that is there.

        What is not there stands for what it comes after itself, but not where it is looked for elsewhere (`strict`) or
        further in, and not for works after its own.
        """
        options = tasks.split(OR)
        return next((found for task in options[:-1] if (found := self._standing(task, here))), ()) or self._one(
            options[-1], here, seen, strict
        )

    def _standing(self, task: str, here: View) -> tuple[Id, ...]:
        """The tasks so called that are there themselves."""
        scopes = self._meeting(self.library.tasks[task], here)
        return tuple(self._at[task, scope.path] for scope in scopes if (task, scope.path) in self._at)

    def _one(self, task: str, here: View, seen: Seen, strict: bool) -> tuple[Id, ...]:
        key = (task, here.path, strict)
        if key in seen:  # walls that are said to cure one another: told as a circle by those that are there
            return ()
        if key not in self._named:
            entry = self.library.tasks[task]
            apart = strict or LEVELS.index(entry.per) > len(here.path)
            found: list[Id] = []
            for scope in self._meeting(entry, here) or [here]:
                standing = self._at.get((task, scope.path))
                if standing:
                    found.append(standing)
                elif entry.kind == "mark" or not apart:
                    found += self._after(entry, scope, seen | {key}, strict)
            self._named[key] = tuple(dict.fromkeys(found))
        return self._named[key]

    def _after(self, entry: TaskEntry, here: View, seen: Seen, strict: bool) -> list[Id]:
        own = [(place, task) for place, task in entry.links() if not (seen and place == LATER)]
        links = ((task, at, strict or bool(place)) for place, task in own for at in self._of(place, here))
        return list(dict.fromkeys(id for task, at, apart in links for id in self.named(task, at, seen, apart)))

    def _meeting(self, entry: TaskEntry, here: View) -> list[View]:
        """The scopes of a task's level that lie around a scope, or in it."""
        depth = LEVELS.index(entry.per)
        if len(here.path) >= depth:
            return [here.facts.at_scope(here.path[:depth])]
        return here.inside(entry.per)

    def _of(self, place: str, here: View) -> Iterator[View]:
        """The scopes that a link looks at from a scope."""
        if not place:
            yield here
        elif place == "coat-before":
            coats = here.around("work").inside("coat")
            at = next((nr for nr, coat in enumerate(coats) if coat.path == here.path), 0)
            yield from coats[max(at - 1, 0) : at]
        elif place in ("works-before", LATER):
            own = self._places[here.path[:2]]
            works = here.facts.at_scope(here.path[:1]).inside("work")
            passes = operator.gt if place == LATER else operator.lt
            yield from (work for work in works if passes(self._places[work.path], own))
        else:
            yield from (here.facts.at_scope(path) for path in curing_walls(here))


def _stands(entry: TaskEntry, when: Conditioned, here: View) -> bool:
    return when.stands(here.facts, here.path, unknown=entry.if_unknown == "include")


def curing_walls(here: View) -> Iterator[ScopePath]:
    """The walls on which the causes of a wall are put right, those that there are."""
    for id in here.texts("cured_on"):
        path = (id,)
        if path in here.facts.scopes and path != here.path[:1]:
            yield path
