"""Areas, joint lengths and mortar of each work: one pure rule each, adding names to the facts."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Decimal
from typing import Final, cast

from generator.decide.contradictions import openings_m2
from generator.library.model import Library
from generator.lime import coats, joints
from generator.questionnaire.facts import View
from generator.values import Range, Value, rounded, rounded_up

Quantities = dict[str, Value]
WHOLE: Final = Range(Decimal(100), Decimal(100), Decimal(100))
# Of others a size may be left in the answers, and tells nothing of the joint in a square metre.
_LAID_TO_GAUGE: Final = ("brick", "gauged-brick", "ashlar", "squared-rubble", "terracotta")
_MEASURED_ALONG: Final = ("ashlar", "gauged-brick", "terracotta")
"""What is measured in metres of joint, and by no area."""
# Where the bond is not known, the mortar lies between the least and the most joint of the common bonds.
_BOND_LIMITS: Final[tuple[joints.Bond, joints.Bond]] = ("stretcher", "english")


def net_area(here: View, library: Library) -> Quantities:
    """The face less the openings larger than the threshold that the answers name."""
    face, threshold = here.number("face_area_m2"), here.number("opening_deducted_over_m2")
    if not face or threshold is None:
        return {}
    return {"net_area_m2": max(face - openings_m2(here, above_m2=threshold), Decimal(0))}


def treated_area(here: View, library: Library) -> Quantities:
    """The area worked on: as answered, or as marked on photographs where the answers say so."""
    area = here.span("marked_area_m2") if from_photographs(here) else answered_area(here)
    return {} if area is None else {"treated_area_m2": here.facts.spelling.kept(area.likely, 1)}


def from_photographs(here: View) -> bool:
    """Whether the answers say that the area of a work is the one marked on photographs."""
    return here.text("treated_area_from") == "photographs"


def answered_area(here: View) -> Range[Decimal] | None:
    """The area worked on by the answers: of repointing the net area times the share, of other works the net area."""
    net = here.number("net_area_m2")
    share = here.span("treated_per_cent") if here.text("work") == "repoint" else WHOLE
    if not net or share is None or not share.high:
        return None
    return share.each(lambda per_cent: net * per_cent / 100)


def marked_share(here: View, library: Library) -> Quantities:
    """The share of the net area that is marked on photographs."""
    marked, net = here.span("marked_area_m2"), here.number("net_area_m2")
    if marked is None or not net:
        return {}
    return {"marked_per_cent": marked.each(lambda area: rounded(100 * area / net))}


def treated_told(here: View, library: Library) -> Quantities:
    """How much of the face is repointed, in words: the share answered, or where it is marked."""
    if here.text("work") != "repoint":
        return {}

    def said(name: str) -> str:
        return here.spoken(name) or library.words["to-be-settled"]

    length = here.number("joint_length_m_per_m2") if is_scattered(here) else None
    if from_photographs(here):
        told = library.phrase("treated-marked", photographs=said("marked_on"), range=said("marked_area_m2"))
    else:
        share, area, how = said("treated_per_cent"), said("net_area_m2"), said("treated_how")
        told = library.phrase("treated-share", share=share, area=area, how=how)
    if length:
        told = library.phrase("treated-scattered", told=told, length=here.facts.spelling.in_an_area(length))
    return {"treated_told": told}


def is_scattered(here: View) -> bool:
    """Whether a work points failed joints that lie apart, measured as an area."""
    if here.text("work") != "repoint" or from_photographs(here):
        return False
    return here.text("treated_how") == "scattered" and here.text("masonry") not in _MEASURED_ALONG


def treated_range(here: View) -> Range[float] | None:
    """The area worked on, least to most: of repointing by the share answered, of other works the one there is."""
    likely, share = here.real("treated_area_m2"), here.span("treated_per_cent")
    if likely is None:
        return None
    if here.text("work") != "repoint" or share is None or not share.likely:
        return Range(likely, likely, likely)
    return share.each(lambda end: likely * float(end / share.likely))


def joint_length(here: View, library: Library) -> Quantities:
    """The length of joint in a square metre, and of all that is treated: from units, or where stones have no gauge
    from the share of the face that is mortar, over the usual joint."""
    per_m2 = _joint_m_per_m2(here, library)
    if per_m2 is None:
        return {}
    found: Quantities = {"joint_length_m_per_m2": here.facts.spelling.kept(per_m2, 1)}
    area = here.real("treated_area_m2")
    if area is not None:
        found["treated_joint_length_m"] = here.facts.spelling.kept(area * per_m2, 0)
    return found


def _joint_m_per_m2(here: View, library: Library) -> float | None:
    unit, joint = unit_of(here), joint_of(here)
    if joint is None:
        return None
    if unit is not None:
        return joints.joint_m_per_m2(unit, joint.likely, _bonds(here)[0])
    shares = None if here.text("masonry") in _MEASURED_ALONG else joint_share(here, library)
    return None if shares is None else joints.joint_m_per_m2_of_share(shares.likely, joint.likely)


def dubbing(here: View, library: Library) -> Quantities:
    """The filling of hollows in place, in litres: a millimetre over a square metre is one."""
    area, mean_mm = here.number("treated_area_m2"), hollows_mm(here)
    return {"dubbing_l": rounded(area * mean_mm, 1)} if area and mean_mm else {}


def hollows_mm(here: View) -> Decimal:
    """The mean depth of the hollows that are filled before coats; laths and a float coat below a finish have none."""
    if here.text("masonry") == "laths" or here.text("plaster_coats") == "finish":
        return Decimal(0)
    return here.number("dubbing_mm") or Decimal(0)


def firm_parts(here: View, library: Library) -> Quantities:
    """What is firm of cement in joints and of what is taken off, and the cement that is loose."""
    found: Quantities = {}
    cement = here.number("cement_area_m2")
    if cement is not None:
        firm = _firm_part(cement, here.text("cement_hold"), here.number("cement_firm_m2"))
        firm = cement if firm is None else firm
        found |= {"cement_firm_part_m2": firm, "cement_loose_part_m2": cement - firm}
    area = here.number("treated_area_m2") if here.text("work") == "remove" else None
    taken_off = None if area is None else _firm_part(area, here.text("removed_hold"), here.number("removed_firm_m2"))
    if taken_off is not None:
        return found | {"removed_firm_part_m2": taken_off}
    share = library.number("removed_firm_per_cent")
    if area is None or share is None or here.text("removed_hold") != "mixed":
        return found
    return found | {"removed_firm_reckoned_m2": rounded(area * share / 100, 0)}


def _firm_part(area: Decimal, hold: str, answered: Decimal | None) -> Decimal | None:
    """The part of an area that holds firm; None where nobody told."""
    if hold == "mixed" and answered is not None:
        return min(answered, area)
    return {"firm": area, "loose": Decimal(0)}.get(hold)


def washed(here: View, library: Library) -> Quantities:
    """The wash on new coats of the same wall, and on what was there before."""
    area = here.number("treated_area_m2")
    if here.text("work") != "limewash" or area is None:
        return {}
    works = here.around("element").inside("work")
    new = [work.number("treated_area_m2") for work in works if work.text("work") in ("plaster", "render")]
    on_new = min(area, sum((size for size in new if size is not None), Decimal(0)))
    return {"wash_on_new_m2": on_new, "wash_on_old_m2": area - on_new}


def mortar(here: View, library: Library) -> Quantities:
    """The mortar in a square metre of treated face, to the raking depth: low, likely, high."""
    depth, shares = here.real("rake_depth_mm"), joint_share(here, library)
    if depth is None or shares is None:
        return {}  # only pointing has a raking depth
    kept = here.facts.spelling.kept
    return {"mortar_l_per_m2": shares.each(lambda share: kept(joints.pointing_l_per_m2(share, depth), 1))}


def joint_share(here: View, library: Library) -> Range[float] | None:
    """The share of the face that is joint: from the units where they are known, from the table for rubble."""
    unit, joint = unit_of(here), joint_of(here)
    if unit is not None and joint is not None:
        least, most = _bonds(here)
        shares = [
            joints.joint_area_share(unit, joint.low, least),
            (joints.joint_area_share(unit, joint.likely, least) + joints.joint_area_share(unit, joint.likely, most))
            / 2,
            joints.joint_area_share(unit, joint.high, most),
        ]
        return Range(*sorted(shares))
    row = library.tables["rubble-mortar-share"].row_for(here)
    return row.spread() if row is not None else None


def access_face(wall: View) -> Quantities:
    """The face that access reaches: the largest answered for a work on it, or else its width times its height."""
    faces = [face for work in wall.inside("work") if (face := work.number("face_area_m2")) is not None]
    width, height = wall.number("face_width_m"), wall.number("face_height_m")
    if not faces and width and height:
        faces = [width * height]
    return {"access_face_m2": max(faces)} if faces else {}


def unit_size(wall: View) -> Quantities:
    """The size of a brick or stone as it is told: its length, its width where known, and its height."""
    sides = [wall.number(f"unit_{side}_mm") for side in ("length", "width", "height")]
    known = [side for side in sides if side is not None]
    return {"unit_size": wall.facts.spelling.size(known)} if sides[0] and sides[-1] else {}


def laths(here: View, library: Library) -> Quantities:
    """The length of new lath and its nails, net of cutting, at the table's sizes and the gap chosen."""
    area, gap = here.real("new_laths_m2"), here.real("lath_gap_chosen_mm")
    row = library.tables["lath"].row_for(here)
    if not area or gap is None or row is None:
        return {}
    width, length, support = (float(row.number(name)) for name in ("width_mm", "length_mm", "support_mm"))
    nails = coats.nails_nr_per_m2(coats.laths_nr_per_m2(width, gap, length), length, min(support, length))
    return {
        "new_lath_m": here.facts.spelling.kept(area * coats.lath_m_per_m2(width, gap), 0),
        "new_lath_nails_nr": rounded_up(area * nails),
    }


