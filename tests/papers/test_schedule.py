"""The pricing schedule, the same lines in the specification and in the workbook."""

from __future__ import annotations

import math
import re
from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall
from jobs import americanised, example, job, part, shipped
from told_papers import tables_of

from generator.document.model import Heading, Inlines, PricedRow, Table, plain_text
from generator.document.outline import block_text
from generator.drawing.text import wrap
from generator.job.job import Job
from generator.lime.mortar import packages_to_order
from generator.papers.assemble import assemble
from generator.papers.schedule import _first_walls, key_of, kind_word, pricing_book, rules, schedule_blocks, where
from generator.render.word import xml
from generator.render.word.geometry import geometry
from generator.render.word.inline import printed
from generator.render.word.styles import cell_margin
from generator.render.word.tables import fitted_widths
from generator.values import plain, spoken


def said(made: Job) -> str:
    return "\n".join(block_text(block) for block in schedule_blocks(made, part(made, "schedule")))


def tables(made: Job) -> list[Table]:
    return [block for block in schedule_blocks(made, part(made, "schedule")) if isinstance(block, Table)]


def rows_of(made: Job, words: str) -> list[PricedRow]:
    """The lines of the workbook for a wall that start with some words."""
    rows = [row for section in pricing_book(made).sections for row in section.rows]
    return [row for row in rows if row.where and row.description.startswith(words)]


def test_specification_and_workbook_hold_the_same_lines_in_the_same_order() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B"), contingency="500"))
    book = pricing_book(made)
    printed = [
        (plain_text(row.cells[0]), plain_text(row.cells[5]), plain_text(row.cells[4]).replace(",", ""))
        for table in tables(made)
        if table.anchor == "table:lines"
        for row in table.rows
        if row.kind == "body"
    ]
    priced = [
        (row.ref, row.unit, "" if row.quantity is None else f"{row.quantity.normalize():f}")
        for section in book.sections
        for row in section.rows
        if row.kind not in ("rate only", "sum")
    ]
    refs = [row.ref for section in book.sections for row in section.rows]
    assert [ref for ref, _, _ in printed] == refs
    printed = [line for line in printed if line[0] in {ref for ref, _, _ in priced}]
    assert printed == priced


def test_every_section_of_a_wall_is_headed_by_its_name_and_drawings() -> None:
    made = tables(job(one_wall(drawing_refs="[D-1, D-2]")))
    titles = [plain_text(row.cells[0]) for table in made for row in table.rows if row.kind == "group"]
    assert "2 Front wall (D-1 and D-2)" in titles


def test_a_schedule_with_a_quantity_to_follow_says_so_and_marks_the_workbook_incomplete() -> None:
    whole, short = job(one_wall()), job(one_wall(face_area_m2="0"))
    assert (pricing_book(whole).complete, pricing_book(short).complete) == (True, False)
    notice = part(short, "incomplete").text
    assert notice in said(short)
    assert notice not in said(whole)


def test_a_line_without_its_quantity_stands_as_rate_only_with_no_quantity() -> None:
    made = job(one_wall(face_area_m2=None))
    (row,) = rows_of(made, "Rake out")
    assert (row.kind, row.quantity) == ("rate only", None)
    (item,) = [item for item in made.measured.items() if item.ref == row.ref]
    assert kind_word(made, item) == f"Rate only; {made.word('quantity-to-follow')}"
    assert made.word("quantity-to-follow") in said(made)


def test_no_live_line_of_the_workbook_has_nothing_or_less_as_its_quantity() -> None:
    for area in ("0", None, "12"):
        for section in pricing_book(job(one_wall(face_area_m2=area))).sections:
            assert all(row.quantity and row.quantity > 0 for row in section.rows if row.kind in ("firm", "provisional"))


@pytest.mark.parametrize(("answered", "printed"), [("0.10", "0.1 m²"), ("2.5", "2.5 m²"), (None, "0.5 m²")])
def test_the_threshold_in_force_is_printed(answered: str | None, printed: str) -> None:
    assert any(printed in rule for rule in rules(job(one_wall(opening_deducted_over_m2=answered))))


