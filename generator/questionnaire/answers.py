"""Reads an answers file into facts: every mistake noted at its place, nothing guessed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Container, Mapping
from typing import TYPE_CHECKING, Any, Final

from generator.files.errors import did_you_mean, nearest, shown
from generator.files.limits import MOST_SCOPES
from generator.files.source import Path_, Source
from generator.questionnaire.facts import Facts
from generator.questionnaire.names import Names, a_scope
from generator.questionnaire.questions import STRUCTURE, Question, Questionnaire
from generator.questionnaire.reading import default_of, read_text, read_value
from generator.questionnaire.scopes import PROJECT, Held, Scope, ScopePath, Scopes
from generator.questionnaire.spelt import DATE
from generator.values import Struct, Value, replace

if TYPE_CHECKING:
    from generator.questionnaire.photograph_shapes import PhotographShape

ID: Final = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
MAX_ID: Final = 40
MAX_NAME: Final = 80
CHILDREN: Final = {"element": ("works", "work"), "work": ("coats", "coat")}
LAYERS: Final = "layers"
PHOTOGRAPHS: Final = "photographs"
_EXAMPLES: Final = {"element": "north-wall", "work": "repoint-low", "coat": "first"}
_LEFT_ALONE: Final = "or take out an element that is left as it is, and name it in 'other_trades_also' of the project"


def read_answers(source: Source, questionnaire: Questionnaire, names: Names) -> Facts:
    """The facts of an answers file read untyped; mistakes are noted in the source."""
    return _Reader(source, questionnaire, names).read()


def layers_named(source: Source) -> list[str]:
    """The folders of clause layers that an answers file lists; mistakes are noted in the source."""
    data = source.data if isinstance(source.data, dict) else {}
    listed = data.get(LAYERS)
    if LAYERS not in data or source.broken:
        return []
    if not isinstance(listed, list) or not all(isinstance(item, str) and item.strip() for item in listed):
        what = f"'{LAYERS}' is not a list of folders"
        source.problem((LAYERS,), what, f"write '{LAYERS}: [../house-clauses]', from the folder of this file")
        return []
    return listed


class _Asked(Struct, frozen=True):
    """What is asked of the scopes of a level: questions, the keys that may stand there, older names, usual answers."""

    questions: tuple[Question, ...]
    keys: Mapping[str, None]
    were: frozenset[str]
    usual: Mapping[str, Held]


class _Reader:
    """Walks the file once, scope by scope."""

    def __init__(self, source: Source, questionnaire: Questionnaire, names: Names) -> None:
        self.source = source
        self.questionnaire = questionnaire
        self.names = names
        self.scopes: dict[ScopePath, Scope] = {}
        self.values: dict[ScopePath, dict[str, Held]] = {}
        self.called: dict[str, int] = {}
        self.photographs: list[PhotographShape] = []
        self.asked: dict[str, _Asked] = {}

    def read(self) -> Facts:
        data = self.source.data
        if isinstance(data, dict):
            self._unknown_keys(data, (), (LAYERS, "project", "elements"), "an answers file")
            self._project(data.get("project"), "project" in data)
            self._elements(data.get("elements"), "elements" in data)
        elif not self.source.broken:
            what = "is empty" if data is None else "is not a mapping of 'project:' and 'elements:'"
            self.source.problem((), what, "start it with 'project:' and 'elements:'")
        facts = Facts(self.names, Scopes(self.scopes), self.values)
        if not self.photographs:
            return facts
        from generator.questionnaire.photographs import placed

        return replace(facts, photographs=placed(self.photographs, facts, ("project", PHOTOGRAPHS), self.source))

    def _project(self, data: Any, present: bool) -> None:
        if not isinstance(data, dict):
            what = "'project' is not a mapping" if present else "the file lacks 'project'"
            required = [q.name for q in self.questionnaire.of("project") if q.need == "required"]
            to_do = f"write 'project:' with {', '.join(required) or 'its answers'} on lines below it"
            self.source.problem(("project",), what, to_do)
            return
        title = data.get("title")
        self._scope(data, PROJECT, ("project",), "project", title if isinstance(title, str) else "")

    def _elements(self, data: Any, present: bool) -> None:
        if not isinstance(data, list) or not data:
            what = "'elements' is not a list of walls or ceilings" if present else "the file lacks 'elements'"
            self.source.problem(("elements",), what, "list at least one, each with id, name and works")
            return
        self._children(data, PROJECT, ("elements",), "element")

    def _children(self, data: list[Any], parent: ScopePath, where: Path_, level: str) -> None:
        for index, item in enumerate(data):
            place = (*where, index)
            if isinstance(item, dict):
                self._child(item, (*parent, self._id(item, place, parent, level)), place, level)
            else:
                what = f"is not {_article(level)} with answers below it"
                self.source.problem(place, what, f"write it as '- id: {_EXAMPLES[level]}'")

    def _id(self, item: dict[str, Any], place: Path_, parent: ScopePath, level: str) -> str:
        """The id of a scope; where it has none that can be used, a stand-in so that the rest is read too."""
        key = item.get("id")
        if key is None and level == "work":
            key = item.get("work")
        stand_in = f"?{place[-1]}"
        if not isinstance(key, str) or not ID.match(key) or len(key) > MAX_ID:
            self._refuse_id(item, place, level)
            return stand_in
        if (*parent, key) in self.scopes:
            first = self.values[(*parent, key)]["id"].mark.line
            what = f"gives the id '{key}' a second time (first on line {first})"
            to_do = "give each its own id" if "id" in item else f"add an 'id:' to each, such as {_EXAMPLES[level]}"
            self.source.problem((*place, "id" if "id" in item else "work"), what, to_do)
            return stand_in
        return key

    def _refuse_id(self, item: dict[str, Any], place: Path_, level: str) -> None:
        given = item.get("id")
        name = given if isinstance(given, str) else item.get("name")
        example = _slug(name) if isinstance(name, str) else _EXAMPLES[level]
        if given is None:
            self.source.key_problem((*place, "id"), f"{_article(level)} lacks 'id'", f"add 'id: {example}'")
            return
        told = f"'{shown(given)}'" if isinstance(given, str) else "a list or mapping"
        to_do = f"write at most {MAX_ID} small letters, figures and hyphens, such as {example}"
        self.source.problem((*place, "id"), f"'id' cannot be {told}", to_do)

    def _child(
        self, item: dict[str, Any], path: ScopePath, place: Path_, level: str, told: Container[str] = ()
    ) -> None:
        """Reads one scope and what lies in it; `told` are names that are answered around it."""
        if len(self.scopes) >= MOST_SCOPES:
            what = f"comes after {MOST_SCOPES:,} elements, works and coats, and no more are read"
            self.source.problem(place, what, "part the job into several")
            return
        zoned = level == "element" and "zones" in item
        known = self.questionnaire.questions if zoned else told
        self._scope(item, path, place, level, self._title(item, path, place, level), known)
        self.values[path]["id"] = Held(path[-1], "given", self.source.key_mark((*place, "id")))
        if zoned:
            self._zones(item, path, place)
            return
        if level not in CHILDREN:
            return
        key, below = CHILDREN[level]
        inner = item.get(key)
        if isinstance(inner, list) and inner:
            self._children(inner, path, (*place, key), below)
        elif key in item:
            other = _LEFT_ALONE if level == "element" else f"or take {key} out"
            to_do = f"list its {key} on lines that start with '- id: {_EXAMPLES[below]}', {other}"
            what = f"'{key}' names none of its {key}" if inner in ([], None) else f"'{key}' is not a list of {key}"
            self.source.problem((*place, key), what, to_do)
        elif level == "element":
            to_do = f"say below 'works:' what is done to it, {_LEFT_ALONE}"
            self.source.problem(place, "an element lacks 'works'", to_do)

    def _zones(self, item: dict[str, Any], path: ScopePath, place: Path_) -> None:
        """Reads the zones of an element, each as an element of its own that has the whole wall's answers too."""
        if "works" in item:
            self.source.key_problem(
                (*place, "works"), "an element with zones has works of its own", "move them into its zones"
            )
        zones = item["zones"]
        wall, whole = self.scopes.pop(path), self.values.pop(path)
        if not isinstance(zones, list) or not all(isinstance(zone, dict) for zone in zones) or not zones:
            to_do = "list its zones on lines that start with '- id: below'"
            self.source.problem((*place, "zones"), "'zones' is not a list of zones", to_do)
            return
        for index, zone in enumerate(zones):
            self._zone(zone, (*place, "zones", index), wall, whole)

    def _zone(self, zone: dict[str, Any], place: Path_, wall: Scope, whole: dict[str, Held]) -> None:
        key = self._id(zone, place, wall.path, "element")
        path = (f"{wall.path[-1]}-{key}",)
        if path in self.scopes:
            self.source.problem((*place, "id"), f"gives the id '{path[-1]}' a second time", "give each its own id")
            return
        self._child(zone, path, place, "element", whole)
        own = self.scopes.get(path)
        if own is None:  # zones within zones are told as a mistake where they stand
            return
        self.scopes[path] = Scope(path, "element", f"{wall.title}, {own.title}")
        held = self.values[path]
        for name, value in whole.items():
            if name not in held or (held[name].origin == "default" and value.origin == "given"):
                held[name] = value

    def _title(self, item: dict[str, Any], path: ScopePath, place: Path_, level: str) -> str:
        if level == "element":
            return self._element_name(item, place) or path[-1]
        work, known = item.get("work"), self.names.get("work")
        if level == "work" and isinstance(work, str) and known is not None:
            return known.choices.get(work, path[-1])
        return path[-1]

    def _element_name(self, item: dict[str, Any], place: Path_) -> str | None:
        at = (*place, "name")
        if item.get("name") is None:
            self.source.key_problem(
                at, "an element lacks 'name'", "name it as it is called on site, as in 'name: North wall'"
            )
            return None
        name = read_text("name", item["name"], at, self.source, MAX_NAME)
        if name and (look := _looks(name)) in self.called:
            what = f"calls a second element '{shown(name)}' (first on line {self.called[look]})"
            self.source.problem(at, what, "name each so that nobody on site can take one for the other")
        elif name:
            self.called[look] = self.source.mark(at).line
        return name

    def _scope(
        self,
        data: dict[str, Any],
        path: ScopePath,
        place: Path_,
        level: str,
        title: str,
        told: Container[str] = (),
    ) -> None:
        self.scopes[path] = Scope(path, level, title)
        held = self.values.setdefault(path, {})
        asked = self._asked_of(level)
        self._unknown_keys(data, place, asked.keys, _article(level), asked.were)
        for question in asked.questions:
            name, key = question.name, self._key_of(question, data, place)
            if data.get(key) is not None:
                value = self._value(question, data[key], (*place, key))
                if value is not None:
                    held[name] = Held(value, "given", self.source.key_mark((*place, key)), _spelt(question, data[key]))
            elif question.need == "required":
                if name in told:
                    continue
                self._lacks(question, (*place, name), level)
            elif name in asked.usual:
                held[name] = asked.usual[name]

    def _asked_of(self, level: str) -> _Asked:
        """What is asked of every scope of a level."""
        if level not in self.asked:
            questions = self.questionnaire.of(level)
            usual = {question.name: default_of(question) for question in questions if question.need != "required"}
            self.asked[level] = _Asked(
                questions,
                dict.fromkeys((*self._structure(level), *(question.name for question in questions))),
                frozenset(name for question in questions for name in question.was),
                {name: Held(value, "default") for name, value in usual.items() if value is not None},
            )
        return self.asked[level]

    def _key_of(self, question: Question, data: dict[str, Any], place: Path_) -> str:
        """The key under which a question is answered: its name, or one that it had before."""
        if not question.was:
            return question.name
        given = [key for key in (question.name, *question.was) if data.get(key) is not None]
        if len(given) > 1:
            first = self.source.key_mark((*place, given[0])).line
            what = f"answers '{question.name}' a second time, as '{given[1]}' (first on line {first})"
            self.source.key_problem((*place, given[1]), what, "take one of the two out")
        return given[0] if given else question.name

    def _value(self, question: Question, raw: Any, at: Path_) -> Value | None:
        if question.kind != PHOTOGRAPHS:
            return read_value(question, raw, at, self.source)
        from generator.questionnaire.photographs import named, read_photographs

        shapes = read_photographs(raw, at, self.source)
        self.photographs = shapes or []
        return None if shapes is None else tuple(named(shapes))

    def _structure(self, level: str) -> tuple[str, ...]:
        # coats are worked out; they can be listed only where a library asks something of them
        asked_of_coats = bool(self.questionnaire.of("coat"))
        return tuple(key for key in STRUCTURE[level] if key != "coats" or asked_of_coats)

    def _lacks(self, question: Question, at: Path_, level: str) -> None:
        what = f"{_article(level)} lacks '{question.name}' ({question.label.lower()})"
        self.source.key_problem(at, what, f"add '{question.name}: {question.example or '…'}'")

    def _unknown_keys(
        self, data: dict[str, Any], place: Path_, known: Collection[str], what: str, were: Container[str] = ()
    ) -> None:
        for key in data:
            if key not in known and key not in were:
                told = f"'{shown(key)}' is not asked of {what}"
                hint = "" if self.source.problems.is_full else self._where_it_belongs(key, known)
                self.source.key_problem((*place, key), told, hint)

    def _where_it_belongs(self, key: str, known: Collection[str]) -> str:
        if key.strip() in known:
            return "take the space out of its name"
        name = self.names.get(key)
        if name is not None and name.reckoned:
            return "it is worked out and cannot be answered; take it out"
        if name is not None:
            return f"it belongs to {_article(name.scope)}; move it there"
        asked = [name for name, entry in self.names.items() if not entry.reckoned]
        elsewhere = nearest(key, asked)
        if elsewhere is not None and nearest(key, known) is None:
            return f"did you mean '{elsewhere}', which belongs to {_article(self.names[elsewhere].scope)}?"
        return did_you_mean(key, known)


def _looks(name: str) -> str:
    """A name as it looks: without what has no width, and letters of another width or case as their plain ones."""
    seen = "".join(char for char in name if unicodedata.category(char) != "Cf")
    return " ".join(unicodedata.normalize("NFKC", seen).casefold().split())


def _spelt(question: Question, raw: Any) -> str:
    """What was written, where it says more than is read: a date where a month and day come back every year."""
    return raw if question.kind == "month_day" and isinstance(raw, str) and DATE.match(raw) else ""


def _slug(name: str) -> str:
    words = re.findall(r"[a-z0-9]+", name.lower())
    found = "-".join(words)[:MAX_ID].strip("-")
    return found if ID.match(found) else _EXAMPLES["element"]


def _article(level: str) -> str:
    return "the project" if level == "project" else a_scope(level)
