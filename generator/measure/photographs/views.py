"""A photograph as it is reckoned: its frame, reference, lens and distance, from the answers and the file."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from generator.library.model import Library
from generator.lime.plane import Fit, Point, Quad, sorted_corners
from generator.lime.plane_bounds import Frame
from generator.lime.plane_errors import Taped, pick_error_px
from generator.lime.plane_points import Points, points_reference
from generator.lime.plane_reckoning import Check, View
from generator.measure.photographs.pictures import Picture
from generator.questionnaire.facts import Facts
from generator.questionnaire.photograph_shapes import LineShape, ReferenceShape
from generator.values import Struct

MM_PER_M: Final = 1000.0


class Seen(Struct, frozen=True):
    """A photograph as it is reckoned; `fit` tells how taped points fit one plane."""

    view: View
    fit: Fit | None = None


def seen(picture: Picture, reference: ReferenceShape, facts: Facts, library: Library) -> Seen | None:
    """A photograph with a reference as it is reckoned; None where its taped points lie in line or in one place."""
    assert picture.read is not None
    asked = picture.asked.asked
    frame = Frame(float(picture.read.width_px), float(picture.read.height_px))
    fitted = _fitted(reference, frame) if reference.points is not None else None
    if reference.points is not None and fitted is None:
        return None
    lens = asked.equivalent_mm
    view = View(
        frame,
        _rectangle(reference, frame) if fitted is None else fitted.taped,
        unevenness_mm=_uneven_mm(picture, facts, library),
        distance_mm=None if reference.distance_m is None else float(reference.distance_m) * MM_PER_M,
        off_face_mm=float(reference.off_face_mm),
        equivalent_mm=picture.read.equivalent_mm if lens is None else float(lens),
        straight=_edge(picture, frame),
        checks=tuple(Check(*ends(check, frame), float(check.length_mm)) for check in asked.checks),
        told=() if fitted is None else fitted.told,
    )
    return Seen(view, None if fitted is None else fitted.fit)


def ends(line: LineShape, frame: Frame) -> tuple[Point, Point]:
    """The ends of a line in pixels."""
    return pixel(line.start, frame), pixel(line.to, frame)


def pixel(spot: tuple[Decimal | float, Decimal | float], frame: Frame) -> Point:
    """A point told in shares of the picture, in pixels."""
    return float(spot[0]) * frame.width_px, float(spot[1]) * frame.height_px


def _rectangle(reference: ReferenceShape, frame: Frame) -> Taped:
    assert reference.corners is not None
    assert reference.width_mm is not None
    assert reference.height_mm is not None
    corners: Quad = sorted_corners(pixel(spot, frame) for spot in reference.corners)
    both = reference.diagonals_mm
    diagonals_mm = None if both is None else (float(both[0]), float(both[1]))
    sides_mm = float(reference.width_mm), float(reference.height_mm)
    return Taped(corners, *sides_mm, float(reference.tape_error_mm), diagonals_mm)


def _fitted(reference: ReferenceShape, frame: Frame) -> Points | None:
    points = reference.points or ()
    spots = [pixel(point.at, frame) for point in points]
    places = [(float(point.x_mm), float(point.y_mm)) for point in points]
    pick_px = pick_error_px(frame.width_px, frame.height_px)
    try:
        return points_reference(spots, places, pick_px, float(reference.tape_error_mm))
    except ValueError:
        return None


def _edge(picture: Picture, frame: Frame) -> tuple[Point, Point, Point] | None:
    straight = picture.asked.asked.straight
    if straight is None:
        return None
    first, middle, last = (pixel(spot, frame) for spot in straight)
    return first, middle, last


def _uneven_mm(picture: Picture, facts: Facts, library: Library) -> float:
    """How far the wall lies off a plane: as answered for the photograph, else as walls of its masonry do."""
    answered = picture.asked.asked.uneven_mm
    if answered is not None:
        return float(answered)
    masonry = facts.at_scope(picture.asked.element).text("masonry")
    return float(library.row("unevenness", masonry=masonry).number("uneven_mm"))
