"""Measuring: quantities of each work, the lines to price, materials to order, and the boxes of each batch."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from generator.decide.model import Decisions, Mix
from generator.errors import Raised
from generator.library.model import Library
from generator.measure.items import price_lines
from generator.measure.mixing import batch_of, to_order
from generator.measure.model import MaterialLine, Measured, MixSheetFacts
from generator.measure.photographs.against import against
from generator.measure.quantities import RULES
from generator.measure.volumes import batch_covers_m2, coat_l
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range, Value, joined, plain, rounded, spoken, total

_MOST_NAMED: Final = 40
"""A list of more walls is read by nobody, and leaves no room on the one page of the mix schedule."""


def measure(decisions: Decisions, library: Library) -> Measured:
    """Everything measured, with the facts it was added to and the findings it raised."""
    facts = decisions.facts
    for rule in RULES:
        facts = facts.adding_each({work.path: rule(work, library) for work in facts.views("work")}, "<measure>")
    raised: list[Raised] = list(against(facts))
    batches: list[MixSheetFacts] = []
    materials: list[MaterialLine] = []
    for mix in decisions.mixes:
        volume = _volume(mix, facts, library)
        made, found = batch_of(mix, facts, library, volume)
        batches.append(made)
        raised += found
        facts = facts.adding(mix.path, _mix_names(made, facts, library), "<measure>")
        if covered := batch_covers_m2(made, facts, library):
            told = spoken(covered, "m²")
            if mix.recipe.making == "limewash":
                told = library.phrase("covers-one-coat", area=told)
            facts = facts.adding(mix.path, {"mix_covers_m2": told}, "<measure>")
        materials += to_order(mix, facts, library, volume) if volume.high else ()
    sections, missing = price_lines(facts, library)
    return Measured(facts, sections, tuple(materials), tuple(batches), (*raised, *missing))


def _volume(mix: Mix, facts: Facts, library: Library) -> Range[float]:
    """The mortar of a mix over all its coats; works that cannot be reckoned add nothing but a finding."""
    found = (coat_l(facts.at_scope(path), library) for path in mix.used_for)
    return total((volume for volume in found if volume is not None), 0.0)


def _mix_names(made: MixSheetFacts, facts: Facts, library: Library) -> dict[str, Value]:
    """The names of a mix that texts and tables use."""
    recipe = made.mix.recipe
    lime, sand = library.materials[recipe.lime], library.materials[recipe.sand]
    values: dict[str, Value] = {
        "mix_name": recipe.name,
        "mix_making": recipe.making,
        "mix_lime": lime.name,
        "mix_sand": _sand(made, sand.name, library),
        "mix_boxes": boxes(made, library),
        "mix_batch_l": made.batch_l.likely,
        "mix_gauge": f"1 : {plain(recipe.ratio.chosen)}",
        "mix_dry_ratio": _ratio(made.dry_ratio, library),
        "mix_putty_ratio": _ratio(made.putty_ratio, library) if made.putty_ratio else library.words["slaked-already"],
        "mix_rest_days": recipe.rest_days,
        "mix_use_within_hours": recipe.use_within_hours,
        "mix_pozzolan": bool(recipe.pozzolan),
        "mix_walls": _walls(made.mix.used_for, facts, library),
    }
    if recipe.pozzolan:
        values["mix_pozzolan_name"] = library.materials[recipe.pozzolan].name
    if recipe.lime == "lime-putty":
        values["putty_least_months"] = _putty_age(made.mix, facts, library)
    if made.hair_g:
        values["mix_hair_g"] = spoken(made.hair_g, "g")
    slaking = {"mix_steam_l": made.steam_l, "mix_water_l": made.water_l, "mix_room_l": made.room_l}
    values |= {name: spoken(litres, "l") for name, litres in slaking.items() if litres is not None}
    return values


def _ratio(spread: Range[Decimal], library: Library) -> str:
    """A ratio as its likely value, with the range it may have."""
    if spread.single:
        return f"1 : {plain(spread.likely)}"
    return library.phrase("ratio-range", likely=f"1 : {plain(spread.likely)}", range=spoken(spread))


def _sand(made: MixSheetFacts, name: str, library: Library) -> str:
    if not made.mix.grain_mm:
        return name
    return library.phrase("sand-to-grain", sand=name, grain=spoken(made.mix.grain_mm, "mm"))


def boxes(made: MixSheetFacts, library: Library) -> str:
    """The boxes of a batch in words: whole struck boxes of lime and damp sand, and the pozzolan's measure."""
    recipe = made.mix.recipe
    parts = [
        _count(made.lime_boxes == 1, plain(made.lime_boxes), library.materials[recipe.lime].short, library),
        _count(made.sand_boxes == 1, plain(made.sand_boxes), library.materials[recipe.sand].short, library),
    ]
    if recipe.pozzolan:
        parts.append(
            library.phrase(
                "litres-of",
                litres=pozzolan_measure(made, library),
                what=library.materials[recipe.pozzolan].short,
            )
        )
    return " + ".join(parts)


def pozzolan_measure(made: MixSheetFacts, library: Library) -> str:
    """The pozzolan of a batch as it is struck: its litres, or so many measures of equal litres."""
    count = made.pozzolan_measures
    litres = spoken(rounded(made.pozzolan_l / count, 1), "l")
    return litres if count == 1 else library.phrase("times-litres", count=str(count), litres=litres)


def _putty_age(mix: Mix, facts: Facts, library: Library) -> Decimal:
    """The least age of the putty: the setting coat's where it goes on one, else the mortar's."""
    setting = any(facts.at_scope(path).text("coat") == "setting" for path in mix.used_for)
    return library.row("putty-age", use="setting" if setting else "mortar").number("months_least")


def _count(one: bool, count: str, what: str, library: Library) -> str:
    return library.phrase("box-of" if one else "boxes-of", count=count, what=what)


def _walls(paths: tuple[ScopePath, ...], facts: Facts, library: Library) -> str:
    """Where a mix goes: the walls, each with its coats where it has several; their number where they are very many."""
    found: dict[str, list[str]] = {}
    for path in paths:
        coats = found.setdefault(facts.scopes[path[:1]].title, [])
        if len(facts.inside(path[:1], "coat")) > 1:
            coats.append(facts.scopes[path].title)
    if len(found) > _MOST_NAMED:
        return library.phrase("walls-many", count=str(len(found)))
    return "; ".join(f"{wall}: {joined(coats)}" if coats else wall for wall, coats in found.items())
