"""The pricing schedule, once as tables of the specification and once as the workbook's book."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import accumulate
from typing import Final

from generator.document.model import (
    LINE_ANCHOR,
    LINE_NUMBERS,
    Block,
    Heading,
    Inlines,
    ListBlock,
    Mark,
    Paragraph,
    PricedRow,
    PricedSection,
    PricingBook,
    Row,
    Strong,
    Text,
    Value,
    joined,
    plain_text,
)
from generator.document.template import PaperPart, filled
from generator.job.job import Job, words
from generator.library.properties import Material, Package
from generator.measure.causes import walls_of_causes
from generator.measure.made_for_it import FILLINGS
from generator.measure.model import Item, ItemSection, MaterialLine
from generator.measure.quantities import is_scattered
from generator.papers.costs import cost_rows
from generator.papers.making import Makers, clause_refs, made, mixes_told, place_told, row
from generator.questionnaire.facts import View
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Customs, Range, plain, spoken

_SCATTERED: Final = "scattered"
"""The rule for joints which lie apart."""

_SHARES: Final = "scattered-shares"
_ACCESS_SHARED: Final = "access-shared"
"""The rule for those of a wall of which nobody can say how much joint is in a square metre."""

_SHORT: Final = 60
"""The characters of a text that stands wherever it is said: to look it up would take longer."""

_SHORT_RUN: Final = 15
"""The characters of clauses that stand on one line of their column."""

_BEGINNING: Final = 30
"""The most characters of its beginning that tell what a line is about."""

_SHORT_WORD: Final = 3
_MOST_WALLS: Final = 6

_OF_REPOINTING: Final = ("treated", "apart", "deep")
_OF_KINDS: Final = {"provisional": ("provisional",), "rate only": ("rates",), "sum": ("sums", "undefined")}
"""The rules of one work, and of lines of each kind."""


def schedule_blocks(job: Job, part: PaperPart) -> Iterator[Block]:
    """The measured schedule as the last part of the specification."""
    yield Heading(1, words(part.heading), anchor="front:schedule")
    yield from made(job, part.parts, _SCHEDULE)


def _incomplete(job: Job, part: PaperPart) -> Iterator[Block]:
    if any(item.to_follow for item in job.measured.items()):
        yield Paragraph(words(part.text), "lead")


def rules_told(job: Job, part: PaperPart) -> tuple[Block, ...]:
    """The rules of measurement under their heading, in one list."""
    return _under_their_heading(part, rules(job))


def rules_in_columns(job: Job, part: PaperPart) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """The rules of measurement under their heading: what stands in the left column, and in the right."""
    told = rules(job)
    lengths = list(accumulate(map(len, told), initial=len(part.text)))
    half = min(range(1, len(told)), key=lambda at: max(lengths[at], lengths[-1] - lengths[at]), default=len(told))
    right = tuple(map(words, told[half:]))
    return _under_their_heading(part, told[:half]), (ListBlock(right, small=True),) if right else ()


def _under_their_heading(part: PaperPart, told: Sequence[str]) -> tuple[Block, ...]:
    head = (Heading(1, words(part.heading), anchor="front:rules"), Paragraph(words(part.text), "small"))
    return (*head, ListBlock(tuple(map(words, told)), small=True))


def rules(job: Job) -> tuple[str, ...]:
    """The rules of measurement in force: those of which something is measured, or lines are of that kind."""
    threshold = job.facts.spoken(PROJECT, "opening_deducted_over_m2")
    run = spoken(job.library.row("scattered-joints").number("least_run_mm"), "mm", job.facts.spelling)
    idle = _idle(job)
    told = job.paper("pricing-schedule").part("rules").lines.items()
    return tuple(filled(rule, threshold=threshold, least_run=run) for key, rule in told if key not in idle)


def _idle(job: Job) -> set[str]:
    """The rules of which this job measures nothing: joints that lie apart, repointing, kinds of line."""
    works = job.facts.views("work")
    counted = [here.number("joint_length_m_per_m2") is not None for here in works if is_scattered(here)]
    is_pointed = any(here.text("work") == "repoint" for here in works)
    kinds = {item.kind for item in job.measured.items()}
    used = {_SCATTERED: any(counted), _SHARES: not all(counted), **dict.fromkeys(_OF_REPOINTING, is_pointed)}
    used[_ACCESS_SHARED] = any(wall.known("access_host") for wall in job.facts.views("element"))
    used |= {key: kind in kinds for kind, keys in _OF_KINDS.items() for key in keys}
    return {key for key, is_used in used.items() if not is_used}


def _lines(job: Job, part: PaperPart) -> Iterator[Block]:
    """The lines as one table, those of each section under its title; of one wall nothing else says where they are."""
    rows: list[Row] = []
    places = len(job.facts.at("element")) > 1
    said: dict[str, str] = {}
    for section in job.measured.sections:
        drawings = job.facts.spoken(section.path, "drawing_refs") if section.path else ""
        title = f"{section.number} {section_title(job, section)}{f' ({drawings})' if drawings else ''}"
        rows.append(Row((words(title), *(() for _ in part.columns[1:])), "group"))
        rows += [_row(job, part, item, said, place=places and not section.path) for item in section.items]
    if rows:
        yield part.table(rows, "table:lines")


def section_title(job: Job, section: ItemSection) -> str:
    """The title of a section: the element's name, or the library's word for the group."""
    return job.facts.scopes[section.path[:1]].title if section.path else job.word(f"group-{section.key}")


def _row(job: Job, part: PaperPart, item: Item, said: dict[str, str], *, place: bool) -> Row:
    """A line of the schedule; `place` leads its words with the wall where neither they nor the section say it."""
    is_placed = place and item.path and not _is_of_mix(job, item)
    lead: Inlines = (*place_told(job, item.path), Text(": ")) if is_placed else ()
    own = {
        "item": (Mark(f"{LINE_ANCHOR}{item.ref}", item.ref),),
        "description": (*lead, *_kind_led(job, part, item), *_once(job, item, said)),
        "mix": mixes_told(filter(None, item.mix.split(", "))),
        "clauses": _clauses_once(job, item, said),
        "kind": words(kind_word(job, item)),
        "quantity": _quantity(job, item),
        "unit": words(item.unit),
    }
    return row(job, part, item.path, own)


def _once(job: Job, item: Item, said: dict[str, str]) -> Inlines:
    """A line's words; what a line before it says at length, all of it or what its rate includes, by that line.

    `said` are the words of the lines before, by which each was first said.
    """
    whole = description(job, item)
    if (first := _first_said(plain_text(whole), item, said)) != item.ref:
        return job.told("rate-same", begins=Text(_beginning(plain_text(whole))), line=_line_ref(first))
    if item.entry.includes:
        included = plain_text(job.filling.line("item", item.entry.id, "includes", item.path))
        if (first := _first_said(included, item, said)) != item.ref:
            text = job.filling.line("item", item.entry.id, "description", item.path)
            return (*text, Text(" "), *job.told("rate-includes-same", line=_line_ref(first)))
    return whole


def _clauses_once(job: Job, item: Item, said: dict[str, str]) -> Inlines:
    """The clauses of a line; those that a line before it names too, by that line where they are longer than it."""
    refs = clause_refs(job, job.library.duties[item.entry.id], item.path)
    first = _first_said(plain_text(refs), item, said, _SHORT_RUN)
    return refs if first == item.ref else job.told("rate-clauses-same", line=_line_ref(first))


def _first_said(text: str, item: Item, said: dict[str, str], short: int = _SHORT) -> str:
    """The line that first said a text; the line itself where that is short."""
    return said.setdefault(text, item.ref) if len(text) > short else item.ref


def _beginning(text: str) -> str:
    """As many of the first words of a text as tell what it is about; the last of them is no short one."""
    told = text[:_BEGINNING].split(" ")[:-1]
    while len(told) > 1 and len(told[-1]) <= _SHORT_WORD:
        told.pop()
    return " ".join(told).rstrip(",;:")


def _line_ref(ref: str) -> Value:
    return Value(LINE_NUMBERS, PROJECT, ref)


def _kind_led(job: Job, part: PaperPart, item: Item) -> Inlines:
    """How a line stands, before its words, where it is not firm and no column says so."""
    shown = any(column.shows == "kind" for column in part.columns)
    return () if shown or item.kind == "firm" else (Strong(words(f"{kind_word(job, item)}.")), Text(" "))


def _quantity(job: Job, item: Item) -> Inlines:
    """A quantity as a value where it was reckoned or answered, as words where the library fixes it.

    Of a sum it is the client's amount with its currency, of a rate-only line what is notional, in brackets.
    """
    if item.amount is not None:
        return words(f"{job.said('currency')}\u00a0{spoken(item.amount)}")
    if item.notional is not None:
        return words(f"({plain(item.notional)})")
    text, name = "" if item.quantity is None else plain(item.quantity), item.entry.quantity
    return (Value(name, item.path, text),) if name in job.facts.names else words(text)


def kind_word(job: Job, item: Item) -> str:
    """How a line stands: firm, provisional, rate only …, or rate only with its quantity to follow."""
    kind = "sum_open" if item.is_open_sum else item.kind.replace(" ", "_")
    word = job.library.words[f"workbook-kind_{kind}"]
    return f"{word}; {job.word('quantity-to-follow')}" if item.to_follow else word


def _is_of_mix(job: Job, item: Item) -> bool:
    """Whether a line is one for each mix: its words tell where that goes."""
    return bool(item.path) and job.facts.scopes[item.path].level == "mix"


def where(job: Job, item: Item) -> str:
    """Where a line's work lies, with its drawings; of a cause, or of one for each mix, the walls that it goes to."""
    if not item.path:
        return _first_walls(job, _of_cause(job, item))
    if _is_of_mix(job, item):
        return _first_walls(job, job.facts.spoken(item.path, "mix_walls").split("; "))
    return _drawn(job, item.path, job.filling.place(item.path))


