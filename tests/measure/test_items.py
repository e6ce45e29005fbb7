"""Lines to price: sections, numbers, kinds, and what happens where a quantity is missing."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import shipped
from small_library import job

from generator.files.shaping import read_as
from generator.job.job import Job
from generator.library.entries import ItemEntry
from generator.library.model import Conditioned, Library
from generator.measure.items import ORDER, price_lines
from generator.measure.model import Item
from generator.values import replace

LIVE = {"firm", "provisional", "optional"}


def lines(made: Job, rule: str) -> list[Item]:
    return [item for item in made.measured.items() if item.entry.id == rule]


def with_items(*entries: ItemEntry) -> Library:
    """The shipped library with items of a test's own in place of its own."""
    library = shipped()
    free = {("item", entry.id): Conditioned(None) for entry in entries}
    return replace(library, items={entry.id: entry for entry in entries}, conditions={**library.conditions, **free})


def entry(unit: str, quantity: str, **more: object) -> ItemEntry:
    fields = {"id": "own.line", "group": "element", "per": "work", "description": "A line", **more}
    return read_as(ItemEntry, {**fields, "unit": unit, "quantity": quantity})


def priced(made: Job, own: ItemEntry) -> Item:
    (section,), _ = price_lines(made.facts, with_items(own))
    (item,) = section.items
    return item


def test_sections_follow_one_order_and_are_numbered_without_gaps() -> None:
    sections = job(one_wall(contingency="500")).measured.sections
    keys = [section.key for section in sections]
    assert keys == sorted(keys, key=ORDER.index)
    assert [section.number for section in sections] == list(range(1, len(sections) + 1))
    assert keys[0] == "preliminaries"
    assert "contingency" in keys


def test_lines_are_numbered_within_their_section() -> None:
    for section in job(one_wall()).measured.sections:
        assert [item.ref for item in section.items] == [
            f"{section.number}.{place}" for place in range(1, len(section.items) + 1)
        ]


def test_each_wall_has_a_section_of_its_own_with_the_lines_of_all_its_works() -> None:
    both = wall(work("high"), work("low", extent="the lowest metre"), id_="a", name="A")
    made = job(answers(both, wall(id_="b", name="B")))
    own = {section.path[0]: section for section in made.measured.sections if section.path}
    assert list(own) == ["a", "b"]
    measured = [item.path[1] for item in own["a"].items if item.entry.id == "repoint.brick"]
    assert measured == ["high", "low"]
    assert {item.path[0] for item in own["b"].items} == {"b"}


@pytest.mark.parametrize(
    ("area", "quantity"), [("19.98", "10"), ("21.2", "10.6"), ("13", "6.5"), ("0.44", "0.2"), ("199", "99.5")]
)
def test_quantities_stand_to_a_tenth_of_their_unit(area: str, quantity: str) -> None:
    (line,) = lines(job(one_wall(face_area_m2=area)), "repoint.brick")
    assert line.quantity == Decimal(quantity)


def test_numbers_are_never_rounded() -> None:
    (line,) = lines(job(one_wall(loose_units_nr="12")), "repoint.loose-units")
    assert (line.quantity, line.entry.unit) == (Decimal(12), "nr")


@pytest.mark.parametrize(("sure", "kind"), [("measured", "firm"), ("estimated", "provisional"), (None, "provisional")])
def test_a_quantity_that_was_estimated_is_provisional(sure: str | None, kind: str) -> None:
    (line,) = lines(job(one_wall(quantity_sure=sure)), "repoint.brick")
    assert line.kind == kind


