# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""A practice's templates over the shipped ones: words, headings, rows and parts by file and key; what protects stays."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers import build_tree
from jobs import ROOT, shipped

from generator.document.template import Paper
from generator.files.errors import InputInvalid
from generator.library.layers.files import read_layer
from generator.library.layers.papers import lay_papers
from generator.library.load import load
from generator.library.reading import Reading
from generator.library.template_checks import make_papers
from generator.library.templates import read_templates

Found = tuple[dict[str, Paper], dict[str, str], list[str]]


def laid(tmp: Path, *layers: dict[str, str]) -> Found:
    """The papers and words with layers over them, each its files of `templates/` by name, and every mistake."""
    reading = Reading("clauses")
    reading.entries["question"] = dict(shipped().questionnaire.questions)
    reading.entries["figure"] = dict(shipped().figures)
    read_templates(ROOT / "templates", "shipped", reading)
    for number, files in enumerate(layers):
        named = {f"templates/{name}": text for name, text in files.items()}
        folder = build_tree(tmp / str(number), {"layer.yaml": f"{{name: l{number}, edition: '1'}}\n", **named})
        layer = read_layer(folder, f"layer{number}", reading)
        assert layer is not None
        lay_papers(layer, reading)
    papers = make_papers(reading, shipped().names)
    return papers, reading.entries["word"], [str(problem) for problem in sorted(reading.problems)]


def over(tmp: Path, *layers: dict[str, str]) -> Found:
    """The same, without a mistake."""
    found = laid(tmp, *layers)
    assert found[2] == []
    return found


def names(paper: Paper, part: str) -> list[str]:
    return [row.shows for row in paper.part(part).rows]


SPECIFICATION = "specification.yaml"


def test_rows_are_added_behind_another_or_at_the_end_dropped_and_put_in_order(tmp_path: Path) -> None:
    changes = """\
        parts:
        - part: wall-facts
          drop: [bond, faces]
          add:
          - {shows: water_drop, after: hardness, label: Water drop}
          - leaning
        - part: dates
          order: [early_frost, start_date, programme_end_date, finish_date, query_date, tender_return_date]
        """
    papers, _, _ = over(tmp_path, {SPECIFICATION: changes})
    before = names(shipped().templates["specification"], "wall-facts")
    wanted = [name for name in before if name not in ("bond", "faces")]
    wanted.insert(wanted.index("hardness") + 1, "water_drop")
    assert names(papers["specification"], "wall-facts") == [*wanted, "leaning"]
    rows = {row.shows: row.label for row in papers["specification"].part("wall-facts").rows}
    assert (rows["water_drop"], rows["leaning"]) == ("Water drop", shipped().names["leaning"].label)
    assert names(papers["specification"], "dates")[0] == "early_frost"


def test_what_is_given_whole_takes_the_place_of_what_was_there(tmp_path: Path) -> None:
    changes = """\
        title: Specification
        parts:
        - part: dates
          heading: When
          rows: [start_date, finish_date]
        - part: control
          columns: [{label: What, share: 0.7}, {label: When, share: 0.3}]
        """
    papers, _, _ = over(tmp_path, {SPECIFICATION: changes})
    part = papers["specification"].part("dates")
    assert (papers["specification"].title, part.heading) == ("Specification", "When")
    assert [row.shows for row in part.rows] == ["start_date", "finish_date"]
    assert [column.share for column in papers["specification"].part("control").columns] == [0.7, 0.3]


def test_lines_are_replaced_and_added_by_their_key(tmp_path: Path) -> None:
    changes = "parts:\n- {part: never, lines: {water: Never a hose., ours: No radio.}}\n"
    papers, _, _ = over(tmp_path, {"mix-schedule.yaml": changes})
    before, now = (found["mix-schedule"].part("never").lines for found in (shipped().templates, papers))
    assert list(now) == [*before, "ours"]
    assert (now["water"], now["ours"], now["additions"]) == ("Never a hose.", "No radio.", before["additions"])


def test_parts_are_added_dropped_and_put_in_order_within_a_part_and_in_the_paper_itself(tmp_path: Path) -> None:
    changes = """\
        drop: [mortars]
        add: [{part: text, name: ring, text: Ring us., after: job}]
        order: [title, job, ring, intro, never, look, care]
        """
    inner = "parts:\n- {part: read-first, drop: [scope], order: [warnings, dates, orientation, open-questions]}\n"
    papers, _, _ = over(tmp_path, {"owner-page.yaml": changes, SPECIFICATION: inner})
    owner = papers["owner-page"].parts
    assert [part.part for part in owner] == ["title", "job", "text", "text", "never", "look", "care"]
    assert owner[2].text == "Ring us."
    read_first = papers["specification"].part("read-first")
    assert [part.part for part in read_first.parts] == ["warnings", "dates", "orientation", "open-questions"]


