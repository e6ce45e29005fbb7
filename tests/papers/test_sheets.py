"""Element sheets: what a wall is, what comes first, the operations in order, mix, quantities, season, joint."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import EXAMPLES, example, job, part

from generator.document.model import Block, Figure, Heading, Pairs, Ref, Steps, Table, plain_text
from generator.document.outline import block_text, values_of
from generator.job.job import Job
from generator.papers.sheets import element_sheets


def sheets(made: Job) -> list[Block]:
    sections = element_sheets(made, part(made, "sheets"))
    return [block for section in sections for block in (*section.blocks, *section.side)]


def said(made: Job) -> str:
    return "\n".join(block_text(block) for block in sheets(made))


def test_walls_that_are_not_alike_have_a_sheet_each_that_others_can_refer_to() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B", hardness="medium")))
    titles = [block for block in sheets(made) if isinstance(block, Heading) and block.level == 1]
    assert [title.anchor for title in titles] == ["element:a", "element:b"]
    sections = list(element_sheets(made, part(made, "sheets")))
    assert [section.header for section in sections if not section.continues] == ["A", "B"]


def test_a_sheet_tells_what_the_wall_is_and_what_is_wrong_in_the_words_of_the_answers() -> None:
    text = said(job(one_wall(description="Orange brick", condition="Eroded")))
    assert "Orange brick" in text
    assert "Eroded" in text


def test_what_was_not_answered_leaves_no_empty_label() -> None:
    made = job(one_wall(description=None))
    assert ". ." not in said(made)
    assert "None" not in said(made)


def test_what_is_not_known_of_a_wall_stands_after_its_question_and_not_in_a_sentence_made_for_an_answer() -> None:
    asked = {"position": "chimney", "access": "roof-scaffold", "flues": "some-live", "flue_liners": "not known"}
    text = said(job(one_wall(**asked, wall_wet="not known")))
    assert "Liners in the flues in use: not known" in text
    assert "How wet the wall is: not known" in text
    assert "of those in use not known" not in text
    assert "the wall not known" not in text


def test_what_must_be_settled_first_stands_before_the_operations() -> None:
    made = job(one_wall(wall_wet="soaked"))
    instruction = next(item.instruction for item in made.findings if item.code == "wall-soaked")
    text = said(made)
    (steps, *_) = [block_text(block) for block in sheets(made) if isinstance(block, Steps)]
    assert text.index(instruction) < text.index(steps)


def test_an_open_question_without_an_instruction_stands_there_too() -> None:
    made = job(one_wall(leaning=None))
    blocked = [item for item in made.findings if item.level == "block" and not item.instruction]
    assert blocked
    assert all(item.message in said(made) for item in blocked if item.scope[:1] == ("front",))


def test_operations_are_numbered_and_refer_only_to_clauses_that_are_in_these_papers() -> None:
    made = job(one_wall())
    (steps,) = [block for block in sheets(made) if isinstance(block, Steps)]
    refs = [item for step in steps.steps for item in step.rests_on if isinstance(item, Ref)]
    assert len(steps.steps) >= 5
    assert refs
    assert all(made.numbers[ref.anchor] == ref.text for ref in refs)


def test_the_mix_is_named_with_its_greatest_layer_and_the_reason_for_its_binder() -> None:
    made = job(one_wall())
    text = said(made)
    assert f"M1, {made.decisions.mixes[0].recipe.name}" in text
    assert made.facts.spoken(("front", "repoint", "pointing"), "layer_mm") in text
    assert made.decisions.reasons[("front", "repoint", "pointing"), "binder"].because in text


def test_a_wall_whose_mix_is_not_decided_says_that_no_mortar_may_be_made() -> None:
    made = job(one_wall(hardness="not known"))
    assert made.word("mix-to-be-settled") in said(made)


def test_quantities_name_the_lines_of_the_schedule() -> None:
    made = job(one_wall(loose_units_nr="4", deep_voids_m2="1"))
    (measured,) = [section for section in made.measured.sections if section.path == ("front",)]
    own = [item.ref for item in measured.items if item.path[:2] == ("front", "repoint")]
    assert len(own) >= 3
    assert f"This work | {own[0]}–{own[-1]}" in said(made)


def test_a_wall_without_a_quantity_says_that_it_follows() -> None:
    made = job(one_wall(face_area_m2=None))
    assert made.word("quantity-to-follow") in said(made)


def test_values_in_the_lines_of_a_sheet_stay_values_and_the_words_around_them_do_not() -> None:
    made = job(one_wall())
    values = [(value.name, value.text) for block in sheets(made) for value in values_of(block)]
    wanted = {"mix_used": "M1", "layer_mm": "15 mm", "treated_area_m2": "6 m²", "last_start_date": "12 July 2027"}
    assert set(wanted.items()) <= set(values)


def test_dates_are_told_with_the_day_by_which_and_covers_outside_alone() -> None:
    outside, inside = job(one_wall()), job(one_wall(exposure="internal", position="indoors"))
    dates = part(outside, "work-dates")
    (covered,) = [shown.label for shown in dates.rows if shown.shows == "cover_until_date"]
    (placed,) = [shown.label for shown in dates.rows if shown.shows == "last_placing_date"]
    for found in (outside, inside):
        assert f"[beside] {dates.heading}" in said(found)
        assert placed in said(found)
    assert f"{covered} | " in said(outside)
    assert f"{covered} | " not in said(inside)


def heads_of_dates(made: Job) -> list[str]:
    (table,) = [block for block in sheets(made) if isinstance(block, Table)]
    return [column.title for column in table.columns]


def test_dates_of_works_side_by_side_stand_under_their_work_in_a_word_so_that_labels_have_room() -> None:
    pointed, washed = work("a"), work("b", work="limewash", old_coating="none")
    two = job(answers(wall(pointed, washed)))
    three = job(answers(wall(pointed, washed, work("c"))))
    assert heads_of_dates(two) == ["Work", "point", "wash"]
    assert [head.partition(" ")[0] for head in heads_of_dates(three)] == ["Work", "point", "point", "wash"]


def test_works_of_one_name_are_told_apart_by_their_steps_over_dates_and_lines() -> None:
    made = job(answers(wall(work("a"), work("c"))))
    _, first_work, second_work = heads_of_dates(made)
    assert first_work.startswith("point 1")
    assert second_work.startswith("point ")
    assert first_work != second_work
    assert "Steps 1" in said(made)


def test_without_a_start_a_sheet_tells_days_and_no_dates() -> None:
    found = job(one_wall(start_date=None))
    told = [block_text(block) for block in sheets(found) if isinstance(block, Pairs | Steps)]
    assert any("damp 7 days" in line.lower() for line in told)
    assert not any("202" in line for line in told)


def test_the_joint_is_drawn_for_pointing_alone_and_numbered_in_order() -> None:
    made = job(answers(wall(work("a"), work("b", work="limewash", old_coating="none"), work("c"))))
    figures = [block for block in sheets(made) if isinstance(block, Figure)]
    assert [figure.anchor for figure in figures] == ["figure:front.a", "figure:front.c"]
    assert [figure.number for figure in figures] == ["1", "2"]


def test_where_nobody_knows_the_suction_one_step_asks_for_it_and_no_way_of_wetting_is_told() -> None:
    made = job(one_wall(hardness="not known", water_drop="not known"))
    steps = {key: step.text.strip() for key, step in made.library.operations.items()}
    told = [text for key, text in steps.items() if key.startswith("repoint.wet-")]
    assert len(told) == 4
    unknown = steps["repoint.wet-unknown"]
    assert [text for text in told if text in said(made)] == [unknown]


def refs_told(made: Job, wall: str) -> set[str]:
    """The lines to price that a wall's sheet names, runs told out."""
    order = [item.ref for item in made.measured.items()]
    sections = element_sheets(made, part(made, "sheets"))
    side = [block for section in sections if section.header == wall for block in section.side]
    told = [plain_text(cell) for block in side if isinstance(block, Pairs) for _, cell in block.rows]
    found: set[str] = set()
    for run in (run for text in told for run in text.split(", ")):
        first, _, last = run.partition("–")
        if first in order:
            found |= set(order[order.index(first) : order.index(last or first) + 1])
    return found


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_the_sheet_of_a_wall_names_every_line_that_prices_something_there(name: str) -> None:
    made = example(name)
    missing = []
    for front in made.facts.views("element"):
        told = refs_told(made, made.facts.scopes[front.path].title)
        mixes = {mix.path for work in front.inside("work") for mix in made.mixes_of(work.path)}
        priced = [item.ref for item in made.measured.items() if item.path[:1] == front.path or item.path in mixes]
        missing += [(front.path[0], ref) for ref in priced if ref not in told]
    assert missing == []


def test_a_sum_of_the_whole_job_stands_on_the_sheets_of_the_walls_whose_steps_rest_on_it_and_on_no_other() -> None:
    made = example("mill-house")
    sums = {item.entry.id: item.ref for item in made.measured.items() if item.kind == "sum" and not item.path}
    own = [sums[key] for key in ("sums.causes-leak", "sums.flue-test", "sums.causes-flue")]
    stack, gable = (refs_told(made, name) & set(sums.values()) for name in ("Chimney stack", "Rubble gable"))
    assert stack == set(own)
    assert len(stack) == 3
    assert gable == set()
    assert said(made).count(f"{own[0]}–{own[-1]}") == 1
    assert f"{own[0]}–{own[-1]}" in said(made).split("Chimney stack", 1)[1].split("Rubble gable", 1)[0]
