# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Conditions: the language, its three values, and what is a mistake when the library loads."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest
from helpers import choice, facts, low_high, names, of_kind
from hypothesis import given
from hypothesis import strategies as st

from generator.questionnaire.condition import Both, Compare, Condition, IsTrue, Known, Node, Not, Within
from generator.questionnaire.names import Names
from generator.questionnaire.parsing import ConditionError, parse
from generator.questionnaire.scopes import ScopePath
from generator.values import NOT_KNOWN, Value

NAMES = names(
    of_kind("yes_no", "lived_in", "project"),
    of_kind("date", "start_date", "project"),
    of_kind("number", "lowest_c", "project"),
    of_kind("text", "place", "project"),
    choice("masonry", "element", "brick", "rubble", "squared-rubble"),
    of_kind("range", "joint_width_mm", "element"),
    of_kind("number", "height_m", "element"),
    of_kind("choices", "decay_causes", "element", choices={"gutter": "gutter", "salts": "salts"}),
    of_kind("records", "openings", "element"),
    of_kind("texts", "features", "element"),
    choice("work", "work", "repoint", "render"),
    choice("binder", "coat", "putty", "nhl-5"),
    choice("mix_making", "mix", "putty", "hot-mix"),
)


def refusal(text: str, scope: str = "element", known: Names = NAMES) -> str:
    """What is said of a condition that is refused."""
    with pytest.raises(ConditionError) as caught:
        parse(text, scope, known)
    return str(caught.value)


