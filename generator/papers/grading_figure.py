"""The sands of a wall as curves: that of its old mortar, those on offer, and the blend of them that comes nearest."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.decide.sands import best_blend, grading, offers
from generator.document.model import Block, Paragraph, Value
from generator.drawing.grading import MOST_CURVES, GradingWords, grading_curves
from generator.drawing.model import Drawing
from generator.job.job import Job
from generator.papers.drawn import figure_ref, numbered_drawing, words_for
from generator.questionnaire.scopes import ScopePath

BLEND_CLAUSE: Final = "materials.sand-blend"


def grading_anchor(path: ScopePath) -> str:
    """The anchor of the curves of a wall."""
    return f"figure:grading.{path[0]}"


def grading_anchors(job: Job) -> Iterator[str]:
    """The anchors of the curves of all walls that have a blend, in the order of the walls."""
    yield from (grading_anchor(path) for path in _walls(job))


def grading_figures(job: Job) -> Iterator[Block]:
    """For each wall with a blend what its picture is, and the picture."""
    for path in _walls(job):
        anchor, wall = grading_anchor(path), job.facts.scopes[path].title
        figure = figure_ref(job, anchor)
        yield Paragraph(job.told("grading-pictured", figure=figure, wall=Value("element_name", path, wall)))
        yield numbered_drawing(job, anchor, _drawing(job, path), job.word("grading-caption", wall=wall))


def _walls(job: Job) -> list[ScopePath]:
    if not job.in_papers(BLEND_CLAUSE):
        return []
    paths = dict.fromkeys(path[:1] for path in job.selections[BLEND_CLAUSE].paths)
    return [path for path in paths if path and _is_drawn(job, path)]


def _is_drawn(job: Job, path: ScopePath) -> bool:
    here = job.facts.at_scope(path)
    return best_blend(here) is not None and len(offers(here)) + 2 <= MOST_CURVES


def _drawing(job: Job, path: ScopePath) -> Drawing:
    here = job.facts.at_scope(path)
    wanted, best = grading(here.text("old_sand_passing")), best_blend(here)
    curves = [(job.word("drawing-grading-old"), wanted.points)]
    if best is not None:
        passed = {
            one.sieve_mm: wanted.passing_per_cent_at(one.sieve_mm) + one.residual_per_cent for one in best.residuals
        }
        curves.append((job.word("drawing-grading-blend"), tuple(sorted(passed.items()))))
    curves += [(offer.sand.name, offer.sand.grading.points) for offer in offers(here)]
    row = job.library.row("sand-envelope", language=here.text("language"))
    envelope = job.word("drawing-grading-envelope", name=row.text("name")), row.passing("passing")
    return grading_curves(curves, envelope, words_for(job, GradingWords, "grading"))