def counter_laths(here: View, library: Library) -> Quantities:
    """The length of timbers too wide for nibs under new laths: the least there is, at the greatest distance tabled."""
    area, wide = here.real("new_laths_m2"), here.number("joist_width_mm")
    row = library.tables["lath"].row_for(here)
    narrow = library.number("wide_timber_mm")
    if not area or wide is None or narrow is None or row is None or wide <= narrow:
        return {}
    return {"counter_lath_m": here.facts.spelling.kept(area * 1000 / float(row.number("support_mm")), 1)}


def laths_all_new(here: View, library: Library) -> Quantities:
    """Whether new laths are fixed all over a work, so that none of the old stays on it."""
    new, net = here.number("new_laths_m2"), here.number("net_area_m2")
    return {} if new is None or not net else {"laths_all_new": new >= net}


def raising(here: View, library: Library) -> Quantities:
    """The days in which a sag is raised, a turn on each worked day.

    days = turns * 7 / days worked in a week, up;   15 mm at 2 mm a turn, five days worked: 8 turns, 12 days
    """
    turn, least = library.number("raised_mm"), library.number("sag_mm", "refix.survey")
    worked = here.number("working_days_per_week")
    if not here.yes("refix_from_above") or here.text("masonry") != "laths" or not (turn and least and worked):
        return {}
    answered = here.number("sagged_mm")
    turns = math.ceil((least if answered is None else answered) / turn)
    return {"raise_days": Decimal(math.ceil(turns * 7 / worked))} if turns else {}


