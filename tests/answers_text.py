"""Answers texts for tests: one soft brick wall, answered in full so that it is for tender, and changes to it.

Values are given as they are spelt in an answers file; None takes an answer out. The building is invented.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Final

from jobs import shipped

Answers = Mapping[str, str | None]

PROJECT: Final[Answers] = {
    "title": "Garden house, repointing in lime (invented)",
    "reference": "T-001",
    "issue_date": "2027-02-01",
    "place": "An invented place",
    "building": "A garden house of about 1800",
    "significance": "Its brick front",
    "client": "An invented client",
    "specifier": "An invented specifier",
    "specifier_contact": "01 555 0100",
    "tender_return_date": "2027-03-05",
    "tender_return_to": "by noon, by e-mail",
    "query_date": "2027-02-22",
    "site_visit": "any weekday; ring first",
    "insurance": "public liability of the contractor",
    "start_date": "2027-05-10",
    "finish_date": "2027-07-30",
    "early_frost": "10-20",
    "late_frost": "05-01",
    "protection": "none",
    "lived_in": "no",
    "public_near": "no",
    "water_near": "no",
    "site_water": "mains",
    "site_storage": "in the yard",
    "mixing_place": "open-shelter",
    "putty_age_months": "6",
    "sand_source": "washed sharp sand, matched on a sample",
    "asbestos_survey": "clear",
    "services_hidden": "none seen",
}
ELEMENT: Final[Answers] = {
    "name": "Front wall",
    "description": "A wall of soft handmade brick",
    "masonry": "brick",
    "hardness": "soft",
    "water_drop": "at-once",
    "unit_length_mm": "215",
    "unit_width_mm": "102.5",
    "unit_height_mm": "65",
    "bond": "stretcher",
    "joint_width_mm": "9 - 12 (10)",
    "exposure": "moderate",
    "position": "wall",
    "height_m": "3",
    "existing_mortar": "buff lime mortar",
    "condition": "joints weathered back",
    "decay_causes": "[age]",
    "causes_cured": "done",
    "wall_wet": "dry",
    "salts": "none",
    "species_evidence": "[]",
    "leaning": "no",
    "access": "ground",
    "drawing_refs": "[D-1]",
}
WORK: Final[Answers] = {
    "work": "repoint",
    "extent": "the whole face",
    "face_area_m2": "12",
    "treated_per_cent": "50 - 50 (50)",
    "treated_how": "patches",
    "quantity_sure": "measured",
    "joint_depth_lost_mm": "5 - 10",
    "cement_area_m2": "0",
    "joint_finish": "brushed-flush",
}


def quoted(text: str) -> str:
    """A text as a quoted answer, whatever it holds."""
    return json.dumps(text, ensure_ascii=False)


def work(id_: str = "repoint", **answers: str | None) -> str:
    """One work of a wall; the repointing of the one wall but for the answers given."""
    return _listed(id_, {**WORK, **answers}, 2)


def wall(*works: str, id_: str = "front", **answers: str | None) -> str:
    """One wall with its works; the soft brick wall but for the answers given."""
    return _listed(id_, {**ELEMENT, **answers}, 0) + "  works:\n" + "".join(works or [work()])


def answers(*walls: str, **project: str | None) -> str:
    """An answers text of some walls; its project answers are those of the one-wall job but for those given."""
    return "project:\n" + _lines({**PROJECT, **project}, 2) + "elements:\n" + "".join(walls or [wall()])


def one_wall(**changes: str | None) -> str:
    """The one-wall job with some answers changed, each in the scope that its question is asked of."""
    asked = shipped().questionnaire.questions
    scopes: dict[str, dict[str, str | None]] = {"project": {}, "element": {}, "work": {}}
    for name, value in changes.items():
        scopes["element" if name == "name" else asked[name].scope][name] = value
    done = work("repoint", **scopes["work"])
    return answers(wall(done, id_="front", **scopes["element"]), **scopes["project"])


def _listed(id_: str, answers_: Answers, indent: int) -> str:
    return f"{' ' * indent}- id: {id_}\n" + _lines(answers_, indent + 2)


def _lines(answers_: Answers, indent: int) -> str:
    return "".join(f"{' ' * indent}{name}: {value}\n" for name, value in answers_.items() if value is not None)
