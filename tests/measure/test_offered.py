"""The sand asked for, and those on offer, against the greatest grain of the mixes they go into."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from small_library import job

from generator.job.job import Job

CODES = ("sand-to-sieve", "sand-from-elsewhere", "sand-finer-than-mix")


def told(made: Job) -> list[tuple[str, str]]:
    return [(item.code, item.message) for item in made.findings if item.code in CODES]


def with_sand(sand: str, **given: str | None) -> Job:
    return job(one_wall(sand_source=sand, **given))


def test_a_sand_within_the_grain_raises_nothing() -> None:
    assert told(with_sand("washed sharp sand 0-3 mm")) == []


def test_a_sand_of_no_told_size_raises_nothing() -> None:
    assert told(with_sand("washed sharp sand, matched on a sample")) == []


def test_a_sand_a_little_too_coarse_is_to_be_sieved() -> None:
    ((code, message),) = told(with_sand("washed sharp sand 0-4 mm"))
    assert code == "sand-to-sieve"
    assert "washed sharp sand 0-4 mm" in message


def test_of_several_sizes_asked_for_the_coarsest_that_fits_is_taken() -> None:
    assert told(with_sand("washed sharp sand 0-3 mm and 0-6 mm")) == []
    assert told(with_sand("washed sharp sand 0-6 mm and 0-3 mm")) == []
    assert told(with_sand("washed sharp sand 0-1, 0-3 and 0-6 mm")) == []


@pytest.mark.parametrize("sizes", ["0-1, 0-3 and 0-6 mm", "0-3 or 0-6 mm", "0-1 mm, 0-3 and 0-6 mm"])
def test_of_a_list_of_sizes_the_last_alone_need_say_mm(sizes: str) -> None:
    assert told(with_sand(f"washed sharp sand {sizes}")) == []


def test_of_several_sizes_that_are_all_too_coarse_the_finest_is_told() -> None:
    ((_, message),) = told(with_sand("washed sharp sand 0-6 mm and 0-4 mm"))
    assert "washed sharp sand 0-4 mm" in message
    assert "0-6" not in message


def test_mixes_that_share_a_sand_and_a_sieve_are_told_in_one_line() -> None:
    walls = wall(), wall(work(asked_binder="nhl-2"), id_="back", name="Back wall")
    ((_, message),) = told(job(answers(*walls, sand_source="washed sharp sand 0-4 mm")))
    assert "M1 and M2" in message


def test_a_size_is_read_however_it_is_written() -> None:
    for size in ("0-4 mm", "0/4 mm", "0 to 4 mm", "well graded up to 4 mm", "graded, up to 4 mm"):
        assert [code for code, _ in told(with_sand(f"washed sharp sand, {size}"))] == ["sand-to-sieve"], size


def test_a_sand_that_ends_below_the_grain_of_its_mix_is_told_since_papers_would_name_two_sizes() -> None:
    ((code, message),) = told(with_sand("washed sharp sand, well graded up to 1 mm"))
    assert code == "sand-finer-than-mix"
    assert "up to 1 mm M1 3" in message


SANDS = "washed sharp sand 0-2 mm, washed plastering sand 0-3 mm and fine sand 0-1 mm"


@pytest.mark.parametrize(
    "sands", [SANDS, "0-2 mm sharp sand, 0-3 mm plastering sand and 0-1 mm fine sand", "fine 0-1, sharp 0-2 mm"]
)
def test_each_size_is_read_with_the_words_beside_it_and_no_sand_is_made_of_two(sands: str) -> None:
    held = [one for made in with_sand(sands).measured.batches for one in made.held]
    assert [one.greatest_mm for one in held] == [2]  # pointing takes sharp sand, and grains to 3 mm
    ((code, message),) = told(with_sand(sands))
    assert code == "sand-finer-than-mix"
    assert "sharp" in message
    assert "plaster" not in message
