"""The survey sheet before there is a job: what each kind of wall is asked, and that it says it is of no job yet."""

from __future__ import annotations

from answers_text import one_wall
from jobs import job, shipped

from generator.document.model import Document, Heading, ListBlock, Paragraph, Section, plain_text
from generator.document.outline import outline
from generator.papers.companion_blank import Kinds, blank_survey
from generator.papers.companions import companions
from generator.values import replace


def blank(*positions: str, masonry: str = "", works: tuple[str, ...] = (), **readers: str) -> Document:
    return blank_survey(shipped(), Kinds(positions, masonry, works), readers)


def lines_of(section: Section) -> list[str]:
    """The paragraphs of a section as they are read."""
    return [plain_text(block.content) for block in section.blocks if isinstance(block, Paragraph)]


def headings(section: Section) -> list[str]:
    return [plain_text(block.content) for block in section.blocks if isinstance(block, Heading)]


def labels(scope: str) -> dict[str, str]:
    return {item.name: item.label for item in shipped().questionnaire.of(scope)}


def asks(document: Document, label: str) -> list[bool]:
    """Whether each section asks a question."""
    return [any(line.startswith(label) for line in lines_of(section)) for section in document.sections]


def test_each_kind_of_wall_has_one_sheet_in_the_order_named_and_the_job_stands_after_them() -> None:
    made = blank("chimney", "indoors", "chimney")
    assert [headings(section)[:1] for section in made.sections[:2]] == [
        ["Survey: A chimney stack above the roof"], ["Survey: Indoors"],
    ]  # fmt: skip
    assert headings(made.sections[2]) == ["Survey: the whole job, filled in once"]


def test_a_kind_of_wall_is_asked_what_it_calls_for_and_no_more() -> None:
    made, asked = blank("chimney", "indoors", "wall"), labels("element")
    assert asks(made, asked["flues"])[:3] == [True, False, False]
    assert asks(made, asked["heating_indoors"])[:3] == [False, True, False]
    assert asks(made, asked["lightning_conductor"])[:3] == [True, False, True]


def test_a_sheet_says_that_it_is_of_no_job_and_has_room_for_whose_it_comes_to_be() -> None:
    made = blank("wall")
    assert made.identity.draft.startswith("Reference and wall: ...")  # on every side
    assert (made.identity.reference, made.identity.date, made.identity.issued) == ("No job yet", "", "")
    lines = lines_of(made.sections[0])
    assert {"Building and place\t", "Wall, by the name it is to have\t", "Surveyor and date\t"} <= set(lines)
    assert any(line.startswith("This sheet is of no job yet.") for line in lines)


def test_a_sheet_of_a_job_says_nothing_of_having_none() -> None:
    (made,) = companions(job(one_wall()), ["survey"]).values()
    assert "no job yet" not in outline(made).lower()


def test_masonry_that_is_known_leaves_out_what_others_are_asked() -> None:
    asked = labels("element")
    assert asks(blank("wall"), asked["earth_kind"])[0]
    made = blank("wall", masonry="brick")
    assert [asks(made, asked[name])[0] for name in ("earth_kind", "overhead", "bond")] == [False, False, True]
    assert headings(made.sections[0])[0] == "Survey: A wall under a roof, brick"


def test_without_a_work_it_is_to_be_ticked_and_only_what_is_found_at_the_wall_is_asked() -> None:
    made, asked = blank("wall"), labels("work")
    (sheet, *_), found = made.sections, headings(made.sections[0])
    assert "What is to be done" in found
    assert any(line.startswith(asked["work"]) for line in lines_of(sheet))
    for name in ("face_area_m2", "extent", "joint_depth_lost_mm", "old_coating", "enabling_tasks"):
        assert [line.startswith(asked[name]) for line in lines_of(sheet)].count(True) == 1, name
    for name in ("asked_binder", "output_m2_per_day", "joint_finish", "wash_coats_nr", "panel_place"):
        assert not asks(made, asked[name])[0], name


def test_a_work_that_is_named_is_asked_all_that_a_job_asks_of_it() -> None:
    made, (of_job,) = (
        blank("wall", masonry="brick", works=("repoint",)),
        companions(job(one_wall()), ["survey"]).values(),
    )
    own = set(lines_of(made.sections[0])) - set(lines_of(of_job.sections[0]))
    assert {line for line in own if not line.startswith(("Building", "Wall, by", "This sheet"))} == set()
    assert set(lines_of(of_job.sections[0])) - set(lines_of(made.sections[0])) == set()


def test_units_words_and_paper_are_those_of_its_readers() -> None:
    made = blank("wall", language="en-us", units="customary", paper="letter")
    text = outline(made)
    assert (made.identity.language, made.identity.paper) == ("en-US", "letter")
    assert "Area of face, before openings:\tsq ft" in text
    assert "holds up the bid" in text


def test_how_things_are_found_out_stands_at_the_end() -> None:
    text = outline(blank("chimney"))
    flues = shipped().questionnaire.questions["flues"]
    assert " ".join(flues.how.split()) in text


def test_nothing_is_told_of_how_to_find_out_what_no_sheet_asks() -> None:
    made = blank("wall", "indoors", "chimney")
    asked = [line for section in made.sections for line in lines_of(section)]
    told = [plain_text(item[:1]) for block in made.blocks() if isinstance(block, ListBlock) for item in block.items]
    assert told
    assert [label for label in told if not any(line.startswith(label) for line in asked)] == []


def test_a_library_that_names_no_usual_works_asks_of_all() -> None:
    library = shipped()
    kept = {key: word for key, word in library.words.items() if not key.startswith("survey-works-")}
    made = blank_survey(replace(library, words=kept), Kinds(("chimney",)), {})
    assert {"Work: limewashing", "Work: enabling work", "Work: renewing the flaunching"} <= set(
        headings(made.sections[0])
    )


def test_a_number_of_metres_asks_for_a_length_by_that_word() -> None:
    """On a sheet of its own a line such as `gutter to clean: __ m` is a thing to count."""
    asked = {key: each.label for key, each in shipped().questionnaire.questions.items() if key.startswith("gutter_")}
    metres = {key: label for key, label in asked.items() if key.endswith("_m")}
    assert len(metres) == 3
    assert all(label.startswith("Length of gutter and downpipe to ") for label in metres.values())
