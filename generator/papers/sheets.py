"""Element sheets: a page a wall, what it is, what is wrong, the operations in order, mix, joint, dates and lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.decide.model import Mix
from generator.document.model import (
    Block,
    Heading,
    Inline,
    Inlines,
    ListBlock,
    Pairs,
    Paragraph,
    Section,
    Step,
    Steps,
    Strong,
    Text,
    Value,
    plain_text,
)
from generator.document.template import VALUE, PaperPart
from generator.job.job import Job, words
from generator.job.numbers import runs_told
from generator.papers.faces import wall_face
from generator.papers.figures import coats_figure, joint_figure
from generator.papers.making import Makers, answered, clause_refs, last_coat, led, made
from generator.papers.photograph_parts import wall_photographs
from generator.questionnaire.facts import ScopePath

_ACROSS: Final = ("wall-facts",)
"""The parts of a sheet that stand across the page, over those that have something beside them."""


def element_sheets(job: Job, part: PaperPart) -> Iterator[Section]:
    """A sheet for every element, each on a new page: what stands across it, then each work with what is beside it."""
    for number, scope in enumerate(job.facts.at("element"), start=1):
        lead = Text(f"{part.filled(number=str(number)).heading} ")
        title: Inlines = (lead, Value("element_name", scope.path, scope.title))
        head = Heading(1, title, anchor=f"element:{scope.path[0]}")
        across = [inner for inner in part.parts if inner.part in _ACROSS]
        yield Section((head, *made(job, across, _SHEET, scope.path)), header=scope.title)
        yield from _beside(job, part, scope.path, scope.title)


def _beside(job: Job, part: PaperPart, path: ScopePath, header: str) -> Iterator[Section]:
    """What is wrong and comes first with the first work, then the others, each with its joint, dates and lines."""
    before = tuple(made(job, [one for one in part.parts if one.part not in (*_ACROSS, "works")], _SHEET, path))
    works = next(one for one in part.parts if one.part == "works")
    count = 1
    for scope in job.facts.inside(path, "work"):
        own = [one for one in works.parts if one.part != "beside"]
        blocks = (*before, *_work_head(job, scope.path), *made(job, own, _WORK, scope.path, count))
        count += sum(len(block.steps) for block in blocks if isinstance(block, Steps))
        beside = works.inner("beside")
        side = tuple(made(job, beside.parts, _SIDE, scope.path)) if beside else ()
        yield Section(blocks, header=header, side=side, continues=True)
        before = ()
    if before:
        yield Section(before, header=header, continues=True)


def _leads(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What the surveyor wrote of the wall's faults and found of their causes, in one paragraph."""
    line: list[Inline] = []
    for shown, value in answered(job, part.rows, path):
        line += [*([Text(" ")] if line else []), Strong(words(shown.label)), Text(" "), *_ended(value)]
    if line:
        yield Paragraph(tuple(line))


def _ended(value: Inlines) -> Inlines:
    """An answer with a full stop at its end."""
    return value if plain_text(value).endswith((".", "!", "?", "…")) else (*value, Text("."))


