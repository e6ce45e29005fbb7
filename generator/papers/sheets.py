"""Element sheets: a page a wall, what it is, what is wrong, the operations in order, mix and quantities."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.decide.model import Mix
from generator.document.model import (
    Block,
    Heading,
    Inline,
    Inlines,
    ListBlock,
    Paragraph,
    Ref,
    Strong,
    Text,
    Value,
    plain_text,
)
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.papers.figures import coats_figure, joint_figure
from generator.papers.making import Makers, answered, fact_table, last_coat, led, made
from generator.papers.photograph_parts import wall_photographs
from generator.questionnaire.facts import ScopePath


def element_sheets(job: Job, part: PaperPart) -> Iterator[Block]:
    """A sheet for every element, each on a new page."""
    for number, scope in enumerate(job.facts.at("element"), start=1):
        lead = Text(f"{part.filled(number=str(number)).heading} ")
        title: Inlines = (lead, Value("element_name", scope.path, scope.title))
        yield Heading(1, title, anchor=f"element:{scope.path[0]}", starts_page=True)
        yield from made(job, part.parts, _SHEET, scope.path)


def _leads(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What the surveyor wrote of the wall, each in a paragraph of its own."""
    for shown, value in answered(job, part.rows, path):
        yield led(shown.label, value)


def _first(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What must be done or settled before this element is touched: its findings, gravest first."""
    found = [item for item in job.wall_findings(path) if item.level != "note"]
    lines = [words(item.instruction) for item in found if item.instruction]
    lines += [words(item.message) for item in found if item.level == "block" and not item.instruction]
    if lines:
        yield Heading(2, words(part.heading))
        yield ListBlock(tuple(dict.fromkeys(lines)))


def _wall_facts(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What was found on the wall."""
    yield fact_table(part, answered(job, part.rows, path))


# --- a work -----------------------------------------------------------------------------------------------


def _works(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What is done to the wall, a work after the other."""
    for scope in job.facts.inside(path, "work"):
        extent = job.facts.spoken(scope.path, "extent")
        title = (
            Value("work_name", scope.path, scope.title[:1].upper() + scope.title[1:]),
            *((Text(": "), Value("extent", scope.path, extent)) if extent else ()),
        )
        yield Heading(2, title)
        yield from made(job, part.parts, _WORK, scope.path)


def _steps(job: Job, _: PaperPart, path: ScopePath) -> Iterator[Block]:
    yield ListBlock(tuple(_operations(job, path)), ordered=True)


def _operations(job: Job, path: ScopePath) -> Iterator[Inlines]:
    """The steps that apply, each with the clauses it rests on as live references."""
    for entry in job.library.operations.values():
        if entry.per == "mix":
            continue  # told on the card of the mix
        condition = job.library.condition("operation", entry.id).when
        for scope in job.facts.inside(path, entry.per) if entry.per in ("work", "coat") else [job.facts.scopes[path]]:
            if condition is None or condition.holds(job.facts, scope.path) is not False:
                line = job.filling.line("operation", entry.id, "text", scope.path)
                yield (*line, *_refs(job, entry.clauses, path))


def _refs(job: Job, ids: tuple[str, ...], path: ScopePath) -> Inlines:
    found = [Ref(f"clause:{key}", job.numbers[f"clause:{key}"]) for key in ids if job.serves(key, path)]
    if not found:
        return ()
    listed: list[Text | Ref] = [Text(" (")]
    for index, ref in enumerate(found):
        listed += [Text(", "), ref] if index else [ref]
    return (*listed, Text(")"))


def _work_facts(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What was found that belongs to one work of the wall, on one line."""
    line: list[Inline] = []
    for shown, value in answered(job, part.rows, path):
        line += [Text(f"{'; ' if line else ' '}{shown.label}: "), *value]
    if line:
        yield Paragraph((Strong(words(part.label)), *line))


def _work_dates(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """The dates of one work and of its last coat, on one line."""
    yield from _work_facts(job, part, last_coat(job, path))


def _mix(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
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


def _one_line(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """Parts that are a few words each, run on in one paragraph."""
    run: list[Inline] = []
    for inner in part.parts:
        line = _RUN_ON[inner.part](job, path)
        if line:
            run += [Strong(words(inner.label)), Text(" "), *line]
            run += [] if inner is part.parts[-1] else [Text(" ")]
    if run:
        yield Paragraph(tuple(run))


def _quantities(job: Job, path: ScopePath) -> Inlines:
    refs = job.line_refs(path)
    if not refs:
        return ()
    area = Value("treated_area_m2", path, job.work_quantity(path))
    return job.told("sheet-quantities-line", items=Text(refs), area=area)


_RUN_ON: Final = {"quantities": _quantities}
_WORK: Final[Makers] = {
    "steps": _steps, "work-facts": _work_facts, "mix": _mix, "one-line": _one_line, "work-dates": _work_dates,
    "joint-figure": joint_figure, "coats-figure": coats_figure,
}  # fmt: skip
_SHEET: Final[Makers] = {
    "leads": _leads, "first": _first, "wall-facts": _wall_facts, "photographs": wall_photographs, "works": _works,
}  # fmt: skip
