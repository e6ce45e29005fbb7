"""What all figures are made with: their fixed words, their numbers, and references to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar

from generator.document.model import Block, Figure, Inlines, Paragraph, Ref, Text, joined
from generator.drawing.joint import PROFILES
from generator.drawing.model import Drawing
from generator.job.job import Job
from generator.values import Struct, replace

Worded = TypeVar("Worded", bound=Struct)


def words_for(job: Job, kind: type[Worded], drawing: str) -> Worded:
    """The fixed words of a drawing, from the library's words `drawing-NAME-FIELD`.

    The profiles of a joint stand by their names.
    """
    said: dict[str, Any] = {}
    for name in kind.__struct_fields__:
        key = f"drawing-{drawing}-{name.replace('_', '-')}"
        if name == "profiles":
            said[name] = tuple((profile, job.word(f"{key}-{profile}")) for profile in PROFILES)
        else:
            said[name] = job.word(key)
    return kind(**said)


def numbered_drawing(job: Job, anchor: str, drawing: Drawing, caption: str) -> Figure:
    """A drawing under the number that its anchor has in the paper."""
    return Figure(drawing, caption, anchor=anchor, number=str(job.figures[anchor]))


def going_on(blocks: Iterable[Block], told: Inlines) -> Iterator[Block]:
    """Blocks whose last paragraph goes on with what names their figure; behind a list or table it stands alone."""
    last: Block | None = None
    for block in blocks:
        if last is not None:
            yield last
        last = block
    if isinstance(last, Paragraph) and told:
        yield replace(last, content=(*last.content, Text(" "), *told))
        return
    if last is not None:
        yield last
    if told:
        yield Paragraph(told)


def pictured(job: Job, anchor: str, word: str) -> Inlines:
    """The sentence that names a figure in the text; nothing where these papers have none of that anchor."""
    return job.told(word, figure=figure_ref(job, anchor)) if anchor in job.figures else ()


def seen(job: Job, anchors: Iterable[str]) -> Inlines:
    """Where to look: those of the figures that these papers have; nothing where they have none."""
    refs: list[Inlines] = [(figure_ref(job, anchor),) for anchor in anchors if anchor in job.figures]
    place = Text("")
    told = job.told("see-figures", figures=place) if refs else ()
    return tuple(item for part in told for item in (joined(refs) if part is place else (part,)))


def figure_ref(job: Job, anchor: str) -> Ref:
    """A live reference to a figure by its number."""
    return Ref(anchor, f"{job.word('figure')}\u00a0{job.figures[anchor]}")
