"""The survey by photographs: pictures read, areas reckoned, and what they give each work added to the facts."""

from __future__ import annotations

from pathlib import Path

from generator.decide.model import Reason
from generator.library.model import Library
from generator.measure.photographs.model import ORIGIN, Surveyed
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath


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
