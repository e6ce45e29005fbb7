"""Limewash: one lot for a face, its boxes, a day's draw, the vessel and lots poured together."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import one, told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import wash_lot as module
from generator.lime.batch import left_at_most_l
from generator.lime.job_batches import Cases, Work
from generator.lime.wash_lot import SharedLot, VesselTooSmall, shared_lot
from generator.values import Range


def of_face(
    area_m2: float, coats_nr: int, m2_per_l: Range[float], water: float = 5.0, *, box_l: float = 14.0,
    sample_m2: float = 0.0, vessel_at_most_l: float | None = None,
) -> Cases[SharedLot]:  # fmt: skip
    """The lot of one face; low is the best cover, high the worst."""
    per_m2 = Range(coats_nr / m2_per_l.high, coats_nr / m2_per_l.likely, coats_nr / m2_per_l.low)
    face = Work(one(area_m2), {"yard": 80.0}, per_m2, (sample_m2,) if sample_m2 else ())
    return shared_lot([face], water, box_l=box_l, vessel_at_most_l=vessel_at_most_l)


def mill_house(*, vessel_at_most_l: float | None = None) -> SharedLot:
    """Example D: 78.4 m2, 5 coats, 1 : 5, at the usual cover of 4 m2/l; a pair does 80 m2 a day."""
    return of_face(78.4, 5, one(4.0), sample_m2=1.0, vessel_at_most_l=vessel_at_most_l).likely


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(module)
    assert failed == 0
    assert attempted >= 4


def test_the_mill_house_is_one_lot_in_half_boxes() -> None:
    """Example D."""
    spread = of_face(78.4, 5, Range(3.0, 4.0, 6.0))
    assert [round(case.need_l / 5, 2) for case in (spread.low, spread.likely, spread.high)] == [14.37, 21.56, 28.75]
    lot = mill_house()
    assert lot.lot is not None
    assert lot.need_l == pytest.approx(109.2, abs=0.05)
    tried = {t.measure: t for t in lot.lot.tried}
    assert told(tried["whole"].batch) == "2 + 10"
    assert tried["whole"].made_l == pytest.approx(168.0)
    assert round(100 * tried["whole"].left_share) == 54
    assert (lot.lot.batch.measure, told(lot.lot.batch)) == ("half", "1 1/2 + 7 1/2")
    assert lot.lot.made_l == pytest.approx(126.0)
    assert lot.lot.left_l == pytest.approx(16.8, abs=0.05)
    assert round(100 * lot.lot.left_share) == 15
    assert (lot.vessel_l, lot.lots_nr) == (150.0, 1)
    assert lot.amounts.lime_l == pytest.approx(21.0)


def test_what_is_left_of_a_lot_is_kept_for_touching_up() -> None:
    found = mill_house().amounts
    assert found.thrown_away_l == pytest.approx(0.0, abs=1e-9)
    assert found.kept_l == pytest.approx(16.8, abs=0.05)
    assert found.made_l == pytest.approx(126.0)


def test_smaller_vessels_take_equal_lots_that_are_poured_together() -> None:
    lot = mill_house(vessel_at_most_l=80.0)
    assert lot.lot is not None
    assert lot.lots_nr == 2
    assert lot.vessel_l <= 80.0
    assert lot.lot.batch.makes_l * 1.1 <= 80.0
    assert lot.lot.made_l >= lot.need_l


@given(
    st.floats(2.0, 800.0), st.integers(1, 8), st.floats(2.0, 10.0), st.sampled_from([2.0, 4.0, 5.0, 8.0, 10.0]),
    st.floats(5.0, 40.0),
)  # fmt: skip
def test_a_lot_does_every_coat_with_headroom_and_never_less(
    area: float, coats: int, cover: float, water: float, box: float
) -> None:
    lot = of_face(area, coats, one(cover), water, box_l=box).likely
    assert lot.lot is not None
    assert lot.lot.made_l >= 1.1 * coats * area / cover - 1e-6
    assert lot.vessel_l >= 1.1 * lot.lot.made_l - 1e-6
    assert lot.amounts.sands_l[0] / lot.amounts.lime_l == pytest.approx(water)
    if lot.lot.why == "little-left":
        assert lot.lot.left_l <= left_at_most_l(lot.need_l) + 1e-6


def test_a_vessel_that_holds_no_gauge_is_refused_by_name() -> None:
    with pytest.raises(VesselTooSmall, match=r"valid from 3\.3,") as raised:
        mill_house(vessel_at_most_l=3.0)
    assert raised.value.code == "vessel-too-small"
