"""What is placed of a mix in a day: each of its works with its area, its output, its litres and its panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from generator.decide.model import Mix
from generator.lime.job_batches import Work
from generator.measure.outputs import Outputs, gang
from generator.measure.volumes import coat_area_m2, coat_l_per_m2, dubbing_l_per_m2
from generator.questionnaire.facts import Facts, ScopePath, View
from generator.values import Range

SITE: Final = "site"
"""The one mixing place of a job."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A work of a mix at its scope; `dubbing` where it is the filling of hollows, which has days of its own."""

    path: ScopePath
    work: Work
    dubbing: bool = False


def works_of(mix: Mix, facts: Facts, outputs: Outputs) -> list[Placed]:
    """The works of a mix that can be reckoned; what lacks an answer adds nothing but its finding."""
    library = outputs.library
    found: list[Placed] = []
    shown: set[str] = set()
    for here in map(facts.at_scope, mix.used_for):
        area, per_m2 = coat_area_m2(here), coat_l_per_m2(here, library)
        if area is None or per_m2 is None or not area.low or not per_m2.low:
            continue
        dropped = float(library.row("quantity-waste", making=mix.recipe.making).number("dropped_per_cent")) / 100
        hollow = dubbing_l_per_m2(here)
        if hollow:
            output = {SITE: _people_output(here, ("dub",), area.likely, outputs)}
            filling = Work(area, output, Range(hollow, hollow, hollow), dropped_share=dropped)
            found.append(Placed(here.path, filling, dubbing=True))
        output = {SITE: day_output(here, area.likely, outputs)}
        coat = Range(per_m2.low - hollow, per_m2.likely - hollow, per_m2.high - hollow)
        found.append(Placed(here.path, Work(area, output, coat, _panels(here, shown), dropped)))
    return found


def day_output(here: View, area_m2: float, outputs: Outputs) -> float:
    """What the people of one mixing place finish of a coat in a day, in the unit of its area.

    The gang's own output where it was answered; else the published outputs of its people, of pointing with its raking,
    which the same people do. A coat whose quantity nobody answered is done in a day.
    """
    answered = here.real("output_m2_per_day")
    if answered is not None and not here.real("open_joint_m"):
        return answered
    operations = ("lay", "rake") if here.text("coat") == "pointing" else ("lay",)
    return _people_output(here, operations, area_m2, outputs)


def _people_output(here: View, operations: Sequence[str], area_m2: float, outputs: Outputs) -> float:
    """What they finish in a day who do all of some operations; the whole area where no output tells."""
    trade = here.text("trade")
    scopes = {"rake": here.around("work")} if "rake" in operations else {}
    found = [outputs.labour(scopes.get(operation, here), operation) for operation in operations]
    people = gang(here, trade, outputs.library).reckoned_nr if trade else 1
    days = sum(labour.days(people).likely for labour in found if labour is not None)
    return area_m2 / days if days else area_m2


def _panels(here: View, shown: set[str]) -> tuple[float, ...]:
    """One panel of a mix on each kind of wall, made with the first work there."""
    area, kind = here.real("panel_area_m2"), here.text("masonry")
    if area is None or here.text("work") == "flaunching" or kind in shown:
        return ()
    shown.add(kind)
    return (area,)
