"""What rows of tables give: coats on a surface, their thickness, grain, hair, waits; lifts, laths and limewash."""

from __future__ import annotations

import functools
import itertools
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from answers_text import answers, wall, work
from jobs import ROOT, shipped

from generator import pipeline
from generator.decide.decide import decide
from generator.decide.model import Decisions
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.load import load
from generator.library.model import Library
from generator.values import Value

LIBRARY = shipped()
NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
)
LATHS: dict[str, str | None] = {
    "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
    "unit_height_mm": None, "bond": None, "joint_width_mm": None, "position": "indoors", "exposure": "internal",
    "overhead": "yes",
}  # fmt: skip
PLASTER: dict[str, str | None] = {"work": "plaster", "plaster_coats": "three", **NOT_REPOINTING}
RENDER: dict[str, str | None] = {"work": "render", "render_kind": "flat", **NOT_REPOINTING}
WASH: dict[str, str | None] = {"work": "limewash", "old_coating": "none", **NOT_REPOINTING}


def text(done: dict[str, str | None], **changes: str | None) -> str:
    """One wall with one work; changes to its answers go to the wall."""
    return answers(wall(work("a", **done), id_="front", **changes))


def decisions(done: dict[str, str | None], **changes: str | None) -> Decisions:
    return decided_by(LIBRARY, text(done, **changes))


def decided_by(library: Library, answered: str) -> Decisions:
    source = read_bytes(answered.encode(), "answers.yaml", typed=False)
    return decide(pipeline.read(source, library), library)


def coats(made: Decisions) -> list[str]:
    return [scope.path[-1] for scope in made.facts.at("coat")]


def of(made: Decisions | Job, name: str, coat: str = "") -> Value | None:
    return made.facts.get(("front", "a", coat) if coat else ("front", "a"), name)


@pytest.mark.parametrize(
    ("done", "changes", "wanted"),
    [
        (PLASTER, {}, ["scratch", "float", "setting"]),
        ({**PLASTER, "plaster_coats": "two"}, {}, ["scratch", "setting"]),
        ({**PLASTER, "plaster_coats": "finish"}, {}, ["setting"]),
        (PLASTER, LATHS, ["pricking-up", "float", "setting"]),
        (RENDER, {}, ["render-base", "render-finish"]),
        (RENDER, {"hardness": "dense"}, ["splatter", "render-base", "render-finish"]),
        # what lies on a wall that draws no water is thrown first: no laid coat holds on it
        (RENDER, {"hardness": "hard", "water_drop": "stays"}, ["splatter", "render-base", "render-finish"]),
        (RENDER, {"hardness": "hard", "water_drop": "within-minutes"}, ["render-base", "render-finish"]),
        ({**RENDER, "render_kind": "roughcast"}, {"hardness": "dense"}, ["splatter", "render-base", "harl-second"]),
        (
            {**RENDER, "render_kind": "roughcast"},
            {"hardness": "hard", "water_drop": "stays"},
            ["splatter", "render-base", "harl-second"],
        ),
        ({**RENDER, "render_kind": "harl"}, {}, ["harl-first", "harl-second"]),
        (WASH, {}, ["wash"]),
        ({"work": "remove", "removed": "cement-render", **NOT_REPOINTING}, {}, []),
    ],
)
def test_a_work_has_its_coats_in_the_order_they_go_on(
    done: dict[str, str | None], changes: dict[str, str | None], wanted: list[str]
) -> None:  # common practice
    assert coats(decisions(done, **changes)) == wanted


def test_every_coat_of_plaster_has_a_thickness_and_they_add_up() -> None:
    made = decisions(PLASTER)
    each = [of(made, "coat_mm", coat) for coat in coats(made)]
    assert all(isinstance(value, Decimal) and value > 0 for value in each)
    assert of(made, "total_mm") == sum(value for value in each if isinstance(value, Decimal))


def test_the_thickness_of_a_work_is_not_told_while_that_of_a_coat_is_not_known() -> None:
    assert of(decisions({"work": "repoint"}), "total_mm") is None


