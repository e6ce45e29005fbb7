"""The works as a network: which tasks there are, how long each takes, and what it comes after."""

from __future__ import annotations

import re
from datetime import date, timedelta
from itertools import pairwise

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import job
from timed_jobs import codes, keys, planned, scaffolded, span, surface, task

from generator.document.outline import outline
from generator.lime.season import Calendar
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.programme import seasons
from generator.programme.model import Why
from generator.programme.network import Cover, Wait, Work
from generator.programme.tasks import works
from generator.questionnaire.scopes import PROJECT

PLASTER = {"plaster_coats": "three", "plaster_surface": "trowelled", "dubbing_mm": "10", "cornice_m": "0"}
ROOM = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}


def test_a_front_is_a_chain_of_access_panel_raking_pointing_cover_and_striking() -> None:
    found = planned(scaffolded()).programme
    chain = [
        "front/access-up", "front/covers-hung", "front/repoint/pointing/panel-coat",
        "front/repoint/pointing/panel-damp", "front/repoint/panel-dry", "front/repoint/panel-answer",
        "front/repoint/pointing/lay", "front/repoint/pointing/cover", "front/strike-passed", "front/access-down",
    ]  # fmt: skip
    assert [key for key in keys(found) if key in chain] == chain
    assert [task(found, key).key for key in chain if task(found, key).decides] == chain
    assert set(keys(found)) - set(chain) == {
        "front/repoint/mark", "front/repoint/rake", "front/repoint/raked", "front/repoint/pointing/damp",
        "front/repoint/pointing/stuff-rests", "front/repoint/pointing/mixing-ready", "front/pictures",
    }  # fmt: skip


def test_a_panel_is_kept_damp_and_dried_before_it_is_answered_and_no_joint_is_opened_before() -> None:
    found = planned(scaffolded(), answer_days="5").programme
    made = task(found, "front/repoint/pointing/panel-coat").finish
    dry, answered = task(found, "front/repoint/panel-dry"), task(found, "front/repoint/panel-answer")
    assert (dry.finish - made).days == 7 + 14  # days kept damp and days dried, as the papers print them
    assert answered.start == dry.finish
    assert task(found, "front/repoint/pointing/lay").start > answered.finish
    assert task(found, "front/repoint/rake").start > answered.finish  # no joint stands open while the panel dries


@pytest.mark.parametrize(
    ("works", "first"),
    [
        ([work()], "repoint/rake"),
        ([surface("r", "rebuild", rebuild_what="whole", face_area_m2="4")], "r/numbered"),
        ([surface("r", "render", render_kind="flat", dubbing_mm="0")], "r/prepare"),
    ],
)
def test_plants_rooted_in_a_wall_are_cut_at_the_start_and_die_before_its_face_is_worked_on(
    works: list[str], first: str
) -> None:
    found = planned(
        scaffolded(*works, decay_causes="[age, plants]", causes_cured="in-this-work"), finish_date="2027-10-15"
    )
    cut, drawn = (task(found.programme, f"front/{name}") for name in ("growth-cut", "growth-drawn"))
    assert cut.start == task(found.programme, "front/growth-pictured").finish + timedelta(days=1)
    assert task(found.programme, "front/growth-pictured").start == found.programme.start
    assert (drawn.start - cut.finish).days >= 56  # as long as those that enabling work cuts
    assert task(found.programme, f"front/{first}").start >= drawn.finish
    assert found.facts.at_scope(("front",)).day("plants_drawn_date") == drawn.finish
    assert "cured-where" not in codes(found)


def test_plants_rooted_in_a_stack_are_cut_from_its_stage() -> None:
    stack = {"position": "chimney", "access": "roof-scaffold", "flues": "all-dead"}
    rooted = {"decay_causes": "[plants]", "causes_cured": "in-this-work"}
    made = planned(wall(**stack, **rooted), finish_date="2027-10-15")
    assert task(made.programme, "front/growth-cut").start > task(made.programme, "front/pictures").finish
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert told.index("wall.access-stack") < told.index("wall.growth-cut-stack") < told.index("wall.growth")
    assert "wall.growth-cut" not in told


