"""Facts: values by scope and name, looked up outward, added to and never changed."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from decimal import Decimal

import pytest
from helpers import choice, facts, low_high, names, of_kind, questions

from generator.files.errors import InputInvalid, Mark
from generator.library.needed import NeededNames
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import Held, Scope
from generator.values import NOT_KNOWN, Value

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


HELD: dict[str, tuple[str, Value]] = {
    "masonry": ("choice", "brick"),
    "note": ("text", "as found"),
    "plan": ("file", "plan.png"),
    "causes": ("choices", ("gutter", "salts")),
    "lines": ("texts", ("one", "two")),
    "depth_mm": ("number", Decimal(25)),
    "joint_width_mm": ("range", low_high("8", "12")),
    "start_date": ("date", datetime.date(2027, 3, 1)),
    "lived_in": ("yes_no", False),
}
READERS: dict[str, tuple[Callable[[View, str], object], tuple[str, ...]]] = {
    "text": (View.text, ("choice", "text", "file")),
    "texts": (View.texts, ("choices", "texts")),
    "number": (View.number, ("number",)),
    "span": (View.span, ("range",)),
    "day": (View.day, ("date",)),
    "yes": (View.yes, ("yes_no",)),
    "records": (View.records, ("records",)),
}
NOTHING: dict[str, object] = {"text": "", "texts": (), "records": ()}
BY_KIND = names(*(of_kind(kind, name) for name, (kind, _) in HELD.items()))
OPENINGS, OPENING_NAMES = questions(
    """\
    - name: openings
      scope: element
      kind: records
      label: Openings
      why: They are taken off.
      fields: [{name: width_m, kind: number, label: Width}, {name: shape, label: Shape}]
    """
)


def seen(value: Value | None, name: str) -> View:
    """One wall for which a name is answered, or nothing."""
    answered = {} if value is None else {name: value}
    return facts(BY_KIND if name in BY_KIND else OPENING_NAMES, {("front",): answered}).at_scope(("front",))


class TestReading:
    @pytest.mark.parametrize("reader", READERS)
    @pytest.mark.parametrize("name", HELD)
    def test_a_name_is_read_as_what_it_is_declared_and_as_nothing_else(self, reader: str, name: str) -> None:
        read, kinds = READERS[reader]
        kind, value = HELD[name]
        if kind in kinds:
            assert read(seen(value, name), name) == value
        else:
            with pytest.raises(TypeError, match=f"'{name}' is declared a {kind}, and read as a"):
                read(seen(value, name), name)

    @pytest.mark.parametrize("reader", [reader for reader in READERS if reader != "records"])
    @pytest.mark.parametrize("value", [None, NOT_KNOWN], ids=["absent", "not known"])
    def test_what_nobody_knows_is_nothing(self, reader: str, value: Value | None) -> None:
        read, kinds = READERS[reader]
        for name, (kind, _) in HELD.items():
            if kind in kinds:
                assert read(seen(value, name), name) == NOTHING.get(reader)

    def test_a_name_read_as_what_it_is_not_is_a_mistake_in_a_library_that_declares_it_so(self) -> None:
        library_names = NeededNames(Mark("clauses"), BY_KIND)
        with pytest.raises(InputInvalid, match="clauses: 'depth_mm' is declared a number, and read as a date"):
            facts(library_names, {("front",): {}}).at_scope(("front",)).day("depth_mm")

    def test_a_value_that_is_not_of_its_kind_is_told_where_it_is_read(self) -> None:
        with pytest.raises(TypeError, match="'depth_mm' is 'deep', which is no Decimal"):
            seen("deep", "depth_mm").number("depth_mm")

    def test_records_are_read_column_by_column(self) -> None:
        listed: Value = ({"width_m": Decimal(2), "shape": "round"}, {})
        wide, bare = seen(listed, "openings").records("openings")
        assert (wide.number("width_m"), wide.text("shape")) == (Decimal(2), "round")
        assert (bare.number("width_m"), bare.text("shape")) == (None, "")
        with pytest.raises(TypeError, match="'width_m' is declared a number, and read as a choice"):
            wide.text("width_m")
        with pytest.raises(KeyError):
            wide.number("height_m")

    def test_no_records_are_read_where_nobody_answered(self) -> None:
        assert seen(None, "openings").records("openings") == ()


class TestSeenFromAScope:
    def test_it_looks_outward(self) -> None:
        low = job().at_scope(("front", "low"))
        assert low.text("masonry") == "brick"
        assert low.yes("lived_in") is True
        assert low.spoken("joint_width_mm") == "8–12 mm"

    def test_not_known_is_not_known_whoever_asks(self) -> None:
        assert job().at_scope(("front", "low")).known("depth_mm")
        assert not job().at_scope(("front", "high")).known("depth_mm")

    def test_it_sees_what_lies_in_it_and_around_it(self) -> None:
        front = job().at_scope(("front",))
        assert [view.path for view in front.inside("work")] == [("front", "low"), ("front", "high")]
        assert [view.around("element").path for view in front.inside("work")] == [("front",), ("front",)]
