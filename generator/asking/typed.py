"""What is meant by a line typed at the terminal: a choice by number, word or beginning; a number with its unit; a date.

Only what can be read in one way is taken: `1 March 2027` is a date, `1/3/2027` is two.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.asking.answers_file import Raw
from generator.files.source import NO_TEXT
from generator.questionnaire.measures import Ways, measured
from generator.questionnaire.questions import Choice, Question
from generator.questionnaire.spelt import NUMBER, RANGE

UNKNOWN: Final = "not known"
_UNKNOWN_SAID: Final = ("unknown", "don't know", "dont know", "not sure", "unsure", "n/k", "cannot tell", "can't tell")
_NO_ANSWER: Final = (
    "idk", "i don't know", "dunno", "no idea", "n/a", "na", "not applicable", "tbc", "tba", "tbd", "todo", "help",
    "?", "??", "???", "-", "--", "...", "…",
)  # fmt: skip
_NO_MORE: Final = ("none", "no", "nothing", "[]")
_SPELT: Final = {
    "m²": "m2|sqm|sq m|square metres?",
    "m³": "m3|cu m|cubic metres?",
    "%": "per cent|percent",
    "l": "litres?",
    "nr": "no",
    "mm": "millimetres?",
    "m": "metres?",
    "weeks": "weeks?|wks?",
    "months": "months?|mths?",
    "days": "days?",
}
_MONTHS: Final = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_DAY: Final = r"(?P<day>[0-9]{1,2})(?:st|nd|rd|th)?"
_DATES: Final = (
    re.compile(rf"{_DAY}(?: of)? (?P<month>[a-z]{{3,}})\.?,? (?P<year>[0-9]{{4}})\Z"),
    re.compile(rf"(?P<month>[a-z]{{3,}})\.? {_DAY},? (?P<year>[0-9]{{4}})\Z"),
    re.compile(r"(?P<year>[0-9]{4})[-/. ](?P<month>[0-9]{1,2})[-/. ](?P<day>[0-9]{1,2})\Z"),
)
_MONTH_DAYS: Final = (
    re.compile(rf"{_DAY}(?: of)? (?P<month>[a-z]{{3,}})\.?\Z"),
    re.compile(rf"(?P<month>[a-z]{{3,}})\.? {_DAY}\Z"),
)


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that can be chosen: as answers spell it, and as it is said."""

    is_: str
    says: str


@dataclass(frozen=True, slots=True)
class Unclear:
    """A word that is the beginning of several choices."""

    words: tuple[str, ...]


def options(question: Question) -> list[Option]:
    """What can be chosen in answer to a question, `not known` last where it is an answer."""
    found = options_of(question.choices)
    return [*found, Option(UNKNOWN, UNKNOWN)] if question.not_known else found


def options_of(choices: tuple[Choice, ...]) -> list[Option]:
    """Choices as options."""
    return [Option(choice.is_, choice.says) for choice in choices]


def cleaned(line: str) -> str | None:
    """A line with its white space evened out; None where it holds what no text does: controls, broken UTF-8."""
    text = " ".join(line.split())
    return None if NO_TEXT.search(text) else text


def meant(kind: str, options: Sequence[Option], unit: str, text: str) -> Raw | Unclear | Ways:
    """What a cleaned line means for a kind of question, as answers spell it; what fits nothing is returned as typed."""
    if kind not in ("text", "texts", "file") and _is_unknown(text):
        return UNKNOWN
    if kind == "choice":
        return chosen(options, text)
    if kind == "choices":
        return _several(options, text)
    if kind == "yes_no":
        return _yes_or_no(options, text)
    if kind in ("number", "range"):
        return _measured(kind, unit, text)
    if kind == "month_day":
        return _month_day(text)
    return _date(text) if kind == "date" else text


def meant_in_part(kind: str, options: Sequence[Option], unit: str, text: str) -> Raw | Unclear:
    """What a cleaned line means as a part of a record, which asks nothing back: what may be several stays as typed."""
    found = meant(kind, options, unit, text)
    return text if isinstance(found, Ways) else found


