"""Invented mix pages: a card of each kind, and pages of so many of them."""

from __future__ import annotations

from decimal import Decimal

from render.samples import IDENTITY

from generator.document.card import Card, Count, FirstAid, MixPage, Step
from generator.document.model import Identity, Inlines, Strong, Text
from generator.values import replace


def said(text: str) -> Inlines:
    """Words as inlines; between stars they are strong."""
    return tuple(
        Strong((Text(part),)) if index % 2 else Text(part) for index, part in enumerate(text.split("*")) if part
    )


def steps(*told: str) -> tuple[Step, ...]:
    """Steps from `key: words`; a key of its own picture, or none before the colon."""
    found = []
    for line in told:
        key, _, words = line.partition(": ")
        found.append(Step(said(words), key, f"Picture of a step: {key}." if key else ""))
    return tuple(found)


PUTTY = Card(
    ref="M1", mark="square", mark_told="square", ground="putty", walls="Front wall",
    counts=(
        Count("putty", said("drained"), "lime", Decimal(2)),
        Count("sharp sand", said("0–2 mm, heap A"), "sand", Decimal(5)),
    ),
    water=said("*No water.*"),
    makes=said("Makes *61 l*, 13 m²: for 4 days."),
    steps=steps(
        "mill: Sand in, then putty. Mill *20 min:* no white streak.", "bank-stuff: Bank it, covered, *1 day.*",
        "knock-up: Knock up without water.",
    ),
    use_by="Keeps", use_told=said("under cover, each evening."),
    facts=(
        said("Layers *15 mm*, damp *7 days*"), said("Rain and frost off *60 days*"), said("Air and wall *5–30 °C*"),
    ),
)  # fmt: skip
HYDRAULIC = Card(
    ref="M2", mark="disc", mark_told="disc", ground="hydraulic", walls="Chimney stack",
    counts=(
        Count("NHL 3.5", said("mask on to tip"), "lime", Decimal("0.5")),
        Count("sharp sand", said("0–3 mm, heap B"), "sand", Decimal("1.25")),
    ),
    water=said("*Water: the least, last.*"),
    makes=said("Makes *15 l*, 3.5 m²: 1 a day."),
    steps=steps(
        "turn-dry: Turn dry *5 min.*", "wet: Water slowly, mix *15 min.*", "stand: Covered, stand *20 min.*",
        "stir: Mix again, briefly.",
    ),
    use_by="6 hours", use_told=said("from first water; then to waste."),
    facts=(
        said("Layers *15 mm*, damp *10 days*"), said("Rain and frost off *28 days*"), said("Air and wall *8–30 °C*"),
    ),
)  # fmt: skip
HOT = Card(
    ref="M4", mark="triangle", mark_told="triangle", ground="quicklime", walls="Rubble gable",
    notes=(said("*Used cold.* Slake outdoors, in face shields."), said("*Two trained people;* all others 5 m off.")),
    counts=(
        Count("quicklime", said("in its drum"), "quicklime", Decimal(2)),
        Count("sharp sand", said("0–4 mm, heap C"), "sand", Decimal("3.5")),
        Count("grit", said("0–5 mm, heap D"), "grit", Decimal("2.5")),
    ),
    water=said("*41 l* water at most; less on wet sand"),
    makes=said("*84 l*, 5.8 m²; slake 2 a week, 8 days ahead"),
    steps=steps(
        "ring: Sand in a ring, 1 box kept back", "lime: Lime, level, in the ring", "cover: *Sand over it:* none shows",
        "sprinkle: *Sprinkle* 5 min, stand back", "leave: Leave *24 h;* sand on cracks", "turn: *Cold?* Turn it twice",
        "screen: Screen, 5 mm; lumps to waste", "bank: Sheet *7 days*, knock up",
    ),
    use_by="Keeps", use_told=said("cold only"),
    facts=(said("Layers *20 mm*, damp *7 days*"), said("Rain and frost off *60 days*"), said("Air and wall *5–30 °C*")),
    in_pictures=True,
)  # fmt: skip
WASH = Card(
    ref="M5", mark="ring", mark_told="ring", ground="putty", walls="Rear wall",
    counts=(
        Count("putty", said("drained"), "lime", Decimal("1.5")),
        Count("clean water", said("struck level too"), "water", Decimal("7.5")),
    ),
    water=said("*No more water* for any coat."),
    makes=said("Makes *126 l*, one lot: 22 l a day."),
    steps=steps(
        "stir: Whisk to thin milk.", "strain: Strain, fine sieve.", "stand: Lid on, *1 day.*",
        "stir: Stir all the time.",
    ),
    use_by="Keeps", use_told=said("sealed, for touching up."),
    facts=(said("Thin coats, *1 day* apart"), said("Damp *2 days*"), said("Air and wall *5–25 °C*")),
)  # fmt: skip
HAIRED = replace(
    PUTTY, ref="M10", mark="wedge", mark_told="wedge", walls="Chamber ceiling: pricking-up coat",
    added=(said("*Hair:* 100 g to each box, last, on the day"),),
    water=said("*No water.*"), use_by="2 days", use_told=said("once haired; then to waste."),
    facts=(said("Layers *10 mm*, damp *7 days*"), said("No draught, heating low"), said("Air and wall *5–30 °C*")),
)  # fmt: skip
CARDS = (PUTTY, HYDRAULIC, WASH, replace(HYDRAULIC, ref="M3", mark="frame", walls="Chimney: flaunching"), HAIRED)

PAGE = MixPage(
    identity=replace(IDENTITY, title="Mix schedule, an invented chapel"),
    title="What goes in the box: the mill house",
    issue=said("WE-027 · *revision 1* · 1 February 2027. Older pages: take down."),
    first_aid=FirstAid(
        "Lime in the eye: rinse at once.",
        said("Clean water, lids held open, 20 minutes. Ambulance. Keep rinsing on the way."),
        "On the skin:", said("Brush off dry lime, clothes off, rinse. Burn: doctor."),
        ("Ambulance", "Eyewash is at"),
    ),
    box=(
        said("*1 box is 14 litres,* filled loose, struck level; ½ to its line."),
        said("Sand damp, as it lies; never by the shovel."),
        said("Heaps A and B are by the gate, C and D by the wall."),
    ),
    box_shows="A gauge box with handles, its half line, and sand struck level.",
    cards=CARDS[:1],
    notices=(
        said(
            "*Never* cement, gypsum, plasticiser, antifreeze. No water on the board or on bare quicklime. "
            "No warm mix in tub or bag. No mix on another wall."
        ),
        said(
            "*Stop, and cover clear of the wall:* rain on it, frost forecast within 48 h, or outside the card's °C. "
            "From thumb-hard damp it when it pales, Sundays too."
        ),
        said(
            "*Wear* goggles, gauntlets, sleeves, boots; a mask for powder. *Only A. Sample changes a mix,* in writing: "
            "01\u00a0555\u00a00142. Law and safety sheets hold too."
        ),
    ),
    code=(
        "WE-027 rev 1. M1 2 putty 5 sand A no water. M2 1/2 NHL 3.5 1 1/4 sand B 6 h. "
        "M4 2 quicklime 3 1/2 sand C 2 1/2 grit D 41 l water."
    ),
    code_shows="The mixes of this page as a code for a telephone.",
)  # fmt: skip


def page(*cards: Card, identity: Identity | None = None) -> MixPage:
    """The invented page with these cards."""
    return replace(PAGE, cards=cards, identity=identity or PAGE.identity)


def page_of(count: int) -> MixPage:
    """The invented page with so many cards of one place each."""
    return page(*CARDS[:count])
