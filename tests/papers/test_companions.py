"""Companion papers: survey sheet, officer's summary, records, owner's page; what each must tell, and to whom."""

from __future__ import annotations

import re

import pytest
from answers_text import answers, one_wall, wall, work
from command_line import run
from jobs import EXAMPLES, ROOT, example, job, part, shipped
from plain_yaml import as_yaml, from_yaml
from timed_jobs import surface

from generator.document.files import COMPANIONS
from generator.document.model import Document, Figure, Heading, Paragraph, Section, Table, plain_text
from generator.document.outline import outline
from generator.drawing.model import THIN, Drawing, Line, Rect
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps

MILL = (ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8")


def paper(made: Job, name: str) -> Document:
    (found,) = companions(made, [name]).values()
    return found


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks() if isinstance(block, Table)]


def test_only_those_asked_for_are_made_in_the_order_of_the_list() -> None:
    assert list(companions(job(one_wall()), ["owner", "survey"])) == ["survey-sheet.docx", "owner-page.docx"]
    assert companions(job(one_wall()), []) == {}


class TestSurvey:
    def test_every_question_that_may_apply_stands_once_on_the_sheet_of_its_wall(self) -> None:
        found = job(one_wall())
        wall, _, whole, *_ = (lines_of(section) for section in paper(found, "survey").sections)
        asked = shipped().questionnaire
        for scope, path, lines in (("element", ("front",), wall), ("project", (), whole)):
            applying = {item.label for item in asked.of(scope) if asked.applies(found.facts, path, item.name) is True}
            assert {label for label in applying if sum(line.startswith(label) for line in lines) < 1} == set()
        assert not any("laths" in line and "Age" in line for line in wall)  # nothing of ceilings for a brick wall

    def test_answers_are_boxes_to_tick_or_a_line_with_its_unit(self) -> None:
        lines = lines_of(paper(job(one_wall()), "survey").sections[0])
        assert any(line.startswith("How wet the wall is:  □\u00a0dry  □\u00a0damp") for line in lines)
        assert "Area of face, before openings:\tm²" in lines
        assert "Joint width:\tleast, greatest (usual), mm" in lines

    def test_the_header_of_pages_that_several_parts_share_tells_of_them_all(self) -> None:
        *_, across, shared = paper(job(MILL), "survey").sections
        said = [plain_text(block.content) for block in shared.blocks if isinstance(block, Heading) and block.level == 1]
        assert said == ["How it is found out on the wall"]
        assert across.header == shared.header == "The whole job, and how it is found out"

    def test_enabling_work_is_asked_for_no_materials_of_plaster_and_mortar(self) -> None:
        made = job(MILL)
        label = shipped().questionnaire.questions["asked_ways"].label
        wall, *_ = (lines_of(section) for section in paper(made, "survey").sections)
        works = [view.text("work") for view in made.facts.at_scope(("front",)).inside("work")]
        assert "enabling" in works
        assert sum(line.startswith(label) for line in wall) == len(works) - 1

    def test_a_cable_that_its_owner_frees_is_asked_of_each_wall_outside_beside_the_conductor(self) -> None:
        sections = paper(job(MILL), "survey").sections
        asked = [shipped().questionnaire.questions[name].label for name in ("lightning_conductor", "service_freed")]
        lines = [lines_of(section) for section in sections]
        found = [[any(line.startswith(label) for line in each) for label in asked] for each in lines]
        assert [True, True] in found
        assert [pair for pair in found if pair[0] != pair[1]] == []

    def test_the_test_of_hardness_calls_each_hardness_as_its_box_does(self) -> None:
        hardness = shipped().questionnaire.questions["hardness"]
        assert hardness.how
        said = [choice.says.removeprefix("of ").split()[0] for choice in hardness.choices]
        assert [word for word in said if word not in hardness.how.lower()] == []

    def test_tests_on_the_wall_tell_how_they_are_made(self) -> None:
        found = job(one_wall())
        text, asked = outline(paper(found, "survey")), shipped().questionnaire
        tried = [item for item in asked.of("element") if item.how and asked.applies(found.facts, ("front",), item.name)]
        assert tried
        assert all(" ".join(item.how.split()) in text for item in tried)

    def test_what_is_found_for_a_work_tells_how_too(self) -> None:
        """Depths lost and how cement holds are priced; how the work is to be done is not found at the wall."""
        found = job(one_wall())
        ways = {item.name: " ".join(item.how.split()) for item in shipped().questionnaire.of("work")}
        text = outline(paper(found, "survey"))
        for name in ("joint_depth_lost_mm", "cement_hold", "deep_voids_m2", "loose_units_nr", "treated_per_cent"):
            assert ways[name] in text
        assert ways["asked_binder"] not in text

    def test_it_is_blank_whatever_was_answered(self) -> None:
        first, second = (paper(job(one_wall(**more)), "survey") for more in ({}, {"description": "Orange brick"}))
        assert outline(first) == outline(second)

    def test_every_line_to_write_on_leaves_a_pen_the_room_of_its_kind_of_answer(self) -> None:
        found = job(one_wall())
        lines = [one for one in paper(found, "survey").blocks() if isinstance(one, Paragraph) and one.style == "asked"]
        rooms = {plain_text(one.content): one.room_mm for one in lines if "\t" in plain_text(one.content)}
        least = {"day, month, year": 26, "day, month": 18, "a list": 45, "mm": 18, "least, greatest (usual), mm": 26}
        assert {text for text, room in rooms.items() if room < least.get(text.partition("\t")[2], 18)} == set()
        in_words = {item.label for item in shipped().questionnaire.questions.values() if item.kind in ("text", "texts")}
        assert {text for text, room in rooms.items() if text.rstrip(":\t") in in_words and room < 40} == set()
        assert rooms["What is wrong and why:\t"] >= 70

    def test_others_than_those_named_have_a_box_and_a_line_of_their_own(self) -> None:
        lines = [line for section in paper(job(one_wall()), "survey").sections for line in lines_of(section)]
        many = [line for line in lines if "others:" in line]
        assert many
        assert all(line.endswith("\n□\u00a0others:\t") for line in many)

    def test_no_question_ends_in_two_signs_and_no_word_is_a_programs(self) -> None:
        text = outline(paper(job(one_wall()), "survey"))
        assert "?:" not in text
        assert re.findall(r"\b(?:ids?|element|en-[A-Z]{2})\b", text) == []
        assert "□\u00a0British  □\u00a0Irish" in text

    def test_no_line_of_the_squares_lies_on_the_edge_of_their_picture(self) -> None:
        (sketch,) = [block for block in paper(job(one_wall()), "survey").blocks() if isinstance(block, Figure)]
        drawn = sketch.drawing
        assert isinstance(drawn, Drawing)
        (frame,) = [part for part in drawn.primitives if isinstance(part, Rect)]
        white = (frame.x, frame.y, drawn.width_mm - frame.x - frame.width, drawn.height_mm - frame.y - frame.height)
        assert min(white) > 25.4 / 100  # wider than a dot of a copier

    def test_a_wall_of_one_work_has_a_higher_sketch_since_its_questions_leave_the_room(self) -> None:
        made = job(MILL)
        *walls, _, _ = paper(made, "survey").sections
        heights: dict[bool, set[float]] = {True: set(), False: set()}
        for scope, section in zip(made.facts.at("element"), walls, strict=True):
            (sketch,) = [block for block in section.blocks if isinstance(block, Figure)]
            heights[len(made.facts.inside(scope.path, "work")) == 1].add(sketch.drawing.height_mm)
        assert min(heights[True]) > max(heights[False]) + 50

    def test_it_warns_of_heights_and_what_hangs_loose_and_has_room_to_sketch(self) -> None:
        made = paper(job(one_wall()), "survey")
        assert shipped().templates["survey-sheet"].part("safety").text in outline(made)
        (sketch,) = [block for block in made.blocks() if isinstance(block, Figure)]
        assert isinstance(sketch.drawing, Drawing)
        assert sketch.drawing.height_mm >= 90
        weights = [part.weight_mm for part in sketch.drawing.primitives if isinstance(part, Line)]
        assert min(weights) >= THIN  # a copier at 70 % loses finer ones


