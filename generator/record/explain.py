"""Why a thing is in the papers, or why it is not: an element, a mix, a line, a clause, a task, or the whole job."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from generator.decide.model import Mix
from generator.files.errors import few_near
from generator.job.job import Job
from generator.library.findings import Finding
from generator.library.properties import Material
from generator.measure.air_lime import carbonated, putty_taken
from generator.measure.carbon import carbon_per_m3
from generator.measure.model import Item, MaterialLine
from generator.questionnaire.scopes import Held, ScopePath
from generator.record.figures import figure_data
from generator.record.how import reason_of
from generator.record.photographs import photograph_data
from generator.record.programme import programme_told, task_told
from generator.record.record import clause_data, item_data, material_data, mix_data, reason_data, work_data
from generator.values import Range, plain, rounded, spoken

Explanation = dict[str, Any]
PROGRAMME: Final = "programme"


def explain(job: Job, about: str) -> Explanation | None:
    """What there is to tell about an element, mix, line, photograph, clause, task, figure, the programme or the job."""
    if about == PROGRAMME:
        return programme_told(job)
    if not about:
        return {
            "job": job.said("title"),
            "status": job.status,
            "elements": [_element(job, s.path) for s in job.facts.at("element")],
        }
    if job.facts.is_wall((about,)):
        return _element(job, (about,))
    mix = next((item for item in job.decisions.mixes if item.ref.lower() == about.lower()), None)
    if mix is not None:
        return _mix(job, mix)
    line = next((item for item in job.measured.items() if item.ref == about), None)
    if line is not None:
        return _line(job, line)
    photograph = next((item for item in job.photographs if item.id.lower() == about.lower()), None)
    if photograph is not None:
        return {"photograph": photograph.id, **photograph_data(photograph)}
    if about in job.selections:
        return clause_data(job, about)
    printed = _as_printed(job, about)
    if printed is not None:
        return printed
    return task_told(job, about) or figure_data(job, about)


def _as_printed(job: Job, about: str) -> Explanation | None:
    """A wall by its name, a value by its label, or a clause by its number with or without the word before; else None.

    A number alone that a line of the schedule has too is that line's.
    """
    spelt = " ".join(about.lower().split())
    wall = next((scope for scope in job.facts.at("element") if scope.title.lower() == spelt), None)
    if wall is not None:
        return _element(job, wall.path)
    named = next((name for name, entry in job.facts.names.items() if entry.label.lower().rstrip("?") == spelt), "")
    if named:
        return figure_data(job, named)
    number = spelt.removeprefix("clause ").upper()
    key = next((key for key, held in job.numbers.items() if key.startswith("clause:") and held == number), "")
    return clause_data(job, key.removeprefix("clause:")) if key.removeprefix("clause:") in job.selections else None


def near(job: Job, about: str) -> str:
    """A hint naming what can be explained and is nearest to a word, or holds it."""
    known = [scope.path[0] for scope in job.facts.at("element")] + [mix.ref for mix in job.decisions.mixes]
    known += [*(photograph.id for photograph in job.photographs), *job.library.figures, *job.facts.names]
    known += [scope.title for scope in job.facts.at("element")]
    known += [item.ref for item in job.measured.items()] + [task.key for task in job.programme.tasks()]
    known += [entry.label for entry in job.facts.names.values()]
    return few_near(about, [PROGRAMME, *known, *job.selections])


def _mix(job: Job, mix: Mix) -> Explanation:
    """A mix with why its recipe is what it is, how each of its figures came about, and what is ordered for it."""
    recipe = mix.recipe
    made = next(item for item in job.measured.batches if item.mix is mix)
    lost = spoken(job.library.row("quantity-waste", making=recipe.making).number("dropped_per_cent"), "%")
    goes = {name: spoken(litres.each(rounded), "l") for name, litres in made.goes.items()}
    told = {name: held for name, held in job.facts.values[mix.path].items() if job.library.reckoned[name].how}
    return {
        "mix": mix.ref,
        **mix_data(job, mix),
        "because": recipe.because,
        "ratio_because": recipe.ratio.because,
        "sources": list(recipe.sources),
        "used": recipe.used,
        "water": recipe.water,
        "signs": recipe.signs,
        "materials": [_properties(job.library.materials[key]) for key in _made_of(mix)],
        "figures": _figures(job, mix.path, told),
        "carbon": _carbon(job, mix),
        "putty": _putty(job, mix),
        "carbonation": _carbonation(job, mix),
        "order_how": job.word("explain-order", waste=lost, **goes),
        "order": [_ordered(line) for line in job.measured.materials if mix.ref in dict(line.uses)],
    }


def _carbon(job: Job, mix: Mix) -> Explanation:
    """What making a cubic metre's materials emits and, apart from it, what they may take up again."""
    found = carbon_per_m3(mix, job.library)
    return {
        "how": job.word("explain-carbon"),
        "emitted_kgco2e_per_m3": _whole(found.carbon.emitted_kgco2e_per_m3),
        "taken_up_kgco2_per_m3": _whole(found.carbon.reabsorbed_kgco2_per_m3),
        "not_counted": list(found.not_counted),
    }


