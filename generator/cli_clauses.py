"""The commands of a practice's own library: new, adopt, drop, where-used, search, review."""

from __future__ import annotations

import difflib
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator.cli_shared import DRAFT, LayerFolders, LibraryFolder, library_of, or_stop, words_of

if TYPE_CHECKING:
    from generator.library.model import Clause, Library, Origin

ClauseId = Annotated[str, typer.Argument(metavar="CLAUSE", help="The clause's id.")]
InFolder = Annotated[Path, typer.Option("--in", help="The folder of the practice's clauses; made if it is not there.")]


def register(app: typer.Typer) -> None:
    """Adds the commands to the group `clauses`."""
    for name, command in (
        ("new", new), ("adopt", adopt), ("drop", drop), ("where-used", where_used), ("search", search),
        ("review", review),
    ):  # fmt: skip
        app.command(name)(command)


def new(
    clause: ClauseId,
    into: InFolder,
    part: Annotated[str, typer.Option("--part", help="The part it stands in, by its id.")],
    title: Annotated[str, typer.Option("--title", help="Its title.")] = "A clause of our own",
    after: Annotated[str, typer.Option("--after", help="The clause it stands behind.")] = "",
    library: LibraryFolder = None,
) -> None:
    """Start a clause of your own in a file of its own."""
    from generator.library.authoring import NewClause, new_clause

    read = library_of(library, _there(into))
    path = or_stop(lambda: new_clause(into, NewClause(clause, part, title, after), read))
    print(f"wrote {path}: give it its words, then 'gaugebox clauses check --layer {into}'")


def adopt(clause: ClauseId, into: InFolder, library: LibraryFolder = None) -> None:
    """Take a clause into your own layer, to change its words."""
    from generator.library.authoring import adopt_clause

    read = library_of(library, _there(into))
    path = or_stop(lambda: adopt_clause(into, clause, read))
    print(f"wrote {path}: change its words; the hash in it tells when the clause beneath changes")


def drop(
    clause: ClauseId,
    into: InFolder,
    because: Annotated[str, typer.Option("--because", help="Why your papers do without it.")],
    library: LibraryFolder = None,
) -> None:
    """Leave a clause out of all papers written with your layer."""
    from generator.library.authoring import drop_clause

    read = library_of(library, _there(into))
    path = or_stop(lambda: drop_clause(into, clause, because, read))
    print(f"wrote {path}")
    if read.clauses[clause].keep:
        print("it protects people or fabric: papers written without it are drafts")


def where_used(clause: ClauseId, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Tell which clauses, lines to price and steps name a clause."""
    from generator.library import authoring

    read = library_of(library, layer)
    found = or_stop(lambda: authoring.where_used(clause, read))
    for use in found:
        print(f"{use.kind} {use.key} ({use.mark})")
    if not found:
        print("nothing names it; it stands in its part wherever its condition holds")


def search(
    words: Annotated[list[str], typer.Argument(help="Words that its id, title or text must hold, all of them.")],
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """List the clauses that hold every word."""
    from generator.library import authoring

    read = library_of(library, layer)
    found = authoring.search(words, read)
    for key in found:
        print(f"{key}  {read.clauses[key].title}  [{read.origin(key).layer}]")
    if not found:
        print("no clause holds all of these words")


def review(
    layer: LayerFolders = None,
    seen: Annotated[
        list[str] | None, typer.Option("--seen", help="A clause that you have read beside its base.")
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Show replaced clauses whose base has changed, both texts side by side; --seen records that you read one."""
    from generator.library import authoring

    read = words_of(library, layer).library
    for clause in seen or ():
        path = or_stop(lambda clause=clause: authoring.seen(clause, read))  # type: ignore[misc]
        print(f"{clause}: read; recorded in {path}")
    changed = [(key, origin) for key, origin in authoring.review(read) if origin.stale and key not in (seen or ())]
    for key, origin in changed:
        _show(key, origin, read)
    if not changed and not seen:
        print("no clause that you replaced has changed beneath")
    raise typer.Exit(DRAFT if changed else 0)


def _show(key: str, origin: Origin, read: Library) -> None:
    assert origin.base is not None
    print(
        f"{key}: replaced by '{origin.layer}'; the clause beneath is not the one it was written on ({origin.based_on})"
    )
    width = 56
    print(f"  {'the clause beneath, now':<{width}} | yours")
    for theirs, ours in zip(*_aligned(_lines(origin.base, width), _lines(read.clauses[key], width)), strict=True):
        print(f"  {theirs:<{width}} | {ours}".rstrip())
    print()


def _lines(clause: Clause, width: int) -> list[str]:
    import textwrap

    found: list[str] = []
    for name in ("title", "per", "when", "text", "check", "because"):
        value = str(getattr(clause, name))
        for number, line in enumerate(value.strip().splitlines()):
            found += textwrap.wrap(f"{name}: {line}" if number == 0 else line, width) or [""]
    return found


def _aligned(left: list[str], right: list[str]) -> tuple[list[str], list[str]]:
    """Two texts with equal lines beside each other."""
    one: list[str] = []
    two: list[str] = []
    for _, a, b, c, d in difflib.SequenceMatcher(None, left, right, autojunk=False).get_opcodes():
        height = max(b - a, d - c)
        one += left[a:b] + [""] * (height - (b - a))
        two += right[c:d] + [""] * (height - (d - c))
    return one, two


def _there(folder: Path) -> list[Path]:
    """The layer, if it is begun."""
    from generator.library.layers import LAYER_MARKER

    return [folder] if (folder / LAYER_MARKER).is_file() else []
