"""Papers that disagree are never written: the run ends with 1, both places told, and nothing is there."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from command_line import run

ROOT = Path(__file__).resolve().parents[2]
TOLL_HOUSE = ROOT / "examples" / "toll-house" / "answers.yaml"


@pytest.fixture
def differing(tmp_path: Path) -> Path:
    """A copy of the shipped library whose table of mixes does not tell where each goes, as a clause says."""
    for name in ("clauses", "templates"):
        shutil.copytree(ROOT / name, tmp_path / name)
    template = tmp_path / "templates" / "specification.yaml"
    text = template.read_text(encoding="utf-8")
    template.write_text(text.replace("{shows: mix_walls,", "{shows: mix_name,"), encoding="utf-8")
    return tmp_path / "clauses"


@pytest.mark.parametrize("command", ["write", "check"])
def test_papers_that_disagree_end_the_run_with_both_places_told(command: str, differing: Path, tmp_path: Path) -> None:
    out = tmp_path / "papers"
    more = ("--out", out) if command == "write" else ()
    code, told, err = run(command, TOLL_HOUSE, "--library", differing, *more)
    assert (code, told) == (1, "")
    assert "06-mortars.yaml:" in err
    assert "clause 'mortars.gauging' says 'only where the table puts it' of " in err
    assert "no 'mix_walls' of it stands in 'table:mixes' of specification" in err
    assert not out.exists()
