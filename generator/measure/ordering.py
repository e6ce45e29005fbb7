"""What is ordered over all mixes: each lime, each sand by name and grain, hair and pozzolan, in whole packages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial
from typing import Final

from generator.decide.model import Mix
from generator.library.model import Library
from generator.library.properties import Material
from generator.lime.mortar import bags_to_order, packages_to_order
from generator.lime.orders import Goods, GoodsLine, MixOrder, Sand, SandLine, orders
from generator.measure.gauged import floats, plain_gauge, sand_state
from generator.measure.made_for_it import made_for_it
from generator.measure.model import MaterialLine, MixSheetFacts
from generator.measure.outputs import Outputs
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.values import Range

_APART: Final = {
    "sands": ("sand_sample_kg", "sand_left_kg"), "limes": ("lime_sample_g",), "pozzolans": ("lime_sample_g",),
    "hair": ("hair_sample_g", "hair_left_g"),
}  # fmt: skip
"""The figures of what is lodged before the start and left with the owner, of each sand, lime, pozzolan and hair."""

_HAIR: Final = "hair"
_WATER: Final = "water"
_Line = GoodsLine | SandLine


def to_order(
    batches: Sequence[MixSheetFacts], facts: Facts, library: Library, kept: Kept = AFRESH
) -> tuple[MaterialLine, ...]:
    """Every material once, for all mixes of which something is made, in the order in which they are first needed."""
    taken = [made for made in batches if made.made.amounts.high.made_l]
    listed = _Listed(library, facts)
    ordered = [*(listed.order(made) for made in taken), *listed.fillings(facts)]
    together = kept.of("orders", ordered, partial(orders, ordered))
    each_mix = {ref: [one for one in ordered if one.ref == ref] for ref in dict.fromkeys(one.ref for one in ordered)}
    apart = {ref: kept.of(("orders", ref), ones, partial(orders, ones)) for ref, ones in each_mix.items()}
    lines: list[MaterialLine] = []
    for parts in ("limes", "sands", "pozzolans", "hair"):
        each = {ref: {listed.key(line): line for line in getattr(found, parts)} for ref, found in apart.items()}
        for line in getattr(together, parts):
            key = listed.key(line)
            uses = tuple((ref, _amount(found[key])) for ref, found in each.items() if key in found)
            if listed.material(line).id != _WATER:
                lines.append(listed.line(line, parts, uses))
    return tuple(lines)


class _Listed:
    """The goods of a job by name, so that one name stands for one thing."""

    def __init__(self, library: Library, facts: Facts) -> None:
        self._library = library
        self._damp, self._spelling = sand_state(facts) != "dry", facts.spelling
        self._sands: dict[tuple[str, float], tuple[Sand, Material]] = {}
        self._sieved: dict[tuple[str, float], float] = {}

    def order(self, made: MixSheetFacts) -> MixOrder:
        """What the works of a mix take of the goods."""
        recipe, materials = made.mix.recipe, self._library.materials
        for held in made.held:  # what is sieved off is ordered with the rest
            self._sieved[held.sand, held.allowed_mm] = held.order_factor
        return MixOrder(
            made.mix.ref,
            made.made.gauged,
            made.made.amounts,
            _goods(materials[recipe.lime]),
            tuple(self._sand(name, made.mix) for name, _ in made.sands),
            _goods(materials[recipe.pozzolan]) if recipe.pozzolan else None,
            _goods(materials[_HAIR]) if made.made.hair_g else None,
        )

    def fillings(self, facts: Facts) -> Iterator[MixOrder]:
        """What fills old plaster and runs mouldings in stuff that is made for it, on no card: coarse, and fine."""
        materials = self._library.materials
        for mix, amounts in made_for_it(facts, Outputs(self._library)):
            sand = self._sand(materials[mix.recipe.sand].name, mix)
            hair = _goods(materials[_HAIR]) if mix.hair_kg_per_m3 else None
            gauge = plain_gauge(mix, self._library)
            yield MixOrder(mix.ref, gauge, amounts, _goods(materials[mix.recipe.lime]), (sand,), hair=hair)

    def _sand(self, name: str, mix: Mix) -> Sand:
        """A sand of a mix; one on offer weighs what the first recipe that takes it reckons with."""
        material = self._library.materials[mix.recipe.sand]
        key = (name, float(mix.grain_mm))
        moisture = float(self._library.row("damp-sand").number("moisture_likely"))
        holds = float(material.package.holds)
        sand = Sand(*key, floats(material.bulk_density_kg_per_l).likely, moisture, self._damp, holds)
        return self._sands.setdefault(key, (sand, material))[0]

    def material(self, line: _Line) -> Material:
        """The material of the library that a line is."""
        if isinstance(line, SandLine):
            return self._sands[line.sand.key][1]
        return self._library.materials[line.goods.name]

    @staticmethod
    def key(line: _Line) -> object:
        """What a line is told apart by."""
        return line.sand.key if isinstance(line, SandLine) else line.goods.name

    def line(self, line: _Line, parts: str, uses: tuple[tuple[str, Range[float]], ...]) -> MaterialLine:
        """A line as the papers take it."""
        material = self.material(line)
        sand = line.sand if isinstance(line, SandLine) else None
        name, grain = (material.name, None) if sand is None else (sand.name, Decimal(str(sand.grain_mm)))
        kind = parts if parts == _HAIR else parts.removesuffix("s")
        factor = 1.0 if sand is None else self._sieved.get(sand.key, 1.0)
        apart = self._apart(line, parts)
        amount = _amount(line).each(lambda end: end * factor + apart)
        packages, small = self._packed(amount.high, material)
        each = uses if factor == 1.0 else tuple((ref, part.times(factor)) for ref, part in uses)
        return MaterialLine(material, name, grain, amount, packages, kind, each, small)

    def _packed(self, amount: float, material: Material) -> tuple[Decimal, Decimal]:
        """The large and the small packages of an amount, of the one that is told where there are two sizes."""
        large, small = float(material.package.holds), material.small_package
        most = self._library.number("small_packages_per_cent")
        if small is None or most is None:
            return Decimal(bags_to_order(amount, large)), Decimal(0)
        told = float(self._spelling.ordered(amount, material.package.unit, up=True))
        found = packages_to_order(told, large, float(small.holds), float(most) / 100)
        return Decimal(found[0]), Decimal(found[1])

    def _apart(self, line: _Line, parts: str) -> float:
        """What is lodged and left of a material beside what goes into mixes, in the unit of its package."""
        found = {name: float(self._library.number(name) or 0) for name in _APART[parts]}
        kg = sum(amount / (1000 if name.endswith("_g") else 1) for name, amount in found.items())
        return kg / line.goods.kg_per_l if isinstance(line, GoodsLine) and line.goods.package_unit == "l" else kg


def _goods(material: Material) -> Goods:
    """A material as it is bought; hair is weighed, and a litre of it counts as a kilogram."""
    kg_per_l = 1.0 if material.id == _HAIR else floats(material.bulk_density_kg_per_l).likely
    return Goods(material.id, kg_per_l, float(material.package.holds), material.package.unit)


def _amount(line: _Line) -> Range[float]:
    if isinstance(line, SandLine):
        return line.sold_kg
    return line.litres if line.goods.package_unit == "l" else line.kg
