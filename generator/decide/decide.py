"""Deciding: the rules in their order, over every scope of the job; then equal recipes gathered into mixes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from generator.decide import binder, coats, contradictions, mixes, old_mortar, rules, sands
from generator.decide.answered import unanswered
from generator.decide.model import Considered, Decisions, Mix, Outcome, Reason
from generator.errors import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Facts, Scope, ScopePath

Rule = Callable[[Facts, ScopePath, Library], Outcome]

_COAT_KEYS: Final = ("plaster_coats", "render_kind", "wall_class")

WALL_RULES: Final[tuple[tuple[str, Rule], ...]] = (
    ("project", contradictions.dates),
    ("element", rules.exposure_reckoned),
    ("element", rules.wall_class),
    ("project", sands.envelope),
    ("element", sands.blend),
)
# The coats of a work hang on its wall's class, so they are known only after the rules above.
WORK_RULES: Final[tuple[tuple[str, Rule], ...]] = (
    ("work", contradictions.shares),
    ("work", contradictions.cold_room),
    ("work", rules.wetting),
    ("work", rules.rake_depth),
    ("work", rules.deep_band),
    ("coat", binder.binder),
    ("coat", rules.grain),
    ("coat", rules.layer),
    ("coat", coats.grain),
    ("coat", coats.thickness),
    ("coat", coats.hair),
    ("coat", coats.wait),
    ("coat", rules.curing),
    ("coat", rules.last_placing),
    ("work", coats.panel),
    ("work", coats.total),
    ("work", coats.lift),
    ("work", coats.lath_gap),
    ("work", coats.wash_coats),
    ("work", old_mortar.put_back),
)


def decide(answers: Facts, library: Library, last: Mapping[str, str] | None = None) -> Decisions:
    """Everything decided about the job, and the findings that deciding raised; `last` are the numbers issued before."""
    made = _Made(answers)
    made.run(WALL_RULES, library)
    made.facts = _with_coats(made.facts, library)
    made.raised += unanswered(made.facts, library)
    made.run(WORK_RULES, library)
    found = mixes.mixes(made.facts, library, last or {})
    facts = _naming(made.facts, found)
    return Decisions(facts, made.reasons, tuple(made.considered), found, tuple(made.raised))


@dataclass(slots=True)
class _Made:
    """What the rules have made so far."""

    facts: Facts
    reasons: dict[tuple[ScopePath, str], Reason] = field(default_factory=dict)
    considered: list[Considered] = field(default_factory=list)
    raised: list[Raised] = field(default_factory=list)

    def run(self, rules_: tuple[tuple[str, Rule], ...], library: Library) -> None:
        """Runs rules in order, each over every scope of its level."""
        for level, rule in rules_:
            for scope in self.facts.at(level):
                outcome = rule(self.facts, scope.path, library)
                self.facts = self.facts.adding(scope.path, outcome.values, "<decide>")
                if outcome.reason is not None:
                    self.reasons |= {(scope.path, name): outcome.reason for name in outcome.values}
                self.raised += outcome.raised
                self.considered += outcome.considered


def _with_coats(facts: Facts, library: Library) -> Facts:
    """The facts with the coats that each work has, and each scope's own name."""
    bare = [scope.path for scope in facts.at("work") if not facts.inside(scope.path, "coat")]
    coats = [Scope((*path, key), "coat", key) for path in bare for key in _coats_of(facts, path, library)]
    facts = facts.with_scopes(coats)
    for scope in facts.at("coat"):
        facts = facts.adding(scope.path, {"coat": scope.path[-1]}, "<decide>")
    named = [Scope(scope.path, "coat", facts.spoken(scope.path, "coat")) for scope in facts.at("coat")]
    facts = facts.with_scopes(named)
    for scope in [*facts.at("element"), *facts.at("work")]:
        facts = facts.adding(scope.path, {f"{scope.level}_name": scope.title}, "given")
    return facts


def _coats_of(facts: Facts, path: ScopePath, library: Library) -> list[str]:
    row, _ = rules.found(facts, path, library.tables["coats"], optional=_COAT_KEYS)
    return list(row.values["coats"]) if row else []


def _naming(facts: Facts, found: tuple[Mix, ...]) -> Facts:
    """The facts with each mix as a scope of its own, and each coat told which mix it takes."""
    facts = facts.with_scopes([Scope(mix.path, "mix", mix.ref) for mix in found])
    for mix in found:
        facts = facts.adding(
            mix.path,
            {
                "mix_ref": mix.ref,
                "mix_grain_mm": mix.grain_mm,
                "mix_hair": mix.hair_kg_per_m3 > 0,
                "mix_pointing": any(facts.get(path, "coat") == "pointing" for path in mix.used_for),
            },
            "<decide>",
        )
        for path in mix.used_for:
            facts = facts.adding(path, {"mix_used": mix.ref}, "<decide>")
    return facts
