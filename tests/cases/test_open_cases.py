"""Ten jobs that experts would recognise, each with a trap: what is decided, refused and warned of.

The jobs are invented. What is expected of each rests on published guidance and on common practice: mortar weaker than
the unit and sacrificial (Northern Ireland Technical Note 37), the gradient of US National Park Service Brief 2, grain a
third of the least joint and depth 30 to 40 mm in ashlar (Historic Scotland Inform), weak lime where salts attack soft
brick below the damp-course (Australian heritage councils), hair into cold mortar only (pre-1930 handbooks), and on
supply-trade sheets that disagree with each other.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

import pytest
from decided_cases import case, number

AIR = {"putty", "hot-mix"}
GAUGED = {"putty-pozzolan", "hot-mix-pozzolan"}


@dataclass(frozen=True)
class Expected:
    """What a case must come to. `binders` allows by element and, for plaster, the same for every coat."""

    status: str
    binders: dict[str, set[str]]
    findings: set[str] = field(default_factory=set)
    ratio: tuple[str, str] = ("2", "3")
    grain_mm: tuple[str, str] | None = None
    depth_mm: str | None = None
    layer_mm: str | None = None
    damp_days: str | None = None
    refusals: bool = True


CASES = {
    "c01": Expected(
        "tender", {"front": AIR | {"putty-pozzolan", "nhl-2"}},
        {"asked-binder-refused", "causes-by-others", "cement-trial"},
        grain_mm=("2", "4"), depth_mm="20", layer_mm="25", damp_days="7",
    ),
    "c02": Expected(
        "tender", {"partition": AIR, "soffit": AIR},
        {"asked-hot-hair-refused", "sand-to-sieve", "sand-not-named"}, ratio=("1", "4"), damp_days="7",
    ),
    "c03": Expected(
        "draft", {"garden": GAUGED | {"hot-mix"}}, {"last-placing-passed", "wall-soaked", "leak-first"}, damp_days="14",
    ),
    "c05": Expected(
        "tender", {"front": {"putty", "nhl-2"}},
        {"asked-wider-joints-refused", "asked-grinder-refused", "asked-grain-refused", "asked-binder-refused"},
        ratio=("0.5", "2"), grain_mm=("0.5", "1"), depth_mm="30", layer_mm="15", damp_days="7",
    ),
    "c08": Expected(
        "tender",
        {"house-plinth": {"nhl-3.5"}, "house-retaining": {"nhl-3.5"}, "house-above": {"nhl-2", "putty-pozzolan"}},
        {"air-lime-never-dry", "causes-by-others", "asked-binder-refused"}, ratio=("1.5", "3"), depth_mm="25",
        layer_mm="20", damp_days="10",
    ),
    "c12": Expected(
        "tender", {"aisle": {"nhl-3.5", "hot-mix-pozzolan", "putty-pozzolan"}},
        {"asked-one-go-refused", "asked-binder-refused", "loose-units", "deep-joints"}, ratio=("2", "2.5"),
        grain_mm=("4", "6"), depth_mm="30", layer_mm="25", damp_days="10",
    ),
    "c13": Expected(
        "tender", {"ceiling": AIR},
        {"ceiling-may-fall", "screws-beside-old-plaster", "wide-timbers"}, ratio=("0.5", "4"),
        damp_days="7", refusals=False,
    ),
    "c17": Expected(
        "draft",
        {"west": AIR | GAUGED | {"nhl-2", "nhl-3.5"}, "porch": AIR | GAUGED | {"nhl-2", "nhl-3.5"}, "hall": AIR},
        {"quantity-missing", "not-answered"}, ratio=("1", "4"),
    ),
    "c21": Expected(
        "tender", {"gable": {"nhl-3.5", "nhl-5"}, "wall-head": {"nhl-3.5", "nhl-5"}}, ratio=("2", "2.5"),
        grain_mm=("4", "6"), depth_mm="30", layer_mm="25", damp_days="10", refusals=False,
    ),
    "c23": Expected(
        "tender",
        {
            "tower": {"putty", "nhl-2", "putty-pozzolan"}, "nave": {"nhl-2", "nhl-3.5", "hot-mix", "hot-mix-pozzolan"},
            "porch": {"nhl-3.5"}, "vestry": AIR,
        },
        {"asbestos-found", "cement-trial"}, ratio=("0.5", "4"), damp_days="7",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_the_set_is_for_tender_or_a_draft_as_it_should_be(name: str) -> None:
    assert case(name).status == CASES[name].status


@pytest.mark.parametrize("name", CASES)
def test_every_coat_takes_a_binder_that_experts_would_allow(name: str) -> None:
    found = case(name)
    for scope in found.facts.at("coat"):
        assert found.facts.get(scope.path, "binder") in CASES[name].binders[scope.path[0]], scope.path


@pytest.mark.parametrize("name", CASES)
def test_no_mix_has_a_binder_that_is_not_allowed_anywhere_in_the_job(name: str) -> None:
    allowed = set().union(*CASES[name].binders.values())
    assert {mix.recipe.binder for mix in case(name).decisions.mixes} <= allowed


@pytest.mark.parametrize("name", CASES)
def test_the_findings_that_matter_are_raised(name: str) -> None:
    assert CASES[name].findings <= {item.code for item in case(name).findings}


@pytest.mark.parametrize("name", [name for name, expected in CASES.items() if not expected.refusals])
def test_nothing_is_refused_where_nothing_wrong_was_asked_for(name: str) -> None:
    assert [item.code for item in case(name).findings if item.level == "refusal"] == []


@pytest.mark.parametrize("name", CASES)
def test_ratios_lie_in_the_published_range_and_quicklime_shows_its_slaked_equivalent(name: str) -> None:
    low, high = (Decimal(limit) for limit in CASES[name].ratio)
    found = case(name)
    for made in found.measured.batches:
        if made.mix.recipe.making == "hot-mix":
            assert Decimal(3) <= made.mix.recipe.ratio.chosen <= Decimal(4)
            assert made.putty_ratio is not None
            assert Decimal(1) <= made.putty_ratio.likely <= Decimal(2)
        else:
            assert low <= made.mix.recipe.ratio.chosen <= high, made.mix.recipe.id


@pytest.mark.parametrize("name", [name for name, expected in CASES.items() if expected.grain_mm])
def test_the_greatest_grain_suits_the_least_joint(name: str) -> None:
    assert CASES[name].grain_mm is not None
    low, high = (Decimal(limit) for limit in CASES[name].grain_mm or ())
    for mix in case(name).decisions.mixes:
        assert low <= mix.grain_mm <= high


@pytest.mark.parametrize("name", CASES)
def test_depth_layers_and_damp_days_are_those_of_the_trade(name: str) -> None:
    expected, found = CASES[name], case(name)
    for scope in found.facts.at("coat"):
        if expected.damp_days:
            assert number(found, scope.path, "damp_days") >= Decimal(expected.damp_days)
        if expected.layer_mm:
            assert number(found, scope.path, "layer_mm") <= Decimal(expected.layer_mm)
        if expected.depth_mm:
            assert number(found, scope.path, "rake_depth_mm") >= Decimal(expected.depth_mm)


def test_c02_hair_is_in_the_base_coats_and_none_in_the_finish() -> None:
    found = case("c02")
    for scope in found.facts.at("coat"):
        if scope.path[-1] == "setting":
            assert found.facts.get(scope.path, "hair_kg_per_m3") is None
        else:
            assert Decimal(4) <= number(found, scope.path, "hair_kg_per_m3") <= Decimal(10)


def test_c02_a_sand_for_the_base_coats_is_sieved_and_the_finish_takes_another() -> None:
    sand = {item.code: item.message for item in case("c02").findings if item.code.startswith("sand-")}
    assert "greatest allowed is 3 mm" in sand["sand-to-sieve"]
    assert "What goes into M3 is washed fine silica sand" in sand["sand-not-named"]


@pytest.mark.parametrize(("coat", "low", "high"), [("pricking-up", 8, 12), ("float", 6, 10), ("setting", 2, 4)])
def test_c13_coats_on_laths_have_the_thickness_of_the_trade(coat: str, low: int, high: int) -> None:
    assert low <= number(case("c13"), ("ceiling", "plaster", coat), "coat_mm") <= high


def test_c05_and_c23_ashlar_is_priced_by_the_metre() -> None:
    for name, element, metres in (("c05", "front", 95), ("c23", "tower", 160)):
        lines = [item for item in case(name).measured.items() if item.path[:1] == (element,) and item.entry.unit == "m"]
        assert [item.quantity for item in lines if item.entry.group == "element"] == [Decimal(metres)]


def test_c08_three_areas_are_measured_apart_with_two_mixes() -> None:
    found = case("c08")
    areas = {path: number(found, path, "treated_area_m2") for path in (s.path for s in found.facts.at("work"))}
    assert sorted(areas.values()) == [Decimal(7), Decimal(18), Decimal(30)]
    assert found.facts.get(("house-plinth", "repoint", "pointing"), "mix_used") != found.facts.get(
        ("house-above", "repoint", "pointing"), "mix_used"
    )


def test_c17_nothing_is_priced_without_a_quantity_and_both_elements_still_stand() -> None:
    found = case("c17")
    live = [item for item in found.measured.items() if item.kind not in ("rate only", "sum")]
    assert all(item.quantity for item in live)
    assert {item.path[0] for item in found.measured.items() if item.path} >= {"west", "porch", "hall"}
    assert not any(
        found.facts.get(("west", "repoint", "pointing"), "mix_used") in dict(line.uses)
        for line in found.measured.materials
    )


def test_c23_the_share_of_the_nave_is_66_m2_and_provisional() -> None:
    found = case("c23")
    lines = [item for item in found.measured.items() if item.path[:1] == ("nave",) and item.quantity == 66]
    assert [item.kind for item in lines if item.entry.id.startswith("repoint.stone")] == ["provisional"]
    mixes = {scope.path[0]: found.facts.get(scope.path, "mix_used") for scope in found.facts.at("coat")}
    assert len(found.decisions.mixes) >= 4
    assert mixes["tower"] != mixes["nave"]