def lines_of(section: Section) -> list[str]:
    """The paragraphs of a section as they are read."""
    return [plain_text(block.content) for block in section.blocks if isinstance(block, Paragraph)]


def test_no_paper_has_a_table_of_nothing_while_no_mix_is_settled() -> None:
    made = job(one_wall(hardness="not known"))
    for document in companions(made, ["officer", "records", "owner"]).values():
        assert all(table.rows for table in tables(document))


class TestOfficer:
    def test_only_pointing_has_the_finish_of_a_joint(self) -> None:
        made = job(MILL)
        (finish_at,) = [column.label for column in part(made, "works", "officer-summary").columns if column.by_work]
        found = tables(paper(made, "officer"))
        (walls,) = [item for item in found if finish_at in [column.title for column in item.columns]]
        finish = {plain_text(row.cells[0]): plain_text(row.cells[3]) for row in walls.rows}
        assert finish["Rubble gable"] == "as the old joints, to the approved panel"
        assert finish["Rear wall, taking off"] == made.word("nothing")
        assert finish["Rear wall, limewashing"] == made.facts.spoken(("rear", "limewash"), "wash_colour")
        assert finish["Dining room, outer wall, plastering"] == "trowelled smooth with a steel trowel"

    def test_every_mix_stands_in_figures_with_the_reason_for_its_binder(self) -> None:
        made = job(MILL)
        text = outline(paper(made, "officer"))
        for batch in made.measured.batches:
            assert made.facts.spoken(batch.mix.path, "mix_dry_ratio") in text
        reasons = {
            made.decisions.reasons[path, "binder"].because for mix in made.decisions.mixes for path in mix.used_for
        }
        assert all(reason in text for reason in reasons)

    def test_extent_sand_and_what_was_considered_are_told(self) -> None:
        made = job(MILL)
        text = outline(paper(made, "officer"))
        assert made.said("sand_source") in text
        assert all(made.facts.spoken(scope.path, "extent") in text for scope in made.facts.at("work"))
        assert all(made.word(item.why_not) in text for item in made.decisions.considered)

    def test_a_lime_is_left_for_one_reason_at_each_coat_and_never_where_it_is_taken(self) -> None:
        made = job(MILL)
        (left,) = [item for item in tables(paper(made, "officer")) if item.columns[0].title == "Why not"]
        told = {plain_text(row.cells[0]): plain_text(row.cells[1]) for row in left.rows}
        nhl_2, putty = made.facts.say("binder", "nhl-2"), made.facts.say("binder", "putty")
        assert f"{nhl_2} (Rear wall, limewash;" in told[made.word("why-not-too-strong")]
        assert (
            f"{putty} (Rubble gable; Rear wall, base coat, finishing coat)" in told[made.word("why-not-needs-reason")]
        )
        assert "(Rubble gable)" in told[made.word("why-not-asked")]

    def test_how_old_work_comes_off_or_stays_is_told_where_no_coat_is_laid(self) -> None:
        made = job(MILL)
        methods = part(made, "works", "officer-summary").lines
        text = outline(paper(made, "officer"))
        assert all(methods[work] in text for work in ("remove", "refix", "enabling"))

    @pytest.mark.parametrize("work", ["flaunching", "limewash"])
    def test_the_name_of_a_coat_alone_is_no_method(self, work: str) -> None:
        made = job(MILL)
        text = outline(paper(made, "officer"))
        told = part(made, "works", "officer-summary").lines[work]
        assert f"| {told} |" in text
        assert f"| {work} |" not in text

    def test_single_units_are_not_told_as_taken_down_and_laid_again(self) -> None:
        made = job(answers(wall(work(work="rebuild", rebuild_what="units", replaced_units_nr="12"), id_="front")))
        text = outline(paper(made, "officer"))
        assert made.word("officer-units") in text
        assert part(made, "works", "officer-summary").lines["rebuild"] not in text

    def test_places_of_areas_are_told_in_the_photograph_and_not_in_what_is_turned_square(self) -> None:
        """The same area lay at half height in the one and at the top in the other, by the edges of each."""
        made = example("garden-front")
        places = [text for key, text in made.library.words.items() if key.startswith("photograph-place-")]
        alts = [it.drawing.alt for it in paper(made, "officer").blocks() if isinstance(it, Figure)]
        square = [alt for alt in alts if "turned square on" in alt]
        assert square
        assert not any(f", {place}," in alt for place in places for alt in square)
        assert any(f", {place}," in alt for place in places for alt in set(alts) - set(square))

    def test_a_wall_without_a_mix_says_that_none_is_settled(self) -> None:
        made = job(one_wall(hardness="not known"))
        assert made.decisions.mixes == ()
        assert made.word("sheet-no-mix") in outline(paper(made, "officer"))

    @pytest.mark.parametrize("name", ["officer", "owner", "records"])
    def test_a_mix_that_only_a_line_takes_is_told_where_it_goes(self, name: str) -> None:
        """Of the old face under a wash, filled in the mix of the render, and of plaster refixed, filled in its own."""
        made = job(MILL)
        taken = {
            scope.path: set(made.mix_refs(scope.path)) ^ {mix.ref for mix in made.mixes_placed(scope.path)}
            for scope in made.facts.at("work")
        }
        told = [line for line in outline(paper(made, name)).splitlines() if "|" in line]
        assert sum(map(bool, taken.values())) >= 2
        for path, refs in taken.items():
            place = re.escape(made.facts.title(path[:1]))
            rows = [line for line in told if re.match(f"{place}.*{re.escape(made.facts.scopes[path].title)}", line)]
            assert all(any(re.search(rf"\b{ref}\b", line) for line in rows) for ref in refs)


