"""The commands of a practice's own library: new, adopt, drop, where-used, search, review, export, import."""

from __future__ import annotations

import difflib
import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator.commands.options import LayerFolders, LibraryFolder
from generator.commands.shared import DRAFT, library_of, or_stop, ready_library, say

if TYPE_CHECKING:
    from generator.library.entries import Clause
    from generator.library.layers.client_words import ClientWords
    from generator.library.model import Library, Origin

ClauseId = Annotated[str, typer.Argument(metavar="CLAUSE", help="The clause's id.")]
InFolder = Annotated[Path, typer.Option("--in", help="The folder of the practice's clauses; made if it is not there.")]
Beneath = Annotated[list[Path] | None, typer.Option("--layer", help="A layer that lies beneath this one; repeatable.")]


def register(app: typer.Typer) -> None:
    """Adds the commands to the group `clauses`."""
    for name, command in (
        ("new", new), ("adopt", adopt), ("drop", drop), ("where-used", where_used), ("search", search),
        ("review", review), ("export", export), ("import", import_),
    ):  # fmt: skip
        app.command(name)(command)


def new(
    clause: ClauseId,
    into: InFolder,
    part: Annotated[str, typer.Option("--part", help="The part it stands in, by its id.")],
    title: Annotated[str, typer.Option("--title", help="Its title.")] = "",
    after: Annotated[str, typer.Option("--after", help="The clause it stands behind.")] = "",
    layer: Beneath = None,
    library: LibraryFolder = None,
) -> None:
    """Start a clause of your own in a file of its own."""
    from generator.library.layers.authoring import NewClause, new_clause

    read = _with(into, layer, library)
    path = or_stop(lambda: new_clause(into, NewClause(clause, part, title, after), read))
    say(f"wrote {path}: give it its words, then '{_check([*(layer or ()), into])}'")


def adopt(clause: ClauseId, into: InFolder, layer: Beneath = None, library: LibraryFolder = None) -> None:
    """Take a clause into your own layer, to change its words."""
    from generator.library.layers.authoring import adopt_clause

    read = _with(into, layer, library)
    path = or_stop(lambda: adopt_clause(into, clause, read))
    say(f"wrote {path}: change its words; the hash in it tells when the clause beneath changes")


def drop(
    clause: ClauseId,
    into: InFolder,
    because: Annotated[str, typer.Option("--because", help="Why your papers do without it.")],
    layer: Beneath = None,
    library: LibraryFolder = None,
) -> None:
    """Leave a clause out of all papers written with your layer."""
    from generator.library.layers.authoring import drop_clause

    read = _with(into, layer, library)
    path = or_stop(lambda: drop_clause(into, clause, because, read))
    say(f"wrote {path}")
    if read.clauses[clause].keep:
        say("it protects people or fabric: papers written without it are drafts")


def _with(into: Path, beneath: Sequence[Path] | None, library: Path | None) -> Library:
    """The library with the layers beneath a layer, and that layer if it is begun."""
    from generator.library.layers.files import LAYER_MARKER

    begun = [into] if (into / LAYER_MARKER).is_file() else []
    return library_of(library, [*(beneath or ()), *begun])


def _check(layers: Sequence[Path]) -> str:
    """The command that checks some layers."""
    return " ".join(["gaugebox clauses check", *(f"--layer {shlex.quote(str(folder))}" for folder in layers)])


