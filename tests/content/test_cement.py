"""Cement in joints: what is loose comes out like mortar, what is firm or not known is tried first."""

from __future__ import annotations

from answers_text import work
from jobs import shipped
from timed_jobs import codes, keys, planned, scaffolded, task

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
