"""The commands for papers as files: `papers check` and `style export`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from generator.commands.options import LayerFolders, LibraryFolder, ReplaceEdited
from generator.commands.sets import FILE_OR_REPLACE
from generator.commands.shared import UNREADABLE, file_of, or_stop, say, worded_library

Paper = Annotated[Path, typer.Argument(metavar="FILE", help="A Word file, ours or one that was edited.")]
StyleFile = Annotated[Path, typer.Option("--out", help="The Word file to write.")]


def register(app: typer.Typer) -> None:
    """Adds the group `papers`."""
    papers = typer.Typer(no_args_is_help=True, rich_markup_mode=None)
    papers.callback()(_group)
    papers.command("check")(papers_check)
    style = typer.Typer(no_args_is_help=True, rich_markup_mode=None)
    style.callback()(_group)
    style.command("export")(style_export)
    app.add_typer(style, name="style", help="A practice's own look for the Word papers.")
    app.add_typer(papers, name="papers", help="Check papers, ours or edited.")


def _group() -> None:
    # one command alone would take the place of its group
    return


def papers_check(paper: Paper) -> None:
    """Look for what Word would refuse or repair, and what keeps people from reading; 1 where there is any."""
    from generator.files.archive import sha256
    from generator.files.manifest import manifest
    from generator.render.check.papers import faults, lines

    data = file_of(paper)
    found = faults(data, ours=manifest(paper.parent).get(paper.name) == sha256(data))
    for line in lines(str(paper), found):
        say(line)
    if found:
        raise typer.Exit(UNREADABLE)
    say(f"{paper}: no faults")


def style_export(
    out: StyleFile, library: LibraryFolder = None, layer: LayerFolders = None, replace_edited: ReplaceEdited = False
) -> None:
    """Write the shipped look as a Word file, to edit in Word and hand to `write --house-style`."""
    from generator.files.writing import write_whole
    from generator.render.house.sample import style_sample

    read = worded_library(library, layer)
    words = {key: word for key, word in read.words.items() if key.startswith("style-")}
    words |= {"page": read.phrase("page"), "of": read.phrase("of")}
    data = style_sample(words, read.language)
    or_stop(lambda: write_whole(out, data, FILE_OR_REPLACE, replace=replace_edited))
    say(f"wrote {out}")