def where_used(clause: ClauseId, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Tell which clauses, lines to price and steps name a clause."""
    from generator.library.layers import authoring

    read = library_of(library, layer)
    found = or_stop(lambda: authoring.where_used(clause, read))
    for use in found:
        say(f"{use.kind} {use.key} ({use.mark})")
    if not found:
        say("nothing names it; it stands in its part wherever its condition holds")


def search(
    words: Annotated[list[str], typer.Argument(help="Words that its id, title or text must hold, all of them.")],
    library: LibraryFolder = None,
    layer: LayerFolders = None,
) -> None:
    """List the clauses that hold every word."""
    from generator.library.layers import authoring

    read = library_of(library, layer)
    found = authoring.search(words, read)
    for key in found:
        say(f"{key}  {read.clauses[key].title}  [{read.origin(key).layer}]")
    if not found:
        say("no clause holds all of these words")


def tell_raised(library: Library) -> int:
    """Prints what layers raise, and returns the exit code that it makes."""
    from generator import pipeline

    found = pipeline.layer_findings(library)
    for item in found:
        say(f"{item.level} [{item.code}]: {item.message} {item.action} ({', '.join(map(str, item.marks))})")
    return DRAFT if any(item.level == "block" for item in found) else 0


# --- review ---------------------------------------------------------------------------------------------------


def review(
    layer: LayerFolders = None,
    seen: Annotated[
        list[str] | None, typer.Option("--seen", help="A clause that was read beside its base; repeatable.")
    ] = None,
    by: Annotated[str, typer.Option("--by", help="Who read it.")] = "",
    on: Annotated[str, typer.Option("--on", metavar="YYYY-MM-DD", help="The day it was read.")] = "",
    library: LibraryFolder = None,
) -> None:
    """Show replaced clauses whose base has changed, both texts side by side; --seen records that one was read."""
    from generator.library.layers import authoring

    read = ready_library(library, layer)
    if seen:
        for path in or_stop(lambda: authoring.record_review(seen, authoring.Reader(by, on), read)):
            say(f"recorded in {path}")
        read = ready_library(library, layer)
    replaced = list(authoring.replacements(read))
    changed = [(key, origin) for key, origin in replaced if origin.stale]
    for key, origin in changed:
        _show(key, origin, read)
    for key, origin in replaced:
        if origin.read and not origin.stale:
            say(f"{key}: changed beneath, and read by {origin.read}")
    if not changed:
        say("no clause that you replaced has changed beneath since it was written or read")
    raise typer.Exit(DRAFT if changed else 0)


def _show(key: str, origin: Origin, read: Library) -> None:
    assert origin.base is not None
    say(f"{key}: replaced by '{origin.layer}'; the clause beneath is not the one it was written on ({origin.based_on})")
    width = 56
    say(f"  {'the clause beneath, now':<{width}} | yours")
    for theirs, ours in zip(*_aligned(_lines(origin.base, width), _lines(read.clauses[key], width)), strict=True):
        say(f"  {theirs:<{width}} {'|' if theirs == ours else '*'} {ours}".rstrip())
    say()


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


# --- handing on -----------------------------------------------------------------------------------------------


def export(
    layer: Annotated[Path, typer.Argument(metavar="LAYER", help="The folder of the layer.")],
    out: Annotated[Path, typer.Option("--out", help="The file to write (YAML).")],
    against: Annotated[
        list[Path] | None, typer.Option("--against", help="Answers whose words must not be in it; repeatable.")
    ] = None,
    allow: Annotated[
        list[str] | None, typer.Option("--allow", help="Words of the answers that it may hold; repeatable.")
    ] = None,
    library: LibraryFolder = None,
) -> None:
    """Bundle a layer's clauses, drops and questions in one file, to hand on."""
    from generator.library.layers.bundle import export as export_layer

    client = _client_words(against, allow or (), library) if against else None
    done = or_stop(lambda: export_layer(layer, out, client))
    say(f"wrote {out}: {done.count} entries")
    for name in done.left:
        say(f"{name}{'' if '.' in name else '/'} of the layer is not in it")
    if client is None:
        say("not held against any answers (--against): read it for names of people and places before you hand it on")


def _client_words(against: Sequence[Path], allow: Sequence[str], library: Path | None) -> ClientWords:
    from generator.files.source import read_file, require
    from generator.library.layers.client_words import client_words

    read = [or_stop(lambda file=file: require(read_file(file, typed=False))).data for file in against]  # type: ignore[misc]
    return client_words(read, library_of(library), allow)


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A file that 'clauses export' wrote.")],
    into: InFolder,
    layer: Beneath = None,
    library: LibraryFolder = None,
) -> None:
    """Take the clauses of a bundle into a layer, a file each; nothing that is there is changed."""
    from generator.library.layers.bundle import bring_in, read_bundle

    pieces = or_stop(lambda: read_bundle(file))
    written = or_stop(lambda: bring_in(pieces, into, lambda trial: ready_library(library, [*(layer or ()), trial])))
    for path in written:
        say(f"wrote {path}")
    if len(written) < len(pieces):
        say(f"{len(pieces) - len(written)} there already in the same words")
    if written:
        say(f"read them, then '{_check([*(layer or ()), into])}'")
