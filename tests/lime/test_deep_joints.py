"""Wide and deep rubble joints: depth by the joint, filling band by band, deep voids as a range."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import one
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import deep_joints
from generator.lime.deep_joints import deep_void_l, filled_in_bands, wide_joint_depth_mm
from generator.lime.joints import pointing_l_per_m2
from generator.values import Range

RUBBLE = Range(0.20, 0.27, 0.35)


def ranges(low: float, high: float) -> st.SearchStrategy[Range[float]]:
    return st.tuples(*([st.floats(low, high)] * 3)).map(lambda ends: Range(*sorted(ends)))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(deep_joints)
    assert failed == 0
    assert attempted >= 5


def test_joints_of_forty_to_a_hundred_and_twenty_are_not_forty_deep() -> None:
    """NPS Preservation Brief 2: twice to two and a half times the joint."""
    depth = wide_joint_depth_mm(Range(40.0, 70.0, 120.0), 40.0)
    assert (depth.low, depth.likely, depth.high) == (80.0, 140.0, 300.0)
    filled = filled_in_bands(RUBBLE, depth, covered_mm=40.0, band_mm=50.0)
    assert filled.l_per_m2.likely == pytest.approx(37.8)
    assert pointing_l_per_m2(RUBBLE.likely, 40.0) == pytest.approx(10.8)


def test_narrow_joints_keep_the_least_depth_and_lost_mortar_goes_deeper() -> None:
    assert wide_joint_depth_mm(Range(8.0, 12.0, 15.0), 40.0) == Range(40.0, 40.0, 40.0)
    lost = wide_joint_depth_mm(Range(8.0, 12.0, 15.0), 40.0, Range(20.0, 60.0, 180.0))
    assert lost == Range(40.0, 60.0, 180.0)


def test_bands_start_at_what_the_rate_covers_and_tell_low_likely_and_high() -> None:
    bands = filled_in_bands(RUBBLE, Range(80.0, 140.0, 300.0), covered_mm=40.0, band_mm=50.0).bands
    assert [(band.from_mm, band.to_mm) for band in bands][:3] == [(0.0, 40.0), (40.0, 90.0), (90.0, 140.0)]
    assert bands[-1].to_mm >= 300.0
    assert bands[1].filled_mm == Range(40.0, 50.0, 50.0)
    assert bands[3].filled_mm == Range(0.0, 0.0, 50.0)


def test_a_thin_wall_is_told_where_the_depth_goes_beyond_what_new_work_allows() -> None:
    """EN 1996-2:2006, 3.5.3.1: no more than 15 per cent of the thickness."""
    depth = Range(40.0, 50.0, 60.0)
    thick = filled_in_bands(RUBBLE, depth, covered_mm=40.0, band_mm=50.0, wall_mm=500.0)
    assert thick.wall_share == pytest.approx(0.12)
    assert not thick.over_new_wall_limit
    assert filled_in_bands(RUBBLE, depth, covered_mm=40.0, band_mm=50.0, wall_mm=300.0).over_new_wall_limit
    unknown = filled_in_bands(RUBBLE, depth, covered_mm=40.0, band_mm=50.0)
    assert (unknown.wall_share, unknown.over_new_wall_limit) == (None, False)


def test_deep_filling_is_a_range_and_not_its_high_three_times() -> None:
    found = deep_void_l(10.0, RUBBLE, Range(50.0, 90.0, 150.0), pointed_mm=40.0)
    assert found.low == pytest.approx(10 * 0.20 * 10)
    assert found.likely == pytest.approx(10 * 0.27 * 55)  # half way from 40 to 150 mm lies deeper than the usual 90
    assert found.high == pytest.approx(10 * 0.35 * 110)
    assert deep_void_l(10.0, RUBBLE, Range(10.0, 20.0, 40.0), pointed_mm=40.0) == one(0.0)


shares, joints, losses = ranges(0.0, 1.0), ranges(1.0, 150.0), ranges(0.0, 400.0)


@given(shares, joints, losses, st.floats(10.0, 60.0), st.floats(10.0, 100.0))
def test_the_bands_add_up_to_the_whole_depth(
    share: Range[float], joint: Range[float], lost: Range[float], covered: float, band: float
) -> None:
    depth = wide_joint_depth_mm(joint, covered, lost)
    found = filled_in_bands(share, depth, covered_mm=covered, band_mm=band)
    for end in ("low", "likely", "high"):
        filled = sum(getattr(each.filled_mm, end) for each in found.bands)
        assert filled == pytest.approx(getattr(depth, end))
        litres = sum(getattr(each.l_per_m2, end) for each in found.bands)
        assert litres == pytest.approx(getattr(found.l_per_m2, end), abs=1e-9)
        assert getattr(depth, end) >= 2 * getattr(joint, end)


@pytest.mark.parametrize("joint", [Range(0.0, 5.0, 10.0), Range(40.0, 100.0, 200.0)])
def test_a_joint_of_nothing_or_wider_than_any_is_refused(joint: Range[float]) -> None:
    with pytest.raises(ValueError, match="joint_mm"):
        wide_joint_depth_mm(joint, 40.0)


def test_a_depth_short_of_what_the_rate_covers_is_refused() -> None:
    with pytest.raises(ValueError, match="depth_mm"):
        filled_in_bands(RUBBLE, Range(30.0, 50.0, 60.0), covered_mm=40.0, band_mm=50.0)
