"""Everything in the library can come about: each clause, finding, line, step, hold point and question in some job.

The jobs are the examples, the open cases, random valid answers, and for what those leave out answers aimed at its
condition. Answers to questions that do not arise are taken out first; what no job reaches is dead.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from typing import Any

from aimed_answers import aimed_answers, sensible
from answers_text import answers, wall
from code_reading import texts
from jobs import EXAMPLES, ROOT, shipped
from random_answers import random_answers
from timed_jobs import scaffolded, surface

from generator import pipeline
from generator.decide.binder import recipes_for
from generator.decide.decide import decide
from generator.files.source import read_bytes
from generator.measure.measure import measure, priced
from generator.measure.photographs.survey import survey
from generator.programme.plan import programme
from generator.questionnaire.condition import Condition
from generator.questionnaire.facts import Facts
from generator.questionnaire.parsing import parse
from generator.questionnaire.scopes import PROJECT, Held, Scope, Scopes

RANDOM_JOBS = 40
TRIES = 80
# Where a rule, not a condition, raises a finding that random answers seldom meet: when to expect it.
# Raised by a rule for what no answers of one wall, no recipe shipped, or no text drawn by chance brings about; each has
# a test of its own.
RAISED_ELSEWHERE = {
    "gauge-neared": "tests/measure/test_mixing.py",
    "sand-blends-differ": "tests/measure/test_mixing.py",
    "sand-finer-than-mix": "tests/measure/test_offered.py",
    "face-parts-too-many": "tests/measure/test_face.py",  # of a list longer than chance makes
    "scattered-fills-hatch": "tests/content/test_contradictions.py",  # of an area that fills its parts but for a tenth
    "laths-under-old-plaster": "tests/content/test_contradictions.py",  # of two areas that are nearly one
    "asked-binder-in-another-coat": "tests/decide/test_binder.py",  # of a coat thrown over one laid on a hard wall
    "mixers-short-together": "tests/job/test_one_place.py",  # of two gangs that lay much on the same days
    # of two walls that answer their access together
    "access-with-none": "tests/measure/test_shared_access.py",
    "access-with-a-guest": "tests/measure/test_shared_access.py",
    "access-of-another-kind": "tests/measure/test_shared_access.py",
    # of a library that is at fault, which the shipped one is not
    "duty-without-line": "tests/job/test_duties.py",
    "duty-priced-twice": "tests/job/test_duties.py",
    "line-without-duty": "tests/job/test_duties.py",
}
AIMED_AT = {
    "mixer-too-large": ("work == 'repoint' and asked_binder == 'nhl-2' and mixer_l > 450 and gauge_box_l < 8", "work"),
    "joint-finer-than-sand": ("work == 'repoint' and joint_width_mm < 1", "work"),
    "asked-binder-conditioned": ("work == 'repoint' and masonry == 'flint' and asked_binder == 'nhl-5'", "work"),
}
KINDS = ("clause", "finding", "item", "provisional", "firm", "operation", "task", "hold", "question")


def library_entries() -> dict[str, dict[str, Any]]:
    """What must be reachable, by kind and id."""
    library = shipped()
    doubtful = {key: item for key, item in library.items.items() if item.provisional_when}
    return {
        "clause": dict(library.clauses), "finding": dict(library.findings), "item": dict(library.items),
        "provisional": doubtful, "firm": doubtful, "operation": dict(library.operations),
        "task": {key: task for key, task in library.tasks.items() if task.kind != "mark"},
        "hold": dict(library.hold_points), "question": dict(library.questionnaire.questions),
    }  # fmt: skip


def aims(kind: str, key: str) -> list[tuple[Condition, bool]]:
    """What must come out how, all at one scope, for an entry to be reached."""
    library = shipped()
    if key in AIMED_AT:
        return [(parse(*AIMED_AT[key], library.names), True)]
    found = library.condition("item" if kind in ("provisional", "firm") else kind, key)
    wanted = [(found.when, True)]
    if kind in ("provisional", "firm"):
        wanted.append((found.provisional_when, kind == "provisional"))
    return [(condition, truth) for condition, truth in wanted if condition is not None]


class Search:
    """What has been reached so far, and how it is looked for."""

    def __init__(self) -> None:
        self.open = {kind: dict(entries) for kind, entries in library_entries().items()}
        # no answers raise the former: tests/library/layers; the latter are raised in tests/programme/test_findings
        raised = texts("library/layers/", "programme/") & set(shipped().findings)
        for code in {*raised, *RAISED_ELSEWHERE}:
            del self.open["finding"][code]
        for code in [code for code in self.open["finding"] if code.startswith("photograph-")]:
            del self.open["finding"][code]  # pictures raise these: tests/measure/photographs

    def try_answers(self, text: str, clean: Callable[[Facts], Facts] = sensible) -> None:
        """Reaches what a job of these answers reaches."""
        words = shipped()
        read = pipeline.read(read_bytes(text.encode(), "answers.yaml", typed=False), words)
        facts = clean(survey(read, words, None).facts)
        decisions = decide(facts, words)
        measured = measure(decisions, words)
        planned = programme(measured, words)
        lines = priced(measured, planned.facts, words)
        for raised in (*decisions.raised, *lines.raised, *planned.raised):
            self.open["finding"].pop(raised.code, None)
        for kind, entries in self.open.items():
            for key in [key for key in entries if self.holds(kind, key, planned.facts)]:
                del entries[key]

    def holds(self, kind: str, key: str, facts: Facts) -> bool:
        """Whether an entry comes about in a job."""
        entry = self.open[kind][key]
        if kind == "finding" and not entry.when:
            return False  # a rule raises it
        scopes = facts.at(entry.scope if kind == "question" else entry.per)
        if kind == "question":
            return any(shipped().questionnaire.applies(facts, scope.path, key) for scope in scopes)
        wanted = aims(kind, key)
        return any(all(c.evaluate(facts, scope.path).holds is truth for c, truth in wanted) for scope in scopes)

    def left(self) -> Iterator[tuple[str, str]]:
        """What is still open, as it shrinks."""
        for kind, entries in self.open.items():
            yield from ((kind, key) for key in list(entries) if key in entries)


def behind_one_scaffold(services_hidden: str = "none seen", **both: str) -> str:
    """Two walls of one access, which no answers of one wall bring about."""
    walls = (wall(id_=id_, name=id_, access="scaffold", access_with="a", **both) for id_ in ("a", "b"))
    return answers(*walls, services_hidden=services_hidden)


def one_on_the_other(**of_upper: str) -> str:
    """A wall whose ground is dug, and one behind a scaffold on the same side, which may stand on it."""
    dug = surface("dug", "enabling", enabling_tasks="[ground]", ground_m="9", face_area_m2=None, quantity_sure=None)
    return answers(
        wall(dug, id_="a", name="a", faces="south"),
        scaffolded(id_="b", name="b", faces="south", height_m="8", **of_upper),
    )


def of_two_sides(other_side: str) -> str:
    """Daub built again, whose other side is answered."""
    daub = surface("daub", "rebuild", rebuild_what="whole", rebuild_thickness_mm="90", replaced_units_nr="0")
    wattle = {"masonry": "earth", "earth_kind": "wattle", "hardness": None, "bond": None, "joint_width_mm": None}
    units = dict.fromkeys(("unit_length_mm", "unit_width_mm", "unit_height_mm"))
    return answers(wall(daub, id_="a", name="a", other_side=other_side, **wattle, **units), wall(id_="b", name="b"))


def taken_down(what: str) -> str:
    """A leaning stack whose flues leak, taken down whole or in its facing, and topped anew."""
    down = surface("r", "rebuild", rebuild_what=what, rebuild_thickness_mm="102.5", replaced_units_nr="0")
    top = surface("f", "flaunching", flaunching_m2="1", pots_nr="2", face_area_m2=None, quantity_sure=None)
    leaking = {"decay_causes": "[flue]", "causes_cured": "in-this-work", "leaning": "yes"}
    return answers(scaffolded(down, top, position="chimney", flues="some-live", **leaking))


def in_one_mix() -> str:
    """Two walls rendered in one mix, of which the first makes the panel; the other is answered to have it elsewhere.

    Each has a face for one day of many hands. Their sand is far too coarse.
    """
    return answers(
        *(
            scaffolded(
                surface("coat", "render", render_kind="flat", dubbing_mm="0", face_area_m2="46", panel_place=place),
                id_=id_,
                name=id_,
            )
            for id_, place in (("a", "access"), ("b", "ground"))
        ),
        sand_source="washed sharp sand 0-16 mm",
    )


def rebuilt_under_its_copings() -> str:
    """A wall whose whole top is built again under copings that leak, and whose ivy was cut before."""
    coping = surface("c", "enabling", enabling_tasks="[coping]", coping_m="6", quantity_sure=None, face_area_m2=None)
    built = surface("b", "rebuild", rebuild_what="whole", rebuild_height_m="1", face_area_m2="6")
    cured = {"decay_causes": "[plants, leak]", "plants_cut": "yes", "causes_cured": "in-this-work", "wall_wet": "damp"}
    return answers(scaffolded(coping, built, position="parapet", **cured))


def unreached() -> dict[str, set[str]]:
    """What no job reached, by kind."""
    search = Search()
    for path in [*EXAMPLES, *sorted((ROOT / "tests" / "cases").glob("*.yaml"))]:
        search.try_answers(path.read_text(encoding="utf-8"), clean=lambda facts: facts)
    # what only a winter of hot mix brings about
    winter = (ROOT / "examples/winter-plaster/answers.yaml").read_text(encoding="utf-8")
    search.try_answers(
        winter.replace("work: plaster\n", "work: plaster\n    asked_binder: hot-mix\n"), clean=lambda facts: facts
    )
    conductor = {"lightning_conductor": "yes", "services_hidden": "a strip"}
    for together in ({}, {"faces": "south"}, {"position": "indoors"}, conductor):
        search.try_answers(behind_one_scaffold(**together), clean=lambda facts: facts)
    search.try_answers(one_on_the_other(), clean=lambda facts: facts)
    search.try_answers(one_on_the_other(stands_on="a"), clean=lambda facts: facts)
    for other_side in ("a", "b", "none-of-these"):
        search.try_answers(of_two_sides(other_side), clean=lambda facts: facts)
    search.try_answers(in_one_mix(), clean=lambda facts: facts)
    search.try_answers(rebuilt_under_its_copings(), clean=lambda facts: facts)
    for what in ("whole", "facing"):
        search.try_answers(taken_down(what), clean=lambda facts: facts)
    search.try_answers(random_answers(0), clean=lambda facts: facts)  # with answers that do not apply
    for seed in range(1, RANDOM_JOBS):
        search.try_answers(random_answers(seed))
    for kind, key in search.left():
        for attempt in range(TRIES):
            if key not in search.open[kind]:
                break
            search.try_answers(aimed_answers(aims(kind, key), attempt))
    return {kind: set(entries) for kind, entries in search.open.items()}


def test_what_is_raised_elsewhere_is_named_in_its_test() -> None:
    for code, path in RAISED_ELSEWHERE.items():
        assert f'"{code}"' in (ROOT / path).read_text(encoding="utf-8")


def test_nothing_in_the_library_is_out_of_reach() -> None:
    assert unreached() == {kind: set() for kind in KINDS}


def places() -> Iterator[dict[str, str]]:
    """Every work, masonry, position and coat that go together by the table of coats."""
    names, table = shipped().names, shipped().tables["coats"]
    coats = {(str(row.keys.get("work")), coat) for row in table.rows for coat in row.values["coats"]}
    for (work, coat), masonry, position in itertools.product(
        sorted(coats), names["masonry"].choices, names["position"].choices
    ):
        yield {"work": work, "coat": coat, "masonry": masonry, "position": position}


def test_every_recipe_is_the_closest_fit_somewhere_and_its_binder_stands_in_a_table() -> None:
    library = shipped()
    binders = {
        binder
        for key in ("binder-by-wall", "binder-by-coat")
        for row in library.tables[key].rows
        for binder in [*row.values["binders"], *row.values["with_reason"]]
    }
    chosen: set[str] = set()
    for place in places():
        held = {name: Held(value) for name, value in place.items()}
        facts = Facts(library.names, Scopes({PROJECT: Scope(PROJECT, "project", "")}), {PROJECT: held})
        for binder in sorted(binders):
            recipe = recipes_for(facts.at_scope(PROJECT), library)(binder)
            if recipe is not None:
                chosen.add(recipe.id)
    assert set(library.recipes) - chosen == set()
    assert {recipe.binder for recipe in library.recipes.values()} <= binders
