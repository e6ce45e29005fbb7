"""What clauses ask to be written down has a column of a form, wide enough for a pen."""

from __future__ import annotations

import re
from typing import Final

import pytest
from answers_text import one_wall
from golden import companions_of
from jobs import example, job, shipped
from told_papers import log

from generator.document.template import PaperPart

ASKS: Final = re.compile(
    r"batch record|daily record|records it|[Dd]ates of|\blog(s|ged)?\b|start sheet|[Ss]igned record"
    r"|foreman (records|signs|enters)|two people count|humidity meter|signs (for each|the)\b"
)
"""Words of a check by which somebody on site writes or signs; chalk on the wall and papers of others are not theirs."""

COLUMNS: Final[dict[str, tuple[str, ...]]] = {
    "batch-lines": (
        "site.mixed-off-site:Batch", "mortars.nhl:First water, time", "mortars.life:Placed by: day, time",
        "mortars.life-pozzolan:Pozzolan in, time",
        "mortars.hair-test:Hair test", "mortars.hair-life:Placed by: day, time", "mortars.old-mortar:Old mortar, boxes",
        "mortars.batch-record:Mixed by", "refix.filling-stuff:Hair test",
        "refix.filling-by-card:Hair test", "curing.last-day:Date, time",
    ),
    "store-record": (
        "approvals.submittals:Date", "materials.putty:Putty slaked on", "materials.nhl:Class, lot and date of lime",
        "materials.ready-mixed:Class, lot and date of lime",
        "mortars.bulking:Bulking of sand, per cent", "mortars.putty:Mixed or knocked up",
        "mortars.hot-mix:Wetted, turned, screened, times", "mortars.hair-hot-mix:Centre before hair, °C",
    ),
    "slaking-record": ("safety.slaking:Barrier up", "safety.slaking-fence:Fence and lock tried"),
    "daily-record": (
        "site.security:Signed", "site.security-rooms:Signed",
        "site.damage:Found, and who was told", "enabling.remains:Found, and who was told",
        "site.public:Looked at: props, screens, access",
        "site.hidden-services:Scanned, tested or measured", "site.hidden-services-unknown:Scanned, tested or measured",
        "building.paintings-found:Looked at: props, screens, access", "building.wildlife:Found, and who was told",
        "approvals.people:People, in and out", "raking-out.leaning:Scanned, tested or measured",
        "raking-out.chimney:Looked at: props, screens, access",
        "enabling.digging:Scanned, tested or measured",
        "enabling.plants:Done: coat, face, lift", "removal.inspection:Done: coat, face, lift",
        "removal.earth-behind:Found, and who was told",
        "raking-out.depth:Scanned, tested or measured", "raking-out.inspection:Done: coat, face, lift",
        "rebuilding.support:Looked at: props, screens, access", "plaster.waits:Done: coat, face, lift",
        "laths.ceilings:Looked at: props, screens, access", "render.then-limewash:Done: coat, face, lift",
        "limewash.coats:Done: coat, face, lift", "salts.waste:Waste out, bags",
        "safety.falling:Found, and who was told", "safety.one-above-another:Wall or room",
        "safety.roof-void:People, in and out", "salts.round:Date, weather",
    ),
    "guard-record": (
        "chimney.plugs:Plug in, by flue, two names", "safety.co-alarms:Alarm set, tried on",
        "safety.propping:Prop set, looked at on", "safety.propping-upright:Prop set, looked at on",
    ),
    "curing-record": (
        "curing.temperature:Wall, three times, °C", "curing.temperature-indoors:Air, three times, °C",
        "curing.covers:Covers, three times", "curing.frost-cover:Cover, days left", "curing.named-person:Damped, times",
        "curing.air:Windows or fan, hours", "curing.air-closed:Windows or fan, hours",
        "limewash.weather:Weather", "limewash.indoors:Air, three times, °C",
        "curing.heating-off:Humidity, per cent", "curing.heating-strong:Humidity, per cent",
        "curing.heating-low:Humidity, per cent",
    ),
}  # fmt: skip
"""For each form the clauses that ask for it, each with the column that takes what it asks for."""

OF_EVERY_BATCH: Final = {
    "Date, time", "Mix", "Batch", "Boxes of lime", "Boxes of sand", "Water, litres", "Mixed by", "Where",
}  # fmt: skip
"""What `mortars.batch-record` lists of every batch, by the columns that take it."""


def forms() -> dict[str, PaperPart]:
    """The forms of the shipped records by the name of their part."""
    found: dict[str, PaperPart] = {}
    for part in shipped().templates["site-records"].parts:
        found |= {inner.part: inner for inner in (part, *part.parts)}
    return found


def labels(part: PaperPart) -> set[str]:
    """The labels of the columns of a form that are left blank."""
    return {column.label for column in part.columns if not column.shows}


def test_every_clause_that_asks_for_a_record_has_a_column_of_a_form() -> None:
    asking = {key for key, clause in shipped().clauses.items() if ASKS.search(clause.check or "")}
    held = [entry.split(":", 1)[0] for entries in COLUMNS.values() for entry in entries]
    assert len(held) == len(set(held))
    assert asking - set(held) == set()
    assert set(held) <= set(shipped().clauses)


