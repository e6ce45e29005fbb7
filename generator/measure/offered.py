"""The sands of a mix held against its greatest grain: those of its blend, else the one that the job asks for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from generator.decide.sands import sands_read
from generator.errors import Raised
from generator.lime.sand_fit import GrainHeld, OfferedSand, grain_held
from generator.measure.model import MixSheetFacts
from generator.questionnaire.facts import PROJECT, Facts
from generator.values import joined

_CODES: Final = {"sieve": "sand-to-sieve", "other-source": "sand-from-elsewhere"}
_FINER: Final = "sand-finer-than-mix"
_RANGE: Final = r"\b(?:[0-9]+(?:\.[0-9]+)?\s*(?:-|–|/|to)|up to)\s*([0-9]+(?:\.[0-9]+)?)"
_BETWEEN: Final = r"\s*(?:mm)?\s*(?:,|\band\b|\bor\b)\s*(?:and|or)?\s*"
_SIZE: Final = re.compile(rf"({_RANGE})(?=(?:{_BETWEEN}{_RANGE})*\s*mm\b)", re.IGNORECASE)
"""A size as people write it (0-4 mm, 0/4 mm, up to 4 mm), its greatest grain in its second group; of a list of sizes
the last alone need say mm."""


def sands_held(made: MixSheetFacts, facts: Facts) -> tuple[GrainHeld, ...]:
    """Each sand of a mix against the grain that it takes; none where the mix has no sand or nothing was said of it."""
    if not made.mix.grain_mm:
        return ()
    return tuple(grain_held(sand, float(made.mix.grain_mm)) for sand in _said(made, facts))


def unlike(batches: Iterable[MixSheetFacts], facts: Facts) -> Iterator[Raised]:
    """The sands that end at another grain than the mixes they go into: one a sand and what mends it."""
    marks = facts.at_scope(PROJECT).marks("sands_on_offer", "sand_source")
    refs: dict[tuple[str, str, str], list[str]] = {}
    for made in batches:
        for held in made.held:
            if code := _code(held):
                refs.setdefault((code, held.sand, f"{held.allowed_mm:g}"), []).append(made.mix.ref)
    for (code, sand, most), mixes in sorted(refs.items()):
        yield Raised(code, PROJECT, (("mixes", joined(mixes)), ("sand", sand), ("most", most)), (), marks)


def _code(held: GrainHeld) -> str:
    """What is told of a sand, if anything: that it is too coarse, or finer than the grain that all papers ask for."""
    finer = held.over_per_cent is None and held.greatest_mm is not None and held.greatest_mm < held.allowed_mm
    return _FINER if finer else _CODES.get(held.remedy, "")


def _said(made: MixSheetFacts, facts: Facts) -> list[OfferedSand]:
    site = facts.at_scope(PROJECT)
    on_offer = {offer.sand.name: offer.sand for offer in sands_read(site)}
    blended = [on_offer[name] for name, _ in made.sands if name in on_offer]
    if blended:
        return [OfferedSand(sand.name, None, sand.grading) for sand in blended]
    source = site.text("sand_source")
    sizes = sorted(_SIZE.finditer(source), key=lambda size: float(size[2]))
    if not sizes:
        return []
    fit = [size for size in sizes if float(size[2]) <= float(made.mix.grain_mm)]
    taken = (fit or sizes)[-1 if fit else 0]
    kind = source[: min(size.start() for size in sizes)]
    return [OfferedSand(f"{kind}{taken[1]} mm", float(taken[2]))]
