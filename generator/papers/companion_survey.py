"""The survey sheet to take to the wall: two pages a wall of boxes to tick and lines to write on; then the job's."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from generator.document.model import (
    Block,
    Contents,
    Document,
    Figure,
    Heading,
    Identity,
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
from generator.library.model import Library
from generator.papers.making import Makers, made
from generator.questionnaire.facts import Facts
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import PROJECT, Scope
from generator.values import Struct, replace

_MOST_CHOICES: Final = 12
_SKETCH_MM: Final = (80.0, 95.0)
_GRID_MM: Final = 5.0
_SQUARES: Final = THIN
_COLUMNS: Final = 2
_OF_THE_JOB: Final = ("whole-job", "tests")
_CONTENTS: Final = "contents"
_HOLDING: Final = ("required", "block")
_KNOWN_BEFORE: Final = frozenset({"masonry", "position", "work", "removed", "overhead", "units"})
"""What is known of a wall before it is surveyed, and decides what is asked of it, in which units; what is found there
does not."""

_BOX: Final = "□\u00a0"
_LINE: Final = "\t"
"""What is behind it stands at the end of the line, and the line before it is there to write on."""


class Sheets(Struct, frozen=True):
    """What sheets are made of: the questions of a library, and what is known of walls before they are surveyed.

    `before_a_job` tells that the walls stand for kinds of wall, and `any_work` that so do their works.
    """

    library: Library
    facts: Facts
    before_a_job: bool = False
    any_work: bool = False

    def word(self, key: str, **fills: str) -> str:
        """A fixed word or phrase of the library."""
        return self.library.phrase(key, **fills)


def survey(job: Job) -> Document:
    """The blank survey sheet: what the job's walls and works call for to be asked, and no answer."""
    return sheets(Sheets(job.library, _before(job.facts)), job.identity)


def sheets(asked: Sheets, identity: Callable[[str], Identity]) -> Document:
    """A sheet for each wall, and what is filled in once; its identity is made of the paper's title."""
    paper = asked.library.templates["survey-sheet"]
    own = [part for part in paper.parts if part.part not in _OF_THE_JOB]
    of_walls = [_section(tuple(made(asked, own, _OF_A_WALL, wall)), wall.title) for wall in asked.facts.at("element")]
    once = _once(asked, [part for part in paper.parts if part.part in _OF_THE_JOB])
    return Document(identity(paper.title), (*of_walls, *once))


def _once(asked: Sheets, parts: Sequence[PaperPart]) -> Iterator[Section]:
    """What is filled in once, and how things are found out: in the same columns, below the list of sheets."""
    across = tuple(block for part in parts for block in _above_columns(part))
    header = parts[0].heading if parts else ""
    if across:
        yield Section(across, header=header)
    blocks = tuple(made(asked, parts, _ONCE))
    if blocks:
        yield replace(_section(blocks, header), continues=bool(across))


def _section(blocks: tuple[Block, ...], header: str) -> Section:
    return Section(blocks, header=header, columns=_COLUMNS)


# --- of a wall --------------------------------------------------------------------------------------------


def _title(_: Sheets, part: PaperPart, wall: Scope) -> Iterator[Block]:
    yield Heading(1, words(part.filled(wall=wall.title).heading), anchor=f"survey:{wall.path[0]}")


def _no_job(asked: Sheets, part: PaperPart, _: Scope) -> Iterator[Block]:
    """That the sheet belongs to no job yet, with lines to write on which job and wall it comes to be of."""
    if asked.before_a_job:
        yield Paragraph(words(part.text))
        yield from _lines(part)


def _safety(_: Sheets, part: PaperPart, __: Scope) -> Iterator[Block]:
    yield Paragraph((Strong(words(part.text)),))


def _who(_: Sheets, part: PaperPart, __: Scope) -> Iterator[Block]:
    """Who filled the sheet in, and when."""
    yield from _lines(part)


def _lines(part: PaperPart) -> Iterator[Block]:
    yield from (Paragraph(words(f"{shown.label}{_LINE}"), "asked") for shown in part.rows)


def _of_wall(asked: Sheets, part: PaperPart, wall: Scope) -> Iterator[Block]:
    yield Heading(2, words(part.heading))
    yield from _lines_of(asked, _asked(asked, "element", wall))


def _of_works(asked: Sheets, part: PaperPart, wall: Scope) -> Iterator[Block]:
    """What is asked of each work of a wall."""
    works = asked.facts.inside(wall.path, "work")
    if asked.any_work:
        yield from _of_any_work(asked, part, works)
        return
    for work in works:
        yield Heading(2, words(part.filled(work=work.title).heading))
        # the kind of a work that is known stands over its questions
        yield from _lines_of(asked, (item for item in _asked(asked, "work", work) if item.name != "work"))