@pytest.mark.parametrize("cured", ["done", "in-this-work"])
def test_plants_that_were_cut_or_that_enabling_work_takes_off_are_not_cut_again(cured: str) -> None:
    plants = surface("g", "enabling", enabling_tasks="[plants]", face_area_m2=None, quantity_sure=None)
    works_ = [work()] if cured == "done" else [plants, work()]
    made = planned(wall(*works_, decay_causes="[plants]", causes_cured=cured), finish_date="2027-10-15")
    assert not {"front/growth-cut", "front/growth-drawn"} & set(keys(made.programme))
    assert "wall.growth-cut" not in [told.entry.id for told in all_steps(made, ("front",))]


def test_each_coat_waits_for_the_one_below_and_a_panel_of_three_coats_takes_as_long() -> None:
    found = planned(wall(surface("p", "plaster", **PLASTER), **ROOM)).programme
    for below, above in (("scratch", "float"), ("float", "setting")):
        for named in ("lay", "panel-coat"):
            laid, following = (task(found, f"front/p/{coat}/{named}") for coat in (below, above))
            assert (following.start - laid.finish).days >= 14  # putty: 14 days between coats
    panel = task(found, "front/p/scratch/panel-coat").start, task(found, "front/p/panel-answer").finish
    assert panel[1] - panel[0] > timedelta(weeks=7)


@pytest.mark.parametrize("typed", [("off", "coat", "wash"), ("wash", "coat", "off"), ("coat", "off", "wash")])
def test_taking_off_comes_before_render_and_render_before_limewash_whatever_order_was_typed(
    typed: tuple[str, ...],
) -> None:
    made = {
        "off": surface("off", "remove", removed="cement-render", removed_hold="loose"),
        "coat": surface("coat", "render", render_kind="flat", dubbing_mm="0"),
        "wash": surface("wash", "limewash", wash_colour="white", old_coating="none"),
    }
    found = planned(scaffolded(*(made[id_] for id_ in typed), lead_paint="none", wall_painting="none")).programme
    off, wash = task(found, "front/off/laid-bare"), task(found, "front/wash/wash/wash")
    assert off.finish < task(found, "front/coat/render-base/lay").start
    assert task(found, "front/coat/render-finish/lay").finish < wash.start


def test_lime_waits_until_causes_are_proved_and_the_wall_has_dried_and_its_panel_does_not() -> None:
    mend = {"enabling_tasks": "[gutters]", "gutter_m": "10", "face_area_m2": None, "quantity_sure": None}
    gutter = surface("gutter", "enabling", **mend)
    damp = {"wall_wet": "damp", "decay_causes": "[gutter]", "causes_cured": "in-this-work"}
    found = planned(scaffolded(work(), gutter, **damp)).programme
    proved, dried = task(found, "front/gutter/enabling-proved"), task(found, "front/dry-out")
    assert (dried.start, dried.finish) == (proved.finish, proved.finish + timedelta(14))
    assert task(found, "front/repoint/pointing/lay").start >= dried.finish
    assert task(found, "front/repoint/pointing/panel-coat").start < dried.finish


CEMENT = {"wall_wet": "damp", "decay_causes": "[cement]"}


@pytest.mark.parametrize("cured", ["in-this-work", "by-others", "nobody"])
def test_a_wall_that_only_cement_kept_wet_dries_when_it_is_raked_out_and_waits_for_no_other_cure(cured: str) -> None:
    made = planned(scaffolded(work(cement_area_m2="5"), causes_cured=cured, **CEMENT))
    found = made.programme
    passed, dried = task(found, "front/repoint/raked"), task(found, "front/repoint/raked-dries")
    assert (dried.finish - dried.start).days == 14
    assert passed.finish <= dried.start
    assert task(found, "front/repoint/pointing/lay").start >= dried.finish
    assert not {"front/dry-out", "front/causes-by-others"} & set(keys(found))
    assert "cured-where" not in codes(made)


