"""What all figures are made with: their fixed words, their numbers, and references to them."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any, TypeVar

from generator.document.model import Figure, Ref
from generator.drawing.joint import PROFILES
from generator.drawing.model import Drawing
from generator.job.job import Job

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Worded = TypeVar("Worded", bound="DataclassInstance")


def words_for(job: Job, kind: type[Worded], drawing: str) -> Worded:
    """The fixed words of a drawing, from the library's words `drawing-NAME-FIELD`.

    The profiles of a joint stand by their names.
    """
    said: dict[str, Any] = {}
    for field in fields(kind):
        key = f"drawing-{drawing}-{field.name.replace('_', '-')}"
        if field.name == "profiles":
            said["profiles"] = tuple((name, job.word(f"{key}-{name}")) for name in PROFILES)
        else:
            said[field.name] = job.word(key)
    return kind(**said)


def numbered_drawing(job: Job, anchor: str, drawing: Drawing, caption: str) -> Figure:
    """A drawing under the number that its anchor has in the paper."""
    return Figure(drawing, caption, anchor=anchor, number=str(job.figures[anchor]))


def figure_ref(job: Job, anchor: str) -> Ref:
    """A live reference to a figure by its number."""
    return Ref(anchor, f"{job.word('figure')}\u00a0{job.figures[anchor]}")
