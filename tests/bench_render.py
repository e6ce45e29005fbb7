"""One document of 400 clauses and 12 tables by several ways, run by hand: `python tests/bench_render.py`.

Ours, docxtpl and pandoc, each as a process of its own, against the floor: parsing the finished document.xml,
serialising it with lxml and packing it again. docxtpl and pandoc are no part of the project: those that are
missing are said to be, and left out. Never a timed test: machines differ.
"""

from __future__ import annotations

import importlib.util
import json
import shutil
import statistics
import sys
import tempfile
from pathlib import Path

from bench import ROOT, RUNS, cpu_seconds

CLAUSES, ITEMS, TABLES, ROWS, COLUMNS = 400, 300, 12, 20, 6
SENTENCE = "Fill the joint in layers of one kind, each pressed home and left to firm before the next is placed"
PARTS = 10

OURS = """
import json, sys
from generator.document.model import *
from generator.render.word.document import specification

told = json.load(open(sys.argv[1], encoding="utf-8"))
words = lambda text: (Text(text),)
blocks = []
for clause in told["clauses"]:
    if clause["part"]:
        blocks.append(Heading(1, words(clause["part"]), "", clause["number"].split(".")[0]))
    body = [Paragraph((Text(clause["first"]), Strong(words(clause["strong"])), Text(clause["last"])))]
    if clause["items"]:
        body.append(ListBlock(tuple(map(words, clause["items"]))))
    blocks.append(ClauseBlock(clause["number"], clause["number"], words(clause["title"]), tuple(body),
                              f"clause:{clause['number']}"))
for number, rows in enumerate(told["tables"], 1):
    columns = tuple(Column(f"Column {letter}", 1) for letter in "ABCDEF")
    blocks.append(Table(columns, tuple(Row(tuple(map(words, row))) for row in rows), f"Table of figures {number}",
                        number=str(number)))
identity = Identity("A long paper", "Invented", "R-1", "1", "2027-03-01", "Nobody")
open(sys.argv[2], "wb").write(specification(Document(identity, (Section(tuple(blocks)),))))
"""
TEMPLATED = """
import json, sys
from docxtpl import DocxTemplate

template = DocxTemplate(sys.argv[3])
template.render(json.load(open(sys.argv[1], encoding="utf-8")))
template.save(sys.argv[2])
"""
FLOOR = """
import sys, zipfile
from lxml import etree

with zipfile.ZipFile(sys.argv[1]) as archive:
    parts = {name: archive.read(name) for name in archive.namelist()}
parts["word/document.xml"] = etree.tostring(etree.fromstring(parts["word/document.xml"]))
with zipfile.ZipFile(sys.argv[2], "w", zipfile.ZIP_DEFLATED) as archive:
    for name, data in parts.items():
        archive.writestr(name, data)
"""


