"""Which clauses are in, for which walls or mixes, and by which facts; the clauses left out are told too."""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.library.model import Clause, Library
from generator.questionnaire.condition import Condition, Fact
from generator.questionnaire.facts import Facts, ScopePath


@dataclass(frozen=True, slots=True)
class Selection:
    """A clause, the scopes where it is in, and what it was tried on: its condition, if it has one, there."""

    clause: Clause
    paths: tuple[ScopePath, ...]
    everywhere: bool
    tried_at: tuple[ScopePath, ...] = ()
    condition: Condition | None = None
    seen: Facts | None = field(default=None, repr=False, compare=False)

    @property
    def included(self) -> bool:
        """Whether it is in at all."""
        return bool(self.paths)

    @property
    def tried(self) -> tuple[tuple[ScopePath, bool | None, tuple[Fact, ...]], ...]:
        """The facts of its condition at every scope it was tried on; worked out when asked for, by the record alone."""
        if self.condition is None or self.seen is None:
            return ()
        verdicts = ((path, self.condition.evaluate(self.seen, path)) for path in self.tried_at)
        return tuple((path, verdict.holds, verdict.facts) for path, verdict in verdicts)


def select(facts: Facts, library: Library) -> dict[str, Selection]:
    """Every clause of the library with where it is in, in the library's order."""
    return {key: _selection(clause, facts, library) for key, clause in library.clauses.items()}


def _selection(clause: Clause, facts: Facts, library: Library) -> Selection:
    condition = library.condition("clause", clause.id).when
    scopes = facts.at(clause.per)
    if condition is None:
        paths = tuple(scope.path for scope in scopes)
        return Selection(clause, paths, True)
    tried = [(scope.path, condition.holds(facts, scope.path)) for scope in scopes]
    unsure = clause.if_unknown == "include"
    paths = tuple(path for path, holds in tried if holds or (holds is None and unsure))
    at = tuple(path for path, _ in tried)
    return Selection(clause, paths, len(paths) == len(scopes), at, condition, facts)
