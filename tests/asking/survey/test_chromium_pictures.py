"""Photographs taken without a connection, in a real browser: kept in the page, sent in order, refused in words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import photographed
import pytest
from answers_text import answers, wall, work
from served_survey import IN_A_BROWSER, PHONE, Served, opened, until_in

pytestmark = IN_A_BROWSER


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(answers(wall(work(), id_="front", name="Front wall")), encoding="utf-8")
    return found


@pytest.fixture
def page(browser: Any, survey: Served) -> Any:
    """The front wall on a phone, which has all that it needs where the connection goes."""
    found = opened(browser, survey, PHONE, touch=True)
    with found.expect_response("**/kept"):
        found.goto(f"{survey.base}/at/front")
    return found


def take(page: Any, shows: str, data: bytes, name: str = "wall.jpg") -> None:
    """Chooses a picture, says what it shows, and adds it."""
    form = page.locator(".photograph-form")
    if not form.is_visible():
        page.click("#photographs summary")
    form.locator("input[name=chosen]").set_input_files({"name": name, "mimeType": "image/jpeg", "buffer": data})
    form.locator("input[name=shows]").fill(shows)
    page.wait_for_timeout(450)  # a second press within this time is none
    form.locator("button").tap()


def shown(path: Path) -> list[str]:
    """What the photographs of the answers file show, in order."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return [line.split("shows: ")[1] for line in lines if "shows: " in line]


def test_photographs_wait_for_a_connection_and_are_sent_in_order_after_the_answers(
    page: Any, survey: Served, path: Path
) -> None:
    page.context.set_offline(True)
    for number, shows in enumerate(("Left half", "Right half"), start=1):
        take(page, shows, photographed.jpeg(400 + number, 300))
        page.wait_for_selector(f"#connection:has-text('{number}')")
        assert "kept here" in page.inner_text(".unsent")
        colours = "(tab) => [getComputedStyle(tab).color, getComputedStyle(tab).backgroundColor]"
        assert len(set(page.eval_on_selector(".state .tab", colours))) == 2, "the state of the set stays to be read"
        assert page.input_value(".photograph-form input[name=chosen]") == ""
    page.click("a[href='/ask/exposure/front#question']")
    page.get_by_label("very severely exposed").check()
    page.wait_for_selector("#connection:has-text('3')")
    page.click("#connection button")
    assert [item.split(":")[0] for item in page.locator(".waiting li").all_inner_texts()[1:]] == ["Photograph"] * 2
    page.context.set_offline(False)
    page.click("text=Try now")
    until_in(path, "shows: Right half")
    assert shown(path) == ["Left half", "Right half"]
    assert "exposure: very-severe" in path.read_text(encoding="utf-8")
    page.wait_for_selector("#connection:has-text('Saved')")
    assert page.evaluate("keptPictures.all().then((all) => all.length)") == 0


def test_what_waits_outlives_the_page_and_a_server_that_was_killed(page: Any, survey: Served, path: Path) -> None:
    survey.kill()
    take(page, "Left half", photographed.jpeg(400, 300))
    page.wait_for_selector("#connection:has-text('1')")
    page.goto("about:blank")
    survey.start()
    page.goto(survey.address)
    until_in(path, "shows: Left half")
    assert shown(path) == ["Left half"]


def test_one_whose_answer_was_lost_on_the_way_is_not_added_twice(page: Any, survey: Served, path: Path) -> None:
    lost: list[str] = []

    def drop_the_answer(route: Any) -> None:
        if not lost:  # what is tried again meanwhile is dropped without reaching the server
            route.fetch()
        lost.append(route.request.url)
        route.abort()

    page.route("**/photograph/add", drop_the_answer)
    # what is routed is dropped only while the driver waits for its page
    with page.expect_event("requestfailed", lambda request: request.url.endswith("/photograph/add")):
        take(page, "Left half", photographed.jpeg(400, 300))
    until_in(path, "shows: Left half")
    page.wait_for_selector("#connection:has-text('1')")
    page.unroute_all(behavior="ignoreErrors")
    page.evaluate("dispatchEvent(new Event('online'))")
    page.wait_for_selector("#connection:has-text('Saved')")
    assert (bool(lost), shown(path)) == (True, ["Left half"])


def test_what_is_too_large_or_says_nothing_is_refused_at_once(page: Any, path: Path) -> None:
    page.context.set_offline(True)
    page.evaluate("Object.defineProperty(File.prototype, 'size', { get: () => 41 * 1024 * 1024, configurable: true })")
    take(page, "Left half", photographed.jpeg(400, 300))
    page.wait_for_selector(".unsent:has-text('larger than is taken at once (40 MB)')")
    page.evaluate("delete File.prototype.size")
    take(page, "", photographed.jpeg(400, 300))
    page.wait_for_selector(".unsent:has-text('Write what it shows')")
    assert page.evaluate("keptPictures.all().then((all) => all.length)") == 0


def test_where_the_browser_has_no_room_the_picture_stays_chosen(page: Any) -> None:
    page.context.set_offline(True)
    page.evaluate("void (keptPictures.put = () => Promise.reject(new DOMException('full', 'QuotaExceededError')))")
    take(page, "Left half", photographed.jpeg(400, 300))
    page.wait_for_selector(".unsent:has-text('no room')")
    assert page.input_value(".photograph-form input[name=chosen]").endswith("wall.jpg")


def test_one_that_is_refused_later_is_told_kept_and_can_be_taken_out(page: Any, path: Path) -> None:
    page.context.set_offline(True)
    take(page, "No picture", b"GIF89a no picture")
    page.wait_for_selector("#connection:has-text('1')")
    take(page, "Left half", photographed.jpeg(400, 300))
    page.wait_for_selector("#connection:has-text('2')")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    until_in(path, "shows: Left half")
    page.click("#connection button:has-text('Photographs not taken: 1')")
    told = page.inner_text(".waiting li")
    assert "No picture" in told
    assert "Not saved" in told
    page.click(".waiting button[data-do=drop]")
    page.wait_for_selector("#connection:has-text('Saved')")
    assert shown(path) == ["Left half"]


def test_without_a_connection_one_goes_on_from_wall_to_question_and_back(page: Any, survey: Served) -> None:
    page.context.set_offline(True)
    page.click("a[href='/ask/exposure/front#question']")
    page.wait_for_selector("#question h2")
    page.evaluate("history.back()")
    page.wait_for_selector(".photograph-form")
    page.click(".up a")
    page.wait_for_selector("#main a[href='/at/front']")
    page.click("a[href='/papers']")
    page.wait_for_selector("#connection:has-text('No connection')")
    assert page.locator("#main a[href='/at/front']").count()
