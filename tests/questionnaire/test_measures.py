"""Measures as people write them: what is read in one way is taken, what is not comes back as ways to choose from."""

from __future__ import annotations

import pytest

from generator.questionnaire.measures import Face, Opening, Ways, face, measured, net_m2


@pytest.mark.parametrize(
    ("unit", "kind", "text", "taken"),
    [
        ("mm", "number", "3/8 in", "9.5"),  # 3/8 of 25.4
        ("mm", "number", '3/8"', "9.5"),
        ("mm", "range", "3/8 - 1/2 in (7/16)", "9.5 - 12.7 (11.1)"),
        ("mm", "range", "8-12mm", "8 - 12"),
        ("mm", "range", "10 to 12 mm", "10 - 12"),
        ("mm", "range", "8 mm – 12 mm (10 mm)", "8 - 12 (10)"),
        ("mm", "range", "1 - 2 cm", "10 - 20"),
        ("mm", "number", "1 cm", "10"),
        ("mm", "number", "2½ in", "63.5"),
        ("m", "number", "10 ft 6 in", "3.2"),  # 3.2004
        ("m", "number", "10' 6\"", "3.2"),
        ("m", "number", "6 1/2", "6.5"),
        ("m", "number", "6½ m", "6.5"),
        ("m", "number", "650 cm", "6.5"),
        ("m", "number", "3 m 20 cm", "3.2"),
        ("m²", "number", "72 sq m", "72"),
        ("m²", "number", "72 m2", "72"),
        ("m²", "number", "72 square metres", "72"),
        ("m²", "number", "72 sq ft", "6.69"),  # 72 × 0.09290304
        ("m²", "number", "10 sq yd", "8.36"),  # 10 × 0.83612736
        ("%", "range", "½", "0.5"),
    ],
)
def test_a_measure_comes_over_into_the_unit_of_its_question(unit: str, kind: str, text: str, taken: str) -> None:
    assert measured(unit, kind, text) == taken


@pytest.mark.parametrize(
    ("unit", "text"),
    [("mm", "tall"), ("mm", "1/0"), ("m", "6 kg"), ("mm", "8 - 12 sq m"), ("m²", "72 m"), ("m", "6 in 2 ft"),
        ("l", "4"), ("mm", ""), ("mm", "8 - - 12")],
)  # fmt: skip
def test_what_is_no_measure_is_left_as_it_is(unit: str, text: str) -> None:
    assert measured(unit, "range", text) is None


@pytest.mark.parametrize(
    ("kind", "text", "ways"),
    [
        ("range", "about 10", ("8 - 12 (10)", "5 - 15 (10)", "10")),
        ("range", "~10 mm", ("8 - 12 (10)", "5 - 15 (10)", "10")),
        ("number", "c. 10", ("10",)),
        ("range", "8,5", ("8.5", "5 - 8")),
        ("number", "8,5", ("8.5",)),
    ],
)
def test_what_may_be_read_in_several_ways_asks_back(kind: str, text: str, ways: tuple[str, ...]) -> None:
    found = measured("mm", kind, text)
    assert isinstance(found, Ways)
    assert found.ways == ways


@pytest.mark.parametrize(
    ("text", "found", "net"),
    [
        ("6 x 4.5", Face("27"), "27"),
        ("6 × 4.5 m", Face("27"), "27"),
        ("6 x 4.5 ft", Face("2.51"), "2.51"),  # both in feet: 27 × 0.09290304
        ("20 ft x 15 ft 6 in", Face("28.8"), "28.8"),
        ("6 x 4.5 - 2 windows 1.1 x 1.6", Face("27", (Opening("1.1", "1.6", 2),)), "23.48"),
        ("6 by 4 less door 1 x 2.1 - 3 windows of 0.9 x 1.2",
            Face("24", (Opening("1", "2.1", 1), Opening("0.9", "1.2", 3))), "18.66"),
    ],
)  # fmt: skip
def test_an_area_by_its_sides_tells_its_openings_apart(text: str, found: Face, net: str) -> None:
    assert face(text) == found
    assert net_m2(found) == net


@pytest.mark.parametrize(
    "text", ["72", "6 x", "x 4", "6 x 4 x 2", "6 x 4 - 2", "6 x 4 - a window", "six x four", "0 x 4"]
)
def test_what_is_no_area_by_its_sides_is_none(text: str) -> None:
    assert face(text) is None
