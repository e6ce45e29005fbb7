"""The package in a real browser: made by the keyboard alone, downloaded, and refused while a draft; for everybody."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Any

import pytest
from answers_text import one_wall
from served_survey import DESK, IN_A_BROWSER, Served, barriers, opened

from generator.record.revisions.issued import verify

pytestmark = IN_A_BROWSER
PATIENCE_MS = 120_000


@pytest.fixture
def path(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(request.param, encoding="utf-8")
    return found


def papers(browser: Any, survey: Served, *, scripts: bool = True) -> Any:
    page = opened(browser, survey, scripts=scripts)
    page.set_default_timeout(PATIENCE_MS)
    page.goto(survey.base + "/papers")
    return page


def tab_to(page: Any, selector: str) -> None:
    """Presses Tab until what a selector names has the focus."""
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate(f"document.activeElement.matches({selector!r})"):
            return
    raise AssertionError(f"{selector} is not reached by Tab")


@pytest.mark.parametrize("path", [one_wall()], indirect=True)
@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "none"])
def test_it_is_made_and_downloaded_by_the_keyboard_alone(browser: Any, survey: Served, scripts: bool) -> None:
    page = papers(browser, survey, scripts=scripts)
    tab_to(page, "a[href='/package']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/package")
    if page.locator("input[name=pdf]").count():
        tab_to(page, "input[name=pdf]")
        page.keyboard.press("Space")
    tab_to(page, "form[action='/package'] button")
    page.keyboard.press("Enter")
    page.wait_for_selector("section[role=status] a[download]")
    tab_to(page, "section[role=status] a[download]")
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    names = zipfile.ZipFile(coming.value.path()).namelist()
    assert any(name.endswith("/tenderers/specification.docx") for name in names)
    (folder,) = (survey.path.parent / "issues").iterdir()
    assert list(verify(folder)) == []


@pytest.mark.parametrize("path", [one_wall(hardness=None)], indirect=True)
def test_a_draft_is_refused_and_the_way_to_each_open_answer_is_given(browser: Any, survey: Served) -> None:
    page = papers(browser, survey)
    page.goto(survey.base + "/package")
    page.click("form[action='/package'] button")
    page.wait_for_selector("section.refused")
    assert barriers(page) == []
    page.click("section.refused a[href^='/ask/hardness/front']")
    page.wait_for_url("**/ask/hardness/front#question")
    assert not (survey.path.parent / "issues").exists()


@pytest.mark.parametrize("path", [one_wall()], indirect=True)
def test_an_accessibility_engine_finds_nothing_on_the_page_of_a_package_that_was_made(
    browser: Any, survey: Served
) -> None:
    page = papers(browser, survey, scripts=False)
    page.goto(survey.base + "/package")
    if page.locator("input[name=pdf]").count():
        page.uncheck("input[name=pdf]")
    page.click("form[action='/package'] button")
    page.wait_for_selector("section[role=status] a[download]")
    page.context.set_offline(False)
    shown = opened(browser, survey, DESK)
    shown.goto(page.url)
    assert barriers(shown) == []
