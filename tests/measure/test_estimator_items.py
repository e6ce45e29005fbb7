"""What an estimator asked of the lines: nothing priced twice, each line on its own, no mix where none is used."""

from __future__ import annotations

import math
import re
from collections import Counter
from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import EXAMPLES, job, shipped
from timed_jobs import surface
from told_papers import tables_of

from generator.document.model import Table, plain_text
from generator.job.job import Job
from generator.measure.model import Item
from generator.papers.schedule import pricing_book
from generator.papers.steps import all_steps
from generator.questionnaire.scopes import PROJECT

NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
)


def lines(made: Job, rule: str) -> list[Item]:
    return [item for item in made.measured.items() if item.entry.id == rule]


def sums(made: Job) -> set[str]:
    return {item.entry.id for item in made.measured.items() if item.section == "provisional-sums"}


def example(name: str) -> Job:
    (path,) = [path for path in EXAMPLES if path.parent.name == name]
    return job(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_no_two_lines_of_an_example_share_a_key(name: str) -> None:
    rows = [row for section in pricing_book(example(name)).sections for row in section.rows]
    shared = [key for key, count in Counter(row.key for row in rows).items() if count > 1]
    assert [row.ref for row in rows if row.key in shared] == []


def test_lines_that_work_with_no_mortar_name_no_mix() -> None:
    made = job(one_wall(cement_area_m2="2", cement_hold="mixed", salts="heavy"))
    for rule in ("repoint.cement-trial", "repoint.cement-firm", "plaster.salts"):
        (line,) = lines(made, rule)
        assert line.mix == "", rule
    (pointing,) = lines(made, "repoint.brick")
    assert pointing.mix == "M1"


def test_laths_name_no_mix_and_dubbing_the_mix_of_the_first_coat_alone() -> None:
    made = example("mill-house")
    (laths,), (plaster,) = lines(made, "plaster.laths-ceilings"), lines(made, "plaster.ceilings")
    assert laths.mix == ""
    assert len(plaster.mix.split(", ")) == 3
    first = {
        path[0]: made.facts.get(path, "mix_used")
        for mix in made.decisions.mixes
        for path in mix.used_for
        if path[-1] in ("scratch", "render-base")
    }
    assert {line.path[0]: line.mix for line in lines(made, "plaster.dubbing")} == first


def test_two_works_of_one_wall_share_one_line_of_curing_and_one_of_patches() -> None:
    two = answers(wall(work("high"), work("low", extent="the lowest metre")))
    assert [line.path for line in lines(job(two), "repoint.curing")] == [("front",)]
    assert [line.path for line in lines(example("mill-house"), "rates.plaster-patch")] == [
        ("dining-room",),
        ("chamber-ceiling",),
    ]


@pytest.mark.parametrize(("salts", "found"), [("none", []), ("some", [("front",)]), ("heavy", [("front",)])])
def test_salts_are_brushed_off_a_wall_once_however_many_works_it_has(salts: str, found: list[tuple[str]]) -> None:
    wash = work("wash", work="limewash", old_coating="none", **NOT_REPOINTING)
    made = job(answers(wall(work("point"), wash, salts=salts)))
    assert [line.path for line in lines(made, "plaster.salts")] == found


def test_pinnings_are_in_the_rate_for_rubble_and_loose_stones_apart() -> None:
    made = example("mill-house")
    assert {line.path[0] for line in lines(made, "repoint.loose-units")} == {"front", "stack"}
    (stones,) = lines(made, "repoint.loose-stones")
    assert (stones.path[0], stones.quantity) == ("gable", Decimal(60))


def test_a_cause_that_a_line_measures_has_no_sum_as_well() -> None:
    made = example("mill-house")  # the gutter is measured, the leak is not, cement and plants are lines
    assert sums(made) == {"sums.causes-leak", "sums.flue-test", "sums.causes-flue", "sums.flues"}


@pytest.mark.parametrize(
    ("cause", "task", "rule"),
    [("gutter", "gutters", "gutter"), ("leak", "coping", "leak"), ("high-ground", "ground", "ground")],
)
def test_enabling_work_on_one_wall_leaves_the_sum_for_the_same_cause_of_another(
    cause: str, task: str, rule: str
) -> None:
    cured: dict[str, str | None] = {"decay_causes": f"[{cause}]", "causes_cured": "in-this-work"}
    enabling = surface("g", "enabling", enabling_tasks=f"[{task}]", face_area_m2=None, quantity_sure=None)
    measured = wall(work(), enabling, id_="a", name="Yard wall", **cured)
    inside = wall(id_="c", name="Store", cured_on="[a]", **cured)
    own = job(answers(measured, wall(id_="b", name="Barn", **cured), inside))
    assert f"sums.causes-{rule}" in sums(own)
    assert own.facts.at_scope(PROJECT).text(f"{rule}_walls") == "Barn"
    assert own.in_papers(f"causes.{rule}")
    steps = {path: [told.entry.id for told in all_steps(own, (path,))] for path in ("a", "b")}
    assert [f"wall.cause-{rule}" in steps[path] for path in ("a", "b")] == [False, True]
    assert f"sums.causes-{rule}" not in sums(job(answers(measured, inside)))


@pytest.mark.parametrize("cause", ["age", "cement", "frost", "salts"])
def test_weather_and_old_repairs_have_no_sum_to_put_right(cause: str) -> None:
    assert sums(job(one_wall(decay_causes=f"[{cause}]", causes_cured="in-this-work"))) == set()


@pytest.mark.parametrize(
    ("cause", "rule"), [("gutter", "gutter"), ("leak", "leak"), ("high-ground", "ground"), ("movement", "movement")]
)
def test_a_cause_put_right_in_this_work_has_one_sum_however_many_walls_it_wets(cause: str, rule: str) -> None:
    told: dict[str, str | None] = {"decay_causes": f"[{cause}]", "causes_cured": "in-this-work"}
    made = job(answers(wall(id_="a", name="A", **told), wall(id_="b", name="B", **told)))
    assert len(lines(made, f"sums.causes-{rule}")) == 1


def test_a_sum_that_the_client_prints_is_the_same_in_every_tender() -> None:
    told = {"decay_causes": "[leak]", "causes_cured": "in-this-work"}
    (printed,) = lines(job(one_wall(**told, causes_sum="1500")), "sums.causes-leak")
    (open_,) = lines(job(one_wall(**told)), "sums.causes-leak")
    assert (printed.amount, open_.amount) == (Decimal(1500), None)
    codes = [{item.code for item in job(one_wall(**told, **more)).findings} for more in ({}, {"causes_sum": "1500"})]
    assert ["sums-unset" in found for found in codes] == [True, False]


def test_daywork_additions_count_in_the_total_so_that_tenders_can_be_compared() -> None:
    made = job(one_wall())
    for rule in ("dayworks.materials", "dayworks.plant"):
        (line,) = lines(made, rule)
        assert line.kind == "provisional", rule
        assert line.quantity, rule


def test_lengths_of_gutter_and_coping_are_provisional_since_nobody_is_asked_how_sure_they_are() -> None:
    (line,) = lines(example("mill-house"), "enabling.gutters")
    assert (line.kind, line.quantity) == ("provisional", Decimal(26))


def test_a_tower_has_a_line_of_its_own_without_the_duties_of_a_scaffold() -> None:
    made = job(one_wall(access="tower"))
    assert (len(lines(made, "prelims.access-tower")), len(lines(made, "prelims.access"))) == (1, 0)
    (hire,) = lines(made, "prelims.access-weeks")
    assert hire.quantity == made.facts.at_scope(("front",)).number("access_time_weeks")


@pytest.mark.parametrize(
    ("lead", "rules"),
    [
        ("found", {"prelims.lead"}),
        ("not-tested", {"prelims.lead-test", "prelims.lead-until-report", "rates.lead"}),
        ("none", set()),
    ],
)
def test_lead_paint_is_priced_where_it_was_found_and_test_and_precautions_where_it_was_not_tested(
    lead: str, rules: set[str]
) -> None:
    plaster = work("plaster", work="plaster", plaster_coats="three", **NOT_REPOINTING)
    made = job(answers(wall(plaster, position="indoors", lead_paint=lead)))
    assert {item.entry.id for item in made.measured.items() if "lead" in item.entry.id.split(".")[1]} == rules


def materials(made: Job) -> Table:
    """The table of the materials of a job."""
    (table,) = tables_of(made, "table:materials")
    return table


def test_packages_of_a_material_in_several_mixes_are_made_up_once_for_their_sum() -> None:
    made = example("mill-house")
    table = materials(made)
    rows = [[plain_text(cell) for cell in row.cells] for row in table.rows]
    (held,) = [line for line in made.measured.materials if line.material.id == "sand-plaster"]
    assert len(held.uses) > 1
    (row,) = [row for row in rows if row[0].startswith(held.material.name)]
    holds = float(held.material.package.holds)
    whole, rest = divmod(sum(amount.high for _, amount in held.uses) + 26, holds)  # 1 kg lodged, 25 kg left
    assert rest > holds / 2
    assert row[3] == f"{whole + 1:.0f} bulk bags of {holds:.0f} kg"
    assert [part.split(" ")[0] for part in row[1].split("; ")] == [mix for mix, _ in held.uses]
    assert whole + 1 == held.packages < sum(math.ceil(amount.high / holds) for _, amount in held.uses)


def test_what_is_left_over_of_bulk_bags_comes_in_small_ones_up_to_half_a_bulk_bag() -> None:
    (garden,) = [line for line in example("garden-front").measured.materials if line.material.id == "sand-sharp"]
    assert [(int(count), package.name) for count, package in garden.order] == [(7, "bag")]
    told = [[plain_text(cell) for cell in row.cells] for row in materials(example("mill-house")).rows]
    sharp = {row[2]: row[3] for row in told if "sharp sand" in row[0]}
    assert sharp["707–890 kg"] == "1 bulk bag of 800 kg + 4 bags of 25 kg"


def test_sands_of_one_name_and_different_grains_are_lines_of_their_own() -> None:
    """A sand to 4 mm does not go into a joint that takes 2 mm."""
    made = example("mill-house")
    sharp = [line for line in made.measured.materials if line.material.id == "sand-sharp"]
    assert [line.grain_mm for line in sharp] == [2, 3, 4]
    names = [plain_text(row.cells[0]) for row in materials(made).rows]
    assert len(set(names)) == len(names)


def test_each_sand_of_a_blend_is_ordered_by_its_own_name_and_its_parts() -> None:
    made = example("mill-house")
    blended = [line for line in made.measured.materials if line.name in ("sharp pit sand S2", "grit S5")]
    pit, grit = (line.amount.likely - 26 for line in blended)  # of each 1 kg is lodged and 25 kg left
    assert pit / grit == pytest.approx(3 / 2)


def test_small_amounts_keep_their_tenths_and_one_figure_stands_once() -> None:
    made = example("mill-house")
    table = materials(made)
    told = [plain_text(row.cells[2]) for row in table.rows]
    by_mix = " ".join(plain_text(row.cells[1]) for row in table.rows)
    assert re.search(r"\bM\d+ 0\.5 kg\b", by_mix)  # hair of the float coat, 6 m² of ceiling
    assert not any(
        text.startswith("0 ") or (len(set(text.split(" ")[0].split("–"))) == 1 and "–" in text) for text in told
    )


# --- one way of measuring, and each quantity in its own line ----------------------------------------------


def amounts(made: Job) -> dict[str, Decimal | None]:
    """The quantity of each line of a job, by its rule; None for a rate alone."""
    return {item.entry.id: item.quantity for item in made.measured.items()}


def test_dubbing_is_priced_as_it_is_measured_and_a_rate_alone_stands_where_nobody_gave_a_depth() -> None:
    """20 m2 at a mean of 8 mm are 160 l, since a millimetre over a square metre is a litre; paid by depth and area."""
    told: dict[str, str | None] = {**NOT_REPOINTING, "work": "plaster", "plaster_coats": "two", "face_area_m2": "20"}
    known, unknown = (
        amounts(job(answers(wall(work("a", **told, dubbing_mm=depth), position="indoors", exposure="internal"))))
        for depth in ("8", "not known")
    )
    assert (known["plaster.dubbing"], "rates.dubbing" in known) == (Decimal(160), False)
    assert (unknown["rates.dubbing"], "plaster.dubbing" in unknown) == (None, False)
    library = shipped()
    (priced, alone), clauses = (
        [library.items[key] for key in ("plaster.dubbing", "rates.dubbing")],
        [library.clauses[key].check for key in ("plaster.dubbing", "render.hollows", "render.earth-hollows")],
    )
    assert (priced.unit, alone.unit) == ("l", "l")
    assert all("epth times area" in str(text) for text in (priced.description, alone.description, *clauses))


def test_render_that_holds_in_part_is_tendered_as_hollow_and_firm() -> None:
    told: dict[str, str | None] = {**NOT_REPOINTING, "work": "remove", "removed": "cement-render", "face_area_m2": "38"}
    for hold, firm, wanted in (
        ("mixed", "9", Decimal(9)), ("mixed", "not known", None), ("firm", None, Decimal(38)), ("loose", None, None),
    ):  # fmt: skip
        found = amounts(job(answers(wall(work("a", **told, removed_hold=hold, removed_firm_m2=firm)))))
        assert found["remove.cement-render"] == Decimal(38)
        assert (found.get("remove.firm"), "rates.remove-firm" in found) == (wanted, wanted is None), (hold, firm)


def test_what_may_hold_firm_of_a_large_face_is_compared_by_a_share_of_it_and_of_what_is_loose_by_little() -> None:
    told: dict[str, str | None] = {
        **NOT_REPOINTING,
        "work": "remove",
        "removed": "cement-render",
        "face_area_m2": "180",
    }
    for hold, notional in (("mixed", Decimal(36)), ("loose", Decimal(2)), ("not known", Decimal(2))):
        (line,) = lines(job(answers(wall(work("a", **told, removed_hold=hold)))), "rates.remove-firm")
        assert (line.notional, line.quantity) == (notional, None)


def test_cement_of_both_kinds_in_joints_is_two_quantities_that_make_up_the_area() -> None:
    cement = {"cement_area_m2": "5", "cement_hold": "mixed"}
    both, untold = (amounts(job(one_wall(**cement, cement_firm_m2=firm))) for firm in ("3.5", "not known"))
    assert (both["repoint.cement-firm"], both["repoint.cement-loose"]) == (Decimal("3.5"), Decimal("1.5"))
    assert (untold["repoint.cement-firm"], untold.get("repoint.cement-loose")) == (Decimal(5), None)


def test_wash_on_new_render_and_on_the_old_face_are_two_quantities_that_make_up_the_face() -> None:
    render = work("render", **{**NOT_REPOINTING, "work": "render", "render_kind": "flat", "face_area_m2": "38"})
    wash = work(
        "wash",
        **{**NOT_REPOINTING, "work": "limewash", "old_coating": "limewash", "wash_coats_nr": "5", "face_area_m2": "78"},
    )
    both, alone = (amounts(job(answers(wall(*works)))) for works in ((render, wash), (wash,)))
    assert (both["limewash.on-new"], both["limewash.coats"]) == (Decimal(38), Decimal(40))
    assert (alone.get("limewash.on-new"), alone["limewash.coats"]) == (None, Decimal(78))


def test_pinnings_that_are_certain_have_a_quantity_and_others_a_rate_alone() -> None:
    counted, not_counted = (amounts(job(one_wall(masonry="rubble", pinnings_nr=nr))) for nr in ("80", "not known"))
    assert (counted["repoint.pinnings"], "rates.pinning" in counted) == (Decimal(80), False)
    assert ("repoint.pinnings" in not_counted, not_counted["rates.pinning"]) == (False, None)


@pytest.mark.parametrize("kind", ["plaster", "render"])
@pytest.mark.parametrize(
    ("timbers", "new", "length"), [("90", "5", "12.5"), ("75", "5", None), ("90", "0", "rate"), (None, "5", "rate")]
)
def test_counter_lathing_that_is_certain_has_a_length_and_a_step_of_its_own_and_other_a_rate_alone(
    kind: str, timbers: str | None, new: str, length: str | None
) -> None:
    coats = {"plaster_coats": "three", "plaster_surface": "floated"} if kind == "plaster" else {"render_kind": "flat"}
    laths = {"new_laths_m2": new, "lath_kind": "riven", "joist_width_mm": timbers, "face_area_m2": "18"}
    place = {"position": "indoors", "exposure": "internal"} if kind == "plaster" else {}
    made = job(
        answers(
            wall(
                work("coat", **{**NOT_REPOINTING, "work": kind, **coats, **laths}),
                masonry="laths", overhead="no", **place,
            )
        )
    )  # fmt: skip
    found = amounts(made)
    assert found.get("plaster.counter-lathing") == (Decimal(length) if length not in (None, "rate") else None)
    assert ("rates.counter-lathing" in found) == (length == "rate")
    steps = [told.entry.id for told in all_steps(made, ("front",))]
    assert (f"{kind}.counter" in steps) == (length is not None)


def test_no_line_sends_the_tenderer_to_a_price_that_is_nowhere() -> None:
    """What a line says is priced apart has a line in every job where that line stands, or is not said."""
    assert [key for key, item in shipped().items.items() if "counter-lathing is priced apart" in item.includes] == []


def weeks_between(made: Job, passed: str, out: str, path: tuple[str, ...]) -> int:
    """Weeks begun from the day after the first of these tasks to the last day of the other."""
    tasks = [task for task in made.programme.tasks() if task.path[: len(path)] == path]
    first = min(task.finish for task in tasks if task.entry == passed)
    return -(-(max(task.finish for task in tasks if task.entry == out) - first).days // 7)


def test_props_under_old_plaster_are_put_up_once_and_hired_by_the_week_until_the_last_is_out() -> None:
    made, ceiling = example("mill-house"), ("chamber-ceiling",)
    (up,), (hire,) = lines(made, "plaster.propping"), lines(made, "plaster.props-weeks")
    assert (up.quantity, hire.entry.unit) == (Decimal(1), "week")
    assert hire.quantity == weeks_between(made, "props", "props-out", ceiling) > 10
    (further,) = lines(made, "rates.props-week")
    assert (further.entry.unit, further.path) == ("week", ceiling)
    assert {"plaster.propping", "plaster.props-weeks"} <= {
        item.entry.id for item in made.duties["safety.propping"].lines
    }


def test_props_and_needles_of_a_wall_rebuilt_are_hired_by_the_week_until_what_is_rebuilt_bears() -> None:
    rebuilt = work("up", work="rebuild", rebuild_what="whole", face_area_m2="4", **NOT_REPOINTING)
    made = job(one_wall_of(rebuilt))
    (hire,) = lines(made, "rebuild.props-weeks")
    assert hire.quantity == weeks_between(made, "numbered", "shores-out", ("front", "up")) >= 2
    assert [item.entry.unit for item in lines(made, "rates.shores-week")] == ["week"]
    assert "week" not in plain_text((made.work_quantity(("front", "up")),))  # it is known by its walling


def test_weeks_of_props_without_dates_are_left_for_the_programme_to_tell() -> None:
    plaster = work("p", work="plaster", plaster_coats="three", **NOT_REPOINTING)
    made = job(answers(wall(plaster, masonry="laths", position="indoors", overhead="yes"), start_date=None))
    (hire,) = lines(made, "plaster.props-weeks")
    assert hire.quantity is None


def one_wall_of(rebuilt: str) -> str:
    return answers(wall(rebuilt, access="scaffold"), finish_date="2028-09-29")


@pytest.mark.parametrize(
    ("cause", "rule"),
    [
        ("gutter", "sums.causes-gutter"), ("leak", "sums.causes-leak"), ("high-ground", "sums.causes-ground"),
        ("movement", "sums.causes-movement"), ("flue", "sums.causes-flue"), ("flue", "sums.flue-test"),
    ],
)  # fmt: skip
def test_a_sum_for_a_cause_names_the_walls_on_which_it_is_put_right(cause: str, rule: str) -> None:
    cured = {"decay_causes": f"[{cause}]", "causes_cured": "in-this-work"}
    made = job(answers(
        wall(id_="a", name="Yard wall", **cured), wall(id_="b", name="Barn", **cured), wall(id_="c", name="Lane wall"),
        wall(id_="d", name="Store", cured_on="[b]", **cured),
    ))  # fmt: skip
    (ref,) = [line.ref for line in lines(made, rule)]
    (line,) = [row for section in pricing_book(made).sections for row in section.rows if row.ref == ref]
    told = line.description
    assert "Yard wall and Barn" in told
    assert not re.search("Lane wall|Store|whose sheets", told)
