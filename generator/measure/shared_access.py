"""Walls that one access serves: whose it is, which others it serves, the face that it reaches and how high it goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal

from generator.library.findings import Raised
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Value, joined

_GROUND = "ground"


def shared_access(facts: Facts) -> dict[ScopePath, Mapping[str, Value]]:
    """What is known of the walls that share an access: of a wall served whose it is, of its owner whom it serves."""
    served: dict[ScopePath, list[View]] = {}
    found: dict[ScopePath, Mapping[str, Value]] = {}
    for wall in facts.views("element"):
        host = host_of(wall)
        if host is not None:
            served.setdefault(host, []).append(wall)
            found[wall.path] = {"access_host": facts.title(host)}
    for host, walls in served.items():
        found[host] = _serving(facts.at_scope(host), walls)
    return found


def _serving(host: View, walls: list[View]) -> Mapping[str, Value]:
    all_ = [host, *walls]
    faces = [face for wall in all_ if (face := wall.number("access_face_m2")) is not None]
    heights = [height for wall in all_ if (height := wall.number("height_m")) is not None]
    told: dict[str, Value] = {"access_serves": joined([wall.facts.title(wall.path) for wall in walls])}
    if faces:
        told["access_face_m2"] = sum(faces, Decimal(0))
    if heights:
        told["access_height_m"] = max(heights)
    return told


def host_of(wall: View) -> ScopePath | None:
    """The wall whose access serves this one; None where it has its own, or is said to have what there is not.

    One that names itself has its own: so zones answer it together, for their whole wall.
    """
    host = (wall.text("access_with"),)
    return host if host[0] and host != wall.path[:1] and not _fault(wall, host) else None


def misnamed(facts: Facts) -> Iterator[Raised]:
    """Findings of walls whose access is said to be another's that has none to give, or one of another kind."""
    for wall in facts.views("element"):
        asked = wall.text("access_with")
        if not asked or (asked,) == wall.path:
            continue
        fills, marks = (("asked", asked),), wall.marks("access_with", "access")
        fault, host = _fault(wall, (asked,)), facts.at_scope((asked,))
        if fault:
            yield Raised(fault, wall.path, fills, (), marks)
        elif _kind(wall) != _kind(host):
            kinds = (("first", wall.spoken("access")), ("second", host.spoken("access")))
            yield Raised("access-of-another-kind", wall.path, kinds, (), (*marks, *host.marks("access")))


def _fault(wall: View, host: ScopePath) -> str:
    """What is wrong with what a wall says of whose access serves it: the code of its finding, `""` where nothing is."""
    if not wall.facts.is_wall(host):
        return "access-with-no-wall"
    there = wall.facts.at_scope(host)
    if there.text("access") in ("", _GROUND):
        return "access-with-none"
    return "access-with-a-guest" if there.text("access_with") not in ("", *host) else ""


def _kind(wall: View) -> tuple[str, bool]:
    """The kind of access, a stage on the roof as the scaffold that carries it, and whether it stands indoors."""
    return wall.text("access").removeprefix("roof-"), wall.text("position") == "indoors"
