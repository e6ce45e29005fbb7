"""Mortar: yield, orders, and old mortar put back. Nothing is rounded but where a function is named for orders.

Confidence of a source: r read in a weak copy, X computed from the figures named.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.sand import VOID_SHARE_LIMITS
from generator.values import Range, Struct, rounded_up

BOXES_LIMIT: Final = 40
YIELD_LIMITS: Final = (0.7, 2.0)  # mortar to one volume of loose dry sand


def void_filling_yield(putty_parts: float, sand_dry_parts: float, void_share: Range[float]) -> Range[float]:
    """The mortar made by one volume of loose dry sand when paste fills its voids and the rest adds bulk.

        yield = the greater of 1 and 1 - voids + putty / sand

    Volume by volume, for putty mortars and, with the putty a hot mix comes to, for hot mixes. Valid for voids
    0.20 to 0.60; ValueError outside. Air and ramming are left out. Source: arithmetic (X), agrees with
    handbooks. Worked: 1 : 3 on sand of 3/8 voids yields 1.00, as the Cyclopedia of Carpentry says (r).

    >>> void_filling_yield(1.0, 3.0, Range(0.33, 0.375, 0.42)).likely
    1.0
    """
    paste = positive("putty_parts", putty_parts) / positive("sand_dry_parts", sand_dry_parts)
    low, likely, high = (
        max(1.0, 1.0 - checked("void_share", voids, *VOID_SHARE_LIMITS) + paste)
        for voids in (void_share.high, void_share.likely, void_share.low)
    )
    return Range(low, likely, high)


def bags_to_order(material_kg: float, bag_kg: float) -> int:
    """The whole bags that hold at least so many kg.

    kg. Valid for bags above 0; ValueError outside. Source: rounding up (X).

    >>> bags_to_order(305.0, 25.0)
    13
    """
    return int(rounded_up(checked("material_kg", material_kg, 0.0) / positive("bag_kg", bag_kg)))


def packages_to_order(material_kg: float, large_kg: float, small_kg: float, most_small_share: float) -> tuple[int, int]:
    """The whole large and small packages that hold at least so many kg.

        large = kg / large, down;   the rest in small ones, up to a share of a large one, else in one large one more

    kg. Valid for packages above 0; ValueError outside. Source: the share is the caller's; rounding up (X).

    >>> packages_to_order(163.0, 800.0, 25.0, 0.5), packages_to_order(890.0, 800.0, 25.0, 0.5)
    ((0, 7), (1, 4))
    >>> packages_to_order(437.0, 800.0, 25.0, 0.5)
    (1, 0)
    """
    large = int(checked("material_kg", material_kg, 0.0) / positive("large_kg", large_kg))
    rest = material_kg - large * large_kg
    if rest > most_small_share * large_kg:
        return large + 1, 0
    return large, bags_to_order(rest, small_kg)


def tubs_to_order(material_l: float, tub_l: float) -> int:
    """The whole tubs that hold at least so many litres.

    l. Valid for tubs above 0; ValueError outside. Source: rounding up (X).

    >>> tubs_to_order(100.0, 20.0)
    5
    """
    return int(rounded_up(checked("material_l", material_l, 0.0) / positive("tub_l", tub_l)))


class OldMortar(Struct, frozen=True):
    """What is known of lime mortar raked out of the wall; None where nobody has looked."""

    salty: bool | None
    sooty: bool | None
    painted: bool | None
    cement_bound: bool | None


class Recovered(Struct, frozen=True):
    """The old mortar that goes back in as aggregate, its share, and why it is refused."""

    recovered_l: float
    share: float
    refused_for: tuple[str, ...]
    not_known: tuple[str, ...]


def recovered_old_mortar(aggregate_l: float, wanted_share: float, old: OldMortar, *, cap_share: float) -> Recovered:
    """The crushed old lime mortar that may take the place of part of the aggregate.

        share = the lesser of wanted and cap; none where it is salty, sooty, painted or cement-bound

    l and shares 0 to 1; ValueError outside. What is not known refuses it too, and is named. Source: common
    practice, no published figure; the cap is the caller's.

    >>> clean = OldMortar(salty=False, sooty=False, painted=False, cement_bound=False)
    >>> recovered_old_mortar(100.0, 0.5, clean, cap_share=0.25).recovered_l
    25.0
    """
    wanted = checked("wanted_share", wanted_share, 0.0, 1.0)
    cap = checked("cap_share", cap_share, 0.0, 1.0)
    total = checked("aggregate_l", aggregate_l, 0.0)
    flags = {
        "salty": old.salty, "sooty": old.sooty, "painted": old.painted, "cement-bound": old.cement_bound,
    }  # fmt: skip
    refused = tuple(name for name, flag in flags.items() if flag)
    not_known = tuple(name for name, flag in flags.items() if flag is None)
    share = 0.0 if refused or not_known else min(wanted, cap)
    return Recovered(total * share, share, refused, not_known)
