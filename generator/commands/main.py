"""The command line: the only printing, the only exit codes.

0 for tender, 3 a draft, 1 the answers or the library cannot be read, or the papers not written, 2 wrong use.
"""

from __future__ import annotations

import gc
import shlex
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator import __version__
from generator.commands import begin as cli_begin
from generator.commands import issues as cli_issues
from generator.commands import library as cli_library
from generator.commands import papers as cli_papers
from generator.commands import photographs as cli_photographs
from generator.commands import survey as cli_survey
from generator.commands import walls as cli_walls
from generator.commands import weather as cli_weather
from generator.commands.options import (
    AnswersFile,
    AsJson,
    AsPdf,
    HouseStyle,
    LastIssue,
    LayerFolders,
    LibraryFolder,
    ReplaceEdited,
    With,
)
from generator.commands.progress import PROGRESS
from generator.commands.sets import code_of, tell, write_papers
from generator.commands.shared import (
    DRAFT,
    TENDER,
    WRONG_USE,
    issued_of,
    job_of,
    library_beside,
    options_again,
    or_stop,
    print_json,
    say,
    say_wrapped,
    settled_job,
    stop,
)

if TYPE_CHECKING:
    from generator.job.job import Job

# Without rich: help in plain text, and half the time to start.
app = typer.Typer(
    name="gaugebox",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Writes tender papers for lime work on old buildings from answers about each wall.",
)

OutFolder = Annotated[Path, typer.Option("--out", help="The folder that the papers are written in.")]
_ABOUT = "An element, a mix, a line's number, a photograph, a clause or its number, a figure, programme, or a task."
About = Annotated[str, typer.Argument(metavar="[ELEMENT|MIX|LINE|PHOTOGRAPH|CLAUSE|FIGURE]", help=_ABOUT)]


@app.command()
def ask(answers: AnswersFile, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Ask the questions at the terminal; each answer is saved as it is given."""
    gc.enable()  # a sitting is long
    from generator.asking.terminal.console import Console
    from generator.asking.terminal.session import Session

    ready = library_beside(answers, library, layer)
    console, more = Console(sys.stdin.buffer, sys.stdout), options_again(library, layer)
    session = or_stop(lambda: Session(answers, ready, console, more))
    raise typer.Exit(TENDER if or_stop(session.run) else DRAFT)


@app.command()
def write(
    answers: AnswersFile,
    out: OutFolder,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    last: LastIssue = None,
    companions: With = None,
    pdf: AsPdf = False,
    house_style: HouseStyle = None,
    replace_edited: ReplaceEdited = False,
) -> None:
    """Write the specification, mix schedule, pricing schedule and record."""
    code = write_papers(
        answers,
        out,
        library=library,
        layers=layer,
        last=last,
        companions=",".join(companions or ()),
        pdf=pdf,
        house_style=house_style,
        replace_edited=replace_edited,
    )
    raise typer.Exit(code)


@app.command()
def check(
    answers: AnswersFile,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    last: LastIssue = None,
    as_json: AsJson = False,
) -> None:
    """Read the answers, decide, and tell every finding; nothing is written."""
    from generator.document.files import COMPANIONS
    from generator.pipeline import assembled
    from generator.record.record import findings_data

    before = issued_of(last) if last else None
    with PROGRESS.telling():
        job, raw = settled_job(answers, library, layer, before)
        or_stop(lambda: assembled(job, list(COMPANIONS)))
    changed = cli_issues.since(job, answers, raw, before) if before else []
    if as_json:
        since = {"clauses_changed": [change.key for change in changed]} if last else {}
        print_json({"status": job.status, "findings": findings_data(job), **since})
    else:
        tell(job)
        cli_issues.tell_since(job, changed, before)
    raise typer.Exit(code_of(job))


@app.command()
def explain(
    answers: Annotated[Path, typer.Argument(metavar="ANSWERS", help="The answers file, or the folder of an issue.")],
    about: About = "",
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    as_yaml: Annotated[bool, typer.Option("--yaml", help="Print all that lies behind it as YAML.")] = False,
    as_json: AsJson = False,
) -> None:
    """Tell in sentences why each thing is in the papers, or why it is not."""
    from generator.files.spelling import yaml_text
    from generator.record import explain as explaining
    from generator.record.sentences.telling import sentences

    job = _job_asked(answers, library, layer)
    found = explaining.explain(job, about)
    if found is None:
        hint = explaining.near(job, about)
        known = "an element, a mix, a line, a photograph, a clause, a figure or a task"
        stop([f"'{about}' is not {known} here: {hint}"], WRONG_USE)
    if as_json:
        print_json(found)
    elif as_yaml:
        say(yaml_text(found), end="")
    else:
        say_wrapped(sentences(job, found))


@app.command()
def estimate(
    answers: AnswersFile,
    rates: Annotated[
        Path | None, typer.Option("--rates", help="Your own rates by line (YAML): a number, or low - high.")
    ] = None,
    starter: Annotated[
        Path | None, typer.Option("--starter", help="Write a file of blank rates for the lines of this job, to fill.")
    ] = None,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """Reckon the specifier's own estimate from a file of rates; it stays out of the tender papers."""
    from generator.files.source import read_file
    from generator.files.writing import write_whole
    from generator.record import estimate as estimating
    from generator.record.rates_file import rates_file

    job, _ = job_of(answers, library, layer)
    if starter is not None:
        names = {"answers": shlex.quote(str(answers)), "rates": shlex.quote(str(starter))}
        data = rates_file(job, **names).encode()
        or_stop(lambda: write_whole(starter, data, "name another file with --starter"))
        say(job.word("rates-written", file=str(starter), **names))
    if rates is not None:
        found = or_stop(lambda: estimating.estimate(job, estimating.read_rates(read_file(rates, typed=False), job)))
        say(estimating.as_text(job, found), end="")
    elif starter is None:
        stop([job.word("rates-none-named")], WRONG_USE)


def _version(wanted: bool) -> None:
    if wanted:
        say(f"gaugebox {__version__}")
        raise typer.Exit


Version = Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")]


@app.callback()
def main(version: Version = False) -> None:
    """Writes tender papers for lime work on old buildings from answers about each wall."""


# in the order of a job, as `--help` lists them
cli_begin.register(app)
cli_survey.register(app)
cli_walls.register(app)
cli_photographs.register(app)
cli_weather.register(app)
cli_issues.register(app)
cli_library.register(app)
cli_papers.register(app)


# --- shared -----------------------------------------------------------------------------------------------


def _job_asked(answers: Path, library: Path | None, layer: list[Path] | None) -> Job:
    """The job of an answers file, or of an issue by its folder, as it was issued."""
    from generator.files.place import ISSUE_FILE

    if not (answers / ISSUE_FILE).is_file():
        return job_of(answers, library, layer)[0]
    from generator.commands.issuing import job_of_issue

    return or_stop(lambda: job_of_issue(issued_of(answers)))[0]