def test_a_wall_that_is_raked_and_packed_part_by_part_dries_before_its_cement_is_raked_out() -> None:
    parts = work(cement_area_m2="5", loose_units_nr="4")
    found = planned(scaffolded(parts, causes_cured="in-this-work", **CEMENT)).programme
    assert task(found, "front/dry-out").finish <= task(found, "front/repoint/rake-first").start
    assert "front/repoint/raked-dries" not in keys(found)


def test_a_gutter_beside_the_cement_is_still_proved_before_lime() -> None:
    causes = CEMENT | {"decay_causes": "[cement, gutter]", "causes_cured": "by-others"}
    found = planned(scaffolded(work(cement_area_m2="5"), **causes)).programme
    assert task(found, "front/causes-by-others").finish <= task(found, "front/dry-out").start


@pytest.mark.parametrize("causes", ["[cement, frost]", "[frost, cement, age]", "[cement, salts]"])
def test_frost_and_salts_that_came_of_the_cement_ask_for_no_cure_before_it_is_raked_out(causes: str) -> None:
    salts = {"salts": "some", "salt_sources": "[cement-gypsum]"} if "salts" in causes else {}
    wet = CEMENT | {"decay_causes": causes, "causes_cured": "in-this-work"} | salts
    made = planned(scaffolded(work(cement_area_m2="5"), **wet))
    assert task(made.programme, "front/repoint/raked").finish <= task(made.programme, "front/repoint/raked-dries").start
    assert not {"front/dry-out", "front/causes-by-others"} & set(keys(made.programme))
    assert not made.in_papers("raking-out.causes")
    assert not {"cured-where", "causes-not-arranged"} & codes(made)


@pytest.mark.parametrize("sources", ["[ground]", "[ground, cement-gypsum]", "not known"])
def test_salts_of_another_source_beside_the_cement_are_still_held_for(sources: str) -> None:
    wet = CEMENT | {"decay_causes": "[cement, salts]", "causes_cured": "by-others"}
    made = planned(scaffolded(work(cement_area_m2="5"), **wet, salts="some", salt_sources=sources))
    assert task(made.programme, "front/causes-by-others").finish <= task(made.programme, "front/dry-out").start
    assert "earlier cement counts so part by part, once out" in str(made.library.clauses["raking-out.causes"].text)
    assert made.in_papers("raking-out.causes")


def test_access_that_cement_alone_asks_for_goes_up_when_the_ground_panel_has_been_kept_damp() -> None:
    ground = work(cement_area_m2="5", panel_place="ground")
    found = planned(scaffolded(ground, causes_cured="in-this-work", **CEMENT)).programme
    assert task(found, "front/access-up").start > task(found, "front/repoint/pointing/panel-coat").finish


def test_a_ceiling_waits_for_the_stack_that_leaks_into_it() -> None:
    leak = {"decay_causes": "[leak]", "causes_cured": "in-this-work", "cured_on": "[front]"}
    room = wall(surface("p", "plaster", **PLASTER), id_="room", name="Room", **ROOM, **leak)
    found = planned(wall(), room).programme
    assert task(found, "room/p/dub").start > task(found, "front/repoint/pointing/lay").finish


def test_one_panel_serves_all_walls_of_a_kind_in_the_same_mixes() -> None:
    hard = wall(id_="c", name="C", hardness="hard")
    found = planned(wall(id_="a", name="A"), wall(id_="b", name="B"), hard).programme
    assert [key for key in keys(found) if key.endswith("panel-coat")] == [
        "a/repoint/pointing/panel-coat", "c/repoint/pointing/panel-coat",
    ]  # fmt: skip
    answered = task(found, "a/repoint/panel-answer").finish
    assert task(found, "b/repoint/pointing/lay").start > answered


def test_days_are_the_quantity_over_the_output_of_the_gang_up() -> None:
    pair = planned(wall(work(face_area_m2="60"))).programme  # half of it is pointed: 30 m², by two at 6 m² each
    four = planned(wall(work(face_area_m2="60")), gangs="[{trade: masonry, people_nr: 4}]").programme
    assert [task(made, "front/repoint/pointing/lay").why.days.likely for made in (pair, four)] == [3, 2]


