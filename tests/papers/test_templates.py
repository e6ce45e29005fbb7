"""What papers show is data: a fact is added, a part left out or moved, and words changed, without Python."""

from __future__ import annotations

import functools
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest
from answers_text import answers, one_wall, wall
from helpers import build_tree
from jobs import ROOT, example, part, shipped, telling

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.document.model import Block, ClauseBlock, Document, Figure, Heading, Table, plain_text
from generator.document.outline import outline
from generator.document.template import TEXT, Paper, PaperPart, Shown
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.load import read_library
from generator.library.model import Library
from generator.library.paper_kinds import PAPERS, PartKind, kind_of
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.figures import numbered_figures
from generator.record.record import record
from generator.record.revisions.addendum import addendum
from generator.record.revisions.compare import compare
from generator.record.revisions.issued import Issued
from generator.values import replace

ADDED = {
    "specification.yaml": """\
        parts:
        - part: control
          add: [{shows: site_visit, label: How to see it, after: client}, {shows: query_date, if_answered: true}]
        - part: dates
          add: [issue_date]
        - part: wall-facts
          add: [{shows: water_drop, label: A drop of water}, {shows: protection, label: The whole building}]
        - part: work-facts
          add: [{shows: joint_finish, label: New finish}]
        - part: scope
          columns:
          - {shows: wall, label: Wall, share: 0.3}
          - {shows: rake_depth_mm, label: Raked, share: 0.3}
          - {shows: masonry, label: Of, share: 0.4}
        - part: mix-figures
          columns:
          - {shows: mix_ref, label: Mix, share: 0.1}
          - {shows: mix_walls, label: Where, share: 0.2}
          - {shows: mix_lime, label: Lime, share: 0.2}
          - {shows: mix_sand, label: Sand, share: 0.2}
          - {shows: mix_gauge, label: Gauge, share: 0.1}
          - {shows: mix_rest_days, label: Rests, share: 0.2}
        - part: programme
          drop: [programme-figure]
        - part: curing
          columns:
          - {shows: where, label: Where, share: 0.4}
          - {shows: last_placing_date, label: Place by, share: 0.2}
          - {shows: lowest_c, label: Not colder than, share: 0.2}
          - {shows: layer_mm, label: No layer over, share: 0.2}
        """,
    "officer-summary.yaml": """\
        parts:
        - part: building
          add: [insurance]
        - part: works
          columns:
          - {shows: where, label: Where, share: 0.5}
          - {by_work: {repoint: joint_finish, plaster: plaster_surface}, label: Finish, share: 0.25}
          - {shows: face_area_m2, label: Face, share: 0.25}
        """,
    "site-records.yaml": """\
        parts:
        - part: built-record
          columns:
          - {shows: where, label: Where, share: 0.4}
          - {shows: rake_depth_mm, label: Depth, share: 0.3}
          - {label: Found on the day, share: 0.3}
        """,
    "mix-schedule.yaml": """\
        add: [{part: text, name: ours, heading: At our sites, lines: {board: Clean the boards at noon.}, after: never}]
        """,
    "owner-page.yaml": """\
        add: [{part: text, name: numbers, heading: Whom to ask, lines: {one: The specifier., two: The officer.}}]
        drop: [care]
        """,
}


def job_of(library: Library, text: str) -> Job:
    return pipeline.settled(pipeline.read(read_bytes(text.encode(), "answers.yaml", typed=False), library), library)


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """The job of one wall with a practice's own templates."""
    named = {f"templates/{name}": text for name, text in ADDED.items()}
    layer = build_tree(tmp_path_factory.mktemp("house"), {"layer.yaml": "{name: house, edition: '1'}\n", **named})
    return job_of(read_library(ROOT / "clauses", [layer]), one_wall(query_date="2027-03-08"))


def specification(made: Job) -> Document:
    return assemble(made).specification


def companion(made: Job, name: str) -> Document:
    (found,) = companions(made, [name]).values()
    return found


def rows(document: Document, *heads: str) -> list[list[str]]:
    """The rows of the one table that has these headings."""
    tables = [block for block in document.blocks() if isinstance(block, Table)]
    (found,) = [table for table in tables if tuple(column.title for column in table.columns) == heads]
    return [[plain_text(cell) for cell in row.cells] for row in found.rows]


def test_a_fact_is_added_to_a_walls_sheet_in_a_copy_of_the_templates_by_one_line(tmp_path: Path) -> None:
    folder = shutil.copytree(ROOT / "templates", tmp_path / "templates")
    path = folder / "specification.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace("    - part: wall-facts\n      rows:\n", "    - part: wall-facts\n      rows:\n      - leaning\n"),
        encoding="utf-8",
    )
    made = job_of(read_library(ROOT / "clauses", templates=folder), one_wall(leaning="no"))
    label = made.facts.names["leaning"].label
    assert f"{label.removesuffix('?')}: no" in outline(specification(made))
    assert label not in outline(specification(example("garden-front")))


