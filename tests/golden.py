"""Writes the golden papers: the text of every paper of every example, beside the example.

    python tests/golden.py

Who changes what papers say on purpose runs it, reads the difference, and commits both. Layout leaves no trace in them;
what changes by itself (a digest, a version) does not either. `tests/content/test_golden.py` compares.
"""

from __future__ import annotations

import copy
import functools
import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, Final, TypeGuard

from jobs import EXAMPLES, after, example, job, telling
from plain_yaml import as_yaml, from_yaml
from recorded import in_full
from structures import field_names

from generator.document.files import COMPANIONS
from generator.document.model import (
    Block,
    ClauseBlock,
    CostRow,
    Document,
    Inlines,
    Notice,
    PricedRow,
    Strong,
    Text,
    Value,
)
from generator.document.outline import outline
from generator.drawing.model import Drawing
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.record.record import record
from generator.record.revisions.addendum import addendum
from generator.record.revisions.compare import compare
from generator.record.revisions.issued import Issued
from generator.values import plain

FOLDER: Final = "golden"
# What a draft and a second issue are made of, which no example is.
VARIED: Final = next(path for path in EXAMPLES if path.parent.name == "toll-house")

Golden = dict[str, str]


def golden(path: Path) -> Golden:
    """The text of each paper of an example by the file that holds it below the example's `golden/`."""
    found = example(path.parent.name)
    texts = {**set_of(found), **companions_of(found), "record.txt": record_text(found)}
    if path == VARIED:
        texts |= {f"draft/{name}": text for name, text in set_of(draft()).items()}
        texts |= {"issued-again/addendum.txt": addendum_text(found, again(found))}
        texts |= {f"issued-again/{name}": text for name, text in set_of(again(found)).items()}
    return texts


def set_of(found: Job) -> Golden:
    """The text of the three papers of a set."""
    papers = assemble(found)
    return {
        "specification.txt": document_text(papers.specification),
        "mix-schedule.txt": listing(papers.sheet),
        "pricing-schedule.txt": listing(papers.book),
    }


def companions_of(found: Job) -> Golden:
    """The text of every companion paper."""
    made = companions(found, list(COMPANIONS))
    return {f"{Path(name).stem}.txt": document_text(paper) for name, paper in made.items()}


# --- jobs that are no example -----------------------------------------------------------------------------


@functools.cache
def draft() -> Job:
    """The varied example with questions open: one left out, one not known, two at odds."""

    def change(data: dict[str, Any]) -> None:
        front, stack, gable = data["elements"]
        del front["water_drop"], front["works"][0]["face_area_m2"], data["project"]["asbestos_survey"]
        data["project"]["consent"] = "applied"
        gable["salts"] = gable["leaning"] = "not known"
        stack["works"][0]["asked_binder"] = "cement"

    return job(varied(change))


def again(first: Job) -> Job:
    """The varied example issued a second time: a wall gone and one new, an area, an answer and a wish changed."""

    def change(data: dict[str, Any]) -> None:
        front, _stack, gable = data["elements"]
        data["project"] |= {"revision": "2", "issue_date": "2027-02-15", "revision_about": "The stack stays as it is"}
        data["project"]["lived_in"] = "yes"
        front["works"][0] |= {"face_area_m2": "104", "cement_area_m2": "0"}
        front["decay_causes"] = ["gutter"]
        gable["works"][0]["asked_binder"] = "hot-mix"
        flank = {
            **copy.deepcopy(gable),
            "id": "flank",
            "name": "Flank wall",
            "position": "parapet",
            "drawing_refs": ["P-03"],
        }
        data["elements"] = [front, gable, flank]
        data["project"]["drawings"].append({"ref": "P-03", "title": "Flank elevation with areas hatched"})

    return after(first, varied(change))


def varied(change: Callable[[dict[str, Any]], None]) -> str:
    """The answers of the varied example, changed."""
    data = from_yaml(VARIED.read_text(encoding="utf-8"))
    change(data)
    return as_yaml(data)


# --- papers as text ---------------------------------------------------------------------------------------


def document_text(document: Document) -> str:
    """What every page says, then the outline, and in a draft the notes that stand in its margin."""
    headers = dict.fromkeys(section.header for section in document.sections)
    notes = _advice(document.blocks()) if document.identity.draft else ()
    return _joined(
        (*_lines("identity", document.identity), *_lines("headers", list(headers)), *_rows(document), *notes)
    )


def _rows(document: Document) -> Iterator[str]:
    """The outline without the empty lines of forms: how many a page holds is layout."""
    return (line for line in outline(document).splitlines() if line.strip(" |\N{NO-BREAK SPACE}"))


def _advice(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, ClauseBlock | Notice):
            yield from _advice(block.blocks)
        if isinstance(block, ClauseBlock) and block.advice:
            yield f"[note on {block.number}] {block.advice}"


def listing(value: object) -> str:
    """A paper that is no document, or a record, field by field; what is empty is left out."""
    return _joined(_lines("", value))


def _joined(lines: Iterable[str]) -> str:
    return "".join(f"{line.rstrip()}\n" for line in lines)


