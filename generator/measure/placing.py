"""What is placed of a mix in a day: each of its works with its area, its output, its litres and its panels."""

from __future__ import annotations

from typing import Final

from generator.decide.model import Mix
from generator.lime.job_batches import Work
from generator.measure.laying import laying_days
from generator.measure.outputs import Outputs, gang
from generator.measure.volumes import beside_l_per_m2, coat_area_m2, coat_l_per_m2, dubbing_l_per_m2
from generator.questionnaire.facts import Facts, ScopePath, View
from generator.values import Range, Struct, replace

SITE: Final = "site"
"""The one mixing place of a job."""


class Placed(Struct, frozen=True):
    """A work of a mix at its scope; `dubbing` where it is the filling of hollows, which has days of its own.

    `coat_l_per_m2` is what the coat alone takes in place, without what lies deeper or is bedded again.
    """

    path: ScopePath
    work: Work
    coat_l_per_m2: float
    dubbing: bool = False

    def covers_m2(self, mortar_l: float) -> float:
        """What so much mortar covers of the coat alone, with what of it is dropped."""
        return mortar_l / (self.coat_l_per_m2 * (1 + self.work.dropped_share))


def works_of(mix: Mix, facts: Facts, outputs: Outputs) -> list[Placed]:
    """The works of a mix that can be reckoned; what lacks an answer adds nothing but its finding."""
    found: list[Placed] = []
    shown: set[str] = set()
    reckoned: dict[ScopePath, _Reckoned | None] = {}
    for here in map(facts.at_scope, mix.used_for):
        model = facts.model(here.path)
        if model not in reckoned:
            reckoned[model] = _reckoned(mix, here, outputs)
        one = reckoned[model]
        if one is None:
            continue
        if one.filling is not None:  # each a work of its own, as the one whose batch is taken is known by itself
            filling = replace(one.filling)
            found.append(Placed(here.path, filling, filling.in_place_l_per_m2.likely, dubbing=True))
        coat = replace(one.coat, panels_m2=_panels(here, shown))
        found.append(Placed(here.path, coat, one.coat_l_per_m2))
    return found


class _Reckoned(Struct, frozen=True):
    """A coat of a mix without its panel, the filling of its hollows if it has any, and what the coat alone takes."""

    coat: Work
    filling: Work | None
    coat_l_per_m2: float


def _reckoned(mix: Mix, here: View, outputs: Outputs) -> _Reckoned | None:
    library, filling = outputs.library, None
    area, per_m2 = coat_area_m2(here), coat_l_per_m2(here, library)
    if area is None or per_m2 is None or not area.low or not per_m2.low:
        return None
    dropped = float(library.row("quantity-waste", making=mix.recipe.making).number("dropped_per_cent")) / 100
    hollow = dubbing_l_per_m2(here)
    if hollow:
        output = {SITE: _a_day(area.likely, outputs.days(here, "dub", _people_nr(here, outputs)))}
        filling = Work(area, output, Range(hollow, hollow, hollow), dropped_share=dropped)
    output = {SITE: day_output(here, area.likely, outputs)}
    coat = Range(per_m2.low - hollow, per_m2.likely - hollow, per_m2.high - hollow)
    net = coat.likely - beside_l_per_m2(here, library).likely
    return _Reckoned(Work(area, output, coat, dropped_share=dropped), filling, net)


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


def _panels(here: View, shown: set[str]) -> tuple[float, ...]:
    """One panel of a mix on each kind of wall, made with the first work there."""
    area, kind = here.real("panel_area_m2"), here.text("masonry")
    if area is None or here.text("work") == "flaunching" or kind in shown:
        return ()
    shown.add(kind)
    return (area,)
