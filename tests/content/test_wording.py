"""The wording of all that a reader sees: short sentences, nothing left to taste, British spelling, no names of makers.

A requirement with "adequate" or "as necessary" in it cannot be failed, and so cannot be priced or checked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

import pytest
import yaml
from jobs import ROOT, shipped

LONGEST: Final = 40
# What a contractor must do or price; the rest is told to the specifier and the owner.
BINDING: Final = {
    "clause": ("text", "check"),
    "finding": ("instruction",),
    "item": ("description", "includes"),
    "operation": ("text",),
    "hold": ("what", "released_by", "notice"),
}
TOLD: Final = {"clause": ("title", "because", "advice"), "finding": ("message", "action")}
HEDGES: Final = re.compile(
    r"\b(should|as appropriate|appropriate(?:ly)?|as necessary|if necessary|where necessary|as required|if required"
    r"|adequate(?:ly)?|suitabl[ey]|sufficient(?:ly)?|where possible|if possible|wherever possible|best practice"
    r"|good practice|reasonabl[ey]|approved equal|or similar|or equivalent|to the satisfaction|satisfactor(?:y|ily)"
    r"|properly|carefully|due care|etc|and so on|generally|normally|usually|preferably|ideally|workmanlike)\b",
    re.IGNORECASE,
)
AMERICAN: Final = re.compile(
    r"\b("
    # roots, whatever follows; the British word beside them differs in the root itself
    r"(?:un|dis|re)?(?:color|mold|fiber|neighbor|odor|honor|favor|harbor|plow|sulfat|sulfur|caliber|aluminum|skillful)\w*"
    r"|labor(?!at)\w*|gray\w*|center\w*|liters?|\w*(?:al|ar|an|in|il|ni|gni)(?:iz(?:e|es|ed|ing|ation))"
    r"|analyz\w*|catalog|judgment|program|leveled|leveling|modeled|traveled|labeled|curb|curbs|cozy|jewelry"
    r")\b|\d meters?\b",  # a meter is an instrument; a metre is not
    re.IGNORECASE,
)
# Words that begin with a capital within a sentence, and may: bonds and lands, scales, days and months.
CAPITALS: Final = frozenset(
    {
        "English", "Flemish", "American", "Australian", "British", "European", "Scottish", "Roman", "Portland",
        "Celsius", "Europe", "England", "Scotland", "Wales", "Britain", "North", "Christmas", "Monday", "Tuesday",
        "Wednesday", "Thursday", "Friday", "Saturday", "Saturdays", "Sunday", "Sundays", "January", "February",
        "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
    }
)  # fmt: skip
# Places where a word that is caught is meant, and why: (kind, id, the word).
ALLOWED: Final[dict[tuple[str, str, str], str]] = {
    ("word", "page-package-no-pdf", "libreoffice"): "what is lacking has a name to look for",
    ("word", "package-no-office", "libreoffice"): "what is lacking has a name to look for",
}

Said = tuple[str, str, str, str]


def said(fields: dict[str, tuple[str, ...]]) -> Iterator[Said]:
    """Kind, id, field and text of everything said in some fields."""
    library = shipped()
    entries = {
        "clause": library.clauses, "finding": library.findings, "item": library.items,
        "operation": library.operations, "hold": library.hold_points,
    }  # fmt: skip
    for kind, parts in fields.items():
        for key, entry in entries[kind].items():
            for part in parts:
                if text := getattr(entry, part):
                    yield kind, key, part, re.sub(r"\[\]\((\w+):[^)]*\)", r"\1 1.1", text)


def words() -> Iterator[Said]:
    """The fixed words and all that papers say in their parts, in the same form."""
    for key, text in shipped().words.items():
        yield "word", key, "text", text
    for name, paper in shipped().templates.items():
        for number, text in enumerate(paper.said()):
            yield "paper", name, str(number), text


BOUND = list(said(BINDING))
EVERYTHING = [*BOUND, *said(TOLD), *words()]


def sentences(text: str) -> list[str]:
    """The sentences of a text; a point of a list is one, and so is a value in it."""
    plain = re.sub(r"\{\{.*?\}\}|\{\w+\}", "X", text)
    lines = re.split(r"\n\s*(?:[-*]|\d+\.)\s+|\n\n|(?<=[.!?])\s+", plain)
    return [" ".join(line.split()) for line in lines if line.strip()]


def caught(pattern: re.Pattern[str], texts: list[Said]) -> list[str]:
    """Where a pattern is found and not allowed: `kind id field: word`."""
    return [
        f"{kind} {key} {part}: {match[0]}"
        for kind, key, part, text in texts
        for match in pattern.finditer(text)
        if (kind, key, match[0].lower()) not in ALLOWED
    ]


def test_no_sentence_is_longer_than_forty_words() -> None:
    long = [
        f"{kind} {key} {part}: {len(sentence.split())} words: {sentence}"
        for kind, key, part, text in EVERYTHING
        for sentence in sentences(text)
        if len(sentence.split()) > LONGEST
    ]
    assert long == []


def test_nothing_that_binds_is_left_to_taste() -> None:
    assert caught(HEDGES, BOUND) == []


def test_spelling_is_british() -> None:
    assert caught(AMERICAN, EVERYTHING) == []


def test_the_spelling_check_catches_and_lets_pass_what_it_must() -> None:
    for word in ("color", "gray", "molding", "fiber", "3 meters", "sulfate", "analyze", "neighboring", "labor"):
        assert AMERICAN.search(word), word
    for word in ("colour", "coloured", "grey", "moulding", "fibre", "metre", "sulphate", "laboratory", "programme"):
        assert not AMERICAN.search(word), word


CAPITAL: Final = re.compile(r"(?<=[a-z,;)%0-9] )[A-Z][a-z]+\w*")


def test_no_word_has_a_capital_like_a_brand_within_a_sentence() -> None:
    """A maker's name would be a capital within a sentence; what may have one is listed."""
    odd = [
        f"{kind} {key} {part}: {match[0]}"
        for kind, key, part, text in EVERYTHING
        for sentence in sentences(text)
        for match in CAPITAL.finditer(sentence)
        if match[0] not in CAPITALS and (kind, key, match[0].lower()) not in ALLOWED
    ]
    assert odd == []


