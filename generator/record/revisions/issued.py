"""Issued sets: frozen folders with the digest of every file, written once, read back and checked against them."""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path, PurePosixPath
from typing import Any, Final

from generator.files.archive import sha256
from generator.files.errors import CannotWrite, InputInvalid, Mark, Problem
from generator.files.place import ISSUE_FILE, RECORD_FILE
from generator.files.swap import add_folder, unfinished
from generator.files.walk import is_folder
from generator.files.writing import only_writer, refuse_large
from generator.record.revisions.records import COPY, OTHER, read_json, read_record, refused
from generator.values import Struct

ISSUE_SCHEMA: Final = 1
LIBRARY: Final = "library"
TEMPLATES: Final = "templates"
ANSWERS: Final = "answers"
ATTRIBUTES_FILE: Final = ".gitattributes"
ATTRIBUTES: Final = b"# an issue stays as it was issued: nothing changes its line ends\n* -text -ident\n"
_UNSAFE: Final = re.compile(r"[^A-Za-z0-9.]+")
_NEXT: Final = "give the answers the next revision"
# What programs leave where somebody only looks: file managers, and office programs while a paper is open.
_LEFT: Final = re.compile(r"\.DS_Store|Thumbs\.db|desktop\.ini|~\$.*|\.~lock\..*#")


class Issued(Struct, frozen=True):
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


class Issue(Struct, frozen=True):
    """What goes into a frozen set beside its files."""

    reference: str
    revision: str
    date: str
    answers: str
    library: Sequence[Mapping[str, str]]
    last: Issued | None = None

    @property
    def number(self) -> int:
        """How many issues of the job there are with it."""
        return self.last.number + 1 if self.last else 1


# --- writing --------------------------------------------------------------------------------------------------


def folder_name(reference: str, revision: str) -> str:
    """The name of an issue's folder: `EH-014-rev-2`."""
    return f"{_safe(reference)}-rev-{_safe(revision)}"


def _safe(text: str) -> str:
    return _UNSAFE.sub("-", text).strip("-.") or "x"


def freeze(out: Path, issue: Issue, files: Mapping[str, bytes]) -> Path:
    """Writes an issue whole into a new folder of `out`, and returns it; rewrites nothing.

    Raises `CannotWrite`, also where the revision is issued already or another was meanwhile, and `InputInvalid`.
    """
    folder = out / folder_name(issue.reference, issue.revision)
    held = {**files, ATTRIBUTES_FILE: ATTRIBUTES}
    data = _dumped(_description(issue, held))
    for name, content in ((RECORD_FILE, held.get(RECORD_FILE, b"")), (ISSUE_FILE, data)):
        refuse_large(f"{folder / name}", content)
    with only_writer(out, "free space, or name another --out", "name a folder with --out"):
        _refuse_twice(folder, issue)
        add_folder(folder, {**held, ISSUE_FILE: data})
    return folder


def _refuse_twice(folder: Path, issue: Issue) -> None:
    """Raises `CannotWrite` for a revision that is issued, and where an issue was made that this one does not follow."""
    if os.path.lexists(folder):
        raise CannotWrite(f"{folder}: is issued already and is never rewritten: {_NEXT}")
    for about, other in _issues(folder.parent, issue.reference):
        if about.revision.casefold() == issue.revision.casefold():
            raise CannotWrite(f"{other}: is revision {about.revision} already and is never rewritten: {_NEXT}")
        if about.number >= issue.number:
            what = f"was issued as revision {about.revision} meanwhile, and this issue does not follow it"
            raise CannotWrite(f"{other}: {what}: run it again, or name that one with --last")


def _description(issue: Issue, files: Mapping[str, bytes]) -> dict[str, Any]:
    last = issue.last
    data = {
        "schema": ISSUE_SCHEMA,
        "reference": issue.reference,
        "revision": issue.revision,
        "date": issue.date,
        "number": issue.number,
        "answers": issue.answers,
        "library": [dict(entry) for entry in issue.library],
        "last": {"revision": last.revision, "folder": last.path.name} if last else None,
        "files": [{"name": name, "sha256": sha256(content)} for name, content in sorted(files.items())],
    }
    return {**data, "sha256": sha256(_dumped(data))}


def _dumped(data: Mapping[str, Any]) -> bytes:
    return (json.dumps(data, sort_keys=True, indent=1, ensure_ascii=False) + "\n").encode(errors="backslashreplace")


# --- reading --------------------------------------------------------------------------------------------------