def _putty(job: Job, mix: Mix) -> Explanation:
    """What the weights between which putty is taken mean in lime; nothing for a mix without putty."""
    found = putty_taken(mix, job.library)
    if found is None:
        return {}
    low, high = f"{found.low_kg_per_l:.2f}", f"{found.high_kg_per_l:.2f}"
    lean, fat = f"{found.low_carries_kg_per_l:.2f}", f"{found.high_carries_kg_per_l:.2f}"
    return {
        "how": job.word("explain-putty"),
        "band": job.word("explain-putty-band", low=low, high=high, lean=lean, fat=fat),
        "reckoned": job.word(f"explain-putty-{found.reckoned_lies}", weight=f"{found.reckoned_kg_per_l:.2f}"),
    }


def _carbonation(job: Job, mix: Mix) -> Explanation:
    """How deep a mix of air lime may have carbonated; nothing for others."""
    found = carbonated(mix, job.library)
    if found is None:
        return {}
    low, high = f"{found.depth_mm.low:.0f}", f"{found.depth_mm.high:.0f}"
    return {
        "how": job.word("explain-carbonation"),
        "depth": job.word("explain-carbonation-depth", low=low, high=high, days=f"{found.days:.0f}"),
    }


def _whole(value: Range[float]) -> str:
    return f"{value.low:.0f}, {value.likely:.0f}, {value.high:.0f}"


def _ordered(line: MaterialLine) -> Explanation:
    """A material to order, with the weeks it takes and why."""
    material = line.material
    return {**material_data(line), "weeks": plain(material.order_weeks), "because": material.order_because}


def _made_of(mix: Mix) -> list[str]:
    """The materials of a mix by id, and the putty that quicklime is reckoned to slake to."""
    recipe = mix.recipe
    slaked = "lime-putty" if recipe.making == "hot-mix" else ""
    return [key for key in (recipe.lime, slaked, recipe.sand, recipe.pozzolan) if key]


def _properties(material: Material) -> Explanation:
    """A material by its standard, with the properties it is reckoned by and their sources."""
    return {
        "material": material.id,
        "name": material.name,
        "standard": material.standard,
        **{
            name: {
                "value": f"{plain(held.low)}, {plain(held.likely)}, {plain(held.high)}",
                "sources": list(held.sources),
                "confidence": held.confidence,
            }
            for name, held in material.properties().items()
        },
    }


def _line(job: Job, item: Item) -> Explanation:
    """A line to price: the answers that brought it in, and the value that its quantity is rounded from."""
    conditions = job.library.condition("item", item.entry.id)
    tried = [found for found in (conditions.when, conditions.provisional_when) if found is not None]
    name = item.entry.quantity if item.entry.fixed_quantity is None else ""
    held = job.facts.held(item.path, name)
    facts = [fact for condition in tried for fact in condition.evaluate(job.facts, item.path).facts]
    return {
        "line": item.ref,
        **item_data(job, item),
        "facts": [str(fact) for fact in facts],
        "given": [fact.told for fact in facts],
        "from": _figures(job, job.facts.home(item.path, name), {name: held}) if held is not None else {},
        "quantity_how": job.word("explain-line") if held is not None else "",
        "sources": list(item.entry.sources),
    }


