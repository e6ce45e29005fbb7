"""Cautions that stand in two places say one thing, and a test asked for on site is safe as it is written."""

from __future__ import annotations

import re
from typing import Final

import pytest
from answers_text import one_wall, wall, work
from jobs import example, job, shipped
from timed_jobs import planned
from told_papers import companion, specification

from generator.lime.slaking import BOILING_C, WATER_KJ_PER_KG_K, slaking_heat_kj
from generator.papers.steps import all_steps

WARM_WATER_C = 25.0


def test_the_trial_of_quicklime_stays_under_boiling_however_pure_it_is() -> None:
    """All its heat in the water alone, the solids left out: hydration by the CRC enthalpies (`lime/slaking`)."""
    figures = shipped().clauses["materials.quicklime"].figures
    lime_kg, water_kg = (float(figures[name]) / 1000 for name in ("slake_test_g", "slake_test_ml"))
    rise = slaking_heat_kj(lime_kg) / (water_kg * WATER_KJ_PER_KG_K)
    assert WARM_WATER_C + rise < BOILING_C - 10
    assert float(figures["slake_test_c"]) < 10 + 0.8 * rise  # good lime in cold water passes it


def test_who_tries_quicklime_wears_what_slaking_asks_for() -> None:
    clauses = shipped().clauses
    for words in ("face shields over goggles", "gauntlets"):
        assert words in " ".join(clauses["materials.quicklime"].check.split())
    assert "face shields over goggles" in clauses["safety.slaking"].text


def test_screenings_go_into_wet_sand_on_the_card_and_in_the_clause() -> None:
    library = shipped()
    assert "wet sand" in library.clauses["mortars.hot-mix-warm"].text
    step = library.operations["mixing.hot-screen"]
    assert "wet sand" in step.text
    assert "waste" not in step.text


def test_no_clause_on_old_paint_or_coating_sets_hot_air_a_limit() -> None:
    """A gun held under any limit still melts and fumes lead; the papers' first page forbids it outright."""
    texts = {
        key: clause.text
        for key, clause in shipped().clauses.items()
        if "hot air" in clause.text or "hot-air" in clause.text
    }
    assert "safety.lead-found" in texts
    assert not [key for key, text in texts.items() if re.search(r"hot air (?:over|above|under)", text)]


def test_old_work_is_brushed_wet_or_with_the_vacuum_at_the_brush() -> None:
    """Silica: 29 CFR 1926.1153 (f) bars dry brushing unless nothing else is feasible; water drives salts in."""
    clauses = shipped().clauses
    assert (
        "Brush old work wet, or dry where water does harm, with that vacuum at the brush" in clauses["safety.dust"].text
    )
    dry = {
        key
        for key, clause in clauses.items()
        if re.search(
            r"[Bb]rush (?:what this work left off )?(?:old )?faces,? (?!and joints with bristle;)", clause.text
        )
    }
    assert {"raking-out.wetting-mist", "raking-out.wetting-none", "completion.cleaning-down"} <= dry
    assert not [key for key in dry if "vacuum at the brush" not in clauses[key].text]


def test_old_faces_are_brushed_free_of_what_the_work_left_and_lose_no_lichen() -> None:
    """One clause barred cleaning them, and another had all of them brushed down at the end."""
    clauses, items = shipped().clauses, shipped().items
    assert "lichen and patina stay" in clauses["raking-out.no-cleaning"].text
    last = clauses["completion.cleaning-down"].text
    assert "brush what this work left off old faces, dry" in last
    assert "Cleaning" not in items["prelims.records"].description


