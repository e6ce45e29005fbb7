# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Reading YAML strictly: what is taken as spelt, what is refused, and where."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
import yaml
from helpers import build_tree, read, told
from jobs import EXAMPLES

from generator.files import source as source_module
from generator.files.errors import InputInvalid, Mark
from generator.files.limits import MOST_YAML_BYTES
from generator.files.source import ListSpan, MappingSpan, Span, read_bytes, read_file, require, spans


class TestValues:
    """Typed reading, for library files: nothing is guessed beyond true, false, blank and plain numbers."""

    @pytest.mark.parametrize(
        ("spelt", "value"),
        [
            ("12", 12),
            ("-3", -3),
            ("0.50", Decimal("0.50")),
            ("true", True),
            ("false", False),
            ("null", None),
            ("~", None),
            ("", None),
            ("1:2:4", "1:2:4"),
            ("12:30", "12:30"),
            ("no", "no"),
            ("on", "on"),
            ("Yes", "Yes"),
            ("010", "010"),
            ("1_000", "1_000"),
            ("0x1F", "0x1F"),
            ("1e400", "1e400"),
            (".inf", ".inf"),
            (".nan", ".nan"),
            ("2027-03-01", "2027-03-01"),
            ("'12'", "12"),
            ('"true"', "true"),
            ("8 - 12", "8 - 12"),
            ("not known", "not known"),
        ],
    )
    def test_a_scalar_is_what_a_person_would_take_it_for(self, spelt: str, value: object) -> None:
        source = read(f"key: {spelt}", typed=True)
        assert source.problems == []
        assert source.data == {"key": value}
        assert type(source.data["key"]) is type(value)

    def test_the_last_nought_of_a_decimal_is_kept(self) -> None:
        assert str(read("ratio: 0.50", typed=True).data["ratio"]) == "0.50"

    @pytest.mark.parametrize("digits", ["9" * 31, "9" * 5_000, "0." + "1" * 5_000])
    def test_a_number_of_countless_digits_is_refused(self, digits: str) -> None:
        source = read(f"key: {digits}", typed=True)
        assert told(source.problems) == [f"answers.yaml:1:6: has a number of {len(digits):,} digits: write at most 30"]


class TestUntyped:
    """Untyped reading, for answers: every scalar is the text as spelt."""

    @pytest.mark.parametrize("spelt", ["12", "0.50", "no", "true", "1:2:4", "010", "2027-03-01", "1e400"])
    def test_a_scalar_is_its_text(self, spelt: str) -> None:
        assert read(f"key: {spelt}").data == {"key": spelt}

    @pytest.mark.parametrize("spelt", ["", "~", "null"])
    def test_a_blank_is_none(self, spelt: str) -> None:
        assert read(f"key: {spelt}").data == {"key": None}

    def test_a_quoted_null_is_a_text(self) -> None:
        assert read("key: 'null'").data == {"key": "null"}

    def test_keys_that_are_no_words_are_texts(self) -> None:
        assert read("5: a\ntrue: b\n1.50: c").data == {"5": "a", "true": "b", "1.50": "c"}


class TestMarks:
    """The mark of a value is where the value begins; of a key, where the key begins."""

    TEXT = "project:\n  title:   Old barn\nelements:\n- {id: north, name: }\n"

    @pytest.mark.parametrize(
        ("path", "line", "column"),
        [
            ((), 1, 1),
            (("project",), 2, 3),
            (("project", "title"), 2, 12),
            (("elements",), 4, 1),
            (("elements", 0), 4, 3),
            (("elements", 0, "id"), 4, 8),
            (("elements", 0, "name"), 4, 15),
        ],
    )
    def test_value(self, path: tuple[str | int, ...], line: int, column: int) -> None:
        assert read(self.TEXT).mark(path) == Mark("answers.yaml", line, column)

    def test_key(self) -> None:
        assert read(self.TEXT).key_mark(("project", "title")) == Mark("answers.yaml", 2, 3)

    def test_what_is_not_there_is_marked_at_the_nearest_thing_above(self) -> None:
        assert read(self.TEXT).mark(("elements", 0, "works", 3, "id")) == Mark("answers.yaml", 4, 3)

    def test_columns_count_characters_and_not_bytes(self) -> None:
        assert read("'größe 🧱': x").mark(("größe 🧱",)) == Mark("answers.yaml", 1, 12)

    def test_a_byte_order_mark_does_not_move_columns(self) -> None:
        source = read_bytes(b"\xef\xbb\xbfkey: value", "answers.yaml", typed=False)
        assert source.data == {"key": "value"}
        assert source.mark(("key",)) == Mark("answers.yaml", 1, 6)


