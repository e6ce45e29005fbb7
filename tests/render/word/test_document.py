"""The specification as a package: same bytes, sound references, properties, headers, comments, validity."""

from __future__ import annotations

import hashlib
import re
import subprocess
import sys
from collections import Counter
from itertools import pairwise
from pathlib import Path

import pytest
from docx_reading import NAMES, W, attribute, outline, own, part, parts, text_of
from render import samples

from generator.document.model import ClauseBlock, Heading
from generator.render.word.document import specification
from generator.render.word.type_styles import type_styles
from generator.render.word.xml import TWIPS_PER_MM
from generator.values import replace

ROOT = Path(__file__).resolve().parents[3]
CORE = {"dc": "http://purl.org/dc/elements/1.1/", "dcterms": "http://purl.org/dc/terms/",
        "cp": "http://schemas.openxmlformats.org/package/2006/metadata/core-properties"}  # fmt: skip


@pytest.fixture(scope="module")
def tender() -> bytes:
    return specification(samples.document())


@pytest.fixture(scope="module")
def draft() -> bytes:
    return specification(samples.draft())


def headers(data: bytes) -> list[str]:
    """The words of every section's header, in order."""
    relations = {node.get("Id"): node.get("Target") for node in part(data, "word/_rels/document.xml.rels")}
    ids = [
        node.get("{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id")
        for node in part(data).iter(f"{{{W}}}headerReference")
    ]
    return ["\n".join(map(text_of, part(data, f"word/{relations[name]}").findall("w:p", NAMES))) for name in ids]


def test_the_same_document_gives_the_same_bytes(tender: bytes) -> None:
    assert specification(samples.document()) == tender


@pytest.mark.parametrize("seed", ["1", "2"])
def test_hash_seed_time_zone_and_moment_leave_no_trace(tender: bytes, seed: str) -> None:
    script = (
        "import hashlib; from render import samples; from generator.render.word.document import specification;"
        "print(hashlib.sha256(specification(samples.draft())).hexdigest())"
    )
    environment = {"PYTHONHASHSEED": seed, "TZ": f"UTC{seed}", "PYTHONPATH": f"{ROOT}:{ROOT / 'tests'}"}
    run = subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == hashlib.sha256(specification(samples.draft())).hexdigest()


def test_every_field_and_link_leads_to_a_bookmark(tender: bytes) -> None:
    body = part(tender)
    bookmarks = {node.get(f"{{{W}}}name") for node in body.iter(f"{{{W}}}bookmarkStart")}
    fields = [own(node, "instr") for node in body.iter(f"{{{W}}}fldSimple")]
    references = [match.group(1) for text in fields if (match := re.match(r" REF (\S+)", text))]
    links = [node.get(f"{{{W}}}anchor") for node in body.iter(f"{{{W}}}hyperlink")]
    assert len(references) > 30
    assert len(links) > 20
    assert set(references) | set(links) <= bookmarks


def test_a_reference_shows_its_number_until_it_is_refreshed(tender: bytes) -> None:
    shown = {own(node, "instr").strip(): text_of(node) for node in part(tender).iter(f"{{{W}}}fldSimple")}
    assert shown[r"REF _Ref_clause_2_2a \r \h"] == "2.2A"
    assert shown[r"REF _Ref_table_joints_nr \h"] == "1"


def test_no_two_things_share_a_number_or_a_name(draft: bytes) -> None:
    body = part(draft)
    for tag in ("bookmarkStart", "sdtPr/{*}id"):
        numbers = Counter(node.get(f"{{{W}}}id") or node.get(f"{{{W}}}val") for node in body.iterfind(f".//{{*}}{tag}"))
        assert max(numbers.values()) == 1
    names = Counter(own(node, "name").lower() for node in body.iter(f"{{{W}}}bookmarkStart"))
    assert max(names.values()) == 1
    starts = sorted(own(node, "id") for node in body.iter(f"{{{W}}}bookmarkStart"))
    assert starts == sorted(own(node, "id") for node in body.iter(f"{{{W}}}bookmarkEnd"))


