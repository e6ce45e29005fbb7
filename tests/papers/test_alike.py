"""Walls that are alike stand on one sheet that tables what differs; those that are not have a sheet each."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from answers_text import answers, wall, work
from jobs import EXAMPLES, after, job
from photographed import jpeg, photograph

from generator import pipeline
from generator.document.model import (
    LINE_NUMBERS,
    Block,
    Document,
    Figure,
    Heading,
    Row,
    Steps,
    Table,
    Value,
    plain_text,
)
from generator.files.errors import InputInvalid
from generator.job.job import Job
from generator.papers.agreement.agree import agreed, agreed_record
from generator.papers.agreement.printed import printed
from generator.papers.alike import sheets
from generator.record.record import record
from generator.values import replace

DIFFERS = "What differs between the walls of this sheet"


def terrace(count: int, *others: str, **project: str | None) -> str:
    """A street of like fronts whose areas, drawings and sides differ."""
    return answers(*(front(number) for number in range(1, count + 1)), *others, **project)


def front(number: int, **changes: str | None) -> str:
    work_: dict[str, str | None] = {
        name: changes.pop(name) for name in ("deep_voids_m2", "extent", "treated_per_cent") if name in changes
    }
    done = work("repoint", face_area_m2=str(20 + number), **{"extent": "failed joints as marked", **work_})
    given = {"name": f"House {number}", "drawing_refs": f"[T-{number}]", "faces": "south", **changes}
    return wall(done, id_=f"house-{number}", **given)


def grouped(found: Job) -> list[list[str]]:
    return [[path[0] for path in sheet.walls] for sheet in sheets(found)]


def specification(found: Job) -> Document:
    return pipeline.assembled(found).documents["specification"]


def titles(found: Job) -> list[str]:
    heads = (block for block in specification(found).blocks() if isinstance(block, Heading))
    return [plain_text(head.content) for head in heads if head.anchor.startswith("element:")]


def table(found: Job) -> Table:
    blocks = specification(found).blocks()
    return next(block for block in blocks if isinstance(block, Table) and block.description == DIFFERS)


def column(of: Table, name: str) -> list[str]:
    at = [head.title for head in of.columns].index(name)
    return [plain_text(row.cells[at]) for row in of.rows if row.kind != "group"]


def test_like_walls_have_one_sheet_with_a_row_for_each_wall() -> None:
    found = job(terrace(4))
    assert titles(found) == ["Sheet 1: House 1 to House 4"]
    assert column(table(found), "Wall") == ["House 1", "House 2", "House 3", "House 4"]
    assert column(table(found), "Quantity") == ["10.5 m²", "11 m²", "11.5 m²", "12 m²"]
    assert column(table(found), "Drawn on") == ["T-1", "T-2", "T-3", "T-4"]
    assert column(table(found), "Lines") == ["2.2", "3.2", "4.2", "5.2"]
    assert sum(isinstance(block, Steps) for block in specification(found).blocks()) == 1


def test_what_is_the_same_for_all_stands_on_the_sheet_and_in_no_column() -> None:
    found = job(terrace(3))
    assert "Faces" not in [head.title for head in table(found).columns]
    text = "\n".join(plain_text(block.content) for block in specification(found).blocks() if hasattr(block, "content"))
    assert "facing south" in text
    assert "Drawn on" not in text
    other = job(answers(front(1), front(2, faces="north")))
    assert column(table(other), "Faces") == ["south", "north"]


def test_the_shares_of_the_columns_that_are_left_make_the_whole_line() -> None:
    assert sum(head.share for head in table(job(terrace(2))).columns) == pytest.approx(1.0)


@pytest.mark.parametrize(
    "changes",
    [
        {"salts": "some"},
        {"description": "A wall of another brick"},
        {"joint_width_mm": "9 - 12 (11)"},
        {"condition": "joints gone altogether"},
        {"height_m": "3.5"},
        {"deep_voids_m2": "2"},
        {"wall_openings": "[{kind: window, width_m: 1, height_m: 1}]"},
    ],
)
def test_a_wall_that_differs_in_anything_else_has_a_sheet_of_its_own(changes: dict[str, str]) -> None:
    assert grouped(job(answers(front(1), front(2), front(3, **changes)))) == [["house-1", "house-2"], ["house-3"]]


def test_an_extent_or_a_share_that_differs_does_not_part_them() -> None:
    found = job(answers(front(1), front(2, extent="below the sills", treated_per_cent="20 - 20 (20)")))
    assert grouped(found) == [["house-1", "house-2"]]
    assert column(table(found), "Where") == ["failed joints as marked", "below the sills"]


def test_like_walls_are_found_wherever_they_stand_in_the_answers() -> None:
    found = job(answers(front(1), front(2, salts="some"), front(3), front(7)))
    assert grouped(found) == [["house-1", "house-3", "house-7"], ["house-2"]]
    assert titles(found) == ["Sheet 1: House 1 and 2 like it", "Sheet 2: House 2"]


def test_a_wall_with_a_photograph_is_like_no_other(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(jpeg())
    listed = json.dumps([photograph(element="house-1")])
    found = job(terrace(3, photographs=listed), folder=tmp_path)
    assert grouped(found) == [["house-1"], ["house-2", "house-3"]]


def test_works_are_tabled_one_after_the_other_under_their_names() -> None:
    def two(number: int) -> str:
        wash = work(
            "wash", work="limewash", wash_colour="white", old_coating="limewash", face_area_m2=str(20 + number),
            treated_per_cent=None, treated_how=None, joint_depth_lost_mm=None, cement_area_m2=None, joint_finish=None,
            extent="the whole face",
        )  # fmt: skip
        return wall(work(face_area_m2="20"), wash, id_=f"house-{number}", name=f"House {number}", wall_painting="none")

    found = table(job(answers(two(1), two(2))))
    heads = [plain_text(row.cells[0]) for row in found.rows if row.kind == "group"]
    assert heads == ["Repointing", "Limewashing"]
    assert column(found, "Quantity") == ["10 m²", "10 m²", "21 m²", "22 m²"]


def test_the_figures_of_a_shared_sheet_are_drawn_once_and_named_for_all_its_walls() -> None:
    found = job(answers(*(front(number, face_width_m="5", face_height_m="4.4") for number in (1, 2, 3))))
    drawn = [block for block in specification(found).blocks() if isinstance(block, Figure) and "house" in block.anchor]
    assert [figure.anchor for figure in drawn] == ["figure:face:house-1", "figure:house-1.repoint"]
    assert all("House 1 to House 3" in figure.caption for figure in drawn)


def test_the_record_still_tells_of_every_wall_by_itself() -> None:
    found = job(terrace(3))
    papers = pipeline.assembled(found)
    told = record(found, "answers.yaml", b"", {})
    agreed_record(papers, told)
    assert {work_["element"] for work_ in told["works"]} == {"house-1", "house-2", "house-3"}


def refusals(found: Job, change: Callable[[Table], Table]) -> str:
    """What is told of the papers of a job once the table of its shared sheet is changed."""
    papers = pipeline.assembled(found)
    whole = papers.documents["specification"]

    def changed(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
        return tuple(change(it) if isinstance(it, Table) and it.description == DIFFERS else it for it in blocks)

    sections = tuple(replace(section, blocks=changed(section.blocks)) for section in whole.sections)
    with pytest.raises(InputInvalid) as refused:
        agreed(printed(papers.job, {"specification": replace(whole, sections=sections)}, papers.sheet, papers.book))
    return "\n".join(map(str, refused.value.problems))


def test_a_wall_left_out_of_the_table_is_told_to_have_no_sheet() -> None:
    told = refusals(job(terrace(3)), lambda it: replace(it, rows=(it.rows[0], it.rows[2])))
    assert "names the wall 'House 2' and has no sheet of it" in told


def test_a_quantity_tabled_otherwise_than_it_is_priced_is_told() -> None:
    def otherwise(it: Table) -> Table:
        wrong = (Value("treated_area_m2", ("house-2", "repoint"), "12.5 m²"),)
        at = [head.title for head in it.columns].index("Quantity")
        cells = tuple(wrong if place == at else cell for place, cell in enumerate(it.rows[1].cells))
        return replace(it, rows=(it.rows[0], Row(cells), it.rows[2]))

    assert "'treated_area_m2' is 12.5 m²" in refusals(job(terrace(3)), otherwise)


def test_a_line_of_another_wall_in_the_table_is_told() -> None:
    def swapped(it: Table) -> Table:
        wrong = (Value(LINE_NUMBERS, ("house-2", "repoint"), "2.2"),)
        return replace(it, rows=(it.rows[0], Row((*it.rows[1].cells[:-1], wrong)), it.rows[2]))

    assert "gives line 2.2 to House 2" in refusals(job(terrace(3)), swapped)


def test_lines_and_clauses_keep_their_numbers_when_a_wall_comes_to_be_like_the_others() -> None:
    first = job(answers(front(1), front(2, salts="some")))
    second = after(first, answers(front(1), front(2)))
    assert len(titles(first)) == 2
    assert titles(second) == ["Sheet 1: House 1 to House 2"]
    assert {key: number for key, number in second.numbers.items() if key in first.numbers} == {
        key: number for key, number in first.numbers.items() if key in second.numbers
    }


def test_a_template_without_the_table_gives_every_wall_its_sheet() -> None:
    found = job(terrace(3))
    paper = found.paper("specification")
    front_ = paper.part("front")
    walls = paper.part("sheets")
    bare = replace(walls, parts=tuple(part for part in walls.parts if part.part != "alike"))
    others = tuple(bare if part.part == "sheets" else part for part in front_.parts)
    parts = tuple(replace(front_, parts=others) if part.part == "front" else part for part in paper.parts)
    templates = {**found.library.templates, "specification": replace(paper, parts=parts)}
    assert len(sheets(replace(found, library=replace(found.library, templates=templates)))) == 3


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_the_walls_of_the_examples_are_alike_to_none(path: Path) -> None:
    assert all(not sheet.is_shared for sheet in sheets(job(path.read_text(encoding="utf-8"), folder=path.parent)))


def test_a_wall_whose_panel_is_priced_with_another_s_gives_that_line_on_its_sheet_and_may_share_it() -> None:
    wash = work(
        "wash", work="limewash", wash_colour="white", old_coating="limewash", face_area_m2="20", treated_per_cent=None,
        treated_how=None, joint_depth_lost_mm=None, cement_area_m2=None, joint_finish=None, extent="the whole face",
    )  # fmt: skip
    houses = (wall(wash, id_=f"house-{number}", name=f"House {number}", wall_painting="none") for number in (1, 2))
    found = job(answers(*houses))
    (panel,) = [item for item in found.measured.items() if item.entry.id == "prelims.panel-limewash"]
    assert panel.others == (("house-2", "wash"),)
    assert all(panel in found.lines_at((house, "wash")) for house in ("house-1", "house-2"))
