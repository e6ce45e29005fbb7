"""The record and `explain` tell photographs: files by their digests, figures with what they rest on."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from answers_text import one_wall
from jobs import job
from photographed import LEFT, REFERENCE, RIGHT, jpeg, mark, photograph, pictured

from generator.record.explain import explain
from generator.record.photographs_told import photographs_text
from generator.record.record import record


def test_the_record_holds_the_digests_of_file_and_pixels_and_all_that_was_reckoned(tmp_path: Path) -> None:
    data = record(pictured(tmp_path, photograph()), "answers.yaml", b"", {})
    (one,) = data["photographs"]
    assert one["sha256"] == hashlib.sha256(jpeg()).hexdigest()
    assert (one["file"], one["pixels"], one["element"]) == ("front.jpg", "4032 x 3024", "front")
    assert len(one["pixels_sha256"]) == 64
    assert one["offered"] == {"taken": "2026-05-12", "equivalent_mm": 26.0}
    (letter,) = one["areas"]
    # CV22 (X)
    assert (letter["letter"], letter["area_m2"], letter["low_m2"], letter["high_m2"]) == ("A", "3.688", "3.2", "4.2")
    assert letter["doubt_per_cent"]["lens"] == "1.36"
    assert [told["code"] for told in letter["told"]] == ["range-wide"]


def test_a_record_without_photographs_is_as_before() -> None:
    assert "photographs" not in record(job(one_wall()), "answers.yaml", b"", {})


def test_a_photograph_that_was_not_read_is_in_the_record_with_why(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(b"nothing")
    (one,) = record(pictured(tmp_path, photograph()), "answers.yaml", b"", {})["photographs"]
    assert (one["refused"], one.get("sha256")) == ("not-a-picture", None)


def test_explain_tells_a_photograph_by_what_it_is_called(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph())
    told = explain(found, "f1")
    assert told is not None
    assert told["photograph"] == "F1"
    assert told["works"][0]["area_m2"] == "3.688"
    assert explain(found, "F2") is None


def test_explain_tells_the_origin_of_an_area_that_was_taken(tmp_path: Path) -> None:
    taken = pictured(tmp_path, photograph(), treated_area_from="photographs", quantity_sure="estimated")
    wall = explain(taken, "front")
    assert wall is not None
    area = wall["works"][0]["values"]["treated_area_m2"]
    assert area["value"] == "3.7 m²"
    assert "area marked on photographs: 3.2–4.2 m²" in area["reason"]["facts"]
    assert "photographs it is marked on: F1 (A)" in area["reason"]["facts"]
    line = next(item.ref for item in taken.measured.items() if item.entry.quantity == "treated_area_m2")
    told = explain(taken, line)
    assert told is not None
    assert told["from"]["treated_area_m2"]["value"] == "3.7 m²"


# --- as lines ---------------------------------------------------------------------------------------------


def lines(found_in: Path, **changes: object) -> list[str]:
    return photographs_text(pictured(found_in, photograph(**changes))).splitlines()


def test_each_photograph_is_told_with_what_its_figures_rest_on(tmp_path: Path) -> None:
    told = lines(tmp_path)
    assert told[:5] == [
        "F1, Front wall: Front from the south-west (front.jpg, 4032 x 3024 px)",
        f"    to hold the marks to this file: sha256: {hashlib.sha256(jpeg()).hexdigest()}",
        "    taken on 2026-05-12, as its file tells; to print it: taken: 2026-05-12",
        "    reckoned with: tape to 3 mm, face uneven by 10 mm, camera 7.5 m off (as paced), "
        "lens bent by 1% at the corners (26 mm, usual bound)",
        "    A, repointing: 3.7 m² (3.2–4.2 m²), one sigma 6.1%: an estimate",
    ]
    assert told[5] == (
        "Front wall, in all on F1 (A): 3.7 m² (3.2–4.2 m²); the answers give 6 m²; taken from the areas answered"
    )
    assert told[6].startswith("warning: Area A on F1 is an estimate")


def test_what_was_answered_is_not_offered_again(tmp_path: Path) -> None:
    told = lines(tmp_path, taken="2026-05-12", sha256=hashlib.sha256(jpeg()).hexdigest())
    assert "reckoned with" in told[1]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"reference": {**REFERENCE, "distance_m": None}}, "camera 5.8 m off (guessed from the reference)"),
        ({"straight": [[0.02, 0.06], [0.5, 0.058], [0.98, 0.06]]}, "(by its straight edge)"),
        ({"marks": [mark(LEFT), mark(RIGHT, counted="no")]}, "not counted here"),
        ({"reference": None, "checks": None}, "A, repointing: no figure"),
        ({"joints": [{"from": [0.3, 0.5], "to": [0.3, 0.63], "courses": 10}]}, "joints, by a run of 10 courses: "),
        ({"joints": [{"from": [0.3, 0.5], "to": [0.3, 0.505]}]}, "joints, mean of 1 picked: "),
        ({"lengths": [{"what": "the crack", "from": [0.3, 0.5], "to": [0.3, 0.6]}]}, "the crack: "),
    ],
)
def test_what_was_taken_as_usual_and_what_is_missing_is_said(
    changes: dict[str, object], said: str, tmp_path: Path
) -> None:
    reference = changes.get("reference")
    if isinstance(reference, dict):
        changes = {**changes, "reference": {key: value for key, value in reference.items() if value is not None}}
    assert said in "\n".join(lines(tmp_path, **changes))


def test_the_fit_of_taped_points_is_told(tmp_path: Path) -> None:
    places = ((0, 0), (1010, 0), (1010, 1490), (0, 1490), (505, 738))
    spots = (*REFERENCE["corners"], [0.49725, 0.5174])
    points = [{"at": at, "x_mm": x, "y_mm": y} for at, (x, y) in zip(spots, places, strict=True)]
    assert "points off the plane by" in "\n".join(lines(tmp_path, reference={"points": points}))


def test_a_lens_that_is_not_known_is_said_so(tmp_path: Path) -> None:
    from drawing.made_photographs import bricks, encoded

    (tmp_path / "front.jpg").write_bytes(encoded(bricks(120.0)))
    assert "lens not known, usual bound of a wide one" in "\n".join(lines(tmp_path))


def test_a_file_that_was_not_read_is_told_with_its_finding(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(b"nothing")
    told = lines(tmp_path)
    assert told[0] == "F1, Front wall: Front from the south-west (front.jpg, not read)"
    assert any(line.startswith("block: The file of F1, front.jpg, is no picture.") for line in told)


def test_answers_without_photographs_are_told_how_to_begin() -> None:
    assert photographs_text(job(one_wall())).startswith("The answers have no photographs.")
