"""The mix schedule: a page for the mixing place, its cautions, its box, and a card for each mix."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from generator.document.card import FirstAid, MixPage
from generator.document.model import Inlines, Strong, Text, Value
from generator.document.template import TEXT, PaperPart, filled
from generator.drawing.code import MOST_CHARACTERS
from generator.job.job import Job, words
from generator.measure.model import MixSheetFacts, decimal
from generator.papers.mix_cards import Heaps, card, coded, panels
from generator.questionnaire.scopes import PROJECT
from generator.values import replace

_THREE_QUARTERS: Final = Decimal("0.75")
_NOTICES: Final = ("never", "stop", "wear", TEXT)


def mix_schedule(job: Job) -> MixPage:
    """The page of the whole job; what does not fit one page is for the renderer to say."""
    paper = job.paper("mix-schedule")
    heaps, batches = Heaps(job), job.measured.batches
    box = paper.part("box")
    cards = tuple(
        replace(
            card(job, made, heaps),
            box=tuple(_box(job, box, heaps, [made])),
            by_jug=_in_litres([made]),
            notices=tuple(_notices(job, [made])),
            code=_code(job, [made]),
        )
        for made in batches
    )
    return MixPage(
        identity=job.identity(paper.title),
        title=job.word("card-title", title=job.said("title")),
        issue=_issue(job),
        hints=job.told("card-hints"),
        set_up=_set_up(job),
        panels=panels(job, batches),
        first_aid=_first_aid(job, paper.part("first-aid")),
        box=tuple(_box(job, box, heaps, batches)),
        box_shows=box.about,
        by_jug=_in_litres(batches),
        jug_shows=job.word("card-jug-shows"),
        cards=cards,
        notices=tuple(_notices(job, batches)),
        code=_code(job, batches),
        code_shows=job.word("card-code-shows"),
        no_cards=job.word("sheet-no-mix"),
    )


def _issue(job: Job) -> Inlines:
    """Which page this one is, as an older one left on the wall harms."""
    revision = words(job.word("card-revision", revision=job.said("revision")))
    identity = job.identity()
    return job.told(
        "card-issue",
        reference=Value("reference", PROJECT, identity.reference),
        revision=Strong(revision),
        date=Value("issue_date", PROJECT, identity.issued),
        older=Text(job.word("card-older-last", last=job.replaces) if job.replaces else job.word("card-older")),
    )


def _set_up(job: Job) -> Inlines:
    """When the place where the page hangs is set up; nothing where no mortar is made."""
    day = job.facts.spoken(PROJECT, "mixing_set_up_date")
    return job.told("card-set-up", day=Value("mixing_set_up_date", PROJECT, day)) if day else ()


def _first_aid(job: Job, part: PaperPart) -> FirstAid:
    """What is done first, and the number to call: of the country whose English the papers are in."""
    said = part.lines
    number = job.word(f"card-call-{job.facts.at_scope(PROJECT).text('language')}")
    return FirstAid(
        said["eye"],
        words(said["eye-told"]),
        said["skin"],
        words(said["skin-told"]),
        (filled(said["ambulance"], number=number), said["eyewash"]),
    )


def _box(job: Job, part: PaperPart, heaps: Heaps, batches: Sequence[MixSheetFacts]) -> Iterator[Inlines]:
    """The box, and the jug and heaps of the mixes of a page."""
    if alone := _in_litres(batches):
        yield job.told("card-jug", jug=Strong(words(job.word("card-jug-lines"))))
    else:
        litres = Value("gauge_box_l", PROJECT, job.said("gauge_box_l"))
        word = "card-box-three-quarters" if any(map(_has_three_quarters, batches)) else "card-box"
        yield job.told(word, box=Strong(job.told("card-box-holds", litres=litres)))
    sand = any(made.mix.recipe.making != "limewash" for made in batches)
    by_jug = not alone and any(made.by_jug or "jug" in _own_measures(made) for made in batches)
    yield words(part.lines[f"{'sand' if sand else 'no-sand'}{'-and-jug' if by_jug else ''}"])
    if letters := heaps.letters_of(batches):
        yield words(job.word("card-heap-one" if len(letters) == 1 else "card-heaps", heaps=", ".join(letters)))


def _own_measures(made: MixSheetFacts) -> set[str]:
    """What the batches of its own, for panel or filling, are measured in."""
    return {batch.measure for batch in (made.made.panel, made.made.filling) if batch is not None}


def _in_litres(batches: Sequence[MixSheetFacts]) -> bool:
    """Whether nothing of these mixes is measured by the box; of what is stored, boxes are taken."""
    return bool(batches) and all(
        made.by_jug
        and not made.keeps
        and _own_measures(made) <= {"jug"}
        and not any(made.measured_out(count)[0] for count in (made.lime, *made.sand_counts))
        for made in batches
    )


def _has_three_quarters(made: MixSheetFacts) -> bool:
    """Whether a count of a mix, or of a batch of its own for panel or filling, ends in three quarters of a box."""
    own = [batch for batch in (made.made.panel, made.made.filling) if batch is not None and batch.measure != "jug"]
    counts = [made.measured_out(count)[0] for count in (made.lime, *made.sand_counts)]
    counts += [decimal(count) for batch in own for count in batch.counts]
    return any(count % 1 == _THREE_QUARTERS for count in counts)


def _notices(job: Job, batches: Sequence[MixSheetFacts]) -> Iterator[Inlines]:
    """What is never done, when to stop, what to wear and who alone changes a mix: each led by its strong words."""
    hot = any(made.mix.recipe.making == "hot-mix" for made in batches)
    instead = _where(job, batches), _washed(job, batches)
    for part in job.paper("mix-schedule").parts:
        if part.part in _NOTICES:
            inner, own, heading = part.inner("quicklime"), dict(part.lines), part.heading
            for other in filter(None, map(part.inner, instead)):
                own |= other.lines
                heading = other.heading or heading
            lines = (*own.values(), *(inner.lines.values() if inner and hot else ()))
            changes = (Text(" "), *_changes(job)) if part.part == "wear" else ()
            yield (Strong(words(heading)), Text(f" {' '.join(lines)}"), *changes)


def _where(job: Job, batches: Sequence[MixSheetFacts]) -> str:
    """Where the mixes of the page are laid: `indoors`, `outdoors` or `both`."""
    scopes = [path for made in batches for path in made.mix.used_for]
    laid = {job.facts.at_scope(path).text("position") == "indoors" for path in scopes}
    return "both" if len(laid) > 1 else "indoors" if True in laid else "outdoors"


def _washed(job: Job, batches: Sequence[MixSheetFacts]) -> str:
    """What is told of damping where mixes of the page are washes; "" where none is."""
    washes = {made.mix.recipe.making == "limewash" for made in batches}
    if washes != {True}:
        return "wash-beside" if True in washes else ""
    return "wash-indoors" if _where(job, batches) == "indoors" else "wash"


def _changes(job: Job) -> Inlines:
    """Who alone changes a mix."""
    who = job.told("card-changes-who", specifier=Value("specifier", PROJECT, job.said("specifier")))
    contact = Value("specifier_contact", PROJECT, job.said("specifier_contact"))
    return job.told("card-changes", who=Strong(who), contact=contact)


def _code(job: Job, batches: Sequence[MixSheetFacts]) -> str:
    """Reference, revision and the boxes of each of the mixes in plain text, as many mixes as a code holds."""
    text = job.word("card-code", reference=job.said("reference"), revision=job.said("revision"))
    for made in batches:
        more = f"{text} {coded(job, made)}"
        if len(more.encode()) > MOST_CHARACTERS:
            break
        text = more
    return text
