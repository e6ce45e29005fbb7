"""Which questions that matter have no answer, an answer of "not known", or an answer that does not apply."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.library.findings import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import Held, ScopePath

UNANSWERED: Final = ("not-answered", "not-answered-warning", "not-known-block", "not-known-warning")
"""The codes of findings that ask for an answer to a question."""


def unanswered(facts: Facts, library: Library) -> Iterator[Raised]:
    """A finding for each question that applies and has no answer that can be used."""
    sound: set[ScopePath] = set()
    for level in ("project", "element", "work", "coat"):
        for scope in facts.at(level):
            if facts.model(scope.path) in sound:
                continue
            judged = (_judged(facts, library, scope.path, question) for question in library.questionnaire.of(level))
            found = [raised for raised in judged if raised is not None]
            if not found:
                sound.add(scope.path)
            yield from found


def _judged(facts: Facts, library: Library, path: ScopePath, question: Question) -> Raised | None:
    held = facts.values.get(path, {}).get(question.name)
    if library.questionnaire.applies(facts, path, question.name) is not True:
        unused = held is not None and held.origin == "given"
        return _raised("answer-unused", path, question, held) if unused and held else None
    if held is None:
        codes = {"block": "not-answered", "warning": "not-answered-warning"}
        need = library.questionnaire.need(facts, path, question)
        return _raised(codes[need], path, question, held) if need in codes else None
    if not held.known:
        codes = {"block": "not-known-block", "warning": "not-known-warning"}
        return _raised(codes[question.unknown_is], path, question, held) if question.unknown_is in codes else None
    return None


def _raised(code: str, path: ScopePath, question: Question, held: Held | None) -> Raised:
    fills = (
        ("question", question.label.rstrip("?")),
        ("why", question.why),
        ("answer_by", question.answer_by),
        ("name", question.name),
    )
    return Raised(code, path, fills, (), (held.mark,) if held else ())
