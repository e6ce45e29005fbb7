"""Faces whose last coat of render is laid in one day, and how many people that takes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from generator.lime.season import DUST_DAYS
from generator.measure.outputs import LAY, Outputs, gang
from generator.questionnaire.facts import View
from generator.values import Value

LIMIT: Final = "face_in_a_day_m2"
MOST_HANDS: Final = "face_hands_most_nr"


def hands_for_a_day(work: View, outputs: Outputs) -> Mapping[str, Value]:
    """The people who lay the last coat of a face in one day, where that is asked and its gang takes longer.

    hands = people of the gang * their days, whole;   46 m² at 20 m² a person and day: 3

    More than have room on one face have a name of their own, and its dates are those of the gang.
    """
    coats = work.inside("coat")
    if not coats or not _is_laid_in_a_day(work, outputs):
        return {}
    trade = work.text("trade")
    people = gang(work, trade, outputs.library).reckoned_nr if trade else 1
    days = outputs.days(coats[-1], LAY, people)
    if days is None or days.likely <= 1 + DUST_DAYS:
        return {}
    hands, most = Decimal(math.ceil(people * days.likely - DUST_DAYS)), outputs.library.number(MOST_HANDS)
    return {"face_hands_nr" if most is None or hands <= most else "face_crowd_nr": hands}


def _is_laid_in_a_day(work: View, outputs: Outputs) -> bool:
    """Whether a face is small, or has nothing known to stop at; panels in a frame stop at their timbers."""
    area, limit = work.number("treated_area_m2"), outputs.library.number(LIMIT)
    if work.text("work") != "render" or work.text("exposure_reckoned") == "internal" or work.yes("in_frame"):
        return False
    return area is not None and ((limit is not None and area < limit) or not _has_openings(work))


def _has_openings(work: View) -> bool:
    wall = work.around("element")
    return bool(wall.records("wall_openings") or any(each.records("openings") for each in wall.inside("work")))
