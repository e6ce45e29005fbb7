"""The answers of a scope as a page shows them: under headings, each with its state; and what is still lacking."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from generator.job.job import Job
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import Held, ScopePath
from generator.values import capital

State = Literal["given", "usual", "unknown", "lacks", "open"]
HOLDING: Final = ("required", "block")
_NOT_ANSWERED: Final = "not-answered"
_UNKNOWN: Final = "not-known-block"
ANSWERS: Final = (_NOT_ANSWERED, _UNKNOWN)
"""The codes of findings that tell of an answer alone, which is listed by itself."""


@dataclass(frozen=True, slots=True)
class Row:
    """One question of a scope and how it stands; `lacks` while it holds the tender back."""

    path: ScopePath
    question: Question
    said: str
    state: State
    lacks: bool

    @property
    def label(self) -> str:
        """The question without its mark."""
        return self.question.label.rstrip("?")


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under one heading; `path` is the work they are of, where a work begins here."""

    heading: str
    rows: tuple[Row, ...]
    path: ScopePath = ()


def rows(facts: Facts, library: Library, path: ScopePath) -> list[Row]:
    """The questions of a scope that apply, in order, each as it stands."""
    asked = library.questionnaire
    found = []
    for question in asked.of(facts.scopes[path].level if path else "project"):
        held = facts.values.get(path, {}).get(question.name)
        applies = asked.applies(facts, path, question.name)
        if applies is False or (applies is None and held is None and question.name != "work"):
            continue
        said = "" if held is None else facts.say(question.name, held.value)
        need = asked.need(facts, path, question)
        found.append(Row(path, question, said, _state(held, need), _holds_back(held, need, question)))
    return found


def _state(held: Held | None, need: str) -> State:
    if held is None:
        return "lacks" if need in HOLDING else "open"
    if not held.known:
        return "unknown"
    return "usual" if held.origin == "default" else "given"


def _holds_back(held: Held | None, need: str, question: Question) -> bool:
    if held is None:
        return need in HOLDING
    return not held.known and question.unknown_is == "block"


def sections(facts: Facts, library: Library, path: ScopePath) -> list[Section]:
    """The answers of the whole job, or of an element with its works, under the headings of the questions."""
    found = list(_headed(rows(facts, library, path)))
    if path:
        for work in facts.inside(path, "work"):
            inner = list(_headed(rows(facts, library, work.path)))
            title = capital(work.title)
            whole = tuple(row for section in inner for row in section.rows)
            found.append(Section(title, whole, work.path))
    return found


def _headed(listed: list[Row]) -> Iterator[Section]:
    """Rows under the heading that the question stands under; those before the first stand under none."""
    heading, kept = "", list[Row]()
    for row in listed:
        if row.question.heading and row.question.heading != heading:
            if kept:
                yield Section(heading, tuple(kept))
            heading, kept = row.question.heading, []
        kept.append(row)
    if kept:
        yield Section(heading, tuple(kept))


def sheet_of(path: ScopePath) -> ScopePath:
    """The sheet that a scope's answers stand on: that of the whole job, or of its element."""
    return path[:1]


# --- what lacks ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Lack:
    """An answer that holds the tender back: nobody gave it, or it is not known."""

    path: ScopePath
    question: Question
    unknown: bool

    @property
    def label(self) -> str:
        """The question without its mark."""
        return self.question.label.rstrip("?")


def lacking(job: Job) -> list[Lack]:
    """Every answer that holds the tender back, sheet by sheet, in the order asked."""
    questions = job.library.questionnaire.questions
    found = [
        Lack(item.scope, questions[dict(item.fills)["name"]], item.code == _UNKNOWN)
        for item in job.decisions.raised
        if item.code in ANSWERS
    ]
    found += _required(job, questions.values())
    places = {path: index for index, path in enumerate(job.facts.scopes)}
    asked = {name: index for index, name in enumerate(questions)}
    return sorted(found, key=lambda lack: (places[lack.path], asked[lack.question.name]))


def _required(job: Job, questions: Iterable[Question]) -> Iterator[Lack]:
    """What no papers can be made without, and no rule asks for."""
    for question in questions:
        for scope in job.facts.at(question.scope) if question.need == "required" else ():
            if question.name not in job.facts.values.get(scope.path, {}):
                yield Lack(scope.path, question, unknown=False)


# --- where to go on -----------------------------------------------------------------------------------------


def onward(here: Sequence[Row], lacks: Sequence[Lack], path: ScopePath, name: str) -> tuple[ScopePath, Question] | None:
    """The question to go on with: what lacks further down this sheet, then anywhere; then what is open below."""
    at = next((index for index, row in enumerate(here) if (row.path, row.question.name) == (path, name)), -1)
    below = here[at + 1 :]
    lacking_below = [(row.path, row.question) for row in below if row.lacks]
    elsewhere = [(lack.path, lack.question) for lack in lacks if (lack.path, lack.question.name) != (path, name)]
    open_below = [(row.path, row.question) for row in below if row.state == "open"]
    return next(iter([*lacking_below, *elsewhere, *open_below]), None)


def above(here: Sequence[Row], path: ScopePath, name: str) -> Row | None:
    """The row above a question on its sheet; None for the first."""
    at = next((index for index, row in enumerate(here) if (row.path, row.question.name) == (path, name)), 0)
    return here[at - 1] if at else None