def test_the_least_quantity_and_the_high_output_make_the_early_run() -> None:
    found = planned(wall(work(face_area_m2="100", treated_per_cent="30 - 60 (40)"))).programme
    days = task(found, "front/repoint/pointing/lay").why.days
    # 30, 40 and 60 m² by a pair at 10, 6 and 4 m² each
    assert (days.low, days.likely, days.high) == (2, 4, 8)


def test_an_output_answered_is_that_of_the_gang_raking_and_pointing_together() -> None:
    found = planned(wall(work(face_area_m2="60", output_m2_per_day="3"))).programme
    rake, point = (task(found, f"front/repoint/{key}").why for key in ("rake", "pointing/lay"))
    # 30 m² at 3 m² a day are 10 days, shared out by what each usually takes (1/6.5 and 1/6), each in whole days
    assert (rake.days.likely, point.days.likely) == (5, 6)
    assert rake.answered
    assert point.answered


def test_an_output_answered_for_plaster_is_that_of_each_coat() -> None:
    plaster = surface("p", "plaster", **PLASTER, face_area_m2="24", output_m2_per_day="8")
    found = planned(wall(plaster, **ROOM)).programme
    assert [task(found, f"front/p/{coat}/lay").why.days.likely for coat in ("scratch", "float", "setting")] == [3, 3, 3]


def test_hours_timed_on_the_panel_set_the_output_and_move_its_range_in_step() -> None:
    timed = "[{operation: rake, amount: 1, hours: 4}]"  # 2 m² in a day of eight hours, where 6.5 is usual
    usual = task(planned(wall(work(face_area_m2="60"))).programme, "front/repoint/rake").why
    found = task(planned(wall(work(face_area_m2="60", timed_outputs=timed))).programme, "front/repoint/rake").why
    assert usual.output is not None
    assert found.output is not None
    assert found.timed
    assert found.output.likely == 2
    assert found.output.low / found.output.likely == pytest.approx(usual.output.low / usual.output.likely)
    assert found.days.likely == 8  # 30 m² by two


RUBBLE: dict[str, str | None] = {
    "masonry": "rubble",
    "unit_length_mm": None,
    "unit_width_mm": None,
    "unit_height_mm": None,
    "bond": None,
}


def joints(usual_mm: int, **more: str) -> str:
    """Rubble whose joints are raked twice as deep as they usually are wide."""
    width = f"{usual_mm} - {usual_mm} ({usual_mm})"
    return wall(work(face_area_m2="60", **more), id_="front", **RUBBLE, joint_width_mm=width)


def test_joints_raked_twice_as_deep_as_outputs_hold_for_take_longer_to_rake_and_to_point() -> None:
    rake, lay = ("front/repoint/rake", "front/repoint/pointing/lay")
    usual, deep = planned(joints(25)).programme, planned(joints(50)).programme
    outputs = [[task(found, key).why.output for found in (usual, deep)] for key in (rake, lay)]
    assert [[found.likely for found in told if found is not None] for told in outputs] == [[4, 2], [3.5, 2]]
    assert task(deep, rake).why.days.likely == 8  # 30 m² by a pair at two each
    assert "past 50 mm" in task(deep, rake).why.because
    assert "past 50 mm" not in task(usual, rake).why.because


def test_an_output_timed_on_the_panel_is_at_the_depth_of_the_work_already() -> None:
    timed = "[{operation: rake, amount: 1, hours: 4}]"
    found = planned(joints(50, timed_outputs=timed)).programme
    for key, likely in (("front/repoint/rake", 2), ("front/repoint/pointing/lay", 2)):
        why = task(found, key).why
        assert why.output is not None
        assert why.output.likely == likely


def test_what_is_counted_in_another_task_adds_its_days_before_they_are_counted_whole() -> None:
    more = {"face_area_m2": "60", "cement_area_m2": "4", "cement_hold": "firm"}
    found = task(planned(wall(work(**more))).programme, "front/repoint/rake").why
    assert [part.quantity for part in found.joined] == ["cement_firm_part_m2"]
    assert found.days.likely == 4  # 30 / 13 + 4 / 4 days


