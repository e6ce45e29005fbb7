"""The shapes of what a material is reckoned by: its package, density, purity and carbon, each with its source."""

from __future__ import annotations

from typing import Annotated, Literal

from generator.files.shapes import Confidence, InOrder, Number, Shape, within
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
