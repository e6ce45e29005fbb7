"""Measuring: quantities of each work, the lines to price, materials to order, and the boxes of each batch."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import partial

from generator.decide.model import Decisions, Mix
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.gauging import Counted
from generator.measure.both_sides import both_sides, no_sides
from generator.measure.causes import MOST_NAMED, under_sums
from generator.measure.face_checks import of_faces
from generator.measure.items import alike, price_lines
from generator.measure.mixing import batch_of
from generator.measure.model import DayFacts, Measured, MixSheetFacts, decimal
from generator.measure.offered import still_to_match, told_unnamed, unlike, unnamed
from generator.measure.ordering import to_order
from generator.measure.outputs import Outputs
from generator.measure.photographs.against import against
from generator.measure.quantities import RULES, Quantities, access_face, unit_size
from generator.measure.shared_access import misnamed, shared_access
from generator.measure.stacked import misplaced, stacked
from generator.measure.stuff_taken import stuff_mixes, taking
from generator.measure.volumes import covered_in
from generator.measure.whole_faces import hands_for_a_day
from generator.questionnaire.changes import recalling
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import PROJECT
from generator.values import METRIC, Customs, Range, Spelling, Struct, Value, joined, plain, replace, rounded, spoken


def measure(decisions: Decisions, library: Library, kept: Kept = AFRESH) -> Measured:
    """Everything measured but lines to price, with the facts it was added to and the findings it raised."""
    facts = decisions.facts
    for rule in RULES:
        facts = facts.adding_each(facts.each_kind("work", partial(_by, rule, library)), "<measure>")
    walls = facts.each_kind("element", lambda wall: {**access_face(wall), **unit_size(wall)})
    facts = facts.adding_each(walls, "<measure>")
    facts = facts.adding_each(shared_access(facts), "<measure>")
    outputs = Outputs(library)
    facts = facts.adding_each(facts.each_kind("work", lambda work: hands_for_a_day(work, outputs)), "<measure>")
    facts = facts.adding_each(under_sums(facts, library), "<measure>")
    facts = facts.adding_each(stacked(facts), "<measure>")
    facts = facts.adding_each(both_sides(facts), "<measure>")
    facts = facts.adding_each(stuff_mixes(facts), "<measure>")
    raised: list[Raised] = [
        *against(facts),
        *of_faces(facts, library),
        *misnamed(facts),
        *misplaced(facts),
        *no_sides(facts),
    ]
    facts = recalling(facts, "measured", kept)
    found = [_batch(mix, facts, outputs, kept) for mix in decisions.mixes]
    batches = [one.told for one in found]
    raised += [each for one in found for each in one.raised]
    facts = facts.adding_each({one.told.mix.path: one.names for one in found}, "<measure>")
    open_ = unnamed(batches, facts, library)
    facts = facts.adding_each(still_to_match(open_), "<measure>")
    raised += [*unlike(batches, facts), *told_unnamed(open_, facts, library)]
    materials = to_order(batches, facts, library, kept)
    return Measured(recalling(facts, "mixed", kept), (), materials, tuple(batches), tuple(raised))


def _by(rule: Callable[[View, Library], Quantities], library: Library, work: View) -> Quantities:
    return rule(work, library)


class _Batch(Struct, frozen=True):
    """A day's batch, the findings it raises, and the names of its mix."""

    told: MixSheetFacts
    raised: tuple[Raised, ...]
    names: Mapping[str, Value]


def _batch(mix: Mix, facts: Facts, outputs: Outputs, kept: Kept) -> _Batch:
    """The batch of a mix: the last one again where nothing is otherwise on its walls."""

    def made() -> _Batch:
        told, raised = batch_of(mix, facts, outputs, kept)
        return _Batch(told, raised, _mix_names(told, facts, outputs.library))

    # what is raised tells where the answers stand that it rests on
    beside = tuple(work.path[:1] for work, _ in taking(mix.ref, facts))
    rests_on = mix, beside, facts.at_scope(PROJECT).marks("mixer_l", "gauge_box_l", "sands_on_offer")
    return facts.recalled(("batch", mix.ref), {*beside, *(path[:1] for path in mix.used_for)}, made, rests_on)