def test_rules_of_what_a_job_does_not_measure_are_left_out_and_all_others_stand() -> None:
    told = job(one_wall()).paper("pricing-schedule").part("rules").lines
    pointed, limewashed = (rules(job(one_wall(**more))) for more in ({}, {"work": "limewash", "old_coating": "none"}))
    of_joints = {told[key] for key in ("treated", "apart", "deep")}
    assert of_joints <= set(pointed)
    assert of_joints.isdisjoint(limewashed)
    of_all = {told[key] for key in ("tenths", "losses", "general", "access")}
    assert of_all <= set(pointed) & set(limewashed)
    sums = {told["sums"], told["undefined"]}
    found = {
        name: (sums <= set(rules(example(name))), _has_sums(example(name))) for name in ("garden-front", "mill-house")
    }
    assert found == {"garden-front": (False, False), "mill-house": (True, True)}


def _has_sums(made: Job) -> bool:
    return any(item.kind == "sum" for item in made.measured.items())


def test_the_rule_printed_deducts_what_is_larger_and_nothing_of_just_the_threshold() -> None:
    # the rule of measure.quantities: openings of just the threshold are not deducted
    (rule,) = [rule for rule in rules(job(one_wall())) if "0.5 m²" in rule]
    assert "larger than 0.5 m²" in rule
    assert "smaller ones are not" not in rule


def test_each_line_says_what_its_rate_includes_its_mix_and_its_clauses() -> None:
    made = job(one_wall())
    (row,) = rows_of(made, "Rake out")
    assert made.word("rate-includes") in row.description
    assert row.mix == "M1"
    assert row.clauses


def test_a_line_names_its_wall_and_drawings_and_one_of_the_whole_job_names_none() -> None:
    made = job(one_wall())
    places = {where(made, item) for item in made.measured.items()}
    assert "Front wall (D-1)" in places
    assert "" in places


def test_a_line_for_each_mix_tells_the_walls_that_it_goes_to_as_where_and_the_mix_as_its_mix() -> None:
    made = job(one_wall())
    rows = [row for section in pricing_book(made).sections for row in section.rows if "panel" in row.description]
    assert [(row.where, row.mix) for row in rows] == [("Front wall (D-1)", "M1")] * 2
    placed = {item.ref for item in made.measured.items() if item.entry.per == "mix"}
    printed = {plain_text(row.cells[0]): plain_text(row.cells[1]) for table in tables(made) for row in table.rows}
    assert not [ref for ref in placed if printed[ref].startswith("M1:")]


def test_of_very_many_walls_a_cell_names_the_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.papers.schedule._MOST_WALLS", 2)
    made = job(one_wall())
    assert _first_walls(made, ["a", "b"]) == "a; b"
    assert _first_walls(made, ["a", "Front wall: coat", "c"]) == "a; Front wall: coat (D-1); …"


def test_a_sum_of_the_whole_job_for_a_cause_tells_the_walls_of_that_cause_as_where_with_their_drawings() -> None:
    made = example("mill-house")
    places = {item.entry.id: where(made, item) for item in made.measured.items() if item.entry.kind == "sum"}
    of_causes = ("sums.causes-leak", "sums.flue-test", "sums.causes-flue")
    assert [places[key] for key in of_causes] == ["Chimney stack (P-02)"] * 3


def test_lines_say_what_a_stranger_to_these_papers_can_price() -> None:
    items = shipped().items.values()
    told = "\n".join(f"{entry.description} {entry.includes}" for entry in items)
    assert [words for words in ("made stuff", "hygiene", "on: ", "flues of stacks") if words in told] == []


def test_a_litre_is_priced_as_a_word_since_a_lone_letter_reads_as_a_stroke() -> None:
    units = {row.unit for section in pricing_book(example("mill-house")).sections for row in section.rows}
    assert "litre" in units
    assert "l" not in units


def test_the_key_of_a_line_hangs_on_place_text_unit_and_quantity() -> None:
    base = key_of("a", "Rake", "m²", Decimal("6.0"))
    assert base == key_of("a", "Rake", "m²", Decimal("6"))
    others = {
        key_of("a", "Rake out", "m²", Decimal(6)), key_of("a", "Rake", "m", Decimal(6)),
        key_of("a", "Rake", "m²", Decimal(7)), key_of("a", "Rake", "m²", None),
        key_of("b", "Rake", "m²", Decimal(6)),
    }  # fmt: skip
    assert base not in others
    assert len(others) == 5