@pytest.mark.parametrize(
    ("hold", "days"),
    [
        ({"removed_hold": "loose"}, 3),
        ({"removed_hold": "mixed", "removed_firm_m2": "20"}, 5),
        ({"removed_hold": "firm"}, 7),
    ],
    ids=["loose", "mixed", "firm"],
)
def test_render_that_holds_firm_takes_longer_to_come_off(hold: dict[str, str], days: float) -> None:
    """40 m² by a pair: two days and a half at 8 each, and 20 m² that hold firm two more at 5 each; whole days."""
    off = {"work": "remove", "removed": "cement-render", "joint_finish": None, "cement_area_m2": None}
    area = {"face_area_m2": "40", "treated_per_cent": "100 - 100 (100)"}
    why = task(planned(wall(work("off", **off, **area, **hold))).programme, "front/off/take-off").why
    assert why.days.likely == days


def test_rubble_takes_longer_to_point_than_brick_and_its_pinnings_are_counted_besides() -> None:
    def pointing(masonry: str, **more: str) -> Why:
        found = planned(wall(work(face_area_m2="60", **more), masonry=masonry)).programme
        return next(each.why for each in found.tasks() if each.key.endswith("/pointing/lay"))

    brick, rubble = pointing("brick"), pointing("rubble", pinnings_nr="0")
    assert brick.output is not None
    assert rubble.output is not None
    assert rubble.output.likely < brick.output.likely
    pinned = pointing("rubble", pinnings_nr="320")  # two people, 80 each a day
    assert [part.quantity for part in pinned.joined] == ["pinnings_nr"]
    assert pinned.days.likely - rubble.days.likely == 2
    told = pointing("rubble", pinnings_nr="320", output_m2_per_day="2")
    assert not told.joined


@pytest.mark.parametrize(("overhead", "likely"), [("yes", 5), ("no", 25)])
def test_laths_screwed_overhead_take_longer_than_those_that_are_nailed_to_a_wall(overhead: str, likely: int) -> None:
    coats = surface("c", "plaster", face_area_m2="20", new_laths_m2="16", **PLASTER)
    found = planned(wall(coats, masonry="laths", overhead=overhead, **ROOM)).programme
    why = next(each.why for each in found.tasks() if each.key.endswith("/lath"))
    assert why.output is not None
    assert why.output.likely == likely


def test_small_works_take_a_day_and_no_less() -> None:
    found = planned(wall(work(face_area_m2="1"))).programme
    assert task(found, "front/repoint/rake").why.days.low == 1


def test_limewash_takes_a_day_a_coat_and_each_starts_on_the_next_worked_day() -> None:
    wash = surface("w", "limewash", face_area_m2="20", wash_colour="white", old_coating="none", wash_coats_nr="5")
    found = planned(wall(wash, wall_painting="none")).programme
    first, last = span(found, "front/w/wash/wash")
    assert task(found, "front/w/wash/wash").why.days.likely == 5
    assert (last - first).days in (4, 6)  # a weekend may lie in it


def test_a_quantity_that_nobody_answered_counts_a_day_and_is_named() -> None:
    gutter = surface("g", "enabling", enabling_tasks="[gutters]", gutter_m=None, face_area_m2=None, quantity_sure=None)
    found = planned(wall(work(), gutter)).programme
    assert task(found, "front/g/enable-gutters").why.lacks == "gutter_m"


def test_lime_indoors_has_no_season_and_no_cover_and_lime_outside_has_both() -> None:
    inside = planned(wall(surface("p", "plaster", **PLASTER), **ROOM)).programme
    assert not [key for key in keys(inside) if key.endswith(("cover", "covers-hung"))]
    assert all(coat.season_last is None for wall_ in inside.walls for coat in wall_.lime)
    outside = planned(wall()).programme
    assert [key for key in keys(outside) if key.endswith("/cover")]


