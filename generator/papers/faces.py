"""The face of a wall on its sheet: drawn from the sizes answered, what is worked on keyed by hatch and letter."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from string import ascii_uppercase
from typing import TYPE_CHECKING, Final, cast

from generator.document.model import Block, Figure, Inlines, Row, Swatch, Text, Value
from generator.document.template import PaperPart
from generator.drawing.area_hatch import PATTERNS, Pattern
from generator.job.job import Job
from generator.measure.face import Face, Rectangle, areas_of, face_of
from generator.measure.face_checks import called, is_whole, opening_told, place_told
from generator.papers.alike import sheet_of, title
from generator.papers.drawn import numbered_drawing, words_for
from generator.papers.photograph_parts import key_row
from generator.questionnaire.facts import View
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Struct

if TYPE_CHECKING:
    from generator.drawing.elevation import Elevation, Gap, OpeningKind
    from generator.drawing.model import Point

_NOT_ON_A_FACE: Final = ("enabling", "flaunching")


class _Lettered(Struct, frozen=True):
    """A work with its letter, and the parts of the face that it is drawn on with the hatch of these, if any."""

    work: View
    letter: str
    parts: tuple[tuple[Point, ...], ...]
    pattern: Pattern | None
    is_whole: bool = False


def has_face(job: Job, path: ScopePath) -> bool:
    """Whether the face of a wall is drawn: its sides were answered, and no photograph of it is marked."""
    return _drawn_face(job, path) is not None


def _drawn_face(job: Job, path: ScopePath) -> Face | None:
    face = face_of(job.facts.at_scope(path))
    return None if face is None or _is_marked(job, path) else face


def _is_marked(job: Job, path: ScopePath) -> bool:
    found = job.photographs_of(path)
    if not found:
        return False
    from generator.papers.photographs import shows_marks

    return any(map(shows_marks, found))


def face_anchor(path: ScopePath) -> str:
    """What others refer to the drawing of a wall by."""
    return f"figure:face:{path[0]}"


def wall_face(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Block]:
    """The drawing of a face with its key; nothing where it has none."""
    face = _drawn_face(job, path)
    if face is None:
        return
    wall = job.facts.at_scope(path)
    works = _lettered(wall, face)
    for inner in part.parts:
        if inner.part == "face-figure":
            yield _figure(job, inner, wall, face, works)
        elif works:
            yield inner.table([_row(job, inner, one) for one in works])


def _figure(job: Job, part: PaperPart, wall: View, face: Face, works: list[_Lettered]) -> Figure:
    from generator.drawing.elevation import LOW_ROOM_MM, ROOM_MM, ElevationWords, elevation, elevation_scale

    # a sheet of several works has more steps, and one on letter paper fewer lines, below its drawing
    is_low = len(wall.inside("work")) > 1 or job.facts.at_scope(PROJECT).text("paper") == "letter"
    scale = elevation_scale(_corners(face), LOW_ROOM_MM if is_low else ROOM_MM)
    words = words_for(job, ElevationWords, "face")
    drawing = elevation(_drawn(face, works), scale, words, _alt(job, wall, face, works, str(scale)), job.facts.spelling)
    open_ = [opening_told(wall, it, job.library) for it in face.openings if it.place is None]
    unplaced = job.word("face-unplaced", openings="; ".join(open_)) if open_ else ""
    filled = part.filled(element=_named(job, wall), unplaced=unplaced, **_sides(job, face))
    return numbered_drawing(job, face_anchor(wall.path), drawing, filled.caption)


def _named(job: Job, wall: View) -> str:
    return title(job, sheet_of(job, wall.path))


def _sides(job: Job, face: Face) -> dict[str, str]:
    return {"width": job.facts.say("face_width_m", face.width), "height": job.facts.say("face_height_m", face.peak)}


def _keyed_work(job: Job, one: _Lettered, name: Value) -> Inlines:
    """What is done, and that it has no place on the drawing, or lies within its hatch and does not fill it."""
    if not one.parts:
        return job.told("face-work-unplaced", work=name)
    scattered = one.work.text("work") == "repoint" and one.work.text("treated_how") == "scattered"
    return job.told("face-work-scattered", work=name) if scattered else (name,)


def _row(job: Job, part: PaperPart, one: _Lettered) -> Row:
    path = one.work.path
    name = Value("work_name", path, job.facts.scopes[path].title)
    own: dict[str, Inlines] = {
        "letter": (*_swatch(job, one), Text(one.letter)),
        "work": _keyed_work(job, one, name),
        "area": (job.work_quantity(path),),
    }
    if sheet_of(job, path[:1]).is_shared:
        tabled = (Text(job.word("sheet-alike-tabled")),)
        own |= {"area": tabled, "lines": tabled}
    return key_row(job, part, path, own)


def _swatch(job: Job, one: _Lettered) -> Inlines:
    from generator.drawing.elevation import swatch

    if one.pattern is None:
        return ()
    return (Swatch(swatch(one.pattern, _hatch(job, one))), Text("\u00a0"))


def _hatch(job: Job, one: _Lettered) -> str:
    return job.word(f"photograph-hatch-{one.pattern}")


# --- what is worked on --------------------------------------------------------------------------------------


def _lettered(wall: View, face: Face) -> list[_Lettered]:
    """The works on a face in their order; those on all of it have one hatch together."""
    works = [work for work in wall.inside("work") if work.text("work") not in _NOT_ON_A_FACE]
    found: list[_Lettered] = []
    whole: Pattern | None = None
    used = 0
    for place, work in enumerate(works):
        parts, all_of_it = _parts(work, face), is_whole(work, face)
        pattern = whole if all_of_it else None
        if parts and pattern is None:
            pattern = PATTERNS[used % len(PATTERNS)]
            used += 1
        whole = pattern if all_of_it else whole
        found.append(_Lettered(work, _letter(place), parts, pattern if parts else None, all_of_it))
    return found


def _letter(place: int) -> str:
    """A to Z, then AA to ZZ."""
    round_, letter = divmod(place, len(ascii_uppercase))
    return ascii_uppercase[letter] * (round_ + 1)


def _parts(work: View, face: Face) -> tuple[tuple[Point, ...], ...]:
    """The corners of the parts of a face that a work is drawn on; none where nobody placed it."""
    from generator.drawing.elevation import clipped

    low, high = face.zone
    areas = areas_of(work)
    if not areas and is_whole(work, face):
        areas = (Rectangle(Decimal(0), low, face.width, max(high - low, Decimal(0))),)
    drawn = (clipped(_ring(area), _corners(face)) for area in areas if area.area_m2)
    return tuple(corners for corners in drawn if len(corners) > 2)


def _ring(area: Rectangle) -> tuple[Point, ...]:
    left, foot, right, head = (float(side) for side in (area.left, area.foot, area.right, area.head))
    return (left, foot), (right, foot), (right, head), (left, head)


def _corners(face: Face) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in face.outline)


def _drawn(face: Face, works: list[_Lettered]) -> Elevation:
    from generator.drawing.elevation import Elevation, Worked

    together: dict[tuple[Point, ...], tuple[Pattern, list[str]]] = {}
    for one in works:
        for corners in one.parts:
            together.setdefault(corners, (cast("Pattern", one.pattern), []))[1].append(one.letter)
    parts = tuple(Worked(", ".join(letters), pattern, corners) for corners, (pattern, letters) in together.items())
    zones = tuple(float(edge) for edge in face.zone if 0 < edge < face.peak)
    heights = {float(face.head), float(face.peak), *zones}
    return Elevation(_corners(face), tuple(sorted(heights)), tuple(_gaps(face)), zones, parts)


def _gaps(face: Face) -> Iterator[Gap]:
    """The openings that are placed and lie in the face; of others a finding tells."""
    from generator.drawing.elevation import Gap

    for opening in face.openings:
        at = opening.place
        if at is not None and face.holds(at) and at.area_m2:
            left, foot, width, height = (float(side) for side in (at.left, at.foot, at.width, at.height))
            yield Gap(cast("OpeningKind", opening.kind), left, foot, width, height, opening.name)


# --- what it tells those who cannot see it ------------------------------------------------------------------


def _alt(job: Job, wall: View, face: Face, works: list[_Lettered], scale: str) -> str:
    told = [_opening(job, wall, it.place, called(wall, it)) for it in face.openings if it.place is not None]
    openings = job.word("face-alt-openings", openings="; ".join(told)) if told else job.word("face-alt-no-openings")
    said = [_zone_told(job, face)] if face.is_zoned else []
    if works:
        said.append(job.word("face-alt-works", works="; ".join(_work_told(job, one) for one in works)))
    return job.word(
        "face-alt",
        element=_named(job, wall),
        scale=scale,
        top=job.facts.say("face_top", face.top),
        openings=openings,
        works=" ".join(said),
        **_sides(job, face),
    )


def _opening(job: Job, wall: View, at: Rectangle, what: str) -> str:
    return job.word("face-alt-opening", what=what, place=place_told(wall, at, job.library))


def _zone_told(job: Job, face: Face) -> str:
    low, high = (job.facts.say("zone_from_m", edge) for edge in face.zone)
    return job.word("face-alt-zone", low=low, high=high)


def _work_told(job: Job, one: _Lettered) -> str:
    path = one.work.path
    what = ", ".join(filter(None, (job.facts.scopes[path].title, *job.mix_refs(path))))
    if not one.parts:
        where = job.word("face-alt-unplaced")
    elif one.is_whole:
        where = job.word("face-alt-whole", hatch=_hatch(job, one))
    else:
        places = "; ".join(place_told(one.work, area, job.library) for area in areas_of(one.work))
        where = job.word("face-alt-placed", places=places, hatch=_hatch(job, one))
    return job.word("face-alt-work", letter=one.letter, work=what, where=where)