def content() -> dict[str, object]:
    """The document as plain data: about 60 words a clause, some in bold; lists; tables."""
    clauses = []
    for number in range(CLAUSES):
        part, place = divmod(number, CLAUSES // PARTS)
        clauses.append({
            "part": "" if place else f"Part {part + 1}",
            "number": f"{part + 1}.{place + 1}",
            "title": f"Requirement {number + 1}",
            "first": f"{SENTENCE}. {SENTENCE}. ",
            "strong": f"Requirement {number + 1} is kept",
            "last": f". {SENTENCE}.",
            "items": [f"{SENTENCE}, {item}" for item in range(3)] if number % 4 == 0 else [],
        })  # fmt: skip
    assert sum(len(clause["items"]) for clause in clauses) == ITEMS
    row = [[f"{line}.{column}" for column in range(COLUMNS)] for line in range(ROWS)]
    return {"clauses": clauses, "tables": [row] * TABLES}


def template(path: Path) -> None:
    """The document as a docxtpl template: loops over clauses, items, tables and rows."""
    import docx

    document = docx.Document()
    for line in ("{%p for c in clauses %}", "{%p if c.part %}"):
        document.add_paragraph(line)
    document.add_heading("{{ c.part }}", 1)
    document.add_paragraph("{%p endif %}")
    document.add_heading("{{ c.number }} {{ c.title }}", 2)
    paragraph = document.add_paragraph("{{ c.first }}")
    paragraph.add_run("{{ c.strong }}").bold = True
    paragraph.add_run("{{ c.last }}")
    document.add_paragraph("{%p for i in c['items'] %}")
    document.add_paragraph("{{ i }}", style="List Bullet")
    for line in ("{%p endfor %}", "{%p endfor %}", "{%p for t in tables %}"):
        document.add_paragraph(line)
    rows = document.add_table(4, COLUMNS).rows
    for column, cell in enumerate(rows[0].cells):
        cell.text = f"Column {'ABCDEF'[column]}"
    rows[1].cells[0].text = "{%tr for r in t %}"
    for column, cell in enumerate(rows[2].cells):
        cell.text = f"{{{{ r[{column}] }}}}"
    rows[3].cells[0].text = "{%tr endfor %}"
    document.add_paragraph("{%p endfor %}")
    document.save(str(path))


def markdown(told: dict[str, object]) -> str:
    """The document as pandoc reads it."""
    lines: list[str] = []
    clauses, tables = told["clauses"], told["tables"]
    assert isinstance(clauses, list)
    assert isinstance(tables, list)
    for clause in clauses:
        lines += [f"# {clause['part']}", ""] if clause["part"] else []
        text = f"{clause['first']}**{clause['strong']}**{clause['last']}"
        lines += [f"## {clause['number']} {clause['title']}", "", text, ""]
        lines += [*(f"- {item}" for item in clause["items"]), ""]
    for rows in tables:
        heads = [f"Column {letter}" for letter in "ABCDEF"]
        lines += ["| " + " | ".join(row) + " |" for row in (heads, ["---"] * COLUMNS, *rows)] + [""]
    return "\n".join(lines)


def ways(folder: Path) -> dict[str, list[str]]:
    """The command of each way; that of a program that is missing is empty."""
    told, scripts = folder / "told.json", {"ours": OURS, "floor": FLOOR, "docxtpl": TEMPLATED}
    data = content()
    told.write_text(json.dumps(data), encoding="utf-8")
    (folder / "told.md").write_text(markdown(data), encoding="utf-8")
    template(folder / "template.docx")
    for name, script in scripts.items():
        (folder / f"{name}.py").write_text(f"import sys\nsys.path.insert(0, {str(ROOT)!r})\n{script}", encoding="utf-8")
    python = [sys.executable, "-X", "utf8"]
    (folder / "docxtpl.py").rename(folder / "templated.py")  # a script of the library's name would hide it
    made = {way: str(folder / f"{way}.docx") for way in ("ours", "floor", "docxtpl", "pandoc")}
    templated = [*python, str(folder / "templated.py"), str(told), made["docxtpl"], str(folder / "template.docx")]
    converted = ["pandoc", str(folder / "told.md"), "-o", made["pandoc"]]
    return {
        "ours": [*python, str(folder / "ours.py"), str(told), made["ours"]],
        "floor": [*python, str(folder / "floor.py"), made["ours"], made["floor"]],
        "docxtpl": templated if importlib.util.find_spec("docxtpl") else [],
        "pandoc": converted if shutil.which("pandoc") else [],
    }


def main() -> None:
    """Prints the CPU seconds of each way, runs interleaved, and how many times the floor that is."""
    with tempfile.TemporaryDirectory() as name:
        commands = ways(Path(name))
        there = {way: command for way, command in commands.items() if command}
        times: dict[str, list[float]] = {way: [] for way in there}
        for _ in range(RUNS):
            for way, command in there.items():
                times[way].append(cpu_seconds(command))
        floor = statistics.median(times["floor"])
        print(f"{f'{CLAUSES} clauses, {TABLES} tables':<24} {'least':>6} {'middle':>6} {'times the floor':>16}")
        for way, found in times.items():
            note = "" if (Path(name) / f"{way}.docx").exists() else "  made nothing"
            middle = statistics.median(found)
            print(f"{way:<24} {min(found):>6.2f} {middle:>6.2f} {middle / floor:>16.1f}{note}")
        for way in commands.keys() - there.keys():
            print(f"{way}: not installed, left out")


if __name__ == "__main__":
    main()
