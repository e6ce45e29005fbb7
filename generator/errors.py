"""What can go wrong: mistakes in files (`Problem`), and findings about the job (`Finding`)."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from generator.values import Struct


class Mark(Struct, frozen=True, order=True):
    """A place in a file. Lines and columns count from 1; 0 means the file as a whole."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


class Problem(Struct, frozen=True, order=True):
    """A mistake in a file that stops the run: where, what, and what to do.

    `under` is shown on lines of its own below: a condition with carets under the part that is wrong.
    """

    mark: Mark
    what: str
    to_do: str
    under: str = ""

    def __str__(self) -> str:
        told = f"{self.mark}: {self.what}: {self.to_do}"
        return f"{told}\n{self.under}" if self.under else told


LEVELS = ("note", "warning", "refusal", "block")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a reader must know about the job: worded by the library, raised by a rule or a condition.

    `scope` is the path of ids from the project down; `facts` are the answers that raised it; `question` is the name of
    the one that it asks for an answer, "" where it asks for none.
    """

    level: str
    code: str
    scope: tuple[str, ...]
    message: str
    action: str
    answer_by: str
    sources: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = field(default=(), compare=False)
    instruction: str = ""
    question: str = ""

    @property
    def rank(self) -> int:
        """Position in `LEVELS`, the gravest highest."""
        return LEVELS.index(self.level)

    @property
    def words(self) -> tuple[str, ...]:
        """All that it says, wherever it is: findings alike differ in their scope, facts and marks."""
        return self.level, self.code, self.message, self.action, self.instruction, self.answer_by


class Raised(Struct, frozen=True):
    """A finding as a step raises it: its code, where, and what fills its words. Words come later."""

    code: str
    scope: tuple[str, ...] = ()
    fills: tuple[tuple[str, str], ...] = ()
    facts: tuple[str, ...] = ()
    marks: tuple[Mark, ...] = ()


class GaugeboxError(Exception):
    """Base of every error that is the user's to mend and not a bug."""


class InputInvalid(GaugeboxError):
    """Files that cannot be read as meant; carries the problems found, and how many `more` were only counted."""

    def __init__(self, problems: Iterable[Problem], more: int = 0) -> None:
        self.problems = tuple(sorted(set(problems)))
        self.more = more
        super().__init__("\n".join(self.lines(len(self.problems))))

    def lines(self, most: int) -> list[str]:
        """So many of the problems, in the order of the files, and a line that counts the rest."""
        told = [str(problem) for problem in self.problems[:most]]
        rest = len(self.problems) - len(told) + self.more
        return [*told, f"and {rest:,} more were found: mend these first"] if rest else told


class DataNotFound(GaugeboxError):
    """The shipped clauses or templates are not where they should be."""


class CannotWrite(GaugeboxError):
    """An output could not be written; what stood there before still stands."""


class CannotServe(GaugeboxError):
    """The pages of a survey cannot be offered."""


_MOST_LISTED: Final = 20
_MOST_NEAR: Final = 4
_LEAST_HELD: Final = 3
_WORD: Final = re.compile(r"[^\W_]+")
# All that a terminal acts on instead of showing it, but the ends of lines and tabs.
_OBEYED: Final = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]"
)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A hint naming the nearest known word, or all of them if they are few."""
    names = sorted(known)
    close = nearest(word, names)
    if close:
        return f"did you mean '{close}'?"
    if len(names) > _MOST_LISTED:
        return f"none of the {len(names)} known names is like it; mend its spelling"
    return f"use one of: {', '.join(names)}" if names else "take it out"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like a word, whatever its capitals, hyphens and underscores; None if none is."""
    import difflib

    by_form = {_form(name): name for name in known}
    close = difflib.get_close_matches(_form(word[:100]), by_form, n=1, cutoff=0.6)
    return by_form[close[0]] if close else None


def few_near(word: str, known: Iterable[str]) -> str:
    """A hint naming the nearest known words, and some that hold the word; as `did_you_mean` where there are none."""
    import difflib

    by_form = {_form(name): name for name in sorted(known)}
    asked = _form(word[:100])
    close = difflib.get_close_matches(asked, by_form, n=_MOST_NEAR, cutoff=0.7)
    close += [form for form in by_form if len(asked) >= _LEAST_HELD and asked in form]
    words = {word for form in by_form for word in _WORD.findall(form)}
    alike = difflib.get_close_matches(asked, words, n=_MOST_NEAR, cutoff=0.8)
    close += [form for word in alike for form in by_form if word in _WORD.findall(form)]
    found = [by_form[form] for form in dict.fromkeys(close)][:_MOST_NEAR]
    told = ", ".join(f"'{name}'" for name in found)
    return f"did you mean {told}?" if found else did_you_mean(word, by_form.values())


def _form(word: str) -> str:
    return word.lower().replace("_", "-")


def harmless(text: str) -> str:
    """A text as a terminal can take it: controls, marks of direction and what is no text are spelt as escapes."""
    return _OBEYED.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def shown(text: str, most: int = 60) -> str:
    """A text as a message can show it: on one line, and cut to a length."""
    line = "".join(char if char.isprintable() else " " for char in " ".join(text[: most * 4].split()))
    return f"{line[:most]}…" if len(line) > most or len(text) > most * 4 else line
