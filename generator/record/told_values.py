"""What was worked out for each scope and how it came about: told once for walls answered alike, but for dates."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from typing import Any

from generator.decide.model import Reason
from generator.job.job import Job
from generator.questionnaire.scopes import ScopePath
from generator.record.how import reason_of

Reasoned = Callable[[Reason], dict[str, Any]]
"""How a reason is told: with the value that it is of, or by its number."""


class ToldValues:
    """The values of a job as they are told, those that are the same on walls answered alike made once."""

    def __init__(self, job: Job, reasoned: Reasoned) -> None:
        self._job, self._reasoned = job, reasoned
        self._alike: dict[ScopePath, dict[str, Any]] = {}

    def of_work(self, path: ScopePath) -> dict[str, Any]:
        """Every value worked out for a work and its coats."""
        values = self.at(path)
        for coat in self._job.facts.inside(path, "coat"):
            values |= self.at(coat.path)
        return values

    def at(self, path: ScopePath) -> dict[str, Any]:
        """Every value worked out for just this scope, by its name; a coat's by the coat and its name."""
        alike = self._alike.get(self._job.facts.model(path))
        if alike is not None:
            return {**alike, **self._told(path, self._moving)}
        told = self._told(path, self._job.library.reckoned)
        moving = {_key(path, name) for name in self._moving}
        self._alike[path] = {key: entry for key, entry in told.items() if key not in moving}
        return told

    def _told(self, path: ScopePath, names: Iterable[str]) -> dict[str, Any]:
        found = self._job.facts.values.get(path, {})
        return {
            _key(path, name): {
                "value": self._job.facts.say(name, found[name].value),
                **self._reasoned(reason_of(self._job, path, name, found[name].origin)),
            }
            for name in names
            if name in found and found[name].origin != "given"
        }

    @cached_property
    def _moving(self) -> tuple[str, ...]:
        """The names that may differ between walls answered alike, or rest on such."""
        library, moving = self._job.library, self._job.facts.moving

        def rests_on(name: str) -> set[str]:
            entry = library.reckoned[name]
            return {name, *entry.of, *(key for table in entry.tables for key in library.tables[table].keys)}

        return tuple(name for name in library.reckoned if not moving.isdisjoint(rests_on(name)))


def _key(path: ScopePath, name: str) -> str:
    return "/".join([*path[2:], name])
