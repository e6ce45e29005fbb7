"""Marking a photograph in a real browser: by taps, drags and keys alone, undone, reloaded, and without a connection."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import photographed
import pytest
from answers_text import answers, wall, work
from served_survey import DESK, IN_A_BROWSER, PATIENCE_MS, PHONE, Served, barriers, opened, until_in

from generator.files.source import read_bytes

pytestmark = IN_A_BROWSER
SQUARE = [(0.1, 0.6), (0.3, 0.6), (0.3, 0.8), (0.1, 0.8)]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Answers with a photograph that has a frame of known size and nothing marked on it."""
    found = tmp_path / "answers.yaml"
    (tmp_path / "front.jpg").write_bytes(photographed.jpeg())
    photograph = photographed.photograph(marks=None, element="front")
    text = answers(wall(work(), id_="front", name="Front wall"), photographs=json.dumps([photograph]))
    found.write_text(text, encoding="utf-8")
    return found


GIVEN = [{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photographed.jpeg()}]


def marking(browser: Any, survey: Served, size: dict[str, int] = PHONE, *, touch: bool = False) -> Any:
    """The page of the photograph, its picture there."""
    page = opened(browser, survey, size, touch=touch)
    shown(page, survey)
    return page


def shown(page: Any, survey: Served) -> None:
    page.goto(survey.base + "/photograph/F1")
    page.wait_for_load_state("networkidle")


def spot(page: Any, share: tuple[float, float]) -> tuple[float, float]:
    """A place of the picture, told in shares of it, on the screen."""
    x, y = page.evaluate(
        """([x, y]) => { const board = document.querySelector("svg.marked"), image = board.querySelector("image");
        const at = new DOMPoint(x * image.width.baseVal.value, y * image.height.baseVal.value);
        const found = at.matrixTransform(board.getScreenCTM()); return [found.x, found.y]; }""",
        list(share),
    )
    return float(x), float(y)


def tap(page: Any, *shares: tuple[float, float]) -> None:
    for share in shares:
        page.mouse.click(*spot(page, share))


def drag(page: Any, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*spot(page, start))
    page.mouse.down()
    page.mouse.move(*spot(page, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)))
    page.mouse.move(*spot(page, end))
    page.mouse.up()


def do(page: Any, name: str) -> None:
    page.click(f"[data-do={name}]:visible")


def outlines(path: Path) -> list[list[list[float]]]:
    """The outlines of the last photograph in the file."""
    marks = read_bytes(path.read_bytes(), "", typed=False).data["project"]["photographs"][-1].get("marks", [])
    return [[[float(x), float(y)] for x, y in mark["outline"]] for mark in marks]


def until_marked(page: Any, path: Path, count: int) -> list[Any]:
    """Waits until so many areas stand in the file; their outlines."""
    for _ in range(PATIENCE_MS // 100):
        if len(outlines(path)) == count:
            return outlines(path)
        page.wait_for_timeout(100)
    raise AssertionError(f"{len(outlines(path))} areas stand in the file, not {count}")


def near(outline: list[list[float]], shares: list[tuple[float, float]], within: float = 0.006) -> bool:
    """Whether points lie where they were tapped, to about two pixels of a phone's screen."""
    pairs = zip(outline, shares, strict=True)
    return all(abs(x - a) < within and abs(y - b) < within for (x, y), (a, b) in pairs)


def test_an_area_is_drawn_by_taps_and_saves_itself_with_its_figure(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    page.wait_for_selector("[data-show=area]:has-text('m²')")
    assert "–" in page.inner_text("[data-show=range]")
    assert outlines(path) == []
    do(page, "close")
    assert near(until_marked(page, path, 1)[0], SQUARE)
    page.wait_for_selector("#figures:has-text('Take')")
    assert page.inner_text(".areas .figure-of").endswith("m²")
    page.click("#figures button:has-text('Take')")
    until_in(path, "treated_area_from: photographs")
    page.wait_for_selector("#figures:has-text('This is the quantity')")


def test_a_refusal_shows_while_the_area_is_drawn(browser: Any, survey: Served) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3])
    page.wait_for_selector("[data-show=area]:has-text('no figure')")
    do(page, "close")
    page.wait_for_selector("#figures:has-text('crosses itself')")


def test_the_magnifier_stands_in_the_corner_far_from_the_finger(browser: Any, survey: Served) -> None:
    page = marking(browser, survey)
    do(page, "area")
    for share in SQUARE[0], (0.9, 0.1), (0.9, 0.9), (0.1, 0.1):
        page.mouse.move(*spot(page, share))
        page.mouse.down()
        lens = page.locator("svg.lens").bounding_box()
        x, y = spot(page, share)
        away = max(abs(lens["x"] + lens["width"] / 2 - x), abs(lens["y"] + lens["height"] / 2 - y))
        assert away > lens["width"]
        assert not (lens["x"] < x < lens["x"] + lens["width"] and lens["y"] < y < lens["y"] + lens["height"])
        page.mouse.up()


