"""Sands on offer: what lies outside the published envelope, and voids that the lime of a mix does not fill."""

from __future__ import annotations

import re

import pytest
from answers_text import one_wall
from jobs import job as shipped_job
from jobs import shipped
from small_library import job

from generator.decide.sands import grading
from generator.library.findings import Finding

OLD = '"4 100, 2 88, 1 66, 0.5 40, 0.25 17, 0.125 6"'
PIT = "4 100, 2 90, 1 70, 0.5 42, 0.25 14, 0.125 4"
GRIT = "4 80, 2 40, 1 20, 0.5 8, 0.25 3, 0.125 1"


def told(code: str, *sands: str, **changes: str | None) -> list[Finding]:
    text = one_wall(old_sand_passing=OLD, sands_on_offer=f"[{', '.join(sands)}]", **changes)
    return [item for item in job(text).findings if item.code == code]


def offer(passing: str, name: str = "pit", water_ml: str | None = None) -> str:
    voids = f", void_water_ml: {water_ml}" if water_ml is not None else ""
    return f'{{name: {name}, passing: "{passing}"{voids}}}'


def test_a_sand_within_the_envelope_of_bs_1200_is_not_told() -> None:
    assert told("sand-outside-envelope", offer(PIT)) == []


def test_a_sand_outside_the_envelope_is_a_note_that_names_it_alone_and_the_sieves() -> None:
    (found,) = told("sand-outside-envelope", offer(PIT), offer(GRIT, "grit"))
    assert found.level == "note"
    assert found.message.startswith("sand-outside-envelope message grit ")
    # between 2 and 4 mm by the logarithm of size, 49.6; what passes 4 mm is 80, so 5 mm is out of reach
    assert "sand-outside 50 2.36 90 100" in found.message
    assert "sand-outside 100 5 " not in found.message
    assert "sand-fineness 4.5" in found.message  # 20 + 60 + 80 + 92 + 97 + 99 per cent held
    assert [mark.line > 0 for mark in found.marks] == [True]


def blended(*sands: str) -> str:
    made = job(one_wall(old_sand_passing=OLD, sands_on_offer=f"[{', '.join(sands)}]"))
    return made.facts.spoken(("front",), "sand_blend")


def test_a_blend_tells_the_sieves_that_not_every_sand_was_sieved_on() -> None:
    assert blended(offer(PIT), offer(GRIT, "grit")) == "sand-blend box-of 1 pit 4 1"
    short = blended(offer(PIT), offer("4 80, 2 40, 1 20, 0.5 8", "grit"))
    assert short.endswith("sand-blend-left-out 0.125 and 0.25")


def test_a_sand_not_sieved_to_the_finest_is_told_without_a_fineness() -> None:
    (found,) = told("sand-outside-envelope", offer("4 80, 2 40, 1 20"))
    assert "fineness" not in found.message


@pytest.mark.parametrize(("water_ml", "raised"), [("490", 0), ("510", 1)])
def test_voids_that_the_lime_does_not_fill_are_a_warning(water_ml: str, raised: int) -> None:
    # 1 : 2.5 damp at 25 per cent bulking is 2 parts of dry sand, which fill at voids of a half
    found = told("sand-voids-unfilled", offer(PIT, water_ml=water_ml))
    assert len(found) == raised
    assert all(item.level == "warning" and " 2 " in f"{item.message} " for item in found)


def test_quicklime_fills_what_it_slakes_to() -> None:
    rubble: dict[str, str | None] = {
        "masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 40 (25)", "unit_length_mm": None,
        "unit_width_mm": None, "unit_height_mm": None, "bond": None, "joint_finish": "as-found",
    }  # fmt: skip
    assert told("sand-voids-unfilled", offer(PIT, water_ml="590"), **rubble) == []


def test_a_sand_whose_voids_nobody_measured_is_not_guessed_at() -> None:
    assert told("sand-voids-unfilled", offer(PIT)) == []


@pytest.mark.parametrize("water_ml", ["0", "150", "700", "1000"])
def test_voids_that_no_sand_has_are_told_where_the_sands_are_blended(water_ml: str) -> None:
    assert len(told("grading-not-read", offer(PIT, water_ml=water_ml))) == 1
    assert told("sand-voids-unfilled", offer(PIT, water_ml=water_ml)) == []


def test_american_papers_hold_sands_against_the_limits_of_their_own_standard() -> None:
    british, american = (
        shipped().row("sand-envelope", language=language).passing("passing") for language in ("en-gb", "en-us")
    )
    # 0.6 mm: BS 1200 as quoted by IS 2116; ASTM C144, natural sand, from memory
    assert [limits[3] for limits in (british, american)] == [(0.6, 40, 100), (0.6, 40, 75)]
    coarse = offer("5 100, 2.36 92, 1.18 72, 0.6 50, 0.3 20, 0.15 3")
    assert told_in("en-gb", coarse) == []
    assert ["ASTM C144" in message for message in told_in("en-us", coarse)] == [True]


def told_in(language: str, sand: str) -> list[str]:
    text = one_wall(old_sand_passing=OLD, sands_on_offer=f"[{sand}]").replace(
        "project:", f"project:\n  language: {language}", 1
    )
    return [found.message for found in shipped_job(text).findings if found.code == "sand-outside-envelope"]


@pytest.mark.parametrize("name", ["old_sand_passing", "sands_on_offer"])
def test_a_grading_written_as_the_questions_show_it_is_read(name: str) -> None:
    (shown,) = re.findall(r"[0-9.]+ mm [0-9]+%(?:, [0-9.]+ mm [0-9]+%)+", shipped().questionnaire.questions[name].how)
    assert grading(shown).sieves_mm == (0.125, 0.25, 0.5, 1.0, 2.0, 4.0)
