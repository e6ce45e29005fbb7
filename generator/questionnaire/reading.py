"""Reads one answer as it is spelt into a value of its question's kind; mistakes are noted at their place."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from contextlib import suppress
from decimal import Decimal
from functools import cache
from typing import Any, Final

from generator.files.errors import shown
from generator.files.limits import MOST_TEXT
from generator.files.source import Path_, Source
from generator.questionnaire.questions import Kind, Question, RecordField
from generator.questionnaire.spelt import DATE, MONTH_DAY, NUMBER, RANGE, YES_NO
from generator.values import NOT_KNOWN, MonthDay, Range, Value, plain

YEARS: Final = (1900, 2199)
_COUNT: Final = "_nr"
_BLANKS: Final = re.compile(r"[ \t\r\n]+")
_NOT_KNOWN_SPELT: Final = ("unknown", "not-known", "?", "n/k", "don't know", "unclear", "unsure")


def read_value(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    """The value of an answer read untyped; None where it is refused, with the reason noted in the source."""
    word = raw.strip().lower() if isinstance(raw, str) else ""
    if word == "not known":
        if question.not_known:
            return NOT_KNOWN
        what = f"'{question.name}' cannot be 'not known'"
        source.problem(place, what, "find it out, or leave the line out")
        return None
    if word in _NOT_KNOWN_SPELT and question.not_known and question.kind not in ("text", "texts"):
        _refuse(source, place, question, raw, "write: not known")
        return None
    return _READERS[question.kind](question, raw, place, source)


def default_of(question: Question) -> Value | None:
    """The default of a question as a value of its kind; None where there is none, or it does not fit."""
    if question.default is None:
        return None
    return read_value(question, as_spelt(question.default), (), Source(question.name))


def as_spelt(value: Any) -> Any:
    """A value read typed, as a person would spell it in answers."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return [as_spelt(item) for item in value]
    if isinstance(value, dict):
        return {key: as_spelt(item) for key, item in value.items()}
    return f"{value:f}" if isinstance(value, Decimal) else str(value)


def read_range(name: str, raw: Any, place: Path_, source: Source, most: int) -> Range[Decimal] | None:
    """A number, or low and high, from 0 up to `most`; None where it is refused, with the reason in the source."""
    asked = _bare(name, "range", least=Decimal(0), most=Decimal(most))
    value = _range(asked, raw, place, source)
    return value if isinstance(value, Range) else None


def read_text(name: str, raw: Any, place: Path_, source: Source, most: int = MOST_TEXT) -> str | None:
    """A text with its white space evened out; None where it is blank, too long or no text."""
    if not isinstance(raw, str) or not raw.strip():
        what = f"'{name}' is {_form(raw)}, where words are wanted"
        source.problem(place, what, "write them on one line, in quotes where they hold ': ' or '#'")
        return None
    text = _BLANKS.sub(" ", raw).strip()
    if len(text) > most:
        source.problem(place, f"'{name}' is {len(text):,} characters long", f"shorten it to {most:,} at most")
        return None
    return text


def _form(raw: Any) -> str:
    if isinstance(raw, str):
        return f"'{shown(raw)}'" if raw.strip() else "blank"
    return "a mapping" if isinstance(raw, dict) else "a list" if isinstance(raw, list) else "blank"


def _refuse(source: Source, place: Path_, question: Question, raw: Any, to_do: str) -> None:
    source.problem(place, f"'{question.name}' cannot be {_form(raw)}", to_do)


def _in_unit(question: Question) -> str:
    unit = question.as_name().unit
    return f"; it is in {unit}" if unit else ""


# --- one reader for each kind -------------------------------------------------------------------------------


