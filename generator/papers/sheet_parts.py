"""What stands on a wall's sheet in words: what it is, what is wrong, what comes first, operations in order, mixes."""

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
    Steps,
    Strong,
    Text,
    Value,
    plain_text,
)
from generator.document.template import VALUE, PaperPart
from generator.job.job import Job, words
from generator.papers.making import answered, led
from generator.papers.steps import all_steps, wall_steps
from generator.questionnaire.scopes import ScopePath
from generator.values import replace

_MOST_FIRST: Final = 4


def leads(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What the surveyor wrote of the wall's faults and found of their causes, in one paragraph."""
    line: list[Inline] = []
    for shown, value in answered(job, part.rows, path):
        line += [*([Text(" ")] if line else []), Strong(words(shown.label)), Text(" "), *_ended(value)]
    if line:
        yield Paragraph(tuple(line))


def _ended(value: Inlines) -> Inlines:
    """An answer with a full stop at its end."""
    return value if plain_text(value).endswith((".", "!", "?", "…")) else (*value, Text("."))


def first(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What must be done or settled before this wall is touched: all that is open, and the gravest of what matters.

    What a step of the sheet says is not listed besides. The rest stands under what matters most, by its wall.
    """
    found = [item for item in job.wall_findings(path) if item.level != "note"]
    open_ = [item.instruction or item.message for item in found if item.level == "block"]
    stepped = {told.entry.id for told in all_steps(job, path)}
    told = [
        item.instruction
        for item in found
        if item.level != "block" and item.instruction and stepped.isdisjoint(job.library.findings[item.code].told_by)
    ]
    lines = list(dict.fromkeys((*open_, *told)))[: max(_MOST_FIRST, len(set(open_)))]
    if lines:
        yield Heading(2, words(part.heading))
        yield ListBlock(tuple(words(line) for line in lines))


def wall_facts(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """What was found on the wall, in sentences; what begins with no capital goes on in the sentence before it."""
    line: list[Inline] = []
    for shown, value in answered(job, part.rows, path):
        known = job.facts.at_scope(path).known(shown.shows)
        said = _said(shown.label if known else job.facts.names[shown.shows].label, value)
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


def steps(job: Job, _: PaperPart, path: ScopePath, first: int) -> Iterator[Block]:
    yield Steps(tuple(told.step for told in wall_steps(job, path[:1])[path]), first)


def mix(job: Job, part: PaperPart, path: ScopePath, _: int) -> Iterator[Block]:
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
    """A mix with the thickness of its layers; where coats of the work take it in layers of several, with its coat."""
    layers = {job.facts.spoken(path, "layer_mm") for path in mix.used_for if path[:2] == coat[:2]}
    if mix.recipe.making != "limewash" and len(layers) > 1:
        return job.told(
            "sheet-mix-line-coat",
            coat=Text(job.facts.scopes[coat].title),
            mix=Value("mix_used", coat, mix.ref),
            name=Value("mix_name", mix.path, mix.name),
            layer=Value("layer_mm", coat, job.facts.spoken(coat, "layer_mm")),
        )
    return job.told(
        "sheet-mix-line-wash" if mix.recipe.making == "limewash" else "sheet-mix-line",
        mix=Value("mix_used", coat, mix.ref),
        name=Value("mix_name", mix.path, mix.name),
        layer=Value("layer_mm", coat, job.facts.spoken(coat, "layer_mm")),
    )
