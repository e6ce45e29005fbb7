"""Cement in joints: what is loose comes out like mortar, what is firm or not known is tried first."""

from __future__ import annotations

import re

import pytest
from answers_text import work
from jobs import shipped
from timed_jobs import codes, keys, planned, scaffolded, surface, task

from generator.document.outline import outline
from generator.papers.assemble import assemble


def test_cement_that_is_all_loose_comes_out_like_mortar_and_has_no_trial_in_any_paper() -> None:
    made = planned(scaffolded(work(cement_area_m2="5", cement_hold="loose")))
    assert [key for key in keys(made.programme) if "cement" in key] == []
    assert not task(made.programme, "front/repoint/rake").why.joined
    assert "cement-trial" not in codes(made)
    assert [item.entry.id for item in made.measured.items() if "cement" in item.entry.id] == ["repoint.cement-loose"]
    cement = {key for key, found in made.selections.items() if found.included and "cement" in key}
    assert "raking-out.cement-loose" in cement
    assert not cement & {"raking-out.cement-trial", "raking-out.cement"}
    told = outline(assemble(made).specification)
    assert "try cement by hand" not in told
    assert "after its trial" not in told
    firm = planned(scaffolded(work(cement_area_m2="5", cement_hold="mixed", cement_firm_m2="2")))
    assert "front/repoint/cement-released" in keys(firm.programme)
    rake = task(firm.programme, "front/repoint/rake")
    assert [(part.quantity, part.amount and part.amount.likely) for part in rake.why.joined] == [
        ("cement_firm_part_m2", 2)
    ]


def test_who_releases_a_trial_of_taking_off_says_what_covers_what_stays_since_no_coat_goes_on_it() -> None:
    library = shipped()
    assert "releases the rest in writing and says what covers what stays" in library.clauses["removal.trial"].check
    for key in ("render.backgrounds", "plaster.backgrounds"):
        assert "cement" in library.clauses[key].text


FINE = {"ashlar": "4 - 8 (6)", "terracotta": "4 - 8 (6)", "gauged-brick": "2 - 4 (3)"}
REMOVED = {"removed": "cement-pointing", "removed_hold": "mixed", "removed_firm_m2": "2"}


@pytest.mark.parametrize("masonry", FINE)
def test_no_chisel_is_ordered_into_fine_joints_where_their_clause_forbids_it(masonry: str) -> None:
    firm = work(cement_area_m2="5", cement_hold="mixed", cement_firm_m2="2")
    off = surface("off", "remove", **REMOVED)
    made = planned(scaffolded(firm, off, masonry=masonry, bond=None, joint_width_mm=FINE[masonry]))
    assert made.in_papers("raking-out.tools-fine")
    told = outline(assemble(made).specification)
    ordered = re.findall(r"[^.:;]*\bwith a(?: narrow)? chisel[^.;]*", told)
    assert not ordered, ordered
    for fine, wide in (
        ("raking-out.cement-fine", "raking-out.cement"),
        ("removal.cement-pointing-fine", "removal.cement-pointing"),
    ):
        assert made.in_papers(fine)
        assert not made.in_papers(wide)


def test_firm_cement_in_wide_joints_is_broken_out_by_a_narrow_chisel() -> None:
    made = planned(scaffolded(work(cement_area_m2="5", cement_hold="mixed", cement_firm_m2="2")))
    assert made.in_papers("raking-out.cement")
    assert not made.in_papers("raking-out.cement-fine")