def _drawn(job: Job, path: ScopePath, place: str) -> str:
    refs = job.facts.spoken(path, "drawing_refs")
    return f"{place} ({refs})" if refs else place


def _of_cause(job: Job, item: Item) -> list[str]:
    """The walls of the cause that a sum of the project is for."""
    found: dict[str, list[View]] = job.kept("walls of causes", lambda: walls_of_causes(job.facts))
    named = (walls for name, walls in found.items() if name in item.entry.description)
    return [job.facts.title(wall.path) for wall in next(named, [])]


def _first_walls(job: Job, told: Sequence[str]) -> str:
    """As many walls as a cell holds, each with its drawings; the words of the line tell all of them."""
    paths: dict[str, ScopePath] = job.kept(
        "walls by title", lambda: {job.facts.title(wall.path): wall.path for wall in job.facts.views("element")}
    )
    found = [(one, paths.get(one) or paths.get(one.partition(": ")[0])) for one in told[:_MOST_WALLS]]
    walls = [_drawn(job, path, one) if path else one for one, path in found]
    return "; ".join([*walls, "…"] if len(told) > _MOST_WALLS else walls)


def description(job: Job, item: Item) -> Inlines:
    """A line's words, the same in specification, workbook and record: what is done, and what the rate includes."""
    found: Inlines = job.kept(f"description:{item.ref}", lambda: _described(job, item))
    return found