class TestAdded:
    def test_the_cover_and_the_dates_show_them(self, house: Job) -> None:
        text = outline(specification(house))
        control, dates = (block for block in text.split("# Read this first")[:2])
        assert f"How to see it | {house.said('site_visit')}" in control
        assert "8 March 2027" in control
        assert f"{house.facts.names['issue_date'].label} | 1 February 2027" in dates

    def test_the_sheet_of_a_wall_shows_them_of_the_wall_the_job_and_the_work(self, house: Job) -> None:
        text = outline(specification(house))
        assert f"A drop of water: {house.facts.spoken(('front',), 'water_drop')}" in text
        assert f"The whole building: {house.facts.spoken((), 'protection')}" in text
        assert f"New finish | {house.facts.spoken(('front', 'repoint'), 'joint_finish')}" in text

    def test_tables_of_works_mixes_and_coats_show_them_as_columns(self, house: Job) -> None:
        paper, coat = specification(house), ("front", "repoint", "pointing")
        depth, layer = house.facts.spoken(coat, "rake_depth_mm"), house.facts.spoken(coat, "layer_mm")
        assert rows(paper, "Wall", "Raked", "Of") == [["Front wall", depth, "brick"]]
        (batch,) = house.measured.batches
        (mix,) = rows(paper, "Mix", "Where", "Lime", "Sand", "Gauge", "Rests")
        assert (mix[0], mix[-1]) == ("M1", house.facts.spoken(batch.mix.path, "mix_rest_days"))
        (coats,) = rows(paper, "Where", "Place by", "Not colder than", "No layer over")
        by, lowest = (house.facts.spoken(coat, name) for name in ("last_placing_date", "lowest_c"))
        assert coats == ["Front wall", by, lowest, layer]

    def test_companions_show_them_and_room_to_write(self, house: Job) -> None:
        work = ("front", "repoint")
        officer, records = companion(house, "officer"), companion(house, "records")
        assert house.said("insurance") in outline(officer)
        finish, area = (house.facts.spoken(work, name) for name in ("joint_finish", "face_area_m2"))
        assert rows(officer, "Where", "Finish", "Face") == [["Front wall", finish, area]]
        (where, depth, blank), *others = rows(records, "Where", "Depth", "Found on the day")
        assert (where, depth, blank.strip()) == ("Front wall", house.facts.spoken(work, "rake_depth_mm"), "")
        assert others
        assert not "".join(cell for row in others for cell in row).strip()

    def test_words_of_ones_own_stand_in_a_paper_and_a_part_left_out_does_not(self, house: Job) -> None:
        text = outline(companion(house, "owner"))
        assert "## Whom to ask\n- The specifier.\n- The officer.\n" in text
        assert part(example("garden-front"), "care", "owner-page").heading not in text

    def test_a_list_of_ones_own_stands_on_the_mix_schedule_in_its_place(self, house: Job) -> None:
        notices = [plain_text(notice) for notice in assemble(house).sheet.notices]
        assert notices[1] == "At our sites Clean the boards at noon."


# --- parts left out and moved -----------------------------------------------------------------------------


def without(library: Library, paper: str, *names: str) -> Library:
    """A library whose paper does without some parts."""
    found = library.templates[paper]

    def kept(parts: tuple[PaperPart, ...]) -> tuple[PaperPart, ...]:
        return tuple(replace(each, parts=kept(each.parts)) for each in parts if each.part not in names)

    return replace(library, templates={**library.templates, paper: Paper(found.title, kept(found.parts))})


def figures(made: Job) -> list[Figure]:
    blocks: list[Block] = []
    for block in specification(made).blocks():
        blocks += block.blocks if isinstance(block, ClauseBlock) else (block,)
    return [block for block in blocks if isinstance(block, Figure) and block.number]


@pytest.mark.parametrize("gone", [("joint-figure",), ("face-figure",), ("programme-figure",)])
def test_the_figures_that_are_left_count_from_one(gone: tuple[str, ...]) -> None:
    text = (ROOT / "examples" / "toll-house" / "answers.yaml").read_text(encoding="utf-8")
    before, now = figures(job_of(shipped(), text)), figures(job_of(without(shipped(), "specification", *gone), text))
    assert len(now) < len(before)
    assert [figure.number for figure in now] == [str(number) for number in range(1, len(now) + 1)]


def every_part_that_may_go() -> list[tuple[str, str]]:
    def free(kind: PartKind) -> list[str]:
        return [
            found
            for name, inner in kind.inner.items()
            for found in (*((name,) if not inner.kept and name != TEXT else ()), *free(inner))
        ]

    return [(paper, name) for paper, kind in PAPERS.items() for name in free(kind)]


