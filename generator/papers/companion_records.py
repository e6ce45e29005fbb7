"""Blank records for this job: batches, curing, and what was done as built, with what is known filled in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.document.model import (
    Block,
    Document,
    Figure,
    Heading,
    Inlines,
    PageBreak,
    Paragraph,
    Picture,
    Row,
    Section,
    Value,
    joined,
)
from generator.document.template import Paper, PaperPart
from generator.drawing.model import THICK, Drawing, Rect
from generator.job.job import Job, words
from generator.papers.curing_days import days_kept
from generator.papers.making import BLANK, Makers, made, place_told, raked, row
from generator.papers.parts import hold_point_rows
from generator.papers.photograph_parts import photograph_fills
from generator.questionnaire.facts import View
from generator.questionnaire.scopes import Scope, ScopePath
from generator.values import capital, replace

_PAGE_ROWS: Final = 20
_SLOT_MM: Final = (140.0, 98.0)
_LEAST_ROWS: Final = 6


def records(job: Job) -> Document:
    """The blank records, ready for this job: on landscape pages, with photographs on upright ones.

    Sheets hang singly at their places of work: each is headed by the name of the work.
    """
    paper = job.paper("site-records")
    lying = tuple(_off_the_first_page(made(job, _parts(paper, upright=False), _RECORDS)))
    upright = tuple(_off_the_first_page(made(job, _parts(paper, upright=True), _RECORDS)))
    identity = job.identity(paper.title)
    header = identity.subject or paper.title
    sections = [Section(lying, landscape=True, header=header)]
    if upright:
        sections.append(Section(upright, header=header))
    return Document(identity, tuple(sections))


def _parts(paper: Paper, *, upright: bool) -> list[PaperPart]:
    """The parts on upright pages, photographs, or those on lying ones, forms of many columns."""
    return [part for part in paper.parts if (part.part == "photograph-record") is upright]


def _off_the_first_page(blocks: Iterator[Block]) -> Iterator[Block]:
    """The blocks, the first of which starts no page: it stands on one already."""
    for index, block in enumerate(blocks):
        yield replace(block, starts_page=False) if index == 0 and isinstance(block, Heading) else block


def _titled(part: PaperPart, anchor: str) -> Iterator[Block]:
    yield Heading(1, words(part.heading), anchor=f"front:{anchor}", starts_page=True)
    yield Paragraph(words(part.text), "small")


def _blank(part: PaperPart, rows: int) -> Iterator[Row]:
    return (Row((BLANK,) * len(part.columns)) for _ in range(rows))


def _batches(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for batches, with the boxes of every mix above it: more mixes leave fewer lines."""
    yield from _titled(part, part.part)
    yield from made(job, part.parts, _BATCHES)


def _batch_boxes(job: Job, part: PaperPart) -> Iterator[Block]:
    rows = [
        row(job, part, made.mix.path, {"batches-besides": _besides(job, made.mix.path)})
        for made in job.measured.batches
    ]
    if rows:
        yield part.table(rows)


def _besides(job: Job, mix: ScopePath) -> Inlines:
    """The batches of a mix of other boxes: for its panel, and for what is packed, dubbed out or bedded."""
    panel, filling = (
        Value(name, mix, job.facts.spoken(mix, name)) for name in ("mix_panel_boxes", "mix_filling_boxes")
    )
    told = ((job.told("record-besides-panel", boxes=panel), panel), ((filling,), filling))
    return joined((inlines for inlines, value in told if value.text), "; ")


