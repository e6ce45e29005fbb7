"""What measuring makes: lines to price, materials to order, and the boxes of a batch."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from generator.decide.model import Mix
from generator.errors import Raised
from generator.library.model import ItemEntry, Material
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range


@dataclass(frozen=True, slots=True)
class Item:
    """A line to price. `quantity` is None for rate-only lines, sums, and quantities still to follow."""

    ref: str
    entry: ItemEntry
    path: ScopePath
    section: str
    quantity: Decimal | None
    kind: str
    mix: str = ""
    to_follow: bool = False
    amount: Decimal | None = None


@dataclass(frozen=True, slots=True)
class ItemSection:
    """Lines collected to one total: preliminaries, an element, provisional sums …"""

    key: str
    number: int
    path: ScopePath
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """A material to order for a mix, in whole packages; a check on prices, never a line to price."""

    mix: str
    material: Material
    amount: Range[float]
    packages: Decimal
    parts: str


@dataclass(frozen=True, slots=True)
class MixSheetFacts:
    """The boxes of one batch of a mix and what it makes, with the figures that the cautions rest on.

    `volume_l` is the mortar in the work, of which `batches` are made; `pozzolan_l` is the dose, struck in so many
    equal `pozzolan_measures`, none larger than the gauge box.
    """

    mix: Mix
    lime_boxes: Decimal
    sand_boxes: Decimal
    pozzolan_l: Decimal
    batch_l: Range[Decimal]
    batches: Range[Decimal]
    volume_l: Range[Decimal]
    dry_ratio: Range[Decimal]
    pozzolan_measures: int = 1
    putty_ratio: Range[Decimal] | None = None
    hair_g: Decimal | None = None
    heat_mj: Decimal | None = None
    steam_l: Decimal | None = None
    water_l: Decimal | None = None
    room_l: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """All that was measured, with the facts it was added to."""

    facts: Facts
    sections: tuple[ItemSection, ...]
    materials: tuple[MaterialLine, ...]
    batches: tuple[MixSheetFacts, ...]
    raised: tuple[Raised, ...]

    def items(self) -> list[Item]:
        """Every line in order."""
        return [item for section in self.sections for item in section.items]
