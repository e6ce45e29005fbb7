"""An answers file being filled in: what it holds, what a typed line comes to, and the changes that answers make."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.asking.answers_file import AnswersFile, AnyChange, Change, Dropped, Raw, changed
from generator.asking.order import can_go_on, elements_of, keys_before, new_id, where
from generator.asking.typed import Unclear, meant, options
from generator.errors import InputInvalid, Problem
from generator.files.source import Path_, Source, read_bytes
from generator.library.model import Library
from generator.questionnaire.answers import read_answers
from generator.questionnaire.facts import ScopePath
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import read_value
from generator.values import Value


@dataclass(frozen=True, slots=True)
class Taken:
    """What a line comes to: as answers spell it, and as a value."""

    raw: Raw
    value: Value


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a line is not taken: the words that it may be, or what is wrong with what it came to."""

    words: tuple[str, ...] = ()
    raw: Raw = ""
    problem: Problem | None = None


def taken(question: Question, text: str) -> Taken | Refused:
    """What a cleaned line comes to for a question."""
    raw = meant(question.kind, options(question), question.as_name().unit, text)
    return Refused(words=raw.words) if isinstance(raw, Unclear) else checked(question, raw)


def checked(question: Question, raw: Raw) -> Taken | Refused:
    """What an answer as answers spell it comes to for a question."""
    source = Source("")
    value = read_value(question, raw, (), source)
    if value is not None:
        return Taken(raw, value)
    return Refused(raw=raw, problem=next(iter(source.problems), None))


class Answering:
    """One answers file being filled in. All that is answered is in the file; nothing is kept beside it."""

    def __init__(self, path: Path, library: Library) -> None:
        """Raises `InputInvalid` or `CannotWrite` where the file cannot be gone on with."""
        self.library = library
        self.questionnaire = library.questionnaire
        self.file = AnswersFile(path, library.phrase("ask-file-top"))
        self.take_in(self.file.read())

    def take_in(self, source: Source) -> None:
        """Holds to a file as it was read. Raises `InputInvalid` where answers cannot be added to it."""
        if source.problems:
            raise InputInvalid(source.problems, source.problems.more)
        facts = read_answers(source, self.questionnaire, self.library.names)
        if not can_go_on(source.data, facts):
            raise InputInvalid(source.problems, source.problems.more)
        self.source, self.facts = source, facts

    def save(self, changes: Sequence[AnyChange], check: Callable[[bytes], None] | None = None) -> None:
        """Makes changes in the file and takes in what then stands there; `check` is asked just before."""
        self.take_in(self.file.change(changes, check))

    def where(self, path: ScopePath) -> Path_:
        """The place of a scope's answers in the file."""
        return where(self.source.data)[path]

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

    def answer(self, path: ScopePath, name: str, raw: Raw) -> tuple[list[AnyChange], ScopePath]:
        """The changes that an answer makes, and the path that its scope then has."""
        changes: list[AnyChange] = [self.change(path, name, raw)]
        if name == "work" and isinstance(raw, str) and raw != self.facts.get(path, "work"):
            # an id made from the old work would name the new one wrongly
            key = new_id(raw, self.ids(path[:-1]) - {path[-1]})
            changes.append(self.change(path, "id", key))
            path = (*path[:-1], key)
        return changes, path

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
