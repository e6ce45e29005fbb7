"""What is known of the job: values by scope and name, each with its origin; looked up outward."""

from __future__ import annotations

import datetime
from abc import ABC, abstractmethod
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from generator.files.errors import Mark
from generator.questionnaire.columns import Columns
from generator.questionnaire.customary import spelling_of
from generator.questionnaire.kinds import CALLED, OF_OTHERS, TIMED, Kinds
from generator.questionnaire.names import LEVELS, Names
from generator.questionnaire.recall import Recall
from generator.questionnaire.scopes import PROJECT, Held, Scope, ScopePath, Scopes, Seen
from generator.values import (
    DAY_MONTH_YEAR,
    NOT_KNOWN,
    Form,
    MonthDay,
    Range,
    Spelling,
    Value,
    as_form,
    replace,
    spoken,
)

if TYPE_CHECKING:
    from generator.questionnaire.photographed import Photographed

Made = TypeVar("Made")


class Typed(ABC):
    """Values by name, each read as what it is declared to be; read as what it is not, it raises `TypeError`.

    What nobody knows is None, an empty text or an empty list.
    """

    __slots__ = ()

    @abstractmethod
    def _value(self, name: str, kinds: tuple[str, ...]) -> Value | None:
        """The value of a name that is declared as one of some kinds; None where nobody knows it."""

    def _as(self, form: type[Form], name: str, *kinds: str) -> Form | None:
        value = self._value(name, kinds)
        return None if value is None else as_form(form, value, name)

    def number(self, name: str) -> Decimal | None:
        """A number, in the unit that its name ends in."""
        return self._as(Decimal, name, "number")

    def real(self, name: str) -> float | None:
        """A number as the functions of the trade's reckoning take it."""
        value = self.number(name)
        return None if value is None else float(value)

    def span(self, name: str) -> Range[Decimal] | None:
        """A number from low to high, in the unit that its name ends in."""
        return self._as(Range, name, "range")

    def likely(self, name: str) -> Decimal | None:
        """A number, or the likely one of a number from low to high."""
        value = self._value(name, ("number", "range"))
        return value.likely if isinstance(value, Range) else None if value is None else as_form(Decimal, value, name)

    def day(self, name: str) -> datetime.date | None:
        """A date."""
        return self._as(datetime.date, name, "date")

    def month_day(self, name: str) -> MonthDay | None:
        """A month and day that come back every year."""
        return self._as(MonthDay, name, "month_day")

    def yes(self, name: str) -> bool | None:
        """Yes or no."""
        return self._as(bool, name, "yes_no")

    def text(self, name: str) -> str:
        """A choice, a text or the name of a file."""
        return self._as(str, name, "choice", "text", "file") or ""

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of choices or texts."""
        found = self._as(tuple, name, "choices", "texts") or ()
        return tuple(as_form(str, item, name) for item in found)


@dataclass(frozen=True, slots=True)
class Record(Typed):
    """One record of a list, its values by column."""

    values: Mapping[str, Value]
    columns: Names

    def _value(self, name: str, kinds: tuple[str, ...]) -> Value | None:
        return self.values.get(self.columns.read_as(name, kinds).name)


@dataclass(frozen=True, slots=True)
class View(Typed):
    """The facts as one scope sees them, looking outward."""

    facts: Facts
    path: ScopePath

    def _value(self, name: str, kinds: tuple[str, ...]) -> Value | None:
        facts = self.facts
        facts.names.read_as(name, kinds)
        return facts.get(self.path, name)

    def records(self, name: str) -> tuple[Record, ...]:
        """A list of records."""
        columns = self.facts.names.read_as(name, ("records",)).columns or Names({})
        return tuple(Record(as_form(dict, item, name), columns) for item in self._as(tuple, name, "records") or ())

    def held(self, name: str) -> Held | None:
        """The value of a name with its origin; None where nobody gave one."""
        return self.facts.held(self.path, name)

    def known(self, name: str) -> bool:
        """Whether somebody gave a value, and it is not `not known`."""
        return self.facts.get(self.path, name) is not None

    def marks(self, *names: str) -> tuple[Mark, ...]:
        """Where answers stand in the answers file; what was not answered has no place."""
        found = (held.mark for name in names if (held := self.held(name)) is not None)
        return tuple(mark for mark in found if mark.line)

    def spoken(self, name: str) -> str:
        """The value of a name as a reader sees it."""
        return self.facts.spoken(self.path, name)

    def inside(self, level: str) -> list[View]:
        """What the scopes of a level see that lie in this one, itself included."""
        return [View(self.facts, scope.path) for scope in self.facts.inside(self.path, level)]

    def around(self, level: str) -> View:
        """What the scope of a level sees that this one lies in."""
        return View(self.facts, self.facts.ancestor(self.path, level))


@dataclass(frozen=True)
class Facts:
    """Every value of the job. Steps add to it and hand on a new one; nothing is changed in place.

    `photographs` are those answered, which no single value can hold; `recall` is what was found of these facts.
    `kinds` are its walls by how they were answered, once they are told apart.
    """

    names: Names
    scopes: Scopes
    values: Mapping[ScopePath, Mapping[str, Held]]
    photographs: tuple[Photographed, ...] = ()
    kinds: Kinds | None = field(default=None, repr=False, compare=False)
    recall: Recall | None = field(default=None, init=False, repr=False, compare=False)
    _outward: dict[ScopePath, Seen] = field(default_factory=dict, init=False, repr=False, compare=False)
    _seen_at: dict[str, tuple[tuple[ScopePath, Seen], ...]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _said: dict[tuple[str, Decimal | Range[Decimal]], str] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _columns: dict[str, Columns] = field(default_factory=dict, init=False, repr=False, compare=False)

    def held(self, path: ScopePath, name: str) -> Held | None:
        """The value of a name as seen from a scope, looking outward; None where nobody gave one."""
        for values in self.outward(path):
            found = values.get(name)
            if found is not None:
                return found
        return None

    def outward(self, path: ScopePath) -> Seen:
        """The values of a scope and of those around it, the nearest first."""
        return self._outward.get(path) or self._look_outward(path)

    def seen_at(self, level: str) -> tuple[tuple[ScopePath, Seen], ...]:
        """What each scope of a level sees, in the order of the answers; kept, as hundreds of conditions ask for it."""
        if level not in self._seen_at:
            self._seen_at[level] = tuple((scope.path, self.outward(scope.path)) for scope in self.at(level))
        return self._seen_at[level]

    def columns(self, level: str) -> Columns:
        """What all scopes of a level see, name by name; kept, as hundreds of conditions ask for it."""
        if level not in self._columns:
            self._columns[level] = Columns(self.seen_at(level))
        return self._columns[level]

    def _look_outward(self, path: ScopePath) -> Seen:
        # kept: a job looks there a million times
        seen = (self.values.get(path[:end]) for end in range(len(path), -1, -1))
        found = self._outward[path] = tuple(values for values in seen if values)
        return found

    def get(self, path: ScopePath, name: str) -> Value | None:
        """The value alone; None where it is absent or not known."""
        for values in self._outward.get(path) or self._look_outward(path):
            found = values.get(name)
            if found is not None:
                return None if found.value is NOT_KNOWN else found.value
        return None

    def at_scope(self, path: ScopePath) -> View:
        """The facts as a scope sees them, to be read as what they are: numbers, dates, texts …"""
        return View(self, path)

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
        if isinstance(value, Decimal | Range):
            key = name, value
            if key not in self._said:
                self._said[key] = spoken(value, self.names[name].unit, self.spelling, self.names[name].customs)
            return self._said[key]
        entry = self.names[name]
        if isinstance(value, tuple):
            said = tuple(entry.choices.get(item, item) if isinstance(item, str) else item for item in value)
            return spoken(said, entry.unit, self.spelling, entry.customs)
        if isinstance(value, str):
            return entry.choices.get(value, value)
        return spoken(value, entry.unit, self.spelling, entry.customs)

    def alone(self, name: str, value: Decimal | Range[Decimal]) -> str:
        """A number or range of a name as a reader sees it, without its unit, which stands elsewhere on the line."""
        entry = self.names[name]
        return self.spelling.alone(value, entry.unit, entry.customs)

    def native(self) -> Facts:
        """These facts with every size that is chosen as it is made where the papers go: gauge boxes, mixers."""
        spelling = self.spelling
        if not spelling.chooses:
            return self
        chosen = {name: entry.customs for name, entry in self.names.items() if entry.customs.step is not None}
        sized = {
            path: {
                name: replace(held, value=spelling.native(held.value, chosen[name]))
                if name in chosen and isinstance(held.value, Decimal)
                else held
                for name, held in values.items()
            }
            for path, values in self.values.items()
        }
        return replace(self, values=sized)

    @property
    def date_form(self) -> str:
        """How the papers spell dates: as answered, else day, month in words, year."""
        return str(self.get(PROJECT, "date_form") or DAY_MONTH_YEAR)

    @cached_property
    def spelling(self) -> Spelling:
        """How the papers spell values: in the units answered, with dates in their form."""
        return spelling_of(str(self.get(PROJECT, "units") or ""), self.date_form)

    def at(self, level: str) -> list[Scope]:
        """The scopes of a level, in the order of the answers."""
        return self.scopes.inside(PROJECT, level)

    def inside(self, path: ScopePath, level: str) -> list[Scope]:
        """The scopes of a level that lie in a scope, itself included."""
        return self.scopes.inside(path, level)

    def views(self, level: str) -> list[View]:
        """What each scope of a level sees, in the order of the answers."""
        return self.at_scope(PROJECT).inside(level)

    def is_wall(self, path: ScopePath) -> bool:
        """Whether a wall, or a part of one that is as one, is there by that path."""
        scope = self.scopes.get(path)
        return scope is not None and scope.level == "element"

    def ancestor(self, path: ScopePath, level: str) -> ScopePath:
        """The path cut to a level: the element of a coat, say."""
        return path[: LEVELS.index(level)]

    def title(self, path: ScopePath) -> str:
        """The scope as a reader knows it: `Front wall, repointing`."""
        titles = [self.scopes[path[:end]].title for end in range(1, len(path) + 1) if path[:end] in self.scopes]
        return ", ".join(titles[:2]) if titles else self.scopes[PROJECT].title

    def by_kind(self) -> Facts:
        """These facts with their walls told apart by how they were answered; what is added to them keeps it."""
        # what a photograph shows is no answer: a wall on one is like none
        pictured = frozenset(one.element for one in self.photographs)
        return replace(self, kinds=Kinds(self.scopes, self.values, pictured))

    def model(self, path: ScopePath) -> ScopePath:
        """The same place on the first wall answered alike, maybe this itself: all but what moves is the same there."""
        return path if self.kinds is None else self.kinds.model(path)

    @cached_property
    def moving(self) -> frozenset[str]:
        """The names that may differ between walls answered alike: what they are called, and what time gives."""
        return frozenset((*CALLED, *OF_OTHERS, *(name for _, name, held in self.every() if held.origin == TIMED)))

    def standing_for(self, path: ScopePath, names: Collection[str]) -> ScopePath:
        """The first scope at which all that rests on some names alone is as here, maybe this itself."""
        return self.model(path) if self.moving.isdisjoint(names) else path

    def each_kind(self, level: str, make: Callable[[View], Made]) -> dict[ScopePath, Made]:
        """What is made of each scope of a level, once for those of walls answered alike: nothing that tells a place."""
        found: dict[ScopePath, Made] = {}
        for here in self.views(level):
            model = self.model(here.path)
            found[here.path] = found[model] if model in found else make(here)
        return found

    def adding(self, path: ScopePath, values: Mapping[str, Value], origin: str) -> Facts:
        """These facts and more of one scope, each checked to be a declared name."""
        return self.adding_each({path: values}, origin)

    def adding_each(self, values: Mapping[ScopePath, Mapping[str, Value]], origin: str) -> Facts:
        """These facts and more of several scopes, each checked to be a declared name."""
        new = {path: {name: Held(value, origin) for name, value in added.items()} for path, added in values.items()}
        self._check(name for added in values.values() for name in added)
        joined = {path: {**self.values.get(path, {}), **added} for path, added in new.items()}
        return replace(self, values={**self.values, **joined})

    def with_recall(self, recall: Recall) -> Facts:
        """These facts, and what is found of them kept; those with more values begin anew."""
        found = replace(self)
        object.__setattr__(found, "recall", recall)
        return found

    def recalled(
        self, key: Hashable, walls: Iterable[ScopePath], make: Callable[[], Made], rests_on: object = None
    ) -> Made:
        """What was made of the facts before these, where nothing has changed on walls and of the whole job."""
        return make() if self.recall is None else self.recall.of(key, walls, make, rests_on)

    def read(self, key: Hashable, names: Collection[str], path: ScopePath, make: Callable[[], Made]) -> Made:
        """What was made of names that a scope sees, of the facts before these where none of them has changed for it."""
        return make() if self.recall is None else self.recall.read(key, names, path, make)

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