class TestRefused:
    """What is not plain data, each with its place and what to do."""

    @pytest.mark.parametrize(
        ("text", "problem"),
        [
            ("a: 1\nb: 2\na: 3", "3:1: gives 'a' a second time (first on line 1): keep one of the two"),
            ("a: !!python/object:os.system x", "1:4: has a tag (tag:yaml.org,2002:python/object:os.system): remove the tag; only plain values are read"),
            ("a: !secret x", "1:4: has a tag (!secret): remove the tag; only plain values are read"),
            ("a: !!str 5", "1:4: has a tag (tag:yaml.org,2002:str): remove the tag; only plain values are read"),
            ("a: &x 1", "1:4: sets an anchor (&x): write the value out; anchors are not used here"),
            ("<<: {a: 1}", "1:1: merges other keys in with '<<': write the keys out"),
            ("a: {{ name }}", "1:5: has a list or mapping as a key: use a plain word as the key; quote a text that starts with '{' or '['"),
            ("? [a, b]\n: 1", "1:3: has a list or mapping as a key: use a plain word as the key; quote a text that starts with '{' or '['"),
            ("a: 1\n---\nb: 2", "2:1: starts a second document: keep one document in a file; remove the '---'"),
            ("---\n---\na: 1", "2:1: starts a second document: keep one document in a file; remove the '---'"),
            ("a: b: c", "1:5: has a ': ' where none can stand: put the whole text in quotes, or mend the indentation"),
            ("a:\n\tb: c", "2:1: has a tab where only spaces can stand: indent with spaces"),
            ("a: 'it is", "1:4: opens a quote that is never closed: close the quote"),
            ("a: [1, 2\nb: 3", "1:4: opens a [ … ] that is not closed, or lacks a comma: close it, or put the whole text in quotes"),
            ("a: {b: 2", "1:4: opens a { … } that is not closed, or lacks a comma: close it, or put the whole text in quotes"),
            ("a: @home", "1:4: has a text that starts with '@': put the whole text in quotes"),
            ("a: 1\nlost words\nb: 2", "2:1: is neither 'key: value' nor a list item: add the ': ', or quote the text it is part of"),
            ("a:\n  - b\n c: d", "3:2: breaks the layout of its neighbours: line it up with its neighbours, with spaces only, or put the whole text in quotes"),
            (r'a: "C:\dir"', "1:7: has a backslash that means nothing: double the backslash, or use single quotes"),
            (r'a: "\ud800"', "1:7: has a backslash that means nothing: double the backslash, or use single quotes"),
            (r'a: "bell \a"', "1:4: holds a control character (U+0007) that papers cannot show: delete it"),
            (r'"\0": 1', "1:1: holds a control character (U+0000) that papers cannot show: delete it"),
            ("ab: x\x07", "1:6: holds a control character (U+0007) that papers cannot show: delete it"),
            ("a: x\u2028y", "1:5: holds a control character (U+2028) that papers cannot show: delete it"),
            ("a: x\ufeffy", "1:5: holds a control character (U+FEFF) that papers cannot show: delete it"),
        ],
    )  # fmt: skip
    def test_with_place_and_what_to_do(self, text: str, problem: str) -> None:
        assert told(read(text).problems) == [f"answers.yaml:{problem}"]

    def test_a_laughing_file_is_refused_at_once_and_never_blown_up(self) -> None:
        lines = ["a0: &a0 [lol, lol, lol, lol, lol, lol, lol, lol]"]
        lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 8)}]" for n in range(1, 30)]
        source = read("\n".join(lines))
        assert source.problems.total == 30 + 29 * 8
        assert "refers to an anchor (*a0)" in str(source.problems[2])

    @pytest.mark.parametrize("text", ["[" * 100_000, "a: " + "{b: " * 5_000, "- " * 5_000])
    def test_deep_nesting_ends_the_reading(self, text: str) -> None:
        source = read(text)
        assert [problem.what for problem in source.problems] == ["is nested too deeply to be answers or clauses"]
        assert source.broken

    def test_every_mistake_before_the_layout_breaks_is_told(self) -> None:
        source = read("a: 1\na: 2\nb: &x 3\nc: [")
        assert [problem.mark.line for problem in source.problems] == [2, 3, 4]

    def test_a_message_stays_on_one_line_whatever_the_key(self) -> None:
        source = read('"two\\nlines": 1\n"two\\nlines": 2')
        assert told(source.problems) == [
            "answers.yaml:2:1: gives 'two lines' a second time (first on line 1): keep one of the two"
        ]

    def test_a_very_long_key_is_cut_in_the_message(self) -> None:
        key = "k" * 900
        source = read(f"{key}: 1\n{key}: 2")
        assert len(str(source.problems[0])) < 150