def _described(job: Job, item: Item) -> Inlines:
    text = job.filling.line("item", item.entry.id, "description", item.path)
    if not item.entry.includes:
        return text
    included = job.filling.line("item", item.entry.id, "includes", item.path)
    return (*text, Text(f" {job.word('rate-includes')} "), *included)


def materials(job: Job, part: PaperPart, *_: object) -> Iterator[Block]:
    """What is bought for all mixes, behind the table of these; nothing where no mix is settled."""
    if job.measured.materials:
        yield Heading(1, words(part.heading), anchor="front:materials")
        yield Paragraph(words(part.text), "small")
        rows = (_material_row(job, part, line) for line in job.measured.materials)
        yield part.table(rows, "table:materials")


def _material_row(job: Job, part: PaperPart, line: MaterialLine) -> Row:
    """A material: what each mix takes of it, all together, and the packages, made up once for the sum."""
    material = line.material
    name = (
        line.name
        if not line.grain_mm
        else job.library.phrase(
            "sand-to-grain",
            sand=line.name,
            grain=spoken(line.grain_mm, "mm", job.facts.spelling, Customs("sieve")),
        )
    )
    ordered = " + ".join(_packages(job, count, package) for count, package in line.order)
    own = {
        "material": words(name),
        "by-mix": joined((_by_mix(job, mix, amount, material) for mix, amount in line.uses), "; "),
        "amount": words(_amount(job, line.amount, material, up=True)),
        "order": words(", ".join(filter(None, (ordered, material.delivered)))),
    }
    return row(job, part, PROJECT, own)


