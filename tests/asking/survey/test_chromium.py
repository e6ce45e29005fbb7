"""The survey in a real browser: scripts off, keyboard alone, no connection, two tabs, killed servers, accessibility."""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import random
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from pathlib import Path
from typing import Any

import photographed
import pytest
from answers_text import answers, one_wall, wall, work
from cottage import COTTAGE
from jobs import shipped
from served_survey import DESK, IN_A_BROWSER, PHONE, Served, barriers, opened, served, until_in

from generator.files.source import read_bytes
from generator.questionnaire.answers import read_answers

pytestmark = IN_A_BROWSER
KILLS = int(os.environ.get("KILLS", "12"))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    (tmp_path / "front.jpg").write_bytes(photographed.jpeg(400, 300))
    pictured = json.dumps([photographed.photograph(element="front")])
    walls = (wall(work(), id_="front", name="Front wall"), wall(work(), id_="rear", name="Rear wall", hardness=None))
    found.write_text(answers(*walls, photographs=pictured), encoding="utf-8")
    return found


def ask(page: Any, survey: Served, name: str, *where: str) -> None:
    """Opens a question, and waits until the page has all it needs where the connection goes."""
    with page.expect_response("**/kept"):
        page.goto("/".join((survey.base, "ask", name, *where)))


# --- what a person does -----------------------------------------------------------------------------------


def test_a_choice_saves_itself_and_tells_what_it_changed(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)
    ask(page, survey, "exposure", "front")
    page.get_by_label("very severely exposed").check()
    page.wait_for_selector("#strip:has-text('was')")
    assert "exposure: very-severe" in path.read_text(encoding="utf-8")
    assert page.get_by_label("very severely exposed").is_checked()


def give(page: Any, value: str) -> None:
    """Answers the question of a page without scripts, and goes on."""
    chosen = page.locator(f"input[name=answer][value='{value}']")
    if chosen.count():
        chosen.first.check()
    elif page.locator("input[name=least]").count():
        page.fill("input[name=least]", value)
    else:
        page.fill("#answer", value)
    page.click("button.next")


def test_from_nothing_to_papers_for_two_walls_with_scripts_off(browser: Any, tmp_path: Path) -> None:
    """The newcomer's trial: at most 30 answers for the first wall of a cottage, counted."""
    with served(tmp_path / "cottage.yaml") as survey:
        page = opened(browser, survey, DESK, scripts=False)
        page.fill("#first", "Front wall")
        page.click("text=Add it")
        page.select_option("select[name=work]", "repoint")
        page.click("text=Add the work")
        count = 2 + all_that_lacks(page, survey)
        assert count <= 30
        page.goto(survey.base + "/new")
        copying = page.locator("form:has(input[value=copy])")
        copying.locator("input[name=name]").fill("Rear wall")
        copying.locator("button").click()
        assert all_that_lacks(page, survey) <= 5
        page.goto(survey.base + "/papers")
        with page.expect_download() as waiting:
            page.click("text=Download the set")
        assert waiting.value.suggested_filename == "cottage-papers.zip"


def all_that_lacks(page: Any, survey: Served) -> int:
    """Answers what lacks until nothing does; how many answers that took."""
    for count in range(60):
        page.goto(survey.base + "/")
        following = page.locator("a.next")
        if not following.count():
            return count
        following.click()
        name = page.locator("input[name=name]").first.input_value()
        assert name in COTTAGE, f"nobody said what to answer to {name}"
        give(page, COTTAGE[name])
        assert not page.locator("#why-not").count(), f"{name}: {page.inner_text('#why-not')}"
    raise AssertionError("it never ends")


def test_the_keyboard_alone_answers_goes_on_and_undoes(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey, DESK)
    ask(page, survey, "exposure", "front")
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "answer":
            break
    page.keyboard.press("ArrowDown")
    until_in(path, "exposure: severe")
    page.wait_for_selector("#strip:has-text('Saved')")
    page.keyboard.press("Enter")
    page.wait_for_url(lambda address: "exposure" not in address)
    page.keyboard.press("Control+z")
    until_in(path, "exposure: moderate")
    page.keyboard.press("Control+Shift+Z")
    until_in(path, "exposure: severe")


def test_escape_puts_the_saved_answer_back_and_what_is_typed_outlives_a_reload(browser: Any, survey: Served) -> None:
    page = opened(browser, survey)
    ask(page, survey, "height_m", "front")
    page.fill("#answer", "7.5")
    page.reload()
    page.wait_for_selector("#strip:has-text('Typed, not kept')")
    assert page.input_value("#answer") == "7.5"
    page.focus("#answer")
    page.keyboard.press("Escape")
    assert page.input_value("#answer") == "3"


def test_two_tabs_at_once_lose_nothing(browser: Any, survey: Served, path: Path) -> None:
    first, second = (opened(browser, survey) for _ in range(2))
    for page in (first, second):
        ask(page, survey, "exposure", "front")
    first.get_by_label("severely exposed", exact=False).first.check()
    first.wait_for_selector("#strip:has-text('Saved')")
    second.get_by_label("sheltered").first.click()  # no check: what answers it replaces the page
    second.wait_for_selector("text=Two answers to one question")
    assert "exposure: sheltered" not in path.read_text(encoding="utf-8")
    second.click("button:has-text('Yours')")
    until_in(path, "exposure: sheltered")


# --- no connection ----------------------------------------------------------------------------------------


