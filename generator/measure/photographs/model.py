"""What photographs give a job, before it is papers; and what their names in the facts are."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from generator.decide.model import Reason
from generator.library.findings import Raised
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct, field

if TYPE_CHECKING:
    from generator.measure.photographs.reckoning import PhotographFigures, WorkArea

ORIGIN: Final = "<photographs>"
AREA: Final = "marked_area_m2"
ON: Final = "marked_on"
JOINT: Final = "photographed_joint_mm"


class Surveyed(Struct, frozen=True):
    """The facts with what photographs give, why, the findings, and the figures of each photograph and work."""

    facts: Facts
    photographs: tuple[PhotographFigures, ...] = ()
    works: tuple[WorkArea, ...] = ()
    reasons: Mapping[tuple[ScopePath, str], Reason] = field(default_factory=dict)
    raised: tuple[Raised, ...] = ()
