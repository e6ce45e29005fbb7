"""The sands of a mix held against its greatest grain: those of its blend, else the one that the job asks for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.decide.sands import sands_read
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.sand_fit import GrainHeld, OfferedSand, grain_held
from generator.measure.model import MixSheetFacts
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Struct, Value, joined

_CODES: Final = {"sieve": "sand-to-sieve", "other-source": "sand-from-elsewhere"}
_FINER: Final = "sand-finer-than-mix"
_RANGE: Final = r"\b(?:[0-9]+(?:\.[0-9]+)?\s*(?:-|–|/|to)|up to)\s*([0-9]+(?:\.[0-9]+)?)"
_BETWEEN: Final = r"\s*(?:mm)?\s*(?:,|\band\b|\bor\b)\s*(?:and|or)?\s*"
_SIZE: Final = re.compile(rf"({_RANGE})(?=(?:{_BETWEEN}{_RANGE})*\s*mm\b)", re.IGNORECASE)
"""A size as people write it (0-4 mm, 0/4 mm, up to 4 mm), its greatest grain in its second group; of a list of sizes
the last alone need say mm."""
_JOINING: Final = re.compile(r"^(?:\s|mm\b|[,;]|and\b|or\b)+|(?:\s|[,;]|\band|\bor)+$", re.IGNORECASE)
_ALIKE: Final = 5  # letters by which plastering and plaster are one word
_ANY: Final = "sand"  # says no kind of sand
_NOT_NAMED: Final = "sand-not-named"


class _Asked(Struct, frozen=True):
    """A sand of those asked for: its name as answered, the words that say its kind, and its greatest grain."""

    name: str
    kind: str
    greatest_mm: float


def sands_held(made: MixSheetFacts, facts: Facts, library: Library) -> tuple[GrainHeld, ...]:
    """Each sand of a mix against the grain that it takes; none where the mix has no sand or nothing was said of it."""
    if not made.mix.grain_mm:
        return ()
    return tuple(grain_held(sand, float(made.mix.grain_mm)) for sand in _said(made, facts, library))


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


def _said(made: MixSheetFacts, facts: Facts, library: Library) -> list[OfferedSand]:
    site = facts.at_scope(PROJECT)
    on_offer = {offer.sand.name: offer.sand for offer in sands_read(site)}
    blended = [on_offer[name] for name, _ in made.sands if name in on_offer]
    if blended:
        return [OfferedSand(sand.name, None, sand.grading) for sand in blended]
    named = [sand for sand in _asked(site.text("sand_source")) if not _is_of_another_kind(sand.kind, made, library)]
    asked = _of_its_kind(named, library.materials[made.mix.recipe.sand].short)
    if not asked:
        return []
    sands = sorted(asked, key=lambda sand: sand.greatest_mm)
    fit = [sand for sand in sands if sand.greatest_mm <= float(made.mix.grain_mm)]
    taken = fit[-1] if fit else sands[0]
    return [OfferedSand(taken.name, taken.greatest_mm)]


def _asked(source: str) -> list[_Asked]:
    """The sands of an answer, each size with its own words: those before it, or after it where sizes come first.

    A size without words is of the sand before it.
    """
    sizes = list(_SIZE.finditer(source))
    if not sizes:
        return []
    ends = [0, *(size.end() for size in sizes), len(source)]
    starts = [*(size.start() for size in sizes), len(source)]
    between = [_JOINING.sub("", source[end:start]) for end, start in zip(ends, starts, strict=False)]
    words_first = bool(between[0])
    found: list[_Asked] = []
    for size, kind in zip(sizes, between if words_first else between[1:], strict=False):
        kind = kind or (found[-1].kind if found else "")
        told = f"{size[1]} mm"
        named = f"{kind} {told}" if words_first else f"{told} {kind}"
        found.append(_Asked(named.strip(), kind, float(size[2])))
    return found


def unnamed(batches: Iterable[MixSheetFacts], facts: Facts, library: Library) -> dict[str, list[str]]:
    """The sands that mixes take and that the answer does not name, by material, with those mixes."""
    source, refs = facts.at_scope(PROJECT).text("sand_source"), dict[str, list[str]]()
    on_offer = {offer.sand.name for offer in sands_read(facts.at_scope(PROJECT))}
    for made in batches:
        blended = any(name in on_offer for name, _ in made.sands)
        if made.mix.grain_mm and not blended and _is_of_another_kind(source, made, library):
            refs.setdefault(made.mix.recipe.sand, []).append(made.mix.ref)
    return refs


def still_to_match(refs: Mapping[str, list[str]]) -> dict[ScopePath, Mapping[str, Value]]:
    """The mixes whose sand is still to be chosen, as papers name them."""
    mixes = sorted({ref for each in refs.values() for ref in each})
    return {PROJECT: {"sand_to_match": joined(mixes)}} if mixes else {}


def told_unnamed(refs: Mapping[str, list[str]], facts: Facts, library: Library) -> Iterator[Raised]:
    """Of each sand that is not named one finding, with the mixes that take it."""
    for sand, mixes in refs.items():
        fills = (("mixes", joined(mixes)), ("sand", library.materials[sand].name))
        yield Raised(_NOT_NAMED, PROJECT, fills, (), facts.at_scope(PROJECT).marks("sand_source"))


def _is_of_another_kind(told: str, made: MixSheetFacts, library: Library) -> bool:
    """Whether words tell kinds of sand, and none by which the sand of a mix is named: sharp alone, where it is fine."""
    kinds = {word for recipe in library.recipes.values() if recipe.sand for word in _kind(recipe.sand, library)}
    said = _words(told) & kinds
    return bool(said) and not said & _words(library.materials[made.mix.recipe.sand].name)


def _kind(sand: str, library: Library) -> set[str]:
    return _words(library.materials[sand].short) - {_ANY}


def _of_its_kind(asked: list[_Asked], short: str) -> list[_Asked]:
    """Those whose words say most of what the sand of a mix is called; all where none says more than another."""
    most = max((_shared(sand.kind, short) for sand in asked), default=0)
    return [sand for sand in asked if _shared(sand.kind, short) == most]


def _shared(kind: str, short: str) -> int:
    return len(_words(kind) & _words(short))


def _words(text: str) -> set[str]:
    return {word[:_ALIKE] for word in re.findall("[a-z]+", text.lower())}
