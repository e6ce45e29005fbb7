"""Driving rain told to the specifier: the worked wall of the reference data, and what limits the figure."""

from __future__ import annotations

import pytest
from jobs import shipped

from generator.weather import WallPlace, told

WORDS = dict(shipped().library.words)
PLACE = WallPlace(90.0, "III", 8.0, 0.0, 0.0, 20.0, "two-storey gable")


def rows(hours: int = 48) -> list[str]:
    days = [f"2013-01-{1 + hour // 24:02d}T{hour % 24:02d}:00,5.0,90,1.0" for hour in range(hours)]
    return ["time,wind_m_per_s,from_deg,rain_mm", *days]


def test_the_class_and_the_limits_of_the_record_are_told() -> None:
    # 48 hours of 1 mm at 5 m/s head-on are 48 x 1.1111 l/m2 at the airfield (EN ISO 15927-3 kernel)
    lines = told(rows(), PLACE, WORDS)
    assert "53.3 l/m²" in lines[0]
    # times C_R 0.7224, O 0.4, W 0.4
    assert "6.2 l/m²" in lines[1]
    assert "sheltered" in lines[1]
    assert "Ten are wanted" in lines[2]
    assert "never overrides position" in lines[3]


def test_a_row_that_cannot_be_used_is_told_and_passed_over() -> None:
    lines = told([*rows(), "2013-01-03T00:00,468.5,310,0"], PLACE, WORDS)
    assert lines[0].startswith("row 50 passed over")


@pytest.mark.parametrize("lines", [["time,rain_mm"], []])
def test_a_file_without_the_columns_is_refused(lines: list[str]) -> None:
    with pytest.raises(ValueError, match="time"):
        told(lines, PLACE, WORDS)
