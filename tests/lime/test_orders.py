"""Orders over all mixes: a lime once, a sand by its name and grain, hair and pozzolan, whole packages up."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import BULKING, FRONT_L_PER_M2, KIT, STACK_L_PER_M2, nhl, one, putty
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import orders as module
from generator.lime.gauging import GaugedMix, full_load
from generator.lime.job_batches import Amounts, Cases, Work
from generator.lime.mortar import bags_to_order
from generator.lime.orders import Goods, GoodsDisagree, MixOrder, Sand, SandUse, orders
from generator.lime.shared_batch import shared_batches
from generator.lime.stuff import Dose, stuff_for
from generator.lime.wash_lot import shared_lot, wash_mix
from generator.values import Range, replace

NHL_2 = Goods("NHL 2", 0.60, 25.0, "kg")
NHL_35 = Goods("NHL 3.5", 0.65, 25.0, "kg")
PUTTY = Goods("lime putty", 1.35, 20.0, "l")
HAIR = Goods("hair", 1.0, 1.0, "kg")
BRICK_DUST = Goods("brick dust", 1.0, 20.0, "kg")
SHARP_3 = Sand("sharp sand", 3.0, 1.55, 0.05, sold_damp=True, package_kg=800.0)
SHARP_2 = replace(SHARP_3, grain_mm=2.0)
SOFT_2 = replace(SHARP_2, name="soft sand")
WATER = Sand("water", 0.0, 1.0, 0.0, sold_damp=False, package_kg=1.0)


def fresh(
    ref: str, work: Work, mix: GaugedMix, life_h: float, lime: Goods = NHL_2, sands: tuple[Sand, ...] = (SHARP_3,)
) -> MixOrder:
    """A mix made fresh, as its work orders it."""
    cases = shared_batches([work], mix, KIT, life_h)
    return MixOrder(ref, mix, cases.each(lambda case: case.amounts), lime, sands)


FRONT = Work(one(13.5), {"yard": 3.0}, one(FRONT_L_PER_M2.likely), (1.0,))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, _ = doctest.testmod(module)
    assert failed == 0


def test_the_garden_front_orders_two_bags_and_one_bulk_bag() -> None:
    """Example A: 42 l of lime weigh 25.2 kg; 105 l of damp sand are 84 l and 130 kg dry, 137 damp."""
    found = orders([fresh("M1", FRONT, nhl(2.5), 8.0)])
    (lime,), (sand,) = found.limes, found.sands
    assert lime.litres.likely == pytest.approx(42.0)
    assert lime.kg.likely == pytest.approx(25.2)
    assert lime.packages.likely == 2
    assert sand.measured_l.likely == pytest.approx(105.0)
    assert sand.dry_l.likely == pytest.approx(84.0)
    assert round(sand.dry_kg.likely) == 130
    assert round(sand.sold_kg.likely) == 137
    assert sand.packages.likely == 1
    assert (found.pozzolans, found.hair) == ((), ())


def test_the_toll_house_stack_orders_one_bag() -> None:
    """Example B: 31.5 l weigh 20.5 kg; 63 l of damp sand are 50.4 l and 78 kg dry."""
    stack = Work(one(10.5), {"yard": 2.0}, one(STACK_L_PER_M2), (0.5,))
    found = orders([fresh("M2", stack, nhl(2.0), 8.0, NHL_35)])
    assert found.limes[0].kg.likely == pytest.approx(20.5, abs=0.05)
    assert found.limes[0].packages.likely == 1
    assert found.sands[0].dry_l.likely == pytest.approx(50.4)
    assert round(found.sands[0].dry_kg.likely) == 78


def test_a_stack_mixed_by_the_mixer_took_five_bags_where_one_was_ordered() -> None:
    """Six days of a full mixer: what was thrown away had never been ordered."""
    load = full_load(nhl(2.0), KIT)
    stack = Work(one(10.5), {"yard": 2.0}, one(STACK_L_PER_M2))
    assert bags_to_order(6 * load.lime_l * NHL_35.kg_per_l, 25.0) == 5
    assert orders([fresh("M2", stack, nhl(2.0), 8.0, NHL_35)]).limes[0].packages.likely == 1


def test_the_ceiling_orders_five_tubs_and_a_kilogram_of_hair() -> None:
    """Example C: putty 84 l, sand 210 l damp, 168 l and 260 kg dry."""
    coats = [
        (Work(one(6.0), {"barn": 16.0}, one(11.5), (1.0,)), Dose(hair_kg_per_m3=7.0)),
        (Work(one(6.0), {"barn": 16.0}, one(8.0), (1.0,)), Dose(hair_kg_per_m3=5.0)),
    ]
    amounts = stuff_for(coats, putty(2.5), KIT).each(lambda case: case.amounts)
    found = orders([MixOrder("M3", putty(2.5), amounts, PUTTY, (SHARP_3,), hair=HAIR)])
    assert found.limes[0].litres.likely == pytest.approx(84.0)
    assert found.limes[0].packages.likely == 5
    assert found.sands[0].dry_l.likely == pytest.approx(168.0)
    assert round(found.sands[0].dry_kg.likely) == 260
    assert found.hair[0].kg.likely == pytest.approx(1.0)
    assert found.hair[0].packages.likely == 1


def test_the_limewash_orders_two_tubs_of_putty() -> None:
    """Example D."""
    face = Work(one(78.4), {"yard": 80.0}, one(5 / 4.0), (1.0,))
    lots = shared_lot([face], 5.0, box_l=14.0)
    found = orders([MixOrder("M4", wash_mix(5.0), lots.each(lambda lot: lot.amounts), PUTTY, (WATER,))])
    assert found.limes[0].litres.likely == pytest.approx(21.0)
    assert found.limes[0].packages.likely == 2
    assert found.sands[0].measured_l.likely == pytest.approx(105.0)


def test_sands_of_two_grains_and_the_sands_of_a_blend_are_lines_of_their_own() -> None:
    blend = fresh("M2", FRONT, nhl(2.5, blend=(3, 2)), 8.0, sands=(SHARP_2, SOFT_2))
    found = orders([fresh("M1", FRONT, nhl(2.5), 8.0), blend])
    assert [(line.sand.key, line.uses) for line in found.sands] == [
        (("sharp sand", 3.0), (SandUse("M1", 5, 5),)),
        (("sharp sand", 2.0), (SandUse("M2", 3, 5),)),
        (("soft sand", 2.0), (SandUse("M2", 2, 5),)),
    ]
    alone, of_three, of_two = (line.measured_l.likely for line in found.sands)
    assert of_three + of_two == pytest.approx(alone)
    assert of_three / of_two == pytest.approx(1.5)


def test_one_sand_of_two_mixes_is_one_line() -> None:
    one_mix = orders([fresh("M1", FRONT, nhl(2.5), 8.0)])
    two = orders([fresh("M1", FRONT, nhl(2.5), 8.0), fresh("M2", FRONT, nhl(2.5), 8.0)])
    assert len(two.sands) == len(two.limes) == 1
    assert two.sands[0].sold_kg.likely == pytest.approx(2 * one_mix.sands[0].sold_kg.likely)
    assert two.limes[0].mixes == ("M1", "M2")
    assert two.limes[0].packages.likely == 3  # 50.4 kg, not twice 2 bags


def test_kiln_dried_sand_is_bought_by_its_dry_mass_and_takes_less_room() -> None:
    bagged = replace(SHARP_3, sold_damp=False, package_kg=25.0)
    damp = orders([fresh("M1", FRONT, nhl(2.5), 8.0)]).sands[0]
    dry = orders([fresh("M1", FRONT, nhl(2.5, sand="dry"), 8.0, sands=(bagged,))]).sands[0]
    assert dry.measured_l.likely == pytest.approx(damp.measured_l.likely / (1 + BULKING))
    assert dry.dry_kg.likely == pytest.approx(damp.dry_kg.likely)
    assert dry.sold_kg == dry.dry_kg
    assert dry.packages.likely == 6  # 130.2 kg


def test_what_a_share_range_needs_is_ordered_low_likely_and_high() -> None:
    share = replace(FRONT, area_m2=Range(3.0, 13.5, 54.0), panels_m2=())
    lime = orders([fresh("M1", share, nhl(2.5), 8.0)]).limes[0]
    assert lime.litres.low == pytest.approx(lime.litres.likely / 5)
    assert lime.litres.high == pytest.approx(lime.litres.likely * 18 / 5)
    assert (lime.packages.low, lime.packages.likely, lime.packages.high) == (1, 1, 4)


def test_one_name_for_two_goods_is_refused_by_name() -> None:
    with pytest.raises(GoodsDisagree, match="NHL 2") as raised:
        orders([fresh("M1", FRONT, nhl(2.5), 8.0), fresh("M2", FRONT, nhl(2.5), 8.0, replace(NHL_2, kg_per_l=0.5))])
    assert raised.value.code == "goods-disagree"
    heavier = replace(SHARP_3, dry_kg_per_l=1.6)
    with pytest.raises(GoodsDisagree, match="sharp sand"):
        orders([fresh("M1", FRONT, nhl(2.5), 8.0), fresh("M2", FRONT, nhl(2.5), 8.0, sands=(heavier,))])


def test_a_mix_without_a_sand_for_each_part_or_goods_for_its_doses_is_refused() -> None:
    with pytest.raises(ValueError, match="valid with 2"):
        fresh("M1", FRONT, nhl(2.5, blend=(3, 2)), 8.0, sands=(SHARP_3,))
    taken = Amounts(10.0, 1.0, 0.0, 0.0, 5.0, 1.0, (12.0,), hair_kg=0.1)
    for missing, given_goods in (("pozzolan", {"hair": HAIR}), ("hair", {"pozzolan": BRICK_DUST})):
        with pytest.raises(ValueError, match=f"takes {missing}"):
            MixOrder("M1", nhl(2.5), Cases(taken, taken, taken), NHL_2, (SHARP_3,), **given_goods)


litres = st.floats(0.0, 500.0)


@given(litres, litres, litres, st.floats(0.1, 2.0), st.floats(1.0, 50.0))
def test_packages_hold_what_is_ordered_and_none_too_many(
    low: float, likely: float, high: float, density: float, holds: float
) -> None:
    mix = nhl(2.5)
    cases = Cases(*(Amounts(0.0, 0.0, 0.0, 0.0, each, 0.0, (2.5 * each,)) for each in (low, likely, high)))
    line = orders([MixOrder("M1", mix, cases, Goods("lime", density, holds, "kg"), (SHARP_3,))]).limes[0]
    assert line.kg.low <= line.kg.likely <= line.kg.high
    for kg, bags in ((line.kg.low, line.packages.low), (line.kg.likely, line.packages.likely),
                     (line.kg.high, line.packages.high)):  # fmt: skip
        assert bags * holds >= kg * (1 - 1e-5) - 1e-4
        assert (bags - 1) * holds < kg + 1e-4
