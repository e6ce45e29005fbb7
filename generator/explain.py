"""Why a thing is in the papers, or why it is not: for an element, a mix, a clause, or the whole job."""

from __future__ import annotations

from typing import Any

from generator.document.job import Job
from generator.errors import Finding, did_you_mean
from generator.questionnaire.facts import ScopePath
from generator.record import clause_data, mix_data, work_data

Explanation = dict[str, Any]


def explain(job: Job, about: str) -> Explanation | None:
    """What there is to tell about an element, mix or clause; the whole job for ""; None for others."""
    if not about:
        return {
            "job": job.said("title"),
            "status": job.status,
            "elements": [_element(job, s.path) for s in job.facts.at("element")],
        }
    if (about,) in job.facts.scopes and job.facts.scopes[about,].level == "element":
        return _element(job, (about,))
    mix = next((item for item in job.decisions.mixes if item.ref.lower() == about.lower()), None)
    if mix is not None:
        return {"mix": mix.ref, **mix_data(job, mix)}
    return clause_data(job, about) if about in job.selections else None


def near(job: Job, about: str) -> str:
    """A hint naming the nearest thing that can be explained."""
    known = [scope.path[0] for scope in job.facts.at("element")] + [mix.ref for mix in job.decisions.mixes]
    return did_you_mean(about, [*known, *job.selections])


def _element(job: Job, path: ScopePath) -> Explanation:
    return {
        "element": path[0],
        "name": job.facts.scopes[path].title,
        "works": [work_data(job, work.path) for work in job.facts.inside(path, "work")],
        "considered": [
            {
                "where": "/".join(item.path),
                "binder": item.binder,
                "why_not": job.word(item.why_not),
                "because": item.because,
            }
            for item in job.decisions.considered
            if item.path[:1] == path
        ],
        "findings": [f"{item.level}: {item.message}" for item in job.findings if item.scope[:1] == path],
        "clauses": [
            f"{job.numbers[f'clause:{key}']} {key}"
            for key, chosen in job.selections.items()
            if _serves(chosen.paths, path)
        ],
    }


def _serves(paths: tuple[ScopePath, ...], path: ScopePath) -> bool:
    return any(item[:1] == path for item in paths)


def as_text(found: Explanation) -> str:
    """An explanation as indented lines."""
    return "".join(f"{line}\n" for line in _indented(found, 0))


def _indented(value: Any, depth: int) -> list[str]:
    pad = "  " * depth
    if isinstance(value, dict):
        lines: list[str] = []
        for key, inner in value.items():
            if inner in ("", None, [], {}):
                continue
            if isinstance(inner, dict | list):
                lines += [f"{pad}{key}:", *_indented(inner, depth + 1)]
            else:
                lines.append(f"{pad}{key}: {_one_line(inner)}")
        return lines
    if isinstance(value, list):
        lines = []
        for item in value:
            inner_lines = (
                _indented(item, depth + 1) if isinstance(item, dict | list) else [f"{pad}  {_one_line(item)}"]
            )
            lines += [f"{pad}- {inner_lines[0].strip()}", *inner_lines[1:]] if inner_lines else []
        return lines
    return [f"{pad}{_one_line(value)}"]


def _one_line(value: Any) -> str:
    return str(value).replace("\n", " / ")


def findings_text(job: Job, *, notes: bool = True) -> str:
    """The status, and each finding once, with what to do, who must answer, each place and the lines it rests on there.

    Without `notes`, those are counted alone.
    """
    lines = [job.word(f"status-{job.status}")]
    alike: dict[tuple[str, ...], list[Finding]] = {}
    for item in job.findings:
        if notes or item.level != "note":
            alike.setdefault((item.level, item.code, item.message, item.action, item.answer_by), []).append(item)
    for (level, code, message, action, answer_by), items in alike.items():
        lines.append(f"{level}: {message} [{code}]")
        if level != "note":
            lines.append(f"    {action} ({job.word('answer-by', who=answer_by)})")
        lines += [f"    {_place(job, item)}" for item in items]
    left = {item.code for item in job.findings if item.level == "note"}
    if left and not notes:
        lines.append(job.word("notes-left", count=str(len(left))))
    return "".join(f"{line}\n" for line in lines)


def _place(job: Job, item: Finding) -> str:
    """Where a finding is, with the lines of the answers that it rests on."""
    place = job.filling.place(item.scope) if item.scope else job.word("whole-job")
    found = sorted((mark for mark in item.marks if mark.line), )
    if not found:
        return place
    return f"{place}: {', '.join([str(found[0]), *(f'{mark.line}:{mark.column}' for mark in found[1:])])}"
