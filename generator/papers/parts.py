"""The numbered parts: each clause once, however many walls it serves, and the tables the program makes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from generator.document.model import (
    Block,
    ClauseBlock,
    Column,
    Heading,
    Inline,
    ListBlock,
    Paragraph,
    Row,
    Strong,
    Table,
    Text,
    Value,
)
from generator.job.job import Job, words
from generator.job.numbers import NumberedClause, NumberedPart
from generator.library.model import Part, SourceEntry
from generator.papers.figures import boxes_figure, clause_figures, hot_mix_figure, season_figure
from generator.programme.model import OrderBy
from generator.questionnaire.facts import PROJECT, ScopePath

_NO_DOCUMENT: Final = frozenset(
    {"common-practice", "from-memory", "trade-sheets", "craft-notes", "public-tenders", "consent-conditions"}
)
_LEANED_ON: Final = 4
_DRAWING: Final = ("ref", "title", "revision")
_SEASON: Final = (
    "duration_days",
    "last_start_date",
    "season_last_placing_date",
    "damp_days",
    "frost_cover_days",
)


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
    blocks += (_stopped(block) for block in job.filling.merged(clause.id, "text", paths))
    if differing:
        blocks.append(job.filling.value_table(clause.id, differing, paths))
    blocks += clause_figures(job, clause.id)
    blocks += _labelled(job, clause.id, paths)
    title = job.filling.merged(clause.id, "title", paths)
    content = title[0].content if title and isinstance(title[0], Paragraph) else words(clause.title)
    return ClauseBlock(clause.id, numbered.number, content, tuple(blocks), anchor, clause.advice)


def _stopped(block: Block) -> Block:
    """A paragraph that an answer ends, with the full stop that answers are mostly written without."""
    if isinstance(block, Paragraph) and block.content:
        last = block.content[-1]
        if isinstance(last, Value) and not last.text.endswith((".", "!", "?", "…")):
            return replace(block, content=(*block.content, Text(".")))
    return block


def _applies(job: Job, per: str, paths: Sequence[ScopePath], tabled: bool) -> Iterator[Block]:
    """Which walls or mixes it serves, unless it serves them all or its table says so."""
    if per == "project" or tabled:
        return
    everything = {job.filling.place(scope.path) for scope in job.facts.at(per)}
    named = {job.filling.place(path) for path in paths}
    if named != everything:
        where = Value("element_name", paths[0], job.filling.where(paths))
        yield Paragraph((Strong(words(job.word("applies-to"))), Text(" "), where), "small")


def _labelled(job: Job, key: str, paths: Sequence[ScopePath]) -> Iterator[Block]:
    """Who checks and how, then why, run together in small print; a list in either stands below them."""
    line: list[Inline] = []
    below: list[Block] = []
    for part in ("check", "because"):
        for index, block in enumerate(job.filling.merged(key, part, paths)):
            if isinstance(block, Paragraph):
                lead = (Strong(words(job.word(f"label-{part}"))),) if index == 0 else ()
                line += [*((Text(" "),) if line else ()), *lead, Text(" "), *block.content]
            else:
                below.append(block)
    if line:
        yield Paragraph(tuple(line), "label")
    yield from below


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
    figures = (
        ("mix_ref", "column-mix", 0.06),
        ("mix_lime", "column-lime", 0.28),
        ("mix_sand", "column-sand", 0.28),
        ("mix_gauge", "column-gauge", 0.11),
        ("mix_dry_ratio", "column-dry-ratio", 0.14),
        ("mix_putty_ratio", "column-slaked", 0.13),
    )
    batches = (
        ("mix_ref", "column-mix", 0.06),
        ("mix_name", "column-name", 0.25),
        ("mix_walls", "column-where", 0.29),
        ("mix_boxes", "column-boxes", 0.29),
        ("mix_covers_m2", "column-covers", 0.11),
    )
    yield _captioned(job, "mixes", [(title, share) for _, title, share in figures], _mix_rows(job, figures))
    yield _captioned(job, "batches", [(title, share) for _, title, share in batches], _mix_rows(job, batches))
    yield from boxes_figure(job)
    yield from hot_mix_figure(job)


def _mix_rows(job: Job, named: Sequence[tuple[str, str, float]]) -> list[Row]:
    """A row for each mix, holding its values of some names."""
    return [
        Row(tuple((Value(name, path, job.facts.spoken(path, name)),) for name, _, _ in named))
        for path in (made.mix.path for made in job.measured.batches)
    ]


def _captioned(
    job: Job, key: str, columns: Sequence[tuple[str, float]], rows: Sequence[Row], small: bool = True
) -> Table:
    """A table that can be referred to, its caption and headings in the library's words."""
    caption = job.word(f"caption-{key}")
    heads = tuple(Column(job.word(title), share) for title, share in columns)
    return Table(heads, tuple(rows), caption, f"table:{key}", description=caption, small=small)


