"""The sand that is answered goes into mixes of its kind alone; where a mix takes another, papers ask for it."""

from __future__ import annotations

import re

import pytest
from answers_text import one_wall
from jobs import job
from timed_jobs import codes, told

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions

SHARP = "washed sharp sand 0-2 mm, yellow, from a named pit"
ASHLAR = {"masonry": "ashlar", "joint_width_mm": "4 - 8 (6)", "bond": None, "unit_length_mm": "500"}
TUCK = {"joint_finish": "tuck", "old_joint": "tuck"}


def pointed(sand: str, **wall: str | None) -> Job:
    return job(one_wall(sand_source=sand, **wall))


@pytest.mark.parametrize("sand", [SHARP, "washed sharp sand matched on a sample"])
@pytest.mark.parametrize(("wall", "mix"), [(ASHLAR, "M1"), (TUCK, "M2")])
def test_a_mix_of_fine_sand_is_not_given_sharp_sand_to_sieve_and_asks_for_its_own(
    wall: dict[str, str | None], mix: str, sand: str
) -> None:
    found = pointed(sand, **wall)
    assert f"What goes into {mix} is" in told(found, "sand-not-named")
    assert "sand-to-sieve" not in codes(found)
    papers = outline(assemble(found).specification)
    assert f"For {mix} offer three sands of the kind in the mix table" in papers
    assert "in mixes of its kind" in papers
    assert f"For {mix} offer three sands of its kind, each as a dry pat" in papers.partition("Source of the sand")[2]
    (officer,) = (outline(paper) for paper in companions(found, ["officer"]).values())
    assert re.search(rf"sand is still to be chosen.* \| {mix}$", officer, re.MULTILINE)


@pytest.mark.parametrize("sand", [f"{SHARP}; washed fine silica sand 0-1 mm", "stone dust and fine silica sand 0-1 mm"])
def test_a_mix_whose_sand_is_named_asks_for_none(sand: str) -> None:
    assert "sand-not-named" not in codes(pointed(sand, **ASHLAR))


@pytest.mark.parametrize("sand", [SHARP, "washed sand 0-3 mm from a named pit", "as sample S1"])
def test_a_sand_of_the_kind_or_of_none_that_is_told_is_that_of_the_mix(sand: str) -> None:
    found = pointed(sand)
    assert "sand-not-named" not in codes(found)
    assert "still to be chosen" not in "".join(map(outline, companions(found, ["officer"]).values()))


def test_a_sand_of_its_kind_that_is_too_coarse_is_still_sieved() -> None:
    found = pointed("washed sharp sand 0-1 mm; washed fine silica sand 0-2 mm", **ASHLAR)
    assert "washed fine silica sand 0-2 mm" in told(found, "sand-to-sieve")
