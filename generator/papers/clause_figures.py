"""The figures that stand in clauses: pictograms, a joint wrong and right, sands and their blend, a chimney top."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from generator.document.model import Block, Figure, Inlines
from generator.drawing.flaunching import Flaunching, FlaunchingWords, flaunching_section
from generator.drawing.hazards import beside, corrosion, exclamation
from generator.drawing.steps import step_picture
from generator.job.job import Job
from generator.library.entries import OperationEntry
from generator.papers.drawn import numbered_drawing, pictured, words_for
from generator.papers.grading_figure import BLEND_CLAUSE, grading_anchors, grading_figures
from generator.questionnaire.facts import View

BURNS_CLAUSE: Final = "safety.lime-burns"
JOINT_CLAUSES: Final = {"joint-raked": "raking-out.depth", "joint-filled": "pointing.faces"}
"""The clause in which each picture of a joint stands."""

FLAUNCHING_CLAUSE: Final = "flaunching.laying"
POTS_CLAUSE: Final = "flaunching.pots"
_FLAUNCHING: Final = "figure:flaunching"
_PICTOGRAM_MM: Final = 10.0
_JOINT_MM: Final = 48.0


def clause_signs(job: Job, clause_id: str) -> Iterator[Block]:
    """The pictograms of a clause, above its text: below it they might head a column, away from what they warn of."""
    if clause_id == BURNS_CLAUSE:
        burns, irritates = (job.word(f"drawing-{name}") for name in ("corrosion", "exclamation"))
        signs = corrosion(_PICTOGRAM_MM, burns), exclamation(_PICTOGRAM_MM, irritates)
        yield Figure(beside(*signs, f"{burns} {irritates}"))


def clause_figures(job: Job, clause_id: str) -> Iterator[Block]:
    """The figures of a clause, below its text."""
    if clause_id == BLEND_CLAUSE:
        yield from grading_figures(job)
    joint = _joint(job, clause_id)
    if joint is not None:
        drawing = step_picture(joint.picture, 0, joint.shows, _JOINT_MM)
        yield numbered_drawing(job, _joint_anchor(joint), drawing, job.word(f"{joint.picture}-caption"))
    sizes = _flaunching(job) if clause_id == FLAUNCHING_CLAUSE else None
    if sizes is not None:
        drawing = flaunching_section(sizes, words_for(job, FlaunchingWords, "flaunching"), job.facts.spelling)
        yield numbered_drawing(job, _FLAUNCHING, drawing, job.word("flaunching-caption"))


def clause_pictured(job: Job, clause_id: str) -> Inlines:
    """The sentence that ends the text of a clause with a figure and names it; of sands each wall has its own."""
    if clause_id == FLAUNCHING_CLAUSE:
        return pictured(job, _FLAUNCHING, "flaunching-pictured")
    joint = _joint(job, clause_id)
    return pictured(job, _joint_anchor(joint), "joint-pictured") if joint is not None else ()


def clause_anchors(job: Job) -> Iterator[str]:
    """The anchors of the numbered figures in clauses, in the order of these."""
    for part in job.parts:
        for clause in part.clauses:
            if clause.used:
                yield from _anchors(job, clause.clause_id)


def _anchors(job: Job, clause_id: str) -> Iterator[str]:
    if clause_id == BLEND_CLAUSE:
        yield from grading_anchors(job)
    joint = _joint(job, clause_id)
    if joint is not None:
        yield _joint_anchor(joint)
    if clause_id == FLAUNCHING_CLAUSE and _flaunching(job) is not None:
        yield _FLAUNCHING


def _joint(job: Job, clause_id: str) -> OperationEntry | None:
    """The step whose picture of a joint stands in a clause, where the library has it."""
    picture = next((picture for picture, clause in JOINT_CLAUSES.items() if clause == clause_id), "")
    steps = job.library.operations.values() if picture else ()
    return next((entry for entry in steps if entry.picture == picture), None)


def _joint_anchor(step: OperationEntry) -> str:
    return f"figure:{step.picture}"


# --- a chimney top ------------------------------------------------------------------------------------------


def _flaunching(job: Job) -> Flaunching | None:
    """The sizes of the flaunching with pots; None where none is laid, sizes are open, or they differ among works."""
    works = [work for work in job.facts.views("work") if work.text("work") == "flaunching" and work.number("pots_nr")]
    told = {sizes for work in works for coat in work.inside("coat") if (sizes := _sizes(job, coat)) is not None}
    return next(iter(told)) if len(told) == 1 else None


def _sizes(job: Job, coat: View) -> Flaunching | None:
    own = (_own(job, "edge_mm", FLAUNCHING_CLAUSE), _own(job, "short_mm", FLAUNCHING_CLAUSE))
    found = (coat.number("coat_mm"), coat.number("layer_mm"), *own, _own(job, "foot_inside_mm", POTS_CLAUSE))
    lengths = [float(length) for length in found if length]
    if len(lengths) < len(found) or lengths[2] >= lengths[0]:
        return None
    return Flaunching(*lengths)


def _own(job: Job, name: str, clause_id: str) -> Decimal | None:
    """A length that a clause gives; None where a layer has another clause there, without it."""
    figure = job.library.figure(name, clause_id)
    return figure.value if figure is not None and isinstance(figure.value, Decimal) else None
