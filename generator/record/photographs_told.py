"""What photographs give, in lines for the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from generator.job.job import Job
from generator.measure.photographs.given import length_range, told_on
from generator.measure.photographs.told import per_cent
from generator.measure.photographs.views import MM_PER_M
from generator.measure.quantities import answered_area
from generator.record.explain import findings_lines
from generator.values import rounded, spoken

if TYPE_CHECKING:
    from generator.lime.plane_reckoning import View
    from generator.measure.photographs.reckoning import LetterFigure, PhotographFigures


def photographs_text(job: Job) -> str:
    """What each photograph gives, what each work is given by all of them, and every finding about them."""
    if not job.photographs:
        return f"{job.word('photographs-none')}\n"
    lines = [line for one in job.photographs for line in photograph_lines(job, one)]
    lines += _work_lines(job)
    told = [item for item in job.findings if item.code.startswith("photograph-")]
    return "".join(f"{line}\n" for line in [*lines, *findings_lines(job, told)])


def photograph_lines(job: Job, one: PhotographFigures) -> Iterator[str]:
    """What a photograph gives: a head, and lines further in."""
    asked, read = one.picture.asked, one.picture.read
    wall = job.facts.scopes[asked.element].title
    head = {"photograph": one.id, "wall": wall, "shows": asked.asked.shows, "file": asked.asked.file}
    if read is None:
        yield job.word("photograph-head-unread", **head)
        return
    yield job.word("photograph-head", **head, pixels=f"{read.width_px} x {read.height_px}")
    inner = [] if asked.asked.sha256 else [job.word("photograph-digest", digest=read.sha256)]
    if read.taken is not None and asked.asked.taken is None:
        inner.append(job.word("photograph-taken", date=read.taken.isoformat()))
    inner += _reckoned_with(job, one)
    inner += (_letter_line(job, figure) for figure in one.letters)
    inner += _lengths(job, one)
    yield from (f"    {line}" for line in inner)


def _reckoned_with(job: Job, one: PhotographFigures) -> Iterator[str]:
    """What the figures of a photograph rest on beside its marks, said whether it was answered or taken as usual."""
    view, reference = one.view, one.picture.asked.asked.reference
    if view is None or reference is None:
        return
    yield job.word(
        "photograph-with",
        tape=spoken(reference.tape_error_mm, "mm"),
        uneven=spoken(rounded(view.unevenness_mm), "mm"),
        distance=spoken(rounded(view.away_mm / MM_PER_M, 1), "m"),
        distance_how=job.word(f"photograph-distance-{'guessed' if view.distance_mm is None else 'given'}"),
        k=per_cent(view.k),
        lens_how=_lens_how(job, view),
    )
    if one.fit is not None:
        rms, greatest = (spoken(rounded(off, 1), "mm") for off in (one.fit.rms, one.fit.greatest))
        yield job.word("photograph-points-fit", rms=rms, greatest=greatest)


def _lens_how(job: Job, view: View) -> str:
    if view.bend is not None:
        return job.word("photograph-lens-edge")
    if view.equivalent_mm is None:
        return job.word("photograph-lens-unknown")
    return job.word("photograph-lens-told", equivalent=spoken(rounded(view.equivalent_mm), "mm"))


def _letter_line(job: Job, figure: LetterFigure) -> str:
    offered, spread = figure.offered, figure.spread
    told = {"letter": figure.letter, "work": job.facts.scopes[figure.work].title}
    if offered is None or spread is None:
        line = job.word("photograph-area-without", **told)
    else:
        key = "photograph-area-estimate" if figure.is_estimate else "photograph-area"
        figures = {"area": spoken(spread.likely, "m²"), "range": spoken(spread, "m²")}
        line = job.word(key, **told, **figures, sigma=per_cent(offered.sigma_share))
    return line if figure.counted else job.word("photograph-area-not-counted", line=line)


def _lengths(job: Job, one: PhotographFigures) -> Iterator[str]:
    for what, length in one.lengths:
        if length is None:
            yield job.word("photograph-length-without", what=what)
        else:
            yield job.word("photograph-length", what=what, length=spoken(length_range(length), "mm"))
    for joint in one.joints:
        if joint.width is None:
            yield job.word("photograph-joints-without")
        else:
            width = spoken(length_range(joint.width), "mm")
            yield job.word(f"photograph-joints-{joint.by}", count=str(joint.count), width=width)


def _work_lines(job: Job) -> Iterator[str]:
    """What all photographs together give each work, beside what was answered."""
    for work in job.work_areas:
        here = job.facts.at_scope(work.work)
        answered = answered_area(here)
        told = {
            "work": job.filling.place(work.work),
            "on": told_on(work.on, job.library),
            "answered": job.word("nothing") if answered is None else job.facts.say("marked_area_m2", answered),
            "origin": here.spoken("treated_area_from"),
        }
        if work.spread is None:
            yield job.word("photograph-work-without", **told)
        else:
            area = f"{spoken(work.spread.likely, 'm²')} ({spoken(work.spread, 'm²')})"
            yield job.word("photograph-work", **told, area=area)
