"""How a value came about: the reason of its rule first, else the words, values and table rows of its name."""

from __future__ import annotations

from answers_text import answers, one_wall, wall
from jobs import job

from generator.record.how import reason_of

WALL = job(one_wall())
WORK = ("front", "repoint")


def test_the_reason_of_a_rule_stands_as_it_is() -> None:
    reason = WALL.decisions.reasons[WORK, "rake_depth_mm"]
    assert reason_of(WALL, WORK, "rake_depth_mm", "<decide>") is reason


def test_what_was_reckoned_tells_the_values_it_rests_on_as_they_are_said() -> None:
    timed = job(one_wall(output_m2_per_day="3"))
    reason = reason_of(timed, WORK, "duration_days", "<programme>")
    assert reason.rule == "<programme>"
    assert reason.because == timed.library.reckoned["duration_days"].how
    told = [fact.split(":")[0] for fact in reason.facts]
    assert told[0] == "area treated"
    assert told[1].startswith("output of the gang in a working day")
    assert len(told) == 2


def test_a_value_that_was_not_answered_is_not_named() -> None:
    without = job(answers(wall(bond=None)))
    facts = reason_of(without, WORK, "joint_length_m_per_m2", "<measure>").facts
    assert any(fact.startswith("joint width") for fact in facts)
    assert not any(fact.startswith("bond") for fact in facts)


def test_a_table_row_is_found_by_the_scope_and_brings_its_sources() -> None:
    reason = reason_of(WALL, ("M1",), "mix_dry_ratio", "<measure>")
    row = WALL.library.tables["making"].find(making="putty")
    assert row is not None
    assert (reason.sources, reason.range) == (row.sources, row.range)
    assert reason.facts[-1].startswith("making: yield_low 1,")


def test_the_values_of_coats_are_told_for_the_work_they_are_in() -> None:
    reason = reason_of(WALL, (*WORK, "pointing"), "mix_used", "<decide>")
    assert "binder: matured lime putty" in reason.facts


def test_a_value_whose_name_says_nothing_has_its_step_alone() -> None:
    reason = reason_of(WALL, (*WORK, "pointing"), "coat", "<decide>")
    assert (reason.rule, reason.because, reason.facts) == ("<decide>", "", ())