def priced(measured: Measured, facts: Facts, library: Library) -> Measured:
    """What was measured with its lines to price, from the facts once they tell how long access stands."""
    sections, missing = price_lines(facts, library)
    return replace(measured, facts=facts, sections=sections, raised=(*measured.raised, *missing))


def _mix_names(made: MixSheetFacts, facts: Facts, library: Library) -> dict[str, Value]:
    """The names of a mix that texts and tables use."""
    recipe = made.mix.recipe
    values: dict[str, Value] = {
        "mix_name": made.mix.name,
        "mix_making": recipe.making,
        "mix_lime": library.materials[recipe.lime].name,
        "mix_sand": _sand(made, library, facts.spelling),
        "mix_boxes": boxes(made, library, facts.spelling),
        "mix_batch_l": made.batch_l.likely,
        "mix_batches": _batches(made, library, facts.spelling),
        "mix_gauge": f"1 : {facts.spelling.parts(recipe.ratio.chosen)}",
        "mix_dry_ratio": library.words["nothing"] if recipe.making == "limewash" else _ratio(made.dry_ratio, library),
        "mix_putty_ratio": _putty_ratio(made, library),
        "mix_rest_days": recipe.rest_days,
        "mix_use_within_hours": recipe.use_within_hours,
        "mix_pozzolan": bool(recipe.pozzolan),
        "mix_walls": _walls(made.mix, facts, library),
    }
    if made.mix.colour:
        values["mix_colour"] = made.mix.colour
    pointed = {alike(here) for here in map(facts.at_scope, made.mix.used_for) if here.text("coat") == "pointing"}
    if pointed:
        values["panels_nr"] = Decimal(len(pointed))
    if covered := _covers(made, facts):
        values["mix_covers"] = _covered(covered, made, library)
    if panel := panel_boxes(made, library, facts.spelling):
        values["mix_panel_boxes"] = panel
    if made.made.filling is not None:
        values["mix_filling_boxes"] = _filling_boxes(made.made.filling, made, library, facts.spelling)
    if recipe.pozzolan:
        values["mix_pozzolan_name"] = library.materials[recipe.pozzolan].name
    if recipe.lime == "lime-putty":
        values["putty_least_months"] = _putty_age(made.mix, facts, library)
    return values | _amounts(made, library, facts.spelling)


def _amounts(made: MixSheetFacts, library: Library, spelling: Spelling) -> dict[str, Value]:
    """Hair and pozzolan of a batch or of a box drawn, and what slaking asks for, of mixes that have them."""
    doses = {
        "mix_hair_g": spoken(Decimal(made.made.hair_g), "g", spelling) if made.made.hair_g else "",
        "mix_pozzolan_l": _dose_told(made, spelling),
    }
    to = "dose-in-box" if made.keeps else "dose-in-batch"
    slaking = {
        "mix_steam_l": (made.steam_l, ""), "mix_water_l": (made.water_l, "down"), "mix_room_l": (made.room_l, "up"),
    }  # fmt: skip
    return {
        **{name: library.phrase(to, dose=dose) for name, dose in doses.items() if dose},
        **{
            name: spoken(litres, "l", spelling, Customs(kind))
            for name, (litres, kind) in slaking.items()
            if litres is not None
        },
    }


def _dose_told(made: MixSheetFacts, spelling: Spelling) -> str:
    """The pozzolan of a batch or box; one that is a most is not rounded above it."""
    kind = "down" if made.mix.recipe.pozzolan_is_most else ""
    dose = made.made.pozzolan_l
    return spoken(Decimal(str(dose)), "l", spelling, Customs(kind)) if dose else ""


def _covers(made: MixSheetFacts, facts: Facts) -> str:
    """What one batch covers with what drops, from the work that takes most of it to the one that takes least.

    Of joints measured along their length in metres, apart from areas.
    """
    each = {"batch": 1.0, "box": made.made.batch.makes_l / made.box_l, "litre": made.made.batch.makes_l}
    found: dict[str, list[float]] = {}
    for day in made.made.days:
        if not day.task:
            unit = covered_in(facts.at_scope(day.path))
            found.setdefault(unit, []).append(day.covers_m2 * each[day.of])
    return "; ".join(spoken(_from_to(covered), unit, facts.spelling) for unit, covered in found.items())


