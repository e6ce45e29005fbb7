"""Asks a list one item at a time: texts, or records part by part."""

from __future__ import annotations

from collections.abc import Iterable

from generator.asking.answering import Refused, Taken, checked
from generator.asking.answers_file import Raw
from generator.asking.terminal.showing import Line, choice_lines, help_lines
from generator.asking.terminal.talk import BACK, Talk, Turn
from generator.asking.typed import Unclear, meant_in_part, options_of
from generator.questionnaire.questions import Question, RecordField
from generator.values import replace, unit_of

_NONE = ("none", "no", "nothing", "[]")


class Items:
    """The items of one list as they are typed. `none` tells that there is said to be none."""

    def __init__(self, talk: Talk, question: Question) -> None:
        self.talk = talk
        self.question = question
        self.none = False

    def next(self, number: int) -> Raw | None:
        """The next item, checked; None after an empty line where an item would start, or `none`."""
        if self.question.kind == "texts":
            return self._text(number)
        while True:
            try:
                return self._record(number)
            except _Anew:
                continue

    def _help(self) -> Iterable[Line]:
        return help_lines(self.talk.library, self.question)

    def _ended(self, text: str, number: int) -> bool:
        self.none = number == 1 and text.lower() in _NONE
        return not text or self.none

    def _text(self, number: int) -> Raw | None:
        prompt = self.talk.library.phrase("ask-item", number=str(number))
        while True:
            text = self.talk.line(self._help, prompt)
            if self._ended(text, number):
                return None
            if self._holds(self.question, [text]):
                return text

    def _record(self, number: int) -> Raw | None:
        found: dict[str, Raw] = {}
        for index, column in enumerate(self.question.fields):
            self.talk.lines(choice_lines(self.talk.library, _choosing(self.question, column)))
            value = self._part(number, column, index == 0)
            if value is None and index == 0:
                return None
            if value is not None:
                found[column.name] = value
        return found

    def _part(self, number: int, column: RecordField, first: bool) -> Raw | None:
        """One part of a record, checked; None where it is left out, or where the list ends at its first part."""
        may_end = first
        prompt = self._prompt(number, column)
        alone = replace(self.question, fields=(column,))
        while True:
            try:
                text = self.talk.line(self._help, prompt)
            except Turn as turn:
                if turn.word == BACK and not first:
                    raise _Anew from None
                raise
            if (may_end and self._ended(text, number)) or (not text and not column.required):
                return None
            if not text:
                self.talk.say("ask-field-needed", 2)
                continue
            raw = meant_in_part(column.kind, options_of(column.choices), unit_of(column.name), text)
            if isinstance(raw, Unclear):
                self.talk.unclear(raw)
            elif self._holds(alone, [{column.name: raw}]):
                return raw

    def _prompt(self, number: int, column: RecordField) -> str:
        key = "ask-field" if column.required else "ask-field-optional"
        unit = unit_of(column.name) if column.kind == "number" else ""
        phrase = self.talk.library.phrase
        said = phrase("ask-label", label=column.label, unit=unit) if unit else column.label
        return phrase(key, number=str(number), label=said)

    def _holds(self, question: Question, raw: Raw) -> bool:
        """Whether the reader takes an answer; else it is told why not."""
        found = checked(question, raw)
        if isinstance(found, Refused) and found.problem is not None:
            self.talk.refused(found.problem)
        return isinstance(found, Taken)


class _Anew(Exception):
    """Start this record again."""


def _choosing(question: Question, column: RecordField) -> Question:
    """A stand-in with a column's choices, to be shown."""
    return replace(question, choices=column.choices, not_known=False)
