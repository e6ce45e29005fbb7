"""The site sheet: which mix goes where, boxes first; limits that suit every mix."""

from __future__ import annotations

from answers_text import answers, one_wall, wall
from jobs import job, part

from generator.document.model import MixSheet
from generator.job.job import Job
from generator.papers.mix_schedule import mix_schedule
from generator.values import rounded, spoken

PAPER = "mix-schedule"
HOT = wall(
    id_="hot", name="Hot", masonry="rubble", hardness="medium", joint_width_mm="15 - 40 (25)", bond=None,
    unit_length_mm=None, unit_width_mm=None, unit_height_mm=None,
)  # fmt: skip


def lines(sheet: MixSheet, title: str) -> tuple[str, ...]:
    return next(block.lines for block in sheet.blocks if block.title == title)


def sheet_of(text: str) -> tuple[Job, MixSheet]:
    made = job(text)
    return made, mix_schedule(made)


def test_every_mix_stands_on_the_sheet_with_its_walls_boxes_and_litres() -> None:
    made, sheet = sheet_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B"), HOT))
    assert [(mix.ref, mix.name) for mix in sheet.mixes] == [("M1", "A; B"), ("M2", "Hot")]
    for mix, batch in zip(sheet.mixes, made.measured.batches, strict=True):
        assert mix.boxes.startswith(f"{batch.lime_boxes:f} ")
        assert f" {batch.sand_boxes:f} " in mix.boxes
        assert f"{batch.batch_l.likely:f} l" in mix.batch


def test_layers_and_damp_days_stand_with_the_mix_each_once() -> None:
    made, sheet = sheet_of(one_wall())
    path = ("front", "repoint", "pointing")
    assert made.facts.spoken(path, "layer_mm") in sheet.mixes[0].layer
    assert made.facts.spoken(path, "damp_days") in sheet.mixes[0].layer


def test_a_pozzolan_is_told_in_litres_beside_the_boxes() -> None:
    made, sheet = sheet_of(one_wall(asked_binder="putty-pozzolan"))
    assert f"{made.measured.batches[0].pozzolan_l.normalize():f} l" in sheet.mixes[0].boxes


def test_a_dose_that_no_box_holds_is_told_in_equal_measures_that_each_fit_one() -> None:
    made, sheet = sheet_of(one_wall(asked_binder="putty-pozzolan", gauge_box_l="5", mixer_l="200"))
    (batch,) = made.measured.batches
    each = batch.pozzolan_l / batch.pozzolan_measures
    assert batch.pozzolan_measures > 1
    assert each <= 5
    assert f"{batch.pozzolan_measures} × {spoken(rounded(each, 1), 'l')} " in sheet.mixes[0].boxes


def test_hair_is_told_only_for_haired_mixes() -> None:
    _, sheet = sheet_of(one_wall(work="plaster", plaster_coats="two", joint_finish=None, cement_area_m2=None))
    assert [bool(mix.hair) for mix in sheet.mixes] == [True, False]


def test_the_slaked_equivalent_is_told_for_quicklime_alone() -> None:
    _, sheet = sheet_of(answers(wall(id_="a", name="A"), HOT))
    putty, hot = sheet.mixes
    assert "slaked" not in putty.ratio
    assert "slaked" in hot.ratio


def test_quicklime_has_its_nevers_only_where_it_is_used() -> None:
    made, without = sheet_of(one_wall())
    _, with_ = sheet_of(answers(HOT))
    own = part(made, "quicklime", PAPER).lines["people"]
    assert own not in without.mixes[0].nevers
    assert own in with_.mixes[0].nevers
    assert [block.title for block in with_.blocks if block.of_mixes] == [part(made, "never", PAPER).heading]


def test_the_weather_limits_suit_every_mix() -> None:
    # the NHL of the hard wall must not be placed below 8 °C, the putty of the soft one not below 5 °C
    made, sheet = sheet_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="hard")))
    lowest = {str(made.facts.get(scope.path, "lowest_c")) for scope in made.facts.at("coat")}
    assert lowest == {"5", "8"}
    assert "8 °C" in lines(sheet, part(made, "weather", PAPER).heading)[0]


def test_first_aid_is_there_for_every_lime_and_never_shrunk() -> None:
    made, sheet = sheet_of(one_wall())
    (block,) = [block for block in sheet.blocks if block.never_shrunk]
    assert block.title == part(made, "first-aid", PAPER).heading
    assert len(block.lines) >= 2


def test_without_a_mix_the_sheet_says_that_none_may_be_made() -> None:
    made, sheet = sheet_of(one_wall(hardness="not known"))
    (mix,) = sheet.mixes
    assert mix.name == made.word("sheet-no-mix")
    assert mix.boxes == made.word("none")


def test_a_draft_says_so_on_the_sheet_and_the_sheet_names_its_revision_and_who_changes_mixes() -> None:
    made, sheet = sheet_of(one_wall(face_area_m2=None, revision="3"))
    assert sheet.identity.draft == made.word("draft-mark")
    assert "3" in sheet.replaces
    assert "An invented specifier" in sheet.signs