@pytest.mark.parametrize("changes", [{}, LATHS], ids=["on-brick", "on-laths"])
def test_hair_goes_into_the_base_coats_and_never_into_the_finish(changes: dict[str, str | None]) -> None:
    # Handbooks before 1930 as read: 5.3 and 8.0 kg of hair in a cubic metre
    made = decisions(PLASTER, **changes)
    first, second, finish = coats(made)
    for coat in (first, second):
        dose = of(made, "hair_kg_per_m3", coat)
        assert isinstance(dose, Decimal)
        assert 4 <= dose <= 10
    assert of(made, "hair_kg_per_m3", finish) is None


def test_only_the_coats_that_another_follows_have_a_wait() -> None:
    made = decisions(PLASTER)
    waits = [of(made, "wait_days", coat) for coat in coats(made)]
    assert all(isinstance(wait, Decimal) and wait > 0 for wait in waits[:-1])
    assert waits[-1] is None


def test_grains_grow_no_coarser_from_coat_to_coat_and_limewash_has_none() -> None:
    made = decisions(PLASTER)
    grains = [of(made, "greatest_grain_mm", coat) for coat in coats(made)]
    numbers = [grain for grain in grains if isinstance(grain, Decimal)]
    assert len(numbers) == 3
    assert numbers == sorted(numbers, reverse=True)
    assert of(decisions(WASH), "greatest_grain_mm", "wash") == 0


HARDNESS, WEATHER = ("soft", "medium", "hard", "dense"), ("internal", "sheltered", "moderate", "severe", "very-severe")
ASKED = (None, "putty", "hot-mix", "hot-mix-pozzolan", "nhl-2", "nhl-3.5", "nhl-5")
DONE = [PLASTER, RENDER, {**RENDER, "render_kind": "harl"}, {**RENDER, "render_kind": "roughcast"}]


@functools.cache
def strength(binder: str) -> Decimal:
    row = LIBRARY.tables["strength"].find(binder=binder)
    assert row is not None, binder
    return Decimal(row.values["strength"])


@pytest.mark.parametrize("done", DONE, ids=["plaster", "flat", "harl", "roughcast"])
def test_no_coat_is_stronger_than_the_one_below_it_whatever_was_asked_for(
    done: dict[str, str | None],
) -> None:  # common practice
    """One job has a wall for each hardness and weather, with a work for each binder asked for."""
    asked = [(name, reason) for name in ASKED for reason in (None, "analysis") if name or not reason]
    works = [
        work(f"w{index}", **done, asked_binder=name, asked_binder_reason=reason)
        for index, (name, reason) in enumerate(asked)
    ]
    walls = [
        wall(*works, id_=f"{hardness}-{exposure}", name=f"{hardness} {exposure}", hardness=hardness, exposure=exposure)
        for hardness, exposure in itertools.product(HARDNESS, WEATHER)
    ]
    facts = decided_by(LIBRARY, answers(*walls)).facts
    ranks = {
        scope.path: [strength(str(facts.get(coat.path, "binder"))) for coat in facts.inside(scope.path, "coat")]
        for scope in facts.at("work")
    }
    assert len(ranks) == len(HARDNESS) * len(WEATHER) * len(asked)
    assert all(ranks.values())
    assert {path: found for path, found in ranks.items() if found != sorted(found, reverse=True)} == {}


@pytest.mark.parametrize(("old", "gap"), [("7", "7"), ("20", "8"), (None, "8"), ("not known", "8")])
def test_new_laths_keep_the_old_gap_where_it_holds_plaster(old: str | None, gap: str) -> None:
    made = decisions({**PLASTER, "lath_gap_mm": old, "new_laths_m2": "2"}, **LATHS)
    assert of(made, "lath_gap_chosen_mm") == Decimal(gap)


@pytest.mark.parametrize(("asked", "coats_"), [(None, "5"), ("4", "4"), ("2", "5"), ("12", "5")])
def test_the_coats_of_limewash_asked_for_are_taken_within_what_the_trade_allows(asked: str | None, coats_: str) -> None:
    assert of(decisions({**WASH, "wash_coats_nr": asked}), "wash_coats_chosen_nr") == Decimal(coats_)


