"""Findings about a job: as a step raises one by its code, and as the library words it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from generator.files.errors import Mark
from generator.values import Struct

LEVELS: Final = ("note", "warning", "refusal", "block")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a reader must know about the job: worded by the library, raised by a rule or a condition.

    `scope` is the path of ids from the project down; `facts` are the answers that raised it; `question` is the name of
    the one that it asks for an answer, "" where it asks for none.
    """

    level: str
    code: str
    scope: tuple[str, ...]
    message: str
    action: str
    answer_by: str
    sources: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = field(default=(), compare=False)
    instruction: str = ""
    question: str = ""

    @property
    def rank(self) -> int:
        """Position in `LEVELS`, the gravest highest."""
        return LEVELS.index(self.level)

    @property
    def words(self) -> tuple[str, ...]:
        """All that it says, wherever it is: findings alike differ in their scope, facts and marks."""
        return self.level, self.code, self.message, self.action, self.instruction, self.answer_by


class Raised(Struct, frozen=True):
    """A finding as a step raises it: its code, where, and what fills its words. Words come later."""

    code: str
    scope: tuple[str, ...] = ()
    fills: tuple[tuple[str, str], ...] = ()
    facts: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()
