"""The mortar, or limewash, that each coat of a work takes: its area, its litres a square metre, and both together."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from generator.library.model import Library
from generator.lime import coats, joints
from generator.lime.deep_joints import deep_void_l
from generator.measure.outputs import LAY
from generator.measure.quantities import hollows_mm, joint_of, joint_share, treated_range, unit_of
from generator.questionnaire.facts import View
from generator.values import Range, total

Volume = Range[float] | None
NOTHING: Final = Range(0.0, 0.0, 0.0)

WALL_TOLERANCE_MM: Final = 25.0  # an old wall answered to the nearest inch is still the bricks it is made of

# The coats whose mix mends the old face of their wall, as the line for it takes them.
MENDED_IN: Final = ("scratch", "splatter", "render-base", "harl-first")

# The coats whose mix beds the copings of their wall, the first that is there, as the line for them takes them.
COPED_IN: Final = ("bedding", "pointing")

# The mean thickness of flaunching as a share of that at the pots, the edge a third of it (`coat-thickness`). Geometry:
# a pyramid about one pot is 1/3 + 2/3 / 3, an even slope from a row of pots the mean of both ends, and a top
# half of which lies level between pots 1/2 + 2/3 / 2.
FLAUNCHING_MEAN: Final = Range(5 / 9, 2 / 3, 5 / 6)


def coat_l(here: View, library: Library) -> Volume:
    """The litres in place of one coat; None where an answer it needs is missing, which has its own finding."""
    area, per_m2 = coat_area_m2(here), coat_l_per_m2(here, library)
    return None if area is None or per_m2 is None else _product(area, per_m2)


def coat_area_m2(here: View) -> Volume:
    """The area that a coat covers, least to most; of joints measured along their length the metres of them."""
    length, flaunched = _joints_m(here), here.real("flaunching_m2")
    if length:
        return Range(length, length, length)
    if here.text("work") == "flaunching":
        return None if flaunched is None else Range(flaunched, flaunched, flaunched)
    return treated_range(here)


def covered_in(here: View) -> str:
    """The unit of what a coat covers: of joints measured along their length metres."""
    return "m" if _joints_m(here) else "m²"


def _joints_m(here: View) -> float | None:
    return here.real("open_joint_m") if here.text("work") == "repoint" else None


def coat_l_per_m2(here: View, library: Library) -> Volume:
    """The litres in place in a square metre of a coat, or in a metre of joint; limewash in all its coats.

    With what it takes beside the coat itself.
    """
    coat = coat_alone_l_per_m2(here, library)
    return None if coat is None else total([coat, *beside_l_per_m2(here, library).values()], 0.0)


def coat_alone_l_per_m2(here: View, library: Library) -> Volume:
    """The litres in place in a square metre of a coat, or in a metre of joint, without what it takes beside it."""
    return _BY_WORK.get(here.text("work"), _on_surface)(here, library)


def beside_l_per_m2(here: View, library: Library) -> dict[str, Range[float]]:
    """What a mix takes beside the coat itself, over all that is treated with it, by the operation that lays it.

    That is what fills hollows and joints lost deeper, what loose units, pots and copings are bedded again in, and what
    mends an old face beside a first coat.
    """
    on_wall = {"copings": _coped_l_per_m2(here, library), "mend-old": _mended_l_per_m2(here, library)}
    return {**_beside_in_work(here, library), **{name: litres for name, litres in on_wall.items() if litres.high}}


def _beside_in_work(here: View, library: Library) -> dict[str, Range[float]]:
    """What a mix takes beside the coat itself on the work of that coat."""
    work = here.around("work")
    if here.text("work") == "flaunching":
        area = work.real("flaunching_m2")
        pots, units = (_bedded_again(work, library, each, area) for each in ("pots_nr", "top_units_nr"))
        return {LAY: pots, "reset": units}
    if here.text("work") != "repoint":
        hollow = _dubbing_l_per_m2(here)
        return {"dub": Range(hollow, hollow, hollow)}
    if here.text("coat") == "ribbon" or work.real("open_joint_m"):
        return {}
    depth, shares = work.real("rake_depth_mm"), joint_share(work, library)
    bedded = _bedded_again(work, library, "loose_units_nr", work.real("treated_area_m2"))
    deep = NOTHING if depth is None or shares is None else _deep_l_per_m2(work, shares, depth)
    return {"deep": deep, "reset": bedded}


def _product(one: Range[float], other: Range[float]) -> Range[float]:
    return Range(one.low * other.low, one.likely * other.likely, one.high * other.high)


def _pointing(here: View, library: Library) -> Volume:
    """The mortar of joints filled to the raking depth."""
    work = here.around("work")
    depth, joint, shares = work.real("rake_depth_mm"), joint_of(work), joint_share(work, library)
    if depth is None:
        return None
    if here.text("coat") == "ribbon":
        return _ribbon(here)
    if work.real("open_joint_m"):
        return None if joint is None else joint.each(lambda width: joints.ashlar_l_per_m(width, depth))
    if shares is None:
        return None
    return shares.each(lambda share: joints.pointing_l_per_m2(share, depth))


def _ribbon(here: View) -> Volume:
    """The ribbon of tuck pointing: all joint of a square metre, as wide and as thick as the tables have it."""
    length, wide, thick = (here.real(name) for name in ("joint_length_m_per_m2", "ribbon_mm", "layer_mm"))
    if length is None or wide is None or thick is None:
        return None
    litres = length * wide * thick / 1000
    return Range(litres, litres, litres)


def _deep_l_per_m2(work: View, shares: Range[float], depth_mm: float) -> Range[float]:
    """The filling behind the pointing, over all that is treated: from the least depth lost to the greatest."""
    area, treated, lost = work.real("deep_voids_m2"), work.real("treated_area_m2"), work.span("joint_depth_lost_mm")
    if not area or not treated or lost is None:
        return NOTHING
    return deep_void_l(area, shares, lost.each(float), pointed_mm=depth_mm).times(1 / treated)


def _bedded_again(work: View, library: Library, counted: str, area_m2: float | None) -> Range[float]:
    """What loose units or pots take that are bedded again, over all that is treated; 0 where nobody counted them."""
    of = "flaunching" if counted == "pots_nr" else "repoint"  # a unit of the top as any loose one of its masonry
    number, row = work.real(counted), library.tables["reset-mortar"].find(work=of, masonry=work.text("masonry"))
    if not number or not area_m2 or row is None:
        return NOTHING
    return row.spread().times(number / area_m2)


def _mended_l_per_m2(coat: View, library: Library) -> Range[float]:
    """The places of an old face that are mended before their wash, over the first new coat of the wall on masonry.

    Where no coat is laid on it, in the mortar of its joints.
    """
    wall, area = coat.around("element"), coat_area_m2(coat)
    on_face = next((each for each in wall.inside("coat") if each.text("coat") in MENDED_IN), None)
    first = on_face or coped_in(wall)
    if first is None or first.path != coat.path or area is None or not area.likely:
        return NOTHING
    return total((_mended_l(work, library).times(1 / area.likely) for work in wall.inside("work")), 0.0)


def coped_in(wall: View) -> View | None:
    """The coat whose mix beds the copings of a wall; None where it has no new mortar."""
    coats = (each for name in COPED_IN for each in wall.inside("coat") if each.text("coat") == name)
    return next(coats, None)


def beds_copings_in_its_mix(work: View) -> bool:
    """Whether a work beds copings in the mix of their wall; those that are softer have another."""
    return "coping" in work.texts("enabling_tasks") and not work.yes("copings_softer")


def _coped_l_per_m2(coat: View, library: Library) -> Range[float]:
    """What copings of the wall are bedded in, over the work whose mortar it is."""
    wall, area = coat.around("element"), coat_area_m2(coat)
    first, row = coped_in(wall), library.tables["coping-mortar"].row_for(wall)
    if first is None or first.path != coat.path or area is None or not area.likely or row is None:
        return NOTHING
    coping_m = sum(work.real("coping_m") or 0.0 for work in wall.inside("work") if beds_copings_in_its_mix(work))
    return row.spread().times(coping_m / area.likely)


def _mended_l(work: View, library: Library) -> Range[float]:
    """The litres in the places of an old face that are mended before it is washed."""
    mended, row = work.real("wash_mend_m2"), library.tables["mend-depth"].row_for(work)
    if work.text("work") != "limewash" or not mended or row is None or work.number("wash_on_old_m2") == 0:
        return NOTHING
    return row.spread().times(mended)


def _bedding(here: View, library: Library) -> Volume:
    """Mortar of rebuilt walling: full joints between its half-bricks, or its volume times its share of mortar."""
    thick, shares = here.real("rebuild_thickness_mm"), joint_share(here, library)
    if thick is None or shares is None:
        return None
    bricks = _brickwork_m3_per_m2(here, thick)
    return (bricks or joints.rubble_mortar_m3_per_m2(thick, shares)).times(1000.0)


def _brickwork_m3_per_m2(here: View, thick_mm: float) -> Volume:
    """The mortar between the bricks of a solid wall; None where bricks do not make up the thickness answered."""
    unit, joint = unit_of(here), joint_of(here)
    if here.text("masonry") != "brick" or unit is None or joint is None:
        return None
    leaves = max(round((thick_mm + joint.likely) / (unit.width_mm + joint.likely)), 1)
    if abs(joints.brick_wall_mm(unit, joint.likely, leaves) - thick_mm) > WALL_TOLERANCE_MM:
        return None
    try:
        return joint.each(
            lambda wide: joints.bedding_m3_per_m2(unit, thick_mm, joints.bricks_per_m2(unit, wide, leaves))
        )
    except ValueError:
        return None  # the least joint leaves no room for the bricks in the thickness answered


def _on_surface(here: View, library: Library) -> Volume:
    """A coat of plaster or render, with keys behind laths."""
    thick = here.real("coat_mm")
    if thick is None:
        return None
    first = _is_first(here)
    row = library.tables["keys-on-laths"].row_for(here)
    keys = row.spread("share") if first and row is not None else coats.NO_KEYS
    return coats.coat_l_per_m2(thick, 0.0, key_share=keys)


def _dubbing_l_per_m2(here: View) -> float:
    """What hollows take in the mix of the coat that lies on the wall, as a mean over the face; 0 for other coats.

    Those of an earth wall are filled with earth.
    """
    on_surface = here.text("work") in ("plaster", "render") and here.text("masonry") != "earth"
    return float(hollows_mm(here)) if on_surface and _is_first(here) else 0.0


def _is_first(here: View) -> bool:
    return here.around("work").inside("coat")[0].path == here.path


def _flaunching(here: View, library: Library) -> Volume:
    """Flaunching at its mean thickness, for it is full at the pots alone and a third of that at the edge."""
    thick = here.real("coat_mm")
    return None if thick is None else FLAUNCHING_MEAN.times(thick)


def _wash(here: View, library: Library) -> Volume:
    count, cover = here.real("wash_coats_chosen_nr"), wash_cover(here, library)
    if count is None or cover is None:
        return None
    return Range(count / cover.high, count / cover.likely, count / cover.low)


def wash_cover(here: View, library: Library) -> Range[float] | None:
    """The square metres that a litre of limewash covers in one coat."""
    row = library.tables["wash-cover"].row_for(here, unknown=("wall_class",))
    return None if row is None else row.spread("m2_per_l")


_BY_WORK: Final[dict[str, Callable[[View, Library], Volume]]] = {
    "repoint": _pointing,
    "rebuild": _bedding,
    "flaunching": _flaunching,
    "limewash": _wash,
}
