"""Facts: values by scope and name, looked up outward, added to and never changed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from helpers import choice, facts, low_high, names, of_kind

from generator.questionnaire.facts import Facts, Held, Scope
from generator.values import NOT_KNOWN

NAMES = names(
    of_kind("yes_no", "lived_in", "project"),
    choice("masonry", "element", "brick", "rubble"),
    of_kind("choices", "causes", choices={"gutter": "failed gutter", "salts": "salts"}),
    of_kind("range", "joint_width_mm"),
    of_kind("number", "depth_mm", "work"),
)


def job() -> Facts:
    """Two walls; the first has two works."""
    return facts(
        NAMES,
        {
            (): {"lived_in": True},
            ("front",): {"masonry": "brick", "joint_width_mm": low_high("8", "12")},
            ("front", "low"): {"depth_mm": Decimal(25)},
            ("front", "high"): {"depth_mm": NOT_KNOWN},
            ("rear",): {"masonry": "rubble"},
        },
    )


class TestLookingOutward:
    def test_a_work_sees_its_element_and_the_project(self) -> None:
        assert job().get(("front", "low"), "masonry") == "brick"
        assert job().get(("front", "low"), "lived_in") is True

    def test_a_wall_does_not_see_another_nor_its_works(self) -> None:
        assert job().held(("rear",), "joint_width_mm") is None
        assert job().held(("front",), "depth_mm") is None

    def test_not_known_is_held_but_gives_no_value(self) -> None:
        held = job().held(("front", "high"), "depth_mm")
        assert held == Held(NOT_KNOWN)
        assert held is not None
        assert not held.known
        assert job().get(("front", "high"), "depth_mm") is None

    def test_the_home_of_a_value_is_where_it_was_given(self) -> None:
        assert job().home(("front", "low"), "lived_in") == ()
        assert job().home(("front", "low"), "masonry") == ("front",)


class TestSaying:
    @pytest.mark.parametrize(
        ("path", "name", "said"),
        [
            (("front",), "joint_width_mm", "8–12 mm"),
            (("front", "low"), "depth_mm", "25 mm"),
            (("front", "high"), "depth_mm", "not known"),
            (("front",), "lived_in", "yes"),
            (("rear",), "joint_width_mm", ""),
        ],
    )
    def test_a_value_with_its_unit(self, path: tuple[str, ...], name: str, said: str) -> None:
        assert job().spoken(path, name) == said

    def test_choices_by_what_they_say(self) -> None:
        assert job().say("causes", ("gutter", "salts")) == "failed gutter and salts"


class TestScopes:
    def test_inside_are_the_scopes_of_a_level_in_order(self) -> None:
        assert [s.path for s in job().inside((), "work")] == [("front", "low"), ("front", "high")]
        assert [s.path for s in job().inside(("front",), "element")] == [("front",)]
        assert job().inside(("rear",), "work") == []

    def test_the_path_is_cut_to_a_level(self) -> None:
        assert job().ancestor(("front", "low"), "element") == ("front",)
        assert job().ancestor(("front", "low"), "project") == ()

    def test_the_title_names_element_and_work(self) -> None:
        assert job().title(("front", "low")) == "front, low"
        assert job().title(()) == "job"


class TestAdding:
    def test_makes_new_facts_and_leaves_the_old(self) -> None:
        before = job()
        after = before.adding(("rear",), {"joint_width_mm": low_high("10", "10")}, "<decide>")
        assert before.held(("rear",), "joint_width_mm") is None
        held = after.held(("rear",), "joint_width_mm")
        assert held is not None
        assert held.origin == "<decide>"
        assert after.get(("rear",), "masonry") == "rubble"

    def test_an_undeclared_name_is_a_mistake_of_the_program(self) -> None:
        with pytest.raises(KeyError, match="'width' is not declared"):
            job().adding(("rear",), {"width": Decimal(1)}, "<decide>")

    def test_scopes_can_be_added(self) -> None:
        coat = Scope(("rear", "low", "first"), "coat", "first")
        assert job().with_scopes([coat]).at("coat") == [coat]

    def test_every_value_can_be_walked(self) -> None:
        assert [(path, name) for path, name, _ in job().every()] == [
            ((), "lived_in"),
            (("front",), "masonry"),
            (("front",), "joint_width_mm"),
            (("front", "low"), "depth_mm"),
            (("front", "high"), "depth_mm"),
            (("rear",), "masonry"),
        ]
