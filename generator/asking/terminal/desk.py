"""What a sitting has on its desk: the answers file, the facts in it, how far it has come, and somebody to talk to."""

from __future__ import annotations

import re
import shlex
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from generator.asking.answers_file import AnswersFile, AnyChange, Change, Raw, changed
from generator.asking.order import begun, can_go_on, elements_of, keys_before, where
from generator.asking.terminal.console import Console
from generator.asking.terminal.showing import options
from generator.asking.terminal.talk import Talk
from generator.asking.typed import UNKNOWN, Option, Unclear, meant
from generator.errors import InputInvalid, nearest, shown
from generator.files.source import Path_, Source, read_bytes
from generator.library.model import Library
from generator.questionnaire.answers import read_answers
from generator.questionnaire.facts import ScopePath
from generator.questionnaire.questions import Question
from generator.questionnaire.reading import read_value


class Desk:
    """One answers file being filled in. Everything answered is in the file; the rest is in `sitting`."""

    def __init__(self, path: Path, library: Library, console: Console, more: str = "") -> None:
        """`more` are options that belong to the next command too. Raises `InputInvalid` or `CannotWrite`."""
        self.library = library
        self.questionnaire = library.questionnaire
        self.talk = Talk(console, library)
        self.file = AnswersFile(path, library.phrase("ask-file-top"))
        self.command = f"{shlex.quote(str(path))}{more}"
        self._take_in(self.file.read())
        self.sitting = begun(self.facts)

    def _take_in(self, source: Source) -> None:
        if source.problems:
            raise InputInvalid(source.problems, source.problems.more)
        self.source = source
        self.facts = read_answers(source, self.questionnaire, self.library.names)
        if not can_go_on(source.data, self.facts):
            raise InputInvalid(source.problems, source.problems.more)

    def read(self, question: Question, text: str) -> Raw | None:
        """What a line comes to as answers spell it; None where it was refused, and told why."""
        raw = meant(question.kind, options(question), question.as_name().unit, text)
        if isinstance(raw, Unclear):
            self.talk.unclear(raw)
            return None
        checked = Source("")
        value = read_value(question, raw, (), checked)
        if value is None:
            self._refused(question, text, checked)
            if str(raw).lower() == UNKNOWN:
                self.talk.say("ask-cannot-be-unknown", 2, why=question.why)
            return None
        if raw != text and _is_told(question, str(raw), text):
            self.talk.say("ask-taken", 2, value=self.facts.say(question.name, value))
        return raw

    def _refused(self, question: Question, text: str, checked: Source) -> None:
        """Tells why an answer was not taken and what to write, in the words of the question."""
        known = [word for option in options(question) for word in (option.is_, option.says)]
        if question.kind in ("choice", "choices") and text.lower() != UNKNOWN:
            first = text.split()[0].lower()
            near = first if first in known else nearest(text, known)
            self.talk.say("ask-near" if near else "ask-not-listed", 2, word=shown(text), near=near or "")
            return
        for problem in checked.problems[:1]:
            what = problem.what.replace(f"'{question.name}'", question.label.rstrip("?"), 1)
            self.talk.refused(replace(problem, what=what))

    def picked(self, words: Sequence[Option], usual: str, why: str) -> str:
        """One of some words, with a phrase as its help."""
        return self.talk.pick(words, usual, lambda: [(self.library.phrase(why), 2)])

    # --- the file ---------------------------------------------------------------------------------------

    def where(self, path: ScopePath) -> Path_:
        """The place of a scope's answers in the file."""
        return where(self.source.data)[path]

    def change(self, path: ScopePath, name: str, raw: Raw) -> Change:
        """The change that sets an answer of a scope."""
        level = self.facts.scopes[path].level if path else "project"
        before = keys_before(self.questionnaire, level, name)
        return Change(self.where(path), self._key(path, name), raw, before)

    def _key(self, path: ScopePath, name: str) -> str:
        """The key of an answer in the file: one given under an older name of its question keeps that."""
        question, place = self.questionnaire.questions.get(name), self.where(path)
        were = question.was if question is not None else ()
        return next((key for key in were if (*place, key) in self.source.keys), name)

    def ids(self, parent: ScopePath) -> set[str]:
        """The ids that are taken in a scope."""
        # a wall with zones is no scope, and has an id all the same
        walls = {str(item.get("id")) for item in elements_of(self.source.data)} if not parent else set()
        return walls | {path[-1] for path in self.facts.scopes if path and path[:-1] == parent}

    def may_be_called(self, changes: Sequence[AnyChange], place: Path_, text: str) -> bool:
        """Whether the reader takes the name at a place as the answers would then stand; else it is told why not."""
        if not text:
            self.talk.say("ask-name-needed", 2)
            return False
        trial = read_bytes(changed(self.source.raw.decode("utf-8-sig"), changes).encode(), "", typed=False)
        read_answers(trial, self.questionnaire, self.library.names)
        wrong = [problem for problem in trial.problems if problem.mark == trial.mark(place)]
        for problem in wrong:
            self.talk.refused(problem)
        return not wrong

    def save(self, changes: Sequence[AnyChange]) -> None:
        """Makes changes in the file and takes in what then stands there."""
        self._take_in(self.file.change(changes))


def _is_told(question: Question, raw: str, text: str) -> bool:
    """Whether what a line was taken for is told: not a plain yes or no, nor a number that only lost its unit."""
    typed = re.sub(r"\bm[23]\b|[^0-9.]", "", text)
    figures = question.kind in ("number", "range") and re.sub(r"[^0-9.]", "", raw) != typed
    return raw == UNKNOWN or question.kind in ("choice", "choices", "date", "month_day") or figures