def test_every_style_and_list_used_is_there(draft: bytes) -> None:
    styles = {node.get(f"{{{W}}}styleId") for node in part(draft, "word/styles.xml").iter(f"{{{W}}}style")}
    lists = {node.get(f"{{{W}}}numId") for node in part(draft, "word/numbering.xml").iter(f"{{{W}}}num")}
    for name in [name for name in parts(draft) if re.match(r"word/(document|header|footer|comments)", name)]:
        root = part(draft, name)
        used = {
            node.get(f"{{{W}}}val") for tag in ("pStyle", "rStyle", "tblStyle") for node in root.iter(f"{{{W}}}{tag}")
        }
        assert used <= styles
        assert {node.get(f"{{{W}}}val") for node in root.iter(f"{{{W}}}numId")} <= lists


def test_every_table_that_has_titles_repeats_them(tender: bytes) -> None:
    tables = list(part(tender).iter(f"{{{W}}}tbl"))
    assert len(tables) == 2
    assert all(table.find("w:tr/w:trPr/w:tblHeader", NAMES) is not None for table in tables)


def test_properties_come_from_the_paper_and_never_the_clock(tender: bytes) -> None:
    core = part(tender, "docProps/core.xml")
    expected = {
        "dc:title": samples.IDENTITY.title,
        "dc:subject": samples.IDENTITY.subject,
        "dc:creator": samples.IDENTITY.author,
        "dc:language": "en-GB",
        "cp:keywords": "GB-014, Revision B",
        "dcterms:created": "2027-03-01T00:00:00Z",
        "dcterms:modified": "2027-03-01T00:00:00Z",
    }
    assert {path: core.findtext(path, namespaces=CORE) for path in expected} == expected


def test_the_language_of_the_paper_is_its_default(tender: bytes) -> None:
    welsh = specification(samples.document(replace(samples.IDENTITY, language="cy-GB")))
    for language, data in (("en-GB", tender), ("cy-GB", welsh)):
        assert attribute(part(data, "word/styles.xml"), "w:docDefaults//w:lang") == language


def test_word_opens_it_in_its_present_mode_and_asks_nothing(tender: bytes) -> None:
    settings = part(tender, "word/settings.xml")
    assert attribute(settings, "w:compat/w:compatSetting") == "15"
    assert settings.find("w:updateFields", NAMES) is None


def test_pages_are_a4_upright_or_turned(tender: bytes) -> None:
    sizes = [(node.get(f"{{{W}}}w"), node.get(f"{{{W}}}h")) for node in part(tender).iter(f"{{{W}}}pgSz")]
    assert sizes == [("11906", "16838"), ("11906", "16838"), ("16838", "11906")]  # ISO 216 A4 in twips


def test_the_cover_has_no_header_and_the_sections_have_theirs(tender: bytes) -> None:
    assert headers(tender) == ["", "GB-014 · Revision B Specification", "GB-014 · Revision B Schedule"]


def test_every_page_of_a_draft_says_so(draft: bytes) -> None:
    mark = samples.draft().identity.draft
    assert [header.split("\n")[0] for header in headers(draft)] == [mark] * 3


def test_the_two_lines_over_a_draft_stand_off_its_first_line_and_move_nothing_below(
    tender: bytes, draft: bytes
) -> None:
    styles = type_styles(parts(draft)["word/styles.xml"].decode()).paragraphs
    lines = sum(styles[name].line_height(styles[name].size) for name in ("DraftMark", "Header"))
    of_both = [list(part(data).iter(f"{{{W}}}pgMar"))[1:] for data in (tender, draft)]  # a cover has the mark alone
    for of_tender, of_draft in zip(*of_both, strict=True):
        top, header = (int(own(of_draft, name)) for name in ("top", "header"))
        rule = 4 * 20 + 10
        assert header >= 4.5 * TWIPS_PER_MM - 1  # nearer to the paper's edge printers leave it white
        assert top - header - lines - rule >= 2 * TWIPS_PER_MM
        for side in ("top", "bottom"):
            assert own(of_draft, side) == own(of_tender, side)


def test_every_page_says_its_number_in_the_papers_words(tender: bytes) -> None:
    welsh = specification(samples.document(replace(samples.IDENTITY, page_words=("Tudalen", "o"))))
    for data, words in ((tender, "Page 1 of 1"), (welsh, "Tudalen 1 o 1")):
        footers = [text_of(part(data, name)) for name in parts(data) if name.startswith("word/footer")]
        assert len(footers) == 2  # one an orientation
        assert all(footer == f"{samples.IDENTITY.title} {words}" for footer in footers)


