"""A file of rates to fill in: every line of the job, blank, with its unit; and read back as it is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from answers_text import one_wall
from command_line import run
from jobs import EXAMPLES, ROOT, job

from generator.files.source import read_bytes
from generator.record.estimate import estimate, read_rates
from generator.record.rates_file import rates_file


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_every_line_that_takes_a_rate_is_there_and_filled_in_all_are_priced(path: Path) -> None:
    made = job(path.read_text(encoding="utf-8"))
    text = rates_file(made, "answers.yaml", "rates.yaml")
    assert read_rates(read_bytes(text.encode(), "rates.yaml", typed=False), made) == {}
    filled = re.sub(r"(?m)^(  [a-z0-9.-]+:)  #", r"\1 10 - 20  #", text)
    found = estimate(made, read_rates(read_bytes(filled.encode(), "rates.yaml", typed=False), made))
    assert [item.ref for item in found.without_rate if item.quantity is not None] == []
    remarks = " ".join(line.strip(" #") for line in text.splitlines() if line.lstrip().startswith("#"))
    assert all(item.ref in remarks for item in made.measured.items())


def test_a_rate_stands_blank_under_its_lines_with_currency_and_unit() -> None:
    lines = rates_file(job(one_wall()), "answers.yaml", "rates.yaml").splitlines()
    at = lines.index("  repoint.brick:  # GBP for each m²")
    assert re.match(r"  #   .* m²\Z|  # [0-9.]+ Front wall: ", lines[at - 1])


def test_a_name_of_strange_signs_stays_a_remark() -> None:
    made = job(one_wall())
    text = rates_file(made, "a\u0085rates: {repoint.brick: 3}", "b")
    assert read_rates(read_bytes(text.encode(), "rates.yaml", typed=False), made) == {}


def test_it_is_written_once_filled_in_and_never_written_over(tmp_path: Path) -> None:
    answers = ROOT / "examples" / "toll-house" / "answers.yaml"
    rates = tmp_path / "my rates.yaml"
    code, out, _ = run("estimate", answers, "--starter", rates)
    assert code == 0
    assert out.endswith(f"then: gaugebox estimate {answers} --rates '{rates}'\n")
    filled = rates.read_text(encoding="utf-8").replace("  repoint.brick:", "  repoint.brick: 70 - 95")
    rates.write_text(filled, encoding="utf-8")
    code, _, err = run("estimate", answers, "--starter", rates)
    assert (code, rates.read_text(encoding="utf-8")) == (1, filled)
    assert "is there already" in err
    code, out, _ = run("estimate", answers, "--rates", rates)
    assert code == 0
    assert re.search(r"(?m)^ +[0-9.]+  [0-9.]+ to [0-9.]+  repoint\.brick$", out)


def test_neither_file_named_is_wrong_use() -> None:
    code, _, err = run("estimate", ROOT / "examples" / "toll-house" / "answers.yaml")
    assert code == 2
    assert "--starter" in err
