"""What stands on the cards of the mix page."""

from __future__ import annotations

from decimal import Decimal

import pytest

from generator.document.card import count_text


@pytest.mark.parametrize(
    ("count", "text"),
    [("1", "1"), ("2.5", "2½"), ("0.5", "½"), ("0.25", "¼"), ("3.75", "3¾"),
     ("10", "10"), ("1.3333", "1.33"), ("0", "0")],
)  # fmt: skip
def test_counts_are_spoken_in_boxes_and_parts(count: str, text: str) -> None:
    assert count_text(Decimal(count)) == text
