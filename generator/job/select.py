"""Which clauses are in, for which walls or mixes, and by which facts; the clauses left out are told too."""

from __future__ import annotations

from dataclasses import dataclass

from generator.library.model import Clause, Library
from generator.questionnaire.condition import Fact
from generator.questionnaire.facts import Facts, ScopePath


@dataclass(frozen=True, slots=True)
class Selection:
    """A clause, the scopes where it is in, and the facts of its condition at every scope it was tried on."""

    clause: Clause
    paths: tuple[ScopePath, ...]
    tried: tuple[tuple[ScopePath, bool | None, tuple[Fact, ...]], ...]
    everywhere: bool

    @property
    def included(self) -> bool:
        """Whether it is in at all."""
        return bool(self.paths)


def select(facts: Facts, library: Library) -> dict[str, Selection]:
    """Every clause of the library with where it is in, in the library's order."""
    return {key: _selection(clause, facts, library) for key, clause in library.clauses.items()}


def _selection(clause: Clause, facts: Facts, library: Library) -> Selection:
    condition = library.condition("clause", clause.id).when
    scopes = facts.at(clause.per)
    if condition is None:
        paths = tuple(scope.path for scope in scopes)
        return Selection(clause, paths, (), True)
    tried = []
    for scope in scopes:
        verdict = condition.evaluate(facts, scope.path)
        tried.append((scope.path, verdict.holds, verdict.facts))
    unsure = clause.if_unknown == "include"
    paths = tuple(path for path, holds, _ in tried if holds or (holds is None and unsure))
    return Selection(clause, paths, tuple(tried), len(paths) == len(scopes))
