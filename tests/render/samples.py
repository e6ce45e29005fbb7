"""Invented papers that hold every kind of block, for the tests of the renderers.

Nothing here is advice: walls, mixes and figures are made up to fill a page.
"""

from __future__ import annotations

from docx_reading import parts

from generator.document.model import (
    Block,
    ClauseBlock,
    Column,
    Contents,
    Document,
    Figure,
    Heading,
    Identity,
    Inlines,
    ListBlock,
    Notice,
    PageBreak,
    Paragraph,
    Ref,
    Row,
    Section,
    Strong,
    Table,
    Text,
    Value,
)
from generator.drawing.model import Drawing, Line, Rect
from generator.values import replace

IDENTITY = Identity(
    title="Repointing and plaster repairs, an invented chapel",
    subject="Tender specification for lime work",
    reference="GB-014",
    revision="Revision B",
    date="2027-03-01",
    author="An invented practice",
)

DRAWING = Drawing(
    120,
    40,
    "A bed joint 10 mm wide, raked 25 mm deep with square ends.",
    (Rect(0, 0, 100, 15, hatch="diagonal"), Rect(0, 25, 100, 15, hatch="diagonal"), Line(75, 15, 75, 25)),
)


def body_of(data: bytes) -> bytes:
    """The body part of a saved paper."""
    return parts(data)["word/document.xml"]


def words(text: str) -> Inlines:
    return (Text(text),)


def body(text: str) -> Paragraph:
    return Paragraph(words(text))


def label(name: str, text: str) -> Paragraph:
    return Paragraph((Strong(words(f"{name}:")), Text(f" {text}")), "label")


def clause(
    number: str, title: str, *blocks: Block, anchor: str = "", advice: str = "", used: bool = True
) -> ClauseBlock:
    name = anchor or f"clause-{number.lower().replace('.', '-')}"
    return ClauseBlock(name, number, words(title), blocks, name, advice, used)


def part(number: str, title: str, *, starts_page: bool = False) -> Heading:
    return Heading(1, words(title), f"part-{number.lower()}", number, starts_page)


JOINTS = Table(
    columns=(
        Column("Wall", 0.4),
        Column("Masonry", 0.3),
        Column("Joint, mm", 0.15, "right"),
        Column("Depth, mm", 0.15, "right"),
    ),
    rows=(
        Row((words("Ground floor"), (), (), ()), "group"),
        Row(
            (
                words("E1 North wall"),
                words("soft brick"),
                (Value("joint_width_mm", ("e1",), "8–12"),),
                words("25"),
            )
        ),
        Row((words("E2 Chimney stack, east ridge"), words("hard brick"), words("10–13"), words("25"))),
        Row((words("All walls"), (), (), words("25")), "total"),
    ),
    caption="Joints and depths by wall",
    anchor="table-joints",
    number="1",
    description="One row a wall: masonry, joint width and raking depth.",
)

FIGURE = Figure(DRAWING, "Joint raked square", "figure-joint", "1")

NOTICE = Notice(
    "hazard",
    "Hazard. Lime burns eyes and wet skin",
    (
        body("Tight goggles, alkali-proof gloves, covered arms and legs for all who mix or apply it."),
        ListBlock(
            (
                words("Lime in the eye: rinse with plenty of clean water at once and keep rinsing until the"
                      " person is in the care of a hospital."),
                words("Brush dry lime off skin before washing."),
            )
        ),
        body("These cautions do not replace local law or the suppliers' safety sheets."),
    ),
)  # fmt: skip


def front() -> tuple[Block, ...]:
    return (
        Heading(1, words("Before pricing"), "front-findings"),
        Paragraph(words("What a tenderer should know first; the rest follows the order of the trade."), "lead"),
        Notice(
            "warning",
            "Warning. Another binder was asked for",
            (body("Matured putty is specified instead; see below."),),
        ),
        Notice("warning", "Warning. Sand not yet seen", (body("Price the sand named; samples follow."),)),
        Contents("Contents"),
    )