def test_keys_do_not_hang_on_where_a_line_stands_in_the_schedule() -> None:
    one, other = (pricing_book(job(text)) for text in (one_wall(), one_wall(public_near="yes", water_near="yes")))
    first, second = ({row.key: row.ref for s in book.sections for row in s.rows} for book in (one, other))
    assert set(first) <= set(second)
    assert first != {key: second[key] for key in first}


def test_materials_are_a_table_for_checking_and_never_a_line() -> None:
    made = job(one_wall(face_area_m2="400"))
    (table,) = tables_of(made, "table:materials")
    named = [plain_text(row.cells[0]) for row in table.rows]
    goods = made.measured.materials
    grains = [f"{line.grain_mm:f}".rstrip("0").rstrip(".") for line in goods if line.grain_mm]
    assert [name.startswith(line.material.name) for name, line in zip(named, goods, strict=True)] == [True] * len(goods)
    assert [grain for grain in grains if f"{grain} mm" not in " ".join(named)] == []
    described = " ".join(row.description for section in pricing_book(made).sections for row in section.rows)
    assert not [name for name in named if name in described]


def test_materials_stand_behind_the_mixes_and_before_the_lines_so_that_they_are_no_page_of_their_own() -> None:
    blocks = list(assemble(job(one_wall())).specification.blocks())
    told = [block.anchor for block in blocks if isinstance(block, Table)]
    assert told.index("table:mixes") < told.index("table:materials") < told.index("table:lines")


def test_without_materials_there_is_no_table_of_them() -> None:
    assert tables_of(job(one_wall(face_area_m2=None)), "table:materials") == []


@pytest.mark.parametrize("name", ["mill-house", "toll-house", "garden-front", "winter-plaster"])
def test_the_amount_that_is_printed_asks_for_the_packages_that_are_ordered(name: str) -> None:
    made = example(name)
    (table,) = tables_of(made, "table:materials")
    for line, found in zip(made.measured.materials, table.rows, strict=True):
        high = Decimal(re.findall(r"[\d.]+", plain_text(found.cells[2]).replace(",", ""))[-1])
        holds, small = float(line.material.package.holds), line.material.small_package
        wanted = packages_to_order(float(high), holds, float(small.holds), 0.5) if small else None
        assert (int(line.packages), int(line.small_packages)) == (wanted or (math.ceil(float(high) / holds), 0)), (
            line.name
        )


def test_an_order_says_what_a_package_holds_in_the_units_of_its_readers() -> None:
    metric, customary = (order_told(made) for made in (job(one_wall()), job(americanised(one_wall()))))
    assert [text for text in metric if not re.search(r" of \d+ (l|kg)$", text)] == []
    assert [text for text in customary if not re.search(r"-(lb|gallon) |ton", text) or " of " in text] == []
    assert [text for text in customary if re.match(r"\d+ \d", text)] == []
    assert "x 55-lb bags" in " ".join(customary) or "x 5-gallon pail" in " ".join(customary)


def order_told(made: Job) -> list[str]:
    """What is ordered of each material."""
    (table,) = tables_of(made, "table:materials")
    return [plain_text(row.cells[-1]) for row in table.rows]


def test_every_fixed_word_of_the_workbook_comes_from_the_library_but_the_tax_note_is_the_answer() -> None:
    made = job(one_wall(tax_note="No tax is due."))
    book = pricing_book(made)
    assert book.words["tax_note"] == "No tax is due."
    fixed = {key.removeprefix("workbook-") for key in made.library.words if key.startswith("workbook-")}
    assert set(book.words) == fixed
    assert book.currency == "GBP"


def test_what_one_scattered_joint_counts_as_is_printed_where_joints_lie_apart_and_nowhere_else() -> None:
    scattered, patches = (rules(job(one_wall(treated_how=how))) for how in ("scattered", "patches"))
    (apart,) = [rule for rule in scattered if rule not in patches]
    # the row of tables/scattered-joints.yaml, common practice: least run of 300 mm
    assert "300 mm" in apart
    assert set(patches) < set(scattered)


