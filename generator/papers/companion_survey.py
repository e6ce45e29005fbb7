"""The survey sheet to take to the wall: two pages a wall of boxes to tick and lines to write on; then the job's."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from generator.document.model import (
    Block,
    Contents,
    Document,
    Figure,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    Section,
    Strong,
    Text,
)
from generator.document.template import PaperPart
from generator.drawing.model import THIN, Drawing, Line, Primitive, Rect
from generator.job.job import Job, words
from generator.papers.making import Makers, made
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import PROJECT, Scope, ScopePath
from generator.values import replace

_MOST_CHOICES: Final = 12
_SKETCH_MM: Final = (80.0, 95.0)
_GRID_MM: Final = 5.0
_SQUARES: Final = THIN
_COLUMNS: Final = 2
_OF_THE_JOB: Final = ("whole-job", "tests")
_CONTENTS: Final = "contents"
_KNOWN_BEFORE: Final = frozenset({"masonry", "position", "work", "removed", "overhead"})
"""What is known of a wall before it is surveyed, and decides what is asked of it; what is found there does not."""

_BOX: Final = "□\u00a0"
_LINE: Final = "\t"
"""What is behind it stands at the end of the line, and the line before it is there to write on."""


def survey(job: Job) -> Document:
    """The blank survey sheet: what the job's walls and works call for to be asked, and no answer."""
    paper = job.paper("survey-sheet")
    own = [part for part in paper.parts if part.part not in _OF_THE_JOB]
    walls: list[Scope | None] = [*job.facts.at("element")]
    sections = [
        _section(tuple(made(job, own, _OF_A_WALL, wall)), wall.title if wall else "") for wall in walls or [None]
    ]
    return Document(
        job.identity(paper.title), (*sections, *_once(job, [it for it in paper.parts if it.part in _OF_THE_JOB]))
    )


def _once(job: Job, parts: Sequence[PaperPart]) -> Iterator[Section]:
    """What is filled in once, and how things are found out: in the same columns, below the list of sheets."""
    across = tuple(block for part in parts for block in _above_columns(part))
    header = parts[0].heading if parts else ""
    if across:
        yield Section(across, header=header)
    blocks = tuple(made(job, parts, _ONCE))
    if blocks:
        yield replace(_section(blocks, header), continues=bool(across))


def _section(blocks: tuple[Block, ...], header: str) -> Section:
    return Section(blocks, header=header, columns=_COLUMNS)


# --- of a wall --------------------------------------------------------------------------------------------


def _title(job: Job, part: PaperPart, wall: Scope | None) -> Iterator[Block]:
    anchor = f"survey:{wall.path[0]}" if wall else "front:survey"
    yield Heading(1, words(part.filled(wall=wall.title if wall else "").heading), anchor=anchor)


def _safety(_: Job, part: PaperPart, __: Scope | None) -> Iterator[Block]:
    yield Paragraph((Strong(words(part.text)),))


def _who(_: Job, part: PaperPart, __: Scope | None) -> Iterator[Block]:
    """Who filled the sheet in, and when."""
    yield from (Paragraph(words(f"{shown.label}{_LINE}"), "asked") for shown in part.rows)


def _of_wall(job: Job, part: PaperPart, wall: Scope | None) -> Iterator[Block]:
    yield Heading(2, words(part.heading))
    yield from _asked(job, "element", wall.path if wall else None)


def _of_works(job: Job, part: PaperPart, wall: Scope | None) -> Iterator[Block]:
    """What is asked of each work of a wall."""
    works: list[Scope | None] = [*job.facts.inside(wall.path, "work")] if wall else [None]
    for work in works:
        yield Heading(2, words(part.filled(work=work.title if work else "").heading))
        yield from _asked(job, "work", work.path if work else None)


def _sketch(_: Job, part: PaperPart, __: Scope | None) -> Iterator[Block]:
    """Squares of 5 mm to sketch and hatch on."""
    width, height = _SKETCH_MM
    lines: list[Primitive] = [Rect(0.2, 0.2, width - 0.4, height - 0.4)]
    lines += [Line(x * _GRID_MM, 0.2, x * _GRID_MM, height - 0.2, _SQUARES) for x in range(1, int(width / _GRID_MM))]
    lines += [Line(0.2, y * _GRID_MM, width - 0.2, y * _GRID_MM, _SQUARES) for y in range(1, int(height / _GRID_MM))]
    yield Heading(2, words(part.heading))
    yield Figure(Drawing(width, height, part.about, tuple(lines)))


