"""In a church nobody is up while a bell can swing or a clock strike, and each day somebody signs that none can."""

from __future__ import annotations

from answers_text import one_wall, work
from jobs import job
from timed_jobs import codes, planned, scaffolded

from generator.document.outline import outline
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps


def test_nobody_goes_up_in_a_church_before_its_bells_are_signed_for() -> None:
    found = job(one_wall(church="yes", faculty="granted"))
    assert "bells-and-clock" in codes(found)
    papers = outline(assemble(found).specification)
    assert "signs for it each day before anybody goes up" in papers


def test_that_duty_stands_on_the_sheet_in_a_form_to_sign_on_the_page_of_the_parish_and_among_what_is_settled() -> None:
    found = planned(scaffolded(work()), church="yes", faculty="granted")
    steps = [step.entry.id for step in all_steps(found, ("front",))]
    assert steps.index("wall.bells") < steps.index("wall.access")
    papers = companions(found, ["records", "owner"])
    records, owner = (
        next(outline(paper) for name, paper in papers.items() if kind in name) for kind in ("record", "owner")
    )
    assert "Bells down, clock stopped: keeper" in records.partition("What guards people")[2]
    assert "All counted out: foreman" in records
    assert "Bells and clock: somebody ties and stops them" in owner
    (settled,) = [order for order in found.programme.orders if order.thing == "bells"]
    assert settled.first_use == min(task.start for task in found.programme.tasks() if task.kind in ("access", "work"))
    assert settled.by < settled.first_use


def test_no_bells_are_spoken_of_where_there_is_no_church() -> None:
    found = job(one_wall())
    assert "wall.bells" not in [step.entry.id for step in all_steps(found, ("front",))]
    assert not any("ells" in outline(paper) for paper in companions(found, ["records", "owner"]).values())
    assert "bells" not in [order.thing for order in found.programme.orders]
    assert "bells-and-clock" not in codes(found)
    assert not found.in_papers("building.bells")