def test_walling_on_a_softer_mortar_is_raised_no_higher_in_a_day() -> None:  # common practice
    rebuild = {"work": "rebuild", "rebuild_what": "whole", "rebuild_thickness_mm": "215", **NOT_REPOINTING}
    soft, hard = decisions(rebuild), decisions(rebuild, hardness="hard")
    low, high = of(soft, "lift_mm"), of(hard, "lift_mm")
    assert isinstance(low, Decimal)
    assert isinstance(high, Decimal)
    assert low < high
    assert of(decisions(PLASTER), "lift_mm") is None


def test_a_panel_has_a_size_and_dries_before_it_is_judged() -> None:
    made = decisions(PLASTER)
    for name in ("panel_area_m2", "panel_dry_days"):
        value = of(made, name)
        assert isinstance(value, Decimal)
        assert value > 0


QUESTION = """\
questions:
- name: bird_droppings
  scope: element
  kind: choice
  label: Bird droppings
  why: They are brushed off before anything else.
  not_known: true
  choices: [{is: none, says: none}, {is: heavy, says: heavy}]
"""
TABLE = """\
id: brushing
title: Brushing off
keys: [bird_droppings, binder]
values: {times_nr: {kind: number, least: 1, most: 9}, method: {kind: text, of: brush_method}}
rows:
- keys: {bird_droppings: heavy, binder: any}
  values: {times_nr: 3, method: wet}
  because: One brushing smears them.
  sources: [common-practice]
  confidence: judgement
"""
NAMES = """\
- name: brushings_nr
  scope: coat
  kind: number
  label: Brushings
  from: [{table: brushing, value: times_nr, when: brush_method == 'wet'}]
- name: brush_method
  scope: coat
  kind: choice
  label: Method
  choices: [{is: wet, says: wet}, {is: dry, says: dry}]
  from: [{table: brushing, value: method, unknown: [binder]}]
"""


@pytest.fixture(scope="module")
def with_more(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The shipped library with one more question, a table that is found by it, and two names that rows of it give."""
    folder = Path(shutil.copytree(ROOT / "clauses", tmp_path_factory.mktemp("more") / "clauses"))
    (folder / "questions" / "25-birds.yaml").write_text(QUESTION, encoding="utf-8")
    (folder / "tables" / "brushing.yaml").write_text(TABLE, encoding="utf-8")
    with (folder / "names.yaml").open("a", encoding="utf-8") as stream:
        stream.write(NAMES)
    return load(folder)


def test_a_new_question_its_table_and_what_it_gives_are_data_alone(with_more: Library) -> None:
    made = decided_by(with_more, text(PLASTER, bird_droppings="heavy"))
    assert {of(made, "brushings_nr", coat) for coat in coats(made)} == {Decimal(3)}
    reason = made.reasons[("front", "a", "scratch"), "brushings_nr"]
    assert (reason.rule, reason.because, reason.sources) == (
        "brushing", "One brushing smears them.", ("common-practice",),
    )  # fmt: skip
    assert reason.facts[0] == "bird droppings: heavy"


@pytest.mark.parametrize("answered", ["not known", None, "none"])
def test_a_key_that_is_not_known_or_in_no_row_gives_nothing(answered: str | None, with_more: Library) -> None:
    made = decided_by(with_more, text(PLASTER, bird_droppings=answered))
    assert {of(made, "brush_method", coat) for coat in coats(made)} == {None}
    assert {of(made, "brushings_nr", coat) for coat in coats(made)} == {None}


def test_a_key_that_need_not_be_known_may_be_missing(with_more: Library) -> None:
    made = decided_by(with_more, text(PLASTER, bird_droppings="heavy", hardness="not known"))
    assert {of(made, "binder", coat) for coat in coats(made)} == {None}
    assert {of(made, "brush_method", coat) for coat in coats(made)} == {"wet"}
    assert {of(made, "brushings_nr", coat) for coat in coats(made)} == {None}
