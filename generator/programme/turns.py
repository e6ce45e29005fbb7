"""Walls that stand on one another, worked on by turns: nobody works beneath another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from generator.programme.network import Id

Turn = tuple[Id, list[int], list[int]]
"""The wall that is worked on, what has been done there in this turn, and what was done on the others in the last."""


class Turns:
    """Whose turn it is at each face that walls share, by what has been given to gangs there, day by day."""

    def __init__(self, faces: Sequence[Id], walls: Sequence[Id]) -> None:
        """The face and the wall of each activity; what shares none, `""`, is not asked for."""
        self._faces, self._walls = faces, walls
        self._now: dict[Id, Turn] = {}

    def free_from(self, number: int, day: int, finishes: Sequence[int], kept_for: Mapping[int, object]) -> int:
        """The first day, from one on, on which nobody is at work above or below, or stays there to go on."""
        face, wall = self._faces[number], self._walls[number]
        turn = self._now.get(face)
        if turn is None or turn[0] == wall:
            return day
        is_kept = any(self._faces[other] == face and self._walls[other] != wall for other in kept_for)
        return max(day + is_kept, *(finishes[other] + 1 for other in turn[1]))

    def take(self, number: int) -> Iterator[int]:
        """An activity is begun: all of the turn before its own, which it comes after."""
        face, wall = self._faces[number], self._walls[number]
        at, done, before = self._now.get(face, (wall, [], []))
        if at != wall:
            done, before = [], done
        done.append(number)
        self._now[face] = wall, done, before
        yield from before