def places(span: Span | None, path: tuple[str | int, ...] = ()) -> dict[tuple[str | int, ...], Span]:
    """The spans of all values in a tree, by path."""
    inner: list[tuple[str | int, Span]] = []
    if isinstance(span, MappingSpan):
        inner = [(name, value) for name, (_, value) in span.pairs.items()]
    if isinstance(span, ListSpan):
        inner = list(enumerate(span.items))
    found = {path: span} if span else {}
    for step, value in inner:
        found |= places(value, (*path, step))
    return found


# Texts of which the parser's own marks tell another end than a reader would, with what each value spans.
TRICKY = [
    ("", {}),
    ("# only a comment\n", {}),
    ("a:  one two  # beside\nb: 2\n", {("a",): "one two", ("b",): "2"}),
    ("a: one\n  two\n\n  three  # beside\n", {("a",): "one\n  two\n\n  three"}),
    ("a: |\n  one\n  two \n\n\n# next\nb: 2\n", {("a",): "|\n  one\n  two", ("b",): "2"}),
    ("a: |+ # kept\n  one\n\n\n", {("a",): "|+ # kept\n  one"}),
    ("a: >2-\n    one\n\n   two\n # next\n", {("a",): ">2-\n    one\n\n   two"}),
    ("a: |\n  # text\n # next\nb: >\n", {("a",): "|\n  # text", ("b",): ">"}),
    ("a: |\n  one", {("a",): "|\n  one"}),
    ("a:\nb: # none\nc: ~\nd: 'x:\n  y' # z\n", {("a",): "", ("b",): "", ("c",): "~", ("d",): "'x:\n  y'"}),
    ("{a: , b, 'c:' : {}, d: [ ] }", {("a",): "", ("b",): "", ("c:",): "{}", ("d",): "[ ]"}),
    ("- \n-   # none\n- - a # b\n  - c\n\n# end\n", {(0,): "", (1,): "", (2,): "- a # b\n  - c", (2, 1): "c"}),
    ("a: [b, # one ]\n  {c: 'd]'},\n  ] # end\n", {("a",): "[b, # one ]\n  {c: 'd]'},\n  ]", ("a", 1): "{c: 'd]'}"}),
    ("a:\n- b: 1\n  # in\n  c: 2  # beside\n\n# end\n", {("a",): "- b: 1\n  # in\n  c: 2", ("a", 0, "c"): "2"}),
    ("'🧱 a': 🧱🧱  # 🧱\nb: {🧱: ä}\n", {("🧱 a",): "🧱🧱", ("b",): "{🧱: ä}", ("b", "🧱"): "ä"}),
    ("a: x\r\nb: |\r\n  y\r\n\r\nc:\r\n- z\r\n", {("a",): "x", ("b",): "|\r\n  y", ("c",): "- z"}),
    ("\ufeffa: x\nb: y\n", {("a",): "x", ("b",): "y"}),
    ("--- # top\na: x\n...\n# end\n", {("a",): "x"}),
    ("a: x\u00a0\nb: ! y\n", {("a",): "x\u00a0", ("b",): "! y"}),
]


