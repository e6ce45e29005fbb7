"""Mistakes met while files are read: fifty in words, the rest counted, whatever adds them."""

from __future__ import annotations

import pytest

from generator.files.errors import InputInvalid, Mark, Problem
from generator.files.limits import MOST_COUNTED, MOST_TOLD
from generator.files.mistakes import Mistakes


def mistakes(count: int) -> list[Problem]:
    return [Problem(Mark("a.yaml", line), "is amiss", "mend it") for line in range(1, count + 1)]


def test_fifty_are_kept_and_the_rest_counted() -> None:
    found = Mistakes(mistakes(130_000))
    assert (len(found), found.more, found.total, found.is_full) == (MOST_TOLD, 129_950, 130_000, True)
    lines = str(InputInvalid(found, found.more)).splitlines()
    assert len(lines) == 51
    assert lines[0] == "a.yaml:1:0: is amiss: mend it"
    assert lines[-1] == "and 129,950 more were found: mend these first"


def test_those_that_were_all_kept_are_cut_where_they_are_told() -> None:
    error = InputInvalid(mistakes(60), 5)
    assert error.lines(50)[-1] == "and 15 more were found: mend these first"
    assert InputInvalid(mistakes(50)).lines(50) == [str(problem) for problem in mistakes(50)]


def test_those_of_several_files_come_to_one_count() -> None:
    found = Mistakes(mistakes(20))
    found += Mistakes(mistakes(100))
    found += mistakes(3)
    assert (len(found), found.total) == (50, 123)


@pytest.mark.parametrize(("before", "later"), [(0, 3), (48, 3), (50, 3), (70, 3), (70, 0)])
def test_those_met_since_are_told_apart_and_none_is_lost(before: int, later: int) -> None:
    found = Mistakes(mistakes(before))
    at = found.total
    found += mistakes(later)
    assert found.since(at).total == later
    assert len(found.since(at)) == max(0, min(later, 50 - before))


def test_those_that_take_time_to_find_are_looked_for_so_long() -> None:
    sought: list[Problem] = []

    def endless() -> object:
        while True:
            sought.append(mistakes(1)[0])
            yield sought[-1]

    assert Mistakes(endless()).total == len(sought) == MOST_COUNTED  # type: ignore[arg-type]


def test_a_hint_is_looked_for_only_where_it_is_told() -> None:
    found = Mistakes(mistakes(49))
    assert found.near("brik", ["brick"]) == "did you mean 'brick'?"
    found += mistakes(1)
    assert found.near("brik", ["brick"]) == ""