def test_answers_wait_through_a_lost_connection_and_are_sent_in_order(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)
    ask(page, survey, "exposure", "front")
    page.context.set_offline(True)
    page.get_by_label("very severely exposed").check()
    page.wait_for_selector("#connection:has-text('1')")
    page.click("button.next")
    page.wait_for_url("**/ask/hardness/rear*")
    page.get_by_label("of middling hardness").check()
    page.wait_for_selector("#connection:has-text('2')")
    page.click("#connection button")
    assert page.locator(".waiting li").count() == 2
    assert "exposure: moderate" in path.read_text(encoding="utf-8")
    page.context.set_offline(False)
    page.click("text=Try now")
    until_in(path, "hardness: medium")
    assert "exposure: very-severe" in path.read_text(encoding="utf-8")
    page.wait_for_selector("#connection:has-text('Saved')")


def test_a_changed_mind_while_lost_sends_the_last_answer_alone(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)
    ask(page, survey, "exposure", "front")
    page.context.set_offline(True)
    page.get_by_label("very severely exposed").check()
    page.get_by_label("sheltered").first.check()
    page.wait_for_selector("#connection:has-text('1')")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    until_in(path, "exposure: sheltered")


def test_what_waits_outlives_the_page_and_a_server_that_was_killed(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)
    ask(page, survey, "exposure", "front")
    survey.kill()
    page.get_by_label("very severely exposed").check()
    page.wait_for_selector("#connection:has-text('1')")
    page.goto("about:blank")
    survey.start()
    page.goto(survey.address)
    until_in(path, "exposure: very-severe")


def test_an_answer_changed_on_the_computer_meanwhile_asks(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)
    ask(page, survey, "exposure", "front")
    page.context.set_offline(True)
    page.get_by_label("very severely exposed").check()
    path.write_text(
        path.read_text(encoding="utf-8").replace("exposure: moderate", "exposure: sheltered"), encoding="utf-8"
    )
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    page.wait_for_selector("text=Two answers to one question")
    assert "very-severe" not in path.read_text(encoding="utf-8")


class Sender:
    """Somebody who sends answers as fast as they are taken, and notes each that was told to be saved."""

    def __init__(self, survey: Served) -> None:
        self.survey = survey
        self.saved: int = 0

    def run(self, first: int) -> None:
        """Sends heights, each by a millimetre more than the last, until the server is gone."""
        key = self.survey.address.split("key=")[1]
        headers = {"Cookie": f"gaugebox-{self.survey.port}={key}", "Origin": self.survey.base, "X-Survey-Script": "yes"}
        seen = ""
        with contextlib.suppress(OSError, http.client.HTTPException):
            for value in range(first, first + 10_000):
                if not seen:
                    page = self._sent(urllib.request.Request(f"{self.survey.base}/ask/height_m/front", headers=headers))
                    seen = page.split('name="seen" value="')[1].split('"')[0]
                fields = {"where": "front", "name": "height_m", "seen": seen, "answer": f"{value / 1000}", "do": "save"}
                data = urllib.parse.urlencode(fields).encode()
                page = self._sent(urllib.request.Request(f"{self.survey.base}/answer", data, headers))
                seen = page.split('name="seen" value="')[1].split('"')[0]
                self.saved = value

    def _sent(self, request: urllib.request.Request) -> str:
        with urllib.request.urlopen(request) as response:
            return str(response.read().decode())


def test_kills_at_random_moments_lose_no_saved_answer(tmp_path: Path) -> None:
    path = tmp_path / "answers.yaml"
    path.write_text(one_wall(), encoding="utf-8")
    survey, chance, last = Served(path), random.Random(18), 1_000
    for _ in range(KILLS):
        survey.start()
        sender = Sender(survey)
        sending = threading.Thread(target=sender.run, args=(last + 1,))
        sending.start()
        time.sleep(chance.uniform(0.0, 0.6))
        survey.kill()
        sending.join()
        last = max(last, sender.saved)
        source = read_bytes(path.read_bytes(), "answers.yaml", typed=False)
        facts = read_answers(source, shipped().questionnaire, shipped().names)
        assert not source.problems
        height = facts.at_scope(("front",)).number("height_m")
        assert height is not None
        if sender.saved:
            assert int(height * 1000) in (last, last + 1)
        last = int(height * 1000)


# --- for everybody ----------------------------------------------------------------------------------------

PAGES = [
    "/", "/at", "/at/front", "/at/rear", "/ask/exposure/front", "/ask/joint_width_mm/front",
    "/ask/decay_causes/front", "/ask/condition/front", "/ask/hardness/front", "/ask/masonry/front", "/ask/bond/front",
    "/ask/issue_date", "/ask/sensitive_features", "/ask/openings/front/repoint", "/ask/drawings", "/ask/photographs",
    "/photograph/F1", "/open", "/papers", "/papers/specification", "/papers/mixes", "/papers/owner", "/package",
    "/new", "/order", "/find?q=wall", "/nowhere",
]  # fmt: skip


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_an_accessibility_engine_finds_nothing_on_any_page(browser: Any, survey: Served, size: dict[str, int]) -> None:
    page, found = opened(browser, survey, size), {}
    for address in PAGES:
        page.goto(survey.base + address)
        found[address] = barriers(page)
    assert {address: faults for address, faults in found.items() if faults} == {}


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_no_page_scrolls_sideways_even_with_text_doubled(browser: Any, survey: Served, width: int) -> None:
    page, wide = opened(browser, survey, {"width": width, "height": 844}), []
    for address in PAGES:
        page.goto(survey.base + address)
        for size in ("100%", "200%"):
            page.evaluate(f"document.documentElement.style.fontSize = '{size}'")
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                wide.append((address, size))
    assert wide == []


def test_pages_ask_nothing_of_anybody_else(browser: Any, survey: Served) -> None:
    page, asked = opened(browser, survey, DESK), []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: asked.append(message.text))
    for address in PAGES[:-1]:
        page.goto(survey.base + address)
        page.wait_for_load_state("networkidle")
    assert [one for one in asked if not one.startswith((survey.base + "/", "blob:"))] == []