class TestRecords:
    def test_every_sheet_is_headed_by_the_name_of_the_work(self) -> None:
        made = paper(job(MILL), "records")
        assert {section.header for section in made.sections} == {made.identity.subject} != {""}

    def test_the_columns_that_nothing_fills_are_for_a_pen_and_no_others(self) -> None:
        mixes, lines, *_, built = tables(paper(job(MILL), "records"))
        assert not any(column.for_pen for column in mixes.columns)
        assert all(column.for_pen for column in lines.columns)
        assert [column.title for column in built.columns if column.for_pen] == ["As done", "Signed"]

    def test_a_curing_sheet_has_columns_for_what_is_logged_there(self) -> None:
        made = job(MILL)
        sheets = [
            [column.title for column in item.columns] for item in tables(paper(made, "records"))
            if "Damped, times" in [column.title for column in item.columns]
        ]  # fmt: skip
        indoors = [titles for titles in sheets if "Windows or fan, hours" in titles]
        assert 0 < len(indoors) < len(sheets)
        assert all("Humidity, per cent" in titles for titles in indoors)
        assert all(("Covers, three times" in titles) == (titles not in indoors) for titles in sheets)

    def test_each_work_that_is_kept_damp_has_a_curing_sheet_of_its_own(self) -> None:
        made = job(MILL)
        damp = {
            scope.path for scope in made.facts.at("work")
            if any(made.facts.get(coat.path, "damp_days") for coat in made.facts.inside(scope.path, "coat"))
        }  # fmt: skip
        text = outline(paper(made, "records"))
        assert len(damp) > 3
        assert text.count(f"# {part(made, 'curing-record', 'site-records').heading}:") == len(damp)

    def test_fillings_in_old_plaster_have_a_record_of_curing_and_days_damp(self) -> None:
        made = job(MILL)
        text = outline(paper(made, "records"))
        days = ("lime_start_date", "lime_finish_date")
        laid, last = (made.facts.spoken(("chamber-ceiling", "refix"), day) for day in days)
        ceiling = text.partition("Record of curing: Chamber ceiling, plastering")[2]
        assert f"Fillings, laid {laid} to {last}, each day's damp for 7 days from its laying; " in ceiling
        assert "Keep fillings moist for 7 days." in outline(assemble(made).specification)

    def test_fillings_where_nothing_else_is_kept_damp_have_a_sheet_of_their_own(self) -> None:
        made = job(one_wall(work="refix", position="indoors"))
        text = outline(paper(made, "records"))
        assert re.search(r"# Record of curing: .*\nFillings, .*damp for 7 days", text)

    def test_mixes_are_filled_in_and_the_lines_below_are_blank(self) -> None:
        made = job(one_wall())
        mixes, lines, *_ = tables(paper(made, "records"))
        assert [plain_text(row.cells[0]) for row in mixes.rows] == [batch.mix.ref for batch in made.measured.batches]
        assert len(lines.rows) >= 10
        assert not any(plain_text(cell).strip() for row in lines.rows for cell in row.cells)


