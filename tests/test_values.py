"""Quantities and ranges: how they are held, rounded, and said to a reader."""

from __future__ import annotations

import copy
import datetime
import pickle
from dataclasses import dataclass
from decimal import Decimal

import pytest
from helpers import low_high
from hypothesis import given
from hypothesis import strategies as st

from generator.values import (
    NOT_KNOWN,
    MonthDay,
    NotKnown,
    Range,
    Spelling,
    Value,
    date_spoken,
    joined,
    plain,
    replace,
    rounded,
    rounded_up,
    spoken,
    total,
    unit_of,
    unparted,
)


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("joint_width_mm", "mm"),
        ("face_area_m2", "m²"),
        ("mortar_l_per_m2", "l/m²"),
        ("joint_length_m_per_m2", "m/m²"),
        ("hair_kg_per_m3", "kg/m³"),
        ("treated_per_cent", "%"),
        ("lowest_c", "°C"),
        ("title", ""),
        ("m2", ""),
        ("mm", ""),
    ],
)
def test_the_longest_ending_that_is_a_unit_is_the_unit(name: str, unit: str) -> None:
    assert unit_of(name) == unit


class TestRange:
    def test_runs_low_likely_high(self) -> None:
        with pytest.raises(ValueError, match="low, likely, high"):
            low_high("12", "8")
        with pytest.raises(ValueError, match="low, likely, high"):
            low_high("8", "12", "13")

    def test_scales_all_three(self) -> None:
        assert low_high("8", "12", "9").times(Decimal(2)) == low_high("16", "24", "18")

    def test_is_single_when_low_and_high_meet(self) -> None:
        assert low_high("8", "8").single
        assert not low_high("8", "8.1").single

    def test_serves_floats_too(self) -> None:
        assert Range(1.0, 1.5, 2.0).times(2.0) == Range(2.0, 3.0, 4.0)

    def test_each_of_its_three_is_reckoned_alike_and_falls_in_order(self) -> None:
        assert Range(1.0, 1.5, 2.0).each(lambda value: Decimal(str(value + 1))) == Range(
            Decimal("2.0"), Decimal("2.5"), Decimal("3.0")
        )
        with pytest.raises(ValueError, match="runs low, likely, high"):
            Range(1.0, 1.5, 2.0).each(lambda value: -value)

    def test_ranges_are_put_together_end_by_end(self) -> None:
        assert total([Range(1.0, 2.0, 4.0), Range(0.5, 0.5, 0.5)], 0.0) == Range(1.5, 2.5, 4.5)
        assert total([], Decimal(0)) == Range(Decimal(0), Decimal(0), Decimal(0))


class TestNotKnown:
    def test_there_is_one_and_it_says_so(self) -> None:
        assert NotKnown() is NOT_KNOWN
        assert copy.deepcopy(NOT_KNOWN) is NOT_KNOWN
        assert pickle.loads(pickle.dumps(NOT_KNOWN)) is NOT_KNOWN
        assert str(NOT_KNOWN) == "not known"


class TestRounding:
    @pytest.mark.parametrize(
        ("value", "digits", "result"),
        [("2.5", 0, "3"), ("-2.5", 0, "-3"), ("2.45", 1, "2.5"), ("2.449", 1, "2.4"), ("7", 2, "7.00")],
    )
    def test_halves_go_away_from_nought(self, value: str, digits: int, result: str) -> None:
        assert rounded(Decimal(value), digits) == Decimal(result)

    def test_a_float_is_rounded_as_it_is_written(self) -> None:
        # in binary 2.675 lies below; a reader sees 2.675 and expects 2.68
        assert rounded(2.675, 2) == Decimal("2.68")

    @pytest.mark.parametrize(
        ("value", "step", "result"),
        [
            ("2.1", "1", "3"),
            ("2", "1", "2"),
            ("2.01", "0.5", "2.5"),
            ("0", "1", "0"),
            ("2.0000005", "1", "2"),
        ],
    )
    def test_up_to_whole_steps(self, value: str, step: str, result: str) -> None:
        assert rounded_up(Decimal(value), Decimal(step)) == Decimal(result)

    @given(st.decimals(0, 10_000, places=3), st.sampled_from(["1", "0.5", "0.25", "25"]))
    def test_up_is_never_less_and_never_a_step_more(self, value: Decimal, step: str) -> None:
        result = rounded_up(value, Decimal(step))
        assert value <= result < value + Decimal(step)
        assert result % Decimal(step) == 0


