"""Drawings of every kind, and what every drawing must be; walls, works and figures are invented."""

from __future__ import annotations

import datetime
from functools import partial
from itertools import combinations

from generator.drawing import calendar, coats, joint
from generator.drawing import elevation as elevations
from generator.drawing import flaunching as flaunchings
from generator.drawing import orientation as orientations
from generator.drawing.area_hatch import PATTERNS
from generator.drawing.calendar import Bar
from generator.drawing.elevation import Elevation, ElevationWords, Gap, Worked, clipped
from generator.drawing.hazards import corrosion, exclamation
from generator.drawing.model import ROOM_MM, Drawing, Label, bounds, rectangle

JOINT_WORDS = joint.JointWords(
    old="Sound old mortar",
    layers="New mortar in {layers} layers, numbered as placed, the first at the back.",
    one_layer="New mortar in one layer.",
    finish="Finish: {profile}. Scale {scale}.",
    profiles=tuple(
        zip(joint.PROFILES, ("flush", "brushed flush", "behind worn edges", "tuck", "as the old"), strict=True)
    ),
    alt="Section, scale {scale}. {width} wide, {depth} deep. {layers} Finish: {profile}.",
)
COAT_WORDS = coats.CoatWords(
    plain="{coat}, {thickness}",
    haired="{coat}, haired, {thickness}",
    masonry="Masonry",
    laths="Lath",
    nib="Nib",
    note="Coats numbered as laid. Scale {scale}.",
    overhead="Left is up.",
    alt="Section through coats on {background}, scale {scale}: {coats}. Total {total}.",
)
FLAUNCHING_WORDS = flaunchings.FlaunchingWords(
    pot="Pot over its flue, {foot} or more within",
    mortar="Flaunching, {coat} at the pot, no layer over {layers}",
    slips="Slips of tile",
    units="Top course",
    note="Stops {short} short of the face. Scale {scale}.",
    alt="Section through a chimney top, scale {scale}: {coat} at the pot, {edge} at the edge.",
)
ORIENTATION_WORDS = orientations.OrientationWords(north="N", scale="Scale {scale}")
CALENDAR_WORDS = calendar.CalendarWords(
    season="Safe season",
    last_placing="Last placing {date}",
    span="{first} to {last}",
    outside="outside these months",
    alt="Calendar from {first} to {last}. {season}. {placing}. {works}.",
    none="none",
)
joint_section = partial(joint.joint_section, words=JOINT_WORDS)
coats_section = partial(coats.coats_section, words=COAT_WORDS)
flaunching_section = partial(flaunchings.flaunching_section, words=FLAUNCHING_WORDS)
orientation = partial(orientations.orientation, words=ORIENTATION_WORDS, alt="Compass, scale {scale}.")
season_calendar = partial(calendar.season_calendar, words=CALENDAR_WORDS)

Day = datetime.date
SEASON = ((Day(2027, 4, 15), Day(2027, 9, 15)),)
BARS = (
    Bar("North wall: repoint", Day(2027, 5, 3), Day(2027, 6, 18)),
    Bar("Chimney and the long-named east gable with crow steps: render", Day(2027, 6, 21), Day(2028, 6, 1)),
    Bar("Tower", Day(2026, 6, 1), Day(2027, 3, 12)),
    Bar("Churchyard wall", Day(2029, 1, 8), Day(2029, 2, 2)),
)
THREE_COATS = (("Pricking-up coat", 10, True), ("Float coat", 8, True), ("Setting coat", 3, False))

_FRONT = rectangle(0.0, 0.0, 14.8, 6.5)
_GABLE = ((0.0, 0.0), (9.4, 0.0), (9.4, 5.2), (4.7, 8.0), (0.0, 5.2))
_GAPS = (
    Gap("window", 2.0, 3.7, 1.1, 1.6),
    Gap("window", 11.6, 3.7, 1.1, 1.6),
    Gap("door", 6.85, 0.0, 1.0, 2.1, "front door"),
    Gap("other", 8.5, 1.2, 4.0, 1.6, "shop window"),
    Gap("vent", 4.0, 0.4, 0.3, 0.2),
)
WHOLE_FRONT = Elevation(_FRONT, (6.5,), _GAPS, (), (Worked("A, B", "rise", _FRONT),))
_PARTS = tuple(
    Worked(letter, pattern, rectangle(2.4 * place, 3.0, 2.4 * place + 2.0, 5.8))
    for place, (letter, pattern) in enumerate(zip("ABCDEF", PATTERNS, strict=True))
)


