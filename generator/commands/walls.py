"""The commands `walls export` and `walls import`: many walls through a spreadsheet."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from generator.commands.options import AnswersFile, LayerFolders, LibraryFolder, ReplaceEdited
from generator.commands.sets import FILE_OR_REPLACE
from generator.commands.shared import UNREADABLE, file_of, library_beside, or_stop, say, stop

Out = Annotated[Path, typer.Option("--out", help="The workbook to write (.xlsx).")]
Workbook = Annotated[Path, typer.Argument(metavar="WALLS", help="The workbook, as `walls export` wrote it, filled in.")]
Into = Annotated[Path, typer.Option("--into", help="The answers file (YAML) that its answers go into.")]


def register(app: typer.Typer) -> None:
    """Adds the group `walls`."""
    walls = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Many walls at once, through a spreadsheet.")
    walls.command("export")(export)
    walls.command("import")(import_)
    app.add_typer(walls, name="walls")


def export(
    answers: AnswersFile,
    out: Out,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    replace_edited: ReplaceEdited = False,
) -> None:
    """Write the walls of an answers file as a workbook: a row a wall and work, a column a question."""
    from generator.asking.answering import Answering
    from generator.asking.spreadsheet import grid_of
    from generator.files.writing import write_whole
    from generator.render.workbook.grid import grid_workbook

    ready = library_beside(answers, library, layer)
    data = or_stop(lambda: grid_workbook(grid_of(Answering(answers, ready))))
    or_stop(lambda: write_whole(out, data, FILE_OR_REPLACE, replace=replace_edited))
    say(f"wrote {out}")


def import_(workbook: Workbook, into: Into, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Bring what was filled in into an answers file: all of it, or nothing where a cell cannot be read."""
    from generator.asking.answering import Answering
    from generator.asking.answers_file import CannotChange
    from generator.asking.spreadsheet import brought
    from generator.files.errors import CannotWrite
    from generator.files.limits import MOST_TOLD
    from generator.render.workbook.grid import NoGrid, read_grid

    ready = library_beside(into, library, layer)
    answers = or_stop(lambda: Answering(into, ready))
    data = file_of(workbook, "a workbook (.xlsx)")
    try:
        rows = read_grid(data, ready.phrase("walls-sheet"))
    except NoGrid as error:
        stop([f"{workbook}: {ready.phrase(f'walls-no-grid-{error}', sheet=ready.phrase('walls-sheet'))}"], UNREADABLE)
    except ValueError:
        stop([f"{workbook}: {ready.phrase('walls-no-workbook')}"], UNREADABLE)
    found = brought(answers, rows)
    if found.wrong:
        told = [f"{workbook}: {line}" for line in found.wrong[:MOST_TOLD]]
        stop([*told, ready.phrase("walls-nothing-saved", count=str(len(found.wrong)))], UNREADABLE)
    try:
        answers.save(found.changes)
    except (CannotChange, CannotWrite) as error:
        stop([str(error), ready.phrase("walls-nothing-saved", count="1")], UNREADABLE)
    for line in found.lines:
        say(line)
    say(ready.phrase("walls-done" if found.lines else "walls-same", file=str(into), count=str(len(found.lines))))
