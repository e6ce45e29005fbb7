"""Forty and more disagreements, planted in a small library, a job or its papers: each is found, its places told."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

import pytest
from answers_text import answers, wall
from small_library import clause, library_of
from structures import field_names

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.document.model import (
    CLAUSE_NUMBERS,
    ClauseBlock,
    Figure,
    Heading,
    ListBlock,
    Ref,
    Row,
    Table,
    Text,
    Value,
    plain_text,
)
from generator.document.template import PaperPart
from generator.drawing.model import Drawing
from generator.files.errors import InputInvalid, Mark
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.entries import Clause, OperationEntry, Part
from generator.library.findings import Finding
from generator.library.model import Dropped, Library
from generator.papers.agreement.agree import agreed, agreed_record
from generator.papers.agreement.printed import Printed, printed
from generator.record.record import record
from generator.values import replace

ANSWERS: Final = answers(
    wall(decay_causes="[gutter]", causes_cured="by-others"),
    wall(id_="back", name="Back wall", masonry="rubble", hardness="medium", bond=None, exposure="severe"),
)
"""A soft brick front pointed in putty (M1), and a rubble back pointed in hydraulic lime (M2)."""

CLAUSES: Final = (
    clause("first.job", text="By the boxes of the mix table, and only where the table puts it."),
    clause("first.walls", per="element", when="masonry == 'brick'", text="Walls of {{ masonry }}."),
    clause("first.depth", per="work", when="work == 'repoint'", text="Rake to {{ rake_depth_mm }}.", check="A gauge."),
    clause("second.damp", per="coat", text="Damp for {{ damp_days }}, as [](clause:first.job) says."),
    clause("second.making", per="mix", text="Make {{ mix_name }} of {{ mix_boxes }}."),
    clause("second.putty", per="mix", when="mix_making == 'putty'", text="Rest {{ mix_rest_days }}."),
    clause("third.holds", text="Pass a hold point tabled in this part only when released."),
)
STEP: Final = OperationEntry(id="own.rest", per="mix", text="Rest.", clauses=("second.making",))


# --- what is planted in -------------------------------------------------------------------------------------


def library(*more: Clause, instead: Mapping[str, object] | None = None) -> Library:
    """The small library with three parts, the second of which shows mixes and the third hold points."""
    found = library_of(*(item for item in CLAUSES if item.id not in {own.id for own in more}), *more)
    shows = {"first": "", "second": "mixes", "third": "hold-points"}
    parts = tuple(Part(id=key, title=f"Part {key}", shows=shown) for key, shown in shows.items())  # type: ignore[arg-type]
    start = replace(found.hold_points["start"], clauses=("third.holds",))
    held = {**found.hold_points, "start": start}
    return replace(found, parts=parts, **{"hold_points": held, **(instead or {})})  # type: ignore[arg-type]


def job_by(by: Library) -> Job:
    """The job by a library."""
    return pipeline.settled(pipeline.read(read_bytes(ANSWERS.encode(), "answers.yaml", typed=False), by), by)


@functools.cache
def good() -> Job:
    """The job by the library in which nothing is planted."""
    return job_by(library())


def papers(of: Job) -> Printed:
    """All papers of a job, which agree."""
    return pipeline.assembled(of, list(COMPANIONS))


@functools.cache
def good_papers() -> Printed:
    """All papers of that job."""
    return papers(good())


def without(of: Library, part: str) -> Library:
    """A library whose specification does without a part."""

    def cut(parts: tuple[PaperPart, ...]) -> tuple[PaperPart, ...]:
        return tuple(replace(item, parts=cut(item.parts)) for item in parts if item.part != part)

    paper = of.templates["specification"]
    return replace(of, templates={**of.templates, "specification": replace(paper, parts=cut(paper.parts))})


def edited(tree: Any, change: Callable[[Any], Any]) -> Any:
    """A tree of papers with a change made to each thing in it, the inner before the outer."""
    if isinstance(tree, tuple):
        inside = tuple(edited(item, change) for item in tree)
        return change(inside if any(new is not old for new, old in zip(inside, tree, strict=True)) else tree)
    if not isinstance(tree, Drawing) and (names := field_names(tree)):
        inner = {name: edited(getattr(tree, name), change) for name in names}
        if any(inner[name] is not getattr(tree, name) for name in inner):
            tree = replace(tree, **inner)
    return change(tree)


def value(name: str, old: str, new: str) -> Callable[[Any], Any]:
    """A value of a name that was spelt in one way spelt in another."""
    return lambda it: replace(it, text=new) if isinstance(it, Value) and (it.name, it.text) == (name, old) else it


def causeless(of: Library) -> Library:
    """A library whose specification shows no causes of decay."""

    def put(parts: tuple[PaperPart, ...]) -> tuple[PaperPart, ...]:
        shown = (replace(it, rows=tuple(row for row in it.rows if row.shows != "decay_causes")) for it in parts)
        return tuple(replace(it, parts=put(it.parts)) for it in shown)

    paper = of.templates["specification"]
    return replace(of, templates={**of.templates, "specification": replace(paper, parts=put(paper.parts))})


def numbered(scope: tuple[str, ...], text: str) -> Callable[[Any], Any]:
    """Numbers of clauses in place of the extent of a work."""
    return lambda it: replace(it, name=CLAUSE_NUMBERS, text=text) if _is(it, "extent") and it.scope == scope else it


def refuse(found: Printed, **instead: Any) -> None:
    """Holds papers against one another after some were put in place of others."""
    documents = {**found.documents, **{name.replace("_", "-"): it for name, it in instead.items() if _is_paper(name)}}
    agreed(printed(found.job, documents, instead.get("sheet", found.sheet), instead.get("book", found.book)))


def _is_paper(name: str) -> bool:
    return name not in ("sheet", "book")


def in_paper(name: str, change: Callable[[Any], Any]) -> Callable[[], object]:
    """A disagreement planted in one paper."""

    def plant() -> None:
        found = good_papers()
        whole = found.sheet if name == "sheet" else found.book if name == "book" else found.documents[name]
        new = edited(whole, change)
        assert new != whole, f"nothing was planted in {name}"
        refuse(found, **{name.replace("-", "_"): new})

    return plant


def in_library(make: Callable[[], Library]) -> Callable[[], object]:
    """A disagreement planted in the library."""
    return lambda: papers(job_by(make()))


def in_job(change: Callable[[Job], Job]) -> Callable[[], object]:
    """A disagreement planted in the settled job."""
    return lambda: papers(change(good()))


def in_record(change: Callable[[dict[str, Any]], object]) -> Callable[[], object]:
    """A disagreement planted in the record, which is held against what stays of the papers once they are written."""

    def plant() -> None:
        told, written = record(good(), "answers.yaml", b"", {}), good_papers().without_papers()
        agreed_record(written, told)
        change(told)
        agreed_record(written, told)

    return plant


def fact(of: Job, path: tuple[str, ...], name: str, new: object) -> Job:
    """A job whose papers see another value than its clauses."""
    return replace(of, facts=of.facts.adding(path, {name: new}, "<test>"))  # type: ignore[dict-item]


def measured(of: Job, ref: str, **changes: Any) -> Job:
    """A job with a line changed after it was measured."""
    sections = tuple(
        replace(section, items=tuple(replace(it, **changes) if it.ref == ref else it for it in section.items))
        for section in of.measured.sections
    )
    return replace(of, measured=replace(of.measured, sections=sections))


def batch(of: Job, change: Callable[[Any], Any]) -> Job:
    """A job with its first batch changed."""
    first, *others = of.measured.batches
    return replace(of, measured=replace(of.measured, batches=(change(first), *others)))


def mixed(of: Job, **changes: Any) -> Job:
    """A job with its first mix changed after it was gathered."""
    first, *others = of.decisions.mixes
    return replace(of, decisions=replace(of.decisions, mixes=(replace(first, **changes), *others)))


def template(of: Library, part: str, **changes: Any) -> Library:
    """A library with a part of its specification changed."""

    def put(parts: tuple[PaperPart, ...]) -> tuple[PaperPart, ...]:
        return tuple(replace(it, parts=put(it.parts), **(changes if it.part == part else {})) for it in parts)

    paper = of.templates["specification"]
    return replace(of, templates={**of.templates, "specification": replace(paper, parts=put(paper.parts))})


def blocks(anchor: str, change: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """A change made to what others refer to by an anchor."""
    return lambda it: change(it) if getattr(it, "anchor", "") == anchor else it


def clauses(key: str, change: Callable[[ClauseBlock], ClauseBlock]) -> Callable[[Any], Any]:
    """A change made to a clause."""
    return lambda it: change(it) if isinstance(it, ClauseBlock) and it.clause_id == key else it


def gone(anchor: str) -> Callable[[Any], Any]:
    """What others refer to by an anchor taken out of the blocks it stands among."""

    def cut(it: Any) -> Any:
        kept = [item for item in it if getattr(item, "anchor", "") != anchor] if isinstance(it, tuple) else it
        return tuple(kept) if isinstance(it, tuple) and len(kept) < len(it) else it

    return cut


def row_of(ref: str, change: Callable[[Row], Row]) -> Callable[[Any], Any]:
    """A change made to the line of a number in the schedule of the specification."""
    return lambda it: change(it) if isinstance(it, Row) and plain_text(it.cells[0]) == ref else it


def priced(ref: str, **changes: Any) -> Callable[[Any], Any]:
    """A change made to a line of the workbook."""
    return lambda it: replace(it, **changes) if getattr(it, "ref", "") == ref and hasattr(it, "unit") else it


def card(ref: str, change: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """A change made to the card of a mix."""
    return lambda it: change(it) if getattr(it, "ref", "") == ref and hasattr(it, "use_by") else it


def _line(told: dict[str, Any], ref: str) -> dict[str, Any]:
    return next(item for item in told["items"] if item["ref"] == ref)


def _clause(told: dict[str, Any], key: str) -> dict[str, Any]:
    return next(item for item in told["clauses"] if item["id"] == key)


def _second(cells: tuple[Any, ...], old: str, new: str) -> tuple[Any, ...]:
    return tuple((Text(new),) if plain_text(cell) == old else cell for cell in cells)


RULES: Final = clause("first.rules", text="By the rules printed in the schedule.")
CAUSES: Final = clause("first.causes", per="element", text="Cure the causes named on this sheet.")
BORNE: Final = clause(
    "first.borne", per="element", when="masonry == 'rubble'", text="Place no lime before its release."
)
LOST: Final = Finding("note", "gutter-first", ("nowhere",), "m", "a", "specifier")


@dataclass(frozen=True)
class Plant:
    """A disagreement: how it is planted, and what tells of it, both places among them."""

    by: Callable[[], object]
    told: tuple[str, ...]


PLANTS: Final[dict[str, Plant]] = {
    # values
    "a depth other on the sheets than in the clause": Plant(
        in_job(lambda job: fact(job, ("front", "repoint"), "rake_depth_mm", Decimal(30))),
        ("'rake_depth_mm' of Front wall", "'25 mm'", "clause 1.3 (first.depth)", "'30 mm'", "officer-summary"),
    ),
    "a depth other for the officer": Plant(
        in_paper("officer-summary", value("rake_depth_mm", "25 mm", "20 mm")),
        ("'rake_depth_mm'", "'20 mm' in officer-summary", "'25 mm' in specification"),
    ),
    "a layer other on the card": Plant(
        in_paper("sheet", value("layer_mm", "15 mm", "35 mm")), ("'35 mm' in mix-schedule, 'M1'", "specification")
    ),
    "a layer other on a sheet": Plant(
        in_paper("specification", value("layer_mm", "15 mm", "12 mm")),
        ("'layer_mm'", "'12 mm'", "'15 mm'", "Front wall"),
    ),
    "a gauge box other on the mix schedule": Plant(
        in_paper("sheet", value("gauge_box_l", "14 l", "12 l")), ("'gauge_box_l'", "'12 l' in mix-schedule", "'14 l'")
    ),
    "boxes other in the batch record": Plant(
        in_paper("site-records", lambda it: replace(it, text="9 boxes") if _boxes(it) else it),
        ("'mix_boxes'", "'9 boxes' in site-records", "in specification"),
    ),
    "a mix named otherwise in the summary": Plant(
        in_job(lambda job: mixed(job, recipe=job.decisions.mixes[1].recipe)),
        ("'mix_name' of", "nhl-3.5-stone name", "putty-brick name"),
    ),
    "a client's title other for the owner": Plant(
        in_paper("owner-page", value("title", "Garden house, repointing in lime (invented)", "Another house")),
        ("'title'", "'Another house' in owner-page", "in specification"),
    ),
    "how long a mix is used": Plant(
        in_paper("sheet", card("M2", lambda it: replace(it, use_by="3 days"))),
        ("M2", "'3 days'", "mix_use_within_hours"),
    ),
    "a date given as another": Plant(
        in_paper("specification", value("start_date", "10 May 2027", "1 May 2027")), ("'start_date'", "'1 May 2027'")
    ),
    "a value of no name": Plant(
        in_paper("specification", lambda it: replace(it, name="depth") if _is(it, "rake_depth_mm") else it),
        ("'depth', which is no name", "specification"),
    ),
    "a value of no place": Plant(
        in_paper("specification", lambda it: replace(it, scope=("barn",)) if _is(it, "height_m") else it),
        ("'height_m' of 'barn', which is not there", "specification"),
    ),
    "a value left to be settled for tender": Plant(
        in_paper("specification", value("rake_depth_mm", "25 mm", "to-be-settled")),
        ("clause 1.3 (first.depth) is for tender", "'rake_depth_mm' as still to be settled"),
    ),
    "days left to be settled on the card of a set for tender": Plant(
        in_paper("sheet", value("layer_mm", "15 mm", "to-be-settled")),
        ("mix-schedule, 'M1' is for tender", "'layer_mm' as still to be settled"),
    ),
    # references
    "a clause that refers to one that is not in": Plant(
        in_library(
            lambda: library(
                clause("second.damp", per="coat", text="Damp as [](clause:second.never) says."),
                clause("second.never", when="lived_in"),
            )
        ),
        ("own.yaml:1:1", "clause 'second.damp'", "refers to 'second.never', which is not"),
    ),
    "a reference to nothing": Plant(
        in_paper("specification", lambda it: replace(it, anchor="clause:first.gone") if isinstance(it, Ref) else it),
        ("clause 2.1 (second.damp) refers to 'clause:first.gone'", "not in that paper"),
    ),
    "a reference under another number": Plant(
        in_paper("specification", lambda it: replace(it, text="clause 9.9") if isinstance(it, Ref) else it),
        ("clause 2.1 (second.damp) says 'clause 9.9'", "clause 1.1 (first.job)"),
    ),
    "a reference to a clause that is not used": Plant(
        in_paper("specification", clauses("first.job", lambda it: replace(it, used=False))),
        ("clause 2.1 (second.damp) refers to 'clause:first.job'", "says is not used"),
    ),
    "an anchor that stands twice": Plant(
        in_paper("specification", blocks("table:mixes", lambda it: replace(it, anchor="table:scope"))),
        ("'table:scope' stands in specification", "and again in specification"),
    ),
    "a line of the index that is not there": Plant(
        in_paper("specification", value("line_numbers", "2.2", "2.9")), ("specification", "names line 2.9")
    ),
    "a clause named by its number that is not there": Plant(
        in_paper("specification", numbered(("front", "repoint"), "2.7")), ("specification", "names clause 2.7")
    ),
    "a clause of the workbook that is not there": Plant(
        in_paper("book", priced("2.2", clauses="7.1")), ("pricing-schedule, 'line 2.2' names clause 7.1",)
    ),
    "a mix of the workbook that has no card": Plant(
        in_paper("book", priced("2.2", mix="M7")), ("pricing-schedule, 'line 2.2' names mix M7",)
    ),
    "a mix without a card": Plant(
        in_paper("sheet", lambda it: replace(it, cards=it.cards[:1]) if hasattr(it, "cards") else it),
        ("specification", "names the mix M2", "mix-schedule"),
    ),
    "a figure that is counted and not shown": Plant(
        in_paper("specification", gone("figure:back.repoint")), ("counts figure 2, 'figure:back.repoint'",)
    ),
    "a figure under another number": Plant(
        in_paper(
            "specification",
            lambda it: replace(it, number="8") if isinstance(it, Figure) and it.anchor == "figure:back.repoint" else it,
        ),
        ("'figure:back.repoint' is figure 8", "counted as 2"),
    ),
    "a wall without a sheet": Plant(
        in_paper("specification", gone("element:back")), ("names the wall 'Back wall' and has no sheet",)
    ),
    # instructions
    "an instruction that no clause of its wall bears": Plant(
        in_library(lambda: instructed(library(BORNE))),
        ("finding 'causes-by-others' instructs in specification of Front wall", "no clause 'first.borne' speaks there"),
    ),
    # elsewhere
    "a mix table that the papers lack": Plant(
        in_library(lambda: without(library(), "mix-figures")),
        ("clause 'first.job' says 'mix table'", "specification has no 'table:mixes'"),
    ),
    "a mix table without the walls": Plant(
        in_library(
            lambda: template(
                library(),
                "mix-figures",
                columns=tuple(it for it in _part(library(), "mix-figures").columns if it.shows != "mix_walls"),
            )
        ),
        ("only where the table puts it", "no 'mix_walls'"),
    ),
    "a table of hold points in another part": Plant(
        in_library(lambda: replace(library(), parts=(*library().parts[:2], Part(id="third", title="Third")))),
        ("clause 'third.holds' says", "no 'table:holds'"),
    ),
    "rules of a schedule that is left out": Plant(
        in_library(lambda: without(library(RULES), "rules")), ("clause 'first.rules' says", "no 'front:rules'")
    ),
    "causes that a sheet does not name": Plant(
        in_library(lambda: causeless(library(CAUSES))),
        ("clause 'first.causes' says 'causes named on this sheet' of Front wall", "no 'decay_causes'"),
    ),
    "values said to be given below, and no table": Plant(
        in_paper("specification", clauses("first.depth", lambda it: replace(it, blocks=_no_tables(it)))),
        ("clause 1.3 (first.depth) tells 'rake_depth_mm' as given below", "nothing there has it"),
    ),
    "a table below that no words tell of": Plant(
        in_paper(
            "specification",
            clauses("first.depth", lambda it: replace(it, blocks=tuple(b for b in it.blocks if isinstance(b, Table)))),
        ),
        ("clause 1.3 (first.depth) tables 'rake_depth_mm'", "words do not say so"),
    ),
    # clause and mix
    "a putty clause for a hydraulic coat": Plant(
        in_library(lambda: library(clause("second.rest", per="coat", text="Let it stand.", makings=("putty",)))),
        ("second.rest", "made as putty", "Back wall", "takes M2", "mix-schedule"),
    ),
    "a putty clause for a hydraulic mix": Plant(
        in_library(lambda: library(clause("second.rest", per="mix", text="Bank it.", makings=("putty",)))),
        ("second.rest", "made as putty", "M2"),
    ),
    "a work's clause for a lime that no coat of it takes": Plant(
        in_library(lambda: library(clause("second.slake", per="work", text="Slake it.", makings=("hot-mix",)))),
        ("second.slake", "made as hot-mix", "M1", "mix-schedule"),
    ),
    "a step on a card that its clause does not ask of it": Plant(
        in_library(lambda: _stepped(library(), replace(STEP, clauses=("second.putty",)))),
        ("the step 'own.rest' stands on the card of M2", "clause 'second.putty'", "specification"),
    ),
    "a rest longer than the mix may be used": Plant(
        in_library(lambda: _resting(library(clause("second.rest", per="mix", text="Rest {{ mix_rest_days }}.")))),
        ("rests M2 for 3 days", "used within", "mix-schedule"),
    ),
    "a coat that allows another grain than its mix": Plant(
        in_job(lambda job: fact(job, ("back", "repoint", "pointing"), "greatest_grain_mm", Decimal(9))),
        ("M2 has grains to", "mix-schedule", "Back wall", "allows 9 mm"),
    ),
    "a coat that is told another mix": Plant(
        in_job(lambda job: fact(job, ("back", "repoint", "pointing"), "mix_used", "M1")),
        ("Back wall", "takes M1 in specification", "M2 in mix-schedule"),
    ),
    # quantities
    "another quantity on the front page": Plant(
        in_paper(
            "specification", blocks("table:scope", lambda it: edited(it, value("treated_area_m2", "6 m²", "7 m²")))
        ),
        ("'treated_area_m2'", "7 m²", "pricing-schedule, 'line 2.2'"),
    ),
    "a line measured as another quantity than the walls say": Plant(
        in_job(lambda job: measured(job, "2.2", quantity=Decimal("6.5"))),
        ("'treated_area_m2' is 6 m² in specification", "6.5 m² in pricing-schedule, 'line 2.2'"),
    ),
    "another quantity in the schedule than in the workbook": Plant(
        in_paper("specification", row_of("2.2", lambda it: replace(it, cells=_second(it.cells, "6", "16")))),
        ("line 2.2 has the quantity '16' in specification", "'6' in pricing-schedule"),
    ),
    "another quantity in the workbook": Plant(
        in_paper("book", priced("2.2", quantity=Decimal(60))), ("line 2.2", "60 m²", "measured as", "6")
    ),
    "another unit in the workbook": Plant(
        in_paper("book", priced("2.2", unit="m")),
        ("line 2.2 has the unit 'm²' in specification", "'m' in pricing-schedule"),
    ),
    "another description in the workbook": Plant(
        in_paper("book", priced("2.2", description="Rake and point")),
        ("line 2.2 has the description", "'Rake and point'"),
    ),
    "another description in the workbook of a line that the schedule tells by another": Plant(
        in_paper("book", priced("3.1", description="Shade and damp")),
        ("line 3.1 has the description", "'Shade and damp'"),
    ),
    "a line that the workbook lacks": Plant(
        in_paper("book", lambda it: _cut(it, "2.2")), ("line 2.2 stands in specification and not in pricing-schedule",)
    ),
    "a line that the schedule lacks": Plant(
        in_paper("specification", blocks("table:lines", lambda it: replace(it, rows=_rows_but(it, "2.2")))),
        ("line 2.2 stands in pricing-schedule and not in specification",),
    ),
    "lines of another wall on a sheet": Plant(
        in_paper("specification", value("line_numbers", "2.2", "3.2")),
        ("gives line 3.2 to Front wall", "of Back wall", "pricing-schedule"),
    ),
    "a card that counts other boxes": Plant(
        in_paper(
            "sheet",
            card("M1", lambda it: replace(it, counts=(replace(it.counts[0], boxes=Decimal(9)), *it.counts[1:]))),
        ),
        ("a batch of M1 counts 9", "mix-schedule", "in specification"),
    ),
    # walls
    "a wall that nobody asked for": Plant(
        in_paper("specification", value("element_name", "Back wall", "Barn")), ("names 'Barn'", "no wall or work")
    ),
    "a clause table with a wall that it does not speak to": Plant(
        in_paper("specification", clauses("first.walls", lambda it: replace(it, blocks=(*it.blocks, _of_back())))),
        ("clause 1.2 (first.walls) gives 'masonry' of Back wall", "does not speak to"),
    ),
    "a step that rests on a clause of another wall": Plant(
        in_paper(
            "specification",
            lambda it: (
                (*it, Ref("clause:first.walls", "1.2"))
                if isinstance(it, tuple) and it and all(isinstance(i, Text | Value) for i in it) and _says(it, "40 mm")
                else it
            ),
        ),
        ("Back wall", "rests on clause 1.2 (first.walls)"),
    ),
    "a clause of another wall named by its number": Plant(
        in_paper("specification", numbered(("back", "repoint"), "1.2")),
        ("names clause 1.2 (first.walls) for Back wall",),
    ),
    "a mix for a coat that is not there": Plant(
        in_job(lambda job: mixed(job, used_for=(*job.decisions.mixes[0].used_for, ("front", "repoint", "float")))),
        ("M1 is of 'front/repoint/float', which is not there",),
    ),
    "a finding at a wall that is not there": Plant(
        in_job(lambda job: replace(job, findings=(*job.findings, LOST))), ("'gutter-first' is of 'nowhere'",)
    ),
    "a clause that holds nowhere": Plant(
        in_paper("specification", clauses("first.job", lambda it: replace(it, clause_id="first.none"))),
        ("first.none", "holds nowhere"),
    ),
    # standing, and the record
    "a workbook of another revision": Plant(
        in_paper("book", lambda it: replace(it, revision="9") if hasattr(it, "revision") else it),
        ("pricing-schedule has the revision '9'", "specification '1'"),
    ),
    "a mix schedule of a draft beside papers for tender": Plant(
        in_paper("sheet", lambda it: replace(it, draft="DRAFT") if hasattr(it, "revision") else it),
        ("mix-schedule has the draft 'DRAFT'", "specification ''"),
    ),
    "a record with another quantity": Plant(
        in_record(lambda told: _line(told, "2.2").update(quantity="7")),
        ("the quantity of line 2.2 is '7' in record.json", "'6.0' in pricing-schedule"),
    ),
    "a record without a line": Plant(
        in_record(lambda told: told["items"].remove(_line(told, "2.2"))),
        ("line 2.2", "record.json", "pricing-schedule"),
    ),
    "a record with another text": Plant(
        in_record(lambda told: _clause(told, "first.depth").update(text="Rake.")),
        ("the text of 'first.depth' is 'Rake.' in record.json", "clause 1.3 (first.depth)"),
    ),
    "a record with another number": Plant(
        in_record(lambda told: _clause(told, "first.depth").update(number="3.3")),
        ("the number of 'first.depth' is '3.3' in record.json", "'1.3' in specification"),
    ),
    "a record that leaves a clause out": Plant(
        in_record(lambda told: _clause(told, "first.depth").update(included=False)),
        ("clause 'first.depth' is 'False' in record.json", "specification"),
    ),
    "a record with another mix": Plant(
        in_record(lambda told: told["mixes"][0].update(name="cement")), ("its name is 'cement' in record.json", "'M1'")
    ),
    "a record of another standing": Plant(
        in_record(lambda told: told.update(status="draft")), ("the status is 'draft' in record.json", "specification")
    ),
}


def _is(it: Any, name: str) -> bool:
    return isinstance(it, Value) and it.name == name


def _boxes(it: Any) -> bool:
    return _is(it, "mix_boxes") and it.scope == ("M1",)


def _part(of: Library, name: str) -> PaperPart:
    return of.templates["specification"].part(name)


def _rows_but(table: Table, ref: str) -> tuple[Row, ...]:
    return tuple(row for row in table.rows if plain_text(row.cells[0]) != ref)


def _no_tables(block: ClauseBlock) -> tuple[Any, ...]:
    return tuple(inner for inner in block.blocks if not isinstance(inner, Table))


def _of_back() -> ListBlock:
    return ListBlock(((Value("masonry", ("back",), "rubble"),),))


def _says(content: tuple[Any, ...], text: str) -> bool:
    return any(isinstance(it, Value) and it.name == "rake_depth_mm" and it.text == text for it in content)


def _stepped(of: Library, step: OperationEntry) -> Library:
    conditions = {**of.conditions, ("operation", step.id): of.conditions["clause", "first.job"]}
    return replace(of, operations={**of.operations, step.id: step}, conditions=conditions)


def instructed(of: Library) -> Library:
    """A library in which one clause bears what is instructed where others put right the causes of the front."""
    entry = replace(of.findings["causes-by-others"], clauses=("first.borne",))
    return replace(of, findings={**of.findings, entry.code: entry})


def _resting(of: Library) -> Library:
    recipe = replace(of.recipes["nhl-3.5-stone"], rest_days=Decimal(3))
    return replace(of, recipes={**of.recipes, recipe.id: recipe})


def _cut(it: Any, ref: str) -> Any:
    if not hasattr(it, "rows") or isinstance(it, Table):
        return it
    return replace(it, rows=tuple(row for row in it.rows if row.ref != ref))


def test_papers_in_which_nothing_is_planted_agree() -> None:
    found = good_papers()
    assert good().status == "tender"
    assert [mix.recipe.making for mix in good().decisions.mixes] == ["putty", "nhl"]
    agreed_record(found, record(good(), "answers.yaml", b"", {}))
    refuse(found)
    assert any(isinstance(block, Heading) for block in found.documents["owner-page"].blocks())


def test_an_instruction_that_a_clause_of_its_wall_bears_or_whose_clause_a_practice_drops_is_no_disagreement() -> None:
    everywhere = instructed(library(replace(BORNE, when="")))
    papers(job_by(everywhere))
    told = {"first.borne": Dropped(BORNE, "house", "told otherwise", Mark("house.yaml"))}
    papers(job_by(replace(instructed(library(BORNE)), dropped=told)))


def test_at_least_forty_disagreements_are_planted() -> None:
    assert len(PLANTS) >= 40


@pytest.mark.parametrize("name", PLANTS)
def test_a_planted_disagreement_is_found_and_told_with_its_places(name: str) -> None:
    with pytest.raises(InputInvalid) as caught:
        PLANTS[name].by()
    told = "\n".join(map(str, caught.value.problems))
    assert [part for part in PLANTS[name].told if part not in told] == [], told
