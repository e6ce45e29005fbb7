"""What stands still of what was found of facts: told by the names and scopes that changed."""

from __future__ import annotations

from decimal import Decimal

import pytest
from helpers import choice, facts, names, of_kind

from generator.files.errors import Mark
from generator.questionnaire.changes import changed, recalling
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.parsing import parse
from generator.questionnaire.recall import EVERYWHERE, Reach
from generator.questionnaire.scopes import Held, Scope, ScopePath
from generator.values import Value, replace

NAMES = names(
    of_kind("yes_no", "lived_in", "project"),
    choice("masonry", "element", "brick", "rubble"),
    of_kind("number", "depth_mm", "work"),
)
FRONT, LOW, REAR = ("front",), ("front", "low"), ("rear",)


def job() -> Facts:
    """Two walls; the first has a work."""
    return facts(
        NAMES,
        {
            (): {"lived_in": True},
            FRONT: {"masonry": "brick"},
            LOW: {"depth_mm": Decimal(25)},
            REAR: {"masonry": "rubble"},
        },
    )


def otherwise(before: Facts, path: ScopePath, **values: Value) -> Facts:
    """Facts with other values at a scope."""
    told = {**before.values[path], **{name: Held(value) for name, value in values.items()}}
    return replace(before, values={**before.values, path: told})


@pytest.mark.parametrize(
    ("at", "path", "met"),
    [
        ([FRONT], FRONT, True), ([FRONT], LOW, True), ([LOW], FRONT, True), ([LOW], (), True), ([()], REAR, True),
        ([FRONT], REAR, False), ([LOW], ("front", "high"), False), ([], FRONT, False), ([], (), False),
    ],
)  # fmt: skip
def test_a_scope_is_met_by_those_in_and_around_it(at: list[ScopePath], path: ScopePath, met: bool) -> None:
    assert Reach(at).meets(path) is met


class TestWhatChanged:
    def test_nothing_between_equal_facts(self) -> None:
        assert changed(job(), job()).at == {}
        assert not changed(job(), job()).whole

    def test_a_value_by_its_name_where_it_stands(self) -> None:
        found = changed(job(), otherwise(job(), LOW, depth_mm=Decimal(30)))
        assert found.at == {"depth_mm": {LOW}}
        assert found.reach(["depth_mm"]).meets(FRONT)
        assert not found.reach(["depth_mm"]).meets(REAR)
        assert not found.reach(["masonry"]).meets(LOW)

    def test_a_value_that_came_or_went(self) -> None:
        more = otherwise(job(), REAR, lived_in=False)
        assert changed(job(), more).at == changed(more, job()).at == {"lived_in": {REAR}}

    def test_an_answer_that_moved_in_its_file_is_the_same(self) -> None:
        held = replace(job().values[REAR]["masonry"], mark=Mark("answers.yaml", 99, 1))
        assert changed(job(), replace(job(), values={**job().values, REAR: {"masonry": held}})).at == {}

    def test_other_scopes_or_names_or_none_before_are_all_of_it(self) -> None:
        further = job().with_scopes([Scope(("west",), "element", "West")])
        again = replace(job(), names=names(*NAMES.values()))
        for before, now in ((None, job()), (job(), further), (further, job()), (job(), again)):
            assert changed(before, now).whole
            assert changed(before, now).reach(["masonry"]) is EVERYWHERE


class TestWhatIsRecalled:
    def made(self, kept: Kept, found: Facts, wall: ScopePath, rests_on: object = None) -> bool:
        """Whether something is made anew of a wall."""
        made = list[bool]()
        recalling(found, "a", kept).recalled("key", [wall], lambda: made.append(True), rests_on)
        return bool(made)

    def test_is_made_again_where_its_wall_or_the_whole_job_changed(self) -> None:
        kept, deeper = Kept(), otherwise(job(), LOW, depth_mm=Decimal(30))
        assert self.made(kept, job(), FRONT)
        assert not self.made(kept, job(), FRONT)
        assert self.made(kept, deeper, FRONT)
        assert not self.made(kept, otherwise(deeper, REAR, masonry="brick"), FRONT)
        assert self.made(kept, otherwise(job(), (), lived_in=False), FRONT)

    def test_is_made_again_where_it_rests_on_something_else_besides(self) -> None:
        kept = Kept()
        assert [self.made(kept, job(), FRONT, one) for one in (1, 1, 2, 2)] == [True, False, True, False]

    def test_is_made_again_after_facts_of_which_it_was_not_asked(self) -> None:
        kept = Kept()
        assert self.made(kept, job(), FRONT)
        recalling(job(), "a", kept)
        assert self.made(kept, job(), FRONT)

    def test_is_of_its_own_step(self) -> None:
        kept = Kept()
        assert self.made(kept, job(), FRONT)
        recalling(otherwise(job(), FRONT, masonry="rubble"), "b", kept)
        assert not self.made(kept, job(), FRONT)

    def test_is_nothing_of_a_job_that_is_settled_once(self) -> None:
        assert self.made(AFRESH, job(), FRONT)
        assert self.made(AFRESH, job(), FRONT)

    def test_goes_with_facts_that_more_is_added_to(self) -> None:
        assert recalling(job(), "a", Kept()).adding(FRONT, {"masonry": "rubble"}, "<decide>").recall is None


CONDITIONS = ("masonry == 'brick'", "any(depth_mm > 20)", "lived_in and masonry == 'rubble'")


@pytest.mark.parametrize("unknown", [True, False])
@pytest.mark.parametrize("text", CONDITIONS)
def test_a_condition_holds_after_each_change_where_it_would_if_asked_afresh(text: str, unknown: bool) -> None:
    condition, kept, now = parse(text, "element", NAMES), Kept(), job()
    changes: tuple[tuple[ScopePath, dict[str, Value]], ...] = (
        (LOW, {"depth_mm": Decimal(10)}), (REAR, {"masonry": "brick"}), ((), {"lived_in": False}),
        (FRONT, {"masonry": "rubble"}), (LOW, {"depth_mm": Decimal(40)}), ((), {"lived_in": True}), ((), {}),
    )  # fmt: skip
    for path, values in changes:
        now = otherwise(now, path, **values)
        found = condition.where(recalling(now, "a", kept), "element", unknown=unknown)
        assert found == condition.where(now, "element", unknown=unknown)