def test_bricks_that_nobody_measured_are_measured_again_by_the_share_of_the_joint_that_failed() -> None:
    unmeasured = {"unit_length_mm": None, "unit_height_mm": None}
    with_sizes, without = (job(one_wall(treated_how="scattered", **more)) for more in ({}, unmeasured))
    (apart,) = [rule for rule in rules(without) if rule not in rules(with_sizes)]
    assert "what share of the joint" in apart
    assert len(rules(without)) == len(rules(with_sizes))


def test_a_line_of_scattered_joints_says_how_many_metres_of_joint_make_a_square_metre() -> None:
    # 215 x 65 mm with joints of 10 mm in stretcher bond: 17.2 m/m2 by geometry
    told = "17.2 m of joint make a square metre"
    (scattered,), (patches,) = (rows_of(job(one_wall(treated_how=how)), "Rake out") for how in ("scattered", "patches"))
    assert (told in scattered.description, told in patches.description) == (True, False)


@pytest.mark.parametrize("masonry", ["ashlar", "terracotta", "gauged-brick"])
def test_what_is_measured_along_the_joint_has_no_rule_for_making_areas_of_it(masonry: str) -> None:
    made = job(one_wall(masonry=masonry, treated_how="scattered"))
    assert not any("make a square metre" in row.description for row in rows_of(made, "C"))
    assert rules(made) == rules(job(one_wall(treated_how="patches")))


@pytest.mark.parametrize("masonry", ["brick", "rubble", "squared-rubble", "flint", "chalk", "earth"])
def test_what_is_tendered_of_scattered_joints_is_what_the_rule_measures_of_them_again(masonry: str) -> None:
    gauge = {} if masonry in ("brick", "squared-rubble") else {"unit_length_mm": None, "unit_height_mm": None}
    made = job(
        one_wall(
            masonry=masonry, treated_how="scattered", face_area_m2="62", treated_per_cent="30 - 40 (35)",
            joint_width_mm="15 - 40 (25)", **gauge,
        )
    )  # fmt: skip
    (line,) = [item for item in made.measured.items() if "{{ treated_told }}" in item.entry.description]
    (row,) = [row for section in pricing_book(made).sections for row in section.rows if row.ref == line.ref]
    told = re.search(r"([\d.]+) m of joint make a square metre", row.description)
    assert told, row.description
    # the joint in the face, by the share of mortar that batches and orders are reckoned from; 35 in 100 of it failed
    mortar = made.facts.get(line.path, "mortar_l_per_m2").likely  # type: ignore[union-attr]
    depth = made.facts.get(line.path, "rake_depth_mm")
    joint_m_per_m2 = float(mortar) / float(depth) * 1000 / 25  # type: ignore[arg-type]
    failed_m = 0.35 * 62 * joint_m_per_m2
    # nothing but rounding, and half the step between bonds where the bond of bricks is known no closer
    assert failed_m / float(told[1]) == pytest.approx(float(line.quantity or 0), rel=0.03)


def test_areas_marked_on_photographs_are_patches_whatever_else_was_answered() -> None:
    assert rules(job(one_wall(treated_how="scattered", treated_area_from="photographs"))) == rules(
        job(one_wall(treated_how="patches"))
    )


def test_a_sum_that_nobody_has_set_is_called_so_and_holds_no_amount_for_a_tenderer_to_change() -> None:
    told = {"decay_causes": "[leak]", "causes_cured": "in-this-work"}
    for amount, word in ((None, "workbook-kind_sum_open"), ("900", "workbook-kind_sum")):
        made = job(one_wall(**told, causes_sum=amount))
        (item,) = [item for item in made.measured.items() if item.entry.id == "sums.causes-leak"]
        assert kind_word(made, item) == made.word(word)
        (row,) = [row for section in pricing_book(made).sections for row in section.rows if row.kind == "sum"]
        assert (row.ref, row.amount) == (item.ref, None if amount is None else Decimal(amount))


def lines_told(made: Job) -> dict[str, list[str]]:
    """The cells of each line of the printed schedule, by its number."""
    shown = [column.shows for column in part(made, "lines").columns]
    (table,) = [table for table in tables(made) if table.anchor == "table:lines"]
    rows = ([plain_text(cell) for cell in row.cells] for row in table.rows if row.kind != "group")
    return {cells[shown.index("item")]: [cells[shown.index(name)] for name in ("quantity", "unit")] for cells in rows}