class TestOwner:
    def test_it_tells_of_the_works_of_this_job_alone(self) -> None:
        made = job(one_wall())
        text = outline(paper(made, "owner"))
        never = part(made, "never", "owner-page").lines
        assert never["all"] in text
        assert never["repoint"] in text
        assert never["limewash"] not in text

    def test_the_mortar_of_each_wall_is_named_for_whoever_repairs_it_next(self) -> None:
        made = job(MILL)
        text = outline(paper(made, "owner"))
        assert all(mix.recipe.name in text for mix in made.decisions.mixes)
        gauges = {made.facts.spoken(mix.path, "mix_gauge") for mix in made.decisions.mixes}
        assert all(f"({gauge}; " in text for gauge in gauges)

    def test_each_mortar_is_told_in_full_once(self) -> None:
        """The same sand in row after row drove the page of a house to two."""
        made = job(MILL)
        text = outline(paper(made, "owner"))
        assert all(text.count(f"{mix.ref}, {mix.recipe.name}") == 1 for mix in made.decisions.mixes)

    def test_the_household_is_told_which_months_a_room_and_the_floor_above_it_are_closed(self) -> None:
        made = job(MILL)
        text = outline(paper(made, "owner"))
        ceiling, plaster = ("chamber-ceiling",), ("chamber-ceiling", "plaster")
        barred = made.facts.spoken(plaster, "floor_barred_date")
        assert f"from {made.facts.spoken(plaster, 'lime_start_date')} to {barred}" in text
        for place in (("dining-room",), ceiling):
            first, last = (made.facts.spoken(place, name) for name in ("room_from_date", "room_back_date"))
            assert f"{made.facts.title(place)}: room closed, power off, {first} to {last}" in text
        (on_sheet,) = re.findall(r"^Floor barred to \|.*", outline(assemble(made).specification), re.M)
        day, month, _ = barred.split()
        assert f"{day}\N{NO-BREAK SPACE}{month[:3]}" in on_sheet

    def test_the_household_knocks_nothing_above_loose_plaster_from_now_on_though_its_lime_is_months_away(
        self,
    ) -> None:
        made = job(MILL)
        ceiling = ("chamber-ceiling",)
        told = "nothing on the floor above it from now on; nobody walks"
        assert outline(paper(made, "owner")).count(told) == 1
        assert "nobody knocks or carries loads above it" in made.library.clauses["safety.propping"].text
        (prop,) = (each.entry for each in all_steps(made, ceiling) if each.entry.id == "wall.prop")
        assert "safety.propping" in prop.clauses
        undated = job(re.sub(r"^ *start_date: .*\n", "", MILL, flags=re.M))
        assert "above it from now on; nobody walks there before" in outline(paper(undated, "owner"))
        assert "knock nothing" not in outline(paper(job(one_wall()), "owner"))


