"""Numbers of an answers file that are in inches, feet, gallons: read in the unit of their question."""

from __future__ import annotations

from decimal import Decimal

import pytest
from helpers import low_high, read

from generator.questionnaire.questions import Question
from generator.questionnaire.reading import read_value
from generator.values import Value


def value(name: str, kind: str, text: str) -> tuple[Value | None, list[str]]:
    source = read(f"{name}: {text}")
    asked = Question(name=name, scope="project", kind=kind, label=name, why="", least=Decimal(0), most=Decimal(9000))  # type: ignore[arg-type]
    return read_value(asked, source.data[name], (name,), source), [str(problem) for problem in source.problems]


@pytest.mark.parametrize(
    ("name", "kind", "text", "expected"),
    [
        ("unit_length_mm", "number", "8-1/2 in", Decimal("215.9")),
        ("unit_height_mm", "number", "'2 1/4 inches'", Decimal("57.2")),
        ("height_m", "number", "20 ft 6 in", Decimal("6.248")),
        ("face_area_m2", "number", "646 sq ft", Decimal("60.02")),
        ("gauge_box_l", "number", "1/2 cu ft", Decimal("14.158")),
        ("tank_l", "number", "5 gal", Decimal("18.927")),
        ("joint_width_mm", "range", "3/8 in", low_high("9.5", "9.5")),
        ("joint_width_mm", "range", "3/8 to 1/2 in", low_high("9.5", "12.7", "11.1")),
        ("joint_width_mm", "range", "8 - 12", low_high("8", "12", "10")),
    ],
)
def test_a_measure_in_customary_units_is_taken_in_the_unit_asked_for(
    name: str, kind: str, text: str, expected: Value
) -> None:
    assert value(name, kind, text) == (expected, [])


@pytest.mark.parametrize("text", ["8 mm", "about 3/8 in", "3 lb", "in", "3/8 in and more"])
def test_what_is_none_is_refused_as_before(text: str) -> None:
    found, problems = value("unit_length_mm", "number", text)
    assert found is None
    assert "write a number alone" in problems[0]