def elevation(face: Elevation) -> Drawing:
    return elevations.elevation(
        face, elevations.elevation_scale(face.corners), ElevationWords("Scale {scale}"), "A face, drawn from sizes."
    )


FACES: dict[str, Drawing] = {
    "face worked on whole": elevation(WHOLE_FRONT),
    "face with every hatch": elevation(Elevation(_FRONT, (6.5,), (), (), _PARTS)),
    "gable with two zones": elevation(
        Elevation(_GABLE, (0.45, 5.2, 8.0), (), (0.45,), (Worked("A", "level", clipped(_FRONT, _GABLE)),))
    ),
    "very small face": elevation(Elevation(rectangle(0.0, 0.0, 0.4, 0.3), (0.3,))),
    "very long face": elevation(Elevation(rectangle(0.0, 0.0, 190.0, 3.0), (3.0,), _GAPS)),
    "tower": elevation(Elevation(rectangle(0.0, 0.0, 4.0, 45.0), (45.0,), (), (0.5, 20.0))),
}
DRAWINGS: dict[str, Drawing] = {
    **FACES,
    "brick joint": joint_section(10, 25, (25 / 3,) * 3, "brushed-flush"),
    "worn joint": joint_section(8, 30, (10, 10, 10), "slightly-recessed"),
    "ashlar joint": joint_section(3, 40, (10,) * 4, "as-found"),
    "rubble joint": joint_section(60, 300, (20,) * 15, "flush"),
    "joint in one layer": joint_section(6, 12, (12,), "flush"),
    "deep joint in many layers": joint_section(30, 600, (12,) * 50, "flush"),
    "coats on laths": coats_section("laths", THREE_COATS),
    "coats overhead": coats_section("laths", THREE_COATS, is_overhead=True),
    "coats on masonry": coats_section(
        "masonry", (("Scratch coat", 12, True), ("Float coat of coarse stuff, laid in two passes", 18, False))
    ),
    "flaunching in layers": flaunching_section(flaunchings.Flaunching(75, 25, 25, 10, 75)),
    "thick flaunching": flaunching_section(flaunchings.Flaunching(150, 20, 30, 15, 100)),
    "flaunching in one layer": flaunching_section(flaunchings.Flaunching(40, 40, 25, 10, 60)),
    "faces round a compass": orientation(
        (
            orientations.Side("1 ●", 135.0, 14.8, 2),
            orientations.Side("2 ▲ ○", None, None, 4),
            orientations.Side("4 ▬ ◊ ►", 315.0, None, 2),
        )
    ),
    "a year": season_calendar(Day(2027, 3, 1), SEASON, Day(2027, 9, 15), BARS),
    "three years": season_calendar(Day(2026, 11, 20), SEASON, Day(2027, 9, 30), BARS, months=36),
    "a month": season_calendar(Day(2027, 5, 1), SEASON, None, BARS[:1], months=1),
    "corrosion": corrosion(22.0, "Corrosion."),
    "exclamation": exclamation(22.0, "Exclamation mark."),
}  # fmt: skip


def labels(drawing: Drawing) -> list[Label]:
    """The labels of a drawing, in order."""
    return [primitive for primitive in drawing.primitives if isinstance(primitive, Label)]


def texts(drawing: Drawing) -> list[str]:
    """What is written on a drawing, in order."""
    return [label.text for label in labels(drawing)]


def outside(drawing: Drawing) -> list[object]:
    """Primitives that stick out of the paper."""
    return [
        primitive
        for primitive in drawing.primitives
        if (box := bounds(primitive)).left < 0
        or box.top < 0
        or box.right > drawing.width_mm
        or box.bottom > drawing.height_mm
    ]


def overlapping(drawing: Drawing) -> list[tuple[str, str]]:
    """Pairs of labels that touch."""
    pairs = []
    for first, second in combinations(labels(drawing), 2):
        a, b = bounds(first), bounds(second)
        if a.left < b.right and b.left < a.right and a.top < b.bottom and b.top < a.bottom:
            pairs.append((first.text, second.text))
    return pairs


def assert_sound(drawing: Drawing) -> None:
    """Fails unless everything lies on the paper, no labels touch, and the paper fits the text column."""
    assert outside(drawing) == []
    assert overlapping(drawing) == []
    assert drawing.width_mm <= ROOM_MM