class TestRefused:
    """A mistake is told when the condition is parsed, whatever the answers would have made of it."""

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("masonary == 'brick'", "names 'masonary', which is no question and no reckoned value: did you mean 'masonry'?"),
            ("lived_in or masonary == 'brick'", "names 'masonary', which is no question and no reckoned value: did you mean 'masonry'?"),
            ("known(masonary)", "names 'masonary', which is no question and no reckoned value: did you mean 'masonry'?"),
            ("any(wrok == 'repoint')", "names 'wrok', which is no question and no reckoned value: did you mean 'work'?"),
            ("masonry == 'brik'", "has 'brik', which is no choice of 'masonry': did you mean 'brick'?"),
            ("masonry in ['brick', 'stone']", "has 'stone', which is no choice of 'masonry': use one of: brick, rubble, squared-rubble"),
            ("'guter' in decay_causes", "has 'guter', which is no choice of 'decay_causes': did you mean 'gutter'?"),
            ("masonry = 'brick'", "is not a condition: write == to compare"),
            ("masonry == 'brick' && lived_in", "is not a condition: write and, or, not"),
            ("!lived_in", "is not a condition: write and, or, not"),
            ("masonry == 'brick", "is not a condition: write it like: masonry == 'brick' and joint_width_mm >= 8"),
            ("masonry ==", "is not a condition: write it like: masonry == 'brick' and joint_width_mm >= 8"),
            ("", "is not a condition: write it like: masonry == 'brick' and joint_width_mm >= 8"),
            ("masonry == brick", "compares 'masonry' with the name 'brick': put it in quotes if it is a word: 'brick'"),
            ("8 <= joint_width_mm <= 12", "chains comparisons: join two comparisons with and"),
            ("8 <= joint_width_mm", "does not start with a name: write name, comparison, value"),
            ("masonry is 'brick'", "compares with 'is': write == or !="),
            ("masonry > 'brick'", "orders 'masonry', which is a choice: use == or in"),
            ("masonry in 'brick'", "mixes a list and a single value: use in with a list, == with a single value"),
            ("masonry == ['brick']", "mixes a list and a single value: use in with a list, == with a single value"),
            ("masonry in []", "compares 'masonry' with an empty list: name at least one value"),
            ("masonry", "has 'masonry' alone, but it is a choice: compare it with a value, or write known(masonry)"),
            ("masonry == 3", "compares 'masonry' with a number, but it is a choice: write a 'word' in quotes"),
            ("height_m >= '3'", "compares the number 'height_m' with a word: write the number without quotes"),
            ("height_m >= True", "compares 'height_m' with something that is not a plain value: write a number or a 'word'"),
            ("height_m >= 1e400", "compares 'height_m' with a number out of all measure: mend the number"),
            ("lived_in == 'yes'", "compares the yes/no question 'lived_in': write lived_in, or not lived_in"),
            ("decay_causes == ['guter']", "has 'guter', which is no choice of 'decay_causes': did you mean 'gutter'?"),
            ("decay_causes == 'gutter'", "compares the list of choices 'decay_causes': write 'word' in decay_causes"),
            ("features == ['x']", "compares the list of texts 'features': write 'word' in features"),
            ("openings == 'x'", "compares the list of records 'openings': write known(openings)"),
            ("'x' in masonry", "looks inside 'masonry', which is a choice: write masonry == …"),
            ("start_date >= '1 March'", "compares the date 'start_date' with something that is no date: write it like '2027-03-01'"),
            ("known('masonry')", "asks known(…) of more than a name: write known(name)"),
            ("any()", "calls something: only any(…), none(…) and known(name) can be called"),
            ("len(masonry) > 3", "does not start with a name: write name, comparison, value"),
            ("__import__('os')", "calls something: only any(…), none(…) and known(name) can be called"),
            ("masonry.upper == 'BRICK'", "does not start with a name: write name, comparison, value"),
            ("height_m >= ''.__class__", "compares 'height_m' with something that is not a plain value: write a number or a 'word'"),
            ("height_m >= 9**9**9", "compares 'height_m' with something that is not a plain value: write a number or a 'word'"),
            ("height_m >= 'a'*10**8", "compares 'height_m' with something that is not a plain value: write a number or a 'word'"),
            ("height_m + 1 > 3", "does not start with a name: write name, comparison, value"),
            ("9**9**9", "has something that is not part of the language: compare names with values"),
            ("[x for x in masonry]", "has something that is not part of the language: compare names with values"),
            ("lambda: 1", "has something that is not part of the language: compare names with values"),
            ("f'{masonry}' == 'x'", "does not start with a name: write name, comparison, value"),
            ("height_m > 3if lived_in else 2", "is not a condition: write it like: masonry == 'brick' and joint_width_mm >= 8"),
        ],
    )  # fmt: skip
    def test_with_what_to_do(self, text: str, said: str) -> None:
        assert refusal(text) == said

    @pytest.mark.parametrize(
        "text",
        [
            "not " * 400 + "lived_in",
            "(" * 900 + "lived_in" + ")" * 900,
            " and ".join(["lived_in"] * 1_000),
            "height_m > " + "9" * 1_900,
            "height_m > " + "9" * 10_000,
            "height_m > " + "-" * 1_900 + "9",
            "a" * 1_000_000,
            "lived_in\0",
        ],
        ids=lambda text: f"{text[:12]}… {len(text)}",
    )
    def test_huge_and_deep_inputs_end_in_a_refusal(self, text: str) -> None:
        assert refusal(text)

    def test_the_place_is_the_part_that_is_wrong(self) -> None:
        with pytest.raises(ConditionError) as caught:
            parse("lived_in and masonry in ['brick', 'brik']", "element", NAMES)
        assert caught.value.caret().splitlines() == [
            "    lived_in and masonry in ['brick', 'brik']",
            "                                      ~~~~~~",
        ]

    def test_the_place_counts_characters_and_not_bytes(self) -> None:
        with pytest.raises(ConditionError) as caught:
            parse("place == 'Größe 🧱' and masonry == 'x'", "element", NAMES)
        assert caught.value.column == "place == 'Größe 🧱' and masonry == 'x'".index("'x'") + 1

    def test_the_place_of_a_syntax_error_is_kept(self) -> None:
        with pytest.raises(ConditionError) as caught:
            parse("masonry == 'brick' and and lived_in", "element", NAMES)
        assert caught.value.column == 24


class TestScopes:
    """A name is looked up outward; inward needs any or none."""

    @pytest.mark.parametrize(
        ("text", "scope"),
        [
            ("lived_in", "project"),
            ("lived_in", "coat"),
            ("masonry == 'brick'", "element"),
            ("masonry == 'brick'", "work"),
            ("masonry == 'brick' and work == 'repoint'", "coat"),
            ("any(masonry == 'brick')", "project"),
            ("none(work == 'render')", "element"),
            ("any(binder == 'nhl-5')", "project"),
            ("any(masonry == 'brick' and binder == 'nhl-5')", "project"),
            ("mix_making == 'putty' and lived_in", "mix"),
        ],
    )
    def test_visible(self, text: str, scope: str) -> None:
        assert str(parse(text, scope, NAMES)) == text

    @pytest.mark.parametrize(
        ("text", "scope", "said"),
        [
            ("masonry == 'brick'", "project", "reads 'masonry' of an element from a project: wrap it in any(…) or none(…), or ask it per element"),
            ("binder == 'putty'", "work", "reads 'binder' of a coat from a work: wrap it in any(…) or none(…), or ask it per coat"),
            ("masonry == 'brick'", "mix", "reads 'masonry' of an element from a mix: ask it per element"),
            ("mix_making == 'putty'", "work", "reads 'mix_making' of a mix from a work: ask it per mix"),
            ("any(masonry == 'brick')", "work", "looks inside a work for nothing that lies inside it: take any(…) or none(…) off"),
            ("any(lived_in)", "project", "looks inside a project for nothing that lies inside it: take any(…) or none(…) off"),
            ("none(binder == 'putty')", "mix", "looks inside a mix for nothing that lies inside it: take any(…) or none(…) off"),
        ],
    )  # fmt: skip
    def test_not_visible(self, text: str, scope: str, said: str) -> None:
        assert refusal(text, scope) == said


