"""What photographs give, as plain data: for the record, for `explain` and for the command that tells it."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Any, Final

from generator.job.job import Job
from generator.values import asdict, plain, rounded

if TYPE_CHECKING:
    from generator.lime.plane_limits import Told
    from generator.lime.plane_reckoning import Length, Quantity, Reckoning
    from generator.measure.photographs.reckoning import LetterFigure, PhotographFigures

Data = dict[str, Any]
# What is told of all areas of a work together, and not of the photograph.
_OF_AREAS: Final = ("beyond-horizon", "scale-change", "picks-swing", "lens-over-horizon", "range-wide")


def photographs_data(job: Job) -> list[Data]:
    """The photographs of a job as plain data."""
    return [photograph_data(one) for one in job.photographs]


def work_areas_data(job: Job) -> list[Data]:
    """What all photographs together give each work."""
    return [
        {
            **_place(work.work),
            "on": {photograph: list(letters) for photograph, letters in work.on},
            "lacking": list(work.lacking),
            **(quantity_data(work.quantity) if work.quantity else {}),
        }
        for work in job.work_areas
    ]


def photograph_data(one: PhotographFigures) -> Data:
    """A photograph: its file and picture by their digests, what is told of it, and all that it gives."""
    asked, read = one.picture.asked, one.picture.read
    taken = asked.asked.taken
    data: Data = {
        "id": one.id,
        "file": asked.asked.file,
        "element": "/".join(asked.element),
        "shows": asked.asked.shows,
        "taken": taken.isoformat() if taken else None,
        "by": asked.asked.by,
        "refused": one.picture.refused[0],
        "marks_hold": one.picture.marks_hold,
        "told": [_told(told) for told in one.told],
        "areas": [_letter(figure) for figure in one.letters],
        "works": [{**_place(path), **_reckoning(reckoned)} for path, reckoned in one.works.items()],
        "lengths": [{"what": what, **_length(length)} for what, length in one.lengths],
        "joints": [{"by": joint.by, "count": joint.count, **_length(joint.width)} for joint in one.joints],
    }
    if read is None:
        return data
    offered_day = read.taken.isoformat() if read.taken and taken is None else None
    return {
        **data,
        "sha256": read.sha256,
        "pixels": f"{read.width_px} x {read.height_px}",
        "pixels_sha256": hashlib.sha256(read.image.tobytes()).hexdigest(),
        "offered": {"taken": offered_day, "equivalent_mm": read.equivalent_mm},
    }


def _place(path: tuple[str, ...]) -> dict[str, str]:
    return dict(zip(("element", "work"), path, strict=False))


def _told(told: Told) -> Data:
    figures = {"figure": f"{told.figure:.4g}", "limit": f"{told.limit:g}"}
    return {"code": told.code, "level": told.level, **figures, "of": told.of}


def _letter(figure: LetterFigure) -> Data:
    data: Data = {"letter": figure.letter, **_place(figure.work), "counted": figure.counted}
    return data if figure.given is None else {**data, **_reckoning(figure.given)}


def _reckoning(reckoned: Reckoning) -> Data:
    return {
        "offered": reckoned.offered is not None,
        **(quantity_data(reckoned.quantity) if reckoned.quantity else {}),
        "told": [_told(told) for told in reckoned.told if told.of or told.code in _OF_AREAS],
    }


def quantity_data(quantity: Quantity) -> Data:
    """An area with its range and what its doubt is made of."""
    return {
        "area_m2": f"{quantity.area_m2:.3f}",
        "low_m2": plain(rounded(quantity.low_m2, 1)),
        "high_m2": plain(rounded(quantity.high_m2, 1)),
        "sigma_per_cent": f"{100.0 * quantity.sigma_share:.2f}",
        "by_draws": quantity.by_draws,
        "doubt_per_cent": {name: f"{100.0 * share:.2f}" for name, share in asdict(quantity.parts).items()},
    }


def _length(length: Length | None) -> Data:
    if length is None:
        return {"mm": None}
    told = [_told(told) for told in length.told]
    return {"mm": f"{length.length_mm:.1f}", "sigma_mm": f"{length.sigma_mm:.1f}", "told": told}
