"""The survey sheet to take to the wall: the questions with room for answers, the wall tests, room to sketch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from generator.document.model import Block, Document, Figure, Heading, Inlines, Paragraph, Section, Strong
from generator.document.template import PaperPart
from generator.drawing.model import FINE, Drawing, Line, Primitive, Rect
from generator.job.job import Job, words
from generator.papers.making import BLANK, Makers, fact_table, made, row
from generator.questionnaire.facts import PROJECT
from generator.questionnaire.questions import Question

_MOST_CHOICES: Final = 12
_SKETCH_MM: Final = (160.0, 200.0)
_GRID_MM: Final = 5.0


def survey(job: Job) -> Document:
    """The blank survey sheet, made from the questions of this library and not from the answers."""
    paper = job.paper("survey-sheet")
    blocks = tuple(made(job, paper.parts, _SURVEY))
    return Document(job.identity(paper.title), (Section(blocks, header=paper.title),))


def _title(job: Job, _: PaperPart) -> Iterator[Block]:
    yield Heading(1, words(job.paper("survey-sheet").title), anchor="front:survey")


def _safety(_: Job, part: PaperPart) -> Iterator[Block]:
    yield Paragraph(words(part.text))


def _who(_: Job, part: PaperPart) -> Iterator[Block]:
    """Which wall a copy of the sheet is for, and who filled it in."""
    yield fact_table(part, ((shown, BLANK) for shown in part.rows))


def _tests(job: Job, part: PaperPart) -> Iterator[Block]:
    """The questions of a wall that are answered by trying something on it, with how it is tried."""
    tried = [question for question in job.library.questionnaire.of("element") if question.how]
    if tried:
        yield from _asking(job, part, tried)


def _questions(job: Job, part: PaperPart) -> Iterator[Block]:
    scope = part.part.removesuffix("-questions")
    asked = [item for item in job.library.questionnaire.of(scope) if not item.how or scope != "element"]
    yield from _asking(job, part, asked)


def _asking(job: Job, part: PaperPart, questions: Iterable[Question]) -> Iterator[Block]:
    yield Heading(2, words(part.heading))
    yield part.table(row(job, part, PROJECT, _cells(job, question)) for question in questions)


def _cells(job: Job, question: Question) -> dict[str, Inlines]:
    answers, label = _answers(job, question), words(question.label)
    return {
        "question": (Strong(label),) if question.need in ("required", "block") else label,
        "how": words(f"{' '.join(question.how.split())}\n{answers}"),
        "answers": words(answers),
    }


def _answers(job: Job, question: Question) -> str:
    """The answers a question has: its choices, or what to write, with its unit."""
    if question.choices:
        said = [choice.says for choice in question.choices]
        return " / ".join(said[:_MOST_CHOICES]) + (" / …" if len(said) > _MOST_CHOICES else "")
    unit = job.facts.spelling.heading(job.facts.names[question.name].unit)
    told = job.word(f"survey-answer-{question.kind.replace('_', '-')}")
    return f"{told} ({unit})" if unit else told


def _whole_job(job: Job, part: PaperPart) -> Iterator[Block]:
    """The pages that are filled in once."""
    yield Heading(1, words(part.heading), anchor="front:survey-job", starts_page=True)
    yield Paragraph(words(part.text))
    yield from made(job, part.parts, _ASKED)


def _sketch(_: Job, part: PaperPart) -> Iterator[Block]:
    """A page of faint squares of 5 mm to sketch and hatch on."""
    width, height = _SKETCH_MM
    lines: list[Primitive] = [Rect(0.2, 0.2, width - 0.4, height - 0.4)]
    lines += [Line(x * _GRID_MM, 0.2, x * _GRID_MM, height - 0.2, FINE) for x in range(1, int(width / _GRID_MM))]
    lines += [Line(0.2, y * _GRID_MM, width - 0.2, y * _GRID_MM, FINE) for y in range(1, int(height / _GRID_MM))]
    yield Heading(1, words(part.heading), anchor="front:sketch")
    yield Figure(Drawing(width, height, part.about, tuple(lines)))


_ASKED: Final[Makers] = dict.fromkeys(("element-questions", "work-questions", "project-questions"), _questions)
_SURVEY: Final[Makers] = {
    "title": _title, "safety": _safety, "who": _who, "tests": _tests, **_ASKED,
    "sketch": _sketch, "whole-job": _whole_job,
}  # fmt: skip