def _first(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What must be done or settled before this element is touched: its findings, gravest first."""
    found = [item for item in job.wall_findings(path) if item.level != "note"]
    lines = [words(item.instruction) for item in found if item.instruction]
    lines += [words(item.message) for item in found if item.level == "block" and not item.instruction]
    if lines:
        yield Heading(2, words(part.heading))
        yield ListBlock(tuple(dict.fromkeys(lines)))


def _wall_facts(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What was found on the wall, in sentences; what begins with no capital goes on in the sentence before it."""
    line: list[Inline] = []
    for shown, value in answered(job, part.rows, path):
        said = _said(shown.label, value)
        if not line:
            line += said
        elif plain_text(tuple(line)).endswith("."):
            line += [Text(" "), *_begun(said)]
        elif not plain_text(said)[:1].isupper():
            line += [Text(", "), *said]
        else:
            line += [Text(". "), *said]
    if line:
        yield Paragraph(_ended(tuple(line)), "facts")


def _begun(said: Inlines) -> Inlines:
    """What begins a sentence, with a capital."""
    first = said[0]
    if isinstance(first, Text | Value):
        first = replace(first, text=first.text[:1].upper() + first.text[1:])
    return (first, *said[1:])


def _said(label: str, value: Inlines) -> Inlines:
    """A fact in the words of its label, with the value in its place or behind them."""
    before, _, after = (label if VALUE in label else f"{label.removesuffix('?')}: {VALUE}").partition(VALUE)
    return (*words(before), *value, *words(after)) if before or after else value


# --- a work -----------------------------------------------------------------------------------------------


def _work_head(job: Job, path: ScopePath) -> Iterator[Block]:
    """What is done, how much of it, and where."""
    extent = job.facts.spoken(path, "extent")
    title = job.facts.scopes[path].title
    work = Value("work_name", path, title[:1].upper() + title[1:])
    quantity = (Text(", "), job.work_quantity(path)) if job.line_refs(path) else ()
    yield Heading(2, (work, *quantity, *((Text(": "), Value("extent", path, extent)) if extent else ())))


def _steps(job: Job, _: PaperPart, path: ScopePath, first: int) -> Iterator[Block]:
    yield Steps(tuple(_operations(job, path)), first)


def _operations(job: Job, path: ScopePath) -> Iterator[Step]:
    """The steps that apply, each with the clauses it rests on as live references."""
    for entry in job.library.operations.values():
        if entry.per == "mix":
            continue  # told on the card of the mix
        condition = job.library.condition("operation", entry.id)
        for scope in job.facts.inside(path, entry.per) if entry.per in ("work", "coat") else [job.facts.scopes[path]]:
            if condition.stands(job.facts, scope.path):
                line = job.filling.line("operation", entry.id, "text", scope.path)
                yield Step(line, clause_refs(job, entry.clauses, path))


def _work_facts(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What was found or is dated of one work, of its last coat, and with the first of a wall, of the access to it."""
    told = answered(job, part.rows, last_coat(job, path))
    rows = tuple((words(shown.label), value) for shown, value in told if _is_own(job, shown.shows, path))
    if rows:
        yield Pairs(part.heading, rows)


def _is_own(job: Job, name: str, path: ScopePath) -> bool:
    """Whether a fact is told with a work: all that are its own, those of the whole wall with its first."""
    return job.facts.names[name].scope != "element" or _is_first(job, path)


def _is_first(job: Job, path: ScopePath) -> bool:
    return job.facts.inside(path[:1], "work")[0].path == path


def _lines(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """The lines to price of a work, and those that its whole wall shares."""
    told = {"work": job.line_refs(path), "wall": _shared_lines(job, path)}
    rows = tuple((words(shown.label), words(told[shown.shows])) for shown in part.rows if told.get(shown.shows))
    if rows:
        yield Pairs(part.heading, rows)


def _shared_lines(job: Job, path: ScopePath) -> str:
    """The lines of a wall that no work of it has alone, with its first work; those that follow run together."""
    if not _is_first(job, path):
        return ""
    return runs_told(job.line_runs(item for item in job.measured.items() if item.path == path[:1]))


def _mix(job: Job, part: PaperPart, path: ScopePath, _: int) -> Iterator[Block]:
    """The mixes of a work, each once, with its reason where the one before has not given it."""
    told: set[str] = set()
    given = ""
    for coat in job.facts.inside(path, "coat"):
        mix = job.decisions.mix_of(coat.path)
        line = _mix_line(job, coat.path, mix) if mix else words(job.word("mix-to-be-settled"))
        if plain_text(line) in told:
            continue
        told.add(plain_text(line))
        reason = job.decisions.reasons.get((coat.path, "binder"))
        because = reason.because if mix and reason else given
        new = words(f" {because}") if because != given else ()
        given = because
        yield led(part.label, (*line, *new))


def _mix_line(job: Job, coat: ScopePath, mix: Mix) -> Inlines:
    return job.told(
        "sheet-mix-line-wash" if mix.recipe.making == "limewash" else "sheet-mix-line",
        mix=Value("mix_used", coat, mix.ref),
        name=Value("mix_name", mix.path, mix.recipe.name),
        layer=Value("layer_mm", coat, job.facts.spoken(coat, "layer_mm")),
    )


_WORK: Final[Makers] = {"steps": _steps, "mix": _mix}
_SIDE: Final[Makers] = {
    "joint-figure": joint_figure, "coats-figure": coats_figure, "work-dates": _work_facts, "work-facts": _work_facts,
    "work-lines": _lines,
}  # fmt: skip
_SHEET: Final[Makers] = {
    "leads": _leads, "first": _first, "wall-facts": _wall_facts, "photographs": wall_photographs,
    "face": wall_face,
}  # fmt: skip
