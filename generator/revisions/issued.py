"""Issued sets: frozen folders with the digest of every file, written once, read back and checked against them."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Any, Final

from generator.errors import CannotWrite, InputInvalid, Mark, Problem
from generator.record import SCHEMA

ISSUE_FILE: Final = "issue.json"
RECORD_FILE: Final = "record.json"
ISSUE_SCHEMA: Final = 1
_LISTS: Final = ("mixes", "works", "items", "clauses", "findings")
_MAPPINGS: Final = ("answers", "library", "numbers")
_UNSAFE: Final = re.compile(r"[^A-Za-z0-9.]+")


@dataclass(frozen=True, slots=True)
class Issued:
    """A record as it was issued. `number` counts the issues of a job from one; 0 for a record alone."""

    path: Path
    record: Mapping[str, Any]
    number: int = 0

    @property
    def register(self) -> Mapping[str, str]:
        """The numbers it gave."""
        found: Mapping[str, str] = self.record["numbers"]
        return found

    def said(self, name: str) -> str:
        """What the issue says of itself: its title, reference, revision, date and so on; empty if nothing."""
        given = self.record["answers"].get("given", {}).get("", {})
        return str(self.record.get("issue", {}).get(name, given.get(name, "")))

    @property
    def revision(self) -> str:
        """Its revision."""
        return self.said("revision")


@dataclass(frozen=True, slots=True)
class Issue:
    """What goes into a frozen set beside its files."""

    reference: str
    revision: str
    date: str
    answers: str
    library: Sequence[Mapping[str, str]]
    last: Issued | None = None


# --- writing --------------------------------------------------------------------------------------------------


def folder_name(reference: str, revision: str) -> str:
    """The name of an issue's folder: `EH-014-rev-2`."""
    return f"{_safe(reference)}-rev-{_safe(revision)}"


def _safe(text: str) -> str:
    return _UNSAFE.sub("-", text).strip("-.") or "x"


def freeze(out: Path, issue: Issue, files: Mapping[str, bytes]) -> Path:
    """Writes an issue whole into a new folder of `out`, and returns it. Raises `CannotWrite`; rewrites nothing."""
    folder = out / folder_name(issue.reference, issue.revision)
    if folder.exists():
        raise CannotWrite(f"{folder}: is issued already and is never rewritten: give the answers the next revision")
    data = _described(issue, files)
    waiting = out / f".{folder.name}.part"
    try:
        shutil.rmtree(waiting, ignore_errors=True)
        for name, content in {**files, ISSUE_FILE: _dumped(data)}.items():
            (waiting / name).parent.mkdir(parents=True, exist_ok=True)
            (waiting / name).write_bytes(content)
        waiting.rename(folder)
    except OSError as error:
        shutil.rmtree(waiting, ignore_errors=True)
        what = error.strerror or str(error)
        raise CannotWrite(f"{folder}: cannot be written ({what}): free space, or name another --out") from None
    return folder


def _described(issue: Issue, files: Mapping[str, bytes]) -> dict[str, Any]:
    last = issue.last
    data = {
        "schema": ISSUE_SCHEMA,
        "reference": issue.reference,
        "revision": issue.revision,
        "date": issue.date,
        "number": last.number + 1 if last else 1,
        "answers": issue.answers,
        "library": [dict(entry) for entry in issue.library],
        "last": {"revision": last.revision, "folder": last.path.name} if last else None,
        "files": [{"name": name, "sha256": _sha(content)} for name, content in sorted(files.items())],
    }
    return {**data, "sha256": _sha(_dumped(data))}


