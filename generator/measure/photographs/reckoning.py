"""Areas, lengths and joints of photographs with a reference, and the areas of each work from all its photographs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import partial
from typing import Final

from generator.library.model import Library
from generator.lime import plane_reckoning as reckoning
from generator.lime.plane import Point, Quad, sorted_corners
from generator.lime.plane_bounds import Frame
from generator.lime.plane_errors import Taped, pick_error_px
from generator.lime.plane_limits import Told
from generator.lime.plane_points import points_reference
from generator.lime.plane_reckoning import Check, Length, Quantity, Reckoning, View
from generator.lime.plane_shapes import Area
from generator.measure.photographs.pictures import Picture
from generator.questionnaire.facts import Facts, ScopePath
from generator.questionnaire.photograph_shapes import LineShape, ReferenceShape
from generator.questionnaire.photographs import MarkedArea

MM_PER_M: Final = 1000.0


@dataclass(frozen=True, slots=True)
class LetterFigure:
    """The areas under one letter and what they give together; nothing without a reference that holds."""

    letter: str
    areas: tuple[MarkedArea, ...]
    given: Reckoning | None = None

    @property
    def work(self) -> ScopePath:
        """The work that the letter stands for."""
        return self.areas[0].work

    @property
    def counted(self) -> bool:
        """Whether all under it is counted on this photograph."""
        return all(area.counted for area in self.areas)


@dataclass(frozen=True, slots=True)
class JointFigure:
    """The width of joints: by `picks` from edge to edge, or by `courses` of a run less the unit.

    `width` is None where the reference gives no length, or the height of the unit is not answered.
    """

    by: str
    count: int
    width: Length | None


@dataclass(frozen=True, slots=True)
class PhotographFigures:
    """A photograph with all that it gives; `works` holds the counted areas of each work as one figure."""

    picture: Picture
    view: View | None = None
    told: tuple[Told, ...] = ()
    letters: tuple[LetterFigure, ...] = ()
    works: Mapping[ScopePath, Reckoning] = field(default_factory=dict)
    lengths: tuple[tuple[str, Length | None], ...] = ()
    joints: tuple[JointFigure, ...] = ()

    @property
    def id(self) -> str:
        """What the photograph is called."""
        return self.picture.asked.id


@dataclass(frozen=True, slots=True)
class WorkArea:
    """The area of a work marked on photographs: its quantity, on which with which letters, and which give none."""

    work: ScopePath
    quantity: Quantity | None
    on: tuple[tuple[str, tuple[str, ...]], ...]
    lacking: tuple[str, ...] = ()


def figures(picture: Picture, facts: Facts, library: Library) -> PhotographFigures:
    """What a photograph gives."""
    asked, marked = picture.asked.asked, _by_letter(picture.asked.areas)
    letters = tuple(LetterFigure(letter, areas) for letter, areas in marked.items())
    if picture.read is None or not picture.marks_hold or asked.reference is None:
        return PhotographFigures(picture, letters=letters)
    view = _view(picture, asked.reference, facts, library)
    if view is None:
        return PhotographFigures(picture, told=(Told("reference-in-line", "refusal"),), letters=letters)
    frame = view.frame
    told = reckoning.told_of(view)
    refused = any(one.level == "refusal" for one in told)
    letters = tuple(
        LetterFigure(letter, areas, reckoning.reckoned(view, [_area(area, frame) for area in areas]))
        for letter, areas in marked.items()
    )
    works = {
        path: reckoning.reckoned(view, [_area(area, frame) for area in counted])
        for path in picture.asked.works
        if (counted := picture.asked.of_work(path))
    }
    if refused:  # a length has no room to tell it
        return PhotographFigures(picture, view, told, letters, works)
    lengths = tuple(
        (line.what, _given(partial(reckoning.length_of, view, *_ends(line, frame)))) for line in asked.lengths
    )
    return PhotographFigures(picture, view, told, letters, works, lengths, tuple(_joints(picture, view, facts)))


def _by_letter(areas: Sequence[MarkedArea]) -> dict[str, tuple[MarkedArea, ...]]:
    found: dict[str, tuple[MarkedArea, ...]] = {}
    for area in areas:
        found[area.letter] = (*found.get(area.letter, ()), area)
    return found


def work_areas(found: Sequence[PhotographFigures]) -> tuple[WorkArea, ...]:
    """The area of each work from all photographs on which areas of it are counted.

    There is a quantity only where each of them gives one: a sum without some of its areas would be too little.
    """
    works = dict.fromkeys(path for one in found for path in one.picture.asked.works)
    return tuple(area for path in works if (area := _work_area(path, found)) is not None)


def _work_area(path: ScopePath, found: Sequence[PhotographFigures]) -> WorkArea | None:
    on: list[tuple[str, tuple[str, ...]]] = []
    given: list[Quantity] = []
    lacking: list[str] = []
    for one in found:
        counted = one.picture.asked.of_work(path)
        if not counted:
            continue
        on.append((one.id, tuple(dict.fromkeys(area.letter for area in counted))))
        reckoned = one.works.get(path)
        offered = None if reckoned is None else reckoned.offered
        if offered is None:
            lacking.append(one.id)
        else:
            given.append(offered)
    if not on:
        return None
    whole = given[0] if len(given) == 1 else reckoning.together(given) if given else None
    return WorkArea(path, None if lacking else whole, tuple(on), tuple(lacking))


# --- one photograph ---------------------------------------------------------------------------------------


def _view(picture: Picture, reference: ReferenceShape, facts: Facts, library: Library) -> View | None:
    """The photograph as it is reckoned; None where its taped points lie in line."""
    assert picture.read is not None
    asked = picture.asked.asked
    frame = Frame(float(picture.read.width_px), float(picture.read.height_px))
    told: tuple[Told, ...] = ()
    if reference.points is None:
        taped = _rectangle(reference, frame)
    else:
        try:
            points = [_pixel(point.at, frame) for point in reference.points]
            places = [(float(point.x_mm), float(point.y_mm)) for point in reference.points]
            pick_px = pick_error_px(frame.width_px, frame.height_px)
            fitted = points_reference(points, places, pick_px, float(reference.tape_error_mm))
        except ValueError:
            return None
        taped, told = fitted.taped, fitted.told
    first, middle, last = (_pixel(spot, frame) for spot in asked.straight) if asked.straight else (None, None, None)
    lens = asked.equivalent_mm
    return View(
        frame,
        taped,
        unevenness_mm=uneven_mm(picture, facts, library),
        distance_mm=None if reference.distance_m is None else float(reference.distance_m) * MM_PER_M,
        off_face_mm=float(reference.off_face_mm),
        equivalent_mm=picture.read.equivalent_mm if lens is None else float(lens),
        straight=(first, middle, last) if first and middle and last else None,
        checks=tuple(Check(*_ends(check, frame), float(check.length_mm)) for check in asked.checks),
        told=told,
    )


def _rectangle(reference: ReferenceShape, frame: Frame) -> Taped:
    assert reference.corners is not None
    assert reference.width_mm is not None
    assert reference.height_mm is not None
    corners: Quad = sorted_corners(_pixel(spot, frame) for spot in reference.corners)
    both = reference.diagonals_mm
    diagonals_mm = None if both is None else (float(both[0]), float(both[1]))
    sides_mm = float(reference.width_mm), float(reference.height_mm)
    return Taped(corners, *sides_mm, float(reference.tape_error_mm), diagonals_mm)


def uneven_mm(picture: Picture, facts: Facts, library: Library) -> float:
    """How far the wall lies off a plane: as answered for the photograph, else as walls of its masonry do."""
    answered = picture.asked.asked.uneven_mm
    if answered is not None:
        return float(answered)
    masonry = facts.at_scope(picture.asked.element).text("masonry")
    return float(library.row("unevenness", masonry=masonry).number("uneven_mm"))


def _joints(picture: Picture, view: View, facts: Facts) -> Iterator[JointFigure]:
    """The joints picked across, as one mean, and each run over courses."""
    frame, unit_mm = view.frame, facts.at_scope(picture.asked.element).real("unit_height_mm")
    joints = picture.asked.asked.joints
    across = [_ends(joint, frame) for joint in joints if joint.courses is None]
    if across:
        yield JointFigure("picks", len(across), _given(partial(reckoning.joint_by_picks, view, across)))
    for joint in joints:
        if joint.courses is not None and unit_mm is not None:
            by_run = partial(reckoning.joint_by_courses, view, _ends(joint, frame), joint.courses, unit_mm)
            yield JointFigure("courses", joint.courses, _given(by_run))
        elif joint.courses is not None:
            yield JointFigure("courses", joint.courses, None)


def _given(length: Callable[[], Length]) -> Length | None:
    """A length; None where an end lies over the horizon or the reference gives none."""
    try:
        return length()
    except ValueError:
        return None


def _area(area: MarkedArea, frame: Frame) -> Area:
    without = tuple(tuple(_pixel(spot, frame) for spot in ring) for ring in area.without)
    return Area(tuple(_pixel(spot, frame) for spot in area.outline), without)


def _ends(line: LineShape, frame: Frame) -> tuple[Point, Point]:
    return _pixel(line.start, frame), _pixel(line.to, frame)


def _pixel(spot: tuple[Decimal | float, Decimal | float], frame: Frame) -> Point:
    return float(spot[0]) * frame.width_px, float(spot[1]) * frame.height_px
