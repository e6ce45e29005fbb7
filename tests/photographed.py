"""Jobs with photographs, for tests: pictures made here, and photographs of the one-wall job as they are answered."""

from __future__ import annotations

import functools
import io
import json
from pathlib import Path
from typing import Any

from answers_text import one_wall
from jobs import job
from PIL import ExifTags, Image

from generator.job.job import Job

Answer = dict[str, Any]

# the photograph that the check values CV22 and CV23 are told of
CORNERS = [[0.4312, 0.3907], [0.5621, 0.3884], [0.5637, 0.6461], [0.4325, 0.6492]]
REFERENCE: Answer = {"corners": CORNERS, "width_mm": 1010, "height_mm": 1490, "distance_m": 7.5}
LEFT = [[0.05, 0.70], [0.42, 0.70], [0.42, 0.93], [0.05, 0.93]]
RIGHT = [[0.60, 0.70], [0.90, 0.70], [0.90, 0.93], [0.60, 0.93]]
CHECK: Answer = {"from": [0.1200, 0.8010], "to": [0.3105, 0.8043], "length_mm": 1447}


@functools.cache
def jpeg(width: int = 4032, height: int = 3024, equivalent_mm: int = 26) -> bytes:
    """A plain picture as a phone writes it: with its lens, its day and its place."""
    facts = Image.Exif()
    facts[ExifTags.IFD.Exif] = {
        ExifTags.Base.DateTimeOriginal: "2026:05:12 10:31:00",
        ExifTags.Base.FocalLengthIn35mmFilm: equivalent_mm,
    }
    facts[ExifTags.IFD.GPSInfo] = {ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (51, 30, 0)}
    stream = io.BytesIO()
    Image.new("RGB", (width, height), (150, 112, 92)).save(stream, "JPEG", exif=facts)
    return stream.getvalue()


def mark(outline: list[list[float]], **more: Any) -> Answer:
    return {"work": "repoint", "outline": outline, **more}


def photograph(**changes: Any) -> Answer:
    """A photograph with a reference, a check and an area on the left; None takes a part of it out."""
    whole: Answer = {
        "file": "front.jpg",
        "shows": "Front from the south-west",
        "reference": REFERENCE,
        "checks": [CHECK],
        "marks": [mark(LEFT)],
        **changes,
    }
    return {key: value for key, value in whole.items() if value is not None}


def text(*photographs: Answer, **changes: str | None) -> str:
    """The answers of the one-wall job with photographs."""
    return one_wall(photographs=json.dumps(photographs), **changes)


def pictured(folder: Path, *photographs: Answer, **changes: str | None) -> Job:
    """The one-wall job with photographs, whose pictures are made in a folder where they are not there."""
    for one in photographs:
        path = folder / str(one["file"])
        if not path.exists():
            path.write_bytes(jpeg())
    return job(text(*photographs, **changes), folder=folder)


def codes(found: Job) -> dict[str, str]:
    """The findings about photographs, with their levels."""
    told = (item for item in found.findings if item.code.startswith("photograph-"))
    return {item.code.removeprefix("photograph-"): item.level for item in told}
