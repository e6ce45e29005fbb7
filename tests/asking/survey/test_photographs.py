"""Photographs on the pages of a survey: kept beside the answers, marked and reckoned; hostile ones told in words."""

from __future__ import annotations

import hashlib
import io
import json
from pathlib import Path
from typing import Any

import photographed
import pytest
from answers_text import answers, wall, work
from jobs import job
from PIL import Image
from survey_pages import HERE, Browser, Page, app_of, changed_lines
from werkzeug.datastructures import FileStorage
from werkzeug.test import Client, encode_multipart

from generator.asking.survey import guard
from generator.files.source import read_bytes

OUTLINE = [[0.05, 0.7], [0.42, 0.7], [0.42, 0.93], [0.05, 0.93]]
FRAME = {"corners": photographed.CORNERS, "width_mm": "1010", "height_mm": "1490", "what": "", "distance_m": "7.5"}
CHECK = {"points": [[0.12, 0.801], [0.3105, 0.8043]], "length_mm": "1447"}


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    walls = (wall(work(), id_="front", name="Front wall"), wall(work(), id_="rear", name="Rear wall"))
    found.write_text("# kept\n" + answers(*walls), encoding="utf-8")
    return found


@pytest.fixture
def browser(path: Path) -> Browser:
    return Browser(app_of(path))


def send(browser: Browser, data: bytes, name: str = "IMG_1.jpg", where: str = "front", **more: str) -> Page:
    """Sends a picture for a wall, as a browser spells it."""
    file = FileStorage(io.BytesIO(data), name, "chosen", "image/jpeg")
    boundary, body = encode_multipart({"where": where, "shows": "Front", **more, "chosen": file})
    headers = {"Origin": HERE, "Content-Type": f"multipart/form-data; boundary={boundary}"}
    response = browser.client.post("/photograph/add", base_url=HERE, data=body, headers=headers)
    if response.status_code == 303:
        return browser.get(response.headers["Location"])
    return Page(response, "/photograph/add")


def test_one_that_waited_in_a_page_and_comes_twice_is_kept_once(browser: Browser, path: Path) -> None:
    first, other = photographed.jpeg(400, 300), photographed.jpeg(402, 300)
    pages = [send(browser, data, waited="yes") for data in (first, first, other, first)]
    assert [page.address for page in pages] == ["/photograph/F1", "/photograph/F1", "/photograph/F2", "/photograph/F1"]
    assert send(browser, first, shows="Front again", waited="yes").address == "/photograph/F3"
    assert len(list((path.parent / "photographs").iterdir())) == 3


def mark(letter: str = "A", outline: Any = OUTLINE, **more: Any) -> dict[str, Any]:
    return {"letter": letter, "work": "front/repoint", "outline": outline, "without": [], **more}


def marks(*found: dict[str, Any], reference: Any = None, checks: Any = ()) -> str:
    return json.dumps({"reference": reference, "checks": list(checks), "marks": list(found)})


def seen(page: Page) -> str:
    return str(page.find("//form[@id='marks']/input[@name='seen']/@value")[0])


def save(browser: Browser, told: str, page: Page | None = None, **headers: Any) -> Page:
    """Saves marks on the first photograph, as its page does."""
    shown = page or browser.get("/photograph/F1")
    return browser.post("/marks", {"where": "F1", "name": "marks", "seen": seen(shown), "marks": told}, **headers)


def reckoned(browser: Browser, told: str) -> dict[str, Any]:
    response = browser.post("/reckon", {"where": "F1", "marks": told}).response
    assert response.status_code == 200
    found: dict[str, Any] = json.loads(response.get_data(as_text=True))
    return found


# --- taken or chosen ------------------------------------------------------------------------------------------


