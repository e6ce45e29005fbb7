"""The newcomer's trial in a real browser, at three widths: a cottage of two walls, from nothing to its papers."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Any

import pytest
from answers_text import one_wall
from cottage import COTTAGE
from served_survey import IN_A_BROWSER, Served, barriers, opened, served

pytestmark = IN_A_BROWSER
MOST_ANSWERS = 30
"""What the trial allows for both walls; of the ten minutes it allows, a third of a minute is left for each."""

PRESS_MS = 450
"""A second press within 400 ms is none."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(one_wall(), encoding="utf-8")
    return found


def at_top(page: Any) -> bool:
    """Whether the heading of a page is to be seen."""
    page.wait_for_timeout(300)
    box = page.locator("h1").first.bounding_box()
    bar = page.locator(".bar").bounding_box()
    return bool(box and bar and box["y"] >= bar["y"] + bar["height"] - 1 and box["y"] < 500)


def ways_on(page: Any) -> list[str]:
    """The buttons of a question that lead on and are to be seen."""
    return [one for one in page.locator(".foot .next:visible, .foot .later:visible").all_inner_texts() if one]


def give(page: Any, value: str) -> None:
    """Answers the question that is open, as its form asks."""
    chosen = page.locator(f"#question input[name=answer][value='{value}']")
    if chosen.count():
        chosen.first.check()
        page.wait_for_selector("#strip:has-text('Saved')")
    elif page.locator("#question input[name=least]").count():
        for end, part in zip(
            ("least", "greatest", "usual"), value.replace("(", "- ").rstrip(")").split(" - "), strict=False
        ):
            page.fill(f"#question input[name={end}]", part.strip())
    else:
        page.fill("#answer", value)


def answered(page: Any) -> int:
    """Answers what lacks by going on from question to question until the papers are offered; how many that took."""
    page.locator("a.next").first.click()
    for count in range(60):
        page.wait_for_selector("#question")
        if page.locator(".foot a[href='/papers']").count():
            return count
        name = page.input_value("#question input[name=name]")
        assert len(ways_on(page)) == 1, f"{name}: {ways_on(page)}"
        give(page, COTTAGE[name])
        page.wait_for_timeout(PRESS_MS)
        address = page.url
        page.click("button.next")
        page.wait_for_function("address => location.href !== address", arg=address)
    raise AssertionError("it never ends")


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_a_cottage_of_two_walls_takes_at_most_thirty_answers_to_its_papers(
    browser: Any, tmp_path: Path, width: int
) -> None:
    with served(tmp_path / "cottage.yaml") as survey:
        page = opened(browser, survey, {"width": width, "height": 800})
        page.fill("#first", "Front wall")
        page.click("text=Add it")
        page.wait_for_selector("select[name=work]")
        assert at_top(page)
        page.select_option("select[name=work]", "repoint")
        page.wait_for_timeout(PRESS_MS)
        page.click("text=Add the work")
        page.wait_for_selector(".lacking:has-text('Area of face')")
        assert at_top(page)
        count = 2 + answered(page)
        page.goto(survey.base + "/new")
        copying = page.locator("form:has(input[value=copy])")
        copying.locator("input[name=name]").fill("Rear wall")
        copying.locator("button").click()
        page.wait_for_selector("h1:has-text('Rear wall')")
        assert at_top(page)
        count += 1 + answered(page)
        assert count <= MOST_ANSWERS
        page.click(".foot a[href='/papers']")
        page.wait_for_selector("h1:has-text('Papers')")
        with page.expect_download() as coming:
            page.click("text=Download the set")
        assert "specification.docx" in zipfile.ZipFile(coming.value.path()).namelist()


def test_one_way_on_stands_at_one_place_skipped_until_something_is_given(browser: Any, survey: Served) -> None:
    page = opened(browser, survey)
    page.goto(f"{survey.base}/ask/sensitive_features")
    assert ways_on(page) == ["Skip for now"]
    page.fill("#answer", "a lamp")
    (way,) = ways_on(page)
    assert way.startswith("Next: ")
    page.keyboard.press("Escape")
    assert ways_on(page) == ["Skip for now"]


def test_a_package_tells_what_it_is_at_while_answers_are_given_and_is_then_offered(
    browser: Any, survey: Served
) -> None:
    page = opened(browser, survey)
    page.goto(f"{survey.base}/package")
    page.click("form[action='/package'] button")
    page.wait_for_selector("[data-watch] .step:has-text('Making')")
    assert at_top(page)
    other = page.context.new_page()
    other.goto(f"{survey.base}/ask/exposure/front")
    other.get_by_label("severely exposed", exact=False).first.check()
    other.wait_for_selector("#strip:has-text('Saved')")
    page.wait_for_selector("section[role=status] a[download]", timeout=300_000)
    with page.expect_download() as coming:
        page.click("section[role=status] a[download]")
    assert any(
        name.endswith("/tenderers/specification.docx") for name in zipfile.ZipFile(coming.value.path()).namelist()
    )


def test_an_accessibility_engine_finds_nothing_while_a_package_is_made(browser: Any, survey: Served) -> None:
    page = opened(browser, survey)
    page.goto(f"{survey.base}/package")
    page.route("**/package/state", lambda route: route.fulfill(json={"step": "Making specification.docx", "to": ""}))
    page.click("form[action='/package'] button")
    page.wait_for_selector("[data-watch] .step:has-text('Making')")
    assert barriers(page) == []
