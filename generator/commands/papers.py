"""The commands for papers as files: `papers check`, `papers survey-sheet` and `style export`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from generator.commands.options import HouseStyle, LayerFolders, LibraryFolder, ReplaceEdited
from generator.commands.sets import FILE_OR_REPLACE, look_of
from generator.commands.shared import (
    UNREADABLE,
    WRONG_USE,
    file_of,
    or_stop,
    ready_library,
    say,
    stop,
    worded_library,
)

if TYPE_CHECKING:
    from generator.library.model import Library

Paper = Annotated[Path, typer.Argument(metavar="FILE", help="A Word file, ours or one that was edited.")]
WordFile = Annotated[Path, typer.Option("--out", help="The Word file to write.")]
WallKinds = Annotated[
    list[str] | None,
    typer.Argument(
        metavar="KIND", help="Kinds of wall, such as wall, chimney, indoors; all are listed if none is named."
    ),
]
BuiltOf = Annotated[
    str, typer.Option("--built-of", metavar="MASONRY", help="What they are built of, if that is known: brick, say.")
]
Works = Annotated[
    list[str] | None,
    typer.Option("--work", metavar="WORK", help="A work, if that is known: repoint, say; repeatable."),
]
Language = Annotated[str, typer.Option("--language", help="The language of the sheets: en-us, say.")]
Units = Annotated[str, typer.Option("--units", help="The units of the sheets: customary, say.")]
PaperSize = Annotated[str, typer.Option("--paper", help="The paper of the sheets: letter, say.")]

_CALLED: Final = {
    "position": "a kind of wall", "masonry": "the masonry", "work": "the work", "language": "the language",
    "units": "the units", "paper": "the paper",
}  # fmt: skip


def register(app: typer.Typer) -> None:
    """Adds the group `papers`."""
    papers = typer.Typer(no_args_is_help=True, rich_markup_mode=None)
    papers.callback()(_group)
    papers.command("check")(papers_check)
    papers.command("survey-sheet")(survey_sheet)
    style = typer.Typer(no_args_is_help=True, rich_markup_mode=None)
    style.callback()(_group)
    style.command("export")(style_export)
    app.add_typer(style, name="style", help="A practice's own look for the Word papers.")
    app.add_typer(papers, name="papers", help="Check papers, ours or edited; survey sheets before there is a job.")


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


def survey_sheet(
    out: WordFile,
    kinds: WallKinds = None,
    built_of: BuiltOf = "",
    work: Works = None,
    language: Language = "",
    units: Units = "",
    paper: PaperSize = "",
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    house_style: HouseStyle = None,
    replace_edited: ReplaceEdited = False,
) -> None:
    """Write blank survey sheets for the kinds of wall to be seen, two sides each; no answers file is needed."""
    from generator.files.writing import write_whole
    from generator.papers.companion_blank import Kinds, blank_survey
    from generator.render.word.document import specification

    ready, house = ready_library(library, layer), look_of(house_style)
    readers = {"language": language, "units": units, "paper": paper}
    readers = {name: value for name, value in readers.items() if value}
    _refuse_unknown(ready, "position", kinds or [""])
    _refuse_unknown(ready, "masonry", [built_of] if built_of else [])
    _refuse_unknown(ready, "work", work or [])
    for name, value in readers.items():
        _refuse_unknown(ready, name, [value])
    document = or_stop(lambda: blank_survey(ready, Kinds(kinds or [], built_of, work or []), readers))
    data = specification(document, house=house)
    or_stop(lambda: write_whole(out, data, FILE_OR_REPLACE, replace=replace_edited))
    say(f"wrote {out}")


def _refuse_unknown(library: Library, question: str, given: Sequence[str]) -> None:
    """Ends the run where something given is no choice of a question, with all the choices that there are."""
    asked = library.questionnaire.questions.get(question)
    choices = {choice.is_: choice.says for choice in asked.choices} if asked else {}
    for value in given:
        if value not in choices:
            wide = max(map(len, choices), default=0)
            told = f"{_CALLED[question]} '{value}' is none of these:" if value else f"name {_CALLED[question]}:"
            stop([told, *(f"  {name:{wide}}  {says}" for name, says in choices.items())], WRONG_USE)


def style_export(
    out: WordFile, library: LibraryFolder = None, layer: LayerFolders = None, replace_edited: ReplaceEdited = False
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
