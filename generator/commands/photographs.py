"""The command `photographs`: what each photograph of the walls gives, and a marked picture of each to look at."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from generator.commands.options import AnswersFile, AsJson, LayerFolders, LibraryFolder
from generator.commands.shared import DRAFT, TENDER, WRONG_USE, job_of, or_stop, print_json, stop

if TYPE_CHECKING:
    from generator.job.job import Job

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
    raise typer.Exit(TENDER if all(one.gives_all for one in job.photographs) else DRAFT)


def _write(job: Job, answers: Path, folder: Path) -> list[Path]:
    """The marked pictures, written; no photograph of the answers is ever written over."""
    from generator.files.writing import write_whole
    from generator.papers.photographs import pictures_by_name

    sources = {(answers.parent / one.picture.asked.asked.file).resolve() for one in job.photographs}
    written = []
    for one in job.photographs:
        for name, data in pictures_by_name(one):
            path = folder / name
            if path.resolve() in sources:
                stop([f"{path}: is a photograph of the answers: name another folder with --out"], WRONG_USE)
            or_stop(partial(write_whole, path, data, "name another folder with --out"))
            written.append(path)
    return written
