"""The shape of photographs in answers: files, what they show, reference, marks; read as spelt, with no key unknown."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal
from pathlib import PurePosixPath
from typing import Annotated, Any, Final

from generator.files.shapes import After, Before, InJson, Shape, amiss, mistake, within
from generator.questionnaire.spelt import DATE, YES_NO
from generator.values import field

MOST_PHOTOGRAPHS: Final = 60
MOST_MARKS: Final = 26
MOST_POINTS: Final = 40
TAPED_POINTS: Final = (5, 20)
MOST_WORDS: Final = 300
TAPE_ERROR_MM: Final = Decimal(3)  # a steel tape held by two, one sigma (common practice, no published source)
_NUMBER: Final = re.compile(r"[-+]?[0-9]{1,9}(\.[0-9]{1,20})?\Z")
_PIXELS: Final = re.compile(r"([1-9][0-9]{0,5})\s*[x×]\s*([1-9][0-9]{0,5})\Z")
_DIGEST: Final = re.compile(r"[0-9a-f]{64}\Z")
_ID: Final = re.compile(r"[A-Za-z][A-Za-z0-9-]{0,11}\Z")
_LETTER: Final = re.compile(r"[A-Z]{1,2}\Z")


def _number(value: Any) -> Decimal:
    text = value.strip() if isinstance(value, str) else ""
    if not _NUMBER.match(text):
        raise mistake("decimal_type")
    return Decimal(text)


def _pair(value: Any) -> Any:
    if not isinstance(value, list) or len(value) != 2:
        raise amiss("is {it}, where two numbers are wanted", "write them as [0.25, 0.4]")
    return value


def _of_points(least: int, most: int) -> Before:
    """A list of so many points."""
    wanted = str(least) if least == most else f"{least} to {most}"

    def check(value: Any) -> Any:
        if not isinstance(value, list):
            raise amiss(f"is {{it}}, where {wanted} points are wanted", "write [[0.1, 0.5], [0.4, 0.5], …]")
        if not least <= len(value) <= most:
            raise amiss(f"has {len(value)} points, where {wanted} are wanted", "add points, or take some out")
        return value

    return Before(check)


def _at_most(most: int, what: str) -> Before:
    def check(value: Any) -> Any:
        if isinstance(value, list) and len(value) > most:
            raise amiss(f"has {len(value)} {what}, where {most} at most are read", "take some out")
        return value

    return Before(check)


def _words(value: str) -> str:
    text = " ".join(value.split())
    if not text:
        raise mistake("string_too_short")
    if len(text) > MOST_WORDS:
        raise amiss(f"is {len(text)} characters long", f"shorten it to {MOST_WORDS} at most")
    return text


def _spelt(pattern: re.Pattern[str], to_do: str) -> After:
    """A text of one form."""

    def check(value: str) -> str:
        if pattern.match(value):
            return value
        raise amiss("cannot be {it}", to_do)

    return After(check)


def _yes_no(value: Any) -> bool:
    word = value.strip().lower() if isinstance(value, str) else ""
    if word not in YES_NO:
        raise amiss("cannot be {it}", "write yes or no")
    return YES_NO[word]


def _day(value: Any) -> datetime.date:
    try:
        if isinstance(value, str) and DATE.match(value):
            return datetime.date.fromisoformat(value)
    except ValueError:
        pass
    raise amiss("cannot be {it}", "write the date as year-month-day, such as 2027-03-01")


def _size(value: Any) -> tuple[int, int]:
    found = _PIXELS.match(value.strip()) if isinstance(value, str) else None
    if found is None:
        raise amiss("cannot be {it}", "write width and height of the picture held upright, such as 4032 x 3024")
    return int(found[1]), int(found[2])


def _courses(value: Any) -> int:
    count = _number(value)
    if count != int(count) or not 1 <= count <= 200:
        raise amiss("is {it}, where a whole number from 1 to 200 is wanted", "count the courses of the run")
    return int(count)


def _both(value: Any) -> Any:
    """Both diagonals; `not known` is as good as none."""
    return None if isinstance(value, str) and value.strip().lower() == "not known" else _pair(value)


def _below(value: str) -> str:
    """A path below the folder of the answers: nothing outside it is ever read."""
    pure = PurePosixPath(value)
    if value != str(pure) or pure.is_absolute() or {"..", "."} & set(pure.parts) or re.search(r"[\\:\0]", value):
        raise amiss("cannot be {it}", "name a file below the folder of the answers, such as photographs/front.jpg")
    return value


Number = Annotated[Decimal, Before(_number), InJson({"type": "number"})]
Share = Annotated[Number, within(0, 1)]
Millimetres = Annotated[Number, within(10, 200_000)]
Point = Annotated[tuple[Share, Share], Before(_pair)]
Ring = Annotated[tuple[Point, ...], _of_points(3, MOST_POINTS)]
_TEXT: Final = InJson({"type": ["string", "number"], "minLength": 1, "maxLength": MOST_WORDS})
Words = Annotated[str, After(_words), _TEXT]
_YES_OR_NO: Final = InJson({"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]})
YesNo = Annotated[bool, Before(_yes_no), _YES_OR_NO]
Pair = Annotated[tuple[Millimetres, Millimetres], Before(_pair)]
_PAIR_OR_NOT: Final = InJson(
    {"anyOf": [{"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}, {"const": "not known"}]}
)


class MarkShape(Shape, frozen=True):
    """An area on a photograph that a work is done to; `counted` no where another photograph counts it already."""

    work: Words
    outline: Ring
    letter: Annotated[str, _spelt(_LETTER, "write one or two capital letters, such as A")] = ""
    element: Words = ""
    without: tuple[Ring, ...] = ()
    counted: YesNo = True


class LineShape(Shape, frozen=True):
    """A line between two points."""

    start: Point = field(name="from")
    to: Point

    def _checked(self) -> None:
        if self.start == self.to:
            raise amiss("starts and ends in one place", "pick two points")


class CheckShape(LineShape, frozen=True):
    """A taped length that is no part of the reference."""

    length_mm: Millimetres


class LengthShape(LineShape, frozen=True):
    """A length to be reckoned."""

    what: Words


class JointShape(LineShape, frozen=True):
    """A joint picked from edge to edge, or with `courses` a run over so many courses with their joints."""

    courses: Annotated[int, Before(_courses), InJson({"type": "integer"})] | None = None


class TapedPointShape(Shape, frozen=True):
    """A point of the photograph with its place on the wall, taped from any one corner, x right and y down."""

    at: Point
    x_mm: Annotated[Number, within(-200_000, 200_000)]
    y_mm: Annotated[Number, within(-200_000, 200_000)]


class ReferenceShape(Shape, frozen=True):
    """What was taped on the wall: four corners with width and height, or five points and more with their places."""

    what: Words = ""
    corners: Annotated[tuple[Point, ...], _of_points(4, 4)] | None = None
    width_mm: Millimetres | None = None
    height_mm: Millimetres | None = None
    points: Annotated[tuple[TapedPointShape, ...], _of_points(*TAPED_POINTS)] | None = None
    tape_error_mm: Annotated[Number, within(0, 100)] = TAPE_ERROR_MM
    diagonals_mm: Annotated[Pair | None, Before(_both), _PAIR_OR_NOT] = None
    off_face_mm: Annotated[Number, within(-2000, 2000)] = Decimal(0)
    distance_m: Annotated[Number, within(0.2, 1000)] | None = None

    def _checked(self) -> None:
        sides = (self.width_mm, self.height_mm)
        if self.corners is None and self.points is None:
            raise amiss("names nothing that was taped", "give 'corners:' with 'width_mm:' and 'height_mm:'")
        if self.corners is not None and self.points is not None:
            raise amiss("has both corners and points", "keep one of the two")
        if self.corners is not None and None in sides:
            raise amiss("lacks the width or the height of its corners", "add 'width_mm: …' and 'height_mm: …'")
        if self.points is not None and (any(sides) or self.diagonals_mm is not None):
            raise amiss("has sides or diagonals beside its points", "take them out; each point has its own place")


class PhotographShape(Shape, frozen=True):
    """A photograph: its file, what it shows, and what was marked on it, in shares of the picture held upright."""

    file: Annotated[Words, After(_below)]
    shows: Words
    id: Annotated[str, _spelt(_ID, "write a letter and at most 11 letters, figures and hyphens, such as F1")] = ""
    sha256: Annotated[str, _spelt(_DIGEST, "write its 64 figures, as `gaugebox photographs` tells them")] = ""
    pixels: Annotated[tuple[int, int], Before(_size), InJson({"type": "string"})] | None = None
    element: Words = ""
    alt: Words = ""
    taken: Annotated[datetime.date, Before(_day), InJson({"type": "string"})] | None = None
    by: Words = ""
    equivalent_mm: Annotated[Number, within(4, 2000)] | None = None
    uneven_mm: Annotated[Number, within(0, 500)] | None = None
    reference: ReferenceShape | None = None
    checks: Annotated[tuple[CheckShape, ...], _at_most(MOST_MARKS, "checks")] = ()
    straight: Annotated[tuple[Point, ...], _of_points(3, 3)] | None = None
    marks: Annotated[tuple[MarkShape, ...], _at_most(MOST_MARKS, "marks")] = ()
    joints: Annotated[tuple[JointShape, ...], _at_most(MOST_MARKS, "joints")] = ()
    lengths: Annotated[tuple[LengthShape, ...], _at_most(MOST_MARKS, "lengths")] = ()
