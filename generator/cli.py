"""The command line: the only printing, the only exit codes.

0 for tender, 3 a draft, 1 the answers or the library cannot be read, 2 wrong use.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from generator import __version__

if TYPE_CHECKING:
    from generator.document.job import Job
    from generator.errors import GaugeboxError
    from generator.pipeline import Words
    from generator.source import Source

app = typer.Typer(
    name="gaugebox", no_args_is_help=True, add_completion=False, pretty_exceptions_enable=False, rich_markup_mode=None,
    help="Writes tender papers for lime work on old buildings from answers about each wall.",
)  # fmt: skip
clauses_app = typer.Typer(no_args_is_help=True, help="Look into the clause library, and check it.", rich_markup_mode=None)
app.add_typer(clauses_app, name="clauses")

AnswersFile = Annotated[Path, typer.Argument(metavar="ANSWERS", help="The answers file (YAML).")]
LibraryFolder = Annotated[Path | None, typer.Option("--library", help="A clause library in place of the shipped one.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print as JSON.")]

TENDER, UNREADABLE, DRAFT = 0, 1, 3


@app.command()
def write(
    answers: AnswersFile,
    out: Annotated[Path, typer.Option("--out", help="The folder that the papers are written in.")],
    library: LibraryFolder = None,
) -> None:
    """Write the specification, mix schedule, pricing schedule and record."""
    from generator import pipeline, record
    from generator.output import write_set

    job, source_raw = _job(answers, library)
    files = _or_stop(lambda: pipeline.papers(job))
    data = record.record(job, answers.name, source_raw, files)
    _or_stop(lambda: write_set(out, files, record.dumped(data)))
    _tell(job)
    for name in [*files, "record.json"]:
        print(f"wrote {out / name}")
    raise typer.Exit(_code(job))


@app.command()
def check(answers: AnswersFile, library: LibraryFolder = None, as_json: AsJson = False) -> None:
    """Read the answers, decide, and tell every finding; nothing is written."""
    from generator.record import findings_data

    job, _ = _job(answers, library)
    if as_json:
        _print_json({"status": job.status, "findings": findings_data(job)})
    else:
        _tell(job)
    raise typer.Exit(_code(job))


@app.command()
def explain(
    answers: AnswersFile,
    about: Annotated[str, typer.Argument(metavar="[ELEMENT|MIX|CLAUSE]", help="An element's id, a mix, or a clause's id.")] = "",
    library: LibraryFolder = None,
    as_json: AsJson = False,
) -> None:
    """Tell why each thing is in the papers, or why it is not."""
    from generator import explain as explaining

    job, _ = _job(answers, library)
    found = explaining.explain(job, about)
    if found is None:
        _stop_with([f"'{about}' is not an element, mix or clause here: {explaining.near(job, about)}"], 2)
    _print_json(found) if as_json else print(explaining.as_text(found), end="")


@app.command()
def schema(
    kind: Annotated[str, typer.Argument(help="answers, or a kind of library file: clauses, recipes, …")] = "answers",
    library: LibraryFolder = None,
) -> None:
    """Print the JSON Schema of answers or library files, for editors."""
    from generator.library import schema as schemas

    known = schemas.KINDS
    if kind not in known:
        _stop_with([f"'{kind}' has no schema: use one of {', '.join(known)}"], 2)
    _print_json(schemas.schema(kind, _words(library).library))


@clauses_app.command("list")
def clauses_list(library: LibraryFolder = None) -> None:
    """List every clause by part."""
    words = _words(library).library
    for part in words.parts:
        print(part.title)
        for key, clause in words.clauses.items():
            if words.part_of[key] == part.id:
                print(f"  {key}  {clause.title}  [per {clause.per}{'; keep' if clause.keep else ''}]")


@clauses_app.command("show")
def clauses_show(clause: Annotated[str, typer.Argument(metavar="CLAUSE")], library: LibraryFolder = None) -> None:
    """Show one clause as it is written."""
    from generator.errors import did_you_mean

    words = _words(library).library
    found = words.clauses.get(clause)
    if found is None:
        _stop_with([f"'{clause}' is not a clause: {did_you_mean(clause, words.clauses)}"], 2)
    print(f"{found.id} ({words.marks['clause', clause]})")
    for name, value in found.model_dump().items():
        if name != "id" and value not in ("", (), False):
            print(f"{name}: {', '.join(value) if isinstance(value, tuple) else str(value).rstrip()}")


@clauses_app.command("check")
def clauses_check(library: LibraryFolder = None) -> None:
    """Read the whole library and tell every mistake in it."""
    from generator.document.lint import problems

    words = _words(library)
    found = sorted(problems(words.library, words.texts))
    if found:
        _stop_with([str(problem) for problem in found], UNREADABLE)
    entries = words.library
    print(
        f"{len(entries.clauses)} clauses, {len(entries.questionnaire.questions)} questions, {len(entries.recipes)} recipes, "
        f"{len(entries.tables)} tables, {len(entries.findings)} findings, {len(entries.items)} items: no mistakes"
    )


def _version(wanted: bool) -> None:
    if wanted:
        print(f"gaugebox {__version__}")
        raise typer.Exit


@app.callback()
def main(version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")] = False) -> None:
    """Writes tender papers for lime work on old buildings from answers about each wall."""


# --- shared -----------------------------------------------------------------------------------------------


def _job(answers: Path, library: Path | None) -> tuple[Job, bytes]:
    """The job of an answers file, and the file's bytes; stops the run with every mistake if it cannot be read."""
    from generator import pipeline
    from generator.source import read_file

    words = _words(library)
    source: Source = read_file(answers, typed=False)
    facts = _or_stop(lambda: pipeline.read(source, words))
    return pipeline.settled(facts, words), source.raw


def _words(library: Path | None) -> Words:
    from generator import pipeline
    from generator.library.locate import shipped

    return _or_stop(lambda: pipeline.read_library(library or shipped("clauses", "library.yaml")))


def _or_stop(step: Any) -> Any:
    """What a step returns; a mistake of the user's ends the run with its words."""
    from generator.errors import GaugeboxError

    try:
        return step()
    except GaugeboxError as error:
        _stop_with(_lines(error), UNREADABLE)


def _lines(error: GaugeboxError) -> list[str]:
    return str(error).splitlines() or [type(error).__name__]


def _stop_with(lines: list[str], code: int) -> NoReturn:
    for line in lines:
        print(line, file=sys.stderr)
    raise typer.Exit(code)


def _tell(job: Job) -> None:
    from generator.explain import findings_text

    print(findings_text(job), end="")


def _code(job: Job) -> int:
    return DRAFT if job.status == "draft" else TENDER


def _print_json(data: Any) -> None:
    print(json.dumps(data, indent=1, sort_keys=True, ensure_ascii=False))
