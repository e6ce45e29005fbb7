"""What is known of the job: values by scope and name, each with its origin; looked up outward."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from generator.errors import Mark
from generator.questionnaire.names import LEVELS, Names
from generator.values import DAY_MONTH_YEAR, NOT_KNOWN, Value, spoken

if TYPE_CHECKING:
    from generator.questionnaire.photographs import Photographed

ScopePath = tuple[str, ...]
PROJECT: ScopePath = ()


@dataclass(frozen=True, slots=True)
class Held:
    """A value and where it came from: `given`, `default`, or the rule that made it (`<decide>` …)."""

    value: Value
    origin: str = "given"
    mark: Mark = field(default=Mark(""), compare=False)

    @property
    def known(self) -> bool:
        """Whether it is a value and not `not known`."""
        return self.value is not NOT_KNOWN


@dataclass(frozen=True, slots=True)
class Scope:
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


@dataclass(frozen=True)
class Facts:
    """Every value of the job. Steps add to it and hand on a new one; nothing is changed in place.

    `photographs` are those answered, which no single value can hold.
    """

    names: Names
    scopes: Scopes
    values: Mapping[ScopePath, Mapping[str, Held]]
    photographs: tuple[Photographed, ...] = ()

    def held(self, path: ScopePath, name: str) -> Held | None:
        """The value of a name as seen from a scope, looking outward; None where nobody gave one."""
        for end in range(len(path), -1, -1):
            found = self.values.get(path[:end], {}).get(name)
            if found is not None:
                return found
        return None

    def get(self, path: ScopePath, name: str) -> Value | None:
        """The value alone; None where it is absent or not known."""
        found = self.held(path, name)
        return found.value if found is not None and found.known else None

    def home(self, path: ScopePath, name: str) -> ScopePath:
        """The scope in which a name seen from a path has its value."""
        for end in range(len(path), -1, -1):
            if name in self.values.get(path[:end], {}):
                return path[:end]
        return path

    def spoken(self, path: ScopePath, name: str) -> str:
        """The value of a name as a reader sees it."""
        held = self.held(path, name)
        return "" if held is None else self.say(name, held.value)

    def say(self, name: str, value: Value) -> str:
        """A value of a name as a reader sees it: choices by what they say, numbers with their unit."""
        entry = self.names[name]
        if isinstance(value, tuple):
            said = tuple(entry.choices.get(item, item) if isinstance(item, str) else item for item in value)
            return spoken(said, entry.unit, self.date_form)
        if isinstance(value, str):
            return entry.choices.get(value, value)
        return spoken(value, entry.unit, self.date_form)

    @property
    def date_form(self) -> str:
        """How the papers spell dates: as answered, else day, month in words, year."""
        return str(self.get(PROJECT, "date_form") or DAY_MONTH_YEAR)

    def at(self, level: str) -> list[Scope]:
        """The scopes of a level, in the order of the answers."""
        return self.scopes.inside(PROJECT, level)

    def inside(self, path: ScopePath, level: str) -> list[Scope]:
        """The scopes of a level that lie in a scope, itself included."""
        return self.scopes.inside(path, level)

    def ancestor(self, path: ScopePath, level: str) -> ScopePath:
        """The path cut to a level: the element of a coat, say."""
        return path[: LEVELS.index(level)]

    def title(self, path: ScopePath) -> str:
        """The scope as a reader knows it: `Front wall, repointing`."""
        titles = [self.scopes[path[:end]].title for end in range(1, len(path) + 1) if path[:end] in self.scopes]
        return ", ".join(titles[:2]) if titles else self.scopes[PROJECT].title

    def adding(self, path: ScopePath, values: Mapping[str, Value], origin: str) -> Facts:
        """These facts and more of one scope, each checked to be a declared name."""
        new = {name: Held(value, origin) for name, value in values.items()}
        self._check(new)
        return replace(self, values={**self.values, path: {**self.values.get(path, {}), **new}})

    def with_scopes(self, scopes: Iterable[Scope]) -> Facts:
        """These facts with further scopes."""
        return replace(self, scopes=Scopes({**self.scopes, **{scope.path: scope for scope in scopes}}))

    def _check(self, names: Iterable[str]) -> None:
        for name in names:
            self.names[name]

    def every(self) -> Iterator[tuple[ScopePath, str, Held]]:
        """Every value with its scope and name."""
        for path, values in self.values.items():
            for name, held in values.items():
                yield path, name, held
