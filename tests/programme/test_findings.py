"""Every finding that the programme raises, each by answers that bring it about, with the answers it names."""

from __future__ import annotations

from typing import Any

import pytest
from answers_text import wall, work
from code_reading import texts
from jobs import shipped
from timed_jobs import codes, planned, scaffolded, surface, task, told

from generator.job.job import Job

PLASTER = {"plaster_coats": "three", "plaster_surface": "trowelled", "dubbing_mm": "10", "cornice_m": "0"}
ROOM = {"position": "indoors", "exposure": "internal", "heating_indoors": "none", "air_indoors": "open"}
BIG = {"face_area_m2": "600"}
CURED = {"decay_causes": "[leak]", "causes_cured": "in-this-work"}
WASH = {"wash_colour": "white", "old_coating": "none"}
GUTTER = {"enabling_tasks": "[gutters]", "gutter_m": None, "face_area_m2": None, "quantity_sure": None}
ROW = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(9)]
LONG_ROW = [wall(work(face_area_m2="90"), id_=f"w{number}", name=f"Wall {number}") for number in range(3)]
COLD = ", ".join(["-5"] * 12)

# By code: walls, project answers, and the names of the answers that the finding points at.
CASES: dict[str, tuple[list[str], dict[str, str | None], set[str]]] = {
    "completion-passed": ([wall()], {"finish_date": "2027-05-20"}, {"start_date", "finish_date"}),
    "completion-passed-too": (
        LONG_ROW, {"start_date": "2027-06-28", "finish_date": "2027-09-10"}, {"start_date", "finish_date"},
    ),
    "last-placing-passed": (
        [wall()], {"start_date": "2027-09-20", "finish_date": None}, {"start_date", "early_frost"},
    ),
    "seasons-passed": (ROW, {"start_date": "2027-10-11", "finish_date": "2027-12-20"}, {"start_date", "early_frost"}),
    "season-passed-here": (ROW, {"start_date": "2027-10-11", "finish_date": "2027-12-20"}, set()),
    "late-run-fails": ([wall()], {"finish_date": "2027-06-30"}, {"start_date", "finish_date"}),
    "late-run-waits": (
        [wall()], {"start_date": "2027-07-12", "finish_date": "2028-12-20"}, {"start_date", "early_frost"},
    ),
    "plants-cut-in-nesting": (
        [wall(work(), surface("g", "enabling", enabling_tasks="[plants]", face_area_m2=None, quantity_sure=None))],
        {}, {"start_date"},
    ),
    "growth-cut-in-nesting": (
        [wall(decay_causes="[plants]", causes_cured="in-this-work")], {"finish_date": "2027-10-01"}, {"start_date"},
    ),
    "start-before-late-frost": ([wall()], {"start_date": "2027-04-12"}, {"start_date", "late_frost"}),
    "access-too-short": ([scaffolded(access_weeks="1")], {}, {"access_weeks"}),
    "access-tight": ([scaffolded(work(face_area_m2="400"), access_weeks="13")], {}, {"access_weeks"}),
    "time-without-quantity": ([wall(work(), surface("g", "enabling", **GUTTER))], {}, set()),
    "month-means-not-read": ([wall()], {"month_means_c": "warm"}, {"month_means_c"}),
    "frost-all-year": ([wall()], {"early_frost": "12-02", "late_frost": "11-06"}, {"early_frost", "late_frost"}),
    "read-every-year": ([wall()], {"early_frost": "2027-10-20"}, {"early_frost"}),
    "gang-of-none": ([wall()], {"gangs": "[{trade: masonry, gangs_nr: 0}]"}, {"gangs", "work"}),
    "no-day-to-work": ([wall(hardness="hard")], {"month_means_c": COLD}, {
        "start_date", "early_frost", "late_frost", "month_means_c",
    }),
    "works-out-of-reach": (
        [wall(work(face_area_m2="20000", output_m2_per_day="0.1"))], {}, {"output_m2_per_day", "face_area_m2"},
    ),
    "barred-not-worked": (
        [wall()], {"barred_dates": "[{from: 2027-06-19, to: 2027-06-20, reason: a fair}]"}, {"barred_dates"},
    ),
    "work-takes-years": (
        [wall(work(face_area_m2="600", output_m2_per_day="0.5"))], {}, {"output_m2_per_day", "face_area_m2"},
    ),
    "walls-wait-in-circle": (
        [wall(id_="a", name="A", wall_wet="damp", cured_on="[b]", **CURED),
         wall(id_="b", name="B", wall_wet="damp", cured_on="[a]", **CURED)], {}, {"cured_on"},
    ),
    "cured-on-nothing": ([wall(cured_on="[roof]", **CURED)], {}, {"cured_on"}),
    "cured-where": ([wall(**CURED | {"decay_causes": "[frost]"})], {}, {"causes_cured"}),
    "cured-under-sum": ([wall(**CURED)], {}, {"causes_cured"}),
    "no-mix-no-dates": ([wall(hardness="not known")], {}, set()),
    "unheated-room": ([wall(surface("p", "plaster", **PLASTER), **ROOM)], {
        "start_date": "2027-10-04", "finish_date": "2028-02-25",
    }, {"heating_indoors", "start_date", "early_frost"}),
    "unheated-room-panel": ([wall(surface("p", "plaster", **PLASTER), **ROOM)], {
        "start_date": "2027-05-03", "late_frost": "05-12", "finish_date": "2028-02-25",
    }, {"heating_indoors", "start_date", "late_frost"}),
    "wash-late-on-render": ([wall(
        surface("r", "render", render_kind="flat", dubbing_mm="0"),
        surface("w", "limewash", **WASH),
        wall_painting="none",
    )], {"barred_dates": "[{from: 2027-07-27, to: 2027-08-20, reason: harvest}]", "finish_date": "2028-09-30"}, set()),
    "order-before-tender": ([wall()], {
        "tender_return_date": "2027-05-06", "query_date": None,
    }, {"tender_return_date", "start_date"}),
    "award-before-tender": ([wall()], {
        "tender_return_date": "2027-05-06", "query_date": None,
    }, {"tender_return_date", "start_date"}),
    "few-days-to-choose": ([wall()], {
        "tender_return_date": "2027-04-02", "query_date": None,
    }, {"tender_return_date", "start_date"}),
}  # fmt: skip


