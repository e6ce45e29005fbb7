"""Clauses of a job against its lines: every duty has a line and none has two, no line stands without a duty."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from small_library import clause, library_of

from generator import pipeline
from generator.files.shaping import read_as
from generator.files.source import read_bytes
from generator.job.duties import Payers, misplaced
from generator.job.job import Job
from generator.library.entries import Clause, ItemEntry
from generator.library.model import Conditioned, Library
from generator.questionnaire.parsing import parse
from generator.questionnaire.scopes import ScopePath
from generator.values import replace

TWO_WALLS = answers(
    wall(id_="north", name="North", masonry="brick"),
    wall(work("plaster", work="plaster", plaster_coats="two"), id_="south", name="South", masonry="rubble"),
)


def item(id_: str, **more: object) -> ItemEntry:
    fields = {"id": id_, "group": "element", "per": "work", "description": id_, "unit": "item", "quantity": "1"}
    return read_as(ItemEntry, {**fields, **more})


def settled(library: Library, text: str = TWO_WALLS) -> Job:
    source = read_bytes(text.encode(), "answers.yaml", typed=False)
    return pipeline.settled(pipeline.read(source, library), library)


def job_of(*entries: Clause | ItemEntry) -> Job:
    """Two walls, one of brick that is pointed and one of rubble that is plastered, with these clauses and lines."""
    library = library_of(*(entry for entry in entries if isinstance(entry, Clause)))
    own = [entry for entry in entries if isinstance(entry, ItemEntry)]
    when = {("item", one.id): Conditioned(parse(one.when, one.per, library.names) if one.when else None) for one in own}
    changed = {one.id: one for one in own}
    return settled(replace(library, items=changed, conditions={**library.conditions, **when}))


def faults(job: Job) -> list[tuple[str, ScopePath, str]]:
    payers = Payers(job.library, job.decisions, job.measured.items())
    told = misplaced(job.duties, payers)
    return [(one.code, one.scope, dict(one.fills).get("item") or dict(one.fills)["name"]) for one in told]


def lines_of(job: Job, key: str) -> list[str]:
    return [line.ref for line in job.duties[key].lines]


POINTING = item("own.pointing", when="work == 'repoint'")
PLASTER = item("own.plaster", when="work == 'plaster'")
BOTH = {"line": ["own.pointing", "own.plaster"]}


def test_each_place_where_a_clause_is_in_has_a_line() -> None:
    job = job_of(clause("first.a", per="work", cost=BOTH), POINTING, PLASTER)
    assert (faults(job), lines_of(job, "first.a")) == ([], ["1.1", "2.1"])


def test_a_clause_is_paid_by_the_lines_of_its_own_wall_alone() -> None:
    job = job_of(clause("first.a", per="work", when="work == 'repoint'", cost=BOTH), POINTING, PLASTER)
    assert lines_of(job, "first.a") == ["1.1"]
    assert faults(job) == [("line-without-duty", ("south", "plaster"), "2.1")]


def test_a_clause_in_the_job_whose_line_is_not_in_the_schedule_is_told_for_its_wall() -> None:
    job = job_of(clause("first.a", per="work", cost={"line": "own.pointing"}), POINTING)
    assert faults(job) == [("duty-without-line", ("south", "plaster"), "first.a")]


def test_a_clause_of_the_whole_job_is_paid_by_a_line_of_any_wall() -> None:
    job = job_of(clause("first.a", cost={"line": "own.pointing"}), POINTING)
    assert faults(job) == []


def test_a_clause_of_a_coat_is_paid_by_the_line_of_its_work() -> None:
    assert faults(job_of(clause("first.a", per="coat", cost=BOTH), POINTING, PLASTER)) == []


def test_two_lines_at_one_place_that_both_hold_the_whole_of_a_clause_are_told() -> None:
    twice = item("own.again", when="work == 'repoint'")
    job = job_of(clause("first.a", cost={"line": ["own.pointing", "own.again"]}), POINTING, twice)
    assert faults(job) == [("duty-priced-twice", ("north", "repoint"), "1.1, 1.2")]


def test_a_line_of_the_wall_and_one_of_its_work_are_two_at_one_place() -> None:
    whole = item("own.whole", per="element", when="masonry == 'brick'")
    job = job_of(clause("first.a", cost={"line": ["own.pointing", "own.whole"]}), POINTING, whole)
    assert [code for code, _, _ in faults(job)] == ["duty-priced-twice"]


def test_a_line_beside_another_pays_for_another_part_and_is_no_second() -> None:
    more = item(
        "own.more", when="work == 'repoint'", group="rate-only", kind="rate only", quantity="", besides=["own.pointing"]
    )
    job = job_of(clause("first.a", cost={"line": "own.pointing"}), POINTING, more)
    assert (faults(job), lines_of(job, "first.a")) == ([], ["1.1", "2.1"])


def test_a_way_of_working_may_be_in_the_rates_of_several_lines_of_a_wall() -> None:
    again = item("own.again", when="work == 'repoint'")
    job = job_of(clause("first.a", cost={"rate": ["own.pointing", "own.again"]}), POINTING, again)
    assert faults(job) == []


def test_what_is_in_the_rates_of_all_measured_work_takes_every_line_of_its_walls_and_no_other() -> None:
    prelim = item("own.prelim", group="preliminaries", per="project")
    paid = clause("first.b", cost={"preliminaries": "own.prelim"})
    job = job_of(
        clause("first.a", per="element", when="masonry == 'rubble'", cost={"rate": "measured-work"}),
        clause("first.c", cost=BOTH), paid, POINTING, PLASTER, prelim,
    )  # fmt: skip
    assert (faults(job), lines_of(job, "first.a")) == ([], ["3.1"])


def test_what_is_in_the_rates_of_all_that_takes_a_mix_takes_no_line_without_one() -> None:
    dry = item("own.dry", when="work == 'repoint'", coats=[])
    job = job_of(
        clause("first.a", cost={"rate": "mixed-work"}), clause("first.c", cost={"rate": ["own.dry", "own.pointing"]}),
        clause("first.b", cost=BOTH), POINTING, PLASTER, dry,
    )  # fmt: skip
    lines = job.measured.items()
    assert lines_of(job, "first.a") == [line.ref for line in lines if line.mix]
    assert [line.entry.id for line in lines if not line.mix] == ["own.dry"]


@pytest.mark.parametrize("cost", ["information", "open"])
def test_what_nobody_pays_for_needs_no_line(cost: str) -> None:
    job = job_of(clause("first.a", cost=cost), clause("first.b", cost=BOTH), POINTING, PLASTER)
    assert (faults(job), lines_of(job, "first.a")) == ([], [])


def test_a_clause_of_a_mix_is_paid_where_its_mix_is_used() -> None:
    job = job_of(
        clause("first.a", per="mix", cost={"rate": "measured-work"}), clause("first.b", cost=BOTH), POINTING, PLASTER
    )
    assert job.decisions.mixes
    assert faults(job) == []


def test_a_set_that_would_be_for_tender_is_a_draft_while_a_duty_has_no_line() -> None:
    never = item("own.never", when="work == 'render'")
    library = library_of(clause("first.a", cost={"line": "own.never"}))
    conditions = {**library.conditions, ("item", "own.never"): Conditioned(parse(never.when, "work", library.names))}
    job = settled(replace(library, items={"own.never": never}, conditions=conditions), one_wall())
    assert [finding.code for finding in job.findings if finding.level == "block"] == ["duty-without-line"]
    assert job.status == "draft"


def test_while_an_answer_is_open_lines_that_may_hang_on_it_are_not_missed() -> None:
    job = settled(library_of(clause("first.a", cost={"line": "repoint.brick"})), one_wall(masonry="flint", place=None))
    assert "duty-without-line" not in {finding.code for finding in job.findings}
