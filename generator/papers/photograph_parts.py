"""Photographs in papers: each by its wall with its areas keyed to work, mix, quantity, line and clause."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from generator.document.model import (
    CLAUSE_NUMBERS,
    LINE_NUMBERS,
    Block,
    Figure,
    Heading,
    Inlines,
    Picture,
    Row,
    Text,
    Value,
)
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.papers.making import mixes_told, row
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, rounded, spoken

if TYPE_CHECKING:
    from decimal import Decimal

    from generator.drawing.photograph_marks import MarkFact
    from generator.measure.photographs.reckoning import LetterFigure, PhotographFigures

_BY_AREA = ("treated_area_m2", "treated_joint_length_m")
"""What the lines are measured by that a marked area stands for."""


def wall_photographs(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """The photographs of a wall."""
    found = job.photographs_of(path)
    if any(one.picture.read is not None for one in found):
        yield from _headed(part)
        yield from _shown(job, part, found, numbered=True)


def all_photographs(job: Job, part: PaperPart) -> Iterator[Block]:
    """The photographs of the job, wall by wall, in a paper whose figures have no numbers."""
    if any(one.picture.read is not None for one in job.photographs):
        yield from _headed(part, apart=True)
        yield from _shown(job, part, job.photographs, numbered=False)


def _headed(part: PaperPart, *, apart: bool = False) -> Iterator[Block]:
    if part.heading:
        yield Heading(2, words(part.heading), apart=apart)


def first_photograph(job: Job, part: PaperPart, room_mm: tuple[float, float]) -> Iterator[Block]:
    """The first photograph of the job that could be read, as it is."""
    if not job.photographs:
        return
    from generator.papers.photographs import plain_picture

    for one in job.photographs:
        plain = plain_picture(one, room_mm)
        if plain is not None:
            picture = Picture(plain.data, plain.width_mm, plain.height_mm, _shows(one))
            yield Figure(picture, _captioned(job, part, one))
            return


def photograph_anchors(job: Job, path: ScopePath, drawn: Iterable[str]) -> Iterator[str]:
    """The anchors of the figures that the photographs of a wall make, by the parts that the paper has."""
    shown = [one for one in job.photographs_of(path) if one.picture.read is not None]
    if not shown:
        return
    from generator.papers.photographs import has_elevation

    parts = set(drawn)
    for one in shown:
        if "photograph" in parts:
            yield photograph_anchor(one)
        if "elevation" in parts and has_elevation(one):
            yield f"{photograph_anchor(one)}:elevation"


def photograph_anchor(one: PhotographFigures) -> str:
    """What others refer to a photograph by."""
    return f"figure:photograph:{one.id}"


def _shown(job: Job, part: PaperPart, found: Sequence[PhotographFigures], *, numbered: bool) -> Iterator[Block]:
    from generator.papers.photographs import dots_an_inch

    dpi = dots_an_inch(2 * len(job.photographs))
    for one in found:
        if one.picture.read is None:
            continue
        for inner in part.parts:
            if inner.part == "photograph":
                yield _figure(job, inner, one, dpi, numbered)
            elif inner.part == "elevation":
                yield from _elevation(job, inner, one, dpi, numbered)
            else:
                yield from _key(job, inner, one)


# --- figures ----------------------------------------------------------------------------------------------


def _figure(job: Job, part: PaperPart, one: PhotographFigures, dpi: int, numbered: bool) -> Figure:
    from generator.papers.photographs import marked_picture, plain_picture

    marked = marked_picture(one, dpi)
    facts = () if marked is None else marked.facts
    jpeg = plain_picture(one, dpi=dpi) if marked is None else marked.jpeg
    assert jpeg is not None
    picture = Picture(jpeg.data, jpeg.width_mm, jpeg.height_mm, _told(job, one, facts))
    return Figure(picture, _captioned(job, part, one), **_number(job, photograph_anchor(one), numbered))


def _elevation(job: Job, part: PaperPart, one: PhotographFigures, dpi: int, numbered: bool) -> Iterator[Figure]:
    from generator.drawing.photograph_elevation import BarUnit
    from generator.papers.photographs import elevation_picture

    unit = BarUnit(*job.facts.spelling.scale_bar)
    found = elevation_picture(one, dpi, unit)
    if found is None:
        return
    bar = spoken(rounded(found.step * found.steps, 1), unit.name)
    alt = job.word("photograph-elevation-alt", told=_told(job, one, found.facts, placed=False), bar=bar)
    picture = Picture(found.jpeg.data, found.jpeg.width_mm, found.jpeg.height_mm, alt)
    yield Figure(picture, _captioned(job, part, one), **_number(job, f"{photograph_anchor(one)}:elevation", numbered))


def _number(job: Job, anchor: str, numbered: bool) -> dict[str, Any]:
    return {"anchor": anchor, "number": str(job.figures[anchor])} if numbered and anchor in job.figures else {}


def _captioned(job: Job, part: PaperPart, one: PhotographFigures) -> str:
    """The caption: which photograph, what it shows, when and by whom, and whether it can be measured."""
    return part.filled(**photograph_fills(job, one), scaled=_scaled(job, one)).caption


def photograph_fills(job: Job, one: PhotographFigures) -> dict[str, str]:
    """What fills the words about a photograph: what it is called and shows, when and by whom it was taken."""
    return {"photograph": one.id, "shows": one.picture.asked.asked.shows, "taken": _taken(job, one)}


def _taken(job: Job, one: PhotographFigures) -> str:
    asked = one.picture.asked.asked
    day = spoken(asked.taken, spelling=job.facts.spelling) if asked.taken else ""
    if day and asked.by:
        return job.word("photograph-taken-by", date=day, by=asked.by)
    if day:
        return job.word("photograph-taken-on", date=day)
    return job.word("photograph-by", by=asked.by) if asked.by else ""


def _scaled(job: Job, one: PhotographFigures) -> str:
    from generator.measure.photographs.reckoning import sum_is_surer
    from generator.papers.photographs import shows_marks

    if one.letters and not shows_marks(one):
        return job.word("photograph-marks-open")
    if not one.is_scaled:
        return job.word("photograph-not-scaled")
    reference = one.picture.asked.asked.reference
    what = reference.what if reference else ""
    taped = job.word("photograph-taped-what", what=what) if what else job.word("photograph-taped")
    surer = any(sum_is_surer(one, work) for work in one.works)
    return f"{taped} {job.word('photograph-surer')}" if surer else taped


# --- what it tells those who cannot see it ------------------------------------------------------------------


def _shows(one: PhotographFigures) -> str:
    asked = one.picture.asked.asked
    return asked.alt or asked.shows


def _told(job: Job, one: PhotographFigures, facts: Sequence[MarkFact], *, placed: bool = True) -> str:
    """The alternative text: what it shows, and each area by letter, work, mix, size, place and hatch.

    Turned square on, a picture has other edges: the place of an area is told in the photograph alone.
    """
    if not facts:
        return _shows(one)
    given = {figure.letter: figure for figure in one.letters}
    areas = (_area_told(job, given[fact.letter], fact, placed=placed) for fact in facts)
    return job.word("photograph-alt", shows=_shows(one), areas="; ".join(areas))


def _area_told(job: Job, figure: LetterFigure, fact: MarkFact, *, placed: bool) -> str:
    mixes = ", ".join(job.mix_refs(figure.work))
    size = _size(job, figure.spread)
    return job.word(
        "photograph-alt-area" if placed else "photograph-alt-area-square",
        letter=figure.letter,
        what=", ".join(filter(None, (job.facts.scopes[figure.work].title, mixes, size))),
        place=job.word(f"photograph-place-{fact.down}-{fact.across}"),
        hatch=job.word(f"photograph-hatch-{fact.pattern}"),
    )


# --- the key ----------------------------------------------------------------------------------------------


def _key(job: Job, part: PaperPart, one: PhotographFigures) -> Iterator[Block]:
    """A row for each letter, and one for those of a work together where they are reckoned as one figure."""
    if not one.letters or not one.picture.marks_hold:
        return
    rows = [
        key_row(job, part, figure.work, _lettered(job, figure.letter, _letter_size(job, figure)))
        for figure in one.letters
    ]
    for work, reckoned in one.works.items():
        letters = [figure.letter for figure in one.letters if figure.work == work and figure.counted]
        if len(letters) > 1 and reckoned.offered is not None:
            from generator.measure.photographs.reckoning import area_range
            from generator.measure.photographs.told import letters_told

            told = job.word("photograph-together", letters=letters_told(letters))
            size = _size(job, area_range(reckoned.offered))
            rows.append(key_row(job, part, work, _lettered(job, told, size), kind="total"))
    yield part.filled(photograph=one.id).table(rows)


def _lettered(job: Job, letter: str, size: str) -> dict[str, Inlines]:
    return {"letter": (Text(letter),), "area": (Text(size or job.word("nothing")),)}


def key_row(job: Job, part: PaperPart, work: ScopePath, area: Mapping[str, Inlines], kind: str = "body") -> Row:
    """A row of what is done to an area: its work, mix, lines to price and clauses, and what the area itself tells."""
    nothing = job.word("nothing")
    lines = [item for item in job.work_lines(work) if item.entry.quantity in _BY_AREA] or job.work_lines(work)
    refs = ", ".join(dict.fromkeys(item.ref for item in lines))
    clauses = job.clause_numbers(tuple(key for item in lines for key in job.library.duties[item.entry.id]), work)
    own: dict[str, Inlines] = {
        "work": (Value("work_name", work, job.facts.scopes[work].title),),
        "mix": mixes_told(job.mix_refs(work)) or (Text(nothing),),
        "lines": (Value(LINE_NUMBERS, work, refs) if refs else Text(nothing),),
        "clauses": (Value(CLAUSE_NUMBERS, work, clauses) if clauses else Text(nothing),),
        **area,
    }
    made = row(job, part, work, own, nothing)
    return Row(made.cells, kind)


def _letter_size(job: Job, figure: LetterFigure) -> str:
    size = _size(job, figure.spread)
    return size if figure.counted else job.word("photograph-not-counted", area=size or job.word("nothing"))


def _size(job: Job, spread: Range[Decimal] | None) -> str:
    """An area with its range; empty where the photograph gives none."""
    if spread is None:
        return ""
    spelling = job.facts.spelling
    return job.word("photograph-size", area=spoken(spread.likely, "m²", spelling), range=spelling.alone(spread, "m²"))
