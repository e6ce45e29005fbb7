"""Reads an answers file into facts: every mistake noted at its place, nothing guessed."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal
from typing import Any, Final

from generator.errors import did_you_mean
from generator.questionnaire.facts import PROJECT, Facts, Held, Scope, ScopePath
from generator.questionnaire.names import Names
from generator.questionnaire.questions import Question, Questionnaire, RecordField
from generator.source import Path_, Source
from generator.values import NOT_KNOWN, Range, Value, plain

ID: Final = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*\Z")
NUMBER: Final = re.compile(r"[-+]?[0-9]+(\.[0-9]+)?\Z")
RANGE: Final = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*(?:-|–|to)\s*([0-9]+(?:\.[0-9]+)?)(?:\s*\(\s*([0-9.]+)\s*\))?\Z")
MAX_TEXT: Final = 5_000
STRUCTURE: Final = {"project": ("library",), "element": ("id", "name", "works"), "work": ("id", "coats"), "coat": ("id",)}
CHILDREN: Final = {"element": ("works", "work"), "work": ("coats", "coat")}


def read_answers(source: Source, questionnaire: Questionnaire, names: Names) -> Facts:
    """The facts of an answers file read untyped; mistakes are noted in the source."""
    return _Reader(source, questionnaire, names).read()


class _Reader:
    """Walks the file once, scope by scope."""

    def __init__(self, source: Source, questionnaire: Questionnaire, names: Names) -> None:
        self.source = source
        self.questionnaire = questionnaire
        self.names = names
        self.scopes: dict[ScopePath, Scope] = {}
        self.values: dict[ScopePath, dict[str, Held]] = {}

    def read(self) -> Facts:
        data = self.source.data
        if not isinstance(data, dict):
            what = "is empty" if data is None else "is not a mapping of project and elements"
            self.source.problem((), what, "start it with 'project:' and 'elements:'")
            data = {}
        elif not self.source.problems:
            self._unknown_keys(data, (), ("project", "elements"), "an answers file")
        self._project(data.get("project"), "project" in data)
        self._elements(data.get("elements"), "elements" in data)
        return Facts(self.names, self.scopes, self.values)

    def _project(self, data: Any, present: bool) -> None:
        if not isinstance(data, dict):
            what = "'project' is not a mapping" if present else "lacks 'project'"
            self.source.problem(("project",), what, "add project: with title, reference and issue_date below it")
            data = {}
        title = data.get("title")
        self._scope(data, PROJECT, ("project",), "project", title if isinstance(title, str) else "")

    def _elements(self, data: Any, present: bool) -> None:
        if not isinstance(data, list) or not data:
            what = "'elements' is not a list of walls or ceilings" if present else "lacks 'elements'"
            self.source.problem(("elements",), what, "list at least one, each with id, name and works")
            return
        self._children(data, PROJECT, ("elements",), "element")

    def _children(self, data: list[Any], parent: ScopePath, where: Path_, level: str) -> None:
        for index, item in enumerate(data):
            place = (*where, index)
            if not isinstance(item, dict):
                self.source.problem(place, f"is not {_article(level)} with answers below it", "write it as '- id: …'")
                continue
            key = self._id(item, place, parent, level)
            if key:
                self._child(item, (*parent, key), place, level)

    def _id(self, item: dict[str, Any], place: Path_, parent: ScopePath, level: str) -> str:
        key = item.get("id")
        if key is None and level == "work" and isinstance(item.get("work"), str):
            key = item["work"]
        if not isinstance(key, str) or not ID.match(key):
            what = f"has the id '{key}'" if key else f"{_article(level)} lacks 'id'"
            self.source.problem((*place, "id"), what, "give an id of small letters, figures and hyphens, such as north-wall")
            return ""
        if (*parent, key) in self.scopes:
            first = self.values[(*parent, key)]["id"].mark if "id" in self.values[(*parent, key)] else None
            at = f" (first on line {first.line})" if first and first.line else ""
            self.source.problem((*place, "id"), f"gives the id '{key}' a second time{at}", "give each its own id")
            return ""
        return key

    def _child(self, item: dict[str, Any], path: ScopePath, place: Path_, level: str) -> None:
        self._scope(item, path, place, level, self._title(item, path, place, level))
        self.values[path]["id"] = Held(path[-1], "given", self.source.mark((*place, "id")))
        if level not in CHILDREN:
            return
        key, below = CHILDREN[level]
        inner = item.get(key)
        if isinstance(inner, list) and inner:
            self._children(inner, path, (*place, key), below)
        elif key in item or level == "element":
            self.source.problem((*place, key), f"'{path[-1]}' has no {key}", f"list its {key}, or take it out")

    def _title(self, item: dict[str, Any], path: ScopePath, place: Path_, level: str) -> str:
        if level == "element":
            name = item.get("name")
            if isinstance(name, str) and name.strip():
                held = self._text(name, (*place, "name"), 80)
                return held or path[-1]
            self.source.problem((*place, "name"), "an element lacks 'name'", "name it as it will be called on site")
        work = item.get("work")
        return self.names["work"].choices.get(work, path[-1]) if level == "work" and isinstance(work, str) else path[-1]

    def _scope(self, data: dict[str, Any], path: ScopePath, place: Path_, level: str, title: str) -> None:
        self.scopes[path] = Scope(path, level, title)
        held = self.values.setdefault(path, {})
        asked = {question.name: question for question in self.questionnaire.of(level)}
        self._unknown_keys(data, place, (*STRUCTURE[level], *asked), _article(level))
        for name, question in asked.items():
            if data.get(name) is not None:
                value = self._answer(question, data[name], (*place, name))
                if value is not None:
                    held[name] = Held(value, "given", self.source.mark((*place, name)))
            elif question.need == "required":
                self.source.problem((*place, name), f"{_article(level)} lacks '{name}' ({question.label.lower()})", "add it")
            elif question.default is not None:
                held[name] = Held(default_of(question), "default")

    def _unknown_keys(self, data: dict[str, Any], place: Path_, known: tuple[str, ...], what: str) -> None:
        for key in data:
            if key in known:
                continue
            name = self.names.get(key)
            if name is not None and not name.reckoned:
                to_do = f"it belongs to {_article(name.scope)}; move it there"
            elif name is not None:
                to_do = "it is worked out and cannot be answered; remove it"
            else:
                to_do = did_you_mean(key, known)
            self.source.problem((*place, key), f"'{key}' is not asked of {what}", to_do)

    # --- one answer -----------------------------------------------------------------------------------

    def _answer(self, question: Question, raw: Any, place: Path_) -> Value | None:
        if raw == "not known":
            if question.not_known:
                return NOT_KNOWN
            self.source.problem(place, f"'{question.name}' cannot be 'not known'", "find it out, or leave the line out")
            return None
        reader = getattr(self, f"_read_{question.kind}")
        found: Value | None = reader(question, raw, place)
        return found

    def _refuse(self, place: Path_, name: str, raw: Any, to_do: str) -> None:
        shown = raw if isinstance(raw, str) else type(raw).__name__.replace("dict", "a mapping").replace("list", "a list")
        text = str(shown)
        self.source.problem(place, f"'{name}' cannot be '{text[:60]}{'…' if len(text) > 60 else ''}'", to_do)

    def _read_choice(self, question: Question, raw: Any, place: Path_) -> Value | None:
        known = [choice.is_ for choice in question.choices]
        if isinstance(raw, str) and raw in known:
            return raw
        self._refuse(place, question.name, raw, did_you_mean(str(raw), known))
        return None

    def _read_choices(self, question: Question, raw: Any, place: Path_) -> Value | None:
        items = [raw] if isinstance(raw, str) else raw
        if not isinstance(items, list):
            self._refuse(place, question.name, raw, "write a list such as [gutter, leak], or []")
            return None
        found = [self._read_choice(question, item, (*place, index)) for index, item in enumerate(items)]
        kept = [item for item in found if item is not None]
        return tuple(dict.fromkeys(kept)) if len(kept) == len(found) else None

    def _read_number(self, question: Question, raw: Any, place: Path_) -> Value | None:
        unit = question.as_name().unit
        if not isinstance(raw, str) or not NUMBER.match(raw.strip()):
            example = question.example or "64"
            self._refuse(place, question.name, raw, f"write a number alone, such as {example}{f'; it is in {unit}' if unit else ''}")
            return None
        value = Decimal(raw.strip())
        return value if self._within(question, value, place, raw) else None

    def _within(self, question: Question, value: Decimal, place: Path_, raw: str) -> bool:
        unit = question.as_name().unit
        if question.least is not None and value < question.least:
            self._refuse(place, question.name, raw, f"the least is {plain(question.least)} {unit}".strip())
            return False
        if question.most is not None and value > question.most:
            self._refuse(place, question.name, raw, f"the most is {plain(question.most)} {unit}".strip())
            return False
        return True

    def _read_range(self, question: Question, raw: Any, place: Path_) -> Value | None:
        text = raw.strip() if isinstance(raw, str) else ""
        match = RANGE.match(text)
        if match:
            low, high = Decimal(match[1]), Decimal(match[2])
            likely = Decimal(match[3]) if match[3] else (low + high) / 2
            if not low <= likely <= high:
                self._refuse(place, question.name, raw, "write the lesser first, as in 8 - 12, or 8 - 12 (9) with the usual")
                return None
        elif NUMBER.match(text):
            low = likely = high = Decimal(text)
        else:
            unit = question.as_name().unit
            self._refuse(place, question.name, raw, f"write low and high, such as 8 - 12{f'; it is in {unit}' if unit else ''}")
            return None
        good = self._within(question, low, place, text) and self._within(question, high, place, text)
        return Range(low, likely, high) if good else None

    def _text(self, raw: Any, place: Path_, most: int) -> str | None:
        text = " ".join(raw.split()) if isinstance(raw, str) else None
        if not text:
            self.source.problem(place, "is not a text", "write words; quote them where they hold ': ' or '#'")
            return None
        if len(text) > most:
            self.source.problem(place, f"is {len(text):,} characters long", f"keep it under {most:,}")
            return None
        return text

    def _read_text(self, question: Question, raw: Any, place: Path_) -> Value | None:
        return self._text(raw, place, int(question.most or MAX_TEXT))

    def _read_file(self, question: Question, raw: Any, place: Path_) -> Value | None:
        return self._text(raw, place, 500)

    def _read_texts(self, question: Question, raw: Any, place: Path_) -> Value | None:
        items = [raw] if isinstance(raw, str) else raw
        if not isinstance(items, list):
            self._refuse(place, question.name, raw, "write a list of texts")
            return None
        found = [self._text(item, (*place, index), int(question.most or MAX_TEXT)) for index, item in enumerate(items)]
        kept = [item for item in found if item is not None]
        return tuple(kept) if len(kept) == len(found) else None

    def _read_date(self, question: Question, raw: Any, place: Path_) -> Value | None:
        try:
            return datetime.date.fromisoformat(raw if isinstance(raw, str) else "")
        except ValueError:
            self._refuse(place, question.name, raw, "write the date as year-month-day, such as 2027-03-01")
            return None

    def _read_yes_no(self, question: Question, raw: Any, place: Path_) -> Value | None:
        known = {"yes": True, "true": True, "no": False, "false": False}
        if isinstance(raw, str) and raw.lower() in known:
            return known[raw.lower()]
        self._refuse(place, question.name, raw, "write yes or no" + (", or not known" if question.not_known else ""))
        return None

    def _read_records(self, question: Question, raw: Any, place: Path_) -> Value | None:
        if not isinstance(raw, list) or not all(isinstance(item, dict) for item in raw):
            names = ", ".join(f"{field.name}: …" for field in question.fields)
            self._refuse(place, question.name, raw, f"write a list of {{{names}}}")
            return None
        return tuple(self._record(question, item, (*place, index)) for index, item in enumerate(raw))

    def _record(self, question: Question, item: dict[str, Any], place: Path_) -> dict[str, Value]:
        known = {field.name: field for field in question.fields}
        for key in item:
            if key not in known:
                self.source.problem((*place, key), f"'{key}' is not part of {question.name}", did_you_mean(key, known))
        record: dict[str, Value] = {}
        for key, field in known.items():
            if item.get(key) is not None:
                value = self._answer(_field_question(question, field), item[key], (*place, key))
                if value is not None:
                    record[key] = value
            elif field.required:
                self.source.problem(place, f"{question.name} lacks '{key}' ({field.label.lower()})", "add it")
        return record


def _field_question(question: Question, field: RecordField) -> Question:
    return Question.model_construct(
        name=f"{question.name}.{field.name}", scope=question.scope, kind=field.kind, label=field.label,
        why="", choices=field.choices, least=None, most=None, not_known=False, example="", fields=(),
    )  # fmt: skip


def default_of(question: Question) -> Value:
    """The default of a question as a value of its kind."""
    raw = question.default
    if isinstance(raw, bool):
        return raw
    if isinstance(raw, int | Decimal):
        number = Decimal(raw)
        return Range(number, number, number) if question.kind == "range" else number
    if isinstance(raw, list):
        return tuple(raw)
    if question.kind == "range":
        match = RANGE.match(str(raw))
        assert match is not None, question.name
        low, high = Decimal(match[1]), Decimal(match[2])
        return Range(low, (low + high) / 2, high)
    return str(raw)


def _article(level: str) -> str:
    return {"project": "the project", "element": "an element", "work": "a work", "coat": "a coat"}.get(level, f"a {level}")