class Described(Struct, frozen=True):
    """What an issue's folder says of itself: `files` by name with their digests, `last` the revision before.

    `layers` are the folders of its clause library and of the layers over it, in order.
    """

    reference: str
    revision: str
    number: int
    answers: str
    last: str
    files: Mapping[str, str]
    layers: tuple[str, ...]
    unchanged: bool


def read_issued(path: Path) -> Issued:
    """An issue's folder, a folder of papers or a record file. Raises `InputInvalid` where it is not as issued."""
    if not is_folder(path):
        return Issued(path, read_record(path))
    if not (path / ISSUE_FILE).is_file():
        if unfinished(path):
            to_do = "write the set there again, or any other: what stood there is put back first"
            raise refused(path, "was left half replaced by a run that broke off", to_do)
        return Issued(path, read_record(path / RECORD_FILE))
    if problems := list(verify(path)):
        raise InputInvalid(problems)
    return Issued(path, read_record(path / RECORD_FILE), described(path).number)


def newest(out: Path, reference: str) -> Issued | None:
    """The last issue of a job in a folder; None where there is none. Raises `InputInvalid` as `read_issued`."""
    own = sorted((about.number, folder) for about, folder in _issues(out, reference))
    if own[1:] and own[-1][0] == own[-2][0]:
        what = f"is number {own[-1][0]} of the issues of {reference}, and so is {own[-2][1]}"
        raise refused(own[-1][1], what, "settle which of the two holds, and move the other away")
    return read_issued(own[-1][1]) if own else None


def _issues(out: Path, reference: str) -> list[tuple[Described, Path]]:
    """The issues of a job in a folder with what each says of itself. Raises `InputInvalid`."""
    files = sorted(out.glob(f"*/{ISSUE_FILE}")) if is_folder(out) else []
    found = [(described(file.parent), file.parent) for file in files]
    return [(about, folder) for about, folder in found if about.reference == reference]


def described(folder: Path) -> Described:
    """What an issue's folder says of itself. Raises `InputInvalid`."""
    path = folder / ISSUE_FILE
    data = read_json(path)
    if data.get("schema") != ISSUE_SCHEMA:
        what = f"is of schema {str(data.get('schema'))[:20]}, and this program reads {ISSUE_SCHEMA}"
        raise refused(path, what, OTHER)
    own = {key: value for key, value in data.items() if key != "sha256"}
    try:
        found = Described(
            data["reference"], data["revision"], int(data["number"]), data["answers"],
            data["last"]["revision"] if data["last"] else "",
            files := {entry["name"]: entry["sha256"] for entry in data["files"]},
            _layers(files),
            data.get("sha256") == sha256(_dumped(own)),
        )  # fmt: skip
    except (KeyError, TypeError, ValueError, AttributeError):
        raise refused(path, "does not describe an issue as it was written", COPY) from None
    texts = (found.reference, found.revision, found.answers, found.last, *found.files, *found.files.values())
    if not all(isinstance(text, str) for text in texts) or not all(map(_is_inside, (found.answers, *found.files))):
        raise refused(path, "does not describe an issue as it was written", COPY)
    return found


def _layers(files: Iterable[str]) -> tuple[str, ...]:
    names = {"/".join(name.split("/")[:2]) for name in files if name.startswith(f"{LIBRARY}/")}
    return tuple(sorted(names, key=lambda name: int(name.split("/")[1].partition("-")[0])))


def _is_inside(name: str) -> bool:
    """Whether a file's name stays in the folder that names it."""
    pure = PurePosixPath(name)
    return name == str(pure) and not pure.is_absolute() and ".." not in pure.parts and not re.search(r"[\\:\0]", name)


def verify(folder: Path) -> Iterator[Problem]:
    """A problem for every file of an issue that is changed, missing or strange. Raises `InputInvalid`."""
    about = described(folder)
    if not about.unchanged:
        yield Problem(Mark(str(folder / ISSUE_FILE)), _CHANGED, COPY)
    for name, digest in sorted(about.files.items()):
        path = folder / name
        if not path.is_file():
            yield Problem(Mark(str(path)), "is missing from the issue", COPY)
        elif _file_sha(path) != digest:
            yield Problem(Mark(str(path)), _CHANGED, COPY)
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        own = name in about.files or name == ISSUE_FILE or _LEFT.fullmatch(path.name)
        if not own and (path.is_symlink() or not path.is_dir()):
            yield Problem(Mark(str(path)), "was put into the issue later", "move it out of the folder")


_CHANGED: Final = "was changed since it was issued"


def _file_sha(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return ""
