"""The rules, one pure function each: facts at a scope and the library in, an `Outcome` out.

A rule that lacks an answer it needs decides nothing; what is missing is told by the questions themselves.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from generator.decide.model import Outcome, marks_of, table_reason
from generator.errors import Raised
from generator.library.model import Library, Table, TableRow
from generator.lime import season
from generator.lime.sand import greatest_grain_mm
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range, Value

JOINT_COATS: Final = ("pointing", "bedding")


def exposure_reckoned(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The exposure reckoned with: a chimney or wall head is wetter than the wall around it."""
    return tabled(facts, path, library.tables["exposure-reckoned"], {"exposure_reckoned": "exposure_reckoned"})


def wall_class(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The strength class of the wall, from its weakest units."""
    return tabled(facts, path, library.tables["wall-class"], {"wall_class": "wall_class"}, ("hardness",))


def wetting(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """How the wall is wetted before filling: by its suction, not by habit."""
    return tabled(facts, path, library.tables["wetting"], {"wetting": "wetting"}, ("water_drop",))


def rake_depth(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """How deep to rake, and the depth from which a joint is filled and priced as deep.

    Brick: the greater of so many times the usual joint and the least depth, no more than the greatest.
    """
    if facts.get(path, "work") != "repoint":
        return Outcome()
    row, told = found(facts, path, library.tables["rake-depth"], optional=("brick_thickness",))
    joint = _range(facts, path, "joint_width_mm")
    if row is None or joint is None:
        return Outcome()
    wanted = max(number(row, "times_joint") * joint.likely, number(row, "least_mm"), number(row, "aim_mm"))
    depth = min(wanted, number(row, "most_mm"))
    depth = (depth / 5).to_integral_value(rounding="ROUND_CEILING") * 5
    told = (*told, facts.spoken(path, "joint_width_mm"))
    return Outcome({"rake_depth_mm": depth, "deep_from_mm": depth}, table_reason("rake-depth", row, told))


def deep_band(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The step of depth by which joints beyond the raking depth are priced."""
    if facts.get(path, "work") != "repoint":
        return Outcome()
    return tabled(facts, path, library.tables["deep-band"], {"deep_band_mm": "band_mm"})


def grain(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The greatest grain: the largest size sold that is no more than a third of the least joint."""
    if facts.get(path, "coat") not in JOINT_COATS:
        return Outcome()
    row, told = found(facts, path, library.tables["grain"])
    joint = _range(facts, path, "joint_width_mm")
    if row is None or joint is None:
        return Outcome()
    fits_mm = greatest_grain_mm(float(joint.low), float(number(row, "share_of_joint")))
    limit = min(Decimal(str(fits_mm)), number(row, "most_mm"))
    sizes = sorted(Decimal(str(size)) for size in row.values["sizes_mm"])
    fitting = [size for size in sizes if size <= limit]
    joint_marks = marks_of(facts, path, "joint_width_mm")
    raised = [] if fitting else [Raised("joint-finer-than-sand", path, (), (), joint_marks)]
    chosen = fitting[-1] if fitting else sizes[0]
    asked = facts.get(path, "asked_grain_mm")
    if isinstance(asked, Decimal) and asked > chosen:
        fills = (
            ("asked", facts.say("asked_grain_mm", asked)),
            ("grain", facts.say("greatest_grain_mm", chosen)),
        )
        marks = (*marks_of(facts, path, "asked_grain_mm"), *joint_marks)
        raised.append(Raised("asked-grain-refused", path, fills, (), marks))
    told = (*told, facts.spoken(path, "joint_width_mm"))
    return Outcome({"greatest_grain_mm": chosen}, table_reason("grain", row, told), tuple(raised))


def layer(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The greatest thickness put in a joint at once."""
    if facts.get(path, "coat") not in JOINT_COATS:
        return Outcome()
    return tabled(facts, path, library.tables["fill-layer"], {"layer_mm": "layer_mm"})


def curing(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """Days kept damp, days open to frost, and the temperatures between which mortar may be placed."""
    row, told = found(facts, path, library.tables["curing"])
    if row is None:
        return Outcome()
    values = {name: number(row, name) for name in ("damp_days", "frost_cover_days", "lowest_c", "highest_c")}
    extra, more = found(facts, path, library.tables["dense-curing"])
    if extra is not None:
        values["damp_days"] += number(extra, "extra_damp_days")
    return Outcome(values, table_reason("curing", row, (*told, *more)))


def last_placing(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """The last day for placing: the early-frost date less the days the mortar stays open to frost."""
    frost, cover = facts.get(path, "early_frost_date"), facts.get(path, "frost_cover_days")
    if not isinstance(frost, datetime.date) or not isinstance(cover, Decimal) or cover == 0:
        return Outcome()
    last = season.last_placing(frost, float(cover))
    start = facts.get(path, "start_date")
    late = isinstance(start, datetime.date) and start > last
    fills = (("last", facts.say("early_frost_date", last)),)
    marks = marks_of(facts, path, "start_date", "early_frost_date")
    raised = (Raised("last-placing-passed", path, fills, (), marks),) if late else ()
    reason = facts.spoken(path, "early_frost_date"), facts.spoken(path, "frost_cover_days")
    row, _ = found(facts, path, library.tables["curing"])
    assert row is not None
    values: dict[str, Value] = {"season_last_placing_date": last, "season_passed": late}
    return Outcome(values, table_reason("last-placing", row, reason), raised)


def tabled(
    facts: Facts, path: ScopePath, table: Table, columns: Mapping[str, str], optional: tuple[str, ...] = ()
) -> Outcome:
    """The names that a table's row gives straight from its columns; nothing where a key is not known."""
    row, told = found(facts, path, table, optional)
    if row is None:
        return Outcome()
    values = {
        name: number(row, column) if facts.names[name].kind == "number" else row.values[column]
        for name, column in columns.items()
    }
    return Outcome(values, table_reason(table.id, row, told))


def found(
    facts: Facts, path: ScopePath, table: Table, optional: tuple[str, ...] = ()
) -> tuple[TableRow | None, tuple[str, ...]]:
    """The row of a table for a scope, and the answers it was found by; no row where a key is not known."""
    keys: dict[str, str | None] = {}
    for name in table.keys:
        value = facts.get(path, name)
        if not isinstance(value, str) and name not in optional:
            return None, ()
        keys[name] = value if isinstance(value, str) else None
    told = tuple(f"{facts.names[name].label.lower()}: {facts.spoken(path, name)}" for name in table.keys if keys[name])
    return table.find(**keys), told


def number(row: TableRow, name: str) -> Decimal:
    """A value of a row as a number."""
    return Decimal(str(row.values[name]))


def _range(facts: Facts, path: ScopePath, name: str) -> Range[Decimal] | None:
    value = facts.get(path, name)
    return value if isinstance(value, Range) else None
