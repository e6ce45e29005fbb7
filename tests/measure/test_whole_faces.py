"""The hands that lay the last coat of a face of render in one day."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import wall
from timed_jobs import codes, planned, surface, task

from generator.job.job import Job
from generator.measure.outputs import LAY, Outputs

OPENING = "[{width_m: 1.0, height_m: 1.4, count_nr: 2}]"


def rendered(area_m2: str, kind: str = "roughcast", openings: str | None = None, **told: str) -> Job:
    """A brick wall under new render; its plasterers are a pair, and throw 20 m² a day each."""
    coats = surface("coats", "render", render_kind=kind, face_area_m2=area_m2, dubbing_mm="0", openings=openings)
    return planned(wall(coats, access="scaffold", **told), finish_date="2028-09-29")


def hands(made: Job) -> Decimal | None:
    return made.facts.at_scope(("front", "coats")).number("face_hands_nr")


def test_a_face_with_nothing_to_stop_at_has_hands_enough_and_its_last_coat_one_day_even_at_low_outputs() -> None:
    made = rendered("46")
    assert hands(made) == 3
    days = {name: task(made.programme, f"front/coats/{name}/lay").why for name in ("render-base", "harl-second")}
    assert days["harl-second"].days.likely == days["harl-second"].days.high == 1
    assert days["harl-second"].people_nr == 3
    assert days["render-base"].people_nr == 2
    assert days["render-base"].days.likely == 3
    assert "render.face-hands" in made.duties


def test_its_mix_is_made_for_the_whole_face_on_that_day() -> None:
    made = rendered("46")
    (laid,) = (day for found in made.measured.batches for day in found.made.days if day.path[-1] == "harl-second")
    assert laid.days == 1
    coat = made.facts.at_scope(("front", "coats", "harl-second"))
    labour = Outputs(made.library).labour(coat, LAY)
    assert labour is not None
    assert labour.days(2).likely <= 1


@pytest.mark.parametrize(
    ("area_m2", "kind", "openings", "told", "wanted"),
    [
        ("40", "roughcast", None, {}, None),  # a pair throws it in a day
        ("46", "roughcast", OPENING, {}, None),  # it stops at an opening
        ("46", "roughcast", None, {"wall_openings": "[{kind: window, width_m: 1, height_m: 1.4}]"}, None),
        ("29", "flat", OPENING, {}, 3),  # too small to stop in, whatever it has
        ("46", "roughcast", None, {"in_frame": "yes"}, None),  # panels stop at their timbers
    ],
)
def test_hands_are_asked_for_where_the_clause_asks_one_day_and_the_gang_takes_longer(
    area_m2: str, kind: str, openings: str | None, told: dict[str, str], wanted: int | None
) -> None:
    made = rendered(area_m2, kind, openings, **told)
    assert hands(made) == wanted
    assert ("render.face-hands" in made.duties) == (wanted is not None)


def test_more_hands_than_have_room_are_not_reckoned_with_and_a_place_to_stop_is_asked_for() -> None:
    made = rendered("300", "flat")
    assert hands(made) is None
    assert "face-without-break" in codes(made)
    assert task(made.programme, "front/coats/render-finish/lay").why.people_nr == 2
