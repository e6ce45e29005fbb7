"""What tender papers instruct is borne: a clause that says the same in full speaks wherever it is printed."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from answers_text import answers, wall, work
from decided_cases import HERE, case
from helpers import slow_but
from jobs import EXAMPLES, example, job, shipped
from random_answers import near_answers, random_answers

from generator.files.errors import InputInvalid
from generator.job.job import Job
from generator.papers.agreement.instructions import without_clause
from generator.papers.steps import all_steps

MOST_ALONE = 20
"""So many instructions stand without a clause; for one more say why in a comment, and look for the clause again."""


def unborne(made: Job) -> list[str]:
    return [f"{raised.code}: {'/'.join(raised.scope)}" for raised in without_clause(made)]


def test_every_instruction_names_the_clauses_that_bear_it_but_a_few_that_only_forbid_or_wait() -> None:
    entries = [entry for entry in shipped().findings.values() if entry.instruction]
    assert [entry.code for entry in entries if not entry.clauses and not entry.stands_alone] == []
    alone = [entry for entry in entries if entry.stands_alone]
    assert len(alone) <= MOST_ALONE, [entry.code for entry in alone]
    assert {entry.level for entry in alone} <= {"refusal", "block", "warning"}


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_every_instruction_of_an_example_is_borne(name: str) -> None:
    assert unborne(example(name)) == []


def test_so_is_every_instruction_of_every_case() -> None:
    names = [path.stem for path in sorted(HERE.glob("*.yaml"))]
    assert {name: found for name in names if (found := unborne(case(name)))} == {}


def jobs_by_chance(seed: int) -> Iterator[Job]:
    texts = [random_answers(seed), *(near_answers(seed, path.read_text(encoding="utf-8")) for path in EXAMPLES)]
    for text in texts:
        try:
            yield job(text)
        except InputInvalid:  # answers that no reading takes are no job
            continue


@pytest.mark.parametrize("seed", slow_but(4, range(40)))
def test_so_is_every_instruction_of_jobs_nobody_thought_of(seed: int) -> None:
    assert [found for made in jobs_by_chance(seed) for found in unborne(made)] == []


@pytest.mark.parametrize(
    ("code", "clause", "told"),
    [
        ("cavity-ties", "pointing.cavity", {"brick_thickness": "cavity"}),
        ("retaining-wants-drain", "enabling.weep-holes", {"position": "retaining"}),
        ("mix-line-missing", "building.zone-line", {"position": "below-damp-course"}),
        ("salt-wind", "curing.salt-wind", {"position": "marine"}),
        ("sulphates-beside-hydraulic", "materials.nhl-sulphates", {"salt_kinds": "[sulphate]", "salts": "some"}),
    ],
)
def test_what_was_instructed_and_stood_in_no_clause_has_one(code: str, clause: str, told: dict[str, str]) -> None:
    made = job(answers(wall(masonry="brick", exposure="severe", hardness="hard", **told)))
    assert code in {raised.code for raised in made.findings}
    assert made.in_papers(clause)
    assert unborne(made) == []


@pytest.mark.parametrize(
    ("code", "clause", "finish", "old"),
    [
        ("old-finish-lost", "pointing.finish-lost", "as-found", "lost"),
        ("old-finish-raised", "pointing.finish-raised", "as-found", "raised"),
        ("finish-not-as-the-old", "raking-out.old-finish", "brushed-flush", "ruled"),
    ],
)
def test_what_becomes_of_an_old_finish_stands_in_a_clause_of_its_own(
    code: str, clause: str, finish: str, old: str
) -> None:
    text = answers(wall(work("repoint", joint_finish=finish, old_joint=old)), protection="listed", consent="granted")
    made = job(text)
    assert code in {raised.code for raised in made.findings}
    told = [key for key in made.selections if key.startswith("pointing.finish") and made.in_papers(key)]
    assert made.in_papers(clause)
    assert unborne(made) == []
    assert finish != "as-found" or told == [clause]


@pytest.mark.parametrize("old", ["lost", "raised"])
def test_a_sheet_tells_no_finish_as_the_old_joints_where_none_is_left_or_they_are_bands(old: str) -> None:
    made = job(answers(wall(work("repoint", joint_finish="as-found", old_joint=old))))
    (finish,) = (told for told in all_steps(made, ("front",)) if told.entry.id.startswith("repoint.finish"))
    assert "as chosen on the panel" in finish.entry.text
