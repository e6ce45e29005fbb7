"""What a mix of air lime may come to: the depth it may carbonate to, and the lime its putty carries; to explain."""

from __future__ import annotations

from generator.decide.model import Mix
from generator.library.model import Library
from generator.lime.hardening import carbonation_depth_mm
from generator.lime.putty import PuttyBand, hydrate_carried_kg_per_l, putty_check
from generator.measure.gauged import floats
from generator.values import Range, Struct


class Carbonated(Struct, frozen=True):
    """The depth in mm that a mix may have carbonated to after so many days."""

    days: float
    depth_mm: Range[float]


class PuttyTaken(Struct, frozen=True):
    """The weights between which putty is taken, the lime that a litre of each carries, and the weight reckoned with."""

    low_kg_per_l: float
    high_kg_per_l: float
    low_carries_kg_per_l: float
    high_carries_kg_per_l: float
    reckoned_kg_per_l: float
    reckoned_lies: PuttyBand


def carbonated(mix: Mix, library: Library) -> Carbonated | None:
    """The depth of a mortar of air lime by the table's coefficient; None for other limes, pozzolans and limewash."""
    if mix.recipe.making not in ("putty", "hot-mix") or mix.recipe.pozzolan:
        return None
    row = library.row("carbonation")
    days = float(row.number("days"))
    return Carbonated(days, carbonation_depth_mm(days, row.spread("root_day_mm")))


def putty_taken(mix: Mix, library: Library) -> PuttyTaken | None:
    """What the band that putty is taken in means in lime; None for a mix that is not made of putty."""
    if mix.recipe.making != "putty":
        return None
    row = library.row("putty-weight")
    low, high = float(row.number("weight_low")), float(row.number("weight_high"))
    reckoned = putty_check(floats(library.materials[mix.recipe.lime].bulk_density_kg_per_l).likely, low, high)
    lean, fat = (hydrate_carried_kg_per_l(putty_check(limit, low, high).solids_share) for limit in (low, high))
    return PuttyTaken(low, high, lean, fat, reckoned.density_kg_per_l, reckoned.band)