@pytest.mark.parametrize("access", ["ground", "tower", "deck"])
def test_the_owner_is_told_of_each_closed_room_from_whatever_it_is_worked(access: str) -> None:
    room = {
        "position": "indoors",
        "exposure": "internal",
        "access": access,
        "lead_paint": "none",
        "wall_painting": "none",
    }
    plaster = surface(
        "plaster", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0"
    )
    made = job(answers(wall(plaster, **room), finish_date="2028-09-29"))
    (face,) = made.facts.views("element")
    back = "room_back_date" if access == "ground" else "access_down_date"
    first, last = (face.spoken(name) for name in ("room_from_date", back))
    assert f"{made.facts.title(face.path)}: room closed, power off, {first} to {last}" in outline(paper(made, "owner"))


def test_the_owner_reads_which_rooms_are_heated_for_the_lime_how_far_and_until_when() -> None:
    """The clause puts it on the owner, who is sent no clauses."""
    text = outline(paper(example("winter-plaster"), "owner"))
    assert re.search(r"Schoolroom walls: heat to 15.°C at your cost from the days below until released", text)
    assert "radiators on them off, or low if no others" in text  # all four walls are plastered
    clause = example("winter-plaster").library.clauses["curing.heating-low"].text
    assert "to {{ room_most_c }} when colder, at own cost" in clause
    assert "off or, if there are no others, low and boarded off the face" in clause
    room = {"position": "indoors", "exposure": "internal", "heating_indoors": "strong", "air_indoors": "open"}
    text = outline(paper(job(one_wall(**room)), "owner"))
    assert re.search(r"from 1.week before the first lime until .* heat to 15.°C at most and run no drier", text)
    assert "at your cost" not in text
    assert "1 week before" not in outline(paper(job(one_wall()), "owner"))


