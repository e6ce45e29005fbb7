"""The command `photographs`: what each photograph of the walls gives, and a marked picture of each to look at."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from generator.commands.options import AnswersFile, AsJson, LayerFolders, LibraryFolder
from generator.commands.shared import DRAFT, TENDER, WRONG_USE, job_of, or_stop, print_json, stop

if TYPE_CHECKING:
    from generator.job.job import Job
    from generator.measure.photographs.reckoning import PhotographFigures

MARKED: Final = "photographs-marked"
_OUT = f"The folder for the marked pictures; {MARKED} beside the answers without it."
Out = Annotated[Path | None, typer.Option("--out", help=_OUT)]


def register(app: typer.Typer) -> None:
    """Adds the command."""
    app.command("photographs")(photographs)


def photographs(
    answers: AnswersFile,
    out: Out = None,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    as_json: AsJson = False,
) -> None:
    """Tell what the photographs of the walls give, and write each with its marks; 3 where one gives no figure."""
    from generator.record.photographs import photographs_data, work_areas_data
    from generator.record.photographs_told import photographs_text

    job, _ = job_of(answers, library, layer)
    written = _write(job, answers, out or answers.parent / MARKED)
    if as_json:
        told = {"photographs": photographs_data(job), "works": work_areas_data(job)}
        print_json({**told, "written": [str(path) for path in written]})
    else:
        print(photographs_text(job), end="")
        for path in written:
            print(f"wrote {path}")
    raise typer.Exit(TENDER if all(map(_gives, job.photographs)) else DRAFT)


def _gives(one: PhotographFigures) -> bool:
    """Whether a photograph was read, and gives all that is marked on it."""
    from generator.lime.plane_limits import refuses

    if one.picture.read is None or not one.picture.marks_hold:
        return False
    told = (*one.told, *(told for reckoned in one.works.values() for told in reckoned.told))
    return not refuses(told)


def _write(job: Job, answers: Path, folder: Path) -> list[Path]:
    """The marked pictures, written; no photograph of the answers is ever written over."""
    from generator.files.writing import write_whole

    sources = {(answers.parent / one.picture.asked.asked.file).resolve() for one in job.photographs}
    written = []
    for one in job.photographs:
        for name, data in _pictures(one):
            path = folder / name
            if path.resolve() in sources:
                stop([f"{path}: is a photograph of the answers: name another folder with --out"], WRONG_USE)
            or_stop(partial(write_whole, path, data, "name another folder with --out"))
            written.append(path)
    return written


def _pictures(one: PhotographFigures) -> Iterator[tuple[str, bytes]]:
    """A photograph as the papers show it, and square on where its reference allows."""
    from generator.papers.photographs import elevation_picture, marked_picture, plain_picture

    marked = marked_picture(one)
    shown = plain_picture(one) if marked is None else marked.jpeg
    if shown is not None:
        yield f"{one.id}.jpg", shown.data
    elevation = elevation_picture(one)
    if elevation is not None:
        yield f"{one.id}-elevation.jpg", elevation.jpeg.data
