"""Answers that cannot both be true are told with both and the lines they stand on; none is chosen for the reader."""

from __future__ import annotations

import pytest
from answers_text import one_wall
from small_library import job

from generator.library.findings import Finding


def told(code: str, **changes: str | None) -> list[Finding]:
    return [item for item in job(one_wall(**changes)).findings if item.code == code]


@pytest.mark.parametrize(
    ("changes", "labels"),
    [
        ({"tender_return_date": "2027-01-05"}, ("Issue date", "Tender return date")),
        ({"query_date": "2027-03-20"}, ("Query date", "Tender return date")),
        ({"finish_date": "2027-05-01"}, ("Start date", "Finish date")),
        ({"start_date": "2027-02-20"}, ("Tender return date", "Start date")),
    ],
)
def test_dates_that_run_the_wrong_way_block_the_set_and_name_both(
    changes: dict[str, str | None], labels: tuple[str, str]
) -> None:
    found = told("dates-contradict", **changes)
    assert any(labels[0] in item.message and labels[1] in item.message for item in found)
    assert all(len(item.marks) == 2 and all(mark.line for mark in item.marks) for item in found)
    assert job(one_wall(**changes)).status == "draft"


def test_a_start_before_the_last_spring_frost_is_a_warning_and_no_block() -> None:
    (found,) = told("start-before-late-frost", start_date="2027-04-12")
    assert found.level == "warning"


@pytest.mark.parametrize("name", ["cement_area_m2", "deep_voids_m2"])
def test_a_part_larger_than_its_face_is_told(name: str) -> None:
    assert told("share-contradicts", **{name: "40"})


def test_a_part_of_the_face_as_large_as_the_treated_share_is_no_contradiction() -> None:
    assert told("share-contradicts", deep_voids_m2="6") == []


@pytest.mark.parametrize(
    ("openings", "raised"), [("{width_m: 4, height_m: 3}", 0), ("{width_m: 2, height_m: 3.1, count_nr: 2}", 1)]
)
def test_openings_larger_than_the_face_they_lie_in_are_told_with_their_area(openings: str, raised: int) -> None:
    found = told("share-contradicts", openings=f"[{openings}]")
    assert len(found) == raised
    assert all("12.4 m²" in item.message and "12 m²" in item.message for item in found)
