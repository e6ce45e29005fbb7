"""Labour: published hours and their sources."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import labour


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(labour)
    assert failed == 0
    assert attempted >= 1


@given(st.sampled_from(sorted(labour.TASKS)), st.floats(0.0, 1000.0))
def test_doubling_the_quantity_doubles_the_hours(task: str, quantity: float) -> None:
    once = labour.labour_hours(task, quantity)
    assert labour.labour_hours(task, 2.0 * quantity).high == pytest.approx(2.0 * once.high)


def test_every_task_names_its_source_and_how_sure_it_is() -> None:
    for name, task in labour.TASKS.items():
        assert len(task.source) > 10, name
        assert task.confidence, name
        assert task.hours_per_unit.low > 0.0, name


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: labour.labour_hours("thatching", 1.0), "task is thatching: valid rubble: raking out;"),
        (lambda: labour.labour_hours("laths: fixing", -1.0), r"quantity is -1\.0: valid from 0 up"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
