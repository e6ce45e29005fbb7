"""In a church nobody is up while a bell can swing or a clock strike, and each day somebody signs that none can."""

from __future__ import annotations

from answers_text import one_wall
from jobs import job
from timed_jobs import codes

from generator.document.outline import outline
from generator.papers.assemble import assemble


def test_nobody_goes_up_in_a_church_before_its_bells_are_signed_for() -> None:
    found = job(one_wall(church="yes", faculty="granted"))
    assert "bells-and-clock" in codes(found)
    papers = outline(assemble(found).specification)
    assert "signs for it each day before anybody goes up" in papers


def test_no_bells_are_spoken_of_where_there_is_no_church() -> None:
    found = job(one_wall())
    assert "bells-and-clock" not in codes(found)
    assert not found.in_papers("building.bells")
