"""Walls, works and zones made, copied, moved and taken out on the pages of a survey; a survey from nothing."""

from __future__ import annotations

import io
import json
import re
import shutil
import zipfile
from pathlib import Path

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import ROOT
from lxml import html
from survey_pages import Browser, app_of

from generator.asking.survey.decided import by_use
from generator.asking.survey.pages import ask_href, href
from generator.asking.survey.sheet import ANSWERS

TWO = answers(
    wall(work(), work("wash", work="limewash"), id_="a", name="Wall A"),
    "# the garden side\n" + wall(work(), id_="b", name="Wall B"),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(TWO, encoding="utf-8")
    return found


@pytest.fixture
def browser(path: Path) -> Browser:
    return Browser(app_of(path))


def ids(path: Path) -> list[str]:
    return [line.split("id: ")[1] for line in path.read_text(encoding="utf-8").splitlines() if "id: " in line]


def test_a_survey_begins_from_nothing_and_makes_no_file_before_the_first_answer(tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    browser = Browser(app_of(path))
    assert browser.get("/").status == 200
    assert not path.exists()
    browser.answer("title", answer="Garden wall")
    browser.post("/make", {"what": "element", "name": "Front wall"})
    browser.post("/make", {"what": "work", "where": "front-wall", "work": "repoint"})
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server")
    assert "title: Garden wall" in text
    assert "- id: front-wall\n  name: Front wall\n  works:\n  - id: repoint\n    work: repoint" in text


def test_a_mix_is_decided_before_the_papers_are_complete(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(one_wall(title=None, issue_date=None, reference=None), encoding="utf-8")
    assert "M1" in Browser(app_of(path)).get("/at/front").text


def test_a_copy_has_no_answer_that_is_of_one_wall_alone(browser: Browser, path: Path) -> None:
    page = browser.post("/make", {"what": "copy", "where": "a", "name": "Wall C"})
    assert page.address == "/at/wall-c"
    copy = path.read_text(encoding="utf-8").split("- id: wall-c\n")[1]
    assert "masonry: brick" in copy
    for own in ("height_m", "face_area_m2", "extent", "drawing_refs", "condition", "treated_per_cent"):
        assert f" {own}:" not in copy
    assert "Area of face" in browser.get("/open").text


@pytest.mark.parametrize("name", ["", "   ", "Wall A", "wall a", "x" * 200, "bad\x07name"])
def test_a_name_that_cannot_be_is_told_and_nothing_is_made(browser: Browser, path: Path, name: str) -> None:
    for what in ("element", "copy"):
        page = browser.post("/make", {"what": what, "where": "a", "name": name})
        assert page.status == 422
        assert page.find("//*[@role='alert']")
    assert path.read_text(encoding="utf-8") == TWO


def test_walls_change_places_with_their_comments_and_back(browser: Browser, path: Path) -> None:
    browser.post("/move", {"where": "b", "to": "up"})
    assert ids(path) == ["b", "repoint", "a", "repoint", "wash"]
    assert "# the garden side\n- id: b" in path.read_text(encoding="utf-8")
    browser.post("/move", {"where": "b", "to": "down"})
    assert path.read_text(encoding="utf-8") == TWO


def test_works_change_places(browser: Browser, path: Path) -> None:
    browser.post("/move", {"where": "a/wash", "to": "up"})
    assert ids(path) == ["a", "wash", "repoint", "b", "repoint"]


def test_what_is_first_or_last_moves_no_further(browser: Browser, path: Path) -> None:
    assert browser.post("/move", {"where": "a", "to": "up"}).status == 409
    assert browser.post("/move", {"where": "b", "to": "down"}).status == 409
    assert path.read_text(encoding="utf-8") == TWO


def test_a_wall_taken_out_comes_back_whole_by_undo(browser: Browser, path: Path) -> None:
    form = next(form for form in browser.get("/order").tree.forms if form.get("action") == "/drop")
    browser.post("/drop", dict(form.form_values()))
    assert ids(path) == ["b", "repoint"]
    browser.post("/undo", {})
    assert path.read_text(encoding="utf-8") == TWO


def test_a_wall_changed_meanwhile_is_not_taken_out(browser: Browser, path: Path) -> None:
    form = next(form for form in browser.get("/order").tree.forms if form.get("action") == "/drop")
    fields = dict(form.form_values())
    browser.answer("exposure", "a", answer="severe")
    assert browser.post("/drop", fields).status == 409
    assert ids(path)[0] == "a"


def test_a_wall_is_parted_into_zones_that_keep_its_answers(browser: Browser, path: Path) -> None:
    page = browser.post("/make", {"what": "zone", "where": "b", "first": "above", "name": "below"})
    assert page.address == "/at/b-below"
    assert "soft" in page.text
    assert ids(path)[-3:] == ["above", "repoint", "below"]
    assert browser.get("/at/b-above").status == 200


def test_the_whole_job_tells_what_each_wall_lacks_and_who_must_answer(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(one_wall(hardness=None, exposure="not known", consent=None, protection="listed"), encoding="utf-8")
    browser = Browser(app_of(path))
    page = browser.get("/")
    assert "How hard the weakest units are" in page.text
    assert "Exposure to weather" in page.text
    opened = browser.get("/open")
    assert any("specifier" in head.text_content() for head in opened.find("//h2"))
    assert "/ask/hardness/front#question" in opened.find("//a/@href")


def test_anything_is_found_by_its_words(browser: Browser) -> None:
    page = browser.get("/find?q=wall+b+exposure")
    assert page.find("//main//a/@href") == ["/ask/exposure/b#question"]
    assert browser.get("/find?q=").status == 200


def test_the_set_is_made_as_the_file_stands_and_refused_where_it_cannot_be(browser: Browser, path: Path) -> None:
    response = browser.client.get("/set.zip", base_url="http://127.0.0.1:20123")
    with zipfile.ZipFile(io.BytesIO(response.get_data())) as archive:
        assert archive.read("answers.yaml") == path.read_bytes()
    path.write_text(TWO.replace("  issue_date: 2027-02-01\n", ""), encoding="utf-8")
    refused = browser.get("/set.zip")
    assert refused.status == 409
    assert "the project lacks 'issue_date'" in refused.text


@pytest.mark.parametrize(
    "text", ["", "# nothing yet\n", "project:\n", "elements:\n- id: a\n  name: A\n  works:\n  - work: repoint\n"]
)
def test_every_page_can_be_seen_before_anything_is_answered(tmp_path: Path, text: str) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(text, encoding="utf-8")
    browser = Browser(app_of(path))
    for address in (
        "/",
        "/at",
        "/open",
        "/papers",
        "/new",
        "/order",
        "/kept",
        "/ask/title",
        *(["/at/a"] if "id: a" in text else []),
    ):
        assert browser.get(address).status == 200, address


def test_a_wall_is_decided_while_the_project_is_not_begun(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text("elements:\n" + wall(), encoding="utf-8")
    assert "M1" in Browser(app_of(path)).get("/at/front").text


def test_a_mistake_of_an_editor_in_a_usual_value_leaves_the_pages_standing(browser: Browser, path: Path) -> None:
    path.write_text(TWO.replace("project:\n", "project:\n  gauge_box_l: a few\n"), encoding="utf-8")
    page = browser.get("/")
    assert page.status == 200
    assert "gauge_box_l" in page.text


@pytest.mark.parametrize("name", ["specification", "mixes", "survey", "officer", "records", "owner"])
def test_the_papers_can_be_read_as_pages_with_their_figures(browser: Browser, name: str) -> None:
    page = browser.get(f"/papers/{name}")
    assert page.status == 200
    assert page.find("//h1")
    for source in page.find("//main//img/@src")[:3]:
        assert browser.client.get(source, base_url="http://127.0.0.1:20123").status_code == 200


def test_no_paper_is_shown_of_answers_that_none_can_be_made_of(browser: Browser, path: Path) -> None:
    path.write_text(TWO.replace("  issue_date: 2027-02-01\n", ""), encoding="utf-8")
    assert browser.get("/papers/specification").status == 409
    assert browser.get("/papers/nothing").status == 404


@pytest.fixture
def mill(tmp_path: Path) -> Browser:
    """A browser at the big example."""
    shutil.copytree(ROOT / "examples" / "mill-house", tmp_path / "job")
    return Browser(app_of(tmp_path / "job" / "answers.yaml"))


def test_what_does_not_hold_the_tender_back_stands_by_what_it_is_for(mill: Browser) -> None:
    job, opened = mill.app.desk.job, mill.get("/open")
    say = mill.app.pages.say
    uses = by_use([item for item in job.findings if item.code not in ANSWERS])
    assert list(uses) == ["settle", "told", "know"]
    assert [head.text for head in opened.find("//details[@class='use']/summary")] == [
        say(f"page-use-{use}", count=len(told)) for use, told in uses.items()
    ]
    warned = [item for item in job.findings if item.level in ("warning", "refusal")]
    assert {one.item.code for one in uses["told"]} == {item.code for item in warned if item.instruction}
    assert {one.item.code for one in uses["settle"]} == {item.code for item in warned if not item.instruction}
    assert all(one.item.level == "note" for one in uses["know"])


def test_what_is_told_of_one_wall_alone_stands_folded_under_that_wall(mill: Browser) -> None:
    titles = {href(scope.path): scope.title for scope in mill.app.desk.job.facts.at("element")}
    titles["/at"] = mill.app.pages.say("whole-job")
    several = mill.app.pages.say("page-several")
    folds = mill.get("/open").find("//details[@class='use'][last()]/details[@class='of']")
    heads = [fold.find("summary").text.rpartition(": ") for fold in folds]
    assert [head for head, _, _ in heads[:3]] == [titles["/at"], several, titles["/at/front"]]
    for fold, (head, _, count) in zip(folds, heads, strict=True):
        items = fold.xpath("./ul/li")
        assert len(items) == int(count)
        for item in items:
            on = {titles[link.partition("#")[0]] for link in item.xpath("./p/a/@href")}
            assert on == {head} if head != several else len(on) > 1


def test_a_finding_that_says_the_same_of_several_walls_is_told_once_with_all_of_them(mill: Browser) -> None:
    loose = [item for item in mill.app.desk.job.findings if item.code == "loose-units"]
    opened = mill.get("/open")
    assert len(loose) > 1
    assert opened.text.count(loose[0].message) == 1
    place = next(one for one in opened.find("//li[@class='held']") if loose[0].message in one.text_content())
    assert [link.get("href") for link in place.findall("p/a")] == [href(item.scope) for item in loose]


def test_no_page_tells_a_question_by_its_name_in_the_file(mill: Browser) -> None:
    kept = json.loads(mill.get("/kept").response.get_data(as_text=True))
    told = {address: str(html.fromstring(page).xpath("string()")) for address, page in kept.items()}
    told |= {address: mill.get(address).text for address in ("/", "/open", "/papers", *kept) if "ask" not in address}
    names = {name for name in mill.app.desk.questionnaire.questions if "_" in name}
    assert len(told) > 100
    assert [(at, word) for at, text in told.items() for word in re.findall(r"\w+", text) if word in names] == []


def test_what_asks_for_an_answer_leads_to_its_question_and_names_it_by_its_label(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(one_wall(hardness=None, exposure="not known", consent=None, protection="listed"), encoding="utf-8")
    browser = Browser(app_of(path))
    asked = [item for item in browser.app.desk.job.findings if item.question]
    assert {"not-answered", "not-answered-warning", "not-known-block"} <= {item.code for item in asked}
    opened, sheets = browser.get("/open"), [browser.get(at) for at in ("/at", "/at/front")]
    for item in asked:
        link = ask_href(item.scope, item.question)
        assert link in opened.find("//a[@class='button']/@href"), item.code
        assert any(link in sheet.find("//*[@class='finding']//a/@href") for sheet in sheets), item.code
    for page in (opened, *sheets):
        assert [item.question for item in asked if "_" in item.question and item.question in page.text] == []
