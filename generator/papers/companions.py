"""The companion papers of a set: survey sheet, officer's summary, site records, owner's page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Final

from generator.document.model import (
    Block,
    Column,
    Document,
    Heading,
    Inlines,
    ListBlock,
    Paragraph,
    Row,
    Section,
    Strong,
    Table,
    Text,
    Value,
)
from generator.job.job import Job, words
from generator.papers.companion_records import records
from generator.papers.companion_survey import survey
from generator.questionnaire.facts import PROJECT, Scope, ScopePath

COMPANIONS: Final[Mapping[str, str]] = {
    "survey": "survey-sheet.docx",
    "officer": "officer-summary.docx",
    "records": "site-records.docx",
    "owner": "owner-page.docx",
}
"""The companion papers by the word that asks for one, with the file each is written to."""

_FIGURES: Final = (
    ("mix_lime", "column-lime", 0.28), ("mix_sand", "column-sand", 0.26), ("mix_gauge", "column-gauge", 0.15),
    ("mix_dry_ratio", "column-dry-ratio", 0.16), ("mix_putty_ratio", "column-slaked", 0.15),
)  # fmt: skip
_BUILDING: Final = ("building", "significance", "protection", "consent", "consent_reference", "officer", "sand_source")
_FINISHES: Final = {"repoint": "joint_finish", "plaster": "plaster_surface"}
_OWNED: Final = ("repoint", "rebuild", "plaster", "render", "limewash", "flaunching")


def companions(job: Job, wanted: Sequence[str]) -> dict[str, Document]:
    """The companion papers asked for, by file name in the order of the list. KeyError for a word it has not."""
    makers: Mapping[str, Callable[[Job], Document]] = {
        "survey": survey, "officer": officer, "records": records, "owner": owner,
    }  # fmt: skip
    return {COMPANIONS[key]: makers[key](job) for key in COMPANIONS if key in wanted}


# --- the officer ------------------------------------------------------------------------------------------


def officer(job: Job) -> Document:
    """What the officer who guards the building asks: mixes in figures, basis, method, extent, and why each binder."""
    blocks = (
        *_head(job, "companion-officer"),
        _building(job),
        *_mix_figures(job),
        Heading(2, words(job.word("companion-officer-walls"))),
        _walls(job),
        *_why(job),
        *_not_taken(job),
    )
    return Document(job.identity("companion-officer"), (Section(blocks, header=job.word("companion-officer")),))


def _head(job: Job, title: str) -> Iterator[Block]:
    yield Heading(1, words(job.word(title)), anchor=f"front:{title}")
    line = f"{job.said('title')}, {job.said('place')}. {job.word(f'status-{job.status}')}."
    yield Paragraph((Value("title", PROJECT, line),), "lead")


def _building(job: Job) -> Table:
    rows = [
        Row((words(job.facts.names[name].label), job.answer(name)))
        for name in _BUILDING
        if job.facts.spoken(PROJECT, name)
    ]
    told = job.word("companion-officer-building")
    columns = (Column(job.word("control-what"), 0.25), Column(job.word("control-value"), 0.75))
    return Table(columns, tuple(rows), description=told, small=True)


def _mix_figures(job: Job) -> Iterator[Block]:
    yield Heading(2, words(job.word("caption-mixes")))
    if not job.measured.batches:
        yield Paragraph(words(job.word("sheet-no-mix")))
        return
    rows = tuple(_mix(job, made.mix.path) for made in job.measured.batches)
    columns = tuple(Column(job.word(title), share) for _, title, share in _FIGURES)
    yield Table(columns, rows, description=job.word("caption-mixes"), small=True)
    yield Paragraph(words(job.word("companion-officer-basis")), "small")


def _mix(job: Job, path: ScopePath) -> Row:
    lime, *figures = (Value(name, path, job.facts.spoken(path, name)) for name, _, _ in _FIGURES)
    ref = Strong((Value("mix_ref", path, job.facts.spoken(path, "mix_ref")), Text(": ")))
    return Row(((ref, lime), *((figure,) for figure in figures)))


def _walls(job: Job) -> Table:
    """Each work with its extent, method and finish, and the mixes it takes."""
    columns = tuple(
        Column(job.word(key), share)
        for key, share in (
            ("column-where", 0.22), ("companion-extent", 0.26), ("companion-method", 0.22),
            ("companion-finish", 0.18), ("column-mix", 0.12),
        )
    )  # fmt: skip
    rows = tuple(_wall(job, scope) for scope in job.facts.at("work"))
    return Table(columns, rows, description=job.word("companion-officer-walls"), small=True)


def _wall(job: Job, scope: Scope) -> Row:
    path = scope.path
    extent = "; ".join(filter(None, (job.facts.spoken(path, "extent"), job.work_quantity(path))))
    depth = job.facts.spoken(path, "rake_depth_mm")
    coats = [scope.title for scope in job.facts.inside(path, "coat")]
    method = job.word("companion-raked", depth=depth) if depth else ", ".join(coats)
    finished = _FINISHES.get(str(job.facts.get(path, "work")))
    finish = job.facts.spoken(path, finished) if finished else ""
    told = (job.filling.place(path), extent, method, finish, ", ".join(job.mix_refs(path)))
    return Row(tuple((Value("work_name", path, text or job.word("nothing")),) for text in told))


def _why(job: Job) -> Iterator[Block]:
    lines: dict[str, Inlines] = {}
    for mix in job.decisions.mixes:
        reasons = (job.decisions.reasons.get((path, "binder")) for path in mix.used_for)
        told = " ".join(dict.fromkeys(reason.because for reason in reasons if reason))
        lead: Inlines = (Strong((Value("mix_name", mix.path, f"{mix.ref}, {mix.recipe.name}: "),)),)
        lines[mix.ref] = (*lead, Text(told or job.word("nothing")))
    if lines:
        yield Heading(2, words(job.word("companion-officer-why")))
        yield ListBlock(tuple(lines.values()))


def _not_taken(job: Job) -> Iterator[Block]:
    """What was weighed and left, by the reason: each binder with the walls that it was weighed for."""
    reasons: dict[str, dict[str, dict[str, None]]] = {}
    for item in job.decisions.considered:
        walls = reasons.setdefault(item.why_not, {}).setdefault(job.facts.say("binder", item.binder), {})
        walls[job.facts.scopes[item.path[:1]].title] = None
    if not reasons:
        return
    yield Heading(2, words(job.word("companion-officer-not")))
    rows = tuple(Row((words(job.word(why)), words(_pooled(binders)))) for why, binders in reasons.items())
    columns = (Column(job.word("companion-why-not"), 0.35), Column(job.word("companion-binder"), 0.65))
    yield Table(columns, rows, description=job.word("companion-officer-not"), small=True)


def _pooled(binders: Mapping[str, Iterable[str]]) -> str:
    """Binders with their walls, those of the same walls together."""
    same: dict[str, list[str]] = {}
    for binder, walls in binders.items():
        same.setdefault(", ".join(walls), []).append(binder)
    return "; ".join(f"{', '.join(them)} ({walls})" for walls, them in same.items())


# --- the owner --------------------------------------------------------------------------------------------


def owner(job: Job) -> Document:
    """One page for the owner: what the work will look like, what to keep doing, what never to do."""
    kinds = {str(job.facts.get(scope.path, "work")) for scope in job.facts.at("work")}
    shown = [kind for kind in _OWNED if kind in kinds]
    blocks: list[Block] = list(_head(job, "companion-owner"))
    blocks.append(Paragraph(words(job.word("companion-owner-intro"))))
    for group in ("look", "care", "never"):
        keys = [f"companion-owner-{group}-{kind}" for kind in ("all", *shown)]
        lines = [words(job.word(key)) for key in keys if key in job.library.words]
        blocks += (Heading(2, words(job.word(f"companion-owner-{group}"))), ListBlock(tuple(lines)))
    blocks += _colours(job)
    return Document(job.identity("companion-owner"), (Section(tuple(blocks), header=job.word("companion-owner")),))


def _colours(job: Job) -> Iterator[Block]:
    """Which mortar went where, for whoever repairs the building next."""
    keys = (("column-where", 0.3), ("column-work", 0.3), ("column-name", 0.4))
    rows = [
        Row((words(job.facts.scopes[scope.path[:1]].title), words(scope.title), words("; ".join(mortars))))
        for scope in job.facts.at("work")
        if (mortars := job.mix_names(scope.path))
    ]
    if rows:
        told = job.word("companion-owner-mortars")
        yield Heading(2, words(told))
        columns = tuple(Column(job.word(key), share) for key, share in keys)
        yield Table(columns, tuple(rows), description=told, small=True)
