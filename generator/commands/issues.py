"""The commands of revisions: issue a set, verify it, write it again, compare two, and the addendum between them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator import __version__
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
from generator.commands.sets import FILE_OR_REPLACE, named, names_of_sets, tell_gone
from generator.commands.shared import (
    DRAFT,
    UNREADABLE,
    WRONG_USE,
    file_of,
    folder_of,
    holds,
    issued_of,
    or_stop,
    print_json,
    say,
    settled_job,
    stop,
    worded_library,
)

if TYPE_CHECKING:
    from generator.commands.issuing import Wanted
    from generator.job.job import Job
    from generator.library.model import Library
    from generator.record.revisions.change import Change
    from generator.record.revisions.issued import Issued
    from generator.record.revisions.telling import Telling

Issues = Annotated[Path | None, typer.Option("--out", help="The folder that holds the issues of the job.")]
NoPdf = Annotated[bool, typer.Option("--no-pdf", help="No PDF files: the same answers give the same bytes.")]
Side = Annotated[Path, typer.Argument(help="An issue's folder, or a record.json.")]


def register(app: typer.Typer) -> None:
    """Adds the commands to the program."""
    app.command("issue")(issue)
    app.command("package")(package)
    app.command("compare")(compare)


def issue(
    answers: Annotated[Path | None, typer.Argument(metavar="[ANSWERS]", help="The answers file (YAML).")] = None,
    out: Issues = None,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    last: LastIssue = None,
    house_style: HouseStyle = None,
    companions: With = None,
    pdf: AsPdf = False,
    verify: Annotated[Path | None, typer.Option("--verify", help="An issue to hold against its digests.")] = None,
    again: Annotated[Path | None, typer.Option("--again", help="An issue to write again, into --out.")] = None,
    replace_edited: ReplaceEdited = False,
) -> None:
    """Freeze a set of papers in a folder of its own that is never rewritten; or verify one, or write it again."""
    if verify is not None:
        _verify(verify)
    elif out is None:
        stop(["name the folder of the issues with --out"], WRONG_USE)
    elif again is not None:
        _again(again, out, replace_edited)
    elif answers is None:
        stop(["name the answers file to issue"], WRONG_USE)
    else:
        from generator.commands.issuing import Wanted

        before = issued_of(last) if last else or_stop(lambda: _newest(answers, out))
        with PROGRESS.telling():
            job, raw = settled_job(answers, library, layer, before)
            wanted = Wanted(named(",".join(companions or ())), pdf, file_of(house_style) if house_style else None)
            _issue(job, answers, raw, out, library, before, wanted)


def package(
    answers: AnswersFile,
    out: Annotated[Path, typer.Option("--out", help="The folder that holds the issues of the job.")],
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    last: LastIssue = None,
    house_style: HouseStyle = None,
    no_pdf: NoPdf = False,
) -> None:
    """Issue the set with companions, covering letter and PDF files, and all of it as one zip to send."""
    from generator.commands.issuing import Wanted
    from generator.commands.packaging import PACKED, package_name
    from generator.render.pdf.making import can_make

    pdf = not no_pdf and can_make()
    before = issued_of(last) if last else or_stop(lambda: _newest(answers, out))
    with PROGRESS.telling():
        job, raw = settled_job(answers, library, layer, before)
        wanted = Wanted(PACKED, pdf, file_of(house_style) if house_style else None, packed=True)
        folder = _issue(job, answers, raw, out, library, before, wanted)
    if not pdf and not no_pdf:
        say(job.word("package-no-office"))
    elif pdf:
        say(job.word("package-pdf-differs"))
    say(job.word("package-made", file=str(folder / package_name(job))))


def _issue(
    job: Job, answers: Path, raw: bytes, out: Path, library: Path | None, before: Issued | None, wanted: Wanted
) -> Path:
    from generator.commands import issuing
    from generator.record.explain import findings_lines

    _fits(job, before)
    if job.status == "draft":
        blocks = [finding for finding in job.findings if finding.level == "block"]
        stop([job.word("issue-draft", count=str(len(blocks))), *findings_lines(job, blocks)], DRAFT)
    folder = or_stop(lambda: issuing.issue(job, answers, raw, out, folder_of(library), before, wanted))
    say(f"issued {folder}")
    if before is not None:
        say(f"numbers held from {before.path}; tell what changed: gaugebox compare {before.path} {folder}")
    return folder


def _newest(answers: Path, out: Path) -> Issued | None:
    """The last issue in the folder of the job that the answers name."""
    from generator.files.source import read_file
    from generator.record.revisions.issued import newest

    data = read_file(answers, typed=False).data
    project = data.get("project") if isinstance(data, dict) else None
    reference = project.get("reference") if isinstance(project, dict) else None
    return newest(out, reference) if isinstance(reference, str) else None


def _fits(job: Job, before: Issued | None) -> None:
    """Ends the run where the last issue is of another job, or is this revision."""
    if before is None:
        return
    reference, revision = job.said("reference"), job.said("revision")
    if before.said("reference") != reference:
        stop([f"{before.path}: is an issue of {before.said('reference')}, not of {reference}"], UNREADABLE)
    if before.revision == revision:
        stop([f"revision {revision} is issued already ({before.path}): give the answers the next one"], UNREADABLE)


def _verify(folder: Path) -> None:
    from generator.record.revisions.issued import verify

    problems = or_stop(lambda: list(verify(folder)))
    if problems:
        stop([str(problem) for problem in problems], UNREADABLE)
    say(f"{folder}: every file is as it was issued")


def _again(folder: Path, out: Path, replace_edited: bool) -> None:
    from generator.commands import issuing
    from generator.files.writing import refuse_set, write_set, write_whole

    issued, names = issued_of(folder), names_of_sets()
    with PROGRESS.telling():
        or_stop(lambda: refuse_set(out, names, replace=replace_edited))
        files, record, packed = or_stop(lambda: issuing.again(issued))
        for name, data in packed.items():
            or_stop(partial(write_whole, out / name, data, FILE_OR_REPLACE, replace=replace_edited))
        gone = or_stop(lambda: write_set(out, files, record, names, replace=replace_edited))
    tell_gone(out, gone)
    pdf = any(name.endswith(".pdf") for name in files)
    sure = {name: data for name, data in files.items() if not name.endswith(".pdf")} | ({} if pdf else packed)
    others = [name for name, data in sure.items() if not holds(folder / name, data)]
    for name in [*sorted(files), *packed]:
        same = "not the same as issued" if name in others else "the same as issued"
        say(f"wrote {out / name} ({same if name in sure else _unlike(name)})")
    if others:
        what = f"issued by gaugebox {issued.record.get('program')}; this is {__version__}, which writes them otherwise"
        stop([f"{folder}: {what}"], UNREADABLE)


def _unlike(name: str) -> str:
    """Why a file is not held against the one issued: it is, or holds, what comes out otherwise each time."""
    alike = "no office program makes a PDF twice alike"
    return alike if name.endswith(".pdf") else f"packed anew with its PDF files: {alike}"


def compare(
    old: Side,
    new: Side,
    as_json: AsJson = False,
    addendum: Annotated[Path | None, typer.Option("--addendum", help="A Word file to write the addendum in.")] = None,
    number: Annotated[int, typer.Option("--number", min=0, help="The addendum's number; else by the issues.")] = 0,
    library: LibraryFolder = None,
    layer: LayerFolders = None,
    replace_edited: ReplaceEdited = False,
) -> None:
    """Tell what changed between two issues, and write the addendum; nothing is worked out again."""
    from generator.record.revisions import compare as comparing
    from generator.record.revisions import telling

    before, after = issued_of(old), issued_of(new)
    found = or_stop(lambda: comparing.compare(before, after))
    read = worded_library(library, layer)
    words = _telling(read)
    if as_json:
        print_json(telling.as_data(found))
    else:
        say("\n".join(telling.told(found, words)))
    if addendum is not None:
        from generator.commands import issuing
        from generator.files.writing import write_whole

        counted = number or max(after.number - 1, 1)
        data = issuing.addendum(found, words, read.templates["addendum"], counted)
        or_stop(lambda: write_whole(addendum, data, FILE_OR_REPLACE, replace=replace_edited))
        if not as_json:
            say(f"wrote {addendum}")


def _telling(library: Library) -> Telling:
    from generator.record.revisions.telling import Telling

    labels = {name: library.names[name].label for name in library.names}
    return Telling(library.words, labels, {key: material.short for key, material in library.materials.items()})


def since(job: Job, answers: Path, raw: bytes, last: Issued) -> list[Change]:
    """The clauses of a job that are not as they were in the last issue."""
    from generator.record.record import record
    from generator.record.revisions.compare import clauses_changed

    return or_stop(lambda: clauses_changed(last, record(job, answers.name, raw, {})))


def tell_since(job: Job, changed: Sequence[Change], last: Issued | None) -> None:
    """Prints the clauses that changed since the last issue."""
    if last is None:
        return
    words = _telling(job.library)
    say(words.word("compare-since" if changed else "compare-since-none", old=job.replaces))
    for change in changed:
        say(f"  {words.line(change)}")
