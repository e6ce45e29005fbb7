"""What is shown of a question: its label and choices, and on `?` why it is asked and how to find out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from generator.asking.order import Ask, Sitting, progress
from generator.asking.typed import Option, options
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Need, Question
from generator.questionnaire.reading import default_of
from generator.questionnaire.scopes import PROJECT, Held, ScopePath
from generator.values import plain, spoken

Line = tuple[str, int]
_DEEPER: Final = 2
_TYPICAL: Final = Decimal(10)


def held(facts: Facts, step: Ask) -> Held | None:
    """The answer that a question has already; None where it has none or only its default."""
    found = facts.values.get(step.path, {}).get(step.question.name)
    return found if found is not None and found.origin == "given" else None


def place(library: Library, facts: Facts, path: ScopePath) -> str:
    """The scope as a reader knows it."""
    return library.phrase("whole-job") if path == PROJECT else facts.title(path)


def question_lines(library: Library, facts: Facts, sitting: Sitting, step: Ask) -> Iterator[Line]:
    """The lines that ask a question, each with its indent."""
    number, count = progress(facts, library.questionnaire, sitting, step)
    where = place(library, facts, step.path)
    yield library.phrase("ask-progress", place=where, number=str(number), count=str(count)), 0
    yield label(library, step.question), 0
    yield from choice_lines(library, step.question)
    hint = _hint(step.question)
    if hint:
        yield library.phrase(hint, example=example(library, step.question)), _DEEPER
    yield from _empty_line(library, facts, step)


def label(library: Library, question: Question) -> str:
    """The label of a question, with its unit."""
    unit = question.as_name().unit
    return library.phrase("ask-label", label=question.label, unit=unit) if unit else question.label


def choice_lines(library: Library, question: Question) -> Iterator[Line]:
    """The numbered choices of a question; none where it is no choice."""
    if not question.choices:
        return
    means = {choice.is_: choice.means for choice in question.choices}
    for number, option in enumerate(options(question), 1):
        meaning = means.get(option.is_, "")
        same = option.says == option.is_
        key = f"ask-choice{'' if same else '-said'}{'-means' if meaning else ''}"
        fills = {"number": f"{number:2}", "word": option.is_, "says": option.says, "means": meaning}
        yield library.phrase(key, **fills), _DEEPER


def numbered(library: Library, words: Sequence[Option], *, ids: bool = True) -> Iterator[str]:
    """Things to pick from, each with its number and what it says; with the word to write where it has one."""
    for number, option in enumerate(words, 1):
        key, word = ("ask-choice-said", option.is_) if ids else ("ask-choice", option.says)
        yield library.phrase(key, number=f"{number:2}", word=word, says=option.says)


def _hint(question: Question) -> str:
    """The key of the words that tell how to answer, for kinds that do not show it by themselves."""
    if question.kind == "yes_no":
        return "ask-yes-no-unknown" if question.not_known else "ask-yes-no"
    hinted = ("choices", "texts", "records", "date", "month_day", "range")
    return f"ask-hint-{question.kind}" if question.kind in hinted else ""


def _empty_line(library: Library, facts: Facts, step: Ask) -> Iterator[Line]:
    """What an empty line would do, where it does anything."""
    now, question = held(facts, step), step.question
    usual = default_of(question)
    if now is not None:
        yield library.phrase("ask-now", value=facts.say(question.name, now.value)), _DEEPER
    elif usual is not None:
        yield library.phrase("ask-usual", value=facts.say(question.name, usual)), _DEEPER
    elif library.questionnaire.need(facts, step.path, question) in ("none", "warning"):
        yield library.phrase("ask-may-stay-open"), _DEEPER


def help_lines(library: Library, question: Question, need: Need | None = None) -> Iterator[Line]:
    """Why a question is asked, how to find out, how to write it, and what follows while it is open.

    `need` is what it is needed for where it is asked, if that is less than what it is needed for in general.
    """
    phrase = library.phrase
    yield question.why, _DEEPER
    if question.how:
        yield phrase("ask-why-how", how=question.how.strip()), _DEEPER
    yield phrase(f"ask-why-form-{question.kind}", example=example(library, question)), _DEEPER
    if question.example and question.kind in ("text", "texts", "file"):
        yield phrase("ask-why-example", example=question.example), _DEEPER
    if question.least is not None and question.most is not None:
        least, most = (spoken(limit, question.as_name().unit) for limit in (question.least, question.most))
        yield phrase("ask-why-limits", least=least, most=most), _DEEPER
    usual = default_of(question)
    if usual is not None:
        said = library.names[question.name]
        value = said.choices.get(usual, usual) if isinstance(usual, str) else spoken(usual, said.unit)
        yield phrase("ask-why-usual", value=value, because=question.default_because), _DEEPER
    yield phrase(f"ask-why-{need or question.need}", who=question.answer_by), _DEEPER
    if question.not_known or question.kind not in ("text", "texts", "file", "records"):
        yield phrase("ask-why-unknown" if question.not_known else "ask-why-no-unknown"), _DEEPER
    yield from choice_lines(library, question)


def example(library: Library, question: Question) -> str:
    """An answer such as a question takes; `""` for words, which only the library can give."""
    if question.example:
        return question.example
    if question.kind == "number":
        least = question.least if question.least is not None else _TYPICAL
        most = question.most if question.most is not None else _TYPICAL
        return plain(min(max(_TYPICAL, least), most))
    key = f"ask-example-{question.kind}"
    return library.phrase(key) if key in library.words else ""
