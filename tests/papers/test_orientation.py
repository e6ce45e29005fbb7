"""Which way the walls face, on the page to read first: drawn where two or more say so and there is room."""

from __future__ import annotations

from answers_text import answers, one_wall, wall
from jobs import ROOT, example, job

from generator.document.model import Figure, Pairs, Paragraph, Ref, plain_text
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.orientation import ANCHOR, MOST_FACES

MILL = (ROOT / "examples" / "mill-house" / "answers.yaml").read_text(encoding="utf-8")


def shown(made: Job) -> Figure | None:
    """The diagram of a specification, if it has one."""
    blocks = assemble(made).specification.blocks()
    return next((block for block in blocks if isinstance(block, Figure) and block.anchor == ANCHOR), None)


def facing(*ways: str | None) -> Job:
    """A job with a wall for each way."""
    walls = [wall(id_=f"w{number}", name=f"Wall {number}", faces=way) for number, way in enumerate(ways, 1)]
    return job(answers(*walls))


def test_it_tells_each_wall_with_its_sheet_its_way_its_width_its_exposure_and_its_mixes() -> None:
    figure = shown(job(MILL))
    assert figure is not None
    alt = figure.drawing.alt
    assert "1 Front wall, 14.8 m wide, faces south-east: moderate, M1;" in alt
    assert "2 Chimney stack faces all sides: very severe, M2, M3;" in alt
    assert "no plan" in alt
    assert "Dining room" not in alt  # it does not say which way it faces
    assert "no plan" in figure.caption


def test_its_key_stands_below_it_and_the_text_before_names_it() -> None:
    made = job(MILL)
    blocks = list(assemble(made).specification.blocks())
    at = next(place for place, block in enumerate(blocks) if isinstance(block, Figure) and block.anchor == ANCHOR)
    key = blocks[at + 1]
    assert isinstance(key, Pairs)
    assert [plain_text(label).split("\u00a0")[0] for label, _ in key.rows] == ["1", "2", "3", "4"]
    assert plain_text(key.rows[0][1]) == "moderate, M1"
    named = [
        item.anchor
        for block in blocks[:at]
        if isinstance(block, Paragraph)
        for item in block.content
        if isinstance(item, Ref)
    ]
    assert ANCHOR in named


def test_it_is_drawn_of_two_walls_and_more_that_say_which_way_they_face_and_of_no_more_than_a_reader_follows() -> None:
    assert shown(facing("north", "east", None)) is not None
    assert shown(facing("north", None, None)) is None
    assert shown(facing("north", "the street", "towards the church")) is None
    assert shown(facing(*["north", "east", "south"] * MOST_FACES)) is None
    assert shown(job(one_wall(faces="north"))) is None


def test_the_caption_says_what_dashes_and_the_ring_mean_only_where_they_are_drawn() -> None:
    made = facing("north", "east", "west")
    dashed, ring = made.word("orientation-dashed"), made.word("orientation-ring")
    figure = shown(made)
    assert figure is not None
    assert dashed in figure.caption
    assert ring not in figure.caption
    free = shown(example("toll-house"))
    assert free is not None  # its stack is the ring, and the other walls are drawn as wide as they are
    assert ring in free.caption
    assert dashed not in free.caption
    full = shown(job(MILL))
    assert full is not None
    assert dashed in full.caption
    assert ring in full.caption
