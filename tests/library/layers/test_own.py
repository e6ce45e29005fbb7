"""What a layer adds of its own beside clauses: each kind is read, placed and checked, and replaces nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from answers_text import answers, wall, work
from helpers import build_tree
from jobs import ROOT

from generator import pipeline
from generator.document.outline import outline
from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.library.load import read_library
from generator.library.model import Library
from generator.papers.assemble import assemble
from generator.papers.schedule import pricing_book

OWN = {
    "layer.yaml": "{name: house, edition: '2027.1'}\n",
    "questions/10.yaml": """
        questions:
        - {name: archive_boxes_nr, scope: work, kind: number, least: 0, most: 99, label: Boxes, why: Ours.}
        """,
    "tables/archive-weight.yaml": """
        id: archive-weight
        title: Weight of a box
        keys: [work]
        values: {weight_kg: {kind: number, least: 1, most: 50}}
        rows:
        - keys: {work: any}
          values: {weight_kg: 12}
          because: A box that one person carries.
          sources: [common-practice]
          confidence: judgement
        """,
    "names.yaml": """
        names:
        - name: archive_box_kg
          scope: work
          kind: number
          label: Weight of a box
          from: [{table: archive-weight, value: weight_kg}]
        """,
    "clauses/archive.yaml": """
        clauses:
        - id: raking-out.archive
          part: raking-out
          title: Old mortar kept
          per: work
          when: archive_boxes_nr > 0
          text: Keep {{ archive_boxes_nr | bare }} boxes of old mortar, {{ archive_box_kg }} each at most.
          cost: {line: house.archive}
          sources: [common-practice]
        """,
    "items/10.yaml": """
        items:
        - id: house.archive
          group: element
          per: work
          when: archive_boxes_nr > 0
          description: Keep old mortar for the archive
          unit: nr
          quantity: archive_boxes_nr
          after: repoint.brick
        """,
    "operations/10.yaml": """
        operations:
        - id: house.keep
          when: archive_boxes_nr > 0
          text: Keep old mortar in {{ archive_boxes_nr | bare }} labelled boxes.
          clauses: [raking-out.archive]
          after: repoint.rake
        """,
    "hold-points.yaml": """
        hold_points:
        - id: house-archive
          when: any(archive_boxes_nr > 0)
          what: Boxes for the archive
          released_by: Archivist
          notice: one week
          notice_days: 5
        """,
    "findings/10.yaml": """
        findings:
        - code: house-archive
          level: note
          per: work
          when: archive_boxes_nr > 0
          message: The archive takes {{ archive_boxes_nr | bare }} boxes of old mortar.
          action: Tell the archive when the work begins.
          sources: [common-practice]
        """,
}
JOB = answers(wall(work("repoint", archive_boxes_nr="3")))


def library_with(tmp: Path, **changes: str) -> Library:
    return read_library(ROOT / "clauses", [build_tree(tmp / "own", {**OWN, **changes})])


def test_what_a_layer_adds_reaches_sheet_clause_schedule_holds_and_findings(tmp_path: Path) -> None:
    library = library_with(tmp_path)
    job = pipeline.settled(pipeline.read(read_bytes(JOB.encode(), "answers.yaml", typed=False), library), library)
    text = outline(assemble(job).specification)
    assert "Keep 3 boxes of old mortar, 12 kg each at most." in text
    assert "Keep old mortar in 3 labelled boxes." in text
    assert "Boxes for the archive" in text
    assert "Archivist" in text
    rows = [row for section in pricing_book(job).sections for row in section.rows]
    (line,) = [row for row in rows if "for the archive" in row.description]
    assert line.unit == "nr"
    assert line.quantity == 3
    assert line.clauses == job.numbers["clause:raking-out.archive"]
    assert "house-archive" in {finding.code for finding in job.findings}


@pytest.mark.parametrize(
    ("kind", "key", "after"),
    [("items", "house.archive", "repoint.brick"), ("operations", "house.keep", "repoint.rake")],
)
def test_a_line_and_a_step_stand_behind_the_one_that_they_name(tmp_path: Path, kind: str, key: str, after: str) -> None:
    order = list(getattr(library_with(tmp_path), kind))
    assert order[order.index(after) + 1] == key


@pytest.mark.parametrize(
    ("name", "old", "new", "told"),
    [
        (
            "items/10.yaml",
            "id: house.archive",
            "id: repoint.brick",
            "declares the item 'repoint.brick' a second time",
        ),
        ("items/10.yaml", "after: repoint.brick", "after: repoint.brik", "did you mean 'repoint.brick'?"),
        ("operations/10.yaml", "[raking-out.archive]", "[raking-out.archiv]", "names the clause 'raking-out.archiv'"),
        ("findings/10.yaml", "archive_boxes_nr > 0", "archive_boxs_nr > 0", "did you mean 'archive_boxes_nr'?"),
        ("names.yaml", "table: archive-weight", "table: archive-wait", "archive-wait"),
        ("tables/archive-weight.yaml", "weight_kg: 12", "weight_kg: 120", "weight_kg"),
    ],
)
def test_a_mistake_in_what_a_layer_adds_is_told_at_its_place(
    tmp_path: Path, name: str, old: str, new: str, told: str
) -> None:
    with pytest.raises(InputInvalid) as caught:
        library_with(tmp_path, **{name: OWN[name].replace(old, new)})
    assert any(told in str(problem) and name in str(problem) for problem in caught.value.problems)