def _measured(kind: str, unit: str, text: str) -> str | Ways:
    """A number or range in the unit of its question; one that is written plainly stays as it is."""
    if NUMBER.match(text) or RANGE.match(text):
        return text
    found = measured(unit, kind, text)
    if found is not None or not unit:
        return text if found is None else found
    own = "|".join(filter(None, [re.escape(unit), _SPELT.get(unit, "")]))
    return re.sub(rf"(?<=[0-9)])\s*(?:{own})(?![^\W\d_])", "", text, flags=re.IGNORECASE)


def _date(text: str) -> str:
    """A date as answers spell it, from forms that can be read in one way; others stay as typed."""
    found = next(filter(None, (form.match(text.lower()) for form in _DATES)), None)
    if found is None:
        return text
    months = [found["month"]] if found["month"].isdigit() else _numbers_of(found["month"])
    return f"{found['year']}-{int(months[0]):02}-{int(found['day']):02}" if months else text


def _month_day(text: str) -> str:
    """A month and day as answers spell them, from forms that can be read in one way; a date loses its year."""
    found = next(filter(None, (form.match(text.lower()) for form in _MONTH_DAYS)), None)
    if found is None:
        date = _date(text)
        return date[5:] if date != text else text
    months = _numbers_of(found["month"])
    return f"{int(months[0]):02}-{int(found['day']):02}" if months else text


def _numbers_of(month: str) -> list[str]:
    """The number of the month that a word is, or begins; none where it is no month."""
    word = month.removesuffix("t") if month == "sept" else month
    return [str(number) for number, name in enumerate(_MONTHS, 1) if name.startswith(word)]


def _yes_or_no(options: Sequence[Option], text: str) -> str | Unclear:
    # `n` is the beginning of `not known` too; whoever means that writes more of it
    found = chosen((Option("yes", "yes"), Option("no", "no")), text, numbers=False)
    return found if found in ("yes", "no") else chosen(options, text, numbers=False)


def is_no_answer(text: str) -> bool:
    """Whether a line says that there is no answer, in a way in which papers would print it as one."""
    return text.lower().replace("’", "'").strip(" .!") in _NO_ANSWER or text in _NO_ANSWER


def _is_unknown(text: str) -> bool:
    return _form(text).replace("’", "'") in _UNKNOWN_SAID


def chosen(options: Sequence[Option], text: str, *, numbers: bool = True) -> str | Unclear:
    """The choice that a text means: its word, its number in the list, or the beginning of it alone."""
    word = _form(text)
    for option in options:
        if word in (_form(option.is_), _form(option.says)):
            return option.is_
    if numbers and re.fullmatch(r"[0-9]{1,3}\.?", text) and 1 <= int(text.rstrip(".")) <= len(options):
        return options[int(text.rstrip(".")) - 1].is_
    found = {option.is_ for option in options if word and _begins(option, word)}
    if len(found) > 1:
        return Unclear(tuple(sorted(found)))
    return found.pop() if found else text


def _several(options: Sequence[Option], text: str) -> Raw | Unclear:
    whole = chosen(options, text)
    if whole == UNKNOWN:
        return UNKNOWN
    if isinstance(whole, str) and whole != text:
        return [whole]
    if text.lower() in _NO_MORE and text not in [option.is_ for option in options]:
        return []
    separator = r"[\s,;]+" if re.fullmatch(r"[0-9\s,;]+", text) else r"\s*[,;]\s*|\s+and\s+"
    found: list[Raw] = []
    for part in filter(None, re.split(separator, text)):
        one = chosen(options, part)
        if isinstance(one, Unclear):
            return one
        found.append(one)
    return found


def _form(text: str) -> str:
    return re.sub(r"[\s_-]+", " ", text).strip().lower()


def _begins(option: Option, word: str) -> bool:
    if option.is_ == UNKNOWN and len(word) < len("not"):
        return False
    return _form(option.is_).startswith(word) or _form(option.says).startswith(word)
