"""The one writer: a file, a set, a layer's files or an issue, whole and on disk, or not at all.

Each run holds the folder it writes in, works under names of its own, and first puts back what a run that died left half
done. What somebody edited or put there is never replaced unasked.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import Final

from generator.errors import CannotWrite
from generator.files.limits import MOST_RECORD_BYTES
from generator.files.lock import locked
from generator.files.manifest import manifest
from generator.files.place import RECORD_FILE, blocked, refuse_file, refuse_folder
from generator.files.swap import STAGE, recover, replace_one, replace_together, unfinished

_FOLDER: Final = "name a folder with --out"
_ELSEWHERE: Final = "name another folder with --out"
_MEND: Final = "free space, close open papers or name another folder with --out"
_KEEP: Final = f"to keep it {_ELSEWHERE}, to replace it add --replace-edited"


@contextlib.contextmanager
def only_writer(folder: Path, to_do: str, no_folder: str = "") -> Iterator[None]:
    """Holds a folder, made if need be, against other runs while the block reads and writes there.

    What a run that died left half done is put back first. Raises `CannotWrite`, also for what the disk refuses in the
    block, with what `to_do`, and what where it is `no_folder`; folders that were made and stay empty go again.
    """
    made: list[Path] = []
    try:
        made = _begun(folder, no_folder or to_do)
        with locked(folder):
            recover(folder)
            yield
    except OSError as error:
        raise CannotWrite(f"{folder}: cannot be written ({_reason(error)}): {to_do}") from None
    finally:
        for place in made:
            with contextlib.suppress(OSError):
                place.rmdir()


def _begun(folder: Path, to_do: str) -> list[Path]:
    """Makes a folder, and returns those of its way that were not there, itself first."""
    try:
        refuse_folder(folder, to_do)
        made = [place for place in (folder, *folder.parents) if not place.exists()]
        folder.mkdir(parents=True, exist_ok=True)
    except (ValueError, RuntimeError) as error:  # a path that holds a zero byte, a ring of links
        raise CannotWrite(f"{folder}: cannot be written ({error}): {to_do}") from None
    return made


def _reason(error: OSError) -> str:
    """Why the disk refuses, with the file that it names where that is not of the run's own."""
    reason = error.strerror or str(error)
    name = Path(error.filename).name if isinstance(error.filename, str) else ""
    return f"{name}: {reason}" if name and error.filename2 and not name.startswith(STAGE) else reason


def write_whole(path: Path, data: bytes, to_do: str, *, replace: bool = False) -> None:
    """Writes a file in one step, its folder made if need be. Raises `CannotWrite`.

    One that is there already with other contents is replaced only if that is asked for.
    """
    with only_writer(path.parent, to_do):
        refuse_file(path, to_do)
        if path.exists():
            if path.read_bytes() == data:
                return
            if not replace:
                raise CannotWrite(f"{path}: is there already, and is not what would be written: {to_do}")
        replace_one(path, data)


def add_together(folder: Path, files: Mapping[str, bytes], to_do: str) -> None:
    """Adds files to a folder, made if need be, all or none; those that are there in the same words stay.

    Raises `CannotWrite`, also where one is there with other words.
    """
    with only_writer(folder, to_do):
        there = [name for name in files if os.path.lexists(folder / name)]
        for name in there:
            if blocked(folder / name) or (folder / name).read_bytes() != files[name]:
                raise CannotWrite(f"{folder / name}: is there already: edit it, or move it away")
        replace_together(folder, {name: data for name, data in files.items() if name not in there})


def refuse_large(name: str, data: bytes) -> None:
    """Raises `CannotWrite` for a record that is larger than any that is read."""
    if len(data) > MOST_RECORD_BYTES:
        what = f"would take {len(data):,} bytes, and no more than {MOST_RECORD_BYTES:,} are read"
        raise CannotWrite(f"{name}: {what}: part the job into several")


# --- sets -----------------------------------------------------------------------------------------------------


def write_set(
    folder: Path, files: Mapping[str, bytes], record: bytes, others: Collection[str] = (), *, replace: bool = False
) -> list[str]:
    """Replaces the set in a folder, made if need be, by another; the older papers that went with it, by name.

    All that belongs to the set that stood there is replaced or goes: what its record tells, and `others`, the names
    that papers of a set can have. Raises `CannotWrite`, with all as it was; so too where one was edited since or put
    there by somebody, unless `replace`.
    """
    refuse_large(f"{folder / RECORD_FILE}", record)
    everything = {**files, RECORD_FILE: record}
    with only_writer(folder, _MEND, _FOLDER):
        older = _there(folder, {*manifest(folder), *others}) - everything.keys()
        names = {*everything, *older}
        replace_together(folder, everything, sorted(older), lambda: _refuse(folder, names, manifest(folder), replace))
    return sorted(older)


def refuse_set(folder: Path, names: Collection[str], *, replace: bool = False) -> None:
    """Raises `CannotWrite` where a set, whose papers can have such names, cannot be written: to ask before it is."""
    try:
        refuse_folder(folder, _FOLDER)
        if folder.is_dir() and not unfinished(folder):
            written = manifest(folder)
            _refuse(folder, {*names, *written, RECORD_FILE}, written, replace)
    except OSError as error:
        raise CannotWrite(f"{folder}: cannot be written ({_reason(error)}): {_ELSEWHERE}") from None
    except (ValueError, RuntimeError) as error:  # as in `_begun`
        raise CannotWrite(f"{folder}: cannot be written ({error}): {_ELSEWHERE}") from None


def _there(folder: Path, names: Collection[str]) -> set[str]:
    return {name for name in names if os.path.lexists(folder / name)}


def _refuse(folder: Path, names: Collection[str], written: Mapping[str, str], replace: bool) -> None:
    """Raises `CannotWrite` with a line for each file that cannot be replaced, or was not written as it stands.

    `written` is what the record there vouches for.
    """
    lines = []
    for name in sorted(_there(folder, names)):
        path = folder / name
        if why := blocked(path):
            lines.append(f"{path}: {why}: nothing was written; {_MEND}")
        elif not replace and (why := _edited(path, written.get(name), bool(written))):
            lines.append(f"{path}: {why}: nothing was written; {_KEEP}")
    if lines:
        raise CannotWrite("\n".join(lines))


def _edited(path: Path, digest: str | None, recorded: bool) -> str:
    """Why a file is not one that was written as it stands; empty where it is."""
    if path.name == RECORD_FILE:
        return "" if recorded else "is not a record as it was written"
    if digest is None:
        return f"stands there, and no {RECORD_FILE} tells that it was written with a set"
    if hashlib.sha256(path.read_bytes()).hexdigest() != digest:
        return "was changed since it was written"
    return ""