@pytest.mark.parametrize("form", COLUMNS)
def test_the_columns_that_clauses_need_stand_blank_on_their_form(form: str) -> None:
    assert {entry.split(":", 1)[1] for entry in COLUMNS[form]} <= labels(forms()[form])


@pytest.mark.parametrize(
    ("form", "needed"),
    [
        (
            "batch-lines",
            {"Date, time", "Mix", "Batch", "Boxes of lime", "Water, litres", "Mixed by", "Where", "Signed"},
        ),
        (
            "slaking-record",
            {
                "Water ready, to slake and to rinse",
                "Weather, wind, hours of daylight left",
                "Two trained people, names",
            },
        ),
        ("curing-record", {"Weather", "Lowest, °C", "Highest, °C", "Signed"}),
    ],
)
def test_what_the_text_of_a_clause_lists_stands_on_its_form(form: str, needed: set[str]) -> None:
    """`mortars.batch-record`, `safety.slaking` and `curing.named-person` list what is written down."""
    assert needed <= labels(forms()[form])


@pytest.mark.parametrize("name", ["garden-front", "winter-plaster", "toll-house", "mill-house"])
def test_what_is_recorded_of_every_batch_stands_on_the_form_of_each_job_whatever_it_is_mixed_of(name: str) -> None:
    """`mortars.batch-record` asks for date and times of every batch, though only what sets is placed by the hour."""
    text = companions_of(example(name))["site-records.txt"]
    (head,) = (
        line for line in text.splitlines() if line.startswith("Date") and "| Batch |" in line and "Mix |" in line
    )
    assert set(head.split(" | ")) >= OF_EVERY_BATCH
    lives = {"mortars.life", "mortars.life-pozzolan", "mortars.hair-life"}
    assert ("Placed by: day, time" in head) == bool(lives & set(example(name).duties))


@pytest.mark.parametrize("form", [*COLUMNS, "hold-record"])
def test_a_blank_column_is_wide_enough_for_a_pen(form: str) -> None:
    """A twentieth of 257 mm between the margins of a lying page, 13 mm: a few letters by hand (common practice)."""
    part = forms()[form]
    assert sum(column.share for column in part.columns) == pytest.approx(1)
    assert all(column.share >= 0.05 for column in part.columns)


def test_a_column_is_asked_for_by_clauses_that_there_are() -> None:
    asked = {key for part in forms().values() for column in part.columns for key in column.asked_by}
    assert asked
    assert asked <= set(shipped().clauses)


@pytest.mark.parametrize(("name", "has"), [("garden-front", False), ("mill-house", True)])
def test_a_job_without_hair_putty_or_hot_mix_has_no_column_for_them(name: str, has: bool) -> None:
    text = companions_of(example(name))["site-records.txt"]
    for label in ("Hair, g", "Hair test", "Putty slaked on", "Wetted, turned, screened, times", "Weight of tub, kg"):
        assert (label in text) is has, label
    assert "Boxes of lime" in text


@pytest.mark.parametrize("name", ["garden-front", "winter-plaster", "toll-house", "mill-house"])
def test_a_form_speaks_of_pozzolan_old_mortar_plugs_and_props_only_where_a_clause_of_the_job_asks(name: str) -> None:
    text, duties = companions_of(example(name))["site-records.txt"], set(example(name).duties)
    speaks = {
        "Pozzolan": "mortars.life-pozzolan", "Old mortar": "mortars.old-mortar", "First water, time": "mortars.nhl",
        "Plug in": "chimney.plugs", "Prop set": "safety.propping", "Alarm set": "safety.co-alarms",
    }  # fmt: skip
    assert {words: words in text for words in speaks} == {words: clause in duties for words, clause in speaks.items()}


def test_a_batch_with_a_pozzolan_or_old_mortar_is_recorded_with_them() -> None:
    with_pozzolan = companions_of(job(one_wall(asked_binder="putty-pozzolan")))["site-records.txt"]
    assert "Pozzolan in, time" in with_pozzolan
    with_old = companions_of(job(one_wall(asked_ways="[old-mortar]", old_binder="air-lime")))["site-records.txt"]
    assert "Old mortar, boxes" in with_old


def test_the_record_of_batches_lists_what_is_mixed_for_a_panel_and_beside_a_coat_as_the_cards_do() -> None:
    """Whoever enters a small batch finds no boxes for it among whole ones."""
    made = example("mill-house")
    rows = dict(line.split(" | ", 1) for line in log("mill-house").splitlines() if re.match(r"M\d+ \| ", line))
    assert len(rows) == len(made.measured.batches)
    for batch in made.measured.batches:
        panel, filling = (made.facts.spoken(batch.mix.path, f"mix_{of}_boxes") for of in ("panel", "filling"))
        told = [f"a panel: {panel}"] if panel else []
        assert rows[batch.mix.ref].split(" | ")[2] == "; ".join([*told, *([filling] if filling else [])])
    assert rows["M3"].split(" | ")[2].startswith("bedding: ")


def test_the_record_of_stores_speaks_of_tubs_and_of_heaps_where_the_job_has_them() -> None:
    told = {name: log(name) for name in ("garden-front", "winter-plaster", "toll-house")}
    found = {name: ("tub of putty" in text, "heap made hot" in text) for name, text in told.items()}
    assert found == {"garden-front": (False, False), "winter-plaster": (True, False), "toll-house": (True, True)}
    assert not re.search(r"\b(tub|heap)\b", told["garden-front"])