def test_a_point_is_dragged_tapped_to_its_place_and_nudged(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    drag(page, SQUARE[1], (0.35, 0.55))
    tap(page, SQUARE[3], (0.08, 0.85))
    do(page, "close")
    moved = [SQUARE[0], (0.35, 0.55), SQUARE[2], (0.08, 0.85)]
    first = until_marked(page, path, 1)
    assert near(first[0], moved)
    page.click(".areas button")
    tap(page, SQUARE[0])
    for _ in range(4):
        page.click("[data-nudge='1 0']")
    page.wait_for_timeout(1500)
    (x, y), (was_x, was_y) = outlines(path)[0][0], first[0][0]
    assert x - was_x == pytest.approx(4 / 4032, abs=1.01e-4)
    assert y == was_y


def test_a_finger_sets_points_and_two_fingers_set_none_but_show_the_picture_larger(
    browser: Any, survey: Served, path: Path
) -> None:
    page = marking(browser, survey, touch=True)
    touches = page.context.new_cdp_session(page)

    def fingers(kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(places)]
        touches.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    do(page, "area")
    x, y = spot(page, (0.5, 0.5))
    fingers("touchStart", (x - 30, y))
    fingers("touchStart", (x - 30, y), (x + 30, y))
    fingers("touchMove", (x - 90, y), (x + 90, y))
    fingers("touchEnd")
    assert page.locator(".point").count() == 0
    across = float(page.get_attribute("svg.marked", "viewBox").split()[2])
    assert across == pytest.approx(4032 / 3, rel=0.02)
    assert spot(page, (0.5, 0.5)) == pytest.approx((x, y), abs=2.0)
    do(page, "smaller")
    do(page, "smaller")
    do(page, "smaller")
    for share in SQUARE:
        page.touchscreen.tap(*spot(page, share))
    assert page.locator(".point").count() == 4
    do(page, "close")
    assert near(until_marked(page, path, 1)[0], SQUARE)


def test_a_finger_drags_a_point_with_the_magnifier_beside_it_and_never_under_it(
    browser: Any, survey: Served, path: Path
) -> None:
    page = marking(browser, survey, touch=True)
    touches = page.context.new_cdp_session(page)

    def finger(kind: str, *shares: tuple[float, float]) -> None:
        places = [dict(zip("xy", spot(page, share), strict=True)) for share in shares]
        touches.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{**one, "id": 0} for one in places]})

    page.locator("[data-do=area]:visible").tap()
    for share in SQUARE:
        page.touchscreen.tap(*spot(page, share))
    scrolled = page.evaluate("scrollY")
    finger("touchStart", SQUARE[1])
    for share in ((0.38, 0.54), (0.36, 0.56)):
        finger("touchMove", share)
        lens, (x, y) = page.locator("svg.lens").bounding_box(), spot(page, share)
        assert not (lens["x"] < x < lens["x"] + lens["width"] and lens["y"] < y < lens["y"] + lens["height"])
    finger("touchEnd")
    assert page.evaluate("scrollY") == scrolled, "the page does not move under the finger"
    page.locator("[data-do=close]:visible").tap()
    assert near(until_marked(page, path, 1)[0], [SQUARE[0], (0.36, 0.56), *SQUARE[2:]])
    page.locator("[data-do=undo]:visible").tap()
    page.locator("[data-do=undo]:visible").tap()
    assert page.locator(".point").count() == 4


