"""Figures in words, papers and hold points: put in their places once, when the library is read.

Such a place is the name of a figure in braces, `{rinse_minutes}`; with `_bare` at its end, the number without its unit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.document.template import Paper, PaperPart, filled_by
from generator.library.entries import HoldPoint
from generator.library.figures import Figure, FigureEntry
from generator.library.model import HELD, Library
from generator.values import replace

_BARE = "_bare"


def figure_places(figures: Mapping[str, FigureEntry | Figure]) -> set[str]:
    """The places that figures fill."""
    return {f"{name}{end}" for name in figures for end in ("", _BARE)}


def with_figures(library: Library) -> Library:
    """The library with its figures in the places of its words, papers and hold points."""
    bare = library.unfilled
    told = {name: figure.spelt() for name, figure in library.figures.items()}
    told |= {f"{name}{_BARE}": figure.spelt("bare") for name, figure in library.figures.items()}
    return replace(
        library,
        words={key: filled_by(text, told) for key, text in bare.words.items()},
        templates={key: _paper(paper, told) for key, paper in bare.templates.items()},
        hold_points={key: _held(point, told) for key, point in bare.hold_points.items()},
    )


def _held(point: HoldPoint, told: Mapping[str, str]) -> HoldPoint:
    words: dict[str, Any] = {name: filled_by(getattr(point, name), told) for name in HELD}
    return replace(point, **words)


def _paper(paper: Paper, told: Mapping[str, str]) -> Paper:
    return replace(paper, title=filled_by(paper.title, told), parts=tuple(_part(part, told) for part in paper.parts))


def _part(part: PaperPart, told: Mapping[str, str]) -> PaperPart:
    lines = {key: filled_by(line, told) for key, line in part.lines.items()}
    return replace(part.filled(**told), lines=lines, parts=tuple(_part(inner, told) for inner in part.parts))
