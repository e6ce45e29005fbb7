"""Attacks on every kind of file that is read: good ones spoilt by chance, the same for the same seed.

`spoilt` makes an input, `outcome` hands it to the reader of its kind. What fails is kept by `keep` in `tests/corpus/`,
where it is tried again in every run.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import io
import json
import random
import shutil
import signal
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Final

from answers_text import one_wall
from helpers import build_tree
from jobs import EXAMPLES, ROOT, job, shipped
from photographed import jpeg
from PIL import Image

from generator import pipeline
from generator.asking.answering import Answering
from generator.asking.spreadsheet import brought, grid_of
from generator.asking.weather import file as weather_file
from generator.asking.weather.rain import hours_of
from generator.document.outline import outline
from generator.drawing.photograph import PhotographRefused, read_photograph
from generator.files.errors import GaugeboxError, InputInvalid
from generator.files.source import read_bytes, read_file
from generator.library.layers.bundle import read_bundle
from generator.library.load import read_library
from generator.library.model import Library
from generator.measure.photographs.pictures import READ_PX
from generator.papers.assemble import assemble
from generator.record.estimate import read_rates
from generator.record.record import dumped, record
from generator.record.revisions.issued import read_issued
from generator.record.revisions.records import read_record
from generator.render.check.papers import faults, lines
from generator.render.house.sample import style_sample
from generator.render.house.style import house_style
from generator.render.workbook.grid import NoGrid, grid_workbook, read_grid

CORPUS: Final = ROOT / "tests" / "corpus"
LONGEST_S: Final = 60
"""An input that takes longer hangs."""

_TOKENS: Final = (
    b"", b"\0", b"\xff\xfe", b"\xe2\x80\xae", b"\xe2\x80\x8b", b"\xc2\xa0", b"\xed\xa0\x80", b"&a [*a]", b"null",
    b"!!python/name:os.x", b"{{ title }}", b"{{ x | y }}", b"{# a #}", b"[a](clause:x)", b"[a](http://x)", b"true",
    b"{{" + b"(" * 200, b"9" * 5_000, b"-1", b"1e999", b"nan", b"not known", b"2027-02-30", b"8 - 2", b"[]", b"{}",
    b"[" * 60, b'"', b"'", b"\n", b"\r", b"\t", b": ", b"- ", b"<", b">", b"&#0;", b"]]>", b"<!DOCTYPE a>", b",", b";",
    b"..", b"../../x", b"x" * 6_000,
)  # fmt: skip
_JOB: Final = one_wall()
_TABLE: Final = "tables/curing.yaml"
_TEMPLATE: Final = "templates/specification.yaml"


# --- spoiling -------------------------------------------------------------------------------------------------


def spoilt(kind: str, seed: int) -> bytes:
    """A good file of a kind with one to six things amiss."""
    dice = random.Random(f"{kind} {seed}")
    data = dice.choice(good(kind))
    if kind in ("house style", "paper", "workbook") and dice.random() < 0.75:
        return _repacked(data, dice)
    return _changed(data, dice)


def _changed(data: bytes, dice: random.Random) -> bytes:
    for _ in range(dice.randint(1, 6)):
        data = dice.choice((_lines_moved, _token_put, _token_put, _piece_moved, _bits_turned))(data, dice)
    return data


def _lines_moved(data: bytes, dice: random.Random) -> bytes:
    rows = data.split(b"\n")
    at, other = dice.randrange(len(rows)), dice.randrange(len(rows))
    change = dice.randrange(4)
    if change == 0:
        del rows[at]
    elif change == 1:
        rows.insert(other, rows[at])
    elif change == 2:
        rows[at], rows[other] = rows[other], rows[at]
    else:
        rows[at] = b"  " * dice.randint(1, 3) + rows[at]
    return b"\n".join(rows)


def _token_put(data: bytes, dice: random.Random) -> bytes:
    """A token in the place of a value, a field or anything at all."""
    token, at = dice.choice(_TOKENS), dice.randrange(len(data) + 1)
    mark = dice.choice((b": ", b",", b'"', b">", b""))
    begins = data.find(mark, at) + len(mark) if mark and data.find(mark, at) >= 0 else at
    ends = min(
        (end for end in (data.find(stop, begins) for stop in (b"\n", b",", b'"', b"<")) if end >= 0), default=begins
    )
    return data[:begins] + token + data[ends if dice.random() < 0.7 else begins :]


def _piece_moved(data: bytes, dice: random.Random) -> bytes:
    at, length = dice.randrange(len(data) + 1), dice.randint(1, 200)
    piece = data[at : at + length]
    change = dice.randrange(4)
    if change == 0:
        return data[:at] + data[at + length :]
    if change == 1:
        return data[:at] + piece * dice.randint(2, 50) + data[at + length :]
    if change == 2:
        return data[:at] if dice.random() < 0.2 else data
    other = dice.randrange(len(data) + 1)
    return data[:other] + piece + data[other:]


def _bits_turned(data: bytes, dice: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(dice.randint(1, 8) if data else 0):
        changed[dice.randrange(len(changed))] ^= 1 << dice.randrange(8)
    return bytes(changed)


def _repacked(data: bytes, dice: random.Random) -> bytes:
    """A package with one part spoilt, dropped or doubled."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    name = dice.choice(sorted(parts))
    change = dice.random()
    if change < 0.8:
        parts[name] = _changed(parts[name], dice)
    elif change < 0.9:
        del parts[name]
    else:
        parts[name] = parts[dice.choice(sorted(parts))]
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for part, content in parts.items():  # dated: the clock would spoil the same seed another way
            archive.writestr(zipfile.ZipInfo(part), content, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


# --- what is spoilt -------------------------------------------------------------------------------------------


@functools.cache
def good(kind: str) -> tuple[bytes, ...]:
    """Sound files of a kind."""
    return _GOOD[kind]()


def _weather() -> tuple[bytes, ...]:
    rows = [
        f"2027-01-0{1 + hour // 24} {hour % 24:02}:00,{hour % 9}.5,{hour * 7 % 360},0.{hour % 4}" for hour in range(72)
    ]
    return ("\n".join(["time,wind_m_per_s,from_deg,rain_mm", *rows, ""]).encode(),)


def _rates() -> tuple[bytes, ...]:
    entries = dict.fromkeys(item.entry.id for item in job(_JOB).measured.items())
    return (
        (
            "rates:\n"
            + "\n".join(f"  {entry}: {number + 1} - {number + 9}" for number, entry in enumerate(entries))
            + "\n"
        ).encode(),
    )


def _records() -> tuple[bytes, ...]:
    return (dumped(record(job(_JOB), "answers.yaml", _JOB.encode(), {})),)


def _papers() -> tuple[bytes, ...]:
    return tuple(data for name, data in pipeline.papers(job(_JOB)).items() if name.endswith(".docx"))


def _styles() -> tuple[bytes, ...]:
    read = shipped()
    words = {key: word for key, word in read.words.items() if key.startswith("style-")}
    return (style_sample({**words, "page": read.phrase("page"), "of": read.phrase("of")}, read.language),)


def _clauses() -> tuple[bytes, ...]:
    head = "clauses:\n- id: house.a\n  part: completion\n  title: Photographs\n  text: |\n"
    rest = "  when: masonry == 'brick'\n  per: element\n  cost: information\n  sources: [common-practice]\n"
    return (f"{head}    Photograph {{{{ element_name }}}}.\n{rest}".encode(),)


def _bundles() -> tuple[bytes, ...]:
    return (b"bundle: 1\nlayer: {name: a, edition: '1'}\n" + _clauses()[0],)


def _templates() -> tuple[bytes, ...]:
    return ((ROOT / _TEMPLATE).read_bytes(),)


def _pictures() -> tuple[bytes, ...]:
    stream = io.BytesIO()
    Image.new("RGBA", (40, 30), (150, 112, 92, 200)).save(stream, "PNG")
    return (jpeg(160, 120), stream.getvalue())


def _workbooks() -> tuple[bytes, ...]:
    with tempfile.TemporaryDirectory() as folder:
        return (grid_workbook(grid_of(_on_desk(Path(folder)))),)


def _on_desk(folder: Path) -> Answering:
    return Answering(build_tree(folder, {"answers.yaml": _JOB}) / "answers.yaml", shipped())


_GOOD: Final[Mapping[str, Callable[[], tuple[bytes, ...]]]] = {
    "answers": lambda: (_JOB.encode(), *(path.read_bytes() for path in EXAMPLES)),
    "bundle": _bundles,
    "house style": _styles,
    "issue": lambda: (json.dumps({"schema": 1, "revision": "1", "files": []}).encode(),),
    "layer": _clauses,
    "library": lambda: ((ROOT / "clauses" / _TABLE).read_bytes(),),
    "paper": _papers,
    "photograph": _pictures,
    "rates": _rates,
    "record": _records,
    "template": _templates,
    "weather": _weather,
    "workbook": _workbooks,
}


# --- reading --------------------------------------------------------------------------------------------------

KINDS: Final = tuple(_GOOD)


def outcome(kind: str, data: bytes) -> str:
    """`taken` or `refused`. Raises what no reader of a kind may raise, and `TimeoutError` where it hangs."""
    with _in_time(), tempfile.TemporaryDirectory() as folder:
        try:
            _READERS[kind](data, Path(folder))
        except GaugeboxError as error:
            _told_in_words(error)
            return "refused"
    return "taken"


def _told_in_words(error: GaugeboxError) -> None:
    assert str(error)
    problems = error.problems if isinstance(error, InputInvalid) else ()
    assert all(problem.mark.file and problem.what and problem.to_do for problem in problems)


@contextlib.contextmanager
def _in_time() -> Iterator[None]:
    def late(*_: object) -> None:
        raise TimeoutError

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(LONGEST_S)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def _answers(data: bytes, folder: Path) -> None:
    """What is taken gives papers, and a record that can be read again and says the same twice."""
    read = pipeline.read(read_bytes(data, "answers.yaml", False), shipped())
    found = pipeline.settled(read, shipped())
    assert outline(assemble(found).specification)
    said = dumped(record(found, "answers.yaml", data, {}))
    build_tree(folder, {"record.json": said})
    assert read_record(folder / "record.json")["status"] == found.status


def _style(data: bytes, _: Path) -> None:
    assert house_style(data, "house.docx")


def _paper(data: bytes, _: Path) -> None:
    found = faults(data)
    assert len(lines("a.docx", found)) >= len(found[:1])


def _layer(data: bytes, folder: Path) -> None:
    layer: dict[str, str | bytes] = {"layer.yaml": "name: a\nedition: '1'\n", "clauses/a.yaml": data}
    _settled_with(read_library(ROOT / "clauses", [build_tree(folder, layer)]))


def _library(data: bytes, folder: Path) -> None:
    """The shipped library with one table in other words."""
    shutil.copytree(ROOT / "clauses", folder / "clauses")
    build_tree(folder, {f"clauses/{_TABLE}": data})
    _settled_with(read_library(folder / "clauses"))


def _settled_with(library: Library) -> None:
    found = pipeline.settled(pipeline.read(read_bytes(_JOB.encode(), "answers.yaml", False), library), library)
    assert outline(assemble(found).specification)


def _template(data: bytes, folder: Path) -> None:
    """The shipped papers with the specification in other words."""
    shutil.copytree(ROOT / "templates", folder / "templates")
    build_tree(folder, {_TEMPLATE: data})
    _settled_with(read_library(ROOT / "clauses", templates=folder / "templates"))


def _photograph(data: bytes, _: Path) -> None:
    try:
        assert read_photograph(data, READ_PX).width_px
    except PhotographRefused as error:
        raise GaugeboxError(str(error)) from None


def _workbook(data: bytes, folder: Path) -> None:
    """What comes back is brought in whole, or each cell that cannot be read is named."""
    answers = _on_desk(folder)
    try:
        found = brought(answers, read_grid(data, shipped().phrase("walls-sheet")))
    except (NoGrid, ValueError) as error:
        raise GaugeboxError(f"no walls: {error}") from None
    if found.wrong:
        raise GaugeboxError("\n".join(found.wrong))
    answers.save(found.changes)


def _file(name: str, read: Callable[[Path], object]) -> Callable[[bytes, Path], None]:
    def run(data: bytes, folder: Path) -> None:
        read(build_tree(folder, {name: data}) / name)

    return run


def _issue(data: bytes, folder: Path) -> None:
    build_tree(folder, {"issue.json": data, "record.json": good("record")[0]})
    read_issued(folder)


_READERS: Final[Mapping[str, Callable[[bytes, Path], None]]] = {
    "answers": _answers,
    "bundle": _file("a.yaml", read_bundle),
    "house style": _style,
    "issue": _issue,
    "layer": _layer,
    "library": _library,
    "paper": _paper,
    "photograph": _photograph,
    "rates": _file("rates.yaml", lambda path: read_rates(read_file(path, typed=False), job(_JOB))),
    "record": _file("record.json", read_issued),
    "template": _template,
    "weather": _file("w.csv", lambda path: hours_of(weather_file.read_file(path))),
    "workbook": _workbook,
}


def keep(kind: str, data: bytes) -> Path:
    """Keeps an input that failed, by its kind and digest."""
    path = CORPUS / kind.replace(" ", "-") / hashlib.sha256(data).hexdigest()[:16]
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)
    return path


def kept() -> list[tuple[str, Path]]:
    """Every input that failed once, with its kind."""
    return [(kind, path) for kind in KINDS for path in sorted((CORPUS / kind.replace(" ", "-")).glob("*"))]
