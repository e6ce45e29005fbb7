"""Rules for coats on a surface: thickness, grain, hair, waits; lifts, laths and limewash beside them."""

from __future__ import annotations

from decimal import Decimal

from generator.decide.model import Outcome, table_reason
from generator.decide.rules import found, number, tabled
from generator.library.model import Library, TableRow
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Value


def thickness(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The thickness of a coat, and the greatest put on in one pass."""
    return tabled(facts, path, library.tables["coat-thickness"], {"coat_mm": "coat_mm", "layer_mm": "layer_mm"})


def grain(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The greatest grain of a coat; 0 for limewash, which has none."""
    return tabled(facts, path, library.tables["coat-grain"], {"greatest_grain_mm": "grain_mm"})


def hair(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The dose of hair in a coat; none where the table has none."""
    dose = tabled(facts, path, library.tables["hair"], {"hair_kg_per_m3": "hair_kg_per_m3"})
    return dose if dose.values.get("hair_kg_per_m3") else Outcome()


def wait(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The days before the next coat may go on."""
    return tabled(facts, path, library.tables["coat-wait"], {"wait_days": "wait_days"})


def panel(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The size of the sample panel, and how long it dries before it is judged."""
    columns = {"panel_area_m2": "area_m2", "panel_dry_days": "dry_days"}
    return tabled(facts, path, library.tables["panel"], columns)


def total(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The thickness of all coats of a work together, from the coats' own."""
    coats = [facts.get(scope.path, "coat_mm") for scope in facts.inside(path, "coat")]
    known = [value for value in coats if isinstance(value, Decimal)]
    return Outcome({"total_mm": sum(known, Decimal(0))}) if known and len(known) == len(coats) else Outcome()


def lift(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The height that may be built in a day, by the binder of the bedding."""
    if facts.get(path, "work") != "rebuild":
        return Outcome()
    return tabled(facts, (*path, "bedding"), library.tables["lift"], {"lift_mm": "lift_mm"})


def lath_gap(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The gap of new laths: the old one where it lies within the published range, else the table's."""
    row, told = found(facts, path, library.tables["lath"])
    if row is None:
        return Outcome()
    gap = _within(facts.get(path, "lath_gap_mm"), row, "gap_least_mm", "gap_most_mm", "gap_mm")
    return Outcome({"lath_gap_chosen_mm": gap}, table_reason("lath", row, told))


def wash_coats(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The coats of limewash: those asked for where the table allows them, else the table's."""
    row, told = found(facts, path, library.tables["wash-coats"])
    if row is None:
        return Outcome()
    coats = _within(facts.get(path, "wash_coats_nr"), row, "coats_least_nr", "coats_most_nr", "coats_nr")
    return Outcome({"wash_coats_chosen_nr": coats}, table_reason("wash-coats", row, told))


def _within(answered: Value | None, row: TableRow, least: str, most: str, usual: str) -> Decimal:
    """What was answered where it lies between two columns of a row, else the row's usual value."""
    if isinstance(answered, Decimal) and number(row, least) <= answered <= number(row, most):
        return answered
    return number(row, usual)