def test_cold_stretches_damp_days_told_for_20_c_once_and_no_others() -> None:
    def takes(text: str) -> dict[str, Work | Wait | Cover]:
        made = job(text)
        climate = seasons.climate(made.facts.at_scope(PROJECT))
        network = works(made.facts, made.library, climate, Calendar(5)).network
        return {activity.id[-1]: activity.takes for activity in network.activities}

    hydraulic, air = takes(one_wall(hardness="hard")), takes(one_wall(asked_binder="putty", exposure="sheltered"))
    assert isinstance(hydraulic["damp"], Wait)
    assert isinstance(air["damp"], Wait)
    assert hydraulic["damp"].rates is not None
    assert air["damp"].rates is None  # told for any weather: the cold is counted in them
    assert isinstance(hydraulic["cover"], Cover)
    assert hydraulic["cover"].rates == hydraulic["damp"].rates


def test_a_room_held_at_an_even_heat_does_not_go_by_the_months_and_an_unheated_one_does() -> None:
    # kept damp in January in NHL: 7 days at 20 C, longer at 15 C, far longer at 5 C
    changes = {"start_date": "2027-11-01", "finish_date": None}
    plaster = surface("p", "plaster", **PLASTER, asked_binder="nhl-2")
    days = []
    for heating in ("low", "none"):
        found = planned(wall(plaster, **{**ROOM, "heating_indoors": heating}), **changes).programme
        damp = task(found, "front/p/setting/damp")
        days.append((damp.finish - damp.start).days)
    assert days[0] <= days[1]


def test_a_room_without_air_waits_longer_for_each_coat() -> None:
    plaster = surface("p", "plaster", **PLASTER)
    ends = []
    for air in ("open", "closed"):
        found = planned(wall(plaster, **{**ROOM, "air_indoors": air})).programme
        assert found.end is not None
        ends.append(found.end.likely)
    assert ends[0] < ends[1]


def test_barred_dates_and_the_working_week_are_those_answered() -> None:
    barred = planned(wall(work(face_area_m2="60")), barred_dates="[{from: 2027-05-11, to: 2027-05-21, reason: fair}]")
    six = planned(wall(work(face_area_m2="60")), working_days_per_week="6")
    assert span(barred.programme, "front/repoint/rake")[0] >= date(2027, 5, 24)
    days = [date.fromordinal(day) for first, last in [span(six.programme, "front/repoint/rake")]
            for day in range(first.toordinal(), last.toordinal() + 1)]  # fmt: skip
    assert any(day.weekday() == 5 for day in days) or len(days) <= 5


def test_an_answers_text_of_many_works_keeps_each_task_once() -> None:
    many = answers(*(scaffolded(id_=f"w{nr}", name=f"Wall {nr}") for nr in range(5)))
    found = keys(job(many).programme)
    assert len(found) == len(set(found))


def test_a_stack_that_is_rebuilt_pointed_and_topped_is_bared_first_then_built_then_bedded_then_raked() -> None:
    made = (
        surface("r", "rebuild", rebuild_what="units", face_area_m2="2"),
        work(),
        surface("f", "flaunching", flaunching_m2="1", pots_nr="2", face_area_m2=None, quantity_sure=None),
    )
    stack = scaffolded(*made, position="chimney", flues="all-live", brick_thickness="thicker")
    found = planned(stack, finish_date="2028-09-29").programme
    order = (
        "flues-off", "access-up", "f/flaunching-off", "r/take-down", "r/bedding/lay", "f/top-bedded", "repoint/rake",
        "repoint/pointing/lay", "f/flaunching/lay",
    )  # fmt: skip
    tasks = [task(found, f"front/{key}") for key in order]
    assert [later.key for earlier, later in pairwise(tasks) if later.start <= earlier.finish] == []


def test_a_flaunching_is_laid_when_the_joints_below_it_are_filled_and_does_not_wait_for_their_days_damp() -> None:
    made = (work(), surface("f", "flaunching", flaunching_m2="1", pots_nr="2", face_area_m2=None, quantity_sure=None))
    stack = scaffolded(*made, position="chimney", flues="all-live", brick_thickness="thicker")
    found = planned(stack, finish_date="2028-09-29").programme
    filled, damp, laid = (
        task(found, f"front/{key}") for key in ("repoint/pointing/lay", "repoint/pointing/damp", "f/flaunching/lay")
    )
    assert filled.finish < laid.start < damp.finish


