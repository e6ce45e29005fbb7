"""The figures drawn from the answers: which there are, their numbers in reading order, and each as a block."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from decimal import Decimal
from operator import itemgetter
from typing import Final

from generator.document.model import Block, Figure, Paragraph
from generator.document.template import PaperPart
from generator.drawing.calendar import Bar, CalendarWords, season_calendar
from generator.drawing.coats import Background, CoatWords, coats_section
from generator.drawing.joint import JointWords, joint_section
from generator.drawing.model import Drawing
from generator.job.job import Job
from generator.measure.quantities import fill_layers_nr
from generator.papers.alike import sheet_of, title
from generator.papers.alike import sheets as sheets_of
from generator.papers.clause_figures import clause_anchors
from generator.papers.drawn import numbered_drawing, pictured, words_for
from generator.papers.faces import face_anchor, has_face
from generator.papers.front import is_brief
from generator.papers.orientation import ANCHOR as ORIENTATION
from generator.papers.orientation import PART as ORIENTATION_PART
from generator.papers.orientation import has_orientation
from generator.papers.photograph_parts import photograph_anchors
from generator.programme.seasons import climate
from generator.questionnaire.scopes import PROJECT, ScopePath

_SEASON: Final = "figure:season"
PROGRAMME: Final = "figure:programme"
# The anchors of the figures among the clauses, by the parts that they are.
_TABLED: Final = {"programme-figure": PROGRAMME, "season-figure": _SEASON}
_COATED: Final = ("plaster", "render")

_MOST_WALLS: Final = 24
_MOST_ROWS: Final = 20


def season_figure(job: Job, part: PaperPart) -> Iterator[Block]:
    """The safe season of each wall outside, of a job that has no programme to draw: its start is open, say."""
    spans = [] if is_charted(job) else _seasons(job)
    if not spans:
        return
    opens, closes = min(bar.first for bar in spans), min(bar.last for bar in spans)
    ends = max(bar.last for bar in spans)
    months = (ends.year - opens.year) * 12 + ends.month - opens.month + 2
    drawing = season_calendar(
        opens, [(opens, closes)], closes, spans, words_for(job, CalendarWords, "calendar"), months, job.facts.date_form
    )
    yield Paragraph(pictured(job, _SEASON, "season-pictured"))
    yield numbered_drawing(job, _SEASON, drawing, part.caption)


# --- numbers ----------------------------------------------------------------------------------------------


def numbered_figures(job: Job) -> dict[str, int]:
    """The number of each figure that has one, by its anchor, in reading order."""
    paper = job.paper("specification")
    drawn = {part.part for part in paper.parts_within()}
    sheets = paper.find("sheets")
    order = [part for part in (sheets.parts if sheets else ()) if part.part in ("photographs", "face", "works")]
    faced = paper.find("sheets") and ORIENTATION_PART in drawn and not is_brief(job) and has_orientation(job)
    found = [ORIENTATION] if faced else []
    found += [
        anchor for sheet in sheets_of(job) for part in order for anchor in _of_sheet(job, sheet.path, part.part, drawn)
    ]
    found += clause_anchors(job)
    shows = {part.id: part.shows for part in job.library.parts}
    for numbered in job.parts:
        group = paper.find(shows.get(numbered.part_id, ""))
        found += [_TABLED[part.part] for part in (group.within() if group else ()) if _is_drawn(job, part.part)]
    if is_brief(job) and PROGRAMME in found:  # it stands on the first page, before the sheets
        found = [PROGRAMME, *(anchor for anchor in found if anchor != PROGRAMME)]
    return {anchor: number for number, anchor in enumerate(found, 1)}


def _of_sheet(job: Job, path: ScopePath, part: str, drawn: set[str]) -> Iterator[str]:
    """The anchors of the figures in a part of a wall's sheet."""
    if part == "photographs":
        yield from photograph_anchors(job, path, drawn)
        return
    if part == "face":
        if "face-figure" in drawn and has_face(job, path):
            yield face_anchor(path)
        return
    for work in job.facts.inside(path, "work"):
        joint = "joint-figure" in drawn and _joint(job, work.path) is not None
        if joint or ("coats-figure" in drawn and _coats(job, work.path)):
            yield work_anchor(work.path)


def _is_drawn(job: Job, name: str) -> bool:
    """Whether a part is a figure that this job has."""
    if name == "programme-figure":
        return is_charted(job)
    return name == "season-figure" and not is_charted(job) and bool(_seasons(job))