class TestSpans:
    """Where a value begins and ends in the text, so that it alone can be changed."""

    @pytest.mark.parametrize("loader", [source_module._LOADER, yaml.SafeLoader])
    @pytest.mark.parametrize(("text", "expected"), TRICKY)
    def test_a_value_ends_where_a_reader_sees_it_end(
        self, text: str, expected: dict[tuple[str | int, ...], str], loader: object, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        source = read_bytes(text.encode(), "")
        monkeypatch.setattr(source_module, "_LOADER", loader)
        bare = text.removeprefix("\ufeff")
        found = {path: bare[span.start : span.end] for path, span in places(spans(source)).items()}
        assert {path: found.get(path) for path in expected} == expected
        assert bool(found) == bool(expected)

    @pytest.mark.skipif(not yaml.__with_libyaml__, reason="the parser in Python takes no tab beside a value")
    def test_tabs_beside_a_value_are_not_its_own(self) -> None:
        text = "a:\tx y\t# beside\nb: z\t\nc:\t\nd: |\n  w\t\n"
        found = [text[span.start : span.end] for path, span in places(spans(read(text))).items() if path]
        assert found == ["x y", "z", "", "|\n  w"]

    def test_blanks_and_brackets_are_told(self) -> None:
        found = places(spans(read("a: ~\nb:\nc: 'null'\nd: []\ne: {}\nf:\n- x\n")))
        assert [path for path, span in found.items() if span.blank] == [("a",), ("b",), ("d",)]
        assert [path for path, span in found.items() if getattr(span, "flow", False)] == [("d",), ("e",)]

    @pytest.mark.parametrize("answers", EXAMPLES, ids=lambda path: path.parent.name)
    def test_the_span_of_every_value_of_the_examples_reads_as_that_value(self, answers: Path) -> None:
        source = read_file(answers, typed=False)
        text = answers.read_text(encoding="utf-8")
        found = places(spans(source))
        assert len(found) > 50
        for path, span in found.items():
            value = source.data
            for step in path:
                value = value[step]
            alone = " " * span.column + text[span.start : span.end]
            assert read_bytes(alone.encode(), "", typed=False).data == value, path

    @pytest.mark.parametrize("text", ["a: &x 1\nb: *x", "a: !t 1", "a: 1\na: 2", "a: [", "a: " + "[" * 50 + "]" * 50])
    def test_a_source_with_problems_has_none(self, text: str) -> None:
        with pytest.raises(InputInvalid):
            spans(read(text))


class TestFiles:
    @pytest.mark.parametrize("content", ["", "# only a comment\n", "---\n", "\n\n"])
    def test_an_empty_file_holds_nothing_and_is_no_mistake_of_yaml(self, content: str, tmp_path: Path) -> None:
        path = build_tree(tmp_path, {"a.yaml": content}) / "a.yaml"
        source = read_file(path)
        assert source.data is None
        assert source.problems == []
        assert not source.broken

    @pytest.mark.parametrize(
        "raw",
        [
            "key: wert ä".encode("utf-16"),
            "key: wert".encode("utf-16-le"),
            "key: wert".encode("utf-16-be"),
            "key: grün".encode("latin-1"),
            b"PK\x03\x04\x14\x00\x06\x00\xff\xfe",
            b"\x7fELF\x02\x01\x01\x00\x00\x00",
            bytes(range(256)),
        ],
    )
    def test_other_encodings_and_binary_are_refused_with_a_line(self, raw: bytes) -> None:
        source = read_bytes(raw, "answers.yaml")
        assert source.data is None
        (problem,) = source.problems
        assert problem.mark.line >= 1
        assert "UTF-8" in problem.what or "control character" in problem.what

    def test_ten_megabytes_are_refused_unread(self, tmp_path: Path) -> None:
        path = build_tree(tmp_path, {"a.yaml": b"a: x\n" * 2_000_000}) / "a.yaml"
        source = read_file(path)
        assert told(source.problems) == [
            f"{path}: is too large to be answers or clauses: keep it under {MOST_YAML_BYTES:,} bytes"
        ]

    def test_a_file_without_end_is_refused(self) -> None:
        source = read_file(Path("/dev/zero"))
        assert "too large" in str(source.problems[0])

    def test_just_under_the_limit_is_read(self) -> None:
        text = "a: " + "x" * (MOST_YAML_BYTES - 10)
        assert len(read(text).data["a"]) == MOST_YAML_BYTES - 10

    def test_a_missing_file_is_named_as_it_was_given(self, tmp_path: Path) -> None:
        path = tmp_path / "none.yaml"
        assert told(read_file(path).problems) == [
            f"{path}: cannot be read (No such file or directory): check the path and its permissions"
        ]

    def test_a_folder_is_told_from_a_file(self, tmp_path: Path) -> None:
        assert told(read_file(tmp_path).problems) == [
            f"{tmp_path}: is a folder: name a file in it, such as {tmp_path}/answers.yaml"
        ]

    def test_line_ends_of_other_systems_count_the_same(self) -> None:
        assert read("a: 1\r\nb: 2\r\na: 3").problems[0].mark.line == 3


def test_require_hands_on_a_good_source_and_raises_all_problems_of_a_bad_one() -> None:
    assert require(read("a: 1")).data == {"a": "1"}
    with pytest.raises(InputInvalid) as caught:
        require(read("a: 1\na: 2\na: 3"))
    assert len(caught.value.problems) == 2


class TestWhatNobodySees:
    """Marks that turn words round, and signs without width, by which one text looks like another."""

    @pytest.mark.parametrize("mark", ["\u202e", "\u2066", "\u200b", "\u2060", "\u00ad", "\u200f", "\U000e0041"])
    @pytest.mark.parametrize("text", ["title: a{}b\n", "a{}b: c\n", "# note{}\n", 'title: "a{}b"\n'])
    def test_is_refused_at_its_place(self, mark: str, text: str) -> None:
        source = read(text.format(mark))
        column = text.index("{") + 1
        assert [str(problem) for problem in source.problems] == [
            f"answers.yaml:1:{column}: holds an invisible mark (U+{ord(mark):04X}) "
            "that makes words read as others than they are: delete it"
        ]

    def test_is_found_where_it_is_spelt_as_an_escape_too(self) -> None:
        (found,) = read('title: "a\\u202eb"\n').problems
        assert "holds an invisible mark (U+202E)" in found.what

    @pytest.mark.parametrize("text", ["naïve", "\u0928\u094d\u200d\u0937", "\U0001f9f1", "10\u00a0mm"])
    def test_letters_that_need_a_joiner_and_spaces_that_do_not_break_are_text(self, text: str) -> None:
        assert read(f"title: {text}\n").problems == []


def test_more_values_than_are_read_are_refused_where_they_begin(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.files.source.MOST_YAML_VALUES", 5)
    assert read("a: [1, 2, 3]\n").problems == []
    (found,) = read("a: [1, 2, 3,\n 4]\n").problems
    assert str(found) == "answers.yaml:2:2: is the value after 5 others, and no more are read: part the file"