def test_advice_is_a_comment_on_the_title_in_a_draft(draft: bytes) -> None:
    (comment,) = part(draft, "word/comments.xml")
    assert [text_of(paragraph) for paragraph in comment.findall("w:p", NAMES)] == [
        "Ask the supplier for slaking dates before the order.", "The second line of the note.",
    ]  # fmt: skip
    assert comment.get(f"{{{W}}}author") == "Specifier's notes"
    assert comment.get(f"{{{W}}}date") == "2027-03-01T00:00:00Z"
    body = part(draft)
    (start,) = body.iter(f"{{{W}}}commentRangeStart")
    assert start.get(f"{{{W}}}id") == comment.get(f"{{{W}}}id")
    (titled,) = start.iterancestors(f"{{{W}}}p")
    assert text_of(titled) == "Lime putty"


def test_a_tender_issue_holds_no_advice_at_all(tender: bytes) -> None:
    assert b"slaking dates before the order" not in b"".join(parts(tender).values())
    assert "word/comments.xml" not in parts(tender)


def test_headings_never_skip_a_level(tender: bytes) -> None:
    styles = part(tender, "word/styles.xml")
    levels = {node.get(f"{{{W}}}styleId"): attribute(node, "w:pPr/w:outlineLvl") for node in styles}
    seen = [int(level) for node in part(tender).iter(f"{{{W}}}pStyle") if (level := levels[node.get(f"{{{W}}}val")])]
    assert seen[0] == 0
    assert all(after <= before + 1 for before, after in pairwise(seen))


def test_every_control_has_a_title_and_every_clause_one(tender: bytes) -> None:
    controls = list(part(tender).iter(f"{{{W}}}sdtPr"))
    clauses = [block for block in samples.document().blocks() if isinstance(block, ClauseBlock)]
    assert len(controls) == len(clauses) + 1
    assert all(attribute(control, "w:alias") for control in controls)


def test_unusual_characters_in_titles_do_no_harm() -> None:
    identity = replace(samples.IDENTITY, title='A & B <"x"> \x07' + "é" * 6000, revision="", reference="<>&")
    data = specification(samples.document(identity))
    assert len(part(data, "docProps/core.xml").findtext("dc:title", "", namespaces=CORE)) == 255
    assert headers(data)[1] == "<>& Specification"


def test_a_date_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="isoformat"):
        specification(samples.document(replace(samples.IDENTITY, date="1 March 2027")))


def test_a_paper_is_written_without_word_libraries() -> None:
    script = (
        "import sys, generator.render.word.document, generator.render.word.mix_page;"
        "from generator.document.model import Identity; from generator.render.word.base import base_document, saved;"
        "from generator.render.word.look import plain_look;"
        "identity = Identity('A', '', '', '', '2027-03-01', '', 'en-GB', page_words=('Page', 'of'));"
        "saved(base_document(identity, plain_look('a4')), [b'<w:sectPr/>']);"
        "print('docx' in sys.modules, 'lxml' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "False"]


def test_every_numbered_heading_of_the_sample_is_read_back_with_its_number(tender: bytes) -> None:
    expected = [
        block.number
        for block in samples.document().blocks()
        if isinstance(block, ClauseBlock | Heading) and block.number
    ]
    read = [
        re.search(r'[ "]([0-9]\S*)', line).group(1)  # type: ignore[union-attr]
        for line in outline(tender) if line.startswith(("Heading1", "Clause"))
    ]  # fmt: skip
    assert read == expected


@pytest.mark.parametrize("kind", ["tender", "draft", "pages"])
def test_validators_find_nothing(kind: str, tmp_path: Path, tender: bytes, draft: bytes) -> None:
    openxml_audit = pytest.importorskip("openxml_audit")
    pages = {f"part-{number}": number for number in range(1, 7)}
    data = {"tender": tender, "draft": draft, "pages": specification(samples.document(), pages)}[kind]
    path = tmp_path / "paper.docx"
    path.write_bytes(data)
    assert [str(error) for error in openxml_audit.validator.OpenXmlValidator().validate(path).errors] == []


@pytest.mark.parametrize("kind", ["tender", "draft"])
def test_the_package_is_whole(kind: str, tmp_path: Path, tender: bytes, draft: bytes) -> None:
    pytest.importorskip("ooxml_integrity")
    path = tmp_path / "paper.docx"
    path.write_bytes({"tender": tender, "draft": draft}[kind])
    run = subprocess.run(
        [sys.executable, "-m", "ooxml_integrity", "check", str(path)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    assert "0 error(s), 0 warning(s)" in run.stdout
