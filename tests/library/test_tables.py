# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""What the program reads in its tables: values of the wrong kind, out of limits or strange are told at their place."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator.errors import InputInvalid
from generator.library.load import load
from generator.library.locate import shipped
from generator.library.tables import ASKED, values_shape

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


def test_every_table_of_the_library_is_one_the_program_reads_with_just_the_values_it_reads() -> None:
    tables = load(CLAUSES).tables
    assert {key: set(table.values) for key, table in tables.items()} == {key: set(ASKED[key]) for key in ASKED}


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


def test_a_value_that_the_program_reads_and_the_table_does_not_have_is_told_in_every_row(library: Path) -> None:
    found = said(library, "tables/deep-band.yaml", "values: [band_mm]", "values: [band]")
    assert sum("has 'band_mm', which is not among the values" in line for line in found) == len(found) / 2
    assert sum("lacks the value 'band'" in line for line in found) == len(found) / 2


@pytest.mark.parametrize("key", ASKED)
def test_a_row_of_each_table_must_have_every_value_and_no_other(key: str) -> None:
    assert all(field.is_required() for field in values_shape(key).model_fields.values())
    assert values_shape(key).model_config["extra"] == "forbid"
