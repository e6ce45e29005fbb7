"""The numbered parts: each clause once, however many walls it serves, and the tables the program makes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from generator.document.model import (
    Block,
    ClauseBlock,
    Heading,
    Inline,
    Inlines,
    Paragraph,
    Ref,
    Row,
    Strong,
    Table,
    Text,
    Value,
    joined,
    plain_text,
)
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.job.numbers import NumberedClause, NumberedPart
from generator.library.entries import HoldPoint, Part, SourceEntry
from generator.papers.clause_figures import clause_figures, clause_pictured, clause_signs
from generator.papers.drawn import going_on
from generator.papers.glossary import glossary
from generator.papers.making import Makers, led, made, row
from generator.papers.programme import programme_tables
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import replace

_WORTH_TELLING_ONCE: Final = 3


def part_blocks(job: Job, numbered: NumberedPart) -> Iterator[Block]:
    """The heading, clauses and tables of one part."""
    part = _part_of(job, numbered)
    yield Heading(1, words(part_title(job, numbered)), anchor=f"part:{numbered.part_id}", number=numbered.number)
    yield from _reach_once(job, clauses(job, numbered))
    shown = job.paper("specification").part("clauses").inner(part.shows) if part is not None else None
    if shown is not None:
        yield from made(job, [shown], _SHOWN)


def part_title(job: Job, numbered: NumberedPart) -> str:
    """The title of a part; of one that the library has no longer, that it is not used."""
    part = _part_of(job, numbered)
    return part.title if part else job.word("not-used")


def _part_of(job: Job, numbered: NumberedPart) -> Part | None:
    return next((item for item in job.library.parts if item.id == numbered.part_id), None)


def clauses(job: Job, numbered: NumberedPart) -> tuple[ClauseBlock, ...]:
    """The clauses of one part, without what the part shows besides. The specification and the record tell them."""
    found: tuple[ClauseBlock, ...] = job.kept(
        f"clauses:{numbered.part_id}", lambda: tuple(_clause(job, clause) for clause in numbered.clauses)
    )
    return found


def _clause(job: Job, numbered: NumberedClause) -> ClauseBlock:
    anchor = f"clause:{numbered.clause_id}"
    if not numbered.used:
        return ClauseBlock(numbered.clause_id, numbered.number, words(job.word("not-used")), (), anchor, used=False)
    selection = job.selections[numbered.clause_id]
    clause, paths = selection.clause, selection.paths
    differing = job.filling.differing(clause.id, paths)
    blocks: list[Block] = list(_applies(job, clause.per, paths, bool(differing)))
    blocks += clause_signs(job, clause.id)
    text = (_stopped(block) for block in job.filling.merged(clause.id, "text", paths))
    blocks += going_on(text, clause_pictured(job, clause.id))
    if differing:
        blocks.append(job.filling.value_table(clause.id, differing, paths))
    blocks += clause_figures(job, clause.id)
    blocks += _labelled(job, clause.id, paths)
    return ClauseBlock(clause.id, numbered.number, clause_title(job, clause.id), tuple(blocks), anchor, clause.advice)


def clause_title(job: Job, key: str) -> Inlines:
    """The title of a clause that is in the papers, filled."""
    selection = job.selections[key]
    title = job.filling.merged(key, "title", selection.paths)
    return title[0].content if title and isinstance(title[0], Paragraph) else words(selection.clause.title)


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
    everything: set[str] = job.kept(
        f"places of each {per}", lambda: {job.filling.place(scope.path) for scope in job.facts.at(per)}
    )
    named = {job.filling.place(path) for path in paths}
    if named != everything:
        where = Value("element_name", paths[0], job.filling.where(paths))
        yield Paragraph((Strong(words(job.word("applies-to"))), Text(" "), where, Text(".")), "small")


def _reach_once(job: Job, told: tuple[ClauseBlock, ...]) -> Iterator[Block]:
    """The clauses of a part, what most of them apply to told once above them, where that is shorter."""
    reaches = Counter(reach for clause in told if (reach := _reach(job, clause)) is not None)
    most = max(reaches, key=lambda reach: reaches[reach] * len(plain_text(reach.content)), default=None)
    silent = [clause for clause in told if _is_silent(job, clause)]
    if most is None or reaches[most] < _WORTH_TELLING_ONCE + len(silent):
        yield from told
        return
    yield Paragraph((Strong(words(job.word("applies-to-part"))), *most.content[1:-1], *_but(job, silent)), "small")
    for clause in told:
        alike = _reach(job, clause) == most
        yield replace(clause, blocks=clause.blocks[1:], told_above=clause.blocks[:1]) if alike else clause


def _but(job: Job, silent: Sequence[ClauseBlock]) -> Inlines:
    """That clauses may say otherwise, and which are of the whole job."""
    others = words(job.word("applies-to-part-else"))
    if not silent:
        return (*others, Text("."))
    whole = joined((Ref(clause.anchor, clause.number),) for clause in silent)
    return (*others, *words(job.word("applies-to-part-whole")), Text(" "), *whole, Text("."))


def _reach(job: Job, clause: ClauseBlock) -> Paragraph | None:
    """The line of a clause that tells what it applies to, if it has one."""
    first = next(iter(clause.blocks), None)
    lead = Strong(words(job.word("applies-to")))
    return first if isinstance(first, Paragraph) and first.content[:1] == (lead,) else None


def _is_silent(job: Job, clause: ClauseBlock) -> bool:
    """Whether a clause is of all walls or of the whole job without saying so; a table says which walls it is of."""
    tabled = any(isinstance(block, Table) for block in clause.blocks)
    return clause.used and not tabled and _reach(job, clause) is None


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


# --- what parts show --------------------------------------------------------------------------------------


def mixes_tables(job: Job, part: PaperPart) -> Iterator[Block]:
    """The mixes in figures: what is in each, on which basis, and where it goes."""
    if job.measured.batches:
        yield from made(job, part.parts, _MIXES)


def _mixes_table(job: Job, part: PaperPart) -> Iterator[Block]:
    hot = any(batch.mix.recipe.making == "hot-mix" for batch in job.measured.batches)
    shown = part if hot else part.without_columns({"mix_putty_ratio"})
    yield shown.table(mix_rows(job, shown), "table:mixes")


def mix_rows(job: Job, part: PaperPart) -> Iterator[Row]:
    """A row for each mix, holding its values of the names that the columns show."""
    return (row(job, part, batch.mix.path, {}) for batch in job.measured.batches)


def drawings_table(job: Job, part: PaperPart) -> Iterator[Block]:
    """The drawings listed in the answers; one alone in a line."""
    listed = [item.values for item in job.facts.at_scope(PROJECT).records("drawings")]
    rows = [_drawing(part, item) for item in listed]
    if len(rows) == 1:
        yield led(f"{part.caption}:", joined(filter(plain_text, rows[0].cells)))
    elif rows:
        yield part.table(rows, "table:drawings")


def _drawing(part: PaperPart, item: Mapping[str, object]) -> Row:
    """A drawing, a field of its record a column; blank where a column shows nothing."""
    told = (str(item.get(column.shows, "")) for column in part.columns)
    return Row(tuple((Value("drawings", PROJECT, text),) for text in told))


def hold_points(job: Job, part: PaperPart) -> Iterator[Block]:
    """The hold points of the library that apply, as one table; the notice that most of them need once above it."""
    points = list(holding(job))
    if not points:
        return
    usual = ""
    if part.text:
        usual = Counter(point.notice for point in points).most_common(1)[0][0]
        yield Paragraph(words(part.filled(notice=usual).text), "small")
    yield part.table((_hold_point_row(job, part, point, usual) for point in points), "table:holds")


def hold_point_rows(job: Job, part: PaperPart) -> Iterator[Row]:
    """A row for each hold point of the library that applies and that a clause demands, in the columns of a part."""
    return (_hold_point_row(job, part, point, "") for point in holding(job))


def holding(job: Job) -> Iterator[HoldPoint]:
    """The hold points of the library that apply and that a clause demands."""
    for key, point in job.library.hold_points.items():
        demanded = not point.clauses or any(map(job.in_papers, point.clauses))
        if demanded and job.library.condition("hold", key).stands(job.facts, PROJECT):
            yield point


def _hold_point_row(job: Job, part: PaperPart, point: HoldPoint, usual: str) -> Row:
    """A hold point; where another notice than the usual has no column, with it."""
    tells = any(column.shows == "notice" for column in part.columns)
    by = point.released_by
    if not tells and usual and point.notice != usual:
        by = job.word("hold-other-notice", by=by, notice=point.notice)
    own = {"what": words(point.what), "released-by": words(by), "notice": words(point.notice)}
    return row(job, part, PROJECT, own)


def references(job: Job, _: PaperPart) -> Iterator[Block]:
    """The documents that the clauses in these papers name.

    All others, and how far each was read, stand in the library beside its clauses.
    """
    included = [chosen.clause for chosen in job.selections.values() if chosen.included]
    used = {key for clause in included for key in clause.sources}
    said = " ".join(f"{clause.text} {clause.check} {clause.because}" for clause in included)
    said = job.library.swap(said) if job.library.swap else said
    language = job.facts.get(PROJECT, "language")
    told = [
        _reference(source)
        for source in job.library.sources.values()
        if language not in source.not_for and source.id in used and source.title.split(":")[0] in said
    ]
    if told:
        yield Paragraph(words("; ".join(told) + "."), "small")


def _reference(source: SourceEntry) -> str:
    return f"{source.title}, {source.edition}" if source.edition else source.title


_MIXES: Final[Makers] = {"mix-figures": _mixes_table}
_SHOWN: Final[Makers] = {
    "mixes": mixes_tables, "drawings": drawings_table, "programme": programme_tables,
    "glossary": glossary, "references": references, "hold-points": hold_points,
}  # fmt: skip


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
