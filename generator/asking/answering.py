"""An answers file being filled in: what it holds, what a typed line comes to, and the changes that answers make."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.asking.answers_file import AnswersFile, AnyChange, CannotChange, Change, Dropped, Raw, changed
from generator.asking.order import can_go_on, elements_of, keys_before, new_id, where
from generator.asking.typed import Unclear, is_no_answer, meant, options
from generator.files.errors import InputInvalid, Problem
from generator.files.source import Path_, Source, read_bytes
from generator.library.model import Library
from generator.questionnaire.answers import read_answers
from generator.questionnaire.measures import Face, Ways, face, net_m2, openings_raw
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import read_value
from generator.questionnaire.scopes import ScopePath
from generator.values import Value, replace


@dataclass(frozen=True, slots=True)
class Taken:
    """What a line comes to: as answers spell it, as a value, and what it says besides of other questions, by name."""

    raw: Raw
    value: Value
    beside: tuple[tuple[str, Raw], ...] = ()


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a line is not taken: the words that it may be, what is wrong with what it comes to, or that it is none."""

    words: tuple[str, ...] = ()
    raw: Raw = ""
    problem: Problem | None = None
    no_answer: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """A line that asks back: the ways in which it may be meant; `about` is the rough figure that it gave."""

    ways: tuple[Taken, ...]
    about: str = ""


def taken(question: Question, text: str) -> Taken | Refused | Asked:
    """What a cleaned line comes to for a question."""
    if is_no_answer(text) and text not in [option.is_ for option in options(question)]:
        return Refused(no_answer=True)
    unit = question.as_name().unit
    if question.kind == "number" and unit == "m²" and (sides := face(text)) is not None:
        return _face(question, sides)
    raw = meant(question.kind, options(question), unit, text)
    if isinstance(raw, Ways):
        each = [checked(question, way) for way in raw.ways]
        good = tuple(one for one in each if isinstance(one, Taken))
        return Asked(good, raw.about) if good else each[0]
    return Refused(words=raw.words) if isinstance(raw, Unclear) else checked(question, raw)


def _face(question: Question, sides: Face) -> Taken | Refused:
    """A face by its sides; its openings go where they are answered, or come off where they are not asked for."""
    found = checked(question, sides.area_m2 if question.less else net_m2(sides))
    if isinstance(found, Refused) or not sides.openings or not question.less:
        return found
    return replace(found, beside=((question.less, [*openings_raw(sides.openings)]),))


def checked(question: Question, raw: Raw) -> Taken | Refused:
    """What an answer as answers spell it comes to for a question."""
    source = Source("")
    value = read_value(question, raw, (), source)
    if value is not None:
        return Taken(raw, value)
    return Refused(raw=raw, problem=next(iter(source.problems), None))


class Answering:
    """One answers file being filled in. All that is answered is in the file; nothing is kept beside it."""

    def __init__(self, path: Path, library: Library, source: Source | None = None) -> None:
        """`source` is the file as it was read, if it was.

        Raises `InputInvalid` or `CannotWrite` where the file cannot be gone on with.
        """
        self.library = library
        self.questionnaire = library.questionnaire
        self.file = AnswersFile(path, library.phrase("ask-file-top"))
        self.take_in(source or self.file.read())

    def take_in(self, source: Source) -> None:
        """Holds to a file as it was read. Raises `InputInvalid` where answers cannot be added to it."""
        if source.problems:
            raise InputInvalid(source.problems, source.problems.more)
        facts = read_answers(source, self.questionnaire, self.library.names)
        if not can_go_on(source.data, facts):
            raise InputInvalid(source.problems, source.problems.more)
        self.source, self.facts, self._places = source, facts, where(source.data)

    def save(self, changes: Sequence[AnyChange], check: Callable[[bytes], None] | None = None) -> None:
        """Makes changes in the file and takes in what then stands there; `check` is asked just before."""
        self.take_in(self.file.change(changes, check, self.source))

    @property
    def mistakes(self) -> list[Problem]:
        """The mistakes of the file but for what is not there yet: that is marked at the mapping it is missing from."""
        places = (self.where(path) for path in self.facts.scopes if path)
        whole = {self.source.mark(place) for place in ((), ("project",), ("elements",), *places)}
        return sorted(problem for problem in self.source.problems if problem.mark not in whole)

    def where(self, path: ScopePath) -> Path_:
        """The place of a scope's answers in the file."""
        return self._places[path]

    def level(self, path: ScopePath) -> str:
        """The level of a scope."""
        return self.facts.scopes[path].level if path else "project"

    def change(self, path: ScopePath, name: str, raw: Raw) -> Change:
        """The change that sets an answer of a scope."""
        before = keys_before(self.questionnaire, self.level(path), name)
        return Change(self.where(path), self._key(path, name), raw, before)

    def _key(self, path: ScopePath, name: str) -> str:
        """The key of an answer in the file: one given under an older name of its question keeps that."""
        question, place = self.questionnaire.questions.get(name), self.where(path)
        were = question.was if question is not None else ()
        return next((key for key in were if (*place, key) in self.source.keys), name)

    def answer(self, path: ScopePath, name: str, found: Taken) -> tuple[list[AnyChange], ScopePath]:
        """The changes that an answer makes, and the path that its scope then has.

        Raises `CannotChange` where it says besides what is answered otherwise already.
        """
        raw = found.raw
        for other, told in found.beside:
            if self.standing(path, other) not in (None, told):
                label = self.questionnaire.questions[other].label
                raise CannotChange(self.library.phrase("ask-beside-stands", label=label))
        changes: list[AnyChange] = [self.change(path, key, told) for key, told in ((name, raw), *found.beside)]
        if name == "work" and isinstance(raw, str) and raw != self.facts.get(path, "work"):
            # an id made from the old work would name the new one wrongly
            key = new_id(raw, self.ids(path[:-1]) - {path[-1]})
            changes.append(self.change(path, "id", key))
            path = (*path[:-1], key)
        return changes, path

    def standing(self, path: ScopePath, name: str) -> Any:
        """The untyped answer that stands in the file; None where there is none."""
        scope = at(self.source.data, self.where(path))
        return scope.get(self._key(path, name)) if isinstance(scope, dict) else None

    def taking_out(self, path: ScopePath, name: str) -> Dropped:
        """The change that takes an answer out, as if it had never been given."""
        return Dropped((*self.where(path), self._key(path, name)))

    def ids(self, parent: ScopePath) -> set[str]:
        """The ids that are taken in a scope."""
        # a wall with zones is no scope, and has an id all the same
        walls = {str(item.get("id")) for item in elements_of(self.source.data)} if not parent else set()
        return walls | {path[-1] for path in self.facts.scopes if path and path[:-1] == parent}

    def wrong_name(self, changes: Sequence[AnyChange], place: Path_) -> list[Problem]:
        """What the reader says against the name at a place as the answers would then stand."""
        trial = read_bytes(changed(self.source.raw.decode("utf-8-sig"), changes).encode(), "", typed=False)
        read_answers(trial, self.questionnaire, self.library.names)
        return [problem for problem in trial.problems if problem.mark == trial.mark(place)]


def at(data: Any, place: Path_) -> Any:
    """The untyped answer at a place; None where there is none."""
    for step in place:
        if isinstance(data, dict):
            data = data.get(str(step))
        elif isinstance(data, list) and isinstance(step, int) and step < len(data):
            data = data[step]
        else:
            return None
    return data
