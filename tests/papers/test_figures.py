"""Figures drawn from the answers: where each stands, what it is drawn from, and one number for each."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall
from jobs import EXAMPLES, ROOT, job

from generator.document.model import ClauseBlock, Figure, Paragraph, Ref
from generator.drawing.calendar import CalendarWords
from generator.drawing.coats import CoatWords
from generator.drawing.elevation import ElevationWords
from generator.drawing.flaunching import FlaunchingWords
from generator.drawing.grading import GradingWords
from generator.drawing.joint import JointWords
from generator.drawing.programme_model import ProgrammeWords
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.clause_figures import JOINT_CLAUSES
from generator.papers.drawn import words_for
from generator.values import Struct

MILL = (ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8")


def figures(made: Job) -> list[Figure]:
    """All figures of the specification in reading order, those in clauses too."""
    found: list[Figure] = []
    for block in assemble(made).specification.blocks():
        inner = block.blocks if isinstance(block, ClauseBlock) else (block,)
        found += [item for item in inner if isinstance(item, Figure)]
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_numbered_figures_count_up_in_reading_order_with_no_number_twice(path: object) -> None:
    found = figures(job(path.read_text(encoding="utf-8")))  # type: ignore[attr-defined]
    numbers = [figure.number for figure in found if figure.caption and not figure.number.endswith(", continued")]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    assert numbers


def test_coats_are_drawn_with_thickness_and_hair_on_masonry_and_on_laths() -> None:
    made = job(MILL)
    alts = {figure.anchor: figure.drawing.alt for figure in figures(made)}
    assert "Pricking-up coat, haired, 10 mm" in alts["figure:chamber-ceiling.plaster"]
    assert "on lath" in alts["figure:chamber-ceiling.plaster"]
    assert "on masonry" in alts["figure:rear.render"]
    assert "haired" not in alts["figure:rear.render"]


def test_the_section_of_a_ceiling_says_which_way_is_up_and_those_of_walls_do_not() -> None:
    made = job(MILL)
    overhead = words_for(made, CoatWords, "coats").overhead
    told = [item.caption for item in figures(made) if overhead in item.drawing.alt]
    assert len(told) == 1
    assert told[0].endswith("Chamber ceiling")


def test_while_the_start_is_open_the_season_is_drawn_of_each_wall_outside_and_with_one_it_is_not() -> None:
    text = answers(wall(id_="a", name="A"), wall(id_="b", name="B", position="indoors", exposure=None), start_date=None)
    (alt,) = [figure.drawing.alt for figure in figures(job(text)) if figure.anchor == "figure:season"]
    assert "A: 2 May 2027 to " in alt
    assert "B: " not in alt
    inside = job(one_wall(position="indoors", exposure=None, start_date=None))
    for made in (job(one_wall()), inside, job(one_wall(start_date=None, early_frost=None))):
        assert "figure:season" not in [figure.anchor for figure in figures(made)]


def test_the_season_drawn_is_the_one_that_is_open_or_opens_next_after_the_issue() -> None:
    for issued, year in (("2027-02-01", 2027), ("2027-06-15", 2027), ("2027-12-01", 2028)):
        made = job(one_wall(start_date=None, issue_date=issued))
        (alt,) = [figure.drawing.alt for figure in figures(made) if figure.anchor == "figure:season"]
        assert f"Safe season: 2 May {year} to " in alt


def test_both_pictograms_of_lime_stand_with_its_burns_and_none_with_silica_which_bears_neither() -> None:
    # sacks of lime carry GHS05 (H318) and GHS07 (H335): sources.yaml, sds-lime
    made = {
        block.clause_id: [figure.drawing.alt for figure in block.blocks if isinstance(figure, Figure)]
        for block in assemble(job(one_wall())).specification.blocks()
        if isinstance(block, ClauseBlock)
    }
    (alt,) = made["safety.lime-burns"]
    assert "GHS05" in alt
    assert "GHS07" in alt
    assert "safety.dust" in made
    assert [clause for clause, alts in made.items() if "pictogram" in " ".join(alts)] == ["safety.lime-burns"]


def test_a_joint_stands_wrong_and_right_in_the_clauses_that_its_steps_rest_on() -> None:
    made = job(one_wall())
    shown = {
        block.clause_id: figure.drawing.alt
        for block in assemble(made).specification.blocks()
        if isinstance(block, ClauseBlock)
        for figure in block.blocks
        if isinstance(figure, Figure) and "Wrong:" in figure.drawing.alt
    }
    steps = {entry.picture: entry for entry in made.library.operations.values()}
    assert shown == {clause: steps[picture].shows for picture, clause in JOINT_CLAUSES.items()}
    assert all(clause in steps[picture].clauses for picture, clause in JOINT_CLAUSES.items())


def test_every_numbered_figure_of_a_clause_is_named_in_the_text_above_it() -> None:
    made = job(MILL)
    silent, count = [], 0
    for block in assemble(made).specification.blocks():
        named: set[str] = set()
        for inner in block.blocks if isinstance(block, ClauseBlock) else ():
            if isinstance(inner, Paragraph):
                named |= {item.anchor for item in inner.content if isinstance(item, Ref)}
            elif isinstance(inner, Figure) and inner.number:
                count += 1
                silent += [] if inner.anchor in named else [inner.anchor]
    assert count == 4
    assert silent == []


def test_a_chimney_top_is_drawn_from_the_sizes_of_its_clauses_where_flaunching_is_laid_round_pots() -> None:
    made = job(MILL)
    alts = {figure.anchor: figure.drawing.alt for figure in figures(made)}
    told = alts["figure:flaunching"]
    for name, clause in (("edge_mm", "flaunching.laying"), ("short_mm", "flaunching.laying"),
                         ("foot_inside_mm", "flaunching.pots")):  # fmt: skip
        figure = made.library.figure(name, clause)
        assert figure is not None
        assert figure.spelt() in told.replace("\u00a0", " ")
    for text in (MILL.replace("pots_nr: 4", "pots_nr: 0"), one_wall()):
        assert "figure:flaunching" not in [figure.anchor for figure in figures(job(text))]


@pytest.mark.parametrize(
    ("kind", "name"),
    [(JointWords, "joint"), (CoatWords, "coats"),
     (CalendarWords, "calendar"), (ProgrammeWords, "programme"), (GradingWords, "grading"),
     (ElevationWords, "face"), (FlaunchingWords, "flaunching")],
)  # fmt: skip
def test_every_word_of_a_drawing_comes_from_the_library(kind: type[Struct], name: str) -> None:
    said: object = words_for(job(one_wall()), kind, name)
    assert all(getattr(said, name) for name in kind.__struct_fields__)
