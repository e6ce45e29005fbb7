"""The agreement of a set: before a file is written, its papers are held against one another and against the job.

A disagreement is a fault of the library or of the program, never of the answers.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain, islice
from typing import Any, Final

from generator.files.errors import InputInvalid, Problem
from generator.papers.agreement.elsewhere import absent
from generator.papers.agreement.fitting import unfit
from generator.papers.agreement.holds import left_behind, unheld, unpassed
from generator.papers.agreement.instructions import unborne
from generator.papers.agreement.printed import Printed
from generator.papers.agreement.quantities import unequal
from generator.papers.agreement.recorded import identities, unrecorded
from generator.papers.agreement.references import dangling
from generator.papers.agreement.values import unlike, unsettled
from generator.papers.agreement.walls import misplaced

_MOST: Final = 200


def agreed(found: Printed) -> Printed:
    """A set of papers, which agree. Raises `InputInvalid` with everything in which they differ."""
    _refuse(disagreements(found))
    return found


def agreed_record(found: Printed, record: Mapping[str, Any]) -> None:
    """Raises `InputInvalid` where the record of the papers tells something otherwise."""
    _refuse(unrecorded(found, record))


def disagreements(found: Printed) -> Iterator[Problem]:
    """Everything in which the papers disagree."""
    checks = (
        identities,
        unlike,
        unsettled,
        dangling,
        absent,
        unborne,
        unfit,
        unequal,
        misplaced,
        unheld,
        unpassed,
        left_behind,
    )
    return chain.from_iterable(check(found) for check in checks)


def _refuse(problems: Iterator[Problem]) -> None:
    if differing := list(islice(problems, _MOST)):
        raise InputInvalid(differing)
