"""The rooms of the house: imports run downward only, and each third-party library has one door."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "generator"

ORDER = (
    "values", "lime", "errors", "files", "source", "shapes", "questionnaire", "library", "decide", "measure",
    "programme", "drawing", "document", "record", "explain", "estimate", "weather", "output", "render",
    "revisions", "tenders", "pipeline", "issuing", "terminal", "cli_shared", "cli_clauses", "cli_library",
    "cli_issues", "cli_papers", "cli", "__main__",
)  # fmt: skip
FORBIDDEN = {
    "lime": {"questionnaire", "library", "errors", "source"},
    "render": {"library", "decide", "questionnaire", "measure", "programme", "lime"},
    "decide": {"programme"},
    "drawing": {"library", "questionnaire", "document"},
    # told from records alone: nothing is decided or reckoned again
    "revisions": {
        "source", "shapes", "questionnaire", "library", "lime", "decide", "measure", "programme", "drawing", "render",
        "output",
    },
}
DOORS = {
    "yaml": {"source"},
    "ruamel": {"questionnaire"},
    "pydantic": {"shapes", "questionnaire", "library"},
    "jinja2": {"document"},
    "markdown_it": {"document"},
    "docx": {"render", "revisions"},
    "lxml": {"render", "revisions", "tenders"},
    "xlsxwriter": {"render"},
    "openpyxl": {"tenders"},
    "PIL": {"drawing"},
    "typer": {"cli", "cli_shared", "cli_clauses", "cli_library", "cli_issues", "cli_papers"},
}


def room(path: Path) -> str:
    """The room a module belongs to: its folder or, at the top, its own name."""
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else path.stem


def imports(path: Path) -> set[str]:
    """Every module a file imports, wherever in it, type-checking imports included."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are absolute"
            module = node.module or ""
            whole = module == "generator"
            found.update(f"{module}.{alias.name}" if whole else module for alias in node.names)
    return found


def breaches(path: Path, imported: set[str]) -> list[str]:
    """What a module's imports break: the order, a forbidden pair, a door."""
    here, found = room(path), []
    for name in sorted(imported):
        top, _, rest = name.partition(".")
        if top == "generator" and rest:
            there = rest.split(".")[0]
            if there in ORDER and ORDER.index(there) > ORDER.index(here):
                found.append(f"{here} imports {there}, which lies above it")
            if there in FORBIDDEN.get(here, ()):
                found.append(f"{here} must not know {there}")
        elif here not in DOORS.get(top, {here}):
            found.append(f"{here} imports {top}, whose door is {sorted(DOORS[top])}")
    return found


MODULES = sorted(path for path in PACKAGE.rglob("*.py") if path.name != "__init__.py")


def test_every_room_of_the_package_has_its_place_in_the_order() -> None:
    assert {room(path) for path in MODULES} <= set(ORDER)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_imports_run_downward_and_through_the_doors(path: Path) -> None:
    assert breaches(path, imports(path)) == []


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_module_grows_past_five_hundred_lines(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 500


@pytest.mark.parametrize(
    ("module", "imported", "words"),
    [
        ("render/word.py", {"generator.library.model"}, "must not know library"),
        ("decide/rules.py", {"yaml"}, "whose door is"),
        ("lime/sand.py", {"generator.document.model"}, "lies above it"),
    ],
)
def test_a_breach_is_found_and_named(module: str, imported: set[str], words: str) -> None:
    assert any(words in breach for breach in breaches(PACKAGE / module, imported))