class TestSaying:
    @pytest.mark.parametrize(
        ("number", "said"),
        [
            ("25", "25"),
            ("0.50", "0.5"),
            ("12500", "12,500"),
            ("1E+3", "1,000"),
            ("0.000001", "0.000001"),
            ("-3.0", "-3"),
            ("100", "100"),
        ],
    )
    def test_a_number_without_exponent_or_idle_noughts(self, number: str, said: str) -> None:
        assert plain(Decimal(number)) == said

    @pytest.mark.parametrize(
        ("value", "unit", "said"),
        [
            (low_high("8", "12"), "mm", "8–12 mm"),
            (low_high("8", "8"), "mm", "8 mm"),
            (low_high("35", "45"), "%", "35–45%"),
            (Decimal(1), "days", "1 day"),
            (Decimal(2), "days", "2 days"),
            (Decimal("0.5"), "hours", "0.5 hours"),
            (Decimal(1), "mm", "1 mm"),
            (True, "", "yes"),
            (False, "", "no"),
            (NOT_KNOWN, "mm", "not known"),
            (datetime.date(2027, 3, 1), "", "1 March 2027"),
            ((), "", "none"),
            (("a",), "", "a"),
            (("a", "b", "c"), "", "a, b and c"),
            (({"ref": "P-01", "title": "Front"}, {"ref": "P-02"}), "", "P-01, Front; P-02"),
            ("as it is", "", "as it is"),
        ],
    )
    def test_any_value_with_its_unit(self, value: Value, unit: str, said: str) -> None:
        assert spoken(value, unit) == said

    @pytest.mark.parametrize(
        ("form", "said"),
        [("day-month-year", "3 April 2027"), ("month-day-year", "April 3, 2027"), ("iso", "2027-04-03")],
    )
    def test_a_date_in_each_form_that_nobody_reads_for_another_day(self, form: str, said: str) -> None:
        day = datetime.date(2027, 4, 3)
        assert date_spoken(day, form) == spoken(day, spelling=Spelling(form)) == said
        assert spoken(({"from": day},), spelling=Spelling(form)) == said

    def test_words_as_a_list_in_a_sentence(self) -> None:
        assert [joined(words) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
            "",
            "a",
            "a and b",
            "a, b and c",
        ]


def test_what_is_the_same_but_for_some_fields_is_made_of_structures_and_of_dataclasses() -> None:
    @dataclass(frozen=True)
    class Pair:
        first: int
        second: int

    assert replace(MonthDay(3, 1), day=31) == MonthDay(3, 31)
    assert replace(Pair(1, 2), second=3) == Pair(1, 3)
    with pytest.raises(ValueError, match="day is out of range"):
        replace(MonthDay(3, 31), month=4)


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("ring 01 555 0142, or", "ring 01~555~0142, or"),
        ("through No. 4, not 5", "through No.~4, not 5"),
        ("216 x 102 x 65 mm", "216~x~102~x~65~mm"),
        ("2 90, 1 70", "2~90, 1~70"),
        ("7 x 5-gallon pails", "7~x~5\u2060-\u2060gallon pails"),
        ("1 July, 2 x y", "1~July, 2 x y"),
        ("1 bulk bag of 800 kg + 4 bags of 25 kg", "1~bulk bag of 800~kg + 4~bags of 25~kg"),
        ("7 tubs, 7 tubular", "7~tubs, 7 tubular"),
        ("5 per cent, five per cent, an upper cent", "5~per~cent, five per~cent, an upper cent"),
    ],
)
def test_a_telephone_number_a_sieve_a_size_a_count_of_bags_and_a_share_are_never_broken_over_a_line(
    text: str, printed: str
) -> None:
    assert unparted(text) == printed.replace("~", "\u00a0")


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("washed sand 0-2, 0-3 and 0-4 mm", "washed sand 0%-%2, 0%-%3 and 0%-%4~mm"),
        ("CL 90-Q to EN 459-1, of BS 1200", "CL~90-Q to EN~459%-%1, of BS~1200"),
        ("from 18 June 2027 – 20 June 2027", "from 18~June 2027 – 20~June 2027"),
        ("by March 1, 2027, or 2027-03-01", "by March~1, 2027, or 2027%-%03%-%01"),
        ("8 Mayors; as clause 3 May 4", "8 Mayors; as clause 3~May~4"),
    ],
)
def test_a_range_of_grains_a_standard_and_a_day_are_never_broken_over_a_line(text: str, printed: str) -> None:
    assert unparted(text) == printed.replace("~", "\u00a0").replace("%", "\u2060")


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("as hatched on P-02, of WE-027; report L-1", "as hatched on P^-^02, of WE^-^027; report L^-^1"),
        ("such as 4 mm / 100%, or 4 mm 91%", "such as 4~mm~/~100%, or 4~mm~91%"),
        ("grain: M1\u00a0●: 3 mm; M10\u00a0∩: ½ box", "grain: M1~●:~3~mm; M10~∩:~½~box"),
        ("Only A. Sample changes a mix. Ask it", "Only A.~Sample changes a mix. Ask it"),
    ],
)
def test_a_reference_a_sieve_and_its_share_a_mix_and_its_figure_and_a_name_are_never_broken_over_a_line(
    text: str, printed: str
) -> None:
    assert unparted(text) == printed.replace("~", "\u00a0").replace("^", "\u2060")
