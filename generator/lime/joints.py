"""Joints of walls: faces, joint length and area, and the mortar to point or to bed them.

Queen closers and quoins are left out; they add little on large faces. A litre a square metre is a millimetre
of depth over the whole face. Confidence of a source: R read, r read in a weak copy, M from memory, X computed
from the figures named.
"""

from __future__ import annotations

from typing import Final, Literal

from generator.lime.limits import checked, positive
from generator.values import Range, Struct

Bond = Literal["stretcher", "header", "english", "flemish", "english-garden", "flemish-garden"]

MM2_PER_M2: Final = 1e6
MM_PER_M: Final = 1000.0
JOINT_LIMITS_MM: Final = (0.1, 150.0)
DEPTH_LIMITS_MM: Final = (0.0, 1000.0)


class Unit(Struct, frozen=True):
    """A brick or squared stone as laid: length of a stretcher, width through the wall, height of a course."""

    length_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        positive("length_mm", self.length_mm)
        positive("width_mm", self.width_mm)
        positive("height_mm", self.height_mm)


def _courses(bond: Bond, stretchers: int) -> tuple[tuple[int, int], ...]:
    """Stretchers and headers in the repeat of each course of the bond's repeat."""
    if stretchers < 1:
        raise ValueError(f"stretchers is {stretchers}: valid from 1 up")
    repeats: dict[str, tuple[tuple[int, int], ...]] = {
        "stretcher": ((1, 0),),
        "header": ((0, 1),),
        "english": ((1, 0), (0, 1)),
        "flemish": ((1, 1),),
        "english-garden": ((1, 0),) * stretchers + ((0, 1),),
        "flemish-garden": ((stretchers, 1),),
    }
    if bond not in repeats:
        raise ValueError(f"bond is {bond}: valid {', '.join(repeats)}")
    return repeats[bond]


def faces_per_m2(unit: Unit, joint_mm: float, bond: Bond = "stretcher", stretchers: int = 3) -> float:
    """The number of unit faces seen in a square metre of wall face.

        faces of a course = count of its repeat / sum(face length + joint)
        faces = 1e6 * mean over courses / (height + joint)

    nr/m2. `stretchers` counts, in the garden bonds alone, stretching courses to a heading one (English) or
    stretchers to a header (Flemish). Valid for joints of 0.1 to 150 mm; ValueError outside. Faces are not
    bricks of the wall: see `bricks_per_m2`. Source: geometry (X). Worked: metric brick, 10 mm, is 59.26.

    >>> brick = Unit(215.0, 102.5, 65.0)
    >>> round(faces_per_m2(brick, 10.0), 2), round(faces_per_m2(brick, 10.0, "flemish"), 2)
    (59.26, 79.01)
    """
    joint = checked("joint_mm", joint_mm, *JOINT_LIMITS_MM)
    courses = _courses(bond, stretchers)
    per_mm = [
        (long + short) / (long * (unit.length_mm + joint) + short * (unit.width_mm + joint)) for long, short in courses
    ]
    return MM2_PER_M2 * sum(per_mm) / len(courses) / (unit.height_mm + joint)


def bed_joint_m_per_m2(unit: Unit, joint_mm: float) -> float:
    """The length of bed joint in a square metre of face.

        beds = 1000 / (height + joint)

    m/m2. Valid for joints of 0.1 to 150 mm; ValueError outside. Source: geometry (X).

    >>> round(bed_joint_m_per_m2(Unit(215.0, 102.5, 65.0), 10.0), 3)
    13.333
    """
    joint = checked("joint_mm", joint_mm, *JOINT_LIMITS_MM)
    return MM_PER_M / (unit.height_mm + joint)


def joint_m_per_m2(unit: Unit, joint_mm: float, bond: Bond = "stretcher", stretchers: int = 3) -> float:
    """The length of all joints in a square metre of face, each crossing counted once.

        length = 1000 / (height + joint) + faces * height / 1000

    m/m2. A perpend is counted one unit high, so the beds keep the crossings. Valid for joints of 0.1 to
    150 mm; ValueError outside. Source: geometry (X). Worked: metric brick, 10 mm, stretcher bond is 17.185.

    >>> round(joint_m_per_m2(Unit(215.0, 102.5, 65.0), 10.0), 3)
    17.185
    """
    perpends_m = faces_per_m2(unit, joint_mm, bond, stretchers) * unit.height_mm / MM_PER_M
    return bed_joint_m_per_m2(unit, joint_mm) + perpends_m


def joint_area_share(unit: Unit, joint_mm: float, bond: Bond = "stretcher", stretchers: int = 3) -> float:
    """The share of a face that is joint.

        share = joint length * joint / 1000   (= 1 - the sum of the unit faces)

    A share of area. Valid for joints of 0.1 to 150 mm; ValueError outside. Source: geometry (X). Worked:
    metric brick, 10 mm: stretcher bond 0.1719, English 0.1911.

    >>> round(joint_area_share(Unit(215.0, 102.5, 65.0), 10.0, "english"), 4)
    0.1911
    """
    return joint_m_per_m2(unit, joint_mm, bond, stretchers) * joint_mm / MM_PER_M


def joint_m_per_m2_of_share(area_share: float, joint_mm: float) -> float:
    """The length of joint in a square metre of face of which a share is joint.

        length = 1000 * area share / joint width

    m/m2; the inverse of `joint_area_share`, for stones that have no size in common. Valid for shares of 0 to 1 and
    joints of 0.1 to 150 mm; ValueError outside. Source: geometry (X). Worked: rubble of which 0.27 is mortar, with
    joints of 25 mm, has 10.8 m in a square metre.

    >>> round(joint_m_per_m2_of_share(0.27, 25.0), 1)
    10.8
    """
    share = checked("area_share", area_share, 0.0, 1.0)
    return MM_PER_M * share / checked("joint_mm", joint_mm, *JOINT_LIMITS_MM)


