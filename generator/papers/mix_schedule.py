"""The site sheet: for the mixing place, which mix goes where and the boxes of a batch."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from generator.document.model import MixSheet, SheetBlock, SheetMix
from generator.document.template import PaperPart
from generator.job.job import Job
from generator.measure.measure import pozzolan_measure
from generator.measure.model import MixSheetFacts
from generator.values import plain


def mix_schedule(job: Job) -> MixSheet:
    """The sheet of the whole job; what does not fit one page is for the renderer to say."""
    mixes = tuple(_mix(job, made) for made in job.measured.batches) or (_none_settled(job),)
    paper = job.paper("mix-schedule")
    return MixSheet(
        job.identity(paper.title),
        job.said("place"),
        _replaces(job),
        mixes,
        dict(paper.part("mixes").lines),
        tuple(_block(job, part) for part in paper.parts if part.part != "mixes"),
        job.word("sheet-tally"),
        job.word("sheet-signs", specifier=job.said("specifier"), contact=job.said("specifier_contact")),
    )


def _replaces(job: Job) -> str:
    """Which sheet this one is, and which it replaces: a sheet left on the wall is what harms."""
    revision = job.said("revision")
    if job.replaces:
        return job.word("sheet-replaces-last", revision=revision, last=job.replaces)
    return job.word("sheet-replaces", revision=revision)


def _none_settled(job: Job) -> SheetMix:
    """What stands in place of a mix while none is settled, so that nobody makes mortar by an old sheet."""
    nothing, none = job.word("nothing"), job.word("none")
    return SheetMix(nothing, job.word("sheet-no-mix"), "", none, "", "", "", "", "", "", "", "", "")


def _mix(job: Job, made: MixSheetFacts) -> SheetMix:
    path, recipe = made.mix.path, made.mix.recipe

    def said(name: str) -> str:
        return job.facts.spoken(path, name)

    layers = dict.fromkeys(job.facts.spoken(coat, "layer_mm") for coat in made.mix.used_for)
    damp = dict.fromkeys(job.facts.spoken(coat, "damp_days") for coat in made.mix.used_for)
    return SheetMix(
        ref=made.mix.ref,
        name=said("mix_walls"),
        where="",
        boxes=_boxes(job, made),
        batch=_makes(job, made),
        lime="",
        sand=_sand(job, made),
        method=job.word(f"sheet-method-{recipe.making}", rest=said("mix_rest_days")),
        use="",
        layer=job.word(
            "sheet-thin-coats" if recipe.making == "limewash" else "sheet-layer",
            layer=" / ".join(layers),
            damp=" / ".join(damp),
        ),
        damp="",
        hair=job.word("sheet-hair", hair=said("mix_hair_g")) if made.hair_g else "",
        ratio=_ratio(job, made),
        nevers=_lines(job.paper("mix-schedule").part("quicklime")) if recipe.making == "hot-mix" else (),
    )


def _ratio(job: Job, made: MixSheetFacts) -> str:
    """The gauge and what it is on dry sand, and for quicklime what it slakes to."""
    gauge, dry, putty = (
        job.facts.spoken(made.mix.path, name) for name in ("mix_gauge", "mix_dry_ratio", "mix_putty_ratio")
    )
    if made.mix.recipe.making == "limewash":
        return job.word("sheet-ratio-limewash", gauge=gauge)
    if made.putty_ratio is None:
        return job.word("sheet-ratio", gauge=gauge, dry=dry)
    return job.word("sheet-ratio-slaked", gauge=gauge, dry=dry, putty=putty)


def _boxes(job: Job, made: MixSheetFacts) -> str:
    """The box counts in the fewest words: they stand in the largest type."""
    lime, sand = job.library.materials[made.mix.recipe.lime], job.library.materials[made.mix.recipe.sand]
    text = job.word(
        "sheet-boxes",
        lime_boxes=plain(made.lime_boxes),
        lime=lime.box or lime.short,
        sand_boxes=plain(made.sand_boxes),
        sand=sand.box or sand.short,
    )
    if not made.mix.recipe.pozzolan:
        return text
    pozzolan = job.library.materials[made.mix.recipe.pozzolan]
    return job.word(
        "sheet-boxes-pozzolan",
        boxes=text,
        litres=pozzolan_measure(made, job.library),
        pozzolan=pozzolan.box or pozzolan.short,
    )


def _sand(job: Job, made: MixSheetFacts) -> str:
    short = job.library.materials[made.mix.recipe.sand].short
    grain = job.facts.spoken(made.mix.path, "mix_grain_mm")
    return job.word("sheet-sand", sand=short, grain=grain) if made.mix.grain_mm else short


def _block(job: Job, part: PaperPart) -> SheetBlock:
    """A titled list of the page."""
    lines = (_weather(job), *_lines(part)) if part.part == "weather" else _lines(part)
    return SheetBlock(part.heading, lines, never_shrunk=part.part == "first-aid", of_mixes=part.part == "never")


def _lines(part: PaperPart) -> tuple[str, ...]:
    return tuple(part.lines.values())


def _weather(job: Job) -> str:
    """Between which temperatures mortar may be placed, whichever mix it is."""
    lowest, highest = _worst(job, "lowest_c", max), _worst(job, "highest_c", min)
    if not (lowest and highest):
        return job.word("sheet-weather-open")
    return job.word("sheet-weather", lowest=lowest, highest=highest)


def _makes(job: Job, made: MixSheetFacts) -> str:
    """What a batch makes and covers, and how long it may be used: only a set or hair puts an end to lime."""
    recipe, path = made.mix.recipe, made.mix.path
    if made.hair_g and recipe.making != "nhl" and not recipe.pozzolan:
        use = job.word("sheet-use-haired")
    elif recipe.making in ("putty", "hot-mix") and not recipe.pozzolan:
        use = job.word("sheet-use-keeps")
    else:
        use = job.word("sheet-use-within", time=job.facts.spoken(path, "mix_use_within_hours"))
    litres, covers = job.facts.spoken(path, "mix_batch_l"), job.facts.spoken(path, "mix_covers_m2")
    if not covers:
        return job.word("sheet-makes", litres=litres, use=use)
    return job.word("sheet-makes-covers", litres=litres, covers=covers, use=use)


def _worst(job: Job, name: str, pick: Callable[[list[Decimal]], Decimal]) -> str:
    """The limit that suits every mix of the job: the highest of the lowest, the lowest of the highest; else empty."""
    mortars = [scope.path for scope in job.facts.at("coat") if job.facts.get(scope.path, "coat") != "wash"]
    values = [job.facts.get(path, name) for path in mortars]
    known = [value for value in values if isinstance(value, Decimal)]
    return job.facts.say(name, pick(known)) if known else ""
