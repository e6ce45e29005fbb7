"""Why a thing is in the papers or is not, for a person at the terminal."""

from __future__ import annotations

import re

import pytest
from answers_text import answers, one_wall, wall
from jobs import EXAMPLES, ROOT, job

from generator.files.spelling import yaml_text
from generator.job.job import Job
from generator.record.explain import explain, findings_text, near

TWO = answers(wall(id_="a", name="Wall A", asked_binder=None), wall(id_="b", name="Wall B", hardness="hard"))


def test_the_whole_job_has_every_wall() -> None:
    found = explain(job(TWO), "")
    assert found is not None
    assert [entry["element"] for entry in found["elements"]] == ["a", "b"]
    assert found["status"] == "tender"


def test_a_wall_has_its_own_decisions_findings_and_clauses_only() -> None:
    made = job(TWO)
    found = explain(made, "b")
    assert found is not None
    assert found["name"] == "Wall B"
    assert {entry["where"].split("/")[0] for entry in found["considered"]} == {"b"}
    own = [f"{item.level}: {item.message}" for item in made.findings if item.scope[:1] == ("b",)]
    assert found["findings"] == own
    assert any(line.endswith(" raking-out.depth") for line in found["clauses"])
    assert not any("pointing.flint" in line for line in found["clauses"])


def test_a_wall_is_found_by_its_name_and_a_clause_by_its_number_as_printed() -> None:
    made = job(TWO)
    assert explain(made, "wall b") == explain(made, "b")
    number = made.numbers["clause:raking-out.depth"]
    assert explain(made, f"clause {number}") == explain(made, "raking-out.depth")
    lines = {item.ref for item in made.measured.items()}
    alone = next(held for key, held in made.numbers.items() if key.startswith("clause:") and held not in lines)
    assert explain(made, alone) is not None
    assert explain(made, "clause 99.9") is None


def test_a_mix_is_found_in_capitals_or_not() -> None:
    made = job(TWO)
    assert explain(made, "m2") == explain(made, "M2")
    assert (explain(made, "M2") or {})["binder"] == "nhl-3.5"


def every_value(found: object, key: str = "") -> list[tuple[str, dict[str, object]]]:
    """Every value that an explanation tells with a reason, by name."""
    if isinstance(found, list):
        return [item for inner in found for item in every_value(inner)]
    if not isinstance(found, dict):
        return []
    own = [(key, found)] if {"value", "reason"} <= set(found) else []
    return own + [item for name, inner in found.items() for item in every_value(inner, name)]


EXAMPLES_SAID = [job(path.read_text(encoding="utf-8")) for path in EXAMPLES]
NAMES_ITSELF = {"coat"}


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_every_value_of_every_work_says_how_it_came_about(made: Job) -> None:
    values = every_value(explain(made, ""))
    without = {name for name, value in values if not value["reason"].get("because")}  # type: ignore[attr-defined]
    assert {name.split("/")[-1] for name in without} <= NAMES_ITSELF
    assert len(values) > 15


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_every_figure_of_every_mix_says_how_it_came_about(made: Job) -> None:
    for mix in made.decisions.mixes:
        found = explain(made, mix.ref)
        assert found is not None
        figures = every_value(found["figures"])
        assert all(value["reason"]["because"] for _, value in figures)  # type: ignore[index]
        wanted = {"mix_gauge", "mix_dry_ratio", "mix_boxes", "mix_batch_l", "mix_rest_days", "mix_use_within_hours"}
        slaked = {"mix_steam_l", "mix_water_l", "mix_room_l"} if mix.recipe.making == "hot-mix" else set()
        assert {name for name, _ in figures} >= wanted | slaked
        assert found["order"]
        assert " of mortar in the work, " in found["order_how"]
        assert "%" in found["order_how"]


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_every_line_to_price_says_what_brought_it_in_and_what_its_quantity_was_rounded_from(made: Job) -> None:
    for item in made.measured.items():
        found = explain(made, item.ref)
        assert found is not None
        assert found["description"]
        if item.quantity is not None and item.entry.fixed_quantity is None:
            assert list(found["from"]) == [item.entry.quantity]


