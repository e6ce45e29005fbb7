"""The register of numbers: what is numbered keeps its number from issue to issue."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from generator.job.numbers import number, order, register


def numbers_of(parts: list[tuple[str, list[str]]], last: dict[str, str] | None = None) -> dict[str, str]:
    return register(number(parts, last))


FIRST = [("materials", ["lime", "sand"]), ("pointing", ["depth", "fill", "finish"])]


def test_a_first_issue_is_numbered_in_order() -> None:
    assert numbers_of(FIRST) == {
        "part:materials": "1", "clause:lime": "1.1", "clause:sand": "1.2",
        "part:pointing": "2", "clause:depth": "2.1", "clause:fill": "2.2", "clause:finish": "2.3",
    }  # fmt: skip


def test_an_added_clause_takes_a_letter_and_nothing_else_moves() -> None:
    first = numbers_of(FIRST)
    second = numbers_of([FIRST[0], ("pointing", ["depth", "wetting", "fill", "finish"])], first)
    assert second.pop("clause:wetting") == "2.1A"
    assert second == first


def test_two_added_clauses_take_letters_in_order() -> None:
    second = numbers_of([FIRST[0], ("pointing", ["depth", "a", "b", "fill", "finish"])], numbers_of(FIRST))
    assert (second["clause:a"], second["clause:b"]) == ("2.1A", "2.1B")


def test_a_clause_added_after_a_lettered_one_takes_the_next_letter() -> None:
    second = numbers_of([FIRST[0], ("pointing", ["depth", "a", "fill", "finish"])], numbers_of(FIRST))
    third = numbers_of([FIRST[0], ("pointing", ["depth", "a", "b", "fill", "finish"])], second)
    assert (third["clause:a"], third["clause:b"]) == ("2.1A", "2.1B")


def test_a_clause_added_at_the_end_of_its_part_takes_the_next_number() -> None:
    second = numbers_of([FIRST[0], ("pointing", ["depth", "fill", "finish", "care"])], numbers_of(FIRST))
    assert second["clause:care"] == "2.4"


def test_a_removed_clause_stays_as_not_used_and_keeps_its_number() -> None:
    parts = number([FIRST[0], ("pointing", ["depth", "finish"])], numbers_of(FIRST))
    assert [(c.clause_id, c.number, c.used) for c in parts[1].clauses] == [
        ("depth", "2.1", True), ("fill", "2.2", False), ("finish", "2.3", True),
    ]  # fmt: skip


def test_a_part_added_between_two_takes_a_letter() -> None:
    second = numbers_of([FIRST[0], ("raking", ["tools"]), FIRST[1]], numbers_of(FIRST))
    assert (second["part:raking"], second["clause:tools"], second["part:pointing"]) == ("1A", "1A.1", "2")


def test_a_removed_part_stays_with_its_clauses_not_used() -> None:
    parts = number([FIRST[0]], numbers_of(FIRST))
    assert parts[1].number == "2"
    assert not any(clause.used for clause in parts[1].clauses)


def test_a_clause_added_before_a_lettered_one_takes_the_next_letter_and_never_one_that_is_given() -> None:
    second = numbers_of([FIRST[0], ("pointing", ["depth", "a", "fill", "finish"])], numbers_of(FIRST))
    third = numbers_of([FIRST[0], ("pointing", ["depth", "b", "a", "fill", "finish"])], second)
    assert (third["clause:a"], third["clause:b"]) == ("2.1A", "2.1B")


def test_after_twenty_six_letters_come_two_and_stand_in_order() -> None:
    many = [f"many-{number:02d}" for number in range(30)]
    (part,) = number([("pointing", ["depth", *many, "fill"])], numbers_of([("pointing", ["depth", "fill"])]))
    assert [clause.number for clause in part.clauses][26:] == ["1.1Z", "1.1AA", "1.1AB", "1.1AC", "1.1AD", "1.2"]
    assert [clause.clause_id for clause in part.clauses] == ["depth", *many, "fill"]


def test_a_clause_that_moves_to_another_part_leaves_its_number_behind_for_ever() -> None:
    first = numbers_of(FIRST)
    second = numbers_of([("materials", ["lime", "sand", "finish"]), ("pointing", ["depth", "fill"])], first)
    third = numbers_of([("materials", ["lime", "sand", "finish"]), ("pointing", ["depth", "fill", "care"])], second)
    assert (second["clause:finish"], third["clause:finish"], third["clause:care"]) == ("1.3", "1.3", "2.4")


PARTS = st.lists(
    st.tuples(st.sampled_from("PQR"), st.lists(st.sampled_from("abcdefgh"), unique=True)),
    unique_by=lambda part: part[0],
).map(lambda parts: [(key, [f"{key}{item}" for item in items]) for key, items in parts])


@given(st.lists(PARTS, min_size=2, max_size=5))
def test_whatever_changes_every_number_is_kept_none_is_given_twice_and_all_stand_in_order(
    issues: list[list[tuple[str, list[str]]]],
) -> None:
    last: dict[str, str] = {}
    for parts in issues:
        made = number(parts, last)
        found = register(made)
        assert last.items() <= found.items()
        assert len(set(found.values())) == len(found)
        for part in made:
            assert [order(clause.number) for clause in part.clauses] == sorted(order(c.number) for c in part.clauses)
        assert number(parts, found) == made
        last = found