def verdict(text: str, value: Value | None, name: str = "joint_width_mm") -> bool | None:
    """What a condition of an element comes to with one answer, or none."""
    job = facts(NAMES, {("front",): {} if value is None else {name: value}})
    return parse(text, "element", NAMES).evaluate(job, ("front",)).holds


class TestThreeValues:
    """Absent, not known, or a range that straddles the limit make a comparison unknown."""

    @pytest.mark.parametrize(
        ("text", "value", "holds"),
        [
            ("joint_width_mm >= 8", low_high("8", "12"), True),
            ("joint_width_mm > 8", low_high("8", "12"), None),
            ("joint_width_mm >= 10", low_high("8", "12"), None),
            ("joint_width_mm >= 13", low_high("8", "12"), False),
            ("joint_width_mm <= 12", low_high("8", "12"), True),
            ("joint_width_mm < 12", low_high("8", "12"), None),
            ("joint_width_mm < 8", low_high("8", "12"), False),
            ("joint_width_mm == 10", low_high("8", "12"), None),
            ("joint_width_mm == 8", low_high("8", "12"), None),
            ("joint_width_mm == 20", low_high("8", "12"), False),
            ("joint_width_mm != 10", low_high("8", "12"), None),
            ("joint_width_mm != 20", low_high("8", "12"), True),
            ("joint_width_mm in [8, 12]", low_high("8", "12"), None),
            ("joint_width_mm in [20, 30]", low_high("8", "12"), False),
            ("joint_width_mm not in [9, 30]", low_high("8", "12"), None),
            ("joint_width_mm == 10", low_high("10", "10"), True),
            ("joint_width_mm == 10.0", low_high("10", "10"), True),
            ("joint_width_mm in [10, 12]", low_high("10", "10"), True),
            ("joint_width_mm != 10", low_high("10", "10"), False),
            ("joint_width_mm >= 8", None, None),
            ("joint_width_mm >= 8", NOT_KNOWN, None),
            ("not joint_width_mm >= 8", NOT_KNOWN, None),
            ("not joint_width_mm >= 10", low_high("8", "12"), None),
            ("known(joint_width_mm)", low_high("8", "12"), True),
            ("known(joint_width_mm)", NOT_KNOWN, False),
            ("known(joint_width_mm)", None, False),
            ("not known(joint_width_mm)", None, True),
        ],
    )
    def test_a_range(self, text: str, value: Value | None, holds: bool | None) -> None:
        assert verdict(text, value) is holds

    @pytest.mark.parametrize(
        ("text", "name", "value", "holds"),
        [
            ("masonry == 'brick'", "masonry", "brick", True),
            ("masonry != 'brick'", "masonry", "brick", False),
            ("masonry in ['brick', 'rubble']", "masonry", "rubble", True),
            ("masonry not in ['brick', 'rubble']", "masonry", "squared-rubble", True),
            ("'gutter' in decay_causes", "decay_causes", ("salts", "gutter"), True),
            ("'gutter' not in decay_causes", "decay_causes", ("salts",), True),
            ("'gutter' in decay_causes", "decay_causes", (), False),
            ("decay_causes == ['gutter']", "decay_causes", ("gutter",), True),
            ("decay_causes == ['gutter', 'salts']", "decay_causes", ("salts", "gutter"), True),
            ("decay_causes != ['gutter']", "decay_causes", ("salts", "gutter"), True),
            ("decay_causes != ['gutter']", "decay_causes", NOT_KNOWN, None),
            ("decay_causes != []", "decay_causes", ("salts",), True),
            ("decay_causes == []", "decay_causes", (), True),
            ("features != []", "features", ("a carved head",), True),
            ("features != []", "features", (), False),
            ("features != []", "features", NOT_KNOWN, None),
            ("'gutter' in decay_causes", "decay_causes", NOT_KNOWN, None),
            ("height_m > 6.5", "height_m", Decimal("6.6"), True),
            ("lived_in", "lived_in", False, False),
            ("lowest_c >= -5", "lowest_c", Decimal(-4), True),
            ("start_date < '2027-10-01'", "start_date", datetime.date(2027, 9, 30), True),
            ("start_date in ['2027-09-30']", "start_date", datetime.date(2027, 9, 30), True),
        ],
    )
    def test_other_kinds(self, text: str, name: str, value: Value, holds: bool | None) -> None:
        assert verdict(text, value, name) is holds

    TABLE = (
        (True, True, True, True), (True, False, False, True), (True, None, None, True),
        (False, True, False, True), (False, False, False, False), (False, None, False, None),
        (None, True, None, True), (None, False, False, None), (None, None, None, None),
    )  # fmt: skip

    @pytest.mark.parametrize(("left", "right", "both", "either"), TABLE)
    def test_and_and_or_follow_the_table_of_three_values(
        self, left: bool | None, right: bool | None, both: bool | None, either: bool | None
    ) -> None:
        known = names(of_kind("yes_no", "left"), of_kind("yes_no", "right"))
        given_ = {name: value for name, value in (("left", left), ("right", right)) if value is not None}
        job = facts(known, {("front",): given_})
        assert parse("left and right", "element", known).evaluate(job, ("front",)).holds is both
        assert parse("left or right", "element", known).evaluate(job, ("front",)).holds is either

    @pytest.mark.parametrize(
        ("first", "second", "any_", "none_"),
        [
            ("brick", "rubble", True, False),
            ("brick", None, True, False),
            ("rubble", "rubble", False, True),
            ("rubble", None, None, None),
            (None, NOT_KNOWN, None, None),
        ],
    )
    def test_any_and_none_over_the_walls(
        self, first: Value | None, second: Value | None, any_: bool | None, none_: bool | None
    ) -> None:
        walls = {("a",): first, ("b",): second}
        job = facts(NAMES, {path: {"masonry": v} if v is not None else {} for path, v in walls.items()})
        assert parse("any(masonry == 'brick')", "project", NAMES).evaluate(job, ()).holds is any_
        assert parse("none(masonry == 'brick')", "project", NAMES).evaluate(job, ()).holds is none_

    def test_any_of_no_scopes_is_false_and_none_is_true(self) -> None:
        job = facts(NAMES, {("a",): {}})
        assert parse("any(work == 'render')", "project", NAMES).evaluate(job, ()).holds is False
        assert parse("none(work == 'render')", "project", NAMES).evaluate(job, ()).holds is True

    def test_any_looks_only_inside_its_own_scope(self) -> None:
        job = facts(NAMES, {("a",): {}, ("a", "x"): {"work": "repoint"}, ("b",): {}, ("b", "x"): {"work": "render"}})
        rendered = parse("any(work == 'render')", "element", NAMES)
        assert rendered.evaluate(job, ("a",)).holds is False
        assert rendered.evaluate(job, ("b",)).holds is True

    def test_the_innermost_answer_counts(self) -> None:
        known = names(of_kind("yes_no", "wet", "project"))
        job = facts(known, {(): {"wet": True}, ("a",): {"wet": False}, ("b",): {}})
        wet = parse("wet", "element", known)
        assert [wet.evaluate(job, (wall,)).holds for wall in "ab"] == [False, True]