def _dumped(data: Mapping[str, Any]) -> bytes:
    return (json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n").encode()


def _sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


# --- reading --------------------------------------------------------------------------------------------------


def read_issued(path: Path) -> Issued:
    """An issue's folder, a folder of papers or a record file. Raises `InputInvalid` where it is not as issued."""
    if not path.is_dir():
        return Issued(path, _record(path))
    if not (path / ISSUE_FILE).is_file():
        return Issued(path, _record(path / RECORD_FILE))
    if problems := list(verify(path)):
        raise InputInvalid(problems)
    number = described(path)["number"]
    return Issued(path, _record(path / RECORD_FILE), number if isinstance(number, int) else 0)


def newest(out: Path, reference: str) -> Issued | None:
    """The last issue of a job in a folder; None where there is none. Raises `InputInvalid` as `read_issued`."""
    if not out.is_dir():
        return None
    found = []
    for file in sorted(out.glob(f"*/{ISSUE_FILE}")):
        data = described(file.parent)
        if data.get("reference") == reference and isinstance(data.get("number"), int):
            found.append((data["number"], file.parent))
    return read_issued(max(found)[1]) if found else None


def described(folder: Path) -> dict[str, Any]:
    """What an issue's folder says of itself. Raises `InputInvalid`."""
    path = folder / ISSUE_FILE
    data = _json(path)
    if data.get("schema") != ISSUE_SCHEMA:
        raise _refused(path, f"is of schema {data.get('schema')}, and this program reads {ISSUE_SCHEMA}", _OTHER)
    if not isinstance(data.get("files"), list):
        raise _refused(path, "does not list the files of an issue", _COPY)
    return data


def verify(folder: Path) -> Iterator[Problem]:
    """A problem for every file of an issue that is changed, missing or strange. Raises `InputInvalid`."""
    data = described(folder)
    own = {key: value for key, value in data.items() if key != "sha256"}
    if data.get("sha256") != _sha(_dumped(own)):
        yield Problem(Mark(str(folder / ISSUE_FILE)), "was changed since it was issued", _COPY)
    listed = {str(entry.get("name")): entry.get("sha256") for entry in data["files"] if isinstance(entry, dict)}
    for name, digest in sorted(listed.items()):
        yield from _verified(folder, name, digest)
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and name not in listed and name != ISSUE_FILE:
            yield Problem(Mark(str(path)), "was put into the issue later", "move it out of the folder")


def _verified(folder: Path, name: str, digest: object) -> Iterator[Problem]:
    pure = PurePosixPath(name)
    path = folder / name
    if pure.is_absolute() or ".." in pure.parts:
        yield Problem(Mark(str(folder / ISSUE_FILE)), f"names a file outside the issue ('{name}')", _COPY)
    elif not path.is_file():
        yield Problem(Mark(str(path)), "is missing from the issue", _COPY)
    elif _sha(path.read_bytes()) != digest:
        yield Problem(Mark(str(path)), "was changed since it was issued", _COPY)


_COPY: Final = "take the issue again from a copy that nobody has changed"
_OTHER: Final = "use the program that wrote it"


def _record(path: Path) -> dict[str, Any]:
    data = _json(path)
    if data.get("schema") != SCHEMA:
        found = data.get("schema")
        what = f"is a record of schema {found}, and this program reads {SCHEMA}" if found else "is not a record"
        raise _refused(path, what, _OTHER if found else "name a record.json, or the folder of an issue")
    for keys, kind in ((_LISTS, list), (_MAPPINGS, dict)):
        for key in keys:
            value = data.get(key)
            if not isinstance(value, kind) or (kind is list and not all(isinstance(item, dict) for item in value)):
                raise _refused(path, f"is not a record as it was written: its '{key}' is amiss", _COPY)
    return data


def _json(path: Path) -> dict[str, Any]:
    try:
        data = json.loads(path.read_bytes())
    except OSError as error:
        raise _refused(path, f"cannot be read ({error.strerror})", "name a record.json or an issue's folder") from None
    except (ValueError, RecursionError):
        raise _refused(path, "is not JSON", _COPY) from None
    if not isinstance(data, dict):
        raise _refused(path, "is not a record", "name a record.json, or the folder of an issue")
    return data


def _refused(path: Path, what: str, to_do: str) -> InputInvalid:
    return InputInvalid([Problem(Mark(str(path)), what, to_do)])
