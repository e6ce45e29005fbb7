"""Which way the walls face, round a compass, with exposure and mixes of each: a diagram on the page to read first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from generator.document.model import Block, Inlines, Pairs, Text, Value, joined, plain_text
from generator.document.template import PaperPart
from generator.drawing.measures import SIGNS, mark_of
from generator.job.job import Job
from generator.measure.compass import Facing, facing
from generator.papers.alike import Sheet, called, sheets
from generator.papers.drawn import numbered_drawing, words_for
from generator.papers.making import mixes_told
from generator.questionnaire.facts import View
from generator.values import Struct

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


class _Face(Struct, frozen=True):
    """A wall that says which way it faces, with its sheet and the number of that."""

    number: int
    sheet: Sheet
    wall: View
    way: Facing

    @property
    def width_m(self) -> Decimal | None:
        """The length of its stroke; None where nobody answered it, or it is that of several faces."""
        return None if len(self.way.degrees) > 1 else self.wall.number("face_width_m") or None


def orientation_figure(job: Job, part: PaperPart) -> Iterator[Block]:
    """The walls round a compass with a key by their sheets; nothing where fewer than two say which way they face."""
    if ANCHOR not in job.figures:
        return
    drawing = _drawing(job)
    if drawing is None:
        return
    faces = _faces(job)
    unknown = any(face.width_m is None and not face.way.all_round for face in faces)
    dashed = job.word("orientation-dashed") if unknown else ""
    ring = job.word("orientation-ring") if any(face.way.all_round for face in faces) else ""
    yield numbered_drawing(job, ANCHOR, drawing, part.filled(dashed=dashed, ring=ring).caption)
    yield Pairs("", tuple(_key(job, faces)))


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
        sides = [side for face in faces for side in _sides(job, face)]
        said = words_for(job, OrientationWords, "orientation")
        return orientation(sides, said, _alt(job, faces), job.facts.spelling)
    except NoRoom:
        return None


def _faces(job: Job) -> list[_Face]:
    """Each wall that says which way it faces, sheet by sheet."""
    found: list[_Face] = []
    for number, sheet in enumerate(sheets(job), 1):
        for path in sheet.walls:
            wall = job.facts.at_scope(path)
            way = facing(wall.text("faces"))
            if way is not None:
                found.append(_Face(number, sheet, wall, way))
    return found


def _sides(job: Job, face: _Face) -> Iterator[Side]:
    """What is drawn of a wall: a stroke for each way it faces, or its place on the ring."""
    from generator.drawing.orientation import Side

    signs = " ".join(SIGNS[mark_of(ref)] for ref in job.mix_refs(face.wall.path))
    label = f"{face.number} {signs}".strip()
    ticks = _TICKS.get(face.wall.text("exposure_reckoned"), 0)
    width = None if face.width_m is None else float(face.width_m)
    for degrees in face.way.degrees or (None,):
        yield Side(label, degrees, width, ticks)


# --- in words -----------------------------------------------------------------------------------------------


def _key(job: Job, faces: Sequence[_Face]) -> Iterator[tuple[Inlines, Inlines]]:
    """Each sheet by its number, with the exposure and the mixes of its walls."""
    for number, sheet in {face.number: face.sheet for face in faces}.items():
        yield (Text(f"{number}\u00a0"), *called(job, sheet)), _told(job, sheet)


def _told(job: Job, sheet: Sheet) -> Inlines:
    path = sheet.path
    exposure = job.facts.spoken(path, "exposure_reckoned")
    shown: list[Inlines] = [(Value("exposure_reckoned", path, exposure),)] if exposure else []
    refs = job.mix_refs(path)
    return joined([*shown, *([mixes_told(refs)] if refs else [])])


def _alt(job: Job, faces: Sequence[_Face]) -> str:
    return job.word("orientation-alt", walls="; ".join(_alt_of(job, face) for face in faces))


def _alt_of(job: Job, face: _Face) -> str:
    path = face.wall.path
    name, way = job.facts.scopes[path].title, job.facts.spoken(path, "faces")
    key = "orientation-alt-wall" if face.width_m is None else "orientation-alt-wide"
    told, width = plain_text(_told(job, face.sheet)), job.facts.spoken(path, "face_width_m")
    return job.word(key, number=str(face.number), wall=name, faces=way, told=told, width=width)
