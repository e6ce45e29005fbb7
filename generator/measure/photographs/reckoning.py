"""Areas, lengths and joints of photographs with a reference, and the areas of each work from all its photographs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import partial

from generator.library.model import Library
from generator.lime import plane_reckoning as reckoning
from generator.lime.plane import Fit
from generator.lime.plane_bounds import Frame
from generator.lime.plane_limits import SHARE_OF_AREA, Told, refuses
from generator.lime.plane_reckoning import Length, Quantity, Reckoning, View
from generator.lime.plane_shapes import Area
from generator.measure.photographs.pictures import Picture
from generator.measure.photographs.views import ends, pixel, seen
from generator.questionnaire.facts import Facts
from generator.questionnaire.photographed import MarkedArea
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Struct, field, rounded


class LetterFigure(Struct, frozen=True):
    """The areas under one letter and what they give together; nothing without a reference that holds."""

    letter: str
    areas: tuple[MarkedArea, ...]
    given: Reckoning | None = None

    @property
    def work(self) -> ScopePath:
        """The work that the letter stands for."""
        return self.areas[0].work

    @property
    def counted(self) -> bool:
        """Whether all under it is counted on this photograph."""
        return all(area.counted for area in self.areas)

    @property
    def offered(self) -> Quantity | None:
        """What they give together, where nothing refuses it."""
        return None if self.given is None else self.given.offered

    @property
    def spread(self) -> Range[Decimal] | None:
        """The area that they give together, with its range; None where they give none."""
        return None if self.offered is None else area_range(self.offered)

    @property
    def is_estimate(self) -> bool:
        """Whether what they give is no surer than an estimate."""
        return self.offered is not None and self.offered.sigma_share > SHARE_OF_AREA.warned


class JointFigure(Struct, frozen=True):
    """The width of joints: by `picks` from edge to edge, or by `courses` of a run less the unit.

    `width` is None where the reference gives no length, or the height of the unit is not answered.
    """

    by: str
    count: int
    width: Length | None


class PhotographFigures(Struct, frozen=True):
    """A photograph with all that it gives; `works` holds the counted areas of each work as one figure.

    `fit` tells how taped points fit one plane.
    """

    picture: Picture
    view: View | None = None
    told: tuple[Told, ...] = ()
    letters: tuple[LetterFigure, ...] = ()
    works: Mapping[ScopePath, Reckoning] = field(default_factory=dict)
    lengths: tuple[tuple[str, Length | None], ...] = ()
    joints: tuple[JointFigure, ...] = ()
    fit: Fit | None = None

    @property
    def id(self) -> str:
        """What the photograph is called."""
        return self.picture.asked.id

    @property
    def is_scaled(self) -> bool:
        """Whether the reference gives figures at all."""
        return self.view is not None and not refuses(self.told)

    @property
    def gives_all(self) -> bool:
        """Whether it was read, and gives all that is marked on it."""
        if self.picture.read is None or not self.picture.marks_hold:
            return False
        return not refuses((*self.told, *(told for reckoned in self.works.values() for told in reckoned.told)))


def sum_is_surer(one: PhotographFigures, work: ScopePath) -> bool:
    """Whether the areas of a work on a photograph are surer together than each is by itself.

    Slips at the frame make areas on one side of it too large and those on the other too small, and slips along outlines
    even out; areas that all lie to one side gain by the second alone.
    """
    reckoned = one.works.get(work)
    if reckoned is None or reckoned.offered is None:
        return False
    parts = [figure.given.offered for figure in one.letters if figure.work == work and figure.counted and figure.given]
    shares = [part.sigma_share for part in parts if part is not None]
    return len(parts) > 1 and all(reckoned.offered.sigma_share < share for share in shares)


class WorkArea(Struct, frozen=True):
    """The area of a work marked on photographs: its quantity, on which with which letters, and which give none."""

    work: ScopePath
    quantity: Quantity | None
    on: tuple[tuple[str, tuple[str, ...]], ...]
    lacking: tuple[str, ...] = ()

    @property
    def spread(self) -> Range[Decimal] | None:
        """The area with its range; None where photographs give none."""
        return None if self.quantity is None else area_range(self.quantity)


def area_range(quantity: Quantity) -> Range[Decimal]:
    """An area with its range, to a tenth of a square metre."""
    low, high = rounded(quantity.low_m2, 1), rounded(quantity.high_m2, 1)
    return Range(low, min(max(rounded(quantity.area_m2, 1), low), high), high)


def figures(picture: Picture, facts: Facts, library: Library) -> PhotographFigures:
    """What a photograph gives."""
    asked, marked = picture.asked.asked, _by_letter(picture.asked.areas)
    letters = tuple(LetterFigure(letter, areas) for letter, areas in marked.items())
    if picture.read is None or not picture.marks_hold or asked.reference is None:
        return PhotographFigures(picture, letters=letters)
    found = seen(picture, asked.reference, facts, library)
    if found is None:
        return PhotographFigures(picture, told=(Told("reference-in-line", "refusal"),), letters=letters)
    view, frame = found.view, found.view.frame
    told = reckoning.told_of(view)
    refused = refuses(told)
    letters = tuple(
        LetterFigure(letter, areas, reckoning.reckoned(view, [_area(area, frame) for area in areas]))
        for letter, areas in marked.items()
    )
    works = {
        path: reckoning.reckoned(view, [_area(area, frame) for area in counted])
        for path in picture.asked.works
        if (counted := picture.asked.of_work(path))
    }
    if refused:  # a length has no room to tell it
        return PhotographFigures(picture, view, told, letters, works, fit=found.fit)
    lengths = tuple(
        (line.what, _given(partial(reckoning.length_of, view, *ends(line, frame)))) for line in asked.lengths
    )
    joints = tuple(_joints(picture, view, facts))
    return PhotographFigures(picture, view, told, letters, works, lengths, joints, found.fit)


def _by_letter(areas: Sequence[MarkedArea]) -> dict[str, tuple[MarkedArea, ...]]:
    found: dict[str, tuple[MarkedArea, ...]] = {}
    for area in areas:
        found[area.letter] = (*found.get(area.letter, ()), area)
    return found


def work_areas(found: Sequence[PhotographFigures]) -> tuple[WorkArea, ...]:
    """The area of each work from all photographs on which areas of it are counted.

    There is a quantity only where each of them gives one: a sum without some of its areas would be too little.
    """
    works = dict.fromkeys(path for one in found for path in one.picture.asked.works)
    return tuple(area for path in works if (area := _work_area(path, found)) is not None)


def _work_area(path: ScopePath, found: Sequence[PhotographFigures]) -> WorkArea | None:
    on: list[tuple[str, tuple[str, ...]]] = []
    given: list[Quantity] = []
    lacking: list[str] = []
    for one in found:
        counted = one.picture.asked.of_work(path)
        if not counted:
            continue
        on.append((one.id, tuple(dict.fromkeys(area.letter for area in counted))))
        reckoned = one.works.get(path)
        offered = None if reckoned is None else reckoned.offered
        if offered is None:
            lacking.append(one.id)
        else:
            given.append(offered)
    if not on:
        return None
    whole = given[0] if len(given) == 1 else reckoning.together(given) if given else None
    return WorkArea(path, None if lacking else whole, tuple(on), tuple(lacking))


# --- one photograph ---------------------------------------------------------------------------------------


def _joints(picture: Picture, view: View, facts: Facts) -> Iterator[JointFigure]:
    """The joints picked across, as one mean, and each run over courses."""
    frame, unit_mm = view.frame, facts.at_scope(picture.asked.element).real("unit_height_mm")
    joints = picture.asked.asked.joints
    across = [ends(joint, frame) for joint in joints if joint.courses is None]
    if across:
        yield JointFigure("picks", len(across), _given(partial(reckoning.joint_by_picks, view, across)))
    for joint in joints:
        if joint.courses is not None and unit_mm is not None:
            by_run = partial(reckoning.joint_by_courses, view, ends(joint, frame), joint.courses, unit_mm)
            yield JointFigure("courses", joint.courses, _given(by_run))
        elif joint.courses is not None:
            yield JointFigure("courses", joint.courses, None)


def _given(length: Callable[[], Length]) -> Length | None:
    """A length; None where an end lies over the horizon or the reference gives none."""
    try:
        return length()
    except ValueError:
        return None


def _area(area: MarkedArea, frame: Frame) -> Area:
    without = tuple(tuple(pixel(spot, frame) for spot in ring) for ring in area.without)
    return Area(tuple(pixel(spot, frame) for spot in area.outline), without)
