"""Rules for coats on a surface: thickness, grain, hair, waits; lifts, laths and limewash beside them."""

from __future__ import annotations

from decimal import Decimal

from generator.decide.model import Outcome, table_reason
from generator.decide.rules import found, number
from generator.library.model import Library
from generator.questionnaire.facts import Facts, ScopePath


def thickness(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The thickness of a coat, and the greatest put on in one pass."""
    row, told = found(facts, path, library.tables["coat-thickness"])
    if row is None:
        return Outcome()
    values = {"coat_mm": number(row, "coat_mm"), "layer_mm": number(row, "layer_mm")}
    return Outcome(values, table_reason("coat-thickness", row, told))


def grain(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The greatest grain of a coat; 0 for limewash, which has none."""
    row, told = found(facts, path, library.tables["coat-grain"])
    return (
        Outcome()
        if row is None
        else Outcome({"greatest_grain_mm": number(row, "grain_mm")}, table_reason("coat-grain", row, told))
    )


def hair(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The dose of hair in a coat; none where the table has none."""
    row, told = found(facts, path, library.tables["hair"])
    dose = number(row, "hair_kg_per_m3") if row is not None else Decimal(0)
    return (
        Outcome({"hair_kg_per_m3": dose}, table_reason("hair", row, told))
        if row is not None and dose
        else Outcome()
    )


def wait(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The days before the next coat may go on."""
    row, told = found(facts, path, library.tables["coat-wait"])
    return (
        Outcome()
        if row is None
        else Outcome({"wait_days": number(row, "wait_days")}, table_reason("coat-wait", row, told))
    )


def panel(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The size of the sample panel, and how long it dries before it is judged."""
    row, told = found(facts, path, library.tables["panel"])
    if row is None:
        return Outcome()
    values = {"panel_area_m2": number(row, "area_m2"), "panel_dry_days": number(row, "dry_days")}
    return Outcome(values, table_reason("panel", row, told))


def total(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The thickness of all coats of a work together, from the coats' own."""
    coats = [facts.get(scope.path, "coat_mm") for scope in facts.inside(path, "coat")]
    known = [value for value in coats if isinstance(value, Decimal)]
    return Outcome({"total_mm": sum(known, Decimal(0))}) if known and len(known) == len(coats) else Outcome()


def lift(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The height that may be built in a day, by the binder of the bedding."""
    if facts.get(path, "work") != "rebuild":
        return Outcome()
    row, told = found(facts, (*path, "bedding"), library.tables["lift"])
    return (
        Outcome()
        if row is None
        else Outcome({"lift_mm": number(row, "lift_mm")}, table_reason("lift", row, told))
    )


def lath_gap(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The gap of new laths: the old one where it lies within the published range, else the table's."""
    row, told = found(facts, path, library.tables["lath"])
    if row is None:
        return Outcome()
    old = facts.get(path, "lath_gap_mm")
    fits = isinstance(old, Decimal) and number(row, "gap_least_mm") <= old <= number(row, "gap_most_mm")
    gap = old if fits and isinstance(old, Decimal) else number(row, "gap_mm")
    return Outcome({"lath_gap_chosen_mm": gap}, table_reason("lath", row, told))


def wash_coats(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The coats of limewash: those asked for where the table allows them, else the table's."""
    row, told = found(facts, path, library.tables["wash-coats"])
    if row is None:
        return Outcome()
    asked = facts.get(path, "wash_coats_nr")
    fits = isinstance(asked, Decimal) and number(row, "coats_least_nr") <= asked <= number(
        row, "coats_most_nr"
    )
    coats = asked if fits and isinstance(asked, Decimal) else number(row, "coats_nr")
    return Outcome({"wash_coats_chosen_nr": coats}, table_reason("wash-coats", row, told))
