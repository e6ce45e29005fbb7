"""Customary units: each metric value as it is said in the United States, rounded as a person there would."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.questionnaire import customary
from generator.questionnaire.customary import UNITS, mixed, spelling_of
from generator.values import DAY_MONTH_YEAR, METRIC, Customs, Range, spoken

HERE = spelling_of(UNITS, "month-day-year")
PINT = pint.UnitRegistry(non_int_type=Decimal)


def said(value: str, unit: str, kind: str = "") -> str:
    low, _, high = value.partition(" - ")
    likely = Decimal(low)
    amount = Range(likely, likely, Decimal(high)) if high else likely
    return HERE.amount(amount, unit, Customs(kind))


# Worked by hand from the exact factors and the rules of rounding, before the program was there.
@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("2", "1/16 inch (2 mm)"), ("3", "1/8 inch"), ("4", "3/16 inch (4 mm)"), ("5", "3/16 inch"), ("6", "1/4 inch"),
        ("7", "1/4 inch"), ("8", "5/16 inch"), ("10", "3/8 inch"), ("12", "1/2 inch"), ("15", "5/8 inch"),
        ("20", "3/4 inch"), ("25", "1 inch"), ("30", "1-1/4 inches"), ("35", "1-3/8 inches"), ("40", "1-1/2 inches"),
        ("50", "2 inches"), ("75", "3 inches"), ("100", "4 inches"), ("150", "6 inches"), ("300", "12 inches"),
        ("600", "24 inches"), ("900", "3 ft"), ("6 - 10", "1/4 to 3/8 inch"), ("0.5", "0.020 inch"),
    ],
)  # fmt: skip
def test_a_length_that_is_asked_for_is_on_a_mark_of_the_rule(value: str, told: str) -> None:
    assert said(value, "mm") == told


@pytest.mark.parametrize(
    ("value", "unit", "told"),
    [
        ("215", "mm", "8-1/2 inches"), ("65", "mm", "2-1/2 inches"), ("12", "mm", "1/2 inch"),
        ("2.4", "m", "7 ft 10-1/2 inches"), ("6.1", "m", "20 ft"),
        ("5.2", "m", "17 ft 1/2 inch"),
    ],
)  # fmt: skip
def test_a_length_that_was_measured_is_rounded_as_a_tape_is_read(value: str, unit: str, told: str) -> None:
    assert said(value, unit, "measured") == told


@pytest.mark.parametrize(
    ("value", "unit", "kind", "told"),
    [
        ("60", "m²", "", "646 sq ft"), ("24", "m²", "", "258 sq ft"), ("0.5", "m²", "", "5-1/2 sq ft"),
        ("0.35", "m³", "", "12.4 cu ft"), ("14.158423296", "l", "volume", "1/2 cu ft"),
        ("600", "ml", "", "2-1/2 cups"), ("9", "l", "down", "2-1/4 gal"), ("9", "l", "up", "2-1/2 gal"),
        ("100", "g", "", "3-1/2 oz"), ("200", "g", "", "7 oz"), ("5", "g", "", "5 g"), ("25", "kg", "", "55 lb"),
        ("25", "kg", "both", "55 lb (25 kg)"), ("650", "kg/m³", "", "41 lb per cu ft"),
        ("1600", "kg/m³", "", "100 lb per cu ft"), ("5", "kg/m³", "hair", "8-1/2 lb per cu yd"),
        ("4", "kg/m³", "hair", "6-1/2 lb per cu yd"), ("5", "°C", "", "41 °F"), ("8", "°C", "", "46 °F"),
        ("30", "°C", "", "86 °F"), ("35", "°C", "", "95 °F"), ("3", "°C", "difference", "5 °F"),
        ("5", "°C", "difference", "9 °F"), ("5 - 30", "°C", "", "41 to 86 °F"), ("3.5", "N/mm²", "", "510 psi"),
        ("10", "N/mm²", "", "1,500 psi"), ("17.19", "m/m²", "", "5.24 ft per sq ft"),
        ("10", "l/m²", "", "3.3 cu ft per 100 sq ft"), ("3", "m²/day", "", "32 sq ft a day"),
        ("123.4", "m", "run", "405 ft"), ("3", "days", "", "3 days"), ("2", "mm", "metric", "2 mm"),
    ],
)  # fmt: skip
def test_each_quantity_has_its_unit_and_its_rounding(value: str, unit: str, kind: str, told: str) -> None:
    assert said(value, unit, kind) == told


def test_a_published_figure_goes_before_what_would_be_reckoned() -> None:
    rule = Customs("", ((Decimal(5), "40 °F"), (Decimal(35), "95 °F")))
    assert HERE.amount(Decimal(5), "°C", rule) == "40 °F"
    assert HERE.amount(Range(Decimal(5), Decimal(20), Decimal(35)), "°C", rule) == "40 to 95 °F"
    assert HERE.amount(Decimal(8), "°C", rule) == "46 °F"
    assert METRIC.amount(Decimal(5), "°C", rule) == "5 °C"


# Worked by hand: 5 °C are 41 °F, 8 are 46.4; 15 mm are 0.591 inch; 1 m is 39.4 inches, 2 m 78.7; 1 kg is 2.205 lb.
@pytest.mark.parametrize(
    ("value", "unit", "kind", "told"),
    [
        ("5", "°C", "up", "41 °F"), ("8", "°C", "up", "47 °F"), ("28", "°C", "down", "82 °F"),
        ("15", "mm", "down", "9/16 inch"), ("25", "mm", "down", "15/16 inch"), ("25", "mm", "up", "1 inch"),
        ("2", "mm", "down", "1/16 inch (2 mm)"), ("1", "m", "up", "3-1/2 ft"), ("2", "m", "up", "7 ft"),
        ("10", "m", "up", "33 ft"), ("1", "kg", "up", "2-1/2 lb"), ("1", "kg", "down", "2 lb"),
        ("200", "g", "up", "7-1/2 oz"), ("400 - 1000", "mm", "up", "16 to 42 inches"),
        ("400 - 1000", "mm", "down", "15 to 39 inches"), ("0.25 - 3", "m", "down", "9-1/2 to 114 inches"),
    ],
)  # fmt: skip
def test_a_limit_is_rounded_to_its_safe_side(value: str, unit: str, kind: str, told: str) -> None:
    assert said(value, unit, kind) == told


@given(st.decimals("1.6", 5000, places=1), st.sampled_from(["up", "down"]))
def test_no_limit_of_length_slackens(mm: Decimal, kind: str) -> None:
    inches = customary.rule_inches(Fraction(mm), kind)
    slack = inches * Fraction("25.4") - Fraction(mm)
    assert slack >= 0 if kind == "up" else slack <= 0


@pytest.mark.parametrize(
    ("factor", "one", "in_"),
    [
        (customary.MM_PER_INCH, "inch", "mm"), (customary.M2_PER_SQ_FT, "foot ** 2", "m ** 2"),
        (customary.L_PER_CU_FT, "foot ** 3", "liter"), (customary.L_PER_GAL, "gallon", "liter"),
        (customary.KG_PER_LB, "pound", "kg"), (customary._PSI_PER_MPA, "megapascal", "psi"),
    ],
)  # fmt: skip
def test_factors_are_those_of_pint(factor: object, one: str, in_: str) -> None:
    found = PINT.Quantity(Decimal(1), one).to(in_).magnitude
    assert float(str(found)) == pytest.approx(float(factor), rel=1e-12)  # type: ignore[arg-type]


@given(st.decimals("0.1", 5000, places=1))
def test_a_length_asked_for_lies_within_six_per_cent_or_has_the_metric_beside_it(mm: Decimal) -> None:
    told = said(str(mm), "mm")
    number, unit = told.split(" ")[:2]
    whole, _, fraction = number.rpartition("-") if "/" in number else (number, "", "0/1")
    above, _, below = fraction.partition("/")
    inches = (float(whole or 0) + float(above) / float(below)) * (12 if unit == "ft" else 1)
    off = abs(inches * 25.4 / float(mm) - 1)
    assert off <= 0.10 or "mm)" in told or mm < Decimal("1.5")


@given(st.decimals(0, 10_000, places=2))
def test_an_area_is_priced_as_it_is_told(m2: Decimal) -> None:
    quantity = HERE.quantity(m2, "m²")
    assert HERE.priced(quantity, HERE.unit("m²")) == said(str(m2), "m²")
    assert abs(float(quantity) * 0.09290304 - float(m2)) <= 0.5 * 0.09290304 + 1e-9


def test_counts_are_figures_with_a_stroke_and_no_signs() -> None:
    counts = [Decimal(count) for count in ("0.5", "1.25", "2", "3.75")]
    assert [HERE.count(count) for count in counts] == ["1/2", "1-1/4", "2", "3-3/4"]
    assert mixed(Fraction(0)) == "0"


@given(st.decimals(min_value="0.001", max_value=5000, places=6), st.sampled_from(["kg", "l"]))
def test_what_is_bought_is_told_as_no_less_than_is_needed_and_at_most_a_step_more(need: Decimal, unit: str) -> None:
    here = spelling_of(UNITS, DAY_MONTH_YEAR)
    told = here.ordered(float(need), unit, up=True)
    step_lb_or_gal = Fraction(1) if unit == "l" or need > 4 else Fraction(1, 2)
    step = step_lb_or_gal * (customary.KG_PER_LB if unit == "kg" else customary.L_PER_GAL)
    assert Fraction(need) - step / 500 <= Fraction(told) < Fraction(need) + step
    said = here.amount(told, unit, Customs("gallons"))
    assert said == here.amount(told + Decimal("0.0000001"), unit, Customs("gallons")), "halfway between two steps"


@pytest.mark.parametrize(
    ("need", "unit", "told"),
    [("50.0", "kg", "111 lb"), ("50.3487", "kg", "111 lb"), ("3.0", "kg", "7 lb"), ("40", "l", "11 gal"),
     ("4", "l", "1-1/4 gal"), ("0.2", "kg", "7-1/2 oz"), ("453.59237", "kg", "1000 lb")],
)  # fmt: skip
def test_an_order_in_pounds_and_gallons_goes_up_to_the_next_step(need: str, unit: str, told: str) -> None:
    here = spelling_of(UNITS, DAY_MONTH_YEAR)
    ordered = here.ordered(float(need), unit, up=True)
    assert here.amount(ordered, unit, Customs("gallons")).replace(",", "") == told


def test_sizes_that_are_chosen_are_those_that_are_made() -> None:
    box = Customs("volume", (), Decimal("7.079211648"))
    assert HERE.native(Decimal(14), box) == Decimal("14.158423296")
    assert HERE.amount(HERE.native(Decimal(14), box), "l", box) == "1/2 cu ft"
    assert METRIC.native(Decimal(14), box) == Decimal(14)


def test_units_in_words_and_before_what_they_measure() -> None:
    assert HERE.in_full(Decimal(30), "l", Customs("both")) == "8 gallons (30 l)"
    assert HERE.in_full(Decimal(1), "l") == "1 quart"
    assert [METRIC.in_full(Decimal(count), "l") for count in (1, 2)] == ["1 litre", "2 litres"]
    assert HERE.before(said("300", "mm")) == "12-inch"
    assert HERE.drawn(Decimal(25)) == "1 in."


def test_spellings_are_one_for_each_pair_of_units_and_dates() -> None:
    assert spelling_of("", DAY_MONTH_YEAR) == METRIC
    assert spelling_of(UNITS, "iso") is spelling_of(UNITS, "iso")
    assert spoken(Decimal(25), "mm", HERE) == "1 inch"


@pytest.mark.parametrize(
    ("mm", "told"),
    # sizes of EN 13139 are sieves of their own in ASTM E11; what has none keeps to a narrower one, or stands alone
    [("1", "1 mm (No. 18)"), ("2", "2 mm (No. 10)"), ("4", "4 mm (No. 5)"), ("0.5", "0.5 mm (No. 35)"),
     ("3", "No. 7"), ("5", "No. 4"), ("0.8", "0.8 mm"), ("8", "8 mm"), ("0", "0 mm")],
)  # fmt: skip
def test_a_sieve_stands_beside_a_size_of_its_own_in_place_of_a_wider_one_and_is_never_wider(mm: str, told: str) -> None:
    assert HERE.amount(Decimal(mm), "mm", Customs("sieve")) == told


def test_sides_and_gauges_are_in_fractions_of_one_form() -> None:
    assert HERE.size([Decimal(228), Decimal(108), Decimal(63)]) == "9 x 4-1/4 x 2-1/2 inches"
    assert [HERE.parts(Decimal(parts)) for parts in ("2.5", "3", "2.2")] == ["2-1/2", "3", "2.2"]
