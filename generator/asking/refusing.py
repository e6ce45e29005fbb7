"""Why a typed line is not taken as an answer, and what to write instead, in the words of the library."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from generator.asking.answering import Refused, Taken
from generator.asking.typed import UNKNOWN, options
from generator.files.errors import Problem, nearest, shown
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.values import Range

Where = Literal["ask", "page", "walls"]
"""Whose words tell it: what is typed at a terminal is ticked or skipped on a page, and left blank in a cell."""


def refusal(library: Library, question: Question, text: str, found: Refused, where: Where = "ask") -> Iterator[str]:
    """The sentences that tell why a line was not taken, in the words of its question."""
    if found.no_answer:
        yield library.phrase("ask-no-answer", word=shown(text))
        key = f"{where}-no-answer-unknown" if question.not_known else f"{where}-no-answer-open"
        yield library.phrase(key)
        return
    is_unknown = str(found.raw).lower() == UNKNOWN
    if found.words:
        yield library.phrase("ask-ambiguous", words=", ".join(found.words))
        return
    if question.kind in ("choice", "choices") and text.lower() != UNKNOWN:
        known = [word for option in options(question) for word in (option.is_, option.says)]
        first = (text.split() or [""])[0].lower()
        near = first if first in known else nearest(text, known)
        yield library.phrase("ask-near" if near else f"{where}-not-listed", word=shown(text), near=near or "")
    elif found.problem is not None and not (where != "ask" and is_unknown):
        yield library.phrase(
            "ask-refused",
            what=_labelled(question, found.problem.what),
            to_do=_to_do(library, question, found.problem, where),
        )
    if is_unknown:
        yield library.phrase(f"{where}-cannot-be-unknown", why=question.why)


def _labelled(question: Question, what: str) -> str:
    """What is wrong, with the labels of a question and its columns in place of their names."""
    for column in question.fields:
        what = what.replace(f"'{question.name}.{column.name}'", column.label)
        what = what.replace(f"'{column.name}' ({column.label.lower()})", f"the {column.label.lower()}")
    return what.replace(f"'{question.name}'", question.label.rstrip("?"), 1)


def _to_do(library: Library, question: Question, problem: Problem, where: Where) -> str:
    """What to do: on a page nobody sees the names that a record in the file has."""
    lacking = question.kind == "records" and any(f"'{column.name}:" in problem.to_do for column in question.fields)
    return library.phrase("page-row-lacks") if where == "page" and lacking else problem.to_do


def way_told(library: Library, facts: Facts, question: Question, way: Taken) -> str:
    """One of the ways in which a line may be meant, as it is offered."""
    said = facts.say(question.name, way.value)
    single = not isinstance(way.value, Range) or way.value.single
    return library.phrase("ask-way-exactly", value=said) if single else said
