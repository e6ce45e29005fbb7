"""What a clause says of one side of a case it says of the other too: thinner and thicker, damp and dry."""

from __future__ import annotations

from jobs import example, shipped


def text(clause: str) -> str:
    return " ".join(shipped().clauses[clause].text.split())


def test_old_plaster_is_met_where_it_is_thinner_than_the_new_and_where_it_is_thicker() -> None:
    joining = text("plaster.junctions")
    assert "thinner than the coats here, thin the base coats" in joining
    assert "thicker, make up the last base coat, in layers no thicker than specified" in joining


def test_sand_that_comes_dry_is_damped_before_boxes_of_damp_sand_are_counted() -> None:
    assert any(entry.package.name == "bag" for key, entry in shipped().materials.items() if "sand" in key)
    assert "damp and turn sand that comes dry" in text("mortars.gauging")


def test_the_margin_of_salts_lies_in_the_area_marked_and_goes_before_the_rule_that_sound_plaster_stays() -> None:
    salty = text("removal.salty")
    assert "Sound lime stays" in text("removal.extent")
    assert "whatever [](clause:removal.extent) says of sound plaster" in salty
    assert "Within the area marked" in salty


def test_the_mill_house_counts_the_margin_of_its_salts_in_what_comes_off() -> None:
    works = {work.path: work for work in example("mill-house").facts.views("work")}
    assert "margin beyond the salts" in works["dining-room", "take-off"].text("extent")


def test_no_step_calls_paint_leaded_before_it_has_been_tested() -> None:
    found, tested = (shipped().operations[name] for name in ("wall.lead", "wall.lead-test"))
    assert "not-tested" not in str(found.when)
    assert "till the report" in tested.text
    assert {"safety.lead-not-tested", "safety.lead-found"} == set(tested.clauses)


def test_the_contract_that_leaves_a_late_season_to_it_has_a_place_in_the_order_of_the_papers() -> None:
    assert "what the contract says of it" in text("tendering.contract-form")
    assert "addenda, latest first; the contract; the mix schedule" in text("tendering.papers")
