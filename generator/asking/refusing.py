"""Why a typed line is not taken as an answer, and what to write instead, in the words of the library."""

from __future__ import annotations

from collections.abc import Iterator

from generator.asking.answering import Refused, Taken
from generator.asking.typed import UNKNOWN, options
from generator.errors import nearest, shown
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.values import Range


def refusal(library: Library, question: Question, text: str, found: Refused) -> Iterator[str]:
    """The sentences that tell why a line was not taken, in the words of its question."""
    if found.no_answer:
        yield library.phrase("ask-no-answer", word=shown(text))
        yield library.phrase("ask-no-answer-unknown" if question.not_known else "ask-no-answer-open")
        return
    if found.words:
        yield library.phrase("ask-ambiguous", words=", ".join(found.words))
        return
    if question.kind in ("choice", "choices") and text.lower() != UNKNOWN:
        known = [word for option in options(question) for word in (option.is_, option.says)]
        first = (text.split() or [""])[0].lower()
        near = first if first in known else nearest(text, known)
        yield library.phrase("ask-near" if near else "ask-not-listed", word=shown(text), near=near or "")
    elif found.problem is not None:
        what = found.problem.what.replace(f"'{question.name}'", question.label.rstrip("?"), 1)
        yield library.phrase("ask-refused", what=what, to_do=found.problem.to_do)
    if str(found.raw).lower() == UNKNOWN:
        yield library.phrase("ask-cannot-be-unknown", why=question.why)


def way_told(library: Library, facts: Facts, question: Question, way: Taken) -> str:
    """One of the ways in which a line may be meant, as it is offered."""
    said = facts.say(question.name, way.value)
    single = not isinstance(way.value, Range) or way.value.single
    return library.phrase("ask-way-exactly", value=said) if single else said