def _batch_lines(job: Job, part: PaperPart) -> Iterator[Block]:
    own = _asked_for(job, part)
    yield own.table(_blank(own, max(_LEAST_ROWS, _PAGE_ROWS - len(job.measured.batches) // 2)))


def _asked_for(job: Job, part: PaperPart) -> PaperPart:
    """A form without the columns that no clause of this job asks for: a blank left daily teaches to leave blanks."""
    return part.asked_for(job.duties)


def _lines(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page of blank lines."""
    own = _asked_for(job, part)
    yield from _titled(own, own.part)
    yield own.table(_blank(own, _PAGE_ROWS))


def _stores(job: Job, part: PaperPart) -> Iterator[Block]:
    """What comes and is kept, of the kinds that this job has."""
    recipes = [made.mix.recipe for made in job.measured.batches]
    kinds = {
        "putty": any(recipe.lime == "lime-putty" for recipe in recipes),
        "heap": any(recipe.making == "hot-mix" for recipe in recipes),
        "kept": any(recipe.rest_days for recipe in recipes),
    }
    told = "".join(job.word(f"record-store-{kind}") for kind, there in kinds.items() if there)
    yield from _lines(job, part.filled(kinds=told))


def _slaking(job: Job, part: PaperPart) -> Iterator[Block]:
    """The start sheet, where quicklime is slaked on this job."""
    if any(made.mix.recipe.making == "hot-mix" for made in job.measured.batches):
        yield from _lines(job, part.filled(clear=job.said("slaking_clear_m")))


def _guards(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for what guards people, where a clause of the job asks for a list of it."""
    if any(column.asked_by for column in _asked_for(job, part).columns):
        yield from _lines(job, part)


def _holds(job: Job, part: PaperPart) -> Iterator[Block]:
    """A line for the release of each hold point of this job, and lines for walls that follow."""
    rows = tuple(hold_point_rows(job, part))
    yield from _titled(part, part.part)
    yield part.table((*rows, *_blank(part, _rest(len(rows)))))


def _rest(used: int) -> int:
    """The lines that fill the page of a form, or the next where too few would be left."""
    left = _PAGE_ROWS - used % _PAGE_ROWS
    return left if left >= _LEAST_ROWS else left + _PAGE_ROWS


def _curing(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for each work that is kept damp, its lines filling the page, and a second where its days are more."""
    for index, scope in enumerate(job.facts.at("work")):
        kept = _kept_damp(job, scope)
        if kept:
            asked = part.asked_for([clause for clause in job.duties if job.serves(clause, scope.path)])
            place = job.filling.place(scope.path)
            own = replace(asked.filled(kept=capital(kept)), heading=f"{part.heading}: {place}")
            yield from _titled(own, f"curing-{index}")
            yield own.table(_blank(own, _PAGE_ROWS))
            if days_kept(job, scope.path) > _PAGE_ROWS:
                second = job.word("record-second-sheet", record=part.heading)
                yield PageBreak()
                yield Paragraph(words(f"{second}: {place}"), "lead")  # it goes on under the heading of the first
                yield own.table(_blank(own, _PAGE_ROWS))


def _kept_damp(job: Job, scope: Scope) -> str:
    """What of a work is kept damp: what comes before its coats, each of them, and the fillings of its wall.

    Fillings have a sheet of their own where nothing else of the wall is kept damp.
    """
    works = [work.path for work in job.facts.at_scope(scope.path[:1]).inside("work")]
    coated = [path for path in works if _damp_coats(job, path)]
    filled = [path for path in works if job.serves("refix.cracks", path)]
    coats = _damp_coats(job, scope.path)
    told = _kept_before(job, scope, coats) + "; ".join(_kept(job, coat) for coat in coats) if coats else ""
    if until := job.facts.spoken(scope.path, "copings_covered_date"):
        told = job.word("record-copings", last=job.facts.spoken(scope.path, "lime_finish_date"), until=until)
    moulded = _moulded(job, scope.path) if coats else ""
    beside = filled if scope.path == next(iter(coated or filled), None) else []
    return "; ".join(filter(None, (*dict.fromkeys(_filled(job, path) for path in beside), moulded, told)))


def _damp_coats(job: Job, path: ScopePath) -> list[View]:
    return [coat for coat in job.facts.at_scope(path).inside("coat") if coat.number("kept_damp_days")]


def _filled(job: Job, path: ScopePath) -> str:
    """How long fillings in old plaster are kept damp, and from when."""
    work = job.facts.at_scope(path)
    laid, last = (work.spoken(day) for day in ("lime_start_date", "lime_finish_date"))
    word = "record-fillings-days" if last != laid else "record-fillings-dated" if laid else "record-fillings"
    filled = job.word(word, laid=laid, last=last)
    return "; ".join(filter(None, (filled, _moulded(job, path))))


def _moulded(job: Job, path: ScopePath) -> str:
    """How long mouldings of a work are kept damp, and from when."""
    work = job.facts.at_scope(path)
    if not work.number("cornice_m"):
        return ""
    laid = work.spoken("moulding_start_date")
    return job.word("record-mouldings-dated" if laid else "record-mouldings", laid=laid)


def _kept_before(job: Job, scope: Scope, coats: Sequence[View]) -> str:
    """What of a work is kept damp before its coats: its panel, and the lime that is laid under them."""
    work = job.facts.at_scope(scope.path)
    told = _panel(job, work, [coat for coat in coats if coat.number("panel_coat_damp_days")])
    if told and (other := work.spoken("panel_of")):
        told += job.word("record-panel-of", other=other)
    if mended := work.spoken("old_face_mended_date"):
        told += job.word("record-mended", first=mended)
    first, laid = work.day("lime_start_date"), coats[0].day("placing_start_date")
    if first is not None and laid is not None and first < laid:
        longest = max(coats, key=lambda coat: coat.number("kept_damp_days") or 0)
        told += job.word("record-first", first=work.spoken("lime_start_date"), days=longest.spoken("kept_damp_days"))
    return told


def _panel(job: Job, work: View, coats: Sequence[View]) -> str:
    """How long a sample panel is kept damp: each of its coats, where it has more than one, from its own day."""
    if not work.likely("panel_damp_days"):
        return ""
    if len(coats) < 2:
        begun, made, days = (work.spoken(f"panel_{each}") for each in ("begun_date", "made_date", "damp_days"))
        if begun and begun != made:
            return job.word("record-panel-days", begun=begun, made=made, days=days)
        return job.word("record-panel-dated" if made else "record-panel", made=made, days=days)
    each = (
        job.word(
            "record-panel-coat",
            coat=job.facts.scopes[coat.path].title,
            made=coat.spoken("panel_coat_date"),
            days=coat.spoken("panel_coat_damp_days"),
        )
        for coat in coats
    )
    return job.word("record-panel-coats", coats=", ".join(each))


def _kept(job: Job, coat: View) -> str:
    """How long a coat is kept damp and covered, with from when and to when where there are dates."""
    title = job.facts.scopes[coat.path].title
    first, last = coat.spoken("placing_start_date"), coat.spoken("placing_end_date")
    dated = "-dated" if first else ""
    laid = first if first == last else job.word("record-laid", first=first, last=last)
    until, lifted = coat.spoken("damp_until_date"), coat.spoken("cover_until_date")
    told = job.word(
        f"record-damp{dated}",
        coat=capital(title),
        laid=laid,
        days=coat.spoken("kept_damp_days"),
        until=until,
    )
    if not coat.number("kept_covered_days"):
        return told
    return told + job.word(f"record-covered{dated}", days=coat.spoken("kept_covered_days"), until=lifted)


def _built(job: Job, part: PaperPart) -> Iterator[Block]:
    """What each work was to be, and room for what it became and for what was done besides."""
    yield from _titled(part, part.part)
    rows = tuple(_built_row(job, part, scope) for scope in job.facts.at("work"))
    yield part.table((*rows, *_blank(part, _rest(len(rows)))))


def _built_row(job: Job, part: PaperPart, scope: Scope) -> Row:
    own = {"where": place_told(job, scope.path), "as-specified": _specified(job, scope.path)}
    return row(job, part, scope.path, own, job.word("nothing"))


def _specified(job: Job, path: ScopePath) -> Inlines:
    told = (*map(job.mix_named, job.mixes_placed(path)), raked(job, path), (job.work_quantity(path),))
    return joined(filter(None, told), "; ")


def _photograph_record(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for each photograph: the wall before, and room for it after, from the same place."""
    from generator.papers.photographs import plain_picture

    for one in job.photographs:
        plain = plain_picture(one, _SLOT_MM)
        if plain is None:
            continue
        fills = photograph_fills(job, one)
        yield from _titled(part.filled(**fills), f"photograph-{one.id}")
        before = Picture(plain.data, plain.width_mm, plain.height_mm, fills["shows"])
        for inner in part.parts:
            own = inner.filled(**fills)
            if inner.part == "after-notes":
                yield own.table(_blank(own, 1))
            else:
                yield Figure(before if inner.part == "before" else _slot(before, own.about), own.caption)


def _slot(like: Picture, alt: str) -> Drawing:
    """An empty frame as large as a photograph."""
    width, height = like.width_mm, like.height_mm
    return Drawing(width, height, alt, (Rect(0.3, 0.3, width - 0.6, height - 0.6, THICK),))


_BATCHES: Final[Makers] = {"batch-boxes": _batch_boxes, "batch-lines": _batch_lines}
_RECORDS: Final[Makers] = {
    "batch-record": _batches, "store-record": _stores, "slaking-record": _slaking,
    "hold-record": _holds, "daily-record": _lines, "guard-record": _guards,
    "curing-record": _curing, "built-record": _built, "photograph-record": _photograph_record,
}  # fmt: skip