def _from_to(covered: Sequence[float]) -> Range[Decimal]:
    low, high = (rounded(end, 1 if end < 10 else 0) for end in (min(covered), max(covered)))
    return Range(low, low, high)


def _covered(told: str, made: MixSheetFacts, library: Library) -> str:
    return library.phrase("covers-one-coat", area=told) if made.mix.recipe.making == "limewash" else told


def _batches(made: MixSheetFacts, library: Library, spelling: Spelling) -> str:
    """How often it is made: batches a day, from the wall that takes fewest; of what keeps, loads made before."""
    days = made.made.days
    if not days:
        return library.phrase("batches-to-follow")
    if made.keeps:
        nr = made.batches
        low, likely, high = map(spelling.count, (nr.low, nr.likely, nr.high))
        if low == high:
            return library.phrase("batches-before", count=likely)
        return library.phrase("batches-before-range", count=likely, range=spelling.dash.join((low, high)))
    coats = [day for day in days if not day.task] or days
    told = library.phrase("batches-a-day", count=_a_day(coats, spelling))
    for doing, filled in _filled(days, library) if made.made.filling is None else ():
        if max(day.a_day for day in filled) > max(day.a_day for day in coats):  # else fewer do
            told = library.phrase(f"batches-{doing}", told=told, count=_a_day(filled, spelling))
    mixers = made.made.mixers_nr
    return told if mixers == 1 else library.phrase("batches-mixers", told=told, count=str(mixers))


def _filled(days: Sequence[DayFacts], library: Library) -> Iterator[tuple[str, list[DayFacts]]]:
    """The days on which a mix fills or mends beside its coats, by what is done."""
    for doing in dict.fromkeys(task.fills for task in library.tasks.values() if task.fills):
        if found := [day for day in days if day.task and library.tasks[day.task].fills == doing]:
            yield doing, found


def _a_day(days: Sequence[DayFacts], spelling: Spelling) -> str:
    """The batches of a day, from the fewest to the most."""
    each = [day.a_day for day in days]
    return spelling.dash.join(dict.fromkeys(spelling.count(decimal(end)) for end in (min(each), max(each))))


def _putty_ratio(made: MixSheetFacts, library: Library) -> str:
    """Slaked putty to dry sand, by which mixes are held beside one another; nothing where there is no putty or sand."""
    if made.mix.recipe.making == "putty":
        return _ratio(made.dry_ratio, library)
    return _ratio(made.putty_ratio, library) if made.putty_ratio else library.words["nothing"]


def _ratio(spread: Range[Decimal], library: Library) -> str:
    """A ratio as its likely value, with the range it may have."""
    if spread.single:
        return f"1 : {plain(spread.likely)}"
    return library.phrase("ratio-range", likely=f"1 : {plain(spread.likely)}", range=spoken(spread))


def _sand(made: MixSheetFacts, library: Library, spelling: Spelling) -> str:
    """The sands of a mix, those of a blend with their parts, to its greatest grain."""
    several = len(made.sands) > 1
    name = " + ".join(f"{parts} {sand}" if several else sand for sand, parts in made.sands)
    if not made.mix.grain_mm:
        return name
    return library.phrase("sand-to-grain", sand=name, grain=spoken(made.mix.grain_mm, "mm", spelling, Customs("sieve")))


def boxes(made: MixSheetFacts, library: Library, spelling: Spelling = METRIC) -> str:
    """A batch in words: struck boxes in whole, half and quarter, or litres by the jug, of lime and of each sand."""
    materials, recipe = library.materials, made.mix.recipe
    sands = [name for name, _ in made.sands] if len(made.sands) > 1 else [materials[recipe.sand].short]
    named = zip((made.lime, *made.sand_counts), (materials[recipe.lime].short, *sands), strict=True)
    return " + ".join(_count(count, what, made, library, spelling) for count, what in named)


