"""What the pages of a survey share: the answers file, the job it comes to, and what was done and can be undone."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from generator import pipeline
from generator.asking.answering import Answering, at
from generator.asking.answers_file import AnyChange, Dropped, Raw
from generator.files.errors import GaugeboxError, InputInvalid, Problem
from generator.files.source import Source
from generator.job.job import Job
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import Kept
from generator.questionnaire.questions import Questionnaire
from generator.questionnaire.reading import default_of
from generator.questionnaire.scopes import PROJECT, Held, Scope, ScopePath, Scopes
from generator.values import replace

MOST_DEEDS: Final = 200
_TRIES: Final = 5


class Otherwise(GaugeboxError):
    """What a page was made for stands otherwise in the file by now."""


class _Again(Exception):
    """The file was changed between the reading of it and the saving."""


@dataclass(frozen=True, slots=True)
class Deed:
    """Something done to the file: a key of the library's words with what fills it, and the file before and after.

    `path` is where it is seen; `name` the question that was answered, "" where it was none.
    """

    key: str
    fills: tuple[tuple[str, str], ...]
    path: ScopePath
    name: str = ""
    before: bytes = b""
    after: bytes = b""


class SurveyDesk(Answering):
    """One answers file on the desk, read again wherever it was changed; one request at a time holds the lock."""

    def __init__(self, path: Path, library: Library) -> None:
        """Raises `InputInvalid` or `CannotWrite` where the file cannot be gone on with."""
        self.lock = threading.RLock()
        super().__init__(path, library)
        self.trouble: tuple[Problem, ...] = ()
        self.changed_outside = False
        self.done: list[Deed] = []
        self.undone: list[Deed] = []
        self._jobs: dict[bytes, Job] = {}
        self._kept = Kept()

    # --- what stands in the file ------------------------------------------------------------------------

    def take_in(self, source: Source) -> None:
        """Holds to a file as it was read, with usual values where answers are missing or wrong."""
        super().take_in(source)
        self.facts = with_usual_values(self.facts, self.questionnaire)

    def look(self) -> None:
        """Takes in the file where somebody else changed it; what cannot be gone on with is kept in `trouble`."""
        raw = self.file.raw()
        if raw == self.source.raw and not self.trouble:
            return
        try:
            self.take_in(self.file.read())
        except InputInvalid as error:
            self.trouble = tuple(sorted(error.problems))
            return
        self.trouble = ()
        self.changed_outside = True

    @property
    def job(self) -> Job:
        """The job as answers stand: what is missing is unknown, and nothing in its place."""
        found = self._jobs.get(self.source.raw)
        if found is None:
            found = pipeline.settled(self.facts, self.library, folder=self.file.path.parent, kept=self._kept)
            # this one and the one before it: what changed is told by both
            self._jobs = {**dict(list(self._jobs.items())[-1:]), self.source.raw: found}
        return found

    def refuse_mistakes(self) -> None:
        """Raises `InputInvalid` where the file has mistakes: no papers are made of it."""
        if self.source.problems:
            raise InputInvalid(self.source.problems, self.source.problems.more)

    def job_before(self) -> Job | None:
        """The job as it was before the last deed; None where that is not known."""
        return self._jobs.get(self.done[-1].before) if self.done else None

    # --- what is done -----------------------------------------------------------------------------------

    def seen(self, path: ScopePath, name: str) -> str:
        """What stands as an answer, or as a whole scope where no name is given, in a few letters to know it again."""
        return digest(self.standing(path, name) if name else at(self.source.data, self.where(path)))

    def do(self, deed: Deed, changes: Callable[[], Sequence[AnyChange]]) -> None:
        """Makes changes and remembers them as one deed.

        Raises `CannotChange`, `CannotWrite`, `InputInvalid`, and what `changes` raises, with the file as it stood.
        """
        for _ in range(_TRIES):
            before = self.source.raw
            made = changes()
            _ = self.job  # so that it can be told afterwards what the deed changed
            try:
                self.save(made, self._same)
            except _Again:
                self.look()
                continue
            break
        else:
            raise Otherwise
        self.changed_outside = False
        if self.source.raw != before:
            self.done = [*self.done[-MOST_DEEDS:], replace(deed, before=before, after=self.source.raw)]
            self.undone = []

    def _same(self, raw: bytes) -> None:
        if raw != self.source.raw:
            raise _Again

    def undo(self) -> Deed | None:
        """Puts back what stood before the last deed; None where there is none, or it was changed over since."""
        if not self.done or not self._put_back(self.done[-1].after, self.done[-1].before):
            return None
        *self.done, deed = self.done
        self.undone.append(deed)
        return deed

    def redo(self) -> Deed | None:
        """Does again what was undone last; None where there is nothing, or it was changed over since."""
        if not self.undone or not self._put_back(self.undone[-1].before, self.undone[-1].after):
            return None
        deed = self.undone.pop()
        self.done.append(deed)
        return deed

    def _put_back(self, standing: bytes, before: bytes) -> bool:
        if not self.file.put_back(standing, before):
            return False
        self.take_in(self.file.read())
        self.changed_outside = False
        return True

    def dropping(self, path: ScopePath) -> list[AnyChange]:
        """The change that takes a scope out with all that lies in it."""
        return [Dropped(self.where(path))]


def with_usual_values(facts: Facts, questionnaire: Questionnaire) -> Facts:
    """Facts with the usual value of every question that has one and no answer, of a project that is not there too.

    Reading gives those of what is there and right: a job can be settled of these before anybody has begun it.
    """
    scopes = (
        facts.scopes if PROJECT in facts.scopes else Scopes({PROJECT: Scope(PROJECT, "project", ""), **facts.scopes})
    )
    usual = {
        question.name: (question.scope, value)
        for question in questionnaire.questions.values()
        if (value := default_of(question)) is not None
    }
    values = {path: dict(facts.values.get(path, {})) for path in scopes}
    for path, held in values.items():
        for name, (scope, value) in usual.items():
            if scope == scopes[path].level and name not in held:
                held[name] = Held(value, "default")
    return replace(facts, scopes=scopes, values=values)


def digest(raw: Raw | None) -> str:
    """A few letters that stand for an untyped answer."""
    return hashlib.sha256(json.dumps(raw, sort_keys=True).encode("utf-8", "replace")).hexdigest()[:16]
