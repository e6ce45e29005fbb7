"""The record of a run: what was decided, with which words, and why; later commands need nothing more."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Any, Final

from generator import __version__
from generator.decide.model import Mix, Reason
from generator.document.model import ClauseBlock, Value, plain_text
from generator.document.outline import block_text, values_of
from generator.files.archive import sha256
from generator.job.job import Job, grouped
from generator.library.entries import clause_hash
from generator.library.findings import Finding
from generator.measure.model import DayFacts, Item, MaterialLine, MixSheetFacts, decimal
from generator.papers.parts import clauses, used_sources
from generator.papers.schedule import description, line_key
from generator.questionnaire.scopes import ScopePath
from generator.record.once import Once, rule_data
from generator.record.photographs import photographs_data
from generator.record.programme import place_data, programme_data
from generator.record.told_values import ToldValues
from generator.record.tried import tried
from generator.values import Range, plain

SCHEMA: Final = 2
_SPELLER: Final = json.JSONEncoder(sort_keys=True, ensure_ascii=False)
# What an issue says of itself.
_ISSUE: Final = ("title", "place", "reference", "revision", "specifier", "specifier_contact")


def record(job: Job, answers_name: str, answers_raw: bytes, files: Mapping[str, bytes]) -> dict[str, Any]:
    """The record as plain data, ready to be written; `files` are all that is written with it, which it vouches for.

    What many entries tell is held once and told by its number (`once.TABLES`).
    An office program never makes the same PDF twice, so a record that lists PDF files differs from run to run.
    """
    once = Once()
    told = ToldValues(job, once.reasoned)
    data = {
        "schema": SCHEMA,
        "program": __version__,
        "status": job.status,
        "files": [{"name": name, "sha256": sha256(data)} for name, data in sorted(files.items())],
        "answers": {
            "name": answers_name,
            "sha256": sha256(answers_raw),
            "given": _given(job),
            "text": answers_raw.decode(),
        },
        "library": _library(job),
        "issue": _issue(job),
        "findings": _findings(job, once),
        "mixes": [{**_mix(job, mix), "reasons": _mix_reasons(job, mix, once)} for mix in job.decisions.mixes],
        "considered": _considered(job, once),
        "elements": [{**place_data(wall.path), "values": told.at(wall.path)} for wall in job.facts.at("element")],
        "works": [{**place_data(work.path), "values": told.of_work(work.path)} for work in job.facts.at("work")],
        "items": [item_data(job, item) for item in job.measured.items()],
        "materials": [material_data(line) for line in job.measured.materials],
        "batches": [_batch(job, made) for made in job.measured.batches],
        "sheets": [[mix.ref for mix in job.decisions.mixes]],
        "programme": programme_data(job),
        "clauses": _clauses(job, once),
        "references": sorted(used_sources(job)),
        "numbers": dict(job.numbers),
        **({"photographs": photographs_data(job)} if job.photographs else {}),
    }
    return {**data, **once.data()}


def _considered(job: Job, once: Once) -> list[dict[str, Any]]:
    """What was weighed for each coat and not taken, and why."""
    return [
        {
            **place_data(item.path),
            "recipe": item.binder,
            "why_not": once.text(job.word(item.why_not)),
            "because": once.text(item.because),
        }
        for item in job.decisions.considered
    ]


def _issue(job: Job) -> dict[str, str]:
    """What the issue says of itself, and how its papers are set out."""
    identity = job.identity()
    set_out = {name: getattr(identity, name) for name in ("date", "language", "paper", "date_form")}
    return {name: job.said(name) for name in _ISSUE} | set_out


def _library(job: Job) -> dict[str, Any]:
    layers = job.library.layers
    return {
        "name": job.library.name,
        "edition": job.library.edition,
        "sha256": [job.library.digest, *(layer.digest for layer in layers)],
        "layers": [{"name": layer.name, "edition": layer.edition, "sha256": layer.digest} for layer in layers],
    }


def findings_data(job: Job) -> list[dict[str, Any]]:
    """The findings as plain data."""
    return [_finding(item) for item in job.findings]


def dumped(data: Mapping[str, Any]) -> bytes:
    """The record as bytes: sorted keys, a line for each entry of a list or mapping, UTF-8."""
    # line by line: a large record takes many times its room as text, and a tenth of the run with indents
    stream = io.BytesIO()
    for number, key in enumerate(sorted(data)):
        stream.write(f"{',' if number else '{'}\n {_json(key)}: ".encode())
        for piece in _entries(data[key]):
            # a name that is no text, such as that of an answers file, is spelt as JSON can spell it
            stream.write(piece.encode(errors="backslashreplace"))
    stream.write(b"\n}\n")
    return stream.getvalue()


def _entries(value: Any) -> Iterator[str]:
    if isinstance(value, list) and value:
        yield from _lines("[", map(_json, value), "]")
    elif isinstance(value, dict) and value:
        yield from _lines("{", (f"{_json(key)}: {_json(value[key])}" for key in sorted(value)), "}")
    else:
        yield _json(value)


def _lines(before: str, entries: Iterable[str], after: str) -> Iterator[str]:
    for number, entry in enumerate(entries):
        yield f"{',' if number else before}\n  {entry}"
    yield f"\n {after}"


def _json(value: Any) -> str:
    return _SPELLER.encode(value)


def _given(job: Job) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {}
    for path, name, held in job.facts.every():
        if held.origin in ("given", "default"):
            found.setdefault("/".join(path), {})[name] = (
                job.facts.say(name, held.value) if name in job.facts.names else str(held.value)
            )
    return found


def _findings(job: Job, once: Once) -> list[dict[str, Any]]:
    """The findings, those alike once with each of their places, the facts there and the lines that they rest on."""
    return [
        {**_words_of(alike[0]), "at": [{**_at(item), "facts": once.all_texts(item.facts)} for item in alike]}
        for alike in grouped(job.findings, lambda item: item.words).values()
    ]


def _finding(item: Finding) -> dict[str, Any]:
    return {**_words_of(item), **_at(item), "facts": list(item.facts)}


def _words_of(item: Finding) -> dict[str, Any]:
    return {
        "level": item.level,
        "code": item.code,
        "message": item.message,
        "action": item.action,
        "instruction": item.instruction,
        "answer_by": item.answer_by,
        "sources": list(item.sources),
    }


def _at(item: Finding) -> dict[str, Any]:
    return {"scope": list(item.scope), "lines": [mark.line for mark in item.marks]}


def reason_data(reason: Reason) -> dict[str, Any]:
    """A reason as plain data."""
    return {**rule_data(reason), "facts": list(reason.facts)}


def mix_data(job: Job, mix: Mix) -> dict[str, Any]:
    """A mix with its figures, where it goes, and why."""
    return {**_mix(job, mix), "reasons": [reason_data(reason) for reason in _binder_reasons(job, mix)]}


def _mix(job: Job, mix: Mix) -> dict[str, Any]:
    made = next((item for item in job.measured.batches if item.mix is mix), None)
    recipe = mix.recipe
    return {
        "ref": mix.ref,
        "name": mix.name,
        "binder": recipe.binder,
        "form": recipe.lime,
        "recipe": recipe.id,
        "parts": _batch(job, made) if made else {},
        "ratio": plain(recipe.ratio.chosen),
        "basis": recipe.basis,
        "ratio_range": [plain(recipe.ratio.low), plain(recipe.ratio.high)],
        "dry_sand_ratio": _spread(made.dry_ratio) if made else None,
        "equivalent": _spread(made.putty_ratio) if made and made.putty_ratio else None,
        "sand": recipe.sand,
        "max_grain_mm": plain(mix.grain_mm),
        "pozzolan": recipe.pozzolan,
        "hair_kg_per_m3": plain(mix.hair_kg_per_m3),
        **({"colour": mix.colour} if mix.colour else {}),
        "used_for": [place_data(path) for path in mix.used_for],
    }


def _mix_reasons(job: Job, mix: Mix, once: Once) -> list[dict[str, Any]]:
    """Why a mix was taken, each reason once."""
    return [once.reasoned(reason) for reason in dict.fromkeys(_binder_reasons(job, mix))]


def _binder_reasons(job: Job, mix: Mix) -> Iterator[Reason]:
    """Why a mix was taken for each of the coats that it is for."""
    found = (job.decisions.reasons.get((path, "binder")) for path in dict.fromkeys(mix.used_for))
    return (reason for reason in found if reason)


def _spread(value: Range[Decimal]) -> list[str]:
    return [plain(value.low), plain(value.likely), plain(value.high)]


def work_data(job: Job, path: ScopePath) -> dict[str, Any]:
    """Every value worked out for a work, its element and its coats, each with its reason."""
    told = ToldValues(job, _reasoned)
    return {**place_data(path), "values": told.at(path[:1]) | told.of_work(path)}


def _reasoned(reason: Reason) -> dict[str, Any]:
    return {"reason": reason_data(reason)}


def item_data(job: Job, item: Item) -> dict[str, Any]:
    """A line to price as plain data."""
    text = plain_text(description(job, item))
    return {
        "ref": item.ref,
        "rule": item.entry.id,
        **place_data(item.path),
        "mix": item.mix,
        "clauses": [key for key in job.library.duties[item.entry.id] if job.in_papers(key)],
        "description": text,
        "unit": item.unit,
        "quantity": None if item.quantity is None else str(item.quantity),
        "kind": item.kind,
        "to_follow": item.to_follow,
        "amount": None if item.amount is None else str(item.amount),
        "key": line_key(item, text),
    }


def material_data(line: MaterialLine) -> dict[str, Any]:
    """What is ordered for all mixes: the amount with its range, each mix's part, and whole packages of the high."""
    return {
        "material": line.material.id,
        "name": line.name,
        "max_grain_mm": None if line.grain_mm is None else plain(line.grain_mm),
        "part": line.parts,
        "amount": _tenths(line.amount),
        "by_mix": [{"mix": mix, "amount": _tenths(amount)} for mix, amount in line.uses],
        "unit": line.material.package.unit,
        "order": [{"packages": plain(count), "package": package.name} for count, package in line.order],
    }


