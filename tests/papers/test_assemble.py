"""Assembling: the three papers of one job agree with each other and with what was decided."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, quoted, wall
from jobs import job, shipped
from small_library import clause, job_of

from generator.document.model import (
    CLAUSE_NUMBERS,
    LINE_NUMBERS,
    ClauseBlock,
    Contents,
    Figure,
    Heading,
    ListBlock,
    Paragraph,
    Table,
    plain_text,
)
from generator.document.outline import outline, values_of
from generator.papers.assemble import assemble


@pytest.mark.parametrize(("area", "mark"), [("12", ""), ("0", "draft-mark")])
def test_every_paper_says_whether_it_is_a_draft(area: str, mark: str) -> None:
    made = job(one_wall(face_area_m2=area))
    papers = assemble(made)
    wanted = made.word(mark) if mark else ""
    identities = (papers.specification.identity, papers.sheet.identity, papers.book.identity)
    assert [identity.draft for identity in identities] == [wanted] * 3


def test_every_paper_has_the_same_reference_revision_date_and_title() -> None:
    papers = assemble(job(one_wall(revision="4", reference="R-77")))
    found = {
        (identity.reference, identity.revision, identity.date, identity.subject)
        for identity in (papers.specification.identity, papers.sheet.identity, papers.book.identity)
    }
    assert found == {("R-77", "4", "2027-02-01", "Garden house, repointing in lime (invented)")}


def test_the_schedule_is_the_last_section_and_goes_on_the_page_of_the_tables_under_a_header_of_both() -> None:
    sections = assemble(job(answers(*(wall(id_=name, name=name) for name in "abcde")))).specification.sections
    assert not any(section.landscape for section in sections)
    head = sections[-1].blocks[0]
    assert isinstance(head, Heading)
    assert head.anchor == "front:schedule"
    assert sections[-1].continues
    assert sections[-1].header == sections[-2].header


def test_in_a_set_that_tells_little_what_stands_across_floats_and_the_rules_follow_the_clauses() -> None:
    _, _, programme, *_, columns, mixes, materials, priced = assemble(job(one_wall())).specification.sections
    assert columns.columns == 2
    (at,) = (
        at for at, block in enumerate(columns.blocks) if isinstance(block, Heading) and block.anchor == "front:rules"
    )
    assert [type(block) for block in columns.blocks[at + 1 :]] == [Paragraph, ListBlock]
    assert [(one.floats, type(one.blocks[-1])) for one in (programme, mixes, materials)] == [
        (True, Figure), (True, Table), (True, Table),
    ]  # fmt: skip
    assert isinstance(materials.blocks[0], Heading)
    assert [block.anchor for block in priced.blocks if isinstance(block, Heading)] == ["front:schedule"]


def test_the_front_holds_one_list_of_contents() -> None:
    blocks = list(assemble(job(one_wall())).specification.blocks())
    assert len([block for block in blocks if isinstance(block, Contents)]) == 1


def test_every_clause_that_is_in_stands_once_with_its_number() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B", masonry="flint", hardness=None, bond=None)))
    written = [block for block in assemble(made).specification.blocks() if isinstance(block, ClauseBlock)]
    assert [block.clause_id for block in written] == [
        key for part in made.parts for key in (clause_.clause_id for clause_ in part.clauses)
    ]
    assert {block.clause_id for block in written} == {key for key, c in made.selections.items() if c.included}
    assert len({block.number for block in written}) == len(written)


def test_anchors_stand_once() -> None:
    blocks = list(assemble(job(one_wall())).specification.blocks())
    anchors = [block.anchor for block in blocks if isinstance(block, Heading | ClauseBlock | Table) and block.anchor]
    assert len(anchors) == len(set(anchors))


def test_a_wall_without_a_quantity_stands_in_scope_mixes_and_schedule() -> None:
    made = job(answers(wall(id_="a", name="Wall A"), wall(id_="b", name="Wall B", hardness="hard")).replace(
        "face_area_m2: 12", "face_area_m2: 0"
    ))  # fmt: skip
    papers = assemble(made)
    text = outline(papers.specification)
    for name in ("Wall A", "Wall B"):
        assert f"{name} | repointing" in text
        assert any(name in card.walls for card in papers.sheet.cards)
        assert any(section.title == name for section in papers.book.sections)
    assert not papers.book.complete
    assert made.status == "draft"


def test_numbers_of_the_last_issue_are_kept() -> None:
    made = job_of(one_wall(), clause("first.a"), clause("first.b"), last={"part:first": "3", "clause:first.b": "3.2"})
    assert made.numbers["clause:first.b"] == "3.2"
    assert made.numbers["part:first"] == "3"


@pytest.mark.parametrize(
    "hostile", ["{{7*7}} # **x** <b>", "=1+1", "قلعة الجير", "石灰の家 🧱", "- a\\ | [x](clause:y)", "& < > \"'"]
)
def test_every_text_answer_of_the_one_wall_job_is_spelt_as_given_in_a_paper(hostile: str) -> None:
    questions = shipped().questionnaire.questions
    plain = job(one_wall())
    asked = [
        name for _, name, held in plain.facts.every()
        if held.origin == "given" and name in questions and questions[name].kind == "text"
    ]  # fmt: skip
    assert len(asked) > 10
    spelt = {name: f"{hostile} {name}"[: int(questions[name].most or 5000)].strip() for name in asked}
    papers = assemble(job(one_wall(**{name: quoted(text) for name, text in spelt.items()})))
    shown = outline(papers.specification)
    assert [name for name, text in spelt.items() if text not in shown] == []


def test_every_value_in_the_papers_knows_a_name_that_is_declared() -> None:
    made = job(one_wall())
    values = [value for block in assemble(made).specification.blocks() for value in values_of(block)]
    assert values
    assert {value.name for value in values} <= {*made.facts.names, *made.library.figures, CLAUSE_NUMBERS, LINE_NUMBERS}


def test_the_rules_of_measurement_stand_in_two_even_columns_right_above_the_lines() -> None:
    *_, ruled, priced = assemble(job(answers(*(wall(id_=name, name=name) for name in "abc")))).specification.sections
    assert (ruled.is_even, priced.continues) == (True, True)
    assert [block.anchor for block in (*ruled.blocks, *priced.blocks) if isinstance(block, Heading)][:2] == [
        "front:rules", "front:schedule",
    ]  # fmt: skip
    left, right = (
        sum(len(plain_text(item)) for block in column if isinstance(block, ListBlock) for item in block.items)
        for column in (ruled.blocks, ruled.side)
    )
    assert abs(left - right) < max(left, right) / 2


def test_the_references_are_the_last_of_the_numbered_parts_in_one_paragraph() -> None:
    (columns,) = [section for section in assemble(job(one_wall())).specification.sections if section.columns > 1]
    heads = [block.anchor for block in columns.blocks if isinstance(block, Heading)]
    assert heads[-2:] == ["part:references", "front:rules"]
    at = next(at for at, block in enumerate(columns.blocks) if isinstance(block, Heading) and block.anchor == heads[-1])
    last = columns.blocks[at - 1]
    assert isinstance(last, Paragraph)
    assert plain_text(last.content).count("; ") >= 1
