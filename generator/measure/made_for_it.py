"""The stuff that fills old plaster and runs mouldings where no card of the job has it: made for it, in pots."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from typing import Final

from generator.decide.model import Mix
from generator.lime.gauging import GaugedMix
from generator.lime.job_batches import Amounts, Cases, amounts_of
from generator.measure.gauged import plain_gauge
from generator.measure.outputs import Outputs
from generator.measure.placing import dropped_share
from generator.measure.stuff_taken import PARTS, taken, taking
from generator.questionnaire.facts import Facts
from generator.values import replace

FILLINGS: Final = "fillings"
"""What stands for the reference of a mix in orders, of stuff that is on no card."""

_CLAUSE: Final = "refix.filling-stuff"
_FIGURES: Final = {"coarse": ("coarse_grain_mm", "hair_g"), "fine": ("fine_grain_mm", "")}


def made_for_it(facts: Facts, outputs: Outputs) -> Iterator[tuple[Mix, Cases[Amounts]]]:
    """Each part that is made, as the clause has it, with what all works of the job take of it."""
    library = outputs.library
    for part in PARTS:
        works = [work for work, its in taking("", facts) if its == part]
        needs = [one.amount_l() for work in works for one in taken(work, part, outputs)]
        if not needs:
            continue
        grain, hair = (_figure(outputs, name) for name in _FIGURES[part])
        recipe = library.recipes[library.row("filling-stuff").text(f"{part}_recipe")]
        mix = Mix(FILLINGS, recipe, grain, (), hair)  # grams a litre are kilograms in a cubic metre
        dropped = dropped_share(mix, library)
        placed = Cases(*(sum(need[end] for need in needs) for end in range(3)))
        yield mix, placed.each(partial(_amounts, plain_gauge(mix, library), float(hair), dropped))


def _amounts(gauge: GaugedMix, hair_kg_per_m3: float, dropped_share: float, placed_l: float) -> Amounts:
    """What so much in place takes: of pots that are made as they are needed, nothing is left."""
    dropped_l = placed_l * dropped_share
    made_l = placed_l + dropped_l
    found = amounts_of(gauge, made_l, in_place_l=placed_l, dropped_l=dropped_l)
    return replace(found, hair_kg=made_l * hair_kg_per_m3 / 1000)


def _figure(outputs: Outputs, name: str) -> Decimal:
    return (outputs.library.number(name, _CLAUSE) if name else None) or Decimal(0)