def made(code: str) -> Job:
    walls, project, _ = CASES[code]
    return planned(*walls, **project)


def raised_in_time() -> set[str]:
    return set(texts("programme/")) & set(shipped().findings)


@pytest.mark.parametrize(
    ("causes", "told"),
    [
        ("[leak]", {"cured-under-sum"}),
        ("[frost, gutter]", {"cured-under-sum", "cured-where"}),
        ("[frost]", {"cured-where"}),
        ("[frost, movement]", {"cured-under-sum", "cured-where"}),
    ],
)
def test_a_cause_under_a_sum_is_not_told_as_one_that_the_programme_does_not_wait_for(
    causes: str, told: set[str]
) -> None:
    found = planned(wall(**CURED | {"decay_causes": causes}))
    assert codes(found) & {"cured-under-sum", "cured-where"} == told
    mended = {"front/causes-mended", "front/movement-mended"}
    assert bool(mended & {task.key for task in found.programme.tasks()}) == ("cured-under-sum" in told)


@pytest.mark.parametrize(("cement_m2", "told"), [("6", False), ("not known", False), ("0", True)])
def test_cement_that_comes_out_of_joints_is_not_told_as_a_cause_that_nothing_here_puts_right(
    cement_m2: str, told: bool
) -> None:
    """Beside a leak under a sum the same wall was told that there was no sum, and the programme waited for nothing."""
    causes = CURED | {"decay_causes": "[age, cement, leak]"}
    found = planned(wall(work(cement_area_m2=cement_m2, cement_hold="mixed"), **causes))
    assert "cured-under-sum" in codes(found)
    assert ("cured-where" in codes(found)) is told


def test_causes_that_nothing_puts_right_and_those_under_a_sum_are_named_apart() -> None:
    found = planned(wall(**CURED | {"decay_causes": "[frost, gutter]"}))
    messages = {item.code: item.message for item in found.findings}
    says = found.facts.say
    assert says("decay_causes", ("frost",)) in messages["cured-where"]
    assert says("decay_causes", ("gutter",)) in messages["cured-under-sum"]
    assert says("decay_causes", ("gutter",)) not in messages["cured-where"]


def test_every_finding_of_the_programme_is_tried_here() -> None:
    assert set(CASES) == raised_in_time()


@pytest.mark.parametrize("code", CASES)
def test_answers_that_bring_it_about_raise_it_and_it_names_them(code: str) -> None:
    found = made(code)
    assert code in codes(found)
    named = set()
    for item in found.findings:
        if item.code == code:
            named |= {name for name in CASES[code][2] for mark in item.marks if mark in marks(found, name)}
            assert "{" not in item.message + item.action + item.instruction
    assert named == CASES[code][2]


def marks(found: Job, name: str) -> list[Any]:
    return [held.mark for _, key, held in found.facts.every() if key == name]


def test_the_plain_job_raises_none_of_them() -> None:
    assert codes(planned(scaffolded())) & raised_in_time() == set()


def test_plants_cut_in_their_months_hold_nothing_back_but_die_before_the_causes_count_as_cured() -> None:
    plants = surface("g", "enabling", enabling_tasks="[plants]", face_area_m2=None, quantity_sure=None)
    made = planned(wall(plants, **CURED), start_date="2027-09-06", finish_date="2028-09-29")
    assert "plants-cut-in-nesting" not in codes(made)
    cut, proved = (task(made.programme, f"front/g/{name}") for name in ("enable-plants", "enabling-proved"))
    assert (proved.start - cut.finish).days >= 56


def test_of_several_coats_laid_too_late_what_decides_and_what_helps_is_told_once() -> None:
    found = made("completion-passed-too")
    blocks = [f"{item.message} {item.action}" for item in found.findings if item.level == "block"]
    assert sum("What decides - " in block for block in blocks) == 1
    assert sum("Start on " in block for block in blocks) == 1
    assert {"seasons-passed", "season-passed-here", "completion-passed-too"} <= codes(found)


def test_a_way_that_is_not_enough_alone_tells_which_limit_is_still_passed_and_by_how_much() -> None:
    ways = told(made("completion-passed-too"), "seasons-passed")
    assert "Wall 2, pointing would still end 2 days after its last day" in ways
    assert "would still end 45 days after the completion" in ways