def test_nothing_is_mixed_colder_than_it_may_be_laid_and_no_frozen_sand_is_used() -> None:
    clauses = shipped().clauses
    assert "use none that is frozen" in clauses["materials.sand"].text
    assert (
        "Mix and knock up only within the temperatures at which the mix may be laid" in clauses["mortars.mixers"].text
    )


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house"])
def test_no_bag_need_be_finished_on_a_day_that_takes_less_of_it(name: str) -> None:
    """A stack takes 5 l of lime a day and a bag of 25 kg holds 28 l: bags by the day would be more than ordered."""
    made = [batch for batch in example(name).measured.batches if not batch.keeps]
    a_day_l = min(float(day.a_day) * batch.made.batch.lime_l for batch in made for day in batch.made.days)
    assert a_day_l < 28
    text = shipped().clauses["materials.nhl"].text
    assert "the same day" not in text
    assert "keep an opened one in a closed dry tub" in text


def test_an_opened_bag_of_quicklime_is_closed_up_dry_and_goes_first_for_no_heap_takes_whole_bags() -> None:
    """A heap of the mill house takes 16.6 kg and a bag holds 25: of unbroken bags each would waste a third."""
    library = shipped()
    lime = library.materials["quicklime"]
    made = [batch for batch in example("mill-house").measured.batches if batch.heat_mj is not None]
    assert lime.bulk_density_kg_per_l is not None
    heaps_kg = [batch.made.batch.lime_l * float(lime.bulk_density_kg_per_l.likely) for batch in made]
    assert heaps_kg
    assert all(heap_kg % float(lime.package.holds) > 1 for heap_kg in heaps_kg)
    clause = library.clauses["materials.quicklime"].text
    assert re.search(r"Close an opened bag at once in a dry steel drum of its own.*before another is opened", clause)
    assert "unbroken" not in library.clauses["safety.quicklime-store"].text
    assert "in closed bags inside closed steel drums" in library.clauses["safety.quicklime-store"].text


# What can be seen above a roof alone, and is asked before there is access.
ABOVE_A_ROOF: Final = ("condition", "flues", "face_height_m", "pots_nr", "flaunching_m2", "coping_m")


def test_what_stands_above_a_roof_is_looked_at_from_the_ground_or_by_a_camera_on_a_pole() -> None:
    library = shipped()
    told = {name: library.questionnaire.questions[name].how for name in ABOVE_A_ROOF}
    assert [name for name, how in told.items() if not re.search("field glasses|on a pole", how)] == []
    assert [name for name in ("condition", "pots_nr") if "camera on a pole" not in told[name]] == []
    assert "no ladder over a roof" in companion("mill-house", "survey")


def test_quicklime_is_ordered_and_delivered_a_week_s_use_at_a_time_as_its_store_holds_no_more() -> None:
    library, text = shipped(), specification("mill-house")
    assert "a week's use or less at a time" in library.clauses["materials.quicklime"].text
    assert "no more than a week's quicklime" in library.clauses["safety.quicklime-store"].text
    (ordered,) = re.findall(r"^calcium quicklime.*\| (\d+ bags of .*)$", text, re.M)
    assert ordered.endswith(", a week's use at a time")
    assert re.search(r"^Quicklime, the first week's \|", text, re.M)
    (kept,) = re.findall(r"^natural hydraulic lime NHL 2 .*\| (\d+ bags of .*)$", text, re.M)
    assert "week" not in kept


def test_joints_raked_for_a_wash_or_a_render_are_raked_by_hand_and_no_wider() -> None:
    """The clause on tools speaks of repointing alone: whatever else opens a joint bars the disc itself."""
    clauses = shipped().clauses
    mending = clauses["limewash.mending"].text
    for words in ("by hand", "no power or air tool", "widen no joint", "in the layers of the mix's card", "damp"):
        assert words in mending
    raking = [key for key, clause in clauses.items() if re.search(r"\b[Rr]ake (?:out|back|that|by)\b", clause.text)]
    assert {"limewash.mending", "raking-out.tools", "render.edges"} <= set(raking)
    under_tools = [key for key in raking if clauses[key].when.startswith("work == 'repoint'")]
    assert not [key for key in raking if key not in under_tools and "by hand" not in clauses[key].text]


