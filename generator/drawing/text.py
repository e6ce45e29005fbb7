"""Text measured in the one face that also draws it, so that pages and drawings can be fitted and stay so.

The face is Liberation Sans, which has Arial's advances by design; its regular and bold lie in `face/` beside
their licence. Kerning is left out, as Word leaves it out unless a style asks for it. All sizes are in points.
"""

from __future__ import annotations

import re
import sys
import unicodedata
from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from functools import cache, lru_cache
from itertools import accumulate, chain, repeat
from operator import mul
from pathlib import Path
from typing import Final

POINTS_PER_MM: Final = 72 / 25.4

UNKNOWN_EM: Final = 0.75
"""Advance of a character the face lacks: that of the box drawn for it."""

WIDE_EM: Final = 1.0
"""Advance of Chinese, Japanese and Korean characters, of emoji and other signs the face lacks."""

SLACK_PT: Final = 0.5
"""Room at a line's end that word processors may leave: LibreOffice 7.4 leaves it, as measured."""

_FACE: Final = Path(__file__).with_name("face")
_NO_ADVANCE: Final = {"Mn", "Me", "Cf", "Cc"}
# the face has no hyphen of its own that keeps a line together
_TWINS: Final = {0x2011: 0x2010}
# A line may break after spaces, after a hyphen or dash with more behind it that no word joiner binds to it, and by a
# wide character.
_SPACES: Final = " \t\u2002\u2003\u2009\u200b"
_WIDE: Final = "\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\uffe0-\uffe6"
_DASHES: Final = "\\-\u2010\u2012-\u2014"
# told by the characters that are not: a range of wide ones takes four times as long to make, one by one
_MAY_BE_WIDE: Final = re.compile("[^\0-\u10ff\u1160-\u2e7f]")
_CHUNK: Final = re.compile(
    rf"[{_SPACES}]+"
    rf"|(?!\Z)(?:[^{_SPACES}{_DASHES}]+|[{_DASHES}](?=[{_DASHES}{_SPACES}\u2060]))*(?:[{_DASHES}]|[{_SPACES}]+|\Z)"
)


