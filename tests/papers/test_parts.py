"""The numbered parts: each clause once, its walls, its table; and the tables the program makes."""

from __future__ import annotations

from typing import ClassVar

from answers_text import answers, one_wall, wall
from jobs import example, job, part
from small_library import clause, job_of

from generator.document.model import Block, ClauseBlock, Heading, Paragraph, Table, plain_text
from generator.document.outline import block_text
from generator.job.job import Job
from generator.papers.parts import (
    drawings_table,
    hold_points,
    mixes_tables,
    part_blocks,
    used_sources,
)
from generator.papers.programme import programme_tables
from generator.values import replace

MAKERS = {
    "mixes": mixes_tables, "drawings": drawings_table, "programme": programme_tables, "hold-points": hold_points,
}  # fmt: skip
DIFFERING = answers(
    wall(id_="a", name="A"), wall(id_="b", name="B"), wall(id_="c", name="C", joint_width_mm="15 - 20 (18)")
)


def blocks(made: Job) -> list[Block]:
    return [block for part in made.parts for block in part_blocks(made, part)]


def clauses(made: Job) -> dict[str, ClauseBlock]:
    return {block.clause_id: block for block in blocks(made) if isinstance(block, ClauseBlock)}


def rows(table: Table) -> list[list[str]]:
    return [[plain_text(cell) for cell in row.cells] for row in table.rows]


def shown(made: Job, name: str) -> list[Block]:
    """What a part of the clauses shows, as its template says."""
    return list(MAKERS[name](made, part(made, name)))


def tables(made: Job, name: str) -> list[Table]:
    return [block for block in shown(made, name) if isinstance(block, Table)]


def test_a_part_has_its_title_and_number_and_one_without_clauses_is_not_there() -> None:
    made = job_of(one_wall(), clause("second.only"))
    heads = [block for block in blocks(made) if isinstance(block, Heading)]
    assert [(head.number, plain_text(head.content), head.anchor) for head in heads] == [
        ("1", "Part second", "part:second")
    ]


def test_a_clause_for_many_walls_is_written_once_and_tables_what_differs() -> None:
    made = job_of(DIFFERING, clause("first.depth", per="work", text="Rake {{ rake_depth_mm }}."))
    (block,) = clauses(made).values()
    (table,) = [inner for inner in block.blocks if isinstance(inner, Table)]
    assert rows(table) == [["A; B", "25 mm"], ["C", "40 mm"]]
    assert "applies-to" not in block_text(block)


def test_a_clause_that_an_answer_ends_ends_in_one_full_stop() -> None:
    own = clause("first.visit", text="Visit: {{ extent }}", per="work")
    for extent in ("any weekday", "any weekday."):
        (block,) = clauses(job_of(one_wall(extent=extent), own)).values()
        assert "Visit: any weekday." in block_text(block)
        assert ".." not in block_text(block)


def test_a_clause_for_some_walls_names_them_and_one_for_all_does_not() -> None:
    some = clause("first.some", per="element", when="joint_width_mm > 14")
    made = job_of(DIFFERING, some, clause("first.all", per="element"))
    found = clauses(made)
    assert "applies-to C" in block_text(found["first.some"])
    assert "applies-to" not in block_text(found["first.all"])


def test_check_and_because_stand_in_one_small_paragraph_led_by_their_labels() -> None:
    made = job_of(one_wall(), clause("first.a", check="Gauge ten.", because="It slumps."))
    last = clauses(made)["first.a"].blocks[-1]
    assert isinstance(last, Paragraph)
    assert (last.style, plain_text(last.content)) == ("label", "label-check Gauge ten. label-because It slumps.")


def test_a_list_in_a_check_stands_below_the_labels() -> None:
    made = job_of(one_wall(), clause("first.a", check="Look for:\n\n- one\n- two", because="So."))
    assert block_text(clauses(made)["first.a"]).splitlines()[-3:] == [
        "label-check Look for: label-because So.",
        "- one",
        "- two",
    ]


def test_advice_is_kept_apart_from_the_words() -> None:
    block = clauses(job_of(one_wall(), clause("first.a", advice="Mind this.")))["first.a"]
    assert block.advice == "Mind this."
    assert "Mind this." not in block_text(block)


