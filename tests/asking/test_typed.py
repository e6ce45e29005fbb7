"""What a typed line means: choices by number, word or beginning; numbers with their unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.asking.typed import UNKNOWN, Option, Unclear, chosen, cleaned, meant

HARD = [Option("soft", "soft"), Option("medium", "of middling hardness"), Option("nhl-3.5", "NHL 3.5")]
HARD_OR_UNKNOWN = [*HARD, Option(UNKNOWN, UNKNOWN)]
CAUSES = [Option("gutter", "failed gutter"), Option("flue", "soot and sulphates"), Option("frost", "frost")]


@pytest.mark.parametrize(
    ("typed", "means"),
    [
        ("2", "medium"),
        ("2.", "medium"),
        ("Soft", "soft"),
        ("med", "medium"),
        ("of middling", "medium"),
        ("NHL 3.5", "nhl-3.5"),
        ("nhl_3", "nhl-3.5"),
        ("4", UNKNOWN),
        ("not", UNKNOWN),
        ("Not  Known", UNKNOWN),
        ("no", "no"),  # two letters are too few for `not known`: the reader refuses them
        ("5", "5"),
        ("granite", "granite"),
        ("²", "²"),
    ],
)
def test_a_choice_is_known_by_number_word_or_beginning_and_else_left_for_the_reader(typed: str, means: str) -> None:
    assert chosen(HARD_OR_UNKNOWN, typed) == means


def test_a_beginning_of_several_is_unclear_and_a_whole_word_is_not() -> None:
    words = [Option("firm", "firm"), Option("firm-wet", "firm but wet")]
    assert chosen(words, "fi") == Unclear(("firm", "firm-wet"))
    assert chosen(words, "firm") == "firm"


@pytest.mark.parametrize(
    ("typed", "means"),
    [
        ("gutter", ["gutter"]),
        ("1, 3", ["gutter", "frost"]),
        ("1 3", ["gutter", "frost"]),
        ("gut; frost and flue", ["gutter", "frost", "flue"]),
        ("soot and sulphates", ["flue"]),
        ("none", []),
        ("f, 1", Unclear(("flue", "frost", "gutter"))),
        ("moss, 1", ["moss", "gutter"]),
    ],
)
def test_several_choices_are_parted_by_commas_blanks_or_and(typed: str, means: object) -> None:
    assert meant("choices", CAUSES, "", typed) == means


def test_not_known_stands_alone_for_a_list_of_choices() -> None:
    assert meant("choices", [*CAUSES, Option(UNKNOWN, UNKNOWN)], "", "4") == UNKNOWN


@pytest.mark.parametrize(("typed", "means"), [("y", "yes"), ("N", "no"), ("not", UNKNOWN), ("1", "1")])
def test_yes_and_no_by_their_beginning(typed: str, means: str) -> None:
    assert meant("yes_no", [Option(UNKNOWN, UNKNOWN)], "", typed) == means


@pytest.mark.parametrize(
    ("unit", "typed", "means"),
    [
        ("mm", "8 - 12mm", "8 - 12"),
        ("mm", "8 - 12 (10) MM", "8 - 12 (10)"),
        ("m²", "64 m2", "64"),
        ("m²", "64 m²", "64"),
        ("%", "40 per cent", "40"),
        ("mm", "8mm - 12mm", "8 - 12"),
        ("mm", "12 cm", "120"),
        ("mm", "0.8 - 1.2 cm (1)", "8 - 12 (10)"),
        ("m", "5500 mm", "5.5"),
        ("mm", "5 m", "5000"),
        ("mm", "8 mm - 1.2 cm", "8 - 12"),
        ("mm", "12 m2", "12 m2"),
        ("m²", "12 m", "12 m"),
        ("weeks", "12 mm", "12 mm"),
        ("", "12 mm", "12 mm"),
    ],
)
def test_a_number_may_be_typed_with_its_own_unit_or_a_length_in_another(unit: str, typed: str, means: str) -> None:
    assert meant("range", [], unit, typed) == means


@pytest.mark.parametrize(
    ("typed", "means"),
    [
        ("1 March 2027", "2027-03-01"),
        ("1st of March, 2027", "2027-03-01"),
        ("Mar 31, 2027", "2027-03-31"),
        ("1 Sept. 2027", "2027-09-01"),
        ("2027/3/1", "2027-03-01"),
        ("2027-03-01", "2027-03-01"),
        ("31 June 2027", "2027-06-31"),  # the reader tells that there is no such day
        ("1/3/2027", "1/3/2027"),
        ("1 Marsh 2027", "1 Marsh 2027"),
        ("March 2027", "March 2027"),
        ("about 20 October", "about 20 October"),
    ],
)
def test_a_date_may_be_typed_in_words_and_one_that_can_be_read_two_ways_is_left_for_the_reader(
    typed: str, means: str
) -> None:
    assert meant("date", [], "", typed) == means


@pytest.mark.parametrize("line", ["a\x1b[Db", "a\x00", "caf\udce9", "a\ufeffb", "\x7f", "\u202ewall"])
def test_keys_and_bytes_that_are_no_text_are_refused(line: str) -> None:
    assert cleaned(line) is None


def test_white_space_of_every_kind_is_evened_out() -> None:
    assert cleaned("\t old\u00a0 sill \r") == "old sill"


@given(st.text(), st.sampled_from(["choice", "choices", "yes_no", "number", "text"]))
def test_no_line_breaks_the_reading(line: str, kind: str) -> None:
    text = cleaned(line)
    if text is not None:
        assert isinstance(meant(kind, CAUSES, "mm", text), str | list | Unclear)
