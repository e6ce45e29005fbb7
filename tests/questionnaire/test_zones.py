"""Zones of an element: each is an element of its own that has the whole wall's answers too."""

from __future__ import annotations

from decimal import Decimal

import pytest
from jobs import ROOT, shipped

from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.pipeline import read
from generator.questionnaire.facts import Facts

ZONED = (ROOT / "tests" / "cases" / "c08.yaml").read_text(encoding="utf-8")


def facts(text: str) -> Facts:
    return read(read_bytes(text.encode(), "answers.yaml", typed=False), shipped())


def problems(text: str) -> list[str]:
    with pytest.raises(InputInvalid) as caught:
        facts(text)
    return [str(problem) for problem in caught.value.problems]


def test_each_zone_is_an_element_named_after_the_wall_and_itself() -> None:
    found = facts(ZONED)
    assert [scope.path for scope in found.at("element")] == [("house-plinth",), ("house-retaining",), ("house-above",)]
    assert found.scopes[("house-plinth",)].title == "Brewery house, plinth below the damp-course"


def test_a_zone_has_its_own_answers_and_those_of_the_wall() -> None:
    found = facts(ZONED)
    assert found.get(("house-above",), "hardness") == "soft"
    assert found.get(("house-above",), "unit_length_mm") == Decimal(225)


def test_a_zone_answers_before_the_wall_does() -> None:
    found = facts(ZONED.replace("    hardness: soft\n", "    hardness: soft\n    exposure: moderate\n"))
    assert found.get(("house-above",), "exposure") == "moderate"
    assert found.get(("house-plinth",), "exposure") == "severe"


def test_an_answer_of_the_wall_keeps_its_line() -> None:
    held = facts(ZONED).held(("house-above",), "exposure")
    assert held is not None
    assert ZONED.splitlines()[held.mark.line - 1].strip() == "exposure: severe"


def test_two_zones_of_one_id_are_refused() -> None:
    assert any("a second time" in line for line in problems(ZONED.replace("id: retaining", "id: plinth")))


def test_works_beside_zones_are_refused() -> None:
    text = ZONED.replace("  zones:\n", "  works:\n  - work: enabling\n  zones:\n")
    assert any("move them into its zones" in line for line in problems(text))


def test_what_neither_the_wall_nor_the_zone_answers_is_lacking() -> None:
    assert any("lacks 'masonry'" in line for line in problems(ZONED.replace("  masonry: brick\n", "")))