def materials() -> tuple[Block, ...]:
    return (
        part("1", "Materials", starts_page=True),
        clause(
            "1.1", "Lime putty",
            Paragraph((
                Text("Slaked from calcium quicklime, at least "),
                Value("putty_age_months", (), "3 months"),
                Text(" old on the day of use, used as "),
                Ref("clause-2-1", "clause 2.1"),
                Text(" and "),
                Ref("table-joints", "Table 1"),
                Text(" say, "),
                Strong((Text("never "), Ref("clause-2-2a", "2.2A"))),
                Text("."),
            )),
            label("Check", "label dates entered in the delivery record; density of one tub in ten."),
            advice="Ask the supplier for slaking dates before the order.\nThe second line of the note.",
        ),
        clause(
            "1.2", "Sand",
            body("Sharp, well graded, washed. Not more than:"),
            ListBlock((words("little passing 0.063 mm;"), words("nothing above a third of the joint."))),
            Paragraph(words("Figures are invented."), "small"),
        ),
        clause("1.3", "Not used", used=False),
        clause("1.5", "Water", body("Fit to drink.")),
        clause("1.6", "Hair", body("Goat or cattle, clean, 20–50 mm.")),
    )  # fmt: skip


def pointing() -> tuple[Block, ...]:
    return (
        part("2", "Pointing"),
        clause("2.1", "Depth of raking out", body("Rake back to sound mortar."), JOINTS, FIGURE),
        clause(
            "2.2", "Filling",
            body("In this order:"),
            ListBlock((words("damp the joint;"), words("fill the back;"), words("fill it.")), ordered=True),
            NOTICE,
        ),
        clause("2.2A", "Filling behind pinnings", body("Seat pinnings in mortar."), anchor="clause-2-2a"),
        clause("2.2B", "Gallets", body("As found, pressed in wet."), anchor="clause-2-2b"),
        clause(
            "2.3", "Keeping damp",
            body("Mist each face four times a day."),
            ListBlock((words("hang hessian;"), words("sign the record.")), ordered=True),
            body("See the notes under the first heading, figure"),
            Paragraph((Ref("figure-joint", "Figure 1"), Text(", number "), Ref("figure-joint", "1"),
                       Text(", and "), Ref("front-findings", "the findings"), Text("."))),
        ),
        Heading(2, words("A plain heading in a part")),
        body("Words under it."),
        Heading(3, words("A lower heading")),
        body("More words under it."),
    )  # fmt: skip


def late_parts() -> tuple[Block, ...]:
    return (
        part("4", "Plaster"),
        clause("4.3", "Laths", body("Riven oak, gaps 8 mm.")),
        clause("4.4", "Pricking-up coat", body("Haired, pushed through to make nibs.")),
        part("4A", "Limewash"),
        clause("4A.1", "Coats", body("Thin as milk.")),
        clause("4A.2", "Drying", body("A day between coats.")),
        part("5", "Curing"),
        clause("5.1", "Frost", body("Nothing placed in frost.")),
    )


def schedule() -> Section:
    columns = (
        Column("Ref", 0.07), Column("Description", 0.41), Column("Where", 0.12), Column("Mix", 0.06),
        Column("Clauses", 0.12), Column("Unit", 0.08), Column("Quantity", 0.14, "right"),
    )  # fmt: skip
    rows = [Row((words("E1 North wall, ground to eaves"), *[()] * 6), "group")]
    rows += [
        Row((words(f"3.{n}"),
             words("Rake out failed joints 25 mm deep and point, brushed flush, scattered over the face"),
             words("E1"), words("M1"), (Ref("clause-2-1", "2.1"),), words("m²"), words(f"{n * 7}")))
        for n in range(1, 46)
    ]  # fmt: skip
    table = Table(columns, tuple(rows), "Measured schedule", "table-schedule", "2", "Items to price.", small=True)
    return Section((part("6", "Measured schedule"), body("Net as fixed."), table), True, "Schedule")


def document(identity: Identity = IDENTITY) -> Document:
    """Every kind of block, clause numbers that jump, an added clause, a part with a letter."""
    cover: tuple[Block, ...] = (
        Paragraph(words("Repointing and plaster repairs"), "title"),
        Paragraph(words("An invented chapel"), "subtitle"),
        body("Tender specification. 1 March 2027."),
    )
    main = Section((*front(), *materials(), *pointing(), PageBreak(), *late_parts()), header="Specification")
    return Document(identity, (main, schedule()), cover)


def draft() -> Document:
    """The same paper as a draft."""
    return document(replace(IDENTITY, draft="Draft: 2 open questions, not for tender"))
