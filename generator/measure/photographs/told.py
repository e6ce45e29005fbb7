"""What there is to tell of photographs, as findings: each thing told once, where it was marked, its figures spelt."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Final

from generator.library.findings import Raised
from generator.lime.plane_limits import Told
from generator.measure.photographs.pictures import Picture
from generator.measure.photographs.reckoning import PhotographFigures, WorkArea
from generator.questionnaire.photographed import MarkedArea, Photographed
from generator.questionnaire.scopes import ScopePath
from generator.values import joined, plain, rounded, spoken

LEVELS: Final = ("note", "warning", "refusal")


def per_cent(share: float) -> str:
    """A share as a reader sees it, in per cent to a tenth below ten."""
    return spoken(rounded(100.0 * share, 0 if share >= 0.1 else 1), "%")


def letters_told(letters: Iterable[str]) -> str:
    """Letters as a reader sees them, each once, three in a row and more drawn together: `A–C and E`."""
    runs: list[list[str]] = []
    for letter in sorted(dict.fromkeys(letters), key=lambda letter: (len(letter), letter)):
        follows = runs and len(letter) == 1 and ord(letter) == ord(runs[-1][-1][-1]) + 1
        runs[-1].append(letter) if follows else runs.append([letter])
    told = [[f"{run[0]}–{run[-1]}"] if len(run) > 2 else run for run in runs]
    return joined([letter for run in told for letter in run])


def _in(unit: str, digits: int = 0) -> Callable[[float], str]:
    return lambda figure: spoken(rounded(figure, digits), unit)


def _degrees(figure: float) -> str:
    return f"{figure:.0f}°"


def _number(figure: float) -> str:
    return plain(rounded(figure, 2))


# How the figure of a code is spelt, and its limit; codes that are not here have none.
_SPELT: Final[Mapping[str, Callable[[float], str]]] = {
    "check-off": per_cent,
    "joint-few-pixels": _in("px", 1),
    "lens-bent": per_cent,
    "lens-wide": _in("mm"),
    "picks-swing": _number,
    "range-wide": per_cent,
    "reference-angle": _degrees,
    "reference-diagonals": per_cent,
    "reference-few-pixels": _in("px"),
    "reference-off-face": per_cent,
    "reference-points-apart": per_cent,
    "reference-short": _in("m", 2),
    "reference-slant": _number,
    "scale-change": _number,
}


def code_of(told: Told) -> str:
    """The code of the finding that tells it."""
    return f"photograph-{told.code}{'-refused' if told.level == 'refusal' else ''}"


def spelt(told: Told) -> tuple[str, str]:
    """Its figure and its limit as a reader sees them; empty where it has none."""
    spell = _SPELT.get(told.code)
    return ("", "") if spell is None else (spell(told.figure), spell(told.limit))


def raised_by(found: Sequence[PhotographFigures], works: Sequence[WorkArea]) -> Iterator[Raised]:
    """A finding for each thing told of photographs, in the order of the answers."""
    for one in found:
        yield from _of_picture(one.picture)
        yield from (_raised(told, one, one.picture.asked.element, (), one.picture.asked) for told in one.told)
        yield from _of_areas(one)
        yield from _of_joints(one)
    for work in works:
        if work.lacking and len(work.lacking) < len(work.on):
            fills = (("photograph", joined(list(work.lacking))),)
            yield Raised("photograph-sum-open", work.work, fills)


def refusal_of(picture: Picture) -> Raised | None:
    """The finding for a picture that cannot be read; None for one that is."""
    asked, (code, figure, limit) = picture.asked, picture.refused
    told = (("photograph", asked.id), ("file", asked.asked.file), ("figure", figure), ("limit", limit))
    return Raised(f"photograph-{code}", asked.element, told, (), (asked.mark,)) if code else None


def _of_picture(picture: Picture) -> Iterator[Raised]:
    asked, refusal = picture.asked, refusal_of(picture)
    fills = (("photograph", asked.id), ("file", asked.asked.file))
    if refusal is not None:
        yield refusal
    elif picture.read is not None:
        for note in picture.read.notes:
            yield Raised(f"photograph-{note}", asked.element, fills, (), (asked.mark,))
        if not picture.marks_hold:
            yield Raised("photograph-changed", asked.element, fills, (), (asked.mark,))


def _of_areas(one: PhotographFigures) -> Iterator[Raised]:
    """What is told of the areas of each work together, and of those alone that are not counted."""
    for path, reckoned in one.works.items():
        yield from _of_some(one, path, reckoned.told, one.picture.asked.of_work(path))
    for figure in one.letters:
        if not figure.counted and figure.given is not None:
            yield from _of_some(one, figure.work, figure.given.told, figure.areas)


def _of_some(
    one: PhotographFigures, path: ScopePath, told: Sequence[Told], areas: Sequence[MarkedArea]
) -> Iterator[Raised]:
    for item in told:
        if item not in one.told:
            marked = [areas[item.of - 1]] if item.of else areas
            yield _raised(item, one, path, [area.letter for area in marked], marked[0])


def _of_joints(one: PhotographFigures) -> Iterator[Raised]:
    asked = one.picture.asked
    for joint in one.joints:
        for told in joint.width.told if joint.width else ():
            yield _raised(told, one, asked.element, (), asked)


def _raised(
    told: Told, one: PhotographFigures, path: ScopePath, letters: Sequence[str], at: MarkedArea | Photographed
) -> Raised:
    figure, limit = spelt(told)
    number = str(told.of) if told.of and not letters else ""
    fills = (
        ("photograph", one.id), ("letters", letters_told(letters)), ("number", number),
        ("figure", figure), ("limit", limit),
    )  # fmt: skip
    return Raised(code_of(told), path, fills, (), (at.mark,))
