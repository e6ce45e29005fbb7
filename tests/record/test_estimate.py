"""The specifier's own estimate: lines at rates from a file, as a range."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import one_wall
from jobs import ROOT
from small_library import job

from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.record.estimate import as_text, estimate, read_rates
from generator.values import Range

JOB = job(one_wall(access="scaffold", access_weeks="3"))


def rates(text: str) -> dict[str, Range[Decimal]]:
    return read_rates(read_bytes(text.encode(), "rates.yaml", typed=False), JOB)


def test_a_line_is_its_quantity_times_the_rate_low_to_high() -> None:
    found = estimate(JOB, rates("rates:\n  repoint.brick: 70 - 95\n"))
    ((item, amount),) = [(item, amount) for item, amount in found.lines if item.entry.id == "repoint.brick"]
    assert item.quantity is not None
    assert (amount.low, amount.high) == (item.quantity * 70, item.quantity * 95)
    assert found.total == amount


def test_lines_without_a_rate_are_named_and_not_counted_as_nothing() -> None:
    found = estimate(JOB, {})
    assert found.total.high == 0
    assert "repoint.brick" in as_text(JOB, found)
    assert {item.entry.id for item in found.without_rate} >= {"repoint.brick", "prelims.access"}


def test_a_rate_left_blank_is_none() -> None:
    assert rates("rates:\n  repoint.brick:\n  prelims.access: 40\n").keys() == {"prelims.access"}


def test_hours_are_given_as_a_range_with_its_reason() -> None:
    (hours,) = estimate(JOB, {}).hours
    assert hours.place == "Front wall"
    assert hours.spent.low < hours.spent.high
    assert " 1 3" in as_text(JOB, estimate(JOB, {}))


def test_laths_and_their_plaster_each_have_their_hours() -> None:
    ceiling = job((ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8"))
    tasks = [hours.tasks[0] for hours in estimate(ceiling, {}).hours]
    assert "laths: fixing" in tasks
    assert any(task.startswith(("three-coat plaster", "two-coat plaster")) for task in tasks)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("rates:\n  repoint.brik: 70\n", "did you mean 'repoint.brick'?"),
        ("rates:\n  repoint.brick: seventy\n", "'repoint.brick' cannot be 'seventy': write low and high"),
        ("rates:\n  repoint.brick: 95 - 70\n", "write the lesser first: 70 - 95"),
        ("rates:\n  repoint.brick: 99999999999999999999\n", "cannot be '99999999999999999999'"),
        ("rates:\n  repoint.brick: 999999999\n", "the most is 10,000,000"),
        ("rates:\n  repoint.brick: 1e30\n", "cannot be '1e30'"),
        ("rates:\n  repoint.brick: nan\n", "cannot be 'nan'"),
        ("rates:\n  repoint.brick: 1_0\n", "cannot be '1_0'"),
        ("rates:\n  repoint.brick: ''\n", "'repoint.brick' cannot be blank"),
        ("rates:\n  repoint.brick: {a: 1}\n", "'repoint.brick' cannot be a mapping"),
        ("rates: {}\nrate: {}\n", "has an unknown key 'rate': did you mean 'rates'?"),
        ("- 1\n", "has no mapping 'rates:'"),
        ("", "has no mapping 'rates:'"),
    ],
)
def test_a_rates_file_that_cannot_be_meant_is_told(text: str, words: str) -> None:
    with pytest.raises(InputInvalid, match=words.replace("?", r"\?")):
        rates(text)