class TestFacts:
    def test_each_comparison_comes_back_with_what_it_rests_on(self) -> None:
        job = facts(NAMES, {("a",): {"masonry": "brick", "joint_width_mm": low_high("8", "12")}})
        found = parse("masonry == 'brick' and (joint_width_mm > 10 or lived_in)", "element", NAMES)
        assert [str(fact) for fact in found.evaluate(job, ("a",)).facts] == [
            "masonry == 'brick' [masonry: brick]: yes",
            "joint_width_mm > 10 [joint_width_mm: 8–12 mm]: unknown",
            "lived_in [lived_in: not answered]: unknown",
        ]

    def test_no_comparison_is_left_out_when_another_decides(self) -> None:
        job = facts(NAMES, {("a",): {"masonry": "brick"}})
        found = parse("masonry == 'brick' or height_m > 3 or lived_in", "element", NAMES)
        assert [fact.holds for fact in found.evaluate(job, ("a",)).facts] == [True, None, None]

    def test_the_names_it_reads(self) -> None:
        found = parse("any(work == 'render') or not (lived_in and known(masonry))", "element", NAMES)
        assert found.names() == {"work", "lived_in", "masonry"}


def _leaves() -> st.SearchStrategy[Node]:
    number = st.decimals(min_value=-9_999, max_value=9_999, places=2, allow_nan=False)
    words = st.lists(st.sampled_from(["brick", "rubble"]), min_size=1, max_size=2).map(tuple)
    return st.one_of(
        st.builds(Compare, st.just("masonry"), st.sampled_from(["==", "!="]), st.just("brick")),
        st.builds(Compare, st.just("masonry"), st.sampled_from(["in", "not in"]), words),
        st.builds(Compare, st.just("height_m"), st.sampled_from(["<", "<=", ">", ">=", "==", "!="]), number),
        st.builds(Compare, st.just("decay_causes"), st.just("has"), st.sampled_from(["gutter", "salts"])),
        st.builds(Compare, st.just("features"), st.just("has"), st.text("ab'\"\\é🧱", max_size=6)),
        st.builds(Compare, st.just("start_date"), st.just("<"), st.dates()),
        st.builds(IsTrue, st.just("lived_in")),
        st.builds(Known, st.sampled_from(["masonry", "openings"])),
        st.builds(
            Within,
            st.sampled_from(["any", "none"]),
            st.just("work"),
            st.just(Compare("work", "==", "render")),
        ),
    )