def drawings_table(job: Job) -> Iterator[Block]:
    """The drawings listed in the answers."""
    listed = job.facts.get(PROJECT, "drawings")
    if not isinstance(listed, tuple) or not listed:
        return
    columns = (("column-ref", 0.2), ("column-title", 0.6), ("column-revision", 0.2))
    rows = [
        Row(tuple((Value("drawings", PROJECT, str(item.get(key, ""))),) for key in _DRAWING))
        for item in listed
        if isinstance(item, dict)
    ]
    yield _captioned(job, "drawings", columns, rows, small=False)


def programme_tables(job: Job) -> Iterator[Block]:
    """The season of each work, and what to order by when."""
    rows = [_timing_row(job, timing.path) for timing in job.programme.timings if _has_a_time(job, timing.path)]
    if rows:
        columns = (
            ("column-where", 0.3),
            ("column-days", 0.12),
            ("column-last-start", 0.17),
            ("column-last-placing", 0.17),
            ("column-damp", 0.12),
            ("column-frost", 0.12),
        )
        yield _captioned(job, "season", columns, rows)
        yield from season_figure(job)
    if job.programme.orders:
        ordering = (("column-thing", 0.45), ("column-lead", 0.2), ("column-order-by", 0.35))
        yield _captioned(job, "orders", ordering, [_order_row(job, order) for order in job.programme.orders])


def _has_a_time(job: Job, path: ScopePath) -> bool:
    """Whether a work has a duration, or a coat with days of its own: all else would be a row of nothing."""
    told = _told_coat(job, path)
    return any(job.facts.spoken(told, name) for name in _SEASON)


def _timing_row(job: Job, path: ScopePath) -> Row:
    coat = _told_coat(job, path)
    told = [Value(name, coat, job.facts.spoken(coat, name) or job.word("nothing")) for name in _SEASON]
    return Row(((Value("element_name", path, job.filling.place(path)),), *((value,) for value in told)))


def _told_coat(job: Job, path: ScopePath) -> ScopePath:
    """The first coat of a work, which sees the work's values too; the work itself where it has none."""
    return next((scope.path for scope in job.facts.inside(path, "coat")), path)


def _order_row(job: Job, order: OrderBy) -> Row:
    weeks, by = job.facts.say("offer_open_weeks", order.weeks), job.facts.say("issue_date", order.by)
    return Row((words(order.thing), words(weeks), words(by)))


def hold_points(job: Job) -> Iterator[Block]:
    """The hold points of the library that apply, as one table."""
    rows = []
    for key, point in job.library.hold_points.items():
        condition = job.library.condition("hold", key).when
        if condition is None or condition.evaluate(job.facts, PROJECT).holds is not False:
            rows.append(Row((words(point.what), words(point.released_by), words(point.notice))))
    if rows:
        columns = (("column-hold", 0.5), ("column-who", 0.25), ("column-notice", 0.25))
        yield _captioned(job, "holds", columns, rows)


def references(job: Job) -> Iterator[Block]:
    """The documents that the clauses in these papers name, or that several of them rest on.

    All others, and how far each was read, stand in the library beside its clauses.
    """
    included = [chosen.clause for chosen in job.selections.values() if chosen.included]
    counted = Counter(key for clause in included for key in clause.sources if key not in _NO_DOCUMENT)
    said = " ".join(clause.text for clause in included)
    told = [
        _reference(source)
        for source in job.library.sources.values()
        if counted[source.id] >= _LEANED_ON or (counted[source.id] and source.title.split(":")[0] in said)
    ]
    if told:
        yield ListBlock(tuple(words(line) for line in told))


def _reference(source: SourceEntry) -> str:
    return f"{source.title}, {source.edition}" if source.edition else source.title


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