def test_a_later_layer_lies_over_an_earlier_one(tmp_path: Path) -> None:
    first = "add: [{part: text, name: ring, text: Ring us.}]\nwords: {}\n"
    second = "parts: [{part: ring, text: Write to us.}]\n"
    papers, _, _ = over(tmp_path, {"owner-page.yaml": first}, {"owner-page.yaml": second})
    assert papers["owner-page"].parts[-1].text == "Write to us."


def test_words_are_laid_over_by_file_and_key(tmp_path: Path) -> None:
    files = {SPECIFICATION: "words: {not-used: Void}\n", "terminal.yaml": "words: {ask-prompt: '? '}\n"}
    _, words, _ = over(tmp_path, files)
    assert (words["not-used"], words["ask-prompt"]) == ("Void", "? ")
    (told,) = laid(tmp_path, {"words.yaml": "words: {not-used: Void}\n"})[2]
    assert told == (
        "layer0/templates/words.yaml:1:9: sets the word 'not-used', which is of another file: "
        "move it to templates/specification.yaml"
    )


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        (SPECIFICATION, "parts: [{part: wall-fact, heading: A}]", "1:16: changes the part 'wall-fact', which is not there: did you mean 'wall-facts'?"),
        (SPECIFICATION, "parts: [{part: wall-facts, drop: [bnod]}]", "1:35: drops 'bnod', which is not in 'wall-facts': did you mean 'bond'?"),
        (SPECIFICATION, "parts: [{part: wall-facts, add: [{shows: leaning, after: bnod}]}]", "1:58: comes after 'bnod', which is not in 'wall-facts': did you mean 'bond'?"),
        (SPECIFICATION, "parts: [{part: wall-facts, add: [leanning]}]", "1:34: shows 'leanning', which is no question"),
        (SPECIFICATION, "parts: [{part: wall-facts, order: [bond]}]", "1:35: orders 'wall-facts' and does not name each of its entries once"),
        (SPECIFICATION, "parts: [{part: wall-facts, caption: A}]", "1:37: the part 'wall-facts' takes no 'caption': take it out"),
        (SPECIFICATION, "parts: [{part: wall-facts, rows: []}]", "1:34: 'parts.rows' is an empty list: name one at least"),
        (SPECIFICATION, "parts: [{part: wall-facts, colour: A}]", "1:28: has an unknown key 'colour'"),
        (SPECIFICATION, "parts: [{part: warnings, add: [leaning]}]", "1:32: adds to 'warnings', which has no rows or parts"),
        (SPECIFICATION, "parts: [{part: works, add: [{part: plan}]}]", "1:29: has no part 'plan' in 'works'"),
        (SPECIFICATION, "parts: [{part: control, columns: [{label: A, share: 1}]}]", "1:34: has an odd number of columns, and each fact takes two"),
        (SPECIFICATION, "parts: [{part: control, drop: [issue_date]}]", "1:32: drops 'issue_date' from 'control', which may not do without it: keep it: without its control"),
        (SPECIFICATION, "parts: [{part: read-first, drop: [open-questions]}]", "drops 'open-questions' from 'read-first', which may not do without it: keep it: a draft must say"),
        (SPECIFICATION, "drop: [front]", "1:8: drops 'front' from 'specification', which may not do without it"),
        ("mix-schedule.yaml", "parts: [{part: first-aid, drop: [eye-told]}]", "1:34: drops 'eye-told' from 'first-aid', which may not do without it: keep it: it keeps people"),
        ("owner-page.yaml", "parts: [{part: never, lines: {all: ' '}}]", "1:36: 'all' is not a text"),
        ("ownerpage.yaml", "{}", ": 'ownerpage.yaml' is not a file of the templates: did you mean 'owner-page.yaml'?"),
    ],
)  # fmt: skip
def test_a_mistake_of_a_layer_is_told_at_its_place_in_the_layer(
    name: str, text: str, told: str, tmp_path: Path
) -> None:
    found = laid(tmp_path, {name: f"{text}\n"})[2]
    assert len(found) == 1, found
    assert found[0].startswith(f"layer0/templates/{name}:")
    assert told in found[0]


def test_they_are_laid_when_a_library_is_read_and_count_in_the_digest_of_the_layer(tmp_path: Path) -> None:
    files = {"layer.yaml": "{name: house, edition: '1'}\n"}
    plain = build_tree(tmp_path / "plain", files)
    house = build_tree(tmp_path / "house", {**files, f"templates/{SPECIFICATION}": "title: Ours\n"})
    before, after = (load(ROOT / "clauses", layers=[folder]) for folder in (plain, house))
    assert after.templates["specification"].title == "Ours"
    assert before.digest == after.digest
    assert before.layers[0].digest != after.layers[0].digest
    build_tree(house, {f"templates/{SPECIFICATION}": "titel: Ours\n"})
    with pytest.raises(InputInvalid, match="did you mean 'title'"):
        load(ROOT / "clauses", layers=[house])
