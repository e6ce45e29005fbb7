"""A question as a form on a page, and what comes back from it as an answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from generator.asking.answering import Asked, Refused, Taken, checked, taken
from generator.asking.answers_file import Raw
from generator.asking.typed import UNKNOWN, Unclear, cleaned, meant_in_part, options_of
from generator.library.model import Library
from generator.questionnaire.questions import Question
from generator.questionnaire.spelt import RANGE
from generator.values import replace, unit_of

ENDS: Final = ("least", "greatest", "usual")
NONE: Final = "none-of-them"
SPARE_ROWS: Final = 2
MOST_ROWS: Final = 200


@dataclass(frozen=True, slots=True)
class Posted:
    """What a form brings back."""

    fields: Mapping[str, Sequence[str]]

    def get(self, name: str) -> str:
        """The first value of a field; "" where it has none."""
        return next(iter(self.fields.get(name, ())), "")

    def getlist(self, name: str) -> list[str]:
        """Every value of a field."""
        return list(self.fields.get(name, ()))


@dataclass(frozen=True, slots=True)
class Pick:
    """Something that can be chosen: as answers spell it, as it is said, what it means, and whether it is chosen."""

    is_: str
    says: str
    means: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of a row of records; `picks` where it is chosen."""

    field: str
    label: str
    unit: str
    text: str
    required: bool
    picks: tuple[Pick, ...] = ()


@dataclass(frozen=True, slots=True)
class Form:
    """The fields of one question, filled with what stands in the file or was typed."""

    kind: str
    text: str = ""
    unit: str = ""
    picks: tuple[Pick, ...] = ()
    ends: tuple[tuple[str, str], ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    unknown: bool = False
    offers_unknown: bool = False


def form(question: Question, library: Library, raw: Any) -> Form:
    """A question's fields, filled with an untyped answer; None where there is none."""
    unknown = raw == UNKNOWN
    text = raw if isinstance(raw, str) and not unknown else ""
    found = Form(question.kind, unit=question.as_name().unit, unknown=unknown, offers_unknown=question.not_known)
    if question.kind in ("choice", "choices", "yes_no"):
        chosen = {item for item in raw if isinstance(item, str)} if isinstance(raw, list) else {raw}
        return replace(found, picks=tuple(_picks(question, library, chosen, none=raw == [])))
    if question.kind == "range":
        return replace(found, text=text, ends=_ends(text))
    if question.kind == "texts":
        lines = "\n".join(item for item in raw if isinstance(item, str)) if isinstance(raw, list) else text
        return replace(found, text=lines)
    if question.kind == "records":
        return replace(found, rows=tuple(_rows(question, raw)))
    return replace(found, text=text)


def _picks(question: Question, library: Library, chosen: set[Any], *, none: bool) -> Iterator[Pick]:
    if question.kind == "yes_no":
        spelt = {{"true": "yes", "false": "no"}.get(str(word).lower(), word) for word in chosen}
        for word in ("yes", "no"):
            yield Pick(word, library.phrase(f"page-{word}"), "", word in spelt)
    for choice in question.choices:
        yield Pick(choice.is_, choice.says, choice.means, choice.is_ in chosen)
    if question.kind == "choices":
        yield Pick(NONE, library.phrase("page-none-of-them"), "", none)


def _ends(text: str) -> tuple[tuple[str, str], ...]:
    """A range in three boxes; what is no range stands in the first as it is."""
    match = RANGE.match(text)
    values = (match[1], match[2], match[3] or "") if match else (text, "", "")
    return tuple(zip(ENDS, values, strict=True))


def _rows(question: Question, raw: Any) -> Iterator[tuple[Cell, ...]]:
    listed: list[Mapping[str, Any]] = [item for item in raw if isinstance(item, dict)] if isinstance(raw, list) else []
    for number, item in enumerate([*listed, *({} for _ in range(SPARE_ROWS))]):
        yield tuple(
            Cell(
                f"row-{number}-{column.name}",
                column.label,
                unit_of(column.name) if column.kind == "number" else "",
                str(item.get(column.name) or ""),
                column.required,
                tuple(Pick(one.is_, one.says, one.means, item.get(column.name) == one.is_) for one in column.choices),
            )
            for column in question.fields
        )


# --- coming back ------------------------------------------------------------------------------------------


def typed(question: Question, posted: Posted) -> str:
    """What was typed or chosen, on one line, as it is told back where it is not taken."""
    if posted.get("unknown"):
        return UNKNOWN
    if question.kind == "range":
        return _range(posted)
    return ", ".join(posted.getlist("answer"))


def answered(question: Question, posted: Posted) -> Taken | Refused | Asked | None:
    """What a form comes to; None where nothing was given, or where it holds what no text does."""
    if posted.get("unknown"):
        return checked(question, UNKNOWN)
    if posted.get("way"):
        return taken(question, posted.get("way"))
    if question.kind == "records":
        return _records(question, posted)
    if question.kind == "choices":
        return _choices(question, posted.getlist("answer"))
    if question.kind == "texts":
        return _texts(question, posted.get("answer"))
    text = cleaned(_range(posted) if question.kind == "range" else posted.get("answer"))
    return taken(question, text) if text else None


def _range(posted: Posted) -> str:
    """Three boxes as one line; a whole range in the first box stands for all three."""
    least, greatest, usual = (posted.get(end).strip() for end in ENDS)
    if not greatest:
        return least or usual
    between = f"{least} - {greatest}" if least else greatest
    return f"{between} ({usual})" if usual else between


def _choices(question: Question, chosen: Sequence[str]) -> Taken | Refused | None:
    if UNKNOWN in chosen:
        return checked(question, UNKNOWN)
    if not chosen:
        return None
    return checked(question, [word for word in chosen if word != NONE])


def _texts(question: Question, text: str) -> Taken | Refused | None:
    lines = [cleaned(line) for line in text.splitlines()]
    if None in lines:
        return None
    kept: list[Raw] = [line for line in lines if line]
    return checked(question, kept) if kept else None


def _records(question: Question, posted: Posted) -> Taken | Refused | None:
    """The rows that anything stands in; `none` of them where that is said."""
    found: list[Raw] = []
    for texts in _posted_rows(question, posted):
        row: dict[str, Raw] = {}
        for column in question.fields:
            text = cleaned(texts[column.name])
            raw = meant_in_part(column.kind, options_of(column.choices), unit_of(column.name), text) if text else ""
            if isinstance(raw, Unclear):
                return Refused(words=raw.words)
            if raw != "":
                row[column.name] = raw
        if row:
            found.append(row)
    if not found and not posted.get(NONE):
        return None
    return checked(question, found)


def _posted_rows(question: Question, posted: Posted) -> Iterator[dict[str, str]]:
    """The texts of each row of a form by the names of its columns, blank rows among them."""
    for number in range(MOST_ROWS):
        fields = {column.name: f"row-{number}-{column.name}" for column in question.fields}
        if not any(posted.getlist(field) for field in fields.values()):
            break
        yield {name: posted.get(field) for name, field in fields.items()}


def untyped(question: Question, posted: Posted) -> Any:
    """What a form brought, as an untyped answer to fill it with again."""
    if posted.get("unknown"):
        return UNKNOWN
    if question.kind == "choices":
        return posted.getlist("answer")
    if question.kind == "records":
        return [row for row in _posted_rows(question, posted) if any(row.values())]
    return _range(posted) if question.kind == "range" else posted.get("answer")
