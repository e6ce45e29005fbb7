"""What fills old plaster and what mouldings are run in: off the cards of the job, or made for it; counted and timed."""

from __future__ import annotations

from datetime import timedelta

import pytest
from answers_text import wall
from timed_jobs import planned, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.measure.made_for_it import FILLINGS
from generator.measure.model import DayFacts, Item, MixSheetFacts
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.programme.model import Task

LATHS: dict[str, str | None] = {
    "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
    "unit_height_mm": None, "bond": None, "joint_width_mm": None, "position": "indoors", "exposure": "internal",
    "overhead": "no", "heating_indoors": "low", "air_indoors": "open", "salts": None, "lead_paint": "none",
    "wall_painting": "none", "plaster_age": "before-1920",
}  # fmt: skip


def plastered(cornice_m: str = "0", coats: str = "three") -> str:
    return surface(
        "plaster", "plaster", plaster_coats=coats, plaster_surface="trowelled", face_area_m2="6", panel_place="frame",
        new_laths_m2="0", joist_width_mm="50", cornice_m=cornice_m, old_plaster_beside="yes",
    )  # fmt: skip


def refixed(area_m2: str, cornice_m: str = "0") -> str:
    return surface("refix", "refix", face_area_m2=area_m2, refix_from_above="no", cornice_m=cornice_m)


def room(*works: str, id_: str = "room", name: str = "Room") -> str:
    return wall(*works, id_=id_, name=name, **LATHS)


def mix(made: Job, coat: str) -> MixSheetFacts:
    return next(
        found
        for found in made.measured.batches
        if any(made.facts.at_scope(path).text("coat") == coat for path in found.mix.used_for)
    )


def tasks(made: Job, entry: str) -> list[Task]:
    return [task for task in made.programme.tasks() if task.entry == entry]


def taken(found: MixSheetFacts, task: str) -> list[DayFacts]:
    return [day for day in found.made.days if day.task == task]


def lines(made: Job, rule: str) -> list[Item]:
    return [item for item in made.measured.items() if item.entry.id == rule]


def test_fillings_come_off_the_cards_of_another_wall_and_are_counted_shown_and_told_there() -> None:
    """30 m2 refixed where nothing is plastered take 9 l of haired float stuff and 3 of setting stuff more."""
    plain = planned(room(plastered()))
    made = planned(room(plastered()), room(refixed("30"), id_="landing", name="Landing"))
    floated, set_ = mix(made, "float"), mix(made, "setting")
    for found, before, litres in ((floated, mix(plain, "float"), 9), (set_, mix(plain, "setting"), 3)):
        more = found.goes["in_place_l"].likely - before.goes["in_place_l"].likely
        assert more == pytest.approx(litres)
        (day,) = taken(found, "refix-fill")
        assert day.days == tasks(made, "refix-fill")[0].why.days.likely == 3
        assert "Landing: filling" in made.facts.spoken(found.mix.path, "mix_walls")
    (line,) = lines(made, "refix.from-below")
    assert line.mix == f"{floated.mix.ref}, {set_.mix.ref}"
    told = outline(assemble(made).specification)
    assert f"coarse with {floated.mix.ref}, fine with {set_.mix.ref}" in told


def test_filling_takes_as_long_as_there_is_to_fill() -> None:
    """A pair fills 40 m2 a day, and no patch in less than three: coarse stuff in two layers, then fine."""
    (small,), (large,) = (tasks(planned(room(refixed(area))), "refix-fill") for area in ("2", "200"))
    assert (small.why.days.likely, large.why.days.likely) == (3, 5)


def test_mouldings_have_their_stuff_their_days_and_are_passed_before_the_rest_is_run() -> None:
    """12 m at 6 l of coarse stuff and 1 of fine; a pair runs 4 m a day. Props stay until they are hard."""
    plain, made = planned(room(plastered())), planned(room(plastered(cornice_m="12")))
    for coat, litres in (("float", 72), ("setting", 12)):
        more = mix(made, coat).goes["in_place_l"].likely - mix(plain, coat).goes["in_place_l"].likely
        assert more == pytest.approx(litres)
        (day,) = taken(mix(made, coat), "cornice")
        assert day.days == tasks(made, "cornice")[0].why.days.likely == 3
    first, passed, run, wait = (tasks(made, f"cornice{end}")[0] for end in ("-first", "-passed", "", "-wait"))
    assert first.finish < passed.start <= passed.finish < run.start <= run.finish <= wait.start
    (out,) = tasks(made, "props-out")
    assert wait.finish <= out.start
    (line,) = lines(made, "plaster.cornice")
    assert line.mix == f"{mix(made, 'float').mix.ref}, {mix(made, 'setting').mix.ref}"


