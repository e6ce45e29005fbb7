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
from generator.questionnaire.questions import Choice, Question
from generator.questionnaire.scopes import PROJECT, Scope
from generator.values import Struct, replace

_MOST_CHOICES: Final = 12
_SKETCH_MM: Final = (80.0, 95.0)
_TALL_SKETCH_MM: Final = (80.0, 150.0)
"""Where a wall has one work: its questions leave the second column of the second page to the sketch."""

_GRID_MM: Final = 5.0
_SQUARES: Final = THIN
_EDGE_MM: Final = 1.0
"""White round the squares: at the very edge of a picture a dot's rounding takes a line away."""

_COLUMNS: Final = 2
_OF_THE_JOB: Final = ("whole-job", "tests")
_CONTENTS: Final = "contents"
_HOLDING: Final = ("required", "block")
_KNOWN_BEFORE: Final = frozenset({"masonry", "position", "work", "removed", "overhead", "units"})
"""What is known of a wall before it is surveyed, and decides what is asked of it, in which units; what is found there
does not."""

_ROOM_MM: Final = {
    "number": 18.0, "range": 26.0, "date": 26.0, "month_day": 18.0, "text": 40.0, "texts": 45.0, "records": 45.0,
    "photographs": 30.0, "file": 30.0,
}  # fmt: skip
"""The least that a pen is left on the line of an answer, by its kind."""

_ROOM_TO_NAME_MM: Final = 40.0
_ROOM_TO_TELL_MM: Final = 70.0
_TELLS: Final = 300
"""The letters allowed to an answer from which it is told in sentences."""

_BOX: Final = "□\u00a0"
_KEPT: Final = "\u00a0"
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
    # they share pages, so its header tells of both
    header = asked.word("survey-job-and-tests") if len(parts) > 1 else "".join(part.heading for part in parts)
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
    yield from (Paragraph(words(f"{shown.label}{_LINE}"), "asked", _ROOM_TO_NAME_MM) for shown in part.rows)


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
    later = _waiting(asked)
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


def _waiting(asked: Sheets) -> list[str]:
    """What is asked of a work only once it is chosen."""
    return asked.word("survey-once-chosen").replace(",", " ").split()


def _is_for_the_wall(item: Question) -> bool:
    """Whether a question about a work that nobody chose yet is answered at the wall, or holds up the tender."""
    return _is_found(item) or item.own or item.need in _HOLDING


def _sketch(asked: Sheets, part: PaperPart, wall: Scope) -> Iterator[Block]:
    """Squares of 5 mm to sketch and hatch on."""
    is_one = not asked.any_work and len(asked.facts.inside(wall.path, "work")) == 1
    width, height = _TALL_SKETCH_MM if is_one else _SKETCH_MM
    right, foot = _EDGE_MM + width, _EDGE_MM + height
    lines: list[Primitive] = [Rect(_EDGE_MM, _EDGE_MM, width, height)]
    for number in range(1, int(width / _GRID_MM)):
        x = _EDGE_MM + number * _GRID_MM
        lines.append(Line(x, _EDGE_MM, x, foot, _SQUARES))
    for number in range(1, int(height / _GRID_MM)):
        y = _EDGE_MM + number * _GRID_MM
        lines.append(Line(_EDGE_MM, y, right, y, _SQUARES))
    yield Heading(2, words(part.heading))
    yield Figure(Drawing(right + _EDGE_MM, foot + _EDGE_MM, part.about, tuple(lines)))


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
    waiting = _waiting(asked) if asked.any_work else ()
    tried = [
        item
        for item in (*questions.of("element"), *filter(_is_found, questions.of("work")))
        if item.name not in waiting
        and item.how
        and any(questions.applies(facts, at.path, item.name) is not False for at in facts.at(item.scope))
    ]
    yield Heading(1, words(part.heading), anchor="front:survey-tests")
    lines: list[Inlines] = [(Strong(_led(item.label)), Text(f" {' '.join(item.how.split())}")) for item in tried]
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
    return (_line(asked, item) for item in questions)


def _line(asked: Sheets, question: Question) -> Paragraph:
    """A question with boxes to tick, or with a line to write on and its unit at the end of it."""
    led = _led(question.label)
    # the colon is not bold: a line that is bold from end to end poses as a heading
    lead: Inlines = (Strong(led[:1]), *led[1:]) if question.need in _HOLDING else led
    if question.kind == "yes_no":
        pair = _boxes([asked.word("survey-yes"), asked.word("survey-no")])
        return Paragraph((*lead, Text(f"  {pair.strip().replace(' ', _KEPT)}")), "asked")
    if question.choices:
        return _ticked(asked, lead, question)
    unit = asked.facts.spelling.heading(asked.facts.names[question.name].unit)
    told = asked.word(f"survey-answer-{question.kind.replace('_', '-')}", unit=unit)
    tells = question.kind == "text" and question.most is not None and question.most >= _TELLS
    room = _ROOM_TO_TELL_MM if tells else _ROOM_MM[question.kind]
    return Paragraph((*lead, Text(_LINE + told.removesuffix(", "))), "asked", room)


def _ticked(asked: Sheets, lead: Inlines, question: Question) -> Paragraph:
    """A question with a box for each choice; of many, with one more for others and a line to write them on."""
    boxes = _boxes(map(_shown, question.choices[:_MOST_CHOICES]))
    if len(question.choices) <= _MOST_CHOICES:
        return Paragraph((*lead, Text(boxes)), "asked")
    others = f"\n{_BOX}{asked.word('survey-other')}{_LINE}"
    return Paragraph((*lead, Text(boxes + others)), "asked", _ROOM_TO_NAME_MM)


def _shown(choice: Choice) -> str:
    """A choice in words: what it means where it says no more than the code that is written in answers."""
    is_code = choice.says != choice.is_ == choice.says.lower()
    return choice.means if is_code and choice.means else choice.says


def _led(label: str) -> Inlines:
    """What is asked, as it leads to its answer."""
    return words(label) if label.endswith("?") else (*words(label), Text(":"))


def _boxes(said: Iterable[str]) -> str:
    return "".join(f"  {_BOX}{one}" for one in said)


_OF_A_WALL: Final[Makers] = {
    "title": _title, "no-job": _no_job, "safety": _safety, "who": _who, "element-questions": _of_wall,
    "work-questions": _of_works, "sketch": _sketch,
}  # fmt: skip
_ONCE: Final[Makers] = {"whole-job": _whole_job, "tests": _tests}
_OF_THE_PROJECT: Final[Makers] = {"project-questions": _of_project}
