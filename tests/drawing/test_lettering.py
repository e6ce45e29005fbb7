from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing.lettering import CAP_EM, PLAIN, Lettering, lettered


def advance(glyphs: str) -> float:
    return 0.5 * len(glyphs)


def spelt(text: str) -> str:
    return "".join(run.glyphs for run in lettered(text, advance).runs)


def test_plain_text_is_one_run() -> None:
    text = lettered("25 mm (M1)", advance)
    assert [run.glyphs for run in text.runs] == ["25 mm (M1)"]
    assert text.strokes == ()
    assert text.width == 5.0


@pytest.mark.parametrize(
    ("text", "glyphs"),
    [("½", "12"), ("2½", "212"), ("m²", "m2"), ("Łódź", "Lodz"), ("naïve", "naive"), ("æ", "ae"), ("ﬁ", "fi"),
     ("e\u0301", "e"), ("№ 3", "No 3"), ("a\u00a0b", "a b"), ("re\u2011use", "re-use")],
)  # fmt: skip
def test_what_the_face_lacks_is_composed_from_what_it_has(text: str, glyphs: str) -> None:
    assert spelt(text) == glyphs


def test_a_fraction_has_its_upper_figure_raised_to_the_height_of_capitals() -> None:
    above, below = lettered("½", advance).runs
    assert below.rise == 0
    assert above.rise + above.scale * CAP_EM == pytest.approx(CAP_EM)
    assert above.x < below.x


@pytest.mark.parametrize("sign", ["–", "—", "×", "÷", "→", "←", "≤", "≥", "−", "£", "€", "≈", "■"])
def test_signs_are_drawn_from_strokes_within_their_width(sign: str) -> None:
    text = lettered(sign, advance)
    assert text.runs == ()
    assert text.strokes
    assert all(0 <= x <= text.width and -0.1 <= y <= 0.8 for stroke in text.strokes for x, y in stroke)


def test_an_accent_stands_over_its_letter_and_higher_over_a_capital() -> None:
    def lowest(text: str) -> float:
        return min(y for stroke in lettered(text, advance).strokes for _, y in stroke)

    assert 0.5 < lowest("é") < lowest("É")
    assert lowest("ç") < 0


@pytest.mark.parametrize("other", ["Ж", "漢", "🙂"])
def test_letters_of_other_scripts_come_out_as_a_box_that_takes_room(other: str) -> None:
    text = lettered(other, advance)
    assert text.width > 0
    assert text.runs == ()


@given(st.text(st.characters(exclude_categories=("Cc", "Cs")), max_size=20))
def test_any_text_is_lettered_with_glyphs_the_face_holds(text: str) -> None:
    result = lettered(text, advance)
    assert isinstance(result, Lettering)
    assert {glyph for run in result.runs for glyph in run.glyphs} <= PLAIN
    assert result.width >= 0


def test_text_is_set_from_left_to_right_without_gaps() -> None:
    whole = lettered("a½b", advance)
    parts = [lettered(part, advance).width for part in "a½b"]
    assert whole.width == pytest.approx(sum(parts))
    assert whole.runs[-1].x == pytest.approx(parts[0] + parts[1])