# The parts that stand in papers of a job with photographs alone.
PHOTOGRAPHED = {
    "photographs", "photograph", "elevation", "photograph-key", "cover-photograph", "photograph-record",
    "before", "after", "after-notes",
}  # fmt: skip


@functools.cache
def told_whole(job_name: str, word: str) -> str:
    """A companion paper of an example with all its parts, made once for all parts that are left out of it."""
    return outline(companion(example(job_name), word))


@pytest.mark.parametrize(("paper", "name"), every_part_that_may_go())
def test_a_paper_is_made_without_any_part_that_may_be_left_out(paper: str, name: str) -> None:
    job_name = "garden-front" if name in PHOTOGRAPHED else "mill-house"
    whole = example(job_name)
    made = replace(whole, library=without(shipped(), paper, name))
    if paper == "addendum":
        assert addendum_of(made, made)
    elif paper == "specification":
        assert specification(replace(made, figures=numbered_figures(made)))
    else:
        word = next(word for word, file in COMPANIONS.items() if file == f"{paper}.docx")
        assert outline(companion(made, word)) != told_whole(job_name, word)


def test_parts_of_a_page_stand_in_the_order_of_the_template() -> None:
    paper = shipped().templates["owner-page"]
    turned = {**shipped().templates, "owner-page": Paper(paper.title, (*paper.parts[:2], *reversed(paper.parts[2:])))}
    made = replace(example("mill-house"), library=replace(shipped(), templates=turned))
    heads = [block for block in companion(made, "owner").blocks() if isinstance(block, Heading) and block.level == 2]
    wanted = [part(made, name, "owner-page").heading for name in ("mortars", "never", "care", "look")]
    assert [plain_text(head.content) for head in heads] == wanted


# --- all that can be shown --------------------------------------------------------------------------------


def showing_all(parts: tuple[PaperPart, ...], kind: PartKind) -> tuple[PaperPart, ...]:
    """Parts whose columns, or else rows, show everything that the program makes for them, and one blank column."""
    found = []
    for each in parts:
        own = kind_of(each.part, kind)
        assert own is not None
        shown = tuple(Shown(name, f"<{name}>", 0.1) for name in own.own.split())
        if shown and "rows" in own.options:
            each = replace(each, rows=(*shown, *(() if own.of else (Shown("", "<blank>"),))))
        elif shown and "columns" in own.options:
            each = replace(each, columns=(*shown, Shown("", "<blank>", 0.1)))
        found.append(replace(each, parts=showing_all(each.parts, own)))
    return tuple(found)


def library_showing_all() -> Library:
    papers: Mapping[str, Paper] = {
        name: Paper(paper.title, showing_all(paper.parts, PAPERS[name])) for name, paper in shipped().templates.items()
    }
    return replace(shipped(), templates=dict(papers))


def addendum_of(old: Job, new: Job) -> Document:
    one, two = (Issued(Path("record.json"), record(found, "answers.yaml", b"", {})) for found in (old, new))
    return addendum(compare(one, two), telling(), new.paper("addendum"), 1)


def labels_of(paper: str, left_out: str = "") -> set[str]:
    def every(kind: PartKind) -> set[str]:
        inner = {label for name, each in kind.inner.items() if name != left_out for label in every(each)}
        return inner | {f"<{name}>" for name in kind.own.split() if {"rows", "columns"} & set(kind.options)}

    return every(PAPERS[paper])


def said_by(document: Document) -> str:
    heads = [column.title for block in document.blocks() if isinstance(block, Table) for column in block.columns]
    return "\n".join([outline(document), *heads])


def test_everything_that_the_program_makes_for_a_table_can_be_shown_in_it() -> None:
    library, said = library_showing_all(), dict[str, str]()
    for name in ("mill-house", "garden-front"):  # the one has most kinds of work, the other photographs
        made = replace(example(name), library=library, replaces="0")
        papers = {"specification": specification(made)}
        papers |= {Path(file).stem: paper for file, paper in companions(made, list(COMPANIONS)).items()}
        said = {paper: said.get(paper, "") + said_by(document) for paper, document in papers.items()}
    alike = job_of(library, answers(wall(id_="a", name="A"), wall(id_="b", name="B")))
    said["specification"] += said_by(specification(alike))
    for paper, text in said.items():
        # questions are open in a draft alone
        assert {label for label in labels_of(paper, "open-questions") if label not in text} == set(), paper


def test_an_open_question_and_an_addendum_show_all_that_is_made_for_them_too() -> None:
    library = library_showing_all()
    draft = job_of(library, one_wall(face_area_m2=None))
    told = said_by(specification(draft))
    assert {f"<{name}>" for name in ("where", "open", "action", "answer-by")} <= set(told.split("\n"))
    old, new = (job_of(library, one_wall(face_area_m2=area, revision_about="Measured")) for area in ("12", "40"))
    text = said_by(addendum_of(old, new))
    assert {label for label in labels_of("addendum") if label not in text} == set()
