"""Steps of a wall's sheet cite every clause that orders something done there, in the order in which it is done."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from answers_text import answers, one_wall, work
from answers_text import wall as a_wall
from decided_cases import HERE, case
from jobs import EXAMPLES, example, job, part, shipped
from timed_jobs import planned, scaffolded, surface
from told_papers import specification

from generator import pipeline
from generator.document.model import plain_text
from generator.document.outline import outline
from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.entries import OperationEntry
from generator.papers.agreement.holds import unheld as unheld_by_agreement
from generator.papers.agreement.holds import unpassed
from generator.papers.assemble import assemble
from generator.papers.parts import hold_point_rows
from generator.papers.steps import all_steps
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import replace

NAMES: Final = [path.parent.name for path in EXAMPLES]
CASES: Final = [path.stem for path in sorted(HERE.glob("*.yaml"))]

# Clauses that stand for a wall and order nothing done there, by what they do instead.
NO_STEP: Final = {
    "building.analysis": "tells what a laboratory found",
    "curing.temperature": "stands on the card of each mix, which is read at every placing",
    "curing.last-day": "stands among the dates beside the steps",
    "materials.bricks": "bought only where ordered, and told as what is bought",
    "materials.pinnings": "bought only where ordered, and told as what is bought",
    "materials.laths-riven": "told as what is bought",
    "materials.laths-sawn": "told as what is bought",
    "materials.nhl-sulphates": "sent before the lime is ordered",
    "materials.sand-blend": "done at the mixing place, and stands on the card",
    "site.mixing-cold": "done at the mixing place",
    "site.hot-mix-cold": "done at the mixing place",
}
BEYOND: Final = "beyond."  # what is another's


def entries(made: Job, wall: ScopePath) -> list[OperationEntry]:
    return [told.entry for told in all_steps(made, wall)]


def steps(made: Job, wall: ScopePath) -> list[str]:
    return [entry.id for entry in entries(made, wall)]


def cited(made: Job, wall: ScopePath) -> set[str]:
    return {key for told in all_steps(made, wall) for key in told.entry.clauses}


def uncited(made: Job) -> Iterator[str]:
    """The clauses of each wall of which no step reminds a foreman."""
    told = {wall.path: cited(made, wall.path) for wall in made.facts.views("element")}
    for key, selection in made.selections.items():
        if not selection.included or key in NO_STEP or key.startswith(BEYOND):
            continue
        for wall in dict.fromkeys(path[:1] for path in selection.paths):
            if selection.clause.per in ("element", "work", "coat") and key not in told[wall]:
                yield f"{wall[0]}: {key}"


@pytest.mark.parametrize("name", NAMES)
def test_every_clause_that_orders_something_done_on_a_wall_is_cited_by_a_step_of_its_sheet(name: str) -> None:
    assert list(uncited(example(name))) == []


def test_so_it_is_in_every_case_that_is_fit_for_tender() -> None:
    made = {name: case(name) for name in CASES}
    assert {name: found for name, job in made.items() if job.status == "tender" and (found := [*uncited(job)])} == {}


def test_what_has_no_step_is_a_clause_and_is_cited_by_none() -> None:
    library = example("mill-house").library
    all_cited = {key for entry in library.operations.values() for key in entry.clauses}
    assert NO_STEP.keys() <= library.clauses.keys()
    assert not NO_STEP.keys() & all_cited


# Steps that put mortar on a wall or make its panel, by what their text or their mix says.
def mortar(entry: OperationEntry) -> bool:
    laid = "mix_used" in entry.text and entry.per == "coat" and not entry.id.startswith("limewash")
    panel = entry.id.endswith((".panel", ".panel-indoors")) and not entry.id.startswith("limewash")
    return (
        laid
        or panel
        or re.search(r"[Bb]ed its|[Rr]eset loose|[Pp]ack deep|[Ff]ill in layers|Mend the old", entry.text) is not None
    )


def uncovered(made: Job) -> Iterator[str]:
    """Walls outside where mortar comes before the hold for covers."""
    for wall in made.facts.views("element"):
        told = entries(made, wall.path)
        first = next((nr for nr, entry in enumerate(told) if mortar(entry)), None)
        hung = next((nr for nr, entry in enumerate(told) if "cover" in entry.holds), None)
        outside = wall.text("exposure_reckoned") not in (None, "internal") and made.in_papers("curing.covers")
        if outside and first is not None and (hung is None or hung > first):
            yield f"{wall.path[0]}: {told[first].id}"


@pytest.mark.parametrize("name", NAMES)
def test_covers_are_a_hold_before_the_panel_and_before_any_mortar_outside(name: str) -> None:
    assert list(uncovered(example(name))) == []


def test_so_they_are_in_every_case() -> None:
    assert {name: found for name in CASES if (found := [*uncovered(case(name))])} == {}


UNDER_WASH: Final = ("render", "plaster", "repoint", "rebuild", "remove", "desalt", "refix")


def held_by_wash(made: Job) -> Iterator[str]:
    """Steps of other works that stand after a hold for the panel of the wash that lies on them."""
    for wall in made.facts.views("element"):
        told = all_steps(made, wall.path)
        works = [made.facts.at_scope(one.path).text("work") for one in told]
        holds = (work == "limewash" and "panel" in one.entry.holds for one, work in zip(told, works, strict=True))
        held = next((nr for nr, is_hold in enumerate(holds) if is_hold), None)
        if held is not None:
            yield from (told[nr].entry.id for nr in range(held, len(told)) if works[nr] in UNDER_WASH)


@pytest.mark.parametrize("name", NAMES)
def test_no_coat_waits_for_the_panel_of_the_wash_that_lies_on_it(name: str) -> None:
    assert list(held_by_wash(example(name))) == []


def test_none_does_in_any_case_and_wash_is_tried_early_beside_them() -> None:
    assert {name: found for name in CASES if (found := [*held_by_wash(case(name))])} == {}
    told = steps(example("mill-house"), ("rear",))
    assert told.index("limewash.colour") < told.index("render.prepare")
    assert told.index("render.sound") < told.index("limewash.approved") < told.index("limewash.face")


def test_the_colour_of_a_wash_is_chosen_before_the_panel_is_made_of_it() -> None:
    held = [entry for entry in shipped().operations.values() if "colour" in entry.holds]
    assert [entry.id for entry in held] == [
        "limewash.early.colour", "limewash.early.colour-indoors", "limewash.colour", "limewash.colour-new",
        "limewash.colour-elsewhere",
    ]  # fmt: skip
    assert all("**Hold:** one chosen." in entry.text for entry in held)
    told = steps(example("mill-house"), ("rear",))
    assert told.index("limewash.colour") < told.index("limewash.panel")


def wash(**answers: str) -> tuple[str, str]:
    """A wash over new render, of part of its wall or of all of it."""
    render = surface("coat", "render", face_area_m2="20", render_kind="flat", dubbing_mm="0")
    return render, surface("wash", "limewash", face_area_m2="20", wash_mend_m2="0", old_coating="none", **answers)


@pytest.mark.parametrize("colour", ["white", "buff"])
@pytest.mark.parametrize("area_m2", ["20", "40"])
def test_a_wash_is_put_on_the_panel_of_its_render_once_that_is_approved_dry_and_on_no_growth(
    colour: str, area_m2: str
) -> None:
    render, over = wash(wash_colour=colour)
    over = over.replace("face_area_m2: 20", f"face_area_m2: {area_m2}")
    made = planned(scaffolded(render, over, lead_paint="none", wall_painting="none"), finish_date="2028-12-20")
    told = steps(made, ("front",))
    approved, panel, prepared = map(told.index, ("render.approved", "limewash.panel", "render.prepare"))
    assert approved < panel < prepared
    tried = [told.index(key) for key in told if key.startswith("limewash.colour")]
    assert len(tried) == (colour != "white")
    # on the old face while the render's panel dries, where one is left
    assert all((at < approved) == (area_m2 == "40") and at < panel for at in tried)
    assert ("limewash.growth" in told) == (area_m2 == "40")
    if area_m2 == "40":
        assert told.index("limewash.growth") < min(panel, told.index("render.panel"), *tried)


# What touches an old face, or runs over it: its first layers are recorded before.
TOUCHES_OLD_FACE: Final = (
    "limewash.colour", "limewash.panel", "limewash.growth", "limewash.mend", "limewash.face",
    "remove.trial", "remove.render", "render.salts", "render.panel", "render.prepare", "plaster.prepare",
    "repoint.salts", "repoint.rake", "desalt.brush",
)  # fmt: skip


def unrecorded(made: Job) -> Iterator[str]:
    """Steps that touch a face that is washed and stand before the record of its old layers."""
    for wall in made.facts.views("element"):
        told = steps(made, wall.path)
        if "limewash.record" in told:
            before = told[: told.index("limewash.record")]
            yield from (f"{wall.path[0]}: {step}" for step in before if step in TOUCHES_OLD_FACE)


def test_old_layers_of_wash_are_recorded_before_anything_touches_the_face() -> None:
    assert "limewash.record" in steps(example("mill-house"), ("rear",))
    assert list(unrecorded(example("mill-house"))) == []
    assert {name: found for name in CASES if (found := [*unrecorded(case(name))])} == {}


@pytest.mark.parametrize("place", ["access", "ground", "frame"])
def test_where_the_panel_of_a_wash_is_made_from_the_ground_its_place_is_brushed_before_the_access(place: str) -> None:
    over = surface("wash", "limewash", wash_colour="white", old_coating="limewash", panel_place=place)
    made = planned(scaffolded(over, lead_paint="none", wall_painting="none"), finish_date="2028-12-20")
    told = steps(made, ("front",))
    at_its_place = [told.index(key) for key in told if key == "limewash.ground.panel-growth"]
    assert len(at_its_place) == (place == "ground")
    assert all(at < told.index("wall.access") for at in at_its_place)
    if place == "access":
        assert told.index("limewash.growth") < told.index("limewash.panel")
    else:
        assert all(at < told.index("limewash.early.panel") for at in at_its_place)
        assert told.index("limewash.early.panel") < told.index("wall.access") < told.index("limewash.growth")
    assert list(unpassed(pipeline.assembled(made))) == []


# Trials, panels and mends that lie on the old face itself, or below it behind the same access.
ON_OLD_FACE: Final = (
    "limewash.colour", "limewash.panel", "limewash.mend", "render.panel", "plaster.panel", "repoint.panel",
    "rebuild.panel",
)  # fmt: skip


def test_growth_is_brushed_off_before_any_trial_panel_or_mend_on_the_face_and_any_new_coat_below_it() -> None:
    for made in (example("mill-house"), *map(case, CASES)):
        for wall in made.facts.views("element"):
            told = steps(made, wall.path)
            if "limewash.growth" in told:
                laid = [
                    step
                    for step in told
                    if step in (*ON_OLD_FACE, "render.dub", "render.base", "repoint.fill", "rebuild.bed")
                ]
                assert [step for step in laid if told.index(step) < told.index("limewash.growth")] == []


def waited(made: Job) -> Iterator[str]:
    """Causes that another trade puts right, and walls that dry, which a sheet puts after the answer to a panel."""
    for wall in made.facts.views("element"):
        told = entries(made, wall.path)
        answered = next((nr for nr, entry in enumerate(told) if entry.id.endswith(".approved")), len(told))
        beside = ("wall.cause-", "wall.causes", "wall.dries")
        yield from (f"{wall.path[0]}: {entry.id}" for entry in told[answered:] if entry.id.startswith(beside))


@pytest.mark.parametrize("name", NAMES)
def test_causes_are_put_right_and_walls_dry_while_a_panel_dries_and_wait_for_no_answer_to_it(name: str) -> None:
    assert list(waited(example(name))) == []


def test_so_do_those_of_every_case() -> None:
    assert {name: found for name in CASES if (found := [*waited(case(name))])} == {}
    told = steps(example("mill-house"), ("stack",))
    wanted = ("repoint.panel", "wall.cause-leak", "wall.cause-flue-bared", "wall.dries", "repoint.approved")
    assert [step for step in told if step in wanted] == list(wanted)


PANEL_FIRST: Final = re.compile(r"\.(laths-)?(ground|frame)\.panel")

# What is done before what, wherever both are steps of one wall: (first, then).
BEFORE: Final = (
    ("raking-out.salts", "approvals.panels"),
    ("chimney.plugs", "approvals.panels"),
    ("safety.flues", "chimney.plugs"),
    ("site.scaffold", "building.record"),
    ("enabling.gutters", "raking-out.depth"),
    ("approvals.panels", "causes.dry-out"),
    ("flaunching.pots", "causes.flue-test"),
    ("flaunching.liners", "causes.flue-test"),
    ("causes.flue-test", "approvals.panels"),
    ("causes.flue", "flaunching.top-course"),
    ("building.record", "enabling.gutters"),
    ("safety.propped-first", "site.scaffold"),
    ("site.rooms", "site.tower-indoors"),
    ("flaunching.taking-off", "raking-out.depth"),
    ("flaunching.top-course", "raking-out.depth"),
    ("pointing.layers", "flaunching.laying"),
    ("safety.propping", "site.rooms"),
    ("safety.propping", "safety.circuits"),
    ("safety.propping", "site.tower-indoors"),
    ("causes.dry-out", "refix.screws"),
    ("limewash.background", "removal.cement-render"),
    ("safety.propping", "removal.lime-plaster"),
    ("safety.propping", "refix.screws"),
    ("safety.lead-found", "removal.lime-plaster"),
    ("safety.circuits", "removal.lime-plaster"),
    ("refix.cracks", "plaster.setting"),
    ("plaster.setting", "refix.proof"),
    ("causes.dry-out", "flaunching.top-course"),
    ("raking-out.salts-washed", "limewash.background"),
    ("limewash.mending", "render.wetting-mist"),
    ("curing.covers", "pointing.deep"),
    ("curing.covers", "pointing.layers"),
    ("refix.proof", "completion.cleaning-rooms"),
    ("plaster.setting", "completion.cleaning-rooms"),
    ("completion.cleaning-rooms", "plaster.soundness"),
)


@pytest.mark.parametrize("name", NAMES)
def test_what_makes_a_wall_ready_comes_before_what_is_done_to_it(name: str) -> None:
    made = example(name)
    wrong = []
    for wall in made.facts.views("element"):
        told = [set(entry.clauses) for entry in entries(made, wall.path)]
        for nr, key in enumerate(steps(made, wall.path)):
            if PANEL_FIRST.search(key) or key == "wall.ground.stems":
                told[nr] -= {"building.record"}  # of the panel's place alone, from below
        at = {key: next((n for n, keys in enumerate(told) if key in keys), None) for pair in BEFORE for key in pair}
        for first, then in BEFORE:
            one, two = at[first], at[then]
            if one is not None and two is not None and one >= two and first in _in(made) and then in _in(made):
                wrong.append((wall.path[0], first, then))
    assert wrong == []


def _in(made: Job) -> set[str]:
    return {key for key, selection in made.selections.items() if selection.included}


@pytest.mark.parametrize("name", ["toll-house", "mill-house"])
def test_a_wall_is_photographed_before_dead_plants_are_drawn_off_it(name: str) -> None:
    told = all_steps(example(name), ("gable",))
    place, face = (step.entry for step in told if "raking-out.growth-dead" in step.entry.clauses)
    assert place.text.startswith("**Hold:** photograph the panel's place; draw")
    assert face.text.startswith("**Hold:** photograph; draw")
    assert place.clauses[0] == face.clauses[0] == "building.record"


def test_no_panel_made_from_the_ground_holds_back_access_that_may_stand_before_its_approval() -> None:
    library = example("winter-plaster").library
    allowed = (
        "Access, pictures, marking, trials, brushing off growth, mending and mortar that rests may come before its"
    )
    assert allowed in library.clauses["approvals.panels"].text
    early = [entry for key, entry in library.operations.items() if PANEL_FIRST.search(key)]
    assert len(early) == 12
    assert [entry.id for entry in early if {"panel", "panel-officer"} & set(entry.holds)] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_panel_is_made_early_and_its_approval_waited_for_after_access_pictures_and_chalk(name: str) -> None:
    made = example(name)
    for work_ in made.facts.views("work"):
        kind = work_.text("work")
        if kind in ("repoint", "rebuild", "plaster", "render"):
            told = [one.entry for one in all_steps(made, work_.path[:1])]
            ids = [entry.id for entry in told]
            panel = next(nr for nr, key in enumerate(ids) if re.match(rf"{kind}\..*panel", key))
            approved = ids.index(f"{kind}.approved")
            assert not {"panel", "panel-officer"} & set(told[panel].holds), work_.path
            assert {"panel", "panel-officer"} <= set(told[approved].holds)
            chalked = (f"{kind}.record", f"{kind}.chalk")
            recorded = next(nr for nr, key in enumerate(ids) if key.startswith(chalked))
            assert max(panel, recorded) < approved, work_.path
            if work_.text("panel_place") == "ground":
                assert "building.record" in told[panel].clauses
                access = next((nr for nr, key in enumerate(ids) if key.startswith("wall.access")), None)
                assert access is None or panel < access < approved


def test_old_plaster_is_fixed_and_filled_before_a_panel_is_approved_on_the_sheet_as_in_the_programme() -> None:
    made = refixed()
    told = steps(made, ("ceiling",))
    assert told.index("plaster.laths-ground.panel") < told.index("refix.screws") < told.index("refix.fill")
    assert told.index("refix.fill") < told.index("plaster.approved") < told.index("plaster.edges-on-laths")
    task = {task.key: task for task in made.programme.tasks()}
    assert task["ceiling/refix/refix-fill"].finish < task["ceiling/patch/panel-answer"].start
    assert task["ceiling/patch/panel-answer"].finish < task["ceiling/patch/edges"].start
    assert "Fixing and filling wait for no panel." in made.library.clauses["refix.cracks"].text
    early = made.library.operations["plaster.laths-ground.panel"].text
    assert early.startswith("Early: panel")  # laths soak for a week before it, and the deck does not wait


def refixed() -> Job:
    """A dry ceiling on laths of which a part is fixed again and a part laid anew."""
    fixed = surface("refix", "refix", refix_from_above="no", cornice_m="0", face_area_m2="10")
    laid = surface(
        "patch", "plaster", face_area_m2="4", plaster_coats="three", plaster_surface="trowelled", new_laths_m2="4",
        lath_gap_mm="8", cornice_m="0", panel_place="frame", old_plaster_beside="yes",
    )  # fmt: skip
    told: dict[str, str | None] = {
        "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
        "unit_height_mm": None, "bond": None, "joint_width_mm": None, "position": "indoors", "exposure": "internal",
        "heating_indoors": "low", "air_indoors": "open", "access": "deck", "overhead": "yes", "lead_paint": "none",
        "wall_painting": "none",
    }  # fmt: skip
    return planned(a_wall(fixed, laid, id_="ceiling", name="ceiling", **told), finish_date="2027-12-17")


@pytest.mark.parametrize(("name", "wall"), [("winter-plaster", "schoolroom"), ("mill-house", "chamber-ceiling")])
def test_new_plaster_is_looked_over_before_its_tower_or_deck_goes_and_tapped_weeks_after(name: str, wall: str) -> None:
    told = steps(example(name), (wall,))
    assert told.index("plaster.keep-damp") < told.index("wall.look-room") < told.index("plaster.sound")


def test_a_square_metre_is_tapped_raked_shown_wetted_packed_and_reset_before_the_next() -> None:
    told = steps(example("toll-house"), ("front",))
    wanted = ("loose-tried", "rake-metre", "inspect", "wet-soak", "deep", "reset", "next-metre", "fill")
    assert [step.removeprefix("repoint.") for step in told if step.removeprefix("repoint.") in wanted] == list(wanted)


def test_the_next_part_of_a_wall_is_wetted_as_the_first_was_and_no_more() -> None:
    operations = example("toll-house").library.operations
    again = operations["repoint.next-metre"].text
    assert "tap, and the same again to here" in again
    assert not re.search("wet|mist", again)  # a wall that takes no water has this step too


def test_salts_are_brushed_at_the_place_of_a_ground_panel_before_it_and_on_the_wall_from_its_access() -> None:
    made = job(one_wall(salts="some", panel_place="ground", access="scaffold"))
    told = steps(made, ("front",))
    wanted = ("repoint.ground.salts", "repoint.ground.panel", "wall.access", "repoint.salts")
    assert [step for step in told if step in wanted] == list(wanted)


def test_thin_brickwork_is_filled_length_by_length_before_the_next_is_opened() -> None:
    told = steps(example("toll-house"), ("stack",))
    wanted = ("loose", "rake-length", "inspect", "wet-mist", "deep", "reset", "fill", "next-length")
    assert [step.removeprefix("repoint.") for step in told if step.removeprefix("repoint.") in wanted] == list(wanted)


def test_the_plugs_of_a_stack_whose_pots_come_down_are_counted_out_and_in_again() -> None:
    made = example("mill-house")
    told = [told.entry.id for told in all_steps(made, ("stack",)) if "chimney.plugs" in told.entry.clauses]
    assert told == [
        "wall.flue-plugs", "flaunching.pots", "flaunching.flue-test", "wall.cause-flue-bared", "flaunching.pots-set",
        "wall.plugs",
    ]  # fmt: skip


def test_plugs_come_out_for_the_fitter_and_go_in_again_and_the_last_step_finds_none() -> None:
    told = shipped().operations
    for key in ("flaunching.flue-test", "wall.cause-flue", "wall.cause-flue-bared"):
        assert told[key].text.index("plugs out") < told[key].text.index("plugs in"), key
    for key in ("wall.plugs", "wall.plugs-dead"):
        assert "none left" in told[key].text, key
    assert "then it goes in again" in shipped().clauses["chimney.plugs"].text


def test_the_fitter_is_there_before_the_first_blow_and_the_bared_top_is_sheeted_at_once() -> None:
    told = steps(example("mill-house"), ("stack",))
    assert told.index("flaunching.liners-freed") < told.index("flaunching.off") < told.index("flaunching.pots")
    assert "sheet the bared top" in shipped().operations["flaunching.off"].text


def test_new_laths_are_told_to_be_soaked_where_they_are_fixed() -> None:
    told = shipped().operations
    for key in ("plaster.new-laths", "plaster.new-laths-overhead", "render.laths", "render.laths-all-new"):
        assert "soaked {{ laths_soaked_days }}" in told[key].text, key
        assert "laths.damping" in told[key].clauses, key


@pytest.mark.parametrize("name", ["mill-house", "stack-with-soot"])
def test_a_bared_top_is_cleaned_and_wetted_before_anything_is_bedded_on_it_but_its_own_loose_units(name: str) -> None:
    made = example(name) if name in NAMES else case(name)
    for wall in made.facts.views("element"):
        told = steps(made, (wall.path[0],))
        bedded = [
            told.index(step) for step in ("flaunching.pots-set", "flaunching.dead", "flaunching.lay") if step in told
        ]
        assert not bedded or told.index("flaunching.wet") < min(bedded), wall.path


WASHED: Final = {"limewash.coats", "limewash.coats-on-new", "limewash.coats-late"}


@pytest.mark.parametrize("name", ["mill-house", "right-limewash"])
def test_between_coats_of_wash_the_foreman_s_palm_decides_and_no_release_is_asked(name: str) -> None:
    """Five coats on five days leave no room for the notice of five releases."""
    made = example(name) if name in NAMES else case(name)
    washed = [wall.path for wall in made.facts.views("element") if WASHED & {*steps(made, wall.path)}]
    assert washed
    for wall in washed:
        told = [told.entry for told in all_steps(made, wall)]
        coats = [entry for entry in told if entry.id in {"limewash.make", *WASHED, "limewash.wait"}]
        assert [entry.id for entry in coats if entry.holds] == []
        released = {task.path for task in made.programme.tasks() if made.library.tasks[task.entry].hold == "coats"}
        assert not any(path[-1] == "wash" for path in released)
    assert made.library.clauses["limewash.waits"].check.startswith("The foreman's palm")
    assert not [key for key, point in made.library.hold_points.items() if "limewash.waits" in point.clauses]


def test_a_step_says_that_work_stops_where_it_names_a_hold_point_and_nowhere_else() -> None:
    steps = example("mill-house").library.operations.values()
    assert [entry.id for entry in steps if ("**Hold:**" in entry.text) != bool(entry.holds)] == []


def unheld(made: Job) -> Iterator[str]:
    """The steps that stop work at what the table of hold points does not hold."""
    tabled = {key for key in made.library.hold_points if _tabled(made, key)}
    for wall in made.facts.views("element"):
        for told in all_steps(made, wall.path):
            if told.entry.holds and not tabled & set(told.entry.holds):
                yield f"{wall.path[0]}: {told.entry.id}"


def _tabled(made: Job, key: str) -> bool:
    point = made.library.hold_points[key]
    demanded = any(map(made.in_papers, point.clauses))
    return demanded and made.library.condition("hold", key).stands(made.facts, PROJECT)


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_stops_work_only_at_what_the_table_of_hold_points_holds(name: str) -> None:
    assert list(unheld(example(name))) == []


def test_so_does_every_case() -> None:
    assert {name: found for name in CASES if (found := [*unheld(case(name))])} == {}


def test_every_hold_point_is_demanded_by_a_clause_and_tabled_only_where_one_is_in_the_papers() -> None:
    garden, plaster = example("garden-front"), example("winter-plaster")
    assert [key for key, point in garden.library.hold_points.items() if not point.clauses] == []
    for made, absent in ((garden, ("causes",)), (plaster, ("cement", "causes"))):
        table = [row.cells[0] for row in hold_point_rows(made, part(made, "hold-points"))]
        said = " ".join(map(plain_text, table))
        assert [key for key in absent if made.library.hold_points[key].what in said] == []


_SMALL_WORDS: Final = frozenset({"before", "after", "with", "from", "that", "each", "where", "until", "only", "then"})


def stems(*texts: str) -> set[str]:
    """The beginnings of the words that carry what is said."""
    words = (word for text in texts for word in re.findall(r"[a-z]{4,}", text.lower()))
    return {word[:5] for word in words if word not in _SMALL_WORDS}


def test_a_step_cites_first_a_clause_that_speaks_of_what_it_says() -> None:
    library = example("mill-house").library
    wrong = []
    for key, entry in library.operations.items():
        clause = library.clauses[entry.clauses[0]] if entry.clauses else None
        if clause is not None and not stems(entry.text) & stems(clause.title, clause.text, clause.check):
            wrong.append((key, clause.id))
    assert wrong == []


def test_the_clauses_of_a_rate_speak_of_what_it_pays() -> None:
    library = example("mill-house").library
    told = {
        "rates.plaster-patch": "patch", "rates.plaster-narrow": "widths", "rates.refix-screw": "screw",
        "rates.top-course": "loose units", "rates.laths": "laths", "rates.wash-coat": "coat",
    }  # fmt: skip
    duties = library.duties
    silent = [
        (line, key)
        for line, word in told.items()
        for key in duties[line]
        if word not in library.clauses[key].text.lower()
    ]
    assert silent == []
    assert "removal.trial" in duties["rates.remove-firm"]


GUARDED: Final = "raking-out.guarded"


@pytest.mark.parametrize("wall", ["front", "stack", "gable"])
def test_no_joint_of_a_guarded_feature_is_opened_and_each_sheet_that_rakes_says_so(wall: str) -> None:
    """A rubbed head inside a band of failed joints is not raked 25 mm deep with it."""
    made = example("mill-house")
    assert made.selections[GUARDED].clause.keep
    told = [told.entry for told in all_steps(made, (wall,)) if GUARDED in told.entry.clauses]
    assert ["guarded" in entry.text for entry in told] == [True]


def test_where_nothing_is_named_to_be_guarded_no_sheet_speaks_of_it() -> None:
    made = job(one_wall())
    assert not made.selections[GUARDED].included
    assert [step for step in steps(made, ("front",)) if step.startswith("repoint.record")] == ["repoint.record"]


def test_the_window_heads_of_the_front_lie_outside_what_is_hatched_to_be_raked() -> None:
    """Rubbed heads about 0.3 m high over windows that reach 5.3 m, 0.1 m wider than each at both ends."""
    work = next(work for work in example("mill-house").facts.views("work") if work.path == ("front", "repoint"))
    heads = [(left - 0.1, 5.3, 1.3, 0.3) for left in (2.0, 6.8, 11.6)]
    parts = [
        tuple(float(part.number(name) or 0) for name in ("left_m", "bottom_m", "width_m", "height_m"))
        for part in work.records("areas_placed")
    ]
    assert parts
    assert [(head, part) for head in heads for part in parts if _overlap(head, part)] == []


def _overlap(one: tuple[float, ...], two: tuple[float, ...]) -> bool:
    return all(one[n] < two[n] + two[n + 2] and two[n] < one[n] + one[n + 2] for n in (0, 1))


@pytest.mark.parametrize(("name", "wall"), [("winter-plaster", "schoolroom"), ("mill-house", "chamber-ceiling")])
def test_a_sheet_says_of_a_panel_made_before_the_access_where_the_other_papers_say_it_is_made(
    name: str, wall: str
) -> None:
    made = example(name)
    work = next(one for one in made.facts.views("work") if one.path[0] == wall and one.text("work") == "plaster")
    assert f"panel, {work.spoken('panel_place')}" in specification(name).replace("**", "")


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_with_a_step_of_a_hold_point_stops_work_there(name: str) -> None:
    found = pipeline.assembled(example(name))
    assert list(unheld_by_agreement(found)) == []


def test_so_does_every_sheet_of_every_case() -> None:
    told = {name: [*unheld_by_agreement(pipeline.assembled(case(name)))] for name in CASES}
    assert {name: problems for name, problems in told.items() if problems} == {}


def test_a_step_that_does_not_stop_at_a_hold_point_of_its_clause_is_a_disagreement() -> None:
    made = example("garden-front")
    entry = replace(made.library.operations["repoint.inspect"], holds=(), text="Look at open joints.")
    with pytest.raises(InputInvalid, match="hold point raked"):
        pipeline.assembled(with_steps("garden-front", {**made.library.operations, entry.id: entry}))


def with_steps(name: str, operations: dict[str, OperationEntry]) -> Job:
    """An example with other steps."""
    library = replace(example(name).library, operations=operations)
    answers = Path(__file__).parents[2] / f"examples/{name}/answers.yaml"
    return pipeline.settled(
        pipeline.read(read_bytes(answers.read_bytes(), "answers.yaml", typed=False), library), library
    )


# What is seen when its access has gone, most of it weeks after the work.
AFTER_ACCESS: Final = {
    "plaster.sound", "plaster.sound-salty", "limewash.hold", "limewash.hold-high", "wall.wiped", "wall.wiped-untested",
}  # fmt: skip


def not_last(made: Job) -> Iterator[str]:
    """Walls whose access does not go once, after all that is done from it."""
    for wall in made.facts.views("element"):
        told = entries(made, wall.path)
        from_access = [entry for entry in told if entry.id not in AFTER_ACCESS]
        looks = [entry for entry in told if "strike" in entry.holds]
        if looks != from_access[-1:]:
            yield f"{wall.path[0]}: {[entry.id for entry in looks]}"


@pytest.mark.parametrize("name", NAMES)
def test_access_goes_after_the_last_work_that_is_done_from_it_whatever_work_that_is(name: str) -> None:
    assert list(not_last(example(name))) == []


def test_so_it_does_in_every_case() -> None:
    assert {name: found for name in CASES if (found := [*not_last(case(name))])} == {}


def test_a_stack_keeps_its_stage_until_its_flaunching_is_laid_and_a_rear_wall_its_scaffold_until_it_is_washed() -> None:
    made = example("mill-house")
    looks = {"stack": "wall.look-conductor", "rear": "wall.look"}
    for wall, laid in (("stack", "flaunching.lay"), ("rear", "limewash.coats-on-new")):
        told = steps(made, (wall,))
        assert told.index("render.sound" if wall == "rear" else "repoint.frost") < told.index(laid)
        assert told.index(laid) < told.index(looks[wall])


def test_a_wall_of_which_nobody_said_where_it_stands_has_one_last_look() -> None:
    made = job(one_wall(position=None))
    assert list(not_last(made)) == []
    assert [step for step in steps(made, ("front",)) if step.startswith("wall.look")] == ["wall.look-ground"]


def test_no_access_goes_at_the_last_look_of_a_room_that_is_worked_from_its_floor() -> None:
    made = example("mill-house")
    (look,) = [told.entry for told in all_steps(made, ("dining-room",)) if told.entry.id.startswith("wall.look")]
    assert look.id == "wall.look-room-ground"
    assert "access" not in look.text.lower()
    assert "wall.look-room" in steps(made, ("chamber-ceiling",))


def test_a_last_look_before_other_work_on_its_wall_and_a_wall_with_none_are_disagreements() -> None:
    operations = example("mill-house").library.operations
    early = replace(operations["wall.look"], once="first")
    with pytest.raises(InputInvalid, match="access goes at hold point strike, before step"):
        pipeline.assembled(with_steps("mill-house", {**operations, early.id: early}))
    none = {key: entry for key, entry in operations.items() if key != "wall.look"}
    with pytest.raises(InputInvalid, match="access goes at hold point strike, and no step stops there"):
        pipeline.assembled(with_steps("mill-house", none))


def ceiling(kind: str, new_laths_m2: str, **coats: str) -> str:
    """What a specification says of a work on laths of 24 m2."""
    bare: dict[str, str | None] = dict.fromkeys(
        ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
    )
    here: dict[str, str | None] = {
        "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
        "unit_height_mm": None, "bond": None, "joint_width_mm": None,
    }  # fmt: skip
    answered = {**bare, "work": kind, "face_area_m2": "24", "new_laths_m2": new_laths_m2, "lath_gap_mm": "8", **coats}
    return outline(assemble(job(answers(a_wall(work("a", **answered), id_="front", **here)))).specification)


@pytest.mark.parametrize(("new_m2", "all_new"), [("0", False), ("10", False), ("24", True)])
def test_where_all_laths_are_new_none_is_told_to_stay(new_m2: str, all_new: bool) -> None:
    for told in (ceiling("plaster", new_m2, plaster_coats="three"), ceiling("render", new_m2, render_kind="flat")):
        assert ("Keep sound laths" in told, "Keep old laths" in told) == (not all_new, not all_new)
        assert ("All laths here are new" in told) is all_new
        assert "stand in for no lath" in told


def test_the_wait_for_the_next_coat_is_told_in_one_wording() -> None:
    texts = [entry.text for entry in shipped().operations.values() if "next coat {{" in entry.text]
    assert len(texts) >= 3
    assert [text for text in texts if "{{ next_coat_days }} from laying" not in text] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_stops_at_each_hold_point_that_the_programme_waits_for(name: str) -> None:
    assert list(unpassed(pipeline.assembled(example(name)))) == []


def test_so_does_the_sheet_of_every_case_and_of_a_wall_of_one_work() -> None:
    told = {name: [*unpassed(pipeline.assembled(case(name)))] for name in CASES}
    flaunching = {"flaunching_m2": "2", "pots_nr": "0", "face_area_m2": None}
    works = {
        "limewash": (surface("a", "limewash", wash_colour="white", old_coating="none"), {}),
        "flaunching": (surface("a", "flaunching", **flaunching), {"position": "chimney"}),
        "render": (surface("a", "render", render_kind="flat", dubbing_mm="0"), {}),
    }
    for name, (one, more) in works.items():
        told[name] = [*unpassed(pipeline.assembled(planned(scaffolded(one, **more), finish_date="2028-12-20")))]
    assert {name: problems for name, problems in told.items() if problems} == {}


def test_a_hold_point_of_the_programme_that_no_step_speaks_of_is_a_disagreement() -> None:
    operations = example("garden-front").library.operations
    entry = replace(operations["repoint.inspect"], holds=(), clauses=(), text="Look at open joints.")
    planted = with_steps("garden-front", {**operations, entry.id: entry})
    with pytest.raises(InputInvalid, match="at the hold point raked, and no step"):
        pipeline.assembled(planted)


LIME: Final = (
    ".panel", ".colour", ".mend", ".dub", ".deep", ".fill", ".bed", ".base", ".harl-first", ".finish", ".coats",
    "flaunching.lay",
)  # fmt: skip


@pytest.mark.parametrize("name", ["garden-front", "toll-house", "mill-house"])
def test_no_lime_is_laid_outside_before_its_covers_are_seen_nor_after_the_last_look_from_the_access(name: str) -> None:
    made = example(name)
    for wall in made.facts.views("element"):
        told = entries(made, wall.path)
        covered = next((at for at, entry in enumerate(told) if "cover" in entry.holds), None)
        if covered is None:
            assert wall.text("exposure_reckoned") == "internal"
            continue
        lime = [at for at, entry in enumerate(told) if entry.id.endswith(LIME)]
        looks = ("wall.look", "wall.look-ground", "wall.look-conductor")
        looked = [at for at, entry in enumerate(told) if entry.id in looks]
        assert covered <= min(lime)
        assert len(looked) == 1
        assert max(lime) < looked[0]


def test_the_laths_of_a_panel_are_shown_before_its_first_coat() -> None:
    for key in ("plaster.laths.panel", "plaster.laths-ground.panel"):
        entry = example("mill-house").library.operations[key]
        assert "laths" in entry.holds
        assert "laths soaked {{ laths_soaked_days }}, shown first" in entry.text
        assert entry.text.index("soaked") < entry.text.index("damp")
    assert "plaster.laths-ground.panel" in steps(example("mill-house"), ("chamber-ceiling",))


def test_no_step_of_an_earth_wall_asks_days_of_lime_of_its_deep_filling() -> None:
    told = all_steps(case("right-clay-lump"), ("east",))
    assert [step.entry.text for step in told if "pointing.deep" in step.entry.clauses] == [
        "Pack deep places, from the back; let them harden."
    ]


def test_each_step_that_has_a_panel_made_tells_how_long_it_is_kept_damp() -> None:
    made = [
        entry
        for entry in shipped().operations.values()
        if "approvals.panels" in entry.clauses and not entry.id.endswith((".approved", ".panel-elsewhere"))
    ]
    assert len(made) >= 6
    assert [entry.id for entry in made if "damp {{ panel_damp_days }}" not in entry.text] == []


def test_a_setting_coat_gives_each_face_no_more_than_a_day_and_the_day_more_than_one_face() -> None:
    made = example("winter-plaster")
    told = [plain_text(one.step.content) for one in all_steps(made, made.facts.at("element")[0].path)]
    assert sum("a face in a day" in line for line in told) == 1
    assert not any("a face a day" in line for line in told)  # its programme gives four walls three days


def test_a_large_face_of_render_has_a_place_to_stop_or_is_laid_in_a_day() -> None:
    """A joint three days old shows: where a face has nothing to stop at, no weekend comes between its halves."""
    told = shipped().clauses["render.faces"].text
    assert "in one day, with hands enough, where a face is under" in told
    assert "or has no downpipe, string course or opening to stop at. Stop others there, cut square." in told


@pytest.mark.parametrize("name", NAMES)
def test_each_wall_that_a_tool_cuts_into_is_told_to_be_scanned_before_one_does(name: str) -> None:
    made = example(name)
    scanning = {"site.hidden-services", "site.hidden-services-unknown"}
    opening = {"raking-out.tools", "raking-out.cement-trial", "removal.trial", "flaunching.taking-off", "laths.edges"}
    for wall in made.facts.views("element"):
        told = entries(made, wall.path)
        scanned = next(at for at, entry in enumerate(told) if scanning & set(entry.clauses))
        assert "scan" in told[scanned].text.lower()
        assert all(scanned < at for at, entry in enumerate(told) if opening & set(entry.clauses)), wall.path
        panels = [entry for entry in told if entry.id.endswith((".ground.panel", ".ground.panel-indoors"))]
        assert all("scan" in entry.text for entry in panels), wall.path


def test_chalk_whose_joints_are_rinsed_and_wetted_is_wetted_in_passes_that_it_drinks() -> None:
    made = case("clunch-barn")
    assert made.in_papers("raking-out.wetting-soak")
    assert "each drunk in before the next, where its joints are rinsed" in made.library.clauses["curing.chalk"].text


def test_a_finish_alone_stops_for_no_coat_before_it_and_one_on_coats_does() -> None:
    for made, wall, stops in (
        (case("finish-on-gypsum"), "parlour", False),
        (example("winter-plaster"), "schoolroom", True),
    ):
        (setting,) = (entry for entry in entries(made, (wall,)) if entry.id.startswith("plaster.setting"))
        assert ("coats" in setting.holds, "**Hold:**" in setting.text) == (stops, stops)
        assert list(unpassed(pipeline.assembled(made))) == []


def test_a_look_weeks_after_the_access_has_gone_is_from_what_reaches_the_face() -> None:
    library = shipped()
    looks = [key for key, clause in library.clauses.items() if "ladder" in clause.check and "specifier" in clause.check]
    assert [key for key in looks if "platform" not in library.clauses[key].check] == []
    assert "that the contractor brings" in library.clauses["limewash.hold"].check
    assert "that the contractor brings" in library.clauses["plaster.soundness"].check
    assert "reach it" in library.clauses["render.junctions"].check


@pytest.mark.parametrize(("access", "reached"), [("scaffold", True), ("tower", True), ("ground", False)])
def test_a_wash_above_the_reach_of_a_hand_has_its_palm_from_a_ladder_by_step_and_by_the_line_that_pays(
    access: str, reached: bool
) -> None:
    """Its access goes a month before, and a ladder or platform for that day is hired by the rate of the wash."""
    washed = work("wash", work="limewash", joint_finish=None, cement_area_m2=None, wash_mend_m2="0")
    made = job(answers(a_wall(washed, access=access)))
    (step,) = (entry for entry in entries(made, ("front",)) if "wash-held" in entry.holds)
    assert ("from a ladder or platform" in step.text) is reached
    lines = [item.entry.includes for item in made.measured.items() if item.entry.id.startswith("limewash.coats")]
    assert lines
    assert all("reaching it a month after" in line for line in lines)


@pytest.mark.parametrize("masonry", ["rubble", "laths"])
def test_edges_of_old_lime_render_are_cut_before_the_first_coat_and_cement_that_failed_its_trial_is_cut_by_nobody(
    masonry: str,
) -> None:
    off = surface(
        "off", "remove", removed="cement-render", removed_hold="mixed", removed_firm_m2="5", face_area_m2="30"
    )
    made = planned(scaffolded(off, surface("r", "render", render_kind="flat", face_area_m2="30"), masonry=masonry))
    told = [step.entry for step in all_steps(made, ("front",))]
    (cut,) = (at for at, entry in enumerate(told) if "render.junctions" in entry.clauses)
    assert cut < next(at for at, entry in enumerate(told) if entry.id in ("render.base", "render.splatter"))
    text = made.library.clauses["render.junctions"].text
    assert "Neither cut nor undercut cement that stays" in text
    assert "cutting square edges" not in made.library.items["remove.cement-render"].includes
