"""The sands of a mix held against its greatest grain: those of its blend, else the one that the job asks for."""

from __future__ import annotations

import re
from typing import Final

from generator.decide.sands import sands_read
from generator.lime.sand_fit import GrainHeld, OfferedSand, grain_held
from generator.measure.model import MixSheetFacts
from generator.questionnaire.facts import PROJECT, Facts

_SIZE: Final = re.compile(r"\b[0-9]+(?:\.[0-9]+)?\s*(?:-|–|to)\s*([0-9]+(?:\.[0-9]+)?)\s*mm\b")


def sands_held(made: MixSheetFacts, facts: Facts) -> tuple[GrainHeld, ...]:
    """Each sand of a mix against the grain that it takes; none where the mix has no sand or nothing was said of it."""
    if not made.mix.grain_mm:
        return ()
    return tuple(grain_held(sand, float(made.mix.grain_mm)) for sand in _said(made, facts))


def _said(made: MixSheetFacts, facts: Facts) -> list[OfferedSand]:
    site = facts.at_scope(PROJECT)
    on_offer = {offer.sand.name: offer.sand for offer in sands_read(site)}
    blended = [on_offer[name] for name, _ in made.sands if name in on_offer]
    if blended:
        return [OfferedSand(sand.name, None, sand.grading) for sand in blended]
    source = site.text("sand_source")
    size = _SIZE.search(source)
    return [OfferedSand(source[: size.end()], float(size[1]))] if size else []
