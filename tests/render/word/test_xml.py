"""Raw XML: text that cannot break it, names within the format's limits."""

from __future__ import annotations

import re

from docx_reading import words_of
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from generator.render.word import xml

ANCHORS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=80)
LIBRARY_IDS = st.from_regex(r"[a-z0-9]{1,6}([-.:][a-z0-9]{1,6}){0,3}", fullmatch=True)


def parsed(content: str) -> etree._Element:
    return etree.fromstring(f"<root {xml.NAMESPACES}>{content}</root>")


@given(st.text(st.characters()))
def test_any_text_makes_a_run_that_parses(text: str) -> None:
    parsed(xml.run(text))


@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cn"])))
def test_text_comes_back_as_it_was_spelt(text: str) -> None:
    assert words_of(parsed(xml.run(text))) == text


def test_what_xml_cannot_hold_is_replaced_where_it_shows() -> None:
    assert xml.fit_text("bed\x07 joint\ud800\x00") == "bed� joint��"


def test_line_ends_and_tabs_become_breaks_and_tabs() -> None:
    tags = [etree.QName(node).localname for node in parsed(xml.run("a\nb\r\nc\td"))[0]]
    assert tags == ["t", "br", "t", "br", "t", "tab", "t"]


def test_blanks_at_the_ends_of_a_run_are_kept() -> None:
    text = parsed(xml.run(" to "))[0][0]
    assert text.text == " to "
    assert text.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"


@given(ANCHORS)
def test_bookmark_names_are_what_word_takes(anchor: str) -> None:
    assert re.fullmatch("[A-Za-z_][A-Za-z0-9_]{0,39}", xml.bookmark_name(anchor))


@given(ANCHORS, ANCHORS)
def test_two_anchors_never_share_a_bookmark(one: str, other: str) -> None:
    # Word takes names that differ in case alone for one
    same = xml.bookmark_name(one).lower() == xml.bookmark_name(other).lower()
    assert same == (one == other)


@given(LIBRARY_IDS, LIBRARY_IDS)
def test_anchors_of_the_library_never_share_a_bookmark(one: str, other: str) -> None:
    assert (xml.bookmark_name(one) == xml.bookmark_name(other)) == (one == other)


def test_a_plain_anchor_can_be_read_in_its_bookmark() -> None:
    assert xml.bookmark_name("clause:raking-out.depth") == "_Ref_clause___raking_out__depth"


def test_long_anchors_that_begin_alike_keep_apart() -> None:
    one, other = (xml.bookmark_name("a" * 60 + end) for end in "xy")
    assert len(one) == len(other) == 40
    assert one != other


def test_the_tag_of_a_clause_says_its_id_within_64_characters() -> None:
    assert xml.clause_tag("sand.grading") == "clause:sand.grading"
    one, other = (xml.clause_tag("s" * 70 + end) for end in "xy")
    assert len(one) == len(other) == 64
    assert one != other


def test_alternative_text_cannot_leave_its_attribute() -> None:
    drawing = parsed(xml.picture(1, "rId1", 'a "square" joint & <more>', 10, 5))
    told = drawing.find(".//{*}docPr")
    assert told is not None
    assert told.get("descr") == 'a "square" joint & <more>'


def test_a_picture_is_as_large_as_said() -> None:
    extent = parsed(xml.picture(1, "rId1", "a joint", 10, 5)).find(".//{*}extent")
    assert extent is not None
    assert (extent.get("cx"), extent.get("cy")) == ("360000", "180000")  # 36,000 EMU a millimetre: ECMA-376
