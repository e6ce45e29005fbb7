"""What is ordered over all mixes: each lime, sand, pozzolan and hair once, low, likely and high, in whole packages.

A sand is summed by its name and its greatest grain; grains are never merged, and each sand of a blend is a sand of
its own. What is left over is in the batches, so no share of waste is added. Confidence: X computed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import ClassVar, Literal

from generator.lime.gauging import BatchError, GaugedMix
from generator.lime.job_batches import Amounts, Cases
from generator.lime.limits import checked, positive
from generator.lime.mortar import bags_to_order, tubs_to_order
from generator.lime.sand import MOISTURE_SHARE_LIMITS, loose_dry_l
from generator.values import Range, Struct


class GoodsDisagree(BatchError):
    """One name stands for goods of different weights or packages."""

    code: ClassVar[str] = "goods-disagree"


class Goods(Struct, frozen=True):
    """A lime, a pozzolan or hair as it is bought: kg in a litre loose (hair 1), and what a package holds."""

    name: str
    kg_per_l: float
    package_holds: float
    package_unit: Literal["kg", "l"]

    def __post_init__(self) -> None:
        positive(f"kg_per_l of {self.name}", self.kg_per_l)
        positive(f"package_holds of {self.name}", self.package_holds)


class Sand(Struct, frozen=True):
    """A sand as it is bought: name and greatest grain tell it apart; weighed damp or, from a kiln, dry."""

    name: str
    grain_mm: float
    dry_kg_per_l: float
    moisture_share: float
    sold_damp: bool
    package_kg: float

    def __post_init__(self) -> None:
        positive(f"dry_kg_per_l of {self.name}", self.dry_kg_per_l)
        positive(f"package_kg of {self.name}", self.package_kg)
        checked(f"moisture_share of {self.name}", self.moisture_share, *MOISTURE_SHARE_LIMITS)

    @property
    def key(self) -> tuple[str, float]:
        """What one sand is told by."""
        return self.name, self.grain_mm


class MixOrder(Struct, frozen=True):
    """A mix, what all its works take of it, and what its lime, each sand of its blend in turn, and doses are."""

    ref: str
    mix: GaugedMix
    amounts: Cases[Amounts]
    lime: Goods
    sands: tuple[Sand, ...]
    pozzolan: Goods | None = None
    hair: Goods | None = None

    def __post_init__(self) -> None:
        if len(self.sands) != len(self.mix.gauge.sands):
            raise ValueError(f"{self.ref} has {len(self.sands)} sands: valid with {len(self.mix.gauge.sands)}")
        for name, goods, amount in (
            ("pozzolan", self.pozzolan, self.amounts.high.pozzolan_l), ("hair", self.hair, self.amounts.high.hair_kg),
        ):  # fmt: skip
            if amount and goods is None:
                raise ValueError(f"{self.ref} takes {name}: valid with the goods that it is")


class GoodsLine(Struct, frozen=True):
    """One lime, pozzolan or hair to order: litres, kg, whole packages, and the mixes it goes into."""

    goods: Goods
    litres: Range[float]
    kg: Range[float]
    packages: Cases[int]
    mixes: tuple[str, ...]


class SandUse(Struct, frozen=True):
    """A mix that a sand goes into, and its parts of all the sand there: 3 of 5 in a blend, 1 of 1 alone."""

    mix: str
    parts: int
    of_parts: int


class SandLine(Struct, frozen=True):
    """One sand to order: litres as measured and dry, kg dry and as sold, whole packages, and where it goes."""

    sand: Sand
    measured_l: Range[float]
    dry_l: Range[float]
    dry_kg: Range[float]
    sold_kg: Range[float]
    packages: Cases[int]
    uses: tuple[SandUse, ...]


class Orders(Struct, frozen=True):
    """All lines, each kind in the order its goods are first met."""

    limes: tuple[GoodsLine, ...]
    sands: tuple[SandLine, ...]
    pozzolans: tuple[GoodsLine, ...]
    hair: tuple[GoodsLine, ...]


def orders(mixes: Sequence[MixOrder]) -> Orders:
    """What all mixes take, each of the goods once; packages are rounded up, never down.

        lime = litres * density;   sand = measured / (1 + bulking) * dry density, * (1 + moisture) where sold damp

    l, kg. GoodsDisagree where one name has two weights or packages. Source: arithmetic (X). Worked (X): 105 l of
    damp sand at 25 % and 1.55 kg/l are 84 l and 130 kg dry, 137 kg as sold; `tests/lime/test_orders.py`.
    """
    return Orders(
        limes=_goods([(m, m.lime, lambda a: a.lime_l) for m in mixes]),
        sands=_sands(mixes),
        pozzolans=_goods([(m, m.pozzolan, lambda a: a.pozzolan_l) for m in mixes if m.pozzolan]),
        hair=_goods([(m, m.hair, lambda a: a.hair_kg) for m in mixes if m.hair]),
    )


_Taken = tuple[MixOrder, Goods | None, Callable[[Amounts], float]]


def _goods(taken: Iterable[_Taken]) -> tuple[GoodsLine, ...]:
    """Lines of goods measured by the litre; hair, which is weighed, counts a kg as a litre."""
    found: dict[str, list[tuple[MixOrder, Goods, Cases[float]]]] = {}
    for mix, goods, litres in taken:
        if goods is not None:
            found.setdefault(goods.name, []).append((mix, goods, mix.amounts.each(litres)))
    return tuple(_goods_line(rows) for rows in found.values())


def _goods_line(rows: Sequence[tuple[MixOrder, Goods, Cases[float]]]) -> GoodsLine:
    goods = rows[0][1]
    _agreed([row[1] for row in rows])
    litres = _added([row[2] for row in rows])
    kg = litres.each(lambda amount: amount * goods.kg_per_l)
    if goods.package_unit == "l":
        packages = _spread(litres).each(lambda amount: tubs_to_order(amount, goods.package_holds))
    else:
        packages = _spread(kg).each(lambda amount: bags_to_order(amount, goods.package_holds))
    return GoodsLine(goods, _range(litres), _range(kg), packages, tuple(dict.fromkeys(row[0].ref for row in rows)))


def _sands(mixes: Sequence[MixOrder]) -> tuple[SandLine, ...]:
    found: dict[tuple[str, float], list[tuple[MixOrder, int]]] = {}
    for mix in mixes:
        for place, sand in enumerate(mix.sands):
            found.setdefault(sand.key, []).append((mix, place))
    return tuple(_sand_line(rows) for rows in found.values())


def _sand_line(rows: Sequence[tuple[MixOrder, int]]) -> SandLine:
    sand = rows[0][0].sands[rows[0][1]]
    _agreed([mix.sands[place] for mix, place in rows])
    measured_l = _added([_measured_l(mix, place) for mix, place in rows])
    dry_l = _added([_dry_l(mix, place) for mix, place in rows])
    sold = 1.0 + (sand.moisture_share if sand.sold_damp else 0.0)
    sold_kg = dry_l.each(lambda amount: amount * sand.dry_kg_per_l * sold)
    return SandLine(
        sand=sand,
        measured_l=_range(measured_l),
        dry_l=_range(dry_l),
        dry_kg=_range(dry_l.each(lambda amount: amount * sand.dry_kg_per_l)),
        sold_kg=_range(sold_kg),
        packages=_spread(sold_kg).each(lambda amount: bags_to_order(amount, sand.package_kg)),
        uses=tuple(SandUse(mix.ref, mix.mix.gauge.sands[place], sum(mix.mix.gauge.sands)) for mix, place in rows),
    )


def _measured_l(mix: MixOrder, place: int) -> Cases[float]:
    return mix.amounts.each(lambda amounts: amounts.sands_l[place])


def _dry_l(mix: MixOrder, place: int) -> Cases[float]:
    return _measured_l(mix, place).each(lambda litres: loose_dry_l(litres, mix.mix.bulking_share))


def _agreed(goods: Sequence[Goods] | Sequence[Sand]) -> None:
    if len(set(goods)) > 1:
        raise GoodsDisagree(f"{goods[0].name} stands for different goods: {sorted({str(each) for each in goods})}")


def _added(cases: Sequence[Cases[float]]) -> Cases[float]:
    return Cases(sum(c.low for c in cases), sum(c.likely for c in cases), sum(c.high for c in cases))


def _spread(cases: Cases[float]) -> Cases[float]:
    """The cases from the least to the greatest, as `Cases.spread`."""
    spread = _range(cases)
    return Cases(spread.low, spread.likely, spread.high)


def _range(cases: Cases[float]) -> Range[float]:
    return cases.spread(lambda amount: amount)
