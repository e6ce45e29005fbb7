"""Where a cost lies, as clauses say it: what a shape takes, and what the library's check refuses."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers import build_tree, told
from jobs import ROOT, shipped
from small_library import clause, library_of

from generator.files.errors import InputInvalid
from generator.files.shaping import read_as
from generator.library.cost_checks import misplaced
from generator.library.costs import duties_of_lines, in_all_rates, named_lines, place_of
from generator.library.entries import ItemEntry
from generator.library.load import read_library
from generator.library.model import Conditioned, Library
from generator.questionnaire.parsing import parse
from generator.values import replace


def item(id_: str, **more: object) -> ItemEntry:
    fields = {"id": id_, "group": "element", "per": "work", "description": "A line", "unit": "m²", "quantity": "1"}
    return read_as(ItemEntry, {**fields, **more})


def library_with(*items: ItemEntry, **costs: object) -> Library:
    """A library of these lines and of a clause for each cost, whose id is the key with a dot for its line below."""
    library = library_of(*(clause(key.replace("_", "."), cost=cost) for key, cost in costs.items()))
    own = {
        ("item", one.id): Conditioned(parse(one.when, one.per, library.names) if one.when else None) for one in items
    }
    return replace(library, items={one.id: one for one in items}, conditions={**library.conditions, **own})


def found(library: Library) -> list[str]:
    return told(misplaced(library))


# --- what a clause may say --------------------------------------------------------------------------------


def layered(tmp_path: Path, cost: str) -> list[str]:
    """The mistakes of a layer with one clause whose lines 6 and on are these."""
    text = f"""\
        clauses:
        - id: house.photographs
          part: completion
          title: Photographs
          text: Photograph each wall.
          {cost}
          sources: [common-practice]
        """
    folder = build_tree(tmp_path / "own", {"layer.yaml": "{name: own, edition: '1'}\n", "clauses/a.yaml": text})
    with pytest.raises(InputInvalid) as caught:
        read_library(ROOT / "clauses", [folder])
    return [str(problem).removeprefix(f"{folder}/clauses/a.yaml:") for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("cost", "mistake"),
    [
        ("keep: false", "2:3: lacks 'cost': say where its cost lies: 'cost: {line: ITEM}', '{rate: ITEM}', "),
        (
            "cost: {line: repoint.brick, rate: repoint.brick}",
            "6:9: 'cost' lies in 2 places, 'line' and 'rate': leave one; what another line pays is a clause of its own",
        ),
        ("cost: {lines: repoint.brick}", "6:9: 'cost' lies in 'lines', which is no place: did you mean 'line'?"),
        ("cost: {rate: []}", "6:9: 'cost' names no line under 'rate': name one line by its id, or several as [a, b]"),
        ("cost: nobody", "6:9: 'cost' cannot be 'nobody': say which line pays for it: "),
        ("cost: {}", "6:9: 'cost' is a mapping, where the place of a cost is wanted: write "),
        (
            "cost: {rate: repoint.brik}",
            "2:3: clause 'house.photographs' is paid by the line 'repoint.brik', which is not ",
        ),
    ],
)
def test_a_clause_of_a_layer_that_does_not_say_who_pays_is_told_at_its_place_and_what_to_write(
    tmp_path: Path, cost: str, mistake: str
) -> None:
    (first,) = layered(tmp_path, cost)
    assert first.startswith(mistake)


@pytest.mark.parametrize(
    ("cost", "place", "lines", "everywhere"),
    [
        ("information", "information", (), False),
        ({"rate": "a.b"}, "rate", ("a.b",), False),
        ({"line": ["a.b", "a.c"]}, "line", ("a.b", "a.c"), False),
        ({"rate": "measured-work"}, "rate", (), True),
        ({"rate": "mixed-work"}, "rate", (), True),
    ],
)
def test_a_cost_is_read_as_its_place_and_its_lines(
    cost: object, place: str, lines: tuple[str, ...], everywhere: bool
) -> None:
    own = clause("first.a", cost=cost)
    assert (place_of(own), named_lines(own), in_all_rates(own)) == (place, lines, everywhere)


# --- what the library's check refuses ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("library", "mistake"),
    [
        (library_with(item("a.b"), first_x="information"), "item 'a.b' pays for no clause: name it in the 'cost'"),
        (
            library_with(item("a.b"), first_x={"preliminaries": "a.b"}),
            "has 'a.b' as its 'preliminaries', which is a line",
        ),
        (library_with(item("a.b"), first_x={"sum": "a.b"}), "has 'a.b' as its 'sum', which is a line of another kind"),
        (
            library_with(item("a.b", group="rate-only", kind="rate only", quantity=""), first_x={"rate": "a.b"}),
            "as its 'rate', which is a line of another kind: a line that has a rate only stands in 'line'",
        ),
        (
            library_with(item("a.b"), first_x={"line": ["a.b", "a.c"]}),
            "by the line 'a.c', which is not there: did you mean",
        ),
        (
            library_with(item("a.b", besides=["a.c"]), first_x={"line": "a.b"}),
            "stands beside 'a.c', which is no other line",
        ),
        (
            library_with(item("a.b", kind="sum", quantity=""), first_x={"sum": "a.b"}),
            "does not say which answer sets it",
        ),
        (library_with(item("a.b"), first_x={"line": "measured-work"}), "write 'cost: {rate: measured-work}'"),
        (
            library_with(item("a.b"), first_x={"line": "a.b"}, first_y="open"),
            "'first.y' does not say where its cost lies",
        ),
        (
            library_with(item("a.b"), item("a.c"), first_x={"line": ["a.b", "a.c"]}),
            "clause 'first.x' is paid by 'a.b' and by 'a.c', which can stand at one place: give them conditions that",
        ),
    ],
)
def test_a_duty_without_a_line_a_line_without_a_duty_and_two_lines_for_one_are_refused(
    library: Library, mistake: str
) -> None:
    assert any(mistake in line for line in found(library)), found(library)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"when": "masonry == 'brick'"}, {"when": "masonry in ['flint', 'rubble']"}),
        ({"when": "masonry == 'laths' and overhead"}, {"when": "masonry != 'laths' or not overhead"}),
        ({"when": "known(cement_hold)"}, {"when": "not known(cement_hold) and work == 'repoint'"}),
        ({"when": "cement_hold == 'loose'"}, {"when": "cement_hold == 'firm' or not known(cement_hold)"}),
        ({"when": "loose_units_nr > 0"}, {"when": "loose_units_nr == 0"}),
        ({"when": "joint_width_mm >= 20"}, {"when": "joint_width_mm < 20"}),
        (
            {"per": "element", "when": "none(work == 'enabling' and 'plants' in enabling_tasks)"},
            {"when": "work == 'enabling' and 'plants' in enabling_tasks"},
        ),
        ({}, {"besides": ["a.b"]}),
    ],
)
def test_lines_that_exclude_one_another_or_stand_besides_may_pay_for_one_clause(
    one: dict[str, object], other: dict[str, object]
) -> None:
    assert found(library_with(item("a.b", **one), item("a.c", **other), first_x={"line": ["a.b", "a.c"]})) == []


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"when": "masonry == 'brick'"}, {"when": "masonry in ['flint', 'brick']"}),
        ({"when": "masonry == 'brick'"}, {"when": "work == 'repoint'"}),
        ({"when": "masonry != 'brick'"}, {"when": "masonry != 'flint'"}),
        ({"when": "loose_units_nr > 0"}, {"when": "loose_units_nr >= 1"}),
        ({"when": "'gutters' in enabling_tasks"}, {"when": "'plants' in enabling_tasks"}),
        ({"per": "element", "when": "any(work == 'repoint')"}, {"when": "work == 'plaster'"}),
    ],
)
def test_lines_that_may_meet_are_told(one: dict[str, object], other: dict[str, object]) -> None:
    library = library_with(item("a.b", **one), item("a.c", **other), first_x={"line": ["a.b", "a.c"]})
    assert ["can stand at one place" in line for line in found(library)] == [True]


def test_a_line_beside_others_pays_for_what_they_are_the_line_of_and_for_no_way_of_working() -> None:
    clauses = {
        one.id: one for one in (clause("first.how", cost={"rate": "a.b"}), clause("first.what", cost={"line": "a.b"}))
    }
    items = {one.id: one for one in (item("a.b"), item("a.more", besides=["a.b"]), item("a.most", besides=["a.more"]))}
    assert duties_of_lines(clauses, items) == {
        "a.b": ("first.how", "first.what"), "a.more": ("first.what",), "a.most": ("first.what",),
    }  # fmt: skip


def test_the_shipped_library_has_no_cost_out_of_place() -> None:
    assert found(shipped()) == []