@pytest.mark.parametrize("changes", [{"face_area_m2": area} for area in ("0", None, "not known")])
def test_a_missing_area_leaves_the_line_as_rate_only_with_its_quantity_to_follow(
    changes: dict[str, str | None],
) -> None:
    made = job(one_wall(**changes))
    (line,) = lines(made, "repoint.brick")
    assert (line.kind, line.quantity, line.to_follow) == ("rate only", None, True)
    assert line.mix == "M1"
    found = [item for item in made.findings if item.code == "quantity-missing"]
    assert [(item.scope, item.level) for item in found] == [(("front", "repoint"), "block")]
    assert line.ref in found[0].message


def test_a_share_that_is_not_known_leaves_no_quantity() -> None:
    (line,) = lines(job(one_wall(treated_per_cent="not known")), "repoint.brick")
    assert line.to_follow


def test_openings_as_large_as_the_face_leave_no_quantity_rather_than_one_below_nothing() -> None:
    made = job(one_wall(openings="[{width_m: 4, height_m: 4}]"))
    (line,) = lines(made, "repoint.brick")
    assert line.to_follow
    assert made.status == "draft"


def test_a_missing_quantity_is_told_once_however_many_lines_need_it() -> None:
    made = job(one_wall(face_area_m2=None, salts="heavy"))
    codes = [(item.code, item.scope, item.message) for item in made.findings if item.code == "quantity-missing"]
    assert len(codes) == len(set(codes))


@pytest.mark.parametrize("path", ["repoint.brick", "repoint.curing"])
def test_no_live_line_has_nothing_as_its_quantity(path: str) -> None:
    made = job(one_wall(face_area_m2="0", loose_units_nr="0", deep_voids_m2="0"))
    assert lines(made, path)
    assert all(item.quantity for item in made.measured.items() if item.kind in LIVE)


def test_lines_of_nothing_found_are_left_out_rather_than_priced_at_nothing() -> None:
    made = job(one_wall(loose_units_nr="0", deep_voids_m2="0", cement_area_m2="0"))
    for rule in ("repoint.loose-units", "repoint.deep-brick", "repoint.cement-trial", "repoint.cement-firm"):
        assert lines(made, rule) == []


def test_firm_cement_is_provisional_after_a_trial() -> None:
    made = job(one_wall(cement_area_m2="2", cement_hold="firm"))
    (trial,), (extra,) = lines(made, "repoint.cement-trial"), lines(made, "repoint.cement-firm")
    assert trial.quantity == 1
    assert (extra.kind, extra.quantity) == ("provisional", Decimal("2.0"))


def test_a_line_wider_than_a_work_names_no_mix_but_one_for_each_mix_names_its_own() -> None:
    items = [item for section in job(one_wall()).measured.sections for item in section.items]
    assert all(item.mix == ("M1" if len(item.path) > 1 or item.entry.per == "mix" else "") for item in items)
    assert any(item.entry.per == "mix" for item in items)


def test_a_sum_carries_its_amount_and_no_quantity() -> None:
    made = job(one_wall(contingency="2500"))
    (line,) = [item for item in made.measured.items() if item.section == "contingency"]
    assert (line.kind, line.quantity, line.amount) == ("sum", None, Decimal(2500))


def test_a_number_in_the_library_is_the_quantity() -> None:
    assert priced(job(one_wall()), entry("item", "1")).quantity == 1
    assert priced(job(one_wall()), entry("m²", "2.5")).quantity == Decimal("2.5")


def test_a_range_is_priced_at_its_likely_value() -> None:
    item = priced(job(one_wall(joint_width_mm="9 - 30 (11)")), entry("m", "joint_width_mm"))
    assert item.quantity == 11


def test_a_condition_that_cannot_be_judged_includes_the_line_only_where_the_library_says_so() -> None:
    made, library = job(one_wall(salts="not known")), shipped()
    condition = library.condition("item", "plaster.salts")
    for wish, count in (("include", 1), ("exclude", 0)):
        own = entry("item", "1", if_unknown=wish)
        changed = replace(with_items(own), conditions={**library.conditions, ("item", own.id): condition})
        sections, _ = price_lines(made.facts, changed)
        assert len(sections) == count
