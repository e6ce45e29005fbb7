"""Words that hold for one job and were told to every one: stones on brick, a house that is none, walls long cured."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import example, job, shipped
from told_papers import specification

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble

EXAMPLES = ["garden-front", "mill-house", "toll-house", "winter-plaster"]


@pytest.fixture(scope="module")
def front() -> Job:
    return job(one_wall(lived_in="yes"))


def test_a_building_that_nobody_lives_in_may_be_in_use(front: Job) -> None:
    """It is asked of a chapel too, whether it is lived in or in use."""
    assert "The building is in use." in outline(assemble(front).specification)
    assert "is lived in" not in outline(assemble(front).specification)


def test_a_drawing_of_joints_tells_of_no_stones_on_brick(front: Job) -> None:
    assert "over the edges of the stones" not in outline(assemble(front).specification)


def test_rain_on_a_dry_face_starts_no_wait_anew() -> None:
    assert "dark patch: a damp place, darker than the face round it; not one of rain" in specification("mill-house")


@pytest.mark.parametrize("cause", ["gutter", "leak", "ground", "movement"])
def test_causes_mended_under_a_sum_are_told_by_the_walls_on_which_they_are_put_right(cause: str) -> None:
    """Sheets name leaks that were cured before, too."""
    library = shipped()
    walls = f"({{{{ {cause}_walls }}}})"
    assert walls in library.clauses[f"causes.{cause}"].text
    assert walls in library.items[f"sums.causes-{cause}"].description
    assert "in this work" in library.names[f"{cause}_walls"].label


@pytest.mark.parametrize("name", EXAMPLES)
def test_what_is_left_for_mending_is_what_the_clauses_of_the_line_name(name: str) -> None:
    assert "profiles" not in next(
        (line for line in specification(name).splitlines() if "Left for later mending:" in line), ""
    )


def test_the_consent_of_the_mill_house_names_the_plaster_that_its_ceiling_gets() -> None:
    """What the consent does not name may not begin, and its answer holds 300 characters."""
    assert "lost ceiling plaster" in example("mill-house").said("consent_covers")


def test_a_rate_of_plaster_includes_joining_only_where_old_plaster_stays_beside_it() -> None:
    def rate(beside: str | None) -> str:
        made = job(one_wall(work="plaster", position="indoors", plaster_coats="two", old_plaster_beside=beside))
        (line,) = (line for line in outline(assemble(made).specification).splitlines() if "Plaster walls of" in line)
        return line

    assert "joining to old plaster" in rate("yes")
    assert "joining to old plaster" in rate(None)
    assert "joining" not in rate("no")
    assert "clean edges" in rate("no")


def test_new_render_is_tapped_and_brushed_before_its_wash_and_no_clause_says_before_its_damping_ends() -> None:
    """Where others hold up the gang its face is tapped days after damping has ended, and still before its wash."""
    text = shipped().clauses["render.then-limewash"].text
    assert "within {{ wash_within_days }} of that; tap, brush and show the face first" in text


def test_stuff_for_filling_is_told_to_the_work_that_fills_and_not_to_the_whole_job() -> None:
    """The mason on the stack read that coarse filling is haired."""
    made = example("mill-house")
    assert made.serves("refix.filling-by-card", ("chamber-ceiling", "refix"))
    assert not made.serves("refix.filling-by-card", ("stack", "repoint"))
    assert not made.serves("refix.filling-stuff", ("chamber-ceiling", "refix"))


def test_a_binder_of_two_walls_is_barred_on_neither() -> None:
    """Each wall that has one on a written reason was said to be the only one."""
    asked = {"asked_binder": "nhl-3.5", "asked_binder_reason": "the consent names it"}
    made = job(answers(*(wall(work(**asked), id_=id_, name=id_) for id_ in ("front", "back"))))
    told = [item.instruction for item in made.findings if item.code == "asked-binder-with-reason"]
    assert len(told) == 2
    assert all("on no wall that has another mix" in text for text in told)


def test_loose_old_harl_is_taken_off_as_plaster_is_and_the_papers_say_so_of_a_wall_outside() -> None:
    """What had failed of a lime render was in no line, since cement render alone was asked for."""
    off = work("off", work="remove", removed="lime-plaster", removed_hold="loose", face_area_m2="6")
    outside = job(answers(wall(off)))
    assert outside.serves("removal.lime-render", ("front", "off"))
    assert "remove.lime-plaster-walls" in {item.entry.id for item in outside.measured.items()}
    assert not example("mill-house").serves("removal.lime-render", ("dining-room", "take-off"))
    assert "Lime render and harl" in shipped().questionnaire.questions["removed"].how


def test_who_names_a_feature_reads_that_its_joints_stay_shut() -> None:
    """A wall's own bee boles were named to be guarded, and so its repointing was closed in silence."""
    library = shipped()
    assert "Open no joint of a feature" in library.clauses["raking-out.guarded"].text
    assert "No joint of what is named is opened" in library.questionnaire.questions["sensitive_features"].why


def test_a_stone_on_a_wall_without_a_scaffold_is_let_down_inside_none() -> None:
    assert "inside the scaffold" not in shipped().clauses["safety.pots"].text
