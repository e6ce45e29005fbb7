"""Areas and joints from photographs held against what was answered: a finding where they lie apart."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.library.findings import Raised
from generator.measure.photographs.model import AREA, JOINT, ON
from generator.measure.quantities import answered_area, from_photographs
from generator.questionnaire.facts import Facts, View


def against(facts: Facts) -> Iterator[Raised]:
    """A finding for each work and wall whose photographs and answers do not agree within their ranges."""
    for work in facts.views("work"):
        if from_photographs(work) and not work.known(AREA):
            yield Raised("photograph-area-missing", work.path, (), (), work.marks("treated_area_from"))
    if facts.photographs:
        for work in facts.views("work"):
            yield from against_work(work)
        for element in facts.views("element"):
            yield from _over_face(element)
            yield from _of_joint(element)


def against_work(work: View) -> Iterator[Raised]:
    """A finding where the area marked for a work is offered, or lies apart from what was answered."""
    marked, answered = work.span(AREA), answered_area(work)
    if marked is None:
        return
    fills = (("photograph", work.spoken(ON)), ("figure", work.spoken(AREA)))
    if answered is None:
        if not from_photographs(work):
            yield Raised("photograph-area-offered", work.path, fills)
        return
    told = (*fills, ("answered", work.facts.say(AREA, answered)))
    marks = work.marks("face_area_m2", "treated_per_cent")
    if marked.low > answered.high:
        yield Raised("photograph-area-more", work.path, told, (), marks)
    elif marked.high < answered.low:
        yield Raised("photograph-area-less", work.path, told, (), marks)


def _over_face(element: View) -> Iterator[Raised]:
    """Works of one kind whose marked areas come to more, at the least, than the face they lie in."""
    kinds: dict[str, list[View]] = {}
    for work in element.inside("work"):
        kinds.setdefault(work.text("work"), []).append(work)
    for works in kinds.values():
        least = sum((marked.low for work in works if (marked := work.span(AREA))), Decimal(0))
        faces = [face for work in works if (face := work.number("net_area_m2"))]
        if faces and least > max(faces):
            said = (element.facts.say("net_area_m2", area) for area in (least, max(faces)))
            fills = tuple(zip(("figure", "answered"), said, strict=True))
            yield Raised("photograph-over-face", works[0].path, fills, (), works[0].marks("face_area_m2"))


def _of_joint(element: View) -> Iterator[Raised]:
    seen, answered = element.span(JOINT), element.span("joint_width_mm")
    if seen is not None and answered is not None and (seen.low > answered.high or seen.high < answered.low):
        fills = (("figure", element.spoken(JOINT)), ("answered", element.spoken("joint_width_mm")))
        yield Raised("photograph-joint-apart", element.path, fills, (), element.marks("joint_width_mm"))
