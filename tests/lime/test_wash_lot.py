"""Limewash: one lot for a face, its boxes, a day's draw, the vessel and lots poured together."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import wash_lot as module
from generator.lime.batch import left_at_most_l
from generator.lime.job_batches import Cases
from generator.lime.wash_lot import VesselTooSmall, WashLot, wash_lot
from generator.values import Range


def mill_house(*, vessel_at_most_l: float | None = None, output_m2: float = 80.0) -> Cases[WashLot]:
    """Example D: 78.4 m2, 5 coats, 1 : 5, cover 3 to 6 m2/l, usually 4; a pair does 80 m2 a day."""
    return wash_lot(
        78.4, 5, Range(3.0, 4.0, 6.0), 5.0, box_l=14.0, output_m2=output_m2, sample_m2=1.0,
        vessel_at_most_l=vessel_at_most_l,
    )  # fmt: skip


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(module)
    assert failed == 0
    assert attempted >= 4


def test_the_mill_house_is_one_lot_in_half_boxes() -> None:
    """Example D."""
    found = mill_house()
    assert [round(case.coat_l, 2) for case in (found.low, found.likely, found.high)] == [14.37, 21.56, 28.75]
    lot = found.likely
    assert lot.sample_l == pytest.approx(1.4, abs=0.05)
    assert lot.need_l == pytest.approx(109.2, abs=0.05)
    tried = {t.measure: t for t in lot.lot.tried}
    assert told(tried["whole"].batch) == "2 + 10"
    assert tried["whole"].made_l == pytest.approx(168.0)
    assert round(100 * tried["whole"].left_share) == 54
    assert (lot.lot.batch.measure, told(lot.lot.batch)) == ("half", "1 1/2 + 7 1/2")
    assert lot.lot.made_l == pytest.approx(126.0)
    assert lot.lot.left_l == pytest.approx(16.8, abs=0.05)
    assert round(100 * lot.lot.left_share) == 15
    assert (lot.days_a_coat, lot.drawn_l_a_day, lot.vessel_l, lot.lots_nr) == (1, 22, 150.0, 1)
    assert lot.amounts.lime_l == pytest.approx(21.0)


def test_what_is_left_of_a_lot_is_kept_for_touching_up() -> None:
    found = mill_house().likely.amounts
    assert found.thrown_away_l == pytest.approx(0.0, abs=1e-9)
    assert found.kept_l == pytest.approx(16.8, abs=0.05)
    assert found.made_l == pytest.approx(126.0)


def test_smaller_vessels_take_equal_lots_that_are_poured_together() -> None:
    lot = mill_house(vessel_at_most_l=80.0).likely
    assert lot.lots_nr == 2
    assert lot.vessel_l <= 80.0
    assert lot.lot.batch.makes_l * 1.1 <= 80.0
    assert lot.lot.made_l >= lot.need_l


def test_a_coat_of_more_than_a_day_is_drawn_by_the_day() -> None:
    lot = mill_house(output_m2=40.0).likely
    assert (lot.days_a_coat, lot.drawn_l_a_day) == (2, 11)


@given(
    st.floats(2.0, 800.0), st.integers(1, 8), st.floats(2.0, 10.0), st.sampled_from([2.0, 4.0, 5.0, 8.0, 10.0]),
    st.floats(5.0, 40.0),
)  # fmt: skip
def test_a_lot_does_every_coat_with_headroom_and_never_less(
    area: float, coats: int, cover: float, water: float, box: float
) -> None:
    lot = wash_lot(area, coats, Range(cover, cover, cover), water, box_l=box, output_m2=60.0).likely
    assert lot.lot.made_l >= coats * lot.coat_l - 1e-6
    assert lot.vessel_l >= 1.1 * lot.lot.made_l - 1e-6
    assert lot.drawn_l_a_day * lot.days_a_coat >= lot.coat_l - 1e-6
    assert lot.amounts.sands_l[0] / lot.amounts.lime_l == pytest.approx(water)
    if lot.lot.why == "little-left":
        assert lot.lot.left_l <= left_at_most_l(lot.need_l) + 1e-6


@pytest.mark.parametrize(("area", "coats", "dropped"), [(0.0, 5, 0.1), (10.0, 0, 0.1), (10.0, 5, 1.5)])
def test_a_face_without_area_or_coats_is_refused(area: float, coats: int, dropped: float) -> None:
    with pytest.raises(ValueError, match="valid"):
        wash_lot(area, coats, Range(4.0, 4.0, 4.0), 5.0, box_l=14.0, output_m2=60.0, dropped_share=dropped)


def test_a_vessel_that_holds_no_gauge_is_refused_by_name() -> None:
    with pytest.raises(VesselTooSmall, match=r"valid from 3\.3,") as raised:
        mill_house(vessel_at_most_l=3.0)
    assert raised.value.code == "vessel-too-small"