def test_an_owner_who_lives_there_reads_from_when_to_when_quicklime_is_slaked_and_who_stays_away() -> None:
    made = example("toll-house")
    gable = made.facts.at_scope(("gable", "repoint"))
    panel = made.facts.spoken((), "panel_slaked_date")
    first, last = (gable.spoken(name) for name in ("slaked_from_date", "slaked_to_date"))
    said = outline(paper(made, "owner"))
    assert f"for panels from {panel}, for walls from {first} to {last} or later" in said
    assert "Children, animals and all but the two who slake stay 10 m off until it is cold" in said
    laid, slaked = gable.day("lime_finish_date"), gable.day("slaked_to_date")
    assert laid is not None
    assert slaked is not None
    assert (laid - slaked).days == 8  # a day to cool, a week of rest
    assert "slaked" not in outline(paper(example("garden-front"), "owner"))


def test_mixes_told_together_have_each_the_gauge_told_after_them() -> None:
    said = outline(paper(example("mill-house"), "owner"))
    assert re.search(r"pricking-up coat; M11, [^;]*float coat \(each 1", said)


def test_the_owner_reads_for_how_many_weeks_plaster_stays_bare_as_the_clauses_on_decoration_do() -> None:
    said = outline(paper(example("winter-plaster"), "owner"))
    assert re.search(r"Leave plaster bare 6\sweeks and until the specifier releases it", said)
    for key in ("plaster.decoration", "plaster.decoration-salty"):
        assert "nor sooner than {{ plaster_bare_weeks }}" in shipped().clauses[key].text


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_no_companion_leaves_a_place_unfilled(path: object) -> None:
    made = job(path.read_text(encoding="utf-8"))  # type: ignore[attr-defined]
    for document in companions(made, list(COMPANIONS)).values():
        text = outline(document)
        assert "{" not in text
        assert "None" not in text


def test_a_companion_that_there_is_not_is_wrong_use() -> None:
    answers = ROOT / "examples" / "garden-front" / "answers.yaml"
    code, _, err = run("write", answers, "--out", "unused", "--with", "suvey")
    assert code == 2
    assert "did you mean 'survey'" in err


def test_the_letter_lists_the_form_of_contract_and_asks_for_the_form_of_tender_signed() -> None:
    """What is in no list of what was sent can be denied; a tender unsigned is set aside."""
    said = outline(paper(job(MILL), "letter"))
    assert "the owner's form for small works, sent with these papers" in said
    assert "the form of contract where one is named above" in said
    assert "Fill in its rates and its form of tender, sign that" in said


def test_the_officer_reads_of_a_panel_for_works_that_have_one_alone_and_that_salty_plaster_goes() -> None:
    made = job(MILL)
    rows = {
        line.split(" | ")[0]: line for line in outline(paper(made, "officer")).splitlines() if line.count(" | ") == 6
    }
    told = [(work.path, rows[made.filling.place(work.path)].split(" | ")[5]) for work in made.facts.views("work")]
    without = [path for path, panel in told if panel == "–"]
    assert [path for path in without if made.facts.get(path, "panel_answered_date") is not None] == []
    assert len(without) == 5
    salty = [place for place, line in rows.items() if "Salty plaster goes, sound or not" in line]
    assert salty == ["Dining room, outer wall, taking off"]


def test_the_officer_reads_why_the_sand_of_a_joint_is_finer_than_the_sand_that_was_found() -> None:
    made = job(MILL)
    front = next(wall for wall in made.facts.views("element") if wall.path == ("front",))
    assert "sand to 3 mm" in front.text("existing_mortar")
    said = outline(paper(made, "officer"))
    assert "no grain over 2 mm" in said
    assert "at most a third of the narrowest" in said


