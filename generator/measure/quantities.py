"""Areas, joint lengths and mortar of each work: one pure rule each, adding names to the facts."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Final, cast

from generator.library.model import Library
from generator.lime import coats, joints, season
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range, Value, rounded, rounded_up

Quantities = dict[str, Value]
UNIT_SIDES: Final = ("unit_length_mm", "unit_height_mm", "unit_width_mm")
WHOLE: Final = Range(Decimal(100), Decimal(100), Decimal(100))
# Where the bond is not known, the mortar lies between the least and the most joint of the common bonds.
_BOND_LIMITS: Final[tuple[joints.Bond, joints.Bond]] = ("stretcher", "english")


def net_area(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The face less the openings larger than the threshold that the answers name."""
    face = facts.get(path, "face_area_m2")
    threshold = facts.get(path, "opening_deducted_over_m2")
    if not isinstance(face, Decimal) or face == 0 or not isinstance(threshold, Decimal):
        return {}
    openings = facts.get(path, "openings")
    deducted = (
        sum((_opening(item, threshold) for item in openings), Decimal(0)) if isinstance(openings, tuple) else Decimal(0)
    )
    return {"net_area_m2": max(face - deducted, Decimal(0))}


def _opening(item: Value, threshold: Decimal) -> Decimal:
    """The area to deduct for openings of one size: all of it above the threshold, none up to it."""
    assert isinstance(item, dict)
    width, height, count = item["width_m"], item["height_m"], item.get("count_nr", Decimal(1))
    assert isinstance(width, Decimal)
    assert isinstance(height, Decimal)
    assert isinstance(count, Decimal)
    return width * height * count if width * height > threshold else Decimal(0)