def test_each_panel_of_a_wall_is_kept_damp_from_its_own_making() -> None:
    found = planned(scaffolded(work(), surface("r", "rebuild", rebuild_what="units", face_area_m2="2"))).programme
    for key in ("repoint/pointing", "r/bedding"):
        made, damp = (task(found, f"front/{key}/{name}") for name in ("panel-coat", "panel-damp"))
        assert damp.start == made.finish


def test_a_finish_alone_has_no_face_to_prepare_and_still_waits_for_the_whole_face_laid_bare() -> None:
    off = surface("off", "remove", removed="gypsum-plaster", removed_hold="loose")
    finish = surface("p", "plaster", **PLASTER | {"plaster_coats": "finish", "panel_place": "frame"})
    found = planned(wall(off, finish, **ROOM)).programme
    assert "front/p/prepare" not in keys(found)
    assert ("front", "off", "laid-bare") in task(found, "front/p/background").after


def test_deep_joints_are_packed_as_they_are_raked_and_harden_in_a_skin_of_half_a_brick_too() -> None:
    deep = {"deep_voids_m2": "3", "joint_depth_lost_mm": "20 - 40", "face_area_m2": "60"}
    whole = keys(planned(wall(work(**deep), brick_thickness="thicker")).programme)
    assert [key for key in whole if key.endswith(("/rake", "/rake-length"))] == []
    assert [key for key in whole if key.endswith(("/rake-first", "/pack", "/deep-wait"))] == [
        "front/repoint/rake-first", "front/repoint/pack", "front/repoint/pointing/deep-wait",
    ]  # fmt: skip
    half = planned(wall(work(**deep), brick_thickness="half-brick")).programme
    assert [key for key in keys(half) if key.endswith(("/rake", "/rake-first", "/pack"))] == []
    assert {part.quantity for part in task(half, "front/repoint/pointing/lay").why.joined} == {"treated_area_m2"}
    packed, wait = (task(half, f"front/repoint/{name}") for name in ("pack-length", "pointing/deep-wait"))
    assert packed.why.quantity == "deep_voids_m2"
    assert packed.finish <= wait.start < wait.finish <= task(half, "front/repoint/pointing/lay").start


@pytest.mark.parametrize(("asked", "days"), [("putty", 7), ("hot-mix", 7), ("nhl-2", 2)])
def test_deep_filling_hardens_longer_in_air_lime_than_in_hydraulic_lime(asked: str, days: int) -> None:
    deep = work(deep_voids_m2="3", asked_binder=asked, asked_binder_reason="as the old mortar")
    wait = task(planned(wall(deep)).programme, "front/repoint/pointing/deep-wait")
    assert (wait.finish - wait.start).days == wait.why.days.likely == days


def test_a_panel_of_two_walls_is_priced_once_and_the_record_of_the_second_says_whose_it_is() -> None:
    coat = surface("coat", "render", render_kind="flat", dubbing_mm="10")
    wash = surface("wash", "limewash", wash_colour="white", old_coating="none")
    told = {"lead_paint": "none", "wall_painting": "none"}
    walls = (
        scaffolded(coat, wash, id_=id_, name=name, **told) for id_, name in (("a", "East wall"), ("b", "West wall"))
    )
    made = planned(*walls, finish_date="2028-09-29")
    priced = [
        (item.entry.id, item.path[0]) for item in made.measured.items() if item.entry.id.startswith("prelims.panel-")
    ]
    assert priced == [("prelims.panel-render", "a"), ("prelims.panel-limewash", "a")]
    (records,) = companions(made, ["records"]).values()
    pages = outline(records).split("\n# ")
    for kind in ("rendering", "limewashing"):
        (page,) = [page for page in pages if page.startswith(f"Record of curing: West wall, {kind}")]
        assert f"it is one panel with that of East wall, {kind}" in page
    assert sum("one panel with" in page for page in pages) == 2
    assert "duty-without-line" not in codes(made)