def test_a_point_is_set_between_two_and_dropped_again(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    do(page, "close")
    until_marked(page, path, 1)
    page.click(".areas button")
    tap(page, (0.2, 0.6))
    page.wait_for_selector("[data-point='4']")
    page.locator("[data-point='1']").focus()
    page.keyboard.press("Delete")
    page.wait_for_selector("[data-point='4']", state="detached")
    page.wait_for_timeout(1500)
    assert near(outlines(path)[0], SQUARE)


def test_undo_and_redo_go_through_every_point(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    for left in (3, 2):
        do(page, "undo")
        assert page.locator(".point").count() == left
    page.keyboard.press("Control+Shift+Z")
    do(page, "redo")
    do(page, "close")
    assert near(until_marked(page, path, 1)[0], SQUARE)
    do(page, "undo")
    do(page, "undo")
    until_marked(page, path, 0)
    assert page.locator(".point").count() == 3
    do(page, "redo")
    do(page, "redo")
    until_marked(page, path, 1)


def test_an_opening_comes_off_its_area(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    do(page, "close")
    until_marked(page, path, 1)
    page.click(".areas button")
    do(page, "opening")
    tap(page, (0.15, 0.65), (0.25, 0.65), (0.25, 0.75), (0.15, 0.75))
    do(page, "close")
    until_in(path, "without: ")


def test_a_frame_is_redrawn_and_waits_for_its_sizes(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "frame")
    do(page, "redraw")
    tap(page, (0.5, 0.3), (0.8, 0.3))
    assert "Corners still to mark: 2" in page.inner_text("#strip")
    tap(page, (0.8, 0.6), (0.5, 0.6))
    page.fill("[data-field=width]", "")
    page.fill("[data-field=height]", "1.2 m")
    page.wait_for_selector("#strip:has-text('when width and height are given')")
    page.wait_for_timeout(800)
    page.fill("[data-field=width]", "1500")
    until_in(path, "1500")
    assert "1200" in path.read_text(encoding="utf-8")


def test_a_size_that_cannot_be_is_told_and_stays_in_its_field(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "frame")
    page.fill("[data-field=width]", "5")
    page.wait_for_selector("#strip:has-text('10 to 200')")
    page.wait_for_selector("#connection:has-text('Typed, not kept')")
    assert page.input_value("[data-field=width]") == "5"
    page.fill("[data-field=width]", "1020")
    until_in(path, "1020")


def test_the_keyboard_alone_draws_moves_and_saves(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey, DESK)

    def reach(found: str) -> None:
        for _ in range(80):
            if page.evaluate(f"document.activeElement.matches({found!r})"):
                return
            page.keyboard.press("Tab")
        raise AssertionError(f"{found} is never reached by Tab")

    reach("[data-do=area]")
    page.keyboard.press("Enter")
    page.locator("svg.marked").evaluate("board => board.blur()")
    page.locator("body").press("Home")
    page.evaluate("document.activeElement.blur()")
    reach("svg.marked")
    for key in ("ArrowLeft", "ArrowUp", "ArrowRight"):
        for _ in range(40):
            page.keyboard.press(f"Shift+{key}")
        page.keyboard.press("Enter")
    assert page.locator(".point").count() == 3
    reach("[data-point='1']")
    for _ in range(5):
        page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.dataset.point") == "1"
    reach("[data-do=close]")
    page.keyboard.press("Enter")
    (outline,) = until_marked(page, path, 1)
    middle_x, middle_y = 0.5, 0.5
    left, up = 400 / 4032, 400 / 3024
    expected = [(middle_x - left, middle_y), (middle_x - left, middle_y - up + 5 / 3024), (middle_x, middle_y - up)]
    assert near(outline, expected, 2e-4)
    page.keyboard.press("Control+z")
    until_marked(page, path, 0)


def test_what_is_half_drawn_outlives_a_reload(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE[:3])
    shown(page, survey)
    assert page.locator(".point").count() == 3
    tap(page, SQUARE[3])
    do(page, "close")
    assert near(until_marked(page, path, 1)[0], SQUARE)


def test_marks_wait_through_a_lost_connection_and_are_sent_like_answers(
    browser: Any, survey: Served, path: Path
) -> None:
    page = marking(browser, survey)
    page.context.set_offline(True)
    do(page, "area")
    tap(page, *SQUARE)
    page.wait_for_selector("#strip:has-text('No connection')")
    do(page, "close")
    page.wait_for_selector("#connection:has-text('1')")
    do(page, "area")
    tap(page, *((x + 0.5, y) for x, y in SQUARE))
    do(page, "close")
    page.wait_for_timeout(800)
    assert page.inner_text("#connection").endswith("1")
    assert outlines(path) == []
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    until_marked(page, path, 2)
    do(page, "area")
    tap(page, (0.4, 0.1), (0.5, 0.1), (0.5, 0.2))
    do(page, "close")
    until_marked(page, path, 3)


def test_marks_that_wait_outlive_a_server_that_was_killed(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    survey.kill()
    do(page, "area")
    tap(page, *SQUARE)
    do(page, "close")
    page.wait_for_selector("#connection:has-text('1')")
    page.goto("about:blank")
    survey.start()
    page.goto(survey.address)
    assert near(until_marked(page, path, 1)[0], SQUARE)


def test_marks_changed_on_the_computer_meanwhile_ask(browser: Any, survey: Served, path: Path) -> None:
    page = marking(browser, survey)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("1447", "1450"), encoding="utf-8")
    do(page, "area")
    tap(page, *SQUARE)
    do(page, "close")
    page.wait_for_selector("text=Two versions of the marks")
    assert outlines(path) == []
    page.click("button:has-text('Yours')")
    until_marked(page, path, 1)
    page.wait_for_selector("#marking .areas button")


def test_a_picture_is_added_from_the_page_of_its_wall(browser: Any, survey: Served, path: Path) -> None:
    page = opened(browser, survey)

    def add() -> None:
        page.wait_for_timeout(500)  # a second press at once is none
        page.click("button:has-text('Add a photograph')")

    page.goto(survey.base + "/at/front")
    page.click("summary:has-text('Add a photograph')")
    page.set_input_files("input[name=chosen]", [{"name": "a.txt", "mimeType": "text/plain", "buffer": b"no picture"}])
    add()
    page.wait_for_selector("[role=alert]:has-text('is no picture')")
    page.set_input_files("input[name=chosen]", GIVEN)
    add()
    page.wait_for_selector("#marking svg.marked")
    assert page.url.endswith("/photograph/F2")
    assert (path.parent / "photographs" / "front-1.jpg").exists()
    do(page, "area")
    tap(page, *SQUARE)
    do(page, "close")
    until_in(path, "outline: [[0.")


def test_one_added_without_a_connection_is_listed_at_its_wall_when_there_is_one_and_marked_from_there(
    browser: Any, survey: Served, path: Path
) -> None:
    page = opened(browser, survey)
    page.goto(survey.base + "/at/front")
    page.click("summary:has-text('Add a photograph')")
    page.set_input_files("input[name=chosen]", GIVEN)
    page.context.set_offline(True)
    page.click("button:has-text('Add a photograph')")
    page.wait_for_selector(".unsent:has-text('No connection')")
    page.context.set_offline(False)
    page.click("#photographs a[href='/photograph/F2']")
    page.wait_for_selector("#marking svg.marked")
    assert (path.parent / "photographs" / "front-1.jpg").exists()


def test_with_scripts_off_marks_are_shown_and_a_picture_can_be_added(browser: Any, survey: Served, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    marked = photographed.photograph(element="front")
    start = text.index("photographs: ")
    end = text.index("\n", start)
    path.write_text(text[:start] + f"photographs: {json.dumps([marked])}" + text[end:], encoding="utf-8")
    page = opened(browser, survey, scripts=False)
    page.goto(survey.base + "/photograph/F1")
    assert page.locator("polygon.cored").count() == 1
    assert "3.7 m²" in page.inner_text("#marking")
    assert "Marking needs scripts" in page.inner_text("#marking")
    assert not page.locator("[data-do=area]").is_visible()
    page.goto(survey.base + "/at/front#photographs")
    page.click("summary:has-text('Add a photograph')")
    page.set_input_files(
        "input[name=chosen]", [{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photographed.jpeg()}]
    )
    page.click("button:has-text('Add a photograph')")
    page.wait_for_url("**/photograph/F2")


def test_targets_are_large_enough_for_a_thumb(browser: Any, survey: Served) -> None:
    page = marking(browser, survey)
    do(page, "area")
    tap(page, *SQUARE)
    small = page.evaluate(
        """() => [...document.querySelectorAll("#marking button, #marking input, #marking select, .point .reach")]
        .filter((one) => one.getClientRects().length).map((one) => one.closest(".pick") || one)
        .filter((one) => Math.min(one.getBoundingClientRect().width, one.getBoundingClientRect().height) < 43.5)
        .map((one) => one.outerHTML)"""
    )
    assert small == []
    feet = page.locator("#marks button:visible")
    assert min(feet.nth(n).bounding_box()["height"] for n in range(feet.count())) >= 60


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_an_accessibility_engine_finds_nothing_in_any_state_of_marking(
    browser: Any, survey: Served, size: dict[str, int]
) -> None:
    page, found = marking(browser, survey, size), {}

    def look(state: str) -> None:
        page.wait_for_timeout(600)
        found[state] = barriers(page)

    look("nothing marked")
    do(page, "frame")
    look("a frame")
    do(page, "done")
    do(page, "check")
    look("a length")
    do(page, "done")
    do(page, "area")
    tap(page, *SQUARE)
    look("drawing")
    do(page, "close")
    look("marked")
    assert {state: faults for state, faults in found.items() if faults} == {}


@pytest.mark.parametrize("width", [320, 390, 820, 1280])
def test_marking_never_scrolls_sideways_even_with_text_doubled(browser: Any, survey: Served, width: int) -> None:
    page, wide = marking(browser, survey, {"width": width, "height": 844}), []
    for state in ("all", "frame", "area"):
        if state != "all":
            do(page, state)
        for size in ("100%", "200%"):
            page.evaluate(f"document.documentElement.style.fontSize = '{size}'")
            if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
                wide.append((state, size))
        page.evaluate("document.documentElement.style.fontSize = ''")
        if state == "frame":
            do(page, "done")
    assert wide == []
