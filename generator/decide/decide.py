"""Deciding: the rules in their order, over every scope of the job; then equal recipes gathered into mixes."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Final

from generator.decide import binder, contradictions, rules
from generator.decide.answered import unanswered
from generator.decide.model import Considered, Decisions, Mix, Outcome, Reason
from generator.errors import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Facts, Scope, ScopePath

Rule = Callable[[Facts, ScopePath, Library], Outcome]

RULES: Final[tuple[tuple[str, Rule], ...]] = (
    ("project", contradictions.dates),
    ("element", rules.exposure_reckoned),
    ("element", rules.wall_class),
    ("work", contradictions.shares),
    ("work", rules.wetting),
    ("work", rules.rake_depth),
    ("coat", binder.binder),
    ("coat", rules.grain),
    ("coat", rules.layer),
    ("coat", rules.curing),
    ("coat", rules.last_placing),
)


def decide(answers: Facts, library: Library) -> Decisions:
    """Everything decided about the job, and the findings that deciding raised."""
    facts = _with_coats(answers, library)
    reasons: dict[tuple[ScopePath, str], Reason] = {}
    considered: list[Considered] = []
    raised: list[Raised] = list(unanswered(facts, library))
    for level, rule in RULES:
        for scope in facts.at(level):
            outcome = rule(facts, scope.path, library)
            facts = facts.adding(scope.path, outcome.values, "<decide>")
            if outcome.reason is not None:
                reasons |= {(scope.path, name): outcome.reason for name in outcome.values}
            raised += outcome.raised
            considered += outcome.considered
    mixes = _mixes(facts, library)
    facts = _naming(facts, mixes)
    return Decisions(facts, reasons, tuple(considered), mixes, tuple(raised))


def _with_coats(facts: Facts, library: Library) -> Facts:
    """The facts with the coats that each work has, and each scope's own name."""
    coats: list[Scope] = []
    for scope in facts.at("work"):
        row = library.tables["coats"].find(work=_text(facts, scope.path, "work"), masonry=_text(facts, scope.path, "masonry"))
        coats += [Scope((*scope.path, key), "coat", key) for key in (row.values["coats"] if row else ())]
    facts = facts.with_scopes(coats)
    for scope in [*facts.at("element"), *facts.at("work")]:
        facts = facts.adding(scope.path, {f"{scope.level}_name": scope.title}, "given")
    return facts


def _text(facts: Facts, path: ScopePath, name: str) -> str | None:
    value = facts.get(path, name)
    return value if isinstance(value, str) else None


def _mixes(facts: Facts, library: Library) -> tuple[Mix, ...]:
    """Coats of equal recipe and grain gathered, numbered M1, M2 … in the order of the answers."""
    gathered: dict[tuple[str, Decimal], list[ScopePath]] = {}
    for scope in facts.at("coat"):
        chosen, grain = facts.get(scope.path, "binder"), facts.get(scope.path, "greatest_grain_mm")
        recipe = binder.recipe_for(facts, scope.path, library, chosen) if isinstance(chosen, str) else None
        if recipe is not None and isinstance(grain, Decimal):
            gathered.setdefault((recipe.id, grain), []).append(scope.path)
    return tuple(
        Mix(f"M{number}", library.recipes[key], grain, tuple(paths))
        for number, ((key, grain), paths) in enumerate(gathered.items(), start=1)
    )


def _naming(facts: Facts, mixes: tuple[Mix, ...]) -> Facts:
    """The facts with each mix as a scope of its own, and each coat told which mix it takes."""
    facts = facts.with_scopes([Scope(mix.path, "mix", mix.ref) for mix in mixes])
    for mix in mixes:
        facts = facts.adding(mix.path, {"mix_ref": mix.ref, "mix_grain_mm": mix.grain_mm}, "<decide>")
        for path in mix.used_for:
            facts = facts.adding(path, {"mix_used": mix.ref}, "<decide>")
    return facts
