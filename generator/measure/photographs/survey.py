"""The survey by photographs: pictures read, areas reckoned, and what they give each work added to the facts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator.decide.model import Reason
from generator.errors import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Facts, ScopePath

if TYPE_CHECKING:
    from generator.measure.photographs.reckoning import PhotographFigures, WorkArea

ORIGIN: Final = "<photographs>"
AREA: Final = "marked_area_m2"
ON: Final = "marked_on"
JOINT: Final = "photographed_joint_mm"


@dataclass(frozen=True, slots=True)
class Surveyed:
    """The facts with what photographs give, why, the findings, and the figures of each photograph and work."""

    facts: Facts = field(repr=False)
    photographs: tuple[PhotographFigures, ...] = ()
    works: tuple[WorkArea, ...] = ()
    reasons: Mapping[tuple[ScopePath, str], Reason] = field(default_factory=dict)
    raised: tuple[Raised, ...] = ()


def survey(answers: Facts, library: Library, folder: Path | None) -> Surveyed:
    """The survey of a job by the photographs in its answers, whose files lie below a folder."""
    if not answers.photographs:
        return Surveyed(answers)
    # most jobs have none, and need nothing of this
    from generator.measure.photographs.given import given
    from generator.measure.photographs.pictures import read_pictures
    from generator.measure.photographs.reckoning import figures, work_areas
    from generator.measure.photographs.told import raised_by

    found = tuple(figures(picture, answers, library) for picture in read_pictures(answers.photographs, folder))
    works = work_areas(found)
    facts, reasons = answers, dict[tuple[ScopePath, str], Reason]()
    for path, values, reason in given(found, works, library):
        facts = facts.adding(path, values, ORIGIN)
        reasons |= {(path, name): reason for name in values}
    return Surveyed(facts, found, works, reasons, tuple(raised_by(found, works)))
