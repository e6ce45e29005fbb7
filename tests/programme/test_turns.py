"""Of walls that stand on one another one is worked on at a time, and ground is filled before access stands there."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Sequence
from datetime import timedelta
from itertools import combinations, permutations, product

import pytest
from answers_text import wall, work
from timed_jobs import codes, planned, scaffolded, surface, task, told
from timed_walls import START, K, after

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.steps import all_steps
from generator.programme.network import Activity, Network, Wait, Work
from generator.programme.schedule import schedule
from generator.values import replace

DUG = surface("g", "enabling", enabling_tasks="[ground]", ground_m="12", face_area_m2=None, quantity_sure=None)
DAMP = {"decay_causes": "[high-ground]", "causes_cured": "in-this-work", "wall_wet": "damp", "faces": "south"}
RENDER = surface("coats", "render", render_kind="flat", dubbing_mm="0", face_area_m2="60")
CEMENT = surface("off", "remove", removed="cement-render", removed_hold="loose", face_area_m2="60")
WORKED = ("work", "access")


def foot(**told_: str) -> str:
    return wall(DUG, work(face_area_m2="40"), id_="foot", name="Foot", **{**DAMP, **told_})


def upper(**told_: str) -> str:
    return scaffolded(CEMENT, RENDER, id_="upper", name="Upper wall", height_m="7", **{"faces": "south", **told_})


def stacked(**of_upper: str) -> Job:
    return planned(foot(), upper(**{"stands_on": "foot", **of_upper}), finish_date="2028-09-29")


def at_once(made: Job, *walls: str) -> Iterator[str]:
    """Work on one of some walls on a day on which there is work on another of them."""
    on = [[one for one in made.programme.tasks() if one.path[0] == id_ and one.kind in WORKED] for id_ in walls]
    for first, second in combinations(on, 2):
        for one, other in product(first, second):
            if one.start <= other.finish and other.start <= one.finish:
                yield f"{one.key} {one.start}-{one.finish}, {other.key} {other.start}-{other.finish}"


def test_ground_is_filled_before_access_stands_on_it_and_nobody_works_beneath_another() -> None:
    made = stacked()
    dug, up = task(made.programme, "foot/g/enable-ground"), task(made.programme, "upper/access-up")
    assert dug.finish < up.start
    assert list(at_once(made, "foot", "upper")) == []
    apart = planned(foot(), upper(stands_on="upper"), finish_date="2028-09-29")
    assert list(at_once(apart, "foot", "upper"))  # that it is nothing that these works do of themselves
    assert task(apart.programme, "upper/access-up").start <= task(apart.programme, "foot/g/enable-ground").finish


def test_both_sheets_and_their_clauses_name_the_other_wall() -> None:
    made = stacked()
    steps = {id_: [told.entry.id for told in all_steps(made, (id_,))] for id_ in ("foot", "upper")}
    wanted = ["wall.dug-below", "wall.one-above-another", "wall.access"]
    assert [step for step in steps["upper"] if step in wanted] == wanted
    wanted = ["enabling.trial-holes", "enabling.ground", "wall.one-above-another", "repoint.panel"]
    assert [step for step in steps["foot"] if step in wanted] == wanted
    text = outline(assemble(made).specification)
    assert re.search(r"^Stands on \| Foot$", text, re.M)
    assert re.search(r"^Under \| Upper wall$", text, re.M)
    assert "ground dug along the wall below (Foot) is filled" in text
    assert "dug-below-access" not in codes(made)


@pytest.mark.parametrize("shared", [{"access": "scaffold"}, {"access": "scaffold", "access_with": "upper"}])
def test_so_it_is_where_both_have_access_or_one_serves_both_and_where_the_upper_is_cured_on_the_lower(
    shared: dict[str, str],
) -> None:
    cured = {"decay_causes": "[high-ground]", "causes_cured": "in-this-work", "cured_on": "[foot]"}
    for more in ({}, cured):
        walls = foot(**shared), upper(stands_on="foot", **more)
        made = planned(*walls, finish_date="2029-09-28")
        assert "walls-wait-in-circle" not in codes(made)
        assert list(at_once(made, "foot", "upper")) == []


def test_turns_are_kept_with_two_gangs_and_in_the_slowest_run_and_the_reason_is_told() -> None:
    made = planned(
        foot(), upper(stands_on="foot"), finish_date="2028-09-29",
        gangs="[{trade: masonry, gangs_nr: 2}, {trade: plaster, gangs_nr: 2}]",
    )  # fmt: skip
    assert list(at_once(made, "foot", "upper")) == []
    causes = {cause.kind for one in made.programme.tasks() for cause in made.programme.causes(one)}
    assert "face" in causes
    runs = made.programme.runs
    assert runs is not None
    for run in (runs.early, runs.likely, runs.late):
        days = {
            one.key: (run.dates.start(one.id), run.dates.finish(one.id), one.path[0])
            for one in made.programme.tasks()
            if one.kind in WORKED and one.path[0] in ("foot", "upper")
        }
        for one, other in combinations(days.values(), 2):
            assert one[2] == other[2] or one[1] < other[0] or other[1] < one[0]


@pytest.mark.parametrize("asked", ["loft", "foot"])
def test_a_wall_that_is_none_or_stands_on_this_one_is_told(asked: str) -> None:
    made = planned(foot(stands_on="upper"), upper(stands_on=asked))
    assert told(made, "stands-on-no-wall")


def test_ground_dug_on_the_side_of_a_scaffold_asks_whether_one_stands_on_the_other_and_names_both() -> None:
    open_ = planned(foot(), upper())
    (found,) = [item for item in open_.findings if item.code == "dug-below-access"]
    assert found.scope == ("foot",)
    assert "Upper wall" in found.message
    answered = [(foot(), upper(stands_on=name)) for name in ("upper", "foot")]
    apart = [(foot(), upper(faces="north")), (foot(height_m="7"), upper()), (foot(access="scaffold"), upper())]
    for walls in (*answered, *apart):
        assert "dug-below-access" not in codes(planned(*walls)), walls


def test_walls_of_one_side_on_one_access_ask_whether_one_stands_on_the_other() -> None:
    shared = {"access": "scaffold", "access_with": "upper"}
    assert "one-above-another-unsaid" in codes(planned(foot(**shared), upper()))
    for walls in (
        (foot(**shared), upper(stands_on="foot")),
        (foot(**shared), upper(stands_on="upper")),
        (foot(**shared), upper(faces="north")),
    ):
        assert "one-above-another-unsaid" not in codes(planned(*walls)), walls


def tower(seed: int, listed: Sequence[int]) -> Network:
    """Three walls one above another, each raked and, after a wait, pointed by a day, listed in some order."""
    draw = random.Random(seed)
    walls: list[list[Activity]] = []
    for storey in range(3):
        place, first, between = f"wall {storey}", (f"wall {storey}", "rake"), (f"wall {storey}", "hardens")
        walls.append(
            [
                Activity(first, Work(draw.randint(1, 9), K), gang="masonry", place=place, face="tower", storey=storey),
                Activity(between, Wait(draw.choice((2, 7, 14))), after(first)),
                Activity(
                    (place, "point"), Work(draw.randint(1, 4), K), after(between), "masonry", place,
                    not_after=START + timedelta(draw.randint(20, 45)), face="tower", storey=storey,
                ),
            ]
        )  # fmt: skip
    return Network(tuple(activity for number in listed for activity in walls[number]), {"masonry": 3})


def test_whether_limits_are_kept_never_hangs_on_the_order_in_which_walls_one_above_another_are_listed() -> None:
    for seed in range(60):
        found = {listed: schedule(tower(seed, listed), START).short_days for listed in permutations(range(3))}
        assert len(set(found.values())) == 1, (seed, found)


@pytest.mark.parametrize("listed", list(permutations(range(3))))
def test_walls_one_above_another_are_worked_on_from_the_top_down_where_all_may_begin(listed: tuple[int, ...]) -> None:
    network = tower(1, listed)
    free = Network(tuple(replace(activity, not_after=None) for activity in network.activities), network.gangs)
    dates = schedule(free, START).dates
    assert sorted(range(3), key=lambda storey: dates.start((f"wall {storey}", "rake"))) == [2, 1, 0]


SHARED = {"access": "scaffold", "access_with": "upper"}


@pytest.mark.parametrize(
    ("lower", "higher"),
    [
        ({"faces": "west and south"}, {"faces": "south"}),
        ({"faces": "all sides"}, {"faces": "south"}),
        ({"faces": "S"}, {"faces": "south"}),
        ({"faces": "south", "position": "parapet"}, {"faces": "north"}),
        ({"faces": None}, {"faces": "south"}),
    ],
)
def test_it_is_asked_however_their_sides_are_written_and_always_of_a_parapet(
    lower: dict[str, str | None], higher: dict[str, str]
) -> None:
    made = planned(wall(work(), id_="foot", name="Foot", **SHARED, **lower), upper(**higher))
    assert "Upper wall" in told(made, "one-above-another-unsaid")


@pytest.mark.parametrize("lower", ["north", "east and north"])
def test_it_is_not_asked_of_walls_that_face_other_ways(lower: str) -> None:
    made = planned(wall(work(), id_="foot", name="Foot", **SHARED, faces=lower), upper(faces="south"))
    assert "one-above-another-unsaid" not in codes(made)


def test_it_is_asked_of_two_that_are_served_by_the_access_of_a_third() -> None:
    walls = [wall(work(), id_=id_, name=id_.title(), **SHARED, faces="north") for id_ in ("foot", "string")]
    (found,) = [item for item in planned(*walls, upper()).findings if item.code == "one-above-another-unsaid"]
    assert found.scope == ("string",)
    assert "Foot" in found.message
    assert "Upper wall" not in found.message


@pytest.mark.parametrize("faces", ["west and south", "all sides", "S"])
def test_ground_is_dug_below_access_however_the_side_is_written(faces: str) -> None:
    assert "dug-below-access" in codes(planned(foot(), upper(faces=faces)))
    assert "dug-below-access" not in codes(planned(foot(faces="north"), upper(faces=faces.replace("all sides", "E"))))


def test_each_sheet_names_all_that_hang_above_or_lie_below_and_those_who_damp_go_in_between() -> None:
    top = scaffolded(CEMENT, RENDER, id_="top", name="Top wall", height_m="9", stands_on="upper")
    made = planned(foot(), upper(stands_on="foot"), top, finish_date="2029-09-28")
    named = {id_: made.facts.at_scope((id_,)).text("worked_by_turns") for id_ in ("foot", "upper", "top")}
    assert named == {"foot": "Upper wall and Top wall", "upper": "Foot and Top wall", "top": "Upper wall and Foot"}
    assert "damps new lime below does so while work above stands still" in outline(assemble(made).specification)
