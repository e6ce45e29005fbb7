"""The mortar, or limewash, that each coat of a work takes: low, likely and high litres."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Final

from generator.library.model import Library, TableRow
from generator.lime import coats, joints, limewash
from generator.measure.model import MixSheetFacts
from generator.measure.quantities import joint_of, joint_share, pointing_l, unit_of
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range, rounded

Volume = Range[float] | None

WALL_TOLERANCE_MM: Final = 25.0  # an old wall answered to the nearest inch is still the bricks it is made of

# The mean thickness of flaunching as a share of that at the pots, the edge a third of it (`coat-thickness`). Geometry:
# a pyramid about one pot is 1/3 + 2/3 / 3, an even slope from a row of pots the mean of both ends, and a top
# half of which lies level between pots 1/2 + 2/3 / 2.
FLAUNCHING_MEAN: Final = Range(5 / 9, 2 / 3, 5 / 6)


def coat_l(facts: Facts, path: ScopePath, library: Library) -> Volume:
    """The litres that one coat takes; None where an answer it needs is missing, which has its own finding."""
    work = str(facts.get(path, "work"))
    return _BY_WORK.get(work, _on_surface)(facts, path, library)


def batch_covers_m2(made: MixSheetFacts, facts: Facts, library: Library) -> Range[Decimal] | None:
    """What one batch covers, from the work that takes most of it to the one that takes least; limewash in one coat.

    None where no work of the mix has both an area and a volume.
    """
    found = []
    for path in made.mix.used_for:
        area, volume = _area(facts, path), coat_l(facts, path, library)
        if area and volume is not None and volume.likely:
            coats_nr = _number(facts, path, "wash_coats_chosen_nr") if facts.get(path, "coat") == "wash" else 1
            found.append(float(made.batch_l.likely) * area * (coats_nr or 1) / volume.likely)
    if not found:
        return None
    low, high = (rounded(end, 1 if end < 10 else 0) for end in (min(found), max(found)))
    return Range(low, low, high)


def _area(facts: Facts, path: ScopePath) -> float | None:
    return _number(facts, path, "flaunching_m2" if facts.get(path, "coat") == "flaunching" else "treated_area_m2")


def _pointing(facts: Facts, path: ScopePath, library: Library) -> Volume:
    return pointing_l(facts, path[:2], library)


def _bedding(facts: Facts, path: ScopePath, library: Library) -> Volume:
    """Mortar of rebuilt walling: full joints between its half-bricks, or its volume times its share of mortar."""
    area, thick = _number(facts, path, "treated_area_m2"), _number(facts, path, "rebuild_thickness_mm")
    shares = joint_share(facts, path, library)
    if area is None or thick is None or shares is None:
        return None
    bricks = _brickwork_m3_per_m2(facts, path, thick)
    return (bricks or joints.rubble_mortar_m3_per_m2(thick, shares)).times(area * 1000.0)


def _brickwork_m3_per_m2(facts: Facts, path: ScopePath, thick_mm: float) -> Volume:
    """The mortar between the bricks of a solid wall; None where bricks do not make up the thickness answered."""
    unit, joint = unit_of(facts, path), joint_of(facts, path)
    if facts.get(path, "masonry") != "brick" or unit is None or joint is None:
        return None
    leaves = max(round((thick_mm + joint.likely) / (unit.width_mm + joint.likely)), 1)
    if abs(joints.brick_wall_mm(unit, joint.likely, leaves) - thick_mm) > WALL_TOLERANCE_MM:
        return None
    try:
        found = [
            joints.bedding_m3_per_m2(unit, thick_mm, joints.bricks_per_m2(unit, wide, leaves))
            for wide in (joint.low, joint.likely, joint.high)
        ]
    except ValueError:
        return None  # the least joint leaves no room for the bricks in the thickness answered
    return Range(*found)


def _on_surface(facts: Facts, path: ScopePath, library: Library) -> Volume:
    """A coat of plaster or render, with dubbing under the first coat and keys behind laths."""
    area, thick = _number(facts, path, "treated_area_m2"), _number(facts, path, "coat_mm")
    if area is None or thick is None:
        return None
    first = facts.inside(path[:2], "coat")[0].path == path
    hollow = (_number(facts, path, "dubbing_mm") or 0.0) if first else 0.0
    keys = _keys(facts, path, library) if first else coats.NO_KEYS
    return coats.coat_l_per_m2(thick, 0.0, key_share=keys, dubbing_l_per_m2=hollow).times(area)


def _keys(facts: Facts, path: ScopePath, library: Library) -> Range[float]:
    masonry = facts.get(path, "masonry")
    row = library.tables["keys-on-laths"].find(masonry=masonry) if isinstance(masonry, str) else None
    return spread(row, "share") if row else coats.NO_KEYS


def _flaunching(facts: Facts, path: ScopePath, library: Library) -> Volume:
    """Flaunching at its mean thickness, for it is full at the pots alone and a third of that at the edge."""
    area, thick = _number(facts, path, "flaunching_m2"), _number(facts, path, "coat_mm")
    if area is None or thick is None:
        return None
    return FLAUNCHING_MEAN.times(thick * area)


def _wash(facts: Facts, path: ScopePath, library: Library) -> Volume:
    area, count = _number(facts, path, "treated_area_m2"), _number(facts, path, "wash_coats_chosen_nr")
    wall = facts.get(path, "wall_class")
    row = library.tables["wash-cover"].find(wall_class=wall if isinstance(wall, str) else None)
    if area is None or count is None or row is None:
        return None
    return limewash.limewash_l(area, int(count), spread(row, "m2_per_l"))


_BY_WORK: Final[dict[str, Callable[[Facts, ScopePath, Library], Volume]]] = {
    "repoint": _pointing,
    "rebuild": _bedding,
    "flaunching": _flaunching,
    "limewash": _wash,
}


def spread(row: TableRow, name: str) -> Range[float]:
    """The low, likely and high of a row, as `name_low`, `name_likely`, `name_high`."""
    low, likely, high = (float(row.values[f"{name}_{part}"]) for part in ("low", "likely", "high"))
    return Range(low, likely, high)


def _number(facts: Facts, path: ScopePath, name: str) -> float | None:
    value = facts.get(path, name)
    return float(value) if isinstance(value, Decimal) else None
