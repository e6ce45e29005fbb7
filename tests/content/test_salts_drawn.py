"""Salts are drawn from a wall that dries: their source off it first, each round seen, then its face is let dry."""

from __future__ import annotations

from itertools import chain, pairwise
from typing import Final

import pytest
from order_of_work import begun_too_soon, days_of, held_back, ordered_steps, out_of_order, standing, undated
from timed_jobs import planned, scaffolded, surface

from generator.job.job import Job
from generator.programme.model import Task

ROOM: Final = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none",
}  # fmt: skip
SALTY: Final = {
    "salts": "heavy", "salt_kinds": "[nitrate]", "salt_sources": "[ground, cement-gypsum]", "wall_wet": "damp",
    "decay_causes": "[salts, cement, high-ground]", "causes_cured": "by-others", "causes_done_date": "2027-05-03",
}  # fmt: skip
ROUNDS: Final = ("", "-second", "-third", "-further")


def drawn(rounds: str = "2", *more: str, room: bool = True) -> Job:
    off = surface("off", "remove", removed="cement-render", removed_hold="loose")
    coats = (
        surface(
            "p", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0",
            old_plaster_beside="no", panel_place="access",
        )
        if room
        else surface("p", "render", render_kind="flat", panel_place="access")
    )  # fmt: skip
    works = [off, surface("d", "desalt", desalt_rounds_nr=rounds), coats, *more]
    return planned(scaffolded(*works, **SALTY, **(ROOM if room else {})), finish_date="2029-09-28")


def rounds_of(made: Job) -> list[list[Task]]:
    parts = ("salts-lay", "salts-dry", "salts-left", "salts-seen")
    found = [[task for part in parts for task in standing(made, (part + each,), ("front",))] for each in ROUNDS]
    return [each for each in found if each]


@pytest.mark.parametrize("room", [True, False])
def test_a_wall_dries_for_its_weeks_once_what_fed_it_is_off_before_its_salts_are_drawn(room: bool) -> None:
    """It dried from the start behind the cement that was its source, and stood bare for two days."""
    made = drawn(room=room)
    bare, dries, tested, trial = days_of(made, "front", "laid-bare", "salts-source", "salts-tested", "salts-trial")
    assert bare.finish <= dries.start
    assert (dries.finish - dries.start).days >= 28
    assert dries.finish <= tested.start < trial.start
    assert [*out_of_order(made), *begun_too_soon(made), *held_back(made)] == []


def test_a_wall_whose_leak_is_mended_under_a_sum_dries_after_that() -> None:
    cured = {**SALTY, "decay_causes": "[salts, leak]", "causes_cured": "in-this-work", "causes_done_date": None}
    desalt = surface("d", "desalt", desalt_rounds_nr="1")
    joints = surface("p", "render", render_kind="flat", panel_place="access")
    told = {name: value for name, value in cured.items() if value is not None}
    made = planned(scaffolded(desalt, joints, **told), finish_date="2029-09-28")
    mended, dries = days_of(made, "front", "causes-mended", "salts-source")
    assert mended.finish <= dries.start


@pytest.mark.parametrize(("rounds", "reckoned"), [("1", 1), ("2", 2), ("3", 3), ("4", 4), ("not known", 1)])
def test_each_round_is_laid_dried_left_bare_and_seen_before_the_next(rounds: str, reckoned: int) -> None:
    """All rounds were laid on two days running, the second on the wet first."""
    made = drawn(rounds)
    found = rounds_of(made)
    assert [len(each) for each in found] == [4] * reckoned
    assert all(earlier.finish <= later.start for earlier, later in pairwise(chain.from_iterable(found)))
    assert all((dry.finish - dry.start).days >= 14 and seen.hold == "salts" for _, dry, _, seen in found)


def test_rounds_after_the_third_take_the_time_of_each() -> None:
    (last_of_four, *_), (last_of_six, *_) = (rounds_of(drawn(rounds))[-1][1:2] for rounds in ("4", "6"))
    assert (last_of_six.finish - last_of_six.start) == 3 * (last_of_four.finish - last_of_four.start)


def test_the_source_the_trial_and_each_round_have_their_day_of_release() -> None:
    made = drawn("3")
    held = [task.entry for task in made.programme.tasks() if task.hold == "salts"]
    assert sorted(held) == sorted(
        ["salts-tested", "salts-released", "salts-seen", "salts-seen-second", "salts-seen-third"]
    )
    assert list(undated(made)) == []


@pytest.mark.parametrize("room", [True, False])
def test_a_face_is_released_as_dry_once_no_poultice_wets_it_any_more(room: bool) -> None:
    """It was released on 1 June, and soaked by two rounds from 23 June on."""
    made = drawn(room=room)
    (last,) = standing(made, ("salts-dry-second",), ("front",))
    dries, released = days_of(made, "front", "dry-out", "dry-released")
    assert last.finish <= dries.start < released.start
    laid = [task for task in standing(made, ("prepare", "lay"), ("front", "p")) if task.path[1] == "p"]
    assert laid
    assert all(task.start > released.start for task in laid)
    hold = "plaster.wet-wall" if room else "wall.dries-drawn"
    panel = "plaster.panel" if room else "render.panel"
    steps = ("desalt.source", panel, "desalt.trial", "desalt.again", hold)
    assert ordered_steps(made, "front", *steps) == list(steps)


def test_a_wall_that_is_rebuilt_before_its_salts_are_drawn_is_dry_before_that() -> None:
    facing = surface(
        "r", "rebuild", rebuild_what="facing", rebuild_thickness_mm="250", rebuild_height_m="1.1", face_area_m2="1.6",
        replaced_units_nr="0", panel_place="access",
    )  # fmt: skip
    made = drawn("1", facing, room=False)
    released, built, laid = days_of(made, "front", "dry-released", "take-first", "salts-lay")
    assert released.finish <= built.start < laid.start