def described(made: Job) -> dict[str, str]:
    """The words of each line of the printed schedule, by its number."""
    shown = [column.shows for column in part(made, "lines").columns]
    (table,) = [table for table in tables(made) if table.anchor == "table:lines"]
    rows = [row for row in table.rows if row.kind != "group"]
    item, words = shown.index("item"), shown.index("description")
    return {plain_text(row.cells[item]): plain_text(row.cells[words]) for row in rows}


def test_what_a_line_before_it_says_at_length_is_told_by_that_line_and_in_full_in_the_workbook() -> None:
    wider = wall(id_="c", name="C", joint_width_mm="10 - 14 (12)")
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B"), wider))
    told = described(made)
    full = {row.ref: row.description for section in pricing_book(made).sections for row in section.rows}
    again = re.compile("(.*) …: as line ([0-9.]+).|(.*) Includes the same as line ([0-9.]+).")
    found = [(ref, match) for ref, text in told.items() if (match := again.fullmatch(text))]
    wholly = [(ref, match) for ref, match in found if match[2]]
    partly = [(ref, match) for ref, match in found if match[4]]
    assert wholly
    assert partly
    for ref, match in wholly:
        assert full[ref] == full[match[2]]
        assert full[ref].startswith(match[1].rpartition(". ")[2].rpartition(": ")[2])  # behind the place and the kind
    includes = made.word("rate-includes")
    for ref, match in partly:
        assert full[ref] != full[match[4]]
        assert full[ref].partition(includes)[2] == full[match[4]].partition(includes)[2]
    # each is told in full where it is first said
    assert {match[2] or match[4] for _, match in found}.isdisjoint(ref for ref, _ in wholly)


def test_a_sum_that_is_set_and_a_rate_alone_stand_in_the_printed_schedule_as_in_the_workbook() -> None:
    made = job(one_wall(decay_causes="[leak]", causes_cured="in-this-work", causes_sum="1500", contingency="2500"))
    told = lines_told(made)
    priced = {row.ref: row for section in pricing_book(made).sections for row in section.rows}
    sums = {ref: row for ref, row in priced.items() if row.kind == "sum"}
    assert {ref: told[ref] for ref in sums} == {
        ref: [f"GBP\u00a0{spoken(row.amount or Decimal(0))}", row.unit] for ref, row in sums.items()
    }
    assert {row.amount for row in sums.values()} == {Decimal(1500), Decimal(2500)}
    rates = {ref: row for ref, row in priced.items() if row.kind == "rate only"}
    assert rates
    assert {ref: told[ref] for ref in rates} == {
        ref: [f"({plain(row.notional or Decimal(0))})", row.unit] for ref, row in rates.items()
    }


def test_materials_stand_in_the_contents_for_who_checks_an_order() -> None:
    made = job(one_wall())
    heads = [block for block in assemble(made).specification.blocks() if isinstance(block, Heading)]
    assert [head.level for head in heads if plain_text(head.content) == part(made, "materials").heading] == [1]


@pytest.mark.parametrize("name", ["mill-house", "toll-house"])
def test_clauses_hardly_ever_make_a_line_of_the_printed_schedule_higher_than_its_words_do(name: str) -> None:
    (lines,) = [table for table in tables(example(name)) if table.anchor == "table:lines"]
    widths = fitted_widths(lines, geometry("a4").upright.line)
    margin = cell_margin(sum(widths), len(widths))
    room = [(width - 2 * margin) / xml.TWIPS_PER_PT for width in widths]

    def high(cells: tuple[Inlines, ...], at: int) -> int:
        return len(wrap(printed(cells[at]), room[at], 8))

    over = [high(row.cells, 3) - high(row.cells, 1) for row in lines.rows if row.kind != "group"]
    assert sum(max(0, lines_over) for lines_over in over) <= 3


def test_the_form_of_tender_asks_for_a_form_of_contract_where_the_clause_on_it_does() -> None:
    told = {name: pricing_book(example(name)).contract_open for name in ("garden-front", "toll-house")}
    assert told == {name: example(name).in_papers("tendering.contract") for name in told}
    assert told == {"garden-front": True, "toll-house": False}