def _tenths(value: Range[float]) -> list[str]:
    return [f"{end:.1f}" for end in (value.low, value.likely, value.high)]


def _batch(job: Job, made: MixSheetFacts) -> dict[str, Any]:
    unit = job.facts.spelling.jug if made.by_jug else "boxes"
    sands = zip(made.sands, made.sand_counts, strict=True)
    return {
        "mix": made.mix.ref,
        "measure": made.made.batch.measure,
        f"lime_{unit}": plain(made.lime),
        f"sand_{unit}": plain(sum(made.sand_counts, Decimal(0))),
        "sands": [{"name": name, unit: plain(count)} for (name, _), count in sands] if len(made.sands) > 1 else [],
        "pozzolan_l": None if made.made.pozzolan_l is None else f"{made.made.pozzolan_l:.1f}",
        "hair_g": None if made.made.hair_g is None else str(made.made.hair_g),
        "doses_for": ("box" if made.keeps else "batch") if made.made.pozzolan_l or made.made.hair_g else None,
        "makes_l": _spread(made.batch_l),
        "batches": _spread(made.batches),
        "covers": job.facts.spoken(made.mix.path, "mix_covers") or None,
        **({"filling": job.facts.spoken(made.mix.path, "mix_filling_boxes")} if made.made.filling else {}),
        "panel": job.facts.spoken(made.mix.path, "mix_panel_boxes") or None,
        "vessel_l": None if made.made.vessel_l is None else f"{made.made.vessel_l:.0f}",
        "days": [_day(day) for day in made.made.days],
        "goes": {name: _tenths(litres) for name, litres in made.goes.items()},
        "heat_mj": plain(made.heat_mj) if made.heat_mj is not None else None,
        "steam_l": plain(made.steam_l) if made.steam_l is not None else None,
        "water_l": plain(made.water_l) if made.water_l is not None else None,
        "room_l": plain(made.room_l) if made.room_l is not None else None,
    }


