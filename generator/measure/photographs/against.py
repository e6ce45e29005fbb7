"""Areas and joints from photographs held against what was answered: a finding where they lie apart."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.decide.model import marks_of
from generator.errors import Raised
from generator.measure.photographs.survey import AREA, JOINT, ON
from generator.measure.quantities import answered_area
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range


def against(facts: Facts) -> Iterator[Raised]:
    """A finding for each work and wall whose photographs and answers do not agree within their ranges."""
    for scope in facts.at("work"):
        if facts.get(scope.path, "treated_area_from") == "photographs" and facts.get(scope.path, AREA) is None:
            marks = marks_of(facts, scope.path, "treated_area_from")
            yield Raised("photograph-area-missing", scope.path, (), (), marks)
    if facts.photographs:
        for scope in facts.at("work"):
            yield from _of_work(facts, scope.path)
        for scope in facts.at("element"):
            yield from _of_element(facts, scope.path)


def _of_work(facts: Facts, path: ScopePath) -> Iterator[Raised]:
    marked, answered = facts.get(path, AREA), answered_area(facts, path)
    if not isinstance(marked, Range):
        return
    fills = (("photograph", facts.spoken(path, ON)), ("figure", facts.say(AREA, marked)))
    if answered is None:
        if facts.get(path, "treated_area_from") != "photographs":
            yield Raised("photograph-area-offered", path, fills)
        return
    told = (*fills, ("answered", facts.say(AREA, answered)))
    marks = marks_of(facts, path, "face_area_m2", "treated_per_cent")
    if marked.low > answered.high:
        yield Raised("photograph-area-more", path, told, (), marks)
    elif marked.high < answered.low:
        yield Raised("photograph-area-less", path, told, (), marks)


def _of_element(facts: Facts, path: ScopePath) -> Iterator[Raised]:
    yield from _over_face(facts, path)
    seen, answered = facts.get(path, JOINT), facts.get(path, "joint_width_mm")
    if not isinstance(seen, Range) or not isinstance(answered, Range):
        return
    if seen.low > answered.high or seen.high < answered.low:
        fills = (("figure", facts.say(JOINT, seen)), ("answered", facts.say("joint_width_mm", answered)))
        yield Raised("photograph-joint-apart", path, fills, (), marks_of(facts, path, "joint_width_mm"))


def _over_face(facts: Facts, path: ScopePath) -> Iterator[Raised]:
    """Works of one kind whose marked areas come to more, at the least, than the face they lie in."""
    kinds: dict[str, list[ScopePath]] = {}
    for scope in facts.inside(path, "work"):
        kinds.setdefault(str(facts.get(scope.path, "work")), []).append(scope.path)
    for paths in kinds.values():
        marked = [area for inner in paths if isinstance(area := facts.get(inner, AREA), Range)]
        faces = [face for inner in paths if isinstance(face := facts.get(inner, "net_area_m2"), Decimal)]
        least = sum((area.low for area in marked), Decimal(0))
        if marked and faces and least > max(faces):
            fills = (("figure", facts.say("net_area_m2", least)), ("answered", facts.say("net_area_m2", max(faces))))
            yield Raised("photograph-over-face", paths[0], fills, (), marks_of(facts, paths[0], "face_area_m2"))