def test_the_owner_reads_the_day_of_the_first_fire_and_which_wall_has_salts_and_is_sent_to_no_sheet() -> None:
    """The owner keeps this page with the house, and none of the sheets."""
    made = job(MILL)
    said = outline(paper(made, "owner"))
    off, on = (made.facts.spoken(("stack",), name) for name in ("flues_off_date", "fires_from_date"))
    assert f"Chimney stack: no fire from {off} to {on}" in said
    assert "Dining room, outer wall: of all coatings limewash alone" in said
    assert "sheet" not in said
    assert "no fire from" not in outline(paper(job(one_wall()), "owner"))


def test_the_owner_reads_by_which_day_those_who_live_there_have_hot_water_by_other_means() -> None:
    """The foreman asks the day before, and the client had no day to give it by."""
    data = from_yaml(MILL)
    stack = next(wall for wall in data["elements"] if wall["id"] == "stack")
    stack["flues_serve"] = ["hot-water", "cooking"]
    made = job(as_yaml(data))
    off = made.facts.spoken(("stack",), "flues_off_date")
    said = outline(paper(made, "owner"))
    assert f"Chimney stack: before {off} give those who live or work there by other means" in said
    assert "hot water" in said
    assert "by other means" not in outline(paper(job(MILL), "owner"))


def test_where_no_form_of_contract_is_sent_the_letter_says_who_names_one_as_the_clause_does() -> None:
    found = example("garden-front")
    said = outline(paper(found, "letter"))
    assert "none is sent yet; where none comes by the last day for queries, name the form that you offer" in said
    assert found.word("to-be-settled") not in said
    clause = found.library.clauses["tendering.contract"].text
    assert "no form by the last day for queries, the tender names the form offered" in clause


def test_a_summary_for_an_officer_says_so_where_none_guards_the_building() -> None:
    said = {name: outline(paper(example(name), "officer")) for name in ("garden-front", "toll-house")}
    assert {name: "No officer guards this building" in text for name, text in said.items()} == {
        "garden-front": True,
        "toll-house": False,
    }


def test_the_officer_reads_why_a_binder_that_was_asked_for_is_worth_what_speaks_against_it() -> None:
    """Quicklime is left on one wall for those who pass there, and slaked in the same yard for another."""
    made = example("toll-house")
    said = outline(paper(made, "officer"))
    assert f"It was asked for: {made.facts.at_scope(('gable', 'repoint')).text('asked_binder_reason')}." in said
    text = (ROOT / "examples" / "toll-house" / "answers.yaml").read_text(encoding="utf-8")
    unreasoned = job(re.sub(r"\n *asked_binder_reason:.*", "", text))
    assert "It was asked for" not in outline(paper(unreasoned, "officer"))
    assert "asked-quicklime-unreasoned" in {finding.code for finding in unreasoned.findings}
    assert "asked-quicklime-unreasoned" not in {finding.code for finding in made.findings}


@pytest.mark.parametrize("name", ["officer", "owner"])
def test_the_heads_over_a_wash_speak_of_its_water(name: str) -> None:
    """A limewash has no sand, and stands in the same columns as mortars."""
    heads = [column.title for item in tables(paper(job(MILL), name)) for column in item.columns]
    sandy = [head for head in heads if "sand," in head.lower() or ": damp" in head]
    assert sandy
    assert all("water" in head for head in sandy)


def test_the_officer_reads_of_quicklime_and_of_joints_where_the_job_has_them() -> None:
    said = {name: outline(paper(example(name), "officer")) for name in ("toll-house", "garden-front", "winter-plaster")}
    told = {name: ("putty it slakes to" in text, "greatest grain in joints" in text) for name, text in said.items()}
    assert told == {"toll-house": (True, True), "garden-front": (False, True), "winter-plaster": (False, False)}


def test_an_engineer_is_asked_of_a_wall_of_plaster_too_in_words_without_joints() -> None:
    asked = shipped().questionnaire.questions
    told = [asked["leaning"].why, asked["engineer_says"].why, *(each.says for each in asked["engineer_says"].choices)]
    assert [text for text in told if "joint" in text] == []
