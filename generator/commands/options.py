"""The arguments and options that several commands share, as the command line takes and explains them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

AnswersFile = Annotated[Path, typer.Argument(metavar="ANSWERS", help="The answers file (YAML).")]
LibraryFolder = Annotated[Path | None, typer.Option("--library", help="A clause library in place of the shipped one.")]
LayerFolders = Annotated[
    list[Path] | None, typer.Option("--layer", help="A practice's own clauses, laid over the library; repeatable.")
]
LastIssue = Annotated[Path | None, typer.Option("--last", help="The last issue's folder, whose numbers are held.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print as JSON.")]
HouseStyle = Annotated[
    Path | None, typer.Option("--house-style", help="A practice's own look (.docx); start from `style export`.")
]
With = Annotated[
    list[str] | None,
    typer.Option("--with", metavar="NAMES", help="Companion papers too: survey,officer,records,owner,letter."),
]
ReplaceEdited = Annotated[
    bool, typer.Option("--replace-edited", help="Replace papers too that somebody edited since they were written.")
]
AsPdf = Annotated[bool, typer.Option("--pdf", help="The Word papers as tagged PDF too; needs LibreOffice.")]
