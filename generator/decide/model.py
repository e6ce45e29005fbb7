"""What deciding makes: values with reasons, what was considered, and the mixes."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property
from typing import Final

from generator.library.entries import Recipe
from generator.library.findings import Raised
from generator.library.tables import TableRow
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct, Value, field, replace

JOINT_COATS: Final = ("pointing", "bedding")


class Reason(Struct, frozen=True):
    """Why a value is what it is: rule or table, what it says, its sources, and the answers it rests on."""

    rule: str
    because: str
    sources: tuple[str, ...] = ()
    confidence: str = ""
    range: str = ""
    facts: tuple[str, ...] = ()


class Considered(Struct, frozen=True):
    """A binder that was weighed for a coat and not taken; `why_not` is a key of the library's words."""

    path: ScopePath
    binder: str
    why_not: str
    because: str = ""


class Outcome(Struct, frozen=True):
    """What one rule decides at one scope."""

    values: Mapping[str, Value] = field(default_factory=dict)
    reason: Reason | None = None
    raised: tuple[Raised, ...] = ()
    considered: tuple[Considered, ...] = ()

    def at(self, path: ScopePath) -> Outcome:
        """The same at a scope that sees the same; nothing may be raised in it, which would tell where it was."""
        if not self.considered:
            return self
        return replace(self, considered=tuple(replace(one, path=path) for one in self.considered))


class Mix(Struct, frozen=True):
    """Coats that share one mortar: its reference, recipe, greatest grain and where it goes; of a wash, its colour.

    `apart` tells it from the others of its recipe in the job; "" where there are none.
    """

    ref: str
    recipe: Recipe
    grain_mm: Decimal
    used_for: tuple[ScopePath, ...]
    hair_kg_per_m3: Decimal = Decimal(0)
    colour: str = ""
    apart: str = ""

    @property
    def name(self) -> str:
        """What the mortar is called, of no other mix of the job."""
        return f"{self.recipe.name}, {self.apart}" if self.apart else self.recipe.name

    @property
    def path(self) -> ScopePath:
        """The scope of the mix's own names."""
        return (self.ref,)


class Decisions(Struct, frozen=True, dict=True):
    """All that was decided, with the facts it was added to."""

    facts: Facts
    reasons: Mapping[tuple[ScopePath, str], Reason]
    considered: tuple[Considered, ...]
    mixes: tuple[Mix, ...]
    raised: tuple[Raised, ...]

    def mix_of(self, path: ScopePath) -> Mix | None:
        """The mix that a coat takes."""
        return self._mix_at.get(path)

    @cached_property
    def _mix_at(self) -> Mapping[ScopePath, Mix]:
        found: dict[ScopePath, Mix] = {}
        for mix in self.mixes:
            for path in mix.used_for:
                found.setdefault(path, mix)
        return found


def table_reason(rule: str, row: TableRow, facts: tuple[str, ...]) -> Reason:
    """The reason that a table's row gives."""
    return Reason(rule, row.because, row.sources, row.confidence, row.range, facts)
