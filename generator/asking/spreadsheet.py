"""Walls by spreadsheet: a row a wall and work out of an answers file, and what was changed in them back into it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from generator.asking.answering import Answering, Asked, Refused, Taken, checked, taken
from generator.asking.answers_file import AnyChange, Change, Raw
from generator.asking.order import NAME, new_id
from generator.asking.refusing import refusal
from generator.asking.typed import UNKNOWN, cleaned
from generator.library.model import Library
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import ScopePath
from generator.render.workbook.grid import Cell, Column, Grid

WALL: Final = "wall"
WORK: Final = "work-id"
_IN_A_CELL: Final = ("choice", "choices", "number", "range", "text", "texts", "date", "month_day", "yes_no", "file")
_WIDE: Final = ("text", "texts")
_BETWEEN: Final = " ; "


# --- out ----------------------------------------------------------------------------------------------------


def grid_of(answers: Answering) -> Grid:
    """The walls and works of an answers file as a grid; what the answers of a wall say stands in its first row."""
    library = answers.library
    say = library.phrase
    asked = [question for level in ("element", "work") for question in asked_in_cells(library, level)]
    wall = Column(WALL, say("walls-wall"), say("walls-wall-note"))
    name = Column(NAME, say("walls-name"), say("walls-name-note"), width=24)
    work = Column(WORK, say("walls-work-id"), say("walls-work-id-note"))
    columns = [_column(library, question) for question in asked]
    at = sum(question.scope == "element" for question in asked)
    about = tuple(library.words[key] for key in library.words if key.startswith("walls-about-"))
    return Grid(
        say("walls-sheet"),
        (wall, name, *columns[:at], work, *columns[at:]),
        tuple(_rows(answers)),
        about,
        say("walls-about"),
    )


def asked_in_cells(library: Library, level: str) -> list[Question]:
    """The questions of a level whose answers can stand in a cell."""
    return [question for question in library.questionnaire.of(level) if question.kind in _IN_A_CELL]


def _column(library: Library, question: Question) -> Column:
    unit = question.as_name().unit
    heading = f"{question.label}, {unit}" if unit else question.label
    says = [choice.says for choice in question.choices]
    says += [library.phrase("page-yes"), library.phrase("page-no")] if question.kind == "yes_no" else []
    chosen = tuple([*says, UNKNOWN] if says and question.not_known else says)
    note = " ".join(part for part in (question.why, " ".join(question.how.split()), _form(library, question)) if part)
    width = 36 if question.kind in _WIDE else 16
    return Column(question.name, heading, note, chosen, question.kind != "number", width)


def _form(library: Library, question: Question) -> str:
    key = f"walls-form-{question.kind}"
    told = library.phrase(key) if key in library.words else ""
    return f"{told} {library.phrase('walls-unknown')}".strip() if question.not_known else told


def _rows(answers: Answering) -> Iterator[dict[str, str]]:
    facts = answers.facts
    for scope in facts.at("element"):
        own = {WALL: scope.path[0], NAME: scope.title, **_told(answers, scope.path, "element")}
        works = facts.inside(scope.path, "work")
        for number, work in enumerate(works):
            first = own if not number else {WALL: scope.path[0], NAME: scope.title}
            yield {**first, WORK: work.path[1], **_told(answers, work.path, "work")}
        if not works:
            yield own


def _told(answers: Answering, path: ScopePath, level: str) -> dict[str, str]:
    """The answers given of a scope, as a cell tells them."""
    held = answers.facts.values.get(path, {})
    given = [
        question
        for question in asked_in_cells(answers.library, level)
        if question.name in held and held[question.name].origin == "given"
    ]
    return {question.name: told(question, answers.standing(path, question.name)) for question in given}


def told(question: Question, raw: Any) -> str:
    """An untyped answer as a cell tells it: choices by what they say."""
    says = {choice.is_: choice.says for choice in question.choices}
    if isinstance(raw, list):
        between = ", " if question.kind == "choices" else _BETWEEN
        return between.join(says.get(str(item), str(item)) for item in raw) or "none"
    if question.kind == "yes_no":
        return {"true": "yes", "false": "no"}.get(str(raw).lower(), str(raw))
    return "" if raw is None else says.get(str(raw), " ".join(str(raw).split()))


# --- back ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Brought:
    """What a grid brings: the changes to make, a line for each, and what is wrong, by cell: then no changes."""

    changes: tuple[AnyChange, ...]
    lines: tuple[str, ...]
    wrong: tuple[str, ...]


@dataclass
class _Bringing:
    """One grid being brought into an answers file."""

    answers: Answering
    sheet: str
    changes: list[AnyChange] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    new: dict[str, dict[str, Raw]] = field(default_factory=dict)

    def say(self, key: str, **fills: str) -> str:
        return self.answers.library.phrase(key, **fills)

    def refuse(self, cell: Cell, why: str) -> None:
        """Notes what is wrong with a cell, by its reference and heading."""
        question = self.answers.questionnaire.questions.get(cell.key)
        label = question.label if question else cell.key
        self.wrong.append(self.say("walls-wrong", sheet=self.sheet, ref=cell.ref, label=label, why=why))

    def row(self, cells: Mapping[str, Cell]) -> None:
        """Takes in one row: of a wall that is there, or of a new one."""
        wall = cells[WALL].text if WALL in cells else ""
        path = (wall,)
        if wall and path in self.answers.facts.scopes:
            self._answers(path, "element", cells)
            self._work(path, cells)
        elif wall:
            self.refuse(cells[WALL], self.say("walls-no-wall", wall=wall))
        elif NAME in cells:
            self._new_wall(cells)
        else:
            self.refuse(next(iter(cells.values())), self.say("walls-no-name"))

    def _work(self, wall: ScopePath, cells: Mapping[str, Cell]) -> None:
        key = cells[WORK].text if WORK in cells else ""
        if key and (*wall, key) in self.answers.facts.scopes:
            self._answers((*wall, key), "work", cells)
        elif key:
            self.refuse(cells[WORK], self.say("walls-no-work", work=key))
        elif "work" in cells:
            given = self._given("work", cells)
            work = str(given.get("work", ""))
            if work:
                new = {"id": new_id(work, self.answers.ids(wall)), **given}
                self.changes.append(Change((*self.answers.where(wall), "works"), None, new))
                self.lines.append(self.say("walls-new-work", name=self.answers.facts.title(wall), work=work))

    def _answers(self, path: ScopePath, level: str, cells: Mapping[str, Cell]) -> None:
        """What differs in a row from what stands in the file; blank cells leave it as it stands."""
        for question in asked_in_cells(self.answers.library, level):
            cell = cells.get(question.name)
            standing = self.answers.standing(path, question.name)
            if cell is None or (not cell.strange and cell.text == told(question, standing)):
                continue
            found = self._taken(question, cell)
            if found is None or found.raw == standing:
                continue
            self.changes.append(self.answers.change(path, question.name, found.raw))
            facts, label = self.answers.facts, question.label.rstrip("?")
            value, name = facts.say(question.name, found.value), facts.title(path)
            self.lines.append(self.say("walls-changed", name=name, label=label, value=value, ref=cell.ref))

    def _new_wall(self, cells: Mapping[str, Cell]) -> None:
        """A wall that is not in the file: the first row of its name makes it, further ones give it more works."""
        name = cells[NAME].text
        known = self.new.get(name)
        if known is None:
            key = new_id(name, self.answers.ids(()) | {str(one["id"]) for one in self.new.values()})
            known = self.new[name] = {"id": key, NAME: name, **self._given("element", cells), "works": []}
        work = self._given("work", cells)
        works = known["works"]
        assert isinstance(works, list), "as it was made"
        if "work" in work:
            taken_ids = {str(one["id"]) for one in works if isinstance(one, dict)}
            works.append({"id": new_id(str(work["work"]), taken_ids), **work})
        elif not works:
            self.refuse(cells[NAME], self.say("walls-no-kind"))

    def _given(self, level: str, cells: Mapping[str, Cell]) -> dict[str, Raw]:
        found = {}
        for question in asked_in_cells(self.answers.library, level):
            one = self._taken(question, cells[question.name]) if question.name in cells else None
            if one is not None:
                found[question.name] = one.raw
        return found

    def _taken(self, question: Question, cell: Cell) -> Taken | None:
        """What a cell comes to; None where it is refused, and noted why."""
        if cell.strange and not (cell.strange == "date" and question.kind in ("date", "month_day")):
            self.refuse(cell, self.say(f"walls-cell-{cell.strange}"))
            return None
        text = cleaned(cell.text)
        if not text:
            self.refuse(cell, self.say("ask-not-text"))
            return None
        found = self._several(question, text) if question.kind == "texts" else taken(question, text)
        if isinstance(found, Taken):
            return found
        if isinstance(found, Asked):
            self.refuse(cell, self.say("ask-read-ways", typed=text))
        else:
            self.refuse(cell, " ".join(refusal(self.answers.library, question, text, found, "walls")))
        return None

    def _several(self, question: Question, text: str) -> Taken | Refused:
        return checked(question, [one.strip() for one in text.split(_BETWEEN.strip()) if one.strip()])

    def made(self) -> Brought:
        """All of it; the walls that are new last."""
        for name, wall in self.new.items():
            self.changes.append(Change(("elements",), None, wall))
            self.lines.append(self.say("walls-new-wall", name=name))
        return Brought(() if self.wrong else tuple(self.changes), tuple(self.lines), tuple(self.wrong))


def brought(answers: Answering, rows: Sequence[Sequence[Cell]]) -> Brought:
    """What the rows of a grid change in an answers file."""
    bringing = _Bringing(answers, answers.library.phrase("walls-sheet"))
    for cells in rows:
        bringing.row({cell.key: cell for cell in cells})
    return bringing.made()