def _of_any_work(asked: Sheets, part: PaperPart, works: Sequence[Scope]) -> Iterator[Block]:
    """What is found at a wall whose works are not settled: what several of them ask once, then what one alone asks."""
    later = asked.word("survey-once-chosen").replace(",", " ").split()
    found = [
        item for item in asked.library.questionnaire.of("work") if _is_for_the_wall(item) and item.name not in later
    ]
    asking = [[item for item in _asked(asked, "work", work) if item in found] for work in works]
    times = Counter(item.name for items in asking for item in items)
    shared = {item.name: item for items in asking for item in items if times[item.name] > 1}
    yield Heading(2, words(part.text))
    yield from _lines_of(asked, (item for item in found if item.name in shared))
    for work, items in zip(works, asking, strict=True):
        own = [item for item in items if item.name not in shared]
        if own:
            yield Heading(2, words(part.filled(work=work.title).heading))
            yield from _lines_of(asked, own)


def _is_for_the_wall(item: Question) -> bool:
    """Whether a question about a work that nobody chose yet is answered at the wall, or holds up the tender."""
    return _is_found(item) or item.own or item.need in _HOLDING


def _sketch(_: Sheets, part: PaperPart, __: Scope) -> Iterator[Block]:
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


def _whole_job(asked: Sheets, part: PaperPart) -> Iterator[Block]:
    """What is filled in once."""
    yield from made(asked, [one for one in part.parts if one.part != _CONTENTS], _OF_THE_PROJECT)


def _of_project(asked: Sheets, _: PaperPart) -> Iterator[Block]:
    yield from _lines_of(asked, _asked(asked, "project", asked.facts.scopes[PROJECT]))


def _tests(asked: Sheets, part: PaperPart) -> Iterator[Block]:
    """How each thing is found out that is tried on one of the walls, or for one of their works."""
    questions, facts = asked.library.questionnaire, asked.facts
    tried = [
        item
        for item in (*questions.of("element"), *filter(_is_found, questions.of("work")))
        if item.how and any(questions.applies(facts, at.path, item.name) is not False for at in facts.at(item.scope))
    ]
    yield Heading(1, words(part.heading), anchor="front:survey-tests")
    lines: list[Inlines] = [(Strong(words(f"{item.label}:")), Text(f" {' '.join(item.how.split())}")) for item in tried]
    yield ListBlock(tuple(lines), small=True)


def _is_found(item: Question) -> bool:
    """Whether what is asked of a work is found at the wall: what is there, or how much; not how it is to be done."""
    return item.whose == "building" or item.kind in ("number", "range")


# --- questions --------------------------------------------------------------------------------------------


def _before(facts: Facts) -> Facts:
    """What is known of the walls before they are surveyed."""
    kept = {
        path: {name: held for name, held in values.items() if name in _KNOWN_BEFORE}
        for path, values in facts.values.items()
    }
    return replace(facts, values=kept)


def _asked(asked: Sheets, level: str, scope: Scope) -> Iterator[Question]:
    """The questions of a scope that may apply there."""
    questions = asked.library.questionnaire
    return (item for item in questions.of(level) if questions.applies(asked.facts, scope.path, item.name) is not False)


def _lines_of(asked: Sheets, questions: Iterable[Question]) -> Iterator[Block]:
    return (Paragraph(_line(asked, item), "asked") for item in questions)


def _line(asked: Sheets, question: Question) -> Inlines:
    """A question with boxes to tick, or with a line to write on and its unit at the end of it."""
    label = words(question.label)
    said: Inlines = (Strong(label),) if question.need in _HOLDING else label
    lead: Inlines = (*said, Text("" if question.label.endswith("?") else ":"))
    if question.kind == "yes_no":
        return (*lead, Text(_boxes([asked.word("survey-yes"), asked.word("survey-no")])))
    if question.choices:
        boxes = [choice.says for choice in question.choices]
        more = f"  {asked.word('survey-other')}{_LINE}" if len(boxes) > _MOST_CHOICES else ""
        return (*lead, Text(_boxes(boxes[:_MOST_CHOICES]) + more))
    unit = asked.facts.spelling.heading(asked.facts.names[question.name].unit)
    told = asked.word(f"survey-answer-{question.kind.replace('_', '-')}", unit=unit)
    return (*lead, Text(_LINE + told.removesuffix(", ")))


def _boxes(said: Iterable[str]) -> str:
    return "".join(f"  {_BOX}{one}" for one in said)


_OF_A_WALL: Final[Makers] = {
    "title": _title, "no-job": _no_job, "safety": _safety, "who": _who, "element-questions": _of_wall,
    "work-questions": _of_works, "sketch": _sketch,
}  # fmt: skip
_ONCE: Final[Makers] = {"whole-job": _whole_job, "tests": _tests}
_OF_THE_PROJECT: Final[Makers] = {"project-questions": _of_project}