class _Advances(dict[str, int]):
    """Advances by character in the face's own units, each read from the face when it is first asked for.

    Tables head, hhea, hmtx and cmap (format 4) as OpenType 1.9 lays them out, in words of 16 bits.
    """

    def __init__(self, bold: bool) -> None:
        super().__init__()
        font = face_file(bold).read_bytes()
        self._words = words = array("H", font)
        if sys.byteorder == "little":
            words.byteswap()
        table = {font[at : at + 4]: self._long(at // 2 + 4) // 2 for at in range(12, 12 + 16 * words[2], 16)}
        self.per_em: int = words[table[b"head"] + 9]
        rise, fall, gap = words[table[b"hhea"] + 2 : table[b"hhea"] + 5]
        self.fall: int = 0x10000 - fall
        self.line: int = rise + self.fall + gap
        self.line_parts = (rise, self.fall, gap)
        self._widths = table[b"hmtx"]
        cmap = table[b"cmap"]
        entries = range(cmap + 2, cmap + 2 + 4 * words[cmap + 1], 4)
        self._map = next(cmap + self._long(at + 2) // 2 for at in entries if (words[at], words[at + 1]) == (3, 1))

    def __missing__(self, character: str) -> int:
        glyph = self._glyph(ord(character))
        advance = self._words[self._widths + 2 * glyph] if glyph else round(_unlisted_em(character) * self.per_em)
        self[character] = advance
        return advance

    def has(self, character: str) -> bool:
        """Whether the face has a glyph for a character."""
        return bool(self._glyph(ord(character)))

    def _long(self, at: int) -> int:
        return self._words[at] << 16 | self._words[at + 1]

    def _glyph(self, code: int) -> int:
        """The number of a character's glyph, or of that of its twin, 0 where the face has none."""
        words, ends = self._words, self._map + 7
        code = _TWINS.get(code, code)
        count = words[self._map + 3] // 2
        starts = ends + count + 1
        place = bisect_left(words, code, ends, ends + count) - ends
        if place == count or words[starts + place] > code:
            return 0
        shift, offset = words[starts + count + place], words[starts + 2 * count + place]
        if offset:
            code = words[starts + 2 * count + place + offset // 2 + code - words[starts + place]]
        return (code + shift) & 0xFFFF if code else 0


def face_file(bold: bool) -> Path:
    """The file of the face in a weight."""
    return _FACE / f"LiberationSans-{'Bold' if bold else 'Regular'}.ttf"


def text_width_pt(text: str, size_pt: float, bold: bool = False) -> float:
    """The width of a text on one line, in points; spaces at its end count.

    Characters the face lacks count `UNKNOWN_EM`, wide ones and signs `WIDE_EM`, combining marks nothing.
    """
    return _ems(text, bold) * size_pt


@lru_cache(maxsize=8192)
def _ems(text: str, bold: bool) -> float:
    """The width in ems, of 2,048 units each: asked for again at every size and column that a layout tries."""
    advances = _advances(bold)
    return sum(map(advances.__getitem__, composed(text))) / advances.per_em


def reach(pieces: Sequence[tuple[str, float, bool]]) -> tuple[list[float], float]:
    """How far each place of a line lies from its start, before its first character, behind it and so on; and the unit.

    The line is of pieces, each composed words with their size and whether they are bold. The unit is points.
    """
    sizes = {size_pt for _, size_pt, _ in pieces}
    units = chain.from_iterable(map(_advances(bold).__getitem__, text) for text, _, bold in pieces)
    if len(sizes) > 1:
        of_each = chain.from_iterable(repeat(size_pt, len(text)) for text, size_pt, _ in pieces)
        return list(accumulate(map(mul, units, of_each), initial=0.0)), 1 / _advances(False).per_em
    return list(accumulate(units, initial=0.0)), max(sizes, default=1.0) / _advances(False).per_em


def placed(text: str, size_pt: float, bold: bool = False) -> Iterator[tuple[str, float]]:
    """Each character of a text on one line that leaves ink, with its distance from the start in points."""
    advances, units = _advances(bold), 0
    for character in composed(text).translate(_TWINS):
        if character.isprintable() and character != " ":
            yield character, units * size_pt / advances.per_em
        units += advances[character]


def line_height_pt(size_pt: float) -> float:
    """The pitch of lines in single spacing, in points: 1.15 of the size, from the face's own figures."""
    face = _advances(False)
    return size_pt * face.line / face.per_em


@cache  # of few sizes, for thousands of paragraphs
def line_height_in(size_pt: float, per_pt: int) -> int:
    """The pitch of lines in single spacing in whole parts of a point, as LibreOffice 7.4 rounds it.

    What stands above the line, what hangs below it and the gap between lines are rounded each for itself.
    """
    face = _advances(False)
    return sum(round(size_pt * per_pt * part / face.per_em) for part in face.line_parts)


def below_line_pt(size_pt: float) -> float:
    """How far letters hang below the line that they stand on, in points."""
    face = _advances(False)
    return size_pt * face.fall / face.per_em


@lru_cache(maxsize=2048)
def wrap(text: str, width_pt: float, size_pt: float, bold: bool = False) -> tuple[str, ...]:
    """The lines a text takes in a column: greedy, broken after spaces and hyphens; spaces at line ends hang.

    A line feed starts a new line; an empty text is one empty line. What is wider than the column alone is
    broken between characters, as word processors do: `too_wide` names it. Who must be sure of the lines gives
    a width `SLACK_PT` less. ValueError unless the width is above 0.
    """
    if width_pt <= 0:
        raise ValueError(f"width_pt is {width_pt}: valid above 0")
    return tuple(line for paragraph in text.split("\n") for line in _lines(paragraph, width_pt, size_pt, bold))


def parts_of_line(text: str) -> list[str]:
    """The parts of a text between which its line may be broken, each with the spaces behind it."""
    return (_CHUNK if text.isascii() or not _MAY_BE_WIDE.search(text) else _wide_chunk()).findall(text)


@cache
def _wide_chunk() -> re.Pattern[str]:
    """What finds the parts of a text with wide characters, which few have: it takes long to make."""
    return re.compile(
        rf"[{_SPACES}]+"
        rf"|[{_WIDE}][{_SPACES}]*"
        rf"|[^{_SPACES}{_WIDE}]+?(?:(?<=[{_DASHES}])(?![{_DASHES}{_SPACES}\u2060])|[{_SPACES}]+|(?=[{_WIDE}])|$)"
    )


def is_in_face(text: str) -> bool:
    """Whether the face has every character of a text, so that no other face is taken for it."""
    regular = _advances(False)
    return all(regular.has(character) for character in set(composed(text)) if character.isprintable())


def widest_part_pt(texts: Iterable[str], size_pt: float, bold: bool = False) -> float:
    """The width of the widest part of some texts that cannot be broken, in points."""
    parts = {chunk.strip(_SPACES) for text in set(texts) for chunk in parts_of_line(text)}
    return max((text_width_pt(part, size_pt, bold) for part in parts), default=0.0)


def composed(text: str) -> str:
    """A text with each letter and its accents as one character."""
    return unicodedata.normalize("NFC", text)


@cache
def _advances(bold: bool) -> _Advances:
    return _Advances(bold)


def _unlisted_em(character: str) -> float:
    category = unicodedata.category(character)
    if category in _NO_ADVANCE:
        return 0.0
    wide = category == "So" or unicodedata.east_asian_width(character) in "WF"
    return WIDE_EM if wide else UNKNOWN_EM


def _lines(paragraph: str, width_pt: float, size_pt: float, bold: bool) -> Iterator[str]:
    if _fits(paragraph, width_pt, size_pt, bold):  # as most do
        yield paragraph.rstrip(_SPACES)
        return
    line, used = "", 0.0
    for chunk in parts_of_line(paragraph):
        if _fits(chunk, width_pt - used, size_pt, bold):
            line += chunk
            used += text_width_pt(chunk, size_pt, bold)
            continue
        if line:
            yield line.rstrip(_SPACES)
        *whole, line = _broken(chunk, width_pt, size_pt, bold)
        used = text_width_pt(line, size_pt, bold)
        yield from whole
    yield line.rstrip(_SPACES)


def _fits(text: str, width_pt: float, size_pt: float, bold: bool) -> bool:
    # sums of binary fractions leave dust; a text as wide as its column fits
    return text_width_pt(text.rstrip(_SPACES), size_pt, bold) <= width_pt + 1e-6


def _broken(chunk: str, width_pt: float, size_pt: float, bold: bool) -> list[str]:
    """What cannot be broken, cut into pieces that fit, one character at the least."""
    pieces = [""]
    for character in chunk:
        if pieces[-1] and not _fits(pieces[-1] + character, width_pt, size_pt, bold):
            pieces.append("")
        pieces[-1] += character
    return pieces
