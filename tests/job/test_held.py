"""Lines to price keep their numbers from issue to issue."""

from __future__ import annotations

from answers_text import answers, one_wall, wall, work
from jobs import after
from small_library import job

from generator.job.held import held
from generator.job.job import Job

A, B, C = (wall(id_=name, name=name.upper()) for name in "abc")


def refs(found: Job) -> dict[tuple[object, ...], str]:
    return {(item.entry.id, item.path): item.ref for item in found.measured.items()}


def test_a_first_issue_is_numbered_as_measured() -> None:
    found = job(one_wall())
    again, register = held(found.measured)
    assert again == found.measured
    assert register == {key: number for key, number in found.numbers.items() if key.startswith(("section:", "line:"))}
    assert {number for key, number in register.items() if key.startswith("line:")} == set(refs(found).values())


def test_a_wall_between_two_moves_no_line_and_takes_a_number_that_none_had() -> None:
    first = job(answers(A, C))
    second = after(first, answers(A, B, C))
    old, new = refs(first), refs(second)
    assert {key: new[key] for key in old} == old
    fresh = {number for key, number in new.items() if key not in old}
    assert fresh
    assert fresh.isdisjoint(old.values())


def test_a_wall_taken_out_leaves_its_numbers_unused_ever_after() -> None:
    first = job(answers(A, B, C))
    second = after(first, answers(A, C))
    third = after(second, answers(A, C, wall(id_="d", name="D")))
    assert refs(second).items() <= refs(first).items()
    gone = set(refs(first).values()) - set(refs(second).values())
    assert gone
    assert gone.isdisjoint(refs(third).values())


def test_a_work_taken_out_moves_no_other_line_of_its_wall() -> None:
    both = wall(work("one"), work("two"), id_="a", name="A")
    first = job(answers(both))
    second = after(first, answers(wall(work("two"), id_="a", name="A")))
    assert refs(second).items() <= refs(first).items()
    assert len(set(refs(second).values())) == len(refs(second))
