"""The register of names: units, and who sees whom."""

from __future__ import annotations

import pytest
from helpers import choice, names, of_kind

from generator.questionnaire.names import SCOPES, a_scope, below, visible_from


@pytest.mark.parametrize(
    ("kind", "name", "unit"),
    [
        ("number", "face_area_m2", "m²"),
        ("range", "joint_width_mm", "mm"),
        ("range", "treated_per_cent", "%"),
        ("number", "hair_kg_per_m3", "kg/m³"),
        ("number", "damp_days", "days"),
        ("number", "contingency", ""),
        ("text", "height_m", ""),
        ("date", "issue_date", ""),
    ],
)
def test_the_unit_is_the_end_of_the_name_of_a_number(kind: str, name: str, unit: str) -> None:
    assert of_kind(kind, name).unit == unit


@pytest.mark.parametrize(
    ("scope", "outward", "inward"),
    [
        ("project", ("project",), ("element", "work", "coat")),
        ("element", ("project", "element"), ("work", "coat")),
        ("work", ("project", "element", "work"), ("coat",)),
        ("coat", ("project", "element", "work", "coat"), ()),
        ("mix", ("project", "mix"), ()),
    ],
)
def test_a_scope_sees_outward_and_looks_inward_by_asking(
    scope: str, outward: tuple[str, ...], inward: tuple[str, ...]
) -> None:
    assert visible_from(scope) == outward
    assert below(scope) == inward


def test_no_scope_sees_the_mixes_but_a_mix() -> None:
    assert [scope for scope in SCOPES if "mix" in visible_from(scope) + below(scope)] == ["mix"]


def test_a_scope_is_said_with_its_article() -> None:
    assert [a_scope(scope) for scope in SCOPES] == ["a project", "an element", "a work", "a coat", "a mix"]


def test_the_register_gives_a_name_by_name_and_keeps_the_order() -> None:
    register = names(choice("work", "work", "repoint"), of_kind("number", "height_m"))
    assert list(register) == ["work", "height_m"]
    assert len(register) == 2
    assert register["work"].choices == {"repoint": "repoint"}
    assert "width_m" not in register
