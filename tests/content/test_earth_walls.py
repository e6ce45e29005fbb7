"""Coats on walls of earth, and what is taken off them: hollows in earth, shores, and edges that follow no bed joint."""

from __future__ import annotations

import functools
import re

import pytest
from answers_text import wall
from timed_jobs import codes, planned, scaffolded, span, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.questionnaire.scopes import ScopePath

OFF = surface("off", "remove", removed="cement-render", removed_hold="loose", face_area_m2="46", quantity_sure=None)
OUTSIDE = {"masonry": "earth", "earth_kind": "cob", "in_frame": "no", "access": "scaffold"}
INDOORS = {
    **OUTSIDE, "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "access": "ground",
}  # fmt: skip
SOFT = {"leaning": "yes", "engineer_says": "with-care"}


def rendered(**changes: str | None) -> str:
    return surface("coats", "render", **{"render_kind": "roughcast", "decoration": "limewash", **changes})


def plastered(**changes: str | None) -> str:
    coats = {"plaster_coats": "two", "plaster_surface": "trowelled", "cornice_m": "0"}
    return surface("coats", "plaster", **{**coats, **changes})


@functools.cache
def coated(indoors: bool = False, dubbing_mm: str = "10", **told: str) -> Job:
    """A cob wall under new coats."""
    coats = (plastered if indoors else rendered)(dubbing_mm=dubbing_mm, face_area_m2="46")
    return planned(earthen(coats, **{**(INDOORS if indoors else OUTSIDE), **told}), finish_date="2028-09-29")


def earthen(*works: str, **told: str) -> str:
    return wall(*works, hardness=None, joint_width_mm=None, **told)


def stripped(earth_behind: str, **told: str) -> Job:
    """A cob wall whose cement render comes off."""
    off = OFF + f"    earth_behind: {earth_behind}\n"
    return planned(earthen(off, rendered(dubbing_mm="0"), **{**OUTSIDE, **told}), finish_date="2028-09-29")


def taken_l(made: Job) -> float:
    return sum(found.goes["in_place_l"].likely for found in made.measured.batches)


def steps(made: Job, wall: ScopePath = ("front",)) -> list[str]:
    return [told.entry.id for told in all_steps(made, wall)]


def lines(made: Job) -> set[str]:
    return {item.entry.id for item in made.measured.items()}


def sheet(made: Job) -> str:
    (found,) = re.findall(r"^# Sheet 1: (.*?)^# ", outline(assemble(made).specification), re.M | re.S)
    return str(found)


@pytest.mark.parametrize("indoors", [False, True])
def test_hollows_of_an_earth_wall_take_no_lime_and_are_kept_damp_by_nobody(indoors: bool) -> None:
    made, even = coated(indoors), coated(indoors, dubbing_mm="0")
    assert taken_l(made) == pytest.approx(taken_l(even))
    assert "plaster.dubbing-earth" in lines(made)
    assert "rates.dubbing-earth" in lines(even)
    assert not {"plaster.dubbing", "rates.dubbing"} & (lines(made) | lines(even))
    (log,) = companions(made, ["records"]).values()
    assert "dubbing" not in outline(log)
    filled = span(made.programme, "front/coats/fill-hollows")
    lime = made.facts.at_scope(("front", "coats")).day("lime_start_date")
    assert lime is not None
    assert lime > filled[1]


@pytest.mark.parametrize("indoors", [False, True])
def test_they_dry_for_weeks_beside_the_panel_before_the_face_is_scratched_passed_and_rubbed(indoors: bool) -> None:
    made = coated(indoors)
    filled, dries, prepared, passed, answered = (
        span(made.programme, f"front/coats/{name}")
        for name in ("fill-hollows", "hollows-dry", "prepare", "background", "panel-answer")
    )
    assert (dries[1] - filled[1]).days == 28
    assert filled[1] < answered[0]
    assert dries[1] <= prepared[0] <= passed[0]
    kind = "plaster" if indoors else "render"
    told = steps(made)
    wanted = [f"{kind}.{name}" for name in ("earth-hollows", "approved", "prepare", "hair", "wet-earth")]
    assert [step for step in told if step in wanted] == wanted
    assert f"{kind}.dub" not in told
    text = sheet(made)
    assert "fill in earth, in layers; dry 4 weeks" in text
    assert "deep joints" not in text


def test_what_is_rubbed_in_begins_the_first_coat_and_is_tried_before_its_hold() -> None:
    made = coated()
    clause = made.library.clauses["render.earth"]
    assert "lay the rest on it the same day" in clause.text
    assert "before the first coat" in clause.check
    assert "earth_rub_days" not in made.library.figures


def test_deep_hollows_of_earth_are_told_as_earth_and_no_lime_is_dubbed_in_layers() -> None:
    made = coated(dubbing_mm="40")
    assert "deep-hollows-in-earth" in codes(made)
    assert "deep-dubbing" not in codes(made)


@pytest.mark.parametrize(("earth", "told"), [("firm", {}), ("soft", SOFT)])
def test_what_is_ordered_behind_cement_on_earth_has_its_clause_its_step_and_its_line(
    earth: str, told: dict[str, str]
) -> None:
    """Holes were opened and read before the tender: no paper orders them again, and shores are paid by number."""
    made = stripped(earth, **told)
    assert "cement-over-earth" in codes(made)
    assert not {"cement-over-soft-earth", "cement-over-earth-not-seen"} & codes(made)
    assert {"removal.earth-behind", "removal.earth-shores"} <= made.duties.keys()
    assert "rates.earth-shore" in lines(made)
    assert steps(made).index("remove.render") + 1 == steps(made).index("remove.earth-behind")
    text = sheet(made)
    assert "stop at soft earth" in text
    assert not re.search(r"[Oo]pen small holes|prop as told", text)


