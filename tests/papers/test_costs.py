"""The matrix from clauses to lines: in the order of the numbers, with runs of lines, and what nobody pays for said."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall
from jobs import EXAMPLES, after, example, job

from generator.document.model import CostRow
from generator.job.job import Job
from generator.papers import costs
from generator.papers.costs import cost_rows
from generator.papers.schedule import pricing_book
from generator.values import replace


def row(made: Job, key: str) -> CostRow:
    number = made.numbers[f"clause:{key}"]
    (found,) = [row for row in cost_rows(made) if row.number == number and not row.is_part]
    return found


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_each_clause_of_the_papers_has_a_row_under_its_part_in_the_order_of_the_numbers(name: str) -> None:
    made = example(name)
    rows = pricing_book(made).costs
    used = [[part.number, *(clause.number for clause in part.clauses if clause.used)] for part in made.parts]
    assert [row.number for row in rows] == [number for numbers in used for number in numbers]
    assert [row.number for row in rows if row.is_part] == [part.number for part in made.parts]
    assert all(row.title and bool(row.place) != row.is_part for row in rows)


def test_lines_stand_by_their_numbers_in_the_schedule() -> None:
    made = example("toll-house")
    refs = {item.ref for item in made.measured.items()}
    ends = [end for row in cost_rows(made) for run in row.lines.split(", ") for end in run.split("–") if end]
    assert ends
    assert set(ends) <= refs


def test_the_place_of_a_cost_is_said_in_words_and_what_nobody_pays_for_has_no_line() -> None:
    made = job(one_wall())
    told = {key: (row(made, key).place, bool(row(made, key).lines)) for key in (
        "tendering.award", "site.security-rooms", "raking-out.tools", "raking-out.depth", "mortars.water",
    )}  # fmt: skip
    assert told == {
        "tendering.award": (made.word("cost-information"), False),
        "site.security-rooms": (made.word("cost-preliminaries"), True),
        "raking-out.tools": (made.word("cost-rate"), True),
        "raking-out.depth": (made.word("cost-line"), True),
        "mortars.water": (made.word("cost-all-rates"), True),
    }


def test_lines_that_follow_one_another_in_a_section_are_a_run_and_sections_part_it() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B")))
    runs = row(made, "environment.waste").lines.split(", ")
    sections = [section for section in made.measured.sections if section.key == "element"]
    assert runs == [f"{section.items[0].ref}–{section.items[-1].ref}" for section in sections]


def test_very_many_runs_are_told_by_their_number_the_first_and_the_last(monkeypatch: pytest.MonkeyPatch) -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B")))
    monkeypatch.setattr(costs, "MOST_RUNS", 1)
    lines = made.duties["environment.waste"].lines
    told = row(made, "environment.waste").lines
    assert told == made.word("cost-many", count=str(len(lines)), first=lines[0].ref, last=lines[-1].ref)


def test_in_a_later_issue_the_rows_have_the_numbers_that_clauses_and_lines_hold_and_no_row_for_what_is_gone() -> None:
    first = job(one_wall(contingency="500"))
    later = after(first, one_wall(revision="2", loose_units_nr="4"))
    gone = first.numbers["clause:tendering.contingency"]
    assert gone not in {row.number for row in cost_rows(later)}
    assert row(later, "tendering.award").number == first.numbers["clause:tendering.award"]
    (line,) = [item.ref for item in later.measured.items() if item.entry.id == "repoint.loose-units"]
    assert line in row(later, "pointing.resetting").lines


def test_a_cost_that_nobody_has_said_is_still_to_be_said() -> None:
    made = job(one_wall())
    opened = {**made.duties, "site.security-rooms": replace(made.duties["site.security-rooms"], place="open", lines=())}
    assert row(replace(made, duties=opened), "site.security-rooms").place == made.word("cost-open")


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_what_is_said_to_lie_in_the_preliminaries_is_paid_by_a_line_of_theirs(name: str) -> None:
    made = example(name)
    (first, *_) = [section for section in made.measured.sections if section.items[0].section == "preliminaries"]
    own = {item.ref.split(".")[0] for item in first.items}
    told = [row for row in cost_rows(made) if row.place == made.word("cost-preliminaries")]
    assert told
    assert [row.number for row in told if not {run.split(".")[0] for run in row.lines.split(", ")} & own] == []
