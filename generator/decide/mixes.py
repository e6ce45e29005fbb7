"""Gathers coats of equal mortar into mixes. A mix keeps its reference from issue to issue, and no other ever takes it:
what hangs at the mixing place from an earlier issue never names another mortar."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from generator.decide import binder
from generator.decide.model import Mix
from generator.library.model import Library
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import joined, plain, replace

REGISTERED: Final = "mix:"


def mixes(facts: Facts, library: Library, last: Mapping[str, str]) -> tuple[Mix, ...]:
    """The mixes by number: those of the last issue with its numbers, new ones with the next, as the answers come."""
    known = {key: int(ref[1:]) for key, ref in last.items() if key.startswith(REGISTERED)}
    following = max(known.values(), default=0)
    found: list[tuple[int, Mix]] = []
    for (recipe, grain, dose, _), paths in _gathered(facts, library).items():
        mix = Mix("", library.recipes[recipe], grain, tuple(paths), dose, facts.at_scope(paths[0]).text("wash_colour"))
        number = known.get(_key(mix)) or _before_its_colour(mix, known)
        if number is None:
            number = following = following + 1
        found.append((number, replace(mix, ref=f"M{number}")))
    ordered = tuple(mix for _, mix in sorted(found, key=lambda item: item[0]))
    return tuple(replace(mix, apart=_apart(mix, ordered, facts, library)) for mix in ordered)


def _apart(mix: Mix, among: tuple[Mix, ...], facts: Facts, library: Library) -> str:
    """What tells a mix from others of its recipe: colour, or coats where none is theirs, else grain or hair."""
    others = [one for one in among if one.recipe.id == mix.recipe.id and one.ref != mix.ref]
    if mix.colour and others:
        return mix.colour
    coats = _coats(mix, facts)
    if not others or not any(title in _coats(one, facts) for one in others for title in coats):
        return joined(coats) if others else ""
    told = []
    if any(one.grain_mm != mix.grain_mm for one in others):
        told.append(library.phrase("mix-grain", grain=facts.say("greatest_grain_mm", mix.grain_mm)))
    if any(one.hair_kg_per_m3 != mix.hair_kg_per_m3 for one in others):
        told.append(library.phrase("mix-hair", hair=facts.say("hair_kg_per_m3", mix.hair_kg_per_m3)))
    return ", ".join(told)


def _coats(mix: Mix, facts: Facts) -> list[str]:
    return list(dict.fromkeys(facts.scopes[path].title for path in mix.used_for))


def register(mixes_: tuple[Mix, ...], last: Mapping[str, str]) -> dict[str, str]:
    """The reference of every mix that there is or was."""
    before = {key: ref for key, ref in last.items() if key.startswith(REGISTERED)}
    return before | {_key(mix): mix.ref for mix in mixes_}


def _key(mix: Mix) -> str:
    colour = f"/{_look(mix.colour)}" if mix.colour else ""
    return f"{REGISTERED}{mix.recipe.id}/{plain(mix.grain_mm)}/{plain(mix.hair_kg_per_m3)}{colour}"


def _before_its_colour(mix: Mix, known: Mapping[str, int]) -> int | None:
    """The number that a wash bore before its colour was answered; None once another colour has it."""
    colourless = _key(replace(mix, colour=""))
    number = known.get(colourless)
    return None if number in {n for key, n in known.items() if key != colourless} else number


def _look(colour: str) -> str:
    return " ".join(colour.casefold().split())


def _gathered(facts: Facts, library: Library) -> dict[tuple[str, Decimal, Decimal, str], list[ScopePath]]:
    """The coats of equal recipe, grain, hair and colour."""
    found: dict[tuple[str, Decimal, Decimal, str], list[ScopePath]] = {}
    for coat in facts.views("coat"):
        recipe, grain = binder.recipes_for(coat, library)(coat.text("binder")), coat.number("greatest_grain_mm")
        if recipe is not None and grain is not None:
            dose = coat.number("hair_kg_per_m3") or Decimal(0)
            found.setdefault((recipe.id, grain, dose, _look(coat.text("wash_colour"))), []).append(coat.path)
    return found
