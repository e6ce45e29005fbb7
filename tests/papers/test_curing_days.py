"""How many lines a log of curing needs: a day each on which anything of the work is damped or covered."""

from __future__ import annotations

from answers_text import one_wall
from jobs import example, job, part

from generator.document.model import Heading, Paragraph, Table, plain_text
from generator.job.job import Job
from generator.papers.companion_records import records
from generator.papers.curing_days import days_kept

LINES_OF_A_SHEET = 20


def logs(made: Job) -> dict[str, int]:
    """The blank lines of each log of curing, by its heading, and of each second sheet by the line that leads it."""
    found, heading = dict[str, int](), ""
    for block in records(made).blocks():
        if isinstance(block, Heading) or (isinstance(block, Paragraph) and block.style == "lead"):
            heading = plain_text(block.content)
        elif isinstance(block, Table) and heading.startswith("Record of curing"):
            found[heading] = len(block.rows)
    return found


def test_days_of_panel_fillings_and_coats_are_counted_once_each() -> None:
    made = example("mill-house")
    pointing = made.facts.at_scope(("front", "repoint"))
    (coat,) = pointing.inside("coat")
    damp, panel = coat.number("kept_damp_days") or 0, pointing.likely("panel_damp_days") or 0
    first, cover = coat.day("placing_start_date"), coat.day("cover_until_date")
    assert first is not None
    assert cover is not None
    # the panel was before; the fillings are damp for as long as their coat, and end before it is laid
    assert days_kept(made, pointing.path) == panel + damp + (cover - first).days + 1


def test_a_work_without_dates_counts_the_days_that_its_coat_is_damped_or_covered() -> None:
    made = job(one_wall(start_date=None))
    (coat,) = made.facts.at_scope(made.facts.at("work")[0].path).inside("coat")
    work = made.facts.at_scope(coat.path[:2])
    kept = max(coat.number(name) or 0 for name in ("kept_damp_days", "kept_covered_days"))
    assert days_kept(made, work.path) == kept + (work.likely("panel_damp_days") or 0)


def test_a_log_of_more_days_than_a_sheet_has_lines_has_a_second_sheet_and_one_of_fewer_has_none() -> None:
    made = example("mill-house")
    heading = part(made, "curing-record", "site-records").heading
    found, few = logs(made), set[bool]()
    for scope in made.facts.at("work"):
        place = made.filling.place(scope.path)
        if f"{heading}: {place}" not in found:
            continue
        days, second = days_kept(made, scope.path), f"{heading}, second sheet: {place}"
        few.add(days <= LINES_OF_A_SHEET)
        assert (second in found) == (days > LINES_OF_A_SHEET), place
        assert found[f"{heading}: {place}"] + found.get(second, 0) >= min(days, 2 * LINES_OF_A_SHEET), place
    assert few == {True, False}
