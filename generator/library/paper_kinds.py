"""The parts that papers can have: which options each takes, what it can show, and why some may not be left out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.document.template import TEXT
from generator.values import Struct, field


class PartKind(Struct, frozen=True):
    """A part that the program can make. Lists of words are texts, parted by spaces.

    `needs` and `may` are its options. Its rows and columns show `own`, the names seen from the scope `of`, and the
    fields of the records `fields_of`; not without `keeps`. `places` are what its words are filled with. `lines` tells
    how its lines are keyed: `free`, by `work`, or each by a word of `own`. `kept` says why no paper does without it.
    `inner` are the parts inside it, `opening` those that come first; words alone may stand among them where `open_`.
    """

    needs: str = ""
    may: str = ""
    of: str = ""
    own: str = ""
    fields_of: str = ""
    keeps: str = ""
    places: str = ""
    lines: str = "free"
    kept: str = ""
    inner: Mapping[str, PartKind] = field(default_factory=dict)
    opening: str = ""
    open_: bool = True

    @property
    def options(self) -> list[str]:
        """All that it takes."""
        return f"{self.needs} {self.may}".split()

    @property
    def holds(self) -> str:
        """The option that is a list of its own to add to, drop from and order: of lines, rows or parts; or none."""
        return next((name for name in ("lines", "rows", "parts") if name in self.options), "")


WORDS: Final = PartKind("name", "heading text lines style")
"""A part of words alone, the kind of every part called `text`; its name is its own."""

_IDENTITY: Final = "a reader must see which job a paper is of"
_STATUS: Final = "nobody may take a draft for a set to tender on"
_CONTROL: Final = "without its control nobody can tell one issue from another"
_CAUTION: Final = "it keeps people and walls from harm"
_PRICED: Final = "a contractor could not price without it"

_TABLE: Final = "caption columns"
# Photographs: each part stands for every one of them in turn.
_SHOWN: Final = PartKind("caption", places="photograph shows taken scaled")
_KEY: Final = PartKind(
    "about columns", "caption", of="work", own="letter work mix area lines clauses", places="photograph"
)
_FACE: Final = PartKind(
    "parts", open_=False,
    inner={
        "face-figure": PartKind("caption", places="element width height unplaced"),
        "face-key": PartKind("about columns", "caption", of="work", own="letter work mix area lines clauses"),
    },
)  # fmt: skip
_ON_SHEETS: Final = PartKind("parts", "heading", open_=False, inner={"photograph": _SHOWN, "photograph-key": _KEY})
_FOR_OFFICERS: Final = PartKind(
    "parts", "heading", open_=False,
    inner={"photograph": _SHOWN, "elevation": _SHOWN, "photograph-key": _KEY},
)  # fmt: skip
_COVER: Final = {
    "job": PartKind(kept=_IDENTITY),
    "paper": PartKind(kept=_IDENTITY),
    "status": PartKind(kept=_STATUS),
    "control": PartKind(
        "columns rows", "about", "project", "replaces status library", kept=_CONTROL,
        keeps="reference revision issue_date status",
    ),
    "in-brief": PartKind("text", places="works walls start finish tender"),
    "cover-photograph": _SHOWN,
    "contents": PartKind("heading"),
}  # fmt: skip
_READ_FIRST: Final = {
    "open-questions": PartKind(
        "heading text caption columns", own="where open action answer-by", keeps="open answer-by", places="count",
        kept="a draft must say what is open, and who answers it",
    ),
    "scope": PartKind("heading columns", "caption about", of="work", own="wall work mix quantity lines"),
    "warnings": PartKind("heading", kept=_CAUTION),
    "dates": PartKind("heading rows", of="project"),
    "orientation": PartKind("caption", places="dashed ring"),
}  # fmt: skip
_WORKS: Final = {
    "steps": PartKind(kept="the foreman works by it"),
    "mix": PartKind("label", kept="it says which mortar goes here, or that none may be made"),
    "beside": PartKind(
        "parts", open_=False, kept="dates are kept by it",
        inner={
            "joint-figure": PartKind("caption", places="element"),
            "coats-figure": PartKind("caption", places="element"),
            "work-dates": PartKind("heading rows", of="coat", kept="dates are kept by it"),
            "work-facts": PartKind("heading rows", of="work"),
            "work-lines": PartKind("heading rows", own="work beside wall", kept=_PRICED),
        },
    ),
}  # fmt: skip
_SHEETS: Final = {
    "leads": PartKind("rows", of="element"),
    "first": PartKind("heading", kept=_CAUTION),
    "wall-facts": PartKind("rows", of="element"),
    "photographs": _ON_SHEETS,
    "face": _FACE,
    "alike": PartKind(
        "text columns",
        "caption about",
        of="coat",
        own="wall quantity lines wall-lines",
        keeps="wall quantity lines",
        places="count",
        kept="walls of one sheet are told apart by it",
    ),
    "works": PartKind("parts", inner=_WORKS, kept="the foreman works by it"),
}
_CLAUSES: Final = {
    "mixes": PartKind(
        "parts", kept="the officer and the contractor go by it",
        inner={
            "mix-figures": PartKind(
                _TABLE, of="mix", keeps="mix_ref mix_lime mix_sand mix_gauge", kept=_PRICED
            ),
        },
    ),
    "drawings": PartKind(_TABLE, fields_of="drawings"),
    "programme": PartKind(
        "parts", kept="dates are kept by it",
        inner={
            "reckoned": PartKind("text", places="start end early slowest mixing waits gangs"),
            "walls": PartKind(
                _TABLE, of="element", own="where first-lime last-lime", keeps="where access_time_weeks", kept=_PRICED
            ),
            "curing": PartKind(
                _TABLE, of="coat", own="where", keeps="where last_placing_date",
                kept="lime laid later is lost to frost, or has no time to harden",
            ),
            "programme-figure": PartKind("caption"),
            "season-figure": PartKind("caption"),
            "gangs": PartKind(_TABLE, own="operation likely spread people"),
            "orders": PartKind(_TABLE, own="thing weeks first-use by"),
        },
    ),
    "glossary": PartKind("lines"),
    "references": PartKind(),
    "rules": PartKind("heading text", kept=_PRICED),
    "hold-points": PartKind(
        _TABLE, "text", own="what released-by notice", keeps="what released-by", places="notice",
        kept="work stops there until it is released",
    ),
}  # fmt: skip
_SCHEDULE: Final = {
    "incomplete": PartKind("text", kept="nobody may take a part of the sum for the whole"),
    "lines": PartKind(
        "columns", "caption about", kept=_PRICED,
        own="item description mix clauses kind quantity unit", keeps="item description quantity unit",
    ),
}  # fmt: skip
_SPECIFICATION: Final = {
    "cover": PartKind("parts", inner=_COVER, kept=_IDENTITY),
    "front": PartKind(
        "header parts", kept=_CAUTION,
        inner={
            "read-first": PartKind("heading parts", inner=_READ_FIRST, kept=_CAUTION),
            "sheets": PartKind("heading parts", inner=_SHEETS, places="number", kept=_CAUTION),
        },
    ),
    "clauses": PartKind("header parts", inner=_CLAUSES, kept="it is what the contractor agrees to"),
    "tables": PartKind(
        "heading parts", kept=_PRICED,
        inner={
            "wide-tables": PartKind(kept=_PRICED),
            "materials": PartKind("heading text columns", "caption", own="material by-mix amount order"),
        },
    ),
    "schedule": PartKind("heading parts", inner=_SCHEDULE, kept=_PRICED),
}  # fmt: skip
_SURVEY: Final = {
    "title": PartKind("heading", places="wall", kept=_IDENTITY),
    "no-job": PartKind("text rows", kept=_IDENTITY),
    "safety": PartKind("text", kept=_CAUTION),
    "who": PartKind("rows"),
    "element-questions": PartKind("heading"),
    "work-questions": PartKind("heading text", places="work"),
    "sketch": PartKind("heading about"),
    "whole-job": PartKind(
        "heading parts", "text", inner={"contents": PartKind("", "heading"), "project-questions": PartKind("heading")}
    ),
    "tests": PartKind("heading"),
}
_OFFICER: Final = {
    "title": PartKind(kept=_IDENTITY),
    "job": PartKind(kept=_STATUS),
    "building": PartKind("columns rows", "about heading if_none", "project"),
    "photographs": _FOR_OFFICERS,
    "mixes": PartKind("heading text columns", of="mix", own="mix-and-lime", kept="the officer goes by it"),
    "works": PartKind("heading columns lines", of="work", own="where extent-and-quantity method mix", lines="work"),
    "why": PartKind("heading", "text", places="reason", kept="the officer asks why each strong binder is needed"),
    "not-taken": PartKind("heading columns", own="why-not binders"),
}
_RECORDS: Final = {
    "batch-record": PartKind(
        "heading text parts",
        inner={
            "batch-boxes": PartKind("about columns", of="mix", own="batches-besides"),
            "batch-lines": PartKind("about columns"),
        },
    ),
    "store-record": PartKind("heading text columns", places="kinds"),
    "slaking-record": PartKind("heading text columns", places="clear"),
    "hold-record": PartKind("heading text columns", own="what released-by notice"),
    "daily-record": PartKind("heading text columns"),
    "guard-record": PartKind("heading text columns"),
    "curing-record": PartKind("heading text columns", places="kept"),
    "photograph-record": PartKind(
        "heading text parts",
        places="photograph shows taken",
        open_=False,
        inner={
            "before": PartKind("caption", places="photograph shows taken"),
            "after": PartKind("caption about", places="photograph shows"),
            "after-notes": PartKind("about columns", places="photograph"),
        },
    ),
    "built-record": PartKind("heading text columns", of="work", own="where as-specified"),
}
_OWNER: Final = {
    "title": PartKind(kept=_IDENTITY),
    "job": PartKind(kept=_IDENTITY),
    "look": PartKind("heading lines", lines="work"),
    "care": PartKind("heading lines", lines="work"),
    "never": PartKind("heading lines", lines="work", keeps="all", kept=_CAUTION),
    "mortars": PartKind("heading columns", of="work", own="where mortars"),
}
_LETTER: Final = {
    "title": PartKind(kept=_IDENTITY),
    "job": PartKind(kept=_STATUS),
    "terms": PartKind(
        "heading columns rows", "if_none", of="project", keeps="reference revision tender_return_date tender_return_to",
        kept="a tenderer must know by when and to whom to tender",
    ),
    "enclosed": PartKind("heading lines"),
    "signed": PartKind("heading columns rows", of="project", keeps="specifier", kept="queries go to a named person"),
}  # fmt: skip
_CHANGED: Final = "heading if_none columns"
_ADDENDUM: Final = {
    "title": PartKind(kept=_IDENTITY),
    "job": PartKind(kept=_IDENTITY),
    "about": PartKind(
        "about columns rows",
        own="reference papers what-for by returned",
        keeps="reference papers",
        places="number",
        kept=_CONTROL,
    ),
    "standing": PartKind("text", places="old new", kept="it makes the addendum part of the tender papers"),
    "take-down": PartKind("text", places="old new", kept=_CAUTION),
    "price": PartKind("text", places="old new", kept=_PRICED),
    "changes": PartKind("heading if_none", kept=_PRICED),
    "changed-quantities": PartKind(_CHANGED, own="line what was now difference", kept=_PRICED),
    "changed-lines": PartKind(_CHANGED, own="line change was now", kept=_PRICED),
    "slip": PartKind("heading text columns rows", own="job papers to", places="number"),
}
_STOP: Final = PartKind("lines", "heading", kept=_CAUTION)
_MIX_SCHEDULE: Final = {
    "first-aid": PartKind(
        "lines", own="eye eye-told skin skin-told ambulance eyewash", lines="own", places="number", kept=_CAUTION,
        keeps="eye eye-told skin skin-told ambulance eyewash",
    ),
    "box": PartKind("about lines", kept="counts of boxes mean nothing without the box"),
    "cards": PartKind(
        "parts", inner={"slaking": PartKind("lines", kept=_CAUTION)}, open_=False, kept="mortar is made by it"
    ),
    "never": PartKind(
        "heading lines parts", inner={"quicklime": PartKind("lines", kept=_CAUTION)}, open_=False, kept=_CAUTION
    ),
    "stop": PartKind(
        "heading lines parts",
        inner=dict.fromkeys(("indoors", "both", "wash", "wash-indoors", "wash-beside"), _STOP),
        open_=False,
        kept=_CAUTION,
    ),
    "wear": PartKind("heading lines", kept=_CAUTION),
    TEXT: PartKind("name heading lines"),
}  # fmt: skip


_RULES: Final = {"rules": PartKind("lines", places="threshold least_run", kept=_PRICED)}


def _paper(inner: Mapping[str, PartKind], opening: str = "", places: str = "", *, open_: bool = True) -> PartKind:
    """A whole paper, as a part with a title."""
    return PartKind("title parts", inner=inner, opening=opening, places=places, open_=open_)


PAPERS: Final[Mapping[str, PartKind]] = {
    "specification": _paper(_SPECIFICATION, "cover front clauses tables schedule"),
    "mix-schedule": _paper(_MIX_SCHEDULE, "first-aid", open_=False),
    "pricing-schedule": _paper(_RULES, open_=False),
    "survey-sheet": _paper(_SURVEY, "title"),
    "officer-summary": _paper(_OFFICER, "title job"),
    "site-records": _paper(_RECORDS),
    "owner-page": _paper(_OWNER, "title job"),
    "covering-letter": _paper(_LETTER, "title job"),
    "addendum": _paper(_ADDENDUM, "title job", places="number"),
}
"""The papers by name, each with the parts that it can have."""


def kind_of(name: str, around: PartKind) -> PartKind | None:
    """The kind of a part inside another; None where there is none of that name."""
    return around.inner.get(name) or (WORDS if name == TEXT and around.open_ else None)
