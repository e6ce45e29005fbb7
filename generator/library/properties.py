"""The shapes of a material and of its properties: its package, density, purity and carbon, each with its source."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

from generator.files.shapes import Confidence, InOrder, Number, Shape, names_of, within
from generator.library.tables import Id
from generator.lime.putty import SOLIDS_SHARE_LIMITS
from generator.lime.slaking import PURITY_SHARE_LIMITS

KgPerL = Annotated[Number, within(0.05, 5)]
SolidsShare = Annotated[Number, within(*SOLIDS_SHARE_LIMITS)]
PurityShare = Annotated[Number, within(*PURITY_SHARE_LIMITS)]
KgPerKg = Annotated[Number, within(0, 10)]


class Package(Shape, frozen=True):
    """How a material is bought: bags, tubs, tonnes; contents in its unit."""

    name: str
    plural: str
    holds: Annotated[Number, within(0.001, 100_000)]
    unit: Literal["kg", "l"]


class LowHigh(InOrder, frozen=True):
    """A published range of a property, with the likely value used."""

    low: Number
    likely: Number
    high: Number
    sources: tuple[str, ...]
    confidence: Confidence


class Density(LowHigh, frozen=True):
    """A loose bulk density, kg/l."""

    low: KgPerL
    likely: KgPerL
    high: KgPerL


class Solids(LowHigh, frozen=True):
    """The share of a putty's mass that is slaked lime."""

    low: SolidsShare
    likely: SolidsShare
    high: SolidsShare


class Purity(LowHigh, frozen=True):
    """The share of a quicklime that is lime."""

    low: PurityShare
    likely: PurityShare
    high: PurityShare


class Carbon(LowHigh, frozen=True):
    """Kilograms of carbon dioxide, or what warms as much, in making or ageing a kilogram."""

    low: KgPerKg
    likely: KgPerKg
    high: KgPerKg


class Material(Shape, frozen=True):
    """A material to order: name by standard and form, its density, carbon, package, waste and lead time.

    `short` is how a sentence names it, `box` the word on the site sheet beside its box count. `customary_package` is
    how it is bought where units are customary, its contents in the metric unit all the same; `small_package` holds what
    is left over of large ones. `delivered` says how an order comes that does not keep.
    """

    id: Id
    name: str
    short: str
    package: Package
    sources: tuple[str, ...]
    box: str = ""
    standard: str = ""
    bulk_density_kg_per_l: Density | None = None
    solids_share: Solids | None = None
    purity_share: Purity | None = None
    emitted_kgco2e_per_kg: Carbon | None = None
    taken_up_kgco2_per_kg: Carbon | None = None
    customary_package: Package | None = None
    small_package: Package | None = None
    customary_small_package: Package | None = None
    delivered: str = ""
    order_weeks: Number = Decimal(0)
    order_because: str = ""

    def properties(self) -> dict[str, LowHigh]:
        """The properties it is reckoned by, those that it has, by name."""
        held = {name: getattr(self, name) for name in names_of(type(self))}
        return {name: value for name, value in held.items() if isinstance(value, LowHigh)}
