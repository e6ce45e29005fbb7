"""The survey sheet to take to the wall: the questions with room for answers, the wall tests, room to sketch."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import (
    Block,
    Column,
    Document,
    Figure,
    Heading,
    Inlines,
    Paragraph,
    Row,
    Section,
    Strong,
    Table,
    Text,
)
from generator.drawing.model import FINE, Drawing, Line, Primitive, Rect
from generator.job.job import Job, words
from generator.questionnaire.questions import Question

BLANK: Final[Inlines] = (Text("\u00a0\n\u00a0"),)
"""A cell to write in: two lines high, so that a pencil has room."""

_WHO: Final = ("wall", "surveyor", "weather", "photographs")
_MOST_CHOICES: Final = 12
_SKETCH_MM: Final = (160.0, 200.0)
_GRID_MM: Final = 5.0


def survey(job: Job) -> Document:
    """The blank survey sheet, made from the questions of this library and not from the answers."""
    title = job.word("companion-survey")
    blocks: list[Block] = [
        Heading(1, words(title), anchor="front:survey"),
        Paragraph(words(job.word("companion-survey-intro"))),
        Paragraph(words(job.word("companion-survey-safety"))),
        _who(job),
        *_tests(job),
        *_questions(job, "element"),
        *_questions(job, "work"),
        Heading(1, words(job.word("companion-survey-sketch")), anchor="front:sketch"),
        Figure(_sketch(job.word("companion-survey-sketch-alt"))),
        Heading(1, words(job.word("companion-survey-job")), anchor="front:survey-job", starts_page=True),
        Paragraph(words(job.word("companion-survey-job-intro"))),
        *_questions(job, "project"),
    ]
    return Document(job.identity("companion-survey"), (Section(tuple(blocks), header=title),))


def _who(job: Job) -> Table:
    """Which wall a copy of the sheet is for, and who filled it in."""
    rows = tuple(Row((words(job.word(f"companion-survey-{key}")), BLANK)) for key in _WHO)
    heads = (Column(job.word("companion-survey-sheet"), 0.3), Column(job.word("companion-survey-found"), 0.7))
    return Table(heads, rows, description=job.word("companion-survey-sheet"), small=True)


def _tests(job: Job) -> Iterator[Block]:
    """The questions of a wall that are answered by trying something on it, with how it is tried."""
    tried = [question for question in job.library.questionnaire.of("element") if question.how]
    if tried:
        yield Heading(2, words(job.word("companion-survey-tests")))
        rows = tuple(Row((_asked(item), words(f"{_line(item.how)}\n{_answers(job, item)}"), BLANK)) for item in tried)
        yield _table(job, ("companion-survey-test", "companion-survey-how", "companion-survey-found"), rows, "tests")


def _questions(job: Job, scope: str) -> Iterator[Block]:
    asked = [item for item in job.library.questionnaire.of(scope) if not item.how or scope != "element"]
    yield Heading(2, words(job.word(f"companion-survey-{scope}")))
    rows = tuple(Row((_asked(item), words(_answers(job, item)), BLANK)) for item in asked)
    yield _table(job, ("companion-survey-ask", "companion-survey-answers", "companion-survey-found"), rows, scope)


def _table(job: Job, heads: tuple[str, str, str], rows: tuple[Row, ...], key: str) -> Table:
    columns = tuple(Column(job.word(head), share) for head, share in zip(heads, (0.3, 0.4, 0.3), strict=True))
    return Table(columns, rows, description=job.word(f"companion-survey-{key}"), small=True)


def _asked(question: Question) -> Inlines:
    label = words(question.label)
    return (Strong(label),) if question.need in ("required", "block") else label


def _answers(job: Job, question: Question) -> str:
    """The answers a question has: its choices, or what to write, with its unit."""
    if question.choices:
        said = [choice.says for choice in question.choices]
        return " / ".join(said[:_MOST_CHOICES]) + (" / …" if len(said) > _MOST_CHOICES else "")
    unit = job.facts.names[question.name].unit
    told = job.word(f"companion-answer-{question.kind.replace('_', '-')}")
    return f"{told} ({unit})" if unit else told


def _line(text: str) -> str:
    return " ".join(text.split())


def _sketch(alt: str) -> Drawing:
    """A page of faint squares of 5 mm to sketch and hatch on."""
    width, height = _SKETCH_MM
    lines: list[Primitive] = [Rect(0.2, 0.2, width - 0.4, height - 0.4)]
    lines += [Line(x * _GRID_MM, 0.2, x * _GRID_MM, height - 0.2, FINE) for x in range(1, int(width / _GRID_MM))]
    lines += [Line(0.2, y * _GRID_MM, width - 0.2, y * _GRID_MM, FINE) for y in range(1, int(height / _GRID_MM))]
    return Drawing(width, height, alt, tuple(lines))