def _choice(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    known = [choice.is_ for choice in question.choices]
    if isinstance(raw, str) and raw in known:
        return raw
    hint = source.problems.near(raw, known) if isinstance(raw, str) else f"write one of: {', '.join(known)}"
    _refuse(source, place, question, raw, hint)
    return None


def _choices(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    items = [raw] if isinstance(raw, str) else raw
    if not isinstance(items, list):
        some = ", ".join(choice.is_ for choice in question.choices[:2])
        _refuse(source, place, question, raw, f"write a list such as [{some}], or [] for none")
        return None
    found = [_choice(question, item, (*place, index), source) for index, item in enumerate(items)]
    kept = [item for item in found if item is not None]
    return tuple(dict.fromkeys(kept)) if len(kept) == len(found) else None


def _typed(question: Question, raw: Any) -> str:
    """A number or range as it was typed, one in customary units in the unit of its question."""
    text = raw.strip() if isinstance(raw, str) else ""
    if NUMBER.match(text) or RANGE.match(text):
        return text
    from generator.questionnaire.measures import CUSTOMARY, measured

    if not CUSTOMARY.search(text):
        return text
    found = measured(question.as_name().unit, question.kind, text)
    return found if isinstance(found, str) else text


def _number(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    text = _typed(question, raw)
    if not NUMBER.match(text):
        _refuse(source, place, question, raw, _number_hint(question, text))
        return None
    value = Decimal(text)
    return value if _within(question, value, raw, place, source) else None


def _number_hint(question: Question, text: str) -> str:
    if re.match(r"[-+]?[0-9]+,[0-9]+\Z", text):
        return "write a point for decimals and nothing between thousands, as in 1.5 or 1200"
    if re.match(r"[-+]?[0-9]+(\.[0-9]+)?\Z", text):
        return "write at most 12 figures, and 6 after the point"
    if RANGE.match(text):
        return f"write one number, not a range{_in_unit(question)}"
    example = question.example if NUMBER.match(question.example) else "64"
    return f"write a number alone, such as {example}{_in_unit(question)}"


def _within(question: Question, value: Decimal, raw: str, place: Path_, source: Source) -> bool:
    unit = question.as_name().unit
    if question.name.endswith(_COUNT) and value != value.to_integral_value():
        _refuse(source, place, question, raw, "write a whole number: it counts things")
        return False
    if question.least is not None and value < question.least:
        _refuse(source, place, question, raw, f"the least is {plain(question.least)} {unit}".strip())
        return False
    if question.most is not None and value > question.most:
        _refuse(source, place, question, raw, f"the most is {plain(question.most)} {unit}".strip())
        return False
    return True


def _range(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    text = _typed(question, raw)
    match = RANGE.match(text)
    if match:
        low, high = Decimal(match[1]), Decimal(match[2])
        likely = Decimal(match[3]) if match[3] else (low + high) / 2
    elif NUMBER.match(text):
        low = likely = high = Decimal(text)
    else:
        example = RANGE.match(question.example)
        low_high = f"{example[1]} - {example[2]}" if example else "8 - 12"
        usual = f"{low_high} ({example[3]})" if example and example[3] else "8 - 12 (10)"
        hint = f"write low and high, such as {low_high}, or {usual} with the usual{_in_unit(question)}"
        _refuse(source, place, question, raw, hint)
        return None
    if low > high:
        _refuse(source, place, question, raw, f"write the lesser first: {match[2]} - {match[1]}" if match else "")
        return None
    if not low <= likely <= high:
        _refuse(source, place, question, raw, "the usual value, in brackets, lies between the two")
        return None
    good = _within(question, low, raw, place, source) and _within(question, high, raw, place, source)
    return Range(low, likely, high) if good else None


def _text(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    text = read_text(question.name, raw, place, source, int(question.most or MOST_TEXT))
    said_none = text is not None and text.casefold().rstrip(".") in question.nothing
    return question.nothing[0] if said_none else text


def _texts(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    items = [raw] if isinstance(raw, str) else raw
    if not isinstance(items, list):
        _refuse(source, place, question, raw, "write a list, each text on a line that starts with '-'")
        return None
    most = int(question.most or MOST_TEXT)
    found = [read_text(question.name, item, (*place, index), source, most) for index, item in enumerate(items)]
    kept = [item for item in found if item is not None]
    return tuple(kept) if len(kept) == len(found) else None


def _date(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    if not isinstance(raw, str) or not DATE.match(raw):
        _refuse(source, place, question, raw, "write the date as year-month-day, such as 2027-03-01")
        return None
    try:
        value = datetime.date.fromisoformat(raw)
    except ValueError:
        _refuse(source, place, question, raw, "the calendar has no such day; write year-month-day")
        return None
    if not YEARS[0] <= value.year <= YEARS[1]:
        _refuse(source, place, question, raw, f"write a year from {YEARS[0]} to {YEARS[1]}")
        return None
    return value


def _month_day(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    """A month and day; of a full date the year is passed over, for it comes back every year."""
    match = MONTH_DAY.match(raw) if isinstance(raw, str) else None
    with suppress(ValueError):
        if match:
            return MonthDay(int(match[1]), int(match[2]))
    _refuse(source, place, question, raw, "write month and day, such as 10-19 for 19 October")
    return None


def _yes_no(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    word = raw.strip().lower() if isinstance(raw, str) else ""
    if word in YES_NO:
        return YES_NO[word]
    _refuse(source, place, question, raw, "write yes or no" + (", or not known" if question.not_known else ""))
    return None


def _records(question: Question, raw: Any, place: Path_, source: Source) -> Value | None:
    if not isinstance(raw, list):
        _refuse(source, place, question, raw, f"write a list of {_pattern(question)}")
        return None
    before = source.problems.total
    found = [_record(question, item, (*place, index), source) for index, item in enumerate(raw)]
    return tuple(found) if source.problems.total == before else None


def _pattern(question: Question) -> str:
    return "{" + ", ".join(f"{column.name}: …" for column in question.fields) + "}"


def _record(question: Question, raw: Any, place: Path_, source: Source) -> dict[str, Value]:
    record: dict[str, Value] = {}
    if not isinstance(raw, dict):
        source.problem(place, f"'{question.name}' has {_form(raw)} in its list", f"write {_pattern(question)}")
        return record
    known = {column.name: column for column in question.fields}
    for key in raw:
        if key not in known:
            what = f"'{shown(key)}' is not part of '{question.name}'"
            source.key_problem((*place, key), what, source.problems.near(key, known))
    for key, column in known.items():
        if raw.get(key) is not None:
            value = read_value(_column_question(question.name, column), raw[key], (*place, key), source)
            if value is not None:
                record[key] = value
        elif column.required:
            what = f"'{question.name}' lacks '{key}' ({column.label.lower()})"
            source.key_problem((*place, key), what, f"add '{key}: …'")
    return record


@cache
def _column_question(of: str, column: RecordField) -> Question:
    least = Decimal(0) if column.kind == "number" else None
    return _bare(f"{of}.{column.name}", column.kind, choices=column.choices, least=least)


def _bare(name: str, kind: Kind, **more: Any) -> Question:
    """A question with no more to it than what its reader needs."""
    return Question(name=name, kind=kind, scope="project", label=name, why="", **more)


_Reader = Callable[[Question, Any, Path_, Source], "Value | None"]
_READERS: Final[dict[str, _Reader]] = {
    "choice": _choice,
    "choices": _choices,
    "number": _number,
    "range": _range,
    "text": _text,
    "texts": _texts,
    "file": _text,
    "date": _date,
    "month_day": _month_day,
    "yes_no": _yes_no,
    "records": _records,
}