def test_mouldings_are_run_on_the_keyed_coat_so_that_what_is_kept_damp_and_tapped_counts_from_the_last_coat() -> None:
    made = planned(room(plastered(cornice_m="12")), finish_date="2028-09-29")
    first, run = (tasks(made, f"cornice{end}")[0] for end in ("-first", ""))
    floated, set_ = (
        next(task for task in tasks(made, "lay") if task.path[-1] == coat) for coat in ("float", "setting")
    )
    assert floated.finish < first.start <= run.finish < set_.start
    work = made.facts.at_scope(("room", "plaster"))
    damp = made.facts.at_scope(("room", "plaster", "setting")).day("damp_until_date")
    tapped = work.day("tapped_from_date")
    assert work.day("lime_finish_date") == set_.finish
    assert damp is not None
    assert tapped is not None
    assert run.finish < set_.finish < damp < tapped
    steps = [told.entry.id for told in all_steps(made, ("room",))]
    wanted = ["plaster.wait-float", "plaster.cornice", "plaster.cornice-run", "plaster.setting"]
    assert [step for step in steps if step in wanted] == wanted


def test_mouldings_tell_their_mixes_on_cards_and_in_a_clause_and_their_damp_days_in_the_record_of_curing() -> None:
    made = planned(room(plastered(cornice_m="12")), finish_date="2028-09-29")
    floated, set_ = mix(made, "float").mix, mix(made, "setting").mix
    assert "float coat and mouldings" in made.facts.spoken(floated.path, "mix_walls")
    assert "setting coat and mouldings" in made.facts.spoken(set_.path, "mix_walls")
    told = outline(assemble(made).specification)
    assert f"stuff for mouldings off the cards: coarse with {floated.ref}, fine with {set_.ref}" in told
    (log,) = companions(made, ["records"]).values()
    laid = made.facts.spoken(("room", "plaster"), "moulding_start_date")
    assert laid
    assert f"ouldings, run from {laid}, damp for 7 days from their laying" in outline(log)


def test_mouldings_have_the_day_to_which_they_are_kept_moist_on_their_sheet_in_refixing_alone_too() -> None:
    made = planned(room(refixed("4", cornice_m="12")), finish_date="2028-09-29")
    (run,) = tasks(made, "cornice")
    until = run.finish + timedelta(int(str(made.library.figures["filling_damp_days"].value)))
    work = made.facts.at_scope(("room", "refix"))
    assert work.day("moulding_damp_date") == until
    assert f"Mouldings moist to | {work.spoken('moulding_damp_date')}" in outline(assemble(made).specification)


def test_a_short_length_of_moulding_is_cored_one_day_and_run_the_next() -> None:
    made = planned(room(plastered(cornice_m="1")))
    assert tasks(made, "cornice")[0].why.days.likely == 2
    assert taken(mix(made, "float"), "cornice")[0].days == 2


def test_fillings_that_are_on_no_card_are_ordered_all_the_same() -> None:
    """200 m2 at 0.3 and 0.1 l: 60 l in 1 : 2.5 and 20 in 1 : 1, a tenth dropped, of putty, two sands and hair."""
    made = planned(room(refixed("200", cornice_m="0")))
    assert made.measured.batches == ()
    ordered = {(line.material.id, line.grain_mm): line for line in made.measured.materials}
    assert {key for key, _ in ordered} == {"lime-putty", "sand-plaster", "sand-fine", "hair"}
    assert all([ref for ref, _ in line.uses] == [FILLINGS] for line in ordered.values())
    hair = next(line for (key, _), line in ordered.items() if key == "hair")
    assert dict(hair.uses)[FILLINGS].likely == pytest.approx(60 * 1.1 * 0.005)
    assert {grain for (key, grain) in ordered if key.startswith("sand")} == {3, 1}
    told = outline(assemble(made).specification)
    assert "fillings " in told
    assert lines(made, "refix.from-below")[0].mix == ""


def test_what_is_ordered_for_fillings_is_as_their_clause_has_it() -> None:
    library = planned(room(refixed("2"))).library
    row, text = library.row("filling-stuff"), library.clauses["refix.filling-stuff"].text
    coarse, fine = (library.recipes[row.text(f"{part}_recipe")] for part in ("coarse", "fine"))
    assert (str(coarse.ratio.chosen), str(fine.ratio.chosen)) == ("2.5", "1")
    assert "one of putty to two and a half of sharp sand" in text
    assert "one of putty to one of fine sand" in text


def test_a_card_that_serves_fillings_alone_is_told() -> None:
    """Of a float coat whose area nobody answered nothing is laid, and the fillings have their stuff."""
    unknown = plastered().replace("face_area_m2: 6", "face_area_m2: not known")
    made = planned(room(unknown, refixed("30")))
    assert [day.task for day in mix(made, "float").made.days] == ["refix-fill"]


def test_a_pinch_of_hair_is_not_told_as_none() -> None:
    """9 m2 take 15 g, which is under the tenth of a kilogram that papers tell."""
    (row,) = [
        row for row in outline(assemble(planned(room(refixed("9")))).specification).splitlines() if "hair, clean" in row
    ]
    assert "0.1 kg" in row
    assert "fillings 0 kg" not in row
