"""Texts filled from the facts: at one scope, or for all the walls of a clause at once."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, quoted, wall, work
from small_library import clause, job_of

from generator.document.model import Paragraph, Table, Value, plain_text
from generator.document.outline import block_text
from generator.files.errors import InputInvalid
from generator.job.job import Job
from generator.library.text import Placeholder

TWO = answers(wall(id_="a", name="A"), wall(id_="b", name="B"))
DIFFERING = answers(
    wall(id_="a", name="A"), wall(id_="b", name="B"), wall(id_="c", name="C", joint_width_mm="15 - 20 (18)")
)
DEPTH = clause("first.depth", per="work", text="Rake {{ rake_depth_mm }} deep.")
HOSTILE = "{{7*7}} # **x** <b> [a](clause:b) - قلعة 🧱"


def text_of(made: Job, key: str = "first.depth") -> str:
    return "\n".join(block_text(block) for block in made.filling.merged(key, "text", made.selections[key].paths))


def table_of(made: Job, key: str = "first.depth") -> Table:
    paths = made.selections[key].paths
    return made.filling.value_table(key, made.filling.differing(key, paths), paths)


def test_walls_with_one_value_have_it_in_the_sentence() -> None:
    made = job_of(TWO, DEPTH)
    assert text_of(made) == "Rake 25 mm deep."
    assert made.filling.differing("first.depth", made.selections["first.depth"].paths) == []


def test_walls_with_differing_values_have_the_phrase_in_the_sentence_and_a_table_below() -> None:
    made = job_of(DIFFERING, DEPTH)
    assert text_of(made) == "Rake the rake depth mm tabled deep."
    rows = [[plain_text(cell) for cell in row.cells] for row in table_of(made).rows]
    assert rows == [["A; B", "25 mm"], ["C", "40 mm"]]


def test_a_name_without_a_phrase_is_called_by_its_label() -> None:
    own = clause("first.depth", per="element", text="Built as told: {{ existing_mortar }}.")
    made = job_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", existing_mortar="grey")), own)
    assert text_of(made) == "Built as told: as-tabled existing mortar."


def test_the_table_has_a_column_a_differing_name_and_its_shares_make_one_line() -> None:
    own = clause("first.depth", per="work", text="{{ rake_depth_mm }}, {{ joint_width_mm }}, {{ joint_finish }}")
    table = table_of(job_of(DIFFERING, own))
    assert [column.title for column in table.columns[1:]] == ["Rake depth mm", "Joint width mm"]
    assert sum(column.share for column in table.columns) == pytest.approx(1)


def test_a_differing_value_in_the_check_or_the_title_is_tabled_too() -> None:
    own = clause("first.depth", per="work", check="Gauge {{ rake_depth_mm }}.", text="Rake.")
    made = job_of(DIFFERING, own)
    assert made.filling.differing("first.depth", made.selections["first.depth"].paths) == ["rake_depth_mm"]


def test_a_value_that_is_not_known_stands_as_still_to_be_settled() -> None:
    made = job_of(one_wall(joint_width_mm="not known"), DEPTH)
    assert text_of(made) == f"Rake {made.word('to-be-settled')} deep."


def test_one_wall_of_two_without_a_value_is_tabled_as_still_to_be_settled() -> None:
    made = job_of(answers(wall(id_="a", name="A"), wall(id_="b", name="B", joint_width_mm="not known")), DEPTH)
    assert plain_text(table_of(made).rows[1].cells[1]) == made.word("to-be-settled")


@pytest.mark.parametrize(
    ("filter_", "spelt"), [("least", "9 mm"), ("greatest", "12 mm"), ("bare", "9–12"), ("", "9–12 mm")]
)
def test_a_filter_takes_an_end_of_a_range_or_leaves_the_unit_out(filter_: str, spelt: str) -> None:
    made = job_of(one_wall(), DEPTH)
    assert made.filling.spelt(Placeholder("joint_width_mm", filter_), ("front",)) == spelt


def test_capital_raises_the_first_letter_of_what_is_said() -> None:
    made = job_of(one_wall(), DEPTH)
    assert made.filling.spelt(Placeholder("masonry", "capital"), ("front",)) == "Brick"


def test_a_value_knows_its_name_and_the_scope_it_was_read_in() -> None:
    made = job_of(one_wall(), clause("first.depth", per="work", text="{{ masonry }} {{ client }}"))
    (block,) = made.filling.merged("first.depth", "text", made.selections["first.depth"].paths)
    assert isinstance(block, Paragraph)
    values = [item for item in block.content if isinstance(item, Value)]
    assert [(value.name, value.scope) for value in values] == [("masonry", ("front",)), ("client", ())]


def test_an_answer_that_looks_like_markdown_or_a_placeholder_is_printed_as_it_is_spelt() -> None:
    own = clause("first.depth", per="work", text="**{{ extent }}** and {{ client }}")
    made = job_of(one_wall(extent=quoted(HOSTILE), client=quoted(HOSTILE)), own)
    assert text_of(made) == f"{HOSTILE} and {HOSTILE}"


def test_a_reference_shows_the_number_that_the_clause_has_in_this_job() -> None:
    made = job_of(one_wall(), clause("first.a"), clause("second.b", text="As [](clause:first.a) says."))
    assert text_of(made, "second.b") == "As reference-clause 1.1 says."


def test_a_reference_to_what_is_not_in_these_papers_is_an_error_of_the_library() -> None:
    with pytest.raises(InputInvalid, match=r"'second\.b' is in these papers and refers to 'first\.a', which is not"):
        job_of(one_wall(), clause("first.a", when="church"), clause("second.b", text="As [](clause:first.a) says."))


class TestPlace:
    def test_a_work_is_named_only_where_its_wall_has_several(self) -> None:
        one, two = job_of(one_wall(), DEPTH), job_of(answers(wall(work("x"), work("y"))), DEPTH)
        assert one.filling.place(("front", "repoint")) == "Front wall"
        assert two.filling.place(("front", "x")) == "Front wall, repoint"

    def test_a_coat_is_named_only_where_its_work_has_several(self) -> None:
        made = job_of(answers(wall(work("p", work="plaster", plaster_coats="two"))), clause("first.a"))
        assert made.filling.place(("front", "p", "setting")) == "Front wall, setting"
        assert job_of(one_wall(), DEPTH).filling.place(("front", "repoint", "pointing")) == "Front wall"

    def test_each_wall_is_named_once(self) -> None:
        made = job_of(TWO, DEPTH)
        assert made.filling.where([("a",), ("b",), ("a", "repoint")]) == "A; B"

    def test_a_work_with_all_its_coats_and_a_wall_with_all_its_works_are_named_alone(self) -> None:
        coated = work("p", work="plaster", plaster_coats="two")
        made = job_of(answers(wall(coated, work("y"))), clause("first.a"))
        coats = [scope.path for scope in made.facts.inside(("front", "p"), "coat")]
        assert len(coats) == 2
        assert made.filling.where(coats[:1]) == made.filling.place(coats[0])
        assert made.filling.where(coats) == "Front wall, plaster"
        assert made.filling.where([*coats, ("front", "y")]) == "Front wall"
