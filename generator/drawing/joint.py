"""A raked and refilled bed joint in section, to scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from generator.drawing.annotate import (
    LINE_MM,
    RING_MM,
    Scale,
    arc,
    dimension_across,
    dimension_upright,
    leader,
    length_told,
    lettering,
    lines_in,
    ringed,
    scale_for,
    text_width_mm,
)
from generator.drawing.model import (
    MEDIUM,
    THICK,
    THIN,
    Drawing,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitives,
    filled,
    rectangle,
)
from generator.values import METRIC, Spelling, Struct

WIDTH_MM: Final = 54.0
"""The narrow column of a sheet: the joint stands beside its steps."""

RECESS_MM: Final = 2.5
"""How far a recessed joint is kept back: the middle of the 2 to 3 mm of the clause (common practice)."""

WORN_ARRIS_MM: Final = 3.0
"""Radius of the worn arrises drawn beside a recessed joint: an illustration, not a measurement."""

AS_FOUND: Final = "as-found"
PROFILES: Final = ("flush", "brushed-flush", "slightly-recessed", "tuck", AS_FOUND)
_SUM_LIMIT_MM: Final = 0.5
_LEFT: Final = 17.0
_ROOM: Final = (28.5, 25.0)
_LEAST_BEHIND: Final = 7.0
_UNIT: Final = 7.0
_MARGIN: Final = 1.5
_RING_PITCH: Final = 2 * RING_MM + 0.6
_NUMBER_ROW: Final = 2 * RING_MM + 3.0


class JointWords(Struct, frozen=True):
    """What stands on the section and in the alternative text.

    In braces: `{width}`, `{depth}`, `{layers}`, `{scale}`, `{profile}`.
    """

    old: str
    layers: str
    one_layer: str
    finish: str
    profiles: tuple[tuple[str, str], ...]
    alt: str

    def profile(self, name: str) -> str:
        """The words of a profile; a name without words is as the old joints."""
        known = dict(self.profiles)
        return known.get(name, known[AS_FOUND])


class _Section(Struct, frozen=True):
    """Where the parts of the section lie on paper."""

    scale: Scale
    top: float
    joint_top: float
    joint_bottom: float
    bottom: float
    face: float
    back: float
    right: float


def joint_section(
    width_mm: float,
    depth_mm: float,
    layers_mm: Sequence[float],
    profile: str,
    words: JointWords,
    spelling: Spelling = METRIC,
) -> Drawing:
    """The section through two units and the joint between them, the face on the left.

    Width and depth of the joint and thickness of each layer are in mm, the first layer at the back. Profiles:
    `flush`, `brushed-flush`, `slightly-recessed`; any other is dashed, to be as the old joints. ValueError
    for lengths not above 0, layers that do not make up the depth within 0.5 mm, or a joint beyond any scale.
    """
    _check(width_mm, depth_mm, layers_mm)
    profile = profile.strip().lower().replace(" ", "-")
    inside = _numbers_fit_inside(width_mm, depth_mm, layers_mm)
    section = _placed(width_mm, depth_mm, _MARGIN if inside else _MARGIN + _NUMBER_ROW)
    recess = _recess(profile, layers_mm) * section.scale.factor
    values = {
        "width": length_told(width_mm, spelling), "depth": length_told(depth_mm, spelling), "scale": str(section.scale),
        "layers": _layers_said(layers_mm, words), "profile": words.profile(profile),
    }  # fmt: skip
    notes = _notes(values, words)
    face, above, below = section.face, section.joint_top, section.joint_bottom
    primitives = (
        Polygon(rectangle(section.back, above, section.right, below), 0.0, hatch="level"),
        *_new_mortar(section, layers_mm, profile, recess),
        *_units(section, WORN_ARRIS_MM * section.scale.factor if recess else 0.0),
        *_break(section),
        *_numbers(section, layers_mm, recess, inside),
        *dimension_upright(above, below, face - 2.5, width_mm, face, spelling),
        *dimension_across(face, section.back, section.bottom + 4.5, depth_mm, section.bottom, spelling),
        *_names(section, words),
        *lettering(notes, 0.5, section.bottom + 17.0),
    )
    height = section.bottom + 17.0 + LINE_MM * (len(notes) - 1) + 1.5
    return Drawing(WIDTH_MM, round(height, 2), filled(words.alt, **values), primitives)


def _layers_said(layers_mm: Sequence[float], words: JointWords) -> str:
    count = len(layers_mm)
    return words.one_layer if count == 1 else filled(words.layers, layers=str(count))


def _notes(values: dict[str, str], words: JointWords) -> list[str]:
    notes = (values["layers"], filled(words.finish, **values))
    return [line for note in notes for line in lines_in(note, WIDTH_MM - 1.0)]


def _check(width_mm: float, depth_mm: float, layers_mm: Sequence[float]) -> None:
    lengths = (width_mm, depth_mm, *layers_mm)
    if not layers_mm or not all(math.isfinite(length) and length > 0 for length in lengths):
        raise ValueError(f"a joint of {width_mm} by {depth_mm} mm in layers of {layers_mm}: valid above 0")
    if abs(sum(layers_mm) - depth_mm) > _SUM_LIMIT_MM:
        raise ValueError(f"layers of {sum(layers_mm)} mm in all do not fill a depth of {depth_mm} mm")


def _placed(width_mm: float, depth_mm: float, top: float) -> _Section:
    scale = scale_for(depth_mm, width_mm, _ROOM)
    joint_top = top + _UNIT
    joint_bottom = joint_top + width_mm * scale.factor
    back = _LEFT + depth_mm * scale.factor
    right = max(back + _LEAST_BEHIND, WIDTH_MM - 1.5)
    return _Section(scale, top, joint_top, joint_bottom, joint_bottom + _UNIT, _LEFT, back, right)


def _numbers_fit_inside(width_mm: float, depth_mm: float, layers_mm: Sequence[float]) -> bool:
    factor = scale_for(depth_mm, width_mm, _ROOM).factor
    room = _RING_PITCH + 0.6
    return width_mm * factor >= room and (min(layers_mm) - RECESS_MM) * factor >= room


def _recess(profile: str, layers_mm: Sequence[float]) -> float:
    # a thin outer layer still shows behind its recess
    return min(RECESS_MM, layers_mm[-1] / 2) if profile == "slightly-recessed" else 0.0


def _new_mortar(section: _Section, layers_mm: Sequence[float], profile: str, recess: float) -> Primitives:
    front = section.face + recess
    top, bottom = section.joint_top, section.joint_bottom
    mortar = Polygon(rectangle(front, top, section.back, bottom), 0.0, hatch="dots")
    known = profile in PROFILES and profile != AS_FOUND
    edge = Line(front, top, front, bottom, MEDIUM, () if known else (1.2, 0.8))
    edges = _layer_edges(section, layers_mm)[1:-1]
    parts = [Line(x, top, x, bottom, THIN) for x in edges]
    return (mortar, Line(section.back, top, section.back, bottom, MEDIUM), *parts, edge)


def _layer_edges(section: _Section, layers_mm: Sequence[float]) -> list[float]:
    """Where layers begin and end, from the back to the face."""
    edges = [section.back]
    for layer in layers_mm:
        edges.append(edges[-1] - layer * section.scale.factor)
    return edges


def _units(section: _Section, worn: float) -> Primitives:
    worn = min(worn, _UNIT / 2)
    upper = _outline(section.face, section.right, section.top, section.joint_top, worn)
    lower = _outline(section.face, section.right, section.bottom, section.joint_bottom, worn)
    broken = (*lower[:-1], *_jog(section), lower[-1])
    hatched = [Polygon(points, 0.0, hatch="diagonal") for points in (upper, broken)]
    # only the edges that are surfaces are drawn strong: the others are where the drawing ends
    return (*hatched, *(Polyline(points[:-1], THICK) for points in (upper, lower)))


def _outline(face: float, right: float, far: float, near: float, worn: float) -> tuple[Point, ...]:
    """A unit from its far edge down the face, round the arris, along the joint and back."""
    if worn <= 0:
        return (face, far), (face, near), (right, near), (right, far)
    inward = math.copysign(worn, far - near)
    centre = (face + worn, near + inward)
    turn = 180.0 if inward < 0 else -180.0
    return ((face, far), *arc(centre, worn, turn, turn / 2), (right, near), (right, far))


def _break(section: _Section) -> Primitives:
    """The break line behind, across units and mortar."""
    x = section.right
    return (Polyline(((x, section.top - 1.0), *_jog(section), (x, section.bottom + 1.0)), THIN),)


def _jog(section: _Section) -> tuple[Point, ...]:
    """The jog of the break line, down the lower unit."""
    x, middle = section.right, (section.joint_bottom + section.bottom) / 2
    return (x, middle - 1.6), (x - 1.2, middle - 0.6), (x + 1.2, middle + 0.6), (x, middle + 1.6)


def _numbers(section: _Section, layers_mm: Sequence[float], recess: float, inside: bool) -> Primitives:
    edges = _layer_edges(section, layers_mm)
    edges[-1] += recess
    centres = [(a + b) / 2 for a, b in pairwise(edges)]
    middle = (section.joint_top + section.joint_bottom) / 2
    if inside:
        return tuple(part for number, x in enumerate(centres, 1) for part in ringed(number, x, middle))
    # above the section, spread where layers are thinner than a ring, and only some where there are many
    shown = _shown(len(centres))
    pitch = max(_RING_PITCH, abs(centres[0] - centres[-1]) / max(1, len(shown) - 1))
    row, reach = _MARGIN + RING_MM, pitch * (len(shown) - 1)
    first = max((centres[0] + centres[-1] + reach) / 2, _LEFT + reach)
    parts: list[Primitives] = []
    for place, index in enumerate(shown):
        x = first - place * pitch
        parts += [leader((centres[index], middle), (x, row + RING_MM)), ringed(index + 1, x, row)]
    return tuple(primitive for part in parts for primitive in part)


def _shown(count: int) -> list[int]:
    """The layers whose numbers have room, the first and the last among them."""
    step = math.ceil(count * _RING_PITCH / (WIDTH_MM - 2 * _LEFT))
    shown = [*range(0, count - 1, step), count - 1]
    if len(shown) > 2 and shown[-1] - shown[-2] < step:
        del shown[-2]
    return shown


def _names(section: _Section, words: JointWords) -> Primitives:
    """What the old mortar is called, below the section, clear of the dimension."""
    x, middle = section.right - 2.0, (section.joint_top + section.joint_bottom) / 2
    lines = lines_in(words.old, WIDTH_MM - 2.0)
    first = section.bottom + 9.0
    end = min(WIDTH_MM - 0.5, max(section.right, max(map(text_width_mm, lines)) + 0.5))
    return (
        *leader((x, middle), (x, first - LINE_MM + 0.6)),
        *lettering(lines, end, first, anchor="end"),
    )
