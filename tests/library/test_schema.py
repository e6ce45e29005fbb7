"""JSON Schemas: valid in themselves, and of one mind with the reader."""

from __future__ import annotations

import functools
import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from helpers import library_tree, read
from jsonschema import Draft202012Validator

from generator.library.load import load
from generator.library.model import Library
from generator.library.paper_kinds import PAPERS
from generator.library.schema import KINDS, schema
from generator.questionnaire.answers import read_answers


class _EditorLoader(yaml.SafeLoader):
    """Reads as editors do, by YAML 1.2: yes and no are words, and dates are texts."""


_EditorLoader.yaml_implicit_resolvers = {
    letter: [(tag, shape) for tag, shape in found if not tag.endswith((":timestamp", ":bool"))]
    for letter, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}
_EditorLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile("true|false"), list("tf"))

FILES = {
    "clauses": "parts/*.yaml",
    "tables": "tables/*.yaml",
    "words": "../templates/words.yaml",
    "papers": "../templates/*.yaml",
    "questions": "questions/*.yaml",
    "names": "names.yaml",
    "recipes": "recipes/*.yaml",
    "materials": "materials.yaml",
    "findings": "findings/*.yaml",
    "items": "items/*.yaml",
    "operations": "operations/*.yaml",
    "tasks": "tasks/*.yaml",
    "hold_points": "hold-points.yaml",
    "elsewhere": "elsewhere.yaml",
    "figures": "figures/*.yaml",
    "sources": "sources.yaml",
}


def as_an_editor(text: str) -> Any:
    return yaml.load(text, _EditorLoader)


@functools.cache
def shipped(folder: Path) -> Library:
    return load(folder)


def mistakes(data: Any, schema_: dict[str, Any]) -> list[str]:
    """What a schema has against data, by place."""
    found = Draft202012Validator(schema_).iter_errors(data)
    return sorted(f"{'.'.join(map(str, error.absolute_path))}: {error.message}" for error in found)


