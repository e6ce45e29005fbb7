"""The page of the package: what goes in, made by one press, refused with reasons while a draft, and the download."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from answers_text import one_wall
from jobs import shipped
from survey_pages import HERE, PORT, Browser, set_of

from generator.asking.survey.guard import Guard
from generator.asking.survey.packing import Packager
from generator.asking.survey.serving import survey_app
from generator.files.errors import CannotWrite
from generator.job.job import Job
from generator.questionnaire.facts import Facts

PATIENCE_S = 30
TENDER, DRAFT = one_wall(), one_wall(hardness=None)


@dataclass
class Maker:
    """What makes packages without making papers: each is what it was made of."""

    folder: Path
    can_pdf: bool = True
    asked: list[bool] = field(default_factory=list)
    refuses: str = ""
    breaks: bool = False
    goes_on: threading.Event = field(default_factory=threading.Event)

    def __post_init__(self) -> None:
        self.goes_on.set()

    def make(self, facts: Facts, raw: bytes, pdf: bool, tell: Callable[[str], Any]) -> Path:
        self.asked.append(pdf)
        tell("Making specification.docx")
        assert self.goes_on.wait(PATIENCE_S)
        if self.refuses:
            raise CannotWrite(self.refuses)
        if self.breaks:
            raise ZeroDivisionError
        made = self.folder / f"J-1-rev-{facts.at_scope(()).text('revision')}.zip"
        made.write_bytes(raw)
        return made

    def made(self) -> Sequence[Path]:
        return sorted(self.folder.glob("*.zip"))

    def of(self, raw: bytes) -> Path | None:
        return next((path for path in self.made() if path.read_bytes() == raw), None)

    def packager(self) -> Packager:
        names = [("tenderers", "specification.docx"), ("owner", "owner-page.docx")]
        return Packager(self.folder, self.can_pdf, lambda _: names, self.make, self.made, self.of)


@pytest.fixture
def maker(tmp_path: Path) -> Maker:
    return Maker(tmp_path)


def browser(maker: Maker, text: str) -> Browser:
    path = maker.folder / "answers.yaml"
    path.write_text(text, encoding="utf-8")
    guard = Guard(PORT, key="k" * 24)
    return Browser(survey_app(path, shipped(), guard, set_of, maker.packager()))


def test_the_page_tells_what_will_go_in_for_whom_and_where_it_is_kept(maker: Maker) -> None:
    page = browser(maker, TENDER).get("/package")
    assert page.status == 200
    assert "For tenderers page to read first, a sheet for each wall" in page.text
    assert "(owner-page.docx)" in page.text
    assert f"It is kept in {maker.folder}." in page.text
    assert "/package" in browser(maker, TENDER).get("/papers").find("//a/@href")


@pytest.mark.parametrize(("fields", "pdf"), [({"pdf": "yes"}, True), ({}, False)])
def test_one_press_makes_it_and_offers_it_for_download(maker: Maker, fields: dict[str, str], pdf: bool) -> None:
    somebody = browser(maker, TENDER)
    page = somebody.post("/package", fields)
    assert (page.status, maker.asked) == (200, [pdf])
    assert page.find("//section[@role='status']//a/@href") == ["/package/J-1-rev-1.zip"]
    got = somebody.get("/package/J-1-rev-1.zip")
    assert got.response.headers["Content-Disposition"] == 'attachment; filename="J-1-rev-1.zip"'
    assert got.response.get_data() == (maker.folder / "answers.yaml").read_bytes()


def test_a_second_press_makes_no_second_one(maker: Maker) -> None:
    somebody = browser(maker, TENDER)
    somebody.post("/package", {})
    assert somebody.post("/package", {}).status == 200
    assert len(maker.asked) == 1


def test_a_draft_is_refused_with_a_link_to_each_answer_that_is_open(maker: Maker) -> None:
    page = browser(maker, DRAFT).post("/package", {})
    assert (page.status, maker.asked) == (409, [])
    assert "Not made. Open before tender: " in page.text
    assert "/ask/hardness/front#question" in page.find("//section[@role='alert']//a/@href")
    assert len(page.find("//form[@action='/package']//button")) == 1


def test_answers_with_mistakes_are_refused(maker: Maker) -> None:
    page = browser(maker, TENDER.replace("hardness: soft", "hardness: sofft")).post("/package", {})
    assert (page.status, maker.asked) == (409, [])
    assert "Not made." in page.text


def test_why_it_could_not_be_kept_is_told_with_the_way_to_the_next_revision(maker: Maker) -> None:
    maker.refuses = "J-1-rev-1: is issued already and is never rewritten: give the answers the next revision"
    page = browser(maker, TENDER).post("/package", {})
    assert page.status == 409
    assert "is issued already and is never rewritten" in page.text
    assert "/ask/revision#question" in page.find("//div[@role='alert']//a/@href")


def test_no_other_file_is_given_out(maker: Maker) -> None:
    somebody = browser(maker, TENDER)
    for name in ("answers.yaml", "..%2fanswers.yaml", "J-9-rev-1.zip"):
        assert somebody.get(f"/package/{name}").status == 404


def test_where_pdf_cannot_be_made_the_page_says_so(maker: Maker) -> None:
    maker.can_pdf = False
    somebody = browser(maker, TENDER)
    assert "PDF files are left out" in somebody.get("/package").text
    somebody.post("/package", {"pdf": "yes"})
    assert maker.asked == [False]


# --- while it is being made ---------------------------------------------------------------------------------

SCRIPT = {"X-Survey-Script": "yes"}


def until_done(somebody: Browser) -> str:
    """Where the page goes on to once the package is made."""
    for _ in range(PATIENCE_S * 20):
        told = json.loads(somebody.get("/package/state").response.get_data())
        if told["to"]:
            return str(told["to"])
        time.sleep(0.05)
    raise AssertionError("it is never done")


def test_while_it_is_made_the_pages_go_on_and_tell_what_it_is_at(maker: Maker) -> None:
    somebody = browser(maker, TENDER)
    maker.goes_on.clear()
    page = somebody.post("/package", {}, **SCRIPT)
    assert page.status == 202
    assert page.find("//section[@data-watch='/package/state']")
    assert not page.find("//form[@action='/package']")
    assert somebody.answer("exposure", "front", answer="severe").status == 200
    assert json.loads(somebody.get("/package/state").response.get_data()) == {
        "step": "Making specification.docx", "to": "",
    }  # fmt: skip
    assert "Making specification.docx" in somebody.get("/package").text
    maker.goes_on.set()
    assert until_done(somebody) == "/package?made=J-1-rev-1.zip"
    assert somebody.get("/package/J-1-rev-1.zip").response.get_data().decode() == TENDER, "as it was when pressed"


def test_a_press_while_it_is_made_begins_no_second_one(maker: Maker) -> None:
    somebody = browser(maker, TENDER)
    maker.goes_on.clear()
    assert [somebody.post("/package", {}, **SCRIPT).status for _ in range(3)] == [202, 202, 202]
    somebody.answer("exposure", "front", answer="severe")
    assert somebody.post("/package", {}, **SCRIPT).status == 202
    maker.goes_on.set()
    until_done(somebody)
    assert len(maker.asked) == 1


def test_without_scripts_presses_wait_for_the_one_package_and_the_pages_go_on(maker: Maker) -> None:
    somebody = browser(maker, TENDER)
    maker.goes_on.clear()
    ended = list[int]()

    def press() -> None:
        ended.append(somebody.client.post("/package", base_url=HERE, headers={"Origin": HERE}).status_code)

    presses = [threading.Thread(target=press) for _ in range(2)]
    for one in presses:
        one.start()
    while not maker.asked:
        time.sleep(0.01)
    assert (somebody.get("/").status, ended) == (200, [])
    maker.goes_on.set()
    for one in presses:
        one.join(PATIENCE_S)
    assert (ended, len(maker.asked)) == ([303, 303], 1)


def test_what_breaks_off_is_told_and_can_be_pressed_again(maker: Maker, monkeypatch: pytest.MonkeyPatch) -> None:
    told = list[str]()
    monkeypatch.setattr(threading, "excepthook", lambda raised: told.append(raised.exc_type.__name__))
    somebody = browser(maker, TENDER)
    maker.breaks = True
    page = somebody.post("/package", {})
    assert (page.status, told) == (409, ["ZeroDivisionError"])
    assert "Something broke off" in page.text
    maker.breaks = False
    assert somebody.post("/package", {}).status == 200


def test_a_set_is_made_with_the_desk_let_go(maker: Maker) -> None:
    began, goes_on = threading.Event(), threading.Event()

    def slow(job: Job, raw: bytes) -> Mapping[str, bytes]:
        began.set()
        assert goes_on.wait(PATIENCE_S)
        return set_of(job, raw)

    path = maker.folder / "answers.yaml"
    path.write_text(TENDER, encoding="utf-8")
    somebody = Browser(survey_app(path, shipped(), Guard(PORT, key="k" * 24), slow, maker.packager()))
    status = list[int]()
    taking = threading.Thread(target=lambda: status.append(somebody.client.get("/set.zip", base_url=HERE).status_code))
    taking.start()
    assert began.wait(PATIENCE_S)
    assert somebody.answer("exposure", "front", answer="severe").status == 200
    assert status == []
    goes_on.set()
    taking.join(PATIENCE_S)
    assert status == [200]