def _day(day: DayFacts) -> dict[str, Any]:
    """A work's day: how many of them, what it takes, what is made or drawn for it, and what is left at its end."""
    return {
        **place_data(day.path),
        **({"task": day.task} if day.task else {}),
        "days": day.days,
        "takes_l": f"{day.takes_l:.1f}",
        "of": day.of,
        "a_day": plain(decimal(day.a_day)),
        "left_l": f"{day.left_l:.1f}",
        "left_goes": day.left_goes,
        **({"mixers": day.mixers_nr} if day.mixers_nr > 1 else {}),
    }


def _clauses(job: Job, once: Once) -> list[dict[str, Any]]:
    """Every clause of the library: where it is in and why, and the words of those that are."""
    texts = _clause_blocks(job)
    return [{**_clause(job, key, texts.get(key)), "facts": _tried(job, key, once)} for key in job.selections]


def _tried(job: Job, key: str, once: Once) -> list[dict[str, Any]]:
    found = tried(job, job.selections[key])
    return [
        {"scopes": once.scopes(one.scopes), "holds": one.holds, "facts": once.all_texts(one.facts)} for one in found
    ]


def _clause_blocks(job: Job) -> dict[str, ClauseBlock]:
    return {block.clause_id: block for part in job.parts for block in clauses(job, part)}


def clause_data(job: Job, key: str) -> dict[str, Any]:
    """One clause: where it is in, the facts it was tried by, and its words if it is in."""
    found = (
        {"scopes": list(map(list, one.scopes)), "holds": one.holds, "facts": list(one.facts)}
        for one in tried(job, job.selections[key])
    )
    return {**_clause(job, key, _clause_blocks(job).get(key)), "facts": list(found)}


def _clause(job: Job, key: str, block: ClauseBlock | None) -> dict[str, Any]:
    selection, origin = job.selections[key], job.library.origin(key)
    values: list[Value] = values_of(block) if block else []
    return {
        "id": key,
        "number": job.numbers.get(f"clause:{key}"),
        "edition": origin.edition,
        "layer": origin.layer,
        "wording": clause_hash(selection.clause),
        "included": selection.included,
        "elements": list(dict.fromkeys(path[0] for path in selection.paths if path)),
        "text": block_text(block) if block else "",
        "values": [{"name": value.name, "scope": list(value.scope), "text": value.text} for value in values],
    }
