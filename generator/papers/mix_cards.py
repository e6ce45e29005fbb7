"""The card of a mix on the mix schedule: its counts, water, steps, life and limits, from what was measured."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from string import ascii_uppercase
from typing import Final

from generator.decide.model import Mix
from generator.document.card import Card, Count, Step
from generator.document.model import Inline, Inlines, Strong, Text, Value, joined
from generator.drawing.measures import Fill, Ground, mark_of
from generator.job.job import Job, words
from generator.measure.model import MixSheetFacts
from generator.measure.stuff_taken import taking
from generator.questionnaire.scopes import ScopePath
from generator.values import Customs, Range, replace, spoken

_GROUNDS: Final[dict[str, Ground]] = {
    "putty": "putty", "limewash": "putty", "nhl": "hydraulic", "hot-mix": "quicklime",
}  # fmt: skip
_GRIT: Final = "sand-coarse"
_MOST_WALLS: Final = 90
_MOST_VALUES: Final = 4


def ground_of(mix: Mix) -> Ground:
    """The ground that tells the lime of a mix."""
    return _GROUNDS[mix.recipe.making]


class Heaps:
    """The heaps of sand of a job: one sand to one grain is one heap, with a letter of its own."""

    def __init__(self, job: Job) -> None:
        sands = dict.fromkeys(_heaps(job.measured.batches))
        self._of = {sand: _letter(index) for index, sand in enumerate(sands)}

    def letters_of(self, batches: Iterable[MixSheetFacts]) -> list[str]:
        """The letters of the heaps that some mixes take, in their order."""
        taken = set(_heaps(batches))
        return [letter for heap, letter in self._of.items() if heap in taken]

    def letter(self, made: MixSheetFacts, name: str) -> str:
        """The letter on the board at the heap of a sand that a mix takes."""
        return self._of[_heap(made, name)]


def _heaps(batches: Iterable[MixSheetFacts]) -> Iterator[tuple[str, Decimal]]:
    """The heaps of mixes, each as often as it is taken from; limewash takes none."""
    mixed = (made for made in batches if made.mix.recipe.making != "limewash")
    return (_heap(made, name) for made in mixed for name, _ in made.sands)


def _heap(made: MixSheetFacts, name: str) -> tuple[str, Decimal]:
    return name, made.mix.grain_mm


def _letter(index: int) -> str:
    turn, place = divmod(index, len(ascii_uppercase))
    return ascii_uppercase[place] + (str(turn + 1) if turn else "")


def card(job: Job, made: MixSheetFacts, heaps: Heaps) -> Card:
    """The card of a mix."""
    making = made.mix.recipe.making
    mark = mark_of(made.mix.ref)
    use_by, use_told = _use(job, made)
    return Card(
        ref=made.mix.ref,
        mark=mark,
        mark_told=job.word(f"card-mark-{mark}"),
        ground=ground_of(made.mix),
        walls=_walls(job, made),
        counts=(*_lime(job, made), *_sands(job, made, heaps)),
        water=_water(job, made),
        makes=_makes(job, made),
        panel=_panel(job, made) if made.made.panel is None else (),
        steps=tuple(_steps(job, made.mix.path)),
        use_by=use_by,
        use_told=words(use_told),
        facts=tuple(_facts(job, made)),
        notes=_slaking(job) if making == "hot-mix" else (),
        added=tuple(_added(job, made)),
        in_pictures=making == "hot-mix",
    )


def coded(job: Job, made: MixSheetFacts) -> str:
    """The boxes of a mix in plain text."""
    lime, sand = (job.library.materials[key] for key in (made.mix.recipe.lime, made.mix.recipe.sand))
    names = [name for name, _ in made.sands] if len(made.sands) > 1 else [sand.box or sand.short]
    counts = zip((made.lime, *made.sand_counts), (lime.box or lime.short, *names), strict=True)
    told = " ".join(f"{_coded(job, made, count)} {name}" for count, name in counts)
    return job.word("card-code-mix", mix=made.mix.ref, counts=told)


def _coded(job: Job, made: MixSheetFacts, count: Decimal) -> str:
    """A count in few letters; plain where all is in boxes."""
    boxes, litres = (f"{part.normalize():f}" if part else "" for part in made.measured_out(count))
    if not made.by_jug:
        return boxes
    if not boxes:
        return job.word("card-code-jug", litres=litres)
    return job.word("card-code-boxes-jug" if litres else "card-code-boxes", boxes=boxes, litres=litres)


def _walls(job: Job, made: MixSheetFacts) -> str:
    """Where it goes; how many walls, where their names would leave no room for anything else."""
    named = job.facts.spoken(made.mix.path, "mix_walls")
    walls = {path[:1] for path in (*made.mix.used_for, *(work.path for work, _ in taking(made.mix.ref, job.facts)))}
    if len(named) <= _MOST_WALLS:
        return named
    return job.facts.title(*walls) if len(walls) == 1 else job.word("card-walls-many", count=str(len(walls)))


# --- what goes in -----------------------------------------------------------------------------------------


def _lime(job: Job, made: MixSheetFacts) -> Iterator[Count]:
    recipe = made.mix.recipe
    lime = job.library.materials[recipe.lime]
    fill: Fill = "quicklime" if recipe.making == "hot-mix" else "lime"
    told = words(job.word(f"card-lime-{recipe.making}"))
    yield from _counted(job, made, made.lime, Count(lime.box or lime.short, told, fill, made.lime))


def _counted(job: Job, made: MixSheetFacts, count: Decimal, one: Count) -> Iterator[Count]:
    """A part in boxes or by the jug; one that is more than a box by the jug as whole boxes, then the rest."""
    boxes, litres = made.measured_out(count)
    by_jug = replace(one, boxes=None, litres=litres, unit=job.word("card-litres")) if litres else None
    if boxes and by_jug:
        yield _said(job, replace(one, name=job.word("card-boxes-first", what=one.name), boxes=boxes))
        yield _said(job, replace(by_jug, name=job.word("card-then-jug", what=one.name), told=()))
    else:
        yield _said(job, by_jug or replace(one, boxes=boxes))


def _said(job: Job, one: Count) -> Count:
    """A count with its number as the readers of these papers have it, which is said where it differs."""
    told = job.facts.spelling.count(one.amount)
    return one if told == one.number else replace(one, said=told)


def _sands(job: Job, made: MixSheetFacts, heaps: Heaps) -> Iterator[Count]:
    """Each sand by its one name, with its grain and its heap; water for limewash."""
    recipe = made.mix.recipe
    if recipe.making == "limewash":
        told = words(job.word("card-wash-water-told"))
        count = made.sand_counts[0]
        yield from _counted(job, made, count, Count(job.word("card-wash-water"), told, "water", count))
        return
    # sands of one mix are told apart by their marks too
    fills: tuple[Fill, ...] = ("grit", "sand") if recipe.sand == _GRIT and len(made.sands) == 1 else ("sand", "grit")
    grain = job.word("card-grain", grain=job.facts.spoken(made.mix.path, "mix_grain_mm"))
    for index, ((name, _), count) in enumerate(zip(made.sands, made.sand_counts, strict=True)):
        told = words(job.word("card-heap", grain=grain, heap=heaps.letter(made, name)))
        shown = name if len(made.sands) > 1 else job.library.materials[recipe.sand].short
        yield from _counted(job, made, count, Count(shown, told, fills[index % 2], count))


def _water(job: Job, made: MixSheetFacts) -> Inlines:
    making = made.mix.recipe.making
    if making == "hot-mix":
        return job.told("card-water-hot-mix", litres=_strong(job, made.mix.path, "mix_water_l"))
    return (Strong(words(job.word(f"card-water-{making}"))),)


def _added(job: Job, made: MixSheetFacts) -> Iterator[Inlines]:
    """A pozzolan by a measure of its own."""
    if made.mix.recipe.pozzolan:
        material = job.library.materials[made.mix.recipe.pozzolan]
        litres = _strong(job, made.mix.path, "mix_pozzolan_l")
        yield job.told("card-pozzolan", what=Strong(words(material.box or material.short)), litres=litres)


def _makes(job: Job, made: MixSheetFacts) -> Inlines:
    path = made.mix.path
    covers = job.facts.spoken(path, "mix_covers")
    litres, often = _strong(job, path, "mix_batch_l"), _strong(job, path, "mix_batches")
    own: Inlines = ()
    if made.made.filling:
        own = job.told("card-makes-filling", filling=_strong(job, path, "mix_filling_boxes"))
    if made.made.panel is not None:
        own = (*own, *_panel(job, made))
    if not covers:
        return (*job.told("card-makes", litres=litres, batches=often), *own)
    told = job.told("card-makes-covers", litres=litres, covers=Value("mix_covers", path, covers), batches=often)
    return (*told, *own)


def panels(job: Job, batches: Sequence[MixSheetFacts]) -> Inlines:
    """What panels take of each mix whose card may leave it out, in one line; empty where there is none."""
    taken = (made for made in batches if made.made.panel is None)
    told = [each for made in taken if (each := _panel(job, made, "card-panels-one", mix=Text(made.mix.ref)))]
    return (*job.told("card-panels"), *joined(told, "; "), Text(".")) if told else ()


def _panel(job: Job, made: MixSheetFacts, word: str = "card-makes-panel", **own: Inline) -> Inlines:
    """What is mixed for the panel, and its damp days where those of its month are others than its coat is laid with."""
    names = "kept_damp_days", "panel_coat_damp_days"
    pairs = (tuple(job.facts.spoken(path, name) for name in names) for path in made.mix.used_for)
    longer = any(panel and panel != coat for coat, panel in pairs)
    boxes = _strong(job, made.mix.path, "mix_panel_boxes")
    if not job.facts.spoken(made.mix.path, "mix_panel_boxes"):
        return ()
    if not longer:
        return job.told(word, boxes=boxes, **own)
    return job.told(f"{word}-damp", boxes=boxes, damp=_shared(job, made, "panel_coat_damp_days"), **own)


# --- what is done, and how long it lasts ------------------------------------------------------------------


def _steps(job: Job, path: ScopePath) -> Iterator[Step]:
    """The steps of making it, with their pictures, in the order of the library."""
    for entry in job.library.operations.values():
        if entry.per == "mix" and job.library.condition("operation", entry.id).stands(job.facts, path):
            text = job.filling.line("operation", entry.id, "text", path)
            yield Step(text, entry.picture, entry.shows, job.filling.minutes(entry.id, path))


def _use(job: Job, made: MixSheetFacts) -> tuple[str, str]:
    """How long a batch may be used, and what becomes of the rest: only a set or hair puts an end to lime."""
    recipe = made.mix.recipe
    within = job.facts.spoken(made.mix.path, "mix_use_within_hours")
    if recipe.pozzolan:
        return within, job.word("card-use-pozzolan")
    if made.made.hair_g and made.keeps:
        return job.word("card-use-haired"), job.word("card-use-haired-told")
    if made.keeps:
        return job.word("card-use-keeps"), job.word(f"card-use-keeps-{recipe.making}")
    return within, job.word("card-use-within")


def _slaking(job: Job) -> tuple[Inlines, ...]:
    people = job.word("card-slaking-people", clear=job.facts.spoken((), "slaking_clear_m"))
    return (*(words(line) for line in job.paper("mix-schedule").part("slaking").lines.values()), words(people))


# --- the limits of this mix -------------------------------------------------------------------------------


def _facts(job: Job, made: MixSheetFacts) -> Iterator[Inlines]:
    """Layer and damp days, cover and temperatures of the coats that take this mix, each once."""
    damp = _shared(job, made, "kept_damp_days")
    if made.mix.recipe.making == "limewash":
        yield job.told("card-thin-coats", damp=damp)
        if made.made.vessel_l is not None:
            vessel = spoken(Decimal(str(made.made.vessel_l)), "l", job.facts.spelling, Customs("volume"))
            yield job.told("card-vessel", vessel=Strong(words(vessel)))
    else:
        yield job.told("card-layers", layer=_shared(job, made, "layer_mm"), damp=damp)
    outside = [path for path in made.mix.used_for if job.facts.get(path, "kept_covered_days")]
    if outside:
        yield job.told("card-frost-cover", cover=_shared(job, made, "kept_covered_days"))
    if any(job.facts.get(path, "position") == "indoors" for path in made.mix.used_for):
        yield words(job.word("card-indoors"))
    yield _air(job, made)


def _air(job: Job, made: MixSheetFacts) -> Inlines:
    """The temperatures that suit every coat of this mix."""
    lowest, highest = _limit(job, made, "lowest_c", max), _limit(job, made, "highest_c", min)
    if lowest is None or highest is None:
        return (Strong(words(job.word("card-air-open"))),)
    (least, at), (most, under) = lowest, highest
    spelling, low = job.facts.spelling, job.facts.alone("lowest_c", least)
    dash = spelling.dash if spelling.chooses else "\u2060–\u2060"
    told = (Value("lowest_c", at, low), Text(dash), Value("highest_c", under, job.facts.say("highest_c", most)))
    return job.told("card-air", range=Strong(told))


def _limit(
    job: Job, made: MixSheetFacts, name: str, pick: Callable[[list[Decimal]], Decimal]
) -> tuple[Decimal, ScopePath] | None:
    """The strictest of a limit, with the coat that sets it; None while one is open."""
    found = {path: job.facts.get(path, name) for path in made.mix.used_for}
    known = {path: value for path, value in found.items() if isinstance(value, Decimal)}
    if not known or len(known) < len(found):
        return None
    strictest = pick(list(known.values()))
    return next((value, path) for path, value in known.items() if value == strictest)


def _shared(job: Job, made: MixSheetFacts, name: str) -> Inline:
    """A value of the coats that take the mix, all of them where they differ; of many, the least and the greatest.

    Where coats tell them apart, each is told with its own.
    """
    told: dict[str, Value] = {}
    coats: dict[str, dict[str, None]] = {}
    for path in made.mix.used_for:
        if text := job.facts.spoken(path, name):
            told.setdefault(text, Value(name, path, text))
            coats.setdefault(text, {})[job.facts.scopes[path].title] = None
    apart = len({title for titles in coats.values() for title in titles}) == sum(map(len, coats.values()))
    if apart and len(told) > 1:
        each = ((value, *words(f" {', '.join(coats[text])}")) for text, value in told.items())
        return Strong(joined(each, " / "))
    if len(told) > _MOST_VALUES and (ends := _ends(job, name, told.values())):
        return Strong(job.told("card-many-values", least=ends[0], greatest=ends[1]))
    return Strong(joined(((value,) for value in told.values()), " / ") or words(job.word("to-be-settled")))


def _ends(job: Job, name: str, told: Iterable[Value]) -> tuple[Value, Value] | None:
    """Those of the least and the greatest amount; None where one of them is no amount."""
    amounts: list[tuple[Range[Decimal], Value]] = []
    for value in told:
        found = job.facts.get(value.scope, name)
        if not isinstance(found, Decimal | Range):
            return None
        amounts.append((found if isinstance(found, Range) else Range(found, found, found), value))
    return min(amounts, key=lambda one: one[0].low)[1], max(amounts, key=lambda one: one[0].high)[1]


def _strong(job: Job, path: ScopePath, name: str) -> Inline:
    return Strong((Value(name, path, job.facts.spoken(path, name)),))