def test_no_mark_of_a_maker_stands_anywhere() -> None:
    assert caught(re.compile("[®™©]"), EVERYTHING) == []


def test_every_place_that_is_allowed_is_there_and_still_needs_it() -> None:
    texts = {(kind, key): "" for kind, key, _, _ in EVERYTHING}
    for kind, key, _, text in EVERYTHING:
        texts[kind, key] += text.lower()
    assert [place for place in ALLOWED if place[2] not in texts.get(place[:2], "")] == []


WHOLE_SENTENCES: Final[dict[str, tuple[str, ...]]] = {
    "clause": ("text", "check", "because"),
    "finding": ("message", "action", "instruction"),
    "operation": ("text",),
}


@pytest.mark.parametrize("kind", WHOLE_SENTENCES)
def test_every_text_ends_like_a_sentence(kind: str) -> None:
    texts = said({kind: WHOLE_SENTENCES[kind]})
    cut = [f"{key} {part}: {text[-30:]}" for _, key, part, text in texts if text.strip()[-1] not in ".:)}"]
    assert cut == []


def test_questions_ask_in_words_of_their_own() -> None:
    """Labels and reasons of questions keep to the same spelling and carry no maker's mark."""
    found = [
        ("question", item["name"], part, str(item.get(part, "")))
        for path in sorted((ROOT / "clauses" / "questions").glob("*.yaml"))
        for item in yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)["questions"]
        for part in ("label", "why", "how")
    ]
    assert caught(AMERICAN, found) == []
    assert caught(re.compile("[®™©]"), found) == []


def test_findings_and_questions_tell_an_answer_by_its_words_and_not_by_its_name_in_the_file() -> None:
    library = shipped()
    names = {name for name in library.questionnaire.questions if "_" in name}
    said = [(code, part, getattr(it, part)) for code, it in library.findings.items() for part in ("message", "action")]
    said += [
        (key, part, getattr(it, part))
        for key, it in library.questionnaire.questions.items()
        for part in ("label", "why", "how")
    ]
    bare = [(key, part, re.sub(r"\{\{.*?\}\}|\{\w+\}", "", text)) for key, part, text in said]
    assert [(key, part, word) for key, part, text in bare for word in re.findall(r"\w+", text) if word in names] == []


def test_no_question_of_the_sheet_for_the_wall_names_a_command_of_the_program() -> None:
    questions = shipped().questionnaire.questions.values()
    assert not [one.name for one in questions if re.search(r"\bgaugebox\b", " ".join((one.label, one.why, one.how)))]


def test_a_value_that_differs_from_wall_to_wall_is_named_in_its_sentence_by_words_that_read_there() -> None:
    """'The salts here come from: the where the salts come from given below' was the label of a question."""
    library = shipped()
    printed = {
        name
        for clause in library.clauses.values()
        if clause.per != "project"
        for name in re.findall(r"\{\{ (\w+)", f"{clause.text} {clause.check}")
        if name in library.names and library.names[name].scope != "project"
    }
    labels = {name: library.names[name].label for name in printed if not library.names[name].phrase}
    asking = {name for name, label in labels.items() if "," in label or re.match("Wh|How", label)}
    assert asking == set()
