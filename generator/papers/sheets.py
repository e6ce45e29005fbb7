"""Element sheets: a page a wall, what it is, what is wrong, the operations in order, mix and quantities."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from generator.decide.model import Mix
from generator.document.model import (
    Block,
    Column,
    Heading,
    Inline,
    Inlines,
    ListBlock,
    Paragraph,
    Ref,
    Row,
    Strong,
    Table,
    Text,
    Value,
    plain_text,
)
from generator.job.job import Job, words
from generator.papers.figures import work_figure
from generator.questionnaire.facts import Scope, ScopePath

_FACTS = (
    "masonry",
    "hardness",
    "bond",
    "joint_width_mm",
    "exposure_reckoned",
    "position",
    "faces",
    "height_m",
    "existing_mortar",
    "wall_wet",
    "salts",
    "old_sand_passing",
    "access",
    "drawing_refs",
)
# Facts whose question is too long a label for a narrow column, or does not tell how its answer is read.
_SHORT = ("hardness", "height_m", "drawing_refs", "old_sand_passing")
_WORK_FACTS = ("joint_depth_lost_mm", "old_joint")


def element_sheets(job: Job) -> Iterator[Block]:
    """A sheet for every element, each on a new page."""
    for number, scope in enumerate(job.facts.at("element"), start=1):
        yield from _sheet(job, scope, number)


def _sheet(job: Job, scope: Scope, number: int) -> Iterator[Block]:
    path = scope.path
    title: Inlines = (
        Text(job.word("element-sheet", number=str(number)) + " "),
        Value("element_name", path, scope.title),
    )
    yield Heading(1, title, anchor=f"element:{path[0]}", starts_page=True)
    yield from _lead(job, path, "sheet-what", "description")
    yield from _lead(job, path, "sheet-wrong", "condition")
    yield from _first(job, path)
    yield _fact_table(job, path)
    for work in job.facts.inside(path, "work"):
        yield from _work(job, work)


def _lead(job: Job, path: ScopePath, label: str, name: str) -> Iterator[Block]:
    text = job.facts.spoken(path, name)
    if text:
        yield Paragraph((Strong(words(job.word(label))), Text(" "), Value(name, path, text)))


def _first(job: Job, path: ScopePath) -> Iterator[Block]:
    """What must be done or settled before this element is touched: its findings, gravest first."""
    found = [item for item in job.findings if item.scope[:1] == path[:1] and item.level != "note"]
    lines = [words(item.instruction) for item in found if item.instruction]
    lines += [words(item.message) for item in found if item.level == "block" and not item.instruction]
    if lines:
        yield Heading(2, words(job.word("sheet-first")))
        yield ListBlock(tuple(dict.fromkeys(lines)))


def _fact_table(job: Job, path: ScopePath) -> Table:
    """What was found on the wall, two facts to a row so that a sheet stays a page."""
    told: list[tuple[Inlines, Inlines]] = []
    for name in _FACTS:
        held = job.facts.held(path, name)
        if held is not None and held.value != ():
            label = job.word(f"fact-{name}") if name in _SHORT else job.facts.names[name].label
            told.append((words(label), (Value(name, path, job.facts.say(name, held.value)),)))
    half = (len(told) + 1) // 2
    pairs = zip_longest(told[:half], told[half:], fillvalue=((), ()))
    what, value = job.word("column-fact"), job.word("column-found")
    columns = (Column(what, 0.23), Column(value, 0.22), Column(what, 0.21), Column(value, 0.34))
    return Table(
        columns,
        tuple(Row((*left, *right)) for left, right in pairs),
        description=job.word("sheet-facts"),
        small=True,
    )


def _work(job: Job, scope: Scope) -> Iterator[Block]:
    path = scope.path
    extent = job.facts.spoken(path, "extent")
    title = (
        Value("work_name", path, scope.title[:1].upper() + scope.title[1:]),
        *((Text(": "), Value("extent", path, extent)) if extent else ()),
    )
    yield Heading(2, title)
    yield ListBlock(tuple(_operations(job, path)), ordered=True)
    yield from _found(job, path)
    yield from _mix(job, path)
    told = (*_quantities(job, path), *_season(job, path))
    if told:
        yield Paragraph(told)
    yield from work_figure(job, path)


def _operations(job: Job, path: ScopePath) -> Iterator[Inlines]:
    """The steps that apply, each with the clauses it rests on as live references."""
    for entry in job.library.operations.values():
        condition = job.library.condition("operation", entry.id).when
        for scope in job.facts.inside(path, entry.per) if entry.per in ("work", "coat") else [job.facts.scopes[path]]:
            if condition is None or condition.evaluate(job.facts, scope.path).holds is not False:
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


def _found(job: Job, path: ScopePath) -> Iterator[Block]:
    """What was found that belongs to one work of the wall, on one line."""
    line: list[Text | Value] = []
    for name in _WORK_FACTS:
        held = job.facts.values.get(path, {}).get(name)
        if held is not None:
            label = job.facts.names[name].label
            line += [Text(f"{'; ' if line else ' '}{label}: "), Value(name, path, job.facts.say(name, held.value))]
    if line:
        yield Paragraph((Strong(words(job.word("sheet-found"))), *line))


def _mix(job: Job, path: ScopePath) -> Iterator[Block]:
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
        yield Paragraph((Strong(words(job.word("sheet-mix"))), Text(" "), *line, *new))


def _mix_line(job: Job, coat: ScopePath, mix: Mix) -> Inlines:
    return job.told(
        "sheet-mix-line-wash" if mix.recipe.making == "limewash" else "sheet-mix-line",
        mix=Value("mix_used", coat, mix.ref),
        name=Value("mix_name", mix.path, mix.recipe.name),
        layer=Value("layer_mm", coat, job.facts.spoken(coat, "layer_mm")),
    )


def _quantities(job: Job, path: ScopePath) -> Iterator[Inline]:
    refs = job.line_refs(path)
    if refs:
        area = Value("treated_area_m2", path, job.work_quantity(path))
        line = job.told("sheet-quantities-line", items=Text(refs), area=area)
        yield from (Strong(words(job.word("sheet-quantities"))), Text(" "), *line, Text(" "))


def _season(job: Job, path: ScopePath) -> Iterator[Inline]:
    timing = next((item for item in job.programme.timings if item.path == path), None)
    if timing is None or timing.last_placing is None:
        return
    last = Value("season_last_placing_date", path, job.facts.say("season_last_placing_date", timing.last_placing))
    line = job.told("sheet-season-placing", placing=last)
    if timing.last_start:
        start = Value("last_start_date", path, job.facts.say("last_start_date", timing.last_start))
        line = job.told("sheet-season-line", placing=last, start=start)
    yield from (Strong(words(job.word("sheet-season"))), Text(" "), *line)
