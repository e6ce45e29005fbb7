"""The commands that look into the clause library: list, show and check of `clauses`, and `schema`."""

from __future__ import annotations

import re
from typing import Annotated

import typer

from generator.commands import clauses as cli_clauses
from generator.commands.clauses import ClauseId
from generator.commands.options import LayerFolders, LibraryFolder
from generator.commands.shared import UNREADABLE, WRONG_USE, library_of, print_json, ready_library, say, stop

Kind = Annotated[str, typer.Argument(help="answers, or a kind of library file: clauses, recipes, …")]


def register(app: typer.Typer) -> None:
    """Adds the group `clauses`, with the commands of a practice's own library, and `schema`."""
    help_ = "Look into the clause library, and check it."
    clauses = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help=help_)
    for name, command in (("list", list_), ("show", show), ("check", check)):
        clauses.command(name)(command)
    cli_clauses.register(clauses)
    app.add_typer(clauses, name="clauses")
    app.command("schema")(schema)


def list_(library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """List every clause by part."""
    read = library_of(library, layer)
    for part in read.parts:
        say(f"{part.title}  [part {part.id}]")
        for key, clause in read.clauses.items():
            if read.part_of[key] == part.id:
                say(f"  {key}  {clause.title}  [per {clause.per}{'; keep' if clause.keep else ''}]")


def show(
    clause: ClauseId,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """Show one clause as it is written."""
    from generator.files.errors import did_you_mean
    from generator.library.entries import CLAUSE_FIELDS
    from generator.library.layers.writing import field_lines

    read = library_of(library, layer)
    found = read.clauses.get(clause)
    if found is None:
        hint = f"{did_you_mean(clause, read.clauses)} ('clauses list' lists them)"
        stop([f"'{clause}' is not a clause: {hint}"], WRONG_USE)
    say(f"{found.id} ({read.marks['clause', clause]})")
    for name, value in ((name, getattr(found, name)) for name in CLAUSE_FIELDS):
        if isinstance(value, dict):
            say("\n".join(field_lines(name, value)))
        elif name not in ("id", "figures") and value not in ("", (), False):
            say(f"{name}: {', '.join(value) if isinstance(value, tuple) else str(value).rstrip()}")
    for name in dict.fromkeys(re.findall(r"\{\{\s*(\w+)", f"{found.text} {found.check} {found.because}")):
        figure = read.figure(name, clause)
        if figure is not None:
            say(f"figure {name}: {figure.spelt()} ({', '.join(figure.sources)})")


def check(library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Read the whole library and tell every mistake in it."""
    from generator.library.lint import problems

    read = ready_library(library, layer)
    found = sorted(problems(read))
    if found:
        stop([str(problem) for problem in found], UNREADABLE)
    counts = {
        "clauses": len(read.clauses),
        "questions": len(read.questionnaire.questions),
        "recipes": len(read.recipes),
        "tables": len(read.tables),
        "findings": len(read.findings),
        "items": len(read.items),
        "papers": len(read.templates),
    }
    say(f"{', '.join(f'{count} {name}' for name, count in counts.items())}: no mistakes")
    raise typer.Exit(cli_clauses.tell_raised(read))


def schema(kind: Kind = "answers", library: LibraryFolder = None) -> None:
    """Print the JSON Schema of answers or library files, for editors."""
    from generator.files.errors import did_you_mean
    from generator.library.schema import KINDS
    from generator.library.schema import schema as schema_of

    if kind not in KINDS:
        stop([f"there is no schema of '{kind}': {did_you_mean(kind, KINDS)}"], WRONG_USE)
    print_json(schema_of(kind, library_of(library)))
