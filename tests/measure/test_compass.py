from __future__ import annotations

import pytest

from generator.measure.compass import POINTS, Facing, facing

EIGHT = {
    "north": 0, "north-east": 45, "east": 90, "south-east": 135, "south": 180, "south-west": 225, "west": 270,
    "north-west": 315,
}  # fmt: skip


@pytest.mark.parametrize(("answer", "degrees"), EIGHT.items())
def test_a_point_is_understood_however_it_is_written(answer: str, degrees: float) -> None:
    letters = "".join(word[0] for word in answer.split("-"))
    for spelt in (answer, answer.upper(), answer.replace("-", " "), answer.replace("-", ""), letters, f"{letters}.",
                  ".".join(letters), f"facing {answer}", f"to the {answer}", f"{answer} facing"):  # fmt: skip
        assert facing(spelt) == Facing((degrees,)), spelt


def test_the_points_between_and_bearings_are_understood() -> None:
    assert facing("north-north-west") == facing("NNW") == Facing((337.5,))
    assert facing("135°") == facing("135 degrees") == facing("south-east")
    assert facing("360°") == facing("north")
    assert len({facing(point) for point in POINTS}) == 16


def test_what_faces_several_ways_has_each_once_and_what_stands_free_has_none() -> None:
    assert facing("north and east") == facing("N, E") == facing("north / east and north") == Facing((0.0, 90.0))
    for answer in ("all sides", "all", "All four sides", "all round", "every side"):
        assert facing(answer) == Facing(all_round=True)


@pytest.mark.parametrize(
    "answer", ["", "the street", "north, and the yard", "sw corner", "north-south", "400°", "135", "seaward", "nothing"]
)
def test_what_tells_no_way_or_only_half_is_not_guessed_at(answer: str) -> None:
    assert facing(answer) is None
