"""Writes a set of papers, as the command `write` does, and what else makes or names the papers of a set."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator.commands.progress import PROGRESS
from generator.commands.shared import DRAFT, TENDER, WRONG_USE, file_of, job_of, or_stop, say, stop

if TYPE_CHECKING:
    from generator.job.job import Job
    from generator.papers.agreement.printed import Printed
    from generator.render.word.look import Look

SPECIFICATION: Final = "specification.docx"
PAPERS: Final = (SPECIFICATION, "mix-schedule.docx", "pricing-schedule.xlsx")
FILE_OR_REPLACE: Final = "name another file, or add --replace-edited"


def write_papers(
    answers: Path,
    out: Path,
    *,
    library: Path | None = None,
    layers: Sequence[Path] | None = None,
    last: Path | None = None,
    companions: str = "",
    pdf: bool = False,
    house_style: Path | None = None,
    replace_edited: bool = False,
) -> int:
    """Writes the papers of some answers into a folder; the exit code of the run."""
    from generator.files.place import RECORD_FILE
    from generator.files.writing import refuse_set, write_set

    wanted = named(companions)
    house = look_of(house_style)
    names = names_of_sets()
    with PROGRESS.telling():
        job, raw = job_of(answers, library, layers, last)
        or_stop(lambda: refuse_set(out, names, replace=replace_edited))
        files, data = or_stop(lambda: set_of(job, answers.name, raw, wanted, pdf, house))
        gone = or_stop(lambda: write_set(out, files, data, names, replace=replace_edited))
    tell(job, notes=False)
    tell_gone(out, gone)
    for name in [*files, RECORD_FILE]:
        say(f"wrote {out / name}")
    return code_of(job)


def tell(job: Job, *, notes: bool = True) -> None:
    """Prints the findings of a job."""
    from generator.record.explain import findings_text

    say(findings_text(job, notes=notes), end="")


def code_of(job: Job) -> int:
    """The exit code of a job whose papers were made, or could be."""
    return DRAFT if job.status == "draft" else TENDER


def names_of_sets() -> list[str]:
    """Every name that a paper of a set can have, companions and PDF files among them."""
    from generator.document.files import COMPANIONS, pdf_names

    names = [*PAPERS, *COMPANIONS.values()]
    return [*names, *pdf_names(names)]


def tell_gone(out: Path, gone: Sequence[str]) -> None:
    """Prints which papers of an older set were taken away."""
    for name in gone:
        say(f"took away {out / name}, of the older set")


def look_of(house: Path | None) -> Look | None:
    """The look of a practice's file; ends the run where it cannot be used."""
    if house is None:
        return None
    from generator.render.house.style import house_style

    data = file_of(house)
    return or_stop(lambda: house_style(data, str(house)))


def named(companions: str) -> list[str]:
    """The companion papers named, parted by commas; ends the run for one that there is not."""
    from generator.document.files import COMPANIONS
    from generator.files.errors import did_you_mean

    found = [name.strip() for name in companions.split(",") if name.strip()]
    for name in found:
        if name not in COMPANIONS:
            stop([f"there is no companion paper '{name}': {did_you_mean(name, COMPANIONS)}"], WRONG_USE)
    return found


def set_of(
    job: Job, answers: str, raw: bytes, wanted: Sequence[str] = (), pdf: bool = False, house: Look | None = None
) -> tuple[dict[str, bytes], bytes]:
    """The papers of a set by name, and its record, all of which agree; raises where they cannot be made."""
    from generator import pipeline
    from generator.papers.agreement.agree import agreed_record
    from generator.record import record

    PROGRESS.at("Putting the papers together and holding them against one another")
    made = pipeline.assembled(job, wanted)
    files = printed(made, pdf, house)
    made = made.without_papers()  # they are written, and the record of a large job takes their room
    PROGRESS.at("Making record.json")
    told = record.record(job, answers, raw, files)
    agreed_record(made, told)
    return files, record.dumped(told)


def printed(made: Printed, wanted: bool, house: Look | None = None) -> dict[str, bytes]:
    """The papers; if wanted with page numbers in the contents of the specification, and the PDF files after them."""
    from generator.pipeline import rendered

    files = rendered(made, house, lambda name: PROGRESS.at(f"Making {name}"))
    if not wanted:
        return files
    from generator.document.files import pdf_name
    from generator.render.pdf.making import pdfs, with_pages

    PROGRESS.at("Making PDF files with LibreOffice")
    word, first = with_pages(made.documents["specification"], house)
    others = {name: data for name, data in files.items() if name.endswith(".docx") and name != SPECIFICATION}
    return {**files, SPECIFICATION: word, pdf_name(SPECIFICATION): first, **pdfs(others)}
