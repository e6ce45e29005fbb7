"""Fills the library's texts from the facts: for one scope, or for all the walls a clause serves at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import cached_property, partial
from typing import Final

from generator.document.model import Block, Column, Inline, Inlines, Ref, Row, Table, Text, Value
from generator.library import text as fill
from generator.library.model import Library
from generator.library.text import Placeholder, Template
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import capital, spoken, told_as, unit_of

_MINUTES: Final = {"minutes": 1, "hours": 60, "days": 24 * 60}

PANEL_OF: Final = "panel_of"
"""Whose panel serves a work that makes none."""

_PANEL_PLACE: Final = "panel_place"

_LONG: Final = 16
"""Values of more characters take more of the line of a column."""


class Filling:
    """Facts, texts and numbers together: what is needed to fill any text of this job."""

    def __init__(self, facts: Facts, library: Library, numbers: dict[str, str] | None = None) -> None:
        self.facts = facts
        self.library = library
        self.texts = library.texts
        self.numbers = numbers or {}
        self._places: dict[ScopePath, str] = {}
        self._fixed: dict[tuple[str, str, str], Inlines | None] = {}

    # --- one scope ------------------------------------------------------------------------------------

    def line(self, kind: str, key: str, part: str, path: ScopePath, fills: dict[str, str] | None = None) -> Inlines:
        """A one-line text filled at one scope; `fills` goes before the facts."""
        extra = fills or {}
        template = self.texts.template(kind, key, part)
        if not template.placeholders or not extra:
            fixed = self._fixed_line(template, kind, key, part)
            if fixed is not None:
                return fixed

        def one(hole: Placeholder) -> Inline:
            if hole.name in extra:
                return Value(
                    hole.name,
                    path,
                    capital(extra[hole.name]) if hole.filter == "capital" else extra[hole.name],
                )
            return self.value(hole, path, key)

        return fill.inlines(template, one, self.refer)

    def _fixed_line(self, template: Template, kind: str, key: str, part: str) -> Inlines | None:
        """A text that says the same at every scope, as all it is filled with are figures; None for any other."""
        place = kind, key, part
        if place not in self._fixed:
            is_fixed = all(self.library.figure(hole.name, key) is not None for hole in template.placeholders)
            one = partial(self.value, path=PROJECT, clause=key)
            self._fixed[place] = fill.inlines(template, one, self.refer) if is_fixed else None
        return self._fixed[place]

    def value(self, hole: Placeholder, path: ScopePath, clause: str = "") -> Inline:
        """The value of a placeholder at one scope, or the words for one that is still to be settled.

        A figure of the library is the project's; a clause sees those that it declares itself.
        """
        figure = self.library.figure(hole.name, clause)
        if figure is not None:
            return Value(figure.name, PROJECT, figure.spelt(hole.filter))
        text = self.spelt(hole, path)
        return Value(hole.name, self.facts.home(path, hole.name), text or self.library.words["to-be-settled"])

    def spelt(self, hole: Placeholder, path: ScopePath) -> str:
        """A placeholder's value as it is spelt, its filter applied; empty where there is none."""
        value = self.facts.get(path, hole.name)
        if value is None:
            return ""
        if hole.filter == "bare":
            return spoken(value, spelling=self.facts.spelling)
        text = told_as(value, hole.filter, partial(self.facts.say, hole.name), self.facts.spelling)
        return capital(text) if hole.filter == "capital" else text

    def minutes(self, operation: str, path: ScopePath) -> Decimal | None:
        """How long a step lasts by the first time that its line names; None where it names none."""
        for hole in self.texts.template("operation", operation, "text").placeholders:
            figure = self.library.figure(hole.name)
            value = self.facts.get(path, hole.name) if figure is None else figure.value
            if (each := _MINUTES.get(unit_of(hole.name))) and isinstance(value, Decimal):
                return value * each
        return None

    def refer(self, kind: str, key: str) -> Inline:
        """A live reference to a clause or part of this paper."""
        anchor = f"{kind}:{key}"
        number = self.numbers.get(anchor)
        if number is None:
            raise LookupError(f"a text refers to {anchor}, which is not in these papers")
        return Ref(anchor, self.library.phrase(f"reference-{kind}", number=number))

    # --- all the scopes that a clause serves ---------------------------------------------------------

    def merged(self, key: str, part: str, paths: Sequence[ScopePath]) -> tuple[Block, ...]:
        """A clause's text for all its scopes: equal values in the sentence, the others by their phrase."""

        shared = self._shared(self._making(key, paths), key)
        return fill.blocks(self.texts.template("clause", key, part), shared, self.refer)

    def _making(self, key: str, paths: Sequence[ScopePath]) -> Sequence[ScopePath]:
        """The scopes of a clause; of one that places panels, without works whose panel is another's."""
        if all(hole.name != _PANEL_PLACE for hole in self.texts.template("clause", key, "text").placeholders):
            return paths
        return [path for path in paths if not self.facts.at_scope(path).known(PANEL_OF)] or paths

    def _shared(self, paths: Sequence[ScopePath], clause: str = "") -> Callable[[Placeholder], Inline]:
        def one(hole: Placeholder) -> Inline:
            figure = self.library.figure(hole.name, clause)
            if figure is not None or len({self.spelt(hole, path) for path in paths}) == 1:
                return self.value(hole, paths[0], clause)
            return Text(
                self.library.names[hole.name].phrase or self.library.phrase("as-tabled", label=self._label(hole.name))
            )

        return one

    def differing(self, key: str, paths: Sequence[ScopePath]) -> list[str]:
        """The names in a clause's texts whose value differs among its scopes, in order."""
        names: list[str] = []
        paths = self._making(key, paths)
        for part in ("title", "text", "check", "because"):
            for hole in self.texts.template("clause", key, part).placeholders:
                if self.library.figure(hole.name, key) is not None:
                    continue
                values = {self.spelt(hole, path) for path in paths}
                if len(values) > 1 and hole.name not in names:
                    names.append(hole.name)
        return names

    def value_table(self, key: str, names: Sequence[str], paths: Sequence[ScopePath]) -> Table:
        """The small table of the values that differ, a row for each group of scopes that share them all."""
        grouped: dict[tuple[str, ...], list[ScopePath]] = {}
        for path in self._making(key, paths):
            values = tuple(self.spelt(Placeholder(name), path) for name in names)
            grouped.setdefault(values, []).append(path)
        most = 0.28 if all(len(text) <= _LONG for values in grouped for text in values) else 0.45
        share = min(most, 0.5 / len(names))
        columns = (
            Column(self.library.words["column-where"], 1 - share * len(names)),
            *(Column(self.library.names[name].label, share) for name in names),
        )
        rows = tuple(self._row(names, where, values) for values, where in grouped.items())
        return Table(columns, rows, description=self.library.phrase("value-table", clause=key), small=True)

    def _row(self, names: Sequence[str], where: list[ScopePath], values: tuple[str, ...]) -> Row:
        title = Value("element_name", where[0], self.where(where))
        cells = [
            (Value(name, where[0], text or self.library.words["to-be-settled"]),)
            for name, text in zip(names, values, strict=True)
        ]
        return Row(((title,), *cells))

    def where(self, paths: Sequence[ScopePath]) -> str:
        """The walls or mixes of some scopes as one text, each named once; a work or wall that is whole, as one.

        What is of all works or all coats that are called the same is told by that name, where that is shorter.
        """
        works = self._gathered(paths, 2, "coat")
        named = self._places_told(self._gathered(works, 1, "work"))
        given = set(works)
        alike = {path: title for title, called in self._called_alike.items() if called <= given for path in called}
        if not alike:
            return named
        rest = self._places_told(self._gathered([path for path in works if path not in alike], 1, "work"))
        by_name = "; ".join(filter(None, (*dict.fromkeys(alike.values()), rest)))
        return by_name if len(by_name) < len(named) else named

    def _places_told(self, paths: Sequence[ScopePath]) -> str:
        return "; ".join(dict.fromkeys(map(self.place, paths)))

    @cached_property
    def _called_alike(self) -> dict[str, set[ScopePath]]:
        """Works, and coats, of several walls by what they are called: all of a kind, and nothing else."""
        found: dict[str, set[ScopePath]] = {}
        for level in ("work", "coat"):
            kinds: dict[str | None, set[str]] = {}
            for scope in self.facts.at(level):
                found.setdefault(scope.title, set()).add(scope.path)
                kinds.setdefault(self.facts.at_scope(scope.path).text(level), set()).add(scope.title)
            for titles in filter(lambda titles: len(titles) > 1, kinds.values()):
                for title in titles:
                    found.pop(title, None)
        return {title: paths for title, paths in found.items() if len({path[:1] for path in paths}) > 1}

    def _gathered(self, paths: Sequence[ScopePath], length: int, level: str) -> tuple[ScopePath, ...]:
        """Paths with the scope around them in place of all of a level that it holds."""
        given = set(paths)
        gathered = []
        for path in paths:
            around = path[:length]
            inside = {scope.path for scope in self.facts.inside(around, level)} if len(path) > length else set()
            gathered.append(around if inside and path in inside and inside <= given else path)
        return tuple(dict.fromkeys(gathered))

    def place(self, path: ScopePath) -> str:
        """A scope as a reader finds it: the element, with the work or coat where it has several."""
        if path not in self._places:
            self._places[path] = self._place(path)
        return self._places[path]

    def _place(self, path: ScopePath) -> str:
        scope = self.facts.scopes[path]
        if scope.level in ("project", "mix", "element"):
            return scope.title
        names = [self.facts.scopes[path[:1]].title]
        if len(self.facts.inside(path[:1], "work")) > 1:
            names.append(self.facts.scopes[path[:2]].title)
        if len(path) > 2 and len(self.facts.inside(path[:2], "coat")) > 1:
            names.append(scope.title)
        return ", ".join(names)

    def _label(self, name: str) -> str:
        label = self.library.names[name].label
        return label[:1].lower() + label[1:]
