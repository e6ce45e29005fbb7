"""Why a typed line is not taken as an answer, and what to write instead, in the words of the library."""

from __future__ import annotations

from collections.abc import Iterator

from generator.asking.answering import Refused
from generator.asking.typed import UNKNOWN, options
from generator.errors import nearest, shown
from generator.library.model import Library
from generator.questionnaire.questions import Question


def refusal(library: Library, question: Question, text: str, found: Refused) -> Iterator[str]:
    """The sentences that tell why a line was not taken, in the words of its question."""
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
