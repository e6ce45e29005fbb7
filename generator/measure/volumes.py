"""The mortar, or limewash, that each coat of a work takes: low, likely and high litres."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Final

from generator.library.model import Library
from generator.lime import coats, joints, limewash
from generator.measure.model import MixSheetFacts
from generator.measure.quantities import joint_of, joint_share, pointing_l, unit_of
from generator.questionnaire.facts import Facts, View
from generator.values import Range, rounded

Volume = Range[float] | None

WALL_TOLERANCE_MM: Final = 25.0  # an old wall answered to the nearest inch is still the bricks it is made of

# The mean thickness of flaunching as a share of that at the pots, the edge a third of it (`coat-thickness`). Geometry:
# a pyramid about one pot is 1/3 + 2/3 / 3, an even slope from a row of pots the mean of both ends, and a top
# half of which lies level between pots 1/2 + 2/3 / 2.
FLAUNCHING_MEAN: Final = Range(5 / 9, 2 / 3, 5 / 6)


def coat_l(here: View, library: Library) -> Volume:
    """The litres that one coat takes; None where an answer it needs is missing, which has its own finding."""
    return _BY_WORK.get(here.text("work"), _on_surface)(here, library)


def batch_covers_m2(made: MixSheetFacts, facts: Facts, library: Library) -> Range[Decimal] | None:
    """What one batch covers, from the work that takes most of it to the one that takes least; limewash in one coat.

    None where no work of the mix has both an area and a volume.
    """
    found = []
    for here in map(facts.at_scope, made.mix.used_for):
        area = here.real("flaunching_m2" if here.text("coat") == "flaunching" else "treated_area_m2")
        volume = coat_l(here, library)
        if area and volume is not None and volume.likely:
            coats_nr = here.real("wash_coats_chosen_nr") if here.text("coat") == "wash" else 1
            found.append(float(made.batch_l.likely) * area * (coats_nr or 1) / volume.likely)
    if not found:
        return None
    low, high = (rounded(end, 1 if end < 10 else 0) for end in (min(found), max(found)))
    return Range(low, low, high)


def _pointing(here: View, library: Library) -> Volume:
    return pointing_l(here.around("work"), library)


def _bedding(here: View, library: Library) -> Volume:
    """Mortar of rebuilt walling: full joints between its half-bricks, or its volume times its share of mortar."""
    area, thick = here.real("treated_area_m2"), here.real("rebuild_thickness_mm")
    shares = joint_share(here, library)
    if area is None or thick is None or shares is None:
        return None
    bricks = _brickwork_m3_per_m2(here, thick)
    return (bricks or joints.rubble_mortar_m3_per_m2(thick, shares)).times(area * 1000.0)


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
    """A coat of plaster or render, with dubbing under the first coat and keys behind laths."""
    area, thick = here.real("treated_area_m2"), here.real("coat_mm")
    if area is None or thick is None:
        return None
    first = here.around("work").inside("coat")[0].path == here.path
    hollow = (here.real("dubbing_mm") or 0.0) if first else 0.0
    row, _ = library.tables["keys-on-laths"].found(here)
    keys = row.spread("share") if first and row is not None else coats.NO_KEYS
    return coats.coat_l_per_m2(thick, 0.0, key_share=keys, dubbing_l_per_m2=hollow).times(area)


def _flaunching(here: View, library: Library) -> Volume:
    """Flaunching at its mean thickness, for it is full at the pots alone and a third of that at the edge."""
    area, thick = here.real("flaunching_m2"), here.real("coat_mm")
    if area is None or thick is None:
        return None
    return FLAUNCHING_MEAN.times(thick * area)


def _wash(here: View, library: Library) -> Volume:
    area, count = here.real("treated_area_m2"), here.real("wash_coats_chosen_nr")
    row, _ = library.tables["wash-cover"].found(here, unknown=("wall_class",))
    if area is None or count is None or row is None:
        return None
    return limewash.limewash_l(area, int(count), row.spread("m2_per_l"))


_BY_WORK: Final[dict[str, Callable[[View, Library], Volume]]] = {
    "repoint": _pointing,
    "rebuild": _bedding,
    "flaunching": _flaunching,
    "limewash": _wash,
}
