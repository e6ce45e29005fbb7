"""Who may ask of a survey, and how much may be sent: tried with hostile requests."""

from __future__ import annotations

from pathlib import Path

import pytest
from answers_text import one_wall
from jobs import shipped
from survey_pages import HERE, HOST, PORT, Browser, app_of, set_of
from werkzeug.test import Client

from generator.asking.survey.guard import LOOPBACK, MOST_FIELDS, MOST_FORM_BYTES, Guard
from generator.asking.survey.serving import survey_app


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(one_wall(), encoding="utf-8")
    return found


@pytest.fixture
def browser(path: Path) -> Browser:
    return Browser(app_of(path))


PAGES = [
    "/",
    "/at",
    "/at/front",
    "/ask/exposure/front",
    "/open",
    "/papers",
    "/new",
    "/order",
    "/set.zip",
    "/survey.css",
]


@pytest.mark.parametrize("address", PAGES)
def test_nothing_is_shown_without_the_key(path: Path, address: str) -> None:
    client = Client(app_of(path))
    for wrong in ("", "?key=", "?key=wrong", "?key=%00", "?key=" + "k" * 23):
        response = client.get(address + wrong, base_url=HERE)
        assert response.status_code == 403
        assert "Front wall" not in response.get_data(as_text=True)


def test_the_key_becomes_a_cookie_that_scripts_and_other_sites_do_not_get(path: Path) -> None:
    response = Client(app_of(path)).get("/?key=" + "k" * 24, base_url=HERE)
    cookie = response.headers["Set-Cookie"]
    assert cookie.startswith(f"gaugebox-{PORT}=")
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert "k" * 24 not in response.get_data(as_text=True)


@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", "127.0.0.1:1", f"127.0.0.2:{PORT}", ""]
)
def test_another_name_for_this_machine_is_not_answered(browser: Browser, host: str) -> None:
    response = browser.client.get("/", base_url=HERE, headers={"Host": host})
    assert response.status_code in (400, 421)
    assert "Front wall" not in response.get_data(as_text=True)


def test_names_of_the_loopback_are_answered(browser: Browser) -> None:
    for host in (HOST, f"localhost:{PORT}", f"[::1]:{PORT}"):
        browser.client.set_cookie(f"gaugebox-{PORT}", "k" * 24, domain=host.rsplit(":", 1)[0].strip("[]"))
        assert browser.client.get("/", base_url=f"http://{host}").status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": f"https://{HOST}"},
        {"Origin": f"http://127.0.0.1:{PORT + 1}"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {},
    ],
)
def test_what_another_page_sends_changes_nothing(browser: Browser, path: Path, headers: dict[str, str]) -> None:
    before = path.read_bytes()
    fields = {**browser.filled(browser.ask("exposure", "front")), "answer": "severe", "do": "save"}
    for address in ("/answer", "/undo", "/redo", "/make", "/drop", "/move"):
        assert browser.client.post(address, base_url=HERE, data=fields, headers=headers).status_code == 403
    assert path.read_bytes() == before


def test_a_form_of_a_browser_that_tells_its_site_alone_is_taken(browser: Browser, path: Path) -> None:
    fields = {**browser.filled(browser.ask("exposure", "front")), "answer": "severe", "do": "save"}
    headers = {"Sec-Fetch-Site": "same-origin"}
    assert browser.client.post("/answer", base_url=HERE, data=fields, headers=headers).status_code == 303
    assert b"exposure: severe" in path.read_bytes()