def _figures(job: Job, path: ScopePath, values: Mapping[str, Held]) -> Explanation:
    """Values of a scope, each with the reason its rule gave, or how it was reckoned; answers stand as given."""
    return {
        name: {
            "value": job.facts.say(name, held.value),
            "reason": reason_data(reason_of(job, path, name, held.origin)),
        }
        for name, held in values.items()
    }


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


def findings_text(job: Job, *, notes: bool = True) -> str:
    """The status, and each finding once, with what to do, who must answer, each place and the lines it rests on there.

    Last the usual values that were taken where nobody answered. Without `notes`, those and the notes are counted alone.
    """
    lines = [job.word(f"status-{job.status}")]
    lines += findings_lines(job, [item for item in job.findings if notes or item.level != "note"])
    taken = list(_usual(job))
    if taken and notes:
        lines += [job.word("usual-taken"), *(f"    {line}" for line in taken)]
    elif taken:
        lines.append(job.word("usual-left", count=str(len(taken))))
    left = {item.code for item in job.findings if item.level == "note"}
    if left and not notes:
        lines.append(job.word("notes-left", count=str(len(left))))
    return "".join(f"{line}\n" for line in lines)


def summary_text(job: Job, file: str) -> str:
    """The status, what holds the tender back or was refused in full, and warnings by who must settle them, once each.

    `file` is how the answers file is named to ask for all of it.
    """
    warnings: dict[str, dict[str, dict[str, None]]] = {}
    for item in job.findings:
        if item.level == "warning":
            warnings.setdefault(item.answer_by, {}).setdefault(item.code, {})[item.message] = None
    lines = [job.word(f"status-{job.status}")]
    lines += findings_lines(job, [item for item in job.findings if item.level in ("block", "refusal")])
    for who, codes in warnings.items():
        lines.append(job.word("summary-warnings", who=who, count=str(len(codes))))
        lines += [f"    {' '.join(messages)}" for messages in codes.values()]
    lines.append(job.word("summary-more", file=file))
    return "".join(f"{line}\n" for line in lines)


def findings_lines(job: Job, found: Iterable[Finding]) -> list[str]:
    """Findings, those alike once with each of their places."""
    lines: list[str] = []
    alike: dict[tuple[str, ...], list[Finding]] = {}
    for item in found:
        alike.setdefault((item.level, item.code, item.message, item.action, item.answer_by), []).append(item)
    for (level, code, message, action, answer_by), items in alike.items():
        lines.append(f"{level}: {message} [{code}]")
        if level != "note":
            lines.append(f"    {action} ({job.word('answer-by', who=answer_by)})")
        lines += [f"    {_place(job, item)}" for item in items]
    return lines


def _place(job: Job, item: Finding) -> str:
    """Where a finding is, with the lines of the answers that it rests on."""
    place = job.filling.place(item.scope) if item.scope else job.word("whole-job")
    found = sorted(
        (mark for mark in item.marks if mark.line),
    )
    if not found:
        return place
    return f"{place}: {', '.join([str(found[0]), *(f'{mark.line}:{mark.column}' for mark in found[1:])])}"


def _usual(job: Job) -> Iterator[str]:
    """Each usual value that stands because nobody answered: what of, where if not everywhere, and what it is."""
    asked, places = job.library.questionnaire, dict[tuple[str, str], list[str]]()
    for path, scope in job.facts.scopes.items():
        held = job.facts.values.get(path, {})
        for question in asked.of(scope.level):
            found = held.get(question.name)
            if found is not None and found.origin == "default" and asked.applies(job.facts, path, question.name):
                label = question.label.rstrip("?")
                told = places.setdefault((label, job.facts.say(question.name, found.value)), [])
                told += [job.filling.place(path)] if path else []
    for (label, value), where in places.items():
        told_where = f" ({'; '.join(dict.fromkeys(where))})" if where else ""
        yield job.word("usual-line", label=label, where=told_where, value=value)
