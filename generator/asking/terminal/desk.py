"""What a sitting has on its desk: the answers file, the facts in it, how far it has come, and somebody to talk to."""

from __future__ import annotations

import re
import shlex
from collections.abc import Sequence
from pathlib import Path

from generator.asking.answering import Answering, Asked, Refused, Taken, taken
from generator.asking.making import New
from generator.asking.order import begun
from generator.asking.refusing import refusal, way_told
from generator.asking.terminal.console import Console
from generator.asking.terminal.showing import numbered
from generator.asking.terminal.talk import Talk
from generator.asking.typed import UNKNOWN, Option
from generator.files.errors import shown
from generator.library.model import Library
from generator.questionnaire.questions import Question


class Desk(Answering):
    """A sitting over one answers file: what is in no file is in `sitting`."""

    def __init__(self, path: Path, library: Library, console: Console, more: str = "") -> None:
        """`more` are options that belong to the next command too. Raises `InputInvalid` or `CannotWrite`."""
        super().__init__(path, library)
        self.talk = Talk(console, library)
        self.command = f"{shlex.quote(str(path))}{more}"
        self.sitting = begun(self.facts)

    def read(self, question: Question, text: str) -> Taken | None:
        """What a line comes to; None where it was refused, and told why."""
        found = taken(question, text)
        if isinstance(found, Asked):
            found = self._asked_back(question, text, found)
        if isinstance(found, Refused):
            self.talk.lines((line, 2) for line in refusal(self.library, question, text, found))
            return None
        if found.raw != text and _is_told(question, str(found.raw), text):
            self.talk.say("ask-taken", 2, value=self.facts.say(question.name, found.value))
        return found

    def _asked_back(self, question: Question, text: str, found: Asked) -> Taken:
        """Which of the ways in which a line can be read is meant."""
        phrase = self.library.phrase
        asks = phrase("ask-about", value=found.about) if found.about else phrase("ask-read-ways", typed=shown(text))
        said = {str(one.raw): one for one in found.ways}
        words = [Option(raw, way_told(self.library, self.facts, question, one)) for raw, one in said.items()]
        self.talk.lines([(asks, 2), *((line, 4) for line in numbered(self.library, words, ids=False))])
        return said[self.talk.pick(words, "", lambda: [(asks, 2)], numbers=True)]

    def picked(self, words: Sequence[Option], usual: str, why: str) -> str:
        """One of some words, with a phrase as its help."""
        return self.talk.pick(words, usual, lambda: [(self.library.phrase(why), 2)])

    def may_be_called(self, new: New) -> bool:
        """Whether the reader takes the name of what is to be made; else it is told why not."""
        wrong = self.wrong_name(new.changes, new.place)
        for problem in wrong:
            self.talk.refused(problem)
        return not wrong


def _is_told(question: Question, raw: str, text: str) -> bool:
    """Whether what a line was taken for is told: not a plain yes or no, nor a number that only lost its unit."""
    typed = re.sub(r"\bm[23]\b|[^0-9.]", "", text)
    figures = question.kind in ("number", "range") and re.sub(r"[^0-9.]", "", raw) != typed
    return raw == UNKNOWN or question.kind in ("choice", "choices", "date", "month_day") or figures
