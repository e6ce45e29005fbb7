"""The surface of flat render: as it was answered it is ordered, shown, stepped, priced and told the officer."""

from __future__ import annotations

import pytest
from timed_jobs import planned, scaffolded, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps

LINES = "courses 300 mm, blocks 600 mm that break joint, lines 4 mm wide and 2 mm deep"


def rendered(answered: str | None, **also: str) -> Job:
    coat = surface(
        "coat", "render", render_kind="flat", dubbing_mm="0", render_surface=answered, face_area_m2="20", **also
    )
    return planned(scaffolded(coat))


@pytest.mark.parametrize(
    ("answered", "clause", "look"),
    [
        (None, "render.finish", "flat render"),
        ("scraped", "render.finish", "flat render, scraped or rubbed back to its grain"),
        ("floated", "render.finish-floated", "flat render, left from the wooden float"),
        ("lined", "render.finish-lined", "flat render, lined out as ashlar"),
    ],
)
def test_a_face_is_scraped_only_where_it_is_not_floated_or_lined_out(
    answered: str | None, clause: str, look: str
) -> None:
    made = rendered(answered, **({"lining": f'"{LINES}"'} if answered == "lined" else {}))
    held = {key for key in made.selections if key.startswith("render.finish") and made.in_papers(key)}
    assert held == {clause}
    (officer,) = companions(made, ["officer"]).values()
    assert look in " ".join(outline(officer).split())


def test_lining_out_has_its_clause_panel_step_line_and_days() -> None:
    made, plain = rendered("lined", lining=f'"{LINES}"'), rendered("floated")
    for key in ("render.lining", "approvals.panel-lined"):
        assert made.in_papers(key)
        assert not plain.in_papers(key)
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert told.index("render.finish") + 1 == told.index("render.lined")
    assert "render.lines" in {item.entry.id for item in made.measured.items()}
    assert f"lining it out as ashlar: {LINES}" in " ".join(outline(assemble(made).specification).split())
    hands = [job.facts.get(("front", "coat"), "face_hands_nr") for job in (made, plain)]
    assert hands == [4, None]  # a face for one day of two people takes four where it is lined out


def test_lines_that_nobody_measured_are_asked_for() -> None:
    told = [item.message for item in rendered("lined").findings]
    assert any("Lines of the ashlar" in message for message in told)