def test_a_ratio_on_dry_sand_names_the_gauge_and_the_bulking_it_was_reckoned_from() -> None:
    found = explain(job(one_wall()), "M1")
    assert found is not None
    reason = found["figures"]["mix_dry_ratio"]["reason"]
    assert reason["facts"][0] == "gauge: 1 : 2.5"
    assert "bulking_low 0.15, bulking_likely 0.25, bulking_high 0.3" in reason["facts"][1]
    assert "us-technote-15" in reason["sources"]


def test_what_is_ordered_is_told_with_its_day_and_why() -> None:
    (putty,) = [
        order for order in (explain(job(one_wall()), "programme") or {})["orders"] if "putty" in order["thing"].lower()
    ]
    assert putty["because"] == "Matured putty is made by few and carried far."
    assert re.match(r"20\d\d-\d\d-\d\d\Z", putty["by"])


def test_a_clause_is_explained_whether_it_is_in_or_not() -> None:
    made = job(one_wall())
    there, absent = explain(made, "raking-out.depth"), explain(made, "pointing.flint")
    assert there is not None
    assert absent is not None
    assert (there["included"], absent["included"]) == (True, False)
    assert absent["facts"]


def test_what_is_not_there_is_none_with_the_nearest_that_is() -> None:
    made = job(TWO)
    assert explain(made, "raking-out.dept") is None
    assert near(made, "raking-out.dept").startswith("did you mean 'raking-out.depth', ")


def test_a_wall_is_also_known_by_part_of_its_name_and_a_value_by_its_label() -> None:
    made = job(TWO)
    assert near(made, "wall").startswith("did you mean 'Wall B', 'Wall A', ")
    assert (explain(made, "raking depth") or {})["name"] == "rake_depth_mm"


def test_findings_are_told_with_status_place_action_who_answers_and_lines() -> None:
    made = job(one_wall(wall_wet="soaked", protection=None))
    text = findings_text(made)
    assert text.startswith(f"{made.word('status-draft')}\n")
    for item in made.findings:
        place = "Front wall" if item.scope else made.word("whole-job")
        told = text.partition(f"{item.level}: {item.message} [{item.code}]\n")[2]
        assert re.match(rf"(    .*\n)*    {place}", told)
    assert f"({made.word('answer-by', who='owner')})" in text
    soaked = next(item for item in made.findings if item.code == "wall-soaked")
    assert f"    Front wall: answers.yaml:{soaked.marks[0].line}:" in text


def test_what_is_found_in_several_places_is_told_once() -> None:
    made = job((ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8"))
    (message,) = {item.message for item in made.findings if item.code == "quantities-estimated"}
    places = sum(item.code == "quantities-estimated" for item in made.findings)
    assert places > 5
    told = findings_text(made).partition(message)[2].partition("\nnote:")[0]
    assert len(told.splitlines()[1:]) == places


def test_notes_are_counted_where_they_are_not_told() -> None:
    made = job(one_wall(wall_wet="soaked"))
    text = findings_text(made, notes=False)
    assert "wall-soaked" in text
    assert not any(item.message in text for item in made.findings if item.level == "note")
    codes = {item.code for item in made.findings if item.level == "note"}
    assert f"\n{made.word('notes-left', count=str(len(codes)))}\n" in text


def test_a_note_needs_no_action() -> None:
    made = job(one_wall())
    note = next(item for item in made.findings if item.level == "note")
    assert note.action not in findings_text(made)


def test_a_mix_of_putty_tells_the_lime_in_it_and_how_deep_it_may_have_carbonated_as_an_estimate() -> None:
    found = explain(job(one_wall()), "M1")
    assert found is not None
    assert found["putty"]["band"] == "a litre of 1.30 to 1.45 kg carries 0.54 to 0.82 kg of slaked lime"
    assert found["putty"]["reckoned"].endswith("1.35 kg a litre, within what is taken")
    assert found["carbonation"]["depth"] == "may have carbonated to 9 to 20 mm in 90 days"
    assert "never for acceptance" in found["carbonation"]["how"]


def test_a_mix_of_hydraulic_lime_tells_neither() -> None:
    text = yaml_text(explain(job(TWO), "M2") or {})
    assert "carbonated to" not in text
    assert "putty:" not in text