def work_anchor(path: ScopePath) -> str:
    """What others refer to the section of a work by: its joint, or its coats."""
    return f"figure:{'.'.join(path)}"


def _drawn_once(job: Job, shows: Hashable, draw: Callable[[], Drawing]) -> Drawing:
    """A drawing by all that it shows: walls of a kind have the same."""
    drawn: dict[Hashable, Drawing] = job.kept("drawn once", dict)
    if shows not in drawn:
        drawn[shows] = draw()
    return drawn[shows]


def _of_element(job: Job, part: PaperPart, path: ScopePath) -> str:
    return part.filled(element=title(job, sheet_of(job, path[:1]))).caption


# --- the joint --------------------------------------------------------------------------------------------


def joint_figure(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Figure]:
    """The joint of a work drawn to scale, from the usual width, the raking depth and the layers, where it has one."""
    joint = _joint(job, path)
    if joint is None:
        return
    width, depth, count = joint
    profile = job.facts.at_scope(path).text("joint_finish") or "brushed-flush"
    said, layers = words_for(job, JointWords, "joint"), (float(depth / count),) * count
    drawing = _drawn_once(
        job,
        ("joint", width, depth, layers, profile),
        lambda: joint_section(float(width), float(depth), layers, profile, said, job.facts.spelling),
    )
    yield numbered_drawing(job, work_anchor(path), drawing, _of_element(job, part, path))


def _joint(job: Job, path: ScopePath) -> tuple[Decimal, Decimal, int] | None:
    """The usual width, raking depth and layers of a joint; None where a work has none to draw."""
    work = job.facts.at_scope(path)
    width, depth = work.likely("joint_width_mm"), work.number("rake_depth_mm")
    coat = next(iter(work.inside("coat")), None)
    if width is None or depth is None or coat is None or coat.number("layer_mm") is None:
        return None
    return width, depth, fill_layers_nr(coat)


# --- coats ------------------------------------------------------------------------------------------------


def coats_figure(job: Job, part: PaperPart, path: ScopePath) -> Iterator[Figure]:
    """The coats of a work on their background, where it has any and no joint."""
    coats = _coats(job, path)
    if coats:
        background: Background = "laths" if job.facts.at_scope(path).text("masonry") == "laths" else "masonry"
        is_overhead = job.facts.at_scope(path).yes("overhead") is True
        said = words_for(job, CoatWords, "coats")
        drawing = _drawn_once(
            job,
            ("coats", background, tuple(coats), is_overhead),
            lambda: coats_section(background, coats, said, job.facts.spelling, is_overhead=is_overhead),
        )
        yield numbered_drawing(job, work_anchor(path), drawing, _of_element(job, part, path))


def _coats(job: Job, path: ScopePath) -> list[tuple[str, float, bool]]:
    """The coats of plaster or render with thickness and hair; none where a thickness is not decided."""
    work = job.facts.at_scope(path)
    if work.text("work") not in _COATED or _joint(job, path) is not None:
        return []
    found: list[tuple[str, float, bool]] = []
    for coat in work.inside("coat"):
        thickness, title = coat.real("coat_mm"), job.facts.scopes[coat.path].title
        if not thickness:
            return []
        found.append((title[:1].upper() + title[1:], thickness, coat.known("hair_kg_per_m3")))
    return found


# --- the season ----------------------------------------------------------------------------------------


def is_charted(job: Job) -> bool:
    """Whether the programme of a job is drawn: reckoned, of no more walls than a reader can follow."""
    return 0 < len(job.programme.walls) <= _MOST_WALLS


def _seasons(job: Job) -> list[Bar]:
    """When lime may be laid on each wall outside in the next season after the start, or after the issue.

    Of a wall, when that coat may be which is longest open to frost. None where these are more than a strip can show.
    """
    project = job.facts.at_scope(PROJECT)
    found, day = climate(project), project.day("start_date") or project.day("issue_date")
    if day is None:
        return []
    bars: list[Bar] = []
    for wall in job.facts.views("element"):
        seasons = (found.placing(coat, job.library) for coat in wall.inside("coat"))
        windows = [span for season in seasons if season is not None and (span := season.next_window(day)) is not None]
        if windows:
            bars.append(Bar(job.filling.place(wall.path), *min(windows, key=itemgetter(1))))
    return bars if len(bars) <= _MOST_ROWS else []
