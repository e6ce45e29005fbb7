"""Thirty further jobs, written down before they were run: fifteen right ones, and fifteen with a trap each.

A right job is for tender, refuses nothing, and has no more warnings than a reader still reads. What is expected of the
others rests on the sources of the tables and on common practice: earth is mended in earth, rubbed brick in putty, tuck
pointing in two mortars; boards give lime no hold; sound old plaster stays; nobody slakes among people where another
lime serves; and what cannot be specified is named with whose it is.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from decided_cases import case

from generator.document.outline import outline
from generator.papers.assemble import assemble

AIR = {"putty", "hot-mix"}
GAUGED = {"putty-pozzolan", "hot-mix-pozzolan"}
FEW = 2
"""The most warnings of a right job of one wall."""


@dataclass(frozen=True)
class Right:
    """A right job: the binders that an expert would allow, and the lines that must be priced."""

    binders: set[str]
    priced: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Trap:
    """A job with a trap: its status, what must be found at which level, and what must not."""

    status: str
    findings: dict[str, str]
    binders: set[str] = field(default_factory=set)
    absent: frozenset[str] = frozenset()
    priced: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


RIGHT = {
    "right-soft-front": Right(AIR | {"putty-pozzolan", "nhl-2"}, ("repoint.brick",)),
    "right-listed-terrace": Right({"nhl-2", "hot-mix"} | GAUGED, ("repoint.brick",), ("grade II", "report L-12")),
    "right-rubble-barn": Right(AIR | GAUGED | {"nhl-2"}, ("repoint.stone",)),
    "right-ashlar-porch": Right({"putty", "nhl-2"}, ("repoint.ashlar-measured",), ("grade I",)),
    "right-flint-flank": Right({"nhl-3.5", "hot-mix-pozzolan"}, ("repoint.flint", "repoint.deep-stone")),
    "right-lath-partition": Right(AIR, ("plaster.lath-walls",)),
    "right-parlour": Right(AIR | {"nhl-2"}, ("plaster.walls-two",)),
    "right-limewash": Right({"putty"}, ("limewash.coats",), ("Wash it again when the wall shows through",)),
    "right-harled-cottage": Right(AIR | {"nhl-2", "nhl-3.5"}, ("render.harl", "limewash.on-new")),
    "right-dead-stack": Right({"nhl-3.5"}, ("repoint.brick",)),
    "right-granite-gable": Right({"nhl-3.5", "hot-mix-pozzolan"}, ("repoint.stone",)),
    "right-clay-lump": Right(set(), ("repoint.earth",), ("No lime goes into this wall",)),
    "right-gauged-heads": Right({"putty"}, ("repoint.gauged-measured",), ("10 mm deep", "from the blade")),
    "right-tuck-front": Right(
        {"nhl-2", "putty", "hot-mix"} | GAUGED, ("repoint.brick", "repoint.tuck"), ("ribbon", "5 mm wide")
    ),
    "right-nogging": Right(AIR | {"putty-pozzolan", "nhl-2"}, ("repoint.brick",), ("carpenter's", "Cut no groove")),
}
TRAPS = {
    "render-on-boards": Trap(
        "draft", {"coats-on-boards": "block"}, unpriced=("render.flat",), words=("no part of this work until",)
    ),
    "cob-to-be-pointed": Trap(
        "draft", {"joints-of-jointless-earth": "block", "asked-lime-in-earth-refused": "refusal"}
    ),
    "daub-in-cement": Trap(
        "tender", {"asked-lime-in-earth-refused": "refusal", "earth-mends-with-earth": "warning"},
        priced=("rebuild.daub",), unpriced=("rebuild.earth", "rebuild.whole"), words=("its own daub",),
    ),
    "cavity-skin": Trap(
        "tender", {"cavity-ties": "warning", "asked-grinder-refused": "refusal", "built-in-cement": "warning"},
        {"nhl-2", "nhl-3.5"} | GAUGED, words=("tie specialist's", "20 mm deep"),
    ),
    "gauged-arch-rebuilt": Trap(
        "draft", {"gauged-rebuilding": "block"}, unpriced=("rebuild.whole", "rebuild.new-units"),
        words=("to a drawing made from templates",),
    ),
    "tuck-as-found": Trap("draft", {"tuck-as-found": "block"}, {"nhl-2", "hot-mix"} | GAUGED),
    "salty-stable": Trap(
        "tender",
        {"decoration-too-soon": "refusal", "decoration-on-salts": "refusal", "salts-under-plaster": "warning"},
        AIR | {"nhl-2"}, priced=("tests.salts", "tests.moisture"), words=("nitrates", "dung, fertiliser or salt"),
    ),
    "finish-on-gypsum": Trap("draft", {"finish-on-wrong-base": "block"}, {"putty"}),
    "sound-plaster-stripped": Trap(
        "draft", {"sound-plaster-stays": "block", "asked-removal-refused": "refusal"},
        unpriced=("remove.lime-plaster-walls",), words=("Old plaster that holds firm stays",),
    ),
    "soft-cob-behind-cement": Trap("draft", {"cement-over-soft-earth": "block"}),
    "cement-of-1790": Trap("draft", {"cement-before-its-time": "block"}, AIR | GAUGED | {"nhl-2"}),
    "quicklime-among-children": Trap(
        "tender", {}, {"nhl-2", "putty-pozzolan", "putty"}, frozenset({"slaking-among-people"}),
        words=("least hazardous",),
    ),
    "putty-on-granite-coping": Trap(
        "tender", {"asked-binder-refused": "refusal"}, {"nhl-3.5", "nhl-5"}, words=("draw no water",)
    ),
    "monument-not-plumbed": Trap(
        "draft", {"monument-letter-not-named": "block", "not-known-block": "block"},
        AIR | GAUGED | {"nhl-2", "nhl-3.5"},
    ),
    "slates-drains-and-floor": Trap(
        "tender", {}, {"nhl-2", "hot-mix"} | GAUGED,
        words=("Not in this work, and whose it is", "lime-ash", "drainage contractor's", "clockmaker"),
    ),
}  # fmt: skip
ALL: dict[str, Right | Trap] = {**RIGHT, **TRAPS}


def text_of(name: str) -> str:
    return outline(assemble(case(name)).specification)


@pytest.mark.parametrize("name", RIGHT)
def test_a_right_job_is_for_tender_refuses_nothing_and_warns_little(name: str) -> None:
    found = case(name)
    told = [item.code for item in found.findings if item.level in ("warning", "refusal", "block")]
    assert found.status == "tender", told
    assert [item.code for item in found.findings if item.level in ("refusal", "block")] == []
    assert len(told) <= FEW, told


@pytest.mark.parametrize("name", TRAPS)
def test_a_trap_is_met_at_its_level_and_nothing_is_said_that_does_not_belong(name: str) -> None:
    found, expected = case(name), TRAPS[name]
    raised = {item.code: item.level for item in found.findings}
    assert found.status == expected.status, raised
    assert {code: raised.get(code) for code in expected.findings} == expected.findings
    assert not raised.keys() & expected.absent


@pytest.mark.parametrize("name", ALL)
def test_every_coat_takes_a_binder_that_was_expected_and_none_where_none_was(name: str) -> None:
    found, allowed = case(name), ALL[name].binders
    taken = {str(found.facts.get(scope.path, "binder")) for scope in found.facts.at("coat")}
    assert taken <= allowed
    assert bool(taken) is bool(allowed)


@pytest.mark.parametrize("name", ALL)
def test_what_must_be_priced_is_and_what_cannot_be_specified_is_not(name: str) -> None:
    lines = {item.entry.id for item in case(name).measured.items()}
    assert set(ALL[name].priced) <= lines
    assert not set(TRAPS[name].unpriced if name in TRAPS else ()) & lines


@pytest.mark.parametrize("name", ALL)
def test_the_papers_say_what_readers_look_for(name: str) -> None:
    text = text_of(name)
    assert [wanted for wanted in ALL[name].words if wanted not in text] == []