def treated_area(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The area worked on: as answered, or as marked on photographs where the answers say so."""
    if facts.get(path, "treated_area_from") == "photographs":
        area = facts.get(path, "marked_area_m2")
    else:
        area = answered_area(facts, path)
    return {"treated_area_m2": rounded(area.likely, 1)} if isinstance(area, Range) else {}


def answered_area(facts: Facts, path: ScopePath) -> Range[Decimal] | None:
    """The area worked on by the answers: of repointing the net area times the share, of other works the net area."""
    net = facts.get(path, "net_area_m2")
    share = facts.get(path, "treated_per_cent") if facts.get(path, "work") == "repoint" else WHOLE
    if not isinstance(net, Decimal) or not isinstance(share, Range) or not net or not share.high:
        return None
    return share.times(net / 100)


def marked_share(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The share of the net area that is marked on photographs."""
    marked, net = facts.get(path, "marked_area_m2"), facts.get(path, "net_area_m2")
    if not isinstance(marked, Range) or not isinstance(net, Decimal) or not net:
        return {}
    low, likely, high = (rounded(100 * area / net) for area in (marked.low, marked.likely, marked.high))
    return {"marked_per_cent": Range(low, likely, high)}


def treated_told(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """How much of the face is repointed, in words: the share answered, or where it is marked."""
    if facts.get(path, "work") != "repoint":
        return {}

    def said(name: str) -> str:
        return facts.spoken(path, name) or library.words["to-be-settled"]

    if facts.get(path, "treated_area_from") == "photographs":
        told = library.phrase("treated-marked", photographs=said("marked_on"), range=said("marked_area_m2"))
    else:
        share, area, how = said("treated_per_cent"), said("net_area_m2"), said("treated_how")
        told = library.phrase("treated-share", share=share, area=area, how=how)
    return {"treated_told": told}


def joint_length(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The length of joint in a square metre, and of all that is treated, where units are laid to gauge."""
    unit, joint = unit_of(facts, path), joint_of(facts, path)
    if unit is None or joint is None:
        return {}
    per_m2 = joints.joint_m_per_m2(unit, joint.likely, _bonds(facts, path)[0])
    found: Quantities = {"joint_length_m_per_m2": rounded(per_m2, 1)}
    area = facts.get(path, "treated_area_m2")
    if isinstance(area, Decimal):
        found["treated_joint_length_m"] = rounded(float(area) * per_m2, 0)
    return found


def mortar(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The mortar in a square metre of treated face, to the raking depth: low, likely, high."""
    depth, shares = facts.get(path, "rake_depth_mm"), joint_share(facts, path, library)
    if not isinstance(depth, Decimal) or shares is None:
        return {}  # only pointing has a raking depth
    low, likely, high = (
        joints.pointing_l_per_m2(share, float(depth)) for share in (shares.low, shares.likely, shares.high)
    )
    return {"mortar_l_per_m2": Range(rounded(low, 1), rounded(likely, 1), rounded(high, 1))}


def joint_share(facts: Facts, path: ScopePath, library: Library) -> Range[float] | None:
    """The share of the face that is joint: from the units where they are known, from the table for rubble."""
    masonry = facts.get(path, "masonry")
    row = library.tables["rubble-mortar-share"].find(masonry=masonry) if isinstance(masonry, str) else None
    unit, joint = unit_of(facts, path), joint_of(facts, path)
    if unit is not None and joint is not None:
        least, most = _bonds(facts, path)
        shares = [
            joints.joint_area_share(unit, joint.low, least),
            (joints.joint_area_share(unit, joint.likely, least) + joints.joint_area_share(unit, joint.likely, most))
            / 2,
            joints.joint_area_share(unit, joint.high, most),
        ]
        return Range(*sorted(shares))
    if row is None:
        return None
    return Range(float(row.values["low"]), float(row.values["likely"]), float(row.values["high"]))


def duration(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The working days of a work, from its area and the output answered."""
    area, output = facts.get(path, "treated_area_m2"), facts.get(path, "output_m2_per_day")
    if not isinstance(area, Decimal) or not isinstance(output, Decimal):
        return {}
    days = season.duration_working_days(float(area), float(output))
    return {"duration_days": max(Decimal(1), Decimal(days.__ceil__()))}


def laths(facts: Facts, path: ScopePath, library: Library) -> Quantities:
    """The length of new lath and its nails, net of cutting, at the table's sizes and the gap chosen."""
    area, gap, masonry = (facts.get(path, name) for name in ("new_laths_m2", "lath_gap_chosen_mm", "masonry"))
    row = library.tables["lath"].find(masonry=masonry) if isinstance(masonry, str) else None
    if not isinstance(area, Decimal) or not area or not isinstance(gap, Decimal) or row is None:
        return {}
    width, length, support = (float(row.values[name]) for name in ("width_mm", "length_mm", "support_mm"))
    number = coats.laths_nr_per_m2(width, float(gap), length)
    nails = coats.nails_nr_per_m2(number, length, min(support, length))
    return {
        "new_lath_m": rounded(float(area) * coats.lath_m_per_m2(width, float(gap)), 0),
        "new_lath_nails_nr": rounded_up(float(area) * nails),
    }


RULES: Final[tuple[Callable[[Facts, ScopePath, Library], Quantities], ...]] = (
    net_area,
    treated_area,
    marked_share,
    treated_told,
    joint_length,
    mortar,
    duration,
    laths,
)


def pointing_l(facts: Facts, path: ScopePath, library: Library) -> Range[float] | None:
    """The mortar that pointing takes, deep joints included; None where it cannot be reckoned."""
    length = facts.get(path, "open_joint_m")
    if isinstance(length, Decimal) and length:
        return _along_joints_l(facts, path, float(length))
    area, per_m2 = facts.get(path, "treated_area_m2"), facts.get(path, "mortar_l_per_m2")
    if not isinstance(area, Decimal) or not isinstance(per_m2, Range):
        return None
    deep = _deep_l(facts, path, library)
    low, likely, high = (float(area * value) + deep for value in (per_m2.low, per_m2.likely, per_m2.high))
    return Range(low, likely, high)


def _along_joints_l(facts: Facts, path: ScopePath, length_m: float) -> Range[float] | None:
    """The mortar of joints measured along their length, filled to the raking depth."""
    joint, depth = joint_of(facts, path), facts.get(path, "rake_depth_mm")
    if joint is None or not isinstance(depth, Decimal):
        return None
    low, likely, high = (
        length_m * joints.ashlar_l_per_m(width, float(depth)) for width in (joint.low, joint.likely, joint.high)
    )
    return Range(low, likely, high)


def _deep_l(facts: Facts, path: ScopePath, library: Library) -> float:
    """The filling behind the pointing where joints are lost deeper than they are raked."""
    area, depth = facts.get(path, "deep_voids_m2"), facts.get(path, "rake_depth_mm")
    lost, shares = facts.get(path, "joint_depth_lost_mm"), joint_share(facts, path, library)
    if not isinstance(area, Decimal) or not isinstance(depth, Decimal) or not isinstance(lost, Range) or shares is None:
        return 0.0
    pointed, deepest = float(depth), float(lost.high)
    if deepest <= pointed:
        return 0.0
    (band,) = joints.deep_void_l_per_m2(shares.likely, [joints.DepthBand(pointed, deepest, 1.0)], pointed)
    return float(area) * band.high


def joint_of(facts: Facts, path: ScopePath) -> Range[float] | None:
    """The width of the joints in mm, low, likely and high."""
    value = facts.get(path, "joint_width_mm")
    return Range(float(value.low), float(value.likely), float(value.high)) if isinstance(value, Range) else None


def unit_of(facts: Facts, path: ScopePath) -> joints.Unit | None:
    """The unit as laid; with no width the header counts as half the length, which no stretcher bond uses."""
    length, height, width = (facts.get(path, name) for name in UNIT_SIDES)
    if not isinstance(length, Decimal) or not isinstance(height, Decimal):
        return None
    return joints.Unit(float(length), float(width) if isinstance(width, Decimal) else float(length) / 2, float(height))


def _bonds(facts: Facts, path: ScopePath) -> tuple[joints.Bond, joints.Bond]:
    bond = facts.get(path, "bond")
    if isinstance(bond, str):
        return cast(joints.Bond, bond), cast(joints.Bond, bond)
    return _BOND_LIMITS if facts.get(path, "masonry") == "brick" else ("stretcher", "stretcher")
