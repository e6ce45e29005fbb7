"""The rooms of the house: imports run downward only, in no circle, and each third-party library has one door."""

from __future__ import annotations

import ast
import functools
from pathlib import Path
from typing import TypeGuard

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "generator"

ORDER = (
    "values", "lime", "drawing", "document", "files", "questionnaire", "library",
    "decide", "measure", "programme", "job", "papers", "record", "render", "pipeline", "asking", "commands",
    "__main__",
)  # fmt: skip
"""The rooms from the ground up: a room imports only from those before it."""
FORBIDDEN = {
    "render": {"library", "decide", "questionnaire", "measure", "programme", "lime", "job", "papers", "record"},
    "decide": {"document"},
    "document": {"lime"},
    "measure": {"document"},
    "programme": {"document"},
    # told from records alone: nothing is decided or reckoned again
    "record/revisions": {
        "files/source", "files/shapes", "questionnaire", "library", "lime", "decide", "measure", "programme", "drawing",
        "papers",
    },
}  # fmt: skip
DOORS = {
    "yaml": {"files"},
    "pydantic": {"files"},
    "pydantic_core": {"files"},
    "jinja2": {"library", "asking/survey"},
    "werkzeug": {"asking/survey"},
    "waitress": {"asking/survey"},
    "markdown_it": {"library"},
    "docx": {"render/word", "render/house", "render/check"},
    "lxml": {"render/word", "render/house", "render/check"},
    "xlsxwriter": {"render/workbook"},
    "openpyxl": {"render/workbook"},
    "pypdf": {"render/pdf"},
    "PIL": {"drawing"},
    "segno": {"drawing"},
    "msgspec": {"values"},
    "typer": {"commands"},
}


def rooms(path: str) -> set[str]:
    """The rooms a module lies in, from the outermost: `render` and `render/word`; at the top, its own name."""
    folders = path.removesuffix(".py").split("/")
    return {"/".join(folders[:end]) for end in range(1, len(folders) + 1)}


def named(path: Path) -> str:
    """A module's path within the package."""
    return path.relative_to(PACKAGE).as_posix()


@functools.cache
def parsed(path: Path) -> ast.Module:
    """The tree of a module."""
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(path: Path, typing_too: bool = True) -> set[str]:
    """Every module a file imports, wherever in it; those for type checking alone only if asked for."""
    tree = parsed(path)
    skipped = set[int]()
    if not typing_too:
        branches = (node for node in ast.walk(tree) if isinstance(node, ast.If))
        guards = [branch for branch in branches if "TYPE_CHECKING" in ast.dump(branch.test)]
        skipped = {id(inner) for guard in guards for inner in ast.walk(guard)}
    found: set[str] = set()
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found.add(inner if _is_module(inner) else str(node.module))
    return found


def _is_module(name: str) -> bool:
    where = PACKAGE.parent / name.replace(".", "/")
    return where.with_suffix(".py").is_file() or (where / "__init__.py").is_file()


def breaches(module: str, imported: set[str]) -> list[str]:
    """What a module's imports break: the order, a forbidden pair, a door."""
    here, found = rooms(module), []
    top = module.removesuffix(".py").split("/")[0]
    for name in sorted(imported):
        package, _, rest = name.partition(".")
        if package == "generator" and rest:
            there = rooms(rest.replace(".", "/"))
            first = rest.split(".")[0]
            if first in ORDER and ORDER.index(first) > ORDER.index(top):
                found.append(f"{top} imports {first}, which lies above it")
            found += [f"{room} must not know {other}" for room in here for other in FORBIDDEN.get(room, set()) & there]
        elif package in DOORS and not here & DOORS[package]:
            found.append(f"{module} imports {package}, whose door is {sorted(DOORS[package])}")
    return found


MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.name != "__init__.py")


def test_every_room_of_the_package_has_its_place_in_the_order() -> None:
    assert {named(path).removesuffix(".py").split("/")[0] for path in MODULES} <= {*ORDER, "pipeline"}


def test_the_top_of_the_package_stays_a_table_of_contents() -> None:
    rooms_and_modules = [
        path for path in PACKAGE.iterdir() if not path.name.startswith("__") and path.suffix != ".typed"
    ]
    assert len(rooms_and_modules) <= 20


def test_imports_run_downward_and_through_the_doors() -> None:
    assert [breach for path in MODULES for breach in breaches(named(path), imports(path))] == []


def test_no_module_imports_itself_through_others() -> None:
    known = {f"generator.{named(path).removesuffix('.py').replace('/', '.')}": path for path in MODULES}
    waiting = {name: imports(path, typing_too=False) & known.keys() for name, path in known.items()}
    while free := {name for name, needed in waiting.items() if not needed}:
        waiting = {name: needed - free for name, needed in waiting.items() if name not in free}
    assert waiting == {}


def test_no_module_grows_past_five_hundred_lines() -> None:
    lines = {named(path): len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES}
    assert {name: count for name, count in lines.items() if count > 500} == {}


def strange_defaults(tree: ast.Module) -> list[str]:
    """The classes whose defaults are made by the `field` of the other kind: it would be taken for the default."""
    sources = {
        alias.name: node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for alias in node.names
    }
    found = []
    for cls in (node for node in ast.walk(tree) if isinstance(node, ast.ClassDef)):
        own = "dataclasses" if "dataclass" in "".join(map(ast.dump, cls.decorator_list)) else "generator.values"
        made = [line.value.func for line in cls.body if isinstance(line, ast.AnnAssign) and _calls(line.value)]
        if any(isinstance(by, ast.Name) and by.id == "field" and sources["field"] != own for by in made):
            found.append(cls.name)
    return found


def _calls(value: ast.expr | None) -> TypeGuard[ast.Call]:
    return isinstance(value, ast.Call)


def test_defaults_of_structures_and_of_dataclasses_are_made_by_their_own_field() -> None:
    trees = {named(path): parsed(path) for path in MODULES}
    assert {name: found for name, tree in trees.items() if (found := strange_defaults(tree))} == {}
    crossed = "from dataclasses import field\nclass Seen(Struct):\n    at: dict = field(default_factory=dict)\n"
    assert strange_defaults(ast.parse(crossed)) == ["Seen"]


@pytest.mark.parametrize(
    ("module", "imported", "words"),
    [
        ("render/word/document.py", {"generator.library.model"}, "must not know library"),
        ("record/revisions/compare.py", {"generator.files.source"}, "must not know files/source"),
        ("decide/rules.py", {"yaml"}, "whose door is"),
        ("lime/sand.py", {"generator.document.model"}, "lies above it"),
    ],
)
def test_a_breach_is_found_and_named(module: str, imported: set[str], words: str) -> None:
    assert any(words in breach for breach in breaches(module, imported))
