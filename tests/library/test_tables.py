# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Tables: values of the wrong kind, out of limits or strange are told at their place; rows are read as what they are."""

from __future__ import annotations

import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from generator.files.errors import InputInvalid, Mark
from generator.library.load import load
from generator.library.locate import shipped
from generator.library.tables import TableRow, fits
from generator.values import Range

CLAUSES = shipped("clauses", "library.yaml")


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the shipped library, to be broken and mended."""
    return Path(shutil.copytree(CLAUSES, tmp_path_factory.mktemp("broken") / "clauses"))


def said(library: Path, file: str, old: str, new: str) -> list[str]:
    """What is said of the library with one text in one file changed for another."""
    path = library / file
    good = path.read_text(encoding="utf-8")
    assert old in good
    path.write_text(good.replace(old, new, 1), encoding="utf-8")
    try:
        with pytest.raises(InputInvalid) as caught:
            load(library, "clauses")
    finally:
        path.write_text(good, encoding="utf-8")
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("file", "old", "new", "problem"),
    [
        ("tables/deep-band.yaml", "band_mm: 25", "band_mm: [25]", "'band_mm' is a list, where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("tables/deep-band.yaml", "band_mm: 25", "band_mm: deep", "'band_mm' is 'deep', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("tables/deep-band.yaml", "band_mm: 25", "band_mm: -25", "'band_mm' is the number -25, where one from 0.01 to 5000 is wanted: mend the number"),
        ("tables/curing.yaml", "damp_days: 1,", "damp_days: 99999999999999999999,", "'damp_days' is the number 99999999999999999999, where one from 0 to 365 is wanted: mend the number"),
        ("tables/making.yaml", "yield_low: 1.0,", "yield_low: 1.1,", "runs the wrong way (yield_low: 1.1, yield_likely: 1.07, yield_high: 1.15): write the lowest as low and the highest as high"),
        ("tables/grain.yaml", "sizes_mm: [0.1, 0.25, 0.5, 1]", "sizes_mm: []", "'sizes_mm' is an empty list: name one at least"),
        ("tables/sand-envelope.yaml", "[0.3, 5, 70]", "[0.3, 70, 5]", "'passing' runs the wrong way (0.3 mm: 70, 5): write the lowest as low and the highest as high"),
        ("tables/grain.yaml", "keys: {masonry: ", "keys: {masonry: {a: b}} # ", "'rows.keys.masonry' is a mapping, where a word or a list of words is wanted: write one choice, [one, another], or any"),
        ("tables/coats.yaml", "coats: [pointing]", "coats: [pionting]", "has 'pionting' as 'coats', which is no choice of 'coat': did you mean 'pointing'?"),
        ("tables/coats.yaml", "keys: {work: repoint}", "keys: {work: repiont}", "has 'repiont' as 'work', which is no choice of 'work': did you mean 'repoint'?"),
        ("tables/wetting.yaml", "wetting: none", "wetting: nothing", "has 'nothing' as 'wetting', which is no choice of 'wetting': use one of: mist, none, soak"),
        ("tables/labour.yaml", "quantity: new_laths_m2", "quantity: new_lath_m2", "takes its quantity from 'new_lath_m2', which is not known: did you mean 'new_laths_m2'?"),
        ("tables/labour.yaml", "'laths: fixing'", "'lath: fixing'", "'tasks' cannot be 'lath: fixing': did you mean 'laths: fixing'?"),
        ("materials.yaml", "{low: 1.30, likely: 1.35,", "{low: 1.37, likely: 1.35,", "'bulk_density_kg_per_l' runs the wrong way (low: 1.37, likely: 1.35, high: 1.40): write the lowest as low and the highest as high"),
        ("materials.yaml", "holds: 20", "holds: 0", "'package.holds' is the number 0, where one from 0.001 to 100000 is wanted: mend the number"),
        ("materials.yaml", "high: 0.52", "high: 1.5", "'solids_share.high' is the number 1.5, where one from 0.05 to 0.7 is wanted: mend the number"),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_reckoned_with_is_told(
    library: Path, file: str, old: str, new: str, problem: str
) -> None:
    (found,) = said(library, file, old, new)
    assert found.startswith(f"clauses/{file}:")
    assert found.split(": ", 1)[1] == problem


def test_a_value_that_is_declared_and_that_rows_do_not_have_is_told_in_every_row(library: Path) -> None:
    found = said(library, "tables/deep-band.yaml", "values: {band_mm:", "values: {band:")
    rows = [line for line in found if line.startswith("clauses/tables/deep-band.yaml:")]
    assert sum("has 'band_mm', which is not among the values" in line for line in rows) == len(rows) / 2
    assert sum("lacks the value 'band'" in line for line in rows) == len(rows) / 2
    (other,) = set(found) - set(rows)
    assert "name 'deep_band_mm' takes 'band_mm' from the table 'deep-band', which has no such value" in other


@pytest.mark.parametrize(
    ("file", "old", "new", "problem"),
    [
        ("tables/deep-band.yaml", "{kind: number,", "{kind: nmber,", "'values.band_mm.kind' cannot be 'nmber': did you mean 'number'?"),
        ("tables/coats.yaml", "of: coat}", "of: cot}", "has the choices of 'cot', which is no name with choices: did you mean 'coat'?"),
        ("tables/making.yaml", "yield_low: 1.0,", "yield_low: 0.1,", "'yield_low' is the number 0.1, where one from 0.7 to 2 is wanted: mend the number"),
        ("tables/coat-thickness.yaml", "coat_mm: 12", "coat_mm: 120", "'coat_mm' is the number 120, where one from 0 to 100 is wanted: mend the number"),
        ("tables/strength.yaml", "{strength: 1}", "{strength: 1.5}", "'strength' is the number 1.5, where a whole number is wanted: write a whole number alone, such as 12"),
    ],
)  # fmt: skip
def test_what_a_table_says_of_its_values_is_held_to(library: Path, file: str, old: str, new: str, problem: str) -> None:
    found = said(library, file, old, new)
    assert f"clauses/{file}" in found[0]
    assert problem in found[0]


def test_limits_of_the_reckoning_hold_whatever_a_table_allows(library: Path) -> None:  # lime/mortar: 0.7 to 2
    path = library / "tables" / "making.yaml"
    good = path.read_text(encoding="utf-8")
    wide = good.replace("yield_low: {kind: number}", "yield_low: {kind: number, least: 0, most: 9}")
    path.write_text(wide.replace("yield_low: 1.0,", "yield_low: 0.5,", 1), encoding="utf-8")
    try:
        with pytest.raises(InputInvalid, match=r"'yield_low' is the number 0\.5, where one from 0\.7 to 2 is wanted"):
            load(library, "clauses")
    finally:
        path.write_text(good, encoding="utf-8")


def row(**values: object) -> TableRow:
    mark = Mark("clauses/tables/mine.yaml", 8, 3)
    return TableRow(keys={}, values=values, sources=("from-memory",), confidence="memory", _mark=mark)


class TestReadingARow:
    def test_values_are_read_as_what_they_are(self) -> None:
        made = row(
            a_mm=25, b_mm=Decimal("0.5"), sizes_mm=[1, Decimal("0.25")], word="soak", words=["putty", "nhl-2"],
            share_low=1, share_likely=2, share_high=3, passing=[[4, 95, 100]],
        )  # fmt: skip
        assert (made.number("a_mm"), made.number("b_mm")) == (Decimal(25), Decimal("0.5"))
        assert made.numbers("sizes_mm") == (Decimal(1), Decimal("0.25"))
        assert (made.text("word"), made.texts("words")) == ("soak", ("putty", "nhl-2"))
        assert made.spread("share") == Range(1.0, 2.0, 3.0)
        assert made.passing("passing") == ((4.0, 95.0, 100.0),)

    @pytest.mark.parametrize("read", ["number", "numbers", "text", "texts", "passing", "spread"])
    @pytest.mark.parametrize("value", [None, {"a": "b"}], ids=["absent", "of another kind"])
    def test_what_a_row_lacks_is_a_mistake_at_the_row(self, read: str, value: object) -> None:
        made = row() if value is None else row(wanted=value)
        with pytest.raises(InputInvalid, match=r"mine\.yaml:8:3: has no .* 'wanted.*', which the program asks for"):
            getattr(made, read)("wanted")


class TestFindingARow:
    def test_the_first_row_that_fits_serves_and_any_fits_all(self) -> None:
        assert fits("any", "brick")
        assert fits(("brick", "block"), "block")
        assert not fits("brick", "rubble")

    def test_a_key_that_is_not_known_fits_any_alone(self) -> None:
        assert fits("any", "")
        assert not fits("brick", "")
        assert not fits(("brick", "block"), "")