def _own_boxes(batch: Counted, made: MixSheetFacts, library: Library, spelling: Spelling) -> str:
    """The counts of a batch of its own, lime first, each with what it is of; two by the jug are never parted."""
    pozzolan = [library.words["own-pozzolan"]] if batch.pozzolan else []
    sands = [name for name, _ in made.sands] if len(made.sands) > 1 else [library.words["own-sand"]]
    named = zip(batch.counts, (library.words["own-lime"], *pozzolan, *sands), strict=True)
    told = [_own_count(decimal(count), what, batch.measure == "jug", library, spelling) for count, what in named]
    return ("\u00a0+\u00a0" if batch.measure == "jug" and len(told) == 2 else " +\u00a0").join(told)


def _own_count(count: Decimal, what: str, by_jug: bool, library: Library, spelling: Spelling) -> str:
    told = spelling.count(count)
    if by_jug:
        return library.phrase("litres-of", litres=told, what=what).replace(" ", "\u00a0")
    return library.phrase("box-of" if count <= 1 else "boxes-of", count=told, what=what).replace(" ", "\u00a0")


def panel_boxes(made: MixSheetFacts, library: Library, spelling: Spelling = METRIC) -> str:
    """What a panel takes of a mix: the counts of its own batch, else batches, boxes drawn from store, or litres."""
    if made.made.panel is not None:
        return _own_boxes(made.made.panel, made, library, spelling)
    nr = made.made.panel_nr
    if nr is None:
        return ""
    of, count = made.made.days[0].of, spelling.count(decimal(nr))
    if of == "litre":
        return library.phrase("panel-of-litre", litres=count)
    told = library.phrase(f"panel-of-{of}" + ("-several" if nr > 1 else ""), count=count)
    return library.phrase("panel-a-coat", told=told) if made.made.panel_coats_nr > 1 else told


def _filling_boxes(batch: Counted, made: MixSheetFacts, library: Library, spelling: Spelling) -> str:
    """The counts of the batch of what fills or mends beside coats, and how often a day it is made, by what is done."""
    counts = _own_boxes(batch, made, library, spelling)
    each = ((doing, _a_day(filled, spelling)) for doing, filled in _filled(made.made.days, library))
    return "; ".join(library.phrase(f"own-{doing}", boxes=counts, count=a_day) for doing, a_day in each)


def _count(count: Decimal, what: str, made: MixSheetFacts, library: Library, spelling: Spelling) -> str:
    by_box, litres = made.measured_out(count)
    if not by_box:
        return library.phrase("litres-of", litres=spelling.count(litres), what=what)
    one, told = by_box <= 1, spelling.count(by_box)
    if not litres:
        return library.phrase("box-of" if one else "boxes-of", count=told, what=what)
    phrase = "box-and-litres-of" if one else "boxes-and-litres-of"
    return library.phrase(phrase, count=told, litres=spelling.count(litres), what=what)


def _putty_age(mix: Mix, facts: Facts, library: Library) -> Decimal:
    """The least age of the putty: the setting coat's where it goes on one, else the mortar's."""
    setting = any(facts.at_scope(path).text("coat") == "setting" for path in mix.used_for)
    return library.row("putty-age", use="setting" if setting else "mortar").number("months_least")


def _walls(mix: Mix, facts: Facts, library: Library) -> str:
    """Where a mix goes: the walls, each with its coats where it has several; their number where they are very many.

    And the works on which it is taken beside coats.
    """
    found: dict[str, list[str]] = {}
    for path in mix.used_for:
        coats = found.setdefault(facts.scopes[path[:1]].title, [])
        if len(facts.inside(path[:1], "coat")) > 1:
            coats.append(facts.scopes[path].title)
    coated = {path[:2] for path in mix.used_for}
    for work in {work.path: work for work, _ in taking(mix.ref, facts)}.values():
        filled = ["walls-filled"] if work.path not in coated else []
        words = (*filled, *(["walls-moulded"] if work.number("cornice_m") else []))
        beside = found.setdefault(facts.scopes[work.path[:1]].title, [])
        if words and not beside:
            beside += [facts.scopes[path].title for path in mix.used_for if path[:1] == work.path[:1]]
        beside += [library.words[word] for word in words if library.words[word] not in beside]
    if len(found) > MOST_NAMED:  # nor would they leave room on the one page of the mix schedule
        return library.phrase("walls-many", count=str(len(found)))
    return "; ".join(f"{wall}: {joined(coats)}" if coats else wall for wall, coats in found.items())
