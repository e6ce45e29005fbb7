"""Mortar: yield, materials a cubic metre, boxes a batch, orders, pozzolan measures and old mortar put back.

A gauge is boxes of lime, of damp loose sand as found, and of pozzolan. Nothing is rounded but where a
function is named for whole boxes, measures, batches or orders.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.sand import VOID_SHARE_LIMITS, damp_l, damp_sand, loose_dry_l
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


class Gauge(Struct, frozen=True):
    """Boxes of lime, of damp loose sand as found, and of pozzolan, all of one size."""

    lime_boxes: float
    sand_boxes: float
    pozzolan_boxes: float = 0.0

    def __post_init__(self) -> None:
        positive("lime_boxes", self.lime_boxes)
        positive("sand_boxes", self.sand_boxes)
        checked("pozzolan_boxes", self.pozzolan_boxes, 0.0)

    @property
    def all_boxes(self) -> float:
        """Boxes of everything together."""
        return self.lime_boxes + self.sand_boxes + self.pozzolan_boxes


class Densities(Struct, frozen=True):
    """What the materials weigh loose, kg/l: the sand dry; the pozzolan 0 where there is none."""

    lime_kg_per_l: float
    sand_dry_kg_per_l: float
    pozzolan_kg_per_l: float = 0.0

    def __post_init__(self) -> None:
        positive("lime_kg_per_l", self.lime_kg_per_l)
        positive("sand_dry_kg_per_l", self.sand_dry_kg_per_l)
        checked("pozzolan_kg_per_l", self.pozzolan_kg_per_l, 0.0)


class Materials(Struct, frozen=True):
    """What a volume of mortar takes: litres loose, and kg. Damp sand is the same sand as it is measured."""

    lime_l: float
    lime_kg: float
    sand_damp_l: float
    sand_damp_kg: float
    sand_dry_l: float
    sand_dry_kg: float
    pozzolan_l: float
    pozzolan_kg: float


def materials(
    mortar_m3: float,
    gauge: Gauge,
    densities: Densities,
    *,
    mortar_per_sand: float,
    bulking_share: float,
    sand_moisture_share: float,
    waste_share: float,
) -> Materials:
    """The lime, sand and pozzolan for so much mortar.

        dry sand  = 1000 m3 * (1 + waste) / yield;   damp sand = dry sand * (1 + bulking)
        lime      = damp sand * lime boxes / sand boxes, and pozzolan alike

    m3, kg/l, shares; litres and kg out. Valid for yield 0.7 to 2.0, bulking 0 to 0.50, moisture 0 to 0.20 of
    dry mass, waste 0 to 1; ValueError outside, and for a pozzolan without its weight. Source: arithmetic (X).
    Worked: NHL at 0.65 kg/l, 1 : 2 dry, yield 1.066: 305 kg a m3, as producers' sheets say (r).

    >>> need = materials(1.0, Gauge(1, 2), Densities(0.65, 1.55), mortar_per_sand=1.066, bulking_share=0.0,
    ...                  sand_moisture_share=0.0, waste_share=0.0)
    >>> round(need.lime_kg), round(need.sand_dry_l)
    (305, 938)
    """
    if gauge.pozzolan_boxes and not densities.pozzolan_kg_per_l:
        raise ValueError("pozzolan_kg_per_l is 0: valid above 0 where the gauge has a pozzolan")
    mortar_l = 1000.0 * checked("mortar_m3", mortar_m3, 0.0)
    with_waste_l = mortar_l * (1.0 + checked("waste_share", waste_share, 0.0, 1.0))
    dry = with_waste_l / checked("mortar_per_sand", mortar_per_sand, *YIELD_LIMITS)
    damp = damp_l(dry, bulking_share)
    box_l = damp / gauge.sand_boxes
    held = damp_sand(densities.sand_dry_kg_per_l, sand_moisture_share, bulking_share)
    return Materials(
        lime_l=gauge.lime_boxes * box_l,
        lime_kg=gauge.lime_boxes * box_l * densities.lime_kg_per_l,
        sand_damp_l=damp,
        sand_damp_kg=damp * held.damp_kg_per_l,
        sand_dry_l=dry,
        sand_dry_kg=damp * held.dry_kg_per_l,
        pozzolan_l=gauge.pozzolan_boxes * box_l,
        pozzolan_kg=gauge.pozzolan_boxes * box_l * densities.pozzolan_kg_per_l,
    )


class WholeGauge(Struct, frozen=True):
    """A gauge in whole boxes, and how far its sand to lime lies from the ratio wanted, as a share of it."""

    gauge: Gauge
    ratio_error_share: float


def whole_box_gauge(lime_parts: float, damp_sand_parts: float, *, boxes_at_most: int) -> WholeGauge:
    """The whole boxes of lime and damp sand nearest to a ratio, in the fewest boxes that come as near.

        least |sand boxes / lime boxes - ratio| / ratio over all pairs of at most so many boxes together

    Boxes. Valid for parts above 0 and 2 to 40 boxes; ValueError outside. `ratio_error_share` is 0 where the
    ratio is kept; above 0 the mix is leaner, below 0 richer. Source: arithmetic (X).

    >>> whole_box_gauge(1.0, 2.5, boxes_at_most=12).gauge
    Gauge(lime_boxes=2, sand_boxes=5, pozzolan_boxes=0.0)
    """
    ratio = positive("damp_sand_parts", damp_sand_parts) / positive("lime_parts", lime_parts)
    most = int(checked("boxes_at_most", boxes_at_most, 2, BOXES_LIMIT))
    pairs = [(lime, sand) for lime in range(1, most) for sand in range(1, most - lime + 1)]

    def miss(pair: tuple[int, int]) -> tuple[float, int, int]:
        lime, sand = pair
        return round(abs(sand / lime / ratio - 1.0), 12), lime + sand, sand

    lime, sand = min(pairs, key=miss)
    return WholeGauge(Gauge(lime, sand), sand / lime / ratio - 1.0)


class Batch(Struct, frozen=True):
    """Whole boxes in one mixer load: how often the gauge goes in, what it fills loose, and mortar made."""

    times: int
    lime_boxes: float
    sand_boxes: float
    pozzolan_boxes: float
    loose_l: float
    mortar_l: Range[float]


def batch(
    gauge: Gauge,
    *,
    box_l: float,
    mixer_l: float,
    bulking_share: float,
    mortar_per_sand: Range[float],
) -> Batch:
    """The boxes of one batch, the gauge taken as often as the mixer holds it, and the mortar it makes.

        times = whole number in mixer / (boxes * box);   mortar = sand boxes * box / (1 + bulking) * yield

    l; `mixer_l` is the loose, unmixed volume the mixer takes. Valid for lime and sand in whole boxes, bulking
    0 to 0.50, a mixer that holds the gauge once; ValueError outside. Source: arithmetic (X). Worked: 2 damp
    boxes of putty to 5 of sand at 25 % is 1 : 2 and yields about the dry volume, 4 boxes.

    >>> load = batch(Gauge(2, 5), box_l=10.0, mixer_l=150.0, bulking_share=0.25,
    ...              mortar_per_sand=Range(1.0, 1.0, 1.1))
    >>> load.times, load.lime_boxes, load.sand_boxes, load.mortar_l.likely
    (2, 4, 10, 80.0)
    """
    if not (float(gauge.lime_boxes).is_integer() and float(gauge.sand_boxes).is_integer()):
        raise ValueError(f"the gauge is {gauge.lime_boxes} : {gauge.sand_boxes} boxes: valid in whole boxes")
    once_l = gauge.all_boxes * positive("box_l", box_l)
    times = int(positive("mixer_l", mixer_l) / once_l + 1e-9)
    if times < 1:
        raise ValueError(f"mixer_l is {mixer_l}: valid from {once_l:g}, the gauge once in these boxes")
    dry = loose_dry_l(times * gauge.sand_boxes * box_l, bulking_share)
    return Batch(
        times=times,
        lime_boxes=times * gauge.lime_boxes,
        sand_boxes=times * gauge.sand_boxes,
        pozzolan_boxes=times * gauge.pozzolan_boxes,
        loose_l=times * once_l,
        mortar_l=mortar_per_sand.times(dry),
    )


def bags_to_order(material_kg: float, bag_kg: float) -> int:
    """The whole bags that hold at least so many kg.

    kg. Valid for bags above 0; ValueError outside. Source: rounding up (X).

    >>> bags_to_order(305.0, 25.0)
    13
    """
    return int(rounded_up(checked("material_kg", material_kg, 0.0) / positive("bag_kg", bag_kg)))


def tubs_to_order(material_l: float, tub_l: float) -> int:
    """The whole tubs that hold at least so many litres.

    l. Valid for tubs above 0; ValueError outside. Source: rounding up (X).

    >>> tubs_to_order(100.0, 20.0)
    5
    """
    return int(rounded_up(checked("material_l", material_l, 0.0) / positive("tub_l", tub_l)))


def batches_to_make(mortar_l: float, batch_l: float) -> int:
    """The whole batches that make at least so much mortar.

    l. Valid for batches above 0; ValueError outside. Source: rounding up (X).

    >>> batches_to_make(250.0, 80.0)
    4
    """
    return int(rounded_up(checked("mortar_l", mortar_l, 0.0) / positive("batch_l", batch_l)))


class PozzolanMeasure(Struct, frozen=True):
    """A pozzolan in full measures of one marked vessel: `measures` times `measure_l` is the dose itself."""

    measures: int
    measure_l: float
    dose_l: float


def pozzolan_measure(dose_l: float, vessel_l: float) -> PozzolanMeasure:
    """The fewest equal full measures that give a pozzolan's dose, and the line to mark on the vessel.

        measures = dose / vessel, rounded up;   line = dose / measures

    l. Valid above 0; ValueError outside. The dose is kept and not rounded up: more makes the mortar stronger.
    Source: arithmetic (X); published doses, 2 to 10 %, disagree (R, r), so the dose is the caller's.

    >>> pozzolan_measure(3.0, 2.0)
    PozzolanMeasure(measures=2, measure_l=1.5, dose_l=3.0)
    """
    measures = int(rounded_up(positive("dose_l", dose_l) / positive("vessel_l", vessel_l)))
    return PozzolanMeasure(max(1, measures), dose_l / max(1, measures), dose_l)


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
