"""The photograph of the garden-front example: marked where it was drawn, reckoned to what was drawn, and small."""

from __future__ import annotations

import pytest
from garden_picture import DOOR, FILE, WORN, seen
from jobs import example

from generator.values import Range

MARKED = {area.letter: area for area in example("garden-front").photographs[0].picture.asked.areas}


def true_m2(ring: tuple[tuple[float, float], ...]) -> float:
    twice = sum(ring[n - 1][0] * y - x * ring[n - 1][1] for n, (x, y) in enumerate(ring))
    return abs(twice) / 2e6


@pytest.mark.parametrize("letter", WORN)
def test_each_area_is_marked_where_the_wall_was_drawn_worn(letter: str) -> None:
    drawn = [tuple(seen(*spot)) for spot in WORN[letter]]
    for spot, place in zip(MARKED[letter].outline, drawn, strict=True):
        assert spot == pytest.approx(place, abs=1e-3)


def test_the_reference_is_the_door() -> None:
    reference = example("garden-front").photographs[0].picture.asked.asked.reference
    assert reference is not None
    assert [float(side or 0) for side in (reference.width_mm, reference.height_mm)] == list(DOOR[2:])


def test_the_area_reckoned_holds_the_one_that_was_drawn() -> None:
    found = example("garden-front").facts.get(("garden-front", "repoint"), "marked_area_m2")
    assert isinstance(found, Range)
    truth = sum(map(true_m2, WORN.values()))
    assert float(found.low) < truth < float(found.high)
    assert abs(float(found.likely) / truth - 1) < 0.02


def test_the_file_is_small() -> None:
    assert FILE.stat().st_size < 150 * 1024