def _lines(name: str, value: object) -> Iterator[str]:
    if isinstance(value, Document):
        yield from _rows(value)
    elif isinstance(value, PricedRow):
        yield _priced(value)
    elif isinstance(value, CostRow):
        yield " | ".join(filter(None, (value.number, value.title, value.place, value.lines)))
    elif _is_inlines(value):
        yield f"{name}: {_strong(value)}" if name else _strong(value)
    elif not isinstance(value, Drawing) and (names := field_names(value)):
        yield from _under(name, {each: getattr(value, each) for each in names})
    elif isinstance(value, Mapping):
        yield from _under(name, value)
    elif isinstance(value, list | tuple) and not all(isinstance(item, str | int | Decimal) for item in value):
        yield from _listed(name, value)
    elif said := _said(value):
        yield f"{name}: {said}" if name else said


def _is_inlines(value: object) -> TypeGuard[Inlines]:
    return isinstance(value, tuple) and bool(value) and all(isinstance(item, Text | Strong | Value) for item in value)


def _strong(content: Inlines) -> str:
    """Inlines as text, what is strong between stars."""
    return "".join(f"*{_strong(item.content)}*" if isinstance(item, Strong) else item.text for item in content)


def _under(name: str, held: Mapping[str, object]) -> Iterator[str]:
    inner = [line for key, value in held.items() for line in _lines(key or "(job)", value)]
    if name and inner:
        yield f"{name}:"
    yield from (f"  {line}" if name else line for line in inner)


def _listed(name: str, held: Iterable[object]) -> Iterator[str]:
    if name:
        yield f"{name}:"
    for value in held:
        for index, line in enumerate(_lines("", value)):
            yield f"{'  ' if index else '- '}{line}"


def _priced(row: PricedRow) -> str:
    quantity = "" if row.quantity is None else plain(row.quantity)
    amount = "" if row.amount is None else f"amount {plain(row.amount)}"
    told = (row.ref, row.kind, f"{quantity} {row.unit}".strip(), row.where, row.mix, row.clauses, amount)
    return " | ".join((*filter(None, told), row.description))


def _said(value: object) -> str:
    if isinstance(value, Drawing):
        return f"[drawing] {value.alt}"
    if isinstance(value, list | tuple):
        return " / ".join(map(str, value))
    return "" if value is None else str(value)


# --- the record -------------------------------------------------------------------------------------------

# Digests of files and versions: they change with layout and with the library's comments.
_OF_FILES: Final = ("files", "library", "program")
# Other processors may resample by a level more or less.
_OF_PIXELS: Final = ("sha256", "pixels_sha256")
_SHORT: Final = 8


def record_text(found: Job) -> str:
    """The record of a job: answers, findings and figures as they stand, a clause a line, reasons as short digests."""
    data = in_full(record(found, "answers.yaml", b"", {}))
    for key in _OF_FILES:
        del data[key]
    data["answers"] = data["answers"]["given"]
    shown = data.get("photographs", [])
    data["photographs"] = [{key: value for key, value in one.items() if key not in _OF_PIXELS} for one in shown]
    data["clauses"] = {clause["id"]: _clause(clause) for clause in data["clauses"]}
    data["works"] = {_place(work): _work(work["values"]) for work in data["works"]}
    data["items"] = [{key: value for key, value in item.items() if key != "key"} for item in data["items"]]
    data["considered"] = [{**item, "because": _digest(item["because"])} for item in data["considered"]]
    data["mixes"] = [{**mix, "reasons": _digest(mix["reasons"])} for mix in data["mixes"]]
    return listing(data)


def _place(data: Mapping[str, str]) -> str:
    return "/".join(data[level] for level in ("element", "work"))


def _clause(clause: Mapping[str, Any]) -> str:
    number, walls = clause["number"] or "no number", ", ".join(clause["elements"])
    inside = f"in{f' for {walls}' if walls else ''}" if clause["included"] else "out"
    return f"{number}, {inside}, facts {_digest(clause['facts'])}, values {_digest(clause['values'])}"


def _work(values: Mapping[str, Any]) -> dict[str, str]:
    return {
        name: f"{held['value']} ({held['reason']['rule']}, reason {_digest(held['reason'])})"
        for name, held in values.items()
    }


def _digest(data: object) -> str:
    return hashlib.sha256(repr(data).encode()).hexdigest()[:_SHORT]


# --- an addendum ------------------------------------------------------------------------------------------


def addendum_text(old: Job, new: Job) -> str:
    """The addendum between two issues."""
    one, two = (Issued(Path("record.json"), record(found, "answers.yaml", b"", {})) for found in (old, new))
    return document_text(addendum(compare(one, two), telling(), new.paper("addendum"), 1))


def write(folder: Path, texts: Golden) -> None:
    """Replaces the golden files of a folder; those of papers that are no more are taken away."""
    for path in sorted(folder.rglob("*.txt")):
        if path.relative_to(folder).as_posix() not in texts:
            path.unlink()
    for name, text in texts.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    for answers in EXAMPLES:
        write(answers.parent / FOLDER, golden(answers))
