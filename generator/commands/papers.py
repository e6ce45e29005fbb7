"""The commands for papers as files: `papers check`, and what `write` adds to a set."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from generator.commands.progress import PROGRESS
from generator.commands.shared import (
    UNREADABLE,
    WRONG_USE,
    LayerFolders,
    LibraryFolder,
    file_of,
    or_stop,
    say,
    stop,
    worded_library,
)

if TYPE_CHECKING:
    from generator.job.job import Job
    from generator.papers.agreement.printed import Printed
    from generator.render.word.look import Look

SPECIFICATION: Final = "specification.docx"
PAPERS: Final = (SPECIFICATION, "mix-schedule.docx", "pricing-schedule.xlsx")
Paper = Annotated[Path, typer.Argument(metavar="FILE", help="A Word file, ours or one that was edited.")]
FILE_OR_REPLACE: Final = "name another file, or add --replace-edited"
With = Annotated[
    str, typer.Option("--with", metavar="NAMES", help="Companion papers too: survey,officer,records,owner,letter.")
]

ReplaceEdited = Annotated[
    bool, typer.Option("--replace-edited", help="Replace papers too that somebody edited since they were written.")
]
StyleFile = Annotated[Path, typer.Option("--out", help="The Word file to write.")]
AsPdf = Annotated[bool, typer.Option("--pdf", help="The Word papers as tagged PDF too; needs LibreOffice.")]


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
    from generator.files.writing import manifest
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


def names_of_sets() -> list[str]:
    """Every name that a paper of a set can have, companions and PDF files among them."""
    from generator.document.files import COMPANIONS, pdf_names

    names = [*PAPERS, *COMPANIONS.values()]
    return [*names, *pdf_names(names)]


def tell_gone(out: Path, gone: Sequence[str]) -> None:
    """Prints which papers of an older set were taken away."""
    for name in gone:
        say(f"took away {out / name}, of the older set")


def look_of(house: Path | None) -> Look | None:
    """The look of a practice's file; ends the run where it cannot be used."""
    if house is None:
        return None
    from generator.render.house.style import house_style

    data = file_of(house)
    return or_stop(lambda: house_style(data, str(house)))


def named(companions: str) -> list[str]:
    """The companion papers named, parted by commas; ends the run for one that there is not."""
    from generator.document.files import COMPANIONS
    from generator.errors import did_you_mean

    found = [name.strip() for name in companions.split(",") if name.strip()]
    for name in found:
        if name not in COMPANIONS:
            stop([f"there is no companion paper '{name}': {did_you_mean(name, COMPANIONS)}"], WRONG_USE)
    return found


def set_of(
    job: Job, answers: str, raw: bytes, wanted: Sequence[str] = (), pdf: bool = False, house: Look | None = None
) -> tuple[dict[str, bytes], bytes]:
    """The papers of a set by name, and its record, all of which agree; raises where they cannot be made."""
    from generator import pipeline
    from generator.papers.agreement.agree import agreed_record
    from generator.record import record

    PROGRESS.at("Putting the papers together and holding them against one another")
    made = pipeline.assembled(job, wanted)
    files = printed(made, pdf, house)
    made = made.without_papers()  # they are written, and the record of a large job takes their room
    PROGRESS.at("Making record.json")
    told = record.record(job, answers, raw, files)
    agreed_record(made, told)
    return files, record.dumped(told)


def printed(made: Printed, wanted: bool, house: Look | None = None) -> dict[str, bytes]:
    """The papers; if wanted with page numbers in the contents of the specification, and the PDF files after them."""
    from generator.pipeline import rendered

    files = rendered(made, house, lambda name: PROGRESS.at(f"Making {name}"))
    if not wanted:
        return files
    from generator.document.files import pdf_name
    from generator.render.pdf.making import pdfs, with_pages

    PROGRESS.at("Making PDF files with LibreOffice")
    word, first = with_pages(made.documents["specification"], house)
    others = {name: data for name, data in files.items() if name.endswith(".docx") and name != SPECIFICATION}
    return {**files, SPECIFICATION: word, pdf_name(SPECIFICATION): first, **pdfs(others)}
