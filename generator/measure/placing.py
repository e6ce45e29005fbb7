"""What is placed of a mix in a day: each of its works with its area, its output, its litres and its panels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from generator.decide.model import Mix
from generator.library.model import Library
from generator.lime.job_batches import Work
from generator.measure.items import alike
from generator.measure.laying import fillings, laying_days
from generator.measure.outputs import Outputs, gang
from generator.measure.stuff_taken import taken, taking
from generator.measure.volumes import beside_l_per_m2, coat_alone_l_per_m2, coat_area_m2
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Struct, replace, total

SITE: Final = "site"
"""The one mixing place of a job."""


class Placed(Struct, frozen=True):
    """A work of a mix at its scope; `task` where it is none of a coat but of a task that fills, on days of its own.

    `coat_l_per_m2` is what the coat alone takes in place, without what lies deeper or is bedded again.
    """

    path: ScopePath
    work: Work
    coat_l_per_m2: float
    task: str = ""

    def covers_m2(self, mortar_l: float) -> float:
        """What so much mortar covers of the coat alone, with what of it is dropped."""
        return mortar_l / (self.coat_l_per_m2 * (1 + self.work.dropped_share))


def works_of(mix: Mix, facts: Facts, outputs: Outputs) -> list[Placed]:
    """The works of a mix that can be reckoned; what lacks an answer adds nothing but its finding."""
    found: list[Placed] = []
    shown: set[tuple[str, ...]] = set()
    reckoned: dict[ScopePath, _Reckoned | None] = {}
    for here in map(facts.at_scope, mix.used_for):
        model = facts.model(here.path)
        if model not in reckoned:
            reckoned[model] = _reckoned(mix, here, outputs)
        one = reckoned[model]
        if one is None:
            continue
        for task, work in one.fillings.items():
            filling = replace(work)  # each a work of its own, as the one whose batch is taken is known by itself
            found.append(Placed(here.path, filling, filling.in_place_l_per_m2.likely, task))
        coat = replace(one.coat, panels_m2=_panels(here, shown, outputs.library))
        found.append(Placed(here.path, coat, one.coat_l_per_m2))
    return [*found, *_taken(mix, facts, outputs)]


def _taken(mix: Mix, facts: Facts, outputs: Outputs) -> Iterator[Placed]:
    """What old plaster is filled with and mouldings are run in, of a mix, on days of their own."""
    dropped = dropped_share(mix, outputs.library)
    for work, part in taking(mix.ref, facts):
        for one in taken(work, part, outputs):
            output = {SITE: _a_day(one.amount.likely, one.days)}
            placed = Work(one.amount, output, one.litres, dropped_share=dropped)
            yield Placed(work.path, placed, one.litres.likely, one.task)


class _Reckoned(Struct, frozen=True):
    """A coat of a mix without its panel, what is filled under it by task, and what the coat alone takes."""

    coat: Work
    fillings: Mapping[str, Work]
    coat_l_per_m2: float


def _reckoned(mix: Mix, here: View, outputs: Outputs) -> _Reckoned | None:
    library = outputs.library
    area, alone = coat_area_m2(here), coat_alone_l_per_m2(here, library)
    if area is None or alone is None or not area.low or not alone.low:
        return None
    dropped = dropped_share(mix, library)
    beside, filled = beside_l_per_m2(here, library), dict[str, Work]()
    for filling in fillings(here.around("work"), _people_nr(here, outputs), outputs):
        takes = total([beside.pop(each) for each in filling.operations if each in beside], 0.0)
        if takes.likely:
            output = {SITE: _a_day(area.likely, filling.days)}
            filled[filling.task] = _filling(area, output, takes, dropped)
    output = {SITE: day_output(here, area.likely, outputs)}
    per_m2 = total([alone, *beside.values()], 0.0)
    return _Reckoned(Work(area, output, per_m2, dropped_share=dropped), filled, alone.likely)


def dropped_share(mix: Mix, library: Library) -> float:
    """What of a mix is dropped as it is placed, of what is placed."""
    return float(library.row("quantity-waste", making=mix.recipe.making).number("dropped_per_cent")) / 100


def _filling(area: Range[float], output: Mapping[str, float], takes: Range[float], dropped: float) -> Work:
    """What fills under a coat, spread over all that is treated; at an end that takes nothing, it is done nowhere."""
    if not takes.low:
        area, takes = replace(area, low=0.0), replace(takes, low=takes.likely)
    return Work(area, output, takes, dropped_share=dropped)


def day_output(here: View, area_m2: float, outputs: Outputs) -> float:
    """What the people of one mixing place lay of a coat in a day, in the unit of its area, as the programme reckons it.

    With what is counted in the laying, and without what has days of its own. A coat whose quantity nobody answered is
    done in a day.
    """
    return _a_day(area_m2, laying_days(here, _people_nr(here, outputs), outputs))


def _people_nr(here: View, outputs: Outputs) -> int:
    trade = here.text("trade")
    return gang(here, trade, outputs.library).reckoned_nr if trade else 1


def _a_day(area_m2: float, days: Range[float] | None) -> float:
    return area_m2 / days.likely if days is not None and days.likely else area_m2


def _panels(here: View, shown: set[tuple[str, ...]], library: Library) -> tuple[float, ...]:
    """One panel of each coat of a mix for all works of a kind, finish and masonry in the same mixes, with the first."""
    area, sort = here.real("panel_area_m2"), (here.text("coat"), *alike(here))
    if area is None or here.text("work") == "flaunching" or sort in shown:
        return ()
    shown.add(sort)
    return (area * _thickness_share(here, library),)


def _thickness_share(here: View, library: Library) -> float:
    """How thick a panel of walling is, which is built one unit thick, beside the wall rebuilt; 1 of all else."""
    whole, most = here.real("rebuild_thickness_mm"), library.number("walling_panel_mm")
    if here.text("work") != "rebuild" or not whole or most is None:
        return 1.0
    unit = here.real("unit_width_mm") if here.text("masonry") == "brick" else None
    return min(unit or float(most), whole) / whole
