"""What is kept from one job to the next: a job settled with it is the one that is settled afresh, and less is made."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Hashable, Iterator, Sequence
from decimal import Decimal
from typing import Any

import pytest
from helpers import slow_but
from jobs import ROOT, shipped

from generator import pipeline
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.questionnaire.condition import Condition
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import Held, ScopePath
from generator.values import NOT_KNOWN, Range, replace

EXAMPLES = ("mill-house", "garden-front", "toll-house", "winter-plaster")


def test_what_rests_on_the_same_is_made_once() -> None:
    kept, made = Kept(), list[int]()

    def make() -> int:
        made.append(len(made))
        return len(made)

    assert [kept.of("a", (1, [2]), make), kept.of("a", (1, [2]), make), kept.of("b", (1, [2]), make)] == [1, 1, 2]
    assert kept.of("a", (1, [3]), make) == 3
    assert kept.of("a", (1, [2]), make) == 4, "the last alone is kept"


def test_what_could_not_be_made_is_not_kept() -> None:
    kept = Kept()
    with pytest.raises(ZeroDivisionError):
        kept.of("a", 1, lambda: 1 // 0)
    assert kept.of("a", 1, lambda: 5) == 5


def test_afresh_keeps_nothing() -> None:
    assert [AFRESH.of("a", 1, lambda: 1), AFRESH.of("a", 1, lambda: 2)] == [1, 2]


def told(job: Job) -> list[Any]:
    """All that papers and pages tell of a job."""
    programme = job.programme
    return [
        job.facts.values, list(job.facts.scopes), job.findings, job.status, job.numbers, job.measured,
        programme.walls, programme.orders, programme.end, programme.chain, programme.follows, programme.raised,
        dict(job.figures), job.decisions.mixes, job.decisions.reasons, job.decisions.considered, job.selections,
        job.duties,
    ]  # fmt: skip


def otherwise(facts: Facts, every: int) -> Iterator[Facts]:
    """Facts with one answer after another changed, and put back after some; every so many of them is tried."""
    answered = [
        (path, name, held) for path, name, held in facts.every() if held.origin == "given" and name in facts.names
    ]
    for path, name, held in answered[::every]:
        for value in _others(facts, name, held):
            changed = {**facts.values, path: {**facts.values[path], name: Held(value, "given", held.mark)}}
            yield replace(facts, values=changed)
        if name in ("start_date", "height_m"):
            yield facts


def _others(facts: Facts, name: str, held: Held) -> Sequence[Any]:
    value, entry = held.value, facts.names[name]
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, Decimal):
        return [value + 1]
    if isinstance(value, Range):
        return [Range(value.low, value.likely, value.high + 1)]
    if isinstance(value, str) and entry.choices:
        return [next((word for word in entry.choices if word != value), NOT_KNOWN)]
    return [NOT_KNOWN]


@pytest.mark.parametrize("example", EXAMPLES)
@pytest.mark.parametrize("every", slow_but(1, [151, 5]))
def test_a_job_settled_with_what_was_kept_is_the_one_settled_afresh(example: str, every: int) -> None:
    folder, library, kept = ROOT / "examples" / example, shipped(), Kept()
    source = read_bytes((folder / "answers.yaml").read_bytes(), "answers.yaml", typed=False)
    facts = pipeline.read(source, library)
    pipeline.settled(facts, library, folder=folder, kept=kept)
    differ = []
    for at, one in enumerate(otherwise(facts, every)):
        found, afresh = (pipeline.settled(one, library, folder=folder, kept=each) for each in (kept, AFRESH))
        if told(found) != told(afresh):
            differ.append(at)
    assert differ == []


@pytest.mark.parametrize("example", EXAMPLES)
def test_answers_that_only_moved_down_their_file_are_told_where_they_stand_now(example: str) -> None:
    folder, library, kept = ROOT / "examples" / example, shipped(), Kept()
    raw = (folder / "answers.yaml").read_bytes()
    for text in (raw, b"# one line more\n" + raw):
        facts = pipeline.read(read_bytes(text, "answers.yaml", typed=False), library)
        found, afresh = (pipeline.settled(facts, library, folder=folder, kept=each) for each in (kept, AFRESH))
        assert told(found) == told(afresh)
        assert [item.marks for item in found.findings] == [item.marks for item in afresh.findings]


def test_a_job_is_gone_with_the_last_that_holds_it() -> None:
    library, kept, gone = shipped(), Kept(), list[weakref.ref[Facts]]()
    folder = ROOT / "examples" / "garden-front"
    answers = pipeline.read(read_bytes((folder / "answers.yaml").read_bytes(), "answers.yaml", typed=False), library)
    gc.collect()
    gc.disable()
    try:
        for each in (AFRESH, kept, kept, kept):  # what is kept holds the last job's facts, and not those before them
            job = pipeline.settled(answers, library, folder=folder, kept=each)
            gone += [weakref.ref(job.facts), weakref.ref(job.measured.facts), weakref.ref(job.decisions.facts)]
            del job
        assert [one() is None for one in gone[:9]] == [True] * 9
    finally:
        gc.enable()


class Counting(Kept):
    """Notes what is made anew."""

    def __init__(self) -> None:
        super().__init__()
        self.made: list[Hashable] = []

    def of(self, key: Hashable, rests_on: object, make: Any) -> Any:
        def noted() -> Any:
            self.made.append(key)
            return make()

        return super().of(key, rests_on, noted)


def test_an_answer_about_one_wall_leaves_the_batches_of_others_as_they_were() -> None:
    library, kept = shipped(), Counting()
    folder = ROOT / "examples" / "mill-house"
    source = read_bytes((folder / "answers.yaml").read_bytes(), "answers.yaml", typed=False)
    facts = pipeline.read(source, library)
    job = pipeline.settled(facts, library, folder=folder, kept=kept)
    assert len([key for key in kept.made if key[0] == "batch"]) == len(job.decisions.mixes)  # type: ignore[index]
    kept.made.clear()
    pipeline.settled(facts, library, folder=folder, kept=kept)
    assert kept.made == []
    path = ("front", "repoint")
    larger = {**facts.values[path], "face_area_m2": Held(Decimal(120), "given")}
    pipeline.settled(replace(facts, values={**facts.values, path: larger}), library, folder=folder, kept=kept)
    again = [key for key in kept.made if key[0] == "batch"]  # type: ignore[index]
    own = [mix.ref for mix in job.decisions.mixes if any(coat[:2] == path for coat in mix.used_for)]
    assert 0 < len(again) <= len(own)


def test_a_condition_is_asked_again_only_where_a_name_that_it_reads_has_changed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = list[ScopePath]()
    holding, of_level = Condition.holding, Condition.of_level

    def noted_of_level(self: Condition, facts: Facts, level: str, *, unknown: bool) -> tuple[ScopePath, ...]:
        asked.extend(path for path, _ in facts.seen_at(level))
        return of_level(self, facts, level, unknown=unknown)

    def noted(self: Condition, facts: Facts, at: Any, *, unknown: bool) -> tuple[ScopePath, ...]:
        tried = list(at)
        asked.extend(path for path, _ in tried)
        return holding(self, facts, tried, unknown=unknown)

    monkeypatch.setattr(Condition, "holding", noted)
    monkeypatch.setattr(Condition, "of_level", noted_of_level)
    library, kept, folder = shipped(), Kept(), ROOT / "examples" / "mill-house"
    source = read_bytes((folder / "answers.yaml").read_bytes(), "answers.yaml", typed=False)
    facts = pipeline.read(source, library)
    pipeline.settled(facts, library, folder=folder, kept=kept)
    whole = len(asked)
    asked.clear()
    pipeline.settled(facts, library, folder=folder, kept=kept)
    assert asked == []
    front = {**facts.values["front",], "height_m": Held(Decimal(9), "given")}
    pipeline.settled(replace(facts, values={**facts.values, ("front",): front}), library, folder=folder, kept=kept)
    assert 0 < len(asked) < whole / 4
