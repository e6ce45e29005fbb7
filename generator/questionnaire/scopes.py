"""The scopes of a job, and what is held at each: a value, and where it came from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.files.errors import Mark
from generator.values import NOT_KNOWN, Struct, Value

ScopePath = tuple[str, ...]
PROJECT: ScopePath = ()


@dataclass(frozen=True, slots=True)
class Held:
    """A value and where it came from: `given`, `default`, or the rule that made it (`<decide>` …).

    `spelt` is what was written, where it says more than the value that was read from it.
    """

    value: Value
    origin: str = "given"
    mark: Mark = field(default=Mark(""), compare=False)
    spelt: str = ""

    @property
    def known(self) -> bool:
        """Whether it is a value and not `not known`."""
        return self.value is not NOT_KNOWN


Seen = tuple[Mapping[str, Held], ...]
"""The values of a scope and of those around it, the nearest first."""


class Scope(Struct, frozen=True):
    """One project, element, work, coat or mix of the job."""

    path: ScopePath
    level: str
    title: str


class Scopes(dict[ScopePath, Scope]):
    """Scopes by path in the order of the answers, and what lies in each: jobs have thousands of them."""

    def __init__(self, scopes: Mapping[ScopePath, Scope]) -> None:
        super().__init__(scopes)
        self._inside: dict[tuple[ScopePath, str], list[Scope]] = {}
        for path, scope in self.items():
            for end in range(len(path) + 1):
                self._inside.setdefault((path[:end], scope.level), []).append(scope)

    def inside(self, path: ScopePath, level: str) -> list[Scope]:
        """The scopes of a level that lie in a scope, itself included."""
        return list(self._inside.get((path, level), ()))