def test_more_than_a_form_holds_is_refused_and_nothing_saved(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    fields = browser.filled(browser.ask("condition", "front"))
    long = browser.post("/answer", {**fields, "answer": "a" * (MOST_FORM_BYTES + 1), "do": "save"})
    many = {**fields, **{f"f{n}": "x" for n in range(2 * MOST_FIELDS)}, "do": "save"}
    parts = browser.client.post(
        "/answer", base_url=HERE, data=many, headers={"Origin": HERE}, content_type="multipart/form-data"
    )
    assert (long.status, parts.status_code) == (413, 413)
    assert path.read_bytes() == before


def test_every_answer_forbids_what_comes_from_elsewhere(browser: Browser) -> None:
    for address in [*PAGES, "/nowhere", "/?key=" + "k" * 24]:
        headers = browser.client.get(address, base_url=HERE).headers
        policy = headers["Content-Security-Policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cache-Control"] == "no-store"
        assert headers["Referrer-Policy"] == "same-origin"


def test_pages_name_no_other_address_and_hold_no_script_or_style_of_their_own(browser: Browser) -> None:
    for address in PAGES[:-2]:
        page = browser.get(address)
        named = page.find("//@src | //@href | //@action | //@content[contains(., '://')]")
        assert [where for where in named if "//" in where] == []
        assert page.find("//style | //@style | //script[not(@src)] | //@*[starts-with(name(), 'on')]") == []


NOWHERE = [
    "/at/../../etc/passwd", "/at/%2e%2e/x", "/ask/exposure/nowhere", "/ask/nothing/front", "/ask/exposure",
    "/at/front/nothing", "/survey.html", "/../templates/words.yaml", "/boxes/lime/1e9.svg", "/boxes/x/1.svg",
    "/boxes/lime/nan.svg",
]  # fmt: skip


@pytest.mark.parametrize("address", NOWHERE)
def test_what_is_not_there_is_told_so(browser: Browser, address: str) -> None:
    assert browser.get(address).status == 404


def test_a_way_of_asking_that_does_not_fit_is_told_so(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    assert browser.client.get("/answer", base_url=HERE).status_code == 405
    assert browser.client.post("/at/front", base_url=HERE, headers={"Origin": HERE}).status_code == 405
    for fields in ({}, {"what": "nothing"}, {"what": "work", "where": "front", "work": "magic"}, {"what": "zone"}):
        assert browser.post("/make", fields).status == 400
    assert browser.post("/drop", {"where": ""}).status == 400
    assert browser.post("/move", {"where": "front", "to": "left"}).status == 400
    assert path.read_bytes() == before


def test_what_is_answered_is_shown_as_it_is_spelt_and_never_run(browser: Browser) -> None:
    spelt = "<script>alert(1)</script> \"' onload=x {{ 7*7 }}"
    page = browser.answer("condition", "front", answer=spelt)
    assert page.find("//script[not(@src)]") == []
    assert spelt in page.text or page.find("//textarea")[0].text == spelt
    assert spelt.split()[0] in browser.get("/at/front").text


def test_a_next_page_elsewhere_is_not_followed(browser: Browser) -> None:
    page = browser.ask("exposure", "front")
    for goes in ("//evil.example", "http://evil.example", "/\\evil.example", "javascript:alert(1)"):
        sent = {**browser.filled(page), "answer": "severe", "next": goes, "do": "next"}
        response = browser.client.post("/answer", base_url=HERE, data=sent, headers={"Origin": HERE})
        assert response.headers["Location"].startswith("/ask/exposure/front")
        page = browser.ask("exposure", "front")


def test_a_phone_is_shown_the_address_by_a_code_only_where_the_network_is_let_in(path: Path, browser: Browser) -> None:
    assert browser.get("/phone.svg").status == 404
    assert "--on-network" in browser.get("/phone").text
    guard = Guard(PORT, (*LOOPBACK, "192.0.2.7"), "k" * 24)
    shown = Browser(survey_app(path, shipped(), guard, set_of))
    assert f"http://192.0.2.7:{PORT}/?key={'k' * 24}" in shown.get("/phone").text
    assert shown.get("/phone.svg").status == 200
    assert "/phone" in shown.get("/").find("//a/@href")
    assert Client(shown.app).get("/", base_url=f"http://192.0.2.7:{PORT}").status_code == 403