def test_putty_sand_and_hair_are_ordered_for_the_filling_over_washers_where_that_comes_first() -> None:
    refixed = surface("r", "refix", face_area_m2="5", refix_from_above="yes")
    made = planned(wall(refixed, **{**ROOM, "access": "tower"}, masonry="laths", lead_paint="none"))
    filled = task(made.programme, "front/r/refix-fill").start
    by = {order.thing: order.first_use for order in made.programme.orders}
    assert {thing: by[thing] for thing in ("putty", "special-sand", "hair")} == dict.fromkeys(
        ("putty", "special-sand", "hair"), filled
    )


def test_growth_is_brushed_off_a_face_that_is_washed_and_off_none_that_comes_off_or_is_covered() -> None:
    off = surface("off", "remove", removed="cement-render", removed_hold="loose", face_area_m2="12")
    coat = surface("coat", "render", render_kind="flat", dubbing_mm="10")
    wash = surface("wash", "limewash", wash_colour="white", old_coating="none")
    told = {"lead_paint": "none", "wall_painting": "none"}
    covered = planned(scaffolded(off, coat, wash, **told), finish_date="2028-09-29")
    old = planned(scaffolded(wash, **told), finish_date="2028-09-29")
    assert ["front/wash/growth-off" in keys(made.programme) for made in (covered, old)] == [False, True]
    steps = [[one.entry.id for one in all_steps(made, ("front",))] for made in (covered, old)]
    assert ["limewash.growth" in told for told in steps] == [False, True]
    assert ["limewash.record" in told for told in steps] == [False, True]  # no old layer is left to record


def test_access_of_a_wall_whose_joints_are_measured_by_length_is_timed_by_its_width_and_height() -> None:
    lengths = {"face_area_m2": None, "treated_per_cent": None, "treated_how": None, "open_joint_m": "7"}
    pointed = {"joint_depth_lost_mm": "5 - 10", "cement_area_m2": "0", "joint_finish": "brushed-flush"}
    joints = surface("repoint", "repoint", **{**pointed, **lengths})
    sized = {"masonry": "gauged-brick", "joint_width_mm": "1 - 1.5 (1)"}
    made = planned(scaffolded(joints, **sized, face_width_m="6", face_height_m="11"))
    assert made.facts.at_scope(("front",)).number("access_face_m2") == 66
    assert "time-without-quantity" not in codes(made)


def test_coats_that_take_one_mix_in_layers_of_several_are_named_on_the_sheet_and_on_the_card() -> None:
    harl = surface("harl", "render", render_kind="harl", dubbing_mm="10")
    whin = scaffolded(
        harl, masonry="rubble", bond=None, unit_length_mm=None, unit_width_mm=None, unit_height_mm=None,
        hardness="hard", water_drop="stays",
    )  # fmt: skip
    made = planned(whin, finish_date="2028-09-29")
    text = outline(assemble(made).specification)
    for coat in ("first harl", "second harl"):
        assert re.search(rf", as {coat}; layers of \d+", text), coat


def test_copings_bedded_too_late_in_the_year_for_the_mortar_of_their_wall_are_told_as_other_mortar_is() -> None:
    coping = surface("c", "enabling", enabling_tasks="[coping]", coping_m="6", quantity_sure=None, face_area_m2=None)

    def late(start: str) -> set[tuple[str, ...]]:
        made = planned(
            scaffolded(coping, work(), decay_causes="[leak]", causes_cured="in-this-work"),
            start_date=start, finish_date="2028-09-29", early_frost="10-20",
        )  # fmt: skip
        (bedded,) = [one for one in made.programme.tasks() if one.entry == "enable-copings"]
        last = made.facts.at_scope(("front", "repoint", "pointing")).day("season_last_placing_date")
        assert last is not None
        passed = ("last-placing-passed", "season-passed-here")  # alone, or beside the joints of its wall
        told = [item for item in made.findings if item.code in passed and item.scope == ("front", "c")]
        assert all(f"{bedded.finish.day} {bedded.finish:%B}" in item.message for item in told)
        assert (bedded.finish > last) == bool(told)
        return {item.scope for item in told}

    assert late("2027-05-10") == set()
    assert late("2027-08-02") == {("front", "c")}