# --- of the job -------------------------------------------------------------------------------------------


def _above_columns(part: PaperPart) -> tuple[Block, ...]:
    """The heading of what is filled in once and the list of all sheets, across the page; nothing of other parts."""
    listed = part.inner(_CONTENTS)
    if listed is None:
        return ()
    head = Heading(1, words(part.heading), anchor="front:survey-job")
    told = (Paragraph(words(part.text)),) if part.text else ()
    return head, *told, Contents(listed.heading, depth=1)


def _whole_job(job: Job, part: PaperPart) -> Iterator[Block]:
    """What is filled in once."""
    yield from made(job, [one for one in part.parts if one.part != _CONTENTS], _OF_THE_PROJECT)


def _of_project(job: Job, _: PaperPart) -> Iterator[Block]:
    yield from _asked(job, "project", PROJECT)


def _tests(job: Job, part: PaperPart) -> Iterator[Block]:
    """How each thing is found out that is tried on one of the walls, or for one of their works."""
    facts, asked = _before(job), job.library.questionnaire
    tried = [
        item
        for item in (*asked.of("element"), *filter(_is_found, asked.of("work")))
        if item.how and any(asked.applies(facts, at.path, item.name) is not False for at in job.facts.at(item.scope))
    ]
    yield Heading(1, words(part.heading), anchor="front:survey-tests")
    lines: list[Inlines] = [(Strong(words(f"{item.label}:")), Text(f" {' '.join(item.how.split())}")) for item in tried]
    yield ListBlock(tuple(lines), small=True)


def _is_found(item: Question) -> bool:
    """Whether what is asked of a work is found at the wall: what is there, or how much; not how it is to be done."""
    return item.whose == "building" or item.kind in ("number", "range")


# --- questions --------------------------------------------------------------------------------------------


def _before(job: Job) -> Facts:
    """What is known of the walls before they are surveyed."""
    kept = {
        path: {name: held for name, held in values.items() if name in _KNOWN_BEFORE}
        for path, values in job.facts.values.items()
    }
    return replace(job.facts, values=kept)


def _asked(job: Job, scope: str, path: ScopePath | None) -> Iterator[Block]:
    """The questions of a scope that may apply there; all that there are, where there is none yet."""
    asked, facts = job.library.questionnaire, _before(job)
    for question in asked.of(scope):
        # the kind of a work that is known stands over its questions
        if path is None or (question.name != "work" and asked.applies(facts, path, question.name) is not False):
            yield Paragraph(_line(job, question), "asked")


def _line(job: Job, question: Question) -> Inlines:
    """A question with boxes to tick, or with a line to write on and its unit at the end of it."""
    label = words(question.label)
    asked: Inlines = (Strong(label),) if question.need in ("required", "block") else label
    lead: Inlines = (*asked, Text("" if question.label.endswith("?") else ":"))
    if question.kind == "yes_no":
        return (*lead, Text(_boxes([job.word("survey-yes"), job.word("survey-no")])))
    if question.choices:
        said = [choice.says for choice in question.choices]
        more = f"  {job.word('survey-other')}{_LINE}" if len(said) > _MOST_CHOICES else ""
        return (*lead, Text(_boxes(said[:_MOST_CHOICES]) + more))
    unit = job.facts.spelling.heading(job.facts.names[question.name].unit)
    told = job.word(f"survey-answer-{question.kind.replace('_', '-')}", unit=unit)
    return (*lead, Text(_LINE + told.removesuffix(", ")))


def _boxes(said: Iterable[str]) -> str:
    return "".join(f"  {_BOX}{one}" for one in said)


_OF_A_WALL: Final[Makers] = {
    "title": _title, "safety": _safety, "who": _who, "element-questions": _of_wall, "work-questions": _of_works,
    "sketch": _sketch,
}  # fmt: skip
_ONCE: Final[Makers] = {"whole-job": _whole_job, "tests": _tests}
_OF_THE_PROJECT: Final[Makers] = {"project-questions": _of_project}