@pytest.mark.parametrize(
    "key", ["curing.heating-off", "curing.heating-low", "curing.heating-strong", "curing.air", "curing.air-closed"]
)
def test_the_heat_and_the_air_of_a_room_are_kept_for_the_same_days_a_panel_s_too(key: str) -> None:
    """A panel that is dried by force is no measure for the work; between it and the work the room is the owner's."""
    days = r"while a panel in (it|this room) cures or dries, and from the work's first lime until"
    assert re.search(days, shipped().clauses[key].text, re.I)
    for step in ("wall.heating", "wall.heating-none"):
        assert "panels too" in shipped().operations[step].text


@pytest.mark.parametrize("key", ["curing.heating-off", "curing.heating-low", "curing.heating-strong"])
def test_a_room_is_at_its_warmth_before_a_panel_and_before_the_first_coat_not_from_then_on(key: str) -> None:
    """Between the panel's answer and the first coat nobody heats; lime laid on a cold wall that day has no warmth."""
    clauses = shipped().clauses
    assert "{{ warmed_weeks }} before each" in clauses[key].text
    for word in ("owner-heats", "owner-cools"):
        assert len(re.findall(r"from 1\sweek before", shipped().words[word])) == 2


def test_the_step_that_holds_a_room_names_what_its_hold_point_bars() -> None:
    """Nobody releases low heating: what waits for a release is a drier."""
    steps = [entry for entry in shipped().operations.values() if "room-released" in entry.holds]
    assert [entry.id for entry in steps] == ["wall.heating", "wall.heating-none"]
    assert all(entry.text.startswith("**Hold:** no drier;") for entry in steps)


@pytest.mark.parametrize(("heated", "step"), [("low", "wall.heating"), ("none", "wall.heating-none")])
def test_low_heating_is_a_step_of_rooms_that_are_heated_alone(heated: str, step: str) -> None:
    room = {"position": "indoors", "exposure": "internal", "heating_indoors": heated, "air_indoors": "open"}
    made = planned(wall(work(), **room))
    (told,) = [each.entry for each in all_steps(made, ("front",)) if "room-released" in each.entry.holds]
    assert told.id == step
    assert ("heating low" in told.text) is (heated == "low")
    assert "drier" in shipped().hold_points["room-released"].what


@pytest.mark.parametrize(
    ("access", "height_m", "told"), [("ground", "2.3", True), ("ground", "1.8", False), ("scaffold", "2.3", False)]
)
@pytest.mark.parametrize("room", [{}, {"position": "indoors", "exposure": "internal"}], ids=["outdoors", "indoors"])
def test_a_wall_that_hands_do_not_reach_from_the_ground_has_words_on_its_trestles_and_a_step_once_its_room_is_closed(
    room: dict[str, str], access: str, height_m: str, *, told: bool
) -> None:
    """What is worked at height without a scaffold had a hazard named, a line, and no clause that says how."""
    made = job(one_wall(access=access, height_m=height_m, **room))
    assert made.in_papers("safety.trestles") == told
    steps = [each.entry.id for each in all_steps(made, ("front",))]
    assert ("wall.trestles" in steps) == told
    assert not (told and room) or steps.index("wall.room") < steps.index("wall.trestles")
    assert made.in_papers("safety.height") == (access == "scaffold")


def test_paint_that_may_hold_lead_is_wetted_and_the_wall_under_its_gypsum_kept_dry_by_clauses_and_lines() -> None:
    """Whoever wets the wall washes gypsum into it, whoever works the paint dry makes dust of lead."""
    library = shipped()
    gypsum, lead = (library.clauses[key].text for key in ("removal.gypsum", "safety.lead-found"))
    assert "mist the paint alone" in gypsum
    assert "vacuum at the tool" in gypsum
    assert "no wall under gypsum" in lead
    told = [item.description for item in library.items.values() if "lead paint" in item.description.lower()]
    told += [item.description for item in library.items.values() if "as holding lead" in item.description]
    assert [words for words in told if "wet methods" in words] == []
    assert "wall dry" in library.operations["remove.gypsum"].text