RULES: Final[tuple[Callable[[View, Library], Quantities], ...]] = (
    net_area,
    treated_area,
    marked_share,
    joint_length,
    treated_told,
    mortar,
    laths,
    counter_laths,
    laths_all_new,
    dubbing,
    firm_parts,
    washed,
    raising,
)


def lift_days_nr(coat: View) -> int:
    """In how many days, the fewest, a wall rises in lifts, a day for the release of the first; 1 where nobody knows."""
    work = coat.around("work")
    height, lift = work.real("rebuild_height_m"), work.real("lift_mm")
    if coat.text("coat") != "bedding" or not height or not lift:
        return 1
    lifts_nr = math.ceil(height * 1000 / lift)
    return lifts_nr + 1 if lifts_nr > 1 else 1


def fill_layers_nr(coat: View) -> int:
    """In how many layers, the fewest of equal ones, raked joints are filled; 1 where none are, or nobody knows."""
    depth, layer = coat.around("work").number("rake_depth_mm"), coat.number("layer_mm")
    if coat.text("coat") != "pointing" or depth is None or not layer:
        return 1
    return max(1, math.ceil(depth / layer))


def joint_of(here: View) -> Range[float] | None:
    """The width of the joints in mm, low, likely and high."""
    joint = here.span("joint_width_mm")
    return joint.each(float) if joint is not None else None


def unit_of(here: View) -> joints.Unit | None:
    """The unit as laid; with no width the header counts as half the length, which no stretcher bond uses."""
    if here.text("masonry") not in _LAID_TO_GAUGE:
        return None
    length, height, width = (here.real(f"unit_{side}_mm") for side in ("length", "height", "width"))
    if length is None or height is None:
        return None
    return joints.Unit(length, length / 2 if width is None else width, height)


def _bonds(here: View) -> tuple[joints.Bond, joints.Bond]:
    bond = here.text("bond")
    if bond:
        return cast(joints.Bond, bond), cast(joints.Bond, bond)
    return _BOND_LIMITS if here.text("masonry") == "brick" else ("stretcher", "stretcher")