def _branches(inner: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    parts = st.lists(inner, min_size=2, max_size=3).map(tuple)
    return st.builds(Not, inner) | st.builds(Both, st.sampled_from(["and", "or"]), parts)


@given(st.recursive(_leaves(), _branches, max_leaves=12))
def test_what_is_printed_parses_back_to_the_same(node: Node) -> None:
    assert parse(str(Condition("", "element", node)), "element", NAMES).node == node


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("masonry=='brick'", "masonry == 'brick'"),
        ('masonry == "brick"', "masonry == 'brick'"),
        ("masonry in ('brick', 'rubble')", "masonry in ['brick', 'rubble']"),
        ("not (lived_in)", "not lived_in"),
        ("'gutter' not in decay_causes", "not 'gutter' in decay_causes"),
        (
            "lived_in and masonry == 'brick' or height_m > 3",
            "(lived_in and masonry == 'brick') or height_m > 3",
        ),
        ("masonry == 'brick'\n  and lived_in", "masonry == 'brick' and lived_in"),
        ("height_m >= 1e3", "height_m >= 1000.0"),
    ],
)
def test_printing(written: str, printed: str) -> None:
    condition = parse(written, "element", NAMES)
    assert str(condition) == printed
    assert parse(printed, "element", NAMES).node == condition.node


def _many_walls() -> dict[ScopePath, dict[str, Value]]:
    """More walls than a column has values, of all that answers can be: given, not known, left out, low to high."""
    walls: dict[ScopePath, dict[str, Value]] = {(): {"lived_in": True, "start_date": datetime.date(2027, 3, 1)}}
    heights: tuple[Value, ...] = (*map(Decimal, range(-70, 70)), NOT_KNOWN)
    causes: tuple[Value, ...] = (NOT_KNOWN, (), ("gutter",), ("salts", "gutter"))
    for number, height in enumerate(heights):
        wall = walls[(f"w{number}",)] = {"height_m": height, "decay_causes": causes[number % 4]}
        wall |= {"masonry": ("brick", "rubble", NOT_KNOWN)[number % 3]} if number % 5 else {}
        wall |= {"features": ("a",), "openings": ({"kind": "door"},), "lived_in": False} if number % 7 == 0 else {}
        for place, work in enumerate(("repoint", "render", NOT_KNOWN)[: number % 4]):
            walls[f"w{number}", f"k{place}"] = {"work": work}
    return walls


MANY = facts(NAMES, _many_walls())


@given(st.recursive(_leaves(), _branches, max_leaves=12), st.booleans())
def test_asked_of_all_walls_at_once_it_holds_where_it_holds_of_each(node: Node, unknown: bool) -> None:
    condition = Condition("", "element", node)
    for level in ("project", "element", "work"):
        alone = {scope.path: condition.holds(MANY, scope.path) for scope in MANY.at(level)}
        assert condition.where(MANY, level, unknown=unknown) == tuple(
            path for path, holds in alone.items() if (unknown if holds is None else holds)
        )
