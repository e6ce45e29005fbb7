"""The command line: the only printing, the only exit codes.

0 for tender, 3 a draft, 1 the answers or the library cannot be read, or the papers not written, 2 wrong use.
"""

from __future__ import annotations

import gc
import os
import shlex
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator import __version__
from generator.commands import issues as cli_issues
from generator.commands import library as cli_library
from generator.commands import papers as cli_papers
from generator.commands import photographs as cli_photographs
from generator.commands import survey as cli_survey
from generator.commands import walls as cli_walls
from generator.commands.ending import ended
from generator.commands.progress import PROGRESS
from generator.commands.shared import (
    DRAFT,
    TENDER,
    WRONG_USE,
    AnswersFile,
    AsJson,
    HouseStyle,
    LastIssue,
    LayerFolders,
    LibraryFolder,
    issued_of,
    job_of,
    library_beside,
    or_stop,
    print_json,
    say,
    settled_job,
    stop,
    worded_library,
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
    from generator.asking.terminal.console import Console
    from generator.asking.terminal.session import Session

    ready = library_beside(answers, library, layer)
    more = f" --library {shlex.quote(str(library))}" if library else ""
    more += "".join(f" --layer {shlex.quote(str(folder))}" for folder in layer or ())
    session = or_stop(lambda: Session(answers, ready, Console(sys.stdin.buffer, sys.stdout), more))
    raise typer.Exit(TENDER if or_stop(session.run) else DRAFT)


@app.command()
def write(
    answers: AnswersFile,
    out: OutFolder,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    last: LastIssue = None,
    companions: cli_papers.With = "",
    pdf: cli_papers.AsPdf = False,
    house_style: HouseStyle = None,
    replace_edited: cli_papers.ReplaceEdited = False,
) -> None:
    """Write the specification, mix schedule, pricing schedule and record."""
    from generator.files.place import RECORD_FILE
    from generator.files.writing import refuse_set, write_set

    wanted = cli_papers.named(companions)
    house = cli_papers.look_of(house_style)
    names = cli_papers.names_of_sets()
    with PROGRESS.telling():
        job, raw = job_of(answers, library, layer, last)
        or_stop(lambda: refuse_set(out, names, replace=replace_edited))
        files, data = or_stop(lambda: cli_papers.set_of(job, answers.name, raw, wanted, pdf, house))
        gone = or_stop(lambda: write_set(out, files, data, names, replace=replace_edited))
    _tell(job, notes=False)
    cli_papers.tell_gone(out, gone)
    for name in [*files, RECORD_FILE]:
        say(f"wrote {out / name}")
    raise typer.Exit(_code(job))


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
        _tell(job)
        cli_issues.tell_since(job, changed, before)
    raise typer.Exit(_code(job))


@app.command()
def explain(
    answers: AnswersFile,
    about: About = "",
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    as_json: AsJson = False,
) -> None:
    """Tell why each thing is in the papers, or why it is not."""
    from generator.record import explain as explaining

    job, _ = job_of(answers, library, layer)
    found = explaining.explain(job, about)
    if found is None:
        hint = explaining.near(job, about)
        known = "an element, a mix, a line, a photograph, a clause, a figure or a task"
        stop([f"'{about}' is not {known} here: {hint}"], WRONG_USE)
    if as_json:
        print_json(found)
    else:
        say(explaining.as_text(found), end="")


@app.command()
def estimate(
    answers: AnswersFile,
    rates: Annotated[Path, typer.Option("--rates", help="Your own rates by line (YAML): a number, or low - high.")],
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """Reckon the specifier's own estimate from a file of rates; it stays out of the tender papers."""
    from generator.files.source import read_file
    from generator.job import estimate as estimating

    job, _ = job_of(answers, library, layer)
    found = or_stop(lambda: estimating.estimate(job, estimating.read_rates(read_file(rates, typed=False), job)))
    say(estimating.as_text(job, found), end="")


@app.command()
def rain(
    weather: Annotated[Path, typer.Argument(help="Hourly CSV: time, wind_m_per_s, from_deg, rain_mm.")],
    faces: Annotated[float, typer.Option(help="The bearing the wall faces, degrees from north.")],
    terrain: Annotated[str, typer.Option(help="I sea or open, II farmland, III suburb, IV town.")] = "II",
    height: Annotated[float, typer.Option(help="Height above ground, m.")] = 6.0,
    slope: Annotated[float, typer.Option(help="Slope of a hill to windward, rise over run.")] = 0.0,
    on_slope: Annotated[float, typer.Option(help="Place on the slope, 0 foot to 1 crest.")] = 0.0,
    shelter: Annotated[float, typer.Option(help="Distance to what stands before the wall, m.")] = 120.0,
    shape: Annotated[str, typer.Option(help="Shape of the wall, such as 'two-storey gable'.")] = "two-storey eaves",
    library: LibraryFolder = None,
) -> None:
    """Reckon the driving rain on a wall (EN ISO 15927-3), to help answer how exposed it is."""
    from generator.programme.weather import WallPlace, read_weather, told

    words = dict(worded_library(library).words)
    place = WallPlace(faces, terrain, height, slope, on_slope, shelter, shape)
    read = or_stop(lambda: read_weather(weather))
    try:
        lines = told(read, place, words)
    except ValueError as error:
        stop([str(error)], WRONG_USE)
    for line in lines:
        say(line)


@app.command()
def frost(
    weather: Annotated[Path, typer.Argument(help="CSV of daily least or hourly temperatures, with a heading.")],
    column: Annotated[str, typer.Option(help="The column of temperatures, if its name is not known.")] = "",
    unit: Annotated[str, typer.Option(help="c, f, or tenths of a degree C; known for known columns.")] = "",
    chance: Annotated[float, typer.Option(help="Chance of frost on the wrong side of the two days, per cent.")] = 10.0,
    colder: Annotated[float, typer.Option(help="How much colder the place is than the station, degrees C.")] = 0.0,
    half: Annotated[str, typer.Option(help="north or south: the half of the world.")] = "north",
    library: LibraryFolder = None,
) -> None:
    """Reckon the days of the first and last frost, to answer early_frost and late_frost."""
    from generator.programme.frost_record import chosen, read_minima, told

    words = dict(worded_library(library).words)
    try:
        taken, world = chosen(unit, half)
        read = or_stop(lambda: read_minima(weather, column, taken))
        lines = told(read, words, chance, colder, world)
    except ValueError as error:
        stop([str(error)], WRONG_USE)
    for line in lines:
        say(line)


def _version(wanted: bool) -> None:
    if wanted:
        say(f"gaugebox {__version__}")
        raise typer.Exit


Version = Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")]


@app.callback()
def main(version: Version = False) -> None:
    """Writes tender papers for lime work on old buildings from answers about each wall."""
    # a run is short and leaves few cycles: looking for them often costs a tenth of its time
    gc.set_threshold(50_000)
    # a terminal of few letters gets \u2026 and the like in place of a traceback
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def run() -> None:
    """Runs the command line to its end, whatever happens in it."""
    # shapes are checked by what the program brings alone, and no other package is searched for more
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    sys.exit(ended(app))


# in the order of a job, as `--help` lists them
cli_survey.register(app)
cli_walls.register(app)
cli_photographs.register(app)
cli_issues.register(app)
cli_library.register(app)
cli_papers.register(app)


# --- shared -----------------------------------------------------------------------------------------------


def _tell(job: Job, *, notes: bool = True) -> None:
    from generator.record.explain import findings_text

    say(findings_text(job, notes=notes), end="")


def _code(job: Job) -> int:
    return DRAFT if job.status == "draft" else TENDER
