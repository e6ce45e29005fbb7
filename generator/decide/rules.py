"""The rules that think, one pure function each: what a scope sees and the library in, an `Outcome` out.

A rule that lacks an answer it needs decides nothing; what is missing is told by the questions themselves.
"""

from __future__ import annotations

from decimal import Decimal

from generator.decide.model import JOINT_COATS, Outcome, table_reason
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.sand import greatest_grain_mm
from generator.questionnaire.facts import View


def rake_depth(here: View, library: Library) -> Outcome:
    """How deep to rake, and the depth from which a joint is filled and priced as deep.

    Brick: the greater of so many times the usual joint and the least depth, no more than the greatest.
    """
    if here.text("work") != "repoint":
        return Outcome()
    row, told = library.tables["rake-depth"].found(here, unknown=("brick_thickness",))
    joint = here.span("joint_width_mm")
    if row is None or joint is None:
        return Outcome()
    wanted = max(row.number("times_joint") * joint.likely, row.number("least_mm"), row.number("aim_mm"))
    depth = min(wanted, row.number("most_mm"))
    depth = (depth / 5).to_integral_value(rounding="ROUND_CEILING") * 5
    told = (*told, here.spoken("joint_width_mm"))
    return Outcome({"rake_depth_mm": depth, "deep_from_mm": depth}, table_reason("rake-depth", row, told))


def grain(here: View, library: Library) -> Outcome:
    """The greatest grain in a joint: the largest size sold that is no more than a third of the least joint."""
    if here.text("coat") not in JOINT_COATS:
        return Outcome()
    row, told = library.tables["grain"].found(here)
    joint = here.span("joint_width_mm")
    if row is None or joint is None:
        return Outcome()
    fits_mm = greatest_grain_mm(float(joint.low), float(row.number("share_of_joint")))
    limit = min(Decimal(str(fits_mm)), row.number("most_mm"))
    sizes = sorted(row.numbers("sizes_mm"))
    fitting = [size for size in sizes if size <= limit]
    chosen = fitting[-1] if fitting else sizes[0]
    joint_marks = here.marks("joint_width_mm")
    raised = [] if fitting else [Raised("joint-finer-than-sand", here.path, (), (), joint_marks)]
    asked = here.number("asked_grain_mm")
    if asked is not None and asked > chosen:
        fills = (("asked", here.spoken("asked_grain_mm")), ("grain", here.facts.say("greatest_grain_mm", chosen)))
        marks = (*here.marks("asked_grain_mm"), *joint_marks)
        raised.append(Raised("asked-grain-refused", here.path, fills, (), marks))
    told = (*told, here.spoken("joint_width_mm"))
    return Outcome({"greatest_grain_mm": chosen}, table_reason("grain", row, told), tuple(raised))


def curing(here: View, library: Library) -> Outcome:
    """Days kept damp, days open to frost, and the temperatures between which mortar may be placed."""
    row, told = library.tables["curing"].found(here)
    if row is None:
        return Outcome()
    values = {name: row.number(name) for name in ("damp_days", "frost_cover_days", "lowest_c", "highest_c")}
    extra, more = library.tables["dense-curing"].found(here)
    if extra is not None:
        values["damp_days"] += extra.number("extra_damp_days")
    return Outcome(values, table_reason("curing", row, (*told, *more)))


def total(here: View, library: Library) -> Outcome:
    """The thickness of all coats of a work together, from the coats' own."""
    coats = [coat.number("coat_mm") for coat in here.inside("coat")]
    known = [value for value in coats if value is not None]
    return Outcome({"total_mm": sum(known, Decimal(0))}) if known and len(known) == len(coats) else Outcome()
