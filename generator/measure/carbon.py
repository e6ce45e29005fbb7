"""The carbon of a cubic metre of a mix, from what its materials emit and may take up: for the specifier alone."""

from __future__ import annotations

from collections.abc import Iterator

from generator.decide.model import Mix
from generator.library.model import Library
from generator.library.properties import Material
from generator.lime.carbon import NO_UPTAKE, CarbonItem, MortarCarbon, mortar_carbon
from generator.measure.gauged import floats
from generator.measure.mixing import kg_per_m3
from generator.values import Struct


class MixCarbon(Struct, frozen=True):
    """The carbon of a cubic metre, kg, and the materials for which no figure is known."""

    carbon: MortarCarbon
    not_counted: tuple[str, ...]


def carbon_per_m3(mix: Mix, library: Library) -> MixCarbon:
    """What making the materials of a cubic metre emits, kgCO2e, and what they may take up, kgCO2; no waste in it."""
    amounts = kg_per_m3(mix, library)
    without = [material.short for material, _ in amounts if material.emitted_kgco2e_per_kg is None]
    return MixCarbon(mortar_carbon(list(_counted(amounts))), tuple(without))


def _counted(amounts: list[tuple[Material, float]]) -> Iterator[CarbonItem]:
    for material, kg in amounts:
        emitted, taken = material.emitted_kgco2e_per_kg, material.taken_up_kgco2_per_kg
        if emitted is not None:
            yield CarbonItem(material.id, kg, floats(emitted), floats(taken) if taken is not None else NO_UPTAKE)