def test_a_picture_is_kept_upright_with_its_pixels_alone_and_listed(browser: Browser, path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    page = send(browser, photographed.jpeg())
    assert page.address == "/photograph/F1"
    kept = path.parent / "photographs" / "front-1.jpg"
    with Image.open(kept) as image:
        assert image.size == (4032, 3024)
        assert not image.getexif()
        assert "exif" not in image.info
    assert b"GPS" not in kept.read_bytes()
    lines = changed_lines(before, path.read_text(encoding="utf-8"))
    assert [line for line in lines if line.startswith("-")] == []
    told = "\n".join(lines)
    for line in ("id: F1", 'file: "photographs/front-1.jpg"', "pixels: 4032 x 3024", "shows: Front", "element: front",
                 "taken: 2026-05-12", "equivalent_mm: 26"):  # fmt: skip
        assert line in told
    found = job(path.read_text(encoding="utf-8"), folder=path.parent).photographs[0]
    assert found.picture.marks_hold
    assert found.picture.read is not None


def test_a_picture_lying_on_its_side_is_kept_upright(browser: Browser, path: Path) -> None:
    stream = io.BytesIO()
    facts = Image.Exif()
    facts[0x0112] = 6
    Image.new("RGB", (400, 300)).save(stream, "JPEG", exif=facts)
    send(browser, stream.getvalue())
    with Image.open(path.parent / "photographs" / "front-1.jpg") as image:
        assert image.size == (300, 400)


def test_each_picture_has_a_name_of_the_programs_own_whatever_it_was_called(browser: Browser, path: Path) -> None:
    names = [
        "../../evil.jpg",
        "/etc/passwd",
        "a\\b.jpg",
        "con.jpg",
        "x" * 300 + ".jpg",
        "<b>&.jpg",
        "front-1.jpg",
        "ü\u202e.jpg",
    ]
    for name in names:
        assert send(browser, photographed.jpeg(400, 300), name).status == 200
    kept = sorted(one.relative_to(path.parent).as_posix() for one in path.parent.rglob("*") if one.is_file())
    assert kept == sorted(["answers.yaml", *(f"photographs/front-{n}.jpg" for n in range(1, len(names) + 1))])
    assert [one.id for one in browser.app.desk.job.photographs] == [f"F{n}" for n in range(1, len(names) + 1)]


def test_a_picture_that_lies_there_is_never_written_over(browser: Browser, path: Path) -> None:
    (path.parent / "photographs").mkdir()
    other = path.parent / "photographs" / "front-1.jpg"
    other.write_bytes(b"somebody's")
    send(browser, photographed.jpeg(400, 300))
    assert other.read_bytes() == b"somebody's"
    assert (path.parent / "photographs" / "front-2.jpg").exists()


def test_nothing_is_kept_where_the_folder_leads_elsewhere(browser: Browser, path: Path, tmp_path_factory: Any) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    (path.parent / "photographs").symlink_to(elsewhere)
    before = path.read_bytes()
    page = send(browser, photographed.jpeg(400, 300))
    assert page.status == 409
    assert list(elsewhere.iterdir()) == []
    assert path.read_bytes() == before


def test_an_answers_file_that_cannot_take_it_keeps_no_picture(browser: Browser, path: Path) -> None:
    text = path.read_text(encoding="utf-8").replace("project:", "project: &all", 1) + "more: *all\n"
    path.write_text(text, encoding="utf-8")
    page = send(browser, photographed.jpeg(400, 300))
    assert page.status in (409, 422)
    assert path.read_text(encoding="utf-8") == text
    assert not list((path.parent).rglob("*.jpg"))


def spoilt(kind: str) -> bytes:
    """A file that is no picture that is read."""
    stream = io.BytesIO()
    if kind == "cmyk":
        Image.new("CMYK", (60, 40)).save(stream, "JPEG")
    elif kind == "animated":
        frames = [Image.new("RGB", (60, 40), colour) for colour in ("red", "blue")]
        frames[0].save(stream, "PNG", save_all=True, append_images=frames[1:])
    elif kind == "gif":
        Image.new("P", (60, 40)).save(stream, "GIF")
    elif kind == "bomb":
        Image.new("1", (20_000, 20_000)).save(stream, "PNG")
    else:
        return {
            "nothing": b"",
            "text": b"no picture at all",
            "heic": b"\0\0\0\x18ftypheic" + bytes(100),
            "short": photographed.jpeg()[:4000],
            "svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        }[kind]
    return stream.getvalue()


@pytest.mark.parametrize(
    ("kind", "word"),
    [
        ("nothing", "is no picture"), ("text", "is no picture"), ("svg", "is no picture"), ("cmyk", "printing inks"),
        ("animated", "moving picture"), ("gif", "GIF"), ("bomb", "more than 60,000,000 pixels"), ("heic", "HEIC"),
        ("short", "ends before"),
    ],
)  # fmt: skip
def test_what_is_no_picture_is_told_in_words_and_nothing_is_kept(
    browser: Browser, path: Path, kind: str, word: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("generator.drawing.photograph.find_spec", lambda _: None)
    before = path.read_bytes()
    page = send(browser, spoilt(kind), "IMG_7.jpg")
    assert page.status == 422
    assert word in page.text
    assert page.find("//input[@name='shows']/@value") == ["Front"]
    assert path.read_bytes() == before
    assert not (path.parent / "photographs").exists()


def test_a_file_too_large_is_told_so(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    page = send(browser, b"\xff\xd8" + bytes(43_000_000))
    assert page.status == 422
    assert "larger than 41,943,040 bytes" in page.text
    page = send(browser, b"\xff\xd8" + bytes(guard.MOST_UPLOAD_BYTES))
    assert page.status == 413
    assert "Nothing was kept" in page.text
    assert path.read_bytes() == before


def test_room_for_pictures_is_no_room_for_other_forms(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    for address in ("/marks", "/reckon", "/photograph/drop", "/answer"):
        sent = {"where": "F1", "marks": "x" * (guard.MOST_FORM_BYTES + 1)}
        assert browser.post(address, sent).status == 413
    assert send(browser, b"x", shows="x" * (guard.MOST_FORM_BYTES + 1)).status == 413
    assert path.read_bytes() == before


def test_a_form_without_picture_words_or_wall_is_told_so(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    assert "No picture was chosen" in send(browser, b"", "").text
    assert "Nothing tells what it shows" in send(browser, photographed.jpeg(400, 300), shows=" ").text
    assert send(browser, photographed.jpeg(400, 300), where="").status == 400
    assert send(browser, photographed.jpeg(400, 300), where="front/repoint").status == 400
    assert send(browser, photographed.jpeg(400, 300), where="nowhere").status == 404
    assert path.read_bytes() == before
    assert not (path.parent / "photographs").exists()


ADDRESSES = ("/photograph/add", "/photograph/drop", "/reckon", "/marks")


def test_another_page_and_who_has_no_key_can_send_and_see_nothing(browser: Browser, path: Path) -> None:
    send(browser, photographed.jpeg(400, 300))
    before = path.read_bytes()
    stranger = Client(browser.app)
    for address in ("/photograph/F1", "/picture/F1", "/picture/F1/small"):
        assert stranger.get(address, base_url=HERE).status_code == 403
    for address in ADDRESSES:
        sent = {"where": "F1", "marks": marks(mark())}
        assert stranger.post(address, base_url=HERE, data=sent, headers={"Origin": HERE}).status_code == 403
        for headers in ({"Origin": "http://evil.example"}, {"Origin": "null"}, {"Sec-Fetch-Site": "cross-site"}, {}):
            assert browser.client.post(address, base_url=HERE, data=sent, headers=headers).status_code == 403
    assert path.read_bytes() == before


def test_what_is_not_there_is_told_so(browser: Browser) -> None:
    for address in ("/photograph/F1", "/picture/F1", "/picture/..%2fanswers.yaml", "/photograph/../answers.yaml"):
        assert browser.get(address).status == 404
    assert browser.post("/marks", {"where": "F1", "marks": marks()}).status == 404


def test_pictures_are_shown_upright_and_as_they_are_kept(browser: Browser, path: Path) -> None:
    send(browser, photographed.jpeg())
    whole = browser.get("/picture/F1").response
    assert whole.content_type == "image/jpeg"
    assert whole.get_data() == (path.parent / "photographs" / "front-1.jpg").read_bytes()
    with Image.open(io.BytesIO(browser.get("/picture/F1/small").response.get_data())) as small:
        assert small.size == (640, 480)


def test_a_picture_listed_by_hand_is_shown_without_what_its_file_tells(browser: Browser, path: Path) -> None:
    (path.parent / "own.jpg").write_bytes(photographed.jpeg(400, 300))
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace("project:\n", "project:\n  photographs: [{file: own.jpg, shows: A, element: rear}]\n"),
        encoding="utf-8",
    )
    with Image.open(io.BytesIO(browser.get("/picture/F1").response.get_data())) as image:
        assert image.size == (400, 300)
        assert not image.getexif()
    assert "own.jpg" not in browser.get("/at/front").text
    assert browser.get("/at/rear").find("//a[@href='/photograph/F1']")


def test_a_photograph_is_taken_out_and_undo_brings_it_back(browser: Browser, path: Path) -> None:
    before = path.read_bytes()
    page = send(browser, photographed.jpeg(400, 300))
    with_it = path.read_bytes()
    gone = browser.post("/photograph/drop", {"where": "F1", "seen": seen(page)})
    assert gone.address == "/at/front"
    assert path.read_bytes() == before
    browser.post("/undo", {})
    assert path.read_bytes() == with_it
    assert browser.post("/photograph/drop", {"where": "F1", "seen": "otherwise"}).status == 409
    assert path.read_bytes() == with_it


# --- marked -------------------------------------------------------------------------------------------------------


@pytest.fixture
def marked(path: Path) -> Browser:
    """A browser at a survey with one photograph."""
    kept = path.parent / "photographs" / "front-1.jpg"
    kept.parent.mkdir()
    kept.write_bytes(photographed.jpeg())
    listed = f"""\
  photographs:
  - id: F1
    file: photographs/front-1.jpg
    sha256: {hashlib.sha256(photographed.jpeg()).hexdigest()}
    shows: Front
    element: front
"""
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("project:\n", "project:\n" + listed), encoding="utf-8")
    return Browser(app_of(path))


def test_what_is_drawn_is_reckoned_as_the_papers_reckon_it(marked: Browser, path: Path) -> None:
    told = marks(mark(), reference=FRAME, checks=[CHECK])
    before = path.read_bytes()
    found = reckoned(marked, told)
    assert path.read_bytes() == before
    assert [area["letter"] for area in found["areas"]] == ["A"]
    save(marked, told)
    one = job(path.read_text(encoding="utf-8"), folder=path.parent).photographs[0]
    offered = one.letters[0].given.offered if one.letters[0].given else None
    assert offered is not None
    assert offered.area_m2 == pytest.approx(3.687595, abs=1e-4)  # CV22 of the notes on photographs
    assert found["areas"][0] == {"letter": "A", "area": "3.7 m²", "range": "3.2–4.2 m²", "estimate": True}
    assert "3.7 m²" in marked.get("/photograph/F1").text


@pytest.mark.parametrize(
    ("told", "word"),
    [
        (marks(mark(outline=[[0.1, 0.1], [0.4, 0.4], [0.4, 0.1], [0.1, 0.4]]), reference=FRAME), "crosses itself"),
        (marks(mark(), mark("B"), reference=FRAME), "lies over another area"),
        (marks(mark(without=[[[0.8, 0.1], [0.9, 0.1], [0.9, 0.2]]]), reference=FRAME), "reaches out of the area"),
        (marks(mark(), reference={**FRAME, "width_mm": "1490", "height_mm": "500"}), "too great a slant"),
        (marks(mark(), reference=FRAME), "No length checks F1"),
        (marks(mark(), reference=FRAME, checks=[{**CHECK, "length_mm": "2000"}]), "is off by"),
    ],
)
def test_a_refusal_shows_while_marking(marked: Browser, told: str, word: str) -> None:
    assert word in reckoned(marked, told)["html"]


def test_marks_without_a_frame_are_kept_and_give_no_figure(marked: Browser, path: Path) -> None:
    assert reckoned(marked, marks(mark()))["areas"] == [{"letter": "A", "area": "", "range": "", "estimate": False}]
    save(marked, marks(mark()))
    assert "- {letter: A, work: repoint, outline: [[0.05, 0.7], [0.42, 0.7]" in path.read_text(encoding="utf-8")
    assert "no figure" in marked.get("/photograph/F1").text


@pytest.mark.parametrize(
    ("told", "word"),
    [
        (marks(mark(outline=[[0.1, 0.1], [0.2, 0.2]])), "3 to 40 are wanted"),
        (marks(mark(outline=[[0.1, 0.1], [0.2, 0.2], [1.5, 0.2]])), "0 to 1"),
        (marks(mark(work="front/nothing")), "is no work of Front wall"),
        (marks(mark(letter="<b>")), "capital letters"),
        (marks(reference={**FRAME, "width_mm": "5"}), "10 to 200"),
        (marks(reference={**FRAME, "width_mm": "wide"}), "number"),
        (marks(reference={**FRAME, "width_mm": ""}), "lacks the width or the height"),
        (marks(reference={**FRAME, "corners": OUTLINE[:3]}), "4 are wanted"),
        (marks(checks=[{**CHECK, "length_mm": "long"}]), "number"),
        (marks(*[mark(f"A{chr(65 + n)}") for n in range(27)]), "26 at most"),
    ],
)
def test_marks_that_cannot_be_are_told_and_not_saved(marked: Browser, path: Path, told: str, word: str) -> None:
    before = path.read_bytes()
    page = save(marked, told)
    assert page.status == 422
    assert word in page.text
    assert path.read_bytes() == before
    assert json.loads(page.find("//div[@id='marking']/@data-marks")[0])["marks"] == json.loads(told)["marks"]
    assert any(word in line for line in reckoned(marked, told)["told"])


def like_marks(outline: str, letter: str = '"A"') -> str:
    """A mark whose outline or letter is spelt as it stands here."""
    one = f'{{"letter": {letter}, "work": "front/repoint", "outline": {outline}, "without": []}}'
    return f'{{"reference": null, "checks": [], "marks": [{one}]}}'


NO_MARKS = [
    "", "[]", "null", "nan", "{}", '{"reference": 1, "checks": [], "marks": []}',
    '{"reference": null, "checks": 7, "marks": []}', like_marks("[[NaN, 1]]"), like_marks('[["1", 1]]'),
    like_marks("[[1, 1]]", "1"), like_marks("[[1e999, 1]]"), like_marks("[[true, 1]]"), like_marks("[1, 2, 3]"),
    '{"reference": null, "checks": [{"points": [[0, 0]], "length_mm": "1"}], "marks": []}', "[" * 100_000,
]  # fmt: skip


@pytest.mark.parametrize("told", NO_MARKS)
def test_what_is_no_marks_at_all_is_refused(marked: Browser, path: Path, told: str) -> None:
    before = path.read_bytes()
    assert save(marked, told).status == 400
    assert marked.post("/reckon", {"where": "F1", "marks": told}).status == 400
    assert path.read_bytes() == before


def test_measures_are_typed_as_people_write_them(marked: Browser, path: Path) -> None:
    save(marked, marks(reference={**FRAME, "width_mm": "1.01 m", "height_mm": "149 cm", "what": "the  door"}))
    told = path.read_text(encoding="utf-8")
    assert "width_mm: 1010" in told
    assert "height_mm: 1490" in told
    assert "what: the door" in told


HAND = """\
  photographs:
  # the south side
  - file: own.jpg
    shows: Front   # from the lane
    element: front
    reference:
      what: the door
      corners: [[0.4312, 0.3907], [0.5621, 0.3884], [0.5637, 0.6461], [0.4325, 0.6492]]
      width_mm: 1010.0   # taped twice
      height_mm: 1490
      tape_error_mm: 4
    marks:
    # at the foot
    - {work: repoint, outline: [[0.05, 0.70], [0.42, 0.70], [0.42, 0.93], [0.05, 0.93]]}
    # under the sill
    - {work: repoint, outline: [[0.60, 0.70], [0.90, 0.70], [0.90, 0.93], [0.60, 0.93]], counted: no}   # on F2 too
    joints:
    - {from: [0.30, 0.50], to: [0.30, 0.63]}
"""
RIGHT = photographed.RIGHT


@pytest.fixture
def by_hand(path: Path) -> Browser:
    """A browser at a survey whose photograph was listed and marked by hand."""
    (path.parent / "own.jpg").write_bytes(photographed.jpeg(400, 300))
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("project:\n", "project:\n" + HAND), encoding="utf-8")
    return Browser(app_of(path))


def shown(browser: Browser) -> dict[str, Any]:
    """The marks as the page of the first photograph holds them."""
    found: dict[str, Any] = json.loads(browser.get("/photograph/F1").find("//div[@id='marking']/@data-marks")[0])
    return found


def test_marks_that_come_back_as_they_went_change_nothing(by_hand: Browser, path: Path) -> None:
    before = path.read_bytes()
    assert save(by_hand, json.dumps(shown(by_hand))).status == 200
    assert path.read_bytes() == before


def test_one_point_moved_changes_its_outline_and_no_other_byte(by_hand: Browser, path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    found = shown(by_hand)
    found["marks"][1]["outline"][0] = [0.61, 0.71]
    save(by_hand, json.dumps(found))
    (old, new) = changed_lines(before, path.read_text(encoding="utf-8"))
    assert new == "+" + old[1:].replace("[0.60, 0.70]", "[0.61, 0.71]")


def test_a_size_retyped_and_an_area_added_leave_comments_and_what_no_page_shows(by_hand: Browser, path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    found = shown(by_hand)
    found["reference"]["width_mm"] = "1020"
    found["marks"].append(mark("C", [[0.1, 0.1], [0.2, 0.1], [0.2, 0.2]]))
    save(by_hand, json.dumps(found))
    assert changed_lines(before, path.read_text(encoding="utf-8")) == [
        "-      width_mm: 1010.0   # taped twice",
        "+      width_mm: 1020   # taped twice",
        "+    - {letter: C, work: repoint, outline: [[0.1, 0.1], [0.2, 0.1], [0.2, 0.2]]}",
    ]


def test_an_area_taken_out_leaves_the_letter_of_the_next(by_hand: Browser, path: Path) -> None:
    found = shown(by_hand)
    del found["marks"][0]
    save(by_hand, json.dumps(found))
    told = path.read_text(encoding="utf-8")
    assert "letter: B" in told
    assert "counted: no" in told
    assert "# on F2 too" in told
    assert [area.letter for area in by_hand.app.desk.job.photographs[0].picture.asked.areas] == ["B"]


def test_an_area_is_counted_elsewhere_and_here_again(by_hand: Browser, path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    found = shown(by_hand)
    assert [one["counted"] for one in found["marks"]] == [True, False]
    found["marks"][0]["counted"], found["marks"][1]["counted"] = False, True
    save(by_hand, json.dumps(found))
    told = [line for line in changed_lines(before, path.read_text(encoding="utf-8")) if line.startswith("+")]
    assert ["counted: no" in line for line in told] == [True, False]
    assert "# on F2 too" in told[1]


def test_a_fresh_frame_keeps_nothing_of_the_one_before(by_hand: Browser, path: Path) -> None:
    found = shown(by_hand)
    found["reference"] = {**FRAME, "fresh": True}
    save(by_hand, json.dumps(found))
    told = path.read_text(encoding="utf-8")
    assert "tape_error_mm" not in told
    assert "the door" not in told


def test_a_reference_by_taped_points_stays_as_it_is(by_hand: Browser, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    points = "".join(
        f"      - {{at: [{x}, {y}], x_mm: {x * 5000:.0f}, y_mm: {y * 4000:.0f}}}\n"
        for x, y in [(0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9), (0.5, 0.4)]
    )
    start, end = text.index("      what: the door"), text.index("    marks:\n")
    path.write_text(text[:start] + "      points:\n" + points + text[end:], encoding="utf-8")
    before = path.read_bytes()
    found = shown(by_hand)
    assert found["reference"] == "kept"
    assert save(by_hand, json.dumps(found)).status == 200
    assert path.read_bytes() == before
    assert reckoned(by_hand, json.dumps(found))["areas"][0]["area"]


def test_marks_changed_meanwhile_are_both_shown_and_neither_chosen(by_hand: Browser, path: Path) -> None:
    page, found = by_hand.get("/photograph/F1"), shown(by_hand)
    path.write_text(path.read_text(encoding="utf-8").replace("[0.42, 0.93]", "[0.42, 0.92]"), encoding="utf-8")
    before = path.read_bytes()
    found["marks"].append(mark("C", [[0.1, 0.1], [0.2, 0.1], [0.2, 0.2]]))
    two = save(by_hand, json.dumps(found), page)
    assert two.status == 409
    assert "Yours: 3 areas" in two.text
    assert "Those in the file: 2 areas" in two.text
    assert path.read_bytes() == before
    fields = dict(two.form("/marks").form_values())
    assert by_hand.post("/marks", fields).status == 200
    assert "letter: C" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize("deed", ["/photograph/drop", "/marks"])
def test_a_photograph_that_moves_in_the_file_while_it_is_saved_is_still_the_one_that_is_meant(
    browser: Browser, path: Path, monkeypatch: pytest.MonkeyPatch, deed: str
) -> None:
    send(browser, photographed.jpeg(400, 300))
    page, save_ = browser.get("/photograph/F1"), browser.app.desk.save
    other = "{id: N, file: photographs/front-1.jpg, shows: Another, element: front}"

    def after_another(*given: Any) -> None:
        monkeypatch.undo()
        text = path.read_text(encoding="utf-8")
        assert text.count("- id: F1") == 1
        path.write_text(text.replace("- id: F1", f"- {other}\n  - id: F1"), encoding="utf-8")
        save_(*given)

    monkeypatch.setattr(browser.app.desk, "save", after_another)
    told = marks(mark())
    answer = browser.post(deed, {"where": "F1", "name": "marks", "seen": seen(page), "marks": told})
    assert answer.status == 200
    first, *rest = read_bytes(path.read_bytes(), "", typed=False).data["project"]["photographs"]
    assert first == read_bytes(f"- {other}".encode(), "", typed=False).data[0]
    assert [one["id"] for one in rest] == ([] if deed == "/photograph/drop" else ["F1"])
    assert all(len(one["marks"]) == 1 for one in rest)


def test_the_same_marks_sent_again_are_taken_as_saved(by_hand: Browser, path: Path) -> None:
    """A reply that was lost lets a page send what has arrived."""
    page, found = by_hand.get("/photograph/F1"), shown(by_hand)
    found["marks"].append(mark("C", [[0.1, 0.1], [0.2, 0.1], [0.2, 0.2]]))
    for _ in range(2):
        assert save(by_hand, json.dumps(found), page).status == 200
    assert path.read_text(encoding="utf-8").count("letter: C") == 1


def test_a_script_is_answered_with_the_page_itself(by_hand: Browser) -> None:
    found = shown(by_hand)
    found["marks"][0]["outline"][0] = [0.06, 0.7]
    page = save(by_hand, json.dumps(found), None, **{"X-Survey-Script": "yes"})
    assert page.status == 200
    assert seen(page) == seen(by_hand.get("/photograph/F1"))


def test_a_mark_with_a_mistake_in_the_file_is_mended_there(by_hand: Browser, path: Path) -> None:
    path.write_text(path.read_text(encoding="utf-8").replace("{work: repoint", "{work: nothing", 1), encoding="utf-8")
    page = by_hand.get("/photograph/F1")
    assert "Mend it in the answers file" in page.text
    assert page.find("//form[@id='marks']") == []
    before = path.read_bytes()
    assert by_hand.post("/marks", {"where": "F1", "seen": "x", "marks": marks(mark())}).status == 409
    assert path.read_bytes() == before


# --- taken as a quantity ------------------------------------------------------------------------------------------


def test_an_area_is_taken_as_the_quantity_of_its_work_and_given_back(marked: Browser, path: Path) -> None:
    outlines = [mark("A"), mark("B", RIGHT)]
    page = save(marked, marks(*outlines, reference=FRAME, checks=[CHECK]))
    assert "6.8 m²" in page.text
    assert "A and B together: surer than each by itself" in page.text
    for value, word in (("photographs", "This is the quantity of the work"), ("answers", "Take 6.8 m² for repointing")):
        page = marked.get("/photograph/F1")
        fields = next(dict(form.form_values()) for form in page.tree.forms if form.get("action") == "/answer")
        assert fields["answer"] == value
        page = marked.post("/answer", {**fields, "do": "next"})
        assert page.address == "/photograph/F1"
        assert word in page.text
        assert f"treated_area_from: {value}" in path.read_text(encoding="utf-8")


def test_areas_are_held_against_what_was_answered(marked: Browser, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("face_area_m2: ", "face_area_m2: 2 # "), encoding="utf-8")
    assert "more than the" in reckoned(marked, marks(mark(), reference=FRAME, checks=[CHECK]))["html"]


def test_a_photograph_whose_file_is_gone_says_so(marked: Browser, path: Path) -> None:
    (path.parent / "photographs" / "front-1.jpg").unlink()
    browser = Browser(app_of(path))
    assert "does not lie beside the answers" in browser.get("/photograph/F1").text
    assert browser.get("/picture/F1").status == 404
    assert "not read" in browser.get("/at/front").text


def test_another_picture_under_the_same_name_holds_no_marks(marked: Browser, path: Path) -> None:
    save(marked, marks(mark()))
    (path.parent / "photographs" / "front-1.jpg").write_bytes(photographed.jpeg(800, 600))
    page = Browser(app_of(path)).get("/photograph/F1")
    assert "is not the picture that its marks were made on" in page.text
    assert page.find("//form[@id='marks']") == []


def test_pictures_are_read_once_while_answers_change(
    marked: Browser, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from generator.drawing import photograph

    before = marked.app.desk.job.photographs[0].picture.read
    monkeypatch.setattr(photograph, "read_photograph", None)
    for value in ("severe", "sheltered", "moderate"):
        marked.answer("exposure", "front", answer=value)
    assert marked.app.desk.job.photographs[0].picture.read is before
