"""Deciding: the rules in their order, over every scope of the job; then equal recipes gathered into mixes.

What only looks a row up is declared in the library, and looked up as soon as all that it rests on is decided.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Mapping
from functools import partial
from typing import Final

from generator.decide import binder, contradictions, mixes, old_mortar, rules, sands
from generator.decide.answered import unanswered
from generator.decide.looking_up import looked_up
from generator.decide.model import Considered, Decisions, Mix, Outcome, Reason
from generator.library.findings import Raised
from generator.library.model import Library
from generator.questionnaire.changes import changed
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.recall import EVERYWHERE, Changed, Reach, unlike
from generator.questionnaire.scopes import Scope, ScopePath
from generator.values import Struct, Value


class Rule(Struct, frozen=True):
    """A rule, the level of the scopes it is run over, and the names that it may give a value."""

    level: str
    decide: Callable[[View, Library], Outcome]
    makes: tuple[str, ...] = ()


_COAT_KEYS: Final = ("plaster_coats", "render_kind", "wall_class", "joint_finish", "water_drop")

WALL_RULES: Final = (
    Rule("project", contradictions.dates),
    Rule("project", sands.envelope),
    Rule("element", sands.blend, ("sand_blend",)),
)
# The coats of a work hang on its wall, so they are known only after the rules above.
WORK_RULES: Final = (
    Rule("work", contradictions.shares),
    Rule("work", contradictions.laths),
    Rule("work", rules.rake_depth, ("rake_depth_mm", "deep_from_mm")),
    Rule("work", contradictions.depths),
    Rule("coat", binder.binder, ("binder",)),
    Rule("coat", rules.grain, ("greatest_grain_mm",)),
    Rule("coat", rules.curing, ("damp_days", "frost_cover_days", "lowest_c", "highest_c")),
    Rule("work", rules.total, ("total_mm",)),
    Rule("work", old_mortar.put_back, ("old_mortar_per_cent",)),
)


def decide(answers: Facts, library: Library, last: Mapping[str, str] | None = None, kept: Kept = AFRESH) -> Decisions:
    """Everything decided about the job, and the findings that deciding raised; `last` are the numbers issued before."""
    made = kept.after("decided", lambda before: _decided(answers, library, before))
    found = mixes.mixes(made.facts, library, last or {})
    facts = _naming(made.facts, found)
    return Decisions(facts, made.reasons, tuple(made.considered), found, tuple(made.raised))


def _decided(answers: Facts, library: Library, before: _Made | None) -> _Made:
    made = _Made(answers.by_kind(), library, before)
    made.run(WALL_RULES)
    made.with_coats()
    made.raised += unanswered(made.facts, library)
    made.run(WORK_RULES)
    return made


class _Made:
    """What the rules have made so far, and what they have still to make.

    What was looked up `before` serves again where nothing that it rests on has changed since.
    """

    def __init__(self, facts: Facts, library: Library, before: _Made | None = None) -> None:
        self.facts, self.library = facts, library
        self.answers, self.scopes = facts, facts.scopes
        self.outcomes: dict[Hashable, Mapping[ScopePath, Outcome]] = {}
        self._before = {} if before is None else before.outcomes
        self._scopes = None if before is None else before.scopes
        self._since = changed(None if before is None else before.answers, facts)
        self.reasons: dict[tuple[ScopePath, str], Reason] = {}
        self.considered: list[Considered] = []
        self.raised: list[Raised] = []
        self.waiting = list(library.look_ups)
        made_by_rules = (name for rule in (*WALL_RULES, *WORK_RULES) for name in rule.makes)
        self.open = Counter(["coat", *made_by_rules, *(wanted.name.name for wanted in self.waiting)])

    def run(self, rules_: tuple[Rule, ...]) -> None:
        """Runs rules in order, and before and between them looks up whatever can be."""
        self._look_up()
        for rule in rules_:
            self._over(rule, rule.decide, EVERYWHERE)
            self._look_up()

    def _look_up(self) -> None:
        for wanted in list(self.waiting):
            if not any(self.open[name] for name in wanted.rests_on):
                self.waiting.remove(wanted)
                rule = Rule(wanted.name.scope, partial(looked_up, wanted), (wanted.name.name,))
                self._over(rule, wanted.name.name, self._since.reach(wanted.rests_on))

    def with_coats(self) -> None:
        """Gives each work its coats."""
        self.facts = _with_coats(self.facts, self.library)
        self.open -= Counter(["coat"])
        self.scopes = self.facts.scopes
        if self.scopes != self._scopes:
            self._since = Changed(whole=True)

    def _over(self, rule: Rule, key: Hashable, again: Reach) -> None:
        """Runs one rule over every scope of its level, again where it sees what is not as it was."""
        before = self._before.get(key, {})
        found: dict[ScopePath, Outcome] = {}
        for here in self.facts.views(rule.level):
            was = before.get(here.path)
            outcome = self._decided(rule, here, found) if was is None or again.meets(here.path) else was
            self._since.note(here.path, unlike({} if was is None else was.values, outcome.values))
            found[here.path] = outcome
        self.outcomes[key] = found
        self.facts = self.facts.adding_each({path: outcome.values for path, outcome in found.items()}, "<decide>")
        for path, outcome in found.items():
            assert outcome.values.keys() <= set(rule.makes), f"{rule} makes more than it says"
            if outcome.reason is not None:
                self.reasons |= {(path, name): outcome.reason for name in outcome.values}
            self.raised += outcome.raised
            self.considered += outcome.considered
        self.open -= Counter(rule.makes)

    def _decided(self, rule: Rule, here: View, found: Mapping[ScopePath, Outcome]) -> Outcome:
        """What a rule decides at a scope: as on the wall before that was answered alike, unless that raised something.

        What is raised tells the lines of the answers that it rests on.
        """
        alike = found.get(self.facts.model(here.path))
        return rule.decide(here, self.library) if alike is None or alike.raised else alike.at(here.path)


def _with_coats(facts: Facts, library: Library) -> Facts:
    """The facts with the coats that each work has, and each scope's own name."""
    bare = [work for work in facts.views("work") if not work.inside("coat")]
    coats = [Scope((*work.path, key), "coat", key) for work in bare for key in _coats_of(work, library)]
    facts = facts.with_scopes(coats)
    last = {found[-1].path for work in facts.views("work") if (found := work.inside("coat"))}
    made: dict[ScopePath, dict[str, Value]] = {
        coat.path: {"coat": coat.path[-1], "last_coat": coat.path in last} for coat in facts.at("coat")
    }
    facts = facts.adding_each(made, "<decide>")
    facts = facts.with_scopes([Scope(coat.path, "coat", coat.spoken("coat")) for coat in facts.views("coat")])
    named = [*facts.at("element"), *facts.at("work")]
    return facts.adding_each({scope.path: {f"{scope.level}_name": scope.title} for scope in named}, "given")


def _coats_of(work: View, library: Library) -> tuple[str, ...]:
    row = library.tables["coats"].row_for(work, unknown=_COAT_KEYS)
    return row.texts("coats") if row is not None else ()


def _naming(facts: Facts, found: tuple[Mix, ...]) -> Facts:
    """The facts with each mix as a scope of its own, and each coat told which mix it takes."""
    facts = facts.with_scopes([Scope(mix.path, "mix", mix.ref) for mix in found])
    for mix in found:
        coats = [facts.at_scope(path) for path in mix.used_for]
        named: Mapping[str, Value] = {
            "mix_ref": mix.ref,
            "mix_grain_mm": mix.grain_mm,
            "mix_hair": mix.hair_kg_per_m3 > 0,
            "mix_pointing": any(coat.text("coat") == "pointing" for coat in coats),
            "mix_setting": any(coat.text("coat") == "setting" for coat in coats),
        }
        takes: Mapping[str, Value] = {"mix_used": mix.ref, "mix_used_rest_days": mix.recipe.rest_days}
        facts = facts.adding_each({mix.path: named, **{coat.path: takes for coat in coats}}, "<decide>")
    return facts
