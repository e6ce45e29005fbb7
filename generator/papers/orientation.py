"""Which way the walls face, round a compass, with exposure and mixes of each: a diagram on the page to read first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from generator.document.model import Block, Inlines, Pairs, Text, Value, joined, plain_text
from generator.document.template import PaperPart
from generator.drawing.measures import SIGNS, mark_of
from generator.job.job import Job
from generator.measure.compass import Facing, facing
from generator.papers.alike import Sheet, called, sheets
from generator.papers.drawn import numbered_drawing, words_for
from generator.papers.making import mixes_told
from generator.questionnaire.facts import ScopePath, View

if TYPE_CHECKING:
    from generator.drawing.model import Drawing
    from generator.drawing.orientation import Side

PART: Final = "orientation"
ANCHOR: Final = "figure:orientation"
MOST_FACES: Final = 8
"""More than a reader follows round a compass; the key of these fits beside what matters most, too."""

_MOST_ROWS: Final = 14
"""Works and open questions, each of which takes two lines, above it on its page: with more it would not fit there."""

_TICKS: Final = {"sheltered": 1, "moderate": 2, "severe": 3, "very-severe": 4}


def orientation_figure(job: Job, part: PaperPart) -> Iterator[Block]:
    """The walls round a compass with a key by their sheets; nothing where fewer than two say which way they face."""
    if ANCHOR not in job.figures:
        return
    drawing = _drawing(job)
    if drawing is None:
        return
    dashed = job.word("orientation-dashed") if any(_is_dashed(job, wall) for _, wall, _ in _faces(job)) else ""
    ring = job.word("orientation-ring") if any(way.all_round for _, _, way in _faces(job)) else ""
    yield numbered_drawing(job, ANCHOR, drawing, part.filled(dashed=dashed, ring=ring).caption)
    yield Pairs("", tuple(_key(job)))


def has_orientation(job: Job) -> bool:
    """Whether it is drawn: at least two walls say which way they face, and it has its room."""
    return _drawing(job) is not None


def _drawing(job: Job) -> Drawing | None:
    found: Drawing | None = job.kept("orientation", lambda: _drawn(job))
    return found


def _drawn(job: Job) -> Drawing | None:
    faces = _faces(job)
    above = len(job.facts.at("work")) + 2 * len([item for item in job.findings if item.level == "block"])
    if not 2 <= len(faces) <= MOST_FACES or above > _MOST_ROWS:
        return None
    from generator.drawing.orientation import NoRoom, OrientationWords, orientation

    try:
        sides = [side for face in faces for side in _sides(job, *face)]
        return orientation(sides, words_for(job, OrientationWords, "orientation"), _alt(job), job.facts.spelling)
    except NoRoom:
        return None


def _faces(job: Job) -> list[tuple[int, View, Facing]]:
    """Each wall that says which way it faces, with the number of its sheet."""
    found: list[tuple[int, View, Facing]] = []
    for number, sheet in enumerate(sheets(job), 1):
        for path in sheet.walls:
            wall = job.facts.at_scope(path)
            way = facing(wall.text("faces"))
            if way is not None:
                found.append((number, wall, way))
    return found


def _sides(job: Job, number: int, wall: View, way: Facing) -> Iterator[Side]:
    """What is drawn of a wall: a stroke for each way it faces, or its place on the ring."""
    from generator.drawing.orientation import Side

    refs = dict.fromkeys(ref for work in wall.inside("work") for ref in job.mix_refs(work.path))
    signs = " ".join(SIGNS[mark_of(ref)] for ref in refs)
    label = f"{number} {signs}".strip()
    ticks = _TICKS.get(wall.text("exposure_reckoned"), 0)
    width = None if _is_dashed(job, wall) else float(wall.number("face_width_m") or 0)
    for degrees in way.degrees or (None,):
        yield Side(label, degrees, width, ticks)


def _is_dashed(job: Job, wall: View) -> bool:
    """Whether the length of a wall's stroke is not told: nobody answered it, or it is that of several faces."""
    way = facing(wall.text("faces"))
    several = way is None or len(way.degrees) > 1
    return several or not wall.number("face_width_m")


# --- in words -----------------------------------------------------------------------------------------------


def _key(job: Job) -> Iterator[tuple[Inlines, Inlines]]:
    """Each sheet by its number, with the exposure and the mixes of its walls."""
    faced = {number for number, _, _ in _faces(job)}
    for number, sheet in enumerate(sheets(job), 1):
        if number in faced:
            yield (Text(f"{number}\u00a0"), *called(job, sheet)), _told(job, sheet)


def _told(job: Job, sheet: Sheet) -> Inlines:
    path = sheet.path
    exposure = job.facts.spoken(path, "exposure_reckoned")
    refs = dict.fromkeys(ref for work in job.facts.inside(path, "work") for ref in job.mix_refs(work.path))
    shown: list[Inlines] = [(Value("exposure_reckoned", path, exposure),)] if exposure else []
    return joined([*shown, *([mixes_told(refs)] if refs else [])])


def _alt(job: Job) -> str:
    told = "; ".join(_alt_of(job, number, wall.path) for number, wall, _ in _faces(job))
    return job.word("orientation-alt", walls=told)


def _alt_of(job: Job, number: int, path: ScopePath) -> str:
    told = plain_text(_told(job, next(sheet for sheet in sheets(job) if path in sheet.walls)))
    name, way = job.facts.scopes[path].title, job.facts.spoken(path, "faces")
    width = job.facts.spoken(path, "face_width_m")
    key = "orientation-alt-wide" if width and not _is_dashed(job, job.facts.at_scope(path)) else "orientation-alt-wall"
    return job.word(key, number=str(number), wall=name, faces=way, told=told, width=width)
