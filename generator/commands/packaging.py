"""The package of an issue: its papers by who they are for, and a list of contents with digests, as one zip."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.commands.sets import PAPERS
from generator.document.files import COMPANIONS, pdf_names
from generator.files.archive import archived, sha256
from generator.job.job import Job
from generator.record.revisions.issued import folder_name

PACKED: Final = ("letter", "records", "officer", "owner")
"""The companion papers that go into a package, in the order in which it lists them."""

CONTENTS: Final = "contents.txt"
TENDERERS: Final = "tenderers"
_READERS: Final[Mapping[str, str]] = {
    "specification": "tenderers", "mix-schedule": "tenderers", "pricing-schedule": "tenderers",
    "covering-letter": "tenderers", "site-records": "tenderers", "officer-summary": "officer", "owner-page": "owner",
}  # fmt: skip
"""Whose each paper is, by the name of its file without its ending; what is not named stays with the specifier."""


def packed_names(pdf: bool) -> list[tuple[str, str]]:
    """The reader and the file of everything that goes into a package, the tenderers' first."""
    names = [*PAPERS, *(COMPANIONS[key] for key in PACKED)]
    if pdf:
        names += pdf_names(names)
    order = list(dict.fromkeys(_READERS.values()))
    found = [(_READERS[name.partition(".")[0]], name) for name in names]
    return sorted(found, key=lambda one: (order.index(one[0]), one[1]))


def package_name(job: Job) -> str:
    """The name of the zip of a job's issue."""
    return f"{folder_name(job.said('reference'), job.said('revision'))}.zip"


def package(job: Job, papers: Mapping[str, bytes]) -> bytes:
    """The zip of an issue's papers, each in the folder of its reader below one of the issue's own name.

    A list of contents lies on top, and one of its own in the folder that goes to tenderers.
    """
    pdf = any(name.endswith(".pdf") for name in papers)
    held = {f"{reader}/{name}": papers[name] for reader, name in packed_names(pdf) if name in papers}
    sent = {name: papers[name] for reader, name in packed_names(pdf) if reader == TENDERERS and name in papers}
    lists = {CONTENTS: contents(job, held), f"{TENDERERS}/{CONTENTS}": contents(job, sent)}
    top = package_name(job).removesuffix(".zip")
    everything = {**{name: text.encode() for name, text in lists.items()}, **held}
    return archived({f"{top}/{name}": data for name, data in everything.items()})


def contents(job: Job, held: Mapping[str, bytes]) -> str:
    """The list of some files: what each is and for whom, then the digest of each."""
    told = {"title": job.said("title"), "reference": job.said("reference"), "revision": job.said("revision")}
    lines = [job.word("package-title", date=job.said("issue_date"), **told), job.word("package-about"), ""]
    for reader in dict.fromkeys(_READERS[_stem(name)] for name in held):
        own = [name for name in held if _READERS[_stem(name)] == reader]
        lines += [job.word(f"package-for-{reader}"), *(_line(job, name, held[name]) for name in own), ""]
    if not any(name.endswith(".pdf") for name in held):
        lines += [job.word("package-no-pdf"), ""]
    lines += [job.word("package-digests"), *(f"{sha256(data)}  {name}" for name, data in held.items())]
    return "".join(f"{line}\n" for line in lines)


def _stem(name: str) -> str:
    return name.rpartition("/")[2].partition(".")[0]


def _line(job: Job, name: str, data: bytes) -> str:
    return job.word("package-line", name=name, what=job.word(f"package-is-{_stem(name)}"), size=f"{len(data):,}")
