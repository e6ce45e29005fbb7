"""Why a thing is in the papers, or why it is not: for an element, a mix, a clause, or the whole job."""

from __future__ import annotations

from typing import Any

from generator.document.job import Job
from generator.errors import did_you_mean
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


def findings_text(job: Job) -> str:
    """The status, and each finding with what to do, who must answer, and the lines it rests on."""
    lines = [job.word(f"status-{job.status}")]
    for item in job.findings:
        place = job.filling.place(item.scope) if item.scope else job.word("whole-job")
        lines.append(f"{item.level}: {place}: {item.message} [{item.code}]")
        if item.level != "note":
            lines.append(f"    {item.action} ({job.word('answer-by', who=item.answer_by)})")
        lines += [f"    {mark}" for mark in item.marks if mark.line]
    return "".join(f"{line}\n" for line in lines)