def test_earth_that_nobody_looked_at_behind_cement_is_not_said_to_have_been_found_soft() -> None:
    made = stripped("not known")
    assert "cement-over-earth-not-seen" in codes(made)
    assert not {"cement-over-earth", "cement-over-soft-earth"} & codes(made)
    assert made.status == "draft"


def test_edges_on_earth_follow_no_bed_joint() -> None:
    made = coated()
    assert "render.edges-plain" in made.duties
    assert not {"render.edges", "render.edges-frame"} & made.duties.keys()
    text = outline(assemble(made).specification)
    assert "bed joint" not in text
    assert "150 mm above the ground" in text


@pytest.mark.parametrize("masonry", ["earth", "brick"])
def test_panels_in_a_frame_end_at_their_timbers_and_not_above_the_ground_and_so_does_the_sample(masonry: str) -> None:
    made = coated(in_frame="yes") if masonry == "earth" else brick_panels()
    assert {"render.edges-frame", "approvals.panel-render-frame", "enabling.panels"} <= made.duties.keys()
    assert not {"render.edges", "render.edges-plain", "approvals.panel-render"} & made.duties.keys()
    assert "render.edges-frame" in steps(made)
    text = outline(assemble(made).specification)
    for words in (
        "above the ground in an undercut edge",
        "stop clear of the ground",
        "Let an edge that ends",
        "round a corner",
    ):
        assert words not in text


def brick_panels() -> Job:
    coats = rendered(dubbing_mm="0", face_area_m2="20")
    return planned(scaffolded(coats, in_frame="yes"), finish_date="2028-09-29")


def test_the_weight_on_nibs_is_told_of_a_wall_as_of_a_ceiling() -> None:
    made = coated()
    assert "ceiling" not in made.library.clauses["laths.nibs"].because


def test_hollows_of_a_wet_room_are_filled_once_its_dry_face_is_released_and_not_beside_the_panel() -> None:
    wet = {"wall_wet": "damp", "decay_causes": "[age]", "causes_cured": "done"}
    made = coated(indoors=True, **wet)
    told = steps(made)
    wanted = ["plaster.approved", "plaster.wet-wall", "plaster.earth-hollows-wet", "plaster.prepare"]
    assert [step for step in told if step.startswith(tuple(wanted))] == wanted
    released = span(made.programme, "front/dry-released")
    assert released[1] < span(made.programme, "front/coats/fill-hollows")[0]


@functools.cache
def daubed() -> Job:
    """Panels of daub in a frame, one built again and all rendered, beside a cob wall rendered in the same mixes."""
    lost = surface(
        "daub", "rebuild", rebuild_what="whole", rebuild_thickness_mm="90", replaced_units_nr="0", face_area_m2="3",
        units_source="its own daub",
    )  # fmt: skip
    coats = rendered(dubbing_mm="0", face_area_m2="9", render_kind="flat")
    panels = {**OUTSIDE, "earth_kind": "wattle", "in_frame": "yes"}
    return planned(
        earthen(rendered(dubbing_mm="0", face_area_m2="20", render_kind="flat"), **OUTSIDE),
        earthen(lost, coats, id_="gable", name="Gable", **panels),
        finish_date="2028-09-29",
    )


def test_daub_has_no_joints_to_measure_no_top_to_cover_and_lies_as_deep_as_its_coats_are_thick() -> None:
    made = daubed()
    assert "not-answered" not in codes(made)
    assert "rebuild.top" not in steps(made, ("gable",))
    clause = made.library.clauses["rebuilding.daub"]
    assert "as far behind the face of the timbers as the coats to come are thick" in clause.text
    assert not clause.figures


def test_a_panel_made_on_another_wall_is_not_told_to_end_at_timbers_that_wall_has_not() -> None:
    made = daubed()
    assert made.facts.at_scope(("gable", "coats")).text("panel_of")
    assert "approvals.panel-render-frame" not in made.duties
    assert "approvals.panel-render" in made.duties


def test_rain_is_kept_off_an_earth_wall_under_eaves_by_sheets_that_hang_from_them() -> None:
    made = coated()
    assert "sheets hung from the eaves" in made.library.clauses["curing.earth"].text
    assert "roof of sheets, or sheets hung from its eaves" in made.library.items["prelims.soft-walls"].description
    assert "Sheet the wall against rain before anything is taken off it" in sheet(made)


def test_a_wall_that_leans_is_held_before_it_is_opened_whether_it_has_joints_or_not() -> None:
    made = stripped("soft", **SOFT)
    (held,) = (each for each in made.library.hold_points.values() if each.id == "engineer")
    assert "joints" not in held.what
    assert "joints" not in made.library.items["repoint.tell-tales"].description


def test_no_paper_says_that_daub_is_numbered_and_laid_again_or_has_joints_to_record_or_to_pale() -> None:
    made = daubed()
    officer, owner = (outline(found) for found in companions(made, ["officer", "owner"]).values())
    assert "woven and daubed again in its own earth" in officer
    assert "numbered and laid again" not in officer
    assert not {"building.record-joints", "completion.owner-joints"} & made.duties.keys()
    assert "Joints pale" not in owner