class TestAgainstTheLastIssue:
    LAST: ClassVar = {"part:first": "1", "clause:first.a": "1.1", "clause:first.gone": "1.2", "clause:first.c": "1.3"}

    def test_an_added_clause_takes_a_letter_and_nothing_else_moves(self) -> None:
        made = job_of(one_wall(), clause("first.a"), clause("first.new"), clause("first.c"), last=self.LAST)
        assert {block.clause_id: block.number for block in clauses(made).values()} == {
            "first.a": "1.1", "first.new": "1.1A", "first.gone": "1.2", "first.c": "1.3",
        }  # fmt: skip

    def test_a_removed_clause_keeps_its_number_as_not_used(self) -> None:
        made = job_of(one_wall(), clause("first.a"), clause("first.c"), last=self.LAST)
        gone = clauses(made)["first.gone"]
        assert not gone.used
        assert block_text(gone) == f"1.2 {made.word('not-used')}"

    def test_references_follow_the_letters(self) -> None:
        words = clause("second.b", text="As [](clause:first.new) says.")
        made = job_of(one_wall(), clause("first.a"), clause("first.new"), clause("first.c"), words, last=self.LAST)
        assert "reference-clause 1.1A" in block_text(clauses(made)["second.b"])


class TestTables:
    def test_the_mixes_in_figures_give_lime_sand_gauge_dry_ratio_and_slaked_equivalent(self) -> None:
        made = job(one_wall())
        (figures,) = tables(made, "mixes")
        (row,) = rows(figures)
        assert row[:2] == ["M1", "Front wall"]
        assert row[4] == "1 : 2.5"
        assert row[5].startswith("1 : 2 (")

    def test_a_slaked_equivalent_has_a_column_where_quicklime_is_slaked_with_its_sand(self) -> None:
        for made, hot in ((job(one_wall()), False), (example("mill-house"), True)):
            columns = part(made, "mix-figures").columns
            (title,) = [column.label for column in columns if column.shows == "mix_putty_ratio"]
            (figures,) = tables(made, "mixes")
            assert (figures.columns[-1].title == title) is hot

    def test_without_a_mix_there_are_no_tables_of_mixes(self) -> None:
        assert shown(job(one_wall(hardness="not known")), "mixes") == []

    def test_drawings_are_listed_as_answered_and_none_makes_no_table(self) -> None:
        made = job(one_wall(drawings="[{ref: D-1, title: Front, revision: A}, {ref: D-2, title: Plan}]"))
        (table,) = tables(made, "drawings")
        assert rows(table) == [["D-1", "Front", "A"], ["D-2", "Plan", ""]]
        assert shown(job(one_wall()), "drawings") == []

    def test_a_work_of_which_nothing_is_timed_has_no_row_of_nothing(self) -> None:
        made = job(one_wall(hardness="not known", exposure="not known", face_area_m2=None))
        assert "table:season" not in [table.anchor for table in tables(made, "programme")]

    def test_dates_of_walls_on_one_sheet_and_what_to_order_are_tabled(self) -> None:
        made = job(answers(wall(id_="a", name="East wall"), wall(id_="b", name="West wall")))
        _, orders, walls, works = tables(made, "programme")
        lime = [coat for wall in made.programme.walls for coat in wall.lime]
        said = [[made.facts.say("start_date", day) for day in (coat.first, coat.last)] for coat in lime]
        assert rows(walls) == [["East wall", "–", "–", "–", *said[0]], ["West wall", "–", "–", "–", *said[1]]]
        last = [made.facts.spoken(coat.path, "last_placing_date") for coat in lime]
        assert [row[4] for row in rows(works)] == last
        assert len(rows(orders)) == len(made.programme.orders)

    def test_dates_of_walls_with_a_sheet_of_their_own_stand_there_alone_while_the_programme_is_drawn(self) -> None:
        made = job(one_wall())
        assert not {"table:walls", "table:season"} & {table.anchor for table in tables(made, "programme")}
        group = part(made, "programme")
        undrawn = replace(group, parts=tuple(one for one in group.parts if one.part != "programme-figure"))
        found = programme_tables(replace(made, figures={}), undrawn)
        assert "table:season" in [block.anchor for block in found if isinstance(block, Table)]

    def test_hold_points_that_hang_on_a_fact_are_there_only_with_it(self) -> None:
        def told(made: Job) -> str:
            return "\n".join(block_text(block) for block in shown(made, "hold-points"))

        engineer = shipped_hold_point("engineer")
        assert engineer not in told(job(one_wall()))
        assert engineer in told(job(one_wall(leaning="yes", engineer_says="with-care")))
        assert shipped_hold_point("start") in told(job(one_wall()))

    def test_sources_used_are_those_of_clauses_reasons_findings_and_recipes(self) -> None:
        out = clause("first.b", when="church", sources=("spab-flint",))
        made = job_of(one_wall(), clause("first.a", sources=("nps-brief-2",)), out)
        found = used_sources(made)
        assert "nps-brief-2" in found
        assert set(made.decisions.mixes[0].recipe.sources) <= found
        assert "spab-flint" not in found


def shipped_hold_point(key: str) -> str:
    return job(one_wall()).library.hold_points[key].what
