"""Answers given on the pages of a survey: saved in the file that `ask` writes, each alone; back, undo, two at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from answers_text import answers, one_wall, wall, work
from survey_pages import Browser, app_of, changed_lines

TEXT = "# kept\n" + one_wall().replace("  exposure: moderate\n", "  exposure: moderate   # by eye\n")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(TEXT, encoding="utf-8")
    return found


@pytest.fixture
def browser(path: Path) -> Browser:
    return Browser(app_of(path))


@pytest.mark.parametrize(
    ("name", "where", "fields", "lines"),
    [
        ("exposure", "front", {"answer": "severe"},
            ["-  exposure: moderate   # by eye", "+  exposure: severe   # by eye"]),
        ("hardness", "front", {"answer": "not known"}, ["-  hardness: soft", "+  hardness: not known"]),
        ("joint_width_mm", "front", {"least": "8", "greatest": "14", "usual": "10"},
            ["-  joint_width_mm: 9 - 12 (10)", "+  joint_width_mm: 8 - 14 (10)"]),
        ("joint_width_mm", "front", {"least": "8 - 14 (10)", "greatest": "", "usual": ""},
            ["-  joint_width_mm: 9 - 12 (10)", "+  joint_width_mm: 8 - 14 (10)"]),
        ("joint_width_mm", "front", {"unknown": "yes"},
            ["-  joint_width_mm: 9 - 12 (10)", "+  joint_width_mm: not known"]),
        ("height_m", "front", {"answer": "4.5 m"}, ["-  height_m: 3", "+  height_m: 4.5"]),
        ("decay_causes", "front", {"answer": ["age", "gutter"]},
            ["-  decay_causes: [age]", "+  decay_causes: [age, gutter]"]),
        ("decay_causes", "front", {"answer": "none-of-them"}, ["-  decay_causes: [age]", "+  decay_causes: []"]),
        ("leaning", "front", {"answer": "yes"}, ["-  leaning: no", "+  leaning: yes"]),
        ("start_date", "", {"answer": "2027-05-17"}, ["-  start_date: 2027-05-10", "+  start_date: 2027-05-17"]),
        ("lived_in", "", {"answer": "yes"}, ["-  lived_in: no", "+  lived_in: yes"]),
        ("sensitive_features", "", {"answer": "a lamp\n\n a sign \n"},
            ["+  sensitive_features:", "+  - a lamp", "+  - a sign"]),
        ("treated_how", "front/repoint", {"answer": "scattered"},
            ["-    treated_how: patches", "+    treated_how: scattered"]),
        ("openings", "front/repoint",
            {"row-0-width_m": "1.1", "row-0-height_m": "1.6 m", "row-0-count_nr": "2", "row-1-width_m": ""},
            ["+    openings:", "+    - {width_m: 1.1, height_m: 1.6, count_nr: 2}"]),
    ],
)  # fmt: skip
def test_one_answer_changes_and_no_other_byte(
    browser: Browser, path: Path, name: str, where: str, fields: dict[str, str], lines: list[str]
) -> None:
    page = browser.ask(name, *filter(None, where.split("/")))
    sent = {**browser.filled(page), "do": "save"}
    sent.pop("answer", None)
    assert browser.post("/answer", {**sent, **fields}).status == 200
    assert changed_lines(TEXT, path.read_text(encoding="utf-8")) == lines


def test_a_question_shows_what_stands_in_the_file_chosen(browser: Browser) -> None:
    page = browser.ask("exposure", "front")
    assert page.find("//input[@name='answer'][@checked]/@value") == ["moderate"]
    ends = browser.ask("joint_width_mm", "front").find("//div[@class='ends']//input/@value")
    assert ends == ["9", "12", "10"]


def test_nothing_is_chosen_where_nobody_answered(browser: Browser) -> None:
    assert browser.ask("old_binder", "front").find("//input[@checked]") == []


def test_how_to_find_out_is_told_in_full_where_nobody_answered_and_folded_afterwards(path: Path) -> None:
    path.write_text(one_wall(hardness=None), encoding="utf-8")
    browser = Browser(app_of(path))
    how = browser.app.desk.questionnaire.questions["hardness"].how
    asked = browser.ask("hardness", "front")
    assert asked.find("//details[@class='how'][@open]/p/text()") == [how]
    after = browser.send(asked, {"answer": "soft"})
    assert [after.find(f"//details[@class='how']{state}/p/text()") for state in ("", "[@open]")] == [[how], []]


@pytest.mark.parametrize("name", ["hardness", "bond", "water_drop", "brick_thickness"])
def test_each_choice_that_is_told_by_its_looks_has_a_picture_of_its_own(browser: Browser, name: str) -> None:
    picks = browser.ask(name, "front").find("//div[@class='picks']/label[not(contains(@class, 'unknown'))]")
    assert len(picks) == len(browser.app.desk.questionnaire.questions[name].choices)
    drawn = [[sorted(line.items()) for line in pick.find("svg").iter()] for pick in picks]
    assert all(len(lines) > 2 for lines in drawn)
    assert all(drawn.count(lines) == 1 for lines in drawn)


@pytest.mark.parametrize(("name", "where"), [("joint_width_mm", "front"), ("joint_depth_lost_mm", "front/repoint")])
def test_what_is_measured_is_shown_where_it_is_told_how(browser: Browser, name: str, where: str) -> None:
    assert len(browser.ask(name, *where.split("/")).find("//details[@class='how']/svg")) == 1


@pytest.mark.parametrize(
    ("name", "fields", "word"),
    [
        ("joint_width_mm", {"least": "1200", "greatest": "", "usual": ""}, "the most is 150 mm"),
        ("joint_width_mm", {"least": "12", "greatest": "8", "usual": ""}, "write the lesser first"),
        ("height_m", {"answer": "tall"}, "write a number alone"),
        ("height_m", {"answer": ""}, "Nothing was chosen or written"),
        ("exposure", {"answer": "windy"}, "not among these"),
        ("condition", {"answer": "bad \x00 thing"}, "cannot stand in the papers"),
        ("condition", {"answer": "x" * 10_000}, "shorten it"),
    ],
)
def test_what_is_not_taken_is_told_kept_in_the_field_and_not_saved(
    browser: Browser, path: Path, name: str, fields: dict[str, str], word: str
) -> None:
    page = browser.answer(name, "front", **fields)
    assert page.status == 422
    assert word in page.text
    assert path.read_text(encoding="utf-8") == TEXT
    typed = next(iter(fields.values()))
    if typed.isprintable() and name != "exposure":
        assert typed in [*page.find("//input/@value"), *(area.text or "" for area in page.find("//textarea"))]
    assert page.find("//*[@role='alert']")


def test_the_answer_before_is_named_where_a_new_one_is_refused(browser: Browser) -> None:
    assert "The answer before stays: 3 m" in browser.answer("height_m", "front", answer="tall").text


def test_an_answer_is_taken_out_and_stands_as_never_given(browser: Browser, path: Path) -> None:
    page = browser.ask("height_m", "front")
    browser.post("/answer", {**browser.filled(page), "do": "take-out"})
    assert changed_lines(TEXT, path.read_text(encoding="utf-8")) == ["-  height_m: 3"]


def test_undo_and_redo_put_every_byte_back(browser: Browser, path: Path) -> None:
    texts = [path.read_bytes()]
    for value in ("severe", "sheltered"):
        browser.answer("exposure", "front", answer=value)
        texts.append(path.read_bytes())
    browser.post("/undo", {})
    assert path.read_bytes() == texts[1]
    browser.post("/undo", {})
    assert path.read_bytes() == texts[0]
    assert browser.post("/undo", {}).status == 409
    browser.post("/redo", {})
    assert path.read_bytes() == texts[1]


def test_undo_leaves_alone_what_an_editor_changed_since(browser: Browser, path: Path) -> None:
    browser.answer("exposure", "front", answer="severe")
    path.write_text(path.read_text(encoding="utf-8").replace("height_m: 3", "height_m: 4"), encoding="utf-8")
    standing = path.read_bytes()
    page = browser.post("/undo", {})
    assert page.status == 409
    assert path.read_bytes() == standing


def test_a_change_in_an_editor_is_seen_told_and_kept(browser: Browser, path: Path) -> None:
    page = browser.ask("exposure", "front")
    path.write_text(TEXT.replace("height_m: 3", "height_m: 4   # taped"), encoding="utf-8")
    browser.send(page, {"answer": "severe"})
    text = path.read_text(encoding="utf-8")
    assert "height_m: 4   # taped" in text
    assert "exposure: severe   # by eye" in text
    path.write_text(text.replace("height_m: 4", "height_m: 5"), encoding="utf-8")
    assert "changed outside these pages" in browser.get("/at/front").text
    assert "5 m" in browser.get("/at/front").text


def test_two_answers_to_one_question_are_both_shown_and_nothing_chosen(browser: Browser, path: Path) -> None:
    first, second = browser.ask("exposure", "front"), browser.ask("exposure", "front")
    browser.send(first, {"answer": "severe"})
    page = browser.send(second, {"answer": "sheltered"})
    assert page.status == 409
    assert "sheltered" in page.text
    assert "severely exposed" in page.text
    assert "exposure: severe " in path.read_text(encoding="utf-8")
    browser.post("/answer", {**dict(page.form().form_values()), "do": "save"})
    assert "exposure: sheltered " in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "where", "theirs", "ours", "line"),
    [
        ("joint_width_mm", "front", {"least": "5"}, {"least": "7", "greatest": "9"}, "joint_width_mm: 7 - 9"),
        ("height_m", "front", {"answer": "5"}, {"answer": "6"}, "height_m: 6"),
        ("decay_causes", "front", {"answer": ["gutter"]}, {"answer": ["age", "cement"]}, "decay_causes: [age, cement]"),
        ("decay_causes", "front", {"answer": ["gutter"]}, {"answer": ["none-of-them"]}, "decay_causes: []"),
        ("water_drop", "front", {"answer": "stays"}, {"answer": "not known"}, "water_drop: not known"),
        ("joint_width_mm", "front", {"least": "5"}, {"unknown": "yes"}, "joint_width_mm: not known"),
        ("sensitive_features", "", {"answer": "a"}, {"answer": "b\nc"}, "sensitive_features: [b, c]"),
        ("openings", "front/repoint", {"row-0-width_m": "1", "row-0-height_m": "1"},
            {"row-0-width_m": "2", "row-0-height_m": "3"}, "- {width_m: 2, height_m: 3}"),
    ],
)  # fmt: skip
def test_the_answer_of_this_page_can_be_kept_after_all(
    browser: Browser, path: Path, name: str, where: str, theirs: dict[str, str], ours: dict[str, str], line: str
) -> None:
    place = tuple(filter(None, where.split("/")))
    first, second = browser.ask(name, *place), browser.ask(name, *place)
    blank = {"answer": [], "least": "", "greatest": "", "usual": ""}
    browser.send(first, {**blank, **theirs})
    page = browser.send(second, {**blank, **ours})
    assert page.status == 409, page.text
    browser.post("/answer", {**browser.filled(page), "do": "save"})
    assert line in path.read_text(encoding="utf-8")


def test_the_same_answer_sent_twice_is_taken_once(browser: Browser, path: Path) -> None:
    page = browser.ask("exposure", "front")
    browser.send(page, {"answer": "severe"})
    text = path.read_bytes()
    assert browser.send(page, {"answer": "severe"}).status == 200
    assert path.read_bytes() == text


def test_a_file_that_cannot_be_read_is_told_and_left_and_goes_on_once_mended(browser: Browser, path: Path) -> None:
    page = browser.ask("exposure", "front")
    path.write_text(TEXT + "\t- broken: [", encoding="utf-8")
    broken = path.read_bytes()
    for shown in (browser.get("/"), browser.send(page, {"answer": "severe"}), browser.post("/undo", {})):
        assert shown.status == 409
        assert "answers.yaml:" in shown.text
    assert path.read_bytes() == broken
    path.write_text(TEXT, encoding="utf-8")
    assert browser.get("/").status == 200


def test_mistakes_of_an_editor_are_told_with_their_place(browser: Browser, path: Path) -> None:
    path.write_text(TEXT.replace("hardness: soft", "hardness: squishy"), encoding="utf-8")
    page = browser.get("/")
    assert page.status == 200
    assert "'hardness' cannot be 'squishy'" in page.text
    browser.answer("hardness", "front", answer="soft")
    assert path.read_text(encoding="utf-8") == TEXT


def test_next_saves_and_goes_on_to_what_lacks(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(one_wall(exposure=None, position=None, access=None), encoding="utf-8")
    browser = Browser(app_of(path))
    page = browser.send(browser.ask("exposure", "front"), {"answer": "severe"}, do="next")
    assert page.address == "/ask/position/front"
    page = browser.send(page, {"answer": "wall"}, do="next")
    assert page.address.startswith("/ask/access/front")


def test_back_leads_to_the_question_above(browser: Browser) -> None:
    back = browser.ask("position", "front").find("//a[contains(@class, 'back')]/@href")
    assert back == ["/ask/exposure/front#question"]


def test_changing_a_work_renames_its_id_as_asking_does(browser: Browser, path: Path) -> None:
    page = browser.answer("work", "front", "repoint", answer="render")
    assert page.address == "/ask/work/front/render"
    assert "- id: render\n    work: render" in path.read_text(encoding="utf-8")


def test_what_an_answer_changed_is_told_beside_it(browser: Browser) -> None:
    page = browser.answer("exposure", "front", answer="very-severe")
    changed = page.find("//section[@class='changed']")[0].text_content()
    assert "Days kept damp" in changed
    assert "was" in changed


def test_an_answer_that_changes_nothing_decided_says_so(browser: Browser) -> None:
    assert "Nothing that is decided changed" in browser.answer("client", answer="Somebody else").text


def test_the_file_of_several_walls_keeps_every_other_line(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    text = answers(wall(work(), id_="a", name="A"), wall(work(), id_="b", name="B"))
    path.write_text(text.replace("\n", "\r\n"), encoding="utf-8", newline="")
    Browser(app_of(path)).answer("exposure", "b", answer="severe")
    found = path.read_bytes()
    assert found.count(b"\r\n") == found.count(b"\n") == text.count("\n")
    assert changed_lines(text, found.decode().replace("\r\n", "\n")) == ["-  exposure: moderate", "+  exposure: severe"]


# --- as people write --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "where", "typed", "line"),
    [
        ("height_m", "front", "10 ft 6 in", "height_m: 3.2"),
        ("joint_width_mm", "front", "3/8 - 1/2 in", "joint_width_mm: 9.5 - 12.7"),
        ("face_area_m2", "front/repoint", "72 sq ft", "face_area_m2: 6.69"),
        ("face_area_m2", "front/repoint", "6 x 4.5", "face_area_m2: 27"),
    ],
)
def test_units_and_fractions_are_taken_as_people_write_them(
    browser: Browser, path: Path, name: str, where: str, typed: str, line: str
) -> None:
    field = "least" if name == "joint_width_mm" else "answer"
    browser.send(browser.ask(name, *where.split("/")), {"least": "", "greatest": "", "usual": "", field: typed})
    assert line in path.read_text(encoding="utf-8")


def test_openings_written_with_a_face_go_into_their_own_list(browser: Browser, path: Path) -> None:
    typed = "6 x 4.5 - 2 windows 1.1 x 1.6"
    told = browser.client.get(
        "/understood", base_url="http://127.0.0.1:20123",
        query_string={"where": "front/repoint", "name": "face_area_m2", "answer": typed},
    ).get_data(as_text=True)  # fmt: skip
    assert "27 m²" in told
    assert "Openings" in told
    browser.answer("face_area_m2", "front", "repoint", answer=typed)
    text = path.read_text(encoding="utf-8")
    assert "face_area_m2: 27\n" in text
    assert "- {width_m: 1.1, height_m: 1.6, count_nr: 2}" in text
    browser.post("/undo", {})
    assert path.read_text(encoding="utf-8") == TEXT


def test_openings_that_have_answers_of_their_own_are_not_overwritten(browser: Browser, path: Path) -> None:
    browser.answer("face_area_m2", "front", "repoint", answer="6 x 4.5 - 2 windows 1.1 x 1.6")
    text = path.read_text(encoding="utf-8")
    page = browser.answer("face_area_m2", "front", "repoint", answer="7 x 4.5 - 1 door 1 x 2")
    assert page.status == 409
    assert "answers of its own" in page.text
    assert path.read_text(encoding="utf-8") == text


def test_a_rough_figure_asks_back_and_saves_nothing_before_it_is_told(browser: Browser, path: Path) -> None:
    page = browser.answer("joint_width_mm", "front", least="about 10", greatest="", usual="")
    assert page.status == 422
    assert path.read_text(encoding="utf-8") == TEXT
    ways = page.find("//button[@name='way']/@value")
    assert ways == ["8 - 12 (10)", "5 - 15 (10)", "10"]
    browser.post("/answer", {**browser.filled(page), "way": ways[0]})
    assert "joint_width_mm: 8 - 12 (10)" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("word", ["idk", "IDK.", "n/a", "dunno", "tbc", "?"])
def test_what_is_no_answer_is_refused_kindly(browser: Browser, path: Path, word: str) -> None:
    for name in ("condition", "faces", "height_m"):
        page = browser.answer(name, "front", answer=word)
        assert page.status == 422
        assert "would be printed as an answer" in page.text
    assert path.read_text(encoding="utf-8") == TEXT


@pytest.mark.parametrize(
    ("name", "where", "fields", "told"),
    [
        ("joint_width_mm", "front", {"least": "idk", "greatest": "", "usual": ""},
            "Where you looked and cannot tell, tick 'not known'."),
        ("title", "", {"answer": "idk"}, "Skip it for now; the papers then say"),
        ("masonry", "front", {"answer": "granny"}, "'granny' is not among these: choose one."),
        ("height_m", "front", {"answer": "not known"}, "cannot be answered with 'not known'. Access and safety"),
        ("openings", "front/repoint", {"row-0-width_m": "a"}, "Width cannot be 'a': write a number alone"),
        ("openings", "front/repoint", {"row-0-width_m": "1"}, "lacks the height: write it too, or clear the row"),
    ],
)  # fmt: skip
def test_a_page_refuses_in_words_that_can_be_followed_on_it(
    browser: Browser, name: str, where: str, fields: dict[str, str], told: str
) -> None:
    page = browser.answer(name, *filter(None, where.split("/")), **fields)
    assert page.status == 422
    (refused,) = page.find("//*[@id='why-not']")
    text = " ".join(refused.text_content().split())
    assert told in text
    for word in ("write later", "leave the line", "? shows", "_m'", "add '"):
        assert word not in text


def test_a_second_wall_of_one_name_is_refused_by_that_name(browser: Browser, path: Path) -> None:
    page = browser.post("/make", {"what": "element", "name": "front WALL"})
    assert (page.status, path.read_text(encoding="utf-8")) == (422, TEXT)
    assert "'front WALL' is here already. Name each so that" in page.text


def test_a_day_of_the_year_stands_as_a_person_writes_it_and_is_kept_as_the_file_does(
    browser: Browser, path: Path
) -> None:
    browser.answer("early_frost", answer="19 October")
    assert "early_frost: 10-19" in path.read_text(encoding="utf-8")
    page = browser.ask("early_frost")
    assert page.find("//input[@id='answer']/@value") == ["19 October"]
    before = path.read_bytes()
    browser.send(page, {})
    assert path.read_bytes() == before


def test_an_example_stands_as_a_person_writes_it(browser: Browser) -> None:
    questions = browser.app.desk.questionnaire.questions
    assert questions["early_frost"].example == "10-19"
    assert "Such as 19 October" in browser.ask("early_frost").text
    assert "Such as 8–12 mm" in browser.ask("joint_width_mm", "front").text
