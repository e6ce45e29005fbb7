"""Mistakes across files of a library, each told with its place and what to do."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest
from jobs import shipped
from small_library import clause, library_of

from generator.library.lint import problems
from generator.library.model import Library
from generator.values import replace

SHIPPED = shipped()
HEAVY = replace(SHIPPED.materials["quicklime"].bulk_density_kg_per_l, high=Decimal(2))  # type: ignore[type-var]


def told(library: Library) -> list[str]:
    return [f"{problem.mark}: {problem.what}: {problem.to_do}" for problem in problems(library)]


def changed(kind: str, key: str, **fields: Any) -> Library:
    """The shipped library with one entry changed."""
    entries: Mapping[str, Any] = getattr(SHIPPED, kind)
    made: dict[str, Any] = {kind: {**entries, key: replace(entries[key], **fields)}}
    return replace(SHIPPED, **made)


def test_the_shipped_library_has_no_mistakes() -> None:
    assert told(SHIPPED) == []


def test_a_reference_that_leads_nowhere_is_told_with_the_nearest_clause() -> None:
    library = library_of(clause("first.joints"), clause("second.b", text="As [](clause:first.joint) says."))
    (found,) = [line for line in told(library) if line.startswith("own.yaml")]
    assert found == (
        "own.yaml:1:1: clause 'second.b' refers to 'clause:first.joint', which is not there: "
        "did you mean 'first.joints'?"
    )


@pytest.mark.parametrize(
    ("library", "words"),
    [
        (changed("operations", "repoint.rake", clauses=("pointing.layrs",)), "names the clause 'pointing.layrs'"),
        (changed("items", "repoint.brick", quantity="treated_area"), "takes its quantity from 'treated_area'"),
        (changed("items", "repoint.brick", quantity=""), "item 'repoint.brick' has no quantity"),
        (changed("recipes", "putty-brick", binder="putti"), "has the binder 'putti'"),
        (changed("recipes", "putty-brick", sand="sand-shrp"), "takes 'sand-shrp', which is not a material"),
        (changed("recipes", "putty-brick", serves=("repoint:brick",)), "serves 'repoint:brick'"),
        (changed("recipes", "putty-brick", sources=()), "names no source"),
        (changed("recipes", "putty-brick", sources=("nps",)), "names the source 'nps', which is not listed"),
        (changed("tasks", "deep-wait", per="work"), "by 'binder' of a coat, which a work does not see"),
        (changed("materials", "lime-putty", bulk_density_kg_per_l=None), "which has no bulk density"),
        (changed("reckoned", "mix_gauge", of=("mix_gage",)), "name 'mix_gauge' is reckoned from the name 'mix_gage'"),
        (changed("reckoned", "mix_gauge", tables=("makin",)), "is reckoned from the table 'makin', which is not there"),
        (changed("materials", "quicklime", purity_share=None), "slakes 'quicklime', which has no purity"),
        (changed("materials", "lime-putty", solids_share=None), "'lime-putty' that it slakes to has no solids"),
        (changed("materials", "quicklime", bulk_density_kg_per_l=HEAVY), "whose bulk density is not that of quicklime"),
        (changed("tasks", "dub", fills=""), "task 'dub' lays by an output and says in no 'fills' what"),
        (changed("tasks", "prepare", fills="dubbing"), "task 'prepare' fills by 'dubbing' and lays by no output"),
        (changed("tasks", "prepare", in_wall_mix=True), "task 'prepare' is 'in_wall_mix' and neither fills nor covers"),
        (changed("findings", "leak-first", clauses=("causes.leek",)), "is borne by the clause 'causes.leek'"),
        (changed("findings", "leak-first", clauses=()), "'leak-first' has an instruction that no clause bears"),
        (changed("findings", "leak-first", stands_alone=True), "'leak-first' stands alone and has clauses"),
        (changed("findings", "leak-first", instruction=""), "'leak-first' names clauses and instructs nothing"),
        (changed("tables", "making", rows=SHIPPED.tables["making"].rows[1:]), "no row in the table 'making'"),
    ],
)
def test_what_is_not_there_or_does_not_fit_is_told(library: Library, words: str) -> None:
    found = told(library)
    assert any(words in line for line in found), found


def test_a_mistake_in_a_text_is_told_before_references_are_followed() -> None:
    library = library_of(clause("first.a", text="{{ masonary }}"), clause("first.b", text="[](clause:no)"))
    own = [line for line in told(library) if line.startswith("own.yaml")]
    assert len(own) == 1
    assert "'masonary', which is not known: did you mean 'masonry'?" in own[0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"picture": "rign"}, "the picture 'rign', which is not drawn: did you mean 'ring'"),
        ({"shows": ""}, "does not say what it shows"),
    ],
)
def test_a_picture_that_is_not_drawn_or_not_told_is_a_mistake(changes: dict[str, str], words: str) -> None:
    found = told(changed("operations", "mixing.hot-ring", **changes))
    assert any(words in line for line in found), found