def _packages(job: Job, count: Decimal, package: Package) -> str:
    """So many of a package, with what one holds."""
    called = package.name if count == 1 else package.plural
    holds = spoken(package.holds, package.unit, job.facts.spelling, Customs("gallons"))
    # what is sold in customary units is called by its size
    each = called if job.facts.spelling.chooses else job.library.phrase("package-of", package=called, holds=holds)
    number = job.word("package-count", count=plain(count)) if each[:1].isdigit() else plain(count)
    return f"{number} {each}"


def _by_mix(job: Job, mix: str, amount: Range[float], material: Material) -> Inlines:
    none = not job.facts.spelling.ordered(amount.high, material.package.unit)  # a little is no nothing
    taken = Text(f" {_amount(job, amount, material, up=none)}")
    return (Text(job.word("for-fillings")), taken) if mix == FILLINGS else (Value("mix_ref", (mix,), mix), taken)


def _amount(job: Job, amount: Range[float], material: Material, *, up: bool = False) -> str:
    """What is taken, low to high; with `up` its high is what packages are made up for, and told no lower."""
    spelling, unit = job.facts.spelling, material.package.unit
    low, high = spelling.ordered(amount.low, unit), spelling.ordered(amount.high, unit, up=up)
    low = high if amount.low == amount.high else low
    return spoken(Range(low, low, high), unit, spelling, Customs("gallons"))


_SCHEDULE: Final[Makers] = {"incomplete": _incomplete, "lines": _lines}

# --- the workbook's book ----------------------------------------------------------------------------------


def pricing_book(job: Job) -> PricingBook:
    """The same lines as the schedule in the specification, for the contractor to price."""
    fixed = {
        key.removeprefix("workbook-"): text for key, text in job.library.words.items() if key.startswith("workbook-")
    }
    fixed["tax_note"] = job.said("tax_note")
    sections = tuple(
        PricedSection(
            str(section.number),
            section_title(job, section),
            tuple(_priced(job, item) for item in section.items),
        )
        for section in job.measured.sections
    )
    complete = not any(item.to_follow for item in job.measured.items())
    identity = job.identity(job.paper("pricing-schedule").title)
    contract_open = not job.facts.at_scope(PROJECT).known("contract_form")
    costs = cost_rows(job)
    return PricingBook(identity, job.said("currency"), sections, fixed, rules(job), complete, costs, contract_open)


def _priced(job: Job, item: Item) -> PricedRow:
    text = plain_text(description(job, item))
    return PricedRow(
        item.ref,
        text,
        where(job, item),
        item.mix,
        job.clause_numbers(job.library.duties[item.entry.id], item.path),
        item.unit,
        item.quantity,
        item.kind,
        line_key(item, text),
        item.amount,
        item.notional,
    )


def line_key(item: Item, text: str) -> str:
    """The key by which a returned line is matched: its rule and place, text, unit and quantity, hashed."""
    return key_of("/".join([item.entry.id, *item.path]), text, item.unit, item.quantity)


def key_of(place: str, text: str, unit: str, quantity: Decimal | None) -> str:
    """The hash of what makes a line that line."""
    spelt = "" if quantity is None else spoken(quantity)
    return hashlib.sha256(f"{place}|{text}|{unit}|{spelt}".encode()).hexdigest()[:16]
