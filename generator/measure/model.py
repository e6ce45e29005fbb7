"""What measuring makes: lines to price, materials to order, and the boxes of a batch."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Final, Literal

from generator.decide.model import Mix
from generator.library.entries import ItemEntry
from generator.library.findings import Raised
from generator.library.properties import Material, Package
from generator.lime.batch import Note
from generator.lime.gauging import GAUGE_ERROR_SHARE, Counted, GaugedMix, boxes_and_jugs
from generator.lime.job_batches import Amounts, Cases
from generator.lime.sand_fit import GrainHeld
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Struct

FRESH: Final = "nhl"
"""The making of what is made on the day and does not keep; putty stuff, hot mix and limewash keep."""


def decimal(count: Fraction) -> Decimal:
    """A count in quarters or halves, exactly."""
    return Decimal(count.numerator) / Decimal(count.denominator)


class Item(Struct, frozen=True):
    """A line to price, its quantity in `unit`: None for rate-only lines, sums, and quantities still to follow.

    `notional` is what tenders are compared by of a rate-only line, in `unit`; `amount` what a sum is set at.
    `others` are the further scopes that it serves.
    """

    ref: str
    entry: ItemEntry
    path: ScopePath
    section: str
    quantity: Decimal | None
    kind: str
    mix: str = ""
    to_follow: bool = False
    amount: Decimal | None = None
    unit: str = ""
    notional: Decimal | None = None
    others: tuple[ScopePath, ...] = ()

    @property
    def serves(self) -> tuple[ScopePath, ...]:
        """Every scope that it is of: its own, and the others."""
        return (self.path, *self.others)

    @property
    def is_open_sum(self) -> bool:
        """Whether it is a sum that the specifier has not set."""
        return self.kind == "sum" and self.amount is None


class ItemSection(Struct, frozen=True):
    """Lines collected to one total: preliminaries, an element, provisional sums …"""

    key: str
    number: int
    path: ScopePath
    items: tuple[Item, ...]


class MaterialLine(Struct, frozen=True):
    """A material to order for all mixes that take it, in whole packages of the high; a check on prices, never a line.

    `packages` are large ones where it is sold in two sizes, and `small_packages` hold what is left over of them.

    A sand has its own name and greatest grain, `grain_mm`; other materials have none. `uses` are the mixes, each with
    what it takes; the amount holds what is lodged and left beside them too. Amounts are in the unit of the package.
    """

    material: Material
    name: str
    grain_mm: Decimal | None
    amount: Range[float]
    packages: Decimal
    parts: str
    uses: tuple[tuple[str, Range[float]], ...]
    small_packages: Decimal = Decimal(0)

    @property
    def order(self) -> tuple[tuple[Decimal, Package], ...]:
        """How many of which package are ordered, the large ones first; of those that are left out, none."""
        small = self.material.small_package
        both = ((self.packages, self.material.package), *(((self.small_packages, small),) if small else ()))
        return tuple((count, package) for count, package in both if count) or both[:1]

    @property
    def holds(self) -> Decimal:
        """What the packages ordered hold together, in their unit."""
        return sum((count * package.holds for count, package in self.order), Decimal(0))


class DayFacts(Struct, frozen=True):
    """A work's days in a mix: litres that a day takes, what is made or drawn for it, and what is left at its end.

    `a_day` counts batches, boxes drawn from store, or litres of wash, as `of` says; `covers_m2` is what one of them
    covers of the coat alone, without deep places and what is bedded again; `much_left` where more is thrown away than
    a whole step of the measure explains; `task` is what fills or mends beside the
    coat on days of its own, none of the coat's; `mixers_nr` are the mixers that make its batches in a day.
    """

    path: ScopePath
    days: int
    takes_l: float
    a_day: Fraction
    of: Literal["batch", "box", "litre"]
    left_l: float
    left_goes: Literal["kept", "thrown-away"]
    covers_m2: float
    much_left: bool
    draws_nr: int = 1
    task: str = ""
    mixers_nr: int = 1


class Made(Struct, frozen=True):
    """A mix as it is made: one batch, half of it, how many, its days, its doses, and all it comes to.

    `panel` is the batch of a panel, where that is a smaller one; `filling` is that of what fills beside coats, where it
    is made in one of its own, of which `batches_nr` are none; `panel_nr` is what the panel that takes most takes
    without such a one, in what its days count: batches, boxes drawn, or litres by the jug; None where no panel is
    made; where it has `panel_coats_nr` coats of the mix, each takes so much. Doses are of one batch of what is made
    fresh, else of one box drawn from store; None where there are none.
    """

    gauged: GaugedMix
    batch: Counted
    half_load: Counted | None
    batches_nr: Cases[Fraction]
    days: tuple[DayFacts, ...]
    amounts: Cases[Amounts]
    notes: tuple[Note, ...] = ()
    hair_g: int | None = None
    pozzolan_l: float | None = None
    vessel_l: float | None = None
    panel: Counted | None = None
    panel_nr: Fraction | None = None
    panel_coats_nr: int = 1
    filling: Counted | None = None

    @property
    def mixers_nr(self) -> int:
        """The mixers that the day takes which takes most."""
        return max((day.mixers_nr for day in self.days), default=1)


class MixSheetFacts(Struct, frozen=True):
    """The day's batch of a mix and what it makes, with the figures that the cautions rest on.

    `sands` are its sands by name, with their parts; `held` are those that something is known of, against its greatest
    grain; `putty_ratio` and what follows are of a hot mix alone.
    """

    mix: Mix
    made: Made
    sands: tuple[tuple[str, int], ...]
    box_l: float
    batch_l: Range[Decimal]
    dry_ratio: Range[Decimal]
    putty_ratio: Range[Decimal] | None = None
    heat_mj: Decimal | None = None
    steam_l: Decimal | None = None
    water_l: Decimal | None = None
    room_l: Decimal | None = None
    held: tuple[GrainHeld, ...] = ()

    @property
    def by_jug(self) -> bool:
        """Whether the counts are jugs; boxes otherwise."""
        return self.made.batch.measure == "jug"

    def measured_out(self, count: Decimal) -> tuple[Decimal, Decimal]:
        """A count of a batch as boxes and, after them, jugs.

        By the jug, what fills a box goes by whole boxes first, since thirty jugfuls are miscounted; a box whose jugs
        would put the count out by more than a gauge may be neared is left alone.
        """
        if not self.by_jug:
            return count, Decimal(0)
        box_jugs = self.box_l / self.made.gauged.jug_l
        whole, rest = boxes_and_jugs(float(count), box_jugs)
        off_jugs = abs(whole * box_jugs + float(rest) - float(count))
        if off_jugs > GAUGE_ERROR_SHARE * float(count):
            return Decimal(0), count
        return Decimal(whole), decimal(rest)

    @property
    def lime(self) -> Decimal:
        """The lime of a batch, in boxes or by the jug."""
        return decimal(self.made.batch.lime)

    @property
    def sand_counts(self) -> tuple[Decimal, ...]:
        """Each sand of a batch in turn, or the water of a wash, in boxes or by the jug."""
        return tuple(map(decimal, self.made.batch.sands))

    @property
    def batches(self) -> Range[Decimal]:
        """How many batches the job takes."""
        found = self.made.batches_nr.each(decimal)
        ends = (found.low, found.likely, found.high)
        return Range(min(ends), found.likely, max(ends))

    @property
    def goes(self) -> dict[str, Range[float]]:
        """Where all that is made of it goes, l: in place, dropped, thrown away, kept."""
        spread = self.made.amounts.spread
        return {
            "in_place_l": spread(lambda amounts: amounts.in_place_l),
            "dropped_l": spread(lambda amounts: amounts.dropped_l),
            "thrown_away_l": spread(lambda amounts: amounts.thrown_away_l),
            "kept_l": spread(lambda amounts: amounts.kept_l),
        }

    @property
    def keeps(self) -> bool:
        """Whether it is made before and drawn by the day."""
        return self.mix.recipe.making != FRESH


class Measured(Struct, frozen=True):
    """All that was measured, with the facts it was added to."""

    facts: Facts
    sections: tuple[ItemSection, ...]
    materials: tuple[MaterialLine, ...]
    batches: tuple[MixSheetFacts, ...]
    raised: tuple[Raised, ...]

    def items(self) -> list[Item]:
        """Every line in order."""
        return [item for section in self.sections for item in section.items]
