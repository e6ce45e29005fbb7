"""How the letters of a label are put together from a face that holds little more than ASCII.

A picture must be the same on every machine, so it is lettered with the one face that comes with the picture
library. What that face lacks is composed: fractions and raised figures from small figures, accented letters
from a letter and strokes, dashes and signs from strokes alone. Letters of other scripts come out as a box.
Lengths are in em: x from the start of the text, y from the baseline, upward.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from generator.drawing.model import Point

Stroke = tuple[Point, ...]
Advance = Callable[[str], float]

PLAIN: Final = frozenset(map(chr, range(0x20, 0x7F))) | frozenset("°±·«»‘’“”…©™")
"""What the face holds in every version of the picture library that the project takes."""

CAP_EM: Final = 0.69
_X_EM: Final = 0.53
_SMALL: Final = 0.58
_GAP: Final = 0.07
_DOTTED: Final = "ij"


@dataclass(frozen=True, slots=True)
class Run:
    """Glyphs of the face set at x, raised from the baseline, at a share of the size."""

    x: float
    rise: float
    scale: float
    glyphs: str


@dataclass(frozen=True, slots=True)
class Lettering:
    """A text set on one line: its width, the runs of the face and the strokes that make up the rest."""

    width: float
    runs: tuple[Run, ...] = ()
    strokes: tuple[Stroke, ...] = ()


def lettered(text: str, advance: Advance) -> Lettering:
    """A text set on one line; `advance` gives the length of a run of the face at a size of 1."""
    parts: list[Lettering] = []
    for plain, group in groupby(_spelt(text), PLAIN.__contains__):
        characters = "".join(group)
        if plain:
            parts.append(Lettering(advance(characters), (Run(0.0, 0.0, 1.0, characters),)))
        else:
            parts += [_composed(character, advance) for character in characters]
    return _joined(parts)


def _spelt(text: str) -> str:
    """The text with each character that has one put as its plain equivalent."""
    composed = unicodedata.normalize("NFC", text)
    return "".join(_EQUIVALENTS.get(character, character) for character in composed)


def _joined(parts: Iterable[Lettering]) -> Lettering:
    width = 0.0
    runs: list[Run] = []
    strokes: list[Stroke] = []
    for part in parts:
        runs += [Run(run.x + width, run.rise, run.scale, run.glyphs) for run in part.runs]
        strokes += [_moved(stroke, width, 0.0) for stroke in part.strokes]
        width += part.width
    return Lettering(width, tuple(runs), tuple(strokes))


def _moved(stroke: Stroke, right: float, up: float) -> Stroke:
    return tuple((x + right, y + up) for x, y in stroke)


def _composed(character: str, advance: Advance) -> Lettering:
    if character in _DRAWN:
        return _DRAWN[character]
    if character in _BARRED:
        return _barred(*_BARRED[character], advance)
    kind, *codes = unicodedata.decomposition(character).split() or [""]
    if not kind.startswith("<"):
        kind, codes = "", [kind, *codes] if kind else []
    parts = "".join(chr(int(code, 16)) for code in codes)
    if kind == "<fraction>":
        above, _, below = parts.partition("\u2044")
        return _fraction(above, below, advance)
    if kind in _RISES and parts in PLAIN:
        return _raised(parts, _RISES[kind], advance)
    if kind:
        return lettered(parts, advance)
    return _accented(character, advance)


def _raised(glyphs: str, rise: float, advance: Advance) -> Lettering:
    return Lettering(_SMALL * advance(glyphs), (Run(0.0, rise, _SMALL, glyphs),))


def _fraction(above: str, below: str, advance: Advance) -> Lettering:
    bar = Lettering(0.14, (), (((-0.06, -0.02), (0.20, CAP_EM + 0.02)),))
    return _joined((_raised(above, CAP_EM * (1 - _SMALL), advance), bar, _raised(below or " ", 0.0, advance)))


def _barred(base: str, stroke: Stroke, advance: Advance) -> Lettering:
    return Lettering(advance(base), (Run(0.0, 0.0, 1.0, base),), (stroke,))


def _accented(character: str, advance: Advance) -> Lettering:
    decomposed = unicodedata.normalize("NFD", character)
    base, marks = decomposed[0], decomposed[1:]
    if base not in PLAIN or any(mark not in _MARKS for mark in marks):
        return _BOX if unicodedata.category(character)[0] not in "MC" else Lettering(0.0)
    width = advance(base)
    tall = base.isupper() or base in _DOTTED
    strokes = tuple(
        _moved(stroke, width / 2, 0.0 if mark in _BELOW else (CAP_EM if tall else _X_EM) + _GAP)
        for mark in marks
        for stroke in _MARKS[mark]
    )
    return Lettering(width, (Run(0.0, 0.0, 1.0, base),), strokes)


def _sign(width: float, *strokes: Stroke) -> Lettering:
    return Lettering(width, (), strokes)


def _dot(x: float, y: float) -> Stroke:
    return ((x - 0.04, y), (x + 0.04, y))


_BOX: Final = _sign(0.62, ((0.06, 0.0), (0.56, 0.0), (0.56, CAP_EM), (0.06, CAP_EM), (0.06, 0.0)))
_RISES: Final = {"<super>": 0.32, "<sub>": -0.12}
_EQUIVALENTS: Final = {
    "\u00a0": " ", "\u2002": " ", "\u2003": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ",
    "\u2010": "-", "\u2011": "-", "\u00ad": "", "\u200b": "", "\u2044": "/", "\u2215": "/",
    "ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ı": "i", "ĸ": "k",
    "‚": ",", "„": ",,", "′": "'", "″": '"', "•": "·", "∙": "·", "µ": "u", "μ": "u", "№": "No",
}  # fmt: skip
_ARROW_HEAD: Final = ((0.70, 0.42), (0.88, 0.27), (0.70, 0.12))
_DRAWN: Final = {
    "–": _sign(0.5, ((0.0, 0.27), (0.5, 0.27))),
    "—": _sign(1.0, ((0.0, 0.27), (1.0, 0.27))),
    "−": _sign(0.58, ((0.05, 0.27), (0.53, 0.27))),
    "×": _sign(0.58, ((0.09, 0.07), (0.49, 0.47)), ((0.09, 0.47), (0.49, 0.07))),
    "÷": _sign(0.58, ((0.05, 0.27), (0.53, 0.27)), _dot(0.29, 0.47), _dot(0.29, 0.07)),
    "→": _sign(1.0, ((0.1, 0.27), (0.88, 0.27)), _ARROW_HEAD),
    "←": _sign(1.0, ((0.12, 0.27), (0.9, 0.27)), tuple((1 - x, y) for x, y in _ARROW_HEAD)),
    "≤": _sign(0.58, ((0.52, 0.55), (0.06, 0.34), (0.52, 0.13)), ((0.06, 0.0), (0.52, 0.0))),
    "≥": _sign(0.58, ((0.06, 0.55), (0.52, 0.34), (0.06, 0.13)), ((0.06, 0.0), (0.52, 0.0))),
    "≈": _sign(
        0.58, *(((0.05, y), (0.19, y + 0.08), (0.39, y - 0.04), (0.53, y + 0.04)) for y in (0.34, 0.15))
    ),
    "■": _sign(0.62, *(((0.06, y / 20), (0.56, y / 20)) for y in range(1, 12))),
    "□": _BOX,
    "£": _sign(
        0.58, ((0.50, 0.58), (0.36, 0.69), (0.22, 0.60), (0.22, 0.10), (0.06, 0.0), (0.54, 0.0)),
        ((0.06, 0.33), (0.40, 0.33)),
    ),
    "€": _sign(
        0.6,
        ((0.54, 0.60), (0.38, 0.69), (0.20, 0.56), (0.14, 0.34), (0.20, 0.12), (0.38, 0.0), (0.54, 0.08)),
        ((0.02, 0.42), (0.42, 0.42)), ((0.02, 0.27), (0.40, 0.27)),
    ),
}  # fmt: skip
_BARRED: Final[dict[str, tuple[str, Stroke]]] = {
    "ø": ("o", ((0.06, -0.04), (0.53, 0.57))),
    "Ø": ("O", ((0.06, -0.04), (0.70, 0.73))),
    "ł": ("l", ((0.0, 0.26), (0.24, 0.44))),
    "Ł": ("L", ((0.0, 0.24), (0.32, 0.46))),
    "đ": ("d", ((0.34, 0.62), (0.66, 0.62))),
    "Đ": ("D", ((-0.02, 0.35), (0.36, 0.35))),
    "ð": ("d", ((0.34, 0.62), (0.66, 0.62))),
    "Ð": ("D", ((-0.02, 0.35), (0.36, 0.35))),
    "ħ": ("h", ((-0.04, 0.62), (0.32, 0.62))),
    "Ħ": ("H", ((0.0, 0.52), (0.73, 0.52))),
    "ŧ": ("t", ((0.02, 0.28), (0.32, 0.28))),
    "Ŧ": ("T", ((0.14, 0.34), (0.44, 0.34))),
}
_BELOW: Final = "\u0327\u0328\u0326\u0323"
_HOOK: Final = ((0.04, 0.0), (-0.05, -0.07), (-0.02, -0.17), (0.08, -0.17))
_MARKS: Final[dict[str, tuple[Stroke, ...]]] = {
    "\u0300": (((-0.10, 0.13), (0.04, 0.0)),),
    "\u0301": (((0.10, 0.13), (-0.04, 0.0)),),
    "\u0302": (((-0.12, 0.0), (0.0, 0.12), (0.12, 0.0)),),
    "\u0303": (((-0.15, 0.02), (-0.06, 0.09), (0.06, 0.03), (0.15, 0.10)),),
    "\u0304": (((-0.14, 0.06), (0.14, 0.06)),),
    "\u0306": (((-0.12, 0.11), (-0.05, 0.02), (0.05, 0.02), (0.12, 0.11)),),
    "\u0307": (_dot(0.0, 0.05),),
    "\u0308": (_dot(-0.11, 0.05), _dot(0.11, 0.05)),
    "\u030a": (((0.0, 0.0), (0.07, 0.06), (0.0, 0.12), (-0.07, 0.06), (0.0, 0.0)),),
    "\u030b": (((-0.04, 0.12), (-0.12, 0.0)), ((0.12, 0.12), (0.04, 0.0))),
    "\u030c": (((-0.12, 0.12), (0.0, 0.0), (0.12, 0.12)),),
    "\u0323": (_dot(0.0, -0.12),),
    "\u0326": (((0.03, -0.07), (-0.03, -0.19)),),
    "\u0327": (tuple((-x, y) for x, y in _HOOK),),
    "\u0328": (_HOOK,),
}
