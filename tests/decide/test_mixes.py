"""Mixes keep their references from issue to issue, and none is given to another mortar."""

from __future__ import annotations

from answers_text import answers, wall
from jobs import after
from small_library import job

from generator.job.job import Job

SOFT = wall(id_="a", name="A", joint_width_mm="3")
WIDE = wall(id_="b", name="B", joint_width_mm="9 - 12 (10)")
WIDER = wall(id_="c", name="C", joint_width_mm="15 - 20 (18)")


def refs(found: Job) -> dict[str, str]:
    return {path[0]: mix.ref for mix in found.decisions.mixes for path in mix.used_for}


def test_a_first_issue_numbers_mixes_as_the_answers_come() -> None:
    assert refs(job(answers(WIDE, WIDER))) == {"b": "M1", "c": "M2"}
    assert refs(job(answers(WIDER, WIDE))) == {"c": "M1", "b": "M2"}


def test_a_wall_put_first_takes_the_next_reference_and_moves_no_other() -> None:
    first = job(answers(WIDE, WIDER))
    second = after(first, answers(SOFT, WIDE, WIDER))
    assert refs(second) == {"b": "M1", "c": "M2", "a": "M3"}
    assert [mix.ref for mix in second.decisions.mixes] == ["M1", "M2", "M3"]


def test_the_reference_of_a_mix_that_is_no_longer_used_is_never_given_again() -> None:
    second = after(job(answers(WIDE, WIDER)), answers(WIDE))
    assert refs(after(second, answers(SOFT, WIDE))) == {"a": "M3", "b": "M1"}
    assert refs(after(second, answers(SOFT, WIDE, WIDER))) == {"a": "M3", "b": "M1", "c": "M2"}
