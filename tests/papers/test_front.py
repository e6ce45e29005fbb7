"""The front of the specification: cover, open questions, scope, what matters most, dates."""

from __future__ import annotations

from answers_text import answers, one_wall, wall
from jobs import ROOT, job, part

from generator.document.model import Block, ListBlock, Notice, Table, plain_text
from generator.document.outline import block_text
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.front import cover, is_brief, read_first
from generator.values import replace

NO_AREA = one_wall(face_area_m2=None)


def table(blocks: list[Block], anchor: str) -> list[list[str]]:
    (found,) = [block for block in blocks if isinstance(block, Table) and block.anchor == anchor]
    return [[plain_text(cell) for cell in row.cells] for row in found.rows]


def front(made: Job) -> list[Block]:
    sections = read_first(made, part(made, "read-first"), "")
    return [block for section in sections for block in (*section.blocks, *section.side)]


def said(blocks: list[Block]) -> str:
    return "\n".join(block_text(block) for block in blocks)


def test_the_cover_names_work_place_reference_revision_status_and_library() -> None:
    made = job(one_wall(title="A title", place="A place", reference="R-9"))
    text = said(list(cover(made)))
    for words in ("A title", "A place", "R-9", "1 February 2027", made.word("status-tender"), made.library.edition):
        assert words in text


def test_the_cover_of_a_revision_says_what_it_replaces_what_for_and_to_whom_it_goes() -> None:
    made = job(one_wall(revision="2", revision_about="Queries answered", distribution="[the officer, the owner]"))
    (label,) = [row.label for row in part(made, "control").rows if row.shows == "replaces"]
    assert label not in said(list(cover(made)))
    text = said(list(cover(replace(made, replaces="A"))))
    for words in (label, made.word("control-revision", revision="A"), "Queries answered", "the officer", "the owner"):
        assert words in text


def test_a_draft_says_so_on_its_cover() -> None:
    made = job(NO_AREA)
    assert made.word("status-draft") in said(list(cover(made)))


def test_the_first_page_of_a_draft_lists_every_block_with_who_must_answer() -> None:
    made = job(one_wall(face_area_m2=None, leaning=None))
    blocks = front(made)
    assert isinstance(blocks[1], Notice)
    rows = table(blocks, "table:open")
    open_ = [item for item in made.findings if item.level == "block"]
    assert len(open_) >= 3
    assert [row[1:] for row in rows] == [[item.message, item.action, item.answer_by] for item in open_]
    assert f"Open questions: {len(open_)}." in block_text(blocks[1])


def test_a_set_for_tender_has_no_open_questions() -> None:
    blocks = front(job(one_wall()))
    assert not [block for block in blocks if isinstance(block, Notice)]
    assert all(block.anchor != "table:open" for block in blocks if isinstance(block, Table))


def test_the_scope_has_every_work_with_its_mix_and_quantity() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="not known")))
    assert table(front(made), "table:scope") == [
        ["A", "repointing: the whole face", "M1", "6 m²", "2.2"],
        ["B", "repointing: the whole face", made.word("to-be-settled"), "6 m²", "3.2"],
    ]


def test_a_wall_without_a_quantity_still_stands_in_the_scope() -> None:
    made = job(NO_AREA)
    (row,) = table(front(made), "table:scope")
    assert row[0] == "Front wall"
    assert row[3] == made.word("quantity-to-follow")


def test_what_matters_most_is_told_once_for_all_the_walls_it_concerns() -> None:
    made = job(
        answers(
            wall(id_="a", name="A", wall_wet="soaked"),
            wall(id_="b", name="B", wall_wet="soaked"),
        )
    )
    instruction = next(item.instruction for item in made.findings if item.code == "wall-soaked")
    (listed,) = [block for block in front(made) if isinstance(block, ListBlock)]
    lines = [plain_text(line) for line in listed.items]
    assert f"A; B: {instruction}" in lines
    assert sum(instruction in line for line in lines) == 1


def test_what_is_open_or_matters_at_many_walls_is_told_once_with_how_many_there_are() -> None:
    walls = [
        wall(id_=f"w{number}", name=f"Wall {number}", wall_wet="soaked", hardness="not known") for number in range(14)
    ]
    few, many = (job(answers(*some)) for some in (walls[:12], walls))
    instruction = next(item.instruction for item in many.findings if item.code == "wall-soaked")
    places = "Wall 0; Wall 1; Wall 2; Wall 3; Wall 4; Wall 5; and 8 places more"
    assert f"{places}: {instruction}" in said(front(many))
    assert f"Wall 10; Wall 11: {instruction}" in said(front(few))
    open_ = [item for item in many.findings if item.level == "block" and item.scope]
    alike = [row for row in table(front(many), "table:open") if row[0] == places]
    assert [row[1] for row in alike] == list(dict.fromkeys(item.message for item in open_))
    assert len(table(front(few), "table:open")) == 12 * len(alike)


def test_tenderers_read_the_instruction_and_not_the_refused_wish() -> None:
    made = job(one_wall(asked_binder="cement"))
    (finding,) = [item for item in made.findings if item.code == "asked-cement-refused"]
    text = said(front(made))
    assert finding.instruction in text
    assert finding.message not in text


def test_dates_not_answered_are_still_to_be_settled() -> None:
    made = job(one_wall(finish_date=None))
    assert f"Completion | {made.word('to-be-settled')}" in said(front(made))


def test_the_page_starts_on_a_new_page_unless_a_small_set_for_tender_has_room_on_the_first() -> None:
    few, open_ = job(one_wall()), job(NO_AREA)
    many = job(answers(*(wall(id_=name, name=name) for name in ("a", "b", "c"))))
    covers = [bool(assemble(made).specification.cover) for made in (few, open_, many)]
    assert covers == [False, True, True]  # without a cover of its own, its blocks open the first section


def test_cover_and_the_page_to_read_first_share_a_page_only_where_little_is_to_be_told() -> None:
    little, much = job(one_wall()), job((ROOT / "tests/cases/terracotta-front.yaml").read_text(encoding="utf-8"))
    assert little.status == much.status == "tender"
    assert len(much.facts.at("work")) == 1
    assert (is_brief(little), is_brief(much)) == (True, False)