def pointing_l_per_m2(area_share: float, depth_mm: float) -> float:
    """The mortar to fill the joints of a square metre of face to a depth.

        litres = area share * depth

    l/m2, net: no waste. Valid for shares of 0 to 1 and depths of 0 to 1000 mm; ValueError outside. Source:
    geometry (X). Worked: metric brick, 10 mm, stretcher bond, 20 mm deep takes 3.44 l/m2.

    >>> round(pointing_l_per_m2(joint_area_share(Unit(215.0, 102.5, 65.0), 10.0), 20.0), 2)
    3.44
    """
    return checked("area_share", area_share, 0.0, 1.0) * checked("depth_mm", depth_mm, *DEPTH_LIMITS_MM)


def bricks_per_m2(unit: Unit, joint_mm: float, half_bricks: int) -> float:
    """The number of whole bricks in a square metre of solid wall so many half-bricks thick, in any bond.

        bricks = half-bricks * 1e6 / ((length + joint) * (height + joint))

    nr/m2. Valid for 1 half-brick up, and a brick whose length is two widths and a joint (where it is not, the
    perpends take the difference); ValueError below 1. Source: geometry (X). Worked: metric brick, 10 mm:
    59.26 half-brick, 118.52 one-brick. The trade's 60 and 120 (R, many) round up.

    >>> round(bricks_per_m2(Unit(215.0, 102.5, 65.0), 10.0, 2), 2)
    118.52
    """
    return checked("half_bricks", half_bricks, 1) * faces_per_m2(unit, joint_mm)


def brick_wall_mm(unit: Unit, joint_mm: float, half_bricks: int) -> float:
    """The thickness of a wall so many half-bricks thick.

        thickness = half-bricks * width + (half-bricks - 1) * joint

    mm. Valid for 1 half-brick up and joints of 0.1 to 150 mm; ValueError outside. Source: geometry (X).

    >>> brick_wall_mm(Unit(215.0, 102.5, 65.0), 10.0, 3)
    327.5
    """
    leaves = checked("half_bricks", half_bricks, 1)
    return leaves * unit.width_mm + (leaves - 1) * checked("joint_mm", joint_mm, *JOINT_LIMITS_MM)


def bedding_m3_per_m2(unit: Unit, thickness_mm: float, units_per_m2: float) -> float:
    """The mortar in a square metre of solid wall with full joints.

        mortar = thickness / 1000 - units * length * width * height / 1e9

    m3/m2, net: frogs, perforations and waste apart. Valid where the units fit in the wall; ValueError where
    they do not. Source: geometry (X). Worked: metric brick, 10 mm: 0.0176 half-brick, 0.0452 one-brick,
    0.0728 one and a half (price books 0.018 and 0.044, M; lecture notes 0.025, 0.050, 0.075 with frogs, r).

    >>> brick = Unit(215.0, 102.5, 65.0)
    >>> round(bedding_m3_per_m2(brick, 215.0, bricks_per_m2(brick, 10.0, 2)), 4)
    0.0452
    """
    solid_mm3 = unit.length_mm * unit.width_mm * unit.height_mm
    wall_m3 = positive("thickness_mm", thickness_mm) / MM_PER_M
    solid_m3 = checked("units_per_m2", units_per_m2, 0.0) * solid_mm3 / MM_PER_M**3
    if solid_m3 > wall_m3:
        raise ValueError(f"units fill {solid_m3:.4f} m3/m2: valid up to the wall's {wall_m3:.4f}")
    return wall_m3 - solid_m3


def rubble_mortar_m3_per_m2(thickness_mm: float, mortar_share: Range[float]) -> Range[float]:
    """The mortar in a square metre of rubble wall, by the share of its volume that is mortar.

        mortar = thickness / 1000 * share

    m3/m2, net. Valid for shares of 0 to 1; ValueError outside. Source: handbooks (r, fractions M): small
    irregular stones about 1/3 mortar, larger and regular 1/5 to 1/4, that is 0.20 to 0.35 in all; joint
    shares computed for coursed rubble are 0.17 to 0.26 (X).

    >>> mortar = rubble_mortar_m3_per_m2(500.0, Range(0.20, 0.30, 0.35))
    >>> round(mortar.low, 3), round(mortar.high, 3)
    (0.1, 0.175)
    """
    checked("mortar_share", mortar_share.low, 0.0, 1.0)
    checked("mortar_share", mortar_share.high, 0.0, 1.0)
    return mortar_share.times(positive("thickness_mm", thickness_mm) / MM_PER_M)


def ashlar_l_per_m(joint_mm: float, depth_mm: float) -> float:
    """The mortar in a metre of ashlar joint.

        litres = width * depth / 1000

    l/m, net. Valid for joints of 0.1 to 150 mm and depths of 0 to 1000 mm; ValueError outside. Source:
    geometry (X). Worked: a 4 mm joint filled 35 mm deep takes 0.14 l/m.

    >>> round(ashlar_l_per_m(4.0, 35.0), 2)
    0.14
    """
    depth = checked("depth_mm", depth_mm, *DEPTH_LIMITS_MM)
    return checked("joint_mm", joint_mm, *JOINT_LIMITS_MM) * depth / MM_PER_M
