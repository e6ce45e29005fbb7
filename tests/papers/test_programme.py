"""The dates of the programme in words."""

from __future__ import annotations

import re

from jobs import EXAMPLES, example
from told_papers import specification

from generator.document.model import plain_text
from generator.papers.mix_schedule import mix_schedule

NAMES = [path.parent.name for path in EXAMPLES]


def test_waits_in_working_days_are_told_apart_from_those_in_days() -> None:
    found = example("mill-house")
    days, worked = longer_waits("mill-house").split("; in working days: ")
    kinds = {task.label: task.kind for task in found.programme.tasks()}
    assert kinds["causes put right under the sum, and proved"] == "hold"
    assert "causes put right under the sum, and proved" in worked
    assert not any(label in days for label, kind in kinds.items() if kind == "hold")


def test_what_was_reckoned_is_told_in_paragraphs_of_one_subject_each() -> None:
    for name in NAMES:
        text = specification(name)
        told = text[text.index("From the start on ") :].partition("\n[table]")[0].splitlines()
        opened = ["From the start on ", *["The slowest waits longer"] * (len(told) - 2), "Gangs at once, "]
        assert [line[: len(start)] for line, start in zip(told, opened, strict=True)] == opened
        assert not any(line != line.strip() for line in told)
    assert len(told) == 3


def longer_waits(name: str) -> str:
    (told,) = re.finditer(r"The slowest waits longer, by 4 days or more (.*?)\.\n", specification(name))
    return told[1]


def test_a_wait_that_is_longer_by_few_days_than_its_sheet_tells_is_not_told() -> None:
    found = example("mill-house")
    (coat,) = (view for view in found.facts.views("coat") if view.text("coat") == "render-base")
    assert coat.number("next_coat_days") > coat.number("wait_days")  # type: ignore[operator]
    assert "base coat stiffens" not in longer_waits("mill-house")  # 10 in place of 9, though its thumb test is on day 7


def test_a_wait_that_is_longer_by_other_days_elsewhere_names_its_mixes() -> None:
    told = longer_waits("mill-house")
    covered = re.findall(r"kept covered \((.*?)\)", told)
    assert len(covered) == len(set(covered)) > 2
    assert "kept covered" not in re.sub(r"kept covered \(", "", told)
    assert "dubbing hardens 14" in told


def test_the_day_on_which_the_mixing_place_is_set_up_is_told_in_the_programme_and_where_mixes_hang() -> None:
    for name in NAMES:
        found = example(name)
        set_up, made = found.facts.at_scope(()).day("mixing_set_up_date"), []
        for one in found.programme.tasks():
            if one.entry in ("panel-coat", "colour", "lay", "stuff-cools", "stuff-rests"):
                made.append(one.start)
        assert set_up is not None
        assert set_up < min(made), name
        day = found.facts.say("start_date", set_up)
        assert f"The mixing place is set up {day}." in specification(name)
        assert f"Set this place up: {day}." in plain_text(mix_schedule(found).set_up)


def test_two_paces_of_an_operation_on_one_wall_name_its_works() -> None:
    text = specification("mill-house")
    lines = re.findall(r"^preparing the face: (.*?) \|", text, re.M)
    assert len(lines) == len(set(lines)) == 2
    assert all("Rear wall, " in line for line in lines)


def test_no_operation_stands_twice_among_the_outputs_without_its_walls_and_a_gangs_output_says_so() -> None:
    table = specification("toll-house").partition("[table] Outputs ")[2].partition("\n[table]")[0]
    rows = [line.split(" | ") for line in table.splitlines()[2:]]
    access = [operation for operation, *_ in rows if operation.startswith("access put up")]
    assert access == ["access put up: Front wall; Rubble gable", "access put up: Chimney stack, from 4 days"]
    assert [output for operation, output, *_ in rows if operation.startswith("raking and filling")] == [
        "gang: 2 m²",
        "gang: 2.5 m²",
    ]