@pytest.mark.parametrize("kind", KINDS)
def test_each_schema_is_valid_and_can_be_written(kind: str, shipped_clauses: Path) -> None:
    found = schema(kind, shipped(shipped_clauses))
    Draft202012Validator.check_schema(found)
    assert found["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(found)) == found


def test_every_kind_of_library_file_has_a_schema() -> None:
    assert set(FILES) | {"answers"} == set(KINDS)


@pytest.mark.parametrize("kind", FILES)
def test_the_shipped_files_keep_to_their_schema(kind: str, shipped_clauses: Path) -> None:
    found = schema(kind, shipped(shipped_clauses))
    paths = [path for path in sorted(shipped_clauses.glob(FILES[kind])) if kind != "papers" or path.stem in PAPERS]
    assert paths
    assert {path.name: mistakes(as_an_editor(path.read_text("utf-8")), found) for path in paths} == {
        path.name: [] for path in paths
    }


def test_the_toll_house_keeps_to_the_schema_of_answers(toll_house: Path, shipped_clauses: Path) -> None:
    found = schema("answers", shipped(shipped_clauses))
    assert mistakes(as_an_editor(toll_house.read_text("utf-8")), found) == []


def test_photographs_keep_to_the_schema_of_answers(shipped_clauses: Path) -> None:
    found = schema("answers", shipped(shipped_clauses))
    text = (shipped_clauses.parent / "examples" / "garden-front" / "answers.yaml").read_text("utf-8")
    assert mistakes(as_an_editor(text), found) == []
    data = as_an_editor(text)
    first = data["project"]["photographs"][0]
    del first["shows"]
    first["marks"][0]["work_"] = "repoint"
    first["reference"]["corners"] = 3
    told = mistakes(data, found)
    at = "project.photographs.0"
    assert {line.split(":")[0].removesuffix(".corners") for line in told} == {at, f"{at}.marks.0", f"{at}.reference"}


def test_every_question_is_in_the_schema_with_its_label(shipped_clauses: Path) -> None:
    library = shipped(shipped_clauses)
    found = schema("answers", library)
    element = found["properties"]["elements"]["items"]
    scopes = {
        "project": found["properties"]["project"],
        "element": element,
        "work": element["properties"]["works"]["items"],
    }
    for question in library.questionnaire.questions.values():
        if question.scope != "coat":
            assert scopes[question.scope]["properties"][question.name]["title"] == question.label


MORE = """\
    questions:
    - {name: revision, scope: project, kind: text, label: Revision, why: W., most: 12}
    - {name: issue_date, scope: project, kind: date, label: Date, why: W.}
    - name: causes
      scope: element
      kind: choices
      label: Causes
      why: W.
      not_known: true
      choices: [{is: gutter, says: gutter}, {is: salts, says: salts}]
    - name: drawings
      scope: project
      kind: records
      label: Drawings
      why: W.
      fields: [{name: ref, label: Number, required: true}, {name: sheets_nr, kind: number, label: Sheets}]
    - {name: face_area_m2, scope: work, kind: number, label: Area, why: W., least: 0, most: 20000}
    """
GOOD = """\
project: {title: Barn}
elements:
- id: front
  name: Front wall
  works: [{work: repoint}]
"""


@pytest.mark.parametrize(
    ("old", "new", "good"),
    [
        ("Barn}", "Barn}", True),
        ("Barn}", "Barn, lived_in: yes}", True),
        ("Barn}", "Barn, lived_in: true}", True),
        ("Barn}", "Barn, lived_in: maybe}", False),
        ("Barn}", "Barn, revision: 2}", True),
        ("Barn}", "Barn, revision: much too long to be one}", False),
        ("Barn}", "Barn, issue_date: 2027-03-01}", True),
        ("Barn}", "Barn, issue_date: 1 March}", False),
        ("Barn}", "Barn, drawings: [{ref: A, sheets_nr: 2}]}", True),
        ("Barn}", "Barn, drawings: [{sheets_nr: 2}]}", False),
        ("Barn}", "Barn, drawings: [{ref: A, sheets_nr: -2}]}", False),
        ("Barn}", "Barn, drawings: [{ref: A, by: me}]}", False),
        ("{title: Barn}", "{}", False),
        ("title", "titel", False),
        ("project", "projekt", False),
        ("id: front", "id: The Front", False),
        ("id: front", "id: 5", False),
        ("  name: Front wall\n", "", False),
        ("[{work: repoint}]", "[]", False),
        ("{work: repoint}", "{id: low, work: repoint, face_area_m2: 64}", True),
        ("{work: repoint}", "{work: repoint, face_area_m2: 64 m2}", False),
        ("{work: repoint}", "{work: repoint, face_area_m2: 20001}", False),
        ("{work: repoint}", "{work: repiont}", False),
        ("{work: repoint}", "{work: repoint, coats: [{id: a}]}", False),
        ("{work: repoint}", "{id: low}", False),
        ("  works", "  masonry: brick\n  works", True),
        ("  works", "  masonry: brik\n  works", False),
        ("  works", "  masonry: not known\n  works", False),
        ("  works", "  joint_width_mm: 8 - 12 (10)\n  works", True),
        ("  works", "  joint_width_mm: 10\n  works", True),
        ("  works", "  joint_width_mm: 25mm\n  works", False),
        ("  works", "  causes: [gutter]\n  works", True),
        ("  works", "  causes: gutter\n  works", True),
        ("  works", "  causes: not known\n  works", True),
        ("  works", "  causes: [guter]\n  works", False),
    ],
)
def test_schema_and_reader_take_and_refuse_the_same(old: str, new: str, good: bool, tmp_path: Path) -> None:
    library = load(library_tree(tmp_path, {"questions/40-more.yaml": MORE}))
    text = GOOD.replace(old, new, 1)
    assert text != GOOD or old == new
    source = read(text)
    read_answers(source, library.questionnaire, library.names)
    assert (source.problems == []) is good, source.problems
    assert (mistakes(as_an_editor(text), schema("answers", library)) == []) is good
