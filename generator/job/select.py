"""Which clauses are in, for which walls or mixes, and by which facts; the clauses left out are told too."""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.library.entries import Clause
from generator.library.model import Library
from generator.questionnaire.condition import Condition, Fact
from generator.questionnaire.facts import Facts
from generator.questionnaire.names import SCOPES
from generator.questionnaire.scopes import ScopePath


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
    at = {level: tuple(path for path, _ in facts.seen_at(level)) for level in SCOPES}
    return {key: _selection(clause, at[clause.per], facts, library) for key, clause in library.clauses.items()}


def _selection(clause: Clause, at: tuple[ScopePath, ...], facts: Facts, library: Library) -> Selection:
    condition = library.condition("clause", clause.id).when
    if condition is None:
        return Selection(clause, at, True)
    paths = condition.where(facts, clause.per, unknown=clause.if_unknown == "include")
    return Selection(clause, paths, len(paths) == len(at), at, condition, facts)
