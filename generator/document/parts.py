"""The numbered parts: each clause once, however many walls it serves, and the tables the program makes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.document.job import Job, words
from generator.document.model import Block, ClauseBlock, Column, Heading, Inlines, ListBlock, Paragraph, Row, Strong, Table, Text, Value
from generator.document.numbers import NumberedClause, NumberedPart
from generator.library.model import Part
from generator.questionnaire.facts import PROJECT, ScopePath


def part_blocks(job: Job, numbered: NumberedPart) -> Iterator[Block]:
    """The heading, clauses and tables of one part."""
    part = next((item for item in job.library.parts if item.id == numbered.part_id), None)
    title = part.title if part else job.word("not-used")
    yield Heading(1, words(title), anchor=f"part:{numbered.part_id}", number=numbered.number)
    for clause in numbered.clauses:
        yield _clause(job, clause)
    if part is not None:
        yield from _shown(job, part)


def _clause(job: Job, numbered: NumberedClause) -> ClauseBlock:
    anchor = f"clause:{numbered.clause_id}"
    if not numbered.used:
        return ClauseBlock(numbered.clause_id, numbered.number, words(job.word("not-used")), (), anchor, used=False)
    selection = job.selections[numbered.clause_id]
    clause, paths = selection.clause, selection.paths
    differing = job.filling.differing(clause.id, paths)
    blocks: list[Block] = list(_applies(job, clause.per, paths, bool(differing)))
    blocks += job.filling.merged(clause.id, "text", paths)
    if differing:
        blocks.append(job.filling.value_table(clause.id, differing, paths))
    blocks += _labelled(job, clause.id, "check", paths)
    blocks += _labelled(job, clause.id, "because", paths)
    title = job.filling.merged(clause.id, "title", paths)
    content = title[0].content if title and isinstance(title[0], Paragraph) else words(clause.title)
    return ClauseBlock(clause.id, numbered.number, content, tuple(blocks), anchor, clause.advice)


def _applies(job: Job, per: str, paths: Sequence[ScopePath], tabled: bool) -> Iterator[Block]:
    """Which walls or mixes it serves, unless it serves them all or its table says so."""
    if per == "project" or tabled:
        return
    everything = {job.filling.place(scope.path) for scope in job.facts.at(per)}
    named = {job.filling.place(path) for path in paths}
    if named != everything:
        where = Value("element_name", paths[0], job.filling.where(paths))
        yield Paragraph((Strong(words(job.word("applies-to"))), Text(" "), where), "small")


def _labelled(job: Job, key: str, part: str, paths: Sequence[ScopePath]) -> Iterator[Block]:
    for index, block in enumerate(job.filling.merged(key, part, paths)):
        if isinstance(block, Paragraph):
            lead: Inlines = (Strong(words(job.word(f"label-{part}"))), Text(" ")) if index == 0 else ()
            yield Paragraph((*lead, *block.content), "label")
        else:
            yield block


def _shown(job: Job, part: Part) -> Iterator[Block]:
    makers = {
        "mixes": mixes_tables,
        "drawings": drawings_table,
        "programme": programme_tables,
        "references": references,
        "hold-points": hold_points,
    }
    if part.shows:
        yield from makers[part.shows](job)


def mixes_tables(job: Job) -> Iterator[Block]:
    """The mixes in figures: what is in each, on which basis, and where it goes."""
    if not job.measured.batches:
        return
    shares = (0.07, 0.23, 0.22, 0.16, 0.16, 0.16)
    titles = ("column-mix", "column-lime", "column-sand", "column-gauge", "column-dry-ratio", "column-slaked")
    columns = tuple(Column(job.word(title), share) for title, share in zip(titles, shares, strict=True))
    rows = [
        Row(tuple(
            (Value(name, made.mix.path, job.facts.spoken(made.mix.path, name)),)
            for name in ("mix_ref", "mix_lime", "mix_sand", "mix_gauge", "mix_dry_ratio", "mix_putty_ratio")
        ))
        for made in job.measured.batches
    ]  # fmt: skip
    yield Table(columns, tuple(rows), job.word("caption-mixes"), "table:mixes", "", job.word("caption-mixes"), small=True)
    columns = (Column(job.word("column-mix"), 0.07), Column(job.word("column-name"), 0.33), Column(job.word("column-where"), 0.3), Column(job.word("column-boxes"), 0.3))
    rows = [
        Row(tuple(
            (Value(name, made.mix.path, job.facts.spoken(made.mix.path, name)),)
            for name in ("mix_ref", "mix_name", "mix_walls", "mix_boxes")
        ))
        for made in job.measured.batches
    ]  # fmt: skip
    yield Table(columns, tuple(rows), job.word("caption-batches"), "table:batches", "", job.word("caption-batches"), small=True)


def drawings_table(job: Job) -> Iterator[Block]:
    """The drawings listed in the answers."""
    listed = job.facts.get(PROJECT, "drawings")
    if not isinstance(listed, tuple) or not listed:
        return
    columns = (Column(job.word("column-ref"), 0.2), Column(job.word("column-title"), 0.6), Column(job.word("column-revision"), 0.2))
    rows = [
        Row(tuple((Value("drawings", PROJECT, str(item.get(key, ""))),) for key in ("ref", "title", "revision")))
        for item in listed
        if isinstance(item, dict)
    ]
    yield Table(columns, tuple(rows), job.word("caption-drawings"), "table:drawings", "", job.word("caption-drawings"))


def programme_tables(job: Job) -> Iterator[Block]:
    """The season of each work, and what to order by when."""
    names = ("column-where", "column-days", "column-last-start", "column-last-placing", "column-damp", "column-frost")
    columns = tuple(Column(job.word(name), share) for name, share in zip(names, (0.3, 0.12, 0.17, 0.17, 0.12, 0.12), strict=True))
    rows = []
    for timing in job.programme.timings:
        coat = next((scope.path for scope in job.facts.inside(timing.path, "coat")), timing.path)
        values = [
            (name, job.facts.spoken(coat, name) or job.word("none"))
            for name in ("duration_days", "last_start_date", "season_last_placing_date", "damp_days", "frost_cover_days")
        ]
        place = (Value("element_name", timing.path, job.filling.place(timing.path)),)
        rows.append(Row((place, *((Value(name, coat, text),) for name, text in values))))
    if rows:
        yield Table(columns, tuple(rows), job.word("caption-season"), "table:season", "", job.word("caption-season"), small=True)
    if job.programme.orders:
        columns = (Column(job.word("column-thing"), 0.45), Column(job.word("column-lead"), 0.2), Column(job.word("column-order-by"), 0.35))
        rows = [
            Row((words(order.thing), words(job.facts.say("offer_open_weeks", order.weeks)), words(job.facts.say("issue_date", order.by))))
            for order in job.programme.orders
        ]
        yield Table(columns, tuple(rows), job.word("caption-orders"), "table:orders", "", job.word("caption-orders"), small=True)


def hold_points(job: Job) -> Iterator[Block]:
    """The hold points of the library that apply, as one table."""
    rows = []
    for key in sorted(item for item in job.library.words if item.startswith("hold-")):
        name, _, rest = job.word(key).partition(" | ")
        who, _, notice = rest.partition(" | ")
        rows.append(Row((words(name), words(who), words(notice))))
    if rows:
        columns = (Column(job.word("column-hold"), 0.5), Column(job.word("column-who"), 0.25), Column(job.word("column-notice"), 0.25))
        yield Table(columns, tuple(rows), job.word("caption-holds"), "table:holds", "", job.word("caption-holds"), small=True)


def references(job: Job) -> Iterator[Block]:
    """The published documents that the clauses in these papers rest on, in small print."""
    named = {key for chosen in job.selections.values() if chosen.included for key in chosen.clause.sources}
    for source in job.library.sources.values():
        if source.id in named:
            edition = f", {source.edition}" if source.edition else ""
            note = f" ({source.note})" if source.note else ""
            yield Paragraph(words(f"{source.title}{edition}{note}"), "small")


def used_sources(job: Job) -> set[str]:
    """The ids of the sources named by what is in these papers and in the record."""
    found: set[str] = set()
    for selection in job.selections.values():
        if selection.included:
            found.update(selection.clause.sources)
    for reason in job.decisions.reasons.values():
        found.update(reason.sources)
    for finding in job.findings:
        found.update(finding.sources)
    for mix in job.decisions.mixes:
        found.update(mix.recipe.sources)
    return found
