"""The specifier's own estimate: lines at rates from a file, as a range."""

from __future__ import annotations

from decimal import Decimal

import pytest
from jobs import ROOT, job

from generator.errors import InputInvalid
from generator.estimate import as_text, estimate, read_rates
from generator.source import read_bytes
from generator.values import Range

JOB = job((ROOT / "examples" / "garden-front" / "answers.yaml").read_text(encoding="utf-8"))


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


def test_hours_are_given_as_a_range_with_its_reason() -> None:
    ((place, hours),) = estimate(JOB, {}).hours
    assert place == "Garden front"
    assert hours.low < hours.high


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("rates:\n  repoint.brik: 70\n", "did you mean 'repoint.brick'?"),
        ("rates:\n  repoint.brick: seventy\n", "has no rate that can be read"),
        ("rates:\n  repoint.brick: 95 - 70\n", "has no rate that can be read"),
        ("- 1\n", "has no mapping 'rates:'"),
    ],
)
def test_a_rates_file_that_cannot_be_meant_is_told(text: str, words: str) -> None:
    with pytest.raises(InputInvalid, match=words.replace("?", r"\?")):
        rates(text)
